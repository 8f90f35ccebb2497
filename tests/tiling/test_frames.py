"""Tile that goes under a frame: what is trimmed, by hand, and against shapely's mitred offset."""

from __future__ import annotations

import random
from collections.abc import Mapping
from typing import Any

import pytest
from shapely.geometry import Polygon

from cutmarks.errors import JobError
from cutmarks.geometry.frames import Point, Surface
from cutmarks.geometry.regions import Region, contains, region
from cutmarks.geometry.rings import Ring, polygon
from cutmarks.job import build_job
from cutmarks.plan import Plan, make_plan
from cutmarks.setout.model import Void
from cutmarks.tiling.frames import taken

FLOOR = {
    "left": {"at": "0 right of V", "true": "square", "gap": 3},
    "right": {"at": "900 right of V", "true": "square", "gap": 3},
    "bottom": {"at": "0 from D", "true": "level", "gap": 3},
    "top": {"at": "600 from D", "true": "level", "gap": 3},
}
"""900 x 600; tile lies from 3 to 897 and from 3 to 597."""
LEG = {"name": "leg", "across": "0 to 50 right of V", "in": "20 to 90 from D", "gap": 2, "undercut": 14}
"""A leg of 50 x 70 against the left wall."""


def floor(
    *doors: Mapping[str, Any], edges: Any = None, holes: Any = None, area: Mapping[str, Any] | None = None
) -> Plan:
    """297 x 197 tiles with joints of 3, the first with its lower left corner where V and D cross."""
    start = {"across": "left on V", "up": "sits on D"}
    field = {"name": "field", "tile": "rib", "joint": 3, "start": start, **(area or {})}
    surface = {
        "name": "hall",
        "kind": "floor",
        "lines": {"V": "across, wall", "D": "along, wall"},
        "edges": edges or FLOOR,
        "doors": list(doors),
        "areas": [field],
        "holes": holes or [],
    }
    tiles = {"rib": {"size": "297 x 197", "measured": "yes", "thickness": 9, "bed": 4}}
    return make_plan(build_job({"job": "frames", "tiles": tiles, "surfaces": [surface]}))


def corners(made: Plan, name: str = "field 1-1") -> set[tuple[float, float]]:
    """The corners of a piece's outline in its Tile frame, which for the first tile is that of the floor."""
    (piece,) = [one for one in made.pieces if one.name == name]
    return {(round(v.x, 4), round(v.y, 4)) for ring in piece.piece.outline.rings for v in ring.vertices}


WHOLE = {(3.0, 3.0), (297.0, 3.0), (297.0, 197.0), (3.0, 197.0)}
"""The first tile, trimmed at the two walls alone."""


def test_tile_runs_in_under_a_leg_from_the_three_sides_that_are_open() -> None:
    # From the right to 50 - 10, from below to 20 + 10, from above to 90 - 10; at the wall nothing goes under.
    made = floor({**LEG, "goes under": 10})
    assert corners(made) == WHOLE | {(3.0, 30.0), (40.0, 30.0), (40.0, 80.0), (3.0, 80.0)}


def test_a_frame_that_was_not_cut_off_trims_at_its_outline_and_gap() -> None:
    # 50 + 2, 20 - 2, 90 + 2.
    made = floor({key: value for key, value in LEG.items() if key != "undercut"})
    assert corners(made) == WHOLE | {(3.0, 18.0), (52.0, 18.0), (52.0, 92.0), (3.0, 92.0)}


def test_what_was_not_said_is_10_and_printed_as_assumed() -> None:
    # Common practice, no published source.
    made = floor(LEG)
    assert corners(made) == corners(floor({**LEG, "goes under": 10}))
    assert "hall: tile goes 10 under door leg; write goes under: where it is another." in made.assumed
    assert not [one for one in floor({**LEG, "goes under": 10}).assumed if "under door leg" in one]


def test_tile_that_meets_under_a_leg_is_not_cut_round_it() -> None:
    # From below and above 35 each: all of the 70.
    assert corners(floor({**LEG, "goes under": 35})) == WHOLE
    assert corners(floor({**LEG, "goes under": 34.5})) == WHOLE | {(3.0, 54.5), (15.5, 54.5), (15.5, 55.5), (3.0, 55.5)}


def test_tile_goes_no_further_than_the_frame_is_deep() -> None:
    # A lining right along the left wall, 50 deep; the wall itself is 8 behind it, so that tile could lie from -5 on.
    edges = {**FLOOR, "left": {"at": "8 left of V", "true": "square", "gap": 3}}
    lining = {**LEG, "in": "0 to 600 from D", "goes under": 80}
    made = floor(lining, edges=edges, area={"start": {"across": "left on 20 left of V", "up": "sits on D"}})
    # Up to its back at 0, 20 from the left of a tile that begins at -20, and no further: nothing lies in the 5 behind.
    assert corners(made) == {(20.0, 3.0), (297.0, 3.0), (297.0, 197.0), (20.0, 197.0)}


def test_a_frame_in_the_corner_of_two_walls_keeps_its_corner() -> None:
    # 60 x 60, both walls 6 behind it and their gap 3: 3 of ground on two sides, and in the corner, which is not tiled.
    edges = {**FLOOR, "left": {"at": "6 left of V", "true": "square", "gap": 3}}
    edges["bottom"] = {"at": "6 short of D", "true": "level", "gap": 3}
    post = {**LEG, "across": "0 to 60 right of V", "in": "0 to 60 from D", "goes under": 10}
    made = floor(post, edges=edges, area={"start": {"across": "left on 20 left of V", "up": "sits on 20 short of D"}})
    # From the right to 50, from the room to 50; along the walls tile ends where the frame does, 60 + 20 on this tile.
    assert corners(made) == {(297.0, 17.0), (297.0, 197.0), (17.0, 197.0)} | {(17.0, 70.0), (70.0, 70.0), (70.0, 17.0)}


def test_nothing_goes_under_from_beyond_the_end_of_the_area() -> None:
    # The area ends at 20, where the leg begins: below it there is none of this tile.
    made = floor({**LEG, "goes under": 10}, area={"from": "20 from D"})
    top = {(297.0, 20.0), (297.0, 197.0), (3.0, 197.0)}
    assert corners(made) == top | {(40.0, 20.0), (40.0, 80.0), (3.0, 80.0)}


def test_two_frames_side_by_side_do_not_shut_each_other_off() -> None:
    # A post of 40 and its twin 30 further right: the space between is deeper than 10, so tile goes under both there.
    one = {"name": "a", "across": "100 to 140 right of V", "in": "100 to 140 from D", "undercut": 14, "goes under": 10}
    made = floor(one, {**one, "name": "b", "across": "170 to 210 right of V"})
    squares = {(x, y) for x in (110.0, 130.0, 180.0, 200.0) for y in (110.0, 130.0)}
    assert corners(made) == WHOLE | squares


def void(*places: tuple[float, float], by: float) -> Region[Any]:
    ring: Ring[Surface] = polygon(list(places))
    ground: Region[Surface] = region(polygon([(-1e4, -1e4), (1e4, -1e4), (1e4, 1e4), (-1e4, 1e4)]))
    return taken(Void("leg", "door", ring, ring, 0.0, 14.0, by), by, 10.0, ground)


def test_a_frame_whose_narrow_part_is_passed_under_leaves_two() -> None:
    # Two blocks of 60 with a neck of 20 between them, 15 under: the neck goes, two squares of 30 stay.
    outline = [(0, 0), (60, 0), (60, 20), (100, 20), (100, 0), (160, 0), (160, 60), (100, 60), (100, 40), (60, 40)]
    left = void(*outline, (60, 60), (0, 60), by=15)
    assert [tuple(ring.bounds) for ring in left.rings] == [(15, 15, 45, 45), (115, 15, 145, 45)]
    # Two arms of 30, 15 under: nothing stays. 10 under: arms of 10, 80 long at their outer sides.
    arms = [(100, 100), (200, 100), (200, 130), (130, 130), (130, 200), (100, 200)]
    assert void(*arms, by=15).is_empty
    assert void(*arms, by=10).area == pytest.approx(80 * 10 + 70 * 10)


def test_steps_of_any_shape_are_shapelys_mitred_offset() -> None:
    # Shapely 2 buffers inward with mitred corners; outlines of straight stairs, 60 seeded ones.
    rng = random.Random(7)
    for _ in range(60):
        xs = sorted(rng.sample(range(20, 200), 3))
        ys = sorted((rng.randrange(20, 150) for _ in range(3)), reverse=rng.random() < 0.7)
        outline = [(0, 0), (xs[2], 0)]
        for x, y, before in zip(reversed(xs), reversed(ys), [*reversed(xs[:-1]), 0], strict=True):
            outline += [(x, y), (before, y)]
        by = rng.uniform(2.0, 40.0)
        own = void(*outline, by=by).area
        assert own == pytest.approx(Polygon(outline).buffer(-by, join_style="mitre").area, abs=1e-3)


def test_a_frame_askew_is_passed_under_at_right_angles() -> None:
    # A square on its corner, 100 from middle to corner, sides 100 sqrt 2: 10 off each leaves (141.42 - 20) squared.
    left = void((100, 0), (0, 100), (-100, 0), (0, -100), by=10)
    assert left.area == pytest.approx((100 * 2**0.5 - 20) ** 2)
    assert left.bounds.max_x == pytest.approx(100 - 10 * 2**0.5)


@pytest.mark.parametrize(
    ("keys", "says"),
    [
        ({"undercut": 14, "kind": "wall"}, "take them out, or write the door with its floor"),
        ({"goes under": 10, "kind": "wall"}, "take them out, or write the door with its floor"),
        ({"goes under": 10}, "write undercut: and the height that is free under it, as in undercut: 14"),
        ({"undercut": 14, "goes under": 0}, '"0" is out of range for how far a tile goes under: write 1 to 500 mm'),
    ],
)
def test_what_makes_no_sense_is_a_fault(keys: dict[str, Any], says: str) -> None:
    kind = keys.pop("kind", "floor")
    high = "in" if kind == "floor" else "up"
    lines = {"V": "across, wall", "D": "along, wall"} if kind == "floor" else {"V": "plumb, wall", "D": "level, floor"}
    above = "20 to 90 from D" if kind == "floor" else "20 to 90 above D"
    door = {"name": "leg", "across": "0 to 50 right of V", high: above, **keys}
    surface = {"name": "hall", "kind": kind, "lines": lines, "doors": [door], "areas": []}
    with pytest.raises(JobError, match=r"leg|door") as caught:
        build_job({"job": "frames", "tiles": {"rib": {"size": "297 x 197"}}, "surfaces": [surface]})
    assert says in str(caught.value)


def test_a_place_under_a_frame_is_a_place_of_tile() -> None:
    # The middle of the strip that goes under, 45 right and 50 in, is tile; the middle of what stays, 20 right, is none.
    made = floor({**LEG, "goes under": 10})
    (piece,) = [one for one in made.pieces if one.name == "field 1-1"]
    assert contains(piece.piece.outline, Point(45.0, 50.0))
    assert not contains(piece.piece.outline, Point(20.0, 50.0))
