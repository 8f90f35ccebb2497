"""The chance that a hole sits where it may: a normal error of two coordinates against the room that there is.

The room is a leeway's parts; the error is (dx, dy) of the hole against the thing, mm, along the axes of these parts.
Worked out by one integral, good to 0.0001: no drilling is simulated.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import cache

from cutmarks.geometry.frames import F
from cutmarks.geometry.slack import Slack
from cutmarks.locating.model import Doubt

FAR_OUT = 9.0
"""Errors over so many standard deviations do not happen: 2 in 10^19."""
STEPS = 48
"""Steps of the integral; with the sine in front they crowd where a round room ends upright."""
LEAST_SIGMA = 1e-6
"""A standard deviation under this, mm, is no doubt at all."""


def chance(rooms: Sequence[Slack[F]], doubt: Doubt) -> float:
    """The chance, 0 to 1, that an error with this covariance is inside all the rooms at once; none: 1."""
    if not rooms:
        return 1.0
    ends = [room.reach for room in rooms]
    low, high = max(low for low, _ in ends), min(high for _, high in ends)
    sigma_x = max(math.sqrt(doubt.xx), LEAST_SIGMA)
    slope = doubt.xy / sigma_x**2
    beside = max(math.sqrt(max(0.0, doubt.yy - slope * doubt.xy)), LEAST_SIGMA)
    low, high = max(low, -FAR_OUT * sigma_x), min(high, FAR_OUT * sigma_x)
    if low >= high:
        return 0.0
    middle, half = (low + high) / 2, (high - low) / 2

    def at(dx: float) -> float:
        down, up = rooms[0].span(dx)
        for room in rooms[1:]:
            lower, upper = room.span(dx)
            down, up = max(down, lower), min(up, upper)
        if up <= down:
            return 0.0
        inside = _below((up - slope * dx) / beside) - _below((down - slope * dx) / beside)
        return math.exp(-((dx / sigma_x) ** 2) / 2) * inside

    # The trapezoid rule over the angle, of whose ends the cosine makes nothing, and the first term of Euler and
    # Maclaurin for what is not nothing there: a room that ends in a straight side.
    step = math.pi / STEPS
    total = step * math.fsum(at(middle + half * sine) * cosine for sine, cosine in _angles())
    total += step**2 / 12 * (at(low) + at(high))
    return min(1.0, max(0.0, total * half / (sigma_x * math.sqrt(2 * math.pi))))


@cache
def _angles() -> tuple[tuple[float, float], ...]:
    """The sine and the cosine at each step of the integral but the first and the last, from -90 to 90 degrees."""
    angles = (index * math.pi / STEPS - math.pi / 2 for index in range(1, STEPS))
    return tuple((math.sin(angle), math.cos(angle)) for angle in angles)


def _below(deviations: float) -> float:
    """The standard normal distribution up to so many deviations."""
    return math.erfc(-deviations / math.sqrt(2.0)) / 2
