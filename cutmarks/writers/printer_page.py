"""The test page of a printer as a PDF."""

from __future__ import annotations

from cutmarks.registering.paper import Paper
from cutmarks.sheets.printer_page import TITLE, printer_page
from cutmarks.units import Style
from cutmarks.writers.pdf import pdf_bytes


def printer_page_pdf(paper: Paper, style: Style) -> bytes:
    """The test page on this paper, never corrected, so that it shows what the printer does."""
    return pdf_bytes([printer_page(paper, style)], f"{TITLE}: {paper.name}")
