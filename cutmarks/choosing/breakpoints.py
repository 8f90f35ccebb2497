"""Where what counts changes as a start moves along one axis, and the offsets that are looked at between.

All that is measured is piecewise linear in the offset: a piece grows until it is a whole tile, a bridge shrinks until
the hole bites the joint. So it changes its band at finitely many offsets, and between two of them any is as good.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise

from cutmarks.checks.starts import fair_share
from cutmarks.choosing.borders import Border
from cutmarks.choosing.figures import hair_of
from cutmarks.choosing.leaves import rows_till_alike
from cutmarks.choosing.question import StartQuestion
from cutmarks.choosing.steps import Offset, in_steps, middle_of
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.sides import Axis


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


def _shifts(asked: StartQuestion, axis: Axis, low: float, high: float) -> Sequence[float]:
    """How far the courses are shifted that may go into what reaches from `low` to `high`, mm; up there is one way."""
    if axis == "up":
        return (0.0,)
    shifts = asked.courses.shifts
    return [shifts[way] for way in asked.ways_between(low, high)]


def _of_ends(asked: StartQuestion, axis: Axis) -> Iterator[float]:
    for border in asked.ends.upright if axis == "across" else asked.ends.level:
        for shift in _shifts(asked, axis, border.t0, border.t1):
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
        size + asked.ends.least,
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
    places = [
        (border, v - shift)
        for border in borders
        for shift in _shifts(asked, axis, border.t0, border.t1)
        for v in {border.v0, border.v1}
    ]
    # Between two ends that lie nearer to each other than a tile is wide a piece stays as it is while the others grow.
    fixed = {abs(v - o) for border in borders for v, o in ((border.v0, border.o0), (border.v1, border.o1))}
    for piece in sorted(one for one in fixed if one < size):
        for by in (-within, 0.0, within):
            yield from (_start_that_leaves(border, place, piece + by, size) for border, place in places)
    yield from _alike(asked, axis, places)


def _alike(asked: StartQuestion, axis: Axis, places: Iterable[tuple[Border, float]]) -> Iterator[float]:
    """Where pieces at opposite ends are alike, and where they just are so no more.

    Each end comes with its place less the shift of its course: of two that face each other the sum alone counts, and
    that but for whole pitches, so that many pairs are one.
    """
    size, pitch = _sizes(asked, axis)
    within = asked.limits.equal_ends.value
    lows: dict[str, set[float]] = {}
    highs: dict[str, set[float]] = {}
    for border, place in places:
        (lows if border.side.sign < 0 else highs).setdefault(border.end.of, set()).add(round(place, 6))
    sums = {round((a + b) % pitch, 6) for of in lows for a in lows[of] for b in highs.get(of, ())}
    for one in sums:
        for by in (0.0, pitch / 2):
            middle = (one - size) / 2 + by
            yield from (middle, middle - within / 2, middle + within / 2)


def _of_holes(asked: StartQuestion, axis: Axis) -> Iterator[float]:
    for hole in asked.holes:
        low, high = (hole.box.min_x, hole.box.max_x) if axis == "across" else (hole.box.min_y, hole.box.max_y)
        for shift in _shifts(asked, axis, hole.box.min_y, hole.box.max_y):
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
        # Across each course has its own shift; up it is its columns that lie otherwise in every way of a course.
        for start in (other,) if across else [other + shift for shift in asked.courses.shifts]:
            first = math.floor((middle - hole.radius - start) / pitch)
            for number in range(first, math.floor((middle + hole.radius - start) / pitch) + 1):
                low = start + number * pitch
                off = max(low - middle, middle - low - size, 0.0)
                if not 0.0 < off < hole.radius:
                    continue
                half = math.sqrt(hole.radius**2 - off**2)
                by = grid.shift(number) if across else 0.0
                yield from _of_hole(asked, axis, own - half - by, own + half - by, 2 * hole.radius)


def _of_leaning_ends(asked: StartQuestion, axis: Axis, other: float) -> Iterator[float]:
    """Where pieces change their band, and opposite ones are alike, at the places where tiles meet leaning ends."""
    met = list(_met(asked, axis, other))
    leaning = {border.end.of for border, _ in met if not border.is_true}
    for border, place in met:
        if not border.is_true:
            yield from _of_end(asked, axis, border, place, 0.0)
    yield from _alike(asked, axis, [one for one in met if one[0].end.of in leaning])


def _met(asked: StartQuestion, axis: Axis, other: float) -> Iterator[tuple[Border, float]]:
    """Each end with its outermost places that tiles meet, each less the shift of the course there."""
    grid, across = asked.grid, axis == "across"
    size, pitch = (grid.h, grid.pitch_v) if across else (grid.w, grid.pitch_u)
    alike = rows_till_alike(grid) if across else 1
    starts = (other,) if across else [other + shift for shift in asked.courses.shifts]
    for border in asked.ends.upright if across else asked.ends.level:
        for start in starts:
            first = math.ceil((border.t0 - start - size) / pitch)
            last = math.floor((border.t1 - start) / pitch)
            outermost = {*range(first, min(first + alike, last + 1)), *range(max(last + 1 - alike, first), last + 1)}
            for number in outermost:
                low = start + number * pitch
                by = grid.shift(number) if across else 0.0
                for t in (max(border.t0, low), min(border.t1, low + size)):
                    if border.t0 <= t <= border.t1:
                        yield border, border.at(t)[0] - by


def _of_rows(asked: StartQuestion, axis: Axis) -> Iterator[float]:
    """Where what ends a course goes into another one, which matters where courses are shifted against each other."""
    if axis == "across" or len(asked.courses.shifts) == 1:
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
    found = [Offset(middle_of(low, high, step), low, high) for low, high in pairwise(around) if high - low > TOUCH]
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
