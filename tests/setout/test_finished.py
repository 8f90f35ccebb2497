"""Where a wall ends once floor and next wall are on, by hand."""

from __future__ import annotations

import pytest

from cutmarks.geometry.frames import Point, Surface
from cutmarks.job import build_job
from cutmarks.setout.finished import finished_ground, from_finished
from cutmarks.setout.model import SetOut
from cutmarks.setout.surface import set_out
from cutmarks.sides import Side


def wall(**edges: object) -> SetOut:
    surface = {
        "name": "wall",
        "kind": "wall",
        "lines": {"V": "plumb, middle", "B": "level, the metre line"},
        "edges": edges,
    }
    job = build_job({"job": "finished", "surfaces": [surface]})
    return set_out(job.surfaces[0], job, job.faults())


LEFT = {"at": "900 left of V", "true": "plumb", "what": "next wall", "still to come": "27.5"}
FLOOR = {"at": "1000 below B", "true": "level", "what": "floor", "still to come": "62"}


def at(x: float, y: float) -> Point[Surface]:
    return Point(x, y)


def test_what_is_still_to_come_is_taken_off_and_the_gap_is_not() -> None:
    setout = wall(left={**LEFT, "gap": 3}, bottom={**FLOOR, "gap": 5})
    # 900 - 27.5 - 75 = 797.5; 1000 - 62 - 450 = 488; the gap is tile's, and a valve knows none.
    assert tuple(from_finished(setout, at(-75, -450))) == (797.5, None, 488.0, None)
    assert finished_ground(setout).bounds.min_x == pytest.approx(-872.5)
    assert finished_ground(setout).bounds.min_y == pytest.approx(-938)


def test_an_edge_that_rakes_keeps_its_rake() -> None:
    # 900 at B and 912 at 1200 above it: 906 halfway up, less 27.5 and the 75 to the fitting: 803.5.
    raking = {"at": ["900 left of V at B", "912 left of V at 1200 above B"], "what": "next wall", "still to come": 27.5}
    assert from_finished(wall(left=raking), at(-75, 600))[Side.LEFT] == pytest.approx(803.5)


def test_an_outer_corner_comes_out_by_the_return_and_a_trim_takes_nothing() -> None:
    # Bed and tile of the return 14: the finished corner is 914 left of V, and 839 from the fitting.
    corner = {"at": "900 left of V", "true": "plumb", "lining": 14, "corner": "trim 2.5"}
    assert from_finished(wall(left=corner), at(-75, 0))[Side.LEFT] == pytest.approx(839)
    assert finished_ground(wall(left=corner)).bounds.min_x == pytest.approx(-914)
    trimmed = {"at": "900 left of V", "true": "plumb", "trim": 10}
    assert from_finished(wall(left=trimmed), at(-75, 0))[Side.LEFT] == pytest.approx(825)


def test_what_is_not_said_is_not_known_and_what_lies_past_is_negative() -> None:
    setout = wall(left={**LEFT, "still to come": "?"}, bottom=FLOOR)
    assert from_finished(setout, at(0, 0))[Side.LEFT] is None
    # 950 below B lies 12 under a finished floor that is 938 below it.
    assert from_finished(setout, at(0, -950))[Side.BOTTOM] == pytest.approx(-12)
    assert finished_ground(setout).bounds.min_x == pytest.approx(-900)  # as measured
