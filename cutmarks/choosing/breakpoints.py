"""Where what counts changes as a start moves along one axis, and the offsets that are looked at between.

All that is measured is piecewise linear in the offset: a piece grows until it is a whole tile, a bridge shrinks until
the hole bites the joint. So it changes its band at finitely many offsets, and between two of them any is as good.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise
from typing import NamedTuple

from cutmarks.checks.starts import fair_share
from cutmarks.choosing.borders import Border
from cutmarks.choosing.figures import hair_of
from cutmarks.choosing.leaves import phases_of
from cutmarks.choosing.question import StartQuestion
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.sides import Axis

CROSSED = 6
"""Up to so many ways in which courses lie, the end of each is held against the other end of every other; beyond, of
each against its own: a bond that hardly comes back has no two courses whose ends are alike by more than chance."""
FINER = (1.0, 0.5, 0.25, 0.125, 0.0625)
"""Where no whole step lies between two breakpoints, a part of it is taken."""


class Offset(NamedTuple):
    """A start on one axis, mm; from `low` to `high` what was looked at stays in its bands.

    way  how it is said: 0 by a line, 1 by a full tile at an end, 2 by a measure.
    """

    at: float
    low: float
    high: float
    way: int = 2


def breakpoints(asked: StartQuestion, axis: Axis) -> list[float]:
    """Every offset on an axis at which a figure changes its band, as often as the bond repeats; unordered."""
    return [
        *_of_ends(asked, axis),
        *_of_equal_ends(asked, axis),
        *_of_holes(asked, axis),
        *_of_rows(asked, axis),
        *_of_batten(asked, axis),
    ]


def _sizes(asked: StartQuestion, axis: Axis) -> tuple[float, float]:
    grid = asked.grid
    return (grid.w, grid.pitch_u) if axis == "across" else (grid.h, grid.pitch_v)


def _shifts(asked: StartQuestion, axis: Axis) -> Sequence[float]:
    return phases_of(asked.grid) if axis == "across" else (0.0,)


def _of_ends(asked: StartQuestion, axis: Axis) -> Iterator[float]:
    for border in asked.ends.upright if axis == "across" else asked.ends.level:
        for shift in _shifts(asked, axis):
            for v in {border.v0, border.v1}:
                yield from _of_end(asked, axis, border, v, shift)


def _of_end(asked: StartQuestion, axis: Axis, border: Border, v: float, shift: float) -> Iterator[float]:
    """Where the piece at an end that lies at v changes its band."""
    size, _ = _sizes(asked, axis)
    figures = asked.limits
    parts = (
        0.0,
        asked.ends.least,
        hair_of(size, figures),
        figures.fair_part.value * size,
        figures.half_part.value * size,
        size,
    )
    yield from (_start_that_leaves(border, v, part, size) - shift for part in parts)


def _start_that_leaves(border: Border, v: float, part: float, size: float) -> float:
    """The start at which `part` mm of a tile are left at an end that lies at v."""
    return v - part if border.side.sign > 0 else v + part - size


def _of_equal_ends(asked: StartQuestion, axis: Axis) -> Iterator[float]:
    """The crossings: pieces at two opposite ends are alike where a joint or a tile has its middle between them."""
    size, _ = _sizes(asked, axis)
    borders = asked.ends.upright if axis == "across" else asked.ends.level
    within = asked.limits.equal_ends.value
    lows = [border for border in borders if border.side.sign < 0]
    highs = [border for border in borders if border.side.sign > 0]
    # Between two ends that lie nearer to each other than a tile is wide a piece stays as it is while the others grow.
    fixed = {abs(v - o) for border in borders for v, o in ((border.v0, border.o0), (border.v1, border.o1))}
    for border in borders:
        for piece in sorted(one for one in fixed if one < size):
            for by in (-within, 0.0, within):
                for shift in _shifts(asked, axis):
                    yield from (_start_that_leaves(border, v, piece + by, size) - shift for v in (border.v0, border.v1))
    shifts = _shifts(asked, axis)
    others = shifts if len(shifts) <= CROSSED else ()
    crossed = {one + other for one in shifts for other in (others or (one,))}
    for low in lows:
        for high in highs:
            if low.end.of != high.end.of:
                continue
            for both in crossed:
                for a in {low.v0, low.v1}:
                    for b in {high.v0, high.v1}:
                        yield from _alike(asked, axis, a, b, both)


def _alike(asked: StartQuestion, axis: Axis, low: float, high: float, shifts: float) -> Iterator[float]:
    """Where pieces at two opposite ends, at `low` and `high`, are alike, and where they just are so no more."""
    size, pitch = _sizes(asked, axis)
    within = asked.limits.equal_ends.value
    middle = (low + high - size - shifts) / 2
    for by in (0.0, pitch / 2):
        yield from (middle + by, middle + by - within / 2, middle + by + within / 2)


def _of_holes(asked: StartQuestion, axis: Axis) -> Iterator[float]:
    for hole in asked.holes:
        low, high = (hole.box.min_x, hole.box.max_x) if axis == "across" else (hole.box.min_y, hole.box.max_y)
        for shift in _shifts(asked, axis):
            yield from _of_hole(asked, axis, low - shift, high - shift, high - low)


def _of_hole(asked: StartQuestion, axis: Axis, low: float, high: float, wide: float) -> Iterator[float]:
    """Where a hole from low to high begins and ceases to bite, and to leave a bridge; `wide` is its whole width."""
    size, _ = _sizes(asked, axis)
    want = asked.want
    bridges = (0.0, want.bridge.least_stop, want.bridge.least_look)
    fair = fair_share(wide, want.bite, want.part)
    yield from (low - bridge for bridge in bridges)
    yield from (high + bridge - size for bridge in bridges)
    yield from (high - fair, low + fair - size, high, low - size)


def where_the_other_tells(asked: StartQuestion, axis: Axis, other: float) -> Iterator[float]:
    """More of them, once the start on the other axis is known to be `other`.

    A circle is not as wide in the tiles that its middle does not lie in as it is over all; and an end that leans is met
    by tiles, not by joints.
    """
    yield from _of_leaning_ends(asked, axis, other)
    grid, across = asked.grid, axis == "across"
    size, pitch = (grid.h, grid.pitch_v) if across else (grid.w, grid.pitch_u)
    for hole in asked.holes:
        if not hole.radius:
            continue
        x, y = (hole.box.min_x + hole.box.max_x) / 2, (hole.box.min_y + hole.box.max_y) / 2
        middle, own = (y, x) if across else (x, y)
        for phase, shift in enumerate(phases_of(grid)):
            start = other if across else other + shift
            first = math.floor((middle - hole.radius - start) / pitch)
            for number in range(first, math.floor((middle + hole.radius - start) / pitch) + 1):
                low = start + number * pitch
                off = max(low - middle, middle - low - size, 0.0)
                if not 0.0 < off < hole.radius or (across and number % len(phases_of(grid)) != phase):
                    continue
                half = math.sqrt(hole.radius**2 - off**2)
                by = shift if across else 0.0
                yield from _of_hole(asked, axis, own - half - by, own + half - by, 2 * hole.radius)


def _of_leaning_ends(asked: StartQuestion, axis: Axis, other: float) -> Iterator[float]:
    """Where pieces change their band, and opposite ones are alike, at the places where tiles meet leaning ends."""
    met = list(_met(asked, axis, other))
    if all(border.is_true for border, _, _ in met):
        return
    for border, v, shift in met:
        if not border.is_true:
            yield from _of_end(asked, axis, border, v, shift)
    for low, a, one in met:
        for high, b, two in met:
            own = low.end.of == high.end.of
            if low.side.sign < 0 < high.side.sign and own and not (low.is_true and high.is_true):
                yield from _alike(asked, axis, a, b, one + two)


def _met(asked: StartQuestion, axis: Axis, other: float) -> Iterator[tuple[Border, float, float]]:
    """Each end with its outermost places that tiles meet, and how far the course there is shifted."""
    grid, across = asked.grid, axis == "across"
    size, pitch = (grid.h, grid.pitch_v) if across else (grid.w, grid.pitch_u)
    phases = phases_of(grid)
    for border in asked.ends.upright if across else asked.ends.level:
        for phase, shift in enumerate(phases):
            start, by = (other, shift) if across else (other + shift, 0.0)
            if border.is_true:
                yield border, border.v0, by
                continue
            first = math.ceil((border.t0 - start - size) / pitch)
            last = math.floor((border.t1 - start) / pitch)
            if across and len(phases) > 1:
                first += (phase - first) % len(phases)
                last -= (last - phase) % len(phases)
            for number in {first, last}:
                low = start + number * pitch
                for t in (max(border.t0, low), min(border.t1, low + size)):
                    if border.t0 <= t <= border.t1:
                        yield border, border.at(t)[0], by


def _of_rows(asked: StartQuestion, axis: Axis) -> Iterator[float]:
    """Where what ends a course goes into another one, which matters where courses are shifted against each other."""
    if axis == "across" or len(phases_of(asked.grid)) == 1:
        return
    size, _ = _sizes(asked, axis)
    for border in asked.ends.upright:
        for t in (border.t0, border.t1):
            yield from (t, t - size)


def _of_batten(asked: StartQuestion, axis: Axis) -> Iterator[float]:
    """Where a first course needs a batten, and where a hole comes to lie in what waits until that is off."""
    if axis == "across" or asked.sits is None:
        return
    lowest, _, _ = asked.ends.from_floor_to_ceiling
    if lowest is not None:
        yield lowest + asked.limits.packers.value
    yield from (hole.box.min_y + asked.grid.joint for hole in asked.holes)


def offsets(
    points: Iterable[float], pitch: float, origin: float, step: float, said: Iterable[tuple[float, int]]
) -> list[Offset]:
    """What is looked at over one pitch from `origin` on: the middle of every interval in whole steps, what is said.

    `said` has offsets that need no figure of their own, wherever they lie, with how they are said.
    """
    marks = sorted({round(origin + (point - origin) % pitch, 6) for point in points})
    marks = [mark for mark in marks if mark < origin + pitch - TOUCH] or [origin]
    around = [*marks, marks[0] + pitch]
    found = [Offset(_middle(low, high, step), low, high) for low, high in pairwise(around) if high - low > TOUCH]
    for at, way in said:
        place = marks[0] + (at - marks[0]) % pitch
        index = min(bisect_right(around, place), len(marks)) - 1
        found.append(Offset(at, around[index] - place + at, around[index + 1] - place + at, way))
    return found


def at_turns(every: Iterable[Offset]) -> list[Offset]:
    """The breakpoints themselves, where a figure is just not yet over its limit: they may not move at all."""
    return [Offset(low, low, low) for low in sorted({one.low for one in every})]


def easily_said(asked: StartQuestion, axis: Axis, lines: Iterable[float], step: float) -> Iterator[tuple[float, int]]:
    """Starts that need no figure: joint, middle or edge on a line; those with a plain one: see `Offset.way`.

    A full tile at an end, and a joint or a tile on the middle between two opposite ends.
    """
    size, _ = _sizes(asked, axis)
    joint = asked.grid.joint
    for line in lines:
        yield from ((at, 0) for at in (line + joint / 2, line - size / 2, line, line - size))
    borders = asked.ends.upright if axis == "across" else asked.ends.level
    for border in borders:
        for v in {border.v0, border.v1}:
            if border.side.sign > 0:
                yield in_steps(v, step, -1) - size, 1
            else:
                yield in_steps(v, step, 1), 1
    middles = {
        (low.v0 + high.v0) / 2
        for low in borders
        for high in borders
        if low.side.sign < 0 < high.side.sign and low.end.of == high.end.of
    }
    for middle in sorted(middles):
        whole = round(middle / step) * step
        yield from ((whole + joint / 2, 1), (whole - size / 2, 1))


def _middle(low: float, high: float, step: float) -> float:
    """The middle of an interval in whole steps where one lies inside it, else in the coarsest part of one."""
    middle = (low + high) / 2
    for part in FINER:
        at = round(middle / (step * part)) * step * part
        if low + TOUCH < at < high - TOUCH:
            return at
    return middle


def in_steps(at: float, step: float, towards: int) -> float:
    """The next whole step at or beyond an offset, upward where `towards` is 1, downward where it is -1."""
    return towards * math.ceil(towards * at / step - TOUCH) * step
