"""Holes that are adjusted together: their readings as links of a network, and what comes of it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import TYPE_CHECKING, Protocol

from cutmarks.geometry.frames import Point, Surface
from cutmarks.geometry.regions import contains
from cutmarks.geometry.shapes import Shape, ring_of
from cutmarks.job.thing_size import axis_readings, shape_said, sides_read
from cutmarks.locating.model import Located
from cutmarks.locating.network import Link, Nail, place
from cutmarks.locating.precision import of_reading, one_sigma
from cutmarks.locating.shapes import extent, shape_as_read, shape_known
from cutmarks.setout.lines import on_lines
from cutmarks.sides import Axis

if TYPE_CHECKING:
    from collections.abc import Mapping

    from cutmarks.job.models import HoleSpec
    from cutmarks.job.taped import PairSpec
    from cutmarks.job.words import Setting
    from cutmarks.limits import Limits
    from cutmarks.readings import PointRead, Reading, Taken
    from cutmarks.setout.model import SetOut

AXES: tuple[Axis, Axis] = ("across", "up")


class Reads(Protocol):
    """What turns one reading into both sides of a thing on an axis."""

    setout: SetOut

    def on_axis(self, reading: Reading, axis: Axis, size: float | None, beside: float | None) -> tuple[float, float]:
        """Both sides of the thing on one axis of the surface, mm, low first; `beside` is its middle on the other.

        None where that is not known, which does for all that is not from an edge.
        """


def ties(holes: Sequence[HoleSpec], pairs: Sequence[PairSpec]) -> list[tuple[str, str]]:
    """Which holes belong together: those of a pair, and those that are read from each other."""
    found = [pair.of for pair in pairs]
    for spec in holes:
        for _, reading in axis_readings(spec):
            if reading.how == "level with" and reading.other is not None:
                found.append((spec.name, reading.other))
    return found


def is_joined(spec: HoleSpec, pairs: Sequence[PairSpec]) -> bool:
    """Whether the hole has more to it than a reading across and one up."""
    return bool(spec.readings) or any(spec.name in pair.of for pair in pairs)


def place_together(
    specs: Sequence[HoleSpec],
    pairs: Sequence[PairSpec],
    points: Mapping[str, PointRead],
    reads: Reads,
    limits: Limits,
    setting: Setting,
) -> list[Located]:
    """All the holes of one network in their places; `setting` is the job's.

    Raises:
        Unplaced: their readings do not place one of them.
        Unlocatable: a reading names no place, or a size is not known.
    """
    names = [spec.name for spec in specs]
    shapes = [_shape(spec, limits, setting) for spec in specs]
    taped_from = list(dict.fromkeys(taken.point for spec in specs for taken in spec.readings if taken.point))
    nails = [_nail(name, points[name], reads.setout, limits) for name in taped_from]
    links: list[Link] = []
    for index, (spec, (shape, _)) in enumerate(zip(specs, shapes, strict=True)):
        links += _axis_links(index, spec, shape, names, reads, limits)
        links += _tapes(index, spec, taped_from, limits)
    for pair in pairs:
        if pair.of[0] in names:
            links += _pair_links(pair, names, limits)
    clear = reads.setout.clear

    def keep(_: int, x: float, y: float) -> bool:
        return contains(clear, Point(x, y))

    placed = place(names, [spec.lies for spec in specs], links, keep, limits, nails)
    made = []
    for spec, (shape, diameter), (x, y), doubt in zip(specs, shapes, placed.at, placed.doubts, strict=True):
        at: Point[Surface] = Point(x, y)
        made.append(Located(spec, at, shape, ring_of(shape, at), sides_read(spec), diameter, doubt, placed.fit))
    return made


def _middle_one(values: Sequence[float]) -> float:
    """The middle one of several values; of an even number the larger of the two."""
    return sorted(values)[len(values) // 2]


def _shape(spec: HoleSpec, limits: Limits, setting: Setting) -> tuple[Shape, float | None]:
    """The thing's shape, and its diameter if it is round: as known, or as read along the axes or by tape."""
    shape, diameter = shape_known(spec)
    if shape is not None:
        return shape, diameter
    wide, high = sides_read(spec)
    if wide is None and high is None:
        taped = [taken.sides for taken in spec.readings if taken.sides is not None]
        # A tape to both sides of a round thing is its diameter; to those of a box it may run either way.
        wide = high = _middle_one(taped) if taped and shape_said(spec) != "box" else None
    return shape_as_read(spec, (wide, high), limits.round_within.value, setting)


def _axis_links(
    index: int, spec: HoleSpec, shape: Shape, names: Sequence[str], reads: Reads, limits: Limits
) -> Iterator[Link]:
    wide, high = extent(shape)
    rows: list[tuple[Axis, Reading, Taken | None]] = [
        (axis, reading, None) for axis, reading in zip(AXES, (spec.across, spec.up), strict=True) if reading is not None
    ]
    rows += [(taken.axis, taken.reading, taken) for taken in spec.readings if taken.axis and taken.reading]
    for axis, reading, taken in rows:
        number = AXES.index(axis)
        text = reading.text if taken is None else taken.text
        sigma = one_sigma(taken.within) if taken is not None and taken.within is not None else None
        if sigma is None:
            sigma = of_reading(reading, limits)
        if reading.how == "level with":
            assert reading.other is not None
            yield Link("level", text, names.index(reading.other), reading.low, sigma, number, second=index)
            continue
        size = wide if axis == "across" else high
        if reading.start is not None and reading.start.kind == "edge":
            edge = _edge_of(reads, reading, axis)
            off = _middle(reads, reading, axis, size)(0.0) - edge(0.0)
            yield Link("edge", text, index, off, sigma, number, edge=edge)
        else:
            low, high_side = reads.on_axis(reading, axis, size, None)
            yield Link("axis", text, index, (low + high_side) / 2, sigma, number)


def _middle(reads: Reads, reading: Reading, axis: Axis, size: float) -> Callable[[float], float]:
    def at(beside: float) -> float:
        low, high = reads.on_axis(reading, axis, size, beside)
        return (low + high) / 2

    return at


def _edge_of(reads: Reads, reading: Reading, axis: Axis) -> Callable[[float], float]:
    """Where the edge itself is: a centre read at nought from it."""
    from_edge = type(reading)("centre", 0.0, None, reading.start, reading.text)
    return _middle(reads, from_edge, axis, 0.0)


def _nail(name: str, read: PointRead, setout: SetOut, limits: Limits) -> Nail:
    """A point that tapes are held to, as it was read, each of its readings with its own doubt."""
    both = (read.across, read.up)
    across, up = (on_lines(reading, setout.lines) for reading in both)
    sigmas = [of_reading(reading, limits) if read.within is None else one_sigma(read.within) for reading in both]
    return Nail(name, (read.across.text, read.up.text), (across, up), (sigmas[0], sigmas[1]))


def _tapes(index: int, spec: HoleSpec, taped_from: Sequence[str], limits: Limits) -> Iterator[Link]:
    for taken in spec.readings:
        if taken.reading is None:
            sigma = one_sigma(limits.by_tape.value if taken.within is None else taken.within)
            yield Link("tape", taken.text, index, taken.length, sigma, nail=taped_from.index(taken.point))


def _pair_links(pair: PairSpec, names: Sequence[str], limits: Limits) -> Iterator[Link]:
    first, second = (names.index(name) for name in pair.of)
    sigma = one_sigma(limits.of_pair.value if pair.within is None else pair.within)
    words = " and ".join(pair.of)
    if pair.apart is not None:
        yield Link("apart", f"{words}, apart: {pair.apart:g}", first, pair.apart, sigma, second=second)
    if pair.level:
        yield Link("level", f"{words}, level", first, 0.0, sigma, 1, second=second)
    if pair.plumb:
        yield Link("level", f"{words}, plumb", first, 0.0, sigma, 0, second=second)
