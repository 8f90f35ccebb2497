"""Sheets as one PDF that asks the printer for full size.

The pages are written from the same drawing as the SVG files (`drawing`), without any system library. The same sheets
give the same bytes: no dates, the file's identity is taken from its contents.
"""

from __future__ import annotations

import hashlib
import zlib
from collections.abc import Callable, Iterable
from io import BytesIO

import pikepdf
from pikepdf import Array, Dictionary, Name

from cutmarks.marks.lettering import printable
from cutmarks.sheets.model import Sheet
from cutmarks.writers.pdf_content import POINTS_PER_MM, Matrix, content
from cutmarks.writers.pdf_fonts import Lettering
from cutmarks.writers.pdf_pictures import Pictures

AS_DRAWN: Matrix = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)
"""Full size, nothing corrected."""


def pdf_bytes(
    sheets: Iterable[Sheet],
    title: str,
    progress: Callable[[int], None] | None = None,
    correction: Callable[[float, float], Matrix] | None = None,
) -> bytes:
    """All sheets in one PDF, one page each, in their order.

    The viewer is asked to print without scaling, to choose the tray by the page's size and to print one side only
    (ISO 32000-1, 12.2; Enforce is ISO 32000-2). `progress` is told how many pages are done. `correction` gives, for a
    page of a width and height in mm, the matrix that makes up for what a printer does. Raises ValueError for no
    sheets, GeometryError where a coordinate is not finite.
    """
    pdf = pikepdf.new()
    lettering, pictures = Lettering(), Pictures()
    resources = pdf.make_indirect(Dictionary())
    drawn: dict[bytes, pikepdf.Object] = {}
    rulers: dict[tuple[float, float], pikepdf.Object] = {}
    for count, sheet in enumerate(sheets, start=1):
        matrix = AS_DRAWN if correction is None else correction(sheet.width, sheet.height)
        packed = zlib.compress(content(sheet, lettering, pictures, matrix))
        same = hashlib.sha256(packed).digest()
        if same not in drawn:
            drawn[same] = pdf.make_stream(packed, Filter=Name.FlateDecode)
        size = (sheet.width, sheet.height)
        page = Dictionary(Type=Name.Page, MediaBox=_box(size), Resources=resources, Contents=drawn[same])
        if correction is None:
            # On a corrected page the viewer's ruler would read the correction: it keeps its own points there.
            if size not in rulers:
                rulers[size] = _ruler(pdf, size)
            page.VP = rulers[size]
        pdf.pages.append(pikepdf.Page(pdf.make_indirect(page)))
        if progress is not None:
            progress(count)
    if not pdf.pages:
        raise ValueError("A PDF needs at least one sheet.")
    resources.Font = lettering.fonts(pdf)
    resources.XObject = pictures.forms(pdf)
    pdf.Root.ViewerPreferences = Dictionary(
        PrintScaling=Name("/None"),
        PickTrayByPDFSize=True,
        Duplex=Name.Simplex,
        Enforce=Array([Name.PrintScaling]),
        DisplayDocTitle=True,
    )
    pdf.docinfo[Name.Title] = printable(title)
    out = BytesIO()
    # Duplex stands in PDF from 1.7 on (Table 150).
    pdf.save(out, min_version="1.7", deterministic_id=True, object_stream_mode=pikepdf.ObjectStreamMode.generate)
    return out.getvalue()


def _box(size: tuple[float, float]) -> Array:
    return Array([0, 0, *(round(side * POINTS_PER_MM, _POINT_PLACES) for side in size)])


_POINT_PLACES = 5
"""Of a page's size: a millionth of a millimetre is 0.000003 pt."""


def _ruler(pdf: pikepdf.Pdf, size: tuple[float, float]) -> pikepdf.Object:
    """What lets a viewer's own ruler read millimetres on pages of one size (ISO 32000-1, 12.9)."""
    length = Dictionary(Type=Name.NumberFormat, U=pikepdf.String("mm"), C=round(1 / POINTS_PER_MM, 9), D=100)
    plain = Dictionary(Type=Name.NumberFormat, U=pikepdf.String("mm"), C=1, D=100)
    square = Dictionary(Type=Name.NumberFormat, U=pikepdf.String("mm2"), C=1, D=1)
    measure = Dictionary(
        Type=Name.Measure,
        Subtype=Name.RL,
        R=pikepdf.String("1 mm = 1 mm"),
        X=Array([length]),
        D=Array([plain]),
        A=Array([square]),
    )
    return pdf.make_indirect(Array([Dictionary(Type=Name.Viewport, BBox=_box(size), Measure=measure)]))
