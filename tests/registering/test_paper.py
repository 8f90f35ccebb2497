"""Papers by name, plotters' sheets and rolls, margins, and where joined sheets meet."""

from __future__ import annotations

import pytest

from cutmarks.geometry.shapes import Circle
from cutmarks.registering import PAPERS, paper_named, register
from cutmarks.registering.paper import cut_to_length, join_at, joins_to, sheets_to
from cutmarks.sheets.furniture import bars
from cutmarks.units import Style
from tests.handmade import cut_piece, opening


@pytest.mark.parametrize(
    ("name", "width", "height"), [("A2", 420.0, 594.0), ("A1", 594.0, 841.0), ("A0", 841.0, 1189.0)]
)
def test_plotter_sizes_are_those_of_iso_216(name, width, height):
    assert (PAPERS[name].width, PAPERS[name].height) == (width, height)


def test_a_plotter_s_own_sheet_stands_upright():
    assert (paper_named("900 x 610").width, paper_named("900 x 610").height) == (610.0, 900.0)
    with pytest.raises(KeyError):
        paper_named("foolscap")


def test_a_roll_is_cut_as_long_as_the_tallest_tile_needs():
    # 1200 and head 28, band 11, foot 19, two margins of 20 and two insets of 8.5 are 1315: in tens 1320.
    assert cut_to_length("roll 610", 1200.0) == "610 x 1320"
    # No sheet lies across: a roll of 610 is never cut shorter than 610.
    assert cut_to_length("roll 610", 200.0) == "610 x 610"
    assert cut_to_length("A4", 1200.0) == "A4"
    # 14,400 points are 5,080 mm (ISO 32000-1, annex C).
    assert cut_to_length("roll 610", 9000.0) == "610 x 5080"


def test_a_tall_tile_is_whole_on_the_roll():
    piece = cut_piece([opening("a", Circle(35.0), 300.0, 1150.0)], 550.0, 1200.0, at=(0.0, 0.0))
    (sheet,) = register([piece], cut_to_length("roll 610", 1200.0))
    # 1150 from the bottom is 50 from the top: 0.25 and 0.5 for the tile's own size, against 5.75.
    assert (sheet.how, sheet.edges) == ("corner", ("left", "top"))


@pytest.mark.parametrize(("said", "left"), [(None, 10.0), (14.0, 14.0), (6.0, 6.0), (2.0, 5.0), (40.0, 20.0)])
def test_a_printer_s_margin_is_left_free_within_reason(said, left):
    paper = paper_named("A4", said)
    assert paper.margin == left
    assert paper.safe_width == pytest.approx(210.0 - 2 * left)
    # Both bars have to fit, whatever the margin.
    across, along = bars(paper, Style())
    assert across.length <= paper.safe_width
    assert along.length <= paper.safe_height


def test_sheets_and_joins_count_from_the_edge():
    # A4: the first sheet reaches 169.5 (190 less 9, 8.5 and 3), each further one 165 more (181 less 16).
    a4 = PAPERS["A4"]
    assert [sheets_to(far, a4, "across", False) for far in (169.5, 169.6, 334.5, 334.6)] == [1, 2, 2, 3]
    # The first join lies 8 before the end of the first sheet's 172.5, the next 165 further.
    assert [join_at(number, 165.0) for number in (0, 1)] == pytest.approx([164.5, 329.5])
    assert [joins_to(far, 165.0) for far in (0.0, 164.0, 165.0, 329.0, 330.0)] == [0, 0, 1, 1, 2]


def test_the_band_of_a_back_template_takes_some_of_the_reach():
    a4 = PAPERS["A4"]
    assert a4.reach("up") - a4.reach("up", back=True) == pytest.approx(11.0)
    assert a4.reach("across") == a4.reach("across", back=True)
