"""Outlines made wider and narrower."""

from __future__ import annotations

import math

import pytest

from cutmarks.errors import GeometryError
from cutmarks.geometry.distance import gap
from cutmarks.geometry.frames import Point, Tile
from cutmarks.geometry.offset import grown, shrunk
from cutmarks.geometry.rings import Ring, Vertex, as_circle, polygon
from cutmarks.geometry.shapes import Rect, Slot
from tests.geometry.helpers import assert_vertices, put, rect

SQUARE = rect(0.0, 0.0, 100.0, 100.0).rings[0]


def test_a_window_with_its_gap() -> None:
    # Worked example W6: 100 to 500 and 350 to 850 with a gap of 3.
    window = rect(100.0, 350.0, 500.0, 850.0).rings[0]
    assert_vertices(grown(window, 3.0), [(97, 347), (503, 347), (503, 853), (97, 853)])
    clockwise = grown(window.reversed(), 3.0)
    assert clockwise.area == pytest.approx(-406.0 * 506.0)
    assert clockwise.bounds == (97, 347, 503, 853)


def test_a_distance_for_each_edge() -> None:
    # Floor 5, right 3, ceiling 2, left 1: each side by its own.
    assert_vertices(shrunk(SQUARE, [5.0, 3.0, 2.0, 1.0]), [(1, 5), (97, 5), (97, 98), (1, 98)])


def test_a_side_out_of_true_keeps_its_rake() -> None:
    # Worked example W5's corner, 1020 at 0 and 1011 at 1800; at right angles a gap of 3 is 3 sqrt(1 + 1/200^2) level.
    wall: Ring[Tile] = polygon([(0, 0), (1020, 0), (1011, 1800), (0, 1800)])
    clear = shrunk(wall, [0.0, 3.0, 0.0, 0.0])
    level = 3.0 * math.sqrt(1.0 + 1.0 / 200.0**2)
    assert_vertices(clear, [(0, 0), (1020 - level, 0), (1011 - level, 1800), (0, 1800)])


def test_a_gap_on_a_part_of_an_edge_makes_a_step() -> None:
    wall: Ring[Tile] = polygon([(0, 0), (60, 0), (100, 0), (100, 100), (0, 100)])
    assert_vertices(
        shrunk(wall, [5.0, 2.0, 0.0, 0.0, 0.0]),
        [(0, 5), (60, 5), (60, 2), (100, 2), (100, 100), (0, 100)],
    )


def test_an_inside_corner_moves_with_its_sides() -> None:
    corner: Ring[Tile] = polygon([(0, 0), (100, 0), (100, 100), (60, 100), (60, 40), (0, 40)])
    assert_vertices(shrunk(corner, 5.0), [(5, 5), (95, 5), (95, 95), (65, 95), (65, 35), (5, 35)])


def test_round_corners_and_slots_change_their_radius() -> None:
    rounded = put(Rect(100.0, 80.0, r=10.0), 0.0, 0.0).rings[0]
    assert grown(rounded, 3.0).area == pytest.approx(106.0 * 86.0 - (4.0 - math.pi) * 13.0**2)
    assert shrunk(rounded, 4.0).area == pytest.approx(92.0 * 72.0 - (4.0 - math.pi) * 6.0**2)
    # Inward by the radius and more, the corners are used up.
    assert_vertices(shrunk(rounded, 15.0), [(-35, -25), (35, -25), (35, 25), (-35, 25)])
    slot = put(Slot(60.0, 20.0), 0.0, 0.0).rings[0]
    assert grown(slot, 5.0).area == pytest.approx(40.0 * 30.0 + math.pi * 15.0**2)


def test_an_arched_window() -> None:
    # 60 wide, upright to 80, a half circle of 30 on top: with 5 all round the arch has radius 35.
    arch: Ring[Tile] = Ring((Vertex(0, 0), Vertex(60, 0), Vertex(60, 80, 1.0), Vertex(0, 80)))
    wider = grown(arch, 5.0)
    assert wider.area == pytest.approx(70.0 * 85.0 + math.pi * 35.0**2 / 2.0)
    assert gap(arch, wider) == pytest.approx(5.0)


def test_a_flat_arch_meets_its_sides() -> None:
    # Arc of radius 50 about (30, 40), from (60, 80) over (30, 90) to (0, 80); grown by 5: radius 55 at x = 65 and -5.
    sweep = 2.0 * math.asin(0.6)
    arch: Ring[Tile] = Ring((Vertex(0, 0), Vertex(60, 0), Vertex(60, 80, math.tan(sweep / 4.0)), Vertex(0, 80)))
    height = 40.0 + math.sqrt(55.0**2 - 35.0**2)
    assert [(v.x, v.y) for v in grown(arch, 5.0).vertices][2:] == [
        pytest.approx((65.0, height)),
        pytest.approx((-5.0, height)),
    ]


def test_a_circle_grows_its_radius() -> None:
    circle: Ring[Tile] = Ring((Vertex(75.0, 100.0, 1.0), Vertex(125.0, 100.0, 1.0)))
    assert as_circle(grown(circle, 3.0)) == (Point(100.0, 100.0), 28.0)
    assert as_circle(shrunk(circle, 3.0)) == (Point(100.0, 100.0), 22.0)
    with pytest.raises(GeometryError, match=r"^the gaps leave nothing of an outline"):
        shrunk(circle, 25.0)


def test_a_short_edge_that_is_used_up_is_left_out() -> None:
    # A corner cut off at 45 degrees, 2 by 2: inward by 10 the sides meet before it (its offset would run backward).
    snub: Ring[Tile] = polygon([(0, 0), (100, 0), (100, 98), (98, 100), (0, 100)])
    assert_vertices(shrunk(snub, 10.0), [(10, 10), (90, 10), (90, 90), (10, 90)])


@pytest.mark.parametrize("by", [50.0, 60.0, 1000.0])
def test_nothing_left_is_refused(by: float) -> None:
    with pytest.raises(GeometryError) as refused:
        shrunk(SQUARE, by)
    assert str(refused.value) == (
        "the gaps leave nothing of an outline; they must be smaller than half of its width and height"
    )


def test_what_would_cross_itself_is_refused() -> None:
    # Two rooms of 100 joined by a passage 8 wide: gaps of 5 close the passage.
    left_room = [(100, 54), (100, 100), (0, 100), (0, 0), (100, 0), (100, 46)]
    right_room = [(150, 46), (150, 0), (250, 0), (250, 100), (150, 100), (150, 54)]
    neck: Ring[Tile] = polygon([*left_room, *right_room])
    with pytest.raises(GeometryError, match=r"^with its gaps an outline would cross itself; make the gaps smaller"):
        shrunk(neck, 5.0)


def test_gaps_must_fit_the_edges() -> None:
    with pytest.raises(GeometryError, match=r"^an outline of 4 edges has 3 gaps; give one for each edge$"):
        shrunk(SQUARE, [1.0, 2.0, 3.0])
    with pytest.raises(GeometryError, match=r"^a gap is not an ordinary number; give each in mm$"):
        shrunk(SQUARE, math.nan)
