"""Where the joints of two areas that lie beside or over each other run on into each other."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import combinations
from typing import Literal

from cutmarks.gauging.model import REACH, MadeToMeet, Meeting
from cutmarks.geometry.edges import Bounds
from cutmarks.limits import Limits
from cutmarks.plan import AreaPlan
from cutmarks.sides import Side

MOST_JOINTS = 2_000
MOST_OF_ONE = 4
"""So many courses of the second area, against any number of the first one's, are tried to meet with another joint."""
LEAST_JOINT, WIDEST_JOINT = 1.0, 10.0
"""A joint that is proposed lies between these, mm."""
LEAST_BORDER, WIDEST_BORDER = 10.0, 200.0
"""And a border between these: from a pencil tile to a wide one."""


def meetings(areas: Sequence[AreaPlan], limits: Limits) -> Iterator[Meeting]:
    """For each two areas that face each other over a joint where their joints meet, and what would make them."""
    laid = [area for area in areas if area.places and not area.grid.turn and area.ground.rings]
    for first, second in combinations(laid, 2):
        way = _faces(first, second)
        if way is not None:
            yield _meeting(first, second, way, limits)


def _on_surface(area: AreaPlan) -> Bounds:
    return area.ground.moved(area.grid.to_surface).bounds


def _faces(first: AreaPlan, second: AreaPlan) -> Literal["across", "up"] | None:
    """Whether one lies beside the other (across) or over it (up), a joint apart; None: neither."""
    a, b = _on_surface(first), _on_surface(second)
    beside = max(a.min_x - b.max_x, b.min_x - a.max_x)
    over = max(a.min_y - b.max_y, b.min_y - a.max_y)
    if 0.0 <= beside <= REACH and over < -REACH:
        return "across"
    return "up" if 0.0 <= over <= REACH and beside < -REACH else None


def _meeting(first: AreaPlan, second: AreaPlan, way: Literal["across", "up"], limits: Limits) -> Meeting:
    one, other = _on_surface(first), _on_surface(second)
    over = one.min_y > other.min_y
    a, b = _middles(first, way, lowest=over), _middles(second, way, lowest=not over)
    begins, ends = (Side.BOTTOM, Side.TOP) if way == "across" else (Side.LEFT, Side.RIGHT)
    low, high = max(one.at(begins), other.at(begins)), min(one.at(ends), other.at(ends))
    wider, finer = (a, b) if _pitch(first, way) >= _pitch(second, way) else (b, a)
    common = [at for at in wider if low <= at <= high]
    near = limits.reading.value
    met = tuple(at for at in common if any(abs(at - other) <= near for other in finer))
    if len(met) == len(common):
        return Meeting(first.name, second.name, way, met, len(common))
    made = _made_to_meet(first, second, way, a[0] if a else 0.0, b[0] if b else 0.0, limits) if a and b else None
    return Meeting(first.name, second.name, way, met, len(common), made)


def _pitch(area: AreaPlan, way: Literal["across", "up"]) -> float:
    return area.grid.pitch_v if way == "across" else area.grid.pitch_u


def _middles(area: AreaPlan, way: Literal["across", "up"], *, lowest: bool) -> list[float]:
    """The middles of the joints between its courses, or of those between the tiles of its lowest or highest course."""
    grid = area.grid
    if way == "across":
        rows = [row for row, _, _ in area.places]
        first, last, begin, size, pitch = min(rows), max(rows), grid.to_surface.dy, grid.h, grid.pitch_v
    else:
        row, first, last = area.places[0 if lowest else -1]
        begin, size, pitch = grid.to_surface.dx + grid.shift(row), grid.w, grid.pitch_u
    return [begin + number * pitch + size + grid.joint / 2.0 for number in range(first, min(last, first + MOST_JOINTS))]


def _made_to_meet(
    first: AreaPlan, second: AreaPlan, way: Literal["across", "up"], theirs: float, own: float, limits: Limits
) -> MadeToMeet | None:
    """What would make them meet; `theirs` and `own` are the first joint of each.

    The second area's first course stays where it begins, over a border where that is needed: a strip, with a joint of
    its own, before that course. None: no joint or border that is laid would.
    """
    near = limits.reading.value
    size = second.grid.h if way == "across" else second.grid.w
    for joint, many, count in _joints_that_meet(_pitch(first, way), size, second.grid.joint, near):
        # Any two of their joints lie so far apart, or a whole number of these further.
        step = _pitch(first, way) / many
        by = (theirs - own - (joint - second.grid.joint) / 2.0) % step
        off = min(by, step - by) > near
        strips = (by + turn * step - joint for turn in range(math.ceil(WIDEST_BORDER / step) + 1))
        border = next((strip for strip in strips if LEAST_BORDER <= strip <= WIDEST_BORDER), None) if off else None
        if not off or border is not None:
            other = joint if abs(joint - second.grid.joint) > near / many else None
            return MadeToMeet(other, border, min(many, count))
    return None


def _joints_that_meet(theirs: float, size: float, joint: float, near: float) -> list[tuple[float, int, int]]:
    """The joints with which so many courses are as high as so many of the first area's: its own, then what is nearest.

    Each with how many courses of the second area, and how many of the first.
    """
    found: dict[float, tuple[float, int, int]] = {}
    for many in range(1, MOST_OF_ONE + 1):
        for count in {math.floor(many * (size + joint) / theirs), math.ceil(many * (size + joint) / theirs)} - {0}:
            other = count * theirs / many - size
            if abs(other - joint) <= near / many:
                found.setdefault(-1.0, (joint, many, count))
            elif LEAST_JOINT <= other <= WIDEST_JOINT:
                found.setdefault(abs(other - joint) + many * near, (other, many, count))
    return [found[key] for key in sorted(found)]
