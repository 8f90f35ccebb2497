"""The printer's test page on every paper: all of it on the paper, nothing over anything."""

from __future__ import annotations

from fractions import Fraction

import pytest

from cutmarks.geometry.edges import Bounds
from cutmarks.marks.model import Stroke, Words
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


@pytest.mark.parametrize("units", STYLES)
@pytest.mark.parametrize("paper", PAPERS.values(), ids=lambda paper: paper.name)
def test_the_pocket_gauge_has_the_size_of_a_card_and_lies_clear_of_all_else(paper, units):
    sheet = printer_page(paper, STYLES[units])
    (card,) = [m for m in sheet.marks if isinstance(m, Stroke) and m.closed and any(v.bulge for v in m.path)]
    xs, ys = [v.x for v in card.path], [v.y for v in card.path]
    # ISO/IEC 7810, ID-1: 85.60 x 53.98 mm, corners of 2.88 to 3.48.
    assert (max(xs) - min(xs), max(ys) - min(ys)) == pytest.approx((85.60, 53.98))
    assert 2.88 <= sorted(set(round(x, 6) for x in xs))[1] - min(xs) <= 3.48
    box = Bounds(min(xs), min(ys), max(xs), max(ys))
    inside = {"POCKET GAUGE", "a bank or identity card", "lies exactly in this outline"}
    for mark in sheet.marks:
        for other in () if mark is card else extents([mark]):
            if isinstance(mark, Words) and mark.text in inside:
                assert other.within(box)
            else:
                assert not other.overlaps(box)
