"""One area as the search asks about it: its ends, its holes, its grid, and what counts at any start, in closed form."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from typing import Any, TypeVar

from msgspec import Struct, field
from msgspec.structs import replace

from cutmarks.checks.spaces import Facing, joints_run_through
from cutmarks.checks.starts import Wanted
from cutmarks.checks.surfaces import offset_is_long
from cutmarks.choosing.borders import Border, EndOf, EndsOf, borders_of, slabs_of
from cutmarks.choosing.figures import Carried, Figures, Worth, is_equal, opposite_ends, worth_of
from cutmarks.choosing.landing import HoleOn, landing
from cutmarks.choosing.leaves import AreaEnds, CourseWays, PieceCount, courses_of
from cutmarks.geometry.frames import Surface
from cutmarks.geometry.regions import Region
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.limits import Limits
from cutmarks.tiling.ends import with_grid_moved, with_start_moved
from cutmarks.tiling.layout import Layout
from cutmarks.tiling.model import Grid

T = TypeVar("T")


class StartQuestion(Struct, frozen=True):
    """An area of which a start is looked for, laid once as `layout` says, wherever that is.

    facing    the stretches along which it faces areas that are decided already, these laid as they will be.
    starts    between which heights a start up is looked for, mm.
    sits      whether a start at this height is said to sit there; None: what carries the area is not asked, because it
              lies on a floor or stands on a limit of its own.
    kept      what was worked out of the area alone; `_met` what of it and those that it faces. The search comes back to
              a start, and to a place on one axis, many times, and asks the same of an area beside others.
    """

    layout: Layout
    ends: AreaEnds
    holes: tuple[HoleOn, ...]
    want: Wanted
    limits: Limits
    starts: tuple[float, float]
    facing: tuple[Facing, ...] = ()
    sits: Callable[[float], bool] | None = None
    kept: dict[object, Any] = field(default_factory=dict)
    _met: dict[object, bool] = field(default_factory=dict)

    def beside(self, facing: tuple[Facing, ...]) -> StartQuestion:
        """The same asked where other areas are decided already."""
        return replace(self, facing=facing, _met={})

    @property
    def grid(self) -> Grid:
        """Tile, joint and bond; where it lies is what is asked."""
        return self.layout.grid

    @property
    def laid_at(self) -> tuple[float, float]:
        """Where the corner of tile [0, 0] of `layout` lies."""
        return self.grid.to_surface.dx, self.grid.to_surface.dy

    @property
    def courses(self) -> CourseWays:
        """The ways in which its courses lie, as far as ends and holes meet them."""

        def work() -> CourseWays:
            ends, holes = self.ends.upright, self.holes
            low = min([*(one.t0 for one in ends), *(one.box.min_y for one in holes)], default=self.starts[0])
            high = max([*(one.t1 for one in ends), *(one.box.max_y for one in holes)], default=self.starts[1])
            return courses_of(self.grid, low, high, self.starts)

        return self.once("courses", work)

    def ways_between(self, low: float, high: float) -> Sequence[int]:
        """In which of these ways a course may lie that goes into what reaches from `low` to `high`."""
        pitch = self.grid.pitch_v
        return self.courses.ways(
            math.floor((low - self.starts[1]) / pitch), math.floor((high - self.starts[0]) / pitch)
        )

    def figures(self, x: float, y: float) -> Figures:
        """What a start leaves."""
        return replace(self._alone(x, y, self.ends.counted(self.grid, x, y)), apart=self.apart(x, y))

    def _alone(self, x: float, y: float, counted: PieceCount) -> Figures:
        """What it leaves whatever areas lie beside it."""
        left = self.ends.left(self.grid, x, y)
        return Figures(
            left=left,
            landings={hole.name: landing(hole, self.grid, x, y, self.want) for hole in self.holes},
            counted=counted,
            unequal=tuple(pair for pair in opposite_ends(left) if not is_equal(pair, left, self.limits)),
            apart=(),
            carried=self.carried(y),
            lips=offset_is_long(self.grid, self.limits),
        )

    def carried(self, y: float) -> Carried | None:
        """What the first whole course stands on, and what waits until that is off.

        It is the course that the start sits on; where the start does not sit, the lowest that is whole all along. What
        stands out above that, a bath in a floor, is no part of what lies below: the courses are cut about it.
        """
        if self.sits is None:
            return None
        grid, (lowest, highest, top) = self.grid, self.ends.from_floor_to_ceiling
        if lowest is not None and highest is not None:
            if not self.sits(y):
                y += math.ceil((lowest - y - TOUCH) / grid.pitch_v) * grid.pitch_v
            while y < highest - TOUCH and not self._is_whole(y):
                y += grid.pitch_v
        under = y - grid.joint - TOUCH
        return Carried(
            on_batten=None if lowest is None else y - lowest > self.limits.packers.value + TOUCH,
            courses=None if top is None else max(0, math.floor((top - y - grid.h + TOUCH) / grid.pitch_v) + 1),
            waiting=sum(hole.box.min_y < under for hole in self.holes),
            holes=len(self.holes),
        )

    def _is_whole(self, y: float) -> bool:
        """Whether a course that begins at y is whole over all that lies below it, and something does."""
        under = [(low, high) for low, high in self.ends.floors if low <= y + TOUCH]
        return bool(under) and all(high <= y + TOUCH for _, high in under)

    def uncounted(self, x: float, y: float) -> Worth:
        """What counts at a start, but for its pieces: to count them is as much work again, and seldom decides."""
        alone: Worth = self.once(("uncounted", x, y), lambda: worth_of(self._alone(x, y, PieceCount()), self.limits))
        return alone._replace(apart=len(self.apart(x, y))) if self.facing else alone

    def worth(self, x: float, y: float) -> Worth:
        """What counts at a start."""
        counted: PieceCount = self.once(("counted", x, y), lambda: self.ends.counted(self.grid, x, y))
        return self.uncounted(x, y)._replace(cuts=counted.cut, tiles=counted.tiles)

    def once(self, key: object, work: Callable[[], T]) -> T:
        """What is worked out once of the area alone, and kept."""
        if key not in self.kept:
            self.kept[key] = work()
        found: T = self.kept[key]
        return found

    def alike(self, x: float, y: float, other: tuple[float, float]) -> bool:
        """Whether two starts count the same."""
        if self.uncounted(x, y).before_cuts != self.uncounted(*other).before_cuts:
            return False
        return self.worth(x, y).banded(self.limits) == self.worth(*other).banded(self.limits)

    def apart(self, x: float, y: float, way: str = "") -> tuple[str, ...]:
        """The areas decided before with which its joints do not run through; of one way alone where it is said."""
        if not self.facing:
            return ()
        found: dict[str, None] = {}
        for number, one in enumerate(self.facing):
            if way and one.way != way:
                continue
            # Joints that run across have their places from the start up alone; upright ones the other way about, but
            # for courses that are shifted against each other.
            place = (None, y) if one.way == "across" else (x, y if self.grid.bond_shift else None)
            if (number, *place) not in self._met:
                self._met[number, *place] = self._runs_through(one, x, y)
            if not self._met[number, *place]:
                found[one.second.area if one.first.area == self.layout.area else one.first.area] = None
        return tuple(found)

    def _runs_through(self, one: Facing, x: float, y: float) -> bool:
        at_x, at_y = self.laid_at
        mine = with_grid_moved(self.layout, x - at_x, y - at_y)
        moved = replace(one, first=mine) if one.first.area == mine.area else replace(one, second=mine)
        return joints_run_through(moved, self.limits)

    def laid(self, x: float, y: float) -> Layout:
        """The area laid out at a start."""
        at_x, at_y = self.laid_at
        return with_start_moved(self.layout, x - at_x, y - at_y)


def on_other_wall(border: Border, surface: str) -> Border:
    """A level stretch of another wall, as it counts on one with whose courses its own run round."""
    end = border.end
    what = f"{end.what} of {surface}"
    if end.kind == "void":
        return replace(border, end=replace(end, what=what, thing=what))
    return replace(border, end=EndOf("other", what, end.side.opposite, surface, end.hidden))


def ends_of(ground: Region[Surface], which: EndsOf, least: float, kerf: float, is_open: bool) -> AreaEnds:
    """The ends of an area's ground; `which` says what each is the end of."""
    bands, between = slabs_of(ground, "across")
    _, upright = slabs_of(ground, "up")
    return AreaEnds(
        upright=borders_of(ground, between, "across", which),
        level=borders_of(ground, upright, "up", which),
        slabs=bands,
        least=least,
        kerf=kerf,
        is_open=is_open,
    )
