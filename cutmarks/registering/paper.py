"""Papers, and how much of a tile one of them can carry.

Portrait always. Sizes: ISO 216 (A4, A3) and ASME Y14.1 (A and B, sold as Letter and Tabloid); "any" is the part that
A4 and Letter share, which both print at full size.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

SAFE_MARGIN = 10.0
"""Nothing is drawn nearer to the paper's edge: desktop printers leave 3 to 6 mm blank, and some more at the foot."""
HEAD = 28.0
"""Height of the head of a template: name, place in words, elevation, FACE and UP."""
FOOT = 19.0
"""Height of the foot: the bar across and the small print."""
SIDE = 9.0
"""Width of the strip with the bar along the paper, on the side away from the edge that is lined up."""
EDGE_INSET = 8.5
"""From the end of the drawing to the line for the tile's edge: room for five ticks and their figures."""
CLEAR = 3.0
"""Left free round a cut at the far end of the drawing."""


@dataclass(frozen=True, slots=True)
class Paper:
    """One size of paper, portrait, mm."""

    name: str
    width: float
    height: float

    @property
    def safe_width(self) -> float:
        """Width of the safe area."""
        return self.width - 2 * SAFE_MARGIN

    @property
    def safe_height(self) -> float:
        """Height of the safe area."""
        return self.height - 2 * SAFE_MARGIN

    @property
    def view_width(self) -> float:
        """Width of the part that shows the tile."""
        return self.safe_width - SIDE

    @property
    def view_height(self) -> float:
        """Height of the part that shows the tile; words stand in it where the tile is blank."""
        return self.safe_height - HEAD - FOOT

    @property
    def reach_across(self) -> float:
        """How far from a left or right edge on the paper a cut may reach and still be on it."""
        return self.view_width - EDGE_INSET - CLEAR

    @property
    def reach_up(self) -> float:
        """How far from a bottom or top edge on the paper a cut may reach and still be on it."""
        return self.view_height - EDGE_INSET - CLEAR


PAPERS: Mapping[str, Paper] = MappingProxyType(
    {
        paper.name: paper
        for paper in (
            Paper("A4", 210.0, 297.0),
            Paper("A3", 297.0, 420.0),
            Paper("Letter", 215.9, 279.4),
            Paper("Tabloid", 279.4, 431.8),
            Paper("any", 210.0, 279.4),
        )
    }
)
