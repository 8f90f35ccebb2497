"""Measures as they are printed; figures are by hand, and those of worked examples W1, W4 and W5."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cutmarks.units import (
    Style,
    Unit,
    pair_in_steps,
    parse_length,
    say,
    say_down,
    say_spare,
    say_steps,
    say_sum,
    say_up,
)

MM, INCH = Unit.MM, Unit.INCH
HALF_MM = Style()
IN_32 = Style(INCH, Fraction(1, 32))
IN_16 = Style(INCH, Fraction(1, 16))


@pytest.mark.parametrize(
    ("mm", "style", "words"),
    [
        (74.5, HALF_MM, "74½"),
        (248.0, HALF_MM, "248"),
        (0.5, HALF_MM, "½"),
        (0.0, HALF_MM, "0"),
        (-0.1, HALF_MM, "0"),
        (-6.0, HALF_MM, "-6"),
        (-6.5, HALF_MM, "-6½"),
        (74.25, HALF_MM, "74½"),  # halves up
        (74.2499999, HALF_MM, "74½"),  # snapped to 0.000001 mm first: a half is a half
        (74.24, HALF_MM, "74"),
        (74.5, Style(MM, Fraction(1)), "75"),
        (242.09375, IN_32, "9 17/32"),  # W4: 9.53125 x 25.4
        (57.94375, IN_32, "2 9/32"),  # W4: 2.28125 x 25.4
        (57.94375, IN_16, "2 5/16"),  # W4: halves up
        (203.2, IN_32, "8"),
        (12.7, IN_32, "1/2"),
        (-12.7, IN_32, "-1/2"),
        (300.0, IN_16, "11 13/16"),  # W4: a 300 mm tile in an inch job
    ],
)
def test_measures_as_printed(mm: float, style: Style, words: str) -> None:
    assert say(mm, style) == words


@pytest.mark.parametrize(
    ("mm", "style", "words"),
    [
        (113.76, HALF_MM, "113½"),  # W5
        (116.0, HALF_MM, "116"),  # W5
        (115.9999999, HALF_MM, "116"),
        (113.49, HALF_MM, "113"),
        (25.39, IN_32, "31/32"),
    ],
)
def test_sizes_that_have_to_go_in_are_rounded_down(mm: float, style: Style, words: str) -> None:
    assert say_down(mm, style) == words


@pytest.mark.parametrize(
    ("nearer", "whole", "style", "words"),
    [
        (74.5, 248.0, HALF_MM, ("74½", "173½")),  # W1
        (57.94375, 300.0375, IN_32, ("2 9/32", "9 17/32")),  # W4: tile 11 13/16
        (57.94375, 300.0375, IN_16, ("2 5/16", "9 1/2")),  # W4: 11 13/16 - 2 5/16
        (99.8, 299.6, HALF_MM, ("100", "199½")),  # 299.6 shows as 299½; 199.8 alone would show as 200
    ],
)
def test_a_pair_adds_up_to_the_shown_whole(nearer: float, whole: float, style: Style, words: tuple[str, str]) -> None:
    assert tuple(say_steps(one, style) for one in pair_in_steps(nearer, whole, style)) == words


@pytest.mark.parametrize(
    ("first", "second", "style", "words"),
    [
        (248.0, 6.5, HALF_MM, "254½"),
        (299.6, 0.3, HALF_MM, "300"),  # 299½ and ½ as they are shown; 299.9 alone would show as 300 as well
        (299.7, 0.2, HALF_MM, "299½"),  # 299½ and 0; 299.9 alone would show as 300
        (300.0375, 57.94375, IN_16, "14 1/8"),  # 11 13/16 and 2 5/16, of which each is shown so
    ],
)
def test_measures_that_follow_one_another_add_up_as_shown(
    first: float, second: float, style: Style, words: str
) -> None:
    assert say_sum(first, second, style) == words


def test_paper_knows_millimetres_and_inches_only() -> None:
    with pytest.raises(ValueError, match=r"^Measures are shown in mm or in, not in cm\.$"):
        Style(Unit.CM)
    with pytest.raises(
        ValueError, match=r"^1/3 in is no step for measures: use 1 or 1/2, 1/4, 1/8, 1/16, 1/32, 1/64\.$"
    ):
        Style(INCH, Fraction(1, 3))
    with pytest.raises(ValueError, match="not a measure that can be shown"):
        say(float("nan"), HALF_MM)


@settings(max_examples=200, deadline=None)
@given(st.integers(0, 40), st.integers(0, 31))
def test_what_is_printed_in_inches_reads_back(whole: int, parts: int) -> None:
    # Second method: floating arithmetic on the inch, apart from the fractions that the code works with.
    mm = (whole + parts / 32) * 25.4
    assert parse_length(say(mm, IN_32), INCH).mm == pytest.approx(mm, abs=1e-9)


@settings(max_examples=200, deadline=None)
@given(st.integers(0, 4000), st.integers(0, 4000))
def test_any_pair_of_half_millimetres_adds_up(nearer: int, other: int) -> None:
    first, second = (say_steps(one, HALF_MM) for one in pair_in_steps(nearer / 4, (nearer + other) / 4, HALF_MM))
    shown_whole = say((nearer + other) / 4, HALF_MM)
    added = parse_with_sign(first) + parse_with_sign(second)
    assert added == parse_with_sign(shown_whole)


def parse_with_sign(words: str) -> Fraction:
    """Read a printed measure without the code under test."""
    sign = -1 if words.startswith("-") else 1
    digits = words.removeprefix("-")
    half = Fraction(1, 2) if digits.endswith("½") else Fraction(0)
    return sign * (sum(map(Fraction, digits.removesuffix("½").split())) + half)


@given(
    st.floats(-1e5, 1e5) | st.integers(-400_000, 400_000).map(lambda quarters: quarters / 4),
    st.sampled_from([HALF_MM, Style(MM, Fraction(1)), *(Style(INCH, Fraction(1, 2**k)) for k in range(7))]),
)
def test_whole_numbers_say_what_fractions_would(mm: float, style: Style) -> None:
    step = style.finest * (Fraction(254, 10) if style.unit is INCH else 1)
    exact = Fraction(round(Fraction(mm) * 1_000_000), 1_000_000) / step
    assert parse_with_sign(say(mm, style)) == math.floor(exact + Fraction(1, 2)) * style.finest
    assert parse_with_sign(say_down(mm, style)) == math.floor(exact) * style.finest


@pytest.mark.parametrize(
    ("mm", "style", "words"),
    [
        (9.9, Style(), "9½"),
        (0.5, Style(), "½"),
        (0.49, Style(), "under ½"),
        (0.0, Style(), "nothing"),
        (-2.0, Style(), "nothing"),
        (0.5, Style(Unit.INCH, Fraction(1, 32)), "under 1/32"),
    ],
)
def test_what_there_is_to_spare_is_never_said_to_be_more(mm: float, style: Style, words: str) -> None:
    assert say_spare(mm, style) == words


@pytest.mark.parametrize(("mm", "words"), [(160.5, "160½"), (160.51, "161"), (160.0, "160")])
def test_what_has_to_be_passed_is_rounded_up(mm: float, words: str) -> None:
    assert say_up(mm, Style()) == words
