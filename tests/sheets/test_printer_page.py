"""The printer's test page on every paper: all of it on the paper, nothing over anything."""

from __future__ import annotations

from fractions import Fraction

import pytest

from cutmarks.registering.paper import PAPERS
from cutmarks.sheets.printer_page import page_bars, printer_page
from cutmarks.units import Style, Unit
from tests.sheets.drawn import extents, overlapping, texts

STYLES = {"mm": Style(), "in": Style(Unit.INCH, Fraction(1, 32))}


@pytest.mark.parametrize("units", STYLES)
@pytest.mark.parametrize("paper", PAPERS.values(), ids=lambda paper: paper.name)
def test_it_lies_in_the_safe_area_and_no_words_overlap(paper, units):
    sheet = printer_page(paper, STYLES[units])
    assert (sheet.width, sheet.height) == (paper.width, paper.height)
    for box in extents(sheet.marks):
        assert min(box.min_x, box.min_y) >= paper.margin
        assert box.max_x <= paper.width - paper.margin
        assert box.max_y <= paper.height - paper.margin
    assert overlapping(sheet.marks) == []


@pytest.mark.parametrize(
    ("paper", "units", "figures"),
    [
        # The diagonals by Pythagoras: 180 and 250 give 308.06; 7 and 10 in give 12.207, or 12 7/32 to the nearest 32nd.
        ("A4", "mm", ["180", "250", "308"]),
        ("Letter", "in", ["7", "10", "12 7/32"]),
    ],
)
def test_it_says_what_each_must_be(paper, units, figures):
    said = texts(printer_page(PAPERS[paper], STYLES[units]).marks)
    for figure in figures:
        assert f"(must be {figure})" in said


def test_its_bars_are_those_of_every_sheet():
    # 180 and 250: the longest whole tens and fifties that the safe area of A4 has room for beside the corner marks.
    size = page_bars(PAPERS["A4"], STYLES["mm"])
    assert (size.across, size.along) == (180.0, 250.0)
