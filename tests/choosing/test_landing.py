"""How holes land, by hand: a tile 300 x 200, joint 3, corner of the first at the crossing of the lines."""

from __future__ import annotations

import math

import pytest

from cutmarks.checks.starts import wanted
from cutmarks.choosing.landing import HoleOn, Landing, landing
from cutmarks.geometry.edges import Bounds
from cutmarks.geometry.frames import Placement
from cutmarks.geometry.regions import Region
from cutmarks.limits import LIMITS
from cutmarks.tiling.layout import Layout
from cutmarks.tiling.model import Grid, TileKind

GRID = Grid(300.0, 200.0, 3.0, 0.0, False, 0.0, Placement())
HALF = Grid(300.0, 200.0, 3.0, 151.5, False, 0.0, Placement())
TILE = TileKind("t", 300.0, 200.0, True)
WANT = wanted(Layout("field", "wall", TILE, GRID, Region(()), Region(()), (0.0, 0.0)), "wall", LIMITS)


def lands(x: float, y: float, d: float = 35.0, grid: Grid = GRID) -> Landing:
    """A round hole about (x, y)."""
    r = d / 2
    return landing(HoleOn("hot", Bounds(x - r, y - r, x + r, y + r), r), grid, 0.0, 0.0, WANT)


def test_a_hole_inside_a_tile_has_its_bridge() -> None:
    # 100 from the left edge less 17.5.
    assert lands(100.0, 100.0) == ("in a tile", 1, None, pytest.approx(82.5))


def test_a_hole_dead_on_a_joint_is_no_fault() -> None:
    assert lands(301.5, 100.0).land == "on a joint"
    assert lands(301.5, 201.5).land == "on a crossing"


def test_a_hole_that_takes_little_of_the_next_tile_just_bites_it() -> None:
    # Its right side at 307: 4 into the tile from 303 on, where a quarter of 35 is fair, 8.75.
    found = lands(289.5, 100.0)
    assert (found.land, found.bite) == ("just bites", pytest.approx(4.0))
    assert lands(289.5, 100.0).is_bad


def test_a_thin_bridge_is_told_from_one_that_spoils_the_tile() -> None:
    # A wall tile: worth a look under 30, stops under 15 (and no more than a quarter and an eighth of its side, 50, 25).
    assert lands(20.0 + 17.5, 100.0).land == "thin"
    assert lands(10.0 + 17.5, 100.0).land == "stops"


def test_a_circle_over_a_crossing_may_take_next_to_nothing_of_the_last_tile() -> None:
    # Middle 10 left of and 10 below the corner at (303, 203) of the fourth tile: 14.14 away, of a radius of 17.5. It
    # goes sqrt(17.5^2 - 10^2) - 10 = 4.36 into it, both ways.
    found = lands(293.0, 193.0)
    assert found.land == "just bites"
    assert found.tiles == 4
    assert found.bite == pytest.approx(math.sqrt(17.5**2 - 100.0) - 10.0)
    # 13 away both ways it is 18.4 from that corner, and misses the tile.
    assert lands(290.0, 190.0).tiles == 3


def test_a_course_that_is_moved_has_its_joint_elsewhere() -> None:
    # The second course begins 151.5 further: at 453 and on stands its joint, from 451.5 to 454.5.
    assert lands(453.0, 300.0, grid=HALF).land == "on a joint"
    assert lands(453.0, 100.0, grid=HALF).land == "in a tile"
