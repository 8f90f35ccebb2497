"""The figures of a cut, on the worked examples W1 to W5, worked by hand."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest

from cutmarks.geometry.shapes import Circle, Rect, Slot
from cutmarks.saying.measures import crossing_from, measure_from, measures, run_out, shown, size_words
from cutmarks.sides import Side
from cutmarks.units import Style, Unit
from tests.handmade import cut_piece, opening, w1_piece
from tests.worked.figures import W3_RIGHT, W3_TOP

MM = Style()


def w3_piece():
    """Worked example W3, below left: a 298 x 598 tile, an opening of 50 with its centre at 294, 595."""
    return cut_piece(
        [opening("pipe", Circle(50.0), -5.0, 1795.0, core=50.0)],
        298.0,
        598.0,
        at=(-299.0, 1200.0),
        kinds=["corner notch"],
    )


def test_w1_is_marked_by_its_centre_from_the_fixed_sides():
    piece = w1_piece()
    assert [(one.side, one.what, one.values) for one in measures(piece.cuts[0], piece)] == [
        ("left", "centre", (pytest.approx(74.5),)),
        ("bottom", "centre", (pytest.approx(112.5),)),
    ]


def test_w1_shows_figures_that_add_up_to_the_tile():
    assert shown(74.5, Side.LEFT, w1_piece(), MM) == ("74½", "173½")
    assert shown(112.5, Side.BOTTOM, w1_piece(), MM) == ("112½", "285½")
    assert shown(173.5, Side.RIGHT, w1_piece(), MM) == ("173½", "74½")


def test_w2_a_box_is_marked_by_both_sides():
    piece = cut_piece(
        [opening("box", Rect(76.0, 78.0), -412.0, 1334.0)],
        597.0,
        297.0,
        at=(-898.5, 1200.0),
        fixed=(Side.RIGHT, Side.BOTTOM),
    )
    across, up = measures(piece.cuts[0], piece)
    assert (across.side, across.what, across.values) == ("right", "sides", pytest.approx((72.5, 148.5)))
    assert (up.side, up.what, up.values) == ("bottom", "sides", pytest.approx((95.0, 173.0)))
    assert size_words(piece.cuts[0], piece, MM) == "CUT-OUT 76 x 78"


def test_w3_a_corner_notch_is_marked_where_it_crosses_the_edges():
    piece = w3_piece()
    cut = piece.cuts[0]
    assert cut.runs_out == {"right", "top"}
    assert crossing_from(cut, piece, Side.LEFT) == pytest.approx(W3_TOP, abs=0.01)
    assert crossing_from(cut, piece, Side.RIGHT) == pytest.approx(298.0 - W3_TOP, abs=0.01)
    assert crossing_from(cut, piece, Side.BOTTOM) == pytest.approx(W3_RIGHT, abs=0.01)
    assert crossing_from(cut, piece, Side.TOP) == pytest.approx(598.0 - W3_RIGHT, abs=0.01)


def test_w3_is_shown_as_27_half_down_and_29_in():
    piece = w3_piece()
    (across,) = measure_from(piece.cuts[0], piece, Side.RIGHT)
    (down,) = measure_from(piece.cuts[0], piece, Side.TOP)
    assert shown(down.values[0], Side.TOP, piece, MM)[0] == "27½"
    assert shown(across.values[0], Side.RIGHT, piece, MM)[0] == "29"


def test_w4_inches_keep_the_rounding_of_the_nearer_edge():
    inch = 25.4
    w = 11.8125 * inch
    piece = cut_piece([opening("stub", Circle(34.925), 100.0, 100.0)], w, w, at=(0.0, 0.0))
    fine = Style(Unit.INCH, Fraction(1, 32))
    coarse = Style(Unit.INCH, Fraction(1, 16))
    left = (9 + 17 / 32) * inch
    assert shown(left, Side.LEFT, piece, fine) == ("9 17/32", "2 9/32")
    # W4: in sixteenths 2 9/32 shows as 2 5/16 (halves up), the other as 11 13/16 less that, 9 1/2.
    assert shown(left, Side.LEFT, piece, coarse) == ("9 1/2", "2 5/16")


def test_a_round_notch_runs_out_where_the_half_chord_says():
    piece = cut_piece([opening("feed", Circle(35.0), 301.0, 808.0)], 248.0, 398.0, kinds=["edge notch"])
    cut = piece.cuts[0]
    found = run_out(cut, piece)
    assert found is not None
    (edge, side), low, high = found
    half = math.sqrt(17.5**2 - 8.0**2)
    assert (edge, side) == ("bottom", "left")
    assert (low, high) == pytest.approx((50.0 - half, 50.0 + half))
    assert [one.what for one in measures(cut, piece)] == ["centre", "centre"]


def test_a_box_over_an_edge_is_marked_by_its_sides_and_its_depth():
    piece = cut_piece([opening("socket", Rect(76.0, 78.0), 341.0, 1180.0)], 248.0, 398.0, kinds=["edge notch"])
    cut = piece.cuts[0]
    (across,) = measure_from(cut, piece, Side.LEFT)
    (up,) = measure_from(cut, piece, Side.BOTTOM)
    (down,) = measure_from(cut, piece, Side.TOP)
    assert (across.what, across.values) == ("sides", pytest.approx((52.0, 128.0)))
    assert (up.what, up.values) == ("end", (pytest.approx(341.0),))
    assert (down.what, down.values) == ("end", (pytest.approx(57.0),))


def test_a_strip_right_across_has_no_measure_across():
    piece = cut_piece([opening("rail", Rect(400.0, 30.0), 375.0, 1000.0)], 248.0, 398.0, kinds=["part"])
    assert measure_from(piece.cuts[0], piece, Side.LEFT) == ()
    (up,) = measure_from(piece.cuts[0], piece, Side.BOTTOM)
    assert up.values == pytest.approx((185.0, 215.0))


@pytest.mark.parametrize(
    ("shape", "core", "words"),
    [
        (Circle(35.0), 35.0, "CORE 35"),
        (Circle(36.5), None, "HOLE 36½ round"),
        (Rect(76.0, 78.0), None, "CUT-OUT 76 x 78"),
        (Rect(76.0, 78.0, lean=3.0), None, "CUT-OUT 76 x 78, leaning 3°"),
        (Slot(60.0, 20.0), None, "SLOT 60 x 20"),
    ],
)
def test_what_is_cut_is_said_in_capitals(shape, core, words):
    piece = cut_piece([opening("it", shape, 375.0, 1000.0, core=core)], 248.0, 398.0)
    assert size_words(piece.cuts[0], piece, MM) == words


def test_a_hole_that_touches_an_edge_does_not_run_out_over_it():
    # 12.5 of radius, 134.5 up on a tile 147 high: it touches the upper edge in one place.
    piece = cut_piece([opening("a", Circle(25.0), 79.25, 134.5)], 298.0, 147.0, at=(0.0, 0.0))
    assert piece.cuts[0].runs_out == frozenset()
    assert run_out(piece.cuts[0], piece) is None
