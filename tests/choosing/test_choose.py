"""What is offered: joints, hands of a bond, areas one after the other, what makes a start poor."""

from __future__ import annotations

import pytest

from cutmarks.choosing.choose import _is_like
from cutmarks.choosing.figures import Carried, Worth
from cutmarks.choosing.offers import Choices
from cutmarks.choosing.search import Found, _folded
from cutmarks.choosing.steps import Offset
from cutmarks.job import parse_job
from cutmarks.job.models import Tools
from cutmarks.plan.choices import choices_of
from cutmarks.saying.starts import batten_words, start_said
from tests.choosing.scenes import question

WALL = """
job: wall
tiles: {{t: {{size: {tile}, measured: yes}}}}
surfaces:
  - name: wall
    kind: wall
    lines: {{V: "plumb, left end", B: "level, floor"}}
    gaps: {{left: 0, right: 0, top: 0, bottom: 0}}
    edges:
      left: {{at: on V, true: plumb, still to come: 0}}
      right: {{at: {right} right of V, true: plumb, still to come: 0}}
      bottom: {{at: on B, true: level, what: worktop}}
      top: {{at: {top} above B, true: level}}
    areas:
      {areas}
"""


def choices(
    areas: str, tile: str = "300 x 200", right: int = 1000, top: int = 200, spacers: tuple[float, ...] = ()
) -> Choices:
    job = parse_job(WALL.format(areas=areas, tile=tile, right=right, top=top), tools=Tools(spacers=spacers))
    return choices_of(job)[0]


def test_a_joint_that_the_job_names_is_tried_where_it_saves_something() -> None:
    # Four courses of 200 up 806, on B: with 3 between them they are 809, and the fourth is cut to 197; with 2 they are
    # 806, and whole. 197 is good, so that nothing that shows is saved: the first joint is kept. Up 815, 3 leaves 3 of a
    # fifth course, a hair; with 5 there is none.
    assert choices('- {name: a, tile: t, joint: "3, or 2", from: B}', top=806).offers[0].starts[0].joint_words == "3"
    assert choices('- {name: a, tile: t, joint: "3, or 5", from: B}', top=815).offers[0].starts[0].joint_words == "5"


def test_a_spacer_is_tried_where_every_start_leaves_a_hair_and_only_one_that_is_owned() -> None:
    # Courses of 200 up 815, on B: with 3, four of them and their joints are 812, and 3 of a fifth are left. With 5 they
    # are 4 x 200 + 3 x 5 = 815, and nothing is cut.
    area = "- {name: a, tile: t, joint: 3, from: B}"
    without = choices(area, top=815)
    assert without.offers[0].worth.hair == 1
    assert {start.joint for offer in without.offers for start in offer.starts} == {None}
    owned = choices(area, top=815, spacers=(2.0, 3.0, 5.0))
    best = owned.offers[0].starts[0]
    assert best.joint == 5.0
    assert owned.offers[0].worth.hair == 0
    assert start_said(best).endswith("joint 5")
    # One of 10 would change the look of the wall, and is not tried.
    assert choices(area, top=815, spacers=(10.0,)).offers[0].starts[0].joint is None


def test_a_bond_whose_hand_says_only_where_it_begins_is_tried_to_the_other_too() -> None:
    found = choices("- {name: a, tile: t, joint: 3, bond: third right, from: B}", top=403)
    bonds = {start.bond.words for offer in found.offers for start in offer.starts if start.bond is not None}
    assert bonds <= {"third left"}
    stepped = choices('- {name: a, tile: t, joint: 3, bond: "third right, stepped", from: B}', top=403)
    assert all(start.bond is None for offer in stepped.offers for start in offer.starts)


def test_areas_are_looked_at_one_after_the_other_and_their_joints_run_through() -> None:
    # Both of 300 with a joint of 3: whatever the lower one begins with, the upper one begins with too.
    low_one = "- {name: low, tile: t, joint: 3, from: B, to: 403 above B}"
    areas = f"{low_one}\n      - {{name: high, tile: t, joint: 3, from: 406 above B}}"
    best = choices(areas, top=806).offers[0]
    low, high = best.starts
    assert (low.area, high.area) == ("low", "high")
    assert (low.x - high.x) % 303 == pytest.approx(0.0, abs=0.5) or (high.x - low.x) % 303 == pytest.approx(
        0.0, abs=0.5
    )
    assert best.worth.apart == 0


def test_an_area_that_has_its_start_keeps_it_while_another_has_none() -> None:
    start = "start: {across: left on 41 right of V, up: sits on B}"
    low_one = f"- {{name: low, tile: t, joint: 3, from: B, to: 403 above B, {start}}}"
    areas = f"{low_one}\n      - {{name: high, tile: t, joint: 3, from: 406 above B}}"
    found = choices(areas, top=806)
    assert {offer.starts[0].x for offer in found.offers} == {41.0}
    assert found.now is None


def test_what_turns_a_start_poor_is_told() -> None:
    # Two tiles of 300 and two joints are 606 of 707: 101 are left of a third tile, just over a third of it, 100. 3 less
    # would be under it.
    found = choices("- {name: a, tile: t, joint: 3, from: B, start: {across: left on V, up: sits on B}}", right=707)
    assert found.now is not None
    assert found.now.worth.worst == 1
    assert found.now.fragile == ("right edge",)


def test_what_an_end_has_in_any_course_of_a_bond_it_has() -> None:
    # Three ends in two courses in turn: the first has it in the lower one, the first and the third in the upper.
    assert _folded(0b101_001, 3, 2) == 0b101
    assert _folded(0b000_001, 3, 2) == 0b001
    assert _folded(0b010_000, 3, 2) == 0b010
    assert _folded(0b001, 3, 1) == 0b001


@pytest.mark.parametrize(
    ("x", "y", "way", "alike"),
    [
        # Pitch 303 by 203: a tenth is 30 by 20. One axis next to the other start's, or neither of them plain.
        (150.0, 0.0, 0, True),
        (0.0, 100.0, 0, True),
        (150.0, 100.0, 0, False),
        (150.0, 100.0, 1, True),
        (290.0, 100.0, 0, True),
    ],
)
def test_starts_that_count_alike_are_one_where_they_are_near_or_not_plain(
    x: float, y: float, way: int, alike: bool
) -> None:
    area = "- {name: a, tile: t, joint: 3, bond: stack}"
    asked = question(WALL.format(areas=area, tile="300 x 200", right=1000, top=1000))
    none = Worth(*[0] * len(Worth._fields))

    def start(at_x: float, at_y: float) -> Found:
        return Found(Offset(at_x, at_x, at_x, way), Offset(at_y, at_y, at_y, way), none)

    assert _is_like(start(0.0, 0.0), start(x, y), asked, asked.limits) is alike
    # What counts otherwise is another start, but for one right beside it.
    other = start(x, y)._replace(worth=none._replace(bites=1))
    assert not _is_like(start(0.0, 0.0), other, asked, asked.limits)


SPLASH = "- {name: a, tile: t, joint: 3}"


def splash(top: int, limits: str = "") -> Choices:
    """Tiles of 300 x 200 from a worktop on B to what ends them, with two sockets of 70, 60 to 130 up."""
    sockets = "".join(
        f"      - {{name: s{x}, what: box, size: 66 x 66, across: centre {x} right of V, up: centre 95 above B}}\n"
        for x in (450, 750)
    )
    job = parse_job(WALL.format(areas=SPLASH, tile="300 x 200", right=1000, top=top) + f"    holes:\n{sockets}{limits}")
    return choices_of(job)[0]


def test_no_batten_for_one_course_with_both_sockets_under_it() -> None:
    # Whole courses from the worktop are 200 + 3 + 200, and 480 - 403 - 3 = 74 are left at the top: over a third of a
    # tile, 66.7, fair. Cut at both ends, (480 - 206) / 2 = 137 each is good; but then one course stands on a batten,
    # and both sockets, up to 130, are in what waits until it is off. It counts as fair, and no batten is put up.
    best = splash(480).offers[0]
    assert start_said(best.starts[0]).endswith("sits on B")
    assert best.starts[0].figures.carried == Carried(False, 2, 0, 2)
    assert batten_words(best.starts[0]) == "none"
    # Where the batten does not count, it is what comes first; and the table says what is wrong with it.
    without = splash(480, "limits: {batten bands: 0}\n").offers[0]
    assert without.starts[0].figures.carried == Carried(True, 1, 2, 2)
    assert batten_words(without.starts[0]) == "1 course, 2 of 2 holes wait"
    assert (without.worth.worst, without.worth.grade, without.worth.batten) == (0, 0, 1)


def test_a_batten_saves_a_poor_cut_whatever_waits_for_it() -> None:
    # Up 450 whole courses leave 450 - 403 - 3 = 44, poor; cut at both ends (450 - 206) / 2 = 122 each.
    best = splash(450).offers[0]
    assert best.worth.worst == 0
    assert best.starts[0].figures.carried == Carried(True, 1, 2, 2)


def test_a_start_over_others_leaves_most_to_the_day_when_the_batten_is_off() -> None:
    # The same courses, said from the second or from the lowest: on 203 above B both sockets lie in the course under it.
    area = "- {{name: a, tile: t, joint: 3, start: {{across: joint on V, up: sits on {}}}}}"
    for up, carried in (("B", Carried(False, 4, 0, 0)), ("203 above B", Carried(True, 3, 0, 0))):
        now = choices(area.format(up), top=1000).now
        assert now is not None
        assert now.starts[0].figures.carried == carried


def test_a_batten_beside_a_bath_carries_what_stands_beside_it() -> None:
    # A bath 400 high stands from 300 to 700 right. On 203 above B the batten lies left and right of it, 203 over the
    # floor: up 1000 stand (1000 - 203 - 200) / 203 = 2.9, three whole courses, from the second on over the bath too.
    # The socket, 265 to 335 above B, lies over the batten: only the pipe, 40 to 60 above B, waits until that is off.
    bath = """bottom:
        steps:
          - {at: on B, until: 300 right of V, what: floor, still to come: 0}
          - {at: 400 above B, until: 700 right of V, what: bath}
          - {at: on B, what: floor, still to come: 0}"""
    holes = """    holes:
      - {name: box, what: single box, size: 70 x 70, across: centre 850 right of V, up: centre 300 above B, cover: 86}
      - {name: pipe, what: 20 pipe, across: centre 100 right of V, up: centre 50 above B, end: comes off, cover: 60}
"""
    plain = "bottom: {at: on B, true: level, what: worktop}"
    area = "- {name: a, tile: t, joint: 3, start: {across: joint on V, up: sits on 203 above B}}"
    text = WALL.format(areas=area, tile="300 x 200", right=1000, top=1000)
    now = choices_of(parse_job(text.replace(plain, bath) + holes))[0].now
    assert now is not None
    assert now.starts[0].figures.carried == Carried(True, 3, 1, 2)
    assert batten_words(now.starts[0]) == "3 courses, 1 of 2 holes wait"


def test_up_a_wall_it_is_said_what_the_first_course_sits_on() -> None:
    # 201 + 3 up 1000: four whole courses and their five joints are 819, and 181 for both ends, 90.5 each: with a tile's
    # middle or a joint on a whole millimetre that is equal, and within half of one with its lower edge there.
    best = choices("- {name: a, tile: t, joint: 3}", tile="300 x 201", top=1000).offers[0]
    assert best.starts[0].up.anchor == "sits on"
    assert best.worth.unequal == 0


def test_a_whole_tile_that_just_fits_may_not_move() -> None:
    # Five courses of 200 and four joints of 3 are 1012, floor to ceiling: a hair up, and the top one is cut, and so is
    # the one under the lowest.
    one = choices("- {name: a, tile: t, joint: 3, bond: stack}", right=909, top=1012).offers[0].starts[0]
    assert one.figures.counted.cut == 0
    assert one.may_move[2:] == (0.0, 0.0)


def test_a_carried_offcut_is_looked_at_by_the_courses_that_there_are() -> None:
    # Two courses on 1000, each 1000 + 2 for the saw less 3 x 303, 93, further left than the one below. Two alone of all
    # the ways in which courses would lie further up are there, and a third below; the best start that is found leaves
    # no less than any other in millimetres.
    text = "- {name: a, tile: t, joint: 3, bond: offcut carried on, from: B}"
    best = choices(text, right=1000, top=403).offers[0].starts[0]
    asked = question(WALL.format(areas=text, tile="300 x 200", right=1000, top=403))
    assert len(asked.courses.shifts) <= 3
    assert asked.courses.way(asked.courses.first) == 0
    every = min(asked.worth(float(x), 0.0).banded(asked.limits) for x in range(303))
    assert best.worth.banded(asked.limits) <= every
