"""Rules about holes, pieces and surfaces: each where it speaks, with its figure by hand, and where it is silent."""

from __future__ import annotations

import math

import pytest
from msgspec.structs import replace

from cutmarks.checks.holes import goes_through
from cutmarks.checks.model import Finding
from cutmarks.geometry.frames import Point, Surface
from cutmarks.geometry.rings import Ring
from cutmarks.geometry.shapes import Circle, ring_of
from cutmarks.job import parse_job
from cutmarks.limits import LIMITS
from cutmarks.plan import make_plan
from cutmarks.units import Style

PIPE = "what: 15 copper, across: 67 to 82 left of V, up: 120 to 135 above B, cover: 65, end: comes off"


def findings(
    rule: str, hole: str = PIPE, *, top: float = 908, right: float = 907.5, tile: str = "measured: yes", more: str = ""
) -> list[Finding]:
    """Of one rule."""
    job = job_of(hole, top=top, right=right, tile=tile, more=more)
    return [finding for finding in make_plan(parse_job(job)).findings if finding.rule == rule]


def job_of(
    hole: str = PIPE, *, top: float = 908, right: float = 907.5, tile: str = "measured: yes", more: str = ""
) -> str:
    """Tiles 300, joint 3, joint on V: 301.5, 604.5, 907.5 to each side; courses end at 300, 603, 906."""
    return f"""
job: rules
tiles: {{t: {{size: 300 x 300, {tile}}}}}
surfaces:
  - name: wall
    kind: wall
    lines: {{V: "plumb, middle", B: "level, batten"}}
    edges:
      left: {{at: 907.5 left of V, true: plumb, gap: 0}}
      right: {{at: {right} right of V, true: plumb, gap: 0}}
      bottom: {{at: 0 below B, true: level, what: worktop, gap: 0}}
      top: {{at: {top} above B, true: level, gap: 2}}
    areas: [{{name: field, tile: t, joint: 3, start: {{across: joint on V, up: sits on B}}}}]
    holes: [{{name: h, {hole}}}]
{more}
"""


def test_two_sides_that_are_not_the_pipe() -> None:
    # 67 to 87 is 20, the pipe is 15: 5 apart, over 2. 67 to 84 is 17: 2, not over.
    (said,) = findings("readings disagree", PIPE.replace("67 to 82", "67 to 87"))
    assert (said.level, said.value) == ("warn", pytest.approx(5))
    assert findings("readings disagree", PIPE.replace("67 to 82", "67 to 84")) == []


def test_sides_so_far_apart_that_the_pipe_may_not_fit_stop() -> None:
    # Core 35 over 15 under 65: it may be 10 any way. Sides 15 + 20 apart put the middle out by 10, 15 + 22 by 11.
    levels = [findings("readings disagree", PIPE.replace("67 to 82", f"67 to {far}"))[0].level for far in (102, 104)]
    assert levels == ["warn", "stop"]


def test_an_opening_that_does_not_hold_the_thing() -> None:
    assert [f.level for f in findings("does not go through", PIPE + ", opening: 14")] == ["stop"]
    assert findings("does not go through") == []


@pytest.mark.parametrize("turn", [0.0, 37.0, 180.0])
def test_a_round_thing_off_the_middle_of_a_round_hole(turn: float) -> None:
    # A pipe of 15 in a hole of 35 has 10 to each side: 9.99 off it goes through, 10.1 off it does not.
    (opening,) = make_plan(parse_job(job_of())).openings
    said = []
    for off in (0.0, 9.99, 10.1, 40.0):
        x, y = off * math.cos(math.radians(turn)), off * math.sin(math.radians(turn))
        hole: Ring[Surface] = ring_of(Circle(35.0), Point(opening.at.x + x, opening.at.y + y))
        said.append([one.level for one in goes_through(replace(opening, ring=hole), LIMITS, Style())])
    assert said == [[], [], ["stop"], ["stop"]]


@pytest.mark.parametrize(
    ("opening", "rule", "lap"), [(70, "shows past its cover", -2.5), (60, "cover laps little", 2.5)]
)
def test_a_cover_that_does_not_hide(opening: float, rule: str, lap: float) -> None:
    # (65 - 70) / 2 = -2.5; (65 - 60) / 2 = 2.5, under 3.
    (said,) = findings(rule, f"{PIPE}, opening: {opening}")
    assert said.value == pytest.approx(lap)
    assert findings(rule, f"{PIPE}, opening: 35") == []


def test_a_closed_hole_over_a_pipe_that_runs_on() -> None:
    assert len(findings("cannot be put on", PIPE.replace("comes off", "runs on"))) == 1
    assert findings("cannot be put on") == []
    # Over the joint each tile has a notch, and goes on from its side.
    notched = PIPE.replace("67 to 82 left of V", "7.5 left to 7.5 right of V").replace("comes off", "runs on")
    assert findings("cannot be put on", notched) == []


def test_a_hole_in_a_strip_where_nothing_is_drilled() -> None:
    strip = (
        "    do not drill: [{name: cable, across: 90 to 60 left of V, up: 0 to 900 above B, why: cable to the light}]"
    )
    (said,) = findings("do not drill", more=strip)
    assert said.level == "stop"
    assert "cable to the light" in said.text
    assert findings("do not drill", more=strip.replace("90 to 60 left", "60 to 90 right")) == []


def test_a_narrow_piece_is_said_once_for_its_edge() -> None:
    # Right edge at 907.5 + 3 + 40: a strip of 40 in each of three courses, under a fifth of 300 (60) and under 50.
    (said,) = findings("narrow piece", right=950.5)
    assert said.value == pytest.approx(40)
    assert said.about == ("field 1-7", "field 2-7", "field 3-7")
    # The rows begin with a whole tile of 300 and end with 40: 340 in two is 170, 130 less on the left.
    assert said.text.endswith("Moving the start 130 towards the left leaves 170 at both ends.")
    assert findings("narrow piece", right=970.5) == []
    # 20 and 300: half of them with a tile more, (320 + 303) / 2, is over 300; half of 320 is 160.
    (said,) = findings("narrow piece", right=930.5)
    assert said.text.endswith("Moving the start 140 towards the left leaves 160 at both ends.")


def test_a_strip_that_ends_in_a_point_is_as_narrow_as_its_other_end() -> None:
    # From 910 on the top falls by 28 in 40, 35 degrees: the strip of 40 in the third course has no width on top.
    top = '{at: ["908 above B at 907.5 left of V", "908 above B at 910 right of V", "880 above B at 950 right of V"], '
    job = job_of(right=950.5).replace("{at: 908 above B, true: level, ", top)
    (said,) = [one for one in make_plan(parse_job(job)).findings if one.rule == "narrow piece"]
    assert said.value == pytest.approx(40)
    assert said.about == ("field 1-7", "field 2-7", "field 3-7")


def ends_said(job: str) -> set[str]:
    """What is said of moving the start beside every narrow piece."""
    found = [one.text for one in make_plan(parse_job(job)).findings if one.rule == "narrow piece"]
    return {text[text.index("Moving the start") :] for text in found}


def test_room_beside_a_whole_tile_is_there_for_the_ends() -> None:
    # The left edge is 2 further away than the first whole tile: 302 and 20 are to be had, 161 each, 141 to the left.
    job = job_of(right=930.5).replace("907.5 left of V", "909.5 left of V")
    assert ends_said(job) == {"Moving the start 141 towards the left leaves 161 at both ends."}


def test_at_an_edge_that_rakes_the_narrowest_of_all_rows_counts() -> None:
    # 950.5 at B, 6 less at 906 above it, where the third course ends: 40 to 34. 300 and 34 in two is 167, 133 moved.
    job = job_of().replace("{at: 907.5 right of V, true: plumb, gap: 0}", RAKING)
    assert ends_said(job) == {"Moving the start 133 towards the left leaves 167 at both ends."}


RAKING = '{at: ["950.5 right of V at B", "944.5 right of V at 906 above B"], gap: 0}'


def test_the_rows_of_a_bond_are_all_looked_at() -> None:
    # The rows leave 300 and 40, and, half a tile and joint (151.5) to the right, 907.5 - 759 = 148.5 and
    # 950.5 - 759 = 191.5. Moved m to the left the least are 148.5 - m and 40 + m: alike at 54.25; in whole steps at 54.
    job = job_of(PIPE.replace("67 to 82", "217 to 232"), right=950.5).replace("joint: 3,", "joint: 3, bond: half,")
    assert ends_said(job) == {"Moving the start 54 towards the left leaves 94½ and 94 at the ends."}
    # With a core of 35 about 74.5 left of V the tile's edge, 1.5 left of V, would come as near as 55.5: 57 - 55.5 is
    # left. Half a course the other way, 151.5 - 54.5, leaves the same.
    job = job.replace("217 to 232", "67 to 82")
    assert ends_said(job) == {"Moving the start 97 towards the right leaves 94 and 94½ at the ends."}


def test_a_strip_beside_a_window_is_not_helped_by_even_ends() -> None:
    # The second course lies 303 to 603, its tile 304.5 to 604.5: the window leaves 37 of it.
    window = "    windows: [{name: window, across: 341.5 to 700 right of V, up: 290 to 620 above B, gap: 0}]"
    assert ends_said(job_of(more=window)) == {"Moving the start may help."}


def test_where_no_start_leaves_more_none_is_named() -> None:
    # All there is of the wall is 40 wide, and a piece of 40 stands in it.
    job = job_of(PIPE.replace("67 to 82 left", "17 to 32 right"), right=41.5)
    job = job.replace("907.5 left of V", "1.5 right of V")
    assert ends_said(job) == {"Moving the start may help."}


def test_under_a_floor_that_rakes_the_lowest_course_is_read_at_its_lowest() -> None:
    # The floor lies 30 below B at the left edge, 36 at the right one, 1815 apart; B's joint is 3: 27 to 33 of a course.
    # Three courses end at 906, the fourth is cut at 1000: 91 over the joint. 27, 91 and a
    # course with its joint, 303, in two: 210.5, of which 119.5 come from moving the start down.
    floor = '{at: ["30 below B at 907.5 left of V", "36 below B at 907.5 right of V"], what: worktop, gap: 0}'
    job = job_of(top=1002).replace("{at: 0 below B, true: level, what: worktop, gap: 0}", floor)
    wanted = {"Moving the start 119½ towards the bottom leaves 210½ at the bottom and the top."}
    assert ends_said(job) == wanted


def test_a_low_course_says_what_moving_the_start_leaves_above_and_below() -> None:
    # Three courses of 300 end at 906; the top at 951 less its gap of 2 leaves 40 over the joint. 340 in two is 170.
    (said,) = findings("narrow piece", PIPE.replace("120 to 135", "60 to 75"), top=951)
    assert "only 40 high" in said.text
    assert said.text.endswith("Moving the start 130 towards the bottom leaves 170 at the bottom and the top.")
    # A core of 35 about 127.5 reaches up to 145: the joint comes no lower than 175, 30 above it.
    (said,) = findings("narrow piece", top=951)
    assert said.text.endswith("Moving the start 125 towards the bottom leaves 175 at the bottom, 165 at the top.")


def test_a_little_off_a_whole_row_is_a_joint_problem() -> None:
    # Top at 905 less its gap of 2: 903, and the third course would end at 906: 3 comes off.
    (said,) = findings("joint, not a cut", top=905)
    assert said.value == pytest.approx(3)
    assert findings("joint, not a cut", top=895) == []


def test_a_strip_under_a_joint_and_a_millimetre_is_no_piece() -> None:
    # Right edge 3.5 past the last tile: joint 3, and half a millimetre of tile.
    (said,) = findings("space, no piece", right=911)
    assert (said.level, said.about) == ("note", ("field",))
    assert findings("space, no piece", right=910) == []


def test_a_bite_of_half_a_millimetre_stops() -> None:
    # Radius 17.5 with its middle 17 below the joint's upper edge at 303: it takes 0.5 of the tile above.
    hole = (
        "what: 15 copper, across: centre 75 left of V, up: centre 286 above B, opening: 35, cover: 65, end: comes off"
    )
    assert [f.value for f in findings("hair bite", hole)] == [pytest.approx(0.5)]
    assert findings("hair bite", hole.replace("286", "290")) == []


def test_a_size_off_the_box_is_noted() -> None:
    assert [f.about for f in findings("size not measured", tile="thickness: 9")] == [("t",)]
    assert findings("size not measured") == []


def test_what_was_accepted_stays_said_and_no_longer_stops() -> None:
    job = "accept: [{rule: does not go through, about: h, reason: the pipe is turned down first}]"
    (said,) = findings("does not go through", PIPE + ", opening: 14", more=job)
    assert said.accepted == "the pipe is turned down first"


@pytest.mark.parametrize(("units", "drill"), [("mm", "a 6 to 8 hole"), ("in", "a 1/4 to 5/16 hole")])
def test_the_hole_in_an_inside_corner_is_said_in_the_jobs_own_unit(units: str, drill: str) -> None:
    box = "what: box, size: 70 mm x 70 mm, across: centre 150 mm left of V, up: centre 150 mm above B, cover: none"
    text = job_of(box).replace("job: rules", f"job: rules\nunits: {units}")
    for length in ("907.5", "908", "300 x 300", "joint: 3"):
        text = text.replace(
            length, {"300 x 300": "300 mm x 300 mm", "joint: 3": "joint: 3 mm"}.get(length, f"{length} mm")
        )
    (said,) = [f for f in make_plan(parse_job(text)).findings if f.rule == "inside corners"]
    assert drill in said.text
