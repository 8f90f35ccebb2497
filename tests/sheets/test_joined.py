"""Joined sheets: the same crosses on both, the cut whole over the pages, and what to do in words.

Where a page's marks lie on the tile is worked here by hand for A4 with the band at its left: the file has the page
turned counter-clockwise, so that what is x from its left and y from its foot as it is held lies at 210 - y and x.
Margin 10, so that the drawing begins 94 from the left (84 for the band) and 26.5 from the bottom (16.5 for the foot),
8.5 further in lies the tile's edge; it is 186 wide (277 less 84 and 7) and 173.5 high (190 less 16.5), of which 16
overlap: each sheet goes 170 on across and 157.5 up.
"""

from __future__ import annotations

import math
from itertools import pairwise

import pytest

from cutmarks.marks.model import CircleMark, Role, Stroke, Words
from cutmarks.sheets.build import build_sheets
from tests.sheets.special import SPECIAL

EDGE_X, EDGE_Y = 102.5, 35.0
STEP_X, STEP_Y = 170.0, 157.5
FINGERPRINT = "5e6f7a8b"


def parts(name):
    """The joined pages of a scene by (column, row), each with the shift from its sheet to the tile."""
    plan = SPECIAL[name]()
    (registration,) = plan.registrations
    sheets = build_sheets(plan)
    grid = [(column, row) for row in range(registration.rows) for column in range(registration.columns)]
    return {page: sheet for page, sheet in zip(grid, sheets, strict=False)}


def on_tile(page, x, y):
    return y - EDGE_X + STEP_X * page[0], 210.0 - x - EDGE_Y + STEP_Y * page[1]


def crosses(page, sheet):
    """The middles of the crosses' rings, on the tile, rounded to a thousandth."""
    rings = [mark.centre for mark in sheet.marks if isinstance(mark, CircleMark) and mark.role is Role.MEASURE]
    return {tuple(round(value, 3) for value in on_tile(page, ring.x, ring.y)) for ring in rings}


def said(sheet):
    return [mark.text for mark in sheet.marks if isinstance(mark, Words)]


def test_three_by_two_sheets_reach_the_far_side_of_the_hole():
    # 300 and 61 are 361 across: 174.5 on the first sheet, 344.5 on two, so three; 311 up: 162 on one, 319.5 on two.
    # Upright it would be 338.5 and 309.5 on two: nine sheets.
    assert list(parts("joined")) == [(0, 0), (1, 0), (2, 0), (0, 1), (1, 1), (2, 1)]


def test_neighbours_carry_the_same_crosses():
    pages = parts("joined")
    for (column, row), sheet in pages.items():
        for other in ((column + 1, row), (column, row + 1)):
            if other in pages:
                shared = crosses((column, row), sheet) & crosses(other, pages[other])
                assert len(shared) == 2
                # The join lies in the middle of the 16 mm that both sheets show.
                at = (
                    (STEP_X * (column + 1) - 8.5 + 8.0, None) if other[0] > column else (None, STEP_Y * (row + 1) - 0.5)
                )
                assert all(
                    want is None or got == pytest.approx(want)
                    for one in shared
                    for got, want in zip(one, at, strict=True)
                )


def test_every_cross_is_on_two_sheets():
    pages = parts("joined_far_corner")
    counts = [
        len([m for m in sheet.marks if isinstance(m, CircleMark) and m.role is Role.MEASURE])
        for sheet in pages.values()
    ]
    # Three by three sheets have 6 upright and 6 level joins of two crosses each, on two sheets each: 48.
    assert len(pages) == 9
    assert sum(counts) == (6 + 6) * 2 * 2


def test_the_hole_is_whole_over_the_pages():
    covered = 0.0
    for page, sheet in parts("joined").items():
        for mark in sheet.marks:
            if isinstance(mark, Stroke) and mark.role is Role.CUT:
                for start, end in pairwise(mark.path):
                    for vertex in (start, end):
                        x, y = on_tile(page, vertex.x, vertex.y)
                        assert math.hypot(x - 300.0, y - 250.0) == pytest.approx(61.0, abs=1e-6)
                    covered += 4 * math.degrees(math.atan(abs(start.bulge)))
    # A full turn, and what overlaps once more.
    assert covered > 360.0


def test_the_scales_at_a_join_are_1_and_0_9_about_the_same_place():
    pages = parts("joined")
    near = upright_ticks((0, 0), pages[0, 0], 169.5)
    far = upright_ticks((1, 0), pages[1, 0], 169.5)
    assert len(near) == len(far) == 21
    assert [b - a for a, b in pairwise(near)] == pytest.approx([1.0] * 20)
    assert [b - a for a, b in pairwise(far)] == pytest.approx([0.9] * 20)
    assert near[10] == pytest.approx(far[10])


def upright_ticks(page, sheet, at):
    """The level ticks that begin on the upright join at `at`, from below: where they are on the tile."""
    found = []
    for mark in sheet.marks:
        if isinstance(mark, Stroke) and mark.role is Role.MEASURE and len(mark.path) == 2:
            (x0, y0), (x1, y1) = (on_tile(page, v.x, v.y) for v in mark.path)
            if y0 == pytest.approx(y1) and x0 == pytest.approx(at) and 1.0 < abs(x1 - x0) < 5.0:
                found.append(y0)
    return sorted(found)


@pytest.mark.parametrize("name", ["joined", "joined_far_corner", "joined_back", "too_large"])
def test_each_join_says_which_sheet_goes_there_and_whose_it_is(name):
    pages = parts(name)
    columns = 1 + max(column for column, _ in pages)
    for (column, row), sheet in pages.items():
        words = " ".join(said(sheet))
        number = row * columns + column + 1
        assert f"sheet {number} of {len(pages)}" in words
        for other, text in (
            ((column + 1, row), "sheet {} lies on this line"),
            ((column, row + 1), "sheet {} lies on this line"),
            ((column - 1, row), "CUT HERE, lay it on sheet {}"),
            ((column, row - 1), "CUT HERE, lay it on sheet {}"),
        ):
            want = text.format(other[1] * columns + other[0] + 1)
            # The piece's fingerprint stands behind it, or under it where the line is short.
            told = [one for one in said(sheet) if one.startswith(want)]
            assert (len(told) == 1) == (other in pages)
            marks = [one for one in said(sheet) if one == FINGERPRINT or one.endswith(f" \u00b7 {FINGERPRINT}")]
            assert len(marks) >= len(told)


def test_only_sheets_beside_an_edge_are_lined_up_on_it():
    for (column, row), sheet in parts("joined").items():
        lined = {text for text in said(sheet) if text.startswith("LINE UP")}
        assert len(lined) == (column == 0) + (row == 0)


def test_the_error_counts_the_joins():
    # By hand, across: 300 x 0.5 % = 1.5, lining up 0.3, line 0.25; one join up to 300 (at 164.5) and one up to 250
    # (at 213.5), 0.6 x root 2 = 0.8486: 2.8986 in all.
    words = " ".join(text for sheet in build_sheets(SPECIAL["joined"]()) for text in said(sheet))
    assert "Paper may be 2.9 out; you have 8" in words
    assert "print 1.5 + lining up 0.3 + joins 0.85 + line 0.25" in words


def test_a_cut_that_is_larger_than_any_sheet_says_that_it_is_clipped():
    words = " ".join(text for sheet in build_sheets(SPECIAL["clipped"]()) for text in said(sheet))
    assert "CLIPPED: larger than the paper" in words
    assert "LARGER THAN THE PAPER" in words
    whole = " ".join(text for sheet in build_sheets(SPECIAL["too_large"]()) for text in said(sheet))
    assert "LARGER THAN THE PAPER" not in whole


@pytest.mark.parametrize("name", ["joined", "joined_far_corner", "joined_back", "too_large"])
def test_no_scale_runs_into_a_cross(name):
    for sheet in parts(name).values():
        rings = [mark for mark in sheet.marks if isinstance(mark, CircleMark) and mark.role is Role.MEASURE]
        ticks = [
            mark.path
            for mark in sheet.marks
            if isinstance(mark, Stroke)
            and mark.role is Role.MEASURE
            and len(mark.path) == 2
            and 1.0 < math.hypot(mark.path[1].x - mark.path[0].x, mark.path[1].y - mark.path[0].y) < 5.0
        ]
        near = [t for t in ticks for ring in rings if math.hypot(t[0].x - ring.centre.x, t[0].y - ring.centre.y) < 6.0]
        assert near == []
