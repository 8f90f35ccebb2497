"""What a template is lined up on."""

from __future__ import annotations

from typing import Literal

from msgspec import Struct

from cutmarks.registering.layouts import LayoutName
from cutmarks.sides import Side

How = Literal["corner", "edge", "centre", "joined"]


class Registration(Struct, frozen=True):
    """One template of one piece: which cuts, or inside corners, stand on it, and which edges of the tile are with them.

    how   "corner": both edges of `edges` are on the sheet; "edge": one edge is, and the other measure is by tape;
          "centre": none is, both measures are by tape and the sheet is laid on the marked centre; "joined": the
          corner of `edges` is on the first of several sheets, `columns` away from the edge across and `rows` away
          from the other, which are joined; each reaches `steps` (across, up) mm further than the one before.
    edges, tape  sides of the tile as it is seen on its FACE, on a template for the back too.
    cuts  indices into the piece's `spots`: its cuts, or its inside corners; what is taped to goes through the first.
    tape  the edges that the tape is held to; () for a corner and for joined sheets.
    lines  how far from each of these edges the line on the sheet lies that is taped to, mm: through the middle of the
           first cut, or along its near side where it is larger than the paper.
    back  the template is laid on the back of the tile: it is drawn mirrored.
    layout  how the page is held: the band with head and panels on top, or at the left.
    """

    piece: str
    how: How
    edges: tuple[Side, ...]
    cuts: tuple[int, ...]
    tape: tuple[Side, ...] = ()
    lines: tuple[float, ...] = ()
    back: bool = False
    columns: int = 1
    rows: int = 1
    steps: tuple[float, float] = (0.0, 0.0)
    layout: LayoutName = "portrait"

    @property
    def pages(self) -> int:
        """How many sheets of paper show the tile."""
        return self.columns * self.rows
