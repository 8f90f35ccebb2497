"""Courses of which hardly two lie alike: each has its joint, and the rule; and what a moved course is set out by."""

from __future__ import annotations

import pytest

from cutmarks.saying.gauging import sections, told
from tests.gauging.walls import first_of, planned

WALL = """\
job: creeping
limits: {{kerf: 2}}
tiles: {{rib: {{size: 297 x 97, measured: yes, thickness: 8}}}}
surfaces:
  - name: wall
    kind: wall
    lines: {{V: "plumb, middle", B: "level, batten"}}
    edges:
      left: {{at: {left} left of V, what: panel, true: plumb, still to come: 0, gap: 0}}
      right: {{at: 747 right of V, what: post, true: plumb, still to come: 0, gap: 0}}
      bottom: {{at: 53 below B, what: floor, true: level, still to come: 0, gap: 0}}
      top: {{at: 497 above B, what: shelf, true: level, gap: 0}}
    areas: [{{name: ribs, tile: rib, joint: 3, bond: "{bond}", start: {{across: left on {start}, up: sits on B}}}}]
"""


def lines_of(text: str) -> list[str]:
    return [line for one in told(planned(text)) for step in sections(one, planned(text)) for line in step.lines]


CREEPS = WALL.format(left=600, bond="offcut carried on, from the right", start="V")


def test_where_each_course_lies_otherwise_it_has_a_joint_of_its_own() -> None:
    # 600 + 747 and the saw's 2 are 1349, four pitches of 300 and 149: each course lies 149 further right than the one
    # below it, two of them 298, which is 2 further left. Course 1 has a tile from 0 to 297, so its joint is 297 | 300,
    # and course 2 one from 149 on, its joint 146 | 149; course `under 1` begins 149 further left, at 151.
    creeps = first_of(CREEPS).areas[0].creeps
    assert creeps is not None
    found = {courses: (low, high) for one in creeps.joints for courses, low, high in [(one.courses, one.low, one.high)]}
    assert found == {
        (1,): pytest.approx((297, 300)),
        (2,): pytest.approx((146, 149)),
        (3,): pytest.approx((295, 298)),
        (4,): pytest.approx((144, 147)),
        (5,): pytest.approx((293, 296)),
        (-1,): pytest.approx((148, 151)),
    }
    assert (creeps.by, creeps.down) == (pytest.approx(-2), 2)


def test_and_all_of_them_are_told_with_their_rule() -> None:
    told_lines = lines_of(CREEPS)
    assert (
        "the first joint of each course right of V, its others 300 on from it both ways: 1 at 297 | 300; "
        "2 at 146 | 149; 3 at 295 | 298; 4 at 144 | 147; 5 at 293 | 296; under 1 at 148 | 151"
    ) in told_lines
    assert (
        "the rule: each course begins at the right with what comes off the left end of the one below it, lies 2 "
        "further left than the one two below it"
    ) in told_lines
    assert "Course by course up, from its own joint on the rod outward. Check level as you go." in (told_lines)
    assert not any("Courses like" in line or line.startswith("course 1, ") for line in told_lines)


def test_a_bond_in_quarters_comes_back_after_four() -> None:
    # A quarter of 300 is 75: courses 1 and 5 lie alike, with a tile from 0 to 297; 2, 3 and 4 begin 75, 150, 225 on.
    text = WALL.format(left=600, bond="75 right, stepped", start="V")
    creeps = first_of(text).areas[0].creeps
    assert creeps is not None
    assert [one.courses for one in creeps.joints] == [(1, 5), (2,), (3,), (4, -1)]
    assert [one.low for one in creeps.joints] == pytest.approx([297, 72, 147, 222])
    assert (creeps.by, creeps.down) == (pytest.approx(0), 4)
    assert "the rule: each course has its joints over those of the one 4 below it" in lines_of(text)


def test_a_moved_course_is_set_out_by_a_whole_tile() -> None:
    # Half of 300 is 150. The start tile lies from -230 to 67, its middle 81.5 left of V; of course 2 the tile from
    # -380 to -83 is cut by the panel at 300, and the one from -80 on, whole, is the one to set it out by.
    text = WALL.format(left=300, bond="half", start="230 left of V")
    begun = first_of(text).areas[0].begun
    assert [(one.courses, one.piece, one.left) for one in begun] == [((2, 4, -1), "ribs 2-2", pytest.approx(-80))]
