"""What a thing looks like: its shape by its kind and its own size, or as read."""

from __future__ import annotations

from typing import TYPE_CHECKING, cast, overload

from cutmarks.fittings import is_box
from cutmarks.geometry.frames import Point, Surface
from cutmarks.geometry.shapes import Circle, Rect, Shape, Slot, ring_of
from cutmarks.job.thing_size import HIDES_ONLY, no_size

if TYPE_CHECKING:
    from cutmarks.job.models import HoleSpec
    from cutmarks.readings import Reading


class Unlocatable(Exception):
    """A reading that names no place; the sentence says why. Caught in `locate` and turned into a fault of the job."""


class FollowsOn(Unlocatable):
    """A place that only waits for another, which has its own fault: nothing more is said of it."""


def shape_known(spec: HoleSpec) -> tuple[Shape | None, float | None]:
    """The thing's shape where its kind or its own size says it, before its position is known."""
    if spec.slot is not None:
        first, second = spec.slot.first, spec.slot.second
        lean = spec.lean or 0.0
        return (Slot(first, second, lean) if first >= second else Slot(second, first, lean + 90)), None
    if spec.size is not None:
        return Rect(spec.size.first, spec.size.second, spec.lean or 0.0), None
    if spec.diameter is not None:
        return Circle(spec.diameter), spec.diameter
    fitting = spec.fitting
    if fitting is None or fitting.kind in HIDES_ONLY:
        return None, None
    if fitting.od is not None:
        return Circle(fitting.od), fitting.od
    if fitting.w is not None and fitting.h is not None and None in (read_or_none(spec.across), read_or_none(spec.up)):
        return Rect(fitting.w, fitting.h, spec.lean or 0.0), None
    return None, None


def shape_as_read(
    spec: HoleSpec, read: tuple[float | None, float | None], round_within: float
) -> tuple[Shape, float | None]:
    """The thing's shape from its readings alone: round where its two measures differ by no more than `round_within`."""
    wide, high = read
    if wide is None and high is None:
        if isinstance(spec.opening, (int, float)):
            return Circle(spec.opening), None
        if spec.opening is not None:
            return Rect(spec.opening.first, spec.opening.second), None
        raise Unlocatable(no_size(spec))
    if wide is None or high is None:
        one = wide if wide is not None else high
        assert one is not None
        return Circle(one), one
    if not is_box(spec.what, spec.fitting) and abs(wide - high) <= round_within:
        diameter = max(wide, high)
        return Circle(diameter), diameter
    return Rect(wide, high), None


@overload
def extent(shape: Shape) -> tuple[float, float]: ...


@overload
def extent(shape: None) -> tuple[None, None]: ...


def extent(shape: Shape | None) -> tuple[float | None, float | None]:
    """How far a shape goes across and up, mm; None of what is not known."""
    if shape is None:
        return None, None
    box = ring_of(shape, cast("Point[Surface]", Point(0.0, 0.0))).bounds
    return box.width, box.height


def read_across(reading: Reading) -> float | None:
    """Between the two sides of a thing as read, mm; None where one distance was read."""
    return None if reading.high is None else abs(reading.high - reading.low)


def read_or_none(reading: Reading | None) -> float | None:
    """The same, of a reading that may not have been taken."""
    return None if reading is None else read_across(reading)
