"""One cut piece drawn for a shop: what the DXF writer makes, and what the list of pieces says of it."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass

from cutmarks.geometry.edges import Bounds


@dataclass(frozen=True, slots=True)
class DrawingEntry:
    """What the list of pieces says of a drawing, which is then written already: see `ShopDrawing`.

    sha256  of its `data`, in full.
    """

    name: str
    open_name: str
    made_of: tuple[str, ...]
    contours: int
    cut_length: float
    sha256: str


@dataclass(frozen=True, slots=True)
class ShopDrawing:
    """One piece, ready for a shop.

    name, open_name  inside the output folder; `data`, `open_data` their bytes.
    piece       the piece that is drawn; `made_of` names all that are cut alike, this one first.
    bounds      of the finished contour (Tile), mm: over all width and height are what proves the unit.
    contours    how many closed contours `data` has.
    cut_length  what is cut in the tile, mm, without what runs past its edges.
    """

    name: str
    data: bytes
    open_name: str
    open_data: bytes
    piece: str
    made_of: tuple[str, ...]
    bounds: Bounds
    contours: int
    cut_length: float

    @property
    def entry(self) -> DrawingEntry:
        """What is left to be said when the drawing itself is gone."""
        sha256 = hashlib.sha256(self.data).hexdigest()
        return DrawingEntry(self.name, self.open_name, self.made_of, self.contours, self.cut_length, sha256)
