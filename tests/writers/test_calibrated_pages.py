"""A slice of the printer campaign: measured, corrected for and printed on again, on finished PDF files."""

from __future__ import annotations

import random

import pytest

from cutmarks.registering.calibration import Fine, Scale, SwitchOff, judge
from cutmarks.units import Style
from cutmarks.writers.documents import printer_page_pdf
from tests.bench.printer_campaign import (
    A4,
    BARS,
    EXACT,
    FITTED,
    Printer,
    bars_on,
    many_holes,
    measured,
    scaled,
    template,
)
from tests.handmade import plan_of, w1_piece


def test_exact_readings_and_dry_paper_come_out_within_two_hundredths():
    printed = many_holes(random.Random(7), 30, exact=True)
    assert printed.worst <= EXACT
    assert printed.refused == 0


def test_read_to_half_a_millimetre_on_damp_paper_the_printed_error_holds():
    printed = many_holes(random.Random(8), 60, exact=False)
    assert printed.within >= 0.95
    assert printed.refused == 0


def test_the_simulated_printer_is_out_where_nothing_is_corrected():
    # 0.5 % of 180 and of 250, by hand; were the model true, the campaign would show nothing.
    across, along = bars_on(template(plan_of([w1_piece()]), Scale(1.0, 1.0)))
    out = Printer(1.005, 0.995)
    assert abs(out(across[1])[0] - out(across[0])[0]) == pytest.approx(180.9, abs=0.01)
    assert abs(out(along[1])[1] - out(along[0])[1]) == pytest.approx(248.75, abs=0.01)


@pytest.mark.parametrize(("program", "word"), FITTED.items())
def test_what_a_program_did_is_named(program, word):
    found = scaled(random.Random(9), program)
    assert isinstance(found, SwitchOff)
    assert any(word in cause.name for cause in found.causes)


@pytest.mark.parametrize("program", [0.83, 0.975, 1.025, 1.2])
def test_any_other_scaling_is_refused(program):
    assert isinstance(scaled(random.Random(10), program), SwitchOff)


def test_a_test_page_read_off_the_pdf_itself_measures_true():
    data = printer_page_pdf(A4, Style())
    # A4's bars are 180 and 250, and each diagonal 308.058 by Pythagoras.
    found = measured(data, Printer(), None)
    assert (found.across, found.along, found.rising, found.falling) == pytest.approx(
        (180.0, 250.0, 308.058, 308.058), abs=0.001
    )
    verdict = judge(found, BARS, A4)
    assert isinstance(verdict, Fine)
    assert (verdict.scale.across, verdict.scale.along, verdict.scale.skew) == pytest.approx((1.0, 1.0, 0.0), abs=1e-5)
