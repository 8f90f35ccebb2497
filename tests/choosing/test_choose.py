"""What is offered: joints, hands of a bond, areas one after the other, what makes a start poor."""

from __future__ import annotations

import pytest

from cutmarks.choosing.choose import Choices
from cutmarks.job import parse_job
from cutmarks.job.models import Tools
from cutmarks.plan.choices import choices_of
from cutmarks.saying.starts import start_said

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
