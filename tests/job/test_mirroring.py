"""A room of the other hand: the job that is mirrored, against the same wall laid by hand."""

from __future__ import annotations

import pytest

from cutmarks.job import parse_job
from cutmarks.job.mirroring import mirrored, other_hand
from cutmarks.plan import make_plan
from cutmarks.readings import CarriesOn
from cutmarks.sides import Side
from tests.bench.rooms_campaign import Tally, type_looked_at

AS_DRAWN = """\
job: Tern Yard
tiles:
  rib: {size: 297 x 97, measured: yes}
surfaces:
  - name: left wall
    kind: wall
    lines: {V: plumb, W: "plumb, 400 right of V", B: level}
    edges:
      left: {at: [640 left of V at B, 634 left of V at 500 above B], what: left panel, gap: 4}
      right: {at: 700 right of V, what: shelf, true: plumb, gap: 6}
      bottom:
        steps:
          - {at: 5 below B, until: 300 right of V, what: worktop}
          - {at: 45 below B, what: sill}
      top: {at: 520 above B, true: level}
    areas:
      - {name: splash, tile: rib, joint: 3, bond: third right, work: left to right,
         start: {across: left on V, up: sits on B}}
    windows:
      - {name: left window, across: 60 to 180 right of W, up: 250 to 380 above B}
    holes:
      - {name: hot, what: 15 copper, across: 67 to 83 left of V, up: 112 to 128 above B, cover: 65, end: comes off}
      - {name: cold, what: 15 copper, across: centre 150 right of hot, up: level with hot, cover: 65, end: comes off}
      - {name: spur, what: box, size: 70 x 40, lean: 5, across: centre 500 left of V, up: centre 300 above B,
         cover: none}
    pairs: [{of: hot and cold, level: yes}]
    note: begin at the left
"""
BY_HAND = """\
job: Tern Yard
tiles:
  rib: {size: 297 x 97, measured: yes}
surfaces:
  - name: right wall
    kind: wall
    lines: {V: plumb, W: "plumb, 400 left of V", B: level}
    edges:
      left: {at: 700 left of V, what: shelf, true: plumb, gap: 6}
      right: {at: [640 right of V at B, 634 right of V at 500 above B], what: right panel, gap: 4}
      bottom:
        steps:
          - {at: 45 below B, until: 300 left of V, what: sill}
          - {at: 5 below B, what: worktop}
      top: {at: 520 above B, true: level}
    areas:
      - {name: splash, tile: rib, joint: 3, bond: third left, work: right to left,
         start: {across: right on V, up: sits on B}}
    windows:
      - {name: right window, across: 60 to 180 left of W, up: 250 to 380 above B}
    holes:
      - {name: hot, what: 15 copper, across: 67 to 83 left of V, up: 112 to 128 above B, cover: 65, end: comes off}
      - {name: cold, what: 15 copper, across: 67 to 83 right of V, up: 112 to 128 above B, cover: 65, end: comes off}
      - {name: spur, what: box, size: 70 x 40, lean: 5 clockwise, across: centre 500 right of V, up: centre 300 above B,
         cover: none}
"""


def pieces(text: str, *, turned: bool) -> list[tuple[object, ...]]:
    """What is cut, and in which order: names, places in words, outlines and holes, to a thousandth."""
    job = parse_job(text)
    plan = make_plan(mirrored(job) if turned else job)
    return sorted(
        (
            piece.name,
            piece.words,
            tuple(tuple((round(v.x, 3), round(v.y, 3)) for v in ring.vertices) for ring in piece.outline.rings),
            tuple((cut.opening.name, round(cut.from_left, 3), round(cut.from_bottom, 3)) for cut in piece.cuts),
            piece.rank,
        )
        for piece in plan.pieces
    )


def test_a_mirrored_job_has_the_pieces_of_the_one_that_was_written_by_hand():
    made, by_hand = pieces(AS_DRAWN, turned=True), pieces(BY_HAND, turned=False)
    assert len(by_hand) > 20
    assert made == by_hand


def test_what_is_said_of_a_side_is_said_anew_and_remarks_say_of_which_room():
    job = mirrored(parse_job(AS_DRAWN))
    wall = job.surfaces[0]
    assert (job.name, wall.name, wall.note) == (
        "Tern Yard, mirrored", "right wall", "In the room as drawn: begin at the left",
    )  # fmt: skip
    assert wall.areas[0].bond.words == "third left"
    assert [window.name for window in wall.windows] == ["right window"]
    assert wall.edges[Side.RIGHT].what == "right panel"
    assert other_hand("RH end, Left of the right-angle valve") == "LH end, Right of the right-angle valve"


def across(hole):
    """What a hole is read from where that is another hole, and its figures, mm."""
    return hole.name, hole.across.other, hole.across.low, hole.across.high


def test_hot_stays_on_its_side_in_a_declared_pair_and_else_it_is_said():
    hot, cold, _ = mirrored(parse_job(AS_DRAWN)).surfaces[0].holes
    assert across(hot) == ("hot", "cold", -150.0, None)
    assert across(cold) == ("cold", None, 67.0, 83.0)
    alone = mirrored(parse_job(AS_DRAWN.replace("    pairs: [{of: hot and cold, level: yes}]\n", "")))
    assert any("hot and cold change sides in a mirrored room" in sentence for sentence in alone.assumed)
    assert across(alone.surfaces[0].holes[0]) == ("hot", None, 67.0, 83.0)


BRACKET = """\
job: Tern Yard
tiles: {slab: {size: 597 x 597, measured: yes}}
surfaces:
  - name: wall
    kind: wall
    lines: {V: plumb, B: level}
    edges: {left: 900 left of V, right: 900 right of V, bottom: 5 below B, top: 1203 above B}
    areas: [{name: field, tile: slab, joint: 3, start: {across: middle on V, up: sits on B}}]
    holes:
      - name: bracket
        cover: none
        play: 0
        outline: ["100 right of V, 200 above B", "160 right of V, 200 above B", "100 right of V, 260 above B"]
"""


@pytest.mark.parametrize(
    ("handed", "right_angle_at"),
    # The bracket's right angle is at its left end, 100 from V; its place runs from 100 to 160, mirrored from -160 to
    # -100. The same bracket has its right angle at -160 there; one that is handed has it at -100.
    [("no", -160.0), ("yes", -100.0)],
)
def test_places_mirror_and_shapes_do_not(handed, right_angle_at):
    job = parse_job(BRACKET.replace("        play: 0\n", f"        play: 0\n        handed: {handed}\n"))
    (opening,) = make_plan(mirrored(job)).openings
    corners = [(round(v.x, 6), round(v.y, 6)) for v in opening.ring.vertices]
    assert {x for x, _ in corners} == {-160.0, -100.0}
    (apex,) = [x for x, y in corners if y == 260.0]
    assert apex == right_angle_at


def test_what_was_accepted_of_a_piece_is_told_again_in_the_other_hand():
    said = "accept: [{rule: thin bridge, about: splash 3-4, reason: the rose}, {rule: narrow piece, reason: seen}]\n"
    job = mirrored(parse_job(said + AS_DRAWN))
    assert [one.rule for one in job.accepted] == ["narrow piece"]
    assert any("splash 3-4" in sentence and "told again" in sentence for sentence in job.assumed)


def test_random_types_mirrored_have_the_pieces_of_their_numbers_mirrored():
    tally = Tally()
    wrong = [sentence for number in range(700_000, 700_008) for sentence in type_looked_at(number, tally)]
    assert wrong == []
    assert tally.types >= 6


def test_an_offcut_is_carried_on_from_the_other_end():
    carried = "offcut carried on"
    made = pieces(AS_DRAWN.replace("third right", carried), turned=True)
    by_hand = pieces(BY_HAND.replace("third left", f'"{carried}, from the right"'), turned=False)
    assert made == by_hand


def test_a_wall_that_carries_on_does_so_from_the_other_side():
    # On its left lay the left wall, whose right end it goes on from: now the right wall lies on its right.
    text = AS_DRAWN.replace("job: Tern Yard\n", "job: Tern Yard\ncourses run round: [left wall, end wall]\n") + (
        "  - name: end wall\n    kind: wall\n    lines: {V: plumb, B: level}\n"
        "    areas: [{name: end, tile: rib, joint: 3, bond: third right, carries on from: left wall}]\n"
    )
    made = mirrored(parse_job(text))
    assert made.courses_run_round == ("right wall", "end wall")
    carries = made.surfaces[1].areas[0].carries_on_from
    assert carries == CarriesOn("left", "right wall")
