"""One area as it falls: which places hold a whole tile, which a cut piece, which nothing, and what each is called.

The cost follows what the ground's boundary touches: whole tiles are counted by division and never built.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Iterator
from functools import cached_property

from msgspec import Struct, field

from cutmarks.geometry.edges import Bounds
from cutmarks.geometry.frames import Courses, Placement, Surface, Tile
from cutmarks.geometry.regions import Region, intersection, region, seen_in, spans_across
from cutmarks.geometry.rings import polygon
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.limits import LIMITS
from cutmarks.readings import UNDER
from cutmarks.sides import Side
from cutmarks.tiling.model import Counts, Grid, Piece, Place, TileKind
from cutmarks.tiling.touched import shifted, sorted_by_size, touched_runs


class Course(Struct, frozen=True):
    """One row of places: runs of columns that the ground's boundary passes through, and of whole tiles between them."""

    row: int
    touched: tuple[range, ...]
    whole: tuple[range, ...]

    def is_touched(self, column: int) -> bool:
        """Whether the ground's boundary passes through this column's tile."""
        index = bisect_right(self.touched, column, key=lambda run: run.start) - 1
        return index >= 0 and column in self.touched[index]

    def is_whole(self, column: int) -> bool:
        """Whether this column's tile is in a run of whole ones."""
        index = bisect_right(self.whole, column, key=lambda run: run.start) - 1
        return index >= 0 and column in self.whole[index]

    def touched_columns(self) -> Iterator[int]:
        """Every such column, from the left."""
        for run in self.touched:
            yield from run


class Layout(Struct, dict=True):
    """An area's grid over its ground; remembers what it has built.

    bounds  the area inside edges' gaps and its own limits, in the Courses frame; `ground` the same less voids.
    open_to  the sides, along the courses, on which nothing ends it. Where other edges rake they may meet there, far
             off the wall: that is no end.
    least_piece  what trimming leaves under this, mm, is no piece.
    stands_at  the height of the area's base, v in the Courses frame: the line that its start sits on, or below which
             nothing of it lies. None: it stands on none, and its courses count from the lowest.
    """

    area: str
    surface: str
    tile: TileKind
    grid: Grid
    bounds: Region[Courses]
    ground: Region[Courses]
    reference: tuple[float, float]
    open_to: frozenset[Side] = frozenset()
    least_piece: float = LIMITS.least_piece.value
    stands_at: float | None = None
    _courses: dict[int, Course] = field(default_factory=dict)
    _rows: dict[tuple[bool, int], Region[Courses]] = field(default_factory=dict)
    _shapes: dict[Place, Region[Tile] | None] = field(default_factory=dict)
    _lost: dict[Place, list[Bounds]] = field(default_factory=dict)
    _first: dict[int, int | None] = field(default_factory=dict)
    _lowest: int | None = None
    _whole: Region[Tile] | None = None

    @property
    def extent(self) -> Bounds:
        """How far the bounds reach, in the Courses frame."""
        return self.bounds.bounds

    @cached_property
    def on_surface(self) -> Bounds:
        """How far they reach in the Surface frame."""
        return self.bounds.moved(self.grid.to_surface).bounds

    @cached_property
    def from_surface(self) -> Placement[Surface, Courses]:
        """From the Surface frame to the Courses frame."""
        return self.grid.to_surface.inverse()

    @property
    def open_left(self) -> bool:
        """Whether nothing ends the area on the left."""
        return "left" in self.open_to

    @property
    def open_below(self) -> bool:
        """Whether nothing ends the area below."""
        return "bottom" in self.open_to

    @property
    def is_open(self) -> bool:
        """Whether any side has no end: then nothing is said about trimming, nor counted."""
        return bool(self.open_to)

    def whole_shape(self) -> Region[Tile]:
        """A whole tile, in its own frame."""
        if self._whole is None:
            w, h = self.grid.w, self.grid.h
            self._whole = region(polygon([(0.0, 0.0), (w, 0.0), (w, h), (0.0, h)]))
        return self._whole

    def rows(self) -> range:
        """Every row that the bounds reach; only for an area that is not open."""
        box, pitch = self.extent, self.grid.pitch_v
        return range(math.floor((box.min_y + self.grid.joint) / pitch), math.ceil(box.max_y / pitch))

    def column_at(self, u: float, row: int) -> int:
        """The column whose tile, or the joint to the right of it, holds u in this row."""
        return math.floor((u - self.grid.shift(row)) / self.grid.pitch_u)

    def row_at(self, v: float) -> int:
        """The row whose tile, or the joint above it, holds v."""
        return math.floor(v / self.grid.pitch_v)

    def course(self, row: int) -> Course:
        """The places of one row; runs of whole tiles are empty where the area is open to a side."""
        if row not in self._courses:
            touched = touched_runs(self._in_row(self.ground, row), self.grid, row)
            self._courses[row] = Course(row, touched, () if self.is_open else tuple(self._runs(row, touched)))
        return self._courses[row]

    def _runs(self, row: int, touched: tuple[range, ...]) -> Iterator[range]:
        """Runs of columns wholly inside the ground, between the touched ones."""
        middle = row * self.grid.pitch_v + self.grid.h / 2
        for a, b in spans_across(self._in_row(self.ground, row), middle):
            first, last = self._centred_in(a, b, row)
            # Runs come in order and lie apart: those that end before this span begins are passed over at once.
            for run in touched[bisect_right(touched, first, key=lambda run: run.stop) :]:
                if run.start > last:
                    break
                if run.start > first:
                    yield range(first, run.start)
                first = run.stop
            if last >= first:
                yield range(first, last + 1)

    def _in_row(self, ground: Region[Courses], row: int) -> Region[Courses]:
        """The ground, or the bounds, as it is seen in one row; what has few corners is taken as it is."""
        if ground.is_empty:
            return ground
        key = (ground is self.ground, row)
        if key not in self._rows:
            low, box = row * self.grid.pitch_v, ground.bounds
            self._rows[key] = seen_in(ground, Bounds(box.min_x, low, box.max_x, low + self.grid.h))
        return self._rows[key]

    def _centred_in(self, a: float, b: float, row: int) -> tuple[int, int]:
        """First and last column whose tile's middle lies between a and b (the Courses frame)."""
        middle = self.grid.shift(row) + self.grid.w / 2
        return math.ceil((a - middle) / self.grid.pitch_u), math.floor((b - middle) / self.grid.pitch_u)

    def shape(self, place: Place) -> Region[Tile] | None:
        """What trimming leaves of the tile in `place`, in its own Tile frame; None where no piece is fixed."""
        if place not in self._shapes:
            self._shapes[place] = self._built(place)
        return self._shapes[place]

    def _built(self, place: Place) -> Region[Tile] | None:
        column, row = place
        corner_u, corner_v = self.grid.corner(place)
        course = self.course(row)
        if not course.is_touched(column):
            inside = (
                course.is_whole(column)
                if not self.is_open
                else _holds(self._in_row(self.ground, row), corner_u + self.grid.w / 2, corner_v + self.grid.h / 2)
            )
            return self.whole_shape() if inside else None
        kept, lost = sorted_by_size(self._trimmed(place, self.ground), self.least_piece)
        if lost:
            self._lost[place] = lost
        return kept

    def _trimmed(self, place: Place, ground: Region[Courses]) -> Region[Tile]:
        corner_u, corner_v = self.grid.corner(place)
        tile = Bounds(corner_u, corner_v, corner_u + self.grid.w, corner_v + self.grid.h)
        here = seen_in(self._in_row(ground, place[1]), tile)
        return intersection(self.whole_shape(), shifted(here, -corner_u, -corner_v))

    def is_whole(self, place: Place) -> bool:
        """Whether the tile in `place` lies inside the ground, untouched by its boundary or touched and left whole."""
        shape = self.shape(place)
        if shape is None:
            return False
        if not self.course(place[1]).is_touched(place[0]):
            return True
        return abs(shape.area - self.grid.w * self.grid.h) < TOUCH * (self.grid.w + self.grid.h)

    def counts(self) -> Counts:
        """Whole tiles by division, cut pieces, and places wholly taken by a void; nothing for an open area."""
        if self.is_open:
            return Counts(None, 0, 0)
        whole = cut = gone = 0
        for row in self.rows():
            course = self.course(row)
            whole += sum(map(len, course.whole))
            for column in course.touched_columns():
                place = (column, row)
                if self.is_whole(place):
                    whole += 1
                elif self.shape(place) is not None:
                    cut += 1
            gone += self._gone(course)
        return Counts(whole, cut, gone)

    def _gone(self, course: Course) -> int:
        """Places between number 1 and the last of the row that hold nothing, because a void takes them."""
        first, ends = self.first_column(course.row), self.columns_held(course.row)
        if first is None or ends is None:
            return 0
        cut = sum(self.shape((column, course.row)) is not None for column in course.touched_columns())
        return ends[1] - first + 1 - cut - sum(map(len, course.whole))

    def columns_held(self, row: int) -> tuple[int, int] | None:
        """First and last column of a row that hold a piece; None where none does."""
        course = self.course(row)
        held = [column for column in course.touched_columns() if self.shape((column, row)) is not None]
        held += [end for run in course.whole for end in (run.start, run.stop - 1)]
        return (min(held), max(held)) if held else None

    def held_from(self, row: int, column: int, step: int) -> int | None:
        """The nearest column at `column` or past it, to the right (step 1) or left (-1), that holds a piece."""
        touched = self.course(row).touched
        runs = sorted([*touched, *self._runs(row, touched)], key=lambda run: run.start, reverse=step < 0)
        for run in runs:
            last = run.stop - 1 if step > 0 else run.start
            if (last - column) * step < 0:
                continue
            begin = max(run.start, column) if step > 0 else min(run.stop - 1, column)
            for at in range(begin, last + step, step):
                if self.shape((at, row)) is not None:
                    return at
        return None

    def end_of_row(self, row: int, side: Side) -> int | None:
        """The first column of a row from the left, or from the right, that holds a piece; None where none does."""
        course, step = self.course(row), 1 if side is Side.LEFT else -1
        ends = [run.start if step > 0 else run.stop - 1 for run in (*course.touched, *course.whole)]
        if self.is_open:
            ends += [run.start if step > 0 else run.stop - 1 for run in self._runs(row, course.touched)]
        if not ends:
            return None
        return self.held_from(row, min(ends) if step > 0 else max(ends), step)

    def first_column(self, row: int) -> int | None:
        """The column of number 1 in this row: the first whose tile the bounds, voids left aside, leave a piece of."""
        if row not in self._first:
            self._first[row] = self._find_first(row)
        return self._first[row]

    def _find_first(self, row: int) -> int | None:
        bounds = self._in_row(self.bounds, row)
        touched = touched_runs(bounds, self.grid, row)
        middle = row * self.grid.pitch_v + self.grid.h / 2
        inside = [self._centred_in(a, b, row) for a, b in spans_across(bounds, middle)]
        starts = [run.start for run in touched] + [first for first, _ in inside]
        stops = [run.stop for run in touched] + [last + 1 for _, last in inside]
        for column in range(min(starts, default=0), max(stops, default=0)):
            if any(column in run for run in touched):
                if sorted_by_size(self._trimmed((column, row), self.bounds), self.least_piece)[0] is not None:
                    return column
            elif any(first <= column <= last for first, last in inside):
                return column
        return None

    def lowest_row(self) -> int:
        """The lowest row in which the area has any tile, cut ones included; only for an area that is not open below."""
        if self._lowest is None:
            self._lowest = self._find_lowest()
        return self._lowest

    @cached_property
    def base_row(self) -> int | None:
        """The row that stands on the area's base; None where it has none, or begins above all that the area has.

        It does not depend on the surface's edges: a floor that is measured later renames nothing.
        """
        if self.stands_at is None:
            return None
        row = math.floor((self.stands_at + self.least_piece - self.grid.h) / self.grid.pitch_v) + 1
        return row if row * self.grid.pitch_v < self.extent.max_y - TOUCH else None

    @property
    def counts_from_start(self) -> bool:
        """Whether courses count up (U) and down (D) from the start row: nothing else is there to count them from."""
        return self.base_row is None and self.open_below

    @cached_property
    def first_row(self) -> int:
        """The row of course 1: on the base, else the lowest; of courses that count from the start, the start row."""
        if self.base_row is not None:
            return self.base_row
        return 0 if self.open_below else self.lowest_row()

    def _find_lowest(self) -> int:
        rows = self.rows()
        if self.is_open:
            left = rows.start * self.grid.pitch_v + self.grid.h - self.extent.min_y
            return rows.start if left >= self.least_piece else rows.start + 1
        for row in rows:
            course = self.course(row)
            if course.whole or any(self.shape((column, row)) is not None for column in course.touched_columns()):
                return row
        return rows.start

    def course_number(self, row: int) -> int:
        """Course as counted on the wall, 1 the one on the base; -1 is `under 1`, the first below it (or down)."""
        above = row - self.first_row
        return above + 1 if above >= 0 else above

    def row_of(self, course: int) -> int:
        """The row of a course as `course_number` counts them."""
        return self.first_row + (course - 1 if course > 0 else course)

    def number(self, place: Place) -> int:
        """Number in its course, from the left; from the start place where the area is open to the left."""
        column, row = place
        first = None if self.open_left else self.first_column(row)
        if first is None:
            return column + 1 if column >= 0 else column
        return column - first + 1

    def name(self, place: Place) -> str:
        """`splash 3-7`, below the base `splash under 1-7`; with an open side R/L (right, left of the start).

        U/D (up, down from the start course) where nothing else is there to count from.
        """
        course, number = self.course_number(place[1]), self.number(place)
        if self.counts_from_start:
            up = f"U{course}" if course > 0 else f"D{-course}"
        else:
            up = str(course) if course > 0 else f"{UNDER} {-course}"
        along = str(number) if not self.open_left else f"R{number}" if number > 0 else f"L{-number}"
        return f"{self.area} {up}-{along}"

    def named(self, name: str) -> Piece | None:
        """The piece of that name, "splash 3-7"; None where this area has no such place or nothing is fixed in it."""
        head, _, tail = " ".join(name.split()).rpartition(" ")
        up, _, along = tail.partition("-")
        if head.casefold() == f"{self.area} {UNDER}".casefold() and not self.counts_from_start:
            course = _counted(up, "")
            course = None if course is None else -course
        elif head.casefold() == self.area.casefold():
            course = _counted(up, "UD" if self.counts_from_start else "")
        else:
            return None
        number = _counted(along, "RL" if self.open_left else "")
        if course is None or number is None:
            return None
        row = self.row_of(course)
        first = 0 if self.open_left else self.first_column(row)
        if first is None:
            return None
        return self.piece((_index(number) if self.open_left else number - 1 + first, row))

    def piece(self, place: Place) -> Piece | None:
        """What is fixed in `place`, named and trimmed; None where there is none."""
        shape = self.shape(place)
        if shape is None:
            return None
        return Piece(
            name=self.name(place),
            surface=self.surface,
            area=self.area,
            course=self.course_number(place[1]),
            number=self.number(place),
            place=place,
            tile=self.tile,
            tile_at=self.grid.placement(place),
            turn=self.grid.turn,
            outline=shape,
            trimmed=not self.is_whole(place),
        )

    def cut_places(self) -> Iterator[Place]:
        """Every place that trimming leaves a cut piece in, course by course; none for an open area."""
        if self.is_open:
            return
        for row in self.rows():
            for column in self.course(row).touched_columns():
                if self.shape((column, row)) is not None and not self.is_whole((column, row)):
                    yield column, row

    def lost_strips(self) -> Iterator[tuple[Place, Bounds]]:
        """What the ground leaves that is too narrow for a piece: its place, and its bounds in that Tile frame, mm."""
        if self.is_open:
            return
        for row in self.rows():
            for column in self.course(row).touched_columns():
                self.shape((column, row))
                for strip in self._lost.get((column, row), ()):
                    yield (column, row), strip

    def is_beside_void(self, place: Place) -> bool:
        """Whether a strip lost in `place` is left by a void: the area's own bounds alone would lose none there."""
        return not sorted_by_size(self.without_voids(place), self.least_piece)[1]

    def without_voids(self, place: Place) -> Region[Tile]:
        """What the area's own bounds alone leave of the tile in `place`, in its own Tile frame, strips included."""
        return self._trimmed(place, self.bounds)

    def places_under(self, box: Bounds) -> Iterator[Place]:
        """Places whose tile overlaps a box in the Courses frame, by division."""
        for row in range(self.row_at(box.min_y), self.row_at(box.max_y) + 1):
            for column in range(self.column_at(box.min_x, row), self.column_at(box.max_x, row) + 1):
                yield column, row


def _counted(text: str, letters: str) -> int | None:
    """The count in "3", or in "R3" and "L3" where letters are "RL" (the second one counts backwards)."""
    sign = 1
    if letters:
        if text[:1].upper() not in tuple(letters):
            return None
        sign, text = (1 if text[0].upper() == letters[0] else -1), text[1:]
    return sign * int(text) if text.isascii() and text.isdigit() and int(text) > 0 else None


def _index(count: int) -> int:
    """Grid index of a count from the start place, which has no zero."""
    return count - 1 if count > 0 else count


def _holds(ground: Region[Courses], u: float, v: float) -> bool:
    return any(a <= u <= b for a, b in spans_across(ground, v))
