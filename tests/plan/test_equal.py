"""`equal` in a start: the cuts at both ends alike, worked out from the edges as they were read."""

from __future__ import annotations

import pytest

from cutmarks.errors import JobError
from cutmarks.job import parse_job
from cutmarks.plan import Plan, make_plan

WALL = """
job: wall
tiles: {{t: {{size: 300 x 200, measured: yes}}}}
surfaces:
  - name: wall
    kind: wall
    lines: {{V: "plumb, a line on the wall", B: "level, batten"}}
    gaps: {{left: 0, right: 0, top: 0, bottom: 0}}
    edges:
      {left}
      right: {{at: 1700 right of V, true: plumb, still to come: 0}}
      bottom: {{at: on B, true: level, what: worktop}}
      top: {{at: 1000 above B, true: level}}
    areas: [{{name: field, tile: t, joint: 3, start: {start}{turn}}}]
"""
LEFT = "left: {at: 700 left of V, true: plumb, still to come: 0}"


def planned(start: str, left: str = LEFT, turn: str = "") -> Plan:
    return make_plan(parse_job(WALL.format(start=start, left=left, turn=turn)))


def test_the_larger_of_the_two_equal_cuts_is_taken() -> None:
    # 2400, 300, 3: with 6 whole tiles (2400 - 1800 - 21) / 2 = 289.5 at each end, with 7 138. The middle is 500 right
    # of V; 6 is even, so that a joint lies on it. Up 1000, 200, 3: k = 3 has (1000 - 600 - 12) / 2 = 194, k = 4 92.5:
    # with a tile on the middle, 500 above B, from 400 on.
    plan = planned("{across: equal, up: equal}")
    assert "wall, field: equal across is joint on 500 right of V, and leaves 289½ and 289½." in plan.assumed
    assert "wall, field: equal up is sits on 400 above B, and leaves 194 and 194." in plan.assumed
    corner = min(plan.pieces, key=lambda piece: (piece.piece.place[1], piece.piece.place[0])).piece.outline.bounds
    assert (corner.width, corner.height) == (pytest.approx(289.5), pytest.approx(194.0))


def test_it_is_said_of_one_axis_alone_too() -> None:
    plan = planned("{across: equal cuts, up: sits on B}")
    assert [one for one in plan.assumed if "equal" in one] == [
        "wall, field: equal across is joint on 500 right of V, and leaves 289½ and 289½."
    ]


def test_the_fingerprint_is_that_of_what_was_written() -> None:
    # The edge is read again, 2 further out: the job is another one, and the start with it.
    before, after = (
        planned("{across: equal, up: equal}"),
        planned("{across: equal, up: equal}", LEFT.replace("700 left", "702 left")),
    )
    assert before.fingerprint != after.fingerprint
    assert "wall, field: equal across is joint on 499 right of V, and leaves 290½ and 290½." in after.assumed


def test_without_an_edge_it_is_asked_for() -> None:
    with pytest.raises(JobError, match=r"equal needs what ends it on both sides, .* read its left and its right edge"):
        planned("{across: equal, up: sits on B}", left="")


def test_a_turned_area_has_no_two_ends() -> None:
    with pytest.raises(
        JobError, match=r"It is turned, and has no two ends to be equal: write start: middle on V and B\."
    ):
        planned("{across: equal, up: equal}", turn=", turn: 45")
