"""Whether what was cut for a type is right in a room: figures worked by hand."""

from __future__ import annotations

import pytest

from cutmarks.buying.flow import what_to_buy
from cutmarks.errors import JobError
from cutmarks.job import parse_job
from cutmarks.job.rooms_file import load_rooms
from cutmarks.marks.elevation_view import courses, drawn_of, extent, tile_ring, whole_places
from cutmarks.plan import Plan
from cutmarks.rooms.flow import Rooms, RoomWork, TypeInHand
from cutmarks.rooms.model import RoomFits
from cutmarks.rooms.report import report_of
from cutmarks.saying.rooms import verdict_words
from cutmarks.tiling.model import Counts
from cutmarks.writers.rooms import read_record, record_of, room_names
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


def special_of(work: RoomWork) -> Plan:
    assert work.special is not None
    return work.special


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


def test_what_is_left_out_of_the_types_pack_and_what_reads_otherwise_is_said(tmp_path):
    room = judge(tmp_path, "edge: left, at: 636.5 left of V")
    (verdict,) = room.verdicts
    style = rooms_of(tmp_path, '  - name: "1"\n').plan(("bath.yaml", "as drawn")).say.style
    # 3.5 narrower, and of the joint of 5 only 3 can go.
    assert verdict_words(verdict, style) == (
        "the opening is 3\u00bd narrower than the type's, and 3 of its joint can go: trim 3\u00bd off what is cut "
        "already, \u00bd at the least, or cut it anew. What other sheets of the type read from that edge is 3\u00bd "
        "less here."
    )
    assert room.replaced == ("splash 1-1", "splash 2-1", "splash 3-1")


def test_an_edge_that_leaves_room_for_one_piece_more_says_so(tmp_path):
    # Whole tiles reach 598.5 from V; at 960 the next one is whole, and 53.5 stand beyond it.
    room = judge(tmp_path, "edge: left, at: 960 left of V")
    assert {verdict.why for verdict in room.verdicts} >= {"one more"}
    assert room.worst == "anew"


BOX = """\
job: Harbour bath
tiles:
  slab: {size: 597 x 597, measured: yes}
surfaces:
  - name: basin wall
    kind: wall
    lines: {V: plumb, B: level}
    edges: {left: 900 left of V, right: {at: 900 right of V, true: plumb}, bottom: 5 below B}
    areas: [{name: splash, tile: slab, joint: 3, start: {across: middle on V, up: sits on B}}]
    holes:
      - name: box
        what: socket box
        cover: 88 x 88
        corners: ["100 right of V, 200 above B", "170 right of V, 200 above B", "170 right of V, 270 above B",
                  "100 right of V, 270 above B"]
      - {name: bracket, cover: none, play: 2, outline: ["100 left of V, 200 above B", "160 left of V, 200 above B",
         "100 left of V, 260 above B"]}
"""


def judge_box(tmp_path, *readings: str) -> RoomFits:
    listed = '  - name: "1"\n    type: box.yaml\n    read:\n' + "".join(f"      - {{{one}}}\n" for one in readings)
    rooms = rooms_of(tmp_path, listed, {"box.yaml": BOX})
    return rooms.room(rooms.specs[0]).fits


# The box is 70 x 70, its hole 74 x 74: 2 to each side. Under the plate of 88 it is hidden by 7, less the lap of 2: 5.
@pytest.mark.parametrize(
    ("reading", "says", "right", "up"),
    [
        ("across: 101.5 to 171.5 right of V", "close", 1.5, 0.0),
        ("across: 102.1 to 172.1 right of V", "anew", 2.1, 0.0),
        ("across: 728.5 to 798.5 in from right there, up: 199 to 269 above B", "close", 1.5, -1.0),
        # The corners of the same box leaning by 6 in 70, which is 4.9 degrees: its extent is 76 both ways, over 74.
        ('corners: ["103 right of V, 197 above B", "173 right of V, 203 above B", "167 right of V, 273 above B", '
         '"97 right of V, 267 above B"]', "anew", 0.0, 0.0),
        # By 2 in 70, 1.6 degrees: 72 both ways, and it goes in.
        ('corners: ["101 right of V, 199 above B", "171 right of V, 201 above B", "169 right of V, 271 above B", '
         '"99 right of V, 269 above B"]', "fits", 0.0, 0.0),
        ('corners: ["100 right of V, 200 above B", "175 right of V, 200 above B", "175 right of V, 270 above B", '
         '"100 right of V, 270 above B"]', "unjudged", 2.5, 0.0),
    ],
)  # fmt: skip
def test_a_box_by_its_corners_is_judged_as_it_was_read(tmp_path, reading, says, right, up):
    (verdict,) = judge_box(tmp_path, f"hole: box, {reading}").verdicts
    assert (verdict.says, round(verdict.right, 6), round(verdict.up, 6)) == (says, right, up)


def test_an_outline_is_moved_with_its_shape_and_is_cut_so(tmp_path):
    listed = '  - name: "1"\n    type: box.yaml\n    read: [{hole: bracket, across: 105 to 165 left of V}]\n'
    rooms = rooms_of(tmp_path, listed, {"box.yaml": BOX})
    work = rooms.room(rooms.specs[0])
    assert [(one.what, one.says, one.right) for one in work.fits.verdicts] == [("bracket", "anew", -5.0)]
    (bracket,) = (one for one in special_of(work).openings if one.name == "bracket")
    corners = {(round(v.x, 6), round(v.y, 6)) for v in bracket.thing.vertices}
    assert corners == {(-105.0, 200.0), (-165.0, 200.0), (-105.0, 260.0)}


@pytest.mark.parametrize(
    ("reading", "sentence"),
    [
        (
            "hole: box, up: 240 in from top there",
            "is from the top edge, which the type does not have: read from a line",
        ),
        ("hole: box, across: 100 to 170 right of W", '"W" is no set-out line of this surface: write V or B'),
        (
            'hole: bracket, corners: ["100 right of V, 200 above B"]',
            "read its outermost sides, and write across and up",
        ),
        ('hole: box, corners: ["100 right of V, 200 above B"]', "It has 1 corners: a box has four"),
        ("hole: box, readings: [100 to 170 right of V]", "write corners, or across and up"),
        ("edge: top, at: 1200 above B", "Its type has no top edge"),
    ],
)
def test_a_reading_from_what_the_type_does_not_have_is_asked_for(tmp_path, reading, sentence):
    with pytest.raises(JobError, match=sentence):
        judge_box(tmp_path, reading)


def test_what_was_read_between_two_on_the_types_wall_moves_nothing_that_was_read_in_a_room(tmp_path):
    # Hot is 20 further left and cold was not read: had the 150 between them a say, hot would be 10 off.
    paired = TYPE + "    pairs: [{of: hot and cold, apart: 150}]\n"
    listed = '  - name: "1"\n    read: [{hole: hot, across: 87 to 103 left of V}]\n'
    rooms = rooms_of(tmp_path, listed, {"bath.yaml": paired})
    (verdict,) = rooms.room(rooms.specs[0]).fits.verdicts
    assert (verdict.right, verdict.up) == (-20.0, 0.0)


def test_several_readings_of_a_hole_are_adjusted_together(tmp_path):
    # From V it is 73, and from the right edge, 700 from V, 775 less 700: 75. Adjusted, it is between the two.
    readings = "readings: [65 to 81 left of V, 767 to 783 in from right there, centre 148 above B]"
    (verdict,) = judge(tmp_path, f"hole: hot, {readings}").verdicts
    assert 0.0 < verdict.right < 2.0


def test_where_an_edge_takes_a_piece_away_its_neighbour_is_trimmed_and_names_move(tmp_path):
    # At 600 less the gap of 5 the tile from -595.5 - 3 on loses 3.5: it is the first of its course there, and hot's the
    # second; in the type they are 1-2 and 2-3. Hot at 80 to 96 is 13 off, over the 10 that it may be.
    room = judge(tmp_path, "edge: left, at: 600 left of V", "hole: hot, across: 80 to 96 left of V")
    said = {(one.why, one.pieces, one.anew) for one in room.verdicts}
    left = [f"splash {course}-1" for course in (1, 2, 3)]
    assert ("one less", tuple(left), ()) in said
    assert ("trimmed", (), tuple(left)) in said
    assert ("thing", ("splash 2-3",), ("splash 2-2",)) in said
    assert set(room.specials) == {*left, "splash 2-2"}
    listed = (
        '  - name: "1"\n    read: [{edge: left, at: 600 left of V}, {hole: hot, across: 80 to 96 left of V}]\n'
        '  - name: "2"\n'
    )
    rooms = rooms_of(tmp_path, listed)
    special = special_of(rooms.room(rooms.specs[0]))
    assert {cut.opening.name: piece.name for piece in special.pieces for cut in piece.cuts} == {"hot": "splash 2-2"}
    report = report_of(rooms, {one.name: rooms.room(one).fits for one in rooms.specs})
    # Hot's tile as the type has it is cut for room 2 alone, and so are its left ends.
    counts = {member.piece: member.rooms for group in report.alike for member in group.members}
    assert (counts["splash 2-3"], counts["splash 1-1"], counts["splash 2-4"]) == (1, 1, 2)
    assert report.tiles[0].specials == 4


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


def test_a_type_added_later_changes_no_other_fingerprint_and_no_folder(tmp_path):
    one = rooms_of(tmp_path, '  - name: "1"\n')
    more = rooms_of(tmp_path, '  - name: "1"\n  - name: "9"\n    type: box.yaml\n', {"box.yaml": BOX})
    assert one.fingerprint(one.specs[0]) == more.fingerprint(more.specs[0])
    kind: TypeInHand = ("bath.yaml", "as drawn")
    prints = [[piece.fingerprint for piece in rooms.plan(kind).pieces] for rooms in (one, more)]
    assert prints[0] == prints[1]
    assert room_names(one.names)["1"] == room_names(more.names)["1"]


def test_a_thing_that_went_on_to_the_next_tile_has_both_cut_anew_and_the_one_that_it_left_is_whole(tmp_path):
    # Hot's tile ends 1.5 left of V; at 60 to 76 right of V the pipe comes through the next, 1.5 to 298.5.
    listed = '  - name: "1"\n    read: [{hole: hot, across: 60 to 76 right of V}]\n'
    alone = TYPE.replace("      - {name: cold", "      # {name: cold")
    rooms = rooms_of(tmp_path, listed, {"bath.yaml": alone})
    work = rooms.room(rooms.specs[0])
    (verdict,) = work.fits.verdicts
    assert (verdict.says, verdict.pieces) == ("anew", ("splash 2-3",))
    assert (verdict.whole, verdict.anew) == (("splash 2-3",), ("splash 2-4",))
    style = rooms.plan(("bath.yaml", "as drawn")).say.style
    assert verdict_words(verdict, style).endswith(
        "it does not go through the hole. splash 2-3 is a whole tile there. Cut anew there: splash 2-4."
    )
    assert [piece.name for piece in special_of(work).pieces] == ["splash 2-4"]
    assert read_record(record_of(work.fits)) == work.fits


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
    # A wall has 6 trimmed pieces; of 4 whole tiles a course 12, two of them with a hole. Ten remain, three times.
    assert (rib.whole, rib.holed, rib.untouched) == (36, 6, 30)
    ends = [group for group in report.alike if any(member.piece == "splash 1-1" for member in group.members)]
    # The left end of 33.5 as drawn has its maker's edge at the right; the mirrored room's right end has it at the left.
    assert next(group.count for group in ends) == 6  # three courses, in rooms 1 and 3
    hot = next(group for group in report.alike if any(member.piece == "splash 2-3" for member in group.members))
    # In the mirrored room cold comes through where hot does in the other: one number, one drawing.
    members = {(member.hand, member.piece, member.rooms) for member in hot.members}
    assert members == {("as drawn", "splash 2-3", 1), ("mirrored", "splash 2-3", 1)}


def test_a_piece_with_corners_of_its_own_is_alike_to_no_other(tmp_path):
    # The three left ends of 33.5 are one number but for the one whose corners are made otherwise.
    rooms = rooms_of(tmp_path, '  - name: "1"\n', {"bath.yaml": f"{TYPE}corner radius of: {{splash 3-1: 8}}\n"})
    report = report_of(rooms, {room.name: rooms.room(room).fits for room in rooms.specs})
    ends = [{member.piece for member in group.members} for group in report.alike]
    assert {"splash 1-1", "splash 2-1"} in ends
    assert {"splash 3-1"} in ends


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


# Beside its neighbours hot's tile 2-3 runs from -298.5 to -1.5: its right neighbour begins at 1.5. The pipe is expected
# 67 to 83 left of V, which is 68.5 to 84.5 from there.
@pytest.mark.parametrize(
    ("reading", "says", "right", "up"),
    [
        ("piece: splash 2-3, right: 71.5 to 87.5", "fits", -3.0, 0.0),
        ("piece: splash 2-3, hole: hot, right: 79 to 95", "anew", -10.5, 0.0),
        # Course 2 stands on course 1, which ends 97 above B: the pipe, at 148, is expected 43 to 59 above that.
        ("piece: splash 2-3, bottom: 49 to 65", "close", 0.0, 6.0),
        ("piece: splash 2-3, right: 68.5 to 90.5", "unjudged", -3.0, 0.0),
    ],
)
def test_what_is_read_at_a_piece_that_is_cut_judges_it_and_moves_nothing(tmp_path, reading, says, right, up):
    room = judge(tmp_path, reading)
    (verdict,) = room.verdicts
    assert verdict.pieces == ("splash 2-3",)
    assert (verdict.what, verdict.says, round(verdict.right, 6), round(verdict.up, 6)) == ("hot", says, right, up)
    rooms = rooms_of(tmp_path, f'  - name: "1"\n    read: [{{{reading}}}]\n')
    before = rooms.plan(("bath.yaml", "as drawn"))
    cuts = [(cut.from_left, cut.from_bottom) for piece in before.pieces for cut in piece.cuts]
    work = rooms.room(rooms.specs[0])
    after = rooms.plan(("bath.yaml", "as drawn"))
    assert [(cut.from_left, cut.from_bottom) for piece in after.pieces for cut in piece.cuts] == cuts
    if says == "anew":
        # Its middle is cut anew where it was read: 297 less 87 (79 to 95) and the joint of 3, counted once: 213.
        (cut,) = (cut for piece in special_of(work).pieces for cut in piece.cuts)
        assert cut.from_left == pytest.approx(297.0 + 3.0 - 87.0)
    else:
        assert work.special is None


def test_an_opening_that_is_read_for_a_trimmed_piece_is_judged_by_its_joint(tmp_path):
    # The end piece stands 3 from its neighbour at -598.5 and 5 from the panel at -640: an opening of 41.5 for 33.5.
    (verdict,) = judge(tmp_path, "piece: splash 1-1, opening across: 47").verdicts
    assert (verdict.says, verdict.right, verdict.may, verdict.why) == ("anew", 5.5, 5.0, "wide")
    (verdict,) = judge(tmp_path, "piece: splash 1-1, opening across: 40").verdicts
    assert (verdict.says, verdict.right, verdict.may) == ("fits", -1.5, 3.0)


@pytest.mark.parametrize(
    ("reading", "sentence"),
    [
        ("piece: splash 9-9, left: 3 to 19", "rooms.yaml line 7.*there is no such piece with anything cut in it"),
        ("piece: splash 2-3, left: 3 to 19, right: 3 to 19", "It is read from left and from right"),
        ("piece: splash 2-3", "It says nothing"),
    ],
)
def test_what_cannot_be_taken_at_a_piece_is_told_with_its_line(tmp_path, reading, sentence):
    with pytest.raises(JobError, match=sentence):
        judge(tmp_path, reading)


def test_what_is_cut_anew_is_drawn_among_its_neighbours_and_alone_is_bought(tmp_path):
    listed = '  - name: "1"\n    read: [{hole: hot, across: 80 to 96 left of V}, {edge: left, at: 647 left of V}]\n'
    rooms = rooms_of(tmp_path, listed)
    special = special_of(rooms.room(rooms.specs[0]))
    (surface,) = special.surfaces
    # Hot's tile, whole but for its hole, and the left end of each of three courses.
    assert {piece.name for piece in special.pieces} == {"splash 2-3", "splash 1-1", "splash 2-1", "splash 3-1"}
    assert surface.areas[0].counts == Counts(whole=1, cut=3, gone=0)
    bought = what_to_buy(special)
    assert [tile.laid for tile in bought.tiles] == [4]
    assert bought.adhesive == bought.grout == bought.silicone == ()
    # Beside them lie cold's tile and the right ends: nothing of the drawing passes the end of the wall, 700 from V.
    drawn = [piece.name for piece in drawn_of(special, surface.setout)]
    assert set(drawn[4:]) == {"splash 2-4", "splash 1-6", "splash 2-6", "splash 3-6"}
    taken = {(piece.piece.area, piece.piece.place) for piece in drawn_of(special, surface.setout)}
    area, shown = surface.areas[0], extent(special, surface)
    whole = [
        tile_ring(297, 97, area.grid.placement(at)) for at in whole_places(area, shown, taken, courses(area, shown))
    ]
    assert len(whole) == 3 * 4 - 2  # four whole tiles a course, two of them with a hole
    assert max(ring.bounds.max_x for ring in whole) <= 700.0
