"""The files beside the pack: job sheet, starts side by side, the test page of a printer, blanks to measure up on."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from io import BytesIO
from pathlib import Path, PurePosixPath
from typing import BinaryIO, Literal, get_args

from cutmarks.openings.model import CutPiece
from cutmarks.plan import Plan
from cutmarks.registering.paper import Paper
from cutmarks.sheets.clearance import clearance_pages
from cutmarks.sheets.jobsheet import jobsheet_pages
from cutmarks.sheets.measure_up import BlankPaper, blank_name, measure_up_pages
from cutmarks.sheets.model import Series
from cutmarks.sheets.piece_page import OnPage, piece_page
from cutmarks.sheets.printer_page import TITLE, printer_page
from cutmarks.sheets.setout_page import setout_pages
from cutmarks.sheets.starts_page import Pictured, starts_page
from cutmarks.sides import SurfaceKind
from cutmarks.units import Style
from cutmarks.writers.drawing import drawing
from cutmarks.writers.pdf import Pages, pdf_bytes
from cutmarks.writers.pictures import write_picture
from cutmarks.writers.svg import write_svg

PageKind = Literal["pdf", "svg", "png"]
"""The kinds of file that a page is drawn into."""


def write_job_sheet(plan: Plan, sheets: Mapping[str, str], out: BinaryIO) -> None:
    """Write the job sheet of a plan; the same bytes for the same plan. `sheets`: see `jobsheet_pages`."""
    pages = Pages(f"{plan.job}: job sheet")
    pages.add_series(jobsheet_pages(plan, sheets))
    pages.save(out)


def write_clearance_sheet(plan: Plan, out: BinaryIO) -> None:
    """Write the clearance sheet of a plan that has a surface without tiles; the same bytes for the same plan."""
    pages = Pages(f"{plan.job}: clearance sheet")
    pages.add_series(clearance_pages(plan))
    pages.save(out)


def starts_file(surface: str, starts: Sequence[Pictured], paper: Paper, kind: PageKind) -> bytes:
    """The page that has the starts of one surface side by side."""
    page = starts_page(surface, starts, paper)
    if kind == "pdf":
        return pdf_bytes([page], page.title)
    out = BytesIO()
    (write_picture if kind == "png" else write_svg)(drawing(page), out)
    return out.getvalue()


def write_set_out(plan: Plan, out: BinaryIO) -> None:
    """Write the set-out pages of a plan that has a surface with its start; the same bytes for the same plan."""
    pages = Pages(f"{plan.job}: set-out")
    pages.add_series(setout_pages(plan))
    pages.save(out)


def series_pdf(series: Series, title: str) -> bytes:
    """The pages of one series as a file."""
    pages, held = Pages(title), BytesIO()
    pages.add_series(series)
    pages.save(held)
    return held.getvalue()


def piece_page_pdf(plan: Plan, piece: CutPiece, names: Sequence[str], dxf: str) -> bytes:
    """The drawing that goes to a shop beside the DXF of that name: one page."""
    name = page_name(dxf)
    about = OnPage(len(names), ", ".join(names), PurePosixPath(dxf).name)
    page = piece_page(plan, piece, plan.cuttings[piece.name], name, about)
    return pdf_bytes([page], page.title)


def page_name(dxf: str) -> str:
    """What the drawing beside a DXF is called.

    >>> page_name("dxf/splash_3-07_face_mm.dxf")
    'dxf/splash_3-07_face_mm.pdf'
    """
    return f"{dxf.removesuffix('.dxf')}.pdf"


def printer_page_pdf(paper: Paper, style: Style) -> bytes:
    """The test page on this paper, never corrected, so that it shows what the printer does."""
    return pdf_bytes([printer_page(paper, style)], f"{TITLE}: {paper.name}")


def measure_up_pdf(kind: SurfaceKind, paper: BlankPaper) -> bytes:
    """The blank for a wall or a floor on A4 or Letter."""
    return pdf_bytes(measure_up_pages(kind, paper), f"Measure-up: {kind}")


def write_blanks(folder: Path) -> list[Path]:
    """Make all blanks anew in `folder`; gives their paths."""
    made = []
    for kind in get_args(SurfaceKind):
        for paper in get_args(BlankPaper):
            path = folder / blank_name(kind, paper)
            path.write_bytes(measure_up_pdf(kind, paper))
            made.append(path)
    return made
