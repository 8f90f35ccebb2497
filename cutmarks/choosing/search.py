"""The search: every start that can differ in what it leaves is held against the others, axis with axis.

What an end or a hole gets from the start across hangs on the start up only by which courses it lies in. So each axis is
worked out alone, once for each way that courses are shifted, and the two are put together by counting; only the best
are then worked out as a whole.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import cached_property
from heapq import nsmallest
from itertools import islice, product
from typing import NamedTuple

from msgspec import Struct, field
from msgspec.structs import replace

from cutmarks.checks.starts import fair_share
from cutmarks.choosing.borders import Border, EndOf
from cutmarks.choosing.figures import FAIR, GOOD, HAIR, POOR, Worth, band_of, graded, opposite_ends
from cutmarks.choosing.landing import HoleOn
from cutmarks.choosing.leaves import LEG, Met, met_at, pieces_of, rows_met, rows_till_alike
from cutmarks.choosing.question import StartQuestion
from cutmarks.choosing.steps import Offset
from cutmarks.geometry.tolerance import COINCIDE, TOUCH
from cutmarks.limits import Limits
from cutmarks.sides import Axis

WORKED_OUT, FOR_SURE = 100, 240
"""So many of the best by count are worked out as a whole; so many to be sure."""
WORKED_OUT_UNLIKE = 60
"""And so many more, the best of each offset."""
REFINED = 4
"""Beside so many of the best is looked at all that counts as they do on one axis, and where circles meet crossings and
leaning ends meet tiles: together both axes may count otherwise than each of them."""
UNSEATED = 3
"""How easily a start is said that sits on nothing, where something is to carry the first course: least of all."""
KEPT_ALIKE = 3
"""Of the offsets of one axis that count alike so many are kept: what is easily said, and the widest."""


class Found(NamedTuple):
    """A start that was worked out: where, and what counts."""

    x: Offset
    y: Offset
    worth: Worth


class _Meant(Struct, frozen=True):
    """What one offset means on its axis: ends by band as bits, holes that land badly as bits, and what is counted.

    For the axis across the bits are those of one way in which a course is shifted after the other.
    short  ends at which a whole tile stops short, as bits; legs: those beside which a piece that goes on past them, and
           no other, has a hair.
    least  the smallest piece at each end, in the order of the bits, mm, where what is alike hangs on the courses.
    """

    bands: tuple[int, int, int]
    """Which ends have a fair, a poor, a hair piece."""
    bites: int
    stops: int
    thin: int
    unequal: int
    apart: int
    cuts: float
    hidden: int
    short: int
    legs: int
    batten: bool
    least: tuple[float, ...] = ()


def _worse(one: _Meant, other: _Meant) -> _Meant:
    """What two offsets mean together, each end and each hole as it is worse."""
    if one == other:
        return one
    fair, poor, hair = (a | b for a, b in zip(one.bands, other.bands, strict=True))
    return _Meant(
        (fair, poor, hair),
        one.bites | other.bites,
        one.stops | other.stops,
        one.thin | other.thin,
        max(one.unequal, other.unequal),
        max(one.apart, other.apart),
        max(one.cuts, other.cuts),
        max(one.hidden, other.hidden),
        one.short | other.short,
        one.legs | other.legs,
        one.batten or other.batten,
        tuple(map(min, one.least, other.least)),
    )


class _Stretch(NamedTuple):
    """A stretch as courses of one way meet it: the number of its end, and how many pieces it cuts about.

    leg  the same where a piece that goes on past it, however thin, is one; None: nothing goes on, or it is hidden.
    """

    number: int
    met: Met
    leg: Met | None
    cuts: float
    hidden: bool


class _OneAxis(Struct, dict=True):
    """The ends and holes of one axis, numbered, and what an offset does to each."""

    asked: StartQuestion
    axis: Axis
    ends: dict[EndOf, int] = field(default_factory=dict)

    def __post_init__(self) -> None:
        for border in self.borders:
            self.ends.setdefault(border.end, len(self.ends))

    @property
    def borders(self) -> Sequence[Border]:
        return self.asked.ends.upright if self.axis == "across" else self.asked.ends.level

    @cached_property
    def shifts(self) -> Sequence[float]:
        """How far courses are shifted, one for each way in which they lie; up there is one way."""
        return self.asked.courses.shifts if self.axis == "across" else (0.0,)

    @cached_property
    def _met(self) -> tuple[list[list[_Stretch]], list[list[tuple[int, HoleOn]]]]:
        """By way, the stretches and the holes that courses lying so may go into; up a leg is a piece."""
        pitch = self.asked.grid.pitch_v if self.axis == "across" else self.asked.grid.pitch_u
        borders: list[list[_Stretch]] = [[] for _ in self.shifts]
        holes: list[list[tuple[int, HoleOn]]] = [[] for _ in self.shifts]
        for border in self.borders:
            turns, hidden, least = border.turns0 or border.turns1, border.end.hidden, self.asked.ends.least
            met = met_at(border, (border.v0, border.o0), (border.v1, border.o1), least)
            leg = met._replace(least=LEG) if turns else None
            if leg is not None and self.axis == "up":
                met, leg = leg, None
            ways = self._ways(border.t0, border.t1)
            cuts = (border.t1 - border.t0) / pitch / max(len(ways), 1)
            for way in ways:
                borders[way].append(_Stretch(self.ends[border.end], met, None if hidden else leg, cuts, hidden))
        for number, hole in enumerate(self.asked.holes):
            for way in self._ways(hole.box.min_y, hole.box.max_y):
                holes[way].append((number, hole))
        return borders, holes

    def _ways(self, low: float, high: float) -> Sequence[int]:
        return self.asked.ways_between(low, high) if self.axis == "across" else (0,)

    def of(self, offset: Offset) -> _Meant:
        """What an offset means; the worse of it and of what lies beside it, where that has to count the same."""
        one = self._at(offset.at)
        return _worse(one, self._at(offset.at + offset.aside)) if offset.aside else one

    def _at(self, at: float) -> _Meant:
        alone = self.asked.once((self.axis, at), lambda: self._alone(at))
        if not self.asked.facing:
            return alone
        laid = self.asked.laid_at
        way = "up" if self.axis == "across" else "across"
        apart = self.asked.apart(*((at, laid[1]) if self.axis == "across" else (laid[0], at)), way)
        return replace(alone, apart=len(apart))

    def _alone(self, at: float) -> _Meant:
        """The same whatever areas lie beside it."""
        grid, limits = self.asked.grid, self.asked.limits
        size, pitch = (grid.w, grid.pitch_u) if self.axis == "across" else (grid.h, grid.pitch_v)
        ends, holes = len(self.ends), len(self.asked.holes)
        bands = [0, 0, 0]
        bites = stops = thin = 0
        cuts = 0.0
        hidden, short, legs = GOOD, 0, 0
        least = [math.inf] * (ends * len(self.shifts))
        borders_met, holes_met = self._met
        for phase, shift in enumerate(self.shifts):
            for stretch in borders_met[phase]:
                found = pieces_of(stretch.met, at + shift, pitch, size)
                if not found:
                    continue
                smallest, largest = min(found), max(found)
                place = phase * ends + stretch.number
                least[place] = min(least[place], size, smallest)
                # Where a piece is too thin to be one the tile before it ends a whole joint and more from the stretch.
                if stretch.leg is not None and (largest >= pitch - TOUCH or stretch.met.high > stretch.met.low):
                    legs |= (min(pieces_of(stretch.leg, at + shift, pitch, size)) < smallest) << place
                short |= (largest - size >= self.asked.ends.least) << place
                if smallest < size - TOUCH:
                    cuts += stretch.cuts
                band = band_of(smallest, size, limits)
                if stretch.hidden:
                    hidden = max(hidden, band)
                elif band > GOOD:
                    bands[band - 1] |= 1 << place
            for number, hole in holes_met[phase]:
                low, high = (hole.box[0], hole.box[2]) if self.axis == "across" else (hole.box[1], hole.box[3])
                bite, stop, thinly = self._lands(low - at - shift, high - at - shift, size, pitch)
                bit = 1 << (phase * holes + number)
                bites |= bit * bite
                stops |= bit * stop
                thin |= bit * thinly
        return _Meant(
            (bands[0], bands[1], bands[2]),
            bites,
            stops,
            thin,
            0 if len(self.shifts) > 1 else self.unequal(least),
            0,
            cuts,
            hidden,
            short,
            legs,
            self._has_unwanted_batten(at),
            tuple(least) if len(self.shifts) > 1 else (),
        )

    def _has_unwanted_batten(self, at: float) -> bool:
        carried = self.asked.carried(at) if self.axis == "up" else None
        return carried is not None and carried.is_unwanted(self.asked.limits)

    def _lands(self, low: float, high: float, size: float, pitch: float) -> tuple[bool, bool, bool]:
        """Whether a hole from low to high, from the start on, just bites, and leaves a bridge that stops or is thin."""
        want = self.asked.want
        first = int((low + TOUCH) // pitch)
        begin = low - first * pitch
        end = high - first * pitch
        fair = fair_share(high - low, want.bite, want.part)
        bridge = size
        if begin < size - TOUCH:  # some of it lies in the first tile
            bridge = max(begin, 0.0)
            if end <= size + TOUCH:
                bridge = min(bridge, max(size - end, 0.0))
        bite = (
            begin < size - TOUCH < end - TOUCH
            and size - begin < fair - TOUCH
            and (low + high) / 2 > first * pitch + size
        )
        last = int((high - TOUCH) // pitch)
        if last > first:
            into = high - last * pitch
            bite = bite or (into < fair - TOUCH and (low + high) / 2 < last * pitch)
            if into < size:
                bridge = min(bridge, size - into)
        return bite, bridge < want.bridge.least_stop - TOUCH, bridge < want.bridge.least_look - TOUCH

    @cached_property
    def _pairs(self) -> list[tuple[int, int]]:
        """The numbers of ends that one looks at together."""
        pairs = opposite_ends(self.ends)
        return [(self.ends[one], self.ends[other]) for one, other in pairs if one.side.axis == self.axis]

    def unequal(self, least: Sequence[float], met: int = -1) -> int:
        """How many pairs of opposite ends of this axis are not alike, in those courses whose bits `met` has."""
        size, ends = self.asked.grid.w if self.axis == "across" else self.asked.grid.h, len(self.ends)
        within, count = self.asked.limits.equal_ends.value + COINCIDE, 0
        for one, other in self._pairs:
            a, b = (
                min((least[bit] for bit in range(number, len(least), ends) if met >> bit & 1), default=math.inf)
                for number in (one, other)
            )
            if math.inf in (a, b) or (self.axis == "up" and max(a, b) >= size - TOUCH):
                continue
            count += abs(a - b) > within
        return count

    def courses(self, y: float) -> _Courses:
        """Which ends and which holes lie in courses that are shifted so, as bits; for the axis across alone."""
        grid, ends, holes, legs = self.asked.grid, 0, 0, 0
        alike, way_of, in_all = rows_till_alike(grid), self.asked.courses.way, len(self.ends)
        for border in self.borders:
            first, last = rows_met(border, grid, y, self.asked.ends.least)
            number = self.ends[border.end]
            for row in range(first, min(last, first + alike - 1) + 1):
                if (way := way_of(row)) is not None:
                    ends |= 1 << (way * in_all + number)
            low, high = y + first * grid.pitch_v, y + last * grid.pitch_v + grid.h
            for row, is_past in (
                (first, border.turns0 and low < border.t0 - TOUCH),
                (last, border.turns1 and high > border.t1 + TOUCH),
            ):
                if is_past and first <= last and (way := way_of(row)) is not None:
                    legs |= 1 << (way * in_all + number)
        if len(self.shifts) == 1:
            return _Courses((1 << in_all) - 1, (1 << len(self.asked.holes)) - 1, legs)
        for number, hole in enumerate(self.asked.holes):
            first = int((hole.box[1] - y - grid.h + TOUCH) // grid.pitch_v) + 1
            last = int((hole.box[3] - y - TOUCH) // grid.pitch_v)
            for row in range(first, min(last, first + alike - 1) + 1):
                if (way := way_of(row)) is not None:
                    holes |= 1 << (way * len(self.asked.holes) + number)
        return _Courses(ends, holes, legs)


class _Courses(NamedTuple):
    """Which ends and which holes lie in courses of each way, as bits; legs: of which ends a piece goes on past them."""

    ends: int
    holes: int
    legs: int


def _folded(bits: int, count: int, phases: int) -> int:
    """Bits of every way in which a course is shifted, over one another."""
    if phases == 1:
        return bits
    every = (1 << count) - 1
    found = 0
    for _ in range(phases):
        found |= bits & every
        bits >>= count
    return found


def _counts(one: _Meant) -> tuple[int, int, int, int]:
    """The worst band, and how many ends have a hair, a poor, a fair piece: an end counts by its worst."""
    fair, poor, hair = one.bands
    worst = HAIR if hair else POOR if poor else FAIR if fair else GOOD
    return worst, hair.bit_count(), (poor & ~hair).bit_count(), (fair & ~poor & ~hair).bit_count()


class _Group(NamedTuple):
    """Offsets of one axis that count alike, what is easily said first; `few` of them stand for all."""

    counts: tuple[int, int, int, int]
    one: _Meant
    members: list[Offset]
    few: list[Offset]


def _easily(asked: StartQuestion, axis: Axis, offset: Offset) -> int:
    """How easily a start is said, the less the easier: see `Offset.way`.

    On a wall a course sits on something: one that is said by a joint or a middle has no batten to be put up, and comes
    behind a figure.
    """
    return UNSEATED if axis == "up" and asked.sits is not None and not asked.sits(offset.at) else offset.way


def _grouped(asked: StartQuestion, axis: Axis, every: Iterable[tuple[Offset, _Meant]]) -> list[_Group]:
    def preferred(offset: Offset) -> tuple[int, float]:
        """What is easily said before what is not, then what may shift furthest."""
        return _easily(asked, axis, offset), offset.low - offset.high

    groups: dict[_Meant, list[Offset]] = {}
    for offset, one in every:
        groups.setdefault(one, []).append(offset)
    for members in groups.values():
        members.sort(key=preferred)
    return [_Group(_counts(one), one, members, _some(members)) for one, members in groups.items()]


def _some(members: list[Offset]) -> list[Offset]:
    """Of offsets that count alike the easily said ones, which stand first, and the widest."""
    return members[:KEPT_ALIKE] + [
        widest for widest in (min(members, key=lambda one: one.low - one.high),) if widest not in members[:KEPT_ALIKE]
    ]


def best_starts(
    asked: StartQuestion,
    across: Sequence[Offset],
    up: Sequence[Offset],
    refined: Callable[[Axis, float], Iterable[Offset]],
    *,
    thorough: bool = False,
    under: tuple[float, ...] | None = None,
) -> Iterator[Found]:
    """The best of all pairs of offsets, worked out, in their order.

    `refined` has what else is to be looked at on one axis once the start on the other is known. `thorough`: more are
    worked out, which is worth its time only where finer starts than anybody sets out are looked at. With `under` those
    alone that show less than this.
    """
    most, unlike, refine = (FOR_SURE if thorough else WORKED_OUT), WORKED_OUT_UNLIKE, (REFINED if thorough else 1)
    over, side = _OneAxis(asked, "across"), _OneAxis(asked, "up")
    xs = [(offset, over.of(offset)) for offset in across]
    by_courses: dict[_Courses, list[tuple[Offset, _Meant]]] = {}
    for offset in up:
        by_courses.setdefault(over.courses(offset.at), []).append((offset, side.of(offset)))
    pairs: list[_Pair] = []
    for courses, ys in by_courses.items():
        seen = _grouped(asked, "across", ((offset, _in_courses(one, courses, over)) for offset, one in xs))
        pairs += _best_pairs(seen, _grouped(asked, "up", ys), most, asked.limits)
    found: dict[tuple[float, float], _Place] = {}

    def take(x: Offset, y: Offset, pair: _Pair) -> None:
        """One place once, as it is said most easily: that comes first."""
        found.setdefault((x.at, y.at), _Place(x, y, pair))

    best = nsmallest(most, pairs, key=lambda pair: pair.counts)
    for some, enough in ((best, most), (_unlike_each_other(pairs), most + unlike)):
        for pair in some:
            if len(found) >= enough:
                break
            for x, y in product(pair.column.few, pair.row.few):
                take(x, y, pair)
    for x, y, pair in list(islice(_in_order(found.values(), asked), refine)):
        for other in (*pair.column.members, *refined("across", y.at)):
            take(other, y, pair)
        for other in (*pair.row.members, *refined("up", x.at)):
            take(x, other, pair)
    by_ease = sorted(found.values(), key=lambda place: ease(asked, place.x, place.y))
    return (Found(x, y, asked.worth(x.at, y.at)) for x, y, _ in _in_order(by_ease, asked, under))


def _in_order(
    places: Iterable[_Place], asked: StartQuestion, under: tuple[float, ...] | None = None
) -> Iterator[_Place]:
    """The best first; those that count alike as they come. Pieces are counted where all before them is alike."""
    alike: dict[tuple[int, ...], list[_Place]] = {}
    for one in places:
        alike.setdefault(asked.uncounted(one.x.at, one.y.at).before_cuts, []).append(one)
    for key in sorted(alike):
        if under is not None and key >= under:
            return
        yield from sorted(alike[key], key=lambda one: asked.worth(one.x.at, one.y.at).banded(asked.limits))


class _Pair(NamedTuple):
    """Offsets of both axes, and what counts of them as far as it can be told without laying them."""

    counts: tuple[float, ...]
    column: _Group
    row: _Group


class _Place(NamedTuple):
    """Offsets of both axes that are worked out together, and the pair that they come from."""

    x: Offset
    y: Offset
    pair: _Pair


def _best_pairs(columns: Sequence[_Group], rows: Sequence[_Group], most: int, limits: Limits) -> list[_Pair]:
    """The best pairs, and behind them the best one of every column and of every row."""
    counts = [[_count(column, row, limits) for row in rows] for column in columns]
    every = ((i, j) for i in range(len(columns)) for j in range(len(rows)))
    best = nsmallest(most, every, key=lambda ij: counts[ij[0]][ij[1]])
    best += [(i, min(range(len(rows)), key=lambda j: counts[i][j])) for i in range(len(columns))]
    best += [(min(range(len(columns)), key=lambda i: counts[i][j]), j) for j in range(len(rows))]
    return [_Pair(counts[i][j], columns[i], rows[j]) for i, j in dict.fromkeys(best)]


def _unlike_each_other(pairs: Sequence[_Pair]) -> list[_Pair]:
    """The best pair of each column, and of each row, the best of these in front: other starts to choose from."""
    kept: dict[tuple[str, Offset], _Pair] = {}
    for pair in sorted(pairs, key=lambda pair: pair.counts):
        kept.setdefault(("column", pair.column.members[0]), pair)
        kept.setdefault(("row", pair.row.members[0]), pair)
    return list({id(pair): pair for pair in kept.values()}.values())


def ease(asked: StartQuestion, x: Offset, y: Offset) -> tuple[float, ...]:
    """Among starts that count alike: what is easily said, and what may shift furthest."""
    return x.way + _easily(asked, "up", y), -min(x.high - x.low, y.high - y.low)


def _in_courses(one: _Meant, courses: _Courses, over: _OneAxis) -> _Meant:
    """What an offset across means where ends and holes lie in these courses."""
    ends, holes, legs = courses
    of_ends, of_holes, phases = len(over.ends), len(over.asked.holes), len(over.shifts)
    unequal = over.unequal(one.least, ends) if one.least else one.unequal
    fair, poor, hair, short, leg = (
        _folded(bits, of_ends, phases) for bits in (*(bits & ends for bits in (*one.bands, one.short)), one.legs & legs)
    )
    bites, stops, thin = (_folded(bits & holes, of_holes, phases) for bits in (one.bites, one.stops, one.thin))
    hair |= leg
    return _Meant(
        (fair, poor, hair), bites, stops, thin, unequal, one.apart, one.cuts, one.hidden, short, 0, one.batten
    )


def _count(column: _Group, row: _Group, limits: Limits) -> tuple[float, ...]:
    """What counts of two offsets together, cuts as far as they can be told without laying them."""
    (worst, hair, poor, fair), (other, hairs, poors, fairs) = column.counts, row.counts
    a, b = column.one, row.one
    stops, bites = a.stops | b.stops, a.bites | b.bites
    return (
        graded(max(worst, other), b.batten, limits),
        hair + hairs,
        poor + poors,
        stops.bit_count(),
        (bites & ~stops).bit_count(),
        ((a.thin | b.thin) & ~stops & ~bites).bit_count(),
        b.batten,
        a.unequal + b.unequal,
        a.apart + b.apart,
        fair + fairs,
        (a.cuts + b.cuts) // limits.cuts_alike.value,
        max(a.hidden, b.hidden),
        a.short.bit_count() + b.short.bit_count(),
    )
