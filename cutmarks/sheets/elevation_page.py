"""Each surface drawn on a page of its own size, with the numbers of its sheets: what is sent from a site."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import chain, count

from cutmarks.geometry.frames import Page, Placement, Point
from cutmarks.geometry.frames import Sheet as SheetFrame
from cutmarks.marks.elevation import elevation, elevation_height
from cutmarks.marks.lettering import fitting
from cutmarks.marks.model import Mark, Words, moved
from cutmarks.plan import Plan, SurfacePlan
from cutmarks.saying.names import job_stem, safe_name
from cutmarks.sheets.flow import PROVENANCE
from cutmarks.sheets.model import PaperSheet

WIDTH, MOST_HEIGHT, MARGIN = 210.0, 420.0, 8.0
_TITLE, _FOOT = 4.2, 6.0


def elevation_pages(plan: Plan, sheets: Mapping[str, str]) -> Iterator[PaperSheet]:
    """A page for each surface that has its tiles, in the job's order; `sheets` says which sheets a piece has."""
    taken: set[str] = set()
    for surface in plan.laid:
        own = f"{job_stem(plan.job)}__elevation_{safe_name(surface.setout.name)}"
        stem = next(one for one in chain((own,), (f"{own}_{number}" for number in count(2))) if one not in taken)
        taken.add(stem)
        yield _page(plan, surface, sheets, f"sheets/{stem}.svg")


def _page(plan: Plan, surface: SurfacePlan, sheets: Mapping[str, str], file: str) -> PaperSheet:
    wide = WIDTH - 2 * MARGIN
    high = min(elevation_height(plan, surface, wide, sheets), MOST_HEIGHT)
    height = high + 2 * MARGIN + _TITLE + 3.0 + _FOOT
    title = f"{plan.job}: {surface.setout.name}"
    to_paper: Placement[Page, SheetFrame] = Placement.shift(MARGIN, MARGIN + _FOOT)
    marks: tuple[Mark[SheetFrame], ...] = (
        Words(title, Point(MARGIN, height - MARGIN - _TITLE), fitting(title, _TITLE, wide, bold=True), bold=True),
        Words(f"job {plan.fingerprint}", Point(MARGIN, MARGIN), PROVENANCE),
        *(moved(mark, to_paper) for mark in elevation(plan, surface, wide, high, sheets)),
    )
    return PaperSheet(file, title, WIDTH, height, marks)
