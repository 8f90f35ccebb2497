"""A sheet's SVG file in memory."""

from __future__ import annotations

from io import BytesIO

from cutmarks.sheets.model import PaperSheet
from cutmarks.writers.drawing import drawing
from cutmarks.writers.svg import write_svg


def svg_bytes(sheet: PaperSheet) -> bytes:
    """The bytes that `write_svg` writes into a file."""
    out = BytesIO()
    write_svg(drawing(sheet), out)
    return out.getvalue()
