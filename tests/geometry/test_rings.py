"""Rings: arcs by their bulge, areas, bounds, placing, and what is refused."""

from __future__ import annotations

import math

import pytest

from cutmarks.errors import GeometryError
from cutmarks.geometry.edges import Arc, Segment
from cutmarks.geometry.frames import Placement, Point, Surface, Tile
from cutmarks.geometry.rings import Bounds, Ring, Vertex, as_circle, edges, polygon, self_crossing
from tests.geometry.helpers import assert_vertices, bulge


@pytest.mark.parametrize(
    ("value", "degrees"),
    # DXF reference, LWPOLYLINE, group 42: tan(included angle / 4), negative clockwise; K values by hand from tables.
    [(0.414213562, 90.0), (-0.414213562, -90.0), (0.267949192, 60.0), (1.0, 180.0)],
)
def test_a_bulge_is_the_tangent_of_a_quarter_of_the_angle(value: float, degrees: float) -> None:
    ring: Ring[Tile] = Ring((Vertex(0.0, 0.0, value), Vertex(10.0, 0.0)))
    arc = edges(ring)[0]
    assert isinstance(arc, Arc)
    assert math.degrees(arc.sweep) == pytest.approx(degrees, abs=1e-6)


def test_a_quarter_circle_knows_its_centre() -> None:
    # By hand: counter-clockwise from (10, 0) to (0, 10) about the origin.
    ring: Ring[Tile] = Ring((Vertex(10.0, 0.0, bulge(90)), Vertex(0.0, 10.0)))
    arc, chord = edges(ring)
    assert isinstance(arc, Arc)
    assert isinstance(chord, Segment)
    assert (arc.centre.x, arc.centre.y) == pytest.approx((0.0, 0.0), abs=1e-12)
    assert arc.radius == pytest.approx(10.0)
    assert arc.start == pytest.approx(0.0)


@pytest.mark.parametrize(
    ("chord", "rise", "radius", "angle", "length", "area", "within"),
    [
        # Machinery's Handbook 31, p. 50: r 12, rise 2: chord 13.27, angle 67.13 (exactly 67.11), arc 14.06, area 18.01
        (13.2665, 2.0, 12.0, 67.11, 14.06, 18.01, 0.006),
        # The same, p. 79: c = 16, h = 6 give r = 8 1/3; angle 2 asin(8 / r), area r^2 / 2 (a - sin a) by hand
        (16.0, 6.0, 25.0 / 3.0, 147.4796, 21.4500, 70.7085, 0.001),
        # and r = 60, h = 8: chord 59.8665; angle 2 acos(52 / 60) by hand
        (59.8665, 8.0, 60.0, 59.8529, 62.6778, 323.8039, 0.01),
    ],
)
def test_circular_segments_of_the_machinists_tables(
    chord: float, rise: float, radius: float, angle: float, length: float, area: float, within: float
) -> None:
    ring: Ring[Tile] = Ring((Vertex(0.0, 0.0, 2.0 * rise / chord), Vertex(chord, 0.0)))
    arc = edges(ring)[0]
    assert isinstance(arc, Arc)
    assert arc.radius == pytest.approx(radius, abs=within)
    assert math.degrees(arc.sweep) == pytest.approx(angle, abs=within)
    assert arc.length == pytest.approx(length, abs=within)
    assert ring.area == pytest.approx(area, abs=within)
    assert ring.length == pytest.approx(length + chord, abs=within)


def test_a_flat_arc_has_the_area_of_a_parabola() -> None:
    # 2/3 chord x rise is right to one part in (rise / chord)^2, here 1e-10 (Archimedes).
    ring: Ring[Tile] = Ring((Vertex(0.0, 0.0, 2e-5), Vertex(1000.0, 0.0)))
    assert ring.area == pytest.approx(2.0 / 3.0 * 1000.0 * 0.01, rel=1e-8)


def test_bounds_reach_where_an_arc_bulges() -> None:
    # A slot 40 by 10 about (100, 50): its ends are half circles beyond their chords.
    slot = (Vertex(85.0, 45.0), Vertex(115.0, 45.0, 1.0), Vertex(115.0, 55.0), Vertex(85.0, 55.0, 1.0))
    ring: Ring[Tile] = Ring(slot)
    assert ring.bounds == pytest.approx((80.0, 45.0, 120.0, 55.0))
    assert (ring.bounds.width, ring.bounds.height) == pytest.approx((40.0, 10.0))


def test_bounds_of_an_arc_over_three_quarters() -> None:
    # From (10, 0) counter-clockwise by 270 degrees to (0, -10): it passes the top, the left and ends at the bottom.
    ring: Ring[Tile] = Ring((Vertex(10.0, 0.0, bulge(270)), Vertex(0.0, -10.0)))
    assert ring.bounds == pytest.approx((-10.0, -10.0, 10.0, 10.0))
    # By hand: three quarters of the disc and the triangle between the chord and the centre.
    assert ring.area == pytest.approx(0.75 * math.pi * 100.0 + 50.0)


def test_bounds_overlap_and_lie_within() -> None:
    box = Bounds(0.0, 0.0, 10.0, 10.0)
    assert box.overlaps(Bounds(10.0, 10.0, 20.0, 20.0))
    assert not box.overlaps(Bounds(10.5, 0.0, 20.0, 10.0))
    assert box.overlaps(Bounds(10.5, 0.0, 20.0, 10.0), slack=0.5)
    assert Bounds(1.0, 1.0, 9.0, 9.0).within(box)
    assert not Bounds(-0.5, 1.0, 9.0, 9.0).within(box)
    assert Bounds(-0.5, 1.0, 9.0, 9.0).within(box, slack=0.5)


def test_a_ring_far_from_the_origin_keeps_its_digits() -> None:
    ring: Ring[Tile] = polygon([(1e7, 1e7), (1e7 + 10, 1e7), (1e7 + 10, 1e7 + 10), (1e7, 1e7 + 10)])
    assert ring.area == 100.0


def test_reversing_twice_is_nothing_and_once_turns_the_area() -> None:
    ring: Ring[Tile] = Ring((Vertex(0.0, 0.0), Vertex(10.0, 0.0, 0.5), Vertex(10.0, 10.0), Vertex(0.0, 10.0, -0.2)))
    back = ring.reversed()
    assert back.area == pytest.approx(-ring.area)
    assert [edge.bulge for edge in edges(back)] == pytest.approx([0.0, -0.5, 0.0, 0.2])
    assert sorted(back.reversed().vertices) == sorted(ring.vertices)


def test_a_mirrored_ring_still_runs_counter_clockwise() -> None:
    # Mirrored about x = 0 and moved by 100, (x, y) becomes (100 - x, y); the dent in the right side goes to the left.
    ring: Ring[Tile] = Ring((Vertex(0.0, 0.0), Vertex(50.0, 0.0, -0.5), Vertex(50.0, 20.0), Vertex(0.0, 20.0)))
    placement: Placement[Tile, Surface] = Placement.turned(0.0, 100.0, 0.0, mirrored=True)
    moved = ring.moved(placement)
    assert moved.area == pytest.approx(ring.area)
    assert moved.vertices == ((100.0, 20.0, 0.0), (50.0, 20.0, -0.5), (50.0, 0.0, 0.0), (100.0, 0.0, 0.0))


def test_a_turned_ring() -> None:
    # A quarter turn counter-clockwise takes (x, y) to (-y, x).
    ring: Ring[Tile] = Ring((Vertex(1.0, 2.0, 0.5), Vertex(3.0, 4.0), Vertex(0.0, 4.0)))
    turned: Placement[Tile, Surface] = Placement.turned(90.0)
    assert ring.moved(turned).vertices == ((-2.0, 1.0, 0.5), (-4.0, 3.0, 0.0), (-4.0, 0.0, 0.0))


def test_a_circle_is_known_as_one() -> None:
    circle: Ring[Tile] = Ring((Vertex(-5.0, 1.0, 1.0), Vertex(15.0, 1.0, 1.0)))
    found = as_circle(circle)
    assert found == (Point(5.0, 1.0), 10.0)
    thirds: Ring[Tile] = Ring(
        tuple(
            Vertex(5.0 + 10.0 * math.cos(math.radians(at)), 1.0 + 10.0 * math.sin(math.radians(at)), bulge(120))
            for at in (10, 130, 250)
        )
    )
    also = as_circle(thirds)
    assert also is not None
    assert (also[0].x, also[0].y, also[1]) == pytest.approx((5.0, 1.0, 10.0))


@pytest.mark.parametrize(
    "vertices",
    [
        ((0.0, 0.0), (10.0, 0.0), (10.0, 10.0)),
        ((0.0, 0.0, 1.0), (10.0, 0.0, 0.9)),
        ((0.0, 0.0, 1.0), (10.0, 0.0, 0.0)),
        ((0.0, 0.0, 1.0), (10.0, 0.0, 1.0), (10.0, 5.0, 0.0)),
    ],
)
def test_what_is_no_circle(vertices: tuple[tuple[float, ...], ...]) -> None:
    ring: Ring[Tile] = Ring(tuple(Vertex(*vertex) for vertex in vertices))
    assert as_circle(ring) is None


@pytest.mark.parametrize(
    ("vertices", "place"),
    [
        # a bow tie: the diagonals of a 10 square cross in its middle
        ([(0, 0), (10, 10), (10, 0), (0, 10)], (5, 5)),
        # a corner that touches the opposite side
        ([(0, 0), (10, 0), (10, 10), (5, 0), (0, 10)], (5, 0)),
        # a spike that goes out and back
        ([(0, 0), (10, 0), (10, 10), (10, 4), (0, 4)], (10, 4)),
        # an arc that swings through the opposite side: radius 5 about (5, 4) reaches y = -1
        ([(0, 0), (10, 0), (10, 4, -1.0), (0, 4)], (2, 0)),
    ],
)
def test_where_a_ring_crosses_itself(vertices: list[tuple[float, ...]], place: tuple[float, float]) -> None:
    ring: Ring[Tile] = Ring(tuple(Vertex(*vertex) for vertex in vertices))
    found = self_crossing(ring)
    assert found is not None
    assert (found.x, found.y) == pytest.approx(place)


@pytest.mark.parametrize(
    "vertices",
    [
        [(0, 0), (10, 0), (10, 10), (0, 10)],
        [(0, 0, 1.0), (10, 0, 1.0)],
        [(0, 0), (10, 0), (10, 4, -1.0), (4, 4), (0, 4)],
        # a lens with an arc of more than a turn's half on one side
        [(0, 0, 3.0), (1, 0, -0.1)],
        # a cusp: the side leaves its own tangent circle slowly
        [(0, 0), (10, 0, -1.0), (10, -6), (0, -6)],
    ],
)
def test_simple_rings_do_not_cross_themselves(vertices: list[tuple[float, ...]]) -> None:
    ring: Ring[Tile] = Ring(tuple(Vertex(*vertex) for vertex in vertices))
    assert self_crossing(ring) is None


def test_too_few_vertices_are_refused() -> None:
    with pytest.raises(GeometryError) as refused:
        Ring((Vertex(0.0, 0.0),))
    assert str(refused.value) == "an outline has 1 vertex; give at least 2 (a circle) or 3 corners"


@pytest.mark.parametrize("bad", [math.nan, math.inf, -math.inf])
def test_numbers_that_are_none_are_refused(bad: float) -> None:
    with pytest.raises(GeometryError, match=r"^a vertex of an outline is \(0.0, .*ordinary numbers$"):
        polygon([(0.0, bad), (1.0, 0.0), (1.0, 1.0)])


def test_polygon_keeps_its_order() -> None:
    ring: Ring[Tile] = polygon([(0.0, 0.0), (1.0, 0.0), (0.0, 1.0)])
    assert_vertices(ring, [(0.0, 0.0), (1.0, 0.0), (0.0, 1.0)])
