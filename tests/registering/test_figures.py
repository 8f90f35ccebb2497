"""The figures that decide which sheets are taken, set otherwise; every figure by hand."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from cutmarks.geometry.shapes import Circle, Rect
from cutmarks.limits import LIMITS
from cutmarks.registering import error_at, register
from cutmarks.registering.error import worst_error
from cutmarks.registering.figures import USUAL, paper_figures
from tests.handmade import cut_piece, opening


def test_the_usual_figures_are_those_of_the_table() -> None:
    # Common practice, no published source: as the README and the sheets say them.
    assert (USUAL.scale, paper_figures(LIMITS, calibrated=True).scale) == (0.005, 0.003)
    assert (USUAL.lining_up, USUAL.line, USUAL.join, USUAL.tape) == (0.3, 0.25, 0.6, 1.0)
    assert (USUAL.size_measured, USUAL.size_nominal, USUAL.sheet_saved) == (0.5, 1.0, 0.1)
    assert (USUAL.most_joined, USUAL.most_asked) == (6, 60)


def test_a_printer_that_is_never_out_holds_anywhere() -> None:
    assert replace(USUAL, scale=0.0).reach(1.0) == float("inf")


def test_a_sheet_less_is_worth_what_the_job_says() -> None:
    # 170 wide, holes 60 and 150 from the left: one sheet from the left shows both, at 150 x 0.5 % + 0.55 = 1.3. From
    # the right the second is 20 off, but the tile's own size adds 0.5: 0.1 + 0.55 + 0.5 = 1.15; 60 x 0.5 % + 0.55 is
    # 0.85. Two sheets are 0.15 better: over 0.1.
    holes = [opening(name, Circle(20.0), x, 60.0) for name, x in (("a", 60.0), ("b", 150.0))]
    piece = cut_piece(holes, 170.0, 300.0, at=(0.0, 0.0))
    two = register([piece], "A4")
    assert [(sheet.edges[0], sheet.cuts) for sheet in two] == [("left", (0,)), ("right", (1,))]
    worst = max(error_at(piece, piece.cuts[index], sheet) for sheet in two for index in sheet.cuts)
    assert worst == pytest.approx(1.15)
    (one,) = register([piece], "A4", figures=replace(USUAL, sheet_saved=0.2))
    assert one.cuts == (0, 1)


def test_a_cut_larger_than_the_paper_is_joined_only_up_to_the_most() -> None:
    # 280 x 280 about (200, 200) reaches 340 across and up: A4 turned shows 174.5 and 162, then 170 and 157.5 more each:
    # 2 x 3 sheets. Upright it shows 171.5 and 157, then 167 and 152.5 more: 3 x 3.
    piece = cut_piece([opening("hatch", Rect(280.0, 280.0), 200.0, 200.0)], 1200.0, 1200.0, at=(0.0, 0.0))
    (joined,) = register([piece], "A4")
    assert (joined.how, joined.columns, joined.rows, joined.layout) == ("joined", 2, 3, "landscape")
    (other,) = register([piece], "A4", figures=replace(USUAL, most_joined=5))
    assert other.how != "joined"


def test_joins_that_are_asked_for_end_at_the_most() -> None:
    # 317.5 across is 2 sheets, 307.5 up is 2 (157 and 152.5 more): four.
    piece = cut_piece([opening("a", Circle(35.0), 300.0, 290.0)], 1200.0, 1200.0, at=(0.0, 0.0))
    (joined,) = register([piece], "A4", joined=True)
    assert joined.pages == 4
    # One join each way: 0.6 x root 2 = 0.849; set to 2 it is 2.828.
    assert worst_error(piece, piece.cuts[0], joined).joins == pytest.approx(0.8485, abs=1e-4)
    own = replace(USUAL, join=2.0)
    assert worst_error(piece, piece.cuts[0], joined, own).joins == pytest.approx(2.8284, abs=1e-4)
    (taped,) = register([piece], "A4", joined=True, figures=replace(USUAL, most_asked=3))
    assert taped.how == "centre"
