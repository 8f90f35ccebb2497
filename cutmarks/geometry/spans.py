"""What of a level line lies inside a region."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from itertools import pairwise
from typing import Literal, TypeAlias

from cutmarks.geometry.edges import XY, Arc, Bounds, Edge
from cutmarks.geometry.frames import F
from cutmarks.geometry.near import FEW
from cutmarks.geometry.rings import Ring, edges
from cutmarks.geometry.tolerance import FULL_TURN, SHORTEST, TOUCH

Span: TypeAlias = tuple[float, float]
YSide: TypeAlias = Literal["above", "below"]
XSide: TypeAlias = Literal["right", "left"]


def across(rings: Iterable[Ring[F]], y: float, *, upper: bool) -> list[Span]:
    """The intervals of x inside at height y, or rather just above it (`upper`) or just below.

    Spans and gaps of no width (within TOUCH) are none.
    """
    places = sorted(x for ring in rings for x in _ring_crossings(ring, y, upper=upper))
    spans: list[Span] = []
    for begins, ends in zip(places[::2], places[1::2], strict=True):
        if spans and begins - spans[-1][1] <= TOUCH:
            spans[-1] = (spans[-1][0], ends)
        else:
            spans.append((begins, ends))
    return [(begins, ends) for begins, ends in spans if ends - begins > TOUCH]


def reach(spans: Sequence[Span], at: float) -> Span | None:
    """The span that holds `at`, within a touch; None where it lies in none."""
    for a, b in spans:
        if a - TOUCH <= at <= b + TOUCH:
            return a, b
    return None


def _ring_crossings(ring: Ring[F], y: float, *, upper: bool) -> Iterable[float]:
    """Where a ring passes the line; of a rectangle, as a window mostly is, at its two sides."""
    box = ring.rectangle
    if box is not None and box[1] + SHORTEST < y < box[3] - SHORTEST:
        return box[0], box[2]
    return (x for edge in _level_with(ring, y) for x in _crossings(edge, y, upper=upper))


def _level_with(ring: Ring[F], y: float) -> Iterable[Edge[F]]:
    """The edges that may come to the height y: all of a ring that has few."""
    box, row = ring.bounds, edges(ring)
    if not box[1] - SHORTEST <= y <= box[3] + SHORTEST:
        return ()
    if len(row) <= FEW:
        return row
    return [row[k] for k in ring.near.within(Bounds(box[0], y, box[2], y), SHORTEST)]


def _crossings(edge: Edge[F], y: float, *, upper: bool) -> list[float]:
    """Where an edge passes the line; each rising or falling stretch is counted half open, so that ends pair up."""
    stops = _stretches(edge)
    found: list[float] = []
    for (ax, ay), (bx, by) in pairwise(stops):
        if abs(ay - y) <= TOUCH:
            ay = y
        if abs(by - y) <= TOUCH:
            by = y
        low, high = (ay, by) if ay <= by else (by, ay)
        if not (low <= y < high if upper else low < y <= high):
            continue
        if ay == y:
            found.append(ax)
        elif by == y:
            found.append(bx)
        elif isinstance(edge, Arc):
            half = math.sqrt(max(0.0, (edge.radius - (y - edge.cy)) * (edge.radius + (y - edge.cy))))
            on_the_right = (by > ay) == (edge.sweep > 0.0)  # counter-clockwise, a circle rises on its right
            found.append(edge.cx + (half if on_the_right else -half))
        else:
            found.append(ax + (bx - ax) * (y - ay) / (by - ay))
    return found


def _stretches(edge: Edge[F]) -> list[XY]:
    """The ends of an edge, and between them the top and bottom of its circle where it passes them."""
    stops: list[XY] = [(edge[0], edge[1])]
    if isinstance(edge, Arc):
        turns: list[tuple[float, XY]] = []
        for angle, side in ((math.pi / 2.0, 1.0), (-math.pi / 2.0, -1.0)):
            on = (angle - edge.start if edge.sweep > 0.0 else edge.start - angle) % FULL_TURN
            if on < abs(edge.sweep):
                turns.append((on, (edge.cx, edge.cy + side * edge.radius)))
        stops += [place for _, place in sorted(turns)]
    stops.append((edge[2], edge[3]))
    return stops
