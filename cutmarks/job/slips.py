"""Slips of a figure that a surface's text alone shows, once it is read whole; each is told before anything is built.

Four corners that make no box, a place 400 m from its line, an outline that crosses itself, an edge that begins where it
ends. Places are taken from the set-out lines here; what is read from an edge or a piece, is held to its own figure.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise
from typing import TYPE_CHECKING

from msgspec import Struct
from msgspec.structs import replace

from cutmarks.errors import JobPath
from cutmarks.geometry.frames import Surface as SurfaceFrame
from cutmarks.geometry.rings import Ring, polygon
from cutmarks.job.boxes import is_box, slipped
from cutmarks.job.edges import EDGE_AS_IN
from cutmarks.job.measures import LONGEST_SURFACE, WIDEST_THING, bare, said, says_own_unit, style_of, too_long
from cutmarks.job.outlines import no_outline
from cutmarks.job.thing_size import no_size
from cutmarks.job.tokens import plain_words
from cutmarks.job.words import Setting, found
from cutmarks.readings import EdgeReading, Reading, Spot
from cutmarks.sides import ON_AXIS, FourSides, Side

if TYPE_CHECKING:
    from cutmarks.job.edges import EdgeSpec
    from cutmarks.job.holes import HoleSpec
    from cutmarks.job.surfaces import LineSpec, SurfaceSpec
    from cutmarks.job.tiles import AreaSpec

CM = 10.0
NEARLY_TEN = 0.08
LEAST_SLIP = 100.0
"""Two readings of one edge that are so nearly tenfold, and so far apart, mm, are of two units."""

Slip = tuple[JobPath, str]
"""Where it stands, in the keys of the models, and its sentence."""
PAST_AN_EDGE = 1_000.0
"""Borders and windows may run so far past the surface's edges, mm; further is a slip."""
LONGEST_OUTLINE = 10_000.0
"""What is given by its outline may be larger than other things, a bath, a drain; but no longer than this, mm."""
_OVER_MOST = "and nothing that comes through a tile is so long: write its corners again."
_CROSSING = "where the lines cross"


class SurfaceRead(Struct, frozen=True):
    """A surface as read: where each line lies, and how far its edges or its outline go on each side they are known."""

    surface: SurfaceSpec
    setting: Setting
    lines: Mapping[str, float]
    ends: Mapping[Side, float]

    def at(self, reading: Reading | None) -> tuple[float, ...]:
        """The coordinates that a reading from a set-out line names, mm; none where it is from something else."""
        if reading is None or reading.start is None or reading.start.kind != "line":
            return ()
        origin = self.lines[reading.start.name]
        return (origin + reading.low,) if reading.high is None else (origin + reading.low, origin + reading.high)


def slips_of(surface: SurfaceSpec, setting: Setting) -> Iterator[Slip]:
    """Every slip of a surface, `setting` being that of its phrases."""
    lines = line_places(surface.lines)
    circle = [line for line in surface.lines if line.name not in lines]
    for line in circle:
        if not any(other.at is None and other.fixes == line.fixes for other in surface.lines):
            continue  # it is told that none of them is a main line
        yield (
            line.where,
            "It is measured from a line that is measured from it in turn: give one of them as a main line, with no "
            "distance.",
        )
    if circle:
        return
    read = SurfaceRead(surface, setting, lines, _ends(surface, lines))
    for line in surface.lines:
        yield from _far((*line.where, "at"), line.at, read)
    for edge in surface.edges.values():
        yield from _edge(edge, read)
    apart = list(_room(read))
    yield from apart
    if apart:
        # What lies past edges that are themselves at fault is not told.
        read = replace(read, ends={})
    yield from _outlined((*surface.where, "outline"), surface.outline, read)
    for area in surface.areas:
        yield from _area(area, read)
    for void in surface.voids:
        yield from _placed(void.where, {"across": void.across, "up": void.up}, read, ends=True)
        yield from _outlined((*void.where, "outline"), void.outline, read, ends=True)
    for strip in surface.do_not_drill:
        yield from _placed(strip.where, {"across": strip.across, "up": strip.up}, read)
        yield from _outlined((*strip.where, "outline"), strip.outline, read)
    is_network = bool(surface.pairs) or any(hole.readings for hole in surface.holes)
    for hole in surface.holes:
        yield from _hole(hole, read)
        # What is adjusted together may be sized by any of its readings: that is told where it is placed.
        # Own fittings that cannot be read may have the size: their own fault is told.
        is_sized_elsewhere = (
            is_network or hole.corners or hole.outline or (read.setting.own_fittings is None and hole.what)
        )
        if not is_sized_elsewhere and (sentence := no_size(hole, setting)) is not None:
            yield hole.where, sentence
    yield from _level_circles(surface.holes)
    for name, point in surface.points.items():
        yield from _far((*surface.where, "points", name), point.across, read)
        yield from _far((*surface.where, "points", name), point.up, read)


def line_places(lines: Sequence[LineSpec]) -> dict[str, float]:
    """Where each line lies, mm from the main line of its axis; a line may be given from another, in any order.

    Lines that are measured from each other in a circle have no place.
    """
    by_name = {line.name: line for line in lines}
    placed: dict[str, float] = {}
    for line in lines:
        chain: list[LineSpec] = []
        while line.name not in placed and line not in chain:
            chain.append(line)
            if line.at is None or line.at.start is None:
                placed[line.name] = 0.0
                chain.pop()
                break
            line = by_name[line.at.start.name]
        for one in reversed(chain):
            assert one.at is not None
            assert one.at.start is not None
            if one.at.start.name in placed:
                placed[one.name] = placed[one.at.start.name] + one.at.low
    return placed


def _ends(surface: SurfaceSpec, lines: Mapping[str, float]) -> dict[Side, float]:
    """How far the surface goes on each side that is known, outermost reading, mm."""
    if surface.outline:
        xs = [lines[spot.across.start.name] + spot.across.low for spot in surface.outline if spot.across.start]
        ys = [lines[spot.up.start.name] + spot.up.low for spot in surface.outline if spot.up.start]
        return dict(FourSides(min(xs), max(xs), min(ys), max(ys)).items())
    ends: dict[Side, float] = {}
    for side, edge in surface.edges.items():
        ats = [
            lines[reading.at.start.name] + reading.at.low for reading in _readings(edge) if reading.at.start is not None
        ]
        ends[side] = min(ats) if side in ("left", "bottom") else max(ats)
    return ends


def _readings(edge: EdgeSpec) -> list[EdgeReading]:
    return [*edge.readings, *(reading for step in edge.steps for reading in step.readings)]


def _far(where: JobPath, reading: Reading | None, read: SurfaceRead) -> Iterator[Slip]:
    """A reading that names a place, or a distance, that no wall or floor has."""
    if reading is None:
        return
    if reading.start is not None and reading.start.kind == "edge" and reading.start.name not in read.surface.edges:
        side = reading.start.name
        yield (
            where,
            f"{found(reading.text)} is from the {side} edge, which has no reading: write it under edges, as in "
            f"{side}: {EDGE_AS_IN[side]}, or read from a line.",
        )
        return
    ats = read.at(reading) or tuple(one for one in (reading.low, reading.high) if one is not None)
    furthest = max(map(abs, ats), default=0.0)
    if too_long(furthest):
        home = _CROSSING if read.at(reading) else "what it is read from"
        yield (
            where,
            f"{found(reading.text)} lies {said(furthest, read.setting)} from {home}{_taken(read.setting)}, and no wall "
            f"or floor that is tiled goes over {said(LONGEST_SURFACE, read.setting)}: write the figure again.",
        )


def _taken(setting: Setting) -> str:
    """Says which unit a figure without one was taken for, where that is not the one of the sentence."""
    return "" if setting.unit == style_of(setting).unit else f" (a figure without a unit is in {setting.unit})"


def _past(where: JobPath, reading: Reading | None, across: bool, read: SurfaceRead) -> Iterator[Slip]:
    """A reading that lies far past an edge of its own surface."""
    for at in read.at(reading)[:2]:
        for side in ON_AXIS["across" if across else "up"]:
            past = side.sign * (at - read.ends[side]) if side in read.ends else 0.0
            if past > PAST_AN_EDGE and reading is not None:
                yield (
                    where,
                    f"{found(reading.text)} lies {said(past, read.setting)} past the {side} edge of this surface"
                    f"{_taken(read.setting)}: write the figure again, or the edge.",
                )
                return


def _placed(
    where: JobPath, readings: Mapping[str, Reading | None], read: SurfaceRead, *, ends: bool = False
) -> Iterator[Slip]:
    """Both readings of a thing, by their keys; with `ends` they are held to the surface's edges too."""
    for key, reading in readings.items():
        told = list(_far((*where, key), reading, read))
        yield from told
        if ends and not told:
            yield from _past((*where, key), reading, key == "across", read)


def _off(where: JobPath, reading: Reading | None, across: bool, read: SurfaceRead) -> Iterator[Slip]:
    """A thing both of whose sides lie past one edge of its own surface, wherever the edge was read."""
    ats = read.at(reading)
    if reading is None or reading.how != "sides" or not ats:
        return
    for side in ON_AXIS["across" if across else "up"]:
        past = min(side.sign * (at - read.ends[side]) for at in ats) if side in read.ends else 0.0
        if past > 0.0:
            yield (
                where,
                f"It lies off {read.surface.name}, {said(past, read.setting)} past the {side} edge"
                f"{_taken(read.setting)}: look at which side of which line was written.",
            )


def _outlined(
    where: JobPath, spots: Sequence[Spot], read: SurfaceRead, *, ends: bool = False, most: float | None = None
) -> Iterator[Slip]:
    """An outline: each corner on the surface, and all of them one after the other round some ground.

    `most` is how far it may go, mm.
    """
    told: list[Slip] = []
    for number, spot in enumerate(spots):
        for reading, across in ((spot.across, True), (spot.up, False)):
            own = list(_far((*where, number), reading, read))
            told += own or (list(_past((*where, number), reading, across, read)) if ends else [])
    yield from told
    if spots and not told and most is not None:
        box = _ring(spots, read).bounds
        longest = max(box.width, box.height)
        if longest > most:
            told = [(where, f"Its outline is {said(longest, read.setting)} long{_taken(read.setting)}, {_OVER_MOST}")]
            yield from told
    if spots and not told and (sentence := no_outline(_ring(spots, read), read.setting)) is not None:
        yield where, sentence


def _ring(spots: Sequence[Spot], read: SurfaceRead) -> Ring[SurfaceFrame]:
    return polygon([(read.at(spot.across)[0], read.at(spot.up)[0]) for spot in spots])


def _edge(edge: EdgeSpec, read: SurfaceRead) -> Iterator[Slip]:
    """An edge: each reading on the surface, and no two of them at one place."""
    for number, reading in enumerate(edge.readings):
        yield from _far((*edge.where, "at", number), reading.at, read)
        yield from _far((*edge.where, "at", number), reading.along, read)
    for number, step in enumerate(edge.steps):
        for reading in step.readings:
            yield from _far((*edge.where, "steps", number, "at"), reading.at, read)
        yield from _far((*edge.where, "steps", number, "until"), step.until, read)
    yield from _tenfold(edge, read)
    yield from _at_one_place((*edge.where, "at"), edge.readings, read)
    for number, step in enumerate(edge.steps):
        yield from _at_one_place((*edge.where, "steps", number, "at"), step.readings, read)
    ends = [(number, step.until) for number, step in enumerate(edge.steps) if step.until is not None]
    for (_, one), (number, other) in pairwise(ends):
        if read.at(one) and read.at(one) == read.at(other):
            yield (
                (*edge.where, "steps", number, "until"),
                f"It ends at {found(other.text)}, where the step before it does: write where it ends, or leave it out.",
            )


def _at_one_place(where: JobPath, readings: Sequence[EdgeReading], read: SurfaceRead) -> Iterator[Slip]:
    alongs = sorted((read.at(reading.along), number) for number, reading in enumerate(readings) if reading.along)
    for (first, _), (second, number) in pairwise(alongs):
        if first == second:
            again = readings[number].along
            assert again is not None
            yield (
                (*where, number),
                f"Two of its readings were taken at one place, {found(again.text)}: keep one, or write where the other "
                "was taken, as in 1065 right of V at B.",
            )


def _tenfold(edge: EdgeSpec, read: SurfaceRead) -> Iterator[Slip]:
    """Of an edge that was read twice from one thing, a figure in cm beside one in mm: no edge leans by nine tenths.

    A reading that says its own unit is what it says.
    """
    for (one, _), (two, number) in pairwise((reading.at, number) for number, reading in enumerate(edge.readings)):
        small, large = sorted((one, two), key=lambda at: abs(at.low))
        if one.start != two.start or small.low * large.low <= 0.0 or _has_unit(small, large, read.setting):
            continue
        if abs(large.low / small.low - CM) <= NEARLY_TEN * CM and abs(large.low - small.low) > LEAST_SLIP:
            yield (
                (*edge.where, "at", number),
                f"{found(small.text)} and {found(large.text)} are {said(abs(large.low - small.low), read.setting)} "
                "apart on one edge, nearly tenfold: is the smaller one in cm? Write its unit behind its figure, cm or "
                "mm.",
            )


def _has_unit(one: Reading, other: Reading, setting: Setting) -> bool:
    return says_own_unit(one.text, setting) or says_own_unit(other.text, setting)


def _room(read: SurfaceRead) -> Iterator[Slip]:
    """Edges that lie the wrong way round, or too far from each other."""
    for low, high in ON_AXIS.values():
        if low not in read.ends or high not in read.ends:
            continue
        room = read.ends[high] - read.ends[low]
        where = (*read.surface.where, "outline") if read.surface.outline else read.surface.edges[high].where
        if room <= 0.0:
            way = "left of" if high == "right" else "below"
            yield (
                where,
                f"The {high} edge lies {said(-room, read.setting)} {way} the {low} one: look at which side of which "
                "line was written.",
            )
        elif too_long(room) and not any(too_long(read.ends[side]) for side in (low, high)):
            yield (
                where,
                f"Its {low} and {high} edges lie {said(room, read.setting)} from each other, and no wall or floor that "
                f"is tiled in one goes over {said(LONGEST_SURFACE, read.setting)}: write the figures again, or make "
                "two surfaces of it.",
            )


def _area(area: AreaSpec, read: SurfaceRead) -> Iterator[Slip]:
    """An area: its borders and its start on the surface, and some room between its borders."""
    borders = {"from": area.from_, "to": area.to, "nothing below": area.nothing_below}
    beside = {"right of": area.right_of, "left of": area.left_of}
    told = [
        slip
        for across, ones in ((False, borders), (True, beside))
        for key, reading in ones.items()
        for slip in (
            list(_far((*area.where, key), reading, read)) or list(_past((*area.where, key), reading, across, read))
        )
    ]
    yield from told
    for key, start in (("start across", area.start_across), ("start up", area.start_up)):
        yield from _far((*area.where, key), None if start is None else start.at, read)
    yield from _outlined((*area.where, "outline"), area.outline, read, ends=True)
    for low, high, word in (("from", "to", "above"), ("right of", "left of", "right of")):
        first, last = ({**borders, **beside}[key] for key in (low, high))
        if not told and first is not None and last is not None and read.at(last) <= read.at(first):
            yield (
                (*area.where, high),
                f"{found(last.text)} does not lie {word} {found(first.text)}: nothing is left between the two; look at "
                "which side of which line was written.",
            )


def _hole(hole: HoleSpec, read: SurfaceRead) -> Iterator[Slip]:
    """One thing: its readings on the surface, its corners about those of a box, its outline round some ground."""
    for key, reading in (("across", hole.across), ("up", hole.up)):
        told = [*_far((*hole.where, key), reading, read), *_own_line(hole, key, reading, read)]
        yield from told or _off((*hole.where, key), reading, key == "across", read)
    for number, taken in enumerate(hole.readings):
        yield from _far((*hole.where, "readings", number), taken.reading, read)
    yield from _outlined((*hole.where, "outline"), hole.outline, read, ends=True, most=LONGEST_OUTLINE)
    if hole.corners:
        yield from _corners(hole, read)


def _own_line(hole: HoleSpec, key: str, reading: Reading | None, read: SurfaceRead) -> Iterator[Slip]:
    """A thing that is read from an edge although a line runs through its middle, by the line's own words."""
    if reading is None or reading.start is None or reading.start.kind != "edge":
        return
    called = [frozenset(plain_words(words)) for words in (hole.name, hole.what) if words]
    for line in read.surface.lines:
        said = frozenset(plain_words(line.words)) - {"of", "the", "a"}
        if (line.fixes == "x") == (key == "across") and "centre" in said and said - {"centre"} in called:
            yield (
                (*hole.where, key),
                f"{found(reading.text)} is from the {reading.start.side} edge, and {line.name} is the "
                f'{line.words} by its own words: write "on {line.name}" if it lies there, else give {line.name} other '
                "words; a second reading of it stands under readings.",
            )


def _level_circles(holes: Sequence[HoleSpec]) -> Iterator[Slip]:
    """Holes that are level with each other in a circle: each circle is told once, at its first hole."""
    by_name = {hole.name: hole for hole in holes}
    left = {hole.name: [name for name, _ in _others(hole) if name in by_name] for hole in holes}
    needed_by: dict[str, list[str]] = {name: [] for name in by_name}
    for name, needs in left.items():
        for other in needs:
            needed_by[other].append(name)
    placed = [name for name, needs in left.items() if not needs]
    while placed:
        name = placed.pop()
        left.pop(name)
        for other in needed_by[name]:
            left[other].remove(name)
            if not left[other]:
                placed.append(other)
    # What is left is in a circle, or placed by one that is.
    walked: set[str] = set()
    for start in left:
        chain: list[str] = []
        name = start
        while name not in walked:
            walked.add(name)
            chain.append(name)
            name = left[name][0]
        if name in chain:
            key = next(key for other, key in _others(by_name[name]) if other == left[name][0])
            circle = chain[chain.index(name) :]
            words = (
                f"{' and '.join(circle)} are placed by each other: read one of them"
                if circle[1:]
                else "it is placed by itself: read it"
            )
            yield (*by_name[name].where, key), f"This goes round in a circle, {words} from a line."


def _others(hole: HoleSpec) -> Iterator[tuple[str, str]]:
    """The holes that a hole is level or plumb with, each with the key that says so."""
    for key, reading in (("across", hole.across), ("up", hole.up)):
        if reading is not None and reading.other is not None:
            yield reading.other, key


def _corners(hole: HoleSpec, read: SurfaceRead) -> Iterator[Slip]:
    """Four corners that make no box, or too big a one."""
    corners = [(read.at(spot.across)[0], read.at(spot.up)[0]) for spot in hole.corners]
    where = (*hole.where, "corners")
    if not is_box(corners):
        likely = slipped(corners)[:2]
        if not likely:
            yield where, "These four corners make no box: read them again, or write another shape as its outline."
            return
        words = " or ".join(
            f"{found(_as_written(hole.corners[number]))} would be about {_in_words(hole.corners[number], place, read)}"
            for number, place in likely
        )
        yield (
            (*where, likely[0][0]),
            f"These four corners make no box: by the other three, {words}. Write it again, or another shape as its "
            "outline.",
        )
        return
    far = [slip for n, spot in enumerate(hole.corners) for slip in _spot_far((*where, n), spot, read)]
    yield from far
    wide, high = (max(axis) - min(axis) for axis in zip(*corners, strict=True))
    if not far and max(wide, high) > WIDEST_THING:
        yield (
            where,
            f"These four corners make it {said(max(wide, high), read.setting)} wide{_taken(read.setting)}, and nothing "
            f"that comes through a tile is over {said(WIDEST_THING, read.setting)}: write them again; windows, niches "
            "and doors stand under keys of their own.",
        )


def _spot_far(where: JobPath, spot: Spot, read: SurfaceRead) -> Iterator[Slip]:
    yield from _far(where, spot.across, read)
    yield from _far(where, spot.up, read)


def _as_written(spot: Spot) -> str:
    return f"{spot.across.text}, {spot.up.text}"


def _in_words(spot: Spot, place: tuple[float, float], read: SurfaceRead) -> str:
    """A place in the words of a corner: from the same lines."""
    onward, back = ("above", "below") if read.setting.kind == "wall" else ("from", "short of")
    words: list[str] = []
    for reading, at, (more, less) in (
        (spot.across, place[0], ("right of", "left of")),
        (spot.up, place[1], (onward, back)),
    ):
        assert reading.start is not None
        reach = at - read.lines[reading.start.name]
        words.append(f"{bare(abs(reach), read.setting)} {more if reach >= 0.0 else less} {reading.start.name}")
    return ", ".join(words)
