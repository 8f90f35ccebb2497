"""The blank measure-up sheets as PDF files."""

from __future__ import annotations

from pathlib import Path
from typing import get_args

from cutmarks.sheets.measure_up import BlankPaper, blank_name, measure_up_pages
from cutmarks.sides import SurfaceKind
from cutmarks.writers.pdf import pdf_bytes


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
