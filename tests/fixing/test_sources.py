"""What a piece is read and marked from, each way; figures by hand."""

from __future__ import annotations

from typing import Any

import pytest

from cutmarks.job import parse_job
from cutmarks.openings.model import Cut
from cutmarks.plan import Plan, make_plan
from cutmarks.saying.edges import read_from
from tests.properties.wall import BOX, plan_of

PIPE = {"name": "pipe", "what": "15 copper", "cover": "60", "end": "comes off"}


def near(value: float) -> Any:
    return pytest.approx(value, abs=1e-6)


def cut_in(plan: Plan, name: str, hole: str = "pipe") -> Cut:
    return next(cut for piece in plan.pieces if piece.name == name for cut in piece.cuts if cut.opening.name == hole)


def read(cut: Cut) -> dict[str, tuple[str, str, float, float]]:
    """By axis what is read now: kind, name, near and far."""
    return {
        check.side.axis: (check.source.kind, check.source.name, check.near, check.far)
        for check in reversed(cut.wall_checks)
        if check.fixed
    }


def pipe(across: str, up: str) -> dict[str, Any]:
    return {**PIPE, "across": across, "up": up}


PUMP_ROOM = """
    job: pump room
    tiles: {pale: {size: 246 x 246, measured: yes}}
    surfaces:
      - name: tap wall
        kind: wall
        lines: {V: "plumb, middle of the sink", B: "level, top of the batten"}
        areas: [{name: a, tile: pale, joint: 3, start: {across: joint on V, up: sits on B}}]
        holes:
          - {name: hot, what: 15 copper, across: 64 to 80 left of V, up: 92 to 107 above B, cover: 60, end: comes off}
          - {name: cold, what: 15 copper, across: 64 to 80 right of V, up: 92 to 107 above B, cover: 60, end: comes off}
"""


def test_of_two_tiles_at_v_one_is_read_from_v_and_the_other_from_that_one() -> None:
    plan = make_plan(parse_job(PUMP_ROOM))
    cold, hot = cut_in(plan, "a 1-R1", "cold"), cut_in(plan, "a 1-L1", "hot")
    assert read(cold) == {"across": ("line", "V", near(64), near(80)), "up": ("support", "B", near(92), near(107))}
    # The tile right of V ends 1.5 right of it: 64 + 1.5 and 80 + 1.5.
    assert read(hot) == {
        "across": ("piece", "a 1-R1", near(65.5), near(81.5)),
        "up": ("support", "B", near(92), near(107)),
    }
    assert (cold.mark_from, hot.mark_from) == (("left", "bottom"), ("right", "bottom"))
    assert [piece.name for piece in plan.pieces] == ["a 1-R1", "a 1-L1"], "in the order of fixing"


def test_what_lies_under_the_base_is_read_from_the_course_above() -> None:
    plan = plan_of(surface={"edges": BOX}, holes=[pipe("centre 150 right of V", "centre 50 below B")])
    # Under 1 ends at -2 and course 1 begins at 0: 50 - 7.5 and 50 + 7.5.
    assert read(cut_in(plan, "field under 1-7"))["up"] == ("piece", "field 1-7", near(42.5), near(57.5))


def test_across_a_window_it_is_read_from_the_nearest_earlier_piece() -> None:
    # The window takes 60 to 304 and 3 all round: right of it the tile from 307, cut at nothing; before it the one from
    # 1 to 57. Worked outward from V, so that the one left of the window is earlier; V itself lies behind it.
    windows = [{"name": "window", "across": "60 to 304 right of V", "up": "0 to 300 above B", "gap": 3}]
    plan = plan_of(
        surface={"edges": BOX, "windows": windows}, holes=[pipe("centre 350 right of V", "centre 150 above B")]
    )
    (cut,) = [cut for piece in plan.pieces for cut in piece.cuts]
    assert read(cut)["across"] == ("piece", "field 2-6", near(350 - 7.5 - 57), near(350 + 7.5 - 57))
    (check,) = [check for check in cut.wall_checks if check.fixed and check.side == "left"]
    assert check.source.across


def test_a_line_in_a_window_is_none_and_an_edge_is_read_instead() -> None:
    # V lies in the window, 100 left to 40 right: right of it the wall ends at 104, so that nothing is fixed before the
    # piece from 43 to 101 but what lies under it; it is read from the window.
    windows = [{"name": "window", "across": "100 left to 40 right of V", "up": "0 to 300 above B", "gap": 3}]
    edges = {**BOX, "right": "104 right of V"}
    plan = plan_of(
        surface={"edges": edges, "windows": windows}, holes=[pipe("centre 60 right of V", "centre 150 above B")]
    )
    (cut,) = [cut for piece in plan.pieces for cut in piece.cuts]
    assert read(cut)["across"] == ("edge", "window", near(60 - 7.5 - 40), near(60 + 7.5 - 40))


def test_where_the_thing_comes_through_a_joint_it_is_marked_from_there() -> None:
    plan = plan_of(surface={"edges": BOX}, holes=[pipe("centre 102 right of V", "centre 150 above B")])
    second = cut_in(plan, "field 2-7")
    assert second.mark_from == ("left", "bottom")
    # 102 - 7.5 lies in the tile from 1 to 101: from there nothing is read, from the wall at 500 it is 500 - 109.5.
    assert read(second)["across"] == ("edge", "right", near(390.5), near(405.5))


def test_where_nothing_is_there_it_is_said() -> None:
    # No edges, V through the pipe itself: nothing across, and it says so.
    area = {"start": {"across": "middle on V", "up": "sits on B"}}
    plan = plan_of(area=area, holes=[pipe("on V", "centre 150 above B")])
    (cut,) = [cut for piece in plan.pieces for cut in piece.cuts]
    assert [(one.axis, one.reached) for one in cut.unread] == [("across", "")]
    assert "across" not in read(cut)


def test_a_tile_that_is_left_out_is_read_from_all_that_is_fixed_round_it() -> None:
    surface = {"edges": BOX, "holed tiles": "left out"}
    plan = plan_of(surface=surface, holes=[pipe("centre 150 right of V", "centre 150 above B")])
    cut = cut_in(plan, "field 2-7")
    # The tile lies 103 to 203 and 102 to 202; its neighbours 2 further.
    assert {check.side: (check.near, check.far) for check in cut.wall_checks if check.fixed} == {
        "left": (near(41.5), near(56.5)),
        "right": (near(47.5), near(62.5)),
        "bottom": (near(42.5), near(57.5)),
        "top": (near(46.5), near(61.5)),
    }


def test_a_batten_has_no_joint_and_stands_where_the_job_says() -> None:
    # The start lies 50 above B, where no line is: read from there, as the job says it.
    area = {"start": {"across": "joint on V", "up": "sits on 50 above B"}}
    plan = plan_of(surface={"edges": BOX}, area=area, holes=[pipe("centre 50 right of V", "centre 90 above B")])
    assert read(cut_in(plan, "field 1-6"))["up"] == ("support", "50 above B", near(32.5), near(47.5))


@pytest.mark.parametrize("later", [{"at": "390 below B", "true": "level"}, {"at": "200 below B", "true": "level"}])
def test_a_floor_measured_on_day_two_makes_no_print_of_day_one_stale(later: dict[str, Any]) -> None:
    holes = [
        {**pipe("centre 150 right of V", "centre 50 above B"), "name": "low"},
        {**pipe("centre 450 right of V", "centre 250 above B"), "name": "high"},
        {**pipe("centre 150 left of V", "centre 50 below B"), "name": "under"},
    ]
    measured = {side: edge for side, edge in BOX.items() if side != "bottom"}
    before = plan_of(surface={"edges": measured}, holes=holes)
    after = plan_of(surface={"edges": {**measured, "bottom": {**later, "what": "worktop"}}}, holes=holes)
    prints = [
        {piece.name: piece.fingerprint for piece in plan.pieces if piece.cuts and piece.rank.day == 1}
        for plan in (before, after)
    ]
    assert prints[0] == prints[1]
    assert len(prints[0]) == 2
    names = [{piece.name for piece in plan.pieces if piece.cuts} for plan in (before, after)]
    assert names[0] == names[1]


TROUGH = """
    job: scullery
    tiles: {pale: {size: 198.5 x 98.5, measured: yes}}
    surfaces:
      - name: wall
        kind: wall
        lines: {V: "plumb, middle of the trough", B: "level, a metre up"}
        edges:
          left: {at: 1300 left of V, true: plumb, what: pier, gap: 3}
          right: {at: 960 right of V, true: plumb, what: door frame, gap: 4}
          bottom:
            steps:
              - {at: 1000 below B, until: 410 left of V, what: floor, still to come: none, gap: 5}
              - {at: 88 below B, until: 412 right of V, what: trough, gap: 3}
              - {at: 1000 below B, what: floor, still to come: none, gap: 5}
          top: {at: 1100 over B, true: level, what: open end}
        areas: [{name: a, tile: pale, joint: 1.5, start: {across: joint on V, up: sits on 941 below B}}]
        holes:
          - {name: waste, what: waste pipe, diameter: 40, across: centre HERE, up: centre 690 below B, cover: none,
             end: runs on}
"""


@pytest.mark.parametrize(
    ("at", "start", "near_side", "far_side"),
    [
        # Left of the trough, whose side is 410 left: 630 - 20 - 410 and 630 + 20 - 410.
        ("630 left of V", "V", 200, 240),
        # Right of it, from a start left of it, its side is 412 right: 620 - 20 - 412 and 620 + 20 - 412.
        ("620 right of V", "700 left of V", 188, 228),
    ],
)
def test_nothing_is_read_through_a_trough(at: str, start: str, near_side: float, far_side: float) -> None:
    plan = make_plan(parse_job(TROUGH.replace("HERE", at).replace("joint on V", f"joint on {start}")))
    checks = [
        (check, piece)
        for piece in plan.pieces
        for cut in piece.cuts
        for check in cut.wall_checks
        if check.side.axis == "across" and check.source.kind != "piece"
    ]
    assert checks
    for check, piece in checks:
        assert not check.source.across
        assert check.source.kind == "edge"
        assert (check.source.name, check.near, check.far) == ("bottom", near(near_side), near(far_side))
        assert read_from(plan, piece, check) == "the trough"
    across = [check for piece in plan.pieces for cut in piece.cuts for check in cut.wall_checks if check.source.across]
    assert not across
