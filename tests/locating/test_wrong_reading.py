"""Which reading is wrong: how often good ones are blamed, how often the planted one is named."""

from __future__ import annotations

import math
import random

import pytest

from cutmarks.locating.adjust import Observation, Undetermined, adjust, wrong_reading
from cutmarks.locating.models import coordinate, difference, distance, off_edge
from tests.locating.networks import network

NETWORKS = 1000
LEVEL, MIRRORED = 0.01, 0.9


def test_good_networks_seldom_raise_one() -> None:
    rng = random.Random(20)
    raised = 0
    for _ in range(NETWORKS):
        one = network(rng)
        raised += wrong_reading(adjust(one.read(rng), one.start(rng)), LEVEL, MIRRORED) is not None
    # The level is 1 %; 2 % is what is allowed, and some must be raised or the test would see nothing.
    assert 0 < raised <= 0.02 * NETWORKS


def test_a_planted_blunder_is_named() -> None:
    rng = random.Random(21)
    tried = named = 0
    for _ in range(NETWORKS):
        one = network(rng)
        index = rng.randrange(len(one.models))
        good = adjust(one.read(rng), one.start(rng))
        # A tape stands for the nail that it alone is held to: nothing can tell the two.
        others = set(range(len(one.models))) - {index} - (set() if index in one.of_nails else set(one.of_nails))
        mirrored = any(abs(good.correlation[index][i]) >= MIRRORED for i in others)
        blunder = 10.0 * rng.choice((-1, 1))
        wrong = wrong_reading(adjust(one.read(rng, (index, blunder)), one.start(rng)), LEVEL, MIRRORED)
        if good.redundancy[index] < 0.3 or mirrored:
            continue
        tried += 1
        named += wrong is not None and wrong.index == index
    assert tried > NETWORKS / 3
    assert named >= 0.95 * tried


def test_two_readings_of_one_thing_blame_each_other() -> None:
    readings = [Observation("a", 100.0, 0.5, coordinate(0)), Observation("b", 110.0, 0.5, coordinate(0))]
    got = adjust(readings, (100.0,))
    wrong = wrong_reading(got, LEVEL, MIRRORED)
    assert wrong is not None
    assert {wrong.index, *wrong.mirrored} == {0, 1}
    # Residuals of 5 each, with half of the redundancy each: 5 / (0.5 sqrt(1/2)) = 14.142.
    assert wrong.normalised == pytest.approx(14.142, abs=1e-3)


def test_three_readings_name_the_odd_one_and_how_far_it_is_off() -> None:
    readings = [Observation(name, at, 0.5, coordinate(0)) for name, at in (("a", 100.0), ("b", 100.0), ("c", 109.0))]
    wrong = wrong_reading(adjust(readings, (0.0,)), LEVEL, MIRRORED)
    assert wrong is not None
    assert wrong.index == 2
    # Without it the others say 100.
    assert wrong.off == pytest.approx(9.0)
    # Three tests share 1 %, two-sided: the normal quantile at 1 - 0.01/6 is 2.935 (tables of the normal distribution).
    assert wrong.limit == pytest.approx(2.935, abs=1e-3)


def test_nothing_is_said_where_nothing_is_over() -> None:
    got = adjust([Observation("a", 100.0, 0.5, coordinate(0))], (0.0,))
    assert wrong_reading(got, LEVEL, MIRRORED) is None
    assert got.redundancy[0] == pytest.approx(0.0)
    assert got.spread == 1.0


def test_an_unknown_that_nothing_reaches_is_named() -> None:
    with pytest.raises(Undetermined) as caught:
        adjust([Observation("a", 100.0, 0.5, coordinate(0))], (0.0, 0.0))
    assert caught.value.unknown == 1


def test_two_tapes_along_one_line_do_not_fix_a_place() -> None:
    readings = [
        Observation("", 50.0, 1.0, distance((0.0, 0.0), (0, 1))),
        Observation("", 50.0, 1.0, distance((100.0, 0.0), (0, 1))),
    ]
    with pytest.raises(Undetermined):
        adjust(readings, (50.0, 0.0))


def test_an_edge_out_of_true_is_read_at_the_height_where_the_thing_is() -> None:
    # The edge leans 1 in 100 and is at 0 at the origin: at 200 up it is at 2, and 98 off it is 100 across.
    readings = [
        Observation("", 98.0, 0.5, off_edge(0, 1, lambda y: y / 100, 1.0)),
        Observation("", 200.0, 0.5, coordinate(1)),
    ]
    got = adjust(readings, (0.0, 0.0))
    assert got.values == pytest.approx((100.0, 200.0))
    # The height's own doubt of 0.5 moves the edge by 0.005.
    assert math.sqrt(got.covariance[0][0]) == pytest.approx(math.hypot(0.5, 0.005))


def test_level_with_ties_two_heights() -> None:
    readings = [
        Observation("", 200.0, 1.0, coordinate(0)),
        Observation("", 206.0, 1.0, coordinate(1)),
        Observation("", 0.0, 1.0, difference(0, 1)),
    ]
    # By hand: the misclosure of 6 is shared alike, 2 to each.
    assert adjust(readings, (0.0, 0.0)).values == pytest.approx((202.0, 204.0))
