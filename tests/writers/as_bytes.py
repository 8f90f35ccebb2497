"""Files in memory: a sheet's SVG, a plan's page for the phone."""

from __future__ import annotations

from io import BytesIO

from cutmarks.plan import Plan
from cutmarks.sheets.model import PaperSheet
from cutmarks.writers.drawing import drawing
from cutmarks.writers.svg import write_svg
from cutmarks.writers.wall_page import write_wall_page


def svg_bytes(sheet: PaperSheet) -> bytes:
    """The bytes that `write_svg` writes into a file."""
    out = BytesIO()
    write_svg(drawing(sheet), out)
    return out.getvalue()


def wall_page(plan: Plan) -> bytes:
    """The bytes that `write_wall_page` writes into a file."""
    out = BytesIO()
    write_wall_page(plan, out)
    return out.getvalue()
