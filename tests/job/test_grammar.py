"""Positions in words. Distances are of the phrases themselves: right and up positive, inward positive from an edge."""

from __future__ import annotations

import pytest

from cutmarks.job import Setting, parse_bare, parse_place, parse_reading, parse_spot
from cutmarks.job.grammar import parse_edge
from cutmarks.readings import From
from cutmarks.sides import Side
from cutmarks.units import Unit

WALL = Setting(lines={"V": "x", "B": "y", "shelf": "y"}, holes={"hot": "Hot"}, areas={"splash": "splash"})
FLOOR = Setting(kind="floor", lines={"V": "x", "D": "y"})
INCH = Setting(unit=Unit.INCH, lines={"V": "x", "B": "y"})
V, B, D = From("line", "V"), From("line", "B"), From("line", "D")


@pytest.mark.parametrize(
    ("text", "how", "low", "high", "start"),
    [
        ("67 to 83 left of V", "sides", -83, -67, V),
        ("83 to 67 left of V", "sides", -83, -67, V),
        ("67-83 right of V", "sides", 67, 83, V),
        ("67 to 83 to the right of v", "sides", 67, 83, V),
        ("30 left to 20 right of V", "sides", -30, 20, V),
        ("20 right to 30 left of V", "sides", -30, 20, V),
        ("centre 75 left of V", "centre", -75, None, V),
        ("center 75 right of V", "centre", 75, None, V),
        ("on V", "centre", 0, None, V),
        ("centre on V", "centre", 0, None, V),
        ("near 67 right of V", "low", 67, None, V),
        ("far 83 right of V", "high", 83, None, V),
        ("near 67 left of V", "high", -67, None, V),
        ("far side 83 left of V", "low", -83, None, V),
        ("left side 67 right of V", "low", 67, None, V),
        ("right side 67 left of V", "high", -67, None, V),
        ("277 in from right there", "centre", 277, None, From("edge", Side.RIGHT, Side.RIGHT)),
        ("270 to 285 in from right there", "sides", 270, 285, From("edge", Side.RIGHT, Side.RIGHT)),
        ("near 277 in from right there", "high", 277, None, From("edge", Side.RIGHT, Side.RIGHT)),
        ("near 277 in from the left edge", "low", 277, None, From("edge", Side.LEFT, Side.LEFT)),
        ("277 right of the left edge", "centre", 277, None, From("edge", Side.LEFT, Side.LEFT)),
        ("69 to 84 from the right edge of splash 3-6", "sides", 69, 84, From("piece", "splash 3-6", Side.RIGHT)),
        ("69 to 84 right of splash 3-6", "sides", 69, 84, From("piece", "splash 3-6", Side.RIGHT)),
        ("5 to 9 left of the right edge of splash 3-6", "sides", -9, -5, From("piece", "splash 3-6", Side.RIGHT)),
        ("69 to 84 from the left edge of splash U2-R3", "sides", -84, -69, From("piece", "splash U2-R3", Side.LEFT)),
    ],
)
def test_across(text, how, low, high, start):
    reading = parse_reading(text, "across", WALL)
    assert (reading.how, reading.low, reading.high, reading.start) == (how, low, high, start)
    assert reading.text == text


@pytest.mark.parametrize(
    ("text", "how", "low", "high", "start"),
    [
        ("212 to 228 above B", "sides", 212, 228, B),
        ("42 below to 30 above B", "sides", -42, 30, B),
        ("42 below B to 30 above B", "sides", -42, 30, B),
        ("42 below B to 30 below B", "sides", -42, -30, B),
        ("212 to 228 below B", "sides", -228, -212, B),
        ("underside 40 above B", "low", 40, None, B),
        ("top 40 below B", "high", -40, None, B),
        ("near 40 below B", "high", -40, None, B),
        ("centre 600 above shelf", "centre", 600, None, From("line", "shelf")),
        ("120 up from the floor", "centre", 120, None, From("edge", Side.BOTTOM, Side.BOTTOM)),
        ("120 to 135 above the floor", "sides", 120, 135, From("edge", Side.BOTTOM, Side.BOTTOM)),
        ("300 down from the ceiling", "centre", 300, None, From("edge", Side.TOP, Side.TOP)),
        ("107 to 122 above splash 2-6", "sides", 107, 122, From("piece", "splash 2-6", Side.TOP)),
    ],
)
def test_up_a_wall(text, how, low, high, start):
    reading = parse_reading(text, "up", WALL)
    assert (reading.how, reading.low, reading.high, reading.start) == (how, low, high, start)


@pytest.mark.parametrize(
    ("text", "how", "low", "high"),
    [
        ("1420 to 1530 from D", "sides", 1420, 1530),
        ("1420 to 1530 in from D", "sides", 1420, 1530),
        ("1420 to 1530 above D", "sides", 1420, 1530),
        ("centre 30 short of D", "centre", -30, None),
        ("30 to 40 below D", "sides", -40, -30),
        ("60 short to 40 from D", "sides", -60, 40),
        ("near 30 short of D", "high", -30, None),
    ],
)
def test_into_a_floor(text, how, low, high):
    reading = parse_reading(text, "up", FLOOR)
    assert (reading.how, reading.low, reading.high, reading.start) == (how, low, high, D)


@pytest.mark.parametrize(
    ("text", "low", "high"),
    [
        # By hand: 8 1/16 in = 204.7875 mm, 8 11/16 = 220.6625, 12 3/8 = 314.325, 13 1/4 = 336.55 (25.4 mm an inch).
        ("8 1/16 to 8 11/16 left of V", -220.6625, -204.7875),
        ("12-3/8 to 13 1/4 left of V", -336.55, -314.325),
        ('12 3/8" to 13 1/4" right of V', 314.325, 336.55),
        ("12-3/8 - 13-1/4 right of V", 314.325, 336.55),
        ("9.69 to 10 right of V", 246.126, 254.0),
        ("2' 1 1/4\" to 26 right of V", 641.35, 660.4),
    ],
)
def test_inches(text, low, high):
    reading = parse_reading(text, "across", INCH)
    assert (reading.low, reading.high) == pytest.approx((low, high), abs=1e-9)


def test_level_with_another_hole_is_spelt_as_that_hole():
    reading = parse_reading("level with hot", "up", WALL)
    assert (reading.how, reading.other, reading.start) == ("level with", "Hot", None)


@pytest.mark.parametrize(
    ("text", "low", "high", "area"),
    [
        ("in course 4, 98 up", 98, None, None),
        ("in course 4, centre 98 up", 98, None, None),
        ("in course 4, 98 to 113 up", 98, 113, None),
        ("in course 4 of Splash, 113 to 98 up", 98, 113, "splash"),
    ],
)
def test_in_a_course(text, low, high, area):
    reading = parse_reading(text, "up", WALL)
    assert (reading.how, reading.course, reading.low, reading.high, reading.area) == ("course", 4, low, high, area)


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        (
            "75 right of V",
            '"75 right of V" does not say to what: write "centre 75 right of V", "near 75 right of V" or '
            '"far 75 right of V", or both sides, as in "67 to 83 right of V".',
        ),
        ("-12 right of V", 'A distance from a set-out line cannot be negative: write "12 left of V".'),
        ("\u221212 left of V", 'A distance from a set-out line cannot be negative: write "12 right of V".'),
        ("centre -12 right of V", 'A distance from a set-out line cannot be negative: write "centre 12 left of V".'),
        ("+12 right of V", 'A distance takes no sign: write "12 right of V".'),
        ("67 to 83 right of B", "B is level: right of or left of needs a line that is plumb."),
        ("67 to 83 right of Q", '"Q" is no set-out line of this surface: write V, B or shelf.'),
        ("67 to 83 right of shelv", '"shelv" is no set-out line of this surface: did you mean shelf?'),
        (
            "67 to 83 above V",
            '"67 to 83 above V" does not fit across, which takes right of or left of a line: '
            "write it as in 67 to 83 left of V.",
        ),
        (
            "67 to 83",
            '"67 to 83" does not say from what: write right of or left of and a set-out line, '
            "as in 67 to 83 left of V.",
        ),
        (
            "67 to 83 leftish of V",
            '"leftish of V" is not understood behind the distance: write right of or left of and a set-out line, '
            "as in 67 to 83 left of V.",
        ),
        (
            "88 to ? left of V",
            '"88 to ? left of V" gives one figure, and ? for the other: write both, as in 67 to 83 left of V, or leave '
            "it out until both are read.",
        ),
        (
            "67 to 67 left of V",
            '"67 to 67 left of V" gives the same distance twice: write both sides of the thing, or centre.',
        ),
        ("nan left of V", '"nan left of V" is no position: write it as in 67 to 83 left of V.'),
        ("by the tap", '"by the tap" is no position: write it as in 67 to 83 left of V.'),
        ("?", "A position must be known: measure it, or leave the hole out until it is."),
        (
            "near 67 to 83 left of V",
            '"near 67 to 83 left of V" names one side of the thing and gives two distances: leave one out.',
        ),
        (
            "277 in from bottom there",
            '"277 in from bottom there" is from a bottom edge: this axis has left and right edges: write which.',
        ),
        (
            "277 left of the left edge",
            '"277 left of the left edge" lies outside the left edge: write it as in 277 in from left there.',
        ),
        (
            "underside 3 left of V",
            '"underside 3 left of V" names the underside, which is no side on this axis: '
            "write left side or right side, or near or far.",
        ),
        ("level with cold", '"cold" is no hole of this surface: write Hot.'),
        ("in course 4, 98 up", '"in course 4, 98 up" is a height: write across as in 67 to 83 left of V.'),
    ],
)
def test_what_is_refused_across(text, sentence):
    with pytest.raises(ValueError) as refused:  # noqa: PT011 - the whole sentence is compared
        parse_reading(text, "across", WALL)
    assert str(refused.value) == sentence


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        (
            "-312 to -327 above B",
            'A distance from a set-out line cannot be negative: write "312 to 327 below B".',
        ),
        (
            "42 above B to 30 above shelf",
            '"42 above B to 30 above shelf" is from two lines, B and shelf: read both sides from one.',
        ),
        ("-42 to 30 above B", 'A distance from a set-out line cannot be negative: write "42 below to 30 above B".'),
        (
            "30 above B to 30 above B",
            '"30 above B to 30 above B" gives the same distance twice: write both sides of the thing, or centre.',
        ),
        ("-12 above B", 'A distance from a set-out line cannot be negative: write "12 below B".'),
        ("67 to 83 above V", "V is plumb: above or below needs a line that is level."),
        (
            "in course 0, 98 up",
            '"in course 0, 98 up" counts from nothing: course 1 stands on the area\'s base, and what lies under that '
            "is under 1, under 2 downward.",
        ),
        ("in course 4 of field, 98 up", '"field" is no area of this surface: write splash.'),
    ],
)
def test_what_is_refused_up(text, sentence):
    with pytest.raises(ValueError) as refused:  # noqa: PT011 - the whole sentence is compared
        parse_reading(text, "up", WALL)
    assert str(refused.value) == sentence


def test_a_floors_line_on_the_wrong_axis():
    with pytest.raises(ValueError, match=r"^V is drawn across: from needs a line that is drawn along\.$"):
        parse_reading("30 to 40 from V", "up", FLOOR)


@pytest.mark.parametrize(
    ("text", "low"), [("B", 0), ("b", 0), ("on B", 0), ("600 above B", 600), ("5 below B", -5), ("60 cm above B", 600)]
)
def test_a_place_is_one_distance(text, low):
    place = parse_place(text, "up", WALL)
    assert (place.how, place.low, place.high, place.start) == ("centre", low, None, B)


@pytest.mark.parametrize("text", ["3 to 4 above B", "4 in from bottom there", "600", "C", "?", ""])
def test_what_is_no_place(text):
    with pytest.raises(ValueError, match=r"[.?]$"):
        parse_place(text, "up", WALL)


@pytest.mark.parametrize(
    "text", ["100 right of V, 350 above B", "350 above B, 100 right of V", "100 right of V and 350 above B"]
)
def test_a_corner_has_two_readings_in_either_order(text):
    corner = parse_spot(text, WALL)
    assert (corner.across.low, corner.up.low) == (100, 350)


def test_an_edge_says_where_it_was_read():
    reading = parse_edge("1058 right of V at 1450 above B", Side.RIGHT, WALL)
    assert reading.along is not None
    assert (reading.at.low, reading.along.low) == (1058, 1450)
    assert parse_edge("1065 right of V at B", Side.RIGHT, WALL).along == parse_place("B", "up", WALL)
    assert parse_edge("5 below B at 700 left of V", Side.BOTTOM, WALL).along == parse_place(
        "700 left of V", "across", WALL
    )
    assert parse_edge("1140 left of V", Side.LEFT, WALL).along is None
    for said in ("at B", "At B", "level with B", "flush with B"):
        assert parse_edge(said, Side.BOTTOM, WALL) == parse_edge("on B", Side.BOTTOM, WALL)
    assert parse_edge("at B at 700 left of V", Side.BOTTOM, WALL) == parse_edge(
        "on B at 700 left of V", Side.BOTTOM, WALL
    )
    assert parse_edge("at 1140 left of V", Side.LEFT, WALL) == parse_edge("1140 left of V", Side.LEFT, WALL)


@pytest.mark.parametrize(
    ("text", "how", "low", "high"),
    [
        ("69 to 84", "sides", 69, 84),
        ("69-84", "sides", 69, 84),
        ("84 and 69", "sides", 69, 84),
        ("centre 76.5", "centre", 76.5, None),
        ("near 69", "low", 69, None),
        ("far 84", "high", 84, None),
    ],
)
def test_from_a_neighbour_that_need_not_be_named(text, how, low, high):
    reading = parse_bare(text, Unit.MM)
    assert (reading.how, reading.low, reading.high, reading.start) == (how, low, high, None)


def test_one_bare_figure_does_not_say_to_what():
    with pytest.raises(
        ValueError, match=r'^"76" does not say to what: write "centre 76", "near 76" or "far 76", or both'
    ):
        parse_bare("76", Unit.MM)
    with pytest.raises(
        ValueError, match=r'^"69 to 84 from V" is no reading: write both sides of the thing, as in 69 to 84\.$'
    ):
        parse_bare("69 to 84 from V", Unit.MM)
