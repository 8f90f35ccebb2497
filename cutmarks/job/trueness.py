"""Lines that were checked: how far one leans, and whether two are square to each other.

lines:
  V: {kind: plumb, words: middle of the sink, off: 2 in 1200 to the right}
  B: {kind: level, words: top of the batten, off: 3 in 1000 up to the right}
square: 900 x 1200, diagonal 1503       # from the crossing: to the right, then up (in on a floor), then across
"""

from __future__ import annotations

import re

from cutmarks.job.laying import parse_size
from cutmarks.job.words import Setting, found, spaced
from cutmarks.patterns import late
from cutmarks.readings import LineLean, Square
from cutmarks.units import match_length, parse_length

MOST = 0.1
"""A line that leans more than 1 in 10 was never a plumb or level line."""
MOST_WORDS = 120
"""No such phrase has more characters."""
_OFF = late(
    r"(?P<by>.+?) (?:in|over) (?P<over>\S.*?),? (?P<up>up |down |in |out )?to the (?P<side>left|right)$", re.IGNORECASE
)
_SQUARE = late(r"(?P<size>.+?),? diagonal (?P<diagonal>.+)$", re.IGNORECASE)


def parse_lean(text: str, setting: Setting) -> LineLean:
    """How far a line leans: "2 in 1200 to the right" of a plumb one, "3 in 1000 up to the right" of a level one.

    Raises ValueError: one sentence.
    """
    phrase = spaced(text)
    match = _OFF.match(phrase[:MOST_WORDS])
    example = "2 in 1200 to the right for a plumb line, or 3 in 1000 up to the right for a level one"
    if match is None:
        raise ValueError(f"{found(phrase)} does not say how far it is off: write it as in {example}.")
    by = match_length(match["by"], setting.unit)
    over = parse_length(match["over"], setting.unit).mm
    if by is None or by[1] or over <= 0.0 or by[0].mm > MOST * over:
        raise ValueError(f"{found(phrase)} is no small slope: write it as in {example}.")
    right = 1.0 if match["side"].casefold() == "right" else -1.0
    slope = right * by[0].mm / over
    if match["up"] is None:
        return LineLean(slope, "across", phrase)
    rises = match["up"].strip().casefold() in ("up", "in")
    return LineLean(slope if rises else -slope, "up", phrase)


def parse_square(text: str, setting: Setting) -> Square:
    """Two lengths from the crossing of the main lines and the diagonal between their ends. Raises ValueError."""
    phrase = spaced(text)
    match = _SQUARE.match(phrase[:MOST_WORDS])
    if match is None:
        raise ValueError(f"{found(phrase)} is no triangle: write it as in 900 x 1200, diagonal 1503.")
    size = parse_size(match["size"], setting.unit)
    diagonal = parse_length(match["diagonal"], setting.unit).mm
    if not abs(size.first - size.second) < diagonal < size.first + size.second:
        raise ValueError(f"{found(phrase)} does not close: no triangle has these three sides. Measure them again.")
    return Square(size.first, size.second, diagonal, phrase)
