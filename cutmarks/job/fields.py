"""What a value of the job file may be, each with its sentence.

A value is parsed where it stands, in the setting of its surface, so that a fault has its own line. Values that are
no text (a program builds a job) are taken as they are.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Annotated, Literal, TypeVar

from pydantic import PlainValidator, ValidationInfo

from cutmarks.job import grammar, laying
from cutmarks.job.phrases import Bond, Reading, Run, Size, Spot
from cutmarks.job.tree import Entry, Items
from cutmarks.job.words import UNKNOWN, Setting, either, found, spaced
from cutmarks.sides import Axis, Side
from cutmarks.units import Style, Unit, parse_length, say

T = TypeVar("T")
LEAST_CORNERS = 3
"""An outline has at least so many."""
SIXTEENTH = Fraction(1, 16)
MOST_NAME = 60
MOST_WORDS = 400
WIDEST_JOINT = 50.0
WIDEST_GAP = 500.0
THICKEST = 100.0
WIDEST_THING = 5_000.0


@dataclass(slots=True)
class Context:
    """What the parsers of one job share: the setting of the surface that is being read."""

    setting: Setting = field(default_factory=Setting)


def setting_of(info: ValidationInfo) -> Setting:
    """The setting of what is being read; a plain one where a model is built by a program."""
    return info.context.setting if isinstance(info.context, Context) else Setting()


def text_of(value: object) -> str:
    """The text of a scalar.

    Raises ValueError: it is a list, or has keys of its own.
    """
    if isinstance(value, Items | list | tuple):
        raise ValueError("A list stands where one value is wanted: write one value.")
    if isinstance(value, Mapping):
        raise ValueError("Keys stand where one value is wanted: write one value on this line.")
    return spaced(str(value))


def parsed(parse: Callable[[str, Setting], T]) -> PlainValidator:
    """A field that is read from its text by `parse`, and kept as it is where it is no text."""

    def read(value: object, info: ValidationInfo) -> object:
        if isinstance(value, str | Items | Entry):
            return parse(text_of(value), setting_of(info))
        return value

    return PlainValidator(read)


def length(least: float, most: float, what: str) -> Callable[[str, Setting], float]:
    """A parser of lengths from `least` to `most`, mm."""

    def read(text: str, setting: Setting) -> float:
        if text == UNKNOWN:
            raise ValueError(f"{what} must be known: measure it.")
        mm = parse_length(text, setting.unit).mm
        if not least <= mm <= most:
            style = Style(Unit.INCH, SIXTEENTH) if setting.unit in (Unit.INCH, Unit.FOOT) else Style()
            raise ValueError(
                f"{found(text)} is out of range for {what.lower()}: "
                f"write {say(least, style)} to {say(most, style)} {style.unit}."
            )
        return mm

    return read


def one_of(allowed: Mapping[str, T], alike: Mapping[str, T] | None = None) -> PlainValidator:
    """One of some words, capital letters or not; `alike` are taken too but not offered."""
    by_fold = {word.casefold(): meant for word, meant in {**(alike or {}), **allowed}.items()}

    def read(text: str, setting: Setting) -> T:
        if text.casefold() not in by_fold:
            raise ValueError(f"{found(text)} is not taken here: write {either(allowed)}.")
        return by_fold[text.casefold()]

    return parsed(read)


def words(*allowed: str) -> PlainValidator:
    """One of some words, kept as such."""
    return one_of({word: word for word in allowed})


def flag(true_word: str = "yes", false_word: str = "no") -> PlainValidator:
    """Yes or no."""
    return one_of({true_word: True, false_word: False}, {"true": True, "false": False, "yes": True, "no": False})


def parse_name(text: str) -> str:
    """A name that can be printed, be part of a file's name, and stand in a list opened by a spreadsheet.

    Raises ValueError: one sentence.
    """
    tidy = spaced(text)
    if not tidy or tidy == UNKNOWN:
        raise ValueError("A name is missing: write one.")
    if len(tidy) > MOST_NAME:
        raise ValueError(f"{found(tidy)} is {len(tidy)} characters long: a name has at most {MOST_NAME}.")
    odd = next((c for c in text if unicodedata.category(c) in ("Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp")), None)
    if odd is not None:
        raise ValueError(f"{found(tidy)} has a control character in it (U+{ord(odd):04X}): take it out.")
    if tidy[0] in "=+-@":
        raise ValueError(
            f"{found(tidy)} begins with {tidy[0]}, which a spreadsheet runs as a formula: "
            "begin with a letter or a figure."
        )
    bad = next((c for c in tidy if c in "/\\<>&"), None)
    if bad is not None:
        use = "a name is no path" if bad in "/\\" else "a name has no markup"
        raise ValueError(f"{found(tidy)} has {bad} in it, and {use}: use letters, figures, blanks and hyphens.")
    if tidy.strip(".") == "" or ".." in tidy:
        raise ValueError(
            f"{found(tidy)} has .. in it, and a name is no path: use letters, figures, blanks and hyphens."
        )
    return tidy


def free_words(text: str) -> str:
    """Words that are printed as they are.

    Raises ValueError: too long, or a control character.
    """
    tidy = spaced(text)
    if len(tidy) > MOST_WORDS:
        raise ValueError(f"{found(tidy)} is {len(tidy)} characters long: write at most {MOST_WORDS}.")
    odd = next((c for c in tidy if unicodedata.category(c) in ("Cc", "Cf", "Cs")), None)
    if odd is not None:
        raise ValueError(f"{found(tidy)} has a control character in it (U+{ord(odd):04X}): take it out.")
    return tidy


def degrees(text: str, setting: Setting) -> float:
    """An angle, counter-clockwise: "45", "-30", "30 clockwise".

    Raises ValueError: no number of degrees.
    """
    clockwise = text.casefold().endswith(" clockwise")
    figure = text.casefold().removesuffix(" clockwise").removesuffix("anticlockwise").removesuffix("counter-clockwise")
    figure = figure.strip().removesuffix("degrees").removesuffix("°").strip()
    sign = -1.0 if figure.startswith(("-", "\u2212")) else 1.0
    digits = figure.lstrip("-\u2212+").strip()
    if not digits or not digits.replace(".", "", 1).isdecimal() or not digits.isascii():
        raise ValueError(f"{found(text)} is no angle: write degrees counter-clockwise, as in 45, or 30 clockwise.")
    return float(digits) * sign * (-1.0 if clockwise else 1.0)


def turn(text: str, setting: Setting) -> float:
    """The turn of an area, over -45 to 45 degrees."""
    angle = degrees(text, setting)
    if not -45.0 < angle <= 45.0:
        raise ValueError(
            f"{found(text)} is out of range: an area turns by over -45 to 45 degrees; change lay for more."
        )
    return angle


def _on(parse: Callable[[str, Axis, Setting], Reading], axis: Axis) -> PlainValidator:
    return parsed(lambda text, setting: parse(text, axis, setting))


def spot(value: object, info: ValidationInfo) -> object:
    """A corner, as one phrase or as a list of two readings."""
    if isinstance(value, Items):
        if len(value) != 2:
            raise ValueError(f"A corner has two readings, and this list has {len(value)}: write one across and one up.")
        value = ", ".join(text_of(item) for item in value)
    return grammar.parse_spot(value, setting_of(info)) if isinstance(value, str) else value


gap_of = length(0.0, WIDEST_GAP, "A gap")
Name = Annotated[str, parsed(lambda text, _: parse_name(text))]
Words = Annotated[str, parsed(lambda text, _: free_words(text))]
Across = Annotated[Reading, _on(grammar.parse_reading, "across")]
Up = Annotated[Reading, _on(grammar.parse_reading, "up")]
Plumb = Annotated[Reading, _on(grammar.parse_place, "across")]
Level = Annotated[Reading, _on(grammar.parse_place, "up")]
Corner = Annotated[Spot, PlainValidator(spot)]
SizeField = Annotated[Size, parsed(lambda text, setting: laying.parse_size(text, setting.unit))]
RunField = Annotated[Run, parsed(lambda text, setting: laying.parse_run(text, setting.unit))]
BondField = Annotated[Bond, parsed(lambda text, setting: laying.parse_bond(text, setting.unit))]
Joint = Annotated[float, parsed(length(0.0, WIDEST_JOINT, "A joint"))]
Gap = Annotated[float, parsed(gap_of)]
Thickness = Annotated[float, parsed(length(0.0, THICKEST, "A thickness"))]
Measure = Annotated[float, parsed(length(0.0, WIDEST_THING, "A measure"))]
SideField = Annotated[Side, one_of({side.value: side for side in Side})]
Lay = Annotated[Literal["long side across", "long side up"], words("long side across", "long side up")]
Flag = Annotated[bool, flag()]
Degrees = Annotated[float, parsed(degrees)]
Turn = Annotated[float, parsed(turn)]
