"""Words measured against the font file itself, read by fontTools without our own code."""

from __future__ import annotations

from importlib import resources
from io import BytesIO
from itertools import pairwise

import pytest
from fontTools.pens.boundsPen import ControlBoundsPen  # type: ignore[import-untyped]
from fontTools.ttLib import TTFont  # type: ignore[import-untyped]

from cutmarks.geometry.frames import Page, Point
from cutmarks.marks.glyphs import BOX, CAP, EM, glyph, has
from cutmarks.marks.lettering import fitting, ink, printable, width, wrapped
from cutmarks.marks.model import Words

FILES = {False: "DejaVuSans.ttf", True: "DejaVuSans-Bold.ttf"}


def font(bold):
    return TTFont(BytesIO(resources.files("cutmarks.marks").joinpath("font", FILES[bold]).read_bytes()))


@pytest.mark.parametrize("bold", [False, True])
def test_a_capital_is_as_high_as_the_font_says(bold):
    assert font(bold)["glyf"]["H"].yMax == CAP
    assert font(bold)["head"].unitsPerEm == EM


def words(text, height=7.0, **more):
    made: Words[Page] = Words(text, Point(0.0, 0.0), height, **more)
    return made


@pytest.mark.parametrize("bold", [False, True])
def test_a_capital_is_as_high_as_is_asked_for(bold):
    xs_ys = ink(words("H", 7.0, bold=bold))
    assert min(y for _, y in xs_ys) == pytest.approx(0.0)
    assert max(y for _, y in xs_ys) == pytest.approx(7.0)


@pytest.mark.parametrize("bold", [False, True])
def test_width_is_the_sum_of_the_font_s_own_advances(bold):
    face = font(bold)
    names, advances = face.getBestCmap(), face["hmtx"]
    text = "112½ from the lower edge"
    bounds = ControlBoundsPen(face.getGlyphSet())
    face.getGlyphSet()[names[ord("H")]].draw(bounds)
    capital = bounds.bounds[3]
    expected = sum(advances[names[ord(char)]][0] for char in text) * 7.0 / capital
    assert width(text, 7.0, bold) == pytest.approx(expected)


@pytest.mark.parametrize("bold", [False, True])
def test_every_character_that_a_sheet_prints_is_in_the_font(bold):
    said = "".join(map(chr, range(0x20, 0x7F))) + "½¼¾⅛⅜⅝⅞°×–−·’“”äöüßéèåøñç" + BOX
    assert [char for char in said if not has(char, bold)] == []


def test_a_character_that_the_font_lacks_is_shown_as_a_box_and_not_dropped():
    assert not has("漢", False)
    assert glyph("漢", False) == glyph(BOX, False)
    assert width("漢", 5.0) == width(BOX, 5.0) > 0.0


def test_control_characters_and_line_ends_never_reach_the_paper():
    assert printable("a\tb\nc\x07d\u200be") == f"a b c{BOX}d{BOX}e"
    assert printable("e\u0301") == "\u00e9"


def test_words_end_or_stand_in_the_middle_where_their_anchor_says():
    long = width("CORE 35", 5.0)
    start, middle, end = (ink(words("CORE 35", 5.0, anchor=anchor)) for anchor in ("start", "middle", "end"))
    assert start[0][0] - middle[0][0] == pytest.approx(long / 2)
    assert start[0][0] - end[0][0] == pytest.approx(long)


def test_turned_words_read_upward():
    corners = ink(words("UP", 5.0, turn=90.0))
    assert min(x for x, _ in corners) == pytest.approx(-5.0, abs=0.2)
    assert max(x for x, _ in corners) <= 0.1
    assert max(y for _, y in corners) == pytest.approx(width("UP", 5.0), abs=0.6)


def test_blank_words_have_no_ink():
    assert ink(words("   ")) == ()


def test_lines_are_broken_at_blanks_and_long_words_inside():
    text = "found MORE: the hole moves AWAY from it " + "x" * 60
    lines = wrapped(text, 2.5, 40.0)
    assert "".join(lines).replace(" ", "") == text.replace(" ", "")
    assert all(width(line, 2.5) <= 40.0 for line in lines)
    assert lines[0].startswith("found MORE:")


def test_words_shrink_only_as_far_as_they_must():
    assert fitting("UP", 5.0, 100.0) == 5.0
    size = fitting("SPLASH 3-7", 9.0, 30.0, bold=True)
    assert width("SPLASH 3-7", size, bold=True) == pytest.approx(30.0)


def test_a_whole_number_is_never_parted_from_its_fraction():
    lines = [wrapped("CUT-OUT 2 5/32 x 3 5/32", 5.0, room, bold=True) for room in range(40, 100)]
    assert all("3 5/32" in row[-1] for row in lines)
    assert max(len(row) for row in lines) > 1


@pytest.mark.parametrize("room", [16.0, 18.0, 22.0, 30.0, 45.0])
def test_no_line_is_broken_inside_a_figure(room: float):
    found = wrapped("right edge: from 4 9/32 to 13 15/16, then 7 1/2", 1.8, room)
    assert " ".join(found) == "right edge: from 4 9/32 to 13 15/16, then 7 1/2"
    assert not any(one.split(" ")[0] in ("9/32", "15/16,", "1/2") for one in found)


@pytest.mark.parametrize("text", ["from 4 9/32 to 13 15/16 in, then 7 1/2 in", "cut 2 5/32 x 3 5/32 in off 11 3/4 in"])
@pytest.mark.parametrize("bold", [False, True])
def test_a_line_takes_every_word_that_it_has_room_for(text, bold):
    # By the font's own advances: a next word, with its blank, would have stood out of the room.
    face = font(bold)
    names, advances = face.getBestCmap(), face["hmtx"]
    bounds = ControlBoundsPen(face.getGlyphSet())
    face.getGlyphSet()[names[ord("H")]].draw(bounds)

    def long(said):
        return sum(advances[names[ord(char)]][0] for char in said) * 2.1 / bounds.bounds[3]

    for room in range(18, 70):
        rows = wrapped(text, 2.1, float(room), bold)
        assert " ".join(rows) == text
        for row, following in pairwise(rows):
            # What the next line begins with, a whole number with its fraction.
            first, *rest = following.split(" ")
            glued = f"{first} {rest[0]}" if rest and first.isdigit() and "/" in rest[0] else first
            assert long(row) <= room < long(f"{row} {glued}")
