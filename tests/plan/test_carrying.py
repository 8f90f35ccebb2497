"""`carries on from`: a course goes round the corner with what came off the end of the other wall; figures by hand."""

from __future__ import annotations

import pytest

from cutmarks.buying.flow import what_to_buy
from cutmarks.errors import JobError
from cutmarks.job import parse_job
from cutmarks.plan import Plan, make_plan
from cutmarks.plan.choices import choices_of

TWO_WALLS = """
job: corner
tiles: {{plank: {{size: 600 x 200, measured: yes}}}}
surfaces:
  - name: sink wall
    kind: wall
    lines: {{V: "plumb, left end", B: "level, laser"}}
    gaps: {{left: 0, right: 0, top: 0, bottom: 0}}
    edges:
      left: {{at: on V, true: plumb, still to come: 0}}
      right: {{at: 2000 right of V, true: plumb, still to come: 0}}
      bottom: {{at: on B, true: level, what: worktop}}
      top: {{at: 606 above B, true: level}}
    areas: [{{name: field, tile: plank, joint: 3, bond: {bond}, start: {{across: left on V, up: sits on B}}}}]
  - name: end wall
    kind: wall
    lines: {{V: "plumb, left end", B: "level, laser"}}
    gaps: {{left: {gap}, right: 0, top: 0, bottom: 0}}
    edges:
      left: {{at: on V, true: plumb, still to come: 0}}
      right: {{at: 1500 right of V, true: plumb, still to come: 0}}
      bottom: {{at: on B, true: level, what: worktop}}
      top: {{at: 606 above B, true: level}}
    areas: [{{name: end, tile: plank, joint: 3, bond: {bond}, {carries}}}]
"""


def plan(bond: str = "stack", gap: int = 3, carries: str = "carries on from: sink wall") -> Plan:
    return make_plan(parse_job(TWO_WALLS.format(bond=f'"{bond}"', gap=gap, carries=carries)))


def widths(made: Plan, surface: str, first: bool) -> list[float]:
    """How wide the first or the last piece of each course is where it is cut, from the lowest up, mm."""
    found: dict[int, dict[int, float]] = {}
    for piece in made.pieces:
        if piece.piece.surface == surface:
            column, row = piece.piece.place
            found.setdefault(row, {})[column] = piece.piece.outline.bounds.width
    return [row[min(row) if first else max(row)] for _, row in sorted(found.items())]


def test_the_other_part_of_the_last_tile_begins_the_next_wall() -> None:
    # Three tiles and joints of 2000 are 1809: 191 are left. The corner's joint of 3 is over the saw's 2: 600 - 191 - 3
    # = 406. After the gap of 3, 406 and a joint of 3 the first whole tile is 412 right of V.
    made = plan()
    assert widths(made, "sink wall", first=False) == [pytest.approx(191)] * 3
    assert widths(made, "end wall", first=True) == [pytest.approx(406)] * 3
    assert made.assumed[-1] == (
        "end wall, end: carries on from sink wall, where its course ends at the right in 191 of a tile, less 3: 406 "
        "begin it here, left on 412 right of V, sits on B."
    )


def test_where_the_corner_has_no_joint_the_saw_takes_its_own() -> None:
    # 600 - 191 - 2 = 407.
    assert widths(plan(gap=0), "end wall", first=True) == [pytest.approx(407)] * 3


def test_every_course_of_a_bond_goes_on_with_its_own_tile() -> None:
    # A third of 603 is 201, to the left: course 2 ends in 191 + 201 = 392, and 600 - 392 - 3 = 205 begin the other
    # wall.
    made = plan("third left")
    assert widths(made, "sink wall", first=False) == pytest.approx([191, 392, 191])
    assert widths(made, "end wall", first=True) == pytest.approx([406, 205, 406])


def test_to_the_left_it_is_the_same_in_a_mirror() -> None:
    # Of the sink wall's left end, whole tiles: the end wall ends in a whole tile at its right, 1500 - 600 - 603 = 297.
    made = plan(carries="carries on from: the left of sink wall")
    assert "ends at the left in a whole tile: 600 begin it here, left on 297 right of V" in made.assumed[-1]
    assert widths(made, "end wall", first=False) == [pytest.approx(291)] * 3


def test_one_tile_is_bought_for_both() -> None:
    # Nine whole ones on the sink wall; 412 + 603 = 1015 leave one whole tile and 1500 - 1015 = 485 on the end wall: 12
    # whole, and nine pieces of which three come out of what the sink wall's last tiles leave.
    (need,) = what_to_buy(plan()).tiles
    assert (need.whole, need.cut, need.laid) == (12, 9, 18)
    assert all(len(shared.pieces) == 2 for shared in need.shared)


@pytest.mark.parametrize(
    ("carries", "words"),
    [
        ("carries on from: drying room", 'no other surface called "drying room"'),
        ("carries on from: sink wall, start: {across: joint on V, up: sits on B}", "leave one out"),
        ("carries on from: sink wall, joint: 2", "a course goes on with the same"),
        ("carries on from: sink wall, turn: 30", "do not go round a corner"),
    ],
)
def test_what_cannot_be_carried_on(carries: str, words: str) -> None:
    text = TWO_WALLS.format(bond="stack", gap=3, carries=carries)
    if "joint: 2" in carries:
        text = text.replace("joint: 3, bond: stack, carries", "bond: stack, carries")
    with pytest.raises(JobError, match=words):
        make_plan(parse_job(text))


def test_walls_that_wait_for_each_other_are_told() -> None:
    text = TWO_WALLS.format(bond="stack", gap=3, carries="carries on from: sink wall")
    ring = text.replace("start: {across: left on V, up: sits on B}", "carries on from: end wall")
    with pytest.raises(JobError, match="it goes round in a ring: give one its start"):
        make_plan(parse_job(ring))


def test_before_the_other_wall_has_a_start_it_has_none_either() -> None:
    text = TWO_WALLS.format(bond="stack", gap=3, carries="carries on from: sink wall")
    text = text.replace(", start: {across: left on V, up: sits on B}", "", 1)
    job = parse_job(text)
    looked = make_plan(job, undecided=True)
    assert [one.unlooked.lacks for one in looked.surfaces if one.unlooked] == ["start", "start"]
    sink, end = choices_of(job)
    assert sink.offers
    assert end.why_not == "area end carries on from sink wall, which has no start yet: choose that first."
    with pytest.raises(JobError) as refused:
        make_plan(job)
    told = [fault.sentence for fault in refused.value.faults]
    assert len(told) == 2
    assert any(one.startswith("sink wall has no start yet to carry on from") for one in told)


def test_walls_that_go_on_into_each_other_keep_their_bond() -> None:
    # Thirds would be tried for halves of a tile of 600; the other wall is laid in halves too.
    text = TWO_WALLS.format(bond="half", gap=3, carries="carries on from: sink wall")
    sink = choices_of(parse_job(text.replace(", start: {across: left on V, up: sits on B}", "", 1)))[0]
    assert {start.bond for offer in sink.offers for start in offer.starts} == {None}
