"""What to start with on one surface: its areas in the order in which they are fixed, each given those before it."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from fractions import Fraction
from functools import lru_cache
from typing import TYPE_CHECKING, Any, Literal

from msgspec import Struct, field
from msgspec.structs import replace

from cutmarks.checks.spaces import Facing, facing
from cutmarks.checks.starts import wanted
from cutmarks.choosing.borders import Border, EndOf, EndsOf
from cutmarks.choosing.breakpoints import Offset, at_turns, breakpoints, easily_said, offsets, where_the_other_tells
from cutmarks.choosing.figures import POOR, Figures, Worth, band_of, worth_of
from cutmarks.choosing.landing import HoleOn, landing
from cutmarks.choosing.leaves import AreaEnds, comes_back, rows_till_alike
from cutmarks.choosing.question import StartQuestion, ends_of, on_other_wall
from cutmarks.choosing.search import Found, best_starts
from cutmarks.choosing.words import figure, of_axis, start_at
from cutmarks.fixing.areas import order_of_areas
from cutmarks.geometry.regions import contains
from cutmarks.geometry.shapes import Circle, ring_of
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.limits import Limits
from cutmarks.openings.model import Opening
from cutmarks.readings import Bond, From, Reading, Start
from cutmarks.setout.lines import on_lines
from cutmarks.setout.model import SetOut
from cutmarks.sides import Axis, Side
from cutmarks.tiling.areas import layout_of, look_at_first_course, own_limits, why_not_carried
from cutmarks.tiling.bonds import kerf_of
from cutmarks.tiling.grid import tile_as_laid
from cutmarks.tiling.layout import Layout
from cutmarks.units import MM_PER, Unit

if TYPE_CHECKING:
    from cutmarks.job import Job
    from cutmarks.job.models import AreaSpec, SurfaceSpec

BEST_FEW = 5
BEAM = 4
"""So many starts of the areas that are fixed before are carried on to the next."""
UNLIKE = 0.1
"""Two starts are shown beside each other where they lie further apart than this part of a pitch, or count otherwise."""
NEAR_JOINT = 2.0
"""A spacer is tried in place of a joint that differs by no more, mm: the look of a wall goes by it."""
SAID_WITHIN = 1e-4
"""A start as it is read again is the one that was written, mm."""
STEPS_ASIDE = 60
LOOKED_AT, ALL_BUT, CLOSE = 4, 0.9999, 0.05
"""How far a start may move is looked at in so many parts, the last of them but for a hair, and told to so much, mm."""
AXES: Mapping[Axis, str] = {"across": "plumb", "up": "level"}
"""The axes of a start, and the line that each is read from."""


class AreaStart(Struct, frozen=True):
    """A start for one area.

    x, y      where the corner of tile [0, 0] then lies, Surface frame, mm; across, up: the same in words.
    bond, joint  other than the job says, else None; joint_words: the joint as it is written there.
    may_move  how far it may move left, right, down and up and counts the same, mm.
    fragile   what would make it poor, in words: an edge or a hole that is a little out.
    """

    area: str
    x: float
    y: float
    across: Start
    up: Start
    figures: Figures
    worth: Worth
    bond: Bond | None = None
    joint: float | None = None
    may_move: tuple[float, float, float, float] = (0.0, 0.0, 0.0, 0.0)
    fragile: tuple[str, ...] = ()
    layout: Layout | None = None
    joint_words: str = ""


class Offer(Struct, frozen=True):
    """A start for every area of a surface, and what counts of them together."""

    starts: tuple[AreaStart, ...]
    worth: Worth

    @property
    def fragile(self) -> tuple[str, ...]:
        """What would make it poor."""
        return tuple(dict.fromkeys(one for start in self.starts for one in start.fragile))


class Choices(Struct, frozen=True):
    """What may be chosen on one surface.

    offers  the best few, in their order; now: what the job says, where it says all of it.
    why_not  why there are none, as a sentence; left_out: holes that have no place before there are tiles.
    """

    surface: str
    offers: tuple[Offer, ...] = ()
    now: Offer | None = None
    why_not: str = ""
    left_out: tuple[str, ...] = ()


class Chooser(Struct, frozen=True):
    """One surface with all that its starts are looked for by."""

    spec: SurfaceSpec
    setout: SetOut
    openings: Sequence[Opening]
    job: Job
    level_area: str = ""
    runs_round: tuple[Chooser, ...] = ()
    """The area of which courses run at one height round other walls, and these: their floors and ceilings count too."""
    _asked: dict[object, StartQuestion] = field(default_factory=dict)
    """What was asked of each area, with each joint and bond; see `question`."""

    def altered(self, **changed: object) -> Chooser:
        """The same for something else, which is asked anew: what was asked of this one does not hold there."""
        return replace(self, _asked={}, **changed)

    @property
    def limits(self) -> Limits:
        """The job's own figures."""
        return self.job.limits.figures()

    @property
    def step(self) -> float:
        """A start is offered in whole millimetres, or sixteenths of an inch, mm."""
        return float(MM_PER[Unit.INCH]) / 16 if self.job.units.is_imperial else 1.0

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
            found = self.altered(spec=replace(self.spec, areas=areas)).choices(1, free=False)
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
                if under is not None and before and _together(before).shown(self.limits) >= under:
                    continue
                spread += [(*before, one) for one in self._starts(area, before, free, most, under)]
                if under is not None and area is order[-1] and spread:
                    # What shows as little may still be the best by what counts after that.
                    under = min(under, (*min(_together(row).shown(self.limits) for row in spread), math.inf))
            spread.sort(key=lambda row: self._key(row))
            beam = _unlike(spread, self.limits, max(BEAM, most))
        beam = beam[:most] if under is not None else [tuple(self._moving_surely(starts)) for starts in beam[:most]]
        offers = [Offer(starts, _together(starts)) for starts in beam]
        return Choices(self.spec.name, tuple(offers), now)

    def _moving_surely(self, starts: Sequence[AreaStart]) -> Iterator[AreaStart]:
        """The same with how far each may move looked at as it is told.

        The stretches that are searched are of one axis alone: where ends lean, and where circles come over joints, some
        of them change a little earlier.
        """
        specs = {area.name: area for area in self.spec.areas}
        for number, start in enumerate(starts):
            area = specs[start.area]
            joint = area.joint if start.joint is None else start.joint
            asked = self.question(replace(area, bond=start.bond or area.bond, joint=joint), starts[:number])
            ways = ((-1.0, 0.0), (1.0, 0.0), (0.0, -1.0), (0.0, 1.0))
            left, right, down, up = (
                _surely(by, way, asked, (start.x, start.y)) for by, way in zip(start.may_move, ways, strict=True)
            )
            yield replace(start, may_move=(left, right, down, up))

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
        return (*_together(row).banded(self.limits), -min((min(one.may_move) for one in row), default=0.0))

    def _in_order(self) -> list[AreaSpec]:
        layouts = [self._laid(area) for area in self.spec.areas]
        order = order_of_areas(self.spec, self.setout, layouts, self.job.faults())
        return sorted(self.spec.areas, key=lambda area: order[area.name])

    def _laid(self, area: AreaSpec) -> Layout:
        """An area laid somewhere, where it has no start."""
        plumb, level = (of_axis(self.setout.lines.values(), axis)[0] for axis in AXES)
        across = area.start_across or Start("left", Reading("centre", 0.0, None, From("line", plumb.name), plumb.name))
        up = area.start_up or Start("sits on", Reading("centre", 0.0, None, From("line", level.name), level.name))
        return layout_of(replace(area, start_across=across, start_up=up), self.setout, self.job)

    def now(self) -> Offer | None:
        """What the job says, where it says all of it and it can be looked at."""
        if self._why_not() or any(area.start_across is None or area.start_up is None for area in self.spec.areas):
            return None
        starts: list[AreaStart] = []
        for area in self._in_order():
            assert area.start_across is not None
            assert area.start_up is not None
            asked = self.question(area, starts)
            x, y = asked.laid_at
            starts.append(self._start(area, area, asked, Offset(x, x, x, 0), Offset(y, y, y, 0), [], []))
        return Offer(tuple(starts), _together(starts))

    def question(self, area: AreaSpec, before: Sequence[AreaStart]) -> StartQuestion:
        """What is asked of one area, given the starts of those before it: these alone differ from time to time."""
        key = area.name, area.joint, area.bond, area.start_across, area.start_up
        if key not in self._asked:
            self._asked[key] = self._alone(area)
        alone = self._asked[key]
        laid = {one.area: one.layout for one in before if one.layout is not None}
        return alone.beside(tuple(self._facing(alone.layout, laid)))

    def _alone(self, area: AreaSpec) -> StartQuestion:
        layout = self._laid(area)
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
            for area in other.spec.areas:
                if area.name == other.level_area:
                    level = other._ends(area, other._laid(area)).level
                    yield from (on_other_wall(border, other.spec.name) for border in level)

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

    def _starts(
        self,
        area: AreaSpec,
        before: Sequence[AreaStart],
        free: bool,
        most: int,
        under: tuple[float, ...] | None = None,
    ) -> list[AreaStart]:
        """The best starts of one area, given those before it; of those alone that show less than `under`."""
        if any(True for _ in self._own_joints(area)):
            under = None  # whether they are tried hangs on all that is found
        found = self._starts_with(area, area, before, free, most, under)
        decided = area.start_across is not None and area.start_up is not None
        if free or not decided:
            for other in self._joints(area, found):
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
        for way in self._ways(spec, free):
            asked = self.question(way, before)
            best = self.best(asked, way, free, under=under)
            across, up = (self.offsets(asked, way, axis, free) for axis in AXES)
            roomy = (one for one in best if self._has_room(one, asked, len(across) > 1, len(up) > 1))
            for one in self._apart(roomy, asked, max(BEAM, most)):
                found.append(self._start(way, area, asked, one.x, one.y, across, up))
        return found

    def _has_room(self, one: Found, asked: StartQuestion, across: bool, up: bool) -> bool:
        """Whether a start that is a limit itself, on an axis that is free, counts the same a little to one side of it.

        Where a cut-out just touches a tile, anything that is out makes it bite: nobody sets out so.
        """
        at, aside = (one.x.at, one.y.at), self.step / 4
        ways = [(aside, 0.0)] if across and _is_limit(one.x) else []
        ways += [(0.0, aside)] if up and _is_limit(one.y) else []
        return all(any(asked.alike(at[0] + sign * dx, at[1] + sign * dy, at) for sign in (-1, 1)) for dx, dy in ways)

    def _apart(self, found: Iterable[Found], asked: StartQuestion, most: int) -> list[Found]:
        """The first that the tiling takes, of those that all but coincide and count the same."""
        kept: list[Found] = []
        for one in found:
            if not any(_is_like(one, other, asked, self.limits) for other in kept) and self._lies(one, asked):
                kept.append(one)
            if len(kept) >= most:
                break
        return kept

    def _lies(self, one: Found, asked: StartQuestion) -> bool:
        """Whether the tiling takes a start: it has no first course that is none."""
        faults = self.job.faults()
        look_at_first_course(asked.laid(one.x.at, one.y.at), self.job, faults)
        return not faults

    def _joints(self, area: AreaSpec, found: Sequence[AreaStart]) -> Iterator[AreaSpec]:
        """The area with another joint: those that the job names, and a spacer that is owned where all leave a hair."""
        tried = {area.joint}
        hairy = all(one.worth.hair for one in found)
        own = self._own_joints(area) if hairy else ()
        for joint in (*area.joint_or, *own):
            if joint not in tried:
                tried.add(joint)
                yield replace(area, joint=joint)

    def _own_joints(self, area: AreaSpec) -> Iterator[float]:
        """The spacers that are owned and differ little from the area's joint."""
        return (one for one in self.job.tools.spacers if abs(one - area.joint) <= NEAR_JOINT)

    def _ways(self, area: AreaSpec, free: bool) -> Iterator[AreaSpec]:
        """The area as it is, with its bond to the other hand, begun otherwise, and with thirds for halves."""
        yield area
        if self._goes_round(area):
            return
        decided = area.start_across is not None and area.start_up is not None
        bond = area.bond
        if abs(bond.part) == Fraction(1, 2) and bond.way == "alternate" and (free or not decided):
            # Thirds for halves, where the tile is too long for them: where it is bowed a half shows most.
            tile = tile_as_laid(self.job.tiles[area.tile], area)
            if max(tile.w, tile.h) > self.limits.offset_side.value and self.limits.offset_part.value < 0.5:
                for hand, part in (("right", Fraction(1, 3)), ("left", Fraction(-1, 3))):
                    yield replace(area, bond=replace(bond, part=part, words=f"third {hand}"))
        if bond.carried is not None and (free or not decided):
            # Laid from the other end it goes on from there.
            other_end: Literal["left", "right"] = "right" if bond.carried == "left" else "left"
            words = "offcut carried on, from the right" if other_end == "right" else "offcut carried on"
            yield replace(area, bond=replace(bond, carried=other_end, words=words))
        if (decided and not free) or bond.way != "alternate" or bond.part * 2 == 1 or not (bond.part or bond.mm):
            return
        words = bond.words
        for one, other in (("left", "right"), ("right", "left")):
            if one in words:
                yield replace(area, bond=replace(bond, part=-bond.part, mm=-bond.mm, words=words.replace(one, other)))
                return

    def _goes_round(self, area: AreaSpec) -> bool:
        """Whether its courses go round a corner, to or from another wall: both have the bond that they have."""
        names = {self.spec.name.casefold(), area.name.casefold()}
        others = (one.carries_on_from for surface in self.job.surfaces for one in surface.areas)
        return area.carries_on_from is not None or any(one is not None and one.of.casefold() in names for one in others)

    def best(
        self,
        asked: StartQuestion,
        area: AreaSpec,
        free: bool,
        *,
        offered: bool = True,
        under: tuple[float, ...] | None = None,
    ) -> Iterator[Found]:
        """The best starts of one area, worked out; those that are offered are in whole steps, and may move a little."""

        def looked_at(axis: Axis) -> list[Offset]:
            every = self.offsets(asked, area, axis, free)
            if len(every) == 1:
                return every
            # A figure that is just not yet over its limit may lie on a whole step itself, with none on either side.
            turns = at_turns(every)
            return [*self._offered(every), *filter(self._in_steps, turns)] if offered else [*every, *turns]

        def refined(axis: Axis, other: float) -> list[Offset]:
            new = list(where_the_other_tells(asked, axis, other))
            if not new or len(looked_at(axis)) == 1:
                return []
            origin, pitch = self._origin(asked, axis)
            every = offsets([*breakpoints(asked, axis), *new], pitch, origin, self.step, ())
            places = {round(origin + (one - origin) % pitch, 6) for one in new}
            near = [one for one in every if one.low in places or one.high in places]
            return [one for one in near if self._is_whole(one.at)] if offered else near

        return best_starts(asked, looked_at("across"), looked_at("up"), refined, thorough=not offered, under=under)

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
        origin, pitch = self._origin(asked, axis)
        lines = [
            line.at for line in of_axis(self.setout.lines.values(), axis) if low - pitch <= line.at <= high + pitch
        ]
        # Courses that never come back lie as well beside each other from any of them on, further to a side.
        again = pitch * (rows_till_alike(grid) if axis == "up" and comes_back(grid) else 1)
        said: dict[tuple[float, int], None] = {}
        for place, way in easily_said(asked, axis, lines, self.step):
            # A figure is best a small one: the same start, further down or nearer to the line.
            nearer = math.floor((place - origin) / again) * again if way and self._is_whole(again) else 0.0
            if low - pitch <= place - nearer <= high:
                said[place - nearer, way] = None
        return offsets(breakpoints(asked, axis), pitch, origin, self.step, said)

    def _origin(self, asked: StartQuestion, axis: Axis) -> tuple[float, float]:
        """From where on a pitch of starts is looked at, and how long it is: about the main line, or from below."""
        low, high = _reach(asked, axis)
        if axis == "across":
            pitch = asked.grid.pitch_u
            return min(max(-pitch / 2, low), max(high - pitch, low)), pitch
        pitch = asked.grid.pitch_v
        return min(max(0.0, low), max(high - pitch, low)) if asked.layout.is_open else low, pitch

    def _offered(self, every: list[Offset]) -> list[Offset]:
        """Those in whole steps, and those that need no figure: finer than that nobody sets out."""
        return [one for one in every if one.way < 2 or self._in_steps(one)] or every

    def _in_steps(self, one: Offset) -> bool:
        return self._is_whole(one.at)

    def _is_whole(self, mm: float) -> bool:
        return abs(mm / self.step - round(mm / self.step)) * self.step <= TOUCH

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

        x = _widened(x, across, grid.pitch_u, self.step, same_x)

        def same_y(moved: float) -> bool:
            return asked.alike(x.at, moved, at)

        y = _widened(y, up, grid.pitch_v, self.step, same_y)
        plumb, level = (of_axis(self.setout.lines.values(), axis) for axis in AXES)
        start_across = start_at("across", x.at, grid.w, grid.joint, plumb, kind, unit, self.step)
        if area.carries_on_from is not None and area.start_across is not None:
            start_across = area.start_across
        start_up = start_at("up", y.at, grid.h, grid.joint, level, kind, unit, self.step)
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
            fragile=tuple(_fragile(asked, x.at, y.at, figures)),
            layout=asked.laid(x.at, y.at),
        )


def with_offer(job: Job, surface: str, offer: Offer) -> Job:
    """The job as it is when an offer is taken."""
    starts = {start.area: start for start in offer.starts}

    def taken(area: AreaSpec) -> AreaSpec:
        start = starts[area.name]
        changed: dict[str, Any] = {"start_across": start.across, "start_up": start.up}
        changed |= {} if start.bond is None else {"bond": start.bond}
        changed |= {} if start.joint is None else {"joint": start.joint, "joint_or": ()}
        return replace(area, **changed)

    surfaces = tuple(
        replace(one, areas=tuple(map(taken, one.areas))) if one.name == surface else one for one in job.surfaces
    )
    return replace(job, surfaces=surfaces)


def says(job: Job, surface: str, offer: Offer) -> bool:
    """Whether a job says what is offered."""
    spec = next((one for one in job.surfaces if one.name == surface), None)
    areas = {} if spec is None else {area.name: area for area in spec.areas}
    return all(
        (area := areas.get(start.area)) is not None
        and (bool(area.carries_on_from) or _is_said(area.start_across, start.across))
        and _is_said(area.start_up, start.up)
        and (start.bond is None or _how(area.bond) == _how(start.bond))
        and (start.joint is None or abs(area.joint - start.joint) <= TOUCH)
        for start in offer.starts
    )


def _how(bond: Bond) -> tuple[object, ...]:
    """How a bond moves its courses, whatever it is called."""
    return bond.part, bond.mm, bond.way, bond.carried


def _is_said(said: Start | None, offered: Start) -> bool:
    return (
        said is not None
        and said.anchor == offered.anchor
        and said.at.start == offered.at.start
        and abs(said.at.low - offered.at.low) <= SAID_WITHIN
    )


def _reach(asked: StartQuestion, axis: Axis) -> tuple[float, float]:
    """From where to where an area goes on an axis, mm."""
    box = asked.layout.on_surface
    return (box.min_x, box.max_x) if axis == "across" else (box.min_y, box.max_y)


def _together(starts: Sequence[AreaStart]) -> Worth:
    worth = starts[0].worth
    for one in starts[1:]:
        worth = worth.and_of(one.worth)
    return worth


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
        kept.setdefault((before, _together(row).banded(limits)) if before else (row[-1].x, row[-1].y), row)
    return list(kept.values())[:most]


def _is_limit(offset: Offset) -> bool:
    """Whether an offset by a measure has no stretch of its own."""
    return offset.way == 2 and offset.high - offset.low <= TOUCH


def _widened(
    offset: Offset, every: Sequence[Offset], pitch: float, step: float, same: Callable[[float], bool]
) -> Offset:
    """How far an offset may move and count the same, over the intervals beside its own; then its middle, where free."""
    between = sorted((one for one in every if one.way == 2), key=lambda one: one.low)
    if not between:
        return offset
    turns = round((offset.at - between[0].low) // pitch) * pitch
    place = offset.at - turns
    index = max((i for i, one in enumerate(between) if one.low <= place + TOUCH), default=0)
    low, high = offset.low, offset.high
    stays = offset.way == 2 or same((low + high) / 2)
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


def _fragile(asked: StartQuestion, x: float, y: float, figures: Figures) -> Iterator[str]:
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
