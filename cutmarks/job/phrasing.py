"""A reading in a tiler's words, made of its values: what `grammar` reads is said here, and reads back as the same.

For readings that nobody typed: those of a room that is built the other way round.
"""

from __future__ import annotations

from cutmarks.job.measures import length_as_written
from cutmarks.job.words import Setting
from cutmarks.readings import UNDER, Reading
from cutmarks.sides import Axis

_WAYS: dict[Axis, tuple[str, str]] = {"across": ("left of", "right of"), "up": ("below", "above")}
_ON_A_FLOOR = ("short of", "from")
_SIDES_SAID: dict[Axis, dict[str, str]] = {
    "across": {"low": "left side", "high": "right side"},
    "up": {"low": "bottom", "high": "top"},
}


def reading_words(reading: Reading, axis: Axis, setting: Setting, *, place: bool = False) -> str:
    """The phrase that a reading along an axis stands for; place: of a point, an edge or a level, which has no sides.

    `setting` has the unit of the job and whether the surface is a wall or a floor. A reading from a piece has none.
    """
    if reading.how == "level with":
        return _level_with(reading, axis, setting)
    if reading.how == "course":
        return _in_course(reading, setting)
    assert reading.start is not None
    name = str(reading.start.name)
    hand = "" if reading.how == "sides" or place else f"{_SIDES_SAID[axis].get(reading.how, reading.how)} "
    if reading.start.kind == "edge":
        return f"{hand}{_figures(reading.low, reading.high, setting)} in from {name} there"
    if reading.high is None:
        if reading.low == 0.0:
            return name if place else f"{hand}on {name}"
        return f"{hand}{_from_line(reading.low, axis, setting)} {name}"
    if reading.low < 0.0 < reading.high:
        below, above = (_from_line(mm, axis, setting) for mm in (reading.low, reading.high))
        return f"{below.removesuffix(' of')} to {above} {name}"
    near, far = sorted((reading.low, reading.high), key=abs)
    way = _way(far, axis, setting)
    return f"{_figures(abs(near), abs(far), setting)} {way} {name}"


def _level_with(reading: Reading, axis: Axis, setting: Setting) -> str:
    if reading.low == 0.0:
        return f"{'plumb' if axis == 'across' else 'level'} with {reading.other}"
    return f"centre {_from_line(reading.low, axis, setting)} {reading.other}"


def _in_course(reading: Reading, setting: Setting) -> str:
    assert reading.course is not None
    of = "" if reading.area is None else f" of {reading.area}"
    course = f"course {reading.course}" if reading.course > 0 else f"{UNDER} {-reading.course}"
    return f"in {course}{of}, {_figures(reading.low, reading.high, setting)} up"


def _figures(low: float, high: float | None, setting: Setting) -> str:
    ends = [length_as_written(mm, setting) for mm in (low, high) if mm is not None]
    return " to ".join(ends)


def _from_line(mm: float, axis: Axis, setting: Setting) -> str:
    return f"{length_as_written(abs(mm), setting)} {_way(mm, axis, setting)}"


def _way(mm: float, axis: Axis, setting: Setting) -> str:
    ways = _ON_A_FLOOR if axis == "up" and setting.kind == "floor" else _WAYS[axis]
    return ways[mm > 0.0]
