"""What must hold whatever the numbers: placements, moved and mirrored regions, and the algebra of areas."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cutmarks.geometry.distance import gap
from cutmarks.geometry.frames import Placement, Point, Sheet, Surface, Tile
from cutmarks.geometry.offset import grown, shrunk
from cutmarks.geometry.regions import Region, canonical, difference, intersection, parts, region, union
from cutmarks.geometry.rings import Arc, Ring, edges
from cutmarks.geometry.shapes import Circle, Rect, Shape, Slot, area_of, ring_of
from tests.geometry.helpers import rect

NEAR = 1e-6
"""Lengths agree to this, mm; areas to this for each mm of boundary (`_slack`)."""

halves = st.integers(-400, 1600).map(lambda n: n / 2.0)
sizes = st.integers(8, 400).map(lambda n: n / 2.0)
angles = st.one_of(st.sampled_from([0.0, 45.0, 90.0, 180.0, -90.0]), st.floats(-360.0, 360.0))
placements: st.SearchStrategy[Placement[Tile, Surface]] = st.builds(
    lambda turn, dx, dy, mirrored: Placement.turned(turn, dx, dy, mirrored=mirrored),
    angles,
    st.floats(-5000.0, 5000.0),
    st.floats(-5000.0, 5000.0),
    st.booleans(),
)
points: st.SearchStrategy[Point[Tile]] = st.builds(Point, halves, halves)


@st.composite
def shapes(draw: Callable[[st.SearchStrategy[float]], float]) -> Shape:
    a, b, lean = draw(sizes), draw(sizes), draw(angles)
    kind = int(draw(st.integers(0, 3)))
    made: tuple[Shape, ...] = (
        Circle(a),
        Slot(max(a, b), min(a, b), lean),
        Rect(a, b, lean),
        Rect(a, b, lean, min(a, b) / 4.0),
    )
    return made[kind]


@st.composite
def regions(draw: Callable[[st.SearchStrategy[object]], object]) -> Region[Tile]:
    """A tile or a shape on it."""
    w, h = draw(sizes), draw(sizes)
    assert isinstance(w, float)
    assert isinstance(h, float)
    if draw(st.booleans()):
        return rect(0.0, 0.0, w, h)
    shape, at = draw(shapes()), draw(points)
    assert isinstance(shape, Circle | Slot | Rect)
    assert isinstance(at, Point)
    return region(ring_of(shape, at))


def _slack(*found: Region[Tile]) -> float:
    return NEAR * sum(ring.length for one in found for ring in one.rings) + 1e-9 * sum(one.area for one in found)


def _same(a: Region[Tile], b: Region[Tile]) -> bool:
    """Whether two regions are one and the same to a few millionths of a millimetre."""
    return difference(a, b).area + difference(b, a).area <= 4.0 * _slack(a, b)


@given(placements, points)
def test_there_and_back_is_where_it_was(placement: Placement[Tile, Surface], point: Point[Tile]) -> None:
    back = placement.inverse().apply(placement.apply(point))
    assert (back.x, back.y) == pytest.approx((point.x, point.y), abs=NEAR)


@given(placements, placements, points)
def test_one_after_the_other_is_both(
    first: Placement[Tile, Surface], second: Placement[Tile, Surface], point: Point[Tile]
) -> None:
    after: Placement[Surface, Sheet] = Placement(second.cos, second.sin, second.dx, second.dy, second.mirrored)
    both, stepwise = first.then(after).apply(point), after.apply(first.apply(point))
    assert (both.x, both.y) == pytest.approx((stepwise.x, stepwise.y), abs=NEAR)


@given(placements, points, points)
def test_a_placement_keeps_distances(
    placement: Placement[Tile, Surface], here: Point[Tile], there: Point[Tile]
) -> None:
    moved = placement.apply(there) - placement.apply(here)
    assert moved.length == pytest.approx((there - here).length, abs=NEAR)


@given(regions(), placements)
def test_moved_there_and_back(one: Region[Tile], placement: Placement[Tile, Surface]) -> None:
    moved = one.moved(placement)
    assert moved.area == pytest.approx(one.area, abs=_slack(one))
    back = moved.moved(placement.inverse())
    found, first = canonical(back).bounds, canonical(one).bounds
    assert found == pytest.approx(first, abs=NEAR)
    assert _same(back, one)


@given(shapes(), points, angles)
def test_a_shape_in_its_place_has_its_closed_form(shape: Shape, at: Point[Tile], turn: float) -> None:
    ring = ring_of(shape, at, turn)
    assert ring.area == pytest.approx(area_of(shape), rel=1e-9)
    bounds = ring.bounds
    # All shapes are the same turned half about their centre.
    assert ((bounds.min_x + bounds.max_x) / 2.0, (bounds.min_y + bounds.max_y) / 2.0) == pytest.approx((at.x, at.y))


@given(regions(), regions())
def test_what_is_left_and_what_is_taken_are_the_whole(a: Region[Tile], b: Region[Tile]) -> None:
    left, taken, joined = difference(a, b), intersection(a, b), union(a, b)
    slack = 4.0 * _slack(a, b)
    assert left.area + taken.area == pytest.approx(a.area, abs=slack)
    assert joined.area + taken.area == pytest.approx(a.area + b.area, abs=slack)
    assert left.area >= 0.0
    assert taken.area <= min(a.area, b.area) + slack
    assert intersection(left, b).area <= slack


@given(regions(), regions())
def test_it_does_not_matter_which_is_first(a: Region[Tile], b: Region[Tile]) -> None:
    assert intersection(a, b).area == pytest.approx(intersection(b, a).area, abs=4.0 * _slack(a, b))
    assert union(a, b).area == pytest.approx(union(b, a).area, abs=4.0 * _slack(a, b))


@given(regions(), regions(), regions())
def test_openings_may_be_taken_in_any_order(piece: Region[Tile], a: Region[Tile], b: Region[Tile]) -> None:
    one, other = difference(difference(piece, a), b), difference(difference(piece, b), a)
    assert one.area == pytest.approx(other.area, abs=8.0 * _slack(piece, a, b))
    at_once = difference(piece, union(a, b))
    assert at_once.area == pytest.approx(one.area, abs=8.0 * _slack(piece, a, b))


@given(regions(), regions(), placements)
def test_moving_first_or_last_is_the_same(
    a: Region[Tile], b: Region[Tile], placement: Placement[Tile, Surface]
) -> None:
    there = difference(a.moved(placement), b.moved(placement))
    here = difference(a, b)
    assert there.area == pytest.approx(here.area, abs=4.0 * _slack(a, b))
    assert _same(there.moved(placement.inverse()), here)


@given(regions(), regions())
def test_mirrored_cuts_are_mirror_images(a: Region[Tile], b: Region[Tile]) -> None:
    mirror: Placement[Tile, Sheet] = Placement.turned(0.0, 298.0, 0.0, mirrored=True)
    there = difference(a.moved(mirror), b.moved(mirror))
    here = difference(a, b)
    assert there.area == pytest.approx(here.area, abs=4.0 * _slack(a, b))
    if not here.is_empty:
        bounds = here.bounds
        expected = (298.0 - bounds.max_x, bounds.min_y, 298.0 - bounds.min_x, bounds.max_y)
        assert there.bounds == pytest.approx(expected, abs=8.0 * NEAR)


@given(regions(), regions())
def test_parts_make_up_the_whole(a: Region[Tile], b: Region[Tile]) -> None:
    left = difference(a, b)
    pieces = parts(left)
    assert sum(piece.area for piece in pieces) == pytest.approx(left.area)
    assert all(sum(ring.area > 0.0 for ring in piece.rings) == 1 for piece in pieces)
    assert canonical(left) == left


@given(sizes, sizes, st.floats(0.5, 20.0), st.floats(0.0, 89.0))
def test_grown_and_shrunk_again(w: float, h: float, by: float, lean: float) -> None:
    ring: Ring[Tile] = ring_of(Rect(w, h, lean), Point(0.0, 0.0))
    wider = grown(ring, by)
    assert wider.area == pytest.approx((w + 2.0 * by) * (h + 2.0 * by))
    assert gap(ring, wider) == pytest.approx(by)
    assert shrunk(wider, by).area == pytest.approx(w * h)


@given(st.lists(st.tuples(halves, halves, sizes), min_size=1, max_size=6), st.integers(0, 5))
def test_round_holes_keep_their_centres(holes: list[tuple[float, float, float]], shift: int) -> None:
    piece = rect(0.0, 0.0, 400.0, 300.0)
    left = piece
    for x, y, d in holes:
        at: Point[Tile] = Point(x + shift / 10.0, y)
        left = difference(left, region(ring_of(Circle(d), at)))
    rounds = [(x + shift / 10.0, y, d / 2.0) for x, y, d in holes]
    covered = sum(math.pi * r * r for _, _, r in rounds)
    assert piece.area - covered - 1e-3 <= left.area <= piece.area + 1e-3
    arcs = [edge for ring in left.rings for edge in edges(ring) if isinstance(edge, Arc)]
    for arc in arcs:
        assert min(math.dist((arc.cx, arc.cy, arc.radius), one) for one in rounds) < 0.001
