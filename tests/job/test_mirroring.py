"""A room of the other hand: the job that is mirrored, against the same wall laid by hand."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from cutmarks.job import parse_job
from cutmarks.job.grammar import parse_reading
from cutmarks.job.mirroring import mirrored, other_hand
from cutmarks.job.phrasing import reading_words
from cutmarks.job.words import Setting
from cutmarks.plan import make_plan
from cutmarks.readings import CarriesOn
from cutmarks.sides import Side
from cutmarks.units import Unit
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


def test_the_corners_of_one_piece_are_those_of_the_room_as_drawn_and_it_is_said():
    job = parse_job(f"{AS_DRAWN}corner radius of: {{slope 1-1: 8}}\n")
    assert dict(job.corner_radius_of).keys() == {"slope 1-1"}
    made = mirrored(job)
    assert not made.corner_radius_of
    assert any("corner radius of slope 1-1: of the room as drawn" in sentence for sentence in made.assumed)


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


OPEN_TO_DOUBT = """\
job: Tern Yard
note: the left end is seen first
accept: [{rule: thin bridge, about: left tap, reason: the rose on the left hides it}]
tiles:
  rib: {size: 297 x 97, measured: yes}
surfaces:
  - name: wall
    kind: wall
    lines: {V: plumb, B: level}
    edges:
      left: {at: 640 left of V, what: panel}
      right: {at: 700 right of V, what: shelf, true: plumb, gap: 6}
    areas: [{name: splash, tile: rib, joint: 3, start: {across: joint 40 right of V, up: sits on B}}]
    holes:
      - {name: left tap, what: hot 15 copper, across: 67 full to 83 left of V, up: 112 to 128 above B, cover: 65,
         slot: towards the left}
      - {name: right tap, what: cold 22 copper, across: 64 to 86 right of V, up: 116 to 138 above B, cover: 70,
         slot: towards the right}
      - {name: spout, what: 15 copper, across: plumb with left tap, up: 240 in from top there, cover: 65}
      - {name: hook, what: 15 copper, across: 277 in from left there, up: 300 to 316 above B, cover: 65}
    pairs:
      - {of: left tap and right tap, apart: 150}
      - {of: left tap and spout, plumb: yes}
    square: 600 x 800, diagonal 1001
"""


def with_top(text):
    return text.replace("    areas:", "      top: {at: 520 above B, true: level, gap: 4}\n    areas:")


def test_what_was_taken_for_granted_is_said_of_the_mirrored_room_and_of_nothing_else():
    plan = make_plan(mirrored(parse_job(with_top(OPEN_TO_DOUBT))))
    said = "\n".join(plan.assumed)
    # Of the left panel one reading was taken as plumb; it is the right edge now, and its gap is the usual.
    assert "wall, right edge: one reading, taken as plumb; read it at a second place." in said
    assert "wall, left edge: one reading" not in said
    assert "wall: a gap of 3 at right edge; write gap: where it is another." in said
    assert "wall, holes spout, hook: the single distance is taken to the centre" in said
    assert 'wall: full in "67 full to 83 left of V", as drawn, is taken as half a step of the tape more' in said
    assert plan.notes[0] == "In the room as drawn: the left end is seen first"


def test_two_that_are_said_in_one_line_are_told_as_they_lie_in_the_mirrored_room():
    line = '"hot and cold, 15 copper, 150 centres split on V, 120 to 136 above B, rose 65, end comes off"'
    head = with_top(OPEN_TO_DOUBT).split("    holes:\n")[0]
    text = f"{head}    holes:\n      - {line}\n"
    assert any("hot is on the left and cold on the right, in the order" in one for one in parse_job(text).assumed)
    alone = mirrored(parse_job(text)).assumed
    assert any(
        "cold is on the left and hot on the right, as the room is mirrored: as drawn they lie in the order" in one
        for one in alone
    )
    paired = mirrored(parse_job(f"{text}    pairs: [{{of: hot and cold, level: yes}}]\n")).assumed
    assert any("hot is on the left and cold on the right, in the order in which they are said" in one for one in paired)


def test_what_keeps_its_side_keeps_its_name_and_takes_the_readings_of_the_place_that_it_comes_to():
    job = mirrored(parse_job(with_top(OPEN_TO_DOUBT)))
    (wall,) = job.surfaces
    words = {hole.name: [one.text for one in (hole.across, hole.up) if one is not None] for hole in wall.holes}
    # Cold, a 22, was read 64 to 86 right of V, its middle 75: there, on the left, hot is now, 15.5 wide as it was read.
    assert words["left tap"] == ["67.25 to 82.75 left of V", "119 to 135 above B"]
    # Hot's middle was 75.25 left of V; cold is 22 wide.
    assert words["right tap"] == ["64.25 to 86.25 right of V", "109 to 131 above B"]
    slots = {hole.name: hole.open_towards for hole in wall.holes}
    assert (slots["left tap"], slots["right tap"]) == (Side.LEFT, Side.RIGHT)
    # The spout is plumb with what is at the place of the left tap: that is the right one in a mirrored room.
    assert words["spout"][0] == "plumb with right tap"
    assert [pair.of for pair in wall.pairs] == [("right tap", "left tap"), ("right tap", "spout")]
    # The law of cosines: 2 x (600^2 + 800^2) - 1001^2 = 997999, its root 998.999.
    assert wall.square is not None
    assert wall.square.text == "600 x 800, diagonal 998.999"
    assert [(one.about, one.reason) for one in job.accepted] == [
        ("left tap", "In the room as drawn: the rose on the left hides it")
    ]


def test_hot_over_cold_keeps_its_height():
    text = (
        with_top(OPEN_TO_DOUBT)
        .replace("apart: 150}", "plumb: yes}")
        .replace("64 to 86 right of V", "64 to 86 left of V")
    )
    holes = mirrored(parse_job(text)).surfaces[0].holes
    words = {hole.name: [one.text for one in (hole.across, hole.up) if one is not None] for hole in holes}
    assert words["right tap"] == ["67.5 to 83 right of V", "112 to 128 above B"]


WALL = Setting(lines={"V": "x", "B": "y"}, holes={"hot": "hot"}, areas={"splash": "splash"}, points={})
FLOOR = replace(WALL, kind="floor", lines={"C": "x", "D": "y"})


@pytest.mark.parametrize(
    ("phrase", "axis", "setting"),
    [
        ("67 to 83 left of V", "across", WALL), ("67\u00bd to 83 right of V", "across", WALL),
        ("42 left to 30 right of V", "across", WALL), ("0 to 16 left of V", "across", WALL),
        ("centre 75 left of V", "across", WALL), ("on V", "across", WALL),
        ("left side 67 right of V", "across", WALL), ("near 67 left of V", "across", WALL),
        ("right side on V", "across", WALL), ("67 to 83 in from right there", "across", WALL),
        ("277 in from left there", "across", WALL), ("near 67 in from right there", "across", WALL),
        ("plumb with hot", "across", WALL), ("centre 150 left of hot", "across", WALL),
        ("level with hot", "up", WALL), ("centre 12 below hot", "up", WALL), ("12 below to 30 above B", "up", WALL),
        ("in course 4 of splash, 98 to 114 up", "up", WALL), ("in course under 2, 9 up", "up", WALL),
        ("underside 30 below B", "up", WALL),
        ("1420 to 1530 from D", "up", FLOOR), ("20 short of to 30 from D", "up", FLOOR),
        ("2 5/8 to 3 1/4 left of V", "across", replace(WALL, unit=Unit.INCH)),
        ("67 to 83 mm left of V", "across", replace(WALL, unit=Unit.CM)),
    ],
)  # fmt: skip
def test_a_reading_in_words_reads_back_as_itself(phrase, axis, setting):
    # What parses a phrase is not what words it: the grammar is the second method.
    read = parse_reading(phrase, axis, setting)
    again = parse_reading(reading_words(read, axis, setting), axis, setting)
    assert replace(again, text="") == replace(read, text="")


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
    said = (
        "accept: [{rule: thin bridge, about: splash 3-4, reason: the rose}, {rule: narrow piece, reason: seen}, "
        "{rule: thin bridge, about: splash 1-L2, reason: the rose}]\n"
    )
    job = mirrored(parse_job(said + AS_DRAWN))
    assert [one.rule for one in job.accepted] == ["narrow piece"]
    # Where its left end is not measured, a course is counted from its start: 1-L2 is the second to the left of it.
    for piece in ("splash 3-4", "splash 1-L2"):
        assert any(piece in sentence and "told again" in sentence for sentence in job.assumed)


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
