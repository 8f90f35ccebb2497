"""The chance of sitting inside a room, against closed forms and another library's integrals."""

from __future__ import annotations

import math

import pytest
from scipy.integrate import quad
from scipy.stats import multivariate_normal, norm

from cutmarks.checks.chance import _in_rooms, chance
from cutmarks.geometry.frames import Point, Tile
from cutmarks.geometry.rings import Ring
from cutmarks.geometry.shapes import Rect, ring_of
from cutmarks.geometry.slack import InDisc, InPolygon, Slack, in_round
from cutmarks.locating.model import Doubt

ROUND = Doubt(1.44, 0.0, 1.44)


def disc(radius: float) -> InDisc:
    return InDisc(0.0, 0.0, radius)


def box(left: float, right: float, down: float, up: float) -> InPolygon:
    return InPolygon(((-1.0, 0.0, left), (1.0, 0.0, right), (0.0, -1.0, down), (0.0, 1.0, up)))


def inside_round(w: float, h: float, d: float) -> Slack[Tile]:
    inner: Ring[Tile] = ring_of(Rect(w, h), Point(0.0, 0.0))
    return in_round((inner,), d / 2)


@pytest.mark.parametrize("radius", [0.3, 1.0, 2.5, 5.0, 40.0])
def test_alike_on_both_axes_in_a_disc(radius: float) -> None:
    # Rayleigh: 1 - exp(-r^2 / 2 s^2).
    assert chance([disc(radius)], ROUND) == pytest.approx(1 - math.exp(-(radius**2) / (2 * 1.44)), abs=5e-5)


@pytest.mark.parametrize(("sx", "sy"), [(0.5, 2.0), (2.0, 0.5), (1.0, 1.2)])
def test_unlike_axes_in_a_disc(sx: float, sy: float) -> None:
    # P(sx^2 u + sy^2 v <= r^2), u and v chi-square of one degree: integrated over u by scipy.
    radius = 2.2
    wanted, _ = quad(
        lambda x: norm.pdf(x / sx) / sx * (2 * norm.cdf(math.sqrt(radius**2 - x * x) / sy) - 1), -radius, radius
    )
    assert chance([disc(radius)], Doubt(sx**2, 0.0, sy**2)) == pytest.approx(wanted, abs=5e-5)


def test_a_disc_does_not_care_which_way_the_ellipse_points() -> None:
    a, b, turn = 1.5**2, 0.4**2, math.radians(33)
    c, s = math.cos(turn), math.sin(turn)
    turned = Doubt(a * c * c + b * s * s, (a - b) * c * s, a * s * s + b * c * c)
    assert chance([disc(2.0)], turned) == pytest.approx(chance([disc(2.0)], Doubt(a, 0.0, b)), abs=5e-5)


@pytest.mark.parametrize("correlation", [-0.9, 0.0, 0.6])
def test_a_box_against_the_bivariate_normal(correlation: float) -> None:
    sx, sy = 1.3, 0.7
    doubt = Doubt(sx**2, correlation * sx * sy, sy**2)
    cov = [[doubt.xx, doubt.xy], [doubt.xy, doubt.yy]]
    wanted = multivariate_normal(cov=cov).cdf([2.0, 0.9], lower_limit=[-1.0, -1.5])
    assert chance([box(1.0, 2.0, 1.5, 0.9)], doubt) == pytest.approx(wanted, abs=5e-5)


def test_a_square_hole_under_a_round_cover() -> None:
    # By another road: the corner that matters is off by (|dx| + w/2, |dy| + h/2); integrated on a fine grid of both.
    w, h, d = 40.0, 30.0, 54.0
    doubt = Doubt(1.0, 0.0, 1.0)
    wanted, n = 0.0, 400
    cell = 12.0 / n
    for i in range(n):
        for j in range(n):
            dx, dy = -6 + (i + 0.5) * cell, -6 + (j + 0.5) * cell
            if math.hypot(abs(dx) + w / 2, abs(dy) + h / 2) <= d / 2:
                wanted += math.exp(-(dx * dx + dy * dy) / 2) / (2 * math.pi) * cell * cell
    assert chance([inside_round(w, h, d)], doubt) == pytest.approx(wanted, abs=2e-3)


@pytest.mark.parametrize(
    ("w", "h", "d", "radius"), [(40.0, 30.0, 54.0, 3.0), (40.0, 40.0, 65.0, 5.0), (30.0, 50.0, 65.0, 4.0)]
)
@pytest.mark.parametrize(("sx", "sy"), [(1.2, 1.2), (0.6, 2.0), (2.0, 0.6)])
def test_a_square_hole_round_a_pipe_under_a_round_cover(
    w: float, h: float, d: float, radius: float, sx: float, sy: float
) -> None:
    # One room ends inside the other. By scipy: the normal distribution of dy between both rooms' ends, over dx.
    def inside(x: float) -> float:
        under = (d / 2) ** 2 - (abs(x) + w / 2) ** 2
        up = min(math.sqrt(max(0.0, radius**2 - x * x)), math.sqrt(max(0.0, under)) - h / 2)
        return norm.pdf(x / sx) / sx * max(0.0, 2 * norm.cdf(up / sy) - 1)

    reach = min(radius, math.sqrt(d * d - h * h) / 2 - w / 2)
    wanted, _ = quad(inside, -reach, reach, points=[0.0], limit=400)
    both: list[Slack[Tile]] = [disc(radius), inside_round(w, h, d)]
    assert chance(both, Doubt(sx**2, 0.0, sy**2)) == pytest.approx(wanted, abs=1.5e-4)


def test_two_rooms_count_together() -> None:
    assert chance([disc(2.0), disc(1.0)], ROUND) == pytest.approx(chance([disc(1.0)], ROUND))
    both: list[Slack[Tile]] = [disc(50.0), box(1.0, 1.0, 50.0, 50.0)]
    assert chance(both, ROUND) == pytest.approx(norm.cdf(1 / 1.2) - norm.cdf(-1 / 1.2), abs=5e-5)


def test_the_ends() -> None:
    assert chance([], ROUND) == 1.0
    assert chance([disc(-1.0)], ROUND) == 0.0
    assert chance([disc(100.0)], ROUND) == pytest.approx(1.0, abs=5e-5)
    assert chance([disc(1.0)], Doubt(0.0, 0.0, 0.0)) == pytest.approx(1.0, abs=5e-5)
    # Off to one side for sure: a room that does not hold the place meant.
    assert chance([box(-2.0, 4.0, 3.0, 3.0)], Doubt(1.0, 0.0, 1e-12)) == pytest.approx(
        norm.sf(2.0) - norm.sf(4.0), abs=5e-5
    )


@pytest.mark.parametrize("radius", [0.0, 0.01, 0.8, 3.5, 50.0])
@pytest.mark.parametrize(("sx", "sy"), [(0.0, 0.0), (0.3, 0.9), (0.7, 0.7), (1.4, 0.0), (0.0, 1.4)])
def test_the_short_way_for_a_disc_in_the_middle_is_the_long_one(radius: float, sx: float, sy: float) -> None:
    rooms, doubt = (disc(radius), InDisc(1e-13, -1e-13, radius + 1.0)), Doubt(sx * sx, 0.0, sy * sy)
    assert chance(rooms, doubt) == pytest.approx(_in_rooms(rooms, doubt), abs=1e-12)


def test_a_disc_that_is_off_the_middle_or_not_alone_goes_the_long_way() -> None:
    off, doubt = InDisc(0.5, 0.0, 1.0), Doubt(0.25, 0.0, 0.25)
    # From the far side the error has less room: 1 - exp(-r^2 / 2 s^2) of the disc in the middle is more.
    assert chance([off], doubt) < 1 - math.exp(-1.0 / 0.5)
    rooms: list[Slack[Tile]] = [disc(1.0), box(0.1, 0.1, 9.0, 9.0)]
    assert chance(rooms, doubt) < norm.cdf(0.2) - norm.cdf(-0.2) + 1e-6
