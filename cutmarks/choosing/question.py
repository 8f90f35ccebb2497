"""One area as the search asks about it: its ends, its holes, its grid, and what counts at any start, in closed form."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

from cutmarks.checks.spaces import Facing, joints_run_through
from cutmarks.checks.starts import Wanted
from cutmarks.checks.surfaces import offset_is_long
from cutmarks.choosing.borders import Border, EndOf, EndsOf, borders_of, slabs_of
from cutmarks.choosing.figures import Carried, Figures, Worth, is_equal, opposite_ends, worth_of
from cutmarks.choosing.landing import HoleOn, landing
from cutmarks.choosing.leaves import AreaEnds
from cutmarks.geometry.frames import Surface
from cutmarks.geometry.regions import Region
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.limits import Limits
from cutmarks.tiling.ends import with_start_moved
from cutmarks.tiling.layout import Layout
from cutmarks.tiling.model import Grid


@dataclass(frozen=True, slots=True)
class StartQuestion:
    """An area of which a start is looked for, laid once as `layout` says, wherever that is.

    facing    the stretches along which it faces areas that are decided already, these laid as they will be.
    sits      whether a start at this height is said to sit there; None: what carries the area is not asked, because it
              lies on a floor or stands on a limit of its own.
    """

    layout: Layout
    ends: AreaEnds
    holes: tuple[HoleOn, ...]
    want: Wanted
    limits: Limits
    facing: tuple[Facing, ...] = ()
    sits: Callable[[float], bool] | None = None

    @property
    def grid(self) -> Grid:
        """Tile, joint and bond; where it lies is what is asked."""
        return self.layout.grid

    @property
    def laid_at(self) -> tuple[float, float]:
        """Where the corner of tile [0, 0] of `layout` lies."""
        return self.grid.to_surface.dx, self.grid.to_surface.dy

    def figures(self, x: float, y: float) -> Figures:
        """What a start leaves."""
        left = self.ends.left(self.grid, x, y)
        return Figures(
            left=left,
            landings={hole.name: landing(hole, self.grid, x, y, self.want) for hole in self.holes},
            counted=self.ends.counted(self.grid, x, y),
            unequal=tuple(pair for pair in opposite_ends(left) if not is_equal(pair, left, self.limits)),
            apart=self.apart(x, y),
            carried=self.carried(y),
            lips=offset_is_long(self.grid, self.limits),
        )

    def carried(self, y: float) -> Carried | None:
        """What the first whole course stands on, and what waits until that is off.

        It is the course that the start sits on; where the start does not sit, the lowest that is whole from end to end.
        """
        if self.sits is None:
            return None
        grid, (lowest, highest, top) = self.grid, self.ends.from_floor_to_ceiling
        if highest is not None and (y < highest - TOUCH or not self.sits(y)):
            y += math.ceil((highest - y - TOUCH) / grid.pitch_v) * grid.pitch_v
        under = y - grid.joint - TOUCH
        return Carried(
            on_batten=None if lowest is None else y - lowest > self.limits.packers.value + TOUCH,
            courses=None if top is None else max(0, math.floor((top - y - grid.h + TOUCH) / grid.pitch_v) + 1),
            waiting=sum(hole.box.min_y < under for hole in self.holes),
            holes=len(self.holes),
        )

    def worth(self, x: float, y: float) -> Worth:
        """What counts at a start."""
        return worth_of(self.figures(x, y), self.limits)

    def apart(self, x: float, y: float, way: str = "") -> tuple[str, ...]:
        """The areas decided before with which its joints do not run through; of one way alone where it is said."""
        if not self.facing:
            return ()
        mine = self.laid(x, y)
        found: dict[str, None] = {}
        for one in self.facing:
            if way and one.way != way:
                continue
            first = one.first.area == mine.area
            other = one.second.area if first else one.first.area
            moved = replace(one, first=mine) if first else replace(one, second=mine)
            if not joints_run_through(moved, self.limits):
                found[other] = None
        return tuple(found)

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
    return replace(border, end=EndOf("other", what, end.side.opposite, what, end.hidden))


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
