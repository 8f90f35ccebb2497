"""The job sheet: one job on as many pages as it takes, to be read before the first cut and kept at the wall."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from cutmarks.plan import Plan
from cutmarks.sheets.as_built import as_built_blocks
from cutmarks.sheets.flow import Block
from cutmarks.sheets.how_sure import sure_blocks
from cutmarks.sheets.job_pages import job_pages
from cutmarks.sheets.jobsheet_counts import counts_blocks
from cutmarks.sheets.jobsheet_front import cautions_blocks, findings_blocks, notes_blocks, surface_blocks, title_blocks
from cutmarks.sheets.jobsheet_tiles import tiles_blocks
from cutmarks.sheets.model import Series

TITLE = "JOB SHEET"


def jobsheet_pages(plan: Plan, sheets: Mapping[str, str] | None = None) -> Series:
    """The job sheet's pages.

    `sheets` says for each piece's name which template sheet it is on, in words ("3", "3 and 4"); it is printed on the
    elevation and in the list of tiles as given.
    """
    return job_pages(
        plan,
        TITLE,
        "job-sheet_{}.svg",
        lambda width: _blocks(plan, width, sheets or {}),
        lambda width: tuple(cautions_blocks(plan, width)),
    )


def _blocks(plan: Plan, width: float, sheets: Mapping[str, str]) -> Iterator[Block]:
    yield from title_blocks(plan, width)
    yield from findings_blocks(plan, width)
    yield from notes_blocks(plan, width)
    cleared = {surface.setout.name for surface in plan.to_clear}
    for surface in plan.surfaces:
        if surface.setout.name not in cleared:
            yield from surface_blocks(plan, surface, width, sheets)
    yield from counts_blocks(plan, width)
    yield from sure_blocks(plan, width)
    yield from tiles_blocks(plan, width, sheets)
    yield from as_built_blocks(plan, width)
