"""What a template is lined up on."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from cutmarks.setout.model import Side


@dataclass(frozen=True, slots=True)
class Registration:
    """One sheet of one piece: which cuts stand on it, and which of the tile's edges are on the paper with them.

    how   "corner": both edges of `edges` are on the sheet; "edge": one edge is, and the other measure is by tape;
          "centre": none is, both measures are by tape and the sheet is laid on the marked centre.
    cuts  indices into the piece's cuts.
    tape  the edges that the tape is held to, up to the line through the middle of the first cut of `cuts`; () for a
          corner.
    """

    piece: str
    how: Literal["corner", "edge", "centre"]
    edges: tuple[Side, ...]
    cuts: tuple[int, ...]
    tape: tuple[Side, ...] = ()
