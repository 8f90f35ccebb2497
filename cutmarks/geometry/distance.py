"""Least distances between boundaries, exact for lines and arcs."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Generic, NamedTuple

from cutmarks.geometry.edges import XY, Arc, Bounds, Edge, Segment, foot, travelled
from cutmarks.geometry.frames import F, Point
from cutmarks.geometry.meetings import meetings
from cutmarks.geometry.near import Near
from cutmarks.geometry.rings import Ring, as_circle, edges
from cutmarks.geometry.tolerance import TOUCH


class Nearest(NamedTuple, Generic[F]):
    """The least distance, mm, and where it is: a place on the first boundary and one on the second."""

    distance: float
    on_a: Point[F]
    on_b: Point[F]


def gap(a: Ring[F], b: Ring[F]) -> float:
    """The least distance between two outlines' boundaries, mm; 0 where they meet.

    An outline inside the other is as far off as its boundary is from the other's.
    """
    one, other = as_circle(a), as_circle(b)
    if one is not None and other is not None:
        return _between_circles(*one, *other)
    return nearest(a, b).distance


def _between_circles(a: Point[F], radius_a: float, b: Point[F], radius_b: float) -> float:
    """The same between two whole circles, beside each other or one in the other."""
    far = math.hypot(b.x - a.x, b.y - a.y)
    free = max(far - radius_a - radius_b, abs(radius_a - radius_b) - far)
    return free if free > TOUCH else 0.0


def nearest(a: Ring[F], b: Ring[F]) -> Nearest[F]:
    """The least distance between two outlines' boundaries, and where it is; the first such place along `a`."""
    return nearest_of(edges(a), a.near.boxes, edges(b), b.near)


def nearest_of(row: Sequence[Edge[F]], boxes: Sequence[Bounds], other: Sequence[Edge[F]], near: Near) -> Nearest[F]:
    """The same between two rows of edges; `boxes` are the bounds of the one, `near` has those of the other."""
    best: Nearest[F] = Nearest(math.inf, Point(math.inf, math.inf), Point(math.inf, math.inf))
    for edge, box in zip(row, boxes, strict=True):
        for k in near.within(box, best.distance):
            if apart(box, near.boxes[k]) < best.distance:
                best = min(best, edge_gap(edge, other[k]), key=_distance)
    return best


def meets(a: Edge[F], b: Edge[F]) -> bool:
    """Whether two edges come within TOUCH of each other; of two straight ones that plainly do not, told at once."""
    if isinstance(a, Segment) and isinstance(b, Segment) and (_on_one_hand(a, b) or _on_one_hand(b, a)):
        return False
    return edge_gap(a, b).distance <= TOUCH


def _on_one_hand(a: Segment[F], b: Segment[F]) -> bool:
    """Whether all of `b` lies clear of the line through `a`, on one hand of it."""
    dx, dy = a[2] - a[0], a[3] - a[1]
    clear = 2.0 * TOUCH * (abs(dx) + abs(dy))
    start, end = dx * (b[1] - a[1]) - dy * (b[0] - a[0]), dx * (b[3] - a[1]) - dy * (b[2] - a[0])
    return (start > clear and end > clear) or (start < -clear and end < -clear)


def edge_gap(a: Edge[F], b: Edge[F]) -> Nearest[F]:
    """The least distance between two edges, and where it is."""
    met = meetings(a, b)
    if met:
        place: Point[F] = Point(*met[0])
        return Nearest(0.0, place, place)
    return min((between(xy_a, xy_b) for xy_a, xy_b in _candidates(a, b)), key=_distance)


def apart(a: Bounds, b: Bounds) -> float:
    """How far two boxes are apart, mm: never more than what is in them."""
    return math.hypot(max(b[0] - a[2], a[0] - b[2], 0.0), max(b[1] - a[3], a[1] - b[3], 0.0))


def _distance(found: Nearest[F]) -> float:
    return found.distance


def between(a: XY, b: XY) -> Nearest[F]:
    """The straight distance from a place to another."""
    return Nearest(math.hypot(a[0] - b[0], a[1] - b[1]), Point(*a), Point(*b))


def _candidates(a: Edge[F], b: Edge[F]) -> list[tuple[XY, XY]]:
    """Pairs of places, the nearest among them: from the ends, and square to both edges where that can be."""
    pairs: list[tuple[XY, XY]] = [(xy, foot(b, *xy)) for xy in ((a[0], a[1]), (a[2], a[3]))]
    pairs += [(foot(a, *xy), xy) for xy in ((b[0], b[1]), (b[2], b[3]))]
    if isinstance(a, Arc):
        if isinstance(b, Arc):
            pairs += [(on_a, on_b) for on_a in _on_ray(a, b.cx, b.cy) for on_b in _on_ray(b, a.cx, a.cy)]
        else:
            on_b = foot(b, a.cx, a.cy)
            pairs += [(on_a, on_b) for on_a in _on_ray(a, *on_b)]
    elif isinstance(b, Arc):
        on_a = foot(a, b.cx, b.cy)
        pairs += [(on_a, on_b) for on_b in _on_ray(b, *on_a)]
    return pairs


def _on_ray(arc: Arc[F], x: float, y: float) -> list[XY]:
    """The places of the arc on the line from its centre through (x, y), on either side of the centre."""
    dx, dy = x - arc.cx, y - arc.cy
    far = math.hypot(dx, dy)
    if far == 0.0:
        return []
    dx, dy = dx * arc.radius / far, dy * arc.radius / far
    both = ((arc.cx + dx, arc.cy + dy), (arc.cx - dx, arc.cy - dy))
    return [place for place in both if travelled(arc, *place) <= abs(arc.sweep)]
