"""The chance that a hole sits where it may: a normal error of two coordinates against the room that there is.

The room is a leeway's parts; the error is (dx, dy) of the hole against the thing, mm, along the axes of these parts.
Worked out by one integral, good to 0.00015, mostly to 0.00001: no drilling is simulated.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from functools import cache, lru_cache
from itertools import pairwise

from cutmarks.geometry.frames import F
from cutmarks.geometry.slack import InDisc, Slack
from cutmarks.geometry.tolerance import WEAR
from cutmarks.locating.model import Doubt

FAR_OUT = 9.0
"""Errors over so many standard deviations do not happen: 2 in 10^19."""
STEPS = 24
"""Steps of each half of the integral; with the sine in front they crowd where a round room ends upright."""
LEAST_SIGMA = 1e-6
"""A standard deviation under this, mm, is no doubt at all."""


def chance(rooms: Sequence[Slack[F]], doubt: Doubt) -> float:
    """The chance, 0 to 1, that an error with this covariance is inside all the rooms at once; none: 1."""
    return _chance(tuple(rooms), doubt) if rooms else 1.0


@lru_cache(maxsize=1024)
def _chance(rooms: tuple[Slack[F], ...], doubt: Doubt) -> float:
    """The same; a hole over a joint, and holes that are alike, ask it again and again."""
    radius = _about_the_middle(rooms)
    return _in_rooms(rooms, doubt) if radius is None or doubt.xy else _in_disc(radius, doubt)


def _about_the_middle(rooms: Sequence[Slack[F]]) -> float | None:
    """The radius of the least of rooms that are all circles about where the hole is meant to be, mm; else None."""
    radii = [room.radius for room in rooms if isinstance(room, InDisc) and math.hypot(room.cx, room.cy) <= WEAR]
    return min(radii) if len(radii) == len(rooms) else None


def _in_disc(radius: float, doubt: Doubt) -> float:
    """The short way for a round hole in the middle: both coordinates are independent, and left is as right."""
    sigma_x, sigma_y = max(math.sqrt(doubt.xx), LEAST_SIGMA), max(math.sqrt(doubt.yy), LEAST_SIGMA)
    high = min(radius, FAR_OUT * sigma_x)
    if high <= 0.0:
        return 0.0
    square, across, up = radius * radius, 1.0 / (sigma_x * math.sqrt(2.0)), 1.0 / (sigma_y * math.sqrt(2.0))

    def at(dx: float) -> float:
        beside = math.sqrt(max(0.0, square - dx * dx))
        return math.exp(-((dx * across) ** 2)) * math.erf(beside * up)

    return min(1.0, 2.0 * _integral(at, 0.0, high) / (sigma_x * math.sqrt(2.0 * math.pi)))


def _in_rooms(rooms: Sequence[Slack[F]], doubt: Doubt) -> float:
    """The long way, for any rooms."""
    ends = [room.reach for room in rooms]
    low, high = max(low for low, _ in ends), min(high for _, high in ends)
    sigma_x = max(math.sqrt(doubt.xx), LEAST_SIGMA)
    slope = doubt.xy / sigma_x**2
    beside = max(math.sqrt(max(0.0, doubt.yy - slope * doubt.xy)), LEAST_SIGMA)
    low, high = max(low, -FAR_OUT * sigma_x), min(high, FAR_OUT * sigma_x)
    if low >= high:
        return 0.0

    def at(dx: float) -> float:
        down, up = rooms[0].span(dx)
        for room in rooms[1:]:
            lower, upper = room.span(dx)
            down, up = max(down, lower), min(up, upper)
        if up <= down:
            return 0.0
        inside = _below((up - slope * dx) / beside) - _below((down - slope * dx) / beside)
        return math.exp(-((dx / sigma_x) ** 2) / 2) * inside

    # Two rooms that are alike left and right of where the hole is meant to be have a corner there.
    ends_of_parts = (low, 0.0, high) if low < 0.0 < high else (low, high)
    total = math.fsum(_integral(at, *part) for part in pairwise(ends_of_parts))
    return min(1.0, max(0.0, total / (sigma_x * math.sqrt(2 * math.pi))))


def _integral(at: Callable[[float], float], low: float, high: float) -> float:
    """By the trapezoid rule over the angle, with the first term of Euler and Maclaurin.

    The cosine makes nothing of both ends; the term is for what is not nothing there, as where a room ends straight.
    """
    middle, half, step = (low + high) / 2, (high - low) / 2, math.pi / STEPS
    total = step * math.fsum(at(middle + half * sine) * cosine for sine, cosine in _angles())
    return half * (total + step**2 / 12 * (at(low) + at(high)))


@cache
def _angles() -> tuple[tuple[float, float], ...]:
    """The sine and the cosine at each step of the integral but the first and the last, from -90 to 90 degrees."""
    angles = (index * math.pi / STEPS - math.pi / 2 for index in range(1, STEPS))
    return tuple((math.sin(angle), math.cos(angle)) for angle in angles)


def _below(deviations: float) -> float:
    """The standard normal distribution up to so many deviations."""
    return math.erfc(-deviations / math.sqrt(2.0)) / 2
