"""What to start with on one surface: its areas in the order in which they are fixed, each given those before it."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from functools import cached_property
from typing import TYPE_CHECKING

from msgspec import Struct
from msgspec.structs import replace

from cutmarks.choosing.asking import AXES, Asking
from cutmarks.choosing.breakpoints import at_turns, breakpoints, offsets, where_the_other_tells
from cutmarks.choosing.figures import worth_of
from cutmarks.choosing.moving import fragile_at, moving_surely, widened
from cutmarks.choosing.offers import AreaStart, Choices, Offer, together
from cutmarks.choosing.otherwise import other_joints, own_joints, ways_of
from cutmarks.choosing.question import StartQuestion
from cutmarks.choosing.search import Found, best_starts
from cutmarks.choosing.steps import Offset, has_room, offered
from cutmarks.choosing.words import figure, of_axis, start_at
from cutmarks.fixing.areas import order_of_areas
from cutmarks.limits import Limits
from cutmarks.openings.model import Opening
from cutmarks.readings import Start
from cutmarks.setout.model import SetOut
from cutmarks.sides import Axis
from cutmarks.tiling.areas import look_at_first_course, why_not_carried

if TYPE_CHECKING:
    from cutmarks.job import Job
    from cutmarks.job.models import AreaSpec, SurfaceSpec

BEST_FEW = 5
BEAM = 4
"""So many starts of the areas that are fixed before are carried on to the next."""
UNLIKE = 0.1
"""Two starts are shown beside each other where they lie further apart than this part of a pitch, or count otherwise."""


class Chooser(Struct, frozen=True, dict=True):
    """One surface with all that its starts are looked for by."""

    spec: SurfaceSpec
    setout: SetOut
    openings: Sequence[Opening]
    job: Job
    level_area: str = ""
    runs_round: tuple[Chooser, ...] = ()
    """The area of which courses run at one height round other walls, and these: their floors and ceilings count too."""

    @cached_property
    def asking(self) -> Asking:
        """What is asked of its areas; one that is changed asks anew."""
        others = tuple(one.asking for one in self.runs_round)
        return Asking(self.spec.areas, self.setout, self.openings, self.job, self.level_area, others)

    @property
    def limits(self) -> Limits:
        """The job's own figures."""
        return self.job.limits.figures()

    def at_heights(self, ups: Sequence[Start], *, free: bool) -> Choices:
        """The best start with the level area at each of these heights, which another wall decides.

        free  what the level area has across is looked for too, where it says one.
        """
        offers: list[Offer] = []
        for up in ups:
            if not up.at.start or up.at.start.name not in self.setout.lines:
                of = up.at.start.name if up.at.start else up.at.text
                why_not = f"the courses that run round it are read from {of}, and it has no such line."
                return Choices(self.spec.name, why_not=why_not)
            areas = tuple(self._at_height(area, up, free) for area in self.spec.areas)
            found = replace(self, spec=replace(self.spec, areas=areas)).choices(1, free=False)
            if found.why_not:
                return found
            offers += found.offers[:1]
        return Choices(self.spec.name, tuple(offers), self.now())

    def _at_height(self, area: AreaSpec, up: Start, free: bool) -> AreaSpec:
        if area.name != self.level_area:
            return area
        across = None if free and not area.carries_on_from else area.start_across
        return replace(area, start_up=up, start_across=across)

    def better(self, now: Offer) -> Offer | None:
        """The best start, where it is a band better in what shows than one that is laid.

        Of several areas what shows is the worst of them, or all of them added up. So where one alone shows no less
        than what is laid, or than what was found, nothing that it is put together with is looked at.
        """
        offers = self.choices(1, under=now.worth.shown(self.limits)).offers
        return offers[0] if offers and offers[0].worth.shown(self.limits) < now.worth.shown(self.limits) else None

    def choices(
        self, most: int = BEST_FEW, *, free: bool | None = None, under: tuple[float, ...] | None = None
    ) -> Choices:
        """The best few starts; with `under` the best alone is sure, and that where it shows less than this.

        free  those that are said are looked for too. None: where all are said they are.
        """
        why_not = self._why_not()
        if why_not:
            return Choices(self.spec.name, why_not=why_not)
        decided = [area.start_across is not None and area.start_up is not None for area in self.spec.areas]
        free = all(decided) if free is None else free
        beam: list[tuple[AreaStart, ...]] = [()]
        now = self.now() if under is None else None
        order = self._in_order()
        for area in order:
            spread: list[tuple[AreaStart, ...]] = []
            for before in beam:
                if under is not None and before and together(before).shown(self.limits) >= under:
                    continue
                spread += [(*before, one) for one in self._starts(area, before, free, most, under)]
                if under is not None and area is order[-1] and spread:
                    # What shows as little may still be the best by what counts after that.
                    under = min(under, (*min(together(row).shown(self.limits) for row in spread), math.inf))
            spread.sort(key=lambda row: self._key(row))
            beam = _unlike(spread, self.limits, max(BEAM, most))
        beam = beam[:most] if under is not None else [tuple(self._moving_surely(starts)) for starts in beam[:most]]
        offers = [Offer(starts, together(starts)) for starts in beam]
        return Choices(self.spec.name, tuple(offers), now)

    def _moving_surely(self, starts: Sequence[AreaStart]) -> Iterator[AreaStart]:
        """The same with how far each may move looked at as it is told."""
        specs = {area.name: area for area in self.spec.areas}
        for number, start in enumerate(starts):
            area = specs[start.area]
            joint = area.joint if start.joint is None else start.joint
            asked = self.asking.question(replace(area, bond=start.bond or area.bond, joint=joint), starts[:number])
            yield replace(start, may_move=moving_surely(start.may_move, asked, (start.x, start.y)))

    def _why_not(self) -> str:
        if not self.spec.areas:
            return "it has no tiles yet."
        turned = [area.name for area in self.spec.areas if area.turn]
        if turned:
            return f"area {turned[0]} is turned, and every piece at its ends comes to a point: set it out by hand."
        waiting = [area for area in self.spec.areas if area.carries_on_from and area.start_across is None]
        if waiting and waiting[0].carries_on_from is not None:
            of = waiting[0].carries_on_from.of
            return f"area {waiting[0].name} carries on from {of}, which has no start yet: choose that first."
        uncarried = [words for area in self.spec.areas if (words := why_not_carried(area, self.setout))]
        if uncarried:
            return uncarried[0]
        for axis, words in AXES.items():
            if not of_axis(self.setout.lines.values(), axis):
                return f"it has no {words} line to start from: write one under lines:."
        return ""

    def _key(self, row: Sequence[AreaStart]) -> tuple[float, ...]:
        return (*together(row).banded(self.limits), -min((min(one.may_move) for one in row), default=0.0))

    def _in_order(self) -> list[AreaSpec]:
        if len(self.spec.areas) == 1:
            return list(self.spec.areas)
        layouts = [self.asking.laid(area) for area in self.spec.areas]
        order = order_of_areas(self.spec, self.setout, layouts, self.job.faults())
        return sorted(self.spec.areas, key=lambda area: order[area.name])

    def now(self) -> Offer | None:
        """What the job says, where it says all of it and it can be looked at."""
        if self._why_not() or any(area.start_across is None or area.start_up is None for area in self.spec.areas):
            return None
        starts: list[AreaStart] = []
        for area in self._in_order():
            assert area.start_across is not None
            assert area.start_up is not None
            asked = self.asking.question(area, starts)
            x, y = asked.laid_at
            starts.append(self._start(area, area, asked, Offset(x, x, x, 0), Offset(y, y, y, 0), [], []))
        return Offer(tuple(starts), together(starts))

    def _starts(
        self,
        area: AreaSpec,
        before: Sequence[AreaStart],
        free: bool,
        most: int,
        under: tuple[float, ...] | None = None,
    ) -> list[AreaStart]:
        """The best starts of one area, given those before it; of those alone that show less than `under`."""
        if own_joints(area, self.job):
            under = None  # whether they are tried hangs on all that is found
        found = self._starts_with(area, area, before, free, most, under)
        decided = area.start_across is not None and area.start_up is not None
        if free or not decided:
            for other in other_joints(area, all(one.worth.hair for one in found), self.job):
                more = self._starts_with(other, area, before, free, most, under)
                # Another joint than the job's is offered for what it saves, and not for a cut more or less.
                best = min((one.worth.shown(self.limits) for one in found), default=None)
                found += [one for one in more if best is None or one.worth.shown(self.limits) < best]
        found.sort(key=lambda one: one.worth.banded(self.limits))
        return found[: max(BEAM, most)]

    def _starts_with(
        self,
        spec: AreaSpec,
        area: AreaSpec,
        before: Sequence[AreaStart],
        free: bool,
        most: int,
        under: tuple[float, ...] | None,
    ) -> list[AreaStart]:
        """The best starts of an area with the joint that `spec` says, by either hand of its bond."""
        found: list[AreaStart] = []
        is_only = len(self.spec.areas) == 1
        for way in ways_of(spec, self.spec.name, self.job, free):
            asked = self.asking.question(way, before)
            best = self.best(asked, way, free, under=under)
            across, up = (self.asking.offsets(asked, way, axis, free) for axis in AXES)
            for one in self._apart(best, asked, max(BEAM, most), alone=under is not None and is_only):
                found.append(self._start(way, area, asked, one.x, one.y, across, up))
        return found

    def _apart(self, found: Iterable[Found], asked: StartQuestion, most: int, *, alone: bool) -> list[Found]:
        """The first that have room and that the tiling takes, of those that all but coincide and count the same.

        alone  those that count as the best does are enough.
        """
        kept: list[Found] = []
        for one in found:
            if alone and kept and one.worth.banded(self.limits) != kept[0].worth.banded(self.limits):
                break  # they come in their order
            if any(_is_like(one, other, asked, self.limits) for other in kept):
                continue
            if has_room(one.x, one.y, asked, self.asking.step) and self._lies(one, asked):
                kept.append(one)
            if len(kept) >= most:
                break
        return kept

    def _lies(self, one: Found, asked: StartQuestion) -> bool:
        """Whether the tiling takes a start: it has no first course that is none."""
        faults = self.job.faults()
        look_at_first_course(asked.laid(one.x.at, one.y.at), self.job, faults)
        return not faults

    def best(
        self,
        asked: StartQuestion,
        area: AreaSpec,
        free: bool,
        *,
        anywhere: bool = False,
        under: tuple[float, ...] | None = None,
    ) -> Iterator[Found]:
        """The best starts of one area, worked out: as they are offered, or in no whole steps and `anywhere`."""

        def of(every: list[Offset]) -> list[Offset]:
            if len(every) == 1:
                return every
            return [*every, *at_turns(every)] if anywhere else offered(every, self.asking.step)

        def refined(axis: Axis, other: float) -> list[Offset]:
            new = list(where_the_other_tells(asked, axis, other))
            if not new or len(self.asking.offsets(asked, area, axis, free)) == 1:
                return []
            origin, pitch = self.asking.origin(asked, axis)
            every = offsets([*breakpoints(asked, axis), *new], pitch, origin, self.asking.step, ())
            places = {round(origin + (one - origin) % pitch, 6) for one in new}
            near = [one for one in every if one.low in places or one.high in places]
            return near if anywhere else offered(near, self.asking.step)

        across, up = (of(self.asking.offsets(asked, area, axis, free)) for axis in AXES)
        return best_starts(asked, across, up, refined, thorough=anywhere, under=under)

    def _start(
        self,
        way: AreaSpec,
        area: AreaSpec,
        asked: StartQuestion,
        x: Offset,
        y: Offset,
        across: Sequence[Offset],
        up: Sequence[Offset],
    ) -> AreaStart:
        """A start as it is shown: in words, with how far it may move and what would make it poor."""
        grid, unit, kind = asked.grid, self.job.units, self.setout.kind
        limits = self.limits
        at = x.at, y.at

        def same_x(moved: float) -> bool:
            return asked.alike(moved, y.at, at)

        x = widened(x, across, grid.pitch_u, self.asking.step, same_x)

        def same_y(moved: float) -> bool:
            return asked.alike(x.at, moved, at)

        y = widened(y, up, grid.pitch_v, self.asking.step, same_y)
        plumb, level = (of_axis(self.setout.lines.values(), axis) for axis in AXES)
        start_across = start_at("across", x.at, grid.w, grid.joint, plumb, kind, unit, self.asking.step)
        if area.carries_on_from is not None and area.start_across is not None:
            start_across = area.start_across
        start_up = start_at("up", y.at, grid.h, grid.joint, level, kind, unit, self.asking.step)
        figures = asked.figures(x.at, y.at)
        return AreaStart(
            area=area.name,
            x=x.at,
            y=y.at,
            across=start_across,
            up=start_up,
            figures=figures,
            worth=worth_of(figures, limits),
            bond=way.bond if way.bond != area.bond else None,
            joint=way.joint if way.joint != area.joint or area.joint_or else None,
            joint_words=figure(way.joint, unit) if way.joint != area.joint or area.joint_or else "",
            may_move=(x.at - x.low, x.high - x.at, y.at - y.low, y.high - y.at),
            fragile=tuple(fragile_at(asked, x.at, y.at, figures)),
            layout=asked.laid(x.at, y.at),
        )


def _is_like(one: Found, other: Found, asked: StartQuestion, limits: Limits) -> bool:
    """Whether two starts are one to a tiler: next to each other, or the same in all that counts and neither plain."""
    grid = asked.grid
    near_x, near_y = (
        min((a - b) % pitch, (b - a) % pitch) <= UNLIKE * pitch
        for a, b, pitch in ((one.x.at, other.x.at, grid.pitch_u), (one.y.at, other.y.at, grid.pitch_v))
    )
    if near_x and near_y:
        return True
    counts_alike = one.worth.banded(limits) == other.worth.banded(limits)
    return counts_alike and (near_x or near_y or one.x.way + one.y.way > 1)


def _unlike(spread: Sequence[tuple[AreaStart, ...]], limits: Limits, most: int) -> list[tuple[AreaStart, ...]]:
    """The first of those that count alike and differ in their last area alone."""
    kept: dict[object, tuple[AreaStart, ...]] = {}
    for row in spread:
        before = tuple((one.area, one.x, one.y) for one in row[:-1])
        kept.setdefault((before, together(row).banded(limits)) if before else (row[-1].x, row[-1].y), row)
    return list(kept.values())[:most]
