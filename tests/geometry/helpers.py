"""What several tests of the kernel say often."""

from __future__ import annotations

import math

import pytest

from cutmarks.geometry.frames import Point, Tile
from cutmarks.geometry.regions import Region, region
from cutmarks.geometry.rings import Ring, Vertex, polygon
from cutmarks.geometry.shapes import Shape, ring_of


def rect(left: float, low: float, right: float, high: float) -> Region[Tile]:
    """An upright rectangle."""
    return region(polygon([(left, low), (right, low), (right, high), (left, high)]))


def put(shape: Shape, x: float, y: float, turn: float = 0.0) -> Region[Tile]:
    """A shape about (x, y)."""
    at: Point[Tile] = Point(x, y)
    return region(ring_of(shape, at, turn))


def assert_vertices(ring: Ring[Tile], expected: list[tuple[float, ...]], within: float = 1e-9) -> None:
    """The ring's vertices, in their order; an expected pair is a straight one."""
    found = [tuple(vertex) for vertex in ring.vertices]
    wanted = [tuple(Vertex(*vertex)) for vertex in expected]
    assert len(found) == len(wanted), found
    for one, other in zip(found, wanted, strict=True):
        assert one == pytest.approx(other, abs=within)


def bulge(degrees: float) -> float:
    """Of an arc of so many degrees, by the definition in the DXF reference: the tangent of a quarter of its angle."""
    return math.tan(math.radians(degrees) / 4.0)
