"""Differences, intersections and unions: the cases that come up on a wall, with figures from outside."""

from __future__ import annotations

import math

import pytest

from cutmarks.errors import GeometryError
from cutmarks.geometry.frames import Point, Tile
from cutmarks.geometry.regions import (
    Region,
    canonical,
    contains,
    difference,
    intersection,
    parts,
    region,
    spans_across,
    spans_up,
    union,
)
from cutmarks.geometry.rings import Arc, Ring, Vertex, as_circle, edges, polygon
from cutmarks.geometry.shapes import Circle, Rect, Slot
from tests.geometry.helpers import assert_vertices, bulge, put, rect
from tests.worked.figures import W3_FOUR

TILE = rect(0.0, 0.0, 298.0, 598.0)


@pytest.mark.parametrize(
    ("x", "y", "ends"),
    [(*centre, list(ends)) for centre, *ends in W3_FOUR.values()],
)
def test_w3_a_round_opening_over_four_tiles(x: float, y: float, ends: list[tuple[float, float]]) -> None:
    cut = difference(TILE, put(Circle(50.0), x, y))
    (ring,) = cut.rings
    (arc,) = (edge for edge in edges(ring) if isinstance(edge, Arc))
    found = sorted([(arc.x0, arc.y0), (arc.x1, arc.y1)])
    for one, other in zip(found, sorted(ends), strict=True):
        assert one == pytest.approx(other, abs=0.006)
    assert (arc.cx, arc.cy, arc.radius) == pytest.approx((x, y, 25.0), abs=1e-9)


def test_a_hole_stays_a_whole_circle() -> None:
    cut = difference(TILE, put(Circle(35.0), 74.5, 112.5))
    outer, hole = cut.rings
    assert outer == TILE.rings[0]
    assert as_circle(hole) == (Point(74.5, 112.5), 17.5)
    assert hole.area == pytest.approx(-math.pi * 35.0**2 / 4.0)


def test_two_openings_off_the_tile_leave_it_alone() -> None:
    away = put(Circle(35.0), -40.0, 112.5)
    assert difference(TILE, away) == TILE
    assert intersection(TILE, away).is_empty


def test_an_opening_larger_than_the_tile_leaves_nothing() -> None:
    all_of_it = rect(-1.0, -1.0, 299.0, 599.0)
    assert difference(TILE, all_of_it) == Region(())
    assert intersection(TILE, all_of_it) == TILE
    assert difference(TILE, TILE) == Region(())
    assert union(TILE, TILE) == TILE
    assert intersection(TILE, TILE) == TILE


def test_a_notch_from_the_edge() -> None:
    cut = difference(TILE, put(Rect(40.0, 30.0), 100.0, 10.0))
    assert_vertices(
        cut.rings[0],
        [(0, 0), (80, 0), (80, 25), (120, 25), (120, 0), (298, 0), (298, 598), (0, 598)],
    )


@pytest.mark.parametrize("off", [0.0, 1e-13, -1e-13, 9e-7, -9e-7])
def test_flush_with_the_edge_is_a_notch(off: float) -> None:
    # The box's lower side on the tile's: within a millionth of a millimetre they are one line.
    cut = difference(TILE, put(Rect(40.0, 30.0), 100.0, 15.0 + off))
    assert_vertices(
        cut.rings[0],
        [(0, 0), (80, 0), (80, 30), (120, 30), (120, 0), (298, 0), (298, 598), (0, 598)],
        within=2e-6,
    )


@pytest.mark.parametrize("off", [0.0, 1e-13, -1e-13, 9e-7, -9e-7])
def test_a_round_hole_tangent_from_within_stays_a_hole(off: float) -> None:
    cut = difference(TILE, put(Circle(50.0), 25.0 + off, 100.0))
    assert len(cut.rings) == 2
    assert_vertices(cut.rings[0], [(0, 0), (298, 0), (298, 598), (0, 598)])
    assert as_circle(cut.rings[1]) is not None


@pytest.mark.parametrize("off", [0.0, 1e-13, -1e-13, 9e-7, -9e-7])
def test_a_round_hole_tangent_from_without_takes_nothing(off: float) -> None:
    away = put(Circle(50.0), -25.0 + off, 100.0)
    assert difference(TILE, away) == TILE
    assert intersection(TILE, away).is_empty


def test_over_the_edge_by_more_than_a_touch_is_a_notch() -> None:
    cut = difference(TILE, put(Circle(50.0), 24.9999, 100.0))
    (ring,) = cut.rings
    # By hand: half chord sqrt(25^2 - 24.9999^2) = 0.0707.
    assert sorted(v.y for v in ring.vertices if v.x == 0.0)[1:3] == pytest.approx([99.9293, 100.0707], abs=1e-4)
    assert all(abs(v.bulge) < 20.0 for v in ring.vertices)


def test_a_quarter_circle_at_a_corner() -> None:
    cut = difference(TILE, put(Circle(50.0), 0.0, 0.0))
    assert_vertices(cut.rings[0], [(0, 25, bulge(-90)), (25, 0), (298, 0), (298, 598), (0, 598)])


def test_a_circle_through_the_corner() -> None:
    # About (15, 20) with radius 25 it passes the corner (0, 0), and leaves the sides at (30, 0) and (0, 40).
    cut = difference(TILE, put(Circle(50.0), 15.0, 20.0))
    # (0, 40) to (30, 0) is 50 long, a diameter: half a circle.
    assert_vertices(cut.rings[0], [(0, 40, -1.0), (30, 0), (298, 0), (298, 598), (0, 598)])


def test_a_slot_that_parts_the_tile() -> None:
    pieces = parts(difference(TILE, put(Slot(400.0, 20.0), 149.0, 300.0)))
    assert [piece.bounds for piece in pieces] == [
        pytest.approx((0.0, 0.0, 298.0, 290.0)),
        pytest.approx((0.0, 310.0, 298.0, 598.0)),
    ]


def test_parts_are_ordered_from_left_to_right_then_upward_and_keep_their_holes() -> None:
    cross = union(put(Rect(20.0, 800.0), 149.0, 300.0), put(Rect(400.0, 20.0), 149.0, 300.0))
    holed = difference(difference(TILE, cross), put(Circle(30.0), 200.0, 500.0))
    pieces = parts(holed)
    assert [(piece.bounds.min_x, piece.bounds.min_y) for piece in pieces] == [(0, 0), (0, 310), (159, 0), (159, 310)]
    assert [len(piece.rings) for piece in pieces] == [1, 1, 1, 2]


def test_touching_pieces_are_separate_parts() -> None:
    # A square on its corner, as high as the strip: what is left touches at two points.
    strip = rect(0.0, 0.0, 100.0, 20.0)
    cut = difference(strip, put(Rect(math.sqrt(200.0), math.sqrt(200.0), 45.0), 50.0, 10.0))
    assert [piece.area for piece in parts(cut)] == pytest.approx([900.0, 900.0])


def test_two_tangent_holes_are_two_circles() -> None:
    cut = difference(difference(TILE, put(Circle(40.0), 100.0, 100.0)), put(Circle(60.0), 150.0, 100.0))
    assert [as_circle(ring) for ring in cut.rings[1:]] == [(Point(100.0, 100.0), 20.0), (Point(150.0, 100.0), 30.0)]


def test_two_overlapping_holes_become_one() -> None:
    cut = difference(difference(TILE, put(Circle(50.0), 100.0, 100.0)), put(Circle(50.0), 130.0, 100.0))
    # By hand: the circles cross at x = 115, y = 100 +- 20 (a 15, 20, 25 triangle).
    assert_vertices(
        cut.rings[1],
        [(115, 80, -math.tan(math.acos(-0.6) / 2)), (115, 120, -math.tan(math.acos(-0.6) / 2))],
    )


def test_the_same_hole_twice_is_one_hole() -> None:
    once = difference(TILE, put(Circle(50.0), 100.0, 100.0))
    assert difference(once, put(Circle(50.0), 100.0, 100.0)) == once


def test_two_flush_boxes_make_one_opening() -> None:
    cut = difference(difference(TILE, put(Rect(40.0, 30.0), 100.0, 100.0)), put(Rect(40.0, 30.0), 140.0, 100.0))
    assert_vertices(cut.rings[1], [(80, 85), (80, 115), (160, 115), (160, 85)])


def test_a_hole_cut_open_beside_where_it_touched_the_edge() -> None:
    # Tangent to the left side at (0, 100), then opened above: ring and hole must part where they touch.
    tangent = difference(TILE, put(Circle(50.0), 25.0, 100.0))
    cut = difference(tangent, rect(-1.0, 110.0, 20.0, 115.0))
    assert cut.area == pytest.approx(tangent.area - intersection(tangent, rect(-1.0, 110.0, 20.0, 115.0)).area)
    sliver = min(parts(cut), key=lambda part: part.area)
    assert sliver.bounds.min_y == pytest.approx(100.0)
    assert sliver.bounds.max_y == pytest.approx(110.0)


def test_a_ring_of_tile_round_a_hole_in_an_opening() -> None:
    # An opening with a hole: what lies in its hole stays.
    frame = difference(rect(50.0, 50.0, 150.0, 150.0), rect(80.0, 80.0, 120.0, 120.0))
    cut = difference(TILE, frame)
    assert [piece.area for piece in parts(cut)] == pytest.approx([298.0 * 598.0 - 10000.0, 1600.0])
    assert intersection(TILE, frame) == frame


def test_union_of_two_halves_is_the_whole() -> None:
    assert union(rect(0.0, 0.0, 100.0, 598.0), rect(100.0, 0.0, 298.0, 598.0)) == TILE
    apart = union(rect(0.0, 0.0, 10.0, 10.0), rect(20.0, 0.0, 30.0, 10.0))
    assert len(apart.rings) == 2


def test_a_region_runs_counter_clockwise_whatever_was_given() -> None:
    clockwise: Ring[Tile] = polygon([(0, 0), (0, 10), (10, 10), (10, 0)])
    assert region(clockwise).area == 100.0


def test_a_crossing_outline_is_refused_with_its_place() -> None:
    bow_tie: Ring[Tile] = polygon([(0, 0), (10, 10), (10, 0), (0, 20)])
    with pytest.raises(GeometryError) as refused:
        region(bow_tie)
    # By hand: y = x meets y = 20 - 2x at 20/3.
    assert str(refused.value) == (
        "an outline crosses or touches itself at (6.667, 6.667); give its corners in order, once round"
    )


def test_an_outline_of_nothing_is_refused() -> None:
    line: Ring[Tile] = polygon([(0, 0), (10, 0), (20, 0)])
    with pytest.raises(GeometryError, match=r"^an outline encloses nothing; its corners must not all lie on one line$"):
        region(line)


def test_the_empty_region() -> None:
    nothing: Region[Tile] = Region(())
    assert nothing.is_empty
    assert nothing.area == 0.0
    assert difference(TILE, nothing) == TILE
    assert union(nothing, TILE) == TILE
    assert parts(nothing) == ()
    with pytest.raises(GeometryError, match=r"^an empty region has no bounds; ask is_empty first$"):
        _ = nothing.bounds


def test_the_plainest_form() -> None:
    ragged: Ring[Tile] = Ring(
        (
            Vertex(10.0, 0.0),
            Vertex(10.0, 0.0),  # no length
            Vertex(10.0, 10.0, bulge(30)),  # a half circle in three
            Vertex(5.0 + 5.0 * math.cos(math.radians(30)), 10.0 + 5.0 * math.sin(math.radians(30)), bulge(70)),
            Vertex(5.0 + 5.0 * math.cos(math.radians(100)), 10.0 + 5.0 * math.sin(math.radians(100)), bulge(80)),
            Vertex(0.0, 10.0),
            Vertex(0.0, 0.0),
            Vertex(4.0, 0.0),  # on the lower side
        )
    )
    plain = canonical(Region((ragged,)))
    assert_vertices(plain.rings[0], [(0, 0), (10, 0), (10, 10, 1.0), (0, 10)])
    assert canonical(plain) == plain


def test_places_inside_on_and_outside() -> None:
    cut = difference(TILE, put(Circle(50.0), 100.0, 100.0))
    for x, y, loose, strict in [
        (50.0, 50.0, True, True),
        (100.0, 100.0, False, False),
        (125.0, 100.0, True, False),
        (125.0 - 9e-7, 100.0, True, False),
        (124.9, 100.0, False, False),
        (0.0, 300.0, True, False),
        (-0.1, 300.0, False, False),
        (298.0, 598.0, True, False),
    ]:
        place: Point[Tile] = Point(x, y)
        assert contains(cut, place) is loose
        assert contains(cut, place, strict=True) is strict


def test_a_place_on_the_chord_of_an_arc_is_inside() -> None:
    half: Region[Tile] = region(Ring((Vertex(0.0, 0.0, 1.0), Vertex(10.0, 0.0, 0.0), Vertex(5.0, 20.0))))
    on_chord: Point[Tile] = Point(5.0, 0.0)
    assert contains(half, on_chord, strict=True)
    leaning = put(Slot(40.0, 10.0, 30.0), 0.0, 0.0)
    for end in (-15.0, 15.0):
        centre: Point[Tile] = Point(end * math.cos(math.radians(30)), end * math.sin(math.radians(30)))
        assert contains(leaning, centre, strict=True)


def test_spans_across_a_hole() -> None:
    cut = difference(TILE, put(Circle(50.0), 100.0, 100.0))
    assert spans_across(cut, 100.0) == [(0.0, 75.0), (125.0, 298.0)]
    # Half chord at 15 above the centre: 20.
    assert spans_across(cut, 115.0) == [pytest.approx((0.0, 80.0)), pytest.approx((120.0, 298.0))]
    assert spans_across(cut, 125.0) == [(0.0, 298.0)]
    assert spans_across(cut, 598.5) == []
    assert spans_up(cut, 100.0) == [(0.0, 75.0), (125.0, 598.0)]
    assert spans_up(cut, 125.0, "left") == [(0.0, 598.0)]


def test_spans_along_an_edge_take_the_side_that_is_asked_for() -> None:
    # A step: 100 wide up to 50, then 40 wide up to 80.
    step: Region[Tile] = region(polygon([(0, 0), (100, 0), (100, 50), (40, 50), (40, 80), (0, 80)]))
    assert spans_across(step, 50.0) == [(0.0, 40.0)]
    assert spans_across(step, 50.0, "below") == [(0.0, 100.0)]
    assert spans_across(step, 50.0 - 1e-13) == [(0.0, 40.0)]
    assert spans_across(step, 0.0) == [(0.0, 100.0)]
    assert spans_across(step, 0.0, "below") == []
    assert spans_across(step, 80.0) == []
    assert spans_across(step, 80.0, "below") == [(0.0, 40.0)]
    assert spans_up(step, 40.0) == [(0.0, 50.0)]
    assert spans_up(step, 40.0, "left") == [(0.0, 80.0)]


def test_spans_through_two_tangent_openings_close_the_gap_of_no_width() -> None:
    cut = difference(difference(TILE, put(Circle(40.0), 100.0, 100.0)), put(Circle(60.0), 150.0, 100.0))
    assert spans_across(cut, 100.0) == [pytest.approx((0.0, 80.0)), pytest.approx((180.0, 298.0))]
