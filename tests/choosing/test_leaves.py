"""What a start leaves: the window wall by hand, and hand arithmetic on simpler ones."""

from __future__ import annotations

import pytest

from cutmarks.choosing.leaves import Left
from cutmarks.sides import Side
from tests.choosing.scenes import WINDOW_WALL, question

WALL = """
job: wall
tiles: {t: {size: 300 x 200, measured: yes}}
surfaces:
  - name: wall
    kind: wall
    lines: {V: "plumb, left end", B: "level, floor"}
    gaps: {left: 0, right: 0, top: 0, bottom: 0}
    edges:
      left: {at: on V, true: plumb, still to come: 0}
      right: {at: %s, still to come: 0}
      bottom: {at: on B, true: level, what: worktop}
      top: {at: 1000 above B, true: level}
    areas: [{name: field, tile: t, joint: 3, bond: %s}]
"""


def left(text: str, x: float, y: float) -> dict[tuple[str, Side], Left]:
    asked = question(text)
    return {(end.thing or end.kind, end.side): one for end, one in asked.figures(x, y).left.items()}


def test_the_window_wall_as_it_was_worked_out_by_hand() -> None:
    # Start middle on V, sits on B: the tile from -198.5. 1300 - 3 - 1001.5 = 295.5; 1380 - 3 - 1001.5 = 375.5, and 6.5
    # less at 1480: the top course ends at about 1471, so 369 and 9 x 6.5 / 1480 = 0.04 more; 598.5 - 423 = 175.5;
    # 1474 - 1250 - 3 = 221 at 1380, and 9.5 x 6 / 2680 = 0.02 more where the tile ends; 220 - 3 = 217;
    # 1247 - (1115 + 3) = 129; 915 - 753 - 5 = 157.
    found = left(WINDOW_WALL % "", -198.5, 0.0)
    assert found["edge", Side.LEFT].least == pytest.approx(295.5)
    assert found["edge", Side.RIGHT].least == pytest.approx(369.04, abs=0.01)
    assert found["window", Side.LEFT].least == found["window", Side.RIGHT].least == pytest.approx(175.5)
    assert found["window", Side.BOTTOM].least == pytest.approx(217.0)
    assert found["window", Side.TOP].least == pytest.approx(129.0)
    assert found["edge", Side.TOP].least == pytest.approx(221.02, abs=0.01)
    assert found["edge", Side.BOTTOM].least == pytest.approx(157.0, abs=0.02)


def test_a_plumb_end_leaves_what_is_left_of_the_last_tile() -> None:
    # 1000 from V: three tiles and joints are 909, and 91 are left; from 100 on the left piece is 97 (100 less a joint).
    found = left(WALL % ("{at: 1000 right of V, true: plumb}".strip("{}").removeprefix("at: "), "stack"), 0.0, 0.0)
    assert not found["edge", Side.LEFT].cut
    assert found["edge", Side.RIGHT].least == pytest.approx(91.0)
    moved = left(WALL % ("1000 right of V, true: plumb", "stack"), 100.0, 0.0)
    assert moved["edge", Side.LEFT].least == pytest.approx(97.0)
    # 100, 403, 706: 294 of the last tile.
    assert moved["edge", Side.RIGHT].least == pytest.approx(294.0)


def test_a_bond_ends_in_two_pieces_in_turn() -> None:
    # Half of 303 is 151.5: the odd courses begin with 148.5, and their last tile at 757.5, with 242.5 left.
    found = left(WALL % ("1000 right of V, true: plumb", "half"), 0.0, 0.0)
    assert (found["edge", Side.RIGHT].least, found["edge", Side.RIGHT].most) == pytest.approx((91.0, 242.5))
    assert (found["edge", Side.LEFT].least, found["edge", Side.LEFT].most) == pytest.approx((148.5, 300.0))


def test_an_end_that_leaves_its_tile_leaves_a_point() -> None:
    # It leans from 900 to 930 right of V: 909, where the fourth tile begins, lies at 300 above B, in the second course.
    found = left(WALL % ("[900 right of V at B, 930 right of V at 1000 above B]", "stack"), 0.0, 0.0)
    assert found["edge", Side.RIGHT].least == 0.0


def test_what_is_less_than_a_piece_is_joint_and_the_tile_before_it_is_whole() -> None:
    # 909.5: half a millimetre past the joint is no piece; the last tile ends 3.5 short of the edge.
    found = left(WALL % ("909.5 right of V, true: plumb", "stack"), 0.0, 0.0)
    assert not found["edge", Side.RIGHT].cut
    assert found["edge", Side.RIGHT].short == pytest.approx(3.5)


def test_pieces_are_counted_as_they_are_laid() -> None:
    # 1000 x 1000, tiles 300 x 200, joint 3: four columns (91 of the last), five courses (1000 - 812 = 188 of the last).
    # Cut are the last column, 5, and the last course, 4, less the corner that both have: 8; 12 are whole.
    asked = question(WALL % ("1000 right of V, true: plumb", "stack"))
    counted = asked.figures(0.0, 0.0).counted
    assert (counted.whole, counted.cut, counted.paired, counted.tiles) == (12, 8, 0, 20)


def test_one_tile_serves_both_ends_of_a_course_where_both_fit_in_it() -> None:
    # From 100: 97 and 294 are more than 300 together. From 200: 197 at the left, 203 to 503, 506 to 806, 809 to 1000 is
    # 191: 388 together. From 250, 247 and 1000 - 856 = 144. From 5, 2 at the left and 1000 - 914 = 86: both fit in 300
    # with a kerf of 2.2, in each of the five courses, of which the top one is cut too.
    asked = question(WALL % ("1000 right of V, true: plumb", "stack"))
    assert [asked.figures(x, 0.0).counted.paired for x in (100.0, 200.0, 250.0, 5.0)] == [0, 0, 0, 5]


def test_two_strips_beside_a_window_that_are_less_than_a_piece_each_are_none() -> None:
    # The second tile of the second course is 303 to 603; the window leaves half a millimetre of it at either side, and
    # bites 50 off the tile under it and 44 off the one over it. Of the 12 whole ones three go: one altogether.
    window = "    windows: [{name: w, across: 303.5 to 602.5 right of V, up: 150 to 450 above B, gap: 0}]\n"
    counted = question(WALL % ("1000 right of V, true: plumb", "stack") + window).figures(0.0, 0.0).counted
    assert (counted.whole, counted.cut) == (9, 10)


def test_two_strips_over_and_under_a_window_that_are_less_than_a_piece_each_are_none() -> None:
    # The same tile is 203 to 403 high; the window leaves 0.4 of it under itself and 0.4 over, and bites 50 off the tile
    # left of it and 44 off the one right of it.
    window = "    windows: [{name: w, across: 250 to 650 right of V, up: 203.4 to 402.6 above B, gap: 0}]\n"
    counted = question(WALL % ("1000 right of V, true: plumb", "stack") + window).figures(0.0, 0.0).counted
    assert (counted.whole, counted.cut) == (9, 10)
