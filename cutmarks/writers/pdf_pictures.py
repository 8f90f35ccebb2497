"""Drawings that stand on many pages of a PDF: each is in the file once, as a form XObject (ISO 32000-1, 8.10)."""

from __future__ import annotations

import pikepdf
from pikepdf import Array, Dictionary, Name

PageSize = tuple[float, float]
"""A page's width and height, mm."""


class Pictures:
    """The drawings of one file that come back: gives them names as they come, and is written when all have come."""

    def __init__(self) -> None:
        self._names: dict[tuple[bytes, PageSize], str] = {}

    def named(self, drawn: bytes, size: PageSize) -> str:
        """The name of a drawing, which is clipped to a page of this size; the same for the same drawing."""
        return self._names.setdefault((drawn, size), f"P{len(self._names)}")

    def forms(self, pdf: pikepdf.Pdf) -> Dictionary:
        """The drawings by the names that `named` gave, as streams of `pdf`; they are in mm, as a page is."""
        found = Dictionary()
        for (drawn, size), name in self._names.items():
            found[f"/{name}"] = pdf.make_stream(
                drawn, Type=Name.XObject, Subtype=Name.Form, BBox=Array([0, 0, *size]), Resources=Dictionary()
            )
        return found
