"""Where the joints of two areas that lie beside or over each other run on into each other."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import combinations
from typing import Literal

from cutmarks.gauging.model import REACH, Meeting
from cutmarks.geometry.edges import Bounds
from cutmarks.limits import Limits
from cutmarks.plan import AreaPlan
from cutmarks.sides import Side

MOST_JOINTS = 2_000
MOST_OF_ONE = 4
"""So many courses of the second area, against any number of the first one's, are tried to meet with another joint."""
LEAST_JOINT, WIDEST_JOINT = 1.0, 10.0
"""A joint that is proposed lies between these, mm."""


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
    return Meeting(
        first.name,
        second.name,
        way,
        met,
        len(common),
        None if len(met) == len(common) else _joint_that_meets(first, second, way, limits),
    )


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


def _joint_that_meets(first: AreaPlan, second: AreaPlan, way: Literal["across", "up"], limits: Limits) -> float | None:
    """The joint in the second area with which so many of its courses are as high as so many of the first."""
    size = second.grid.h if way == "across" else second.grid.w
    theirs, own = _pitch(first, way), _pitch(second, way)
    found: list[tuple[float, float]] = []
    for many in range(1, MOST_OF_ONE + 1):
        for count in {math.floor(many * own / theirs), math.ceil(many * own / theirs)} - {0}:
            joint = count * theirs / many - size
            if LEAST_JOINT <= joint <= WIDEST_JOINT and abs(joint - second.grid.joint) > limits.reading.value / many:
                found.append((abs(joint - second.grid.joint) + many * limits.reading.value, joint))
    return min(found)[1] if found else None
