"""Holes that are adjusted together: their readings as links of a network, and what comes of it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import TYPE_CHECKING, Protocol

from cutmarks.geometry.frames import Point, Surface
from cutmarks.geometry.regions import contains
from cutmarks.geometry.shapes import Shape, ring_of
from cutmarks.locating.model import Located
from cutmarks.locating.network import Link, place
from cutmarks.locating.precision import of_reading, one_sigma
from cutmarks.locating.shapes import extent, shape_as_read, shape_known
from cutmarks.setout.lines import on_lines

if TYPE_CHECKING:
    from collections.abc import Mapping

    from cutmarks.job.limits import Limits
    from cutmarks.job.models import HoleSpec
    from cutmarks.job.phrases import Axis, Reading, Spot
    from cutmarks.job.taped import PairSpec, Taken
    from cutmarks.setout.model import SetOut

AXES: tuple[Axis, Axis] = ("across", "up")


class Reads(Protocol):
    """What turns one reading into both sides of a thing on an axis."""

    setout: SetOut

    def on_axis(self, reading: Reading, axis: Axis, size: float | None, beside: float) -> tuple[float, float]:
        """Both sides of the thing on one axis of the surface, mm, low first; `beside` is its middle on the other."""


def ties(holes: Sequence[HoleSpec], pairs: Sequence[PairSpec]) -> list[tuple[str, str]]:
    """Which holes belong together: those of a pair, and those that are read from each other."""
    found = [pair.of for pair in pairs]
    for spec in holes:
        for _, reading in _axis_readings(spec):
            if reading.how == "level with" and reading.other is not None:
                found.append((spec.name, reading.other))
    return found


def is_joined(spec: HoleSpec, pairs: Sequence[PairSpec]) -> bool:
    """Whether the hole has more to it than a reading across and one up."""
    return bool(spec.readings) or any(spec.name in pair.of for pair in pairs)


def place_together(
    specs: Sequence[HoleSpec],
    pairs: Sequence[PairSpec],
    points: Mapping[str, Spot],
    reads: Reads,
    limits: Limits,
) -> list[Located]:
    """All the holes of one network in their places.

    Raises:
        Unplaced: their readings do not place one of them.
        Unlocatable: a reading names no place, or a size is not known.
    """
    names = [spec.name for spec in specs]
    shapes = [_shape(spec) for spec in specs]
    links: list[Link] = []
    for index, (spec, (shape, _)) in enumerate(zip(specs, shapes, strict=True)):
        links += _axis_links(index, spec, shape, names, reads, limits)
        links += _tapes(index, spec, points, reads.setout, limits)
    for pair in pairs:
        if pair.of[0] in names:
            links += _pair_links(pair, names, limits)
    clear = reads.setout.clear

    def keep(_: int, x: float, y: float) -> bool:
        return contains(clear, Point(x, y))

    placed = place(names, [spec.lies for spec in specs], links, keep, limits.false_alarm.value)
    made = []
    for spec, (shape, diameter), (x, y), doubt in zip(specs, shapes, placed.at, placed.doubts, strict=True):
        at: Point[Surface] = Point(x, y)
        made.append(Located(spec, at, shape, ring_of(shape, at), _read(spec), diameter, doubt, placed.fit))
    return made


def _axis_readings(spec: HoleSpec) -> Iterator[tuple[Axis, Reading]]:
    """Every reading along an axis: across, up, then those of the list."""
    for axis, reading in zip(AXES, (spec.across, spec.up), strict=True):
        if reading is not None:
            yield axis, reading
    for taken in spec.readings:
        if taken.reading is not None and taken.axis is not None:
            yield taken.axis, taken.reading


def _read(spec: HoleSpec) -> tuple[float | None, float | None]:
    """Between both sides of the thing along each axis, as read: the middle one of several."""
    found: dict[Axis, list[float]] = {"across": [], "up": []}
    for axis, reading in _axis_readings(spec):
        if reading.high is not None:
            found[axis].append(reading.high - reading.low)
    across, up = (_middle_one(found[axis]) if found[axis] else None for axis in AXES)
    return across, up


def _middle_one(values: Sequence[float]) -> float:
    """The middle one of several values; of an even number the larger of the two."""
    return sorted(values)[len(values) // 2]


def _shape(spec: HoleSpec) -> tuple[Shape, float | None]:
    """The thing's shape, and its diameter if it is round: as known, or as read along the axes or by tape."""
    shape, diameter = shape_known(spec)
    if shape is not None:
        return shape, diameter
    wide, high = _read(spec)
    if wide is None and high is None:
        taped = [taken.sides for taken in spec.readings if taken.sides is not None]
        wide = high = _middle_one(taped) if taped else None
    return shape_as_read(spec, (wide, high))


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
            yield Link("level", text, names.index(reading.other), 0.0, sigma, number, second=index)
            continue
        middle = _middle(reads, reading, axis, wide if axis == "across" else high)
        if reading.start is not None and reading.start.kind == "edge":
            edge = _edge_of(reads, reading, axis)
            yield Link("edge", text, index, middle(0.0) - edge(0.0), sigma, number, edge=edge)
        else:
            yield Link("axis", text, index, middle(0.0), sigma, number)


def _middle(reads: Reads, reading: Reading, axis: Axis, size: float) -> Callable[[float], float]:
    def at(beside: float) -> float:
        low, high = reads.on_axis(reading, axis, size, beside)
        return (low + high) / 2

    return at


def _edge_of(reads: Reads, reading: Reading, axis: Axis) -> Callable[[float], float]:
    """Where the edge itself is: a centre read at nought from it."""
    from_edge = type(reading)("centre", 0.0, None, reading.start, reading.text)
    return _middle(reads, from_edge, axis, 0.0)


def _tapes(index: int, spec: HoleSpec, points: Mapping[str, Spot], setout: SetOut, limits: Limits) -> Iterator[Link]:
    for taken in spec.readings:
        if taken.reading is None:
            spot = points[taken.point]
            at = on_lines(spot.across, setout.lines), on_lines(spot.up, setout.lines)
            sigma = one_sigma(limits.by_tape.value if taken.within is None else taken.within)
            yield Link("tape", taken.text, index, taken.length, sigma, point=at)


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
