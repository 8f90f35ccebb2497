"""The words of a position in any order: figures, which side, from what, which part of the thing.

What must come out is plain from the parts that a phrase is put together from; no phrase is fitted to what is read.
"""

from __future__ import annotations

from itertools import permutations

import pytest

from cutmarks.job.grammar import parse_bare, parse_edge, parse_place, parse_reading
from cutmarks.job.said_edge import edge_said
from cutmarks.job.taped import parse_taken
from cutmarks.job.words import Setting
from cutmarks.readings import From
from cutmarks.sides import Side
from cutmarks.units import Unit

WALL = Setting(
    lines={"V": "x", "B": "y"},
    holes={"hot": "hot", "cooker switch": "cooker switch"},
    areas={},
    points={},
    line_words={"V": "middle of the sink", "B": "top of the batten, 1000 above finished floor"},
    edge_words={Side.RIGHT: "door frame", Side.BOTTOM: "worktop"},
)
FLOOR = Setting(
    kind="floor",
    lines={"C": "x", "D": "y"},
    holes={},
    areas={},
    points={},
    line_words={"C": "middle of the doorway", "D": "threshold"},
    edge_words={Side.TOP: ""},
)
INCH = Setting(unit=Unit.INCH, lines={"V": "x", "B": "y"}, holes={}, areas={}, points={})
V, B = From("line", "V"), From("line", "B")
FRAME, WORKTOP = From("edge", Side.RIGHT, Side.RIGHT), From("edge", Side.BOTTOM, Side.BOTTOM)


@pytest.mark.parametrize("order", list(permutations(("67 to 83", "left of V", "the pipe"))))
def test_both_sides_and_a_line_in_any_order(order):
    reading = parse_reading(", ".join(order), "across", WALL)
    assert (reading.how, reading.low, reading.high, reading.start) == ("sides", -83, -67, V)


@pytest.mark.parametrize("order", list(permutations(("412", "to the underside", "above B"))))
def test_one_side_in_any_order(order):
    reading = parse_reading(" ".join(order), "up", WALL)
    assert (reading.how, reading.low, reading.start) == ("low", 412, B)


@pytest.mark.parametrize("part", ["centre", "c/l", "to its middle", "ctr", "to the center", "on centre line"])
@pytest.mark.parametrize("way", ["left of V", "L of V", "to the left of V", "LH of the plumb line"])
def test_words_for_one_thing_are_one(part, way):
    reading = parse_reading(f"75 {way}, {part}", "across", WALL)
    assert (reading.how, reading.low, reading.start) == ("centre", -75, V)


@pytest.mark.parametrize(
    ("text", "axis", "how", "low", "high", "start"),
    [
        ("left of V, 67 to 83", "across", "sides", -83, -67, V),
        ("from 67 to 83 left of V", "across", "sides", -83, -67, V),
        ("near edge 67, far edge 83, left of V", "across", "sides", -83, -67, V),
        ("22 L / 51 R of V", "across", "sides", -22, 51, V),
        ("dead on V", "across", "centre", 0, None, V),
        ("right edge flush with V, 40 wide", "across", "sides", -40, 0, V),
        ("middle of the sink to c/l 75 left", "across", "centre", -75, None, V),
        # The right edge is the door frame: readings from an edge are positive into the surface.
        ("240 to 313 off the door frame", "across", "sides", 240, 313, FRAME),
        ("hard up to the door frame, 73 wide", "across", "sides", 0, 73, FRAME),
        ("right side tight to the frame", "across", "high", 0, None, FRAME),
        ("centre 600 in from door frame, frame's on the right", "across", "centre", 600, None, FRAME),
        ("355 to 428 from RH corner", "across", "sides", 355, 428, FRAME),
        # 43 under the batten's top, and so on: B is the top of the batten.
        ("centre 43 below batten top", "up", "centre", -43, None, B),
        ("lower edge 40 above the batten", "up", "low", 40, None, B),
        ("32 below to 41 above the level", "up", "sides", -32, 41, B),
        # B is 1000 above finished floor, so that 1050 above that is 50 above B, and 960 is 40 below.
        ("1050 FFL to c/l", "up", "centre", 50, None, B),
        ("960 to 1050 above finished floor", "up", "sides", -40, 50, B),
        ("bottom of box 12 off the worktop, 73 high", "up", "sides", 12, 85, WORKTOP),
        # Half a step of a tape, 0.5 mm; the tape held at 100.
        ("centre 67 bare left of V", "across", "centre", -66.5, None, V),
        ("88 full to near side, right of V", "across", "low", 88.5, None, V),
        ("167 to 183 left of V, burnt 100", "across", "sides", -83, -67, V),
        ("burnt 100: 167 & 183 left of V", "across", "sides", -83, -67, V),
    ],
)
def test_as_it_is_said(text, axis, how, low, high, start):
    reading = parse_reading(text, axis, WALL)
    assert (reading.how, reading.low, reading.high, reading.start) == (how, low, high, start)


def test_strong_is_a_32nd_of_an_inch():
    """25.4 / 32 = 0.79375 mm; 6 1/4 in = 158.75 mm."""
    reading = parse_reading("6 1/4 strong to ctr, left of V", "across", INCH)
    assert reading.low == pytest.approx(-(158.75 + 0.79375), abs=1e-9)


@pytest.mark.parametrize(
    ("text", "axis", "offset"),
    [
        ("centre 150 left of hot", "across", -150),
        ("c/l 45 right of the cooker switch c/l", "across", 45),
        ("28 c to c below hot", "up", -28),
        ("same height as hot", "up", 0),
        ("level with hot", "up", 0),
    ],
)
def test_from_the_middle_of_another_hole(text, axis, offset):
    reading = parse_reading(text, axis, WALL)
    assert (reading.how, reading.low, reading.start) == ("level with", offset, None)
    assert reading.other in ("hot", "cooker switch")


@pytest.mark.parametrize(
    ("text", "axis", "setting", "leads"),
    [
        ("75 either side of V", "across", WALL, "can be one thing or two: write 75 left to 75 right of V"),
        ("150 crs, split on V", "across", WALL, "apart stands under pairs, as in {of: hot and cold, apart: 150}"),
        ("hot 60 left of V, cold 90 right", "across", WALL, "is of more than one thing"),
        ("67 & 82 from V", "across", WALL, "does not say which side: write right of V or left of V"),
        ("78 left", "across", WALL, "does not say from what"),
        ("100 off the wall", "across", WALL, "write in from left there, or in from right there"),
        ("75 left of V", "across", WALL, "does not say to what"),
        ("560 off the worktop", "up", WALL, "does not say to what"),
        ("top 40 above B, underside 80", "up", WALL, "has its sides the wrong way round"),
        ("near 83, far 67 left of V", "across", WALL, "has its sides the wrong way round"),
        ("67 to 83 left of V, 40 wide", "across", WALL, "gives two sides and a size that is not the distance"),
        ("left side 12 right of hot", "across", WALL, "from hot a thing is read middle to middle"),
        ("240 to 313 right of the door frame", "across", WALL, "lies outside the right edge"),
        ("67 to 83 left of the tap", "across", WALL, "is no set-out line of this surface"),
        # A line in the middle of the sink is not the sink: its edge is somewhere else.
        ("67 to 83 left of the sink", "across", WALL, "is no set-out line of this surface"),
        ("120 above the floor, centre", "up", WALL, "is no set-out line of this surface"),
        ("centre 50 left of V, maybe", "across", WALL, '"maybe" is not understood'),
        ("not 67 to 83 left of V", "across", WALL, "is no position"),
        ("50 to 90 left of V, burnt 100", "across", WALL, "is less than what the tape was held at"),
    ],
)
def test_what_is_asked_back(text, axis, setting, leads):
    with pytest.raises(ValueError, match=r"[.?]$") as asked:
        parse_reading(text, axis, setting)
    assert leads in str(asked.value)


SAID = (
    "67 to 83 left of V",
    "near side 67, far side 83, left of V",
    "right edge flush with V, 40 wide",
    "centre 75 left of V",
    "355 to 428 from RH corner",
)


@pytest.mark.parametrize("text", SAID)
@pytest.mark.parametrize("word", ["not", "roughly", "except", "minus", "unless", "opposite", "maybe"])
def test_a_word_that_is_not_known_is_never_passed_over(text, word):
    words = text.split()
    for at in range(len(words) + 1):
        with pytest.raises(ValueError, match=r"[.?]$"):
            parse_reading(" ".join([*words[:at], word, *words[at:]]), "across", WALL)


def test_two_things_that_are_called_alike_are_asked_about():
    both = Setting(
        lines={"V": "x", "B": "y"},
        holes={},
        areas={},
        points={},
        line_words={"V": "", "B": "worktop"},
        edge_words={Side.BOTTOM: "worktop"},
    )
    which = "write which, as in 212 to 228 above B or 212 to 228 in from bottom there"
    with pytest.raises(ValueError, match=rf'^"worktop" can be B or the bottom edge here: {which}\.$'):
        parse_reading("12 to 85 above the worktop", "up", both)


@pytest.mark.parametrize(
    ("text", "axis", "low", "start"),
    [
        ("top of the batten", "up", 0, B),
        ("12 above the batten", "up", 12, B),
        ("finished floor", "up", -1000, B),
        ("30 left of the middle of the sink", "across", -30, V),
    ],
)
def test_a_place_is_named_by_what_its_line_is(text, axis, low, start):
    place = parse_place(text, axis, WALL)
    assert (place.how, place.low, place.start) == ("centre", low, start)


@pytest.mark.parametrize(
    ("text", "axis", "how", "low", "high"),
    [
        ("near edge 92 into room off D, far edge 202", "up", "sides", 92, 202),
        ("c/l 1460 in from the threshold", "up", "centre", 1460, None),
        ("centre 214 off C, on your left walking in", "across", "centre", -214, None),
        ("tight to the back wall, 22 over all", "up", "sides", 0, 22),
    ],
)
def test_on_a_floor(text, axis, how, low, high):
    reading = parse_reading(text, axis, FLOOR)
    assert (reading.how, reading.low, reading.high) == (how, low, high)


@pytest.mark.parametrize(
    "text", ["1206 top, 1211 bottom, left of V", "884 right of V, plumb wall", "stops at trim, 2045 right of V"]
)
def test_an_edge_that_says_more_is_led_to_its_keys(text):
    with pytest.raises(ValueError, match=r"write it with keys, as in \{at: 11?[0-9]+ [a-z]+ of V, what: end panel"):
        parse_edge(text, Side.LEFT, WALL)


def test_an_edge_that_is_read_at_two_heights_in_one_sentence_has_both():
    said = edge_said("end panel, left of V: 1206 at 20 above B and 1211 at 1500 above B", Side.LEFT, WALL)
    assert said == {"at": "1206 left of V at 20 above B; 1211 left of V at 1500 above B", "what": "end panel"}


@pytest.mark.parametrize(
    ("word", "right"), [("rises", 2412), ("rise", 2412), ("climbs", 2412), ("falls", 2388), ("dips", 2388)]
)
def test_an_edge_that_rises_or_falls_by_so_much_does_so_once(word, right):
    ends = {Side.LEFT: "900 left of V", Side.RIGHT: "900 right of V"}
    said = edge_said(f"ceiling 2400 above B at the left, {word} 12 to the right", Side.TOP, WALL, ends)
    assert [part.split()[0] for part in said["at"].split("; ")] == ["2400", str(right)]


def test_in_behind_a_figure_is_a_way_and_no_inch():
    """100 in off the frame is 100 mm into the wall, not 100 inches."""
    reading = parse_reading("centre 100 in off the door frame", "across", WALL)
    assert (reading.low, reading.start) == (100, FRAME)


def test_an_area_may_have_any_name():
    setting = Setting(lines={"V": "x"}, holes={}, areas={"back of the bath": "back of the bath"}, points={})
    reading = parse_reading("69 to 84 right of back of the bath 3-6", "across", setting)
    assert reading.start == From("piece", "back of the bath 3-6", Side.RIGHT)


@pytest.mark.parametrize(
    ("text", "axis", "low"),
    [("dead on the plumb", "across", 0), ("c/l 75 L of V", "across", -75), ("top 40 below the level", "up", -40)],
)
def test_one_of_several_readings_is_along_the_axis_that_its_words_fit(text, axis, low):
    taken = parse_taken(f"{text}, within 2", WALL)
    assert taken.reading is not None
    assert (taken.axis, taken.reading.low, taken.within) == (axis, low, 2)


@pytest.mark.parametrize(
    ("lines", "text", "axis"),
    [
        # Through its middle or at a side? It is not said.
        ({"V": "window", "B": ""}, "67 to 83 left of the window", "across"),
        ({"V": "", "B": "mirror"}, "67 to 83 above the mirror", "up"),
    ],
)
def test_what_a_line_is_must_say_where_on_it_the_line_is(lines, text, axis):
    setting = Setting(lines={"V": "x", "B": "y"}, holes={}, areas={}, points={}, line_words=lines)
    with pytest.raises(ValueError, match=r"is no set-out line of this surface"):
        parse_reading(text, axis, setting)


@pytest.mark.parametrize("text", ["centre 150 left of hot", "centre 150 left of the pipe", "level with hot"])
def test_a_hole_with_a_figure_in_its_name_is_called_by_all_of_it(text):
    setting = Setting(
        lines={"V": "x", "B": "y"}, holes={"hot 2": "hot 2", "box 3": "box 3"}, areas={}, points={}, line_words={}
    )
    with pytest.raises(ValueError, match=r"is no (?:set-out line|hole) of this surface"):
        parse_reading(text, "across", setting)
    assert parse_reading("centre 150 left of hot 2", "across", setting).other == "hot 2"


@pytest.mark.parametrize(
    ("text", "axis"),
    [
        ("straddles V, 22 / 51 R", "across"),
        ("B runs through the box, 40 above, 57", "up"),
        ("flush with the batten, 15 high", "up"),
        ("top of it flush with top", "up"),
        ("straddles V", "across"),
    ],
)
def test_what_does_not_say_which_side_is_where_is_asked(text, axis):
    with pytest.raises(ValueError, match=r"does not say|on one side: write which"):
        parse_reading(text, axis, WALL)


@pytest.mark.parametrize("text", ["on V, 75 either side to centre", "67 83 left of V"])
def test_what_may_be_two_things_is_not_taken_for_two_sides(text):
    with pytest.raises(ValueError, match=r"one thing or two|nothing between"):
        parse_reading(text, "across", WALL)


@pytest.mark.parametrize(
    "text", ["67 to -83 left of V", "22 L / -51 R of V", "near 67, far \u221283, left of V", "+67 to 83 left of V"]
)
def test_a_sign_is_never_passed_over(text):
    with pytest.raises(ValueError, match=r"sign|negative"):
        parse_reading(text, "across", WALL)


@pytest.mark.parametrize(
    "text", ["~67 to 83 left of V", "67 to 83 left of V?", "67 to 83 left of V ±", "67 to 83 % left of V"]
)
def test_nor_is_a_mark_that_says_something(text):
    with pytest.raises(ValueError, match=r"is no position|is not understood"):
        parse_reading(text, "across", WALL)


@pytest.mark.parametrize("text", ["-3 to 12", "3 to -12", "centre \u22127"])
def test_nor_from_a_neighbour(text):
    with pytest.raises(ValueError, match=r"has a sign, and a length has none"):
        parse_bare(text, Unit.MM)


def test_a_text_is_no_phrase():
    with pytest.raises(ValueError, match=r"is [0-9]+ characters long: write at most 400\.$"):
        parse_reading("67 to 83 left of V, " * 10_000, "across", WALL)
