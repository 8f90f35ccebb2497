"""Readings to spare, pairs and checked lines as they are written: what is taken, and that nothing else breaks."""

from __future__ import annotations

import textwrap
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cutmarks.errors import JobError
from cutmarks.job import parse_job
from cutmarks.job.found import parse_date, parse_found
from cutmarks.job.taped import lies, parse_pair, parse_taken
from cutmarks.job.trueness import parse_lean, parse_square
from cutmarks.job.words import Setting
from cutmarks.units import Unit

WALL = Setting(lines={"V": "x", "B": "y"}, points={"p1": "P1"}, holes={"hot": "hot", "cold": "cold"})
FLOOR = Setting(kind="floor", lines={"V": "x", "D": "y"}, points={"p1": "P1"}, holes={})


def test_a_tape_to_both_sides_is_to_the_middle() -> None:
    taken = parse_taken("1202 to 1218 from P1", WALL)
    assert (taken.point, taken.length, taken.sides, taken.axis) == ("P1", 1210.0, 16.0, None)


def test_a_tape_to_the_centre() -> None:
    for words in ("1210 from P1", "centre 1210 from P1", "to the centre 1210 from point p1"):
        taken = parse_taken(words, WALL)
        assert (taken.point, taken.length, taken.sides) == ("P1", 1210.0, None)


@pytest.mark.parametrize(
    ("words", "within"),
    [(", within 3", 3.0), (" within 3", 3.0), (" +-3", 3.0), (" +/- 3", 3.0), (" ± 3", 3.0), ("", None)],
)
def test_how_good_a_reading_is(words: str, within: float | None) -> None:
    assert parse_taken("1210 from P1" + words, WALL).within == within


@pytest.mark.parametrize(
    ("words", "axis"),
    [
        ("67 to 83 left of V", "across"),
        ("212 to 228 above B", "up"),
        ("277 in from right there", "across"),
        ("level with hot", "up"),
        ("plumb with hot", "across"),
        ("in line with hot", "across"),
        ("on V", "across"),
        ("on B", "up"),
    ],
)
def test_which_way_a_reading_goes(words: str, axis: str) -> None:
    assert parse_taken(words, WALL).axis == axis


def test_on_a_floor_a_line_is_no_point() -> None:
    taken = parse_taken("1420 to 1530 from D", FLOOR)
    assert (taken.axis, taken.point) == ("up", "")
    assert parse_taken("1420 to 1530 from P1", FLOOR).point == "P1"


def test_inches() -> None:
    taken = parse_taken("47 5/8 to 48 1/4 from P1, within 1/16", Setting(Unit.INCH, lines={}, points={"p1": "P1"}))
    # (47.625 + 48.25) / 2 = 47.9375 in.
    assert taken.length == pytest.approx(47.9375 * 25.4)
    assert taken.within == pytest.approx(25.4 / 16)


def test_a_slope_has_its_sign() -> None:
    assert parse_lean("2 in 1200 to the left", WALL).slope == pytest.approx(-2 / 1200)
    assert parse_lean("3 in 1000 up to the right", WALL).slope == pytest.approx(0.003)
    assert parse_lean("3 in 1000, down to the left", WALL).slope == pytest.approx(0.003)
    assert parse_lean("1/8 in 48 to the right", Setting(Unit.INCH)).slope == pytest.approx(0.125 / 48)


def test_where_it_lies() -> None:
    assert [lies(word) for word in ("left", "the right one", "Above", "bottom")] == ["left", "right", "above", "below"]
    with pytest.raises(ValueError, match="left, right, above or below"):
        lies("yonder")


def test_a_point_is_no_line() -> None:
    with pytest.raises(JobError, match="is a set-out line and a point"):
        parse_job(
            textwrap.dedent("""
                job: x
                tiles: {t: {size: 100 x 100}}
                surfaces:
                  - name: wall
                    kind: wall
                    lines: {V: "plumb, m", B: "level, b"}
                    points: {b: "1 left of V, 2 above B"}
            """)
        )


def test_without_points_the_sentence_says_where_they_go() -> None:
    with pytest.raises(ValueError, match="write points: and under it P1"):
        parse_taken("1210 from P1", Setting(lines={"V": "x", "B": "y"}))


WORDS = st.lists(
    st.sampled_from(
        (
            *("12", "67 to 83", "from", "P1", "left of", "V", "B", "above", "within", "3", "centre", "level with"),
            *("hot", "and", "cold", "in", "to the", "right", "up", "diagonal", "900 x 1200", ",", "-", "½", "?", ""),
        )
    ),
    max_size=8,
).map(" ".join)


@given(WORDS | st.text(max_size=40))
def test_whatever_is_typed_is_taken_or_refused_in_a_sentence(text: str) -> None:
    parsers: tuple[Callable[[str, Setting], object], ...] = (
        parse_taken,
        parse_pair,
        parse_lean,
        parse_square,
        parse_date,
        parse_found,
    )
    said = []
    for parse in parsers:
        for setting in (WALL, FLOOR):
            try:
                parse(text, setting)
            except ValueError as error:
                said.append(str(error))
    assert [sentence for sentence in said if not sentence.endswith((".", "?"))] == []


def test_a_reading_of_a_megabyte_is_refused_at_once() -> None:
    for parse in (parse_taken, parse_lean, parse_square):
        with pytest.raises(ValueError, match="write"):
            parse("within in " * 100_000, WALL)
