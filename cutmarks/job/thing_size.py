"""Whether anything says how big a thing is, and of what shape; and what to write where nothing does."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from cutmarks.fittings import ThingShape, is_square_box, shape_by_kind, sizes_of
from cutmarks.job.measures import bare
from cutmarks.job.words import Setting, found
from cutmarks.sides import Axis

if TYPE_CHECKING:
    from cutmarks.job.holes import HoleSpec
    from cutmarks.readings import Reading

HIDES_ONLY = ("plate", "cover", "device")
"""Kinds of fitting that lie on the tile and do not come through it."""
Sides = tuple[float | None, float | None]


def shape_said(spec: HoleSpec) -> ThingShape:
    """Box or round, by its own size or corners, else by what it is; "" where nothing tells."""
    if spec.corners or spec.outline or spec.size is not None:
        return "box"
    if spec.diameter is not None or spec.slot is not None:
        return "round"
    return shape_by_kind(spec.what, spec.fitting)


def axis_readings(spec: HoleSpec) -> Iterator[tuple[Axis, Reading]]:
    """Every reading along an axis: across, up, then those of the list."""
    if spec.across is not None:
        yield "across", spec.across
    if spec.up is not None:
        yield "up", spec.up
    for taken in spec.readings:
        if taken.reading is not None and taken.axis is not None:
            yield taken.axis, taken.reading


def sides_read(spec: HoleSpec) -> Sides:
    """Between both sides of the thing along each axis, as read, mm: the middle one of several, of two the larger."""
    read: dict[Axis, list[float]] = {"across": [], "up": []}
    for axis, reading in axis_readings(spec):
        if reading.high is not None:
            read[axis].append(abs(reading.high - reading.low))
    across, up = (sorted(read[axis])[len(read[axis]) // 2] if read[axis] else None for axis in ("across", "up"))
    return across, up


def square_side(spec: HoleSpec, read: Sides, setting: Setting) -> float | None:
    """The side of a box that was read one way alone and is square; None where it is not known to be square."""
    wide, high = read
    one = wide if wide is not None else high
    if one is None or (wide is not None and high is not None):
        return None
    plate = spec.cover
    if plate is not None and not isinstance(plate, str | float | int) and plate.first != plate.second:
        return None
    return one if is_square_box(spec.what, spec.fitting, setting.say, wide) else None


def is_sized_by_catalogue(spec: HoleSpec) -> bool:
    """Whether a box takes a size from the catalogue, one that nobody read or wrote."""
    fitting = spec.fitting
    if fitting is None or fitting.mark == "own" or fitting.kind in HIDES_ONLY or fitting.w is None:
        return False
    if spec.corners or spec.outline or spec.slot is not None or spec.size is not None or spec.diameter is not None:
        return False
    return None in sides_read(spec)


def no_size(spec: HoleSpec, setting: Setting) -> str | None:
    """Why a thing that is read across and up has no size, in a sentence; None where something gives it one."""
    if spec.slot is not None or spec.size is not None or spec.diameter is not None:
        return None
    readings = [reading for reading in (spec.across, spec.up) if reading is not None]
    fitting = spec.fitting
    if fitting is not None and fitting.kind not in HIDES_ONLY:
        one_read = any(reading.high is None for reading in readings)
        if fitting.od is not None or (fitting.w is not None and fitting.h is not None and one_read):
            return None
    for reading in readings:
        if reading.how in ("low", "high") and reading.high is None:
            return one_side(reading)
    read = sides_read(spec)
    if shape_said(spec) == "box" and (read[0] is None) != (read[1] is None):
        return None if square_side(spec, read, setting) is not None else box_read_one_way(spec, read, setting)
    if spec.opening is not None or any(reading.high is not None for reading in readings):
        return None
    if is_held_by_its_cover(spec):
        return None
    if fitting is not None and fitting.choices:
        sizes = ", ".join(
            f"{choice.words} ({bare(choice.od, setting)})" for choice in fitting.choices if choice.od is not None
        )
        boxes = ", ".join(
            f"{choice.words} ({bare(choice.w, setting)} x {bare(choice.h, setting)})"
            for choice in fitting.choices
            if choice.w is not None and choice.h is not None
        )
        key = "size" if boxes else "diameter"
        return (
            f"{found(spec.what)} is more than one size: {sizes or boxes}. Read both its sides, or write {key}: with "
            "what you measured."
        )
    return (
        "Its size is not known: read both its sides, as in 67 to 83 left of V, or say what it is (15 copper), or give "
        "size: 70 x 70."
    )


def is_held_by_its_cover(spec: HoleSpec) -> bool:
    """Whether nothing says how big a round thing is, but what hides it: it has a place, and waits for its size.

    A thing of a box's kind does not: of it even the shape of the hole is not known.
    """
    fitting = spec.fitting
    has_size = fitting is not None and fitting.kind not in HIDES_ONLY and (fitting.od is not None or fitting.choices)
    is_sized = spec.slot is not None or spec.size is not None or spec.diameter is not None or spec.opening is not None
    if spec.cover is None or isinstance(spec.cover, str) or has_size or is_sized or spec.opening_range is not None:
        return False
    readings = [reading for _, reading in axis_readings(spec)]
    to_the_middle = all(reading.high is None and reading.how not in ("low", "high") for reading in readings)
    return to_the_middle and bool(readings) and shape_said(spec) != "box"


def box_read_one_way(spec: HoleSpec, read: Sides, setting: Setting) -> str:
    """The sentence for a box of which two sides were read, and not the other two."""
    wide, high = read
    way, other = ("across", "up") if high is None else ("up", "across")
    one = wide if wide is not None else high
    assert one is not None
    sizes = [size for size in sizes_of(spec.fitting) if size[0] != size[1]]
    named = "" if not sizes else f" ({found(spec.what)} is not square)"
    return (
        f"It is a box, {bare(one, setting)} {way}, and only a single distance was read {other}{named}: read both its "
        f"sides {other} too, or write its size, as in size: 135 x 72; of one that is square, write square before what "
        "it is, as in square box."
    )


def one_side(reading: Reading) -> str:
    """The sentence for a reading to one side of something of no known size."""
    return (
        f"{found(reading.text)} is one side of something whose size is not known: read both sides, as in 67 to 83 left "
        "of V, or say what it is (15 copper)."
    )
