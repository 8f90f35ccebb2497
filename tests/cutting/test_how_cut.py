"""A piece in, its operations out: what is done, from which edge, where it stops, and in which order. Worked by hand."""

from __future__ import annotations

from collections.abc import Sequence

import pytest
from msgspec.structs import replace

from cutmarks.cutting.making import CutWith, how_cut
from cutmarks.cutting.operations import (
    AlongOutline,
    ByHand,
    CoreHole,
    HowCut,
    PlungeCut,
    ReliefHoles,
    RoundNotch,
    SetOutFrom,
    StoppedCut,
    StraightCut,
)
from cutmarks.geometry.frames import Point
from cutmarks.geometry.rings import Vertex
from cutmarks.geometry.shapes import Circle, Outline, Rect
from cutmarks.openings.model import CutKind, CutPiece, Opening
from cutmarks.readings import Disc
from cutmarks.saying.how_cut import how_in_short, how_lines
from cutmarks.sides import SIDES, Side
from cutmarks.tiling.model import TileKind
from cutmarks.units import Style
from tests.bench.cutting_campaign import campaign
from tests.handmade import cut_piece, opening

SNAPS = CutWith(longest=900.0, narrowest=15.0)


def piece(
    openings: Sequence[Opening] = (),
    kinds: Sequence[CutKind] = (),
    *,
    w: float = 300.0,
    h: float = 200.0,
    trimmed: Sequence[tuple[float, float]] = (),
    gone: Sequence[Side] = (),
    thickness: float | None = 10.0,
) -> CutPiece:
    """A tile of 300 x 200 whose bottom left corner is the surface's own origin."""
    return cut_piece(
        openings,
        w,
        h,
        at=(0.0, 0.0),
        kinds=kinds,
        trimmed_to=trimmed,
        factory=[side for side in SIDES if side not in gone],
        tile=TileKind("rib", w, h, True, thickness=thickness),
    )


LOW = ((0.0, 0.0), (300.0, 0.0), (300.0, 150.0), (0.0, 150.0))
"""Trimmed to 150 from the bottom."""


def kinds_of(how: HowCut) -> list[str]:
    return [type(one).__name__ for one in how.operations]


def only(how: HowCut, kind: type) -> list:
    return [one for one in how.operations if isinstance(one, kind)]


def test_a_straight_cut_is_set_out_from_the_makers_edge_and_snapped() -> None:
    how = how_cut(piece(trimmed=LOW, gone=[Side.TOP]), SNAPS)
    (cut,) = how.operations
    assert isinstance(cut, StraightCut)
    assert cut.from_edge == SetOutFrom(Side.BOTTOM, 150.0, 150.0)
    assert (cut.way, cut.waste) == ("snap", 50.0)
    assert how_in_short(how, piece(), Style()) == "snap 150 from the bottom"


@pytest.mark.parametrize(
    ("tools", "way", "why"),
    [
        (CutWith(), "either", ""),
        (CutWith(longest=300.0), "snap", ""),
        (CutWith(longest=299.0), "saw", "long"),
        (CutWith(longest=900.0, narrowest=50.0), "snap", ""),
        (CutWith(longest=900.0, narrowest=51.0), "saw", "narrow"),
    ],
)
def test_what_the_snap_cutter_takes(tools: CutWith, way: str, why: str) -> None:
    (cut,) = how_cut(piece(trimmed=LOW, gone=[Side.TOP]), tools).operations
    assert isinstance(cut, StraightCut)
    assert (cut.way, cut.why) == (way, why)


def test_a_raking_cut_has_two_figures() -> None:
    rake = ((0.0, 0.0), (240.0, 0.0), (236.0, 200.0), (0.0, 200.0))
    how = how_cut(piece(trimmed=rake, gone=[Side.RIGHT]), SNAPS)
    (cut,) = how.operations
    assert isinstance(cut, StraightCut)
    assert cut.from_edge == SetOutFrom(Side.LEFT, 240.0, 236.0, keeps=True, two=True)
    assert how_lines(how, piece(), Style()) == ["1. score and snap 240 from the left at the bottom, 236 at the top."]


def test_a_hole_is_drilled_while_the_tile_is_whole_and_the_cut_beside_it_is_sawn() -> None:
    far, near = (
        opening("hot", Circle(35.0), 150.0, 75.0, core=35.0),
        opening("low", Circle(35.0), 150.0, 110.0, core=35.0),
    )
    for hole, way in ((far, "snap"), (near, "saw")):  # 57.5 and 22.5 of tile between hole and cut; 30 bears it
        how = how_cut(piece([hole], trimmed=LOW, gone=[Side.TOP]), SNAPS)
        core, cut = how.operations
        assert isinstance(core, CoreHole)
        assert core.at == Point(150.0, hole.at.y)
        assert core.side == "face"
        assert isinstance(cut, StraightCut)
        assert cut.way == way
        assert how.first == "whole"


def test_a_hole_over_the_cut_line_is_drilled_before_it_whole() -> None:
    notch = opening("hot", Circle(35.0), 150.0, 145.0, core=35.0)
    how = how_cut(piece([notch], ["edge notch"], trimmed=LOW, gone=[Side.TOP]), SNAPS)
    core, cut = how.operations
    assert isinstance(core, CoreHole)
    assert core.pilot
    assert isinstance(cut, StraightCut)
    assert (cut.way, cut.why) == ("saw", "hole")


def test_a_notch_that_opens_into_the_cut_comes_after_it() -> None:
    notch = opening("box", Rect(70.0, 60.0), 150.0, 130.0)
    how = how_cut(piece([notch], ["edge notch"], trimmed=LOW, gone=[Side.TOP]), SNAPS)
    assert how.first == "opens into the cut"
    assert kinds_of(how) == ["StraightCut", "ReliefHoles", "StoppedCut", "PlungeCut", "StoppedCut"]
    # The box is 115 to 185 across and its lower side 100 up; holes of 6 touch both sides of each corner.
    (holes,) = only(how, ReliefHoles)
    assert sorted((round(at.x, 6), round(at.y, 6)) for at in holes.at) == [(118.0, 103.0), (182.0, 103.0)]


def test_an_inside_corner_stops_the_disc_from_both_sides() -> None:
    step = ((0.0, 0.0), (300.0, 0.0), (300.0, 120.0), (180.0, 120.0), (180.0, 200.0), (0.0, 200.0))
    disc = Disc(115.0, 1.2)
    how = how_cut(piece(trimmed=step), CutWith((disc,)))
    holes, *cuts = how.operations
    assert isinstance(holes, ReliefHoles)
    assert holes.at == (Point(183.0, 123.0),)
    ends = []
    for cut in cuts:
        assert isinstance(cut, StoppedCut)
        assert cut.clear == pytest.approx(3.0)
        ends.append((cut.start, cut.end))
        (reach,) = cut.reaches  # t 10, 3 past, by the table: 36.41 / 18.33 / 18.08
        assert (reach.near, reach.far) == pytest.approx((36.41, 18.33), abs=0.006)
    # Each ends 3 before the corner, in the hole.
    assert sorted(ends, key=str) == [
        (Point(180.0, 200.0), Point(180.0, 123.0)),
        (Point(300.0, 120.0), Point(183.0, 120.0)),
    ]
    assert how_lines(how, piece(), Style())[-1] == (
        "Disc 115, reaching 3 out of the far side: face up its middle stops 39½ before the corner, 18½ stay on the "
        "back to snap and grind; only where it has to lie face down, 21½ before it, the back is cut 15½ past it, "
        "where at least 120 of tile lies."
    )


def test_a_box_that_can_be_plunged_from_the_back_alone_says_so() -> None:
    # A disc of 115 in 10: 72.8 from the face, 36.7 from the back; the box is 68, its corners not drilled first.
    box = replace(opening("box", Rect(68.0, 68.0), 150.0, 100.0))
    how = how_cut(piece([box]), CutWith((Disc(115.0),), relief=80.0))  # so large a hole has no room in any corner
    sides = only(how, PlungeCut)
    assert len(sides) == 4
    assert {round(side.room, 6) for side in sides} == {68.0}
    assert all(not side.from_face and len(side.from_back) == 1 for side in sides)
    said = " ".join(how_lines(how, piece(), Style()))
    from_back = "from the BACK alone (68 is too short from the face): Disc 115, reaching 3 out of the far side"
    assert said.count(from_back) == 4
    # The box is 116 to 184 across and 66 to 134 up: behind its corners lie 66 up and down, 116 left and right.
    for behind in (66, 116):
        past = (
            "its middle no nearer than 18½ to either corner, the back is cut 18½ past each, where at least "
            f"{behind} of tile lies"
        )
        assert said.count(past) == 2


def test_no_disc_is_let_in_from_the_back_through_what_lies_behind_a_corner() -> None:
    # 18.08 past each corner, by the table; beside the box 18 of tile are left at the right, then 19.
    for right, sides in ((18.0, 2), (19.0, 4)):
        box = opening("box", Rect(68.0, 68.0), 300.0 - 34.0 - right, 100.0)
        how = how_cut(piece([box]), CutWith((Disc(115.0),), relief=80.0))
        assert sum(len(side.from_back) for side in only(how, PlungeCut)) == sides
    # An L with a tongue of 15 below its corner, where a hole of 6 leaves 18.08 - 3 past it: not to be cut face down.
    step = ((0.0, 0.0), (300.0, 0.0), (300.0, 15.0), (180.0, 15.0), (180.0, 200.0), (0.0, 200.0))
    how = how_cut(piece(trimmed=step), CutWith((Disc(115.0),)))
    assert how_lines(how, piece(), Style())[-1].endswith(
        "; not face down: the back would be cut 15½ past it, where only 15 of tile lies."
    )


def test_without_disc_or_thickness_it_says_what_is_wanted() -> None:
    step = ((0.0, 0.0), (300.0, 0.0), (300.0, 120.0), (180.0, 120.0), (180.0, 200.0), (0.0, 200.0))
    for thickness, tools in ((10.0, CutWith()), (None, CutWith((Disc(115.0),)))):
        lines = how_lines(how_cut(piece(trimmed=step, thickness=thickness), tools), piece(), Style())
        assert lines[-1] == "Where the disc stops: write discs: in tools.yaml, and the tile's thickness."


def test_a_strip_never_stands_free_where_another_order_helps() -> None:
    # 10 wide and 98 high off the corner of what is left at 224: cut down its long side first, 10 x 98 hangs by its end.
    # Across first, it comes off with the last cut.
    corner = opening("pipe", Rect(10.0, 98.0), 219.0, 49.0)
    trimmed = ((0.0, 0.0), (224.0, 0.0), (224.0, 147.0), (0.0, 147.0))
    how = how_cut(piece([corner], ["corner notch"], w=269.0, h=147.0, trimmed=trimmed, gone=[Side.RIGHT]), CutWith())
    stopped = only(how, StoppedCut)
    assert [abs(cut.start.x - cut.end.x) > abs(cut.start.y - cut.end.y) for cut in stopped] == [True, False]
    assert how.strips == ()


def test_a_round_notch_is_a_row_of_cuts_from_its_edge() -> None:
    notch = opening("pipe", Circle(60.0), 120.0, 0.0, core=60.0)
    how = how_cut(piece([notch], ["edge notch"]), CutWith((Disc(115.0, 2.0),)))
    (row,) = how.operations
    assert isinstance(row, RoundNotch)
    assert (row.side, row.middle, row.core) == (Side.BOTTOM, 120.0, 60.0)
    assert [round(one.deep, 2) for one in row.fingers[4:]] == [29.98, 28.84, 25.69, 19.56, 0.0]
    assert how_lines(how, piece(), Style()) == [
        "1. pipe: 9 cuts from the bottom edge, so far either way of its middle (120 from the left) and so deep: "
        "0: 29½, 7: 28½, 14½: 25½, 21½: 19½, 29: 0; break out and grind, or the core 60 held by a board."
    ]


def test_what_no_saw_and_no_core_makes_is_said() -> None:
    how = how_cut(piece([opening("mixer", Circle(116.0), 150.0, 100.0)]), CutWith())
    assert kinds_of(how) == ["ByHand"]
    assert only(how, ByHand)[0].radius == 58.0
    corners = [
        (40.0, 0.0),
        (28.0, 28.0),
        (0.0, 40.0),
        (-28.0, 28.0),
        (-40.0, 0.0),
        (-28.0, -28.0),
        (0.0, -40.0),
        (28.0, -28.0),
    ]
    star = Outline(tuple(Vertex(x * (1.0 + 0.1 * (k % 2)), y) for k, (x, y) in enumerate([*corners, (35.0, -10.0)])))
    assert kinds_of(how_cut(piece([opening("odd", star, 150.0, 100.0)]), CutWith())) == [AlongOutline.__name__]


def test_the_order_is_never_worse_than_another() -> None:
    told: list[str] = []
    assert campaign(15, 7, told.append) == 0, told


def test_behind_two_corners_the_least_is_said_as_that() -> None:
    # A notch in the top from 100 to 170 of 300, 50 deep, its corners not drilled first: 100 of tile lie on the left of
    # it, 130 on the right. In tile of 10 a disc of 115 needs 72.8 from the face, and the notch is 70 wide.
    notch = ((0.0, 0.0), (300.0, 0.0), (300.0, 200.0), (170.0, 200.0), (170.0, 150.0), (100.0, 150.0), (100.0, 200.0))
    how = how_cut(piece(trimmed=(*notch, (0.0, 200.0))), CutWith((Disc(115.0),), relief=80.0))
    (side,) = only(how, PlungeCut)
    assert side.room == pytest.approx(70.0)
    said = " ".join(how_lines(how, piece(), Style()))
    assert "(70 is too short from the face)" in said
    assert "past each, where at least 100 of tile lies." in said
    assert "plunge the side between its corners from the back" in how_in_short(how, piece(), Style())


def test_what_corner_holes_leave_of_a_side_is_said_as_that() -> None:
    # Of a side of 78 a hole of 10, tangent to both sides of a corner, takes 5 at each end: 68, under the 72.8.
    how = how_cut(piece([opening("box", Rect(78.0, 78.0), 150.0, 100.0)]), CutWith((Disc(115.0),), relief=10.0))
    said = " ".join(how_lines(how, piece(), Style()))
    assert said.count("(68 clear of its corner holes is too short from the face)") == 4
    assert "plunge its sides from the back" in how_in_short(how, piece(), Style())
