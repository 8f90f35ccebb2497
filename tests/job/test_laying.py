"""Sizes, runs, bonds, starts and lines in words."""

from __future__ import annotations

from fractions import Fraction

import pytest

from cutmarks.job import Setting, parse_bond, parse_size
from cutmarks.job.laying import parse_line, parse_run, parse_start, split_start
from cutmarks.units import Unit

WALL = Setting(lines={"V": "x", "B": "y"})
FLOOR = Setting(kind="floor", lines={"V": "x", "D": "y"})


@pytest.mark.parametrize(
    ("text", "unit", "first", "second"),
    [
        ("248 x 398", Unit.MM, 248, 398),
        ("248x398", Unit.MM, 248, 398),
        ("248×398", Unit.MM, 248, 398),
        ("248 by 398", Unit.MM, 248, 398),
        ("24.8 cm x 398 mm", Unit.MM, 248, 398),
        # By hand at 25.4 mm an inch: 6 is 152.4, 12 is 304.8, 24 is 609.6, 11 13/16 is 300.0375.
        ('6" x 12"', Unit.MM, 152.4, 304.8),
        ("12 x 24 in", Unit.MM, 304.8, 609.6),
        ("11 13/16 x 11 13/16", Unit.INCH, 300.0375, 300.0375),
        ("11 13/16 x 11 13/16 in", Unit.MM, 300.0375, 300.0375),
        ("300 mm x 12", Unit.INCH, 300, 304.8),
    ],
)
def test_two_sizes(text, unit, first, second):
    size = parse_size(text, unit)
    assert (size.first, size.second) == pytest.approx((first, second), abs=1e-9)


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("297", '"297" is no size: write two with x between, as in 297 x 97.'),
        ("297 x 97 x 9", '"297 x 97 x 9" has three sizes: write two, and thickness: on a line of its own.'),
        ("297 x ", '"297 x" is no size: write two with x between, as in 297 x 97.'),
        ("0 x 97", '"0 x 97" has a size of nothing: write two sizes, as in 297 x 97.'),
        ("?", "A size must be known: measure it."),
        ("29,7 x 9", '"29,7" has a comma in a number: write 29.7.'),
    ],
)
def test_what_is_no_size(text, sentence):
    with pytest.raises(ValueError) as refused:  # noqa: PT011 - the whole sentence is compared
        parse_size(text, Unit.MM)
    assert str(refused.value) == sentence


def test_a_run_counts_tiles_and_their_joints():
    """Five tiles of 297 with four joints of 3 measure 5 x 297 + 4 x 3 = 1497."""
    run = parse_run("5 in 1497", Unit.MM)
    assert (run.count, run.length) == (5, 1497)
    assert (run.length + 3) / run.count == 300
    # By hand: 59 13/16 in is 59.8125 x 25.4 = 1519.2375 mm.
    assert parse_run("5 in 59 13/16", Unit.INCH).length == pytest.approx(1519.2375, abs=1e-9)


@pytest.mark.parametrize("text", ["5", "1 in 300", "five in 1497", "5 in 0"])
def test_what_is_no_run(text):
    with pytest.raises(ValueError, match=r"is no run: "):
        parse_run(text, Unit.MM)


@pytest.mark.parametrize(
    ("text", "part", "mm", "way"),
    [
        ("stack", Fraction(0), 0, "alternate"),
        ("stack bond", Fraction(0), 0, "alternate"),
        ("half", Fraction(1, 2), 0, "alternate"),
        ("third right", Fraction(1, 3), 0, "alternate"),
        ("third left", Fraction(-1, 3), 0, "alternate"),
        ("third left, stepped", Fraction(-1, 3), 0, "progressive"),
        ("third right, back and forth", Fraction(1, 3), 0, "alternate"),
        ("1/4 right stepped", Fraction(1, 4), 0, "progressive"),
        ("⅓ left", Fraction(-1, 3), 0, "alternate"),
        ("½", Fraction(1, 2), 0, "alternate"),
        ("¼ right", Fraction(1, 4), 0, "alternate"),
        ("200 right", Fraction(0), 200, "alternate"),
        ("20 cm to the left, stepped", Fraction(0), -200, "progressive"),
    ],
)
def test_bonds(text, part, mm, way):
    bond = parse_bond(text, Unit.MM)
    assert (bond.part, bond.mm, bond.way, bond.words) == (part, mm, way, text)


@pytest.mark.parametrize(
    ("text", "carried"),
    [
        ("offcut carried on", "left"),
        ("off-cut carried on, from the right", "right"),
        ("offcuts start the next row", "left"),
        ("the cut end starts the next course", "left"),
        ("carry on the offcut from the left", "left"),
    ],
)
def test_the_bond_that_carries_its_offcut_on(text, carried):
    bond = parse_bond(text, Unit.MM)
    assert (bond.part, bond.mm, bond.way, bond.carried, bond.words) == (0, 0, "progressive", carried, text)


@pytest.mark.parametrize(
    ("text", "unit", "sentence"),
    [
        (
            "half with the offcuts",
            Unit.MM,
            '"half with the offcuts" does not say what is done with it: write "offcut carried on", or "offcut carried '
            'on, from the right" where courses are laid from there.',
        ),
        (
            "third",
            Unit.MM,
            '"third" does not say which way it steps: write "third right" or "third left" '
            "(each odd course from the start moves that way).",
        ),
        ("200", Unit.MM, '"200" does not say which way it steps: write "200 right" or "200 left".'),
        (
            "herringbone",
            Unit.MM,
            '"herringbone" cannot be laid here: tiles lie in courses, as in bond: half; write stack, half, third '
            "right, third left, or a distance as in 200 right.",
        ),
        (
            "1/3 right",
            Unit.INCH,
            '"1/3" can be a part of a tile or of an inch: write half, third or quarter, or 1/3 in with its unit.',
        ),
    ],
)
def test_what_is_no_bond(text, unit, sentence):
    with pytest.raises(ValueError) as refused:  # noqa: PT011 - the whole sentence is compared
        parse_bond(text, unit)
    assert str(refused.value) == sentence


@pytest.mark.parametrize(
    ("text", "axis", "anchor", "low"),
    [
        ("joint on V", "across", "joint", 0),
        ("middle on V", "across", "middle", 0),
        ("left on V", "across", "left", 0),
        ("right edge on V", "across", "right", 0),
        ("joint 12 right of V", "across", "joint", 12),
        ("joint on 12 left of V", "across", "joint", -12),
        ("corner on V", "across", "corner", 0),
        ("joint crossing on V", "across", "crossing", 0),
        ("joint on B", "up", "joint", 0),
        ("middle 30 below B", "up", "middle", -30),
        ("sits on B", "up", "sits on", 0),
        ("sits on 600 above B", "up", "sits on", 600),
        ("hangs from B", "up", "hangs from", 0),
        ("hangs from 12 below B", "up", "hangs from", -12),
    ],
)
def test_starts(text, axis, anchor, low):
    start = parse_start(text, axis, WALL)
    assert (start.anchor, start.at.low) == (anchor, low)


@pytest.mark.parametrize(
    ("text", "axis", "sentence"),
    [
        (
            "sits on V",
            "across",
            '"sits on V" is no start across: it takes joint, middle, left or right, as in joint on V.',
        ),
        (
            "left on B",
            "up",
            '"left on B" is no start up: it takes joint, middle, sits on or hangs from, as in sits on B.',
        ),
        ("joint", "across", '"joint" does not say on what: write it as in joint on V.'),
        (
            "on V",
            "across",
            '"on V" is no start: write what of the tile lies on what, as in joint on V; what else is to be said of it '
            "stands under work, or in a note.",
        ),
    ],
)
def test_what_is_no_start(text, axis, sentence):
    with pytest.raises(ValueError) as refused:  # noqa: PT011 - the whole sentence is compared
        parse_start(text, axis, WALL)
    assert str(refused.value) == sentence


@pytest.mark.parametrize(
    ("text", "both"),
    [
        ("joint on V, sits on B", ("joint on V", "sits on B")),
        ("middle on V and B", ("middle on V", "middle on B")),
        ("joint crossing on V and B", ("joint crossing on V", "joint crossing on B")),
        ("joint on V and sits on B", ("joint on V", "sits on B")),
    ],
)
def test_a_start_on_both_axes_in_one_phrase(text, both):
    assert split_start(text) == both


def test_lines_have_a_kind_a_distance_and_words():
    plumb = parse_line("plumb, middle of the sink", WALL)
    assert (plumb.kind, plumb.fixes, plumb.at, plumb.words) == ("plumb", "x", None, "middle of the sink")
    shelf = parse_line("level, 1200 above B, top of the window", WALL)
    assert shelf.at is not None
    assert (shelf.fixes, shelf.at.low, shelf.words) == ("y", 1200, "top of the window")
    # A line that runs along the room fixes how far in it is; one that runs across it, how far right.
    assert parse_line("along, face of the hearth", FLOOR).fixes == "y"
    assert parse_line("across, middle of the door", FLOOR).fixes == "x"
    assert parse_line("level", WALL).words == ""


def test_a_floors_words_for_a_line_are_none_on_a_wall():
    with pytest.raises(ValueError) as refused:  # noqa: PT011 - the whole sentence is compared
        parse_line("along, face of the hearth", WALL)
    assert str(refused.value) == (
        '"along" is no kind of line (this surface is a wall): write plumb or level, a comma, and the words to print, '
        "as in plumb, middle of the sink."
    )


def test_words_that_begin_with_a_figure_are_taken_for_a_distance():
    with pytest.raises(ValueError, match=r'^"nails in the batten" is not understood behind the distance'):
        parse_line("level, 2 nails in the batten", WALL)


@pytest.mark.parametrize("text", ["45 right", "45 left, stepped", "45 mm right"])
def test_a_course_that_moves_45_to_a_side_is_not_turned(text: str) -> None:
    assert abs(parse_bond(text, Unit.MM).mm or 0.0) == 45.0


@pytest.mark.parametrize("text", ["laid at 45", "stack at 45 degrees", "diagonal"])
def test_45_to_no_side_is_how_it_is_turned(text: str) -> None:
    with pytest.raises(ValueError, match="write turn: 45 in the area"):
        parse_bond(text, Unit.MM)
