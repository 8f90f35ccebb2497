"""What a start leaves: the pieces at every end, and how many pieces there are, in closed form and without a layout.

A start is where the bottom-left corner of tile [0, 0] lies, (x, y) in the Surface frame, with a grid that says the
rest; the grid's own placement is not looked at. What is worked out here is what `tiling.layout` lays: tests hold the
two together.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import cached_property, lru_cache
from typing import Any, NamedTuple

from msgspec import Struct, field

from cutmarks.choosing.borders import Border, EndOf, Slab
from cutmarks.geometry.tolerance import COINCIDE, TOUCH
from cutmarks.sides import Axis, Side
from cutmarks.tiling.model import Grid

ALIKE = 1e-3
"""Shifts of two courses that differ by less, mm, lie alike."""
LEG = 0.01
"""A leg beside a window, however thin, is a part of its piece, mm."""
MOST_PHASES = 24
"""A bond whose courses come back to where they were only later than this is looked at course by course."""
MOST_COURSES = 100
"""And no further than so many courses from the start."""
MOST_KEPT = 256
"""Starts on one axis for which it is kept where stretches are met."""


class Left(NamedTuple):
    """What is left at one end, mm: the least and the most of its pieces at their narrowest; of how much a tile has.

    cut    whether any piece is cut there at all.
    short  how much further than its gap a whole tile ends from there, mm: less than any piece.
    """

    least: float
    most: float
    whole: float
    cut: bool
    short: float

    @property
    def part(self) -> float:
        """The least as a part of a tile."""
        return self.least / self.whole


class PieceCount(NamedTuple):
    """How many pieces: whole, cut, and the tiles that they come out of.

    paired  tiles that serve two ends: both of one course, or, where the offcut is carried on, of two.
    """

    whole: int = 0
    cut: int = 0
    paired: int = 0

    @property
    def tiles(self) -> int:
        """The tiles that are used, as far as one serves two ends."""
        return self.whole + self.cut - self.paired


def phases_of(grid: Grid) -> tuple[float, ...]:
    """The different shifts of courses, from the start course on, mm, until they come back; at least one."""
    return _phases(grid.bond_shift, grid.progressive, grid.pitch_u)


def comes_back(grid: Grid) -> bool:
    """Whether a course lies as an earlier one does, after few enough of them to go by the ways in which they lie."""
    return len(phases_of(grid)) < MOST_PHASES


def rows_till_alike(grid: Grid) -> int:
    """After how many courses one lies as this one does; more than any surface has where none does."""
    return len(phases_of(grid)) if comes_back(grid) else 10**6


class CourseWays(NamedTuple):
    """The ways in which courses lie, as their shifts, mm: those that come back, else course by course from `first` on.

    What lies beside row `first` or above the last one is not told apart.
    """

    shifts: tuple[float, ...]
    first: int = 0
    come_back: bool = True

    def way(self, row: int) -> int | None:
        """Which of them a row is; None where it was not looked at."""
        if self.come_back:
            return row % len(self.shifts)
        number = row - self.first
        return number if 0 <= number < len(self.shifts) else None

    def ways(self, first: int, last: int) -> Sequence[int]:
        """Which of them the rows from `first` to `last` are."""
        if self.come_back:
            return range(len(self.shifts))
        return range(max(first - self.first, 0), min(last - self.first + 1, len(self.shifts)))


def courses_of(grid: Grid, low: float, high: float, starts: tuple[float, float]) -> CourseWays:
    """The ways in which the courses lie between two heights, wherever the start lies between two others."""
    if comes_back(grid):
        return CourseWays(phases_of(grid))
    first = max(math.floor((low - starts[1]) / grid.pitch_v), -MOST_COURSES)
    last = min(math.floor((high - starts[0]) / grid.pitch_v), MOST_COURSES)
    return CourseWays(tuple(grid.shift(row) % grid.pitch_u for row in range(first, last + 1)), first, come_back=False)


@lru_cache(maxsize=64)
def _phases(bond_shift: float, progressive: bool, pitch: float) -> tuple[float, ...]:
    found: list[float] = []
    for row in range(MOST_PHASES):
        shift = bond_shift * (row if progressive else row % 2) % pitch
        if found and min(abs(shift - found[0]), pitch - abs(shift - found[0])) < ALIKE:
            break
        found.append(shift)
    return tuple(found)


class _InCourse(NamedTuple):
    """The whole and the cut pieces of one course, and how wide those are that are cut at its ends, mm; 0: none is."""

    whole: int
    cut: int
    left: float
    right: float


class Met(NamedTuple):
    """A stretch as tiles meet it: va and vb are its places at both ends, oa and ob those of what lies behind it, mm.

    All as if it ended them going up the axis: of one that begins them `flipped` says so, and the places are negative.
    low, high  the lesser and the greater of va and vb; deep: how far it is to what lies behind at the most.
    least  what is no piece; shift: that of the course.
    """

    va: float
    vb: float
    oa: float
    ob: float
    low: float
    high: float
    deep: float
    least: float
    flipped: bool
    shift: float = 0.0


class _KeptMet:
    """Where stretches are met at the starts looked at last, by axis: most looks change one, and many come back."""

    def __init__(self) -> None:
        self._kept: dict[tuple[Axis, object], dict[object, Any]] = {}

    def at(self, axis: Axis, key: object) -> dict[object, Any]:
        """What is kept of an axis for this start, empty where it is a new one."""
        if (axis, key) not in self._kept:
            if len(self._kept) >= MOST_KEPT:
                self._kept.clear()
            self._kept[axis, key] = {}
        return self._kept[axis, key]


class AreaEnds(Struct, dict=True):
    """The ends of an area, and what a start leaves at each.

    upright, level  what ends its courses and what ends its columns; slabs: its ground in bands along y.
    least  what trimming leaves under this, mm, is no piece; kerf: what a saw takes, mm.
    is_open  a side has no end: then nothing is counted.
    """

    upright: Sequence[Border]
    level: Sequence[Border]
    slabs: Sequence[Slab]
    least: float
    kerf: float
    is_open: bool = False
    _rows: dict[object, _InCourse] = field(default_factory=dict)
    _met: _KeptMet = field(default_factory=lambda: _KeptMet())

    @cached_property
    def from_floor_to_ceiling(self) -> tuple[float | None, float | None, float | None]:
        """The lowest and the highest place of what ends the area below, and the highest above; None: nothing does."""
        low: list[float] = []
        high: list[float] = []
        for border in self.level:
            if border.end.kind != "void":
                (low if border.side.sign < 0 else high).extend((border.v0, border.v1))
        return min(low, default=None), max(low, default=None), max(high, default=None)

    @cached_property
    def floors(self) -> tuple[tuple[float, float], ...]:
        """What ends the area below, stretch by stretch from step to step: the lowest and the highest place of each.

        Where another wall round which courses run, or a limit of the area's own, ends it, that is no stretch beside the
        first: it belongs to it.
        """
        found: list[list[float]] = [[]]
        stepping: list[list[float]] = []
        before: Border | None = None
        for border in sorted(self.level, key=lambda one: one.t0):
            if border.side.sign > 0 or border.end.kind == "void":
                continue
            if border.end.kind in ("limit", "other"):
                found[0] += (border.v0, border.v1)
                continue
            # At a step one ends where the next begins; across a door the floor goes on.
            jumps = before is not None and border.t0 - before.t1 <= TOUCH < abs(border.v0 - before.v1)
            if before is None or jumps:
                stepping.append([])
            stepping[-1] += (border.v0, border.v1)
            before = border
        found[0] += stepping[0] if stepping else []
        return tuple((min(heights), max(heights)) for heights in (*found, *stepping[1:]) if heights)

    def left(self, grid: Grid, x: float, y: float) -> dict[EndOf, Left]:
        """What lies at each end."""
        found: dict[EndOf, tuple[float, float, float]] = {}
        met = self._met.at("across", (y, grid.w, grid.h, grid.joint, grid.bond_shift))
        for number, border in enumerate(self.upright):
            _add(found, border.end, self._upright(met, number, border, grid, x, y), grid.w)
        for number, border in enumerate(self.level):
            _add(found, border.end, self._level(met, number, border, grid, x, y), grid.h)
        return {
            end: Left(min(low, whole), min(high, whole), whole, low < whole - TOUCH, max(high - whole, 0.0))
            for end, (low, high, whole) in found.items()
        }

    def _upright(
        self, met: dict[object, Any], number: int, border: Border, grid: Grid, x: float, y: float
    ) -> list[float]:
        """What lies at an upright stretch; `met` is what is kept for this y."""
        if number not in met:
            met[number] = list(self._in_courses(border, grid, y))
        pitch, w = grid.pitch_u, grid.w
        return [piece for one in met[number] for piece in pieces_of(one, x + one.shift, pitch, w)]

    def _in_courses(self, border: Border, grid: Grid, y: float) -> Iterator[Met]:
        """Where the courses of a start at y meet an upright stretch."""
        first, last = rows_met(border, grid, y, self.least)
        rows: Iterable[int] = range(first, last + 1)
        if border.is_true:
            # Courses that are shifted alike leave the same of a plumb end; the last one may be met in part alone.
            rows = {*range(first, min(last, first + rows_till_alike(grid)) + 1), last} if last >= first else ()
        for row in rows:
            low = y + row * grid.pitch_v
            a, b = max(border.t0, low), min(border.t1, low + grid.h)
            least = self._least_of(border, a, b, low, low + grid.h)
            yield met_at(border, border.at(a), border.at(b), least, grid.shift(row))

    def _least_of(self, border: Border, a: float, b: float, low: float, high: float) -> float:
        """What is no piece at an end, of a tile from low to high that lies beside it from a to b.

        Beside a window the tile may go on above or below it, and a thin leg is a part of it.
        """
        is_leg = (border.turns0 and a > low + TOUCH) or (border.turns1 and b < high - TOUCH)
        return LEG if is_leg else self.least

    def _level(
        self, met: dict[object, Any], number: int, border: Border, grid: Grid, x: float, y: float
    ) -> list[float]:
        """What lies at a level stretch; `met` is what is kept for this y."""
        if ("level", number) not in met:
            met["level", number] = self._wherever(border, grid, y)
        pieces: list[float] | None = met["level", number]
        return self._level_in_columns(number, border, grid, x, y) if pieces is None else pieces

    def _wherever(self, border: Border, grid: Grid, y: float) -> list[float] | None:
        """What lies at a level stretch wherever the columns lie; None where that hangs on them."""
        if border.turns0 or border.turns1 or not border.is_true:
            return None
        if border.t1 - border.t0 <= 2 * (grid.joint + 2 * self.least):
            return None
        whole = met_at(border, (border.v0, border.o0), (border.v1, border.o1), self.least)
        return pieces_of(whole, y, grid.pitch_v, grid.h)

    def _level_in_columns(self, number: int, border: Border, grid: Grid, x: float, y: float) -> list[float]:
        low, high = sorted((border.v0, border.v1))
        if border.side.sign > 0:
            rows = range(
                math.floor((low - y + TOUCH) / grid.pitch_v), math.floor((high - y + TOUCH) / grid.pitch_v) + 1
            )
        else:
            begin = y + grid.h + TOUCH
            rows = range(math.ceil((low - begin) / grid.pitch_v), math.ceil((high - begin) / grid.pitch_v) + 1)
        met = self._met.at("up", (x, grid.w, grid.joint))
        found: list[float] = []
        for row in rows:
            shift = grid.shift(row)
            if (number, shift) not in met:
                met[number, shift] = list(self._in_columns(border, grid, x + shift))
            for one in met[number, shift]:
                found += pieces_of(one, y, grid.pitch_v, grid.h, only=row)
        return found

    def _in_columns(self, border: Border, grid: Grid, along: float) -> Iterator[Met]:
        """Where the tiles of a course that begins at `along` meet a level stretch."""
        first = math.ceil((border.t0 + self.least - along - grid.w) / grid.pitch_u)
        last = math.floor((border.t1 - self.least - along) / grid.pitch_u)
        for column in range(first, last + 1):
            left = along + column * grid.pitch_u
            a, b = max(border.t0, left), min(border.t1, left + grid.w)
            yield met_at(border, border.at(a), border.at(b), self._least_of(border, a, b, left, left + grid.w))

    def counted(self, grid: Grid, x: float, y: float) -> PieceCount:
        """How many pieces are whole and how many cut, and how many tiles serve two ends."""
        whole = cut = paired = 0
        came_off = 0.0
        if self.is_open or not self.slabs:
            return PieceCount()
        low, high = self.slabs[0].t0, self.slabs[-1].t1
        first = 0
        for row in range(math.floor((low - y) / grid.pitch_v), math.floor((high - y) / grid.pitch_v) + 1):
            a = y + row * grid.pitch_v
            b = a + grid.h
            while first < len(self.slabs) and self.slabs[first].t1 <= a + TOUCH:
                first += 1
            here = []
            for number in range(first, len(self.slabs)):
                slab = self.slabs[number]
                if slab.t0 >= b - TOUCH:
                    break
                here.append((number, slab))
            if not here:
                continue
            one = self._row(here, a, b, grid, x + grid.shift(row))
            whole, cut = whole + one.whole, cut + one.cut
            if grid.carried is None:
                paired += self._from_one_tile(one.left, one.right, grid)
                continue
            begins, ends = (one.left, one.right) if grid.carried is Side.LEFT else (one.right, one.left)
            paired += self._from_one_tile(came_off, begins, grid)
            came_off = ends
        return PieceCount(whole, cut, paired)

    def _from_one_tile(self, one: float, other: float, grid: Grid) -> bool:
        """Whether two pieces that are cut, so wide, come out of one tile; 0 is none."""
        return one > 0.0 and other > 0.0 and one + other + self.kerf <= grid.w + COINCIDE

    def _row(self, here: Sequence[tuple[int, Slab]], a: float, b: float, grid: Grid, x: float) -> _InCourse:
        """The whole and the cut pieces of one course, and those at its ends."""
        key: object = None
        number, slab = here[0]
        one_band = len(here) == 1 and slab.t0 <= a + TOUCH and slab.t1 >= b - TOUCH
        if one_band and all(map(_is_upright, slab.spans)):
            key = number, round(x % grid.pitch_u, 6), grid.w, grid.h, grid.joint
            if key in self._rows:
                return self._rows[key]
        cells: dict[int, _Cell] = {}
        runs: list[tuple[int, int]] = []
        for _, slab in here:
            runs += _cells(cells, slab, max(a, slab.t0), min(b, slab.t1), grid, x, in_runs=one_band)
        found = self._of_cells(cells, runs, grid)
        if key is not None:
            self._rows[key] = found
        return found

    def _of_cells(self, cells: Mapping[int, _Cell], runs: Sequence[tuple[int, int]], grid: Grid) -> _InCourse:
        whole = sum(last - first + 1 for first, last in runs)
        cut = 0
        ends = [(column, grid.w, True) for run in runs for column in run]
        for column, cell in cells.items():
            if cell.widest < self.least - TOUCH or cell.tallest < self.least - TOUCH:
                continue
            is_whole = cell.full >= grid.h - TOUCH
            whole, cut = whole + is_whole, cut + (not is_whole)
            ends.append((column, cell.x1 - cell.x0, is_whole))
        if len(ends) < 2:
            return _InCourse(whole, cut, 0.0, 0.0)
        (_, left, left_whole), (_, right, right_whole) = min(ends), max(ends)
        return _InCourse(whole, cut, 0.0 if left_whole else left, 0.0 if right_whole else right)


class _Cell(Struct):
    """What bands have of one tile, mm: how high it is covered from side to side, its sides, and its largest part.

    x0, x1           the sides of all that is there.
    y1, run          the top of what was put in last, and the foot of what hangs together under it.
    widest, tallest  of a part that hangs together: the two strips beside a window as wide as the tile are no piece.
    """

    full: float = 0.0
    x0: float = math.inf
    x1: float = -math.inf
    y1: float = -math.inf
    run: float = 0.0
    widest: float = 0.0
    tallest: float = 0.0


def _cells(
    cells: dict[int, _Cell], slab: Slab, a: float, b: float, grid: Grid, x: float, *, in_runs: bool
) -> Iterator[tuple[int, int]]:
    """Put what a band has of each column into `cells`; where `in_runs` those it covers are given as runs instead."""
    if b - a <= TOUCH:
        return
    pa, pb = (a - slab.t0) / (slab.t1 - slab.t0), (b - slab.t0) / (slab.t1 - slab.t0)
    pitch = grid.pitch_u
    for l0, l1, h0, h1 in slab.spans:
        la, lb, ha, hb = l0 + pa * (l1 - l0), l0 + pb * (l1 - l0), h0 + pa * (h1 - h0), h0 + pb * (h1 - h0)
        least, most = min(la, lb), max(ha, hb)
        first = math.floor((least - x - grid.w + TOUCH) / pitch) + 1
        last = math.ceil((most - x - TOUCH) / pitch) - 1
        covered = math.ceil((max(la, lb) - x - TOUCH) / pitch), math.floor((min(ha, hb) - x - grid.w + TOUCH) / pitch)
        columns: Iterable[int] = range(first, last + 1)
        if in_runs and covered[0] <= covered[1]:
            yield covered
            columns = (*range(first, covered[0]), *range(covered[1] + 1, last + 1))
        for column in columns:
            left = x + column * pitch
            right = left + grid.w
            full = covered[0] <= column <= covered[1]
            # Where an end slants it comes into a column on a part of the band alone.
            y0, y1 = (a, b) if full else _within(la, lb, ha, hb, left, right, a, b)
            if y1 - y0 <= TOUCH:
                continue
            cell = cells.setdefault(column, _Cell())
            cell.full += (b - a) if full else 0.0
            x0, x1 = max(least, left), min(most, right)
            cell.x0, cell.x1, cell.widest = min(cell.x0, x0), max(cell.x1, x1), max(cell.widest, x1 - x0)
            cell.run = y0 if y0 > cell.y1 + TOUCH else min(cell.run, y0)
            cell.y1 = max(cell.y1, y1)
            cell.tallest = max(cell.tallest, cell.y1 - cell.run)


def _within(
    la: float, lb: float, ha: float, hb: float, left: float, right: float, a: float, b: float
) -> tuple[float, float]:
    """Between which heights of a band a span from (la, lb) to (ha, hb) reaches into a column."""
    low, high = a, b
    for at_a, at_b in ((right - la, right - lb), (ha - left, hb - left)):
        if at_a <= 0.0 and at_b <= 0.0:
            return a, a
        if at_a < 0.0:
            low = max(low, a + (b - a) * at_a / (at_a - at_b))
        elif at_b < 0.0:
            high = min(high, a + (b - a) * at_a / (at_a - at_b))
    return low, high


def _is_upright(span: tuple[float, float, float, float]) -> bool:
    return abs(span[0] - span[1]) <= TOUCH and abs(span[2] - span[3]) <= TOUCH


def rows_met(border: Border, grid: Grid, y: float, least: float) -> tuple[int, int]:
    """The first and the last course that an upright stretch goes into by more than `least` mm."""
    first = math.ceil((border.t0 + least - y - grid.h) / grid.pitch_v)
    return first, math.floor((border.t1 - least - y) / grid.pitch_v)


def met_at(
    border: Border, one: tuple[float, float], other: tuple[float, float], least: float, shift: float = 0.0
) -> Met:
    """A stretch as a tile meets it; `one` and `other` are its place and what lies behind it at both ends of that."""
    (va, oa), (vb, ob) = one, other
    flipped = border.side.sign < 0
    if flipped:
        va, oa, vb, ob = -va, -oa, -vb, -ob
    return Met(va, vb, oa, ob, min(va, vb), max(va, vb), max(va - oa, vb - ob), least, flipped, shift)


def pieces_of(met: Met, start: float, pitch: float, size: float, only: int | None = None) -> list[float]:
    """How far pieces reach in from a stretch at their narrowest, mm; for a whole one how far its other side is.

    `start` is where a tile begins. A stretch that leans may lie in more than one tile: the piece that it ends in a
    point has 0. `only` is the one row or column that is looked at.
    """
    va, vb, oa, ob, low, high, deep, least, flipped, _ = met
    if flipped:
        start = -(start + size)
        only = None if only is None else -only
    first = math.floor((low - start + TOUCH) / pitch)
    last = math.floor((high - start + TOUCH) / pitch)
    found: list[float] = []
    for number in range(first, last + 1):
        if only is not None and number != only:
            continue
        left = start + number * pitch
        if min(high - left, deep) < least - TOUCH:
            if number == first:
                found.append(low - left + pitch)  # nothing fits in: the tile before it is whole
        elif low - left >= size - TOUCH:
            found.append(max(low - left, size))
        else:
            found.append(max(0.0, min(low - left, size, va - oa, vb - ob)))
    return found


def _add(found: dict[EndOf, tuple[float, float, float]], end: EndOf, sizes: Sequence[float], whole: float) -> None:
    """Put what a stretch leaves, the least and the most of it, to what others of the same end do."""
    if not sizes:
        return
    low, high = min(sizes), max(sizes)
    before = found.get(end)
    found[end] = (low, high, whole) if before is None else (min(before[0], low), max(before[1], high), whole)
