"""A plain outline in an upright box: by hand, and against the kernel wherever it can tell."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cutmarks.errors import GeometryError
from cutmarks.geometry.clipping import clipped
from cutmarks.geometry.edges import Bounds
from cutmarks.geometry.frames import Point, Tile
from cutmarks.geometry.regions import Region, contains, difference, region, touches_boundary
from cutmarks.geometry.rings import Ring, Vertex, polygon

BOX = Bounds(0.0, 0.0, 100.0, 60.0)
Places = list[tuple[float, float]]


def inside(*places: tuple[float, float]) -> Places | None:
    ring: Ring[Tile] = polygon(places)
    found = clipped(ring, BOX)
    return None if found is None else [(v.x, v.y) for one in found for v in one.vertices]


def test_a_raking_wall_over_a_tile() -> None:
    # The wall goes from 80 at the bottom to 74 at 60 up: x = 80 - y / 10.
    assert inside((-50, -100), (90, -100), (64, 160), (-50, 160)) == [(0, 0), (80, 0), (74, 60), (0, 60)]


def test_what_lies_on_the_box_itself_is_told() -> None:
    assert inside((0, 0), (30, 0), (30, 60), (0, 60)) == [(0, 0), (30, 0), (30, 60), (0, 60)]
    # It only touches the left side: nothing of it is inside.
    assert inside((-30, 0), (0, 0), (0, 60), (-30, 60)) == []
    # It runs past a corner at a distance, within the bounds of both.
    assert inside((-20, 45), (20, 85), (-20, 85)) == []
    assert inside((-10, -10), (110, -10), (110, 70), (-10, 70)) == [(0, 0), (100, 0), (100, 60), (0, 60)]


@pytest.mark.parametrize(
    "places",
    [
        # A side a ten-thousandth beside the box's, one through its corner, one that turns right, and clockwise.
        [(-50, -50), (99.9999, -50), (99.9999, 100), (-50, 100)],
        [(-50, -50), (50, -50), (150, 170), (-50, 170)],
        [(-50, -50), (50, -50), (20, 30), (50, 100), (-50, 100)],
        [(-50, 100), (50, 100), (50, -50), (-50, -50)],
    ],
)
def test_what_is_not_plain_is_left_to_the_kernel(places: Places) -> None:
    assert inside(*places) is None


def test_arcs_are_left_to_the_kernel() -> None:
    circle: Ring[Tile] = Ring((Vertex(20.0, 30.0, 1.0), Vertex(60.0, 30.0, 1.0)))
    assert clipped(circle, BOX) is None


NUMBERS = st.one_of(st.sampled_from([0.0, 100.0, 60.0, 30.0, -40.0, 160.0]), st.floats(-150.0, 250.0, allow_nan=False))


@settings(max_examples=300, deadline=None)
@given(st.lists(st.tuples(NUMBERS, NUMBERS), min_size=3, max_size=6))
def test_it_says_what_the_kernel_says(places: Places) -> None:
    # Taken in their order round their middle; what is left outside it has to be the rest, by the kernel alone.
    mx, my = (sum(at) / len(places) for at in zip(*places, strict=True))
    places = sorted(set(places), key=lambda place: math.atan2(place[1] - my, place[0] - mx))
    try:
        shape: Region[Tile] = region(polygon(places))
    except GeometryError:
        return
    found = clipped(shape.rings[0], BOX)
    if found is None:
        return
    tile: Region[Tile] = region(polygon([(0.0, 0.0), (100.0, 0.0), (100.0, 60.0), (0.0, 60.0)]))
    outside = sum(ring.area for ring in difference(shape, tile).rings)
    assert sum(ring.area for ring in found) == pytest.approx(shape.area - outside, abs=1e-3)
    for vertex in (vertex for ring in found for vertex in ring.vertices):
        assert 0.0 <= vertex.x <= 100.0
        assert 0.0 <= vertex.y <= 60.0
        assert contains(shape, Point(vertex.x, vertex.y)) or touches_boundary(shape, vertex.x, vertex.y)
