"""Papers, and how much of a tile one of them can carry.

Portrait always. Sizes: ISO 216 (A0 to A4) and ASME Y14.1 (A and B, sold as Letter and Tabloid); "any" is the part that
A4 and Letter share, which both print at full size. Plotter sheets and rolls are told by their size in mm.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from cutmarks.sides import Axis

SAFE_MARGIN = 10.0
"""Nothing is drawn nearer to the paper's edge: desktop printers leave 3 to 6 mm blank, and some more at the foot."""
LEAST_MARGIN, MOST_MARGIN = 5.0, 20.0
"""A printer's own margin is taken within these: the foot and the bars need the rest."""
HEAD = 28.0
"""Height of the head of a template: name, place in words, elevation, FACE and UP."""
BAND = 11.0
"""Height of the black band under the head of a template for the back."""
FOOT = 19.0
"""Height of the foot: the bar across and the small print."""
SIDE = 9.0
"""Width of the strip with the bar along the paper, on the side away from the edge that is lined up."""
EDGE_INSET = 8.5
"""From the end of the drawing to the line for the tile's edge: room for five ticks and their figures."""
CLEAR = 3.0
"""Left free round a cut at the far end of the drawing."""
OVERLAP = 16.0
"""How much of the tile two joined sheets both show."""
LONGEST = 5080.0
"""A page of a PDF has at most 14,400 points a side (ISO 32000-1, annex C): 5,080 mm."""

_OWN_SIZE = re.compile(r"(\d+(?:\.\d+)?) x (\d+(?:\.\d+)?)")
_ROLL = re.compile(r"roll (\d+(?:\.\d+)?)")


@dataclass(frozen=True, slots=True)
class Paper:
    """One size of paper, portrait, mm; `margin` is left blank all round."""

    name: str
    width: float
    height: float
    margin: float = SAFE_MARGIN

    @property
    def safe_width(self) -> float:
        """Width of the safe area."""
        return self.width - 2 * self.margin

    @property
    def safe_height(self) -> float:
        """Height of the safe area."""
        return self.height - 2 * self.margin

    @property
    def view_width(self) -> float:
        """Width of the part that shows the tile."""
        return self.safe_width - SIDE

    @property
    def view_height(self) -> float:
        """Height of the part that shows the tile; words stand in it where the tile is blank."""
        return self.safe_height - HEAD - FOOT

    def view(self, axis: Axis, back: bool = False) -> float:
        """How much of the tile is on one sheet along an axis; a template for the back has a band that takes room."""
        return self.view_width if axis == "across" else self.view_height - (BAND if back else 0.0)

    def reach(self, axis: Axis, back: bool = False) -> float:
        """How far from an edge on the paper a cut may reach along an axis and still be wholly on it."""
        return self.view(axis, back) - EDGE_INSET - CLEAR

    def step(self, axis: Axis, back: bool = False) -> float:
        """How much further each joined sheet reaches along an axis."""
        return self.view(axis, back) - OVERLAP


def sheets_to(far: float, paper: Paper, axis: Axis, back: bool) -> int:
    """How many joined sheets along an axis it takes to show a cut that ends `far` mm from the edge."""
    return 1 + max(0, math.ceil((far - paper.reach(axis, back)) / paper.step(axis, back)))


def join_at(number: int, step: float) -> float:
    """Where sheet `number` (counted from 0) is joined to the next one, mm from the edge: the middle of the overlap."""
    return (number + 1) * step - EDGE_INSET + OVERLAP / 2


def joins_to(far: float, step: float) -> int:
    """How many joins lie between the edge and a place `far` mm from it."""
    return max(0, math.ceil((far + EDGE_INSET - OVERLAP / 2) / step) - 1)


PAPERS: Mapping[str, Paper] = MappingProxyType(
    {
        paper.name: paper
        for paper in (
            Paper("A4", 210.0, 297.0),
            Paper("A3", 297.0, 420.0),
            Paper("Letter", 215.9, 279.4),
            Paper("Tabloid", 279.4, 431.8),
            Paper("any", 210.0, 279.4),
            Paper("A2", 420.0, 594.0),
            Paper("A1", 594.0, 841.0),
            Paper("A0", 841.0, 1189.0),
        )
    }
)


def paper_named(name: str, margin: float | None = None) -> Paper:
    """The paper that a job names: one of `PAPERS`, or a plotter sheet "610 x 900" (turned upright).

    `margin` is what the printer leaves blank, mm; without it 10 is left. Raises KeyError for anything else; a roll has
    no length yet (`cut_to_length`).
    """
    own = _OWN_SIZE.fullmatch(name)
    known = PAPERS[name] if own is None else Paper(name, *sorted((float(own[1]), float(own[2]))))
    blank = SAFE_MARGIN if margin is None else min(max(margin, LEAST_MARGIN), MOST_MARGIN)
    return Paper(known.name, known.width, known.height, blank)


def cut_to_length(name: str, tallest: float) -> str:
    """A roll as a sheet that shows a tile `tallest` mm high; any other paper as it is.

    All sheets of a job have one length, and are upright: no shorter than the roll is wide.
    """
    roll = _ROLL.fullmatch(name)
    if roll is None:
        return name
    width = float(roll[1])
    needed = tallest + HEAD + BAND + FOOT + 2 * (MOST_MARGIN + EDGE_INSET)
    return f"{width:g} x {min(max(width, math.ceil(needed / 10) * 10), LONGEST):g}"
