"""A 1200 x 1200 tile with three holes on A4: the chosen sheets against printing the whole tile.

The figures that `cutmarks help sheets` shows, each worked by hand.
"""

from __future__ import annotations

import pytest

from cutmarks.geometry.shapes import Circle
from cutmarks.registering import PAPERS, Registration, error_at, register
from cutmarks.registering.layouts import fields_of
from cutmarks.sides import Side
from tests.handmade import cut_piece, opening

SPOTS = ((90.0, 110.0), (600.0, 140.0), (640.0, 610.0))
A4, _ = fields_of(PAPERS["A4"])


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


def test_the_whole_tile_takes_sixty_four_sheets_and_is_five_millimetres_out():
    piece = tile()
    # A4: 183 across and 168.5 up show the tile, 16 overlap, so 167 and 152.5 a sheet; the first reaches 171.5 and 157.
    # 1200 - 171.5 is 1028.5, 7 sheets more; 1200 - 157 is 1043, 7 sheets more.
    whole = Registration(
        piece.name,
        "joined",
        (Side.LEFT, Side.BOTTOM),
        (0, 1, 2),
        columns=8,
        rows=8,
        steps=(A4.step("across"), A4.step("up")),
    )
    assert whole.steps == pytest.approx((167.0, 152.5))
    errors = [error_at(piece, cut, whole) for cut in piece.cuts]
    # Joins lie at 166.5, 333.5, 500.5, 667.5 ... across and at 152, 304.5, 457, 609.5 ... up. 90, 110: none.
    # 600, 140: 3 joins, 600 x 0.5 % + 0.55 + 0.6 x root 3. 640, 610: 3 and 4, 640 x 0.5 % + 0.55 + 0.6 x root 7.
    assert errors == pytest.approx([1.1, 3.0 + 0.55 + 1.0392, 3.2 + 0.55 + 1.5875], abs=1e-4)
    assert whole.pages == 64


def test_joined_sheets_where_they_are_asked_for_stop_at_the_farthest_hole():
    piece = tile()
    sheets = register([piece], "A4", joined=True)
    # Turned, 657.5 across is 4 sheets (174.5 and 3 x 170), 627.5 up is 4 (162 and 3 x 157.5); upright it would be
    # 4 x 5. Two cuts stand on them, the third on a corner.
    corner, joined = sheets
    assert (corner.how, corner.cuts) == ("corner", (0,))
    assert (joined.how, joined.cuts, joined.columns, joined.rows) == ("joined", (1, 2), 4, 4)
