"""Sheets as one PDF that asks the printer for full size.

The pages are written from the same drawing as the SVG files (`drawing`), without any system library. The same sheets
give the same bytes: no dates, the file's identity is taken from its contents.
"""

from __future__ import annotations

import zlib
from collections.abc import Callable, Iterable
from io import BytesIO, RawIOBase
from typing import TYPE_CHECKING, BinaryIO, cast

import pikepdf
from pikepdf import Array, Dictionary, Name

from cutmarks.marks.lettering import printable
from cutmarks.sheets.model import PaperSheet, Series
from cutmarks.writers.drawing import Drawing, drawing, runs_of
from cutmarks.writers.pdf_content import POINTS_PER_MM, Matrix, content, head
from cutmarks.writers.pdf_fonts import Lettering
from cutmarks.writers.pdf_pictures import Pictures

if TYPE_CHECKING:
    from _typeshed import ReadableBuffer

AS_DRAWN: Matrix = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)
"""Full size, nothing corrected."""


Correction = Callable[[float, float], Matrix]
"""For a page of a width and height in mm, the matrix that makes up for what a printer does."""


def pdf_bytes(sheets: Iterable[PaperSheet], title: str, correction: Correction | None = None) -> bytes:
    """All sheets in one PDF, one page each, in their order; see `Pages`.

    Raises ValueError for no sheets, GeometryError where a coordinate is not finite.
    """
    pages = Pages(title, correction)
    for sheet in sheets:
        pages.add(drawing(sheet))
    out = BytesIO()
    pages.save(out)
    return out.getvalue()


class Pages:
    """A PDF that is made page by page: of a sheet that was added no more is held than its packed page.

    The viewer is asked to print without scaling, to choose the tray by the page's size and to print one side only
    (ISO 32000-1, 12.2; Enforce is ISO 32000-2).
    """

    def __init__(self, title: str, correction: Correction | None = None) -> None:
        """A file without pages yet; `correction` is applied to each page that is added."""
        self._title = title
        self._correction = correction
        self._pdf = pikepdf.new()
        self._lettering = Lettering()
        self._pictures = Pictures()
        self._resources = self._pdf.make_indirect(Dictionary())
        self._packed = b""
        self._drawn: pikepdf.Object | None = None
        self._boxes: dict[tuple[float, float], pikepdf.Object] = {}
        self._rulers: dict[tuple[float, float], pikepdf.Object] = {}

    def add(self, drawn: Drawing) -> None:
        """A sheet as the next page; one that is drawn like the page before shares its content.

        Raises GeometryError where a coordinate is not finite.
        """
        size = (drawn.width, drawn.height)
        packed = zlib.compress(head(self._matrix(size)) + content(drawn.runs, size, self._lettering, self._pictures))
        if packed != self._packed:
            self._packed, self._drawn = packed, self._stream(packed)
        self._append(size, self._drawn)

    def add_series(self, series: Series) -> None:
        """All pages of a series, each packed as it is set; what is around it is put before it when all are there.

        Raises GeometryError where a coordinate is not finite.
        """
        size = (series.width, series.height)
        first = len(self._pdf.pages)
        for body in series.bodies():
            packed = zlib.compress(content(runs_of(body), size, self._lettering, self._pictures))
            self._append(size, self._stream(packed))
        own = self._pdf.pages[first:]
        for number, page in enumerate(own, start=1):
            around = runs_of(series.around(number, len(own)).marks)
            packed = zlib.compress(head(self._matrix(size)) + content(around, size, self._lettering, self._pictures))
            page.Contents = Array([self._stream(packed), page.Contents])

    def _matrix(self, size: tuple[float, float]) -> Matrix:
        return AS_DRAWN if self._correction is None else self._correction(*size)

    def _stream(self, packed: bytes) -> pikepdf.Object:
        return self._pdf.make_stream(packed, Filter=Name.FlateDecode)

    def _append(self, size: tuple[float, float], contents: pikepdf.Object | None) -> None:
        if size not in self._boxes:
            self._boxes[size] = self._pdf.make_indirect(_box(size))
        page = Dictionary(Type=Name.Page, MediaBox=self._boxes[size], Resources=self._resources, Contents=contents)
        if self._correction is None:
            # On a corrected page the viewer's ruler would read the correction: it keeps its own points there.
            if size not in self._rulers:
                self._rulers[size] = _ruler(self._pdf, size)
            page.VP = self._rulers[size]
        self._pdf.pages.append(pikepdf.Page(self._pdf.make_indirect(page)))

    def save(self, out: BinaryIO) -> None:
        """Write the whole file, once all pages are there. Raises ValueError for no sheets."""
        pdf = self._pdf
        if not pdf.pages:
            raise ValueError("A PDF needs at least one sheet.")
        self._resources.Font = self._lettering.fonts(pdf)
        self._resources.XObject = self._pictures.forms(pdf)
        pdf.Root.ViewerPreferences = Dictionary(
            PrintScaling=Name("/None"),
            PickTrayByPDFSize=True,
            Duplex=Name.Simplex,
            Enforce=Array([Name.PrintScaling]),
            DisplayDocTitle=True,
        )
        pdf.docinfo[Name.Title] = printable(self._title)
        told = _Told(out)
        # Duplex stands in PDF from 1.7 on (Table 150).
        pdf.save(
            cast(BinaryIO, told),
            min_version="1.7",
            deterministic_id=True,
            object_stream_mode=pikepdf.ObjectStreamMode.generate,
        )
        if told.error is not None:
            raise told.error


class _Told(RawIOBase):
    """A file that keeps the first error of the disk to be raised later: raised in the middle, it would end the process.

    (qpdf closes the file in a destructor, and a second error there is not one that can be caught.)
    """

    def __init__(self, out: BinaryIO) -> None:
        self.error: OSError | None = None
        self._out = out

    def writable(self) -> bool:
        return True

    def write(self, data: ReadableBuffer, /) -> int:
        if self.error is None:
            try:
                self._out.write(data)
            except OSError as error:
                self.error = error
        return memoryview(data).nbytes


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
