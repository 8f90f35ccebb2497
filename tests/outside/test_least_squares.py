"""The adjustment against published surveys, certified values and a general optimiser."""

from __future__ import annotations

import math
import random
from collections.abc import Mapping, Sequence

import numpy as np
import pytest
from msgspec.structs import replace
from scipy.optimize import least_squares

from cutmarks.limits import LIMITS
from cutmarks.locating.adjust import Observation, Predicted, adjust
from cutmarks.locating.models import coordinate, difference, distance
from cutmarks.locating.network import Link, Nail, place

A, B, C = (865.40, 4527.15), (2432.55, 2047.25), (2865.22, 27.15)


def linear(*terms: float) -> Predicted:
    """What a reading should be where it is a sum of multiples of the unknowns."""
    partials = dict(enumerate(terms))
    return lambda values: (sum(term * value for term, value in zip(terms, values, strict=True)), partials)


def test_ghilani_trilateration() -> None:
    # Ghilani, Adjustment Computations, chapter 14, the trilateration of one station from three (feet); the data as
    # printed, the solution worked out by hand from them.
    read = ((A, 6049.00), (B, 4736.83), (C, 5446.49))
    got = adjust([Observation("", value, 1.0, distance(point, (0, 1))) for point, value in read], (6800.0, 3700.0))
    assert got.values == pytest.approx((6861.3168, 3727.8186), abs=5e-5)
    assert got.residuals == pytest.approx((-0.0374, 0.0768, -0.0474), abs=5e-5)
    assert got.spread == pytest.approx(0.0977, abs=5e-5)
    assert [got.spread * math.sqrt(got.covariance[i][i]) for i in (0, 1)] == pytest.approx([0.078, 0.154], abs=5e-4)
    assert got.freedom == 1
    assert sum(got.redundancy) == pytest.approx(1)


def test_ghilani_same_station_by_angles() -> None:
    # The same chapter's station by four angles; an independent measurement, so that it differs by 0.7 ft.
    seconds = math.degrees(1) * 3600

    def angle(at: object, back: object, fore: object) -> Predicted:
        """Clockwise from `back` to `fore`, seconds; None is the unknown station."""

        def place(end: object, values: Sequence[float]) -> tuple[float, float]:
            return (values[0], values[1]) if end is None else end  # type: ignore[return-value]

        def turned(values: Sequence[float]) -> float:
            (x, y), (bx, by), (fx, fy) = (place(end, values) for end in (at, back, fore))
            return math.fmod(math.atan2(fx - x, fy - y) - math.atan2(bx - x, by - y) + 4 * math.pi, 2 * math.pi)

        def model(values: Sequence[float]) -> tuple[float, Mapping[int, float]]:
            step = 1e-3
            partials = {}
            for i in (0, 1):
                up, down = list(values), list(values)
                up[i] += step
                down[i] -= step
                partials[i] = (turned(up) - turned(down)) / (2 * step) * seconds
            return turned(values) * seconds, partials

        return model

    def dms(degrees: int, minutes: int, secs: int) -> float:
        return degrees * 3600.0 + minutes * 60.0 + secs

    read = (
        (dms(50, 6, 50), angle(A, None, B)),
        (dms(101, 30, 47), angle(B, A, None)),
        (dms(98, 41, 17), angle(B, None, C)),
        (dms(59, 17, 1), angle(C, B, None)),
    )
    got = adjust([Observation("", value, 1.0, model) for value, model in read], (6800.0, 3700.0))
    assert got.values == pytest.approx((6860.726, 3727.475), abs=2e-3)
    assert got.residuals == pytest.approx((-6.46, -4.75, 5.65, 7.37), abs=0.02)
    assert got.spread == pytest.approx(8.67, abs=0.01)


def test_ghilani_similarity() -> None:
    # Ghilani chapter 18, two-dimensional similarity: data and answers from memory, recomputed by hand.
    wanted = ((1049422.40, 51089.20), (1049413.95, 49659.30), (1049244.95, 49884.95))
    given = ((121.622, -128.066), (141.228, 187.718), (175.802, 135.728))
    readings = []
    for (x, y), (u, v) in zip(wanted, given, strict=True):
        readings += [Observation("", x, 1.0, linear(u, -v, 1, 0)), Observation("", y, 1.0, linear(v, u, 0, 1))]
    got = adjust(readings, (1.0, 0.0, 0.0, 0.0))
    a, b, tx, ty = got.values
    assert (a, b) == pytest.approx((-4.51249, -0.25371), abs=5e-6)
    assert (tx, ty) == pytest.approx((1050003.71, 50542.131), abs=5e-3)
    assert math.hypot(a, b) == pytest.approx(4.51962, abs=5e-6)
    assert math.degrees(math.atan2(b, a)) % 360 == pytest.approx(183.21806, abs=5e-6)
    assert got.spread == pytest.approx(0.1398, abs=5e-4)


CIRCLES = (((-1.0, 0.0), 1.0), ((1.0, 0.5), 0.5), ((1.0, -0.5), 0.5))


def test_sauer_three_circles() -> None:
    # Sauer, Numerical Analysis, least-squares point of three circles; from memory, checked by hand.
    got = adjust([Observation("", r, 1.0, distance(c, (0, 1))) for c, r in CIRCLES], (0.3, 0.1))
    assert got.values == pytest.approx((0.412891, 0), abs=5e-7)
    assert [abs(one) for one in got.residuals] == pytest.approx([0.41289, 0.27117, 0.27117], abs=5e-6)
    assert math.sqrt(sum(one * one for one in got.residuals) / 3) == pytest.approx(0.32534, abs=5e-6)


def test_circles_with_a_zero_error_of_the_tape() -> None:
    # The same circles, all radii out by one unknown: (1/3, 0) and 1/3 fit exactly.
    def model(centre: tuple[float, float]) -> Predicted:
        plain = distance(centre, (0, 1))

        def with_offset(values: Sequence[float]) -> tuple[float, Mapping[int, float]]:
            length, partials = plain(values)
            return length - values[2], {**partials, 2: -1.0}

        return with_offset

    got = adjust([Observation("", r, 1.0, model(c)) for c, r in CIRCLES], (0.2, 0.1, 0.1))
    assert got.values == pytest.approx((1 / 3, 0, 1 / 3), abs=1e-9)
    assert got.residuals == pytest.approx((0, 0, 0), abs=1e-9)


def test_exact_right_triangles() -> None:
    read = (((0.0, 0.0), 5.0), ((8.0, 0.0), 5.0), ((4.0, 10.0), 7.0))
    got = adjust([Observation("", r, 1.0, distance(c, (0, 1))) for c, r in read], (4.2, 2.0))
    assert got.values == pytest.approx((4, 3), abs=1e-9)
    assert got.misfit == pytest.approx(0, abs=1e-12)


def test_weighted_mean() -> None:
    # 500.0 +-1 and 503.0 +-2: weights 4 to 1, so 500.6; standard deviation 1 / sqrt(1 + 1/4).
    got = adjust([Observation("", 500.0, 1.0, coordinate(0)), Observation("", 503.0, 2.0, coordinate(0))], (0.0,))
    assert got.values == pytest.approx((500.6,))
    assert math.sqrt(got.covariance[0][0]) == pytest.approx(0.894, abs=5e-4)


NORRIS = """
    0.2 0.1 337.4 338.8 118.2 118.1 884.6 888.0 10.1 9.2 226.5 228.1 666.3 668.5 996.3 998.5 448.6 449.1
    777.0 778.9 558.2 559.2 0.4 0.3 0.6 0.1 775.5 778.1 666.9 668.8 338.0 339.3 447.5 448.9 11.6 10.8
    556.0 557.7 228.1 228.3 995.8 998.0 887.6 888.8 120.2 119.6 0.3 0.3 0.3 0.6 556.8 557.6 339.1 339.3
    887.2 888.0 999.0 998.5 779.0 778.9 11.1 10.2 118.3 117.6 229.2 228.9 669.1 668.4 448.9 449.2 0.5 0.2
"""


def test_nist_norris() -> None:
    # NIST StRD, linear regression, Norris: data and certified values as scipy's own tests carry them.
    numbers = [float(number) for number in NORRIS.split()]
    readings = [Observation("", y, 1.0, linear(1.0, x)) for x, y in zip(numbers[::2], numbers[1::2], strict=True)]
    got = adjust(readings, (0.0, 0.0))
    assert len(readings) == 36
    assert got.values[0] == pytest.approx(-0.262323073774029, rel=1e-12)
    assert got.values[1] == pytest.approx(1.00211681802045, rel=1e-13)
    deviations = [got.spread * math.sqrt(got.covariance[i][i]) for i in (0, 1)]
    assert deviations == pytest.approx([0.232818234301152, 0.429796848199937e-3], rel=1e-9)


@pytest.mark.parametrize("seed", range(25))
def test_random_networks_against_scipy(seed: int) -> None:
    """Two pipes, tape distances, readings from lines, pitch and level, against scipy's own least squares."""
    rng = random.Random(seed)
    true = [rng.uniform(-900, 900), rng.uniform(100, 1800), rng.uniform(-900, 900), rng.uniform(100, 1800)]
    readings = []
    for _ in range(rng.randint(6, 12)):
        kind, pipe, sigma = rng.choice("adpl"), rng.randrange(2), rng.choice((0.5, 0.75, 1.0, 2.0))
        x, y = 2 * pipe, 2 * pipe + 1
        if kind == "a":
            model = coordinate(rng.choice((x, y)))
        elif kind == "d":
            model = distance((rng.uniform(-1500, 1500), rng.uniform(2000, 2400)), (x, y))
        elif kind == "p":
            model = distance((0, 1), (2, 3))
        else:
            model = difference(1, 3)
        readings.append(Observation("", model(true)[0] + rng.gauss(0, sigma), sigma, model))
    readings += [Observation("", true[i] + rng.gauss(0, 1), 1.0, coordinate(i)) for i in range(4)]
    got = adjust(readings, [value + rng.uniform(-30, 30) for value in true])
    scipy = least_squares(
        lambda values: [(one.model(values)[0] - one.value) / one.sigma for one in readings],
        got.values,
        xtol=1e-15,
        ftol=1e-15,
        gtol=1e-15,
    )
    assert got.values == pytest.approx(tuple(scipy.x), abs=1e-5)
    assert got.misfit == pytest.approx(2 * scipy.cost, rel=1e-8)
    normal = scipy.jac.T @ scipy.jac
    product = normal @ [list(row) for row in got.covariance]
    for i in range(4):
        assert list(product[i]) == pytest.approx([1.0 if i == j else 0.0 for j in range(4)], abs=1e-4)


@pytest.mark.parametrize("seed", range(25))
def test_random_nails_against_scipy(seed: int) -> None:
    """Two pipes taped from two nails that were read too: scipy is given plain residuals of all eight unknowns."""
    rng = random.Random(seed)
    pipes = [(rng.uniform(-600, 600), rng.uniform(200, 1200)) for _ in range(2)]
    nails = [(rng.uniform(-1200, -300), rng.uniform(1700, 2200)), (rng.uniform(300, 1200), rng.uniform(1700, 2200))]
    read = [
        Nail("N", ("across", "up"), (x + rng.gauss(0, 1), y + rng.gauss(0, 1)), (rng.uniform(0.3, 2), 1.0))
        for x, y in nails
    ]
    links: list[Link] = []
    for index, (x, y) in enumerate(pipes):
        for number, (u, v) in enumerate(nails):
            links.append(Link("tape", "", index, math.hypot(x - u, y - v) + rng.gauss(0, 0.75), 0.75, nail=number))
        links.append(Link("axis", "", index, (x, y)[index] + rng.gauss(0, 0.5), 0.5, index))
    apart = math.dist(*pipes) + rng.gauss(0, 0.5)
    links.append(Link("apart", "", 0, apart, 0.5, second=1))

    def residuals(values: Sequence[float]) -> list[float]:
        places = [(values[2 * i], values[2 * i + 1]) for i in range(4)]
        found = []
        for link in links:
            if link.kind == "tape":
                should = math.dist(places[link.first], places[2 + link.nail])
            elif link.kind == "apart":
                should = math.dist(places[0], places[1])
            else:
                should = places[link.first][link.axis]
            found.append((should - link.value) / link.sigma)
        for nail, place_of in zip(read, places[2:], strict=True):
            found += [(is_at - at) / sigma for is_at, at, sigma in zip(place_of, nail.at, nail.sigmas, strict=True)]
        return found

    def keep(hole: int, x: float, y: float) -> bool:
        """Of several places that the readings leave open, the one that was meant."""
        return math.dist(pipes[hole], (x, y)) < 50.0

    got = place(["a", "b"], [None, None], links, keep, LIMITS, read)
    start = [value for at in (*pipes, *nails) for value in at]
    scipy = least_squares(residuals, start, xtol=1e-15, ftol=1e-15, gtol=1e-15)
    assert [value for at in got.at for value in at] == pytest.approx(list(scipy.x[:4]), abs=1e-5)
    covariance = np.linalg.inv(scipy.jac.T @ scipy.jac)
    for index, doubt in enumerate(got.doubts):
        block = covariance[2 * index : 2 * index + 2, 2 * index : 2 * index + 2]
        assert [doubt.xx, doubt.xy, doubt.yy] == pytest.approx([block[0][0], block[0][1], block[1][1]], abs=1e-4)
    # Without the nails' own doubt a place would be thought better than it is.
    exact = [replace(nail, sigmas=(1e-3, 1e-3)) for nail in read]
    sure = place(["a", "b"], [None, None], links, keep, LIMITS, exact)
    assert all(a.ellipse[0] > b.ellipse[0] for a, b in zip(got.doubts, sure.doubts, strict=True))
