"""Lengths as they are written on site.

Expected values are arithmetic by hand on 1 in = 25.4 mm exactly (international yard and pound agreement, 1959) and
1 ft = 12 in.
"""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cutmarks.units import MM_PER, Unit, match_length, match_range, parse_length

MM, INCH = Unit.MM, Unit.INCH


@pytest.mark.parametrize(
    ("text", "default", "mm", "unit"),
    [
        ("642", MM, 642, MM),
        ("642", Unit.CM, 6420, Unit.CM),
        (" 64.2 cm ", MM, 642, Unit.CM),
        ("0.642 m", MM, 642, Unit.M),
        (".5", MM, 0.5, MM),
        ("15mm", INCH, 15, MM),
        ("15 MM", INCH, 15, MM),
        ("2 metres", MM, 2000, Unit.M),
        ("12½", MM, 12.5, MM),  # half millimetres are written so
        ("74 1/2", MM, 74.5, MM),
        ("25 1/4 in", MM, 641.35, INCH),  # 25.25 x 25.4
        ("12-3/8", INCH, 314.325, INCH),  # 12.375 x 25.4
        ('12 3/8"', MM, 314.325, INCH),
        ("12\u00a03/8\u201d", MM, 314.325, INCH),  # a phone's hard blank and quote
        ('9.69"', MM, 246.126, INCH),  # 9.69 x 25.4
        ("1/2 in", MM, 12.7, INCH),
        ("½", INCH, 12.7, INCH),
        ("12⅜", INCH, 314.325, INCH),
        ("12 ⅜ in", MM, 314.325, INCH),
        ("2' 1 1/4\"", MM, 641.35, INCH),  # 25 1/4 in
        ("2\u2019 1 ¼\u201d", MM, 641.35, INCH),
        ("2\u2032 1 1/4\u2033", MM, 641.35, INCH),
        ("2'-1 1/4\"", MM, 641.35, INCH),
        ("2 ft 1 1/4 in", MM, 641.35, INCH),
        ("2' 1", INCH, 635, INCH),  # 25 in
        ("2 ft. 1 in.", MM, 635, INCH),
        ("2 ft", MM, 609.6, Unit.FOOT),
        ("3''", MM, 76.2, INCH),
        ("1/3 in", MM, 25.4 / 3, INCH),
        ("1000 m", MM, 1_000_000, Unit.M),
        ("0", MM, 0, MM),
    ],
)
def test_lengths_as_written(text: str, default: Unit, mm: float, unit: Unit) -> None:
    read = parse_length(text, default)
    assert read.mm == pytest.approx(mm, rel=1e-15)
    assert read.unit is unit
    assert read.text == text.strip()


@pytest.mark.parametrize(
    ("text", "default", "sentence"),
    [
        ("", MM, "There is no length here: write a number such as 642, 64.2 cm or 25 1/4 in."),
        ("  ", MM, "There is no length here: write a number such as 642, 64.2 cm or 25 1/4 in."),
        ("nan", MM, '"nan" is no length: write a number such as 642, 64.2 cm or 25 1/4 in.'),
        ("-inf", MM, '"-inf" is no length: write a number such as 642, 64.2 cm or 25 1/4 in.'),
        ("74,5", MM, '"74,5" has a comma in a number: write 74.5.'),
        ("1,234", MM, '"1,234" has a comma in a number: write 1234 or 1.234.'),
        ("1.234,5", MM, '"1.234,5" has commas in a number: write the digits with one point and no comma.'),
        ("1 234", MM, '"1 234" has a blank inside a number: write 1234 if it is one.'),
        ("1e3", MM, '"1e3" is a power of ten: write the number in full.'),
        (
            "-12",
            MM,
            '"-12" has a sign, and a length has none: leave it out, and say the side in words '
            "(left of, right of, above, below).",
        ),
        (
            "\u2212 12 cm",
            MM,
            '"\u2212 12 cm" has a sign, and a length has none: leave it out, and say the side in words '
            "(left of, right of, above, below).",
        ),
        (
            "1/2",
            MM,
            '1/2 is a fraction with no unit, and lengths here are in mm: write 1/2" if it is inches, else a decimal.',
        ),
        (
            "12 3/8",
            MM,
            '12 3/8 is a fraction with no unit, and lengths here are in mm: write 12 3/8" if it is inches, else a '
            "decimal.",
        ),
        ("642", None, "642 has no unit: write 642 mm or 642 in."),
        ("15 yd", MM, '"yd" behind 15 is no unit: write mm, cm, m, in or ft.'),
        ("15mmm", MM, '"mmm" behind 15 is no unit: write mm, cm, m, in or ft.'),
        ("1001 m", MM, '"1001 m" is over a kilometre: write the number or its unit again.'),
        ("2000000", MM, '"2000000 mm" is over a kilometre: write the number or its unit again.'),
        (
            "12 3/18",
            INCH,
            '"12 3/18" is in parts that no tape has: write halves, quarters, eighths, 16ths, 32nds, or a decimal.',
        ),
        (
            "1/0",
            INCH,
            '"1/0" is in parts that no tape has: write halves, quarters, eighths, 16ths, 32nds, or a decimal.',
        ),
        (
            "12 9/8",
            INCH,
            '"12 9/8" has a fraction of one or more behind a whole number: write "12 to 9/8" if they are two lengths, '
            "else one fraction under 1.",
        ),
        ("2' 14\"", MM, '"14"" behind feet is a foot or more: write less than 12 inches there.'),
        ("15 mm x", MM, '"15 mm x" is not one length: "x" is left over behind 15 mm; write one length alone.'),
    ],
)
def test_faults_have_their_own_sentence(text: str, default: Unit | None, sentence: str) -> None:
    with pytest.raises(ValueError, match=r".") as caught:
        parse_length(text, default)
    assert str(caught.value) == sentence


def test_a_number_of_any_length_is_refused_before_it_is_computed() -> None:
    with pytest.raises(ValueError, match="too long for a measure"):
        parse_length("9" * 100_000, MM)


@pytest.mark.parametrize(
    ("text", "default", "mm", "rest"),
    [
        ("67 left of V", MM, 67, "left of V"),
        ("277 in from right there", MM, 277, "in from right there"),  # "in" says where: not 277 inches
        ("98 in course 4", MM, 98, "in course 4"),
        ("277 mm in from right there", MM, 277, "in from right there"),
        ("9 3/4 in from right", INCH, 247.65, "in from right"),  # 9.75 x 25.4
        ("9 in left of V", MM, 228.6, "left of V"),
        ("248x398", MM, 248, "x398"),
        ("300 right of V, 350 above B", MM, 300, "right of V, 350 above B"),
        ("15 millimetresque", MM, 15, "millimetresque"),
    ],
)
def test_a_phrase_keeps_what_is_behind_its_length(text: str, default: Unit, mm: float, rest: str) -> None:
    match = match_length(text, default)
    assert match is not None
    assert match[0].mm == pytest.approx(mm)
    assert match[1] == rest


@pytest.mark.parametrize("text", ["left of V", "", "to 83", "?", "nan"])
def test_a_phrase_without_a_number_in_front_is_no_length(text: str) -> None:
    assert match_length(text, MM) is None
    assert match_range(text, MM) is None


@pytest.mark.parametrize(
    ("text", "default", "low", "high", "rest"),
    [
        ("67 to 83 left of V", MM, 67, 83, "left of V"),
        ("67-83 left of V", MM, 67, 83, "left of V"),
        ("67 \u2013 83", MM, 67, 83, ""),
        ("69 and 84", MM, 69, 84, ""),
        ("83 to 67", MM, 83, 67, ""),  # in the order written
        ("12½-13½", MM, 12.5, 13.5, ""),
        ("12-3/8 to 13 1/4 left of V", INCH, 314.325, 336.55, "left of V"),  # 12.375, 13.25 x 25.4
        ("12-3/8 - 13-1/4", INCH, 314.325, 336.55, ""),
        ("12-3/8-13-1/4", INCH, 314.325, 336.55, ""),
        ("12-13 1/4", INCH, 304.8, 336.55, ""),
        ("8 1/16 to 8 11/16 in", MM, 204.7875, 220.6625, ""),  # 8.0625, 8.6875 x 25.4
        ("6.7 to 8.3 cm left of V", MM, 67, 83, "left of V"),
        ("2'-3'", MM, 609.6, 914.4, ""),
        ("67 to 83 in from right there", MM, 67, 83, "in from right there"),
        ("42 below to 30 above B", MM, 42, None, "below to 30 above B"),
        ("67 to the left", MM, 67, None, "to the left"),
        ("67 - left", MM, 67, None, "- left"),
    ],
)
def test_ranges(text: str, default: Unit, low: float, high: float | None, rest: str) -> None:
    match = match_range(text, default)
    assert match is not None
    first, second, left = match
    assert first.mm == pytest.approx(low)
    assert (second.mm if second else None) == (None if high is None else pytest.approx(high))
    assert left == rest


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        (
            "12 - 3/8 left of V",
            '"12 - 3/8" can be one length or two: write 12 3/8 if it is one, 3/8 to 12 if it is two.',
        ),
        ("67 mm to 83", '"67 mm to 83" has a unit on its first number alone: write the unit on both, or at the end.'),
        (
            "6 to 2 ft",
            '"6 to 2 ft" has a unit at the end alone, and runs from more to less: write the unit on both.',
        ),
    ],
)
def test_ranges_that_can_be_read_two_ways_are_refused(text: str, sentence: str) -> None:
    with pytest.raises(ValueError, match=r".") as caught:
        match_range(text, INCH)
    assert str(caught.value) == sentence


def test_unit_table() -> None:
    # 25.4 and 304.8: international yard and pound agreement, 1959.
    assert [float(MM_PER[unit]) for unit in Unit] == [1, 10, 1000, 25.4, 304.8]


@settings(max_examples=300, deadline=None)
@given(st.text(alphabet=st.sampled_from(list("0123456789 ./,-\"'½⅜–xminftcto+eE%\u2212\u00a0")), max_size=14))
def test_any_text_is_a_length_or_a_sentence(text: str) -> None:
    for default in (MM, INCH, None):
        read, fault = None, ""
        try:
            read = parse_length(text, default)
        except ValueError as raised:
            fault = str(raised)
        assert (read is None) == fault.endswith((".", "?"))
        assert read is None or 0 <= read.mm <= 1_000_000
        try:
            match_range(text, default)
        except ValueError as raised:
            fault = str(raised)
        assert fault == "" or fault.endswith((".", "?"))
