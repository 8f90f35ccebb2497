"""Batten, rods, meetings and joints for silicone of walls and floors that are added up by hand beside each test."""

from __future__ import annotations

import pytest

from cutmarks import make_plan, parse_job
from cutmarks.gauging.flow import gauged
from cutmarks.gauging.model import Gauged, Meeting
from cutmarks.gauging.square import square_of
from cutmarks.saying.gauging import sections, told
from cutmarks.saying.runs import named
from cutmarks.sides import Side
from tests.gauging.walls import first_of, planned, with_areas
from tests.told.walls import PIPE, text_of

SPLASH = "name: splash, tile: rib, joint: 3, start: {across: joint on V, up: sits on B}"


def said(text: str) -> str:
    plan = planned(text)
    return "\n".join(f"{step.title}\n" + "\n".join(step.lines) for one in told(plan) for step in sections(one, plan))


def test_on_a_worktop_the_first_course_stands_on_packers() -> None:
    (base,) = first_of(with_areas(SPLASH)).bases
    assert [(one.on, one.what, one.packers) for one in base.stretches] == [("packers", "worktop", pytest.approx(5))]
    assert not base.has_batten


def test_dead_on_the_worktop_it_stands_on_it() -> None:
    text = with_areas(SPLASH, bottom="{at: 0 below B, what: worktop, true: level, gap: 0}")
    (base,) = first_of(text).bases
    assert [(one.on, one.packers) for one in base.stretches] == [("packers", pytest.approx(0))]
    assert "the first course stands on the worktop." in said(text)


FALLING = "{at: [0 below B at 900 left of V, 6 below B at 900 right of V], what: worktop, gap: 3, still to come: 0}"
"""A worktop that falls 6 over 1800."""


def test_packers_on_what_is_not_level_are_as_high_as_each_place_wants() -> None:
    # The start sits on 4 above B: 4 over the worktop at the left, 7 at V, half way, and 10 at the right.
    text = with_areas(
        "name: splash, tile: rib, joint: 3, from: 4 above B, start: {across: joint on V, up: sits on 4 above B}",
        bottom=FALLING,
    )
    (stretch,) = first_of(text).bases[0].stretches
    assert stretch.on == "packers"
    assert [one.over for one in stretch.heights] == pytest.approx([4, 7, 10])
    assert "not level: 4 at 900 left of V, 7 on V, 10 at 900 right of V; set them to the level line." in said(text)


def test_how_high_packers_may_be_is_one_figure_for_starts_and_for_the_set_out() -> None:
    # 30 over the worktop: a batten by the usual 22, packers by a tiler's own 40.
    splash = "name: splash, tile: rib, joint: 3, start: {across: joint on V, up: sits on 25 above B}"
    text = with_areas(splash, bottom="{at: 5 below B, what: worktop, true: level, gap: 5, still to come: 0}")
    (usual,) = first_of(text).bases[0].stretches
    (own,) = first_of(text.replace("surfaces:", "limits: {packers: 40}\nsurfaces:", 1)).bases[0].stretches
    assert (usual.on, own.on, own.packers) == ("batten", "packers", pytest.approx(30))


def test_a_worktop_carries_a_cut_course_too() -> None:
    # 45 over the worktop: joint 3, cut 39, gap 3. A course is 100: the start that has the cut course go first lies
    # 60 below B, and its tile begins half a tile and a joint's half left of V: (297 + 3) / 2 - 1.5.
    splash = "name: splash, tile: rib, joint: 3, bond: half, start: {across: joint on V, up: sits on 40 above B}"
    text = with_areas(splash, bottom="{at: 5 below B, what: worktop, true: level, gap: 3, still to come: 0}")
    (stretch,) = first_of(text).bases[0].stretches
    assert stretch.on == "batten"
    assert stretch.instead is not None
    assert (stretch.instead.x, stretch.instead.y) == (pytest.approx(-148.5), pytest.approx(-60))
    line = "start: {across: left on 148½ left of V, up: sits on 60 below B}."
    assert f"the worktop carries the cut course, on packers of 3, and that goes first, with {line}" in said(text)
    # That very start, as it is written: the same pieces, and no batten.
    start = "start: {across: left on 148.5 left of V, up: sits on 60 below B}"
    other = text.replace("start: {across: joint on V, up: sits on 40 above B}", start)
    (cut,) = first_of(other).bases[0].stretches
    assert (cut.on, cut.what, cut.packers, cut.top) == ("cut", "worktop", pytest.approx(3), pytest.approx(37))
    before, after = (planned(one).surfaces[0].areas[0].counts for one in (text, other))
    assert before == after
    told_of_it = said(other)
    assert "the first course is cut, and stands on packers of 3 on the worktop: no batten." in told_of_it
    assert "BATTEN" not in told_of_it
    # Its upper edge lies 37 over B, and the worktop 5 under it: 42 to read, less the gap of 3.
    marked = "to the worktop from where its own top edge comes (mark it 37 above B first), less gap 3. "
    (line,) = [one for one in told_of_it.splitlines() if one.startswith(marked)]
    assert line.count("->") == line.count("42 -> 39") == 1


@pytest.mark.parametrize(("what", "below"), [("floor", 5), ("worktop", 105)])
def test_over_a_floor_or_a_whole_course_the_batten_stays(what: str, below: int) -> None:
    splash = "name: splash, tile: rib, joint: 3, start: {across: joint on V, up: sits on 40 above B}"
    text = with_areas(splash, bottom=f"{{at: {below} below B, what: {what}, true: level, gap: 3, still to come: 0}}")
    (stretch,) = first_of(text).bases[0].stretches
    assert (stretch.on, stretch.instead) == ("batten", None)


def test_what_is_level_is_one_stretch_of_packers_and_a_step_parts_it() -> None:
    steps = (
        "{at: 5 below B, until: 200 right of V, what: worktop, gap: 5, still to come: 0}, "
        "{at: 8 below B, what: worktop, gap: 5, still to come: 0}"
    )
    (one, other) = first_of(with_areas(SPLASH, bottom=f"{{steps: [{steps}]}}")).bases[0].stretches
    assert [(stretch.on, stretch.packers) for stretch in (one, other)] == [
        ("packers", pytest.approx(5)),
        ("packers", pytest.approx(8)),
    ]


def test_an_area_on_an_area_has_no_batten_of_its_own() -> None:
    # The lower one ends at 297, the upper one sits on 300: a joint of 3 over it.
    text = with_areas(
        f"{SPLASH}, to: 297 above B",
        "name: upper, tile: slab, joint: 3, from: 300 above B, start: {across: joint on V, up: sits on 300 above B}",
    )
    bases = {base.area: [stretch.on for stretch in base.stretches] for base in first_of(text).bases}
    assert bases == {"splash": ["packers"], "upper": ["course"]}


def test_what_is_still_to_come_on_the_floor_is_taken_off_the_height_of_the_batten() -> None:
    # B is 205 over the floor as it is; 15 are still to come: 190 over what is finished, a course of 100, a joint of 3,
    # a cut of 82 and a gap of 5.
    text = with_areas(SPLASH, bottom="{at: 205 below B, what: floor, true: level, still to come: 15, gap: 5}")
    stretch = first_of(text).bases[0].stretches[0]
    assert [one.over for one in stretch.heights] == pytest.approx([190, 190, 190])
    assert stretch.under is not None
    assert (stretch.under.courses, stretch.under.cut) == (1, pytest.approx(82))


def test_each_stretch_of_a_floor_has_its_own_finish_taken_off() -> None:
    # Three stretches, 205, 150 and 205 under B, whose finish is 15, 30 and 15: the batten's top is 190, 120 and 190
    # over what will be finished. The middle of the second is 150 right of V, four times which lies past its end.
    steps = ", ".join(
        f"{{at: {at} below B, {until}gap: 5, still to come: {come}}}"
        for at, until, come in (
            (205, "until: 100 left of V, ", 15),
            (150, "until: 400 right of V, ", 30),
            (205, "", 15),
        )
    )
    text = with_areas(SPLASH, bottom=f"{{what: floor, steps: [{steps}]}}")
    heights = [[one.over for one in stretch.heights] for stretch in first_of(text).bases[0].stretches]
    assert heights == [pytest.approx([over] * 3) for over in (190, 120, 190)]


def test_a_floor_whose_finish_is_not_known_gives_heights_over_what_is_there() -> None:
    text = with_areas(SPLASH, bottom="{at: 205 below B, what: floor, true: level, still to come: ?}")
    stretch = first_of(text).bases[0].stretches[0]
    assert not stretch.finished
    assert [one.over for one in stretch.heights] == pytest.approx([205, 205, 205])
    assert "over the floor as it is now (what is still to come is not said) 205 at" in said(text)


def test_the_lowest_place_may_lie_between_the_ends() -> None:
    text = with_areas(
        SPLASH,
        bottom="{what: floor, still to come: 0, at: [202 below B at 900 left of V, 209 below B at V, "
        "204 below B at 900 right of V]}",
    )
    stretch = first_of(text).bases[0].stretches[0]
    assert stretch.lowest is not None
    assert (stretch.lowest.x, stretch.lowest.over) == (pytest.approx(0), pytest.approx(209))
    assert "falls 7: lowest on V" in said(text)


def test_a_half_bond_has_two_rods() -> None:
    # Pitch 300, joint on V: courses 1, 3, ... have a joint at 300 and 600, courses 2, 4, ... at 150, 450 and 750.
    rods = first_of(with_areas(f"{SPLASH}, bond: half")).areas[0].across
    right = {rod.courses: [joint.near for joint in rod.joints] for rod in rods if rod.way is Side.RIGHT}
    assert right == {(1, 3): pytest.approx([0, 298.5, 598.5]), (2, 4): pytest.approx([148.5, 448.5, 748.5])}


def test_a_joint_that_lies_on_the_line_is_on_both_rods() -> None:
    rods = first_of(with_areas(SPLASH)).areas[0].across
    assert {rod.way: (rod.joints[0].near, rod.joints[0].far) for rod in rods} == {
        Side.RIGHT: (0.0, 1.5),
        Side.LEFT: (0.0, 1.5),
    }


def test_a_long_rod_is_said_by_its_pitch() -> None:
    # 97 and 3: joints from V at 98½ | 101½ and so on, ten to each side; the rest of a rod of 21 is said by its pitch.
    text = with_areas(
        "name: small, tile: rib, lay: long side up, joint: 3, start: {across: left on V, up: sits on B}",
        left="{at: 100 left of V, what: corner, true: plumb, still to come: 0}",
        right="{at: 2205 right of V, what: panel, true: plumb, still to come: 0}",
    )
    assert "1097 | 1100, 1197 | 1200, then 100 each, to 2197 | 2200 (22 joints), then to the panel" in said(text)


def test_the_rod_ends_at_the_next_area() -> None:
    text = with_areas(
        f"{SPLASH}, to: 297 above B",
        "name: upper, tile: slab, joint: 3, from: 300 above B, start: {across: joint on V, up: sits on 300 above B}",
    )
    gauge = first_of(text).areas[0]
    assert [rod.end for rod in gauge.up if rod.way is Side.TOP] == ["area upper"]


def test_columns_of_two_areas_meet_where_both_pitches_divide() -> None:
    # 300 and 400 from a joint on V: they meet at 0 and every 1200, so within 897 on V alone.
    text = with_areas(
        f"{SPLASH}, to: 297 above B",
        "name: upper, tile: slab, joint: 3, from: 300 above B, start: {across: joint on V, up: sits on 300 above B}",
    )
    (meeting,) = first_of(text).meetings
    assert (meeting.way, meeting.at, meeting.of) == ("up", pytest.approx((0.0,)), 5)
    assert "their columns meet on V, and nowhere else." in said(text)


def test_it_is_the_course_at_the_border_that_meets() -> None:
    # Two courses in half bond: the upper one's joints lie at 150, 450 and 750, and none at 0, 400 and 800.
    text = with_areas(
        f"{SPLASH}, bond: half, to: 197 above B",
        "name: upper, tile: slab, joint: 3, from: 200 above B, start: {across: joint on V, up: sits on 200 above B}",
    )
    (meeting,) = first_of(text).meetings
    assert (meeting.way, meeting.at) == ("up", ())


def test_and_of_the_area_over_it_the_lowest_course() -> None:
    # The upper area goes on 150 further: its first course meets the two under it, its second and last would not.
    text = with_areas(
        f"{SPLASH}, bond: half, to: 197 above B",
        "name: upper, tile: rib, joint: 3, bond: half, from: 200 above B, to: 397 above B, "
        "start: {across: joint on 150 right of V, up: sits on 200 above B}",
    )
    (meeting,) = first_of(text).meetings
    assert len(meeting.at) == meeting.of == 6  # 150, 450 and 750 to both sides
    assert "their columns run through at every joint." in said(text)


def test_beside_a_window_that_ends_in_a_joint_lies_the_next_piece() -> None:
    # Joints at 300 and 600 from V: the window and its gap end at 300, in the middle of a joint of 3, so that the piece
    # beside it is the one from 301½ on; on its left, at -450, it cuts the piece from -598½ on. 4 x 300 - 3 between.
    text = with_areas(SPLASH) + (
        "    windows:\n      - {name: window, across: 447 left to 297 right of V, up: 150 to 450 above B, gap: 3}\n"
    )
    (across,) = first_of(text).across
    assert [far for *_, far in across.pairs] == pytest.approx([1197, 1197])


def test_beside_a_window_that_ends_within_a_tile_lies_that_tile() -> None:
    # The window and its gap end 203 right of V, 201.5 in the tile from 1.5 to 298.5 (and no tile is as high as that is
    # wide); on its left, at -450, it cuts the piece from -598.5 on. 3 x 300 - 3 between.
    text = with_areas(SPLASH) + (
        "    windows:\n      - {name: window, across: 447 left to 200 right of V, up: 150 to 450 above B, gap: 3}\n"
    )
    (across,) = first_of(text).across
    assert [far for *_, far in across.pairs] == pytest.approx([897, 897])


def as_made(meeting: Meeting) -> tuple[float | None, float | None, int]:
    """The joint and the border with which they would meet, and each so many-th of them."""
    assert meeting.made is not None
    return meeting.made.joint, meeting.made.border, meeting.made.every


def test_another_joint_makes_courses_meet() -> None:
    # 97 + 3 beside 247 + 2: 249 against 250 = two and a half courses; five of 100 are two of 247 + 3.
    text = with_areas(
        f"{SPLASH}, left of: 1.5 left of V",
        "name: side, tile: slab, joint: 2, right of: 1.5 right of V, "
        "start: {across: left 1.5 right of V, up: sits on B}",
    )
    (meeting,) = first_of(text).meetings
    assert meeting.way == "across"
    assert as_made(meeting) == (pytest.approx(3.0), None, 2)
    assert "With a joint of 3.0 mm in side every second course would meet." in said(text)


def test_a_border_makes_courses_meet_that_are_as_high_and_begin_elsewhere() -> None:
    # Both of 97 + 3, one from B, the other from 41 above it: its first course has to go 59 further up, or 159, and a
    # border with a joint of 3 under it is 56 wide.
    text = with_areas(
        f"{SPLASH}, left of: 1.5 left of V",
        "name: side, tile: rib, joint: 3, right of: 1.5 right of V, from: 41 above B, "
        "start: {across: left 1.5 right of V, up: sits on 41 above B}",
    )
    (meeting,) = first_of(text).meetings
    assert meeting.at == ()
    assert as_made(meeting) == (None, pytest.approx(56.0), 1)
    assert "With a border of 56 under side every course would meet." in said(text)


def test_a_joint_and_a_border_together() -> None:
    # 197 + 5 beside 97 + 3, from 41 above B: with a joint of 3 it is 200, two of 100. Its joints then lie 41 over those
    # of the other: 59 are to go, less the joint of 3 under it 56.
    text = with_areas(
        f"{SPLASH}, left of: 1.5 left of V",
        "name: side, tile: block, joint: 5, right of: 1.5 right of V, from: 41 above B, "
        "start: {across: left 1.5 right of V, up: sits on 41 above B}",
    ).replace("tiles:\n", "tiles:\n  block: {size: 297 x 197, measured: yes, thickness: 8}\n", 1)
    (meeting,) = first_of(text).meetings
    assert as_made(meeting) == (pytest.approx(3.0), pytest.approx(56.0), 1)
    assert "With a joint of 3.0 mm in side and a border of 56 under it every course would meet." in said(text)


def test_a_joint_under_a_skirting_is_left_open() -> None:
    text = with_areas(SPLASH, left="{at: 900 left of V, what: frame, true: plumb, hidden by: architrave 15, gap: 4}")
    assert {(one.what, one.hidden) for one in first_of(text).sealed} == {
        ("frame", "architrave 15"),
        ("panel", ""),
        ("ceiling", ""),
        ("worktop", ""),
    }
    assert "Left open: frame 4 (under architrave 15)." in said(text)


@pytest.mark.parametrize("gap", ["", ", gap: 2"])
def test_round_an_outer_corner_goes_no_silicone(gap: str) -> None:
    text = with_areas(
        SPLASH, left=f"{{at: 900 left of V, what: end of the wall, true: plumb, lining: 12, corner: trim 2.5{gap}}}"
    )
    assert "end of the wall" not in {one.what for one in first_of(text).sealed}


FLOOR = """\
job: floor
tiles: {flag: {size: 597 x 597, measured: yes, thickness: 10, bed: 5}}
surfaces:
  - name: room
    kind: floor
    up: towards the window
    lines: {V: "across, middle of the door", D: "along, the threshold"}
    edges:
      left: {at: 1700 left of V, what: wall, true: square, gap: 5}
      right: {at: 1300 right of V, what: wall, true: square, gap: 5}
      bottom: {at: 0 short of D, what: threshold, true: square, gap: 4}
      top: {at: 2500 in from D, what: far wall, true: square, gap: 5}
    areas:
      - {name: floor, tile: flag, joint: 3, start: {across: middle on V, in: sits on 4 in from D}}
"""


def test_two_lines_of_a_floor_are_proved_square_by_three_four_five() -> None:
    # 1700 across and 2500 in: 4 x 500 and 3 x 500 lie in the room, 4 x 600 = 2400 and 3 x 600 = 1800 do not.
    square = first_of(FLOOR).square
    assert square is not None
    assert (square.along, square.across, square.diagonal) == (2000, 1500, 2500)
    assert "From where V and D cross mark 2000 along V and 1500 along D: the two marks are 2500 apart." in said(FLOOR)


def test_an_inch_floor_is_proved_by_feet_and_quarters_of_one() -> None:
    square = square_of(first_of(FLOOR).surface.setout, inches=True)
    assert square is not None
    # 1700 and 2500 are 66.9 and 98.4 in: four and three times 21 in lie in the room, 96 in and 72 do not.
    assert (square.along / 25.4, square.across / 25.4, square.diagonal / 25.4) == pytest.approx((84, 63, 105))


def test_a_wall_has_no_diagonal() -> None:
    assert first_of(with_areas(SPLASH)).square is None


def held_back(text: str) -> Gauged:
    (one,) = told(planned(text))
    return one


def test_a_piece_that_waits_has_no_figure() -> None:
    text = with_areas(SPLASH, left="{at: 1000 left of V, what: next wall, true: plumb, still to come: ?}")
    one = held_back(text)
    assert one.waiting
    assert not any(name in one.waiting for group in one.cuts for name in group.pieces)
    assert "Not yet, what they wait for is on the job sheet: 1-1 to 10-1." in said(text)


@pytest.mark.parametrize(
    ("pieces", "several", "words"),
    [
        (["a 1-7", "a 2-7", "a 3-7"], False, "1-7 to 3-7"),
        (["a 6-4", "a 6-5", "a 6-3", "a 6-2"], False, "6-4, 6-5, 6-3, 6-2"),
        (["a 1-1", "a 3-1", "b 1-1"], True, "a 1-1, 3-1, b 1-1"),
        (["a under 1-1", "a under 2-1", "a under 3-1"], False, "under 1-1 to under 3-1"),
        (["a 1-1a", "a 1-1b"], False, "1-1a, 1-1b"),
    ],
)
def test_pieces_in_a_row_are_said_by_their_ends(pieces: list[str], several: bool, words: str) -> None:
    assert named(pieces, several) == words


def test_a_surface_without_edges_has_no_rod_and_no_batten() -> None:
    text = with_areas(SPLASH).replace("    edges:", "    gaps: {left: 3}\n    was:")
    plan = make_plan(parse_job("\n".join(line for line in text.splitlines() if not _of_edges(line))))
    (one,) = gauged(plan, lambda piece: None)
    assert (one.bases, one.sealed, one.areas[0].across) == ((), (), ())


def _of_edges(line: str) -> bool:
    return line.strip().split(":")[0] in ("left", "right", "bottom", "top", "was", "gaps")


def test_what_lies_turned_is_measured_where_it_goes() -> None:
    text = FLOOR.replace("start: {across: middle on V, in: sits on 4 in from D}", "turn: 45, start: middle on V and D")
    assert "floor lies turned: measure each edge piece where it goes; job sheet for its size." in said(text)
    assert "courses run at 45 degrees: no rod along the lines." in said(text)
    assert first_of(text).areas[0].across == ()


def test_the_holes_of_a_surface_stand_on_its_own_page() -> None:
    # The pipe is 425.5 right of V and 512.5 above B: the third course, the second tile of 1 to 299 and 301 to 599. A
    # second wall has the same tiles and a pipe in its first course and tile.
    edges = (
        "left: {at: 0 right of V, true: plumb, gap: 1}, right: {at: 600 right of V, true: plumb, gap: 1}, "
        "bottom: {at: 2 below B, what: worktop, true: level, gap: 2}, top: {at: 600 above B, true: level, gap: 2}"
    )
    text = text_of(PIPE, edges=edges, area="start: {across: joint on V, up: sits on B}")
    one = text[text.index("  - name: wall") :].rstrip()
    for old, new in (("418 to 433", "118 to 133"), ("505 to 520", "105 to 120"), ("h1", "h2")):
        one = one.replace(old, new)
    one = one.replace("name: wall", "name: second").replace("name: field, tile", "name: other, tile")
    plan = make_plan(parse_job(f"{text.rstrip()}\n{one}\n"))
    lines = [[line for step in sections(one, plan) for line in step.lines if "Holes" in line] for one in told(plan)]
    assert lines == [
        ["Holes, sheets in pack.pdf: h1, core 35: 3-2."],
        ["Holes, sheets in pack.pdf: h2, core 35: 1-1."],
    ]


def test_a_piece_in_parts_that_is_read_past_a_window_is_told_by_its_own_source() -> None:
    # The window leaves the tile in two parts, field 2-4a and 2-4b: what they are read from is their own.
    text = """\
job: Tern Row
tiles: {field: {size: 197 x 298, measured: yes}}
surfaces:
  - name: here
    kind: wall
    lines: {V: plumb, B: level}
    edges:
      left: {at: 551 left of V, true: plumb}
      right: [420.5 right of V at 250 below B, 432.5 right of V at 150 below B]
      bottom: {at: 483.5 below B, true: level}
      top: {at: 364 above B, true: level}
    windows:
      - {name: window, across: 141.5 left to 179 right of V, up: 62 below to 71 above B, gap: 2}
    areas:
      - {name: field, tile: field, joint: 5, bond: "half left, stepped",
         start: {across: joint on 120.5 right of V, up: hangs from 74 above B}}
"""
    plan = make_plan(parse_job(text))
    parted = [piece.name for piece in plan.pieces if piece.part]
    assert parted
    lines = [line for step in told(plan) for one in sections(step, plan) for line in one.lines]
    # The names stand without their area, where it is the only one.
    assert any(name.removeprefix("field ") in line for name in parted for line in lines if "->" in line)


NICHE = """\
job: niche
tiles:
  rib: {size: 297 x 97, measured: yes, thickness: 8, bed: 3}
surfaces:
  - name: wall
    kind: wall
    lines: {V: "plumb, middle", B: "level, batten"}
    edges:
      left: {at: 900 left of V, what: left corner, true: plumb, still to come: 0, gap: 0}
      right: {at: 900 right of V, what: right corner, true: plumb, still to come: 0, gap: 0}
      bottom: {at: 0 below B, what: worktop, true: level, gap: 0}
      top: {what: ceiling, at: [1203 above B at 900 left of V, 1190 above B at 900 right of V]}
    niches: [{name: niche, across: 500 left of V to 250 left of V, up: 250 to 340 above B, gap: 3}]
    areas:
      - {name: rib, tile: rib, joint: 3, bond: half, start: {across: left on 3 right of V, up: sits on B}}
"""


def test_over_a_niche_a_piece_is_read_from_its_own_edge_and_not_from_the_ceiling_that_falls() -> None:
    # Course 4 is 300 to 397 above B, its own top edge 397: from there 57 down to the niche's head at 340, less a gap of
    # 3, are 54. The ceiling over it falls by 13. Course 2 lies 150 further right, and begins at 153 right of V or, the
    # tile that lies across V, 147 left of it.
    text = said(NICHE)
    assert (
        "to the niche from where its own top edge comes (mark it 397 above B first), less gap 3. 4-3, 4-2: 57 -> 54 "
        ".... ...."
    ) in text
    assert "from the ceiling" not in text
    assert "Courses like 2 and 4: from 2-4, its left edge 147 left of V." in text
    # The start tile lies from 3 to 300 right of V, between corners 900 left and right of it.
    assert "Check: its ends are 903 from the left corner and 600 from the right corner." in text


def test_what_is_read_of_a_group_can_be_written_in() -> None:
    lines = [line for line in said(NICHE).splitlines() if " -> " in line and "expect" not in line]
    assert len(lines) > 2
    assert all(group.endswith(" ....") for line in lines for group in line.split("; "))
    # Of twelve courses every second one ends at the left corner in a cut; three blanks do for six that are alike.
    assert [line.count("....") for line in lines if "to the left corner" in line] == [3]


def test_of_a_cut_under_a_batten_it_is_said_how_large_it_is_at_the_most() -> None:
    # B is 190.3 over the finished floor: a course of 100, a joint of 3, a gap of 5, and 82.3 to be cut, which is 82½ to
    # the nearest half: none is larger, and each is measured.
    text = said(with_areas(SPLASH, bottom="{at: 190.3 below B, what: floor, true: level, still to come: 0, gap: 5}"))
    assert "+ cut up to 82½ + gap 5." in text


TO_THE_DOOR = """\
job: floor
tiles:
  flag: {size: 397 x 397, measured: yes, thickness: 9, bed: 3}
surfaces:
  - name: floor
    kind: floor
    up: towards the window
    way out: bottom
    lines: {C: "across, middle of the door", D: "along, threshold"}
    gaps: {left: 3, right: 3, bottom: 0, top: 3}
    edges:
      left: {at: LEFT left of C, what: wall, true: plumb, still to come: 0}
      right: {at: 1000 right of C, what: wall, true: plumb, still to come: 0}
      bottom: {at: 0 from D, what: threshold, true: level}
      top: {at: 1600 in from D, what: wall, true: level, still to come: 0}
    areas:
      - {name: field, tile: flag, joint: 3, start: {across: middle on C, up: sits on D}}
"""


@pytest.mark.parametrize(
    ("left", "ends"),
    # From the middle of a tile on C 198.5 + 400 + 3 are 601.5: to 997 395.5 are left. At 897 on the other side 295.5.
    [
        (1000, "395½ at the left and 395½ at the right, alike to the eye"),
        (900, "295½ at the left and 395½ at the right"),
    ],
)
def test_a_floor_names_the_course_at_the_door_and_what_ends_it(left: int, ends: str) -> None:
    text = said(TO_THE_DOOR.replace("LEFT", str(left)))
    assert f"The last course is 1, at the threshold. Seen from there it ends with {ends}." in text


def test_the_strips_over_a_trough_stand_on_packers_on_it() -> None:
    # On 40 above B courses of 97 and 3 lie 40 to 137, 140 to 237, ... The trough, 300 over B, stands out over two and
    # into the third: 240 to 337, of which 337 - 300 - 3 = 34 are left on packers of 3. Over the box at the right, 336
    # high, 337 - 336 - 0.5 = half a millimetre would be: no piece. The fourth, from 340 on, stands whole on 4.
    area = "name: splash, tile: rib, joint: 3, start: {across: joint on V, up: sits on 40 above B}"
    steps = (
        "{at: 200 below B, until: 150 left of V, what: floor, gap: 5, still to come: none}, "
        "{at: 300 above B, until: 150 right of V, what: trough, gap: 3, still to come: none}, "
        "{at: 336 above B, what: box, gap: 0.5, still to come: none}"
    )
    text = with_areas(area, bottom=f"{{steps: [{steps}]}}")
    batten, trough, box = first_of(text).bases[0].stretches
    assert batten.on == "batten"
    assert (trough.on, trough.course, trough.what, trough.packers, trough.top) == (
        "cut",
        3,
        "trough",
        3,
        pytest.approx(337),
    )
    # As far as the trough goes, and at the box, which stands out over it, less the half kept clear there.
    assert (trough.low, trough.high) == (pytest.approx(-150), pytest.approx(149.5))
    assert (box.on, box.course, box.what, box.packers, box.top) == (
        "packers",
        4,
        "box",
        pytest.approx(4),
        pytest.approx(437),
    )
    words = said(text)
    assert "course 3 is cut, and stands on packers of 3 on the trough: no batten there." in words
    assert "Its upper edges go to 337 above B, by the level line." in words
    assert "course 4 stands whole on packers of 4 on the box: no batten there." in words
