"""A job as it is in a room of the other hand: each surface turned about its plumb line, left for right.

Places are mirrored, shapes are not: the same valve body, the same outline of a bracket comes through in both hands,
unless the hole says `handed: yes`. What is hot stays on its side where hot and cold are a declared pair. What is said
of left and right is said anew, and pieces get their names from the grid, which counts from the left as one faces it.

    frame of the mirrored surface:  x' = -x, y' = y, each from the same set-out line
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Mapping, Sequence
from typing import Literal, TypeVar

from msgspec.structs import replace

from cutmarks.job.edges import EdgeSpec, KeepOutSpec, Step, VoidSpec
from cutmarks.job.holes import HoleSpec
from cutmarks.job.models import Job
from cutmarks.job.surfaces import LineSpec, SurfaceSpec
from cutmarks.job.taped import PairSpec
from cutmarks.job.tiles import AreaSpec
from cutmarks.job.words import found
from cutmarks.readings import Bond, CarriesOn, EdgeReading, Lies, PointRead, Reading, Spot, Square, Start, Taken
from cutmarks.sides import Axis, Side

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
_PIECE = re.compile(r"\d+-\d+[a-z]?$", re.IGNORECASE)
_SIDES_OF_A_THING: Mapping[str, Literal["sides", "centre", "low", "high", "level with", "course"]] = {
    "low": "high",
    "high": "low",
}


def mirrored(job: Job) -> Job:
    """The job of a room that is built the other way round.

    What came back from the wall (`found`) is of the room as drawn and is left out; a finding that was accepted of one
    piece is told again, since pieces count from the left.
    """
    kept = tuple(one for one in job.accepted if not _PIECE.search(one.about))
    left = (one for one in job.accepted if _PIECE.search(one.about))
    said = [f"{one.rule}: accepted of {one.about} as drawn; in a mirrored room it is told again." for one in left]
    surfaces = tuple(_surface(surface) for surface in job.surfaces)
    said += [sentence for surface in surfaces for sentence in _sides_changed(surface)]
    return replace(
        job,
        name=f"{job.name}, mirrored",
        surfaces=surfaces,
        courses_run_round=tuple(other_hand(name) for name in job.courses_run_round),
        accepted=tuple(replace(one, about=other_hand(one.about)) for one in kept),
        found=(),
        assumed=(*(other_hand(sentence) for sentence in job.assumed), *said),
        read={**job.read, "hand": "mirrored"},
    )


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


def _surface(surface: SurfaceSpec) -> SurfaceSpec:
    """A wall or a floor turned about its plumb line."""
    holes = _hot_kept([_hole(hole) for hole in surface.holes], surface.pairs)
    return replace(
        surface,
        name=other_hand(surface.name),
        lines=tuple(_line(line) for line in surface.lines),
        edges={side.mirrored: _edge(edge) for side, edge in surface.edges.items()},
        outline=_spots(surface.outline),
        gaps={side.mirrored: gap for side, gap in surface.gaps.items()},
        areas=tuple(_area(area) for area in surface.areas),
        windows=_voids(surface.windows),
        niches=_voids(surface.niches),
        doors=_voids(surface.doors),
        do_not_drill=_voids(surface.do_not_drill),
        holes=holes,
        points={name: _point(point) for name, point in surface.points.items()},
        pairs=tuple(replace(pair, of=(other_hand(pair.of[0]), other_hand(pair.of[1]))) for pair in surface.pairs),
        square=None if surface.square is None else _square(surface.square),
        up=other_hand(surface.up),
        way_out=None if surface.way_out is None else surface.way_out.mirrored,
        first=tuple(other_hand(name) for name in surface.first),
        note=_as_drawn(surface.note),
    )


def _line(line: LineSpec) -> LineSpec:
    at = line.at if line.at is None or line.fixes == "y" else reading_mirrored(line.at)
    off = None if line.off is None else replace(line.off, slope=-line.off.slope, text=other_hand(line.off.text))
    return replace(line, at=at, off=off, kind=other_hand(line.kind), words=other_hand(line.words))


def _edge(edge: EdgeSpec) -> EdgeSpec:
    """An edge is on the other side; along one that is level, its stretches come in the other order."""
    side = edge.side.mirrored
    return replace(
        edge,
        side=side,
        readings=_edge_readings(edge.readings, edge.side),
        what=other_hand(edge.what),
        hidden_by=other_hand(edge.hidden_by),
        steps=_steps(edge.steps, edge.side),
        note=_as_drawn(edge.note),
    )


def _steps(steps: Sequence[Step], side: Side) -> tuple[Step, ...]:
    turned = [replace(one, readings=_edge_readings(one.readings, side), what=other_hand(one.what)) for one in steps]
    if not turned or side.axis == "across":
        return tuple(turned)
    ends = [None if one.until is None else reading_mirrored(one.until) for one in steps]
    return tuple(
        replace(one, until=end) for one, end in zip(reversed(turned), [*reversed(ends[:-1]), None], strict=True)
    )


def _edge_readings(readings: Sequence[EdgeReading], side: Side) -> tuple[EdgeReading, ...]:
    return tuple(edge_reading_mirrored(one, side.axis) for one in readings)


def edge_reading_mirrored(read: EdgeReading, axis: Axis) -> EdgeReading:
    """One reading of an edge, which lies at a place along `axis`."""
    along: Axis = "up" if axis == "across" else "across"
    return EdgeReading(_on(axis, read.at), None if read.along is None else _on(along, read.along))


def _on(axis: Axis, reading: Reading) -> Reading:
    return reading_mirrored(reading) if axis == "across" else _named(reading)


def reading_mirrored(reading: Reading) -> Reading:
    """A reading across. From a line it changes its sign, from an edge its edge.

    Raises ValueError: it is from a piece, whose name counts from the left.
    """
    start, low, high = reading.start, reading.low, reading.high
    if start is not None and start.kind == "piece":
        raise ValueError(
            f"{found(reading.text)} is read from a piece, and pieces count from the left: for rooms of both hands read "
            "it from a line."
        )
    if start is not None and start.kind == "edge":
        start = replace(start, name=other_hand(start.name), side=None if start.side is None else start.side.mirrored)
    elif reading.start is not None or reading.how == "level with":
        low, high = (-low, None) if high is None else (-high, -low)
    return replace(
        _named(reading), how=_SIDES_OF_A_THING.get(reading.how, reading.how), low=low + 0.0, high=high, start=start
    )


def _named(reading: Reading) -> Reading:
    """A reading whose own figures stay: what it names is called as in the other hand."""
    return replace(
        reading,
        text=other_hand(reading.text),
        other=None if reading.other is None else other_hand(reading.other),
        area=None if reading.area is None else other_hand(reading.area),
    )


def _spots(spots: Sequence[Spot]) -> tuple[Spot, ...]:
    """Corners in the other hand, in an order that goes round the other way."""
    return tuple(Spot(reading_mirrored(spot.across), _named(spot.up)) for spot in reversed(spots))


def _point(point: PointRead) -> PointRead:
    return replace(point, across=reading_mirrored(point.across), up=_named(point.up))


def _voids(voids: Sequence[S]) -> tuple[S, ...]:
    return tuple(
        replace(
            void,
            name=other_hand(void.name),
            across=None if void.across is None else reading_mirrored(void.across),
            outline=_spots(void.outline),
            note=_as_drawn(void.note),
        )
        for void in voids
    )


def _square(square: Square) -> Square:
    """The lines meet at the angle that is left of two right ones; the law of cosines says the diagonal then."""
    diagonal = math.sqrt(2 * (square.across**2 + square.up**2) - square.diagonal**2)
    return replace(square, diagonal=diagonal)


def _area(area: AreaSpec) -> AreaSpec:
    return replace(
        area,
        name=other_hand(area.name),
        bond=_bond(area.bond),
        turn=-area.turn + 0.0,
        right_of=None if area.left_of is None else reading_mirrored(area.left_of),
        left_of=None if area.right_of is None else reading_mirrored(area.right_of),
        outline=_spots(area.outline),
        start_across=None if area.start_across is None else _start(area.start_across),
        carries_on_from=None if area.carries_on_from is None else _carries_on(area.carries_on_from),
        work=_WORK_TURNED.get(area.work, area.work),
        note=_as_drawn(area.note),
    )


def _bond(bond: Bond) -> Bond:
    if bond.carried is not None:
        end: Literal["left", "right"] = "right" if bond.carried == "left" else "left"
        return replace(bond, carried=end, words=f"offcut carried on, from the {end}")
    return replace(bond, part=-bond.part, mm=-bond.mm + 0.0, words=other_hand(bond.words))


def _carries_on(carries: CarriesOn) -> CarriesOn:
    return CarriesOn("left" if carries.end == "right" else "right", other_hand(carries.of))


def _start(start: Start) -> Start:
    """What lay on a line by its left edge lies on it by its right; a joint and a middle stay what they are."""
    anchor = {"left": "right", "right": "left"}.get(start.anchor, start.anchor)
    return Start(anchor, start.at if start.anchor == "equal" else reading_mirrored(start.at))  # type: ignore[arg-type]


def _hole(hole: HoleSpec) -> HoleSpec:
    """A thing in its place in the other hand. Its shape stays, unless it says that it is handed."""
    lies: Lies | None = {"left": "right", "right": "left"}.get(hole.lies or "", hole.lies)  # type: ignore[assignment]
    leans = hole.leans
    return replace(
        hole,
        name=other_hand(hole.name),
        across=None if hole.across is None else reading_mirrored(hole.across),
        up=None if hole.up is None else _named(hole.up),
        corners=_spots(hole.corners),
        outline=_spots(hole.outline) if hole.handed else _moved(hole.outline),
        readings=tuple(_taken(taken) for taken in hole.readings),
        lies=lies,
        open_towards=None if hole.open_towards is None else hole.open_towards.mirrored,
        open_also=None if hole.open_also is None else hole.open_also.mirrored,
        lean=None if hole.lean is None else -hole.lean + 0.0,
        lean_words=other_hand(hole.lean_words),
        leans=None if leans is None else replace(leans, across=-leans.across + 0.0),
        note=_as_drawn(hole.note),
    )


def _taken(taken: Taken) -> Taken:
    reading = taken.reading
    return replace(
        taken,
        text=other_hand(taken.text),
        reading=None if reading is None or taken.axis is None else _on(taken.axis, reading),
    )


def _moved(outline: Sequence[Spot]) -> tuple[Spot, ...]:
    """A shape where it is in the other hand, and the same way round: about the middle of its width it stays.

    Raises ValueError: its corners are read from different things, so that its width is not known here.
    """
    if not outline:
        return ()
    starts = {spot.across.start for spot in outline}
    if len(starts) > 1:
        text = outline[0].across.text
        raise ValueError(
            f"{found(text)} and the other corners of this outline are read across from different things: for rooms of "
            "both hands read them all from one line."
        )
    lows = [spot.across.low for spot in outline]
    middle = min(lows) + max(lows)
    from_edge = next(iter(starts)) is not None and outline[0].across.start.kind == "edge"  # type: ignore[union-attr]
    turned = [reading_mirrored(spot.across) for spot in outline]
    # Mirrored about its own middle once more, each corner is where it was within the shape.
    sums = middle if from_edge else -middle
    across = [replace(one, low=sums - one.low + 0.0) for one in turned]
    return tuple(Spot(one, _named(spot.up)) for one, spot in zip(across, outline, strict=True))


def _hot_kept(holes: Sequence[HoleSpec], pairs: Sequence[PairSpec]) -> tuple[HoleSpec, ...]:
    """The holes with hot and cold of each declared pair back on their sides: they change places with one another."""
    by_name = {hole.name: hole for hole in holes}
    for pair in pairs:
        hot, cold = (by_name.get(other_hand(name)) for name in pair.of)
        if hot is None or cold is None or {_heat(hot), _heat(cold)} != set(HOT_AND_COLD):
            continue
        names = {hot.name: cold.name, cold.name: hot.name}
        places = {hot.name: _place_of(cold, hot), cold.name: _place_of(hot, cold)}
        for name, hole in by_name.items():
            by_name[name] = _renamed(places.get(name, hole), names)
    return tuple(by_name.values())


def _heat(hole: HoleSpec) -> str:
    """Hot or cold, by its name or else by what it is; "" where neither is said."""
    for text in (hole.name, hole.what):
        said = [word for word in HOT_AND_COLD if re.search(rf"\b{word}\b", text, re.IGNORECASE)]
        if len(said) == 1:
            return said[0]
    return ""


def _place_of(there: HoleSpec, comes: HoleSpec) -> HoleSpec:
    """A hole at the place of another: read as that was, with its own width."""
    return replace(
        comes,
        across=_about(there.across, comes.across),
        up=_about(there.up, comes.up),
        corners=there.corners,
        readings=there.readings,
        lies=there.lies,
    )


def _about(there: Reading | None, own: Reading | None) -> Reading | None:
    """A reading of both sides about the middle of another's, as wide as its own."""
    if there is None or own is None or there.high is None or own.high is None:
        return there
    middle, half = (there.low + there.high) / 2, (own.high - own.low) / 2
    return replace(there, low=middle - half, high=middle + half)


def _renamed(hole: HoleSpec, names: Mapping[str, str]) -> HoleSpec:
    """What was read from one of two that changed places is read from the other."""

    def renamed(reading: Reading | None) -> Reading | None:
        return (
            reading
            if reading is None or reading.other is None
            else replace(reading, other=names.get(reading.other, reading.other))
        )

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
            f"- of: {hot} and {cold}"
        )
