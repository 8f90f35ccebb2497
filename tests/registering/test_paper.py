"""Papers by name, plotters' sheets and rolls, margins, and where joined sheets meet."""

from __future__ import annotations

import pytest

from cutmarks.geometry.shapes import Circle
from cutmarks.registering import PAPERS, paper_named, register
from cutmarks.registering.layouts import cut_to_length, fields_of, join_at, joins_to, layouts_of, sheets_to
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
    # 1200 and head 34, panels 58, black 10, foot 16.5, two margins of 20, two frames of 5 and two insets of 8.5 are
    # 1385.5: in tens 1390.
    assert cut_to_length("roll 610", 1200.0) == "610 x 1390"
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
    # A4, the band on top: the first sheet reaches 171.5 (190 less 7, 8.5 and 3), each further one 167 more (183 less
    # 16); the band at the left: 174.5 (277 less 84, 7, 8.5 and 3) and 170 more.
    upright, turned = fields_of(PAPERS["A4"])
    assert [sheets_to(far, upright, "across") for far in (171.5, 171.6, 338.5, 338.6)] == [1, 2, 2, 3]
    assert [sheets_to(far, turned, "across") for far in (174.5, 174.6, 344.5, 344.6)] == [1, 2, 2, 3]
    # The first join lies 8 before the end of the first sheet's 174.5, the next 167 further.
    assert [join_at(number, 167.0) for number in (0, 1)] == pytest.approx([166.5, 333.5])
    assert [joins_to(far, 167.0) for far in (0.0, 166.0, 167.0, 333.0, 334.0)] == [0, 0, 1, 1, 2]


def test_a_layout_shows_what_head_panels_foot_and_strip_leave():
    # A4: 190 x 277 safe. On top 34 and 58, foot 16.5, strip 7; at the left 84 of 277.
    upright, turned = fields_of(PAPERS["A4"])
    assert (upright.width, upright.height) == pytest.approx((183.0, 168.5))
    assert (turned.width, turned.height) == pytest.approx((186.0, 173.5))
    # On the back 10 of black and a frame of 5 all round.
    for face, back in zip((upright, turned), fields_of(PAPERS["A4"], back=True), strict=True):
        assert (face.width - back.width, face.height - back.height) == pytest.approx((10.0, 20.0))


def test_a_page_too_low_for_the_band_at_the_left_has_the_other_layout_alone():
    # Head 48, READ 45, FOLD 17.5, MARK 36, CUT 27 and the foot's 16.5 are 190: A4 less 10 on both sides, and no more.
    assert layouts_of(paper_named("A4", 10.0)) == ("portrait", "landscape")
    assert layouts_of(paper_named("A4", 10.5)) == ("portrait",)
