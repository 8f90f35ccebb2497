"""A 1200 x 1200 tile with three holes on A4: the chosen sheets against printing the whole tile.

The figures that `cutmarks help sheets` shows, each worked by hand.
"""

from __future__ import annotations

import pytest

from cutmarks.geometry.shapes import Circle
from cutmarks.registering import PAPERS, Registration, error_at, register
from cutmarks.sides import Side
from tests.handmade import cut_piece, opening

SPOTS = ((90.0, 110.0), (600.0, 140.0), (640.0, 610.0))
A4 = PAPERS["A4"]


def tile():
    holes = [opening(f"h{n}", Circle(35.0), x, y, core=35.0) for n, (x, y) in enumerate(SPOTS)]
    return cut_piece(holes, 1200.0, 1200.0, at=(0.0, 0.0))


def test_three_sheets_and_a_millimetre_and_a_quarter():
    piece = tile()
    sheets = register([piece], "A4")
    assert [(sheet.how, sheet.cuts) for sheet in sheets] == [("corner", (0,)), ("edge", (1,)), ("centre", (2,))]
    errors = [error_at(piece, piece.cuts[index], sheet) for sheet in sheets for index in sheet.cuts]
    # Corner: 110 x 0.5 % + 0.3 + 0.25. By the tape: 1 + 0.25, on the edge 140 x 0.5 % + 0.3 + 0.25 the other way, tied.
    assert errors == pytest.approx([1.1, 1.25, 1.25])
    assert sum(sheet.pages for sheet in sheets) == 3


def test_the_whole_tile_takes_forty_eight_sheets_and_is_five_millimetres_out():
    piece = tile()
    # A4: 181 across and 230 up show the tile, 16 overlap, so 165 and 214 a sheet; the first reaches 169.5 and 218.5.
    # 1200 - 169.5 is 1030.5, 7 sheets more; 1200 - 218.5 is 981.5, 5 sheets more.
    whole = Registration(
        piece.name,
        "joined",
        (Side.LEFT, Side.BOTTOM),
        (0, 1, 2),
        columns=8,
        rows=6,
        steps=(A4.step("across"), A4.step("up")),
    )
    assert whole.steps == pytest.approx((165.0, 214.0))
    errors = [error_at(piece, cut, whole) for cut in piece.cuts]
    # Joins lie at 164.5, 329.5, 494.5, 659.5 ... across and at 213.5, 427.5, 641.5 ... up. 90, 110: none.
    # 600, 140: 3 joins, 600 x 0.5 % + 0.55 + 0.6 x root 3. 640, 610: 3 and 2, 640 x 0.5 % + 0.55 + 0.6 x root 5.
    assert errors == pytest.approx([1.1, 3.0 + 0.55 + 1.0392, 3.2 + 0.55 + 1.3416], abs=1e-4)
    assert whole.pages == 48


def test_joined_sheets_where_they_are_asked_for_stop_at_the_farthest_hole():
    piece = tile()
    sheets = register([piece], "A4", joined=True)
    # 657.5 across is 4 sheets (664.5), 627.5 up is 3 (646.5): the hole along the edge is among them.
    (only,) = sheets
    assert (only.how, only.columns, only.rows) == ("joined", 4, 3)
