"""Bonds, starts, sizes, covers, fittings, lines and paper as they are called; what belongs to another key is led there.

Sizes by hand at 25.4 mm an inch; half, third and quarter are what the words say.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from cutmarks.job import Setting, parse_bond, parse_size
from cutmarks.job.holes import named_fitting, parse_cover, parse_opening
from cutmarks.job.laying import parse_line, parse_start, split_start
from cutmarks.job.tools import parse_paper
from cutmarks.readings import Size
from cutmarks.units import Unit

WALL = Setting(lines={"V": "x", "B": "y"}, line_words={"V": "middle of the sink", "B": "top of the batten"})
INCH = Setting(unit=Unit.INCH, say="us", lines={"V": "x", "B": "y"}, line_words={})


@pytest.mark.parametrize(
    ("text", "unit", "part", "way"),
    [
        ("brick", Unit.MM, Fraction(1, 2), "alternate"),
        ("running bond", Unit.INCH, Fraction(1, 2), "alternate"),
        ("stretcher", Unit.MM, Fraction(1, 2), "alternate"),
        ("broken joint", Unit.MM, Fraction(1, 2), "alternate"),
        ("half lap", Unit.MM, Fraction(1, 2), "alternate"),
        ("brick, half over half", Unit.MM, Fraction(1, 2), "alternate"),
        ("straight lay", Unit.MM, Fraction(0), "alternate"),
        ("joints run through", Unit.MM, Fraction(0), "alternate"),
        ("the joints go right through", Unit.MM, Fraction(0), "alternate"),
        ("stacked, joints line thru both ways", Unit.INCH, Fraction(0), "alternate"),
        ("1/3 offset, stair step up to the right", Unit.INCH, Fraction(1, 3), "progressive"),
        ("1/3 lap left", Unit.MM, Fraction(-1, 3), "alternate"),
        ("third running bond, right", Unit.MM, Fraction(1, 3), "alternate"),
        ("quarter right, there and back", Unit.MM, Fraction(1, 4), "alternate"),
        ("two thirds left stepped", Unit.MM, Fraction(-2, 3), "progressive"),
        ("stepped, third, right", Unit.MM, Fraction(1, 3), "progressive"),
    ],
)
def test_bonds_by_their_names(text, unit, part, way):
    bond = parse_bond(text, unit)
    assert (bond.part, bond.mm, bond.way, bond.words) == (part, 0, way, text)


@pytest.mark.parametrize(("text", "said"), [("third right", False), ("third right, back and forth", True)])
def test_how_a_bond_goes_on_is_assumed_only_where_it_is_not_said(text, said):
    assert parse_bond(text, Unit.MM).way_said is said


@pytest.mark.parametrize(
    ("text", "leads"),
    [
        ("third", "does not say which way it steps"),
        ("on point", "write turn: 45 in the area"),
        ("stacked on end", "write lay: long side up in the area, and here bond: stack"),
        ("vertical brick", "steps from column to column, and only courses that step can be laid here"),
        ("half bond up to the soldier, one soldier course", "is of two areas"),
        ("herringbone", "cannot be laid here"),
        ("random", "cannot be laid here"),
        ("half, 200 right", "is no bond"),
        ("stack, third right", "is no bond"),
        ("third quarter right", "is no bond"),
        ("third left right", "is no bond"),
        ("third right, sort of", "is no bond"),
        ("third right?", "is no bond"),
    ],
)
def test_what_bond_is_asked_back(text, leads):
    with pytest.raises(ValueError, match=r"\.$") as asked:
        parse_bond(text, Unit.MM)
    assert leads in str(asked.value)


@pytest.mark.parametrize(
    ("text", "across", "up"),
    [
        ("whole tile centred on V, sat on the batten", ("middle", 0), ("sits on", 0)),
        ("joint on V, full one up off batten", ("joint", 0), ("sits on", 0)),
        ("LH edge of 1st full tile 12 right of V, bott edge on B", ("left", 12), ("sits on", 0)),
        ("bottom of 1st row 3 off the batten, whole tile middle of sink", ("middle", 0), ("sits on", 3)),
        ("stands on B, right edge on V", ("right", 0), ("sits on", 0)),
        ("middle on V, hangs from 600 above B", ("middle", 0), ("hangs from", 600)),
    ],
)
def test_starts_on_both_axes(text, across, up):
    one, two = split_start(text, WALL)
    starts = parse_start(one, "across", WALL), parse_start(two, "up", WALL)
    assert [(start.anchor, start.at.low) for start in starts] == [across, up]


@pytest.mark.parametrize("text", ["start in the middle", "full at casing, cuts in the corner", "cuts at both ends"])
def test_a_start_that_says_something_else_is_led_on(text):
    with pytest.raises(ValueError, match=r"as in .*joint on V.* stands under work, or in a note\.$"):
        parse_start(split_start(text, WALL)[0], "across", WALL)


def test_equal_cuts_are_led_on_to_what_says_which_start_leaves_them():
    with pytest.raises(ValueError, match=r"write middle on V, or joint on V.* cutmarks check says what each leaves"):
        split_start("equal cuts, both ends", WALL)


@pytest.mark.parametrize(
    ("text", "kind", "words"),
    [
        ("vertical, middle of the sink", "plumb", "middle of the sink"),
        ("plumb line, middle of the sink", "plumb", "middle of the sink"),
        ("horizontal, top of the batten", "level", "top of the batten"),
        ("level, 1000 above finished floor", "level", "1000 above finished floor"),
        ("V - plumb, middle of the sink", "plumb", "middle of the sink"),
    ],
)
def test_lines_by_what_they_are(text, kind, words):
    line = parse_line(text, WALL)
    assert (line.kind, line.at, line.words) == (kind, None, words)


@pytest.mark.parametrize(("text", "first", "second"), [("148 sq", 148, 148), ("148 square", 148, 148)])
def test_a_square_tile(text, first, second):
    assert parse_size(text, Unit.MM) == Size(first, second)


@pytest.mark.parametrize("text", ["600x300 landscape, 2 joint", "300 x 600 on end", "12 x 24 w/ 1/8 grout"])
def test_a_size_that_says_more_is_led_to_its_keys(text):
    with pytest.raises(ValueError, match=r"how it lies as in lay: long side across, and the joint in the area"):
        parse_size(text, Unit.MM)


@pytest.mark.parametrize(
    ("text", "setting", "cover"),
    [
        ("rose 52", WALL, 52),
        ("52 rose, lots of cover", WALL, 52),
        ("plate 146 x 86", WALL, Size(146, 86)),
        ("170 high 120 wide", WALL, Size(120, 170)),
        ("split collars, 40 over, pr", WALL, 40),
        ("std plate 2 3/4 x 4 1/2", INCH, Size(69.85, 114.3)),
        ("none", WALL, "none"),
    ],
)
def test_covers_with_their_names(text, setting, cover):
    assert parse_cover(text, setting) == cover


@pytest.mark.parametrize(
    "text", ["usual rose", "no rose, cut 2 all round", "escutcheon 65 on 15 pipe", "rose 52, 65 or so"]
)
def test_a_cover_that_says_less_or_more_is_asked_back(text):
    with pytest.raises(ValueError, match=r"measure it, and write 65|says more than the size of a cover"):
        parse_cover(text, WALL)


@pytest.mark.parametrize(
    ("text", "setting", "od", "wide", "high"),
    [
        ("22 plastic", WALL, 22, None, None),
        ("15 tails", WALL, 15, None, None),
        ("soil stub 110", WALL, 110, None, None),
        ("cooker switch, the tall double one, 73 w 133 h", WALL, None, 73, 133),
        ("133 high 73 wide box", WALL, None, 73, 133),
        ("2-gang, 4 wide 3 3/4 tall", INCH, None, 101.6, 95.25),
        ("closet flange 7 OD", INCH, 177.8, None, None),
        ("shower valve, 3 1/2 across the mud ring", INCH, 88.9, None, None),
    ],
)
def test_fittings_as_they_are_called(text, setting, od, wide, high):
    fitting = named_fitting(text, setting)
    assert fitting is not None
    assert (fitting.od, fitting.w, fitting.h) == (od, wide, high)


@pytest.mark.parametrize(
    ("text", "setting", "leads"),
    [
        ("40 waste, mics 43 over", WALL, "what was measured stands under diameter or size"),
        ("15 cu, won't come off", WALL, "write end: runs on"),
        ("40 plastic", WALL, "can be several pipes"),
        ("1/2 stub", INCH, "can be several pipes"),
        ("socket box 70 across", WALL, "has a size but no kind that is known"),
    ],
)
def test_what_fitting_is_asked_back(text, setting, leads):
    with pytest.raises(ValueError, match=r".") as asked:
        named_fitting(text, setting)
    assert leads in str(asked.value)


def test_a_makers_range_of_two_sizes_is_led_on():
    with pytest.raises(ValueError, match=r"choose a size between them, as in 76 x 76\.$"):
        parse_opening("90 x 150 to 110 x 170", WALL)


@pytest.mark.parametrize(
    ("text", "paper"),
    [
        # 610 in is 15.5 m, and no roll is: it is 610 mm. 24 in is 609.6 mm.
        ("roll 610", "roll 610"),
        ("roll 24", "roll 609.6"),
        ("610 x 900", "610 x 900"),
        ("24 x 36", "609.6 x 914.4"),
    ],
)
def test_paper_in_an_inch_job(text, paper):
    assert parse_paper(text, INCH) == paper
