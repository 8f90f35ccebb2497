"""Least distances, by hand and against close sampling."""

from __future__ import annotations

import math
import random

import pytest

from cutmarks.geometry.distance import gap, nearest
from cutmarks.geometry.edges import Arc, Edge, at_angle
from cutmarks.geometry.frames import Point, Tile
from cutmarks.geometry.rings import Ring, Vertex, edges, polygon
from cutmarks.geometry.shapes import Circle, Rect, Shape, Slot, ring_of
from tests.geometry.helpers import put, rect

BOX = rect(0.0, 0.0, 100.0, 50.0).rings[0]


def round_at(d: float, x: float, y: float) -> Ring[Tile]:
    return put(Circle(d), x, y).rings[0]


@pytest.mark.parametrize(
    ("a", "b", "distance"),
    [
        (round_at(50, 0, 0), round_at(20, 60, 0), 25.0),  # 60 - 25 - 10
        (round_at(50, 0, 0), round_at(20, 3, 4), 10.0),  # one in the other: 25 - 10 - 5
        (round_at(50, 0, 0), round_at(20, 0, 0), 15.0),  # about one centre
        (BOX, round_at(20, 30, 22), 12.0),  # down to the lower side
        (BOX, round_at(20, 110, 60), math.sqrt(200.0) - 10.0),  # off the corner
        (BOX, rect(110, 60, 120, 70).rings[0], math.sqrt(200.0)),  # corner to corner
        (BOX, rect(10, 10, 95, 30).rings[0], 5.0),
        (BOX, rect(90, 20, 120, 30).rings[0], 0.0),  # crossing
        (BOX, rect(100, 20, 120, 30).rings[0], 0.0),  # flush
        (BOX, round_at(20, 110, 25), 0.0),  # tangent
        (put(Slot(60, 20), 0, 0).rings[0], round_at(10, 0, 40), 25.0),  # side of a slot
        (put(Slot(60, 20), 0, 0).rings[0], round_at(10, 20 + 30, 40), 35.0),  # its round end: a 30, 40, 50 triangle
    ],
)
def test_gaps_by_hand(a: Ring[Tile], b: Ring[Tile], distance: float) -> None:
    assert gap(a, b) == pytest.approx(distance, abs=1e-9)
    assert gap(b, a) == pytest.approx(distance, abs=1e-9)


def test_the_hollow_of_an_arc_is_not_its_circle() -> None:
    # A half circle of radius 25 about the origin, its hollow to the right: the right half of the circle is not there,
    # so that the arc's ends, (0, 25) and (0, -25), are nearest to the hole about (20, 0).
    bay: Ring[Tile] = Ring((Vertex(0.0, 25.0, 1.0), Vertex(0.0, -25.0), Vertex(-60.0, -25.0), Vertex(-60.0, 25.0)))
    assert gap(bay, round_at(10, 20, 0)) == pytest.approx(math.sqrt(20.0**2 + 25.0**2) - 5.0)


def test_nearest_says_where() -> None:
    found = nearest(BOX, round_at(20, 30, 22))
    assert (found.on_a.x, found.on_a.y) == pytest.approx((30.0, 0.0))
    assert (found.on_b.x, found.on_b.y) == pytest.approx((30.0, 12.0))


def _samples(ring: Ring[Tile], each: int) -> list[tuple[float, float]]:
    return [_place(edge, k / each) for edge in edges(ring) for k in range(each + 1)]


def _place(edge: Edge[Tile], part: float) -> tuple[float, float]:
    if isinstance(edge, Arc):
        return at_angle(edge, part * abs(edge.sweep))
    return edge.x0 + part * (edge.x1 - edge.x0), edge.y0 + part * (edge.y1 - edge.y0)


@pytest.mark.parametrize("seed", range(25))
def test_gaps_against_close_sampling(seed: int) -> None:
    rng = random.Random(seed)

    def some() -> Ring[Tile]:
        a, b = rng.uniform(5, 40), rng.uniform(5, 40)
        shapes: list[Shape] = [
            Circle(a),
            Slot(max(a, b), min(a, b), rng.uniform(0, 180)),
            Rect(a, b, rng.uniform(0, 90), min(a, b) / 4.0),
            Rect(a, b, rng.uniform(0, 90)),
        ]
        at: Point[Tile] = Point(rng.uniform(0, 100), rng.uniform(0, 100))
        return ring_of(rng.choice(shapes), at)

    one, other = some(), some()
    sampled = min(math.dist(p, q) for p in _samples(one, 60) for q in _samples(other, 60))
    found = gap(one, other)
    # Samples stand at most 40 / 60 apart, so that the sampled distance can be too long by that, never too short.
    assert found <= sampled + 1e-9
    assert sampled <= found + 40.0 / 60.0


def test_triangles_point_to_side() -> None:
    triangle: Ring[Tile] = polygon([(30, -10), (90, -10), (40, 60)])
    # The side from (40, 60) to (30, -10) stands 70 x - 10 y - 2200 = 0 from the origin: 2200 / sqrt(5000), less 25.
    assert gap(round_at(50, 0, 0), triangle) == pytest.approx(2200.0 / math.sqrt(5000.0) - 25.0)
