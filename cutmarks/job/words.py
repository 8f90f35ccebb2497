"""What a phrase is read in: the unit, the kind of surface and its lines; and small helpers for phrases."""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterable, Mapping
from typing import Literal

from msgspec import Struct, field

from cutmarks.fittings import FittingRow
from cutmarks.job.scanner import shortened
from cutmarks.patterns import late
from cutmarks.sides import Axis, Side
from cutmarks.units import Unit

Fixes = Literal["x", "y"]
FIGURE = "0-9½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞"
"""What a number begins with, for a regular expression's [ ]."""
MOST_LISTED = 8
"""More names than these are not listed in a sentence."""
UNKNOWN = "?"
"""Written for what is not known yet."""
SIDE_OF: Mapping[str, Side] = {
    Side.LEFT: Side.LEFT,
    Side.RIGHT: Side.RIGHT,
    Side.BOTTOM: Side.BOTTOM,
    Side.TOP: Side.TOP,
    "floor": Side.BOTTOM,
    "ceiling": Side.TOP,
}
"""An edge of a surface by the words for it."""
OPPOSITE_WAY: Mapping[str, str] = {
    "right of": "left of",
    "left of": "right of",
    "above": "below",
    "below": "above",
    "in from": "short of",
    "from": "short of",
    "short of": "from",
}


class Setting(Struct, frozen=True, eq=False):
    """What a phrase is read in; each is itself alone, so that what was read in it can be kept.

    unit   of a number that has none.
    kind   of the surface: a floor has its own words for the way into the room.
    lines  the surface's set-out lines by name, and the axis that each fixes (None: not known, its kind is at fault);
           None: any name is taken.
    holes, areas, points  the names on this surface, by the name in small letters; None: any name is taken, but of
           points, of which there are none then.
    line_words, edge_words  what each line and each edge is in words ("top of the batten", "end panel"): a phrase may
           name it so. Edges that are not given are not there.
    side   the edge that is being read.
    joints  the joint that each tile says it is laid with, by the tile's name, as written.
    own_fittings  the user's own rows, which go before the catalogue; None: their file is at fault, and what they
           name is not known.
    """

    unit: Unit = Unit.MM
    say: Literal["uk", "us"] = "uk"
    kind: Literal["wall", "floor"] = "wall"
    lines: Mapping[str, Fixes | None] | None = None
    holes: Mapping[str, str] | None = None
    areas: Mapping[str, str] | None = None
    points: Mapping[str, str] | None = None
    line_words: Mapping[str, str] = field(default_factory=dict)
    edge_words: Mapping[Side, str] = field(default_factory=dict)
    side: Side | None = None
    joints: Mapping[str, str] = field(default_factory=dict)
    own_fittings: tuple[FittingRow, ...] | None = ()


class Follows(ValueError):
    """What only follows from another fault, which is told at its own place: nothing more is said of it."""


def spaced(text: str) -> str:
    """The phrase with every run of blanks, the phone's too, as one blank."""
    return " ".join(text.split())


_PARTS_OF_AN_INCH: Mapping[str, str] = {
    "half": "1/2", "quarter": "1/4", "three quarter": "3/4", "three quarters": "3/4", "eighth": "1/8",
    "three eighths": "3/8", "five eighths": "5/8", "seven eighths": "7/8", "sixteenth": "1/16",
    "three sixteenths": "3/16", "five sixteenths": "5/16",
}  # fmt: skip
_LONGEST_FIRST = "|".join(sorted(_PARTS_OF_AN_INCH, key=len, reverse=True))
_PART_OF_AN_INCH = late(
    rf"(?<!\band )(?<!\bone )(?<!\btwo )(?<!\bsix )(?<![{FIGURE}] )\b(?:an? )?(?P<part>{_LONGEST_FIRST})"
    r"(?: of)?(?: an)?[ -]inch\b",
    re.IGNORECASE,
    ("inch",),
)


_NUMBERS: Mapping[str, int] = {
    "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "nine": 9, "ten": 10,
    "eleven": 11, "twelve": 12,
}  # fmt: skip
_IN_WORDS = "|".join(_NUMBERS)
_AND_A_PART = late(
    rf"\b(?:(?P<whole>[0-9]+|{_IN_WORDS}|an?) ?)?(?P<inch>(?:inch(?:es)?|in) )?and an? "
    r"(?P<part>half|quarter|eighth|third)(?P<unit> ?(?:inch(?:es)?|in))?\b",
    re.IGNORECASE,
    ("and a",),
)
"""A whole number with a part behind it in words: "inch and a half", "11 and a half"."""
_NUMBER_OF_INCHES = late(
    rf"\b(?P<number>{_IN_WORDS})(?P<unit>[ -](?:inch(?:es)?|foot|feet|ft))\b",
    re.IGNORECASE,
    ("inch", "foot", "feet", "ft"),
)
_SAYS_A_NUMBER = late(r"half|quarter|third|eighth|sixteenth|inch|foot|feet|ft", re.IGNORECASE)
_PARTS_OF_ONE: Mapping[str, str] = {"half": "1/2", "quarter": "1/4", "eighth": "1/8", "third": "1/3"}


def in_figures(text: str) -> str:
    """The text with numbers that are said in words as figures: "quarter inch" -> 1/4 in, "six foot" -> 6 foot."""
    if not _SAYS_A_NUMBER.search(text):
        return text
    text = _AND_A_PART.sub(_with_its_part, text)
    text = _PART_OF_AN_INCH.sub(lambda match: f"{_PARTS_OF_AN_INCH[match['part'].lower()]} in", text)
    return _NUMBER_OF_INCHES.sub(
        lambda match: f"{_NUMBERS[match['number'].lower()]} {match['unit'][1:]}",
        text,
    )


def _with_its_part(match: re.Match[str]) -> str:
    """A whole number and its part as figures; as it was where neither a number nor an inch stands before the part."""
    whole, inch = (match["whole"] or "").lower(), match["inch"] or match["unit"]
    if not (inch if whole in ("", "a", "an") else whole):
        return match[0]
    number = whole if whole.isdigit() else _NUMBERS.get(whole, 1)
    return f"{number} {_PARTS_OF_ONE[match['part'].lower()]}{' in' if inch else ''}"


def found(text: str) -> str:
    """What was typed, in quotation marks, for a sentence."""
    return f'"{shortened(text)}"'


def either(words: Iterable[str]) -> str:
    """The words as "a, b or c"; nothing of none."""
    *first, last = list(words) or [""]
    return f"{', '.join(first)} or {last}" if first else last


def did_you_mean(word: str, known: Iterable[str]) -> str:
    """The question "did you mean V?", or nothing where no known word is near."""
    by_fold = {name.casefold(): name for name in known}
    near = difflib.get_close_matches(word.casefold(), list(by_fold), n=1)
    return f"did you mean {by_fold[near[0]]}?" if near else ""


def _how_far(name: str, axis: Axis, setting: Setting) -> str:
    """What a thing that is named is written as where it is no line: ", or how far from one it is, as in ..."."""
    wanted = "x" if axis == "across" else "y"
    line = next((line for line, fixes in (setting.lines or {}).items() if fixes == wanted), None)
    if line is None or not name.casefold().startswith("the "):
        return ""
    way = "left of" if axis == "across" else "below" if setting.kind == "wall" else "in from"
    return f", or how far from a line that is, as in {1000 if setting.unit is Unit.MM else 40} {way} {line}"


def line_named(name: str, axis: Axis, setting: Setting) -> str:
    """The set-out line of that name, as it is spelt in `lines`, once it is sure that it fixes `axis`.

    Raises ValueError: no such line, or one of the other axis.
    """
    name = re.sub(r"^(?:the )?line (?=\S)", "", name.strip(), flags=re.IGNORECASE)
    if setting.lines is None:
        return name
    if name not in setting.lines:
        same = [line for line in setting.lines if line.casefold() == name.casefold()]
        if len(same) != 1:
            wanted: Fixes = "x" if axis == "across" else "y"
            if not any(fixes in (wanted, None) for fixes in setting.lines.values()):
                raise Follows("there is no line of this axis, which is told at the lines")
            hint = did_you_mean(name, setting.lines) or f"write {either(setting.lines)}{_how_far(name, axis, setting)}."
            raise ValueError(f"{found(name)} is no set-out line of this surface: {hint}")
        name = same[0]
    fixes = setting.lines[name]
    if fixes is not None and fixes != ("x" if axis == "across" else "y"):
        raise ValueError(_wrong_axis(name, fixes, axis, setting))
    return name


def named(name: str, known: Mapping[str, str] | None, what: str) -> str:
    """The hole or area of that name, as it is spelt where it is defined.

    Raises ValueError: there is none.
    """
    if known is None:
        return name
    if name.casefold() not in known:
        few = f"write {either(known.values())}." if len(known) <= MOST_LISTED else "write the name of one."
        hint = (did_you_mean(name, known.values()) or few) if known else "there is none; read it from a line."
        raise ValueError(f"{found(name)} is no {what} of this surface: {hint}")
    return known[name.casefold()]


def _wrong_axis(name: str, fixes: Fixes, axis: Axis, setting: Setting) -> str:
    runs = {("wall", "x"): "plumb", ("wall", "y"): "level", ("floor", "x"): "across", ("floor", "y"): "along"}
    own = runs[setting.kind, fixes]
    wanted = runs[setting.kind, "x" if axis == "across" else "y"]
    words = "right of or left of" if axis == "across" else ("above or below" if setting.kind == "wall" else "from")
    return f"{name} is {_verb(own)}: {words} needs a line that is {_verb(wanted)}."


def _verb(runs: str) -> str:
    return runs if runs in ("plumb", "level") else f"drawn {runs}"
