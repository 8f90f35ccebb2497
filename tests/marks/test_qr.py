"""A QR code, by what ISO/IEC 18004 says of every one: its sizes, finder and timing patterns, its white margin.

That it is read back was tried with a decoder of another make; none is asked for here.
"""

from __future__ import annotations

import pytest

from cutmarks.geometry.frames import Sheet
from cutmarks.marks.model import Filled
from cutmarks.marks.qr import qr_code

X, Y, SIDE = 7.0, 11.0, 33.0
FINDER = ("1111111", "1000001", "1011101", "1011101", "1011101", "1000001", "1111111")


def modules(text: str, size: int) -> list[str]:
    """The dark modules as they lie on paper, row by row from the top; `size` of them in a row, four white all round."""
    mark: Filled[Sheet] = qr_code(text, X, Y, SIDE)
    step = SIDE / (size + 8)
    grid = [[0] * (size + 8) for _ in range(size + 8)]
    for ring in mark.rings:
        box = ring.bounds
        row = round((Y + SIDE - box.max_y) / step)
        assert box.height == pytest.approx(step)
        for column in range(round((box.min_x - X) / step), round((box.max_x - X) / step)):
            grid[row][column] = 1
    assert not any(map(any, [*(row[:4] + row[-4:] for row in grid), *grid[:4], *grid[-4:]]))
    return ["".join(map(str, row[4:-4])) for row in grid[4:-4]]


# Byte mode holds 14 signs at the middle correction in version 1, of 21 modules, and 26 in version 2, of 25 (table 7).
@pytest.mark.parametrize(("text", "size"), [("low 1-8 790844", 21), ("low 1-8 7908445f", 25), ("x" * 26, 25)])
def test_finders_stand_in_three_corners_and_timing_between_them(text: str, size: int) -> None:
    rows = modules(text, size)
    assert tuple(row[:7] for row in rows[:7]) == FINDER
    assert tuple(row[-7:] for row in rows[:7]) == FINDER
    assert tuple(row[:7] for row in rows[-7:]) == FINDER
    assert tuple(row[-7:] for row in rows[-7:]) != FINDER
    timing = [str((n + 1) % 2) for n in range(size - 16)]
    assert [row[6] for row in rows[8:-8]] == timing
    assert list(rows[6][8:-8]) == timing
    assert rows[-8][8] == "1"  # the module that is always dark


def test_another_text_is_another_code() -> None:
    assert modules("low 1-8 7908445f", 25) != modules("low 1-8 7908445e", 25)
