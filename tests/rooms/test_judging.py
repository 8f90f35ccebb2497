"""Whether what was cut for a type is right in a room: figures worked by hand."""

from __future__ import annotations

import pytest

from cutmarks.errors import JobError
from cutmarks.job import parse_job
from cutmarks.job.rooms_file import load_rooms
from cutmarks.rooms.flow import Rooms
from cutmarks.rooms.model import RoomFits
from cutmarks.rooms.report import report_of
from cutmarks.saying.rooms import verdict_words
from tests.bench.rooms_campaign import Tally, rooms_looked_at

TYPE = """\
job: Harbour bath
tiles:
  rib: {size: 297 x 97, measured: yes, box: 10}
surfaces:
  - name: basin wall
    kind: wall
    lines: {V: plumb, B: level}
    edges:
      left: {at: 640 left of V, what: end panel, true: plumb, gap: 5}
      right: {at: 700 right of V, what: shelf, true: plumb, gap: 5}
      bottom: {at: 5 below B, what: worktop, true: level}
      top: {at: 302 above B, what: shelf, true: level, gap: 5}
    areas: [{name: splash, tile: rib, joint: 3, start: {across: joint on V, up: sits on B}}]
    holes:
      - {name: hot, what: 15 copper, opening: 35, across: 67 to 83 left of V, up: 140 to 156 above B, cover: 65}
      - {name: cold, what: 15 copper, opening: 35, across: 67 to 83 right of V, up: 140 to 156 above B, cover: 50}
"""


def rooms_of(tmp_path, listed: str, types: dict[str, str] | None = None) -> Rooms:
    path = tmp_path / "rooms.yaml"
    path.write_text(f"site: Harbour View\ntype: bath.yaml\nrooms:\n{listed}", encoding="utf-8")
    held = {"bath.yaml": TYPE, **(types or {})}
    return Rooms(load_rooms(path), lambda name: parse_job(held[name], name))


def judge(tmp_path, *readings: str, hand: str = "as drawn") -> RoomFits:
    listed = f'  - name: "1"\n    hand: {hand}\n    read:\n' + "".join(f"      - {{{one}}}\n" for one in readings)
    rooms = rooms_of(tmp_path, listed)
    return rooms.room(rooms.specs[0]).fits


# A pipe of 15 in a hole of 35: (35 - 15) / 2 = 10 any way, and the rose of 65 hides it by 12.
# Under a rose of 50: (50 - 35) / 2 = 7.5, less the lap of 3: 4.5.
@pytest.mark.parametrize(
    ("hole", "across", "says", "why"),
    [
        ("hot", "72 to 88 left of V", "fits", ""),  # 5 of 10
        ("hot", "72.1 to 88.1 left of V", "close", ""),
        ("hot", "76.9 to 92.9 left of V", "close", ""),
        ("hot", "77.1 to 93.1 left of V", "anew", "thing"),
        ("cold", "71.4 to 87.4 right of V", "close", ""),
        ("cold", "71.6 to 87.6 right of V", "anew", "cover"),
        ("cold", "77.5 to 93.5 right of V", "anew", "thing"),
        ("hot", "64 to 86 left of V", "unjudged", "width"),  # 22 wide: another pipe
    ],
)
def test_a_hole_is_judged_by_what_goes_through_it_and_what_hides_it(tmp_path, hole, across, says, why):
    (verdict,) = judge(tmp_path, f"hole: {hole}, across: {across}").verdicts
    assert (verdict.says, verdict.why) == (says, why)
    assert verdict.pieces == (("splash 2-3",) if hole == "hot" else ("splash 2-4",))


def test_both_ways_count_together_and_are_said(tmp_path):
    # 7 right and 8 up are 10.6 from where it is: more than 10.
    room = judge(tmp_path, "hole: hot, across: 60 to 76 left of V, up: 148 to 164 above B")
    (verdict,) = room.verdicts
    assert (verdict.right, verdict.up, verdict.says) == (7.0, 8.0, "anew")
    style = rooms_of(tmp_path, '  - name: "1"\n').plan(("bath.yaml", "as drawn")).say.style
    assert verdict_words(verdict, style) == (
        "it is 7 right, 8 up of where the type has it, and 10 is allowed that way: it does not go through the hole."
    )
    assert room.specials == ("splash 2-3",)


# A joint of 5 at the end panel: it may become 2 at the least, so 3 narrower; 10 at the most, so 5 wider.
@pytest.mark.parametrize(
    ("at", "says", "why"),
    [
        ("641 left of V", "fits", ""),
        ("643 left of V", "close", ""),
        ("645 left of V", "close", ""),
        ("645.5 left of V", "anew", "wide"),
        ("638 left of V", "close", ""),
        ("637 left of V", "close", ""),
        ("636.5 left of V", "anew", "tight"),
    ],
)
def test_a_trimmed_piece_is_judged_by_the_joint_that_it_leaves(tmp_path, at, says, why):
    (verdict,) = judge(tmp_path, f"edge: left, at: {at}").verdicts
    assert (verdict.says, verdict.why) == (says, why)
    assert verdict.pieces == ("splash 1-1", "splash 2-1", "splash 3-1")


def test_an_edge_that_leaves_room_for_one_piece_more_says_so(tmp_path):
    # Whole tiles reach 598.5 from V; at 960 the next one is whole, and 53.5 stand beyond it.
    room = judge(tmp_path, "edge: left, at: 960 left of V")
    assert {verdict.why for verdict in room.verdicts} >= {"one more"}
    assert room.worst == "anew"


def test_in_a_mirrored_room_what_was_read_is_as_one_faces_it(tmp_path):
    # No pair is declared: hot lies right of V there, 67 to 83.
    (verdict,) = judge(tmp_path, "hole: hot, across: 70 to 86 right of V", hand="mirrored").verdicts
    assert (verdict.right, verdict.says) == (3.0, "fits")


def test_a_room_without_readings_is_as_its_type(tmp_path):
    room = rooms_of(tmp_path, '  - name: "1"\n')
    assert room.room(room.specs[0]).fits.worst == "fits"


def test_a_room_added_or_read_later_changes_no_other_fingerprint(tmp_path):
    one = rooms_of(tmp_path, '  - name: "1"\n')
    two = rooms_of(tmp_path, '  - name: "0"\n    hand: mirrored\n  - name: "1"\n')
    read = rooms_of(tmp_path, '  - name: "1"\n    read: [{hole: hot, across: 68 to 84 left of V}]\n')
    prints = [rooms.fingerprint(rooms.specs[-1]) for rooms in (one, two, read)]
    assert prints[0] == prints[1] != prints[2]


def test_quantities_are_of_all_rooms_and_what_is_alike_is_one_number(tmp_path):
    rooms = rooms_of(
        tmp_path,
        '  - name: "1"\n  - name: "2"\n    hand: mirrored\n'
        '  - name: "3"\n    read: [{hole: hot, across: 80 to 96 left of V}]\n',
    )
    report = report_of(rooms, {room.name: rooms.room(room).fits for room in rooms.specs})
    (rib,) = report.tiles
    # A course: two whole tiles each side of V to 598.5, ends of 33.5 and 93.5, which one tile gives: 5 tiles. Three
    # courses, three walls: 45, and one piece is cut anew.
    assert (rib.laid, rib.specials) == (45, 1)
    # Holed: 2 a wall, 6: one spare in ten begun; trimmed: 6 a wall, 18: at the usual one in twenty one.
    assert rib.spare == 2
    assert rib.boxes == 5  # 48 tiles, ten a box
    ends = [group for group in report.alike if any(member.piece == "splash 1-1" for member in group.members)]
    # The left end of 33.5 as drawn has its maker's edge at the right; the mirrored room's right end has it at the left.
    assert next(group.count for group in ends) == 6  # three courses, in rooms 1 and 3
    hot = next(group for group in report.alike if any(member.piece == "splash 2-3" for member in group.members))
    # In the mirrored room cold comes through where hot does in the other: one number, one drawing.
    members = {(member.hand, member.piece, member.rooms) for member in hot.members}
    assert members == {("as drawn", "splash 2-3", 1), ("mirrored", "splash 2-3", 1)}


def test_a_reading_that_cannot_be_taken_is_told_with_its_line_and_the_other_rooms_go_on(tmp_path):
    rooms = rooms_of(tmp_path, '  - name: "1"\n    read:\n      - {hole: hto, across: 70 to 86 left of V}\n')
    with pytest.raises(JobError, match=r'rooms.yaml line 6.*"hto" is no hole on basin wall: write hot or cold\.'):
        rooms.room(rooms.specs[0])


def test_random_rooms_are_judged_as_discs_and_boxes_say():
    tally = Tally()
    wrong = [sentence for number in range(700_000, 700_004) for sentence in rooms_looked_at(number, 10, tally)]
    assert wrong == []
    assert tally.rooms == 40
    assert 5 < tally.fits < 35
