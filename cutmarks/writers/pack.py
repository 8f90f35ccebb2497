"""Everything that one plan becomes, in one folder.

pack.pdf has a front sheet and the templates at full size, job-sheet.pdf the job on paper, set-out.pdf where the tiles
go and what to buy; holes.csv and pieces.csv are the lists; wall.html is the page for a phone at the wall;
clearance.pdf and clearance.csv have what is on surfaces without tiles; plan.json has all of it for other programs,
and the list of these files; sheets/*.svg are the templates one by one, for plotters, and dxf/*.dxf the contours for a
shop, each with a page that says all there is to know of it. again.pdf and pictures/*.png are there only where they are
asked for: the sheets of what broke, and sheets and surfaces as pictures.
"""

from __future__ import annotations

import difflib
from collections.abc import Collection, Iterator, Mapping, Sequence
from functools import partial
from itertools import zip_longest
from pathlib import Path

from msgspec import Struct, field
from msgspec.structs import replace as altered

from cutmarks.errors import OutputError
from cutmarks.plan import Plan
from cutmarks.plan.model import Progress
from cutmarks.sheets.build import Pack, build_pack, build_sheets
from cutmarks.sheets.clearance import clearance_pages
from cutmarks.sheets.days_list import sheet_numbers
from cutmarks.sheets.elevation_page import elevation_pages
from cutmarks.sheets.model import PaperSheet, Sheets
from cutmarks.writers.as_built import AS_BUILT, as_built_csv
from cutmarks.writers.clearances import CLEARANCE, clearance_csv
from cutmarks.writers.disk import Digest
from cutmarks.writers.documents import page_name, piece_page_pdf, write_clearance_sheet, write_job_sheet, write_set_out
from cutmarks.writers.drawing import Drawing, drawing
from cutmarks.writers.dxf import dxf_files, dxf_names
from cutmarks.writers.folder import changed_pieces, earlier_plan, moved_names, publish
from cutmarks.writers.folder_record import whose
from cutmarks.writers.folder_swap import Content
from cutmarks.writers.lists import holes_csv, pieces_csv
from cutmarks.writers.pdf import Pages as PdfPages
from cutmarks.writers.pictures import picture_name, see_to_pictures, write_picture
from cutmarks.writers.plan_json import PLAN_FILE, write_json
from cutmarks.writers.svg import write_svg
from cutmarks.writers.wall_page import WALL_PAGE, write_wall_page

PACK, JOB_SHEET, AGAIN = "pack.pdf", "job-sheet.pdf", "again.pdf"
CLEARANCE_SHEET, SET_OUT = "clearance.pdf", "set-out.pdf"
HOLES, PIECES = "holes.csv", "pieces.csv"


class Written(Struct, frozen=True):
    """What stands in the folder now.

    files    the names of all that was written, sorted.
    changed  the pieces that are cut otherwise than in the output that was there before; None: there was none.
    yours    files of an earlier output that the user had changed: their new names, by the names that they had.
    earlier  what an earlier output is called now of which nothing proved what is ours; else "".
    left     a sentence where the earlier output could not be wholly removed, else "".
    moved    pieces that had another name in the output that was there before: their names now, by those that they had.
    """

    files: tuple[str, ...]
    changed: tuple[str, ...] | None
    yours: Mapping[str, str]
    earlier: str
    left: str
    moved: Mapping[str, str] = field(default_factory=dict)


def write_job(
    plan: Plan,
    out: Path,
    *,
    again: Sequence[str] = (),
    pictures: bool = False,
    replace: bool = False,
    progress: Progress | None = None,
) -> Written:
    """Write everything for one plan into the folder `out`: all of it or nothing.

    `out` must be missing, empty, or an earlier output of the same job; with `replace`, of any. `again` names pieces and
    holes whose sheets are to be printed once more: they are written as again.pdf beside the whole pack. With `pictures`
    each sheet and each surface is drawn as a PNG too. The same plan gives the same bytes.

    Raises:
        OutputError: the folder or the disk is in the way, `again` names what has no sheet, or what draws pictures is
            missing; nothing was written.
    """
    if pictures:
        see_to_pictures()
    before = earlier_plan(out)
    changed, moved = _changed(before, plan), moved_names(before, plan)
    pack = build_pack(plan)
    plain = pack.templates if plan.calibration is None else build_sheets(altered(plan, calibration=None))
    chosen = _chosen(plan, pack, again)
    cleared = _clearance_pages(plan)
    fixed = [PLAN_FILE, *([AS_BUILT] if plan.found else ())]
    fixed += [JOB_SHEET, SET_OUT, HOLES, PIECES, WALL_PAGE] if plan.laid else []
    fixed += [CLEARANCE_SHEET, CLEARANCE, *(page.file for page in cleared)] if cleared else []
    printed = [*([PACK] if pack.templates else ()), *([AGAIN] if chosen else ())]
    drawn = [name for of_one in dxf_names(plan) for name in (*of_one, page_name(of_one[0]))]
    surfaces = tuple(elevation_pages(plan, sheet_numbers(pack.listed))) if pictures else ()
    seen = [*plain.files, *(page.file for page in (*cleared, *surfaces))] if pictures else []
    files = tuple(sorted([*fixed, *printed, *plain.files, *drawn, *map(picture_name, seen)]))
    contents = partial(_contents, plan, pack, plain, chosen, cleared, surfaces, pictures, files)
    published = publish(out, whose(plan), files, contents, replace=replace, progress=progress)
    return Written(files, changed, published.yours, published.earlier, published.left, moved)


def _clearance_pages(plan: Plan) -> Sequence[PaperSheet]:
    """The pages of the clearance sheet; none where every fitting has its tiles."""
    return tuple(clearance_pages(plan)) if plan.to_clear else ()


def _changed(before: bytes | None, plan: Plan) -> tuple[str, ...] | None:
    return None if before is None else changed_pieces(before, plan)


def _contents(
    plan: Plan,
    pack: Pack,
    plain: Sheets,
    chosen: Collection[int],
    cleared: Sequence[PaperSheet],
    surfaces: Sequence[PaperSheet],
    pictures: bool,
    files: Sequence[str],
    digests: Mapping[str, Digest],
) -> Iterator[tuple[str, Content]]:
    """Every file with its name, each made when the one before it is written and can be forgotten."""
    yield from _sheets(plan, pack, plain, chosen, pictures=pictures)
    for page in (*cleared, *surfaces) if pictures else ():
        yield picture_name(page.file), partial(write_picture, drawing(page))
    if plan.laid:
        yield JOB_SHEET, partial(write_job_sheet, plan, sheet_numbers(pack.listed))
        yield SET_OUT, partial(write_set_out, plan)
        yield HOLES, holes_csv(plan)
        yield WALL_PAGE, partial(write_wall_page, plan)
    if cleared:
        yield CLEARANCE_SHEET, partial(write_clearance_sheet, plan)
        yield CLEARANCE, clearance_csv(plan)
        for page in cleared:
            yield page.file, partial(write_svg, drawing(page))
    if plan.found:
        yield AS_BUILT, as_built_csv(plan)
    entries = []
    by_name = {one.name: one for one in plan.pieces}
    for piece in dxf_files(plan):
        entries.append(piece.entry)
        yield piece.name, piece.data
        yield piece.open_name, piece.open_data
        yield from piece.back
        yield page_name(piece.name), piece_page_pdf(plan, by_name[piece.made_of[0]], piece.made_of, piece.name)
    if plan.laid:
        yield PIECES, pieces_csv(plan, entries, sheet_numbers(pack.listed))
    yield PLAN_FILE, partial(write_json, plan, files, digests)


def _sheets(
    plan: Plan, pack: Pack, plain: Sheets, chosen: Collection[int], *, pictures: bool
) -> Iterator[tuple[str, Content]]:
    """The SVG of each sheet, its picture where wished, and then the PDFs: their pages were added one by one."""
    correction = None if plan.calibration is None else plan.calibration.scale.correction
    printed, again = PdfPages(plan.job, correction), PdfPages(f"{plan.job}: again", correction)
    if pack.templates:
        printed.add_series(pack.front)
    for index, (page, file, sheet) in enumerate(_beside(pack.templates, plain)):
        if page is not None:
            printed.add(page)
            if index in chosen:
                again.add(page)
        if sheet is not None:
            yield file, partial(write_svg, sheet)
            if pictures:
                yield picture_name(file), partial(write_picture, sheet)
    if pack.templates:
        yield PACK, printed.save
    if chosen:
        yield AGAIN, again.save


def _beside(templates: Sheets, plain: Sheets) -> Iterator[tuple[Drawing | None, str, Drawing | None]]:
    """Each page of the PDF beside one for an SVG file, with the file's name; drawn once where it is the same."""
    if templates is plain:
        for sheet in templates:
            drawn = drawing(sheet)
            yield drawn, sheet.file, drawn
        return
    for page, sheet in zip_longest(templates, plain):
        yield (
            None if page is None else drawing(page),
            "" if sheet is None else sheet.file,
            None if sheet is None else drawing(sheet),
        )


def _sheets_of(pack: Pack) -> Mapping[str, list[int]]:
    """For each piece's name, which of the templates are its own, counted from 0."""
    found: dict[str, list[int]] = {}
    for one in pack.listed:
        found.setdefault(one.registration.piece, []).extend(range(one.first - 1, one.last))
    return found


def _chosen(plan: Plan, pack: Pack, again: Sequence[str]) -> frozenset[int]:
    """Which templates, counted from 0, are of the pieces and holes that are named."""
    pieces = _sheets_of(pack)
    holes = {hole: [name for name in met if name in pieces] for hole, met in plan.pieces_met.items()}
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
    return frozenset(wanted)
