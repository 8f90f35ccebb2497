"""Where a piece is thinnest, by hand."""

from __future__ import annotations

import math

import pytest

from cutmarks.geometry.frames import Tile
from cutmarks.geometry.regions import Region, difference, region
from cutmarks.geometry.rings import Ring, Vertex, polygon
from cutmarks.geometry.shapes import Circle, Rect
from cutmarks.geometry.thickness import facing_gap, thinnest
from tests.geometry.helpers import put, rect

TILE = rect(0.0, 0.0, 300.0, 200.0)


def less(*openings: Region[Tile]) -> Region[Tile]:
    left = TILE
    for opening in openings:
        left = difference(left, opening)
    return left


@pytest.mark.parametrize(
    ("piece", "thickness"),
    [
        (TILE, 200.0),
        (less(put(Circle(50), 100, 40)), 15.0),  # hole to the lower side
        (less(put(Circle(50), 100, 100), put(Circle(30), 160, 100)), 20.0),  # 60 - 25 - 15
        (less(put(Rect(60, 40), 100, 195)), 70.0),  # a notch in the upper side: the left side is nearer than the lower
        (less(put(Rect(60, 40), 42, 195)), 12.0),  # a thin leg beside a notch
        (less(rect(-1, 150, 40, 201)), 150.0),  # a corner off: under it, the whole height beside it is 200
        (less(put(Rect(40, 40), 100, 100), put(Rect(40, 40), 150, 150)), math.sqrt(200.0)),  # corner to corner
        (less(put(Rect(20, 20, 45.0), 30, 100)), 30.0 - math.sqrt(200.0)),  # a corner towards the side
        (less(put(Circle(50), 25, 100)), 0.0),  # touching
        (put(Rect(100, 80, r=5), 0, 0), 80.0),  # not across its own rounded corners
        (region(polygon([(0, 0), (100, 0), (100, 95), (95, 100), (0, 100)])), 100.0),  # nor along a cut-off one
        (region(polygon([(0, 0), (100, 0), (60, 200), (40, 200)])), 20.0),  # tapering to 20
    ],
)
def test_thickness_by_hand(piece: Region[Tile], thickness: float) -> None:
    assert facing_gap(piece) == pytest.approx(thickness, abs=1e-6)


def test_thinnest_says_where() -> None:
    found = thinnest(less(put(Circle(50), 100, 40)))
    assert found is not None
    assert {(round(p.x, 6), round(p.y, 6)) for p in (found.on_a, found.on_b)} == {(100.0, 0.0), (100.0, 15.0)}


def test_a_triangle_has_no_edges_that_face() -> None:
    triangle: Ring[Tile] = polygon([(0, 0), (100, 0), (50, 80)])
    assert thinnest(region(triangle)) is None
    assert facing_gap(region(triangle)) == math.inf


def test_a_half_moon_is_measured_across() -> None:
    # A half circle of 50 less a hole of 10 whose centre is 20 from its flat side: 15 to the flat side, 25 to the top.
    half: Ring[Tile] = Ring((Vertex(-50.0, 0.0), Vertex(50.0, 0.0, 1.0)))
    assert facing_gap(difference(region(half), put(Circle(10), 0, 20))) == pytest.approx(15.0)
