"""Pieces that an edge, a border or a void trims: their sizes, their measures, their neighbours. Figures by hand."""

from __future__ import annotations

from typing import Any

import pytest

from cutmarks.geometry.frames import Tile
from cutmarks.geometry.regions import Region, region
from cutmarks.geometry.rings import Ring, Vertex, polygon
from cutmarks.openings.model import Cut, CutPiece
from cutmarks.openings.outlines import sizes_of
from cutmarks.sides import Side
from tests.properties.wall import BOX, cut_of, piece, plan_of

PIPE = {"what": "15 copper", "cover": 65, "end": "comes off"}


def by_side(found: CutPiece) -> dict[Side, float]:
    """The sizes of a trimmed piece."""
    assert found.sizes is not None
    return dict(found.sizes.items())


def near(value: float) -> Any:
    return pytest.approx(value, abs=1e-6)


def test_a_floor_out_of_level_gives_two_heights_and_one_width() -> None:
    # Floor 40 below B at V and 50 below it at 500 right, gap 5: tile begins at -35 - x/50. The course below B lies
    # -102 to -2; the tile from 1 to 101 begins at -35.02 on its left and -37.02 on its right.
    edges = {**BOX, "bottom": {"at": ["40 below B at V", "50 below B at 500 right of V"], "gap": 5, "what": "worktop"}}
    found = piece(plan_of(surface={"edges": edges}), "field under 1-6")
    assert by_side(found) == {"left": near(33.02), "right": near(35.02), "bottom": near(100), "top": near(100)}
    assert found.cut_edges == ("bottom",)


def test_a_raking_side_gives_two_widths_and_one_height() -> None:
    # Right edge 340 right of V at B and 330 at 1000 up, gap 0: tile ends at 340 - y/100. The tile from 307 in the
    # first course, 0 to 100, ends at 340 below and 339 above.
    right = {"at": ["340 right of V at B", "330 right of V at 1000 above B"], "gap": 0}
    plan = plan_of(surface={"edges": {**BOX, "right": right}}, area={"from": "B"})
    (found,) = [p for p in plan.pieces if p.piece.place == (3, 0)]
    assert by_side(found) == {
        "left": near(100),
        "right": near(100),
        "bottom": near(33),
        "top": near(32),
    }


def test_an_l_is_sized_over_what_is_left_at_each_end() -> None:
    # A window takes the upper right 41 x 30 of the tile from 1 to 101, 102 to 202.
    windows = [{"name": "window", "across": "60 to 400 right of V", "up": "172 to 400 above B", "gap": 0}]
    plan = plan_of(surface={"edges": BOX, "windows": windows}, area={"from": "B"})
    (found,) = [p for p in plan.pieces if p.piece.place == (0, 1)]
    assert by_side(found) == {"left": near(100), "right": near(70), "bottom": near(100), "top": near(59)}
    assert found.outline.area == near(100 * 100 - 41 * 30)


@pytest.mark.parametrize(
    ("corners", "bottom", "top", "left", "right"),
    [
        # It ends in a point above and on the right.
        ([(0, 0), (172.8, 0), (191.1, 18.2), (0, 209.3)], 172.8, 0, 209.3, 0),
        ([(0, 0), (319, 0), (0, 100)], 319, 0, 100, 0),
        # A long slope of 17 degrees over a triangle is no end of it either: it has no side on the right.
        ([(0, 0), (319, 0), (0, 98)], 319, 0, 98, 0),
        # Level for a stretch, then down: 100 in 559.5 is 10 degrees.
        ([(0, 0), (599.9, 0), (599.9, 200), (40.4, 300), (0, 300)], 599.9, 40.4, 300, 200),
        # One edge from side to side is measured from corner to corner: 30 in 100 is 17 degrees, 40 is 22.
        ([(0, 0), (100, 0), (100, 70), (0, 100)], 100, 100, 100, 70),
        ([(0, 0), (100, 0), (100, 60), (0, 100)], 100, 0, 100, 60),
        # The same on the left leg of an L.
        ([(0, 0), (300, 0), (300, 100), (200, 100), (200, 290), (0, 295)], 300, 200, 295, 100),
        # An end with a kink in it, out or in, is one end still, from corner to corner: 10 in 150 is 4 degrees.
        ([(0, 0), (300, 0), (300, 100), (150, 110), (0, 100)], 300, 300, 100, 100),
        ([(0, 0), (212, 0), (211.5, 330), (210.5, 496), (0, 496)], 212, 210.5, 496, 496),
        ([(0, 0), (211, 0), (209, 330), (210.5, 496), (0, 496)], 211, 210.5, 496, 496),
        # Two slopes that meet on top are a point: 60 in 150 is 22 degrees.
        ([(0, 0), (300, 0), (300, 100), (150, 160), (0, 100)], 300, 0, 100, 100),
    ],
)
def test_sizes_lie_along_the_lines_that_end_a_piece(
    corners: list[tuple[float, float]], bottom: float, top: float, left: float, right: float
) -> None:
    shape: Region[Tile] = region(polygon(corners))
    assert dict(sizes_of(shape).items()) == {
        "bottom": near(bottom),
        "top": near(top),
        "left": near(left),
        "right": near(right),
    }


def test_an_arc_only_touches_the_line_that_ends_it() -> None:
    # A strip 100 wide under half a disc of radius 50: its top is one point.
    ring: Ring[Tile] = Ring((Vertex(0, 0), Vertex(100, 0), Vertex(100, 40, 1.0), Vertex(0, 40)))
    assert dict(sizes_of(region(ring)).items()) == {
        "bottom": near(100),
        "top": 0.0,
        "left": near(40),
        "right": near(40),
    }


def test_two_parts_of_one_tile_are_lettered_from_the_left() -> None:
    # The window takes 41 to 61 of the tile from 1 to 101, right through.
    windows = [{"name": "window", "across": "41 to 61 right of V", "up": "90 to 220 above B", "gap": 0}]
    plan = plan_of(surface={"edges": BOX, "windows": windows}, area={"from": "B"})
    parts = [p for p in plan.pieces if p.piece.place == (0, 1)]
    assert [(p.part, p.outline.bounds.min_x, p.outline.bounds.max_x) for p in parts] == [
        ("a", near(0), near(40)),
        ("b", near(60), near(100)),
    ]
    assert [p.name[-1] for p in parts] == ["a", "b"]


def test_a_wall_check_is_read_over_the_trimmed_end_of_a_piece() -> None:
    # The low area ends at 150, half-way up its second course; the high one begins at 152. A pipe at 125 on that piece
    # is 152 - 125 = 27 from the neighbour above: near 19.5, far 34.5.
    areas = [
        {
            "name": name,
            "tile": "square",
            "joint": 2,
            **limits,
            "start": {"across": "joint on V", "up": f"sits on {level}"},
        }
        for name, limits, level in (
            ("low", {"from": "B", "to": "150 above B"}, "B"),
            ("high", {"from": "152 above B"}, "152 above B"),
        )
    ]
    hole = {**PIPE, "name": "pipe", "across": "centre 51 right of V", "up": "centre 125 above B"}
    cut = cut_of(plan_of(surface={"edges": BOX, "areas": areas}, holes=[hole]), "pipe")
    (check,) = [one for one in cut.wall_checks if one.side == "top"]
    assert check.source.name.startswith("high 1-")
    assert (check.near, check.far) == (near(19.5), near(34.5))
    assert cut.from_cut_edges == (("top", near(25)),)


def beside_a_turned_area(x: float) -> Cut:
    """A pipe 50 up, `x` right of V: level tiles end at 101, and from 103 on they lie turned by 30 about V and B."""
    level = {"name": "level", "left of": "101 right of V", "start": {"across": "joint on V", "up": "sits on B"}}
    turned = {"name": "turned", "right of": "103 right of V", "turn": 30, "start": "corner on V and B"}
    areas = [{"tile": "square", "joint": 2, **area} for area in (level, turned)]
    hole = {**PIPE, "name": "pipe", "across": f"centre {x} right of V", "up": "centre 50 above B"}
    return cut_of(plan_of(surface={"edges": BOX, "areas": areas}, holes=[hole]), "pipe")


def test_a_turned_area_s_border_is_square_to_a_tape_held_level() -> None:
    # At (103, 50) lies a turned tile: v = -103 sin 30 + 50 cos 30 = -8.2, and its row goes from -102 to -2; it is cut
    # plumb there. From the border to the pipe's sides: 103 - 51 -+ 7.5.
    (check,) = [one for one in beside_a_turned_area(51).wall_checks if one.side == "right"]
    assert check.source.name.startswith("turned ")
    assert (check.near, check.far) == (near(44.5), near(59.5))


def test_no_wall_check_along_a_turned_tile_from_an_edge_that_is_plumb() -> None:
    # (145, 50) is u = 150.6, v = -29.2: the tile from 102 to 202. Its neighbour's edge at u = 100 would lie there at
    # x = 100 cos 30 + 29.2 sin 30 = 101.2, off the area; and the level tiles' edge is not square to a tape along u.
    cut = beside_a_turned_area(145)
    assert cut.from_left == pytest.approx(145 * 0.8660254 + 25 - 102, abs=1e-5)
    assert "left" not in {one.side for one in cut.wall_checks}


def test_a_leaning_box_is_read_to_its_outermost_corners() -> None:
    # A box 60 wide that rises 3 in 60 and leans back as much: outermost 30 and 93 right of V, 63 apart. The neighbour
    # ends 1 left of V: 31 and 94.
    corners = ["33 right of V, 20 above B", "93 right of V, 23 above B", "90 right of V, 83 above B"]
    corners.append("30 right of V, 80 above B")
    hole = {"name": "box", "what": "socket box", "corners": corners, "cover": 86, "play": 1}
    plan = plan_of(tile={"size": "300 x 300"}, area={"from": "B"}, holes=[hole])
    found = {one.source.name: (one.near, one.far, one.fixed) for one in cut_of(plan, "box").wall_checks}
    assert found["V"] == (near(30), near(93), True), "it is the first of its course: nothing is beside it yet"
    assert found["field 1-L1"] == (near(31), near(94), False)


@pytest.mark.parametrize("side", ["left", "right", "bottom", "top"])
def test_a_tangent_hole_is_a_hole_whichever_side_it_touches(side: str) -> None:
    # A hole of 40 with its middle 20 from one side of the tile 1 to 101, 0 to 100, and 50 from the others.
    x = {"left": 21, "right": 81}.get(side, 51)
    y = {"bottom": 20, "top": 80}.get(side, 50)
    hole = {**PIPE, "name": "pipe", "across": f"centre {x} right of V", "up": f"centre {y} above B", "opening": 40}
    plan = plan_of(area={"from": "B"}, holes=[hole])
    cut = cut_of(plan, "pipe")
    assert cut.kind == "hole"
    assert getattr(cut.web, side) == near(0)
    assert cut.web.nearest == near(0)
    assert any(finding.rule == "hair bridge" and finding.level == "stop" for finding in plan.findings)


def test_where_a_side_is_open_a_trimmed_piece_without_a_cut_is_not_spoken_of() -> None:
    # The left edge leaves -287 to -205 of the third tile from V. The hole's middle is 20 right of and 20 above that
    # tile's corner, 28.3 away and over its radius of 25: only its bounds come near.
    hole = {**PIPE, "name": "pipe", "across": "centre 185 left of V", "up": "centre 120 above B", "opening": 50}
    plan = plan_of(surface={"edges": {"left": {"at": "290 left of V", "true": "plumb"}}}, holes=[hole])
    assert {p.piece.place for p in plan.pieces} == {(-2, 1), (-3, 1), (-2, 0)}


@pytest.mark.parametrize(
    ("x", "near_side"),
    # The neighbour ends 1 left of V. A pipe of 15 with its middle 6.5 right of V begins there: 6.5 + 1 - 7.5 = 0.
    [(6.4, None), (6.5, None), (6.75, 0.25)],
)
def test_a_neighbour_that_the_pipe_just_touches_gives_no_wall_check(x: float, near_side: float | None) -> None:
    hole = {**PIPE, "name": "pipe", "across": f"centre {x} right of V", "up": "centre 50 above B"}
    plan = plan_of(area={"from": "B"}, holes=[hole])
    (cut,) = [cut for p in plan.pieces if p.piece.place == (0, 0) for cut in p.cuts]
    found = [one.near for one in cut.wall_checks if one.side == "left"]
    assert found == ([] if near_side is None else [near(near_side)])
