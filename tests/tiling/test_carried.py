"""`bond: offcut carried on`: each course begins with what came off the end of the one below; figures by hand."""

from __future__ import annotations

from itertools import pairwise

import pytest

from cutmarks.buying.flow import what_to_buy
from cutmarks.errors import JobError
from cutmarks.job import parse_job
from cutmarks.plan import Plan, make_plan
from cutmarks.plan.choices import choices_of
from cutmarks.saying.starts import start_said

JOB = """
job: plank wall
tiles: {{plank: {{size: 600 x 200, measured: yes}}}}
surfaces:
  - name: wall
    kind: wall
    lines: {{V: "plumb, left end", B: "level, worktop"}}
    gaps: {{left: 0, right: 0, top: 0, bottom: 0}}
    edges:
      left: {{at: on V, true: plumb, still to come: 0}}
      right: {right}
      bottom: {{at: on B, true: level, what: worktop}}
      top: {{at: {top} above B, true: level}}
    areas: [{{name: a, tile: plank, joint: 3, bond: "{bond}"{start}}}]
"""
FROM_THE_LEFT = ", start: {across: left on V, up: sits on B}"


def text(width: int, bond: str = "offcut carried on", top: int = 809, start: str = FROM_THE_LEFT) -> str:
    right = f"{{at: {width} right of V, true: plumb, still to come: 0}}"
    return JOB.format(right=right, bond=bond, top=top, start=start)


def plan(width: int, bond: str = "offcut carried on", top: int = 809) -> Plan:
    return make_plan(parse_job(text(width, bond, top)))


def ends(made: Plan) -> list[tuple[float, float]]:
    """The first and the last piece of each course, from the lowest up, mm."""
    found: dict[int, dict[int, float]] = {}
    for piece in made.pieces:
        column, row = piece.piece.place
        found.setdefault(row, {})[column] = round(piece.piece.outline.bounds.width, 6)
    return [(row[min(row)], row[max(row)]) for _, row in sorted(found.items())]


# 2000 wide, tiles of 600, joint 3, the saw takes 2. Three whole ones and their joints are 1809: 191 are left. Of 600
# that leaves 600 - 191 - 2 = 407, which begins course 2; 407 + 3 and two tiles are 1616: 384; 600 - 384 - 2 = 214;
# 217 and two tiles are 1423: 577; 600 - 577 - 2 = 21; 24 and three tiles are 1833: 167.
BY_HAND = [(191.0, 191.0), (407.0, 384.0), (214.0, 577.0), (21.0, 167.0)]


def test_each_course_begins_with_what_came_off_the_end_of_the_one_below() -> None:
    # Course 1 begins with a whole tile, so that its only cut piece is the last.
    assert ends(plan(2000)) == BY_HAND


def test_from_the_right_it_is_the_same_seen_in_a_mirror() -> None:
    start = ", start: {across: right on 2000 right of V, up: sits on B}"
    made = make_plan(parse_job(text(2000, "offcut carried on, from the right", start=start)))
    assert ends(made) == [(last, first) for first, last in BY_HAND]


def test_one_tile_that_is_cut_once_serves_two_courses() -> None:
    # Each last piece and the next course's first come from one tile: 191 + 407, 384 + 214 and 577 + 21 are 598 each,
    # and the saw's 2 make the 600. Ten whole tiles, three such, and one for the last 167.
    (need,) = what_to_buy(plan(2000)).tiles
    assert [shared.pieces for shared in need.shared] == [("a 1-4", "a 2-1"), ("a 2-4", "a 3-1"), ("a 3-4", "a 4-1")]
    assert (need.whole, need.cut, need.laid) == (10, 7, 14)


def test_fewer_tiles_are_used_than_in_a_half_bond() -> None:
    # 1900 wide, six courses. Half: a course of three whole ones and 91, and one of 298.5, two whole ones and 392.5; of
    # two such courses 91 and 298.5 come from one tile: 5 + 2 = 7, three times 21. Carried on, course after course 91;
    # 507, 184; 414, 277; 321, 370; 228, 463; 135, 556: three whole ones and five times two, and six tiles that are cut.
    half, carried = (what_to_buy(plan(1900, bond, 1215)).tiles[0] for bond in ("half", "offcut carried on"))
    assert (half.laid, carried.laid) == (21, 19)


def test_the_search_counts_its_tiles_by_the_courses_that_one_serves() -> None:
    now = choices_of(parse_job(text(1900, top=1215)))[0].now
    assert now is not None
    counted = now.starts[0].figures.counted
    assert (counted.whole, counted.cut, counted.tiles) == (13, 11, 19)


def test_the_other_end_is_tried_too_where_nothing_is_decided() -> None:
    # Of a wall that leans at one end alone one hand is as good as the other but for where it begins.
    offers = choices_of(parse_job(text(1900, top=1215, start="")), 8)[0].offers
    assert any(start_said(offer.starts[0]).endswith("bond offcut carried on, from the right") for offer in offers)
    assert offers[0].worth.hair == 0


def test_how_far_each_course_is_moved_is_told() -> None:
    # 4 x 603 - (2000 + 2) is 410.
    assert plan(2000).assumed[-1] == (
        "wall, a: each course begins at the left with what comes off the other end of the one below it, and so lies "
        "410 further to the right than that; by a course of 2000 and a saw that takes 2."
    )


def test_where_a_wall_leans_its_widest_course_decides() -> None:
    # 2010 at the top, at 809: 4 x 603 - 2012 is 400. At 809 what is left of a tile is enough, and lower down more.
    job = JOB.format(
        right='["2000 right of V at B", "2010 right of V at 809 above B"]', bond="offcut carried on", top=809,
        start=FROM_THE_LEFT,
    )  # fmt: skip
    made = make_plan(parse_job(job))
    assert made.laid[0].areas[0].grid.bond_shift == pytest.approx(400.0, abs=1e-6)
    widths = ends(made)
    for (_, last), (first, _) in pairwise(widths):
        assert last + first + 2 <= 600 + 1e-6


def test_joints_that_all_but_meet_are_worth_a_look() -> None:
    # 2390 wide: 4 x 603 - 2392 is 20, and a fifth of 600 is 120. 2000 wide it is 410, 193 from the next joint.
    found = [one for one in plan(2390).findings if one.rule == "joints near"]
    assert [one.value for one in found] == [pytest.approx(20.0)]
    assert found[0].text.startswith("a: the joints of each course lie 20 beside those of the one below, under a fifth")
    assert not [one for one in plan(2000).findings if one.rule == "joints near"]


@pytest.mark.parametrize(
    ("was", "instead", "words"),
    [
        ("right: {at: 2000 right of V, true: plumb, still to come: 0}", "", "nothing ends them on the right"),
        ("start:", "turn: 30, start:", "cuts them to points"),
    ],
)
def test_what_it_cannot_be_laid_on(was: str, instead: str, words: str) -> None:
    job = text(2000).replace(f"      {was}\n", "") if not instead else text(2000).replace(was, instead)
    if instead:
        job = job.replace("left on V, up: sits on B", "corner on V, up: corner on B")
    with pytest.raises(JobError, match=words):
        make_plan(parse_job(job))
