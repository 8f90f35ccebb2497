"""Depths and leans: sums and tangents by hand."""

from __future__ import annotations

import math

import pytest

from cutmarks.checks.leaning import Leaning, have_common_place, hole_needed
from tests.checks.jobs import hole, only, plan, said

BUILT = {"thickness": 9, "notch": 8}
"""A tile of 9 on a bed of half of the notch of 8: 13 together."""


def valve(depth: str, **keys: object) -> dict[str, object]:
    return hole(
        "valve",
        what="valve body",
        size="80 x 80",
        cover="150 x 150",
        depth=depth,
        **{"depth range": "47 to 73"},
        **keys,
    )


@pytest.mark.parametrize(
    ("depth", "rule", "level", "off"),
    [
        ("62 behind the board", "too deep", "stop", "2 too deep"),  # 62 + 4 + 9 = 75, 2 over 73
        ("33 behind the board", "too far out", "stop", "1 too far out"),  # 46, 1 under 47
        ("59 behind the board", "depth is tight", "warn", "tight"),  # 72, 1 from the end
        ("50 behind the studs to the thread", "too deep", "stop", "2½ too deep"),  # 50 + 12.5 + 13 = 75.5
        ("2 proud of the board", "too far out", "stop", "36 too far out"),  # 11
    ],
)
def test_a_valve_against_its_range(depth: str, rule: str, level: str, off: str) -> None:
    finding = only(plan(valve(depth), tile=BUILT, board=12.5), rule)
    assert finding.level == level
    assert off in finding.text


def test_a_valve_well_within_its_range_says_nothing() -> None:
    made = plan(valve("47 behind the board"), tile=BUILT)  # 60: the middle of the range
    assert not [f for f in made.findings if f.rule in ("too deep", "too far out", "depth is tight", "depth not known")]


def test_what_is_missing_for_a_depth_is_asked_for() -> None:
    assert (
        "thickness: 9, notch: 8, board: 12.5"
        in only(plan(valve("62 behind the studs"), tile=BUILT), "depth not known").text
    )
    assert said(plan(valve("62 behind the board")), "depth not known")


def socket(depth: str, **keys: object) -> dict[str, object]:
    return hole("socket", what="box", size="70 x 70", cover="86 x 86", depth=depth, **keys)


def test_a_box_against_the_face() -> None:
    # Flush with the board it lies 13 behind the tile's face, over 1/4 in; 14 proud it stands 1 out of it.
    assert only(plan(socket("flush with the board"), tile=BUILT), "box set back").value == pytest.approx(13.0)
    assert only(plan(socket("14 proud of the board"), tile=BUILT), "box stands out").value == pytest.approx(-1.0)
    made = plan(socket("10 proud of the board"), tile=BUILT)
    assert not [f for f in made.findings if f.rule in ("box set back", "box stands out")]


def test_a_screw_has_to_find_its_thread() -> None:
    # 13 behind the face: a screw of 15 has 2 for the thread, 18 are wanted (5 to bite).
    finding = only(plan(socket("flush with the board", screw=15), tile=BUILT), "screw too short")
    assert finding.value == pytest.approx(2.0)
    assert "Take 18 or longer" in finding.text
    assert not said(plan(socket("flush with the board", screw=20), tile=BUILT), "screw too short")


def test_the_hole_that_a_leaning_pipe_needs() -> None:
    # Five degrees over 80 is 7.0 (the trade's own example): a tan a. An ellipse d / cos a, and the tile's thickness.
    slope = math.tan(math.radians(5.0))
    assert 80 * slope == pytest.approx(7.0, abs=0.01)
    assert hole_needed(15.0, slope, 10.0) == pytest.approx(15.0 / math.cos(math.radians(5.0)) + 10.0 * slope)


def test_a_leaning_pipe_against_its_hole() -> None:
    # 20 in 71 through 9: 15 x sqrt(1 + 0.2817^2) + 9 x 0.2817 = 15.584 + 2.535 = 18.12, over a hole of 18.
    tile = {"thickness": 9}
    stop = only(plan(hole(lean="20 in 71 right", opening=18), tile=tile), "leaning pipe does not go through")
    assert stop.value == pytest.approx(18.119, abs=0.001)
    made = plan(hole(lean="20 in 71 right", opening=19), tile=tile)
    assert only(made, "pipe leans").level == "warn"
    assert not said(made, "leaning pipe does not go through")


def test_a_lean_within_the_reading_is_not_spoken_of() -> None:
    assert not said(plan(hole(lean="1 in 71 right")), "pipe leans")
    assert "leans 2 in 71" in only(plan(hole(lean="2 in 71 right")), "pipe leans").text


def test_two_pipes_that_splay_are_pushed_on_together() -> None:
    # Each leans out 10 in 100 over a stub of 100: 20 further apart at the end (2 L tan a); no tile thickness said.
    # A hole of 35 leaves (35 - 15 x sqrt(1.01)) / 2 = 9.96 each, 19.92 together: too little; 36 leaves 20.92.
    def pair(opening: float) -> list[dict[str, object]]:
        return [
            hole("hot", x=75, opening=opening, lean="10 in 100 left", stub=100),
            hole("cold", x=225, opening=opening, lean="10 in 100 right", stub=100),
        ]

    finding = only(plan(*pair(35)), "tile cannot be pushed on")
    assert (finding.level, finding.value) == ("stop", pytest.approx(20.0))
    assert finding.limit == pytest.approx(19.925, abs=0.001)
    assert not said(plan(*pair(36)), "tile cannot be pushed on")


def test_three_pipes_need_one_place_for_all() -> None:
    # Three wander 10 in three directions, 120 degrees apart: each two may meet with plays of 8.67 (half of 17.32), all
    # three only from 10 on, the circle round the triangle.
    def pipes(play: float) -> list[Leaning]:
        ways = [(math.cos(math.radians(a)), math.sin(math.radians(a))) for a in (90, 210, 330)]
        return [Leaning(str(n), x * 0.1, y * 0.1, play) for n, (x, y) in enumerate(ways)]

    assert have_common_place(pipes(10.0), 100.0)
    assert not have_common_place(pipes(9.9), 100.0)
    assert have_common_place(pipes(8.7)[:2], 100.0)


def test_a_pipe_read_out_from_the_wall_is_taken_back_to_the_face() -> None:
    # 7 in 80 to the right, read 80 out at 150: at the face it is at 143 (the trade's example: 7 wrong at five degrees).
    made = plan(hole(x=150, lean="7 in 80 right, read 80 out"))
    (opening,) = made.openings
    assert (opening.at.x, opening.at.y) == (pytest.approx(143.0), pytest.approx(100.0))
    assert "taken 7 back" in only(made, "pipe leans").text
    up = plan(hole(x=150, lean="8 in 80 left, 4 in 80 up, read 40 out"))
    (opening,) = up.openings
    assert (opening.at.x, opening.at.y) == (pytest.approx(154.0), pytest.approx(98.0))
