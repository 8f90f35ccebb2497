"""A sheet's measures, face and back: where each arrow runs, how long it is, and which figure stands on it.

The tile is 248 x 398, its hole 74.5 from one upright edge and 112.5 from one level edge, each of the four corners in
turn: the edges that are lined up on.
"""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from cutmarks.geometry.frames import Point
from cutmarks.geometry.rings import Ring
from cutmarks.geometry.shapes import Circle, Rect
from cutmarks.marks.model import CircleMark, Filled, Role, Stroke, Words
from cutmarks.openings.edge_work import EdgeWork
from cutmarks.openings.model import Web
from cutmarks.plan import Plan
from cutmarks.registering import register
from cutmarks.saying.behind import from_behind, registered_behind
from cutmarks.sheets.build import build_sheets
from cutmarks.sides import Side
from tests.handmade import cut_piece, opening, plan_of

LEFT, RIGHT, BOTTOM, TOP = Side.LEFT, Side.RIGHT, Side.BOTTOM, Side.TOP
CORNERS = [(LEFT, BOTTOM), (RIGHT, BOTTOM), (LEFT, TOP), (RIGHT, TOP)]


def riser(
    fixed: tuple[Side, Side], *, w: float = 248.0, h: float = 398.0, by: tuple[float, float] = (74.5, 112.5)
) -> Plan:
    """A tile with one hole, as far from the two fixed edges as `by` says."""
    x = by[0] if fixed[0] is LEFT else w - by[0]
    y = by[1] if fixed[1] is BOTTOM else h - by[1]
    hole = opening("riser", Circle(35.0), 251.0 + x, 800.0 + y, core=35.0, you_may_be=10.0)
    return plan_of([cut_piece([hole], w, h, fixed=fixed)], paper="A1")


def back_of(plan: Plan) -> Plan:
    return replace(plan, registrations=register(plan.pieces, plan.say.paper, template="back"))


def measures(sheet) -> list[tuple[float, float, float, float]]:
    """The measure lines that begin on an edge to line up on, from there on, mm on the sheet."""
    found = []
    edges = [mark.path for mark in sheet.marks if isinstance(mark, Stroke) and mark.role is Role.TILE_EDGE]
    for mark in sheet.marks:
        if isinstance(mark, Stroke) and mark.role is Role.MEASURE and len(mark.path) == 2:
            (a, b) = mark.path
            for start, end in ((a, b), (b, a)):
                on_edge = any(
                    abs(start.x - one.x) < 1e-6
                    if one.x == two.x and start.y == end.y
                    else abs(start.y - one.y) < 1e-6 and one.y == two.y and start.x == end.x
                    for one, two in edges
                )
                if on_edge:
                    found.append((start.x, start.y, end.x, end.y))
    return found


def hole(sheet) -> CircleMark:
    (cut,) = [mark for mark in sheet.marks if isinstance(mark, CircleMark) and mark.role is Role.CUT]
    return cut


@pytest.mark.parametrize("fixed", CORNERS)
@pytest.mark.parametrize("back", [False, True])
def test_each_arrow_runs_from_its_edge_to_the_middle(fixed: tuple[Side, Side], *, back: bool) -> None:
    plan = riser(fixed)
    (sheet,) = build_sheets(back_of(plan) if back else plan)
    middle = hole(sheet).centre
    rows = measures(sheet)
    for side, long in zip(fixed, (74.5, 112.5), strict=True):
        # On the face an arrow from the left edge points right; on the back that edge is on the right of the paper.
        way = {LEFT: (1, 0), RIGHT: (-1, 0), BOTTOM: (0, 1), TOP: (0, -1)}[side]
        if back:
            way = (-way[0], way[1])
        # It ends at the field that is kept clear about the middle, a ring of 6 across.
        end = (middle.x - 3.0 * way[0], middle.y - 3.0 * way[1])
        begin = (middle.x - long * way[0], middle.y - long * way[1])
        assert (*begin, *end) in [tuple(pytest.approx(value, abs=1e-6) for value in row) for row in rows]


@pytest.mark.parametrize("fixed", CORNERS)
@pytest.mark.parametrize("back", [False, True])
def test_the_figure_stands_beside_its_own_arrow(fixed: tuple[Side, Side], *, back: bool) -> None:
    plan = riser(fixed)
    (sheet,) = build_sheets(back_of(plan) if back else plan)
    middle = hole(sheet).centre
    figures = {mark.text: mark.at for mark in sheet.marks if isinstance(mark, Words) and mark.height < 8.0}
    # Each within a letter's height or two of its own arrow, which runs level or plumb through the middle.
    assert abs(figures["74½"].y - middle.y) < 8.0
    assert abs(figures["112½"].x - middle.x) < 8.0
    said = [mark.text for mark in sheet.marks if isinstance(mark, Words)]
    assert any(text.startswith("check (173½ and 285½)") for text in said)


def pictured(sheet) -> set[Side]:
    """The edges that are drawn heavy in the small pictures of the tile beside the figures, one in each.

    A picture is a rectangle under 20 high and wide; no panel is so small, and no other box has a heavy edge.
    """
    found = set()
    heavy = [mark.rings[0].bounds for mark in sheet.marks if isinstance(mark, Filled)]
    for mark in sheet.marks:
        if not (isinstance(mark, Stroke) and mark.role is Role.BOX and mark.closed):
            continue
        box = Ring(mark.path).bounds
        if max(box.height, box.width) > 20.0:
            continue
        ends = {
            LEFT: ((box.min_x, box.min_y), (box.min_x, box.max_y)),
            RIGHT: ((box.max_x, box.min_y), (box.max_x, box.max_y)),
            BOTTOM: ((box.min_x, box.min_y), (box.max_x, box.min_y)),
            TOP: ((box.min_x, box.max_y), (box.max_x, box.max_y)),
        }
        edges = [
            side
            for one in heavy
            for side, both in ends.items()
            if all(one.min_x <= x <= one.max_x and one.min_y <= y <= one.max_y for x, y in both)
        ]
        if edges:
            assert len(edges) == 1
            found.add(edges[0])
    return found


@pytest.mark.parametrize("fixed", CORNERS)
def test_a_picture_beside_each_figure_has_its_own_edge_heavy(fixed: tuple[Side, Side]) -> None:
    (sheet,) = build_sheets(riser(fixed))
    assert pictured(sheet) == set(fixed)


def test_of_one_hole_nothing_is_said_by_its_name_and_of_two_each_is() -> None:
    (sheet,) = build_sheets(riser((LEFT, BOTTOM)))
    assert "you may be 10 any way" in [mark.text for mark in sheet.marks if isinstance(mark, Words)]
    holes = [
        opening(name, Circle(35.0), 251.0 + x, 950.0, core=35.0, you_may_be=spare)
        for name, x, spare in (("hot", 74.5, 10.0), ("cold", 174.5, 6.0))
    ]
    (sheet,) = build_sheets(plan_of([cut_piece(holes, 248.0, 398.0)], paper="A1"))
    said = [mark.text for mark in sheet.marks if isinstance(mark, Words)]
    assert {"hot: you may be 10 any way", "cold: you may be 6 any way"} <= set(said)


def test_up_is_fat() -> None:
    (sheet,) = build_sheets(riser((LEFT, BOTTOM)))
    assert [mark.bold for mark in sheet.marks if isinstance(mark, Words) and mark.text == "UP"] == [True]


def test_from_behind_each_side_is_the_other_one() -> None:
    """Values by hand, not by mirroring twice: an involution holds too when nothing is mirrored."""
    box = opening("box", Rect(60.0, 40.0), 251.0 + 100.0, 800.0 + 150.0)
    piece = cut_piece([box], 248.0, 398.0, fixed=(RIGHT, TOP), factory=(LEFT, BOTTOM, TOP), cut_edges=(RIGHT,))
    web = Web(left=70.0, right=118.0, bottom=130.0, top=228.0, nearest=70.0)
    cut = replace(piece.cuts[0], web=web, from_cut_edges=((RIGHT, 148.0),), mark_from=(LEFT, TOP))
    behind = from_behind(replace(piece, cuts=(cut,)))
    seen = behind.cuts[0]
    # 100 from the left on the face is 148 from what is on the left from behind.
    assert (seen.centre.x, seen.centre.y) == pytest.approx((148.0, 150.0))
    assert (seen.from_left, seen.from_right, seen.from_bottom, seen.from_top) == pytest.approx(
        (148.0, 100.0, 150.0, 248.0)
    )
    # The box lies 70 to 130 from the left on the face: 118 to 178 from behind, at the same heights.
    assert seen.sides is not None
    assert tuple(seen.sides) == pytest.approx((118.0, 178.0, 130.0, 170.0))
    assert (seen.web.left, seen.web.right, seen.web.bottom, seen.web.top) == (118.0, 70.0, 130.0, 228.0)
    assert seen.mark_from == (RIGHT, TOP)
    assert seen.from_cut_edges == ((LEFT, 148.0),)
    assert set(behind.factory_edges) == {RIGHT, BOTTOM, TOP}
    assert behind.cut_edges == (LEFT,)
    assert (behind.fixed.across, behind.fixed.up) == (LEFT, TOP)
    box_behind = seen.share.bounds
    assert (box_behind.min_x, box_behind.max_x, box_behind.min_y, box_behind.max_y) == pytest.approx(
        (118, 178, 130, 170)
    )


def test_from_behind_a_cut_and_what_is_drilled_and_finished_lie_on_the_other_hand() -> None:
    # 60 x 40 about 351 - 251 = 100 from the left: 70 to 130 on the face, 118 to 178 from behind. Drilled 80 from the
    # left, 168 from behind; an arris on the left edge is on the right one from behind.
    box = opening("box", Rect(60.0, 40.0), 351.0, 950.0)
    piece = cut_piece([box], 248.0, 398.0)
    cut = replace(piece.cuts[0], drill_at=(Point(80.0, 150.0),))
    piece = replace(piece, cuts=(cut,), edge_work=(EdgeWork(LEFT, "left edge", finish="arris"),))
    behind = from_behind(piece)
    (seen,) = behind.cuts
    assert (seen.ring.bounds.min_x, seen.ring.bounds.max_x) == pytest.approx((118.0, 178.0))
    assert [(at.x, at.y) for at in seen.drill_at] == [pytest.approx((168.0, 150.0))]
    assert [work.side for work in behind.edge_work] == [RIGHT]


def test_from_behind_a_notch_runs_out_over_the_edge_of_the_other_hand() -> None:
    notch = cut_piece([opening("box", Rect(60.0, 40.0), 251.0, 950.0)], 248.0, 398.0, kinds=["edge notch"])
    assert notch.cuts[0].runs_out == {LEFT}
    assert from_behind(notch).cuts[0].runs_out == {RIGHT}


def test_from_behind_a_sheet_lies_on_the_edge_of_the_other_hand() -> None:
    piece = riser((LEFT, BOTTOM)).pieces[0]
    (sheet,) = register([piece], "A1", template="back")
    assert sheet.edges == (LEFT, BOTTOM)
    assert registered_behind(sheet).edges == (RIGHT, BOTTOM)
    taped = registered_behind(replace(sheet, edges=(BOTTOM,), tape=(LEFT,)))
    assert (taped.edges, taped.tape) == ((BOTTOM,), (RIGHT,))


def test_a_tie_from_behind_keeps_its_rounding_on_the_same_edge() -> None:
    # 248.5 wide, the hole in its middle, 124.25: in halves the left edge keeps 124½ (a half goes up) and the right one
    # is the rest of 248½, 124. The left edge of the face does so from behind too.
    plan = riser((LEFT, BOTTOM), w=248.5, by=(124.25, 112.5))
    (face,) = build_sheets(plan)
    (back,) = build_sheets(back_of(plan))
    for sheet in (face, back):
        words = [mark.text for mark in sheet.marks if isinstance(mark, Words)]
        assert "124½" in words
        assert any(text.startswith("check (124 ") for text in words)
