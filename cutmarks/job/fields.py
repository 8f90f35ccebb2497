"""What a value of the job file may be, each with its sentence.

A value is parsed where it stands, in the setting of its surface, so that a fault has its own line. Values that are
no text (a program builds a job) are taken as they are.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Mapping, Sequence
from typing import Annotated, Literal, TypeVar

from msgspec import Struct

from cutmarks.job import grammar, laying
from cutmarks.job.declared import Key
from cutmarks.job.measures import LEAST_THING, LONGEST_SURFACE, WIDEST_THING, in_range
from cutmarks.job.tree import Entry, Items, Told
from cutmarks.job.words import UNKNOWN, Follows, Setting, either, found, spaced
from cutmarks.readings import Bond, CarriesOn, Reading, Run, Size, Spot
from cutmarks.sides import Axis, Side
from cutmarks.units import parse_length

T = TypeVar("T")
LEAST_CORNERS = 3
"""An outline has at least so many."""
MOST_NAME = 60
SHEET_WORDS = ("face", "back", "up", "stop", "core")
"""What a sheet says in large letters: which side one looks at, which way is up, not to cut, what to drill with."""
MOST_WORDS = 400
HALF_ROUND = 180.0
WIDEST_JOINT = 50.0
WIDEST_GAP = 500.0
THICKEST = 100.0
LEAST_GIVE = 0.1
"""No tape is read to less, mm."""


class Parsed(Struct, frozen=True):
    """Beside a field's type: it is made of what stands in the file by `read`, which raises ValueError of a sentence."""

    read: Callable[[object, Setting], object]


def text_of(value: object) -> str:
    """The text of a scalar.

    Raises ValueError: it is a list, or has keys of its own.
    """
    if isinstance(value, Items | list | tuple):
        raise ValueError("A list stands where one value is wanted: write one value.")
    if isinstance(value, Mapping):
        raise ValueError("Keys stand where one value is wanted: write one value on this line.")
    return spaced(str(value))


AS_MADE = Parsed(lambda value, _: value)
"""A field that has been read already where its thing's keys are put into their form (`prepare`)."""


def parsed(parse: Callable[[str, Setting], T]) -> Parsed:
    """A field that is read from its text by `parse`, and kept as it is where it is no text."""
    return Parsed(_of_text(parse))


def _of_text(parse: Callable[[str, Setting], T]) -> Callable[[object, Setting], object]:
    def read(value: object, setting: Setting) -> object:
        if isinstance(value, Told):
            raise Follows("what is wrong with it has been told")
        return parse(text_of(value), setting) if isinstance(value, str | Items | Entry) else value

    return read


def length(least: float, most: float, what: str) -> Callable[[str, Setting], float]:
    """A parser of lengths from `least` to `most`, mm."""

    def read(text: str, setting: Setting) -> float:
        if text == UNKNOWN:
            raise ValueError(f"{what} must be known: measure it.")
        return in_range(text, parse_length(text, setting.unit).mm, least, most, what[:1].lower() + what[1:], setting)

    return read


class Choice(Parsed, frozen=True):
    """A field that is one of some words; `alike` are taken too."""

    allowed: tuple[str, ...] = ()
    alike: tuple[str, ...] = ()


def one_of(allowed: Mapping[str, T], alike: Mapping[str, T] | None = None) -> Choice:
    """One of some words, capital letters or not; `alike` are taken too but not offered."""
    by_fold = {word.casefold(): meant for word, meant in {**(alike or {}), **allowed}.items()}

    def read(text: str, setting: Setting) -> T:
        if text.casefold() not in by_fold:
            raise ValueError(f"{found(text)} is not taken here: write {either(allowed)}.")
        return by_fold[text.casefold()]

    others = tuple(word for word in alike or {} if word not in allowed)
    return Choice(_of_text(read), allowed=tuple(allowed), alike=others)


def words(*allowed: str) -> Choice:
    """One of some words, kept as such."""
    return one_of({word: word for word in allowed})


def flag(true_word: str = "yes", false_word: str = "no") -> Choice:
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
    if runs_as_formula(tidy):
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
    words = re.findall(r"[^\W\d_]+", tidy)
    if words and all(word.casefold() in SHEET_WORDS for word in words):
        raise ValueError(says_what_a_sheet_says(tidy, words[0]))
    loud = next((word for word in words if word.isupper() and word.casefold() in SHEET_WORDS), None)
    if loud is not None:
        raise ValueError(says_what_a_sheet_says(tidy, loud))
    return tidy


def says_what_a_sheet_says(name: str, word: str) -> str:
    """The sentence for a name that would stand on a sheet as what a sheet itself says."""
    return (
        f"{found(name)} would stand on a sheet as {word.upper()}, which a sheet says of the tile itself: write a name "
        f"without {either(word.upper() for word in SHEET_WORDS)}."
    )


def runs_as_formula(text: str) -> bool:
    """Whether a spreadsheet may take the text for a formula; it reads the full-width signs as the usual ones."""
    return unicodedata.normalize("NFKC", text[:1])[:1] in ("=", "+", "-", "@")


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
    angle = float(digits) * sign * (-1.0 if clockwise else 1.0)
    if abs(angle) > HALF_ROUND:
        raise ValueError(f"{found(text)} is over half a turn: write 0 to {HALF_ROUND:g} degrees, either way.")
    return angle


def turn(text: str, setting: Setting) -> float:
    """The turn of an area, over -45 to 45 degrees."""
    angle = degrees(text, setting)
    if not -45.0 < angle <= 45.0:
        raise ValueError(
            f"{found(text)} is out of range: an area turns by over -45 to 45 degrees; change lay for more."
        )
    return angle


def _on(parse: Callable[[str, Axis, Setting], Reading], axis: Axis) -> Parsed:
    return parsed(lambda text, setting: parse(text, axis, setting))


def spot(value: object, setting: Setting) -> object:
    """A corner, as one phrase or as a list of two readings."""
    if isinstance(value, Items):
        if len(value) != 2:
            raise ValueError(f"A corner has two readings, and this list has {len(value)}: write one across and one up.")
        value = ", ".join(text_of(item) for item in value)
    return grammar.parse_spot(text_of(value), setting) if isinstance(value, str | Entry) else value


_gap_in_range = length(0.0, WIDEST_GAP, "A gap")


def gap_of(text: str, setting: Setting) -> float:
    """A clear space. Raises ValueError: it is none, or less than nothing, with the key that is meant then."""
    if re.match("[-\u2212][0-9.]", text):
        raise ValueError(
            f"{found(text)} is less than nothing: where tile passes an edge round an outer corner write lining: 12 and "
            "corner: trim 2.5, and how far it passes is worked out; where it goes under a frame, undercut: 14 and "
            "goes under: 10."
        )
    return _gap_in_range(text, setting)


NameField = Annotated[str, parsed(lambda text, _: parse_name(text))]
WordsField = Annotated[str, parsed(lambda text, _: free_words(text))]
Across = Annotated[Reading, _on(grammar.parse_reading, "across")]
Up = Annotated[Reading, _on(grammar.parse_reading, "up")]
PlumbField = Annotated[Reading, _on(grammar.parse_place, "across")]
LevelField = Annotated[Reading, _on(grammar.parse_place, "up")]
Corner = Annotated[Spot, Parsed(spot)]


def check_corners(outline: Sequence[Spot]) -> None:
    """Raises ValueError: an outline that was given has too few corners."""
    if outline and len(outline) < LEAST_CORNERS:
        has = "1 corner" if len(outline) == 1 else f"{len(outline)} corners"
        raise ValueError(f"Its outline has {has}: write three or more.")


SizeField = Annotated[Size, parsed(lambda text, setting: laying.parse_size(text, setting.unit))]
RunField = Annotated[Run, parsed(lambda text, setting: laying.parse_run(text, setting.unit))]
CarriesOnField = Annotated[CarriesOn, parsed(lambda text, _: laying.parse_carries_on(text))]
BondField = Annotated[Bond, parsed(lambda text, setting: laying.parse_bond(text, setting.unit))]
AnOutline = Annotated[
    tuple[Corner, ...],
    Key(
        "its shape, corner by corner, where it is no rectangle along the lines",
        (
            '["300 left of V, 100 above B", "300 right of V, 100 above B", "on V, 500 above B"]',
            '["250 left of V, 100 above B", "300 right of V, 100 above B", "on V, 500 above B"]',
        ),
        must=True,
    ),
]
MEANT_ACROSS = ("x", "horizontal", "position")
MEANT_UP = ("y", "height", "vertical")
"""Words of others for the two readings."""
A_NAME = "name: and a word for it"
"""How a name that is missing is written."""


def joint_width(text: str, setting: Setting) -> float:
    """A joint's width, mm, with or without its word: 3, "3mm grout joint"."""
    return _JOINT_WIDTH(laying.joint_alone(text, setting.unit), setting)


_JOINT_WIDTH = length(0.0, WIDEST_JOINT, "A joint")
Joint = Annotated[float, parsed(joint_width)]
Gap = Annotated[float, parsed(gap_of)]
Thickness = Annotated[float, parsed(length(0.0, THICKEST, "A thickness"))]
Diameter = Annotated[float, parsed(length(LEAST_THING, WIDEST_THING, "A diameter"))]
Distance = Annotated[float, parsed(length(LEAST_THING, LONGEST_SURFACE, "A distance"))]
GiveOrTake = Annotated[float, parsed(length(LEAST_GIVE, WIDEST_GAP, "A give or take"))]
SideField = Annotated[Side, one_of({side.value: side for side in Side})]
Lay = Annotated[Literal["long side across", "long side up"], words("long side across", "long side up")]
Flag = Annotated[bool, flag()]
Degrees = Annotated[float, parsed(degrees)]
Note = Annotated[
    WordsField, Key("a remark of your own", ("mind the cable", "ask the plumber"), meant=("comment", "remark", "notes"))
]
TileNote = Annotated[
    WordsField,
    Key(
        "a remark of your own",
        ("mind the cable", "ask the plumber"),
        meant=("comment", "remark", "notes", "finish", "glaze", "colour", "color"),
    ),
]
"""The same of a tile: what it looks like is one."""
Template = Annotated[
    Literal["face", "back", "both", ""],
    words("face", "back", "both"),
    Key("the face of the tile that templates are laid on", ("back", "both", "face")),
]
Turn = Annotated[float, parsed(turn)]
