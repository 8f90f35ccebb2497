"""What is checked across a window: two outer edges, so far apart under it and over it, or the columns do not meet."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

from cutmarks.gauging.model import OverVoid
from cutmarks.geometry.edges import Bounds
from cutmarks.geometry.frames import Courses, Point
from cutmarks.geometry.regions import contains
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.openings.model import CutPiece
from cutmarks.plan import AreaPlan
from cutmarks.setout.model import Void
from cutmarks.tiling.model import Place

INSIDE = 1.0
"""So far inside a tile its outer edge is looked for, mm."""


def across_voids(area: AreaPlan, voids: tuple[Void, ...], pieces: Mapping[Place, CutPiece]) -> Iterator[OverVoid]:
    """For each window, niche or door with whole columns to both sides what to measure under it and over it."""
    if area.grid.turn or not area.places:
        return
    shift = area.grid.to_surface
    for void in voids:
        box = void.ring.bounds
        at = Bounds(box.min_x - shift.dx, box.min_y - shift.dy, box.max_x - shift.dx, box.max_y - shift.dy)
        pitch = area.grid.pitch_v
        rows = (math.floor((at.min_y - TOUCH) / pitch), math.floor((at.max_y + TOUCH) / pitch))
        pairs = tuple(pair for row in dict.fromkeys(rows) if (pair := _pair(area, row, at, pieces)) is not None)
        if len(pairs) == 2 or (pairs and rows[0] not in area.courses):
            yield OverVoid(void.called, pairs)


def _pair(area: AreaPlan, row: int, at: Bounds, pieces: Mapping[Place, CutPiece]) -> tuple[str, str, float] | None:
    """The two pieces of a course at the sides of a void, and how far their outer edges are apart."""
    grid, shift = area.grid, area.grid.shift(row)
    left = math.floor((at.min_x - shift - TOUCH) / grid.pitch_u)
    right = math.floor((at.max_x - shift + TOUCH) / grid.pitch_u)
    if at.max_x - shift - right * grid.pitch_u >= grid.w - TOUCH:
        right += 1
    begins, ends = grid.corner((left, row))[0], grid.corner((right, row))[0] + grid.w
    names = [_name(column, row, pieces) for column in (left, right)]
    level = row * grid.pitch_v + grid.h / 2.0
    outer: tuple[Point[Courses], Point[Courses]] = (Point(begins + INSIDE, level), Point(ends - INSIDE, level))
    if left == right or not all(names) or not all(contains(area.ground, point) for point in outer):
        return None
    return names[0], names[1], ends - begins


def _name(column: int, row: int, pieces: Mapping[Place, CutPiece]) -> str:
    """The name of what lies in a place; a whole tile's is counted on from a piece of its course that is cut.

    "" where its course has none.
    """
    own = pieces.get((column, row))
    if own is not None:
        return own.name
    beside = next((piece.piece for (_, other), piece in pieces.items() if other == row), None)
    if beside is None:
        return ""
    return f"{beside.area} {beside.course_said}-{beside.number + column - beside.place[0]}"
