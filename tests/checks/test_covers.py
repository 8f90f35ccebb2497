"""What hides an opening: laps after the worst error, neighbours, edges, trims, levers; figures by hand."""

from __future__ import annotations

import pytest

from cutmarks.job import build_job
from cutmarks.plan import make_plan
from tests.checks.jobs import EDGES, hole, only, plan, said


def box(name: str = "socket", cover: str = "86 x 86", **keys: object) -> dict[str, object]:
    return hole(name, what="box", size="70 x 70", cover=cover, **keys)


def test_a_plate_that_covers_until_everything_is_off() -> None:
    # 74 + 2 x 2.2 = 78.4: laps 2.2, over the 2 that is wanted and under the 2.3 that it may be off at the wall.
    finding = only(plan(box(cover="86 x 78.4")), "cover may not hide it")
    assert finding.value == pytest.approx(2.2)
    assert "shows 0 above or below" in finding.text
    assert not said(plan(box(cover="86 x 79")), "cover may not hide it")


READ_TO_BOTH = {"across": "115 to 185 right of V", "up": "65 to 135 above B"}
OTHER = {"across": "415 to 485 right of V", "up": "65 to 135 above B"}


def test_a_plate_that_is_known_to_hide_too_seldom_is_said_once() -> None:
    # 70 + 2 x 3 of play under 80.4: laps 2.2 all round. Read to its middle by eye it may come 3 off, more than 2.2 and
    # 3 alike: the plate is what is short. Read to both sides it is sure enough, and the lap alone is under 2.3.
    eye = plan({**box(cover="80.4 x 80.4"), "play": 3})
    assert "or take a bigger cover" in only(eye, "not sure").text
    assert not said(eye, "cover may not hide it")
    both = plan({**box(cover="80.4 x 80.4"), "play": 3, **READ_TO_BOTH}, limits={"sure": "75 %"})
    assert not said(both, "not sure")
    assert only(both, "cover may not hide it").about == ("socket",)
    # Of two such boxes, the other is still said.
    two = plan(
        {**box(cover="80.4 x 80.4"), "play": 3},
        {**box("other", x=450, cover="80.4 x 80.4"), "play": 3, **OTHER},
        limits={"sure": "75 %"},
    )
    assert (only(two, "not sure").about[0], only(two, "cover may not hide it").about) == ("socket", ("other",))


def test_a_plate_beside_a_box_that_goes_over_badly_is_said_too() -> None:
    # 2 of play and a lap of 2.2: that it may not go over is the greater doubt, and another reason.
    made = plan(box(cover="86 x 78.4"))
    assert "or give it more room" in only(made, "not sure").text
    assert said(made, "cover may not hide it")


def test_a_job_cut_ahead_needs_more() -> None:
    # From the plan alone it may be 3 off: a lap of 2.5 is not enough.
    assert not said(plan(box(cover="86 x 79")), "cover may not hide it")
    assert only(plan(box(cover="86 x 79"), cut="ahead"), "cover may not hide it").limit == 3.0


def test_screws_and_lugs_stay_clear_of_tile() -> None:
    # The cut-out is 74; 78 x 60 sticks out by 2 on both sides.
    finding = only(plan(box(**{"keep clear": "78 x 60"})), "screws not clear")
    assert (finding.level, finding.value) == ("stop", pytest.approx(2.0))
    assert not said(plan(box(**{"keep clear": "74 x 74"})), "screws not clear")


def test_two_plates_that_overlap() -> None:
    # 86 plates 80 apart overlap by 6; at 86 they touch.
    finding = only(plan(box("one", x=100), box("two", x=180)), "covers overlap")
    assert (finding.level, finding.about, finding.value) == ("stop", ("one", "two"), pytest.approx(6.0))
    assert not said(plan(box("one", x=100), box("two", x=186)), "covers overlap")


def test_a_cover_over_a_neighbours_hole() -> None:
    # The rose of 65 reaches 32.5; the bare hole of 35 begins 17.5 before its middle, 45 away: 5 over it.
    bare = hole("bare", x=195, opening=35, cover="none")
    assert only(plan(hole(x=150), bare), "covers overlap").value == pytest.approx(5.0, abs=0.5)


def test_a_cover_past_the_edge_and_over_a_window() -> None:
    # The surface ends 1000 right of V: a rose of 65 at 980 runs 12.5 past it.
    assert only(plan(hole(x=980)), "cover past the edge").value == pytest.approx(12.5)
    window = {"across": "180 to 300 right of V", "up": "50 to 150 above B", "name": "hatch"}
    # The rose reaches 32.5 to both sides of 150, up to 182.5: 2.5 into the window.
    into = only(plan(hole(x=150), windows=[window]), "cover past the edge")
    assert "runs into window hatch by 2½. A smaller cover, or move it." in into.text
    assert into.value == pytest.approx(2.5)
    assert not said(plan(hole(x=967.5)), "cover past the edge")


def test_a_cover_over_a_trim() -> None:
    # A trim of 10 from 990 on: a rose of 65 at 960 reaches 992.5.
    trimmed = {**EDGES, "right": {**EDGES["right"], "trim": "10"}}
    assert said(plan(hole(x=960), edges=trimmed), "cover over a trim")
    assert not said(plan(hole(x=957), edges=trimmed), "cover over a trim")


def test_a_lever_needs_its_room() -> None:
    # A sweep of 180 reaches 90, to 240; the rose of the other begins 32.5 before its middle, at 237.5: 2.5 too little,
    # and there is room for a sweep of 175.
    lever = hole("valve", x=150, sweep=180)
    finding = only(plan(lever, hole(x=270)), "lever has no room")
    assert "sweeps 180 and meets riser by 2½. A lever that sweeps less, or move it." in finding.text
    assert (finding.value, finding.limit) == (pytest.approx(175.0, abs=0.01), 180.0)
    assert said(plan(lever, hole(x=272)), "lever has no room")
    assert not said(plan(lever, hole(x=273)), "lever has no room")


def test_a_lever_that_meets_an_edge_or_a_window() -> None:
    # Down from 88 above the edge it reaches 90: 2 past it. Into a window from 235 on, it reaches 5.
    window = {"across": "235 to 300 right of V", "up": "50 to 150 above B", "name": "hatch"}
    made = plan(hole("valve", x=150, y=88, sweep=180), windows=[window])
    assert "meets window hatch by 5, the edge of wall by 2." in only(made, "lever has no room").text
    assert not said(plan(hole("valve", x=150, y=90, sweep=180)), "lever has no room")


def test_two_levers_that_sweep_into_each_other() -> None:
    # 90 and 90 are 180, and they are 110 apart: 70 too little. Neither reaches the rose of the other where 125 lie
    # between them (90 + 32.5 is 122.5), and they meet all the same, by 55.
    for apart, over in ((110, 70), (125, 55)):
        made = plan(hole("hot", x=150, sweep=180), hole("cold", x=150 + apart, sweep=180))
        finding = only(made, "lever has no room")
        assert finding.about == ("cold", "hot")
        assert f"sweep 180 and 180, and are {apart} apart: they meet by {over}. Levers that sweep less" in finding.text
        assert (finding.value, finding.limit) == (pytest.approx(apart), 180.0)
    assert not said(plan(hole("hot", x=150, sweep=180), hole("cold", x=330, sweep=180)), "lever has no room")


def test_a_lever_that_meets_another_lever_and_a_cover_is_said_of_each() -> None:
    # The lever of hot reaches the rose of riser (92.5 away of its 90 + 32.5), and the sweep of cold.
    made = plan(hole("hot", x=150, sweep=180), hole("cold", x=150, y=220, sweep=180), hole(x=242.5))
    assert sorted(finding.about for finding in said(made, "lever has no room")) == [("cold", "hot"), ("hot",)]


def two_areas(x: float, edges: object = EDGES):
    """A thin tile below 300, a thick one above 303, a hole at the height of `x`."""
    areas = [
        {
            "name": "low",
            "tile": "rib",
            "joint": 3,
            "to": "300 above B",
            "start": {"across": "joint on V", "up": "sits on B"},
        },
        {
            "name": "high",
            "tile": "slab",
            "joint": 3,
            "from": "303 above B",
            "start": {"across": "joint on V", "up": "sits on 303 above B"},
        },
    ]
    tiles = {
        "rib": {"size": "297 x 97", "measured": "yes", "thickness": 8},
        "slab": {"size": "297 x 197", "measured": "yes", "thickness": 11},
    }
    surface = {
        "name": "wall",
        "kind": "wall",
        "lines": {"V": "plumb, middle", "B": "level, batten"},
        "edges": edges,
        "areas": areas,
        "holes": [hole(y=x)],
    }
    return make_plan(build_job({"job": "two", "tiles": tiles, "surfaces": [surface]}))


def test_a_cover_on_two_thicknesses() -> None:
    # The rose reaches 32.5 up and down: at 330 down to 297.5, below the 300 where the thin tile ends.
    assert only(two_areas(330), "cover on two thicknesses").value == pytest.approx(3.0)
    assert not said(two_areas(336), "cover on two thicknesses")
    # Where nobody read an edge the tiles are as thick as they are.
    assert only(two_areas(330, edges={}), "cover on two thicknesses").value == pytest.approx(3.0)


def test_a_cover_over_a_bevel() -> None:
    assert said(plan(hole(x=20), tile={"bevelled": "yes"}), "cover over a bevel")
    assert not said(plan(hole(x=150), tile={"bevelled": "yes"}), "cover over a bevel")
