"""Starts as they are offered: in whole millimetres (1/16 in), each with room beside it.

Between two breakpoints every start counts the same, and at a breakpoint itself it counts as on one side of it, or as on
neither. So a whole step that is a breakpoint is a start of the stretch beside it as which it counts; one that counts as
neither side does is no start, since nobody sets out so that nothing may be out.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from typing import NamedTuple

from cutmarks.choosing.question import StartQuestion
from cutmarks.geometry.tolerance import TOUCH

FINER = (1.0, 0.5, 0.25, 0.125, 0.0625)
"""Where no whole step lies between two breakpoints, a part of it is taken."""
ROOM = 0.25
"""So much of a step a start has to count the same to one side: finer than that nobody marks."""


class Offset(NamedTuple):
    """A start on one axis, mm; from `low` to `high` what was looked at stays in its bands.

    way    how it is said: 0 by a line, 1 by a full tile at an end, 2 by a measure.
    aside  how far beside it, mm, it has to count the same, where it is not sure to do so: less than 0 to the left or
           down.
    """

    at: float
    low: float
    high: float
    way: int = 2
    aside: float = 0.0


def is_whole(mm: float, step: float) -> bool:
    """Whether a length is one of whole steps."""
    return abs(mm / step - round(mm / step)) * step <= TOUCH


def in_steps(at: float, step: float, towards: int) -> float:
    """The next whole step at or beyond an offset, upward where `towards` is 1, downward where it is -1."""
    return towards * math.ceil(towards * at / step - TOUCH) * step


def middle_of(low: float, high: float, step: float) -> float:
    """The middle of an interval in whole steps where one lies inside it, else in the coarsest part of one."""
    middle = (low + high) / 2
    for part in FINER:
        at = round(middle / (step * part)) * step * part
        if low + TOUCH < at < high - TOUCH:
            return at
    return middle


def offered(every: Iterable[Offset], step: float) -> list[Offset]:
    """Those that need no figure, each place as it is said most easily; and those in whole steps at other places.

    A whole step that ends an interval is one of it as well.
    """
    plain: dict[float, Offset] = {}
    measured: list[Offset] = []
    for one in every:
        if one.way == 2:
            measured += _whole(one, step)
        elif one.at not in plain or one.way < plain[one.at].way:
            plain[one.at] = one
    return [*plain.values(), *(one for one in measured if one.at not in plain)]


def _whole(offset: Offset, step: float) -> Iterator[Offset]:
    """The whole steps of an interval, its ends among them where there is none inside it."""
    room = ROOM * step
    at, low, high = offset[:3]
    if not is_whole(at, step):
        for end, by in ((low, room), (high, -room)):
            if is_whole(end, step):
                yield offset._replace(at=round(end / step) * step, aside=by)
    elif max(at - low, high - at) >= room:
        yield offset
    else:
        yield from (offset._replace(aside=by) for by in (-room, room))


def has_room(x: Offset, y: Offset, asked: StartQuestion, step: float) -> bool:
    """Whether a start counts the same a little to one side of it on each axis on which a measure is to be set out."""
    at = x.at, y.at
    room = ROOM * step
    return all(
        any(asked.alike(at[0] + sign * dx, at[1] + sign * dy, at) for sign in (-1, 1))
        for offset, dx, dy in ((x, room, 0.0), (y, 0.0, room))
        if offset.way == 2
    )
