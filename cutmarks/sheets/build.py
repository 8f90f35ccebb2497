"""The templates of a plan, a sheet or several for each registration, and the front sheet that goes before them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby

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
from cutmarks.sheets.model import Sheet
from cutmarks.sheets.names import file_stems
from cutmarks.sheets.trust import printed_how, tile_words

HOW_TO_PRINT = (
    "print at 100 %, one side \u00b7 fold the paper back along LINE UP: the fold lies on the tile's edge \u00b7 "
    "where they differ, the tape wins"
)


@dataclass(frozen=True, slots=True)
class Pack:
    """All sheets of a job, in the order in which they are printed: the front sheet's pages, then the templates."""

    front: tuple[Sheet, ...]
    templates: tuple[Sheet, ...]


def build_sheets(plan: Plan) -> tuple[Sheet, ...]:
    """Every template of the plan, in the order of fixing; each at full size on the job's paper.

    A piece's file name has its sheets' numbers from 1, for each face: "sheets/splash_3-07_face_1.svg".
    """
    return _templates(plan, _pages(plan))


def build_pack(plan: Plan) -> Pack:
    """The templates with their front sheet, which has no number; "sheet 3 of 9" counts templates alone."""
    pages = _pages(plan)
    listed = []
    for registration, numbered in groupby(enumerate(pages, start=1), key=lambda one: one[1].registration):
        numbers = [number for number, _ in numbered]
        listed.append(Listed(registration, numbers[0], numbers[-1]))
    return Pack(front_sheets(plan, listed), _templates(plan, pages))


def _pages(plan: Plan) -> list[_Page]:
    paper = paper_of(plan.say)
    pieces = {piece.name: piece for piece in plan.pieces}
    pages: list[_Page] = []
    count: dict[tuple[str, bool], int] = {}
    for registration in _in_order_of_fixing(plan, pieces):
        piece = pieces[registration.piece]
        for draft in drafts(plan, piece, registration, paper, first=len(pages) + 1):
            key = (piece.name, registration.back)
            count[key] = count.get(key, 0) + 1
            pages.append(_Page(piece, registration, count[key], draft))
    return pages


def _templates(plan: Plan, pages: Sequence[_Page]) -> tuple[Sheet, ...]:
    paper = paper_of(plan.say)
    stems = file_stems(plan.pieces)
    sheets = []
    for number, page in enumerate(pages, start=1):
        file = f"sheets/{stems[page.piece.name]}_{page.face}_{page.own}.svg"
        title = f"{plan.job}: {page.piece.name}, {page.face.upper()}, sheet {number} of {len(pages)}"
        rows = _print(plan, page, paper, number, len(pages))
        marks = (*page.draft.marks, *_furniture(plan, paper, page.draft.bar_side, rows))
        sheets.append(Sheet(file, title, paper.width, paper.height, marks))
    return tuple(sheets)


@dataclass(frozen=True, slots=True)
class _Page:
    """A page with its place among the sheets of its piece and face."""

    piece: CutPiece
    registration: Registration
    own: int
    draft: Draft

    @property
    def face(self) -> str:
        """The face that it is laid on, as it stands in file names."""
        return "back" if self.registration.back else "face"


def _furniture(plan: Plan, paper: Paper, side: BarSide, rows: tuple[str, ...]) -> Iterator[Mark[SheetFrame]]:
    yield from corner_marks(paper)
    yield from bar_marks(paper, style_of(plan.say), side)
    yield from small_print(paper, rows, side)


def _print(plan: Plan, page: _Page, paper: Paper, number: int, of: int) -> tuple[str, ...]:
    piece, note = page.piece, page.draft.note
    job = f"{plan.job} \u00b7 sheet {number} of {of} \u00b7 {paper.name} \u00b7 {page.face.upper()}"
    prints = f"job {plan.fingerprint} \u00b7 piece {piece.fingerprint}"
    size = tile_words(piece, style_of(plan.say))
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
