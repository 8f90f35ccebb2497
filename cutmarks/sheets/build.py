"""The templates of a plan, a sheet or several for each registration, and the front sheet that goes before them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from cutmarks.geometry.frames import Sheet as SheetFrame
from cutmarks.marks.lettering import width
from cutmarks.marks.model import Mark
from cutmarks.openings.model import CutPiece
from cutmarks.plan import Plan, paper_of, style_of
from cutmarks.registering.model import Registration
from cutmarks.registering.paper import Paper
from cutmarks.sheets.front import Listed, front_sheets
from cutmarks.sheets.furniture import SMALL_PRINT, BarSide, bar_marks, corner_marks, print_room, small_print
from cutmarks.sheets.layout import Draft, drafts
from cutmarks.sheets.model import Sheet, Sheets
from cutmarks.sheets.names import file_stems
from cutmarks.sheets.trust import printed_how, tile_words

HOW_TO_PRINT = (
    "print at 100 %, one side \u00b7 fold the paper back along LINE UP: the fold lies on the tile's edge \u00b7 "
    "where they differ, the tape wins"
)


@dataclass(frozen=True, slots=True)
class Pack:
    """All sheets of a job, in the order in which they are printed: the front sheet's pages, then the templates.

    `listed` says which of the templates, counted from 1, each registration is on.
    """

    front: Sheets
    templates: Sheets
    listed: tuple[Listed, ...]


def build_sheets(plan: Plan) -> Sheets:
    """Every template of the plan, in the order of fixing; each at full size on the job's paper.

    A piece's file name has its sheets' numbers from 1, for each face, and the piece's fingerprint:
    "sheets/quay_cottage__splash_3-07_face_1_1a2b3c4d.svg".
    """
    files, _ = _laid_out(plan)
    return Sheets(files, lambda: _templates(plan, len(files)))


def build_pack(plan: Plan) -> Pack:
    """The templates with their front sheet, which has no number; "sheet 3 of 9" counts templates alone."""
    files, listed = _laid_out(plan)
    return Pack(front_sheets(plan, listed), Sheets(files, lambda: _templates(plan, len(files))), tuple(listed))


def _laid_out(plan: Plan) -> tuple[list[str], list[Listed]]:
    """Each template's file, and which sheets each registration is on: its pages are laid out, but not drawn."""
    files: list[str] = []
    listed: list[Listed] = []
    for page in _pages(plan):
        files.append(page.file)
        if page.number > page.first:
            listed.pop()
        listed.append(Listed(page.registration, page.first, page.number))
    return files, listed


def _pages(plan: Plan) -> Iterator[_Page]:
    paper = paper_of(plan.say)
    pieces = {piece.name: piece for piece in plan.pieces}
    stems = file_stems(plan.job, plan.pieces)
    count: dict[tuple[str, bool], int] = {}
    number = 0
    for registration in _in_order_of_fixing(plan, pieces):
        piece = pieces[registration.piece]
        first = number + 1
        for number, draft in enumerate(drafts(plan, piece, registration, paper, first), start=first):
            key = (piece.name, registration.back)
            count[key] = count.get(key, 0) + 1
            face = "back" if registration.back else "face"
            file = f"sheets/{stems[piece.name]}_{face}_{count[key]}_{piece.fingerprint}.svg"
            yield _Page(file, face.upper(), piece, registration, first, number, draft)


def _templates(plan: Plan, of: int) -> Iterator[Sheet]:
    paper = paper_of(plan.say)
    for page in _pages(plan):
        title = (
            f"{plan.job}: {page.piece.name}, {page.face}, sheet {page.number} of {of}, piece {page.piece.fingerprint}"
        )
        rows = _print(plan, page, paper, of)
        marks = (*page.draft.marks, *_furniture(plan, paper, page.draft.bar_side, rows))
        yield Sheet(page.file, title, paper.width, paper.height, marks)


@dataclass(frozen=True, slots=True)
class _Page:
    """A page laid out, with its number among all sheets and that of its registration's first; face in words."""

    file: str
    face: str
    piece: CutPiece
    registration: Registration
    first: int
    number: int
    draft: Draft


def _furniture(plan: Plan, paper: Paper, side: BarSide, rows: tuple[str, ...]) -> Iterator[Mark[SheetFrame]]:
    yield from corner_marks(paper)
    yield from bar_marks(paper, style_of(plan.say), side)
    yield from small_print(paper, rows, side)


def _print(plan: Plan, page: _Page, paper: Paper, of: int) -> tuple[str, ...]:
    piece, note = page.piece, page.draft.note
    job = f"{plan.job} \u00b7 sheet {page.number} of {of} \u00b7 {paper.name} \u00b7 {page.face}"
    prints = f"job {plan.fingerprint} \u00b7 piece {piece.fingerprint}"
    size = tile_words(piece, style_of(plan.say), plan.paper_figures)
    return (
        _with_lines(f"{job} \u00b7 {prints}", plan, piece, print_room(paper)),
        f"{printed_how(plan)} \u00b7 {size}",
        f"{note} \u00b7 {HOW_TO_PRINT}" if note else HOW_TO_PRINT,
    )


def _with_lines(row: str, plan: Plan, piece: CutPiece, room: float) -> str:
    """What the set-out lines are, behind a row of small print, as many of them as it has room for."""
    setout = next(one for one in plan.surfaces if one.setout.name == piece.piece.surface).setout
    for line in setout.lines.values():
        longer = f"{row} \u00b7 {line.name}: {line.kind}, {line.words}"
        row = longer if line.words and width(longer, SMALL_PRINT) <= room else row
    return row


def _in_order_of_fixing(plan: Plan, pieces: dict[str, CutPiece]) -> list[Registration]:
    """Surface by surface and area by area; from the start row upward, then downward; away from the fixed side."""
    areas = [(one.setout.name, area.name) for one in plan.surfaces for area in one.areas]

    def key(registration: Registration) -> tuple[int, bool, int, bool, int]:
        piece = pieces[registration.piece]
        column, row = piece.piece.place
        rightward = piece.fixed.across == "left"
        upward = piece.fixed.up == "bottom"
        area = areas.index((piece.piece.surface, piece.piece.area))
        return area, not upward, row if upward else -row, not rightward, column if rightward else -column

    return sorted(plan.registrations, key=key)
