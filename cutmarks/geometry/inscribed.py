"""The largest circle that lies in a region, found by halving squares that may still hold a larger one."""

from __future__ import annotations

import heapq
import math

from cutmarks.geometry.edges import distance_to
from cutmarks.geometry.frames import F, Point
from cutmarks.geometry.regions import Region, contains
from cutmarks.geometry.rings import edges

PRECISION = 0.01
"""The radius is the largest within this, mm, and never more than what there is."""


def largest_circle(r: Region[F]) -> tuple[Point[F], float]:
    """Middle and radius of the largest circle in a region, mm, within PRECISION below the largest.

    A square of half side s about a place that is d inside holds no middle more than d + s sqrt 2 inside. Raises
    GeometryError for the empty region.
    """
    box = r.bounds
    side = min(box.width, box.height)
    half = side / 2.0
    squares: list[tuple[float, float, float, float, float]] = []

    def put(x: float, y: float, half: float) -> None:
        inside = _inside(r, x, y)
        heapq.heappush(squares, (-(inside + half * math.sqrt(2.0)), inside, x, y, half))

    for i in range(math.ceil(box.width / side)):
        for j in range(math.ceil(box.height / side)):
            put(box.min_x + side * (i + 0.5), box.min_y + side * (j + 0.5), half)
    middle = (box.min_x + box.max_x) / 2.0, (box.min_y + box.max_y) / 2.0
    best = (_inside(r, *middle), *middle)
    while squares:
        most, inside, x, y, half = heapq.heappop(squares)
        if inside > best[0]:
            best = (inside, x, y)
        if -most <= best[0] + PRECISION:
            break
        quarter = half / 2.0
        for dx in (-quarter, quarter):
            for dy in (-quarter, quarter):
                put(x + dx, y + dy, quarter)
    return Point(best[1], best[2]), max(best[0], 0.0)


def _inside(r: Region[F], x: float, y: float) -> float:
    """How far a place is from the outline, mm; less than nothing outside."""
    far = min(distance_to(edge, x, y) for ring in r.rings for edge in edges(ring))
    return far if contains(r, Point(x, y)) else -far
