"""Parts of boundaries joined into simple closed rows.

At a node with more than one way on, the sharpest left turn is taken: it keeps to the same piece of material. A row that
comes to a node a second time is parted there, so that rings touch each other at most, and never themselves.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence

from cutmarks.geometry.edges import Arc, Edge, Segment
from cutmarks.geometry.frames import F
from cutmarks.geometry.splitting import Part
from cutmarks.geometry.tolerance import FULL_TURN


def stitched(parts: Sequence[Part[F]]) -> list[list[Edge[F]]] | None:
    """Closed rows of edges; None where the parts do not close (as many come to each node as leave it)."""
    leaving: dict[int, list[Part[F]]] = {}
    for part in parts:
        leaving.setdefault(part.tail, []).append(part)
    if Counter(part.head for part in parts) != Counter(part.tail for part in parts):
        return None
    rows: list[list[Edge[F]]] = []
    for node in list(leaving):
        while leaving[node]:
            rows += _walk(leaving[node].pop(), leaving)
    return rows


def _walk(first: Part[F], leaving: dict[int, list[Part[F]]]) -> list[list[Edge[F]]]:
    """The rows met on the way from one part back to its tail. Parts are taken out of `leaving`."""
    rows: list[list[Edge[F]]] = []
    path = [first]
    passed = {first.tail: 0}
    while path:
        node = path[-1].head
        if node in passed:
            begins = passed[node]
            loop = path[begins:]
            del path[begins:]
            for part in loop:
                del passed[part.tail]
            rows.append([part.edge for part in loop])
            if not path:
                break
        passed[node] = len(path)
        path.append(_sharpest_left(path[-1], leaving[node]))
    return rows


def _sharpest_left(coming: Part[F], ways: list[Part[F]]) -> Part[F]:
    """The way on, taken out of `ways`."""
    if len(ways) == 1:
        return ways.pop()
    # Tangent ways part only by their curve, so they are looked at a little way off, not at the node.
    reach = min(_reach(part.edge) for part in (coming, *ways)) / 2.0
    back = _heading(coming.edge, reach, at_end=True)
    best = min(range(len(ways)), key=lambda k: _clockwise(back, _heading(ways[k].edge, reach, at_end=False)))
    return ways.pop(best)


def _clockwise(back: float, way: float) -> float:
    """From the way back to the way on, clockwise, radians: small for a sharp left turn."""
    turn = (back - way) % FULL_TURN
    return turn if turn > _NO_TURN else FULL_TURN


_NO_TURN = 1e-12
"""A way on this near to the way back, radians, doubles back and is taken last."""


def _reach(edge: Edge[F]) -> float:
    """How far off an edge may be looked at, mm."""
    return min(edge.length, edge.radius) if isinstance(edge, Arc) else edge.length


def _heading(edge: Edge[F], reach: float, *, at_end: bool) -> float:
    """The direction from an end of the edge to the place on it `reach` mm off, radians."""
    if isinstance(edge, Segment):
        return math.atan2(edge.y1 - edge.y0, edge.x1 - edge.x0) + (math.pi if at_end else 0.0)
    at = edge.start + (edge.sweep if at_end else 0.0)
    sense = math.copysign(1.0, -edge.sweep if at_end else edge.sweep)
    return at + sense * (math.pi / 2.0 + math.asin(reach / (2.0 * edge.radius)))
