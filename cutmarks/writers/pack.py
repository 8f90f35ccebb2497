"""Everything that one plan becomes, in one folder.

pack.pdf has a front sheet and the templates at full size, job-sheet.pdf the job on paper; holes.csv and pieces.csv are
the lists; plan.json has all of it for other programs, and the list of these files; sheets/*.svg are the templates one
by one, for plotters, and dxf/*.dxf the contours for a shop. again.pdf is there only where it is asked for: the sheets
of what broke.
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path

from cutmarks.errors import OutputError
from cutmarks.plan import Plan
from cutmarks.sheets.build import build_pack, build_sheets
from cutmarks.sheets.model import Sheet
from cutmarks.sheets.names import file_stems
from cutmarks.writers.as_built import AS_BUILT, as_built_csv
from cutmarks.writers.dxf import dxf_files
from cutmarks.writers.folder import changed_pieces, earlier_plan, publish
from cutmarks.writers.jobsheet import job_sheet_pdf
from cutmarks.writers.lists import holes_csv, pieces_csv
from cutmarks.writers.pdf import pdf_bytes
from cutmarks.writers.plan_json import PLAN_FILE, to_json
from cutmarks.writers.svg import svg_bytes

PACK, JOB_SHEET, AGAIN = "pack.pdf", "job-sheet.pdf", "again.pdf"
_SHEET_FILE = re.compile(r"sheets/(?P<stem>.+)_(?:face|back)_[0-9]+\.svg")

Progress = Callable[[str, int, int], None]
"""Called with what is being made, how many are done and how many there will be."""


@dataclass(frozen=True, slots=True)
class Written:
    """What stands in the folder now.

    files    the names of all that was written, sorted.
    changed  the pieces that are cut otherwise than in the output that was there before; None: there was none.
    left     a sentence where the earlier output could not be wholly removed, else "".
    """

    files: tuple[str, ...]
    changed: tuple[str, ...] | None
    left: str


def write_job(plan: Plan, out: Path, *, again: Sequence[str] = (), progress: Progress | None = None) -> Written:
    """Write everything for one plan into the folder `out`: all of it or nothing.

    `out` must be missing, empty, or an earlier output of the same job. `again` names pieces and holes whose sheets
    are to be printed once more: they are written as again.pdf beside the whole pack. The same plan gives the same
    bytes.

    Raises:
        OutputError: the folder or the disk is in the way, or `again` names what has no sheet; nothing was written.
    """
    before = earlier_plan(out)
    built = build_pack(plan)
    sheets = built.templates
    # SVG files go to plotters and CAD: nothing is corrected there, and they say so.
    plain = sheets if plan.calibration is None else build_sheets(replace(plan, calibration=None))
    chosen = _chosen(plan, sheets, again)
    files: dict[str, bytes | Callable[[], bytes]] = {}
    files[JOB_SHEET] = partial(job_sheet_pdf, plan, _pages(plan, sheets))
    for name, title, pages in ((PACK, plan.job, (*built.front, *sheets)), (AGAIN, f"{plan.job}: again", chosen)):
        if pages:
            counted = _counted(progress, name, len(pages))
            correction = None if plan.calibration is None else plan.calibration.scale.correction
            files[name] = partial(pdf_bytes, pages, title, counted, correction)
    drawings = dxf_files(plan, progress)
    files["holes.csv"] = holes_csv(plan)
    if plan.found:
        files[AS_BUILT] = as_built_csv(plan)
    files["pieces.csv"] = pieces_csv(plan, drawings)
    for sheet in plain:
        files[sheet.file] = partial(svg_bytes, sheet)
    for drawing in drawings:
        files[drawing.name] = drawing.data
        files[drawing.open_name] = drawing.open_data
    files[PLAN_FILE] = to_json(plan, [*files, PLAN_FILE])
    published = publish(out, plan.job, files, progress)
    changed = None if before is None else changed_pieces(before, plan)
    return Written(tuple(sorted(files)), changed, published.left)


def _counted(progress: Progress | None, name: str, count: int) -> Callable[[int], None] | None:
    """The progress of one PDF, page by page."""
    return None if progress is None else lambda done: progress(name, done, count)


def _sheets_of(plan: Plan, sheets: Sequence[Sheet]) -> Mapping[str, list[int]]:
    """For each piece's name, which of `sheets` are its own, counted from 0."""
    names = {stem: name for name, stem in file_stems(plan.pieces).items()}
    found: dict[str, list[int]] = {}
    for index, sheet in enumerate(sheets):
        match = _SHEET_FILE.fullmatch(sheet.file)
        if match is not None:
            found.setdefault(names[match["stem"]], []).append(index)
    return found


def _pages(plan: Plan, sheets: Sequence[Sheet]) -> dict[str, str]:
    """For each piece's name, which pages of the pack it is on, in words."""
    return {name: " and ".join(str(i + 1) for i in own) for name, own in _sheets_of(plan, sheets).items()}


def _chosen(plan: Plan, sheets: Sequence[Sheet], again: Sequence[str]) -> list[Sheet]:
    """The sheets of the pieces and holes that are named, in the order of the pack."""
    pieces = _sheets_of(plan, sheets)
    holes = {hole.opening.name: [name for name in hole.pieces if name in pieces] for hole in plan.penetrations}
    known = {name.casefold(): own for name, own in holes.items() if own} | {name.casefold(): [name] for name in pieces}
    wanted: set[int] = set()
    for name in again:
        if name.casefold() not in known:
            near = difflib.get_close_matches(name.casefold(), known, n=3) or list(known)[:3]
            raise OutputError(
                f'There is no sheet for "{name}": name a piece or a hole that has one, such as {", ".join(near)}. '
                "Nothing was written."
            )
        wanted.update(index for piece in known[name.casefold()] for index in pieces[piece])
    return [sheets[index] for index in sorted(wanted)]
