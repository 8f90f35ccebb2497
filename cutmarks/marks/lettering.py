"""Words as outlines of the one font that ships with the package, measured before they are placed.

Sizes are the height of capitals and figures in mm. No kerning: a figure has the same width wherever it stands.
"""

from __future__ import annotations

import math
import re
import unicodedata
from typing import TypeVar

from cutmarks.geometry.frames import Frame, cos_sin
from cutmarks.marks.model import Words

F = TypeVar("F", bound=Frame)

_FRACTION = re.compile(r"(?<=[0-9]) (?=[0-9]+/[0-9])")
"""The blank between a whole number and its fraction."""
LEADING = 1.75
"""From one baseline to the next, in heights of a capital."""


def printable(text: str) -> str:
    """The text in one line: line ends and tabs as spaces, other control characters as a box, accents composed."""
    from cutmarks.marks.glyphs import BOX

    composed = unicodedata.normalize("NFC", text)
    return "".join(
        " " if char in "\t\n\r" else BOX if unicodedata.category(char).startswith("C") else char for char in composed
    )


def width(text: str, height: float, bold: bool = False) -> float:
    """How long the words are, mm, with capitals `height` mm high."""
    from cutmarks.marks.glyphs import CAP, glyph

    return sum(glyph(char, bold).advance for char in printable(text)) * height / CAP


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
    lines: list[str] = []
    current = ""
    for word in _FRACTION.sub("\u00a0", printable(text)).split(" "):
        if not word:
            continue
        longer = f"{current} {word}" if current else word
        if width(longer, height, bold) <= room:
            current = longer
            continue
        if current:
            lines.append(current)
        while width(word, height, bold) > room and len(word) > 1:
            cut = _longest(word, height, room, bold)
            lines.append(word[:cut])
            word = word[cut:]
        current = word
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
