"""Where to begin: every place that a network's readings leave open, from the fewest of them that place a hole."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

from msgspec import Struct

from cutmarks.readings import Lies

XY = tuple[float, float]
MOST = 64
"""Of a network that leaves more places open than this, only so many are looked at."""
ASIDE = 1.0
"""Where two circles miss each other, a start lies so far beside the line of their centres, mm."""

FURTHEST: dict[Lies, Callable[[XY], float]] = {
    "left": lambda at: -at[0],
    "right": lambda at: at[0],
    "below": lambda at: -at[1],
    "above": lambda at: at[1],
}
"""What is greatest for the place that lies there."""


class Known(Struct, frozen=True):
    """A coordinate of `hole` along `axis` (0 across, 1 up), mm; from where hole `other` is, if not None."""

    hole: int
    axis: int
    value: float
    other: int | None


class TapeCircle(Struct, frozen=True):
    """`hole` is `radius` mm from `point`, or from hole `other`."""

    hole: int
    radius: float
    point: XY | None
    other: int | None


Clue = Known | TapeCircle


def candidates(
    lies: Sequence[Lies | None], clues: Sequence[Clue], keep: Callable[[int, float, float], bool]
) -> list[list[float]]:
    """Starts, each with all coordinates of all holes; none where the clues do not place every hole.

    `lies` has one entry for each hole: which of two places is meant. `keep` says whether a hole can be at (x, y).
    """
    ways: list[dict[int, XY]] = [{}]
    left = list(range(len(lies)))
    while left:
        first = {hole: _options(hole, clues, ways[0]) for hole in left}
        ready = [hole for hole in left if first[hole]]
        if not ready:
            return []
        hole = min(ready, key=lambda one: len(first[one]))
        ways = [{**way, hole: at} for way in ways for at in _meant(_options(hole, clues, way), hole, lies[hole], keep)]
        ways = ways[:MOST]
        left.remove(hole)
    return [[value for hole in range(len(lies)) for value in way[hole]] for way in ways]


def _meant(
    options: Sequence[XY], hole: int, lies: Lies | None, keep: Callable[[int, float, float], bool]
) -> Sequence[XY]:
    """The options that can be, and of these the one that was meant."""
    possible = [at for at in options if keep(hole, *at)] or options
    return [max(possible, key=FURTHEST[lies])] if lies is not None else possible


def _options(hole: int, clues: Sequence[Clue], way: dict[int, XY]) -> list[XY]:
    """Where the hole can be by the fewest clues, once the holes of `way` are placed; none: they do not say."""
    along: tuple[list[float], list[float]] = ([], [])
    circles: list[tuple[XY, float]] = []
    for clue in clues:
        if isinstance(clue, TapeCircle):
            centre = _centre(clue, hole, way)
            if centre is not None:
                circles.append((centre, clue.radius))
        else:
            at = _coordinate(clue, hole, way)
            if at is not None:
                along[clue.axis].append(at)
    x, y = (sum(values) / len(values) if values else None for values in along)
    if x is not None and y is not None:
        return [(x, y)]
    if x is not None and circles:
        (cx, cy), radius = circles[0]
        reach = math.sqrt(max(0.0, radius**2 - (x - cx) ** 2)) or ASIDE
        return [(x, cy - reach), (x, cy + reach)]
    if y is not None and circles:
        (cx, cy), radius = circles[0]
        reach = math.sqrt(max(0.0, radius**2 - (y - cy) ** 2)) or ASIDE
        return [(cx - reach, y), (cx + reach, y)]
    return _crossing(circles)


def _centre(clue: TapeCircle, hole: int, way: dict[int, XY]) -> XY | None:
    if clue.other is None:
        return clue.point if clue.hole == hole else None
    if clue.hole == hole:
        return way.get(clue.other)
    return way.get(clue.hole) if clue.other == hole else None


def _coordinate(clue: Known, hole: int, way: dict[int, XY]) -> float | None:
    if clue.other is None:
        return clue.value if clue.hole == hole else None
    if clue.hole == hole and clue.other in way:
        return way[clue.other][clue.axis] + clue.value
    if clue.other == hole and clue.hole in way:
        return way[clue.hole][clue.axis] - clue.value
    return None


def _crossing(circles: Sequence[tuple[XY, float]]) -> list[XY]:
    """Both crossings of the first two circles that have not the same middle; where they miss, beside their nearest."""
    for index, ((ax, ay), ra) in enumerate(circles):
        for (bx, by), rb in circles[index + 1 :]:
            apart = math.hypot(bx - ax, by - ay)
            if apart < ASIDE:
                continue
            ux, uy = (bx - ax) / apart, (by - ay) / apart
            foot = (ra**2 - rb**2 + apart**2) / (2 * apart)
            foot = min(max(foot, -ra), ra)
            half = math.sqrt(max(0.0, ra**2 - foot**2)) or ASIDE
            mx, my = ax + foot * ux, ay + foot * uy
            return [(mx - half * uy, my + half * ux), (mx + half * uy, my - half * ux)]
    return []
