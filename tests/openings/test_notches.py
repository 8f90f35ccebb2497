"""Openings carried on to edges: figures by hand, and hulls of shapely for shapes at random."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import affinity
from shapely.geometry import Polygon, box

from cutmarks.geometry.edges import Arc, Bounds, at_angle
from cutmarks.geometry.frames import Point, Tile
from cutmarks.geometry.rings import Ring, edges
from cutmarks.geometry.shapes import Circle, Rect, Slot, ring_of
from cutmarks.openings.notches import carried_on, farthest, swept
from cutmarks.sides import SIDES, Side

TILE = Bounds(0.0, 0.0, 300.0, 200.0)
FAR = 10_000.0
"""Farther than any tile goes, mm."""


def put(shape, x: float, y: float) -> Ring[Tile]:
    at: Point[Tile] = Point(x, y)
    return ring_of(shape, at)


def test_a_u_cut_is_half_a_disc_and_a_strip():
    # A 35 hole 40 from the right edge: pi 17.5^2 / 2 + 35 x 40.
    found = carried_on(put(Circle(35.0), 260.0, 100.0), [Side.RIGHT], TILE)
    assert found.area == pytest.approx(math.pi * 17.5**2 / 2 + 35 * 40)
    assert found.bounds == pytest.approx((242.5, 82.5, 300.0, 117.5))
    # Tangent: the straight sides begin beside the middle, so that one arc of half a turn is left.
    arcs = [edge for ring in found.rings for edge in edges(ring) if isinstance(edge, Arc)]
    assert sum(abs(arc.sweep) for arc in arcs) == pytest.approx(math.pi)


def test_an_l_cut_is_a_quarter_disc_and_three_boxes():
    # 30 from the right and 25 from the top: pi 17.5^2 / 4 + 17.5 x 25 + 17.5 x 30 + 30 x 25.
    found = carried_on(put(Circle(35.0), 270.0, 175.0), [Side.RIGHT, Side.TOP], TILE)
    assert found.area == pytest.approx(math.pi * 17.5**2 / 4 + 17.5 * 25 + 17.5 * 30 + 30 * 25)


def test_a_box_is_carried_on_by_its_own_sides():
    found = carried_on(put(Rect(70.0, 60.0), 50.0, 100.0), [Side.LEFT], TILE)
    assert found.bounds == pytest.approx((0.0, 70.0, 85.0, 130.0))
    assert found.area == pytest.approx(85 * 60)


def test_what_reaches_the_edge_already_stays_as_it_is():
    ring = put(Circle(35.0), 310.0, 100.0)
    assert carried_on(ring, [Side.RIGHT], TILE).area == pytest.approx(math.pi * 17.5**2)


def test_a_slot_to_slide_along_is_the_hole_and_the_way():
    found = swept(put(Circle(35.0), 100.0, 100.0), Side.TOP, 12.0)
    assert found.area == pytest.approx(math.pi * 17.5**2 + 35 * 12)
    assert found.bounds == pytest.approx((82.5, 82.5, 117.5, 129.5))


def test_opposite_sides_are_refused():
    with pytest.raises(ValueError, match="not to left and right"):
        carried_on(put(Circle(35.0), 100.0, 100.0), [Side.LEFT, Side.RIGHT], TILE)


def test_farthest_finds_the_place_on_an_arc():
    ring = put(Slot(60.0, 20.0, 30.0), 0.0, 0.0)
    # The round end's middle is 20 along the lean, the end reaches 10 further: 20 cos 30 + 10.
    assert farthest(ring, Side.RIGHT).x == pytest.approx(20 * math.cos(math.radians(30)) + 10)


SHAPES = st.one_of(
    st.builds(Circle, st.floats(5.0, 90.0)),
    st.builds(Rect, st.floats(10.0, 90.0), st.floats(10.0, 90.0), st.floats(-80.0, 80.0)),
    st.builds(
        lambda w, more, lean: Slot(w + more, w, lean), st.floats(5.0, 40.0), st.floats(0.5, 60.0), st.floats(-80, 80)
    ),
)


def polygon(ring: Ring[Tile]) -> Polygon:
    places = []
    for edge in edges(ring):
        steps = max(1, math.ceil(abs(edge.sweep) / 0.005)) if isinstance(edge, Arc) else 1
        places += [
            at_angle(edge, abs(edge.sweep) * k / steps) if isinstance(edge, Arc) else edge[:2] for k in range(steps)
        ]
    return Polygon(places)


@given(SHAPES, st.floats(-20.0, 320.0), st.floats(-20.0, 220.0), st.sampled_from(SIDES), st.booleans(), st.booleans())
@settings(max_examples=150, deadline=None)
def test_carried_on_is_the_hull_with_itself_far_away_up_to_the_edge(shape, x, y, side: Side, corner, first):
    beside: Side = (
        (Side.BOTTOM if first else Side.TOP) if side.axis == "across" else (Side.LEFT if first else Side.RIGHT)
    )
    sides = [side, beside] if corner else [side]
    ring = put(shape, x, y)
    away = {"left": (-FAR, 0.0), "right": (FAR, 0.0), "bottom": (0.0, -FAR), "top": (0.0, FAR)}
    own = polygon(ring)
    hull = own
    for one in sides:
        hull = hull.union(affinity.translate(hull, *away[one])).convex_hull
    limits = {
        "left": box(0.0, -3 * FAR, 3 * FAR, 3 * FAR),
        "right": box(-3 * FAR, -3 * FAR, 300.0, 3 * FAR),
        "bottom": box(-3 * FAR, 0.0, 3 * FAR, 3 * FAR),
        "top": box(-3 * FAR, -3 * FAR, 3 * FAR, 200.0),
    }
    # Within the tile alone: what lies beyond it is not cut.
    tile = box(*TILE)
    for one in sides:
        hull = hull.intersection(limits[one])
    expected = hull.union(own).intersection(tile)
    found = carried_on(ring, sides, TILE)
    taken = polygon(found.rings[0]).intersection(tile)
    assert taken.symmetric_difference(expected).area < 0.05
