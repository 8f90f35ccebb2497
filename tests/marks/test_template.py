"""What a template draws, as marks in the Tile frame."""

from __future__ import annotations

import math

import pytest

from cutmarks.geometry.edges import Bounds
from cutmarks.geometry.shapes import Circle
from cutmarks.marks.centres import centre_marks
from cutmarks.marks.model import CircleMark, Role, Stroke
from cutmarks.marks.template import lines, subject
from cutmarks.registering import Registration
from cutmarks.sides import Side
from tests.handmade import cut_piece, opening, plan_of, w1_piece
from tests.scenes import quarter_of_crossing, raking, stopped
from tests.worked.figures import W3_RIGHT, W3_TOP, W5_TRIMMED

TOUCH = 1e-6
WIDE = Bounds(-2000.0, -2000.0, 2000.0, 2000.0)


def drawn(plan, view=WIDE, registration=None):
    piece = plan.pieces[0]
    shown = subject(plan, piece, registration or plan.registrations[0], view)
    return (*lines(shown), *centre_marks(shown))


def of(marks, role):
    return [mark for mark in marks if isinstance(mark, Stroke | CircleMark) and mark.role is role]


def test_w1_is_a_circle_a_cover_a_cross_and_four_edges():
    marks = drawn(plan_of([w1_piece()]))
    (hole,) = of(marks, Role.CUT)
    assert isinstance(hole, CircleMark)
    assert (hole.centre.x, hole.centre.y, hole.radius) == pytest.approx((74.5, 112.5, 17.5))
    assert [mark.radius for mark in of(marks, Role.COVER)] == [32.5]
    (ring,) = of(marks, Role.CENTRE_RING)
    assert (ring.centre.x, ring.centre.y, ring.radius) == pytest.approx((74.5, 112.5, 3.0))
    # The cross fills the ring; a core of 35 and a cover of 65 hide it, so that the middle is told again 1.5 outside of
    # 32.5: to the right and above, 8 long. On the other sides the measures run to it.
    ends = [[(v.x, v.y) for v in mark.path] for mark in of(marks, Role.CENTRE)]
    assert ends == [
        [(71.5, 112.5), (77.5, 112.5)],
        [(74.5, 109.5), (74.5, 115.5)],
        [(108.5, 112.5), (116.5, 112.5)],
        [(74.5, 146.5), (74.5, 154.5)],
    ]
    assert len(of(marks, Role.TILE_EDGE)) == 2
    assert len(of(marks, Role.TILE)) == 2


def test_w3_cuts_one_arc_and_not_the_tile_s_own_edges():
    (cut,) = of(drawn(quarter_of_crossing()), Role.CUT)
    first, last = cut.path[0], cut.path[-1]
    # Worked example W3: from the right edge round to the top edge, the corner on its outer side.
    assert {(round(first.x, 2), round(first.y, 2)), (round(last.x, 2), round(last.y, 2))} == {
        (298.0, W3_RIGHT),
        (W3_TOP, 598.0),
    }
    assert not cut.closed


def test_w5_the_raking_edge_is_a_saw_cut():
    marks = drawn(raking())
    (saw,) = [mark for mark in of(marks, Role.CUT) if isinstance(mark, Stroke)]
    assert {(v.x, v.y) for v in saw.path} == set(W5_TRIMMED[1:3])


def test_only_the_sheet_s_own_cuts_are_on_it():
    piece = cut_piece(
        [opening("a", Circle(20.0), 40.0, 60.0), opening("b", Circle(30.0), 560.0, 60.0)], 597.0, 297.0, at=(0.0, 0.0)
    )
    plan = plan_of([piece])
    sheets = [of(drawn(plan, registration=one), Role.CUT) for one in plan.registrations]
    assert [[mark.radius for mark in sheet] for sheet in sheets] == [[10.0], [15.0]]


def test_a_stop_takes_the_centre_cross_away():
    marks = drawn(stopped())
    assert of(marks, Role.CENTRE) == []
    assert len(of(marks, Role.CUT)) == 1


def test_a_centre_that_is_off_the_tile_has_no_cross():
    piece = cut_piece([opening("a", Circle(50.0), 100.0, -5.0)], 248.0, 398.0, at=(0.0, 0.0), kinds=["edge notch"])
    assert of(drawn(plan_of([piece])), Role.CENTRE) == []


def test_a_cut_by_tape_has_a_line_right_across_the_paper():
    piece = cut_piece([opening("a", Circle(60.0), 600.0, 300.0)], 1200.0, 600.0, at=(0.0, 0.0))
    view = Bounds(520.0, 190.0, 680.0, 410.0)
    sheet = Registration(piece.name, "centre", (), (0,), (Side.LEFT, Side.BOTTOM), (600.0, 300.0))
    long = [mark.path for mark in of(drawn(plan_of([piece]), view, sheet), Role.CENTRE)][-4:]
    # Right across but for the clear field about the middle, 6 all round.
    assert [[(v.x, v.y) for v in path] for path in long] == [
        [(600.0, 190.0), (600.0, 294.0)],
        [(600.0, 306.0), (600.0, 410.0)],
        [(520.0, 300.0), (594.0, 300.0)],
        [(606.0, 300.0), (680.0, 300.0)],
    ]


def test_nothing_is_drawn_off_the_paper():
    view = Bounds(-8.0, -8.0, 100.0, 100.0)
    for mark in drawn(plan_of([w1_piece()]), view):
        if isinstance(mark, Stroke):
            assert all(Bounds(v.x, v.y, v.x, v.y).within(view, TOUCH) for v in mark.path)


def test_a_hole_that_touches_the_tile_s_edge_is_drawn_all_round():
    # 12.5 of radius, 134.5 up on a tile 147 high: its highest place lies on the upper edge.
    piece = cut_piece([opening("a", Circle(25.0), 79.25, 134.5)], 298.0, 147.0, at=(0.0, 0.0))
    cuts = of(drawn(plan_of([piece])), Role.CUT)
    turn = sum(
        360.0
        if isinstance(mark, CircleMark)
        else sum(4 * math.degrees(math.atan(abs(v.bulge))) for v in mark.path[:-1])
        for mark in cuts
    )
    assert turn == pytest.approx(360.0)
