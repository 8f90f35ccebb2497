"""Ticks from -5 to +5 across the edges that are lined up: the sheet slides by what differs at the wall.

Found more means that the hole moves away from what it is read from, and the paper with it: the tile's edge then comes
to lie on a tick that is nearer to that.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec import Struct

from cutmarks.geometry.edges import Bounds
from cutmarks.geometry.frames import Point, Tile
from cutmarks.marks import sizes
from cutmarks.marks.model import Mark, Role, Words, line, solid
from cutmarks.marks.room import Room
from cutmarks.marks.template import Subject, side_line
from cutmarks.saying.found_more import read_sides
from cutmarks.sides import Side
from cutmarks.units import Unit

COUNT = 5
PITCH_MM = 1.0
PITCH_IN = 25.4 / 32
"""A thirty-second of an inch, mm."""
_LONG, _SHORT = 3.0, 1.5
_LETTER = sizes.LEAST
_POINT = 1.6
"""How long each of the points at 0 is, and how wide at its foot."""
_APART = 40.0
"""Two sets nearer to each other than this fold the paper askew, mm."""
_CLEAR = 0.6
_STEP = 4.0
_FROM_END = 13.0
_ALONG = (4.0, 10.5)
"""How far a set of ticks with its figures reaches along the edge, back and on, clear of the words beside it."""
TICKS_LONG = sum(_ALONG) + _STEP
"""So much of an edge takes a set, wherever its places begin, mm."""
_ACROSS = 7.6
"""How far it reaches to either side of the edge."""


class TickSet(Struct, frozen=True):
    """A set of ticks on an edge, and how far along the edge it stands, in the Tile frame, mm."""

    at: float
    marks: tuple[Mark[Tile], ...]


def near_ticks(subject: Subject, room: Room[Tile]) -> dict[Side, TickSet]:
    """A set on each edge on the paper, near its lower or left end; before all words, which give way.

    Ticks of 1 mm, of 1/32 in where the job is in inches. An edge that is too short for a set gets none, nor
    one along whose axis nothing is read.
    """
    found = {side: _placed(subject, room, side, _stations(subject, side, far=False)) for side in subject.edges}
    return {side: one for side, one in found.items() if one is not None}


def far_ticks(subject: Subject, room: Room[Tile], side: Side, near: TickSet) -> tuple[Mark[Tile], ...]:
    """A second set near the other end of an edge, for a true fold; () where it has no room far enough off."""
    stations = [at for at in _stations(subject, side, far=True) if at - near.at >= _APART]
    one = _placed(subject, room, side, stations)
    return () if one is None else one.marks


def _placed(subject: Subject, room: Room[Tile], side: Side, stations: Sequence[float]) -> TickSet | None:
    """A set at the first of the stations that is free, taken from the room."""
    if not read_sides(subject, side.axis):
        return None
    at = next((at for at in stations if _free(subject, room, side, at)), None)
    if at is None:
        return None
    pitch = PITCH_IN if subject.style.unit is Unit.INCH else PITCH_MM
    found = TickSet(at, tuple(_one_set(subject, side, at, pitch)))
    room.take(found.marks)
    return found


def _one_set(subject: Subject, side: Side, at: float, pitch: float) -> Iterator[Mark[Tile]]:
    for way in (-1.0, 1.0):
        # The tick at 0 lies in the line itself, which would swallow it: two points show where it is.
        foot, half = at + way * (_LONG / 2 + _POINT), _POINT / 2
        yield solid(
            [_place(subject, side, x, y) for x, y in ((at + way * _LONG / 2, 0.0), (foot, half), (foot, -half))]
        )
    for count in range(-COUNT, COUNT + 1):
        half = (_LONG if abs(count) == COUNT else _SHORT) / 2
        x0, y0 = _place(subject, side, at - half, count * pitch)
        x1, y1 = _place(subject, side, at + half, count * pitch)
        yield line(x0, y0, x1, y1, Role.MEASURE)
    # The edge comes to lie towards what is read from: the hole, and the paper, went the other way.
    more = read_sides(subject, side.axis)[0].sign
    for sign, said in ((1.0, f"+{COUNT}"), (-1.0, f"\u2212{COUNT}")):
        x, y = _place(subject, side, at + _LONG / 2 + _CLEAR, sign * more * COUNT * pitch)
        if side.axis == "across":
            yield Words(said, Point(x, y), _LETTER, "middle")
        else:
            yield Words(said, Point(x, y - _LETTER / 2), _LETTER, "start")


def _place(subject: Subject, side: Side, along: float, off: float) -> tuple[float, float]:
    """`along` the axis of the edge, `off` to the right of it (or above it), in the Tile frame."""
    x, y, _, _ = side_line(subject.piece, side)
    return (x + off, along) if side.axis == "across" else (along, y + off)


def _stations(subject: Subject, side: Side, far: bool) -> list[float]:
    """Where a set may stand, from one end of the visible edge to the other."""
    x0, y0, x1, y1 = side_line(subject.piece, side)
    view = subject.view
    if side.axis == "across":
        low, high = max(y0, view.min_y), min(y1, view.max_y)
    else:
        low, high = max(x0, view.min_x), min(x1, view.max_x)
    tries = int((high - low - 2 * _FROM_END) / _STEP) + 1
    return [high - _FROM_END - i * _STEP if far else low + _FROM_END + i * _STEP for i in range(tries)]


def _free(subject: Subject, room: Room[Tile], side: Side, at: float) -> bool:
    for off in (-1.0, 1.0):
        x0, y0 = _place(subject, side, at - _ALONG[0], off * _CLEAR * 2)
        x1, y1 = _place(subject, side, at + _ALONG[1], off * _ACROSS)
        box = Bounds(min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1))
        if not room.free(box, 0.0) or any(box.overlaps(spot.bounds) for spot in subject.spots):
            return False
    return True
