"""Whether a place is inside: how often a row of edges winds round it."""

from __future__ import annotations

from collections.abc import Iterable

from cutmarks.geometry.edges import Arc, Edge
from cutmarks.geometry.frames import F


def winding(row: Iterable[Edge[F]], x: float, y: float) -> int:
    """The winding number of closed rows of edges about (x, y): 1 inside a counter-clockwise ring, 0 outside.

    A ray to the right counts the chords; a place between an arc and its chord then adds or takes one. A place ON a
    chord must be on the same side in both counts, so both ask `_left_of`. A place on an edge itself falls to either
    side to rounding: callers ask about the boundary first.
    """
    count = 0
    for edge in row:
        x0, y0, x1, y1 = edge[0], edge[1], edge[2], edge[3]
        if (y0 <= y) != (y1 <= y):
            if y0 <= y:
                if _left_of(x0, y0, x1, y1, x, y):
                    count += 1
            elif not _left_of(x0, y0, x1, y1, x, y):
                count -= 1
        if isinstance(edge, Arc):
            dx, dy = x - edge.cx, y - edge.cy
            if dx * dx + dy * dy < edge.radius * edge.radius:
                left = _left_of(x0, y0, x1, y1, x, y)
                if edge.sweep > 0.0:
                    if not left:
                        count += 1
                elif left:
                    count -= 1
    return count


def _left_of(x0: float, y0: float, x1: float, y1: float, x: float, y: float) -> bool:
    """Whether (x, y) is left of the way from 0 to 1; on it, whether a place a hair to the right, or above, would be."""
    dx, dy = x1 - x0, y1 - y0
    cross = dx * (y - y0) - dy * (x - x0)
    if cross != 0.0:
        return cross > 0.0
    # A hair to the right of an upward line is right of it; on a level line "above" decides, as in the ray's count.
    return dy < 0.0 or (dy == 0.0 and dx > 0.0)
