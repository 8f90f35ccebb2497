"""What a test page says of a printer. Percentages of fitted pages follow by hand from ISO 216 and ASME Y14.1."""

from __future__ import annotations

import math

import pytest

from cutmarks.limits import LIMITS
from cutmarks.registering import error_at, register
from cutmarks.registering.calibration import (
    BarReadings,
    Bars,
    Calibration,
    Corrected,
    Fine,
    Scale,
    Stop,
    SwitchOff,
    causes,
    judge,
)
from cutmarks.registering.figures import paper_figures
from cutmarks.registering.paper import PAPERS
from tests.handmade import w1_piece

A4 = PAPERS["A4"]
BARS = Bars(180.0, 250.0)


def read(across, along, rising=None, falling=None):
    return judge(BarReadings(across, along, rising, falling), BARS, A4)


@pytest.mark.parametrize(
    ("paper", "percent", "words"),
    [
        # (210 - 2 x 4.23) / 210 and (210 - 2 x 5) / 210: the narrower side decides.
        ("A4", 96.0, "the part of A4 that the printer can ink"),
        ("A4", 95.2, "the part of A4 that the printer can ink"),
        # 279.4 / 297, and (279.4 - 2 x 4.23) / 297.
        ("A4", 94.1, "the whole of Letter"),
        ("A4", 91.2, "the part of Letter that the printer can ink"),
        # 210 / 215.9, and (210 - 2 x 4.23) / 215.9.
        ("Letter", 97.3, "the whole of A4"),
        ("Letter", 93.3, "the part of A4 that the printer can ink"),
        # 297 / 420 is the ratio of two neighbours of ISO 216, 1 / sqrt 2.
        ("A3", 70.7, "the whole of A4"),
        # 72 / 96 and 96 / 72.
        ("A4", 75.0, "72 dots to the inch for 96"),
        ("Letter", 133.3, "96 dots to the inch for 72"),
    ],
)
def test_a_program_that_scaled_the_page_is_named_and_nothing_is_corrected(paper, percent, words):
    found = judge(BarReadings(1.8 * percent, 2.5 * percent), BARS, PAPERS[paper])
    assert isinstance(found, SwitchOff)
    assert words in found.sentence
    assert abs(100 * found.causes[0].scale - percent) < 0.1


@pytest.mark.parametrize("slip", [(-0.5, 0.5), (0.5, -0.5), (0.5, 0.5), (-0.5, -0.5)])
def test_a_cause_is_named_from_bars_that_are_half_a_millimetre_misread(slip):
    # 0.5 in 180 is 0.28 %; 96.0 % of the bars is 172.8 and 240.
    found = read(172.75 + slip[0], 239.93 + slip[1])
    assert isinstance(found, SwitchOff)
    assert "A4" in found.causes[0].name


def test_what_two_causes_give_alike_is_named_by_both():
    # 279.4 / 210 is 133.05 %, an A4 page on a Tabloid sheet; 96 / 72 is 133.33 %.
    found = read(1.8 * 133.1, 2.5 * 133.1)
    assert isinstance(found, SwitchOff)
    assert "the whole of Tabloid or a program took 96 dots to the inch for 72" in found.sentence


def test_every_known_cause_is_out_by_more_than_a_printer():
    for paper in PAPERS.values():
        assert all(abs(cause.scale - 1) > 0.015 for cause in causes(paper))


@pytest.mark.parametrize("percent", [97.8, 98.3, 101.7, 110.0, 80.0])
def test_alike_both_ways_and_far_out_is_a_program_though_none_is_known(percent):
    found = read(1.8 * percent, 2.5 * percent)
    assert isinstance(found, SwitchOff)
    assert found.causes == ()
    assert "actual size" in found.sentence


def test_a_true_printer_is_fine():
    assert read(180.0, 250.0) == Fine(Scale(1.0, 1.0, 0.0))
    # 0.1 in 180 is 0.06 %: fine, and made up for all the same.
    found = read(180.1, 250.0)
    assert isinstance(found, Fine)
    assert found.scale.across == pytest.approx(1.000556, abs=1e-6)


def test_the_printer_s_own_scale_is_corrected_each_way():
    found = read(179.37, 251.05)
    assert isinstance(found, Corrected)
    # By hand: 179.37 / 180 and 251.05 / 250.
    assert (found.scale.across, found.scale.along) == pytest.approx((0.9965, 1.0042))
    assert not found.ask


@pytest.mark.parametrize(("percent", "asked"), [(99.3, True), (100.7, True), (99.5, False), (98.6, True)])
def test_alike_both_ways_and_over_six_in_a_thousand_is_asked_about(percent, asked):
    found = read(1.8 * percent, 2.5 * percent)
    assert isinstance(found, Corrected)
    assert found.ask is asked


@pytest.mark.parametrize(("across", "along"), [(180.0, 244.0), (176.0, 250.0), (250.0, 180.0), (180.0, 25.0)])
def test_one_bar_far_out_is_no_printer_and_no_program(across, along):
    assert isinstance(read(across, along), Stop)


@pytest.mark.parametrize(
    ("across", "along", "missing"),
    # 5 % of 18 is 0.9, of 25 it is 1.25; a bar in cm and one in mm are no unit that is missing.
    [(18.0, 25.0, True), (18.8, 23.8, True), (19.0, 25.0, False), (18.0, 26.3, False), (18.0, 250.0, False)],
)
def test_bars_that_are_a_tenth_are_told_from_a_program(across, along, missing):
    found = read(across, along)
    assert isinstance(found, Stop)
    assert ("unit is missing" in found.sentence) is missing


def test_a_sheet_that_ran_askew_is_told_from_its_diagonals():
    # Drawn to lean by 1 mm in 250: the corners of a parallelogram 180 wide and 250 high, by Pythagoras.
    rising, falling = math.hypot(181.0, 250.0), math.hypot(179.0, 250.0)
    found = read(180.0, math.hypot(1.0, 250.0), rising, falling)
    assert isinstance(found, Corrected)
    assert (found.scale.across, found.scale.along, found.scale.skew) == pytest.approx((1.0, 1.0, 0.004))


def test_a_sheet_that_leans_too_far_is_printed_again():
    # 0.5 degrees is 2.18 in 250.
    rising, falling = math.hypot(183.0, 250.0), math.hypot(177.0, 250.0)
    found = read(180.0, math.hypot(3.0, 250.0), rising, falling)
    assert isinstance(found, Stop)
    assert "askew" in found.sentence


def test_diagonals_that_the_bars_contradict_were_misread():
    # Both must be 308.06: no sheet makes both of them 3 longer than its sides allow.
    found = read(180.0, 250.0, 311.0, 311.0)
    assert isinstance(found, Stop)
    assert "misread" in found.sentence


@pytest.mark.parametrize("bad", [0.0, -180.0, math.nan, math.inf])
def test_a_reading_is_a_length(bad):
    with pytest.raises(ValueError, match="length over 0"):
        read(bad, 250.0)


def test_the_correction_is_undone_by_the_printer_and_leaves_the_middle_where_it_is():
    scale = Scale(0.9965, 1.0042, 0.003)
    a, b, c, d, e, f = scale.correction(210.0, 297.0)
    for x, y in ((0.0, 0.0), (200.0, 0.0), (0.0, 280.0), (31.5, 270.25)):
        drawn_x, drawn_y = a * x + c * y, b * x + d * y
        # As the printer does it: across x + skew y, along y.
        printed = (0.9965 * drawn_x + 0.003 * drawn_y, 1.0042 * drawn_y)
        assert printed == pytest.approx((x, y), abs=1e-9)
    assert (a * 105.0 + c * 148.5 + e, b * 105.0 + d * 148.5 + f) == pytest.approx((105.0, 148.5))


def test_what_stands_on_a_sheet_has_the_date_and_no_age():
    words = str(Calibration("office", "tray 2", "A4", "2026-11-25", Scale(0.9965, 1.0042, -0.0035)))
    # atan 0.0035 is 0.20 degrees.
    assert words == (
        "corrected for office, tray 2, A4, measured 2026-11-25: "
        "across \u22120.35 %, along +0.42 %, skew \u22120.20\u00b0"
    )


def test_a_printer_that_is_fine_is_not_said_to_be_corrected():
    words = str(Calibration("office", "", "A4", "2026-11-25", Scale(1.0, 1.0)))
    assert words == "printed true on office, A4, measured 2026-11-25"


def test_the_error_printed_at_a_hole_is_less_on_a_measured_printer():
    piece = w1_piece()
    (sheet,) = register([piece], "A4")
    # By hand: the farther measure of worked example W1 is 112.5; 0.3 % of it is 0.3375, and 0.3 + 0.25.
    measured, other = (paper_figures(LIMITS, calibrated=calibrated) for calibrated in (True, False))
    assert error_at(piece, piece.cuts[0], sheet, measured) == pytest.approx(0.3375 + 0.55)
    assert error_at(piece, piece.cuts[0], sheet, other) == pytest.approx(0.5625 + 0.55)
