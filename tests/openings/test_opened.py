"""A hole that is opened begins with a core, whose middle and diameter are in the plan; the rest is sawn to it."""

from __future__ import annotations

import json
import math
from typing import Any

import pytest

from cutmarks.openings.model import Cut
from cutmarks.plan import Plan
from cutmarks.saying.behind import from_behind
from cutmarks.writers.plan_json import to_json
from tests.checks.jobs import hole, plan

# The first tile lies from 1.5 to 298.5 right of V and from 0 to 197 above B.


def cut_of(made: Plan, name: str) -> Cut:
    (piece,) = [one for one in made.pieces if one.name == name]
    (cut,) = piece.cuts
    return cut


def middles(cut: Cut) -> list[tuple[float, float]]:
    return [(round(at.x, 6), round(at.y, 6)) for at in cut.drill_at]


def opened(slot: str, **keys: Any) -> Plan:
    """A 15 pipe 30 from the left edge of its tile and 100 up, drilled with a core of 35."""
    return plan(hole(x=31.5, y=100.0, opening=35, slot=slot, **keys))


def names(made: Plan) -> list[str]:
    return [piece.name for piece in made.pieces if piece.cuts]


def test_a_u_cut_has_its_core_at_the_pipe() -> None:
    made = opened("towards the left")
    cut = cut_of(made, *names(made))
    assert cut.opening.core is None
    assert cut.opening.drilled is not None
    assert (cut.opening.drilled.core, middles(cut)) == (35.0, [(30.0, 100.0)])
    (json_cut,) = [cut for piece in json.loads(to_json(made, ()))["pieces"] for cut in piece["cuts"]]
    assert json_cut["drilled"] == {"core": 35.0, "at": [[30.0, 100.0]]}


def test_a_slot_to_slide_along_has_one_at_each_end() -> None:
    # Slid 12 to the right: the pipe first stands 12 further right on the tile.
    made = opened("12 towards the right")
    assert middles(cut_of(made, *names(made))) == [(30.0, 100.0), (42.0, 100.0)]


def test_over_a_corner_it_is_the_same_core() -> None:
    made = plan(hole(x=31.5, y=25.0, opening=35, slot="towards the left and the bottom"))
    assert middles(cut_of(made, *names(made))) == [(30.0, 25.0)]


@pytest.mark.parametrize(
    "keys",
    [
        {"opening": 35},
        # No core is of that size (the usual series), and a box has none.
        {"opening": 500, "slot": "towards the left"},
        {"what": "box", "size": "40 x 40", "opening": "44 x 44", "slot": "towards the left"},
    ],
)
def test_a_closed_hole_and_one_without_a_core_have_none(keys: dict[str, Any]) -> None:
    made = plan(hole(x=31.5, y=100.0, **keys))
    for piece in made.pieces:
        for cut in piece.cuts:
            assert cut.opening.drilled is None
            assert not cut.drill_at
    assert all(cut["drilled"] is None for piece in json.loads(to_json(made, ()))["pieces"] for cut in piece["cuts"])


def test_no_core_is_started_on_a_tile_that_its_middle_is_not_on() -> None:
    # The middle 5 right of the tile's left edge: the next tile on the left has a share of it and no middle.
    made = plan(hole(x=6.5, y=100.0, opening=35, slot="towards the bottom"))
    by_piece = {piece.name: middles(cut) for piece in made.pieces for cut in piece.cuts}
    assert sorted(by_piece.values()) == [[], [(5.0, 100.0)]]


def test_it_is_mirrored_with_the_rest_on_a_back_template() -> None:
    made = opened("towards the left")
    (piece,) = [one for one in made.pieces if one.cuts]
    # 297 - 30.
    assert middles(from_behind(piece).cuts[0]) == [(267.0, 100.0)]


def you_may_be(d: float, **keys: Any) -> float | None:
    """Of a 15 pipe in a core of 35, `d` from the left edge, opened to the left unless said otherwise."""
    made = plan(hole(**{"x": 1.5 + d, "opening": 35, "slot": "towards the left", **keys}))
    (opening,) = made.openings
    return opening.you_may_be


@pytest.mark.parametrize(
    ("d", "keys", "expected"),
    [
        # The corner of the mouth with its lap of 3 lies 17.5 + 3 up and d across; a cover of 65 reaches 32.5.
        (22.0, {}, 32.5 - math.hypot(22.0, 20.5)),
        (25.0, {}, 32.5 - math.hypot(25.0, 20.5)),
        (36.0, {}, 0.0),
        # Close to the edge it is the round end: (35 - 15) / 2 round the pipe, 32.5 - 17.5 - 3 = 12 to the rim.
        (5.0, {}, 10.0),
        # A plate of 64 x 64 with its lap of 2: 32 - 25 to the edge, 32 - 19.5 beside.
        (25.0, {"cover": "64 x 64"}, 7.0),
        (22.0, {"cover": "none"}, 10.0),
        # Over a corner, 24 from both edges: the tile's own corner is farthest.
        (24.0, {"y": 24.0, "cover": 70, "slot": "towards the left and the bottom"}, 35.0 - math.hypot(24.0, 24.0)),
        # 20 from both: the sides of the notch with their lap are farther than the corner, sqrt(800) = 28.28.
        (20.0, {"y": 20.0, "cover": 70, "slot": "towards the left and the bottom"}, 35.0 - math.hypot(20.0, 20.5)),
        # The far end of a slot with its lap: 10 + 17.5 + 3.
        (150.0, {"slot": "10 towards the left"}, 2.0),
        (150.0, {"slot": "30 towards the left"}, 0.0),
    ],
)
def test_how_far_it_may_be_off(d: float, keys: dict[str, Any], expected: float) -> None:
    assert you_may_be(d, **keys) == pytest.approx(expected)


def test_the_lap_that_the_job_sets_counts() -> None:
    made = plan(hole(x=23.5, opening=35, slot="towards the left"), limits={"lap": "1"})
    assert made.openings[0].you_may_be == pytest.approx(32.5 - math.hypot(22.0, 18.5))
