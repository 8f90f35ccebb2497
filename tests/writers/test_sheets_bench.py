"""A slice of the sheets benchmark: joined sheets of one cut against CairoSVG drawing one of them, in one run."""

from __future__ import annotations

from tests.bench.sheets_bench import EACH, OF_CAIRO, TWO_CALLS, cairo_seconds, different, joined_sheets, seconds


def test_35_joined_sheets_of_one_cut_cost_at_most_two_calls():
    sheets = joined_sheets()
    assert len(sheets) == 35
    assert len({sheet.marks for sheet in sheets}) == 35
    call = cairo_seconds(sheets[::EACH])
    # The better of two runs: another program on the machine may slow either.
    assert min(seconds(sheets) for _ in range(2)) <= TWO_CALLS * call


def test_different_sheets_cost_at_most_their_calls():
    assert seconds(different(20)) <= OF_CAIRO * 20 * cairo_seconds(different(2))
