"""A job as it is in a room of the other hand: each surface turned about its plumb line, left for right.

Places are mirrored, shapes are not: the same valve body, the same outline of a bracket comes through in both hands,
unless the hole says `handed: yes`. What is hot stays on its side where hot and cold are a declared pair. Readings are
worded anew from their values (`phrasing.py`), what was taken for granted is said of the mirrored job, and pieces get
their names from the grid, which counts from the left as one faces it. Only names and what an edge or a line is called
have left and right exchanged: the left panel is the right one there.

    frame of the mirrored surface:  x' = -x, y' = y, each from the same set-out line
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Mapping, Sequence
from typing import Literal, TypeVar

from msgspec import Struct
from msgspec.structs import replace

from cutmarks.geometry.tolerance import TOUCH
from cutmarks.job.assumed import assumed
from cutmarks.job.edges import EdgeSpec, KeepOutSpec, Step, VoidSpec
from cutmarks.job.holes import HoleSpec
from cutmarks.job.measures import length_as_written
from cutmarks.job.models import Job
from cutmarks.job.phrasing import reading_words
from cutmarks.job.surfaces import LineSpec, SurfaceSpec
from cutmarks.job.taped import PairSpec
from cutmarks.job.tiles import AreaSpec
from cutmarks.job.words import Setting, found
from cutmarks.readings import Bond, CarriesOn, EdgeReading, Lies, PointRead, Reading, Spot, Square, Start, Taken
from cutmarks.sides import SIDES, Axis, Side

S = TypeVar("S", VoidSpec, KeepOutSpec)
V = TypeVar("V")
HOT_AND_COLD = ("hot", "cold")
"""In the name of each of a pair: the first stays on its side."""
_HANDED: Mapping[str, str] = {
    "left": "right", "lefthand": "righthand", "leftmost": "rightmost", "lefthanded": "righthanded",
    "lh": "rh", "lhs": "rhs", "l/h": "r/h",
}  # fmt: skip
_OTHER_HAND = {**_HANDED, **{right: left for left, right in _HANDED.items()}}
_HANDED_WORD = re.compile(
    rf"(?<![\w/])(?:{'|'.join(sorted(_OTHER_HAND, key=len, reverse=True))})(?![\w/])(?![- ]angle)", re.IGNORECASE
)
_WORK_TURNED: Mapping[str, Literal["left to right", "right to left"]] = {
    "left to right": "right to left",
    "right to left": "left to right",
}
_PIECE = re.compile(r"\d+-[LR]?\d+[a-z]?$", re.IGNORECASE)
_SIDES_OF_A_THING: Mapping[str, Literal["sides", "centre", "low", "high", "level with", "course"]] = {
    "low": "high",
    "high": "low",
}


def mirrored(job: Job) -> Job:
    """The job of a room that is built the other way round.

    What came back from the wall (`found`) is of the room as drawn and is left out; so is what is said of the inside
    corners of one piece, and a finding that was accepted of one is told again, since pieces count from the left.
    """
    kept = tuple(one for one in job.accepted if not _PIECE.search(one.about))
    left = (one for one in job.accepted if _PIECE.search(one.about))
    said = [f"{one.rule}: accepted of {one.about} as drawn; in a mirrored room it is told again." for one in left]
    said += [
        f"corner radius of {name}: of the room as drawn; in a mirrored room its corners are made as all others."
        for name in job.corner_radius_of
    ]
    surfaces = tuple(_OtherHand(replace(job.setting, kind=one.kind)).surface(one) for one in job.surfaces)
    said += [sentence for surface in surfaces for sentence in _sides_changed(surface)]
    other = replace(
        job,
        name=f"{job.name}, mirrored",
        surfaces=surfaces,
        courses_run_round=tuple(other_hand(name) for name in job.courses_run_round),
        accepted=tuple(replace(one, about=_about_anew(one.about, job), reason=_as_drawn(one.reason)) for one in kept),
        found=(),
        note=_as_drawn(job.note),
        corner_radius_of={},
        read={**job.read, "hand": "mirrored"},
    )
    return replace(other, assumed=(*assumed(other, as_written=job), *said))


def _about_anew(about: str, job: Job) -> str:
    """What a finding was accepted of; what is hot or cold keeps its name where it keeps its side."""
    return about if any(about in kept_in_place(surface) for surface in job.surfaces) else other_hand(about)


def other_hand(text: str) -> str:
    """The text with left for right, word by word; a right angle stays one.

    >>> other_hand("Left tap, LH end, right-angle valve")
    'Right tap, RH end, right-angle valve'
    """
    return _HANDED_WORD.sub(lambda match: _cased(_OTHER_HAND[match[0].casefold()], match[0]), text)


def _cased(word: str, like: str) -> str:
    if like.isupper():
        return word.upper()
    return word.capitalize() if like[0].isupper() else word


def _as_drawn(note: str) -> str:
    """A remark in the tiler's own words: where it speaks of a side, it says in which room."""
    return f"In the room as drawn: {note}" if _HANDED_WORD.search(note) else note


class _OtherHand(Struct, frozen=True):
    """What is on a surface, in the other hand; `setting` is the job's, and says whether it is a wall or a floor."""

    setting: Setting

    def surface(self, surface: SurfaceSpec) -> SurfaceSpec:
        """A wall or a floor turned about its plumb line.

        Raises ValueError: it has a reading that cannot be told in the other hand.
        """
        kept = kept_in_place(surface)
        there = {other_hand(name): other for name, other in kept.items()}
        holes = {hole.name: self._hole(hole) for hole in surface.holes}
        places = {name: holes[other] for name, other in kept.items()}
        return replace(
            surface,
            name=other_hand(surface.name),
            lines=tuple(self._line(line) for line in surface.lines),
            edges={side: self._edge(surface.edges[side.mirrored]) for side in SIDES if side.mirrored in surface.edges},
            outline=self._spots(surface.outline),
            gaps={side.mirrored: gap for side, gap in surface.gaps.items()},
            areas=tuple(self._area(area) for area in surface.areas),
            windows=self._voids(surface.windows),
            niches=self._voids(surface.niches),
            doors=self._voids(surface.doors),
            do_not_drill=self._voids(surface.do_not_drill),
            holes=tuple(
                self._said_anew(_renamed(_in_place(hole, places.get(name), name), there))
                for name, hole in holes.items()
            ),
            points={name: self._point(point) for name, point in surface.points.items()},
            pairs=tuple(_pair(pair, kept) for pair in surface.pairs),
            square=None if surface.square is None else self._square(surface.square),
            up=other_hand(surface.up),
            way_out=None if surface.way_out is None else surface.way_out.mirrored,
            first=tuple(other_hand(name) for name in surface.first),
            note=_as_drawn(surface.note),
        )

    def _line(self, line: LineSpec) -> LineSpec:
        at = line.at if line.at is None or line.fixes == "y" else self._across(line.at, place=True)
        off = None if line.off is None else replace(line.off, slope=-line.off.slope, text=other_hand(line.off.text))
        return replace(line, at=at, off=off, kind=other_hand(line.kind), words=other_hand(line.words))

    def _edge(self, edge: EdgeSpec) -> EdgeSpec:
        """An edge is on the other side; along one that is level, its stretches come in the other order."""
        side = edge.side.mirrored
        return replace(
            edge,
            side=side,
            readings=self._edge_readings(edge.readings, edge.side),
            what=other_hand(edge.what),
            hidden_by=other_hand(edge.hidden_by),
            steps=self._steps(edge.steps, edge.side),
            note=_as_drawn(edge.note),
        )

    def _steps(self, steps: Sequence[Step], side: Side) -> tuple[Step, ...]:
        turned = [
            replace(one, readings=self._edge_readings(one.readings, side), what=other_hand(one.what)) for one in steps
        ]
        if not turned or side.axis == "across":
            return tuple(turned)
        ends = [None if one.until is None else self._across(one.until, place=True) for one in steps]
        return tuple(
            replace(one, until=end) for one, end in zip(reversed(turned), [*reversed(ends[:-1]), None], strict=True)
        )

    def _edge_readings(self, readings: Sequence[EdgeReading], side: Side) -> tuple[EdgeReading, ...]:
        return tuple(self._edge_reading(one, side.axis) for one in readings)

    def _edge_reading(self, read: EdgeReading, axis: Axis) -> EdgeReading:
        """One reading of an edge, which lies at a place along `axis`."""
        along: Axis = "up" if axis == "across" else "across"
        return EdgeReading(
            self._on(axis, read.at, place=True),
            None if read.along is None else self._on(along, read.along, place=True),
        )

    def _on(self, axis: Axis, reading: Reading, *, place: bool = False) -> Reading:
        return self._across(reading, place=place) if axis == "across" else self._up(reading)

    def _across(self, reading: Reading, *, place: bool = False) -> Reading:
        """A reading across, worded anew; `place` as in `reading_words`. From a line it changes its sign, else its edge.

        Raises ValueError: it is from a piece, whose name counts from the left.
        """
        start, low, high = reading.start, reading.low, reading.high
        if start is not None and start.kind == "piece":
            raise ValueError(
                f"{found(reading.text)} is read from a piece, and pieces count from the left: for rooms of both hands "
                "read it from a line."
            )
        if start is not None and start.kind == "edge":
            start = replace(
                start, name=other_hand(start.name), side=None if start.side is None else start.side.mirrored
            )
        elif reading.start is not None or reading.how == "level with":
            low, high = (-low, None) if high is None else (-high, -low)
        how = _SIDES_OF_A_THING.get(reading.how, reading.how)
        turned = replace(
            _named(reading), how=how, low=low + 0.0, high=None if high is None else high + 0.0, start=start
        )
        return replace(turned, text=reading_words(turned, "across", self.setting, place=place))

    def _up(self, reading: Reading) -> Reading:
        """A reading up keeps its figures, and its words where they name nothing that is called otherwise."""
        named = _named(reading)
        return reading if named == reading else replace(named, text=reading_words(named, "up", self.setting))

    def _spots(self, spots: Sequence[Spot]) -> tuple[Spot, ...]:
        """Corners in the other hand, in an order that goes round the other way."""
        return tuple(Spot(self._across(spot.across, place=True), self._up(spot.up)) for spot in reversed(spots))

    def _point(self, point: PointRead) -> PointRead:
        return replace(point, across=self._across(point.across, place=True), up=self._up(point.up))

    def _voids(self, voids: Sequence[S]) -> tuple[S, ...]:
        return tuple(
            replace(
                void,
                name=other_hand(void.name),
                across=None if void.across is None else self._across(void.across),
                outline=self._spots(void.outline),
                note=_as_drawn(void.note),
            )
            for void in voids
        )

    def _square(self, square: Square) -> Square:
        """The lines meet at the angle that is left of two right ones; the law of cosines says the diagonal then."""
        diagonal = math.sqrt(2 * (square.across**2 + square.up**2) - square.diagonal**2)
        text = [length_as_written(mm, self.setting) for mm in (square.across, square.up, diagonal)]
        return replace(square, diagonal=diagonal, text=f"{text[0]} x {text[1]}, diagonal {text[2]}")

    def _area(self, area: AreaSpec) -> AreaSpec:
        return replace(
            area,
            name=other_hand(area.name),
            bond=self._bond(area.bond),
            turn=-area.turn + 0.0,
            right_of=None if area.left_of is None else self._across(area.left_of, place=True),
            left_of=None if area.right_of is None else self._across(area.right_of, place=True),
            outline=self._spots(area.outline),
            start_across=None if area.start_across is None else self._start(area.start_across),
            carries_on_from=None if area.carries_on_from is None else self._carries_on(area.carries_on_from),
            work=_WORK_TURNED.get(area.work, area.work),
            note=_as_drawn(area.note),
        )

    def _bond(self, bond: Bond) -> Bond:
        if bond.carried is not None:
            end: Literal["left", "right"] = "right" if bond.carried == "left" else "left"
            return replace(bond, carried=end, words=f"offcut carried on, from the {end}")
        return replace(bond, part=-bond.part, mm=-bond.mm + 0.0, words=other_hand(bond.words))

    def _carries_on(self, carries: CarriesOn) -> CarriesOn:
        return CarriesOn("left" if carries.end == "right" else "right", other_hand(carries.of))

    def _start(self, start: Start) -> Start:
        """What lay on a line by its left edge lies on it by its right; a joint and a middle stay what they are."""
        anchor = {"left": "right", "right": "left"}.get(start.anchor, start.anchor)
        return Start(anchor, start.at if start.anchor == "equal" else self._across(start.at, place=True))  # type: ignore[arg-type]

    def _hole(self, hole: HoleSpec) -> HoleSpec:
        """A thing in its place in the other hand. Its shape stays, unless it says that it is handed."""
        lies: Lies | None = {"left": "right", "right": "left"}.get(hole.lies or "", hole.lies)  # type: ignore[assignment]
        leans = hole.leans
        return replace(
            hole,
            name=other_hand(hole.name),
            across=None if hole.across is None else self._across(hole.across),
            up=None if hole.up is None else self._up(hole.up),
            corners=self._spots(hole.corners),
            outline=self._spots(hole.outline) if hole.handed else self._moved(hole.outline),
            readings=tuple(self._taken(taken) for taken in hole.readings),
            lies=lies,
            open_towards=None if hole.open_towards is None else hole.open_towards.mirrored,
            open_also=None if hole.open_also is None else hole.open_also.mirrored,
            lean=None if hole.lean is None else -hole.lean + 0.0,
            lean_words=other_hand(hole.lean_words),
            leans=None if leans is None else replace(leans, across=-leans.across + 0.0),
            note=_as_drawn(hole.note),
        )

    def _taken(self, taken: Taken) -> Taken:
        reading = taken.reading
        if reading is None or taken.axis is None:
            return taken
        return replace(taken, reading=self._on(taken.axis, reading))

    def _said_anew(self, hole: HoleSpec) -> HoleSpec:
        """A hole whose readings are worded as they are now, after what is hot has kept its side."""
        return replace(
            hole,
            across=None if hole.across is None else self._worded(hole.across, "across"),
            up=None if hole.up is None else self._worded(hole.up, "up"),
            readings=tuple(self._taken_worded(taken) for taken in hole.readings),
        )

    def _worded(self, reading: Reading, axis: Axis) -> Reading:
        if axis == "across" or reading.other is not None or not reading.text:
            return replace(reading, text=reading_words(reading, axis, self.setting))
        return reading

    def _taken_worded(self, taken: Taken) -> Taken:
        if taken.reading is None or taken.axis is None:
            return taken
        reading = self._worded(taken.reading, taken.axis)
        within = "" if taken.within is None else f", within {length_as_written(taken.within, self.setting)}"
        return replace(taken, reading=reading, text=taken.text if reading == taken.reading else reading.text + within)

    def _moved(self, outline: Sequence[Spot]) -> tuple[Spot, ...]:
        """A shape where it is in the other hand, and the same way round: about the middle of its width it stays.

        Raises ValueError: its corners are read from different things, so that its width is not known here.
        """
        if not outline:
            return ()
        starts = {spot.across.start for spot in outline}
        if len(starts) > 1:
            text = outline[0].across.text
            raise ValueError(
                f"{found(text)} and the other corners of this outline are read across from different things: for rooms "
                "of both hands read them all from one line."
            )
        lows = [spot.across.low for spot in outline]
        middle = min(lows) + max(lows)
        from_edge = next(iter(starts)) is not None and outline[0].across.start.kind == "edge"  # type: ignore[union-attr]
        turned = [self._across(spot.across, place=True) for spot in outline]
        # Mirrored about its own middle once more, each corner is where it was within the shape.
        sums = middle if from_edge else -middle
        across = [replace(one, low=sums - one.low + 0.0) for one in turned]
        across = [replace(one, text=reading_words(one, "across", self.setting, place=True)) for one in across]
        return tuple(Spot(one, self._up(spot.up)) for one, spot in zip(across, outline, strict=True))


def _named(reading: Reading) -> Reading:
    """A reading that calls what it names as it is called in the other hand."""
    return replace(
        reading,
        other=None if reading.other is None else other_hand(reading.other),
        area=None if reading.area is None else other_hand(reading.area),
    )


def kept_in_place(surface: SurfaceSpec) -> Mapping[str, str]:
    """What is hot and cold in the declared pairs of a surface as drawn, each with the other of its pair.

    In the other hand they change places with one another, so that each is on its side again, under its own name. Two
    that are plumb, one above the other, have no sides.
    """
    by_name = {hole.name: hole for hole in surface.holes}
    kept: dict[str, str] = {}
    for pair in surface.pairs:
        one, other = (by_name[name] for name in pair.of)
        if not pair.plumb and {_heat(one), _heat(other)} == set(HOT_AND_COLD):
            kept |= {one.name: other.name, other.name: one.name}
    return kept


def _pair(pair: PairSpec, kept: Mapping[str, str]) -> PairSpec:
    """What was read between two holes holds between what is in their places."""
    one, other = (kept.get(name) or other_hand(name) for name in pair.of)
    return replace(pair, of=(one, other))


def _heat(hole: HoleSpec) -> str:
    """Hot or cold, by its name or else by what it is; "" where neither is said."""
    for text in (hole.name, hole.what):
        said = [word for word in HOT_AND_COLD if re.search(rf"\b{word}\b", text, re.IGNORECASE)]
        if len(said) == 1:
            return said[0]
    return ""


def _in_place(hole: HoleSpec, there: HoleSpec | None, name: str) -> HoleSpec:
    """A hole at the place of another, under its own name: read as that was, with its own width; None: it stays."""
    if there is None:
        return hole
    return replace(
        hole,
        name=name,
        across=_about(there.across, hole.across),
        up=_about(there.up, hole.up),
        corners=there.corners,
        readings=there.readings,
        lies=there.lies,
        open_towards=there.open_towards,
        open_also=there.open_also,
        slide=there.slide,
    )


def _about(there: Reading | None, own: Reading | None) -> Reading | None:
    """A reading of both sides about the middle of another's, as wide as its own; not worded yet where that differs."""
    if there is None or own is None or there.high is None or own.high is None:
        return there
    middle, half = (there.low + there.high) / 2, (own.high - own.low) / 2
    if abs((there.high - there.low) / 2 - half) <= TOUCH:
        return there
    return replace(there, low=middle - half, high=middle + half, text="")


def _renamed(hole: HoleSpec, names: Mapping[str, str]) -> HoleSpec:
    """What was read from one of two that changed places is read from what is in its place now."""

    def renamed(reading: Reading | None) -> Reading | None:
        if reading is None or reading.other is None:
            return reading
        return replace(reading, other=names.get(reading.other, reading.other))

    return replace(
        hole,
        across=renamed(hole.across),
        up=renamed(hole.up),
        readings=tuple(replace(taken, reading=renamed(taken.reading)) for taken in hole.readings),
    )


def _sides_changed(surface: SurfaceSpec) -> Iterator[str]:
    """What is hot and cold, and is no declared pair, so that the one that was left is right now."""
    paired = {name for pair in surface.pairs for name in pair.of}
    heats = {_heat(hole): hole.name for hole in surface.holes if hole.name not in paired}
    if set(HOT_AND_COLD) <= heats.keys():
        hot, cold = (heats[word] for word in HOT_AND_COLD)
        yield (
            f"{hot} and {cold} change sides in a mirrored room: to keep what is hot on its side write, under pairs:, "
            f"- of: {hot} and {cold}."
        )
