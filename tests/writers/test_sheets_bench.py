"""A slice of the sheets benchmark: pages of one drawing against CairoSVG drawing it, in one run."""

from __future__ import annotations

from tests.bench.sheets_bench import JOINED, OF_CAIRO, TWO_CALLS, cairo_seconds, different, joined, seconds


def test_joined_pages_of_one_drawing_cost_at_most_two_calls():
    call = cairo_seconds(joined(2))
    # The better of two runs: another program on the machine may slow either.
    assert min(seconds(joined(JOINED)) for _ in range(2)) <= TWO_CALLS * call


def test_different_sheets_cost_at_most_their_calls():
    assert seconds(different(20)) <= OF_CAIRO * 20 * cairo_seconds(different(2))
