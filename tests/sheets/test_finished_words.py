"""Words on the finished PDF: read where another program draws them, as long as they were measured, and kept apart.

What is planted on a good page has to be found: a word on a cut line, on a bar, on another word, on black, painted over,
off the safe area; and what is no fault has to be let be.
"""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pypdfium2
import pytest
from fontTools.ttLib import TTFont  # type: ignore[import-untyped]
from msgspec.structs import replace

import cutmarks.marks
from cutmarks.geometry.frames import Point
from cutmarks.geometry.frames import Sheet as SheetFrame
from cutmarks.marks.model import CircleMark, Role, Tone, Words, block, line
from cutmarks.sheets.build import build_sheets
from cutmarks.sheets.model import PaperSheet
from cutmarks.writers.pdf import pdf_bytes
from tests.scenes import SCENES
from tests.sheets.apart import word_faults
from tests.sheets.ink import inked_pages

MARGIN = 10.0
DOT = 25.4 / 600


def page_with(*marks, of=()):
    (page,) = inked_pages(pdf_bytes([PaperSheet("sheets/a.svg", "a", 210.0, 297.0, (*of, *marks))], "a"))
    return page


@pytest.mark.parametrize(
    "words",
    [
        Words("CORE 35, 74½", Point(60.0, 100.0), 7.0, bold=True),
        Words("from the edge towards V, gjpqy", Point(100.0, 150.0), 2.9, "middle"),
        Words("112½", Point(100.0, 200.0), 5.0, "end", turn=90.0),
        Words("PLUMB", Point(120.0, 60.0), 4.0, bold=True, turn=31.0),
    ],
    ids=lambda words: words.text,
)
def test_the_box_of_words_is_where_another_program_draws_them(words):
    # Drawn by PDFium at 600 dots to the inch: the outermost dots that are more than half black, and a dot for where
    # in it the edge lies.
    data = pdf_bytes([PaperSheet("sheets/a.svg", "a", 210.0, 297.0, (words,))], "a")
    dark = pypdfium2.PdfDocument(data)[0].render(scale=600 / 72, grayscale=True).to_numpy() < 128
    rows, columns = np.nonzero(dark)
    drawn = (
        columns.min() * DOT,
        297.0 - (rows.max() + 1) * DOT,
        (columns.max() + 1) * DOT,
        297.0 - rows.min() * DOT,
    )
    (word,) = inked_pages(data)[0].words
    assert word.text == words.text
    if words.turn % 90.0 == 0.0:
        assert word.box.bounds == pytest.approx(drawn, abs=1.5 * DOT)
    else:
        # A box that is turned is about the turned letters: all dots lie in it, and each side of it has some near it.
        corners = np.array(word.box.exterior.coords)
        dots = np.column_stack([(columns + 0.5) * DOT, 297.0 - (rows + 0.5) * DOT])
        for one, other in pairwise(corners):
            along = (other - one) / np.hypot(*(other - one))
            inward = (dots - one) @ np.array([-along[1], along[0]])
            assert 0.0 < inward.min() + DOT < 2.5 * DOT


def test_words_are_as_long_as_the_font_says():
    # The advances stand in the font's own hmtx table, in 1/2048 em (head table); capitals are 1493 high. From the
    # first letter's ink to the last one's, 60 letters on: H's 59 advances and its ink.
    font = TTFont(f"{next(iter(cutmarks.marks.__path__))}/font/DejaVuSans.ttf")
    advance, bearing = font["hmtx"][font.getBestCmap()[ord("H")]]
    assert font["head"].unitsPerEm == 2048
    ink = font["glyf"][font.getBestCmap()[ord("H")]]
    unit = 2.0 / 1493
    (word,) = page_with(Words("H" * 60, Point(20.0, 100.0), 2.0)).words
    left, bottom, right, top = word.box.bounds
    assert left == pytest.approx(20.0 + bearing * unit, abs=0.001)
    assert right - left == pytest.approx((59 * advance + ink.xMax - ink.xMin) * unit, abs=0.001)
    assert (bottom, top) == pytest.approx((100.0, 102.0), abs=0.001)


W1 = build_sheets(SCENES["w1"]())[0].marks
WORD: Words[SheetFrame] = Words("35", Point(60.0, 100.0), 5.0, bold=True)
# 5 mm high from y = 100; its ink begins at the left less than a millimetre right of 60 and is under 10 long.
PLANTED = {
    "on a cut line": (CircleMark(Point(40.0, 102.0), 25.0, Role.CUT), "lies on a line of 0.70"),
    "its baseline on a cut line": (line(40.0, 99.9, 90.0, 99.9, Role.CUT), "lies on a line of 0.70"),
    "on the tile's edge": (line(62.0, 50.0, 62.0, 150.0, Role.TILE_EDGE), "lies on a line of 0.50"),
    "on a cover's dashes": (line(50.0, 102.0, 90.0, 102.0, Role.COVER), "lies on a line of 0.25"),
    "on a bar": (line(50.0, 102.0, 90.0, 102.0, Role.BAR), "lies on a line of 0.35"),
    "on another word": (Words("UP", Point(63.0, 103.0), 5.0), "lies on"),
    "a turned word across": (Words("towards V", Point(64.0, 90.0), 5.0, turn=45.0), "lies on"),
    "painted over": (block(62.0, 101.0, 3.0, 3.0, Tone.WHITE), "is painted over"),
    "white on nothing": (Words("STOP", Point(100.0, 200.0), 5.0, tone=Tone.WHITE), "is white and not on black"),
    "off the safe area": (Words("sheet 1", Point(9.0, 150.0), 2.0), "is outside the safe area"),
    "descender off the safe area": (Words("g", Point(60.0, 10.1), 2.0), "is outside the safe area"),
}


@pytest.mark.parametrize(("planted", "fault"), PLANTED.values(), ids=PLANTED)
def test_what_is_planted_is_found(planted, fault):
    assert not list(word_faults(page_with(WORD), MARGIN))
    found = list(word_faults(page_with(WORD, planted), MARGIN))
    assert len(found) == 1
    assert fault in found[0]


def test_black_under_black_words_is_found():
    faults = list(word_faults(page_with(block(50.0, 90.0, 60.0, 30.0), WORD), MARGIN))
    assert faults == ["'35' lies on black"]


@pytest.mark.parametrize(
    "marks",
    [
        (line(40.0, 99.4, 90.0, 99.4, Role.CUT), WORD),
        (line(40.0, 102.0, 90.0, 102.0, Role.CUT), block(58.0, 98.0, 14.0, 9.0, Tone.WHITE), WORD),
        (block(50.0, 90.0, 60.0, 30.0), replace(WORD, tone=Tone.WHITE)),
        (Words("38", Point(60.0, 92.0), 5.0), WORD),
    ],
    ids=["a line below", "a line behind white", "white on black", "a word below"],
)
def test_what_is_no_fault_is_let_be(marks):
    # The second figure's ink ends at 92 + 5 and an overshoot of under 0.1.
    assert not list(word_faults(page_with(*marks), MARGIN))


def test_a_word_over_the_hole_of_a_whole_sheet_is_found():
    # Worked example W1: the hole is 35 across; the planted word stands on its right side.
    (circle,) = (mark for mark in W1 if isinstance(mark, CircleMark) and mark.role is Role.CUT)
    where: Point[SheetFrame] = Point(circle.centre.x + circle.radius - 2.0, circle.centre.y + 4.0)
    assert not list(word_faults(page_with(of=W1), MARGIN))
    found = list(word_faults(page_with(Words("74", where, 3.0), of=W1), MARGIN))
    assert any("'74' lies on a line of 0.70" in fault for fault in found)
