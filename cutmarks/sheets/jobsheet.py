"""The job sheet: one job on as many pages as it takes, to be read before the first cut and kept at the wall."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from cutmarks.geometry.frames import Point
from cutmarks.geometry.frames import Sheet as SheetFrame
from cutmarks.marks.model import Mark, Role, Words, line
from cutmarks.plan import Plan
from cutmarks.plan.model import Say
from cutmarks.registering.paper import PAPERS, Paper
from cutmarks.sheets.as_built import as_built_blocks
from cutmarks.sheets.flow import Block, on_page, paginate
from cutmarks.sheets.how_sure import sure_blocks
from cutmarks.sheets.jobsheet_front import cautions_blocks, findings_blocks, notes_blocks, surface_blocks, title_blocks
from cutmarks.sheets.jobsheet_holes import holes_blocks
from cutmarks.sheets.jobsheet_pieces import counts_blocks, pieces_blocks
from cutmarks.sheets.model import PaperSheet, Series
from cutmarks.units import Unit

TITLE = "JOB SHEET"
SIDE, FOOT, TOP = 13.0, 12.0, 12.0
"""Margins, mm; none is under the safe margin of desktop printers."""
RUNNING = 7.0
"""What the running head, and the running foot, take of a page's height."""
PAGE_FOR: Mapping[str, str] = {"A4": "A4", "Letter": "Letter", "any": "any", "Tabloid": "Letter"}
"""The page of a job sheet: the templates' paper, or one that can be held at the wall. For all others A4, or Letter in
a job in inches."""


def jobsheet_pages(plan: Plan, sheets: Mapping[str, str] | None = None) -> Series:
    """The job sheet's pages, portrait, in the Sheet frame, mm: on the job's paper, or one that can be held.

    `sheets` says for each piece's name which template sheet it is on, in words ("3", "3 and 4"); it is printed in the
    list of tiles as given.
    """
    paper = page_paper(plan.say)
    return Series(
        (paper.width, paper.height),
        lambda: _bodies(plan, paper, sheets or {}),
        lambda number, count: _around(plan, paper, number, count),
    )


def page_paper(say: Say) -> Paper:
    """The paper of a job's own pages: that of the templates, or one that can be held."""
    return PAPERS[PAGE_FOR.get(say.paper, "Letter" if say.style.unit is Unit.INCH else "A4")]


def _bodies(plan: Plan, paper: Paper, sheets: Mapping[str, str]) -> Iterator[tuple[Mark[SheetFrame], ...]]:
    blocks = _blocks(plan, paper.width - 2 * SIDE, sheets)
    for page in paginate(blocks, paper.height - TOP - FOOT - 2 * RUNNING):
        yield tuple(on_page(page, SIDE, paper.height - TOP - RUNNING))


def _around(plan: Plan, paper: Paper, number: int, count: int) -> PaperSheet:
    return PaperSheet(
        file=f"job-sheet_{number}.svg",
        title=f"{plan.job}: job sheet, page {number} of {count}",
        width=paper.width,
        height=paper.height,
        marks=tuple(furniture(plan, TITLE, paper, number, count)),
    )


def _blocks(plan: Plan, width: float, sheets: Mapping[str, str]) -> Iterator[Block]:
    yield from title_blocks(plan, width)
    yield from findings_blocks(plan, width)
    yield from notes_blocks(plan, width)
    cleared = {surface.setout.name for surface in plan.to_clear}
    for surface in plan.surfaces:
        if surface.setout.name not in cleared:
            yield from surface_blocks(plan, surface, width)
    yield from holes_blocks(plan, width)
    yield from pieces_blocks(plan, width, sheets)
    yield from counts_blocks(plan, width)
    yield from sure_blocks(plan, width)
    yield from as_built_blocks(plan, width)
    yield from cautions_blocks(plan, width)


def furniture(plan: Plan, title: str, paper: Paper, number: int, pages: int) -> Iterator[Mark[SheetFrame]]:
    """Head and foot of a page: which job, which sheets, which state of it, which page."""
    right = paper.width - SIDE
    if number > 1:
        head = paper.height - TOP - 2.1
        yield Words(plan.job, Point(SIDE, head), 2.1, bold=True)
        yield Words(title, Point(right, head), 2.1, "end", bold=True)
        yield line(SIDE, head - 1.6, right, head - 1.6, Role.BOX)
    yield line(SIDE, FOOT + 3.6, right, FOOT + 3.6, Role.BOX)
    yield Words(f"job {plan.fingerprint}", Point(SIDE, FOOT), 2.1)
    yield Words(f"page {number} of {pages}", Point(right, FOOT), 2.1, "end")
