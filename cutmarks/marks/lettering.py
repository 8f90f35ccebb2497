"""Words as outlines of the one font that ships with the package, measured before they are placed.

Sizes are the height of capitals and figures in mm. No kerning: a figure has the same width wherever it stands.
"""

from __future__ import annotations

import math
import re
import unicodedata
from functools import lru_cache
from typing import TypeVar

from cutmarks.geometry.frames import Frame, cos_sin
from cutmarks.marks.model import Words

F = TypeVar("F", bound=Frame)

_BETWEEN_WORDS = re.compile(r" (?!(?<=[0-9] )[0-9]+/[0-9])")
"""A blank that a line may be broken at: any but that between a whole number and its fraction."""
_KEPT = 1024
"""So many words are known by their length: they are those of a whole job, again and again."""


def printable(text: str) -> str:
    """The text in one line: line ends and tabs as spaces, other control characters as a box, accents composed."""
    from cutmarks.marks.glyphs import BOX

    if text.isascii() and text.isprintable():
        return text
    composed = unicodedata.normalize("NFC", text)
    return "".join(
        " " if char in "\t\n\r" else BOX if unicodedata.category(char).startswith("C") else char for char in composed
    )


def width(text: str, height: float, bold: bool = False) -> float:
    """How long the words are, mm, with capitals `height` mm high."""
    from cutmarks.marks.glyphs import CAP

    return _advance(text, bold) * height / CAP


@lru_cache(maxsize=_KEPT)
def _advance(text: str, bold: bool) -> float:
    """How long the words are, in font units: a whole number, so that parts of a text add up to it exactly."""
    from cutmarks.marks.glyphs import glyph

    return sum(glyph(char, bold).advance for char in printable(text))


def ink(words: Words[F]) -> tuple[tuple[float, float], ...]:
    """The four corners of the box round the words' ink, counter-clockwise; () for blanks. Turns with the words."""
    from cutmarks.marks.glyphs import CAP, glyph

    scale = words.height / CAP
    x = start_of(words)
    left, bottom, right, top = math.inf, math.inf, -math.inf, -math.inf
    for char in printable(words.text):
        shape = glyph(char, words.bold)
        if shape.ink is not None:
            min_x, min_y, max_x, max_y = (value * scale for value in shape.ink)
            left, right = min(left, x + min_x), max(right, x + max_x)
            bottom, top = min(bottom, min_y), max(top, max_y)
        x += shape.advance * scale
    if left > right:
        return ()
    cos, sin = cos_sin(words.turn)
    return tuple(
        (words.at.x + cos * u - sin * v, words.at.y + sin * u + cos * v)
        for u, v in ((left, bottom), (right, bottom), (right, top), (left, top))
    )


def wrapped(text: str, height: float, room: float, bold: bool = False) -> list[str]:
    """The text broken at blanks into lines no longer than `room` mm; a word that is longer is broken inside.

    A whole number stays with its fraction: "2 5/32" is never "2" at one line's end and "5/32" on the next.
    """
    from cutmarks.marks.glyphs import CAP

    lines: list[str] = []
    current, long = "", 0.0
    blank = _advance(" ", bold)
    for word in _BETWEEN_WORDS.split(printable(text)):
        if not word:
            continue
        own = _advance(word, bold)
        if current and (long + blank + own) * height / CAP <= room:
            current, long = f"{current} {word}", long + blank + own
            continue
        if current:
            lines.append(current)
        while len(word) > 1 and width(word, height, bold) > room:
            cut = _longest(word, height, room, bold)
            lines.append(word[:cut])
            word = word[cut:]
        current, long = word, _advance(word, bold)
    if current:
        lines.append(current)
    return lines


def fitting(text: str, height: float, room: float, bold: bool = False) -> float:
    """The height, at most `height`, at which the words are no longer than `room` mm."""
    long = width(text, height, bold)
    return height if long <= room else height * room / long


def _longest(word: str, height: float, room: float, bold: bool) -> int:
    count = 1
    while count < len(word) and width(word[: count + 1], height, bold) <= room:
        count += 1
    return count


def start_of(words: Words[F]) -> float:
    """Where the first character begins along the baseline, from `words.at`, mm."""
    if words.anchor == "start":
        return 0.0
    share = 0.5 if words.anchor == "middle" else 1.0
    return -share * width(words.text, words.height, words.bold)
