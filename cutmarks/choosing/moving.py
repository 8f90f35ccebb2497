"""How far a start may move and count the same, and what is poor once it is a little out."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from cutmarks.choosing.borders import EndOf
from cutmarks.choosing.figures import POOR, Figures, band_of
from cutmarks.choosing.landing import landing
from cutmarks.choosing.question import StartQuestion
from cutmarks.choosing.steps import Offset
from cutmarks.geometry.tolerance import TOUCH

STEPS_ASIDE = 60
LOOKED_AT, ALL_BUT, CLOSE = 4, 0.9999, 0.05
"""How far a start may move is looked at in so many parts, the last of them but for a hair, and told to so much, mm."""

Ways = tuple[float, float, float, float]
"""To the left, to the right, down and up, mm."""


def widened(
    offset: Offset, every: Sequence[Offset], pitch: float, step: float, same: Callable[[float], bool]
) -> Offset:
    """How far an offset may move and count the same, over the intervals beside its own; then its middle, where free."""
    between = sorted((one for one in every if one.way == 2), key=lambda one: one.low)
    if not between:
        return offset
    low, high = offset.low, offset.high
    inside = (low + high) / 2  # it may lie on an end of its own interval
    turns = round((inside - between[0].low) // pitch) * pitch
    index = max((i for i, one in enumerate(between) if one.low <= inside - turns), default=0)
    stays = offset.way == 2 or same(inside)
    if not stays:
        low = high = offset.at  # a whole tile that just fits: any further, and it is cut
    for sign in (-1, 1):
        i, moved = index, turns
        if sign > 0 and not stays:
            break
        for _ in range(STEPS_ASIDE):
            i += sign
            if not 0 <= i < len(between):
                i, moved = i % len(between), moved + sign * pitch
            one = between[i]
            if high - low + one.high - one.low > pitch or not same(one.at + moved):
                break
            low, high = (one.low + moved, high) if sign < 0 else (low, one.high + moved)
    if offset.way == 2:
        middle = round((low + high) / 2 / step) * step
        if low + TOUCH < middle < high - TOUCH and same(middle):
            return Offset(middle, low, high)
    return Offset(offset.at, low, high, offset.way)


def moving_surely(may_move: Ways, asked: StartQuestion, at: tuple[float, float]) -> Ways:
    """So far as a start counts the same, of how far it was thought to on each way.

    The stretches that are searched are of one axis alone: where ends lean, and where circles come over joints, some of
    them change a little earlier.
    """
    ways = ((-1.0, 0.0), (1.0, 0.0), (0.0, -1.0), (0.0, 1.0))
    left, right, down, up = (_surely(by, way, asked, at) for by, way in zip(may_move, ways, strict=True))
    return left, right, down, up


def _surely(by: float, way: tuple[float, float], asked: StartQuestion, at: tuple[float, float]) -> float:
    """So far as it counts the same, of how far one way it was thought to, mm: looked at in parts, then closed in on."""

    def alike(moved: float) -> bool:
        return asked.alike(at[0] + moved * way[0], at[1] + moved * way[1], at)

    good, bad = 0.0, by
    for part in range(1, LOOKED_AT + 1):
        place = by * part / LOOKED_AT * ALL_BUT
        if not alike(place):
            bad = place
            break
        good = place
    else:
        return by
    while bad - good > CLOSE:
        middle = (good + bad) / 2
        good, bad = (middle, bad) if alike(middle) else (good, middle)
    return good


def fragile_at(asked: StartQuestion, x: float, y: float, figures: Figures) -> Iterator[str]:
    """What turns a start poor when it is a little out: an end of a course, or a hole."""
    by, limits = asked.limits.out_by.value, asked.limits
    for end, left in figures.left.items():
        if end.hidden or not left.cut:
            continue
        if band_of(left.least, left.whole, limits) < POOR <= band_of(left.least - by, left.whole, limits):
            yield _called(end)
    for hole in asked.holes:
        if figures.landings[hole.name].is_bad:
            continue
        moves = ((by, 0.0), (-by, 0.0), (0.0, by), (0.0, -by))
        if any(landing(hole.moved(dx, dy), asked.grid, x, y, asked.want).is_bad for dx, dy in moves):
            yield hole.name


def _called(end: EndOf) -> str:
    return f"{end.what}'s {end.side}" if end.thing else end.what
