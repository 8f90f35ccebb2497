"""Sheets as one PDF that asks the printer for full size.

Each page is the sheet's own SVG drawn by CairoSVG; pikepdf joins them. The same sheets give the same bytes: no dates,
the file's identity is taken from its contents. Words are outlines, so no page asks for a font.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from io import BytesIO

import pikepdf
from pikepdf import Array, Dictionary, Name

from cutmarks.errors import PdfUnavailable
from cutmarks.marks.lettering import printable
from cutmarks.sheets.model import Sheet
from cutmarks.writers.svg import svg_bytes

MISSING = (
    "The PDF cannot be made: the system's cairo library (libcairo) was not found. Install it "
    "(Debian, Ubuntu: sudo apt install libcairo2; macOS: brew install cairo) and run again. "
    "Everything else has no need of it."
)


def pdf_bytes(sheets: Sequence[Sheet], title: str, progress: Callable[[int], None] | None = None) -> bytes:
    """All sheets in one PDF, one page each, in their order.

    The viewer is asked to print without scaling, to choose the tray by the page's size and to print one side only
    (ISO 32000-1, 12.2; Enforce is ISO 32000-2). `progress` is told how many pages are done. Raises PdfUnavailable
    where libcairo is not found, ValueError for no sheets.
    """
    if not sheets:
        raise ValueError("A PDF needs at least one sheet.")
    drawn: dict[bytes, bytes] = {}
    whole = pikepdf.new()
    for count, sheet in enumerate(sheets, start=1):
        svg = svg_bytes(sheet)
        if svg not in drawn:
            drawn[svg] = _page(svg)
        with pikepdf.open(BytesIO(drawn[svg])) as single:
            whole.pages.extend(single.pages)
        if progress is not None:
            progress(count)
    whole.Root.ViewerPreferences = Dictionary(
        PrintScaling=Name("/None"),
        PickTrayByPDFSize=True,
        Duplex=Name.Simplex,
        Enforce=Array([Name.PrintScaling]),
        DisplayDocTitle=True,
    )
    whole.docinfo[Name.Title] = printable(title)
    out = BytesIO()
    whole.save(out, deterministic_id=True)
    return out.getvalue()


def _page(svg: bytes) -> bytes:
    try:
        import cairosvg
    except OSError as missing:
        raise PdfUnavailable(MISSING) from missing
    drawn: bytes = cairosvg.svg2pdf(bytestring=svg)
    return drawn
