"""What is asked of each area of a surface, and the starts on each axis at which it is asked."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import cached_property, lru_cache
from typing import TYPE_CHECKING

from msgspec import Struct
from msgspec.structs import replace

from cutmarks.checks.spaces import Facing, facing
from cutmarks.checks.starts import wanted
from cutmarks.choosing.borders import Border, EndsOf
from cutmarks.choosing.breakpoints import breakpoints, easily_said, offsets
from cutmarks.choosing.landing import HoleOn
from cutmarks.choosing.leaves import AreaEnds, comes_back, rows_till_alike
from cutmarks.choosing.offers import AreaStart
from cutmarks.choosing.question import StartQuestion, ends_of, on_other_wall
from cutmarks.choosing.steps import Offset, is_whole
from cutmarks.choosing.words import of_axis, start_at
from cutmarks.geometry.regions import contains
from cutmarks.geometry.shapes import Circle, ring_of
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.limits import Limits
from cutmarks.openings.model import Opening
from cutmarks.readings import From, Reading, Start
from cutmarks.setout.lines import on_lines
from cutmarks.setout.model import SetOut
from cutmarks.sides import Axis, Side
from cutmarks.tiling.areas import layout_of, own_limits
from cutmarks.tiling.bonds import kerf_of
from cutmarks.tiling.layout import Layout
from cutmarks.units import MM_PER, Unit

if TYPE_CHECKING:
    from cutmarks.job import Job
    from cutmarks.job.models import AreaSpec

AXES: Mapping[Axis, str] = {"across": "plumb", "up": "level"}
"""The axes of a start, and the line that each is read from."""


class Asking(Struct, frozen=True, dict=True):
    """What is known of one surface, and what was asked of each of its areas already.

    level_area  the area of which courses run at one height round other walls; runs_round: what is asked of these, whose
                floors and ceilings count too.
    """

    areas: Sequence[AreaSpec]
    setout: SetOut
    openings: Sequence[Opening]
    job: Job
    level_area: str = ""
    runs_round: tuple[Asking, ...] = ()

    @cached_property
    def _asked(self) -> dict[object, StartQuestion]:
        """What was asked of each area, with each joint and bond; see `question`."""
        return {}

    @property
    def limits(self) -> Limits:
        """The job's own figures."""
        return self.job.limits.figures()

    @property
    def step(self) -> float:
        """A start is offered in whole millimetres, or sixteenths of an inch, mm."""
        return float(MM_PER[Unit.INCH]) / 16 if self.job.units.is_imperial else 1.0

    def laid(self, area: AreaSpec) -> Layout:
        """An area laid somewhere, where it has no start."""
        plumb, level = (of_axis(self.setout.lines.values(), axis)[0] for axis in AXES)
        across = area.start_across or Start("left", Reading("centre", 0.0, None, From("line", plumb.name), plumb.name))
        up = area.start_up or Start("sits on", Reading("centre", 0.0, None, From("line", level.name), level.name))
        return layout_of(replace(area, start_across=across, start_up=up), self.setout, self.job)

    def question(self, area: AreaSpec, before: Sequence[AreaStart]) -> StartQuestion:
        """What is asked of one area, given the starts of those before it: these alone differ from time to time."""
        key = area.name, area.joint, area.bond, area.start_across, area.start_up
        if key not in self._asked:
            self._asked[key] = self._alone(area)
        alone = self._asked[key]
        laid = {one.area: one.layout for one in before if one.layout is not None}
        return alone.beside(tuple(self._facing(alone.layout, laid)))

    def _alone(self, area: AreaSpec) -> StartQuestion:
        layout = self.laid(area)
        limits, ends = self.limits, self._ends(area, layout)
        if area.name == self.level_area:
            ends = replace(ends, level=(*ends.level, *self._ends_of_others()))
        return StartQuestion(
            layout=layout,
            ends=ends,
            holes=tuple(self._holes(layout)),
            want=wanted(layout, self.setout.kind, limits),
            limits=limits,
            starts=self._starts_up(area, layout),
            sits=self._sits(area, layout),
        )

    def _starts_up(self, area: AreaSpec, layout: Layout) -> tuple[float, float]:
        """Between which heights a start is looked for: a pitch from below on, about level lines, where one is said."""
        below, box = area.from_ or area.nothing_below, layout.on_surface
        said = [layout.grid.to_surface.dy] if area.start_up is not None else []
        if below is not None:
            said.append(on_lines(below, self.setout.lines))
            return min(said), max(said)
        lines = [one.at for one in of_axis(self.setout.lines.values(), "up") if box.min_y <= one.at <= box.max_y]
        places = [box.min_y, *lines, *said]
        return min(places) - layout.grid.pitch_v, max(places) + layout.grid.pitch_v

    def _ends(self, area: AreaSpec, layout: Layout) -> AreaEnds:
        ground = layout.ground.moved(layout.grid.to_surface)
        return ends_of(ground, self.ends_in(area), layout.least_piece, kerf_of(self.job)[0], layout.is_open)

    def _ends_of_others(self) -> Iterator[Border]:
        """Floors, ceilings, sills of the other walls round which the courses of the level area run at one height."""
        for other in self.runs_round:
            for area in other.areas:
                if area.name == other.level_area:
                    level = other._ends(area, other.laid(area)).level
                    yield from (on_other_wall(border, other.setout.name) for border in level)

    def _sits(self, area: AreaSpec, layout: Layout) -> Callable[[float], bool] | None:
        """Whether a start at a height is said to sit there; None where what carries the area is not to be asked."""
        if self.setout.kind != "wall" or own_limits(area)[Side.BOTTOM] is not None or area.outline:
            return None
        said, grid, level = area.start_up, layout.grid, of_axis(self.setout.lines.values(), "up")

        def sits(y: float) -> bool:
            if said is not None and abs(y - grid.to_surface.dy) <= TOUCH:
                return said.anchor == "sits on"
            start = start_at("up", y, grid.h, grid.joint, level, self.setout.kind, self.job.units, self.step)
            return start.anchor == "sits on"

        return lru_cache(maxsize=4096)(sits)

    def ends_in(self, area: AreaSpec) -> EndsOf:
        """Who says what an end of an area is the end of."""
        limit_of, lines = own_limits(area), self.setout.lines

        def own(side: Side) -> float | None:
            reading = limit_of[side]
            return None if reading is None else on_lines(reading, lines)

        return EndsOf(self.setout, own)

    def _facing(self, layout: Layout, laid: Mapping[str, Layout]) -> Iterator[Facing]:
        if not laid:
            return
        for one in facing(self.setout, [layout, *laid.values()]):
            if layout.area in (one.first.area, one.second.area):
                yield one

    def _holes(self, layout: Layout) -> Iterator[HoleOn]:
        """The openings whose middle lies in an area; one that is opened to an edge as it was while closed."""
        ground = layout.bounds.moved(layout.grid.to_surface)
        for opening in self.openings:
            if contains(ground, opening.at):
                shape = opening.shape if opening.closed is None or opening.slide is not None else opening.closed
                box = ring_of(shape, opening.at).bounds
                yield HoleOn(opening.name, box, shape.d / 2 if isinstance(shape, Circle) else 0.0)

    def offsets(self, asked: StartQuestion, area: AreaSpec, axis: Axis, free: bool) -> list[Offset]:
        """The starts on one axis that are looked at: the one that the job says, where not all of them are free."""
        return asked.once(("offsets", axis, free), lambda: self._offsets(asked, area, axis, free))

    def _offsets(self, asked: StartQuestion, area: AreaSpec, axis: Axis, free: bool) -> list[Offset]:
        start = area.start_across if axis == "across" else area.start_up
        at = asked.laid_at[0 if axis == "across" else 1]
        if start is not None and (not free or (axis == "across" and area.carries_on_from)):
            return [Offset(at, at, at, 0)]
        below = area.from_ or area.nothing_below
        if axis == "up" and below is not None:
            # An area's border is its tiles' own edge, and what it begins on is what its courses stand on.
            at = on_lines(below, self.setout.lines)
            return [Offset(at, at, at, 0)]
        grid, (low, high) = asked.grid, _reach(asked, axis)
        origin, pitch = self.origin(asked, axis)
        lines = [
            line.at for line in of_axis(self.setout.lines.values(), axis) if low - pitch <= line.at <= high + pitch
        ]
        # Courses that never come back lie as well beside each other from any of them on, further to a side.
        again = pitch * (rows_till_alike(grid) if axis == "up" and comes_back(grid) else 1)
        said: dict[tuple[float, int], None] = {}
        for place, way in easily_said(asked, axis, lines, self.step):
            # A figure is best a small one: the same start, further down or nearer to the line.
            nearer = math.floor((place - origin) / again) * again if way and is_whole(again, self.step) else 0.0
            if low - pitch <= place - nearer <= high:
                said[place - nearer, way] = None
        return offsets(breakpoints(asked, axis), pitch, origin, self.step, said)

    def origin(self, asked: StartQuestion, axis: Axis) -> tuple[float, float]:
        """From where on a pitch of starts is looked at, and how long it is: about the main line, or from below."""
        low, high = _reach(asked, axis)
        if axis == "across":
            pitch = asked.grid.pitch_u
            return min(max(-pitch / 2, low), max(high - pitch, low)), pitch
        pitch = asked.grid.pitch_v
        return min(max(0.0, low), max(high - pitch, low)) if asked.layout.is_open else low, pitch


def _reach(asked: StartQuestion, axis: Axis) -> tuple[float, float]:
    """From where to where an area goes on an axis, mm."""
    box = asked.layout.on_surface
    return (box.min_x, box.max_x) if axis == "across" else (box.min_y, box.max_y)
