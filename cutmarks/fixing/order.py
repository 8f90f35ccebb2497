"""The order of fixing on one surface: a rank for every place, in closed form. Whole tiles are never listed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cached_property
from typing import TYPE_CHECKING

from msgspec import Struct, field

from cutmarks.fixing.areas import hangs
from cutmarks.fixing.model import FixedSides, Rank
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.setout.model import SetOut
from cutmarks.sides import Side
from cutmarks.tiling.ends import outer_ends
from cutmarks.tiling.layout import Layout
from cutmarks.tiling.model import Place
from cutmarks.tiling.words import said_place

if TYPE_CHECKING:
    from cutmarks.job.models import AreaSpec, SurfaceSpec


class AreaOrder(Struct, frozen=True, dict=True):
    """The order within one area.

    number     the area's place among the surface's.
    strict     the end of each course that it is worked from (`work:`, or away from a door at the side); None: from the
               start outward.
    door       on a floor, the side of the way out along which courses follow each other; None: away from the start row.
    hangs      courses are worked downward from the start row, which hangs from its line.
    cuts_after, holed  pieces that are trimmed come after the whole ones of their course; the places with a hole that
               are left out until the last.
    """

    layout: Layout
    number: int
    strict: Side | None
    door: Side | None
    hangs: bool
    on_wall: bool
    cuts_after: bool
    holed: frozenset[Place]
    _first: dict[int, int | None] = field(default_factory=dict)
    _put_in: dict[Place, Place | None] = field(default_factory=dict)
    _of_row: dict[int, tuple[int, bool, int, int | None, bool]] = field(default_factory=dict)

    @cached_property
    def start_row(self) -> int:
        """The row that is worked first: on the base, else the start's own, as far as the area has it."""
        layout = self.layout
        row = 0 if self.hangs or layout.base_row is None else layout.base_row
        if layout.is_open:
            return row
        lowest = layout.lowest_row()
        highest = max(lowest, layout.rows().stop - 1)
        return row if lowest <= row <= highest else highest if self.hangs else lowest

    def rank(self, place: Place, part: int = 0) -> Rank:
        """When what lies in a place is fixed."""
        beside = self._put_in_after(place)
        if beside is None:
            return self._in_turn(place, part)
        turn = self._in_turn(beside)
        return turn._replace(left_out=place in self.holed, cut=self._comes_after(place), put_in=True, part=part)

    def _put_in_after(self, place: Place) -> Place | None:
        """The tile after which a piece is put in that is cut on the side where its work would come from.

        At the corner where a course begins, and beyond a window, nothing is there to measure such a cut from but the
        far end of the wall: the tile on its other side is set out and fixed, and the cut is measured from that. So with
        the first of its course, which is cut on either side, unless the start line shows where it is measured from.
        """
        column, row = place
        if self.layout.grid.turn or not self.layout.course(row).is_touched(column):
            return None
        if place not in self._put_in:
            near = self._across(place)
            sides = [near]
            if self.strict is None and column == self.first_of_course(row):
                sides = [side for side in (near, near.opposite) if not self._shows_line(place, side)]
            waits = (self._waits(place, side) for side in sides)
            self._put_in[place] = next((beside for beside in waits if beside is not None), None)
        return self._put_in[place]

    def _shows_line(self, place: Place, side: Side) -> bool:
        """Whether the start line lies inward of a piece's end on a side, so that the way to there is read from it."""
        shape = self.layout.shape(place)
        if shape is None:
            return False
        end = self.layout.grid.corner(place)[0] + shape.bounds.at(side)
        return (end - self.layout.reference[0]) * side.sign > TOUCH

    def _waits(self, place: Place, side: Side) -> Place | None:
        """The tile beside a piece that is cut on `side` alone, where that tile is not cut on its own far side."""
        column, row = place
        beside = column - side.sign, row
        if beside in self.holed and place not in self.holed:
            return None  # it is left out until the last
        if not self._is_cut(place, side) or self._is_cut(place, side.opposite):
            return None
        is_there = self.layout.shape(beside) is not None and not self._is_cut(beside, side.opposite)
        return beside if is_there else None

    def _is_cut(self, place: Place, side: Side) -> bool:
        """Whether a piece is cut on a side, over all of it or over a part."""
        shape = self.layout.shape(place)
        maker = self.layout.tile.box.at(side) * side.sign
        return shape is not None and any(out < maker - TOUCH for out in outer_ends(shape, side))

    def _comes_after(self, place: Place) -> bool:
        return self.cuts_after and not self.layout.is_whole(place)

    def _in_turn(self, place: Place, part: int = 0) -> Rank:
        """When a place comes by where it lies."""
        column, row = place
        if row not in self._of_row:
            first = self.first_of_course(row)
            self._of_row[row] = *self._course(row), first, self._rightward(row, first)
        day, beyond, course, first, rightward = self._of_row[row]
        offset = column - (first or 0)
        other = self.strict is None and offset != 0 and (offset > 0) != rightward
        return Rank(
            day=day,
            left_out=place in self.holed,
            area=self.number,
            beyond=beyond,
            course=course,
            cut=self._comes_after(place),
            following=first is None or offset != 0,
            side=int(other),
            distance=abs(offset) if first is not None else offset if rightward else -offset,
            part=part,
        )

    def sides(self, place: Place) -> FixedSides:
        """The two sides of a place that its work comes from."""
        across, beside = self._across(place), self._put_in_after(place)
        if beside is not None:
            across = Side.RIGHT if beside[0] > place[0] else Side.LEFT
        if self.door is not None:
            return FixedSides(across, self.door.opposite)
        _, beyond, _ = self._course(place[1])
        return FixedSides(across, Side.TOP if beyond != self.hangs else Side.BOTTOM)

    def _across(self, place: Place) -> Side:
        """The side of a place on which its course is worked from, by where it lies."""
        column, row = place
        if self.strict is not None:
            return self.strict
        first = self.first_of_course(row)
        if first is not None and column != first:
            return Side.LEFT if column > first else Side.RIGHT
        return Side.LEFT if self._rightward(row, first) else Side.RIGHT

    def _course(self, row: int) -> tuple[int, bool, int]:
        """(day, beyond, course) of a row."""
        if self.door is not None:
            return 1, False, -row if self.door is Side.BOTTOM else row
        away = row - self.start_row
        if self.hangs:
            away = -away
        waits = self.on_wall and not self.hangs and self.layout.base_row is not None and away < 0
        return (2 if waits else 1), away < 0, abs(away)

    def _rightward(self, row: int, first: int | None) -> bool:
        """Which side of a course is worked first: to the right, or to the left, from its first piece."""
        if self.strict is not None:
            return self.strict is Side.LEFT
        off = 0.0 if first is None else self._off(first, row)
        return off > 0.0 if abs(off) > TOUCH else self._starts_right

    @property
    def _starts_right(self) -> bool:
        """Whether the start tile's middle lies right of the start line, or on it."""
        return self.layout.grid.w / 2 - self.layout.reference[0] >= -TOUCH

    def _off(self, column: int, row: int) -> float:
        """How far right of the start line a place's middle lies, mm along the course."""
        grid = self.layout.grid
        return grid.corner((column, row))[0] + grid.w / 2 - self.layout.reference[0]

    def ends(self) -> tuple[str, str]:
        """The names of the pieces that go up first and last on the first day; "" where that is not known or none.

        Only the ends of the runs of each course are looked at: whole tiles are never listed.
        """
        layout = self.layout
        if layout.is_open:
            first = self.first_of_course(self.start_row)
            return ("" if first is None else layout.name((first, self.start_row)), "")
        found: list[tuple[Rank, Place]] = []
        for row in layout.rows():
            held, first = layout.columns_held(row), self.first_of_course(row)
            if held is None:
                continue
            for column in {*held, *(() if first is None else (first,))}:
                place = column, row
                # The tile that a cut waits for goes up before it.
                found += [(self.rank(one), one) for one in (place, self._put_in_after(place)) if one is not None]
        today = [one for one in found if one[0].day == 1]
        return (layout.name(min(today)[1]), layout.name(max(today)[1])) if today else ("", "")

    def first_of_course(self, row: int) -> int | None:
        """The column of a course's first piece; None where it begins at an end that is open, or has none."""
        if row not in self._first:
            self._first[row] = self._find_first(row)
        return self._first[row]

    def _find_first(self, row: int) -> int | None:
        layout = self.layout
        if self.strict is not None:
            if self.strict in layout.open_to:
                return None
            return layout.end_of_row(row, self.strict)
        middle = layout.column_at(layout.reference[0], row)
        low, high = layout.held_from(row, middle, -1), layout.held_from(row, middle + 1, 1)
        held = [column for column in (low, high) if column is not None]
        sign = 1 if self._starts_right else -1
        return min(held, key=lambda c: (round(abs(self._off(c, row)) / TOUCH), -sign * self._off(c, row)), default=None)


class Order:
    """The order of fixing on one surface: `areas` in the order of the layouts."""

    def __init__(self, areas: Sequence[AreaOrder], setout: SetOut, specs: Mapping[str, AreaSpec]) -> None:
        self.areas = {order.layout.area: order for order in areas}
        self.setout = setout
        self.specs = specs

    @property
    def mixed(self) -> bool:
        """Whether in one course what is nearer to its first piece may be fixed later."""
        return any(order.cuts_after or order.holed for order in self.areas.values())

    @property
    def waits_at_windows(self) -> bool:
        """Whether a piece may be cut by a window where its work comes from, and wait for the tile on its other side."""
        return bool(self.setout.voids) or self.setout.outline is not None

    def rank(self, area: str, place: Place, part: int = 0) -> Rank:
        """When what lies in a place of an area is fixed."""
        return self.areas[area].rank(place, part)

    def sides(self, area: str, place: Place) -> FixedSides:
        """The two sides of a place that its work comes from."""
        return self.areas[area].sides(place)


def order_of(
    surface: SurfaceSpec,
    setout: SetOut,
    layouts: Sequence[Layout],
    numbers: Mapping[str, int],
    holed: Mapping[str, frozenset[Place]],
) -> Order:
    """The order of fixing of a surface, its areas numbered; `holed`: by area the places that something comes through.

    Work goes away from the start and on a wall from the base upward, what lies under that on the second day; on a floor
    towards the way out, where that is said.
    """
    specs = {area.name: area for area in surface.areas}
    left_out = surface.holed_tiles == "left out"
    return Order(
        [
            AreaOrder(
                layout=layout,
                number=numbers[layout.area],
                strict=_strict(specs[layout.area], setout),
                door=setout.way_out if setout.way_out in (Side.BOTTOM, Side.TOP) else None,
                hangs=setout.kind == "wall" and hangs(specs[layout.area]),
                on_wall=setout.kind == "wall",
                cuts_after=surface.cuts == "after",
                holed=holed.get(layout.area, frozenset()) if left_out else frozenset(),
            )
            for layout in layouts
        ],
        setout,
        specs,
    )


def base_words(area: AreaSpec) -> str:
    """The base of an area as the job says it: B, 600 above B; "" where it has none."""
    start = area.start_up
    if start is not None and start.anchor == "sits on":
        return said_place(start.at)
    own = area.from_ or area.nothing_below
    return "" if own is None else said_place(own)


def _strict(area: AreaSpec, setout: SetOut) -> Side | None:
    if area.work == "left to right":
        return Side.LEFT
    if area.work == "right to left":
        return Side.RIGHT
    if area.work:
        return None
    return setout.way_out.opposite if setout.way_out in (Side.LEFT, Side.RIGHT) else None
