"""What is cut of a piece: paths reckoned by hand, contours told apart, and what a shop prices."""

from __future__ import annotations

import math

import pytest

from cutmarks.cutting.paths import cutting_of, cuttings
from cutmarks.geometry.frames import Tile
from cutmarks.geometry.regions import Region, region
from cutmarks.geometry.rings import Ring, Vertex, polygon
from tests.writers.plans import boxed, corner, plain, raking

MICRON = 1e-3
STEP = 1e-6
RUN_OUT = 5.0


def test_an_open_path_runs_straight_on_past_the_factory_edges() -> None:
    cutting = cutting_of(corner().outline, 298.0, 598.0, RUN_OUT)
    (path,) = cutting.open
    # About (294, 595) the arc starts 4 right and 24.678 below, ends 24.819 left and 3 above (W3). Its tangents there
    # rise 4 in 24.678 towards the right, and run 3 in 24.819 to the right on the way up: 5 mm past each edge.
    assert path.vertices[0][:2] == pytest.approx((303.0, 570.322 + 5 * 4 / 24.678), abs=MICRON)
    assert path.vertices[1][:2] == pytest.approx((298.0, 570.322), abs=MICRON)
    assert path.vertices[2][:2] == pytest.approx((269.181, 598.0), abs=MICRON)
    assert path.vertices[3][:2] == pytest.approx((269.181 + 5 * 3 / 24.819, 603.0), abs=MICRON)
    assert [vertex.bulge != 0.0 for vertex in path.vertices] == [False, True, False, False]
    assert cutting.closed == ()


def test_a_trimmed_side_is_one_straight_path() -> None:
    piece = raking()
    cutting = cutting_of(piece.outline, 448.0, 448.0, RUN_OUT)
    (path,) = cutting.open
    # 116 at the bottom, 113.76 at the top, 448 high: 0.025 in 5 mm.
    assert [vertex[:2] for vertex in path.vertices] == [
        pytest.approx((116.025, -5.0), abs=STEP),
        pytest.approx((116.0, 0.0), abs=STEP),
        pytest.approx((113.76, 448.0), abs=STEP),
        pytest.approx((113.735, 453.0), abs=STEP),
    ]
    assert path.length == pytest.approx((448.0**2 + 2.24**2) ** 0.5, abs=STEP)
    (hole,) = cutting.closed
    assert hole.ring.bounds.width == pytest.approx(21.0, abs=STEP)


def test_a_flat_path_runs_on_no_further_than_twenty() -> None:
    # From (0, 90) to (100, 100) on a tile 200 x 100: it leaves the top edge rising 1 in 10, 5 mm past would be 50 on.
    outline: Region[Tile] = region(polygon([(0, 0), (200, 0), (200, 100), (100, 100), (0, 90)]))
    (path,) = cutting_of(outline, 200.0, 100.0, RUN_OUT).open
    length = (10.0**2 + 1.0) ** 0.5
    assert path.vertices[0][:2] == pytest.approx((100 + 20 * 10 / length, 100 + 20 / length), abs=STEP)
    assert path.vertices[-1][:2] == pytest.approx((-5.0, 89.5), abs=STEP)


def test_a_path_that_grazes_the_factory_edge_does_not_follow_it() -> None:
    # A quarter circle of 20 about (20, 80) ends level with the top edge: it may not run along that edge.
    ring: Ring[Tile] = Ring(
        (Vertex(0, 0), Vertex(200, 0), Vertex(200, 100), Vertex(20, 100, 2**0.5 - 1), Vertex(0, 80))
    )
    (path,) = cutting_of(region(ring), 200.0, 100.0, RUN_OUT).open
    assert path.vertices[0][:2] == (20, 100)
    assert path.vertices[-1][:2] == (0, 80)


def test_a_piece_with_no_factory_edge_left_is_cut_all_round() -> None:
    outline: Region[Tile] = region(polygon([(10, 10), (90, 10), (90, 40), (10, 40)]))
    cutting = cutting_of(outline, 100.0, 50.0, RUN_OUT)
    assert (len(cutting.closed), cutting.open) == (1, ())
    assert cutting.length == pytest.approx(220.0, abs=STEP)


def test_nothing_is_cut_of_a_whole_tile() -> None:
    cutting = cutting_of(region(polygon([(0, 0), (100, 0), (100, 50), (0, 50)])), 100.0, 50.0, RUN_OUT)
    assert (cutting.closed, cutting.open, cutting.length) == ((), (), 0.0)


def test_contours_are_told_apart_and_a_whole_round_hole_is_known() -> None:
    holed, box, bitten = (one for one in cuttings([plain(), boxed(), corner()], RUN_OUT).values())
    # W1: a hole of 35 about (74.5, 112.5). A box and a bitten corner are no circles, nor is any outline.
    outline, hole = holed.contours
    assert (outline.is_inner, outline.all_round, outline.circle) == (False, False, None)
    assert (hole.is_inner, hole.all_round) == (True, True)
    assert hole.circle is not None
    centre, radius = hole.circle
    assert (centre.x, centre.y, radius) == pytest.approx((74.5, 112.5, 17.5))
    assert [path.circle for path in (*box.contours, *bitten.contours)] == [None, None, None]
    assert [path.is_inner for path in box.contours] == [False, True]


def test_what_is_cut_is_as_long_as_a_shop_prices_it() -> None:
    found = cuttings([plain(), boxed(), raking()], RUN_OUT)
    # A circle of 35; a box of 76 x 78; a rake of 2.24 in 448 and a circle of 21.
    assert found["splash 3-7"].length == pytest.approx(35 * math.pi)
    assert found["upper 5-2"].length == pytest.approx(2 * (76 + 78))
    assert found["field 1-3"].length == pytest.approx(math.hypot(448, 2.24) + 21 * math.pi)


def test_the_bounds_of_what_is_cut_hold_the_run_out_and_no_factory_edge() -> None:
    found = cuttings([plain(), raking()], RUN_OUT)
    # W1's hole alone: 57 to 92 by 95 to 130. W5's tile is cut from 5 below to 5 above, its hole lies left of that.
    assert tuple(found["splash 3-7"].bounds) == pytest.approx((57.0, 95.0, 92.0, 130.0))
    assert tuple(found["field 1-3"].bounds) == pytest.approx((59 - 10.5, -5.0, 116.025, 453.0), abs=STEP)
    assert tuple(found["field 1-3"].finished) == pytest.approx((0.0, 0.0, 116.0, 448.0))
