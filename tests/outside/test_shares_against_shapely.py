"""What an opening takes out of each piece, and what is left, against shapely (GEOS) on random jobs.

Both the opening and the piece are built here from the job's own figures: tile, joint, bond, start and turn give the
tile's corner, size and play give the opening, edges, gaps and windows the ground (by `Referee`, which does not use the
package either). Compared is not the area alone but the place, in the tile's own frame: how far any corner of the
package's shape lies from the outlines of the piece and of the openings. (Not from the outline that they make together:
where an arc grazes an edge its corner runs along it far from anything that is rounded.)

Arcs are chords here, CHORDS a turn. They lie inside the arc by up to s = r (1 - cos(pi / CHORDS)), 0.00015 mm at a
radius of 130; the package's arcs are turned into as many chords, whose ends need not be the same. So the corners of one
lie up to s from the chords of the other, and the areas differ by up to 2 pi r s.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from random import Random
from typing import Any

import pytest
import shapely
from shapely import affinity
from shapely.geometry import Polygon, box

from cutmarks.geometry.shapes import Rect
from tests.handmade import cut_piece, opening
from tests.properties.accounts import plan_of
from tests.properties.referee import Referee, opening_of, polygon_of, rounded, solid, split
from tests.properties.scene import XY, Area, Box, Corners, Hole, Long, Pipe
from tests.properties.strategies import ALL, random_scene

CHORDS = 2048
INSIDE = 1 - math.cos(math.pi / CHORDS)
"""How far a chord lies inside its arc at the most, in radii."""
ROUNDING = 5e-6
"""Both sides round coordinates to 1e-6 mm, each step of a trimming and a cut anew: mm, all along the outline."""
TOUCH = 0.01
"""An overlap of less than this, mm2, may be a touch."""


def arc(x: float, y: float, r: float, start: float, turn: float) -> list[XY]:
    """Points on an arc from its start to its end, degrees counter-clockwise."""
    count = max(1, math.ceil(CHORDS * turn / 360))
    angles = (math.radians(start + turn * k / count) for k in range(count + 1))
    return [(x + r * math.cos(a), y + r * math.sin(a)) for a in angles]


def round_ended(length: float, width: float) -> Polygon:
    """A slot about the origin, `length` over all along x."""
    r, reach = width / 2, (length - width) / 2
    return Polygon([*arc(reach, 0, r, -90, 180), *arc(-reach, 0, r, 90, 180)])


def round_cornered(w: float, h: float, r: float) -> Polygon:
    """A box about the origin with corners of radius r."""
    x, y = w / 2 - r, h / 2 - r
    places = ((x, -y, -90), (x, y, 0), (-x, y, 90), (-x, -y, 180))
    return Polygon([point for cx, cy, start in places for point in arc(cx, cy, r, start, 90)])


def placed(shape: Any, at: XY, lean: float) -> Any:
    return affinity.translate(affinity.rotate(shape, lean, (0, 0)), *at)


def opening_by_hand(hole: Hole) -> tuple[Any, float]:
    """What is cut for a hole, on the surface, and the largest radius in it."""
    match hole:
        case Pipe():
            return placed(round_ended(hole.opening, hole.opening), (hole.x, hole.y), 0), hole.opening / 2
        case Long():
            width = hole.width + 2 * hole.play
            return placed(round_ended(hole.length + 2 * hole.play, width), (hole.x, hole.y), hole.lean), width / 2
        case Box():
            w, h, lean = hole.w, hole.h, hole.lean
            if abs(lean) < 2:  # cut level, round the leaning thing's own bounds
                cos, sin = math.cos(math.radians(lean)), abs(math.sin(math.radians(lean)))
                w, h, lean = w * cos + h * sin, w * sin + h * cos, 0.0
            w, h = w + 2 * hole.play, h + 2 * hole.play
            return placed(box(-w / 2, -h / 2, w / 2, h / 2), (hole.x, hole.y), lean), 0.0
        case Corners():
            return opening_of(hole), 0.0


def corner_by_hand(area: Area, place: tuple[int, int]) -> XY:
    """The bottom-left corner of a whole tile, on the area's own axes from the point that its start lies on.

    joint (crossing where the area is turned): the middle of the joint is there, the tile begins half a joint on;
    middle: half of the tile lies before; right, hangs from: all of it; left, sits on: none. Each row is shifted by its
    bond: every odd one by one step, or, stepped, row r by r of them; a step is a part of tile and joint, or mm.
    """
    column, row = place
    step = float(area.bond.part) * (area.w + area.joint) + area.bond.mm
    shift = step * row if area.bond.stepped else step * (row % 2)
    starts = []
    for said, size in ((area.across, area.w), (area.up, area.h)):
        if said in ("joint", "crossing"):
            starts.append(area.joint / 2)
        elif said == "middle":
            starts.append(-size / 2)
        else:
            starts.append(-size if said in ("right", "hangs from") else 0.0)
    return (
        starts[0] + column * (area.w + area.joint) + shift,
        starts[1] + row * (area.h + area.joint),
    )


def on_tile(shape: Any, area: Area, place: tuple[int, int]) -> Any:
    """From the surface to the frame of a tile: its corner at the origin, its own sides level and plumb."""
    u, v = corner_by_hand(area, place)
    on_axes = affinity.rotate(affinity.translate(shape, -area.x, -area.y), -area.turn, (0, 0))
    return rounded(affinity.translate(on_axes, -u, -v))


def places_near(area: Area, shape: Any) -> Iterator[tuple[int, int]]:
    """Places whose tile the bounds of a shape on the surface may overlap, and some more."""
    around = affinity.rotate(affinity.translate(shape, -area.x, -area.y), -area.turn, (0, 0)).bounds
    for row in _near(around[1], around[3], corner_by_hand(area, (0, 0))[1], area.h, area.joint):
        start = corner_by_hand(area, (0, row))[0]
        for column in _near(around[0], around[2], start, area.w, area.joint):
            yield column, row


def _near(low: float, high: float, start: float, size: float, joint: float) -> range:
    pitch = size + joint
    return range(math.floor((low - start) / pitch) - 1, math.ceil((high - start) / pitch) + 1)


def check(found: Any, meant: Any, made_of: Sequence[Any], radii: Sequence[float], where: object) -> None:
    """That two shapes are the same: their areas, and how far the corners of `found` lie from what it is made of."""
    area = sum(2 * math.pi * r * r * INSIDE for r in radii) + ROUNDING * (meant.length + 100)
    assert abs(found.area - meant.area) < area, where
    lines = shapely.union_all([shape.boundary for shape in made_of])
    shapely.prepare(lines)
    off = shapely.distance(lines, shapely.points(shapely.get_coordinates(found))).max()
    assert off < max(radii) * INSIDE + ROUNDING, where


@pytest.mark.parametrize("seed", range(0, 30, 10))
def test_shares_and_what_is_left_are_the_referee_s(seed: int) -> None:
    shares = lefts = 0
    for one in range(seed, seed + 10):
        scene = random_scene(Random(one), ALL)
        plan = plan_of(scene)
        if plan is None:
            continue
        cut_out = {hole.name: opening_by_hand(hole) for hole in scene.holes}
        made: dict[tuple[str, tuple[int, int]], list[Any]] = {}
        for piece in plan.pieces:
            made.setdefault((piece.piece.area, piece.piece.place), []).append(piece)
        for area in scene.areas:
            ground = Referee(scene).ground(area)
            near: dict[tuple[int, int], list[str]] = {}
            for name, (shape, _) in cut_out.items():
                for place in places_near(area, shape):
                    near.setdefault(place, []).append(name)
            for place in sorted(near):
                tile = box(0, 0, area.w, area.h)
                laid, _ = split(rounded(on_tile(ground, area, place).intersection(tile)), 0.0)
                whole = shapely.union_all(laid)
                taken = {name: (on_tile(cut_out[name][0], area, place), cut_out[name][1]) for name in near[place]}
                meant = {name: (whole.intersection(shape), r) for name, (shape, r) in taken.items()}
                meant = {name: share for name, share in meant.items() if share[0].area > TOUCH}
                every = shapely.union_all([shape for shape, _ in taken.values()])
                if any(not solid(part.difference(every)) for part in laid) or not meant:
                    continue  # of a part that the openings take whole there is no piece to compare
                where = (one, area.name, place)
                pieces = made[area.name, place]
                for name, (share, r) in meant.items():
                    cuts = [cut for piece in pieces for cut in piece.cuts if cut.opening.name == name]
                    found = shapely.union_all([polygon_of(cut.share, CHORDS) for cut in cuts])
                    check(found, share, [whole, taken[name][0]], [r], (where, name))
                    shares += 1
                left = whole.difference(every)
                outlines = shapely.union_all([polygon_of(piece.outline, CHORDS) for piece in pieces])
                shapes, radii = zip(*taken.values(), strict=True)
                check(outlines, left, [whole, *shapes], radii, where)
                lefts += 1
    assert shares > 15
    assert lefts > 10


@pytest.mark.parametrize("seed", range(40))
def test_shares_of_boxes_with_round_corners_are_the_referee_s(seed: int) -> None:
    # A box w x h leaning about (x, y) on a tile: level, turned a little or much, its corners round up to a stadium.
    draw = Random(seed)
    w, h = draw.choice((40.0, 76.5, 120.0)), draw.choice((40.0, 58.5, 200.0))
    r = draw.choice((0.5, 5.0, 12.0, min(w, h) / 2))
    lean = draw.choice((0.0, 0.0, 3.0, -20.0, 45.0, 90.0))
    x, y = draw.choice((0.0, 10.0, 124.0, 248.0)), draw.choice((0.0, r, 200.0, 398.0 - h / 2, 398.0))
    piece = cut_piece([opening("box", Rect(w, h, lean, r), x, y)], 248.0, 398.0, at=(0.0, 0.0))
    tile, meant = box(0, 0, 248, 398), placed(round_cornered(w, h, r), (x, y), lean)
    # The area of the whole: the corners take (4 - pi) r^2 of the box, the chords up to 2 pi r s more.
    assert meant.area == pytest.approx(w * h - (4 - math.pi) * r * r, abs=2 * math.pi * r * r * INSIDE + 1e-6)
    (cut,) = piece.cuts
    check(polygon_of(cut.share, CHORDS), tile.intersection(meant), [tile, meant], [r], "share")
    check(polygon_of(piece.outline, CHORDS), tile.difference(meant), [tile, meant], [r], "left")


def test_a_thousandth_of_a_millimetre_is_found() -> None:
    hole = round_ended(35, 35)
    check(hole, hole, [hole], [17.5], "itself")
    for other in (affinity.translate(hole, 0.001), round_ended(35.001, 35.001), round_ended(35.001, 35)):
        with pytest.raises(AssertionError):
            check(other, hole, [hole], [17.5], "another")
