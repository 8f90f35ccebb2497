"""The pages that stay at the wall, of the job sheet and of the clearance sheet: paper, margins, head and foot."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from typing import Protocol

from cutmarks.geometry.frames import Point
from cutmarks.geometry.frames import Sheet as SheetFrame
from cutmarks.marks.model import Mark, Role, Words, line
from cutmarks.plan.model import Say
from cutmarks.registering.paper import PAPERS, Paper
from cutmarks.sheets.flow import PROVENANCE, SMALL, Block, on_page, paginate, placed
from cutmarks.sheets.model import PaperSheet, Series
from cutmarks.units import Unit

SIDE, FOOT, TOP = 13.0, 12.0, 12.0
"""Margins, mm; none is under the safe margin of desktop printers."""
RUNNING = 7.0
"""What the running head, and the running foot, take of a page's height."""
PAGE_FOR: Mapping[str, str] = {"A4": "A4", "Letter": "Letter", "any": "any", "Tabloid": "Letter"}
"""The page of a job sheet: the templates' paper, or one that can be held at the wall. For all others A4, or Letter in
a job in inches."""
LEAST_ROWS = 3
"""A last page has no fewer rows of a list than these, where it has nothing else."""


class Headed(Protocol):
    """What the head and the foot of a page say: of a plan, or of the rooms of a site."""

    @property
    def job(self) -> str:
        """Its name."""

    @property
    def fingerprint(self) -> str:
        """Which state of it."""

    @property
    def say(self) -> Say:
        """Its paper and its unit."""


def page_paper(say: Say) -> Paper:
    """The paper of a job's own pages: that of the templates, or one that can be held."""
    return PAPERS[PAGE_FOR.get(say.paper, "Letter" if say.style.unit is Unit.INCH else "A4")]


def job_pages(
    plan: Headed,
    title: str,
    file: str,
    blocks: Callable[[float], Iterable[Block]],
    at_the_foot: Callable[[float], Sequence[Block]] = lambda _: (),
) -> Series:
    """Pages of a sheet, portrait, in the Sheet frame, mm: on the job's paper, or one that can be held.

    `title` stands at the head of each; `file` is its name, "job-sheet_{}.svg", the page's number to be put in; `blocks`
    gives what it holds, for the width of a line; `at_the_foot` what stands at the foot of its first page.
    """
    paper = page_paper(plan.say)
    return Series(
        (paper.width, paper.height),
        lambda: _bodies(paper, blocks, at_the_foot),
        lambda number, count: _around(plan, title, file, paper, number, count),
    )


def _bodies(
    paper: Paper, blocks: Callable[[float], Iterable[Block]], at_the_foot: Callable[[float], Sequence[Block]]
) -> Iterator[tuple[Mark[SheetFrame], ...]]:
    wide, high = paper.width - 2 * SIDE, paper.height - TOP - FOOT - 2 * RUNNING
    top = paper.height - TOP - RUNNING
    foot = at_the_foot(wide)
    taken = sum(one.height for one in foot)
    for number, page in enumerate(paginate(blocks(wide), high, first=high - taken, least=LEAST_ROWS)):
        marks = [*on_page(page, SIDE, top)]
        y = top - high + taken
        for one in () if number else foot:
            marks += placed(one, SIDE, y)
            y -= one.height
        yield tuple(marks)


def _around(plan: Headed, title: str, file: str, paper: Paper, number: int, count: int) -> PaperSheet:
    return PaperSheet(
        file=file.format(number),
        title=f"{plan.job}: {title.lower()}, page {number} of {count}",
        width=paper.width,
        height=paper.height,
        marks=tuple(_furniture(plan, title, paper, number, count)),
    )


def _furniture(plan: Headed, title: str, paper: Paper, number: int, pages: int) -> Iterator[Mark[SheetFrame]]:
    """Head and foot of a page: which job, which sheets, which state of it, which page."""
    right = paper.width - SIDE
    if number > 1:
        head = paper.height - TOP - SMALL
        yield Words(plan.job, Point(SIDE, head), SMALL, bold=True)
        yield Words(title, Point(right, head), SMALL, "end", bold=True)
        yield line(SIDE, head - 1.6, right, head - 1.6, Role.BOX)
    yield line(SIDE, FOOT + 3.6, right, FOOT + 3.6, Role.BOX)
    yield Words(f"job {plan.fingerprint}", Point(SIDE, FOOT), PROVENANCE)
    yield Words(f"page {number} of {pages}", Point(right, FOOT), PROVENANCE, "end")
