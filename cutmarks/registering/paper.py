"""Papers by name, and what a printer leaves blank on them.

Portrait always. Sizes: ISO 216 (A0 to A4) and ASME Y14.1 (A and B, sold as Letter and Tabloid); "any" is the part that
A4 and Letter share, which both print at full size. Plotter sheets and rolls are told by their size in mm.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from msgspec import Struct

from cutmarks.patterns import late

SAFE_MARGIN = 10.0
"""Nothing is drawn nearer to the paper's edge: desktop printers leave 3 to 6 mm blank, and some more at the foot."""
LEAST_MARGIN, MOST_MARGIN = 5.0, 20.0
"""A printer's own margin is taken within these: the foot and the bars need the rest."""
FOOT = 19.0
"""Height of the foot of a front sheet: the bar across, with a box for what was measured, and the small print."""
SIDE = 9.0
"""Width of the strip with the bar along the paper, and its box, on a front sheet."""
LONGEST = 5080.0
"""A page of a PDF has at most 14,400 points a side (ISO 32000-1, annex C): 5,080 mm."""

_OWN_SIZE = late(r"(\d+(?:\.\d+)?) x (\d+(?:\.\d+)?)")


class Paper(Struct, frozen=True):
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
        """Width of what a front sheet lists."""
        return self.safe_width - SIDE


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
    no length yet (`layouts.cut_to_length`).
    """
    own = _OWN_SIZE.fullmatch(name)
    known = PAPERS[name] if own is None else Paper(name, *sorted((float(own[1]), float(own[2]))))
    blank = SAFE_MARGIN if margin is None else min(max(margin, LEAST_MARGIN), MOST_MARGIN)
    return Paper(known.name, known.width, known.height, blank)
