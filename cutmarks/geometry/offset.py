"""Outlines made wider or narrower: a window with the gap round it, a surface less the gaps at its edges.

Corners are mitred, arcs change their radius about the same centre. An edge that the offset uses up is left out and its
neighbours meet instead. What would cross itself or leave nothing is refused, not guessed at.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final, Generic

from msgspec import Struct

from cutmarks.errors import GeometryError
from cutmarks.geometry.edges import XY, Arc, Edge, Segment, heading, travelled
from cutmarks.geometry.frames import F, Point
from cutmarks.geometry.meetings import line_crossings
from cutmarks.geometry.rings import Ring, Vertex, as_circle, edges, self_crossing
from cutmarks.geometry.tolerance import FULL_TURN, TOUCH

STEP_TURN: Final = math.radians(10)
"""Where two edges turn by less than this and have different distances, the offset steps from the one to the other at
their corner: the mitre of two nearly parallel lines would lie far off."""


class _Moved(Struct, Generic[F], frozen=True):
    """An edge, how far to its left it goes (mm), and the line or circle where it then lies, not yet cut to length."""

    edge: Edge[F]
    left: float
    line: Edge[F]


def grown(ring: Ring[F], by: float) -> Ring[F]:
    """The outline moved outward by `by` mm all round (inward where negative).

    Raises GeometryError as `shrunk` does.
    """
    return shrunk(ring, -by)


def shrunk(ring: Ring[F], by: float | Sequence[float]) -> Ring[F]:
    """The outline moved inward by `by` mm all round, or by one distance for each edge, in the order of `edges(ring)`.

    Distances are at right angles to the edges; a negative one moves its edge outward. The result runs the way that
    `ring` runs. Raises GeometryError where the distances are not one for each edge or not finite, where nothing is
    left, or where the result would cross itself.
    """
    row = edges(ring)
    distances = [by] * len(row) if isinstance(by, int | float) else list(by)
    if len(distances) != len(row):
        raise GeometryError(f"an outline of {len(row)} edges has {len(distances)} gaps; give one for each edge")
    if not all(map(math.isfinite, distances)):
        raise GeometryError("a gap is not an ordinary number; give each in mm")
    if len(set(distances)) == 1 and (circle := as_circle(ring)) is not None:
        return _smaller_circle(*circle, distances[0], math.copysign(1.0, ring.area))
    # Inward is to the left of a counter-clockwise ring, to the right of a clockwise one.
    sense = math.copysign(1.0, ring.area)
    moved = [
        _Moved(edge, sense * distance, line)
        for edge, distance in zip(row, distances, strict=True)
        if edge.length > TOUCH and (line := _parallel(edge, sense * distance)) is not None
    ]
    while len(moved) > 1:
        corners = [_corner(moved[k - 1], one) for k, one in enumerate(moved)]
        found = [
            _between(one.line, begins[-1], ends[0])
            for one, begins, ends in zip(moved, corners, corners[1:] + corners[:1], strict=True)
        ]
        if None not in found:
            return _checked(ring, [edge for edge in found if edge is not None], corners)
        moved = [one for one, edge in zip(moved, found, strict=True) if edge is not None]
    raise GeometryError(_NOTHING_LEFT)


_NOTHING_LEFT: Final = "the gaps leave nothing of an outline; they must be smaller than half of its width and height"
_CROSSES: Final = "with its gaps an outline would cross itself; make the gaps smaller where it is narrow"


def _smaller_circle(centre: Point[F], radius: float, by: float, bulge: float) -> Ring[F]:
    if radius - by <= TOUCH:
        raise GeometryError(_NOTHING_LEFT)
    return Ring((Vertex(centre.x - (radius - by), centre.y, bulge), Vertex(centre.x + (radius - by), centre.y, bulge)))


def _parallel(edge: Edge[F], left: float) -> Edge[F] | None:
    """The edge moved to its left; None for an arc whose radius is used up."""
    if isinstance(edge, Segment):
        dx, dy = edge.x1 - edge.x0, edge.y1 - edge.y0
        part = left / math.hypot(dx, dy)
        return Segment(edge.x0 - dy * part, edge.y0 + dx * part, edge.x1 - dy * part, edge.y1 + dx * part)
    radius = edge.radius - math.copysign(left, left * edge.sweep)
    if radius <= TOUCH:
        return None
    part = radius / edge.radius
    x0, y0 = edge.cx + (edge.x0 - edge.cx) * part, edge.cy + (edge.y0 - edge.cy) * part
    x1, y1 = edge.cx + (edge.x1 - edge.cx) * part, edge.cy + (edge.y1 - edge.cy) * part
    return Arc(x0, y0, x1, y1, edge.cx, edge.cy, radius, edge.start, edge.sweep)


def _corner(before: _Moved[F], after: _Moved[F]) -> list[XY]:
    """Where a moved edge ends and the next begins: one place, or two with a step between them."""
    end, start = (before.line[2], before.line[3]), (after.line[0], after.line[1])
    apart = math.hypot(end[0] - start[0], end[1] - start[1])
    if apart <= TOUCH:
        return [end]
    were_one = math.hypot(before.edge[2] - after.edge[0], before.edge[3] - after.edge[1]) <= 2.0 * TOUCH
    turn = heading(after.edge, at_end=False) - heading(before.edge, at_end=True)
    slight = were_one and abs((turn + math.pi) % FULL_TURN - math.pi) < STEP_TURN
    if slight and abs(before.left - after.left) > TOUCH:
        return [end, start]
    near_x, near_y = (end[0] + start[0]) / 2.0, (end[1] + start[1]) / 2.0
    crossings = line_crossings(before.line, after.line)
    if crossings:
        return [min(crossings, key=lambda xy: math.hypot(xy[0] - near_x, xy[1] - near_y))]
    if slight:
        return [end, start]
    raise GeometryError(_NOTHING_LEFT)


def _between(line: Edge[F], begins: XY, ends: XY) -> Edge[F] | None:
    """The stretch of a moved line or circle from corner to corner; None where it would run backward: it is used up."""
    if isinstance(line, Segment):
        ahead = (ends[0] - begins[0]) * (line.x1 - line.x0) + (ends[1] - begins[1]) * (line.y1 - line.y0)
        return Segment(*begins, *ends) if ahead >= 0.0 else None
    first, last = travelled(line, *begins), travelled(line, *ends)
    if abs(line.sweep) >= FULL_TURN / 2.0 and math.hypot(begins[0] - ends[0], begins[1] - ends[1]) <= TOUCH:
        return None
    # The ends may have moved past the old ones, so each is told from the nearer of them.
    width = abs(line.sweep)
    slack = (FULL_TURN - width) / 2.0
    first = first - FULL_TURN if first > width + slack else first
    last = last - FULL_TURN if last > width + slack else last
    if last < first:
        return None
    sense = math.copysign(1.0, line.sweep)
    return Arc(*begins, *ends, line.cx, line.cy, line.radius, line.start + sense * first, sense * (last - first))


def _checked(ring: Ring[F], row: list[Edge[F]], corners: list[list[XY]]) -> Ring[F]:
    """The ring of the moved edges with their steps, if it is a simple one that runs as the outline did."""
    vertices: list[Vertex] = []
    for edge, begins in zip(row, corners, strict=True):
        if len(begins) > 1:
            vertices.append(Vertex(*begins[0]))
        if edge.length > TOUCH:
            vertices.append(Vertex(edge[0], edge[1], edge.bulge))
    if len(vertices) < 2:
        raise GeometryError(_NOTHING_LEFT)
    found: Ring[F] = Ring(tuple(vertices))
    if found.area * ring.area <= 0.0 or abs(found.area) <= TOUCH * found.length / 2.0:
        raise GeometryError(_NOTHING_LEFT)
    if self_crossing(found) is not None:
        raise GeometryError(_CROSSES)
    return found
