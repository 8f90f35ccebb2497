"""Second methods for the kernel campaign: closed forms for one opening in a straight-sided piece, shapely for several.

The closed forms are textbook ones (a circular segment is r^2 / 2 (a - sin a)); polygons are clipped by shapely, which
is exact for straight sides. Shapely referees arcs only as polygons of equal area, in the tile's own frame, on rounded
coordinates, one opening at a time: taking a union of openings off at once has been seen to lose one of them.
"""

from __future__ import annotations

import math
from itertools import pairwise

import shapely
from shapely.geometry import MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from cutmarks.geometry.frames import Point, Tile
from cutmarks.geometry.shapes import Circle, Rect, Slot
from tests.bench.kernel_cases import Put

QUARTER = 256
"""Sides that shapely is given for each quarter of a circle."""

CIRCLE_ERROR = 2e-5
"""A regular polygon of n = 4 QUARTER sides and the area of the circle strays from it by at most (pi / n)^2 / 3 of r,
3.1e-6 r; along the whole way round, 2 pi r, that is 2e-5 of r^2."""

Placed = tuple[float, float, float, float]
"""A local frame: x, y of its origin, cosine and sine of its lean."""


def _frame(put: Put) -> Placed:
    lean = 0.0 if isinstance(put.shape, Circle) else put.shape.lean  # type: ignore[union-attr]
    return put.at.x, put.at.y, math.cos(math.radians(lean)), math.sin(math.radians(lean))


def _polygon(frame: Placed, corners: list[tuple[float, float]]) -> Polygon:
    x0, y0, cos, sin = frame
    return Polygon([(x0 + cos * x - sin * y, y0 + sin * x + cos * y) for x, y in corners])


def _box(frame: Placed, left: float, low: float, right: float, high: float) -> Polygon:
    return _polygon(frame, [(left, low), (right, low), (right, high), (left, high)])


def straight_and_round(put: Put) -> tuple[list[Polygon], list[tuple[Polygon, float, float, float]]]:
    """An opening taken apart: boxes, and (cell, x, y, r) for the share of a disc that lies in a convex cell."""
    frame = _frame(put)
    x0, y0, cos, sin = frame

    def there(x: float, y: float) -> tuple[float, float]:
        return x0 + cos * x - sin * y, y0 + sin * x + cos * y

    match put.shape:
        case Circle(d):
            return [], [(_box(frame, -d, -d, d, d), x0, y0, d / 2.0)]
        case Slot(length, w, _):
            half, r = (length - w) / 2.0, w / 2.0
            boxes = [_box(frame, -half, -r, half, r)] if half > 0.0 else []
            left = (_box(frame, -half - w, -w, -half, w), *there(-half, 0.0), r)
            right = (_box(frame, half, -w, half + w, w), *there(half, 0.0), r)
            return boxes, [left, right]
        case Rect(w, h, _, 0.0):
            return [_box(frame, -w / 2.0, -h / 2.0, w / 2.0, h / 2.0)], []
        case Rect(w, h, _, r):
            x, y = w / 2.0 - r, h / 2.0 - r
            boxes = [
                _box(frame, -x, -y - r, x, y + r),
                _box(frame, -x - r, -y, -x, y),
                _box(frame, x, -y, x + r, y),
            ]
            cells = [
                (_box(frame, *sorted_box(sx * x, sy * y, sx * (x + r), sy * (y + r))), *there(sx * x, sy * y), r)
                for sx in (-1.0, 1.0)
                for sy in (-1.0, 1.0)
            ]
            return [box for box in boxes if box.area > 0.0], cells
    raise AssertionError(put)


def sorted_box(x0: float, y0: float, x1: float, y1: float) -> tuple[float, float, float, float]:
    """Left, low, right, high of two opposite corners."""
    return min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1)


def share(piece: Polygon, put: Put) -> float:
    """The exact area of what an opening takes from a straight-sided piece, mm2."""
    boxes, discs = straight_and_round(put)
    total = sum(piece.intersection(box).area for box in boxes)
    for cell, x, y, r in discs:
        total += sum(disc_share(part, x, y, r) for part in polygons(piece.intersection(cell)))
    return total


def polygons(shape: BaseGeometry) -> list[Polygon]:
    """The polygons of whatever shapely gives back."""
    if isinstance(shape, Polygon):
        return [] if shape.is_empty else [shape]
    return [part for one in getattr(shape, "geoms", ()) for part in polygons(one)]


def disc_share(piece: Polygon, x: float, y: float, r: float) -> float:
    """The area of a disc in a polygon: each edge with the centre spans a triangle, of which the disc has a part."""
    rings = [[(px - x, py - y) for px, py in ring.coords] for ring in (piece.exterior, *piece.interiors)]
    outer, *holes = (abs(sum(_wedge(a, b, r) for a, b in pairwise(places))) for places in rings)
    return outer - sum(holes)


def _wedge(a: tuple[float, float], b: tuple[float, float], r: float) -> float:
    """The signed area of the disc about the origin in the triangle origin, a, b."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    square = dx * dx + dy * dy
    if square == 0.0:
        return 0.0
    along = -(a[0] * dx + a[1] * dy) / square
    off = (a[0] * dy - a[1] * dx) / math.sqrt(square)
    stops = [0.0, 1.0]
    if abs(off) < r:
        half = math.sqrt((r * r - off * off) / square)
        stops += [t for t in (along - half, along + half) if 0.0 < t < 1.0]
    stops.sort()
    total = 0.0
    for s, t in pairwise(stops):
        p, q = (a[0] + s * dx, a[1] + s * dy), (a[0] + t * dx, a[1] + t * dy)
        cross, dot = p[0] * q[1] - p[1] * q[0], p[0] * q[0] + p[1] * q[1]
        mx, my = (p[0] + q[0]) / 2.0, (p[1] + q[1]) / 2.0
        within = abs(off) < r and math.hypot(mx, my) < r  # a line that is tangent has no share
        total += cross / 2.0 if within else r * r * math.atan2(cross, dot) / 2.0
    return total


def as_polygon(put: Put) -> MultiPolygon:
    """An opening for shapely, its arcs in many sides of equal area, coordinates rounded to 1e-6 mm."""
    boxes, discs = straight_and_round(put)
    full = 4 * QUARTER
    grow = math.sqrt(2.0 * math.pi / full / math.sin(2.0 * math.pi / full))
    round_parts = []
    for _cell, x, y, r in discs:
        radius = r * grow
        angles = [2.0 * math.pi * k / full for k in range(full)]
        round_parts.append(Polygon([(x + radius * math.cos(t), y + radius * math.sin(t)) for t in angles]))
    # The parts of one opening overlap on whole stretches: rounded first, they join cleanly.
    return areal(shapely.union_all([shapely.set_precision(part, 1e-6) for part in (*boxes, *round_parts)]))


def areal(shape: BaseGeometry) -> MultiPolygon:
    """What of a shape has an area: where outlines touch, shapely leaves lines and points beside it."""
    return MultiPolygon(polygons(shape))


def inside_opening(put: Put, point: Point[Tile]) -> float:
    """How deep a place is in an opening, mm; negative outside."""
    x0, y0, cos, sin = _frame(put)
    dx, dy = point.x - x0, point.y - y0
    x, y = abs(cos * dx + sin * dy), abs(cos * dy - sin * dx)
    match put.shape:
        case Circle(d):
            return d / 2.0 - math.hypot(dx, dy)
        case Slot(length, w, _):
            return w / 2.0 - math.hypot(max(0.0, x - (length - w) / 2.0), y)
        case Rect(w, h, _, r):
            far_x, far_y = x - (w / 2.0 - r), y - (h / 2.0 - r)
            return r - (math.hypot(max(far_x, 0.0), max(far_y, 0.0)) + min(max(far_x, far_y), 0.0))
    raise AssertionError(put)


def round_parts(put: Put) -> list[tuple[float, float, float]]:
    """Centre and radius of each of an opening's own arcs."""
    return [(x, y, r) for _cell, x, y, r in straight_and_round(put)[1]]
