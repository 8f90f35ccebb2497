"""One cut piece drawn for a shop: what the DXF writer makes, and what the list of pieces says of it."""

from __future__ import annotations

import hashlib

from msgspec import Struct


class DrawingEntry(Struct, frozen=True):
    """What the list of pieces says of a drawing, which is then written already: see `ShopDrawing`.

    sha256  of its `data`, in full.
    """

    name: str
    open_name: str
    made_of: tuple[str, ...]
    sha256: str


class ShopDrawing(Struct, frozen=True):
    """One piece, ready for a shop.

    name, open_name  inside the output folder; `data`, `open_data` their bytes.
    made_of     names all that are cut alike, the one that is drawn first.
    back        a view of the back, by its name inside the folder; () where the shop asked for none.
    """

    name: str
    data: bytes
    open_name: str
    open_data: bytes
    made_of: tuple[str, ...]
    back: tuple[tuple[str, bytes], ...] = ()

    @property
    def entry(self) -> DrawingEntry:
        """What is left to be said when the drawing itself is gone."""
        return DrawingEntry(self.name, self.open_name, self.made_of, hashlib.sha256(self.data).hexdigest())
