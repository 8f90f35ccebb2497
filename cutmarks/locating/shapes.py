"""What a thing looks like: its shape by its kind and its own size, or as read."""

from __future__ import annotations

from typing import TYPE_CHECKING, cast, overload

from cutmarks.geometry.frames import Point, Surface
from cutmarks.geometry.shapes import Circle, Rect, Shape, Slot, ring_of
from cutmarks.job.thing_size import (
    HIDES_ONLY,
    Sides,
    box_read_one_way,
    is_held_by_its_cover,
    no_size,
    shape_said,
    sides_read,
    square_side,
)

if TYPE_CHECKING:
    from cutmarks.job.models import HoleSpec
    from cutmarks.job.words import Setting
    from cutmarks.readings import Reading


A_POINT = Circle(1.0)
"""What stands for a thing of which nothing is known but its middle, mm."""


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
    wide, high = sides_read(spec)
    if fitting.w is not None and fitting.h is not None and (wide is None or high is None):
        # What was read goes before the catalogue's figure.
        return Rect(fitting.w if wide is None else wide, fitting.h if high is None else high, spec.lean or 0.0), None
    return None, None


def shape_as_read(spec: HoleSpec, read: Sides, round_within: float, setting: Setting) -> tuple[Shape, float | None]:
    """The thing's shape from its readings alone: round where its two measures differ by no more than `round_within`.

    A box is never round, and takes one measure from the other only where it is known to be square. `setting` is the
    job's: whose boxes are square depends on the country.
    """
    wide, high = read
    if wide is None and high is None:
        if isinstance(spec.opening, (int, float)):
            return Circle(spec.opening), None
        if spec.opening is not None:
            return Rect(spec.opening.first, spec.opening.second), None
        if is_held_by_its_cover(spec):
            return A_POINT, None
        raise Unlocatable(no_size(spec, setting))
    is_box = shape_said(spec) == "box"
    if wide is None or high is None:
        one = wide if wide is not None else high
        assert one is not None
        if not is_box:
            return Circle(one), one
        side = square_side(spec, read, setting)
        if side is None:
            raise Unlocatable(box_read_one_way(spec, read, setting))
        return Rect(side, side), None
    if not is_box and abs(wide - high) <= round_within:
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
