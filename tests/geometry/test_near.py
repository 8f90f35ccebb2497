"""The short ways of the kernel against the long ones: what is passed over must never have mattered."""

from __future__ import annotations

import math
from random import Random

import pytest

from cutmarks.geometry.distance import edge_gap, gap, meets, nearest
from cutmarks.geometry.edges import Bounds, Segment, edge_between, edge_bounds
from cutmarks.geometry.frames import Placement, Point, Tile
from cutmarks.geometry.near import FEW, Near, pairs_near
from cutmarks.geometry.regions import Region, contains, difference, intersection, region, seen_in, without
from cutmarks.geometry.rings import Ring, Vertex, _circle, _first_crossing, as_circle, edges, polygon, self_crossing
from cutmarks.geometry.shapes import Circle, Rect, Slot, ring_of
from cutmarks.geometry.thickness import thinnest
from cutmarks.geometry.tidy import ring_from_edges, tidied
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.openings.between import Between
from tests.geometry.helpers import rect

SEEDS = range(12)


def random_boxes(draw: Random, count: int) -> list[Bounds]:
    """Boxes of very different sizes, places among them, some far off."""
    found = []
    for _ in range(count):
        x, y = draw.uniform(-500, 500), draw.uniform(-500, 500)
        w, h = (draw.choice((0.0, 1e-4, 3.0, 40.0, 900.0, 2e7)) * draw.random() for _ in range(2))
        found.append(Bounds(x, y, x + w, y + h))
    return found


@pytest.mark.parametrize("seed", SEEDS)
def test_the_boxes_near_are_those_that_a_look_at_every_one_finds(seed):
    draw = Random(seed)
    boxes = random_boxes(draw, 120)
    near = Near(boxes[:70])
    near.within(boxes[0])  # what comes after a first question is found too
    for box in boxes[70:]:
        near.add(box)
    for asked in random_boxes(draw, 40):
        for slack in (0.0, 1e-6, 25.0, math.inf):
            wanted = [number for number, box in enumerate(boxes) if asked.overlaps(box, slack)]
            assert near.within(asked, slack) == wanted
    pairs = [(i, j) for i in range(120) for j in range(i + 1, 120) if boxes[i].overlaps(boxes[j], 5.0)]
    assert list(pairs_near(list(enumerate(boxes)), 5.0)) == pairs


def waved(draw: Random, corners: int, x: float, y: float, radius: float) -> Ring[Tile]:
    """An outline of many corners and some arcs about (x, y), 0.8 to 1 times the radius off."""
    waves, depth = draw.randint(2, 6), draw.uniform(0.02, 0.1)
    vertices = []
    for k in range(corners):
        angle = 2.0 * math.pi * k / corners
        far = radius * (1.0 - depth + depth * math.sin(waves * angle))
        vertices.append(Vertex(x + far * math.cos(angle), y + far * math.sin(angle), draw.choice((0.0, 0.0, 0.05))))
    return Ring(tuple(vertices))


@pytest.mark.parametrize("seed", SEEDS)
def test_a_region_seen_in_a_box_is_the_same_there(seed):
    draw = Random(seed)
    ground: Region[Tile] = without(
        region(waved(draw, 80, 0.0, 0.0, 500.0)),
        [region(waved(draw, 30, x, y, 40.0)) for x in (-200.0, 0.0, 200.0) for y in (-200.0, 0.0, 200.0)],
    )
    for _ in range(15):
        x, y = draw.uniform(-520, 480), draw.uniform(-520, 480)
        box = rect(x, y, x + draw.uniform(5, 120), y + draw.uniform(5, 120))
        seen = seen_in(ground, box.bounds)
        whole = intersection(box, ground)
        assert intersection(box, seen).area == pytest.approx(whole.area, abs=1e-6)
        for _ in range(10):
            place: Point[Tile] = Point(
                draw.uniform(box.bounds.min_x, box.bounds.max_x), draw.uniform(box.bounds.min_y, box.bounds.max_y)
            )
            assert contains(seen, place) == contains(ground, place)
        # What is outside of a wall is as plain as can be: the four corners round the box, and what is in it.
        assert sum(len(ring.vertices) for ring in seen.rings) <= sum(len(ring.vertices) for ring in ground.rings)


def test_what_runs_beyond_a_box_is_drawn_straight():
    ground: Region[Tile] = region(waved(Random(1), 400, 0.0, 0.0, 500.0))
    seen = seen_in(ground, Bounds(-50.0, -50.0, 50.0, 50.0))
    # Nothing of it comes into the box: a run beyond each of its four sides is left, one of them begun midway.
    assert [len(ring.vertices) in (4, 5) for ring in seen.rings] == [True]


@pytest.mark.parametrize("seed", SEEDS)
def test_many_taken_off_at_once_are_as_one_after_another(seed):
    draw = Random(seed)
    tile: Region[Tile] = rect(0.0, 0.0, 400.0, 300.0) if seed % 2 else region(waved(draw, 40, 200.0, 150.0, 180.0))
    taken: list[Region[Tile]] = []
    for _ in range(20):
        at: Point[Tile] = Point(draw.uniform(-10, 410), draw.uniform(-10, 310))
        shape = draw.choice(
            (Circle(30.0), Rect(40.0, 25.0, draw.uniform(0, 90)), Slot(50.0, 20.0, draw.uniform(0, 90)))
        )
        taken.append(region(ring_of(shape, at)))
    stepwise = tile
    for one in taken:
        stepwise = difference(stepwise, one)
    at_once = without(tile, taken)
    assert at_once.area == pytest.approx(stepwise.area, abs=1e-5)
    assert difference(at_once, stepwise).area + difference(stepwise, at_once).area < 1e-4
    assert len(at_once.rings) == len(stepwise.rings)


@pytest.mark.parametrize("seed", SEEDS)
def test_two_circles_have_the_gap_that_their_edges_have(seed):
    draw = Random(seed)
    for _ in range(50):
        one: Ring[Tile] = ring_of(Circle(draw.uniform(5, 80)), Point(draw.uniform(-60, 60), draw.uniform(-60, 60)))
        other: Ring[Tile] = ring_of(Circle(draw.uniform(5, 80)), Point(draw.uniform(-60, 60), draw.uniform(-60, 60)))
        assert gap(one, other) == pytest.approx(nearest(one, other).distance, abs=1e-9)


@pytest.mark.parametrize("seed", SEEDS)
def test_the_nearest_opening_is_that_of_a_look_at_every_one(seed):
    draw = Random(seed)
    rings: list[Ring[Tile]] = [
        ring_of(
            draw.choice((Circle(22.0), Rect(70.0, 40.0, draw.uniform(0, 90)), Slot(60.0, 20.0))),
            Point(draw.uniform(0, 900), draw.uniform(0, 900)),
        )
        for _ in range(draw.choice((1, 2, FEW + 20)))
    ]
    between = Between(rings)
    for number, ring in enumerate(rings):
        gaps = [nearest(ring, other).distance for k, other in enumerate(rings) if k != number]
        for under in (30.0, 200.0, math.inf):
            assert between.least(number, under) == pytest.approx(min([*gaps, under]), abs=1e-9)
        wanted = [k for k, other in enumerate(rings) if k != number and nearest(ring, other).distance < 80.0]
        assert between.nearer(number, 80.0) == wanted


@pytest.mark.parametrize("seed", SEEDS)
def test_the_thinnest_place_under_a_limit_is_the_thinnest_of_all(seed):
    draw = Random(seed)
    tile: Region[Tile] = difference(
        rect(0.0, 0.0, 500.0, 500.0), region(waved(draw, 60, draw.uniform(190, 310), draw.uniform(190, 310), 180.0))
    )
    tile = difference(tile, region(ring_of(Circle(30.0), Point(draw.uniform(10, 40), 250.0))))
    of_all = thinnest(tile)
    assert of_all is not None
    for under in (of_all.distance + 0.5, of_all.distance + 60.0, 1e4):
        found = thinnest(tile, under)
        assert found is not None
        assert found.distance == pytest.approx(of_all.distance, abs=1e-9)
    assert thinnest(tile, of_all.distance - 1e-3) is None


def test_an_outline_of_many_corners_that_crosses_itself_is_found():
    ring = waved(Random(3), 200, 0.0, 0.0, 100.0)
    assert self_crossing(ring) is None
    corners = [(x, y) for x, y, _ in ring.vertices]
    corners[60], corners[61] = corners[61], corners[60]
    assert self_crossing(polygon(corners)) is not None


@pytest.mark.parametrize("seed", SEEDS)
def test_what_is_told_of_a_circle_is_what_its_edges_tell(seed):
    draw = Random(seed)
    for _ in range(30):
        shape = Circle(10.0 ** draw.uniform(-3, 3))
        level: Ring[Tile] = ring_of(shape, Point(draw.uniform(-4000, 4000), draw.uniform(-4000, 4000)))
        turn: Placement[Tile, Tile] = Placement.turned(draw.choice((0.0, 90.0, draw.uniform(0, 360))), 5.0, -3.0)
        for ring in (level, level.moved(turn), level.moved(turn).reversed()):
            assert ring.disc is not None
            boxes = [edge_bounds(edge) for edge in edges(ring)]
            wanted = [f(box[k] for box in boxes) for k, f in enumerate((min, min, max, max))]
            assert ring.bounds == pytest.approx(wanted, abs=1e-9)
            found, by_edges = as_circle(ring), _circle(edges(ring))
            assert found is not None
            assert by_edges is not None
            told, told_by_edges = ((at.x, at.y, radius) for at, radius in (found, by_edges))
            assert told == pytest.approx(told_by_edges, abs=1e-9)
            assert self_crossing(ring) is None
            assert _first_crossing(edges(ring), TOUCH) is None
            tidy, plain = tidied(ring), ring_from_edges(edges(ring))
            assert tidy is not None
            assert plain is not None
            for vertex, other in zip(tidy.vertices, plain.vertices, strict=True):
                assert vertex == pytest.approx(other, abs=2e-9)


def test_two_arcs_that_are_no_circle_are_none():
    for vertices in (
        (Vertex(0.0, 0.0, 1.0), Vertex(10.0, 0.0, 0.5)),  # a D with a bulge
        (Vertex(0.0, 0.0, 1.0), Vertex(10.0, 0.0, 0.0)),  # half a circle
        (Vertex(0.0, 0.0, 0.4), Vertex(10.0, 0.0, 0.4)),  # a lens
    ):
        ring: Ring[Tile] = Ring(vertices)
        assert ring.disc is None
        assert as_circle(ring) is None


@pytest.mark.parametrize("seed", SEEDS)
def test_two_edges_meet_where_nothing_is_left_between_them(seed):
    draw = Random(seed)
    met = 0
    for _ in range(400):
        ends = [(draw.uniform(0, 10), draw.uniform(0, 10), draw.choice((0.0, 0.0, 0.3))) for _ in range(2)]
        one, other = (edge_between(x, y, draw.uniform(0, 10), draw.uniform(0, 10), bulge) for x, y, bulge in ends)
        if draw.random() < 0.2:  # end on the other one
            other = Segment(one[2], one[3], other[2], other[3])
        met += meets(one, other)
        assert meets(one, other) == (edge_gap(one, other).distance <= TOUCH)
    assert 100 < met < 300
