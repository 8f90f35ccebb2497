"""The judgement of the benches, on planted figures: each bar fails where the fault is that it looks for."""

from __future__ import annotations

from itertools import pairwise

import pytest

from tests.bench.measured import Bar, exponent
from tests.bench.plan_scaling import AS_COURSES, FEW_PIPES, LARGE, PIPES, SAME_FEW, SAME_PIPES, SMALL, compare
from tests.bench.speed_bench import RATIOS, SIZES, STEEPEST
from tests.bench.speed_jobs import JOBS

SIZES_DOUBLED = (100, 200, 400, 800)


def test_what_grows_as_its_size_holds_and_what_grows_as_its_square_does_not():
    # By hand: t = 3 n has the slope 1, t = n^2 the slope 2, whatever the factor before.
    straight = exponent(SIZES_DOUBLED, [3e-4 * n for n in SIZES_DOUBLED])
    square = exponent(SIZES_DOUBLED, [5e-7 * n * n for n in SIZES_DOUBLED])
    assert straight == pytest.approx(1.0)
    assert square == pytest.approx(2.0)
    assert Bar("holes", straight, STEEPEST).holds
    assert not Bar("holes", square, STEEPEST).holds


def test_a_square_term_behind_a_large_straight_one_is_seen():
    # t = n + n^2 / 1000: at 800 the square is 44 % of it. Least squares by hand over 200, 400, 800:
    # ln t(800) - ln t(200) = ln(1440 / 240) = 1.792 over ln 4 = 1.386: 1.292.
    mixed = exponent(SIZES_DOUBLED, [n + n * n / 1000 for n in SIZES_DOUBLED])
    assert mixed == pytest.approx(1.292, abs=5e-4)
    assert not Bar("windows", mixed, STEEPEST).holds


def test_the_cost_of_a_start_hides_nothing_at_the_larger_sizes():
    # Four sizes, of which the first is all start: it is left out.
    assert exponent((1, 100, 200, 400), [9.0, 1.0, 4.0, 16.0]) == pytest.approx(2.0)


def test_a_ratio_over_its_bar_is_said():
    assert str(Bar("check, ratio", 0.8, 0.75)) == "check, ratio: 0.8 (at most 0.75) TOO MUCH"
    assert str(Bar("check, ratio", 0.75, 0.75)) == "check, ratio: 0.75 (at most 0.75) holds"


def test_a_walk_over_all_tiles_is_seen_where_there_are_few_pipes():
    # Walls of 100 x 100 and 1,000 x 1,000 tiles: 3 ms, 60 us a course, 0.6 ms a pipe; the walk takes 0.3 us a tile.
    def took(side: int, pipes: int, walk: bool) -> float:
        return 3e-3 + 60e-6 * side + 0.6e-3 * pipes + (3e-7 * side * side if walk else 0.0)

    for pipes, bound in ((FEW_PIPES, SAME_FEW), (0, AS_COURSES)):
        assert compare("", took(SMALL, pipes, False), took(LARGE, pipes, False), bound, "s")
        assert not compare("", took(SMALL, pipes, True), took(LARGE, pipes, True), bound, "s")
    # Behind ten thousand pipes it is not.
    assert compare("", took(SMALL, PIPES, True), took(LARGE, PIPES, True), SAME_PIPES, "s")


def test_every_dimension_has_a_job_and_sizes_that_double():
    assert set(SIZES) == set(JOBS)
    assert {what for what, *_ in RATIOS} <= set(JOBS)
    for sizes in SIZES.values():
        assert all(after == 2 * before for before, after in pairwise(sizes))
