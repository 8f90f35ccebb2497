"""The chance that a hole sits where it may: a normal error of two coordinates against the room that there is.

The room is given as what the error up may be for each error across, all mm; the error is (dx, dy) of the hole against
the thing. Worked out by one integral, good to 0.00005: no drilling is simulated.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache

from cutmarks.locating.model import Doubt

FAR_OUT = 9.0
"""Errors over so many standard deviations do not happen: 2 in 10^19."""
STEPS = 128
"""Steps of the integral; with the sine in front they crowd where a round room ends upright."""
LEAST_SIGMA = 1e-6
"""A standard deviation under this, mm, is no doubt at all."""

Span = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Room:
    """Where the hole may be: dx from `low` to `high`, and for each dx between them dy in `span(dx)`."""

    low: float
    high: float
    span: Callable[[float], Span]


def disc(radius: float) -> Room:
    """Up to `radius` off any way: a round hole over a round thing, a round cover over a round hole."""
    return Room(-radius, radius, lambda dx: _both(math.sqrt(max(0.0, radius * radius - dx * dx))))


def box(left: float, right: float, down: float, up: float) -> Room:
    """So far off to each side: a square hole over a square thing, a plate over a hole."""
    return Room(-left, right, lambda _: (-down, up))


def inside_round(w: float, h: float, d: float) -> Room:
    """A rectangle w by h inside a circle d, both about one middle: a round cover over a square hole."""
    reach = math.sqrt(max(0.0, d * d - h * h)) / 2 - w / 2

    def span(dx: float) -> Span:
        return _both(math.sqrt(max(0.0, d * d / 4 - (abs(dx) + w / 2) ** 2)) - h / 2)

    return Room(-reach, reach, span)


def _both(half: float) -> Span:
    return -half, half


def chance(rooms: Sequence[Room], doubt: Doubt) -> float:
    """The chance, 0 to 1, that an error with this covariance is inside all the rooms at once; none: 1."""
    if not rooms:
        return 1.0
    low, high = max(room.low for room in rooms), min(room.high for room in rooms)
    sigma_x = max(math.sqrt(doubt.xx), LEAST_SIGMA)
    slope = doubt.xy / sigma_x**2
    beside = max(math.sqrt(max(0.0, doubt.yy - slope * doubt.xy)), LEAST_SIGMA)
    low, high = max(low, -FAR_OUT * sigma_x), min(high, FAR_OUT * sigma_x)
    if low >= high:
        return 0.0
    middle, half = (low + high) / 2, (high - low) / 2

    def at(sine: float, cosine: float) -> float:
        dx = middle + half * sine
        down, up = rooms[0].span(dx)
        for room in rooms[1:]:
            lower, upper = room.span(dx)
            down, up = max(down, lower), min(up, upper)
        if up <= down:
            return 0.0
        inside = _below((up - slope * dx) / beside) - _below((down - slope * dx) / beside)
        return math.exp(-((dx / sigma_x) ** 2) / 2) * inside * cosine

    # The trapezoid rule: the integrand is nought at both ends.
    total = math.fsum(at(sine, cosine) for sine, cosine in _angles())
    return min(1.0, max(0.0, total * half / (sigma_x * math.sqrt(2 * math.pi)) * math.pi / STEPS))


@cache
def _angles() -> tuple[tuple[float, float], ...]:
    """The sine and the cosine at each step of the integral but the first and the last, from -90 to 90 degrees."""
    angles = (index * math.pi / STEPS - math.pi / 2 for index in range(1, STEPS))
    return tuple((math.sin(angle), math.cos(angle)) for angle in angles)


def _below(deviations: float) -> float:
    """The standard normal distribution up to so many deviations."""
    return math.erfc(-deviations / math.sqrt(2.0)) / 2
