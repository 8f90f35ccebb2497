"""Lengths as they are written on site, read exactly (in fractions) up to the one float that comes out.

Every fault is a ValueError of one sentence: what was found, what is allowed, what to write.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping
from fractions import Fraction
from types import MappingProxyType

from msgspec import Struct

from cutmarks.patterns import late
from cutmarks.units.table import INCHES_PER_FOOT, MM_PER, UNIT_WORDS, Unit

LONGEST_MM = 1_000_000
"""Nothing that is tiled is longer than a kilometre: more is a slip of the finger."""
DENOMINATORS = frozenset({2, 3, 4, 5, 6, 8, 10, 12, 16, 32, 64})
"""Parts that tapes, rules and the phone's keys have; 3/18 is a slip of the finger."""
SIDES_APART_MM = 120
"""Two figures with a slash between that are no further apart are the sides of one thing; two taps are 150."""
MOST_DIGITS = 24
"""A longer number is no measure."""
GROUP_DIGITS = 3
KNOWN_UNITS = "mm, cm, m, in or ft"

_DASHES = "-\u2010\u2011\u2012\u2013\u2014"
_SIGNS = _DASHES + "\u2212+"
_GLYPHS: Mapping[str, Fraction] = MappingProxyType(
    {
        glyph: Fraction(*(int(part) for part in unicodedata.normalize("NFKC", glyph).split("\u2044")))
        for glyph in "½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞"
    }
)
# One character for one character, so that what is left over can be cut from the text as it was written.
_AS_TYPED = str.maketrans(
    {
        **dict.fromkeys("\u00a0\u2007\u2009\u202f\t", " "),
        **dict.fromkeys("\u201c\u201d\u201f\u2033", '"'),
        **dict.fromkeys("\u2018\u2019\u201b\u2032\u00b4", "'"),
        **dict.fromkeys("\u2044\u2215", "/"),
    }
)

_NUMBER = late(
    rf"""
    (?P<whole>[0-9]+) (?: [ {_DASHES}]? (?P<glyph>[{"".join(_GLYPHS)}])
                        | (?: [ ]+ | [{_DASHES}]) (?P<num>[0-9]+) / (?P<den>[0-9]+) )
    | (?P<bare_glyph>[{"".join(_GLYPHS)}])
    | (?P<bare_num>[0-9]+) / (?P<bare_den>[0-9]+)
    | (?P<decimal>[0-9]+ (?: \.[0-9]+ )? | \.[0-9]+)
    """,
    re.VERBOSE,
)
# "277 in from right", "100 in off" and "in course 4": there the word says where, it is no unit.
_UNIT = late(
    rf"""\s* (?: (?P<word>{"|".join(sorted(filter(str.isalpha, UNIT_WORDS), key=len, reverse=True))})
                 (?<! \bin (?= \s+ (?:from|course|off|past|beyond)\b)) (?! [^\W\d_])
             | (?P<mark> "|''|') )""",
    re.VERBOSE | re.IGNORECASE,
)
_BETWEEN = late(rf"\s*(?:(?:(?:over\s+)?to|and)(?![^\W\d_])|(?P<dash>[{_DASHES}]))\s*", re.IGNORECASE)
_AFTER_COMMA = late(r",(?P<digits>[0-9]+)(?P<more>(?:[.,][0-9]+)*)")
_AFTER_BLANK = late(r"(?: [0-9]{3}(?![0-9/.]))+")
_SLASH = late(r"(?P<low>[0-9]{2,4}) ?/ ?(?P<high>[0-9]{2,4})(?![0-9/.,])")
_POWER = late(r"[eE][+-]?[0-9]+")


class Length(Struct, frozen=True):
    """A length as written in `text`: never negative; `unit` is its own (`stated`) or the one that it took over."""

    mm: float
    unit: Unit
    text: str
    stated: bool


class _Found(Struct, frozen=True):
    """One length in a text before its unit is settled: [start, end) of the text as typed."""

    value: Fraction
    unit: Unit | None
    lone: bool
    start: int
    end: int


def parse_length(text: str, default: Unit | None) -> Length:
    """Read the whole text as one length; `default` is the unit of a number that has none (None: it must have one).

    Taken: 642, 64.2 cm, 0.642 m, 25 1/4 in, 12-3/8, 12 3/8", 9.69", 2' 1 1/4", 2'-1 1/4", 2 ft 1 1/4 in, 12½, 15mm.
    Raises ValueError with one sentence for all else.
    """
    typed = text.translate(_AS_TYPED)
    if not typed.strip():
        raise ValueError("There is no length here: write a number such as 642, 64.2 cm or 25 1/4 in.")
    found = _find(typed, text, 0)
    if found is None:
        raise ValueError(f"{_quoted(text)} is no length: write a number such as 642, 64.2 cm or 25 1/4 in.")
    left = typed[found.end :]
    if left.strip():
        raise ValueError(_left_over(text, typed, found))
    return _length(found, text, default)


def match_length(text: str, default: Unit | None) -> tuple[Length, str] | None:
    """Take the longest length at the beginning of a phrase; returns it and the rest of the phrase, stripped.

    None where the phrase does not begin with a number. "in" before "from" or "course" is left in the rest: in
    "277 in from right there" it says where. Raises ValueError where the number itself is at fault.
    """
    found = _find(text.translate(_AS_TYPED), text, 0)
    return None if found is None else (_length(found, text, default), text[found.end :].strip())


def match_range(text: str, default: Unit | None) -> tuple[Length, Length | None, str] | None:
    """Take "67 to 83", "67-83", "69 and 84" or one length at the beginning of a phrase; and the rest.

    The two stand in the order written. A unit at the end is for both ("8 1/16 to 8 11/16 in"). A whole number, a dash
    and a fraction with no blank between are one length (12-3/8). None where the phrase does not begin with a number.
    Raises ValueError where a number is at fault, or where it cannot be told whether one length or two are meant.
    """
    typed = text.translate(_AS_TYPED)
    if (slashed := _slashed(typed, text, default)) is not None:
        return slashed
    first = _find(typed, text, 0)
    if first is None:
        return None
    between = _BETWEEN.match(typed, first.end)
    second = None
    if between is not None and _NUMBER.match(typed, between.end()):
        second = _find(typed, text, between.end())
    if between is None or second is None:
        return _length(first, text, default), None, text[first.end :].strip()
    both = _quoted(text[first.start : second.end])
    if first.unit not in (None, default) and second.unit is None:
        raise ValueError(f"{both} has a unit on its first number alone: write the unit on both, or at the end.")
    low, high = _length(first, text, second.unit or default), _length(second, text, default)
    falls = high.mm < low.mm
    if falls and first.unit is None and second.unit not in (None, default):
        raise ValueError(f"{both} has a unit at the end alone, and runs from more to less: write the unit on both.")
    if falls and between["dash"] and second.lone and first.value.denominator == 1:
        raise ValueError(
            f"{both} can be one length or two: write {low.text} {high.text} if it is one, "
            f"{high.text} to {low.text} if it is two."
        )
    if falls and second.lone and first.value > 1 and not first.lone:
        whole = int(first.value)
        raise ValueError(
            f"{both} can be {low.text} to {whole} {high.text}, or {high.text} to {low.text}: write which, with both "
            "figures in full."
        )
    return low, high, text[second.end :].strip()


def _slashed(typed: str, text: str, default: Unit | None) -> tuple[Length, Length, str] | None:
    """Both sides of a thing with a slash between, where a tape is metric: 212/227.

    None where it may be a fraction, runs from more to less, or is further apart than the sides of a thing often are.
    """
    match = _SLASH.match(typed)
    if match is None or default is None or default.is_imperial or int(match["high"]) in DENOMINATORS:
        return None
    unit, end = _unit_at(typed, match.end())
    if unit is not None and unit.is_imperial:
        return None
    low, high = (
        _length(_Found(Fraction(match[word]), unit, False, match.start(word), match.end(word)), text, default)
        for word in ("low", "high")
    )
    if not 0 < high.mm - low.mm <= SIDES_APART_MM:
        return None
    return low, high, text[end:].strip()


def _find(typed: str, text: str, position: int) -> _Found | None:
    """The length that begins at `position`; `typed` is the text with the phone's characters made plain."""
    start = position + len(typed[position:]) - len(typed[position:].lstrip())
    if typed[start : start + 1] in tuple(_SIGNS) and _NUMBER.match(typed, start + 1 + _blanks(typed, start + 1)):
        raise ValueError(
            f"{_quoted(text[start:])} has a sign, and a length has none: leave it out, and say the side in words "
            "(left of, right of, above, below)."
        )
    number = _NUMBER.match(typed, start)
    if number is None:
        return None
    value, lone = _value(number), number["bare_num"] is not None or number["bare_glyph"] is not None
    _refuse_grouping(text, typed, start, number.end())
    unit, end = _unit_at(typed, number.end())
    if unit is Unit.FOOT and value.denominator == 1:
        inches = _inches_after(typed, text, end)
        if inches is not None:
            feet_and_inches = value * INCHES_PER_FOOT + inches.value
            return _Found(feet_and_inches, Unit.INCH, False, start, inches.end)
    return _Found(value, unit, lone, start, end)


def _value(number: re.Match[str]) -> Fraction:
    """The exact value of a matched number."""
    if any(len(part) > MOST_DIGITS for part in number.groupdict("").values()):
        raise ValueError(f"{_quoted(number[0])} is too long for a measure: write at most {MOST_DIGITS} digits.")
    if number["decimal"]:
        return Fraction(number["decimal"])
    whole = int(number["whole"] or 0)
    glyph = number["glyph"] or number["bare_glyph"]
    if glyph:
        return whole + _GLYPHS[glyph]
    over = int(number["num"] or number["bare_num"])
    under = int(number["den"] or number["bare_den"])
    if under not in DENOMINATORS:
        raise ValueError(
            f"{_quoted(number[0])} is in parts that no tape has: write halves, quarters, eighths, 16ths, 32nds, "
            "or a decimal."
        )
    if number["whole"] and over >= under:
        raise ValueError(
            f"{_quoted(number[0])} has a fraction of one or more behind a whole number: write "
            f'"{whole} to {over}/{under}" if they are two lengths, else one fraction under 1.'
        )
    return whole + Fraction(over, under)


def _unit_at(typed: str, position: int) -> tuple[Unit | None, int]:
    """The unit that begins at `position`, and where it ends; (None, position) where there is none."""
    match = _UNIT.match(typed, position)
    if match is None:
        return None, position
    unit = UNIT_WORDS[(match["word"] or match["mark"]).lower()]
    end = match.end()
    shortened = match["word"] is not None and match["word"].lower() in ("in", "ft")
    if shortened and typed[end : end + 1] == "." and not typed[end + 1 : end + 2].isdigit():
        end += 1
    return unit, end


def _inches_after(typed: str, text: str, position: int) -> _Found | None:
    """The inches behind whole feet: 2' 1 1/4", 2 ft 1 1/4 in, 2'-1 1/4" (the dash only with an inch mark)."""
    blank = position + _blanks(typed, position)
    dashed = typed[blank : blank + 1] in tuple(_DASHES)
    start = blank + 1 + _blanks(typed, blank + 1) if dashed else blank
    number = _NUMBER.match(typed, start)
    if number is None:
        return None
    unit, end = _unit_at(typed, number.end())
    if unit not in (Unit.INCH, None) or (dashed and unit is None):
        return None
    inches = _value(number)
    if inches >= INCHES_PER_FOOT:
        found = text[start:end].strip()
        raise ValueError(f"{_quoted(found)} behind feet is a foot or more: write less than 12 inches there.")
    _refuse_grouping(text, typed, start, number.end())
    return _Found(inches, Unit.INCH, False, start, end)


def _length(found: _Found, text: str, default: Unit | None) -> Length:
    """Settle the unit, and refuse what no one means."""
    written = text[found.start : found.end].strip()
    unit = found.unit or default
    if unit is None:
        raise ValueError(f"{written} has no unit: write {written} mm or {written} in.")
    halves = found.value.denominator == 2 and not found.lone
    is_fraction = "." not in written and found.value.denominator > 1
    if found.unit is None and is_fraction and not unit.is_imperial and not halves:
        raise ValueError(
            f"{written} is a fraction with no unit, and lengths here are in {unit}: "
            f'write {written}" if it is inches, else a decimal.'
        )
    millimetres = found.value * MM_PER[unit]
    if millimetres > LONGEST_MM:
        with_unit = written if found.unit else f"{written} {unit}"
        raise ValueError(f"{_quoted(with_unit)} is over a kilometre: write the number or its unit again.")
    return Length(float(millimetres), unit, written, found.unit is not None)


def _refuse_grouping(text: str, typed: str, start: int, end: int) -> None:
    """A comma or a blank inside a number, and powers of ten, have their own sentences."""
    whole = typed[start:end]
    if tail := _AFTER_COMMA.match(typed, end):
        written = _quoted(text[start : tail.end()])
        if "." in whole or tail["more"]:
            raise ValueError(f"{written} has commas in a number: write the digits with one point and no comma.")
        either = f"{whole}{tail['digits']} or " if len(tail["digits"]) == GROUP_DIGITS else ""
        raise ValueError(f"{written} has a comma in a number: write {either}{whole}.{tail['digits']}.")
    if whole.isdigit() and len(whole) <= GROUP_DIGITS and (tail := _AFTER_BLANK.match(typed, end)):
        written = text[start : tail.end()]
        raise ValueError(
            f"{_quoted(written)} has a blank inside a number: write {''.join(written.split())} if it is one."
        )
    if tail := _POWER.match(typed, end):
        raise ValueError(f"{_quoted(text[start : tail.end()])} is a power of ten: write the number in full.")


def _left_over(text: str, typed: str, found: _Found) -> str:
    """Why a text that begins with a length is not one length."""
    written, left = text[found.start : found.end].strip(), text[found.end :].strip()
    if found.unit is None and re.match(r"[^\W\d_]+$", left):
        return f"{_quoted(left)} behind {written} is no unit: write {KNOWN_UNITS}."
    return f"{_quoted(text)} is not one length: {_quoted(left)} is left over behind {written}; write one length alone."


def _blanks(typed: str, position: int) -> int:
    return len(typed[position:]) - len(typed[position:].lstrip(" "))


def _quoted(text: str, most: int = 40) -> str:
    """What was found, on one line and not too long."""
    line = " ".join(text.split())
    line = "".join(character if character.isprintable() else "?" for character in line)
    return f'"{line if len(line) <= most else line[:most] + "..."}"'
