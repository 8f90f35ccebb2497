"""The templates of a plan: one sheet for each registration, a second where the words find no room on the first."""

from __future__ import annotations

from collections.abc import Iterator

from cutmarks.geometry.frames import Sheet as SheetFrame
from cutmarks.marks.model import Mark
from cutmarks.openings.model import CutPiece
from cutmarks.plan import Plan, style_of
from cutmarks.registering.model import Registration
from cutmarks.registering.paper import PAPERS, Paper
from cutmarks.sheets.furniture import BarSide, bar_marks, corner_marks, small_print
from cutmarks.sheets.layout import Draft, drafts
from cutmarks.sheets.model import Sheet
from cutmarks.sheets.names import file_stems
from cutmarks.sheets.panels import tile_words

UNCALIBRATED = "uncalibrated: within 1 mm only up to 150 mm from the edge"
UNCALIBRATED_IN = "uncalibrated: within 1/32 in only up to 6 in from the edge"
HOW_TO_PRINT = (
    "print at 100 %, actual size, one side \u00b7 measure to the middle of the lines \u00b7 "
    "the tape wins over the paper"
)


def build_sheets(plan: Plan) -> tuple[Sheet, ...]:
    """Every template of the plan, in the order of fixing; each at full size on the job's paper.

    A piece's file name has its sheets' numbers from 1: "sheets/splash_3-07_face_1.svg".
    """
    paper = PAPERS[plan.say.paper]
    stems = file_stems(plan.pieces)
    pieces = {piece.name: piece for piece in plan.pieces}
    pages: list[tuple[CutPiece, int, Draft]] = []
    count: dict[str, int] = {}
    for registration in _in_order_of_fixing(plan, pieces):
        piece = pieces[registration.piece]
        for draft in drafts(plan, piece, registration, paper):
            count[piece.name] = count.get(piece.name, 0) + 1
            pages.append((piece, count[piece.name], draft))
    sheets = []
    for number, (piece, own, draft) in enumerate(pages, start=1):
        title = f"{plan.job}: {piece.name}, FACE, sheet {number} of {len(pages)}"
        rows = _print(plan, piece, paper, number, len(pages), draft.note)
        marks = (*draft.marks, *_furniture(plan, paper, draft.bar_side, rows))
        sheets.append(Sheet(f"sheets/{stems[piece.name]}_face_{own}.svg", title, paper.width, paper.height, marks))
    return tuple(sheets)


def _furniture(plan: Plan, paper: Paper, side: BarSide, rows: tuple[str, ...]) -> Iterator[Mark[SheetFrame]]:
    yield from corner_marks(paper)
    yield from bar_marks(paper, style_of(plan.say), side)
    yield from small_print(paper, rows, side)


def _print(plan: Plan, piece: CutPiece, paper: Paper, number: int, of: int, note: str) -> tuple[str, ...]:
    job = f"{plan.job} \u00b7 sheet {number} of {of} \u00b7 {paper.name} \u00b7 FACE"
    prints = f"job {plan.fingerprint} \u00b7 piece {piece.fingerprint}"
    doubt = UNCALIBRATED_IN if plan.say.units == "in" else UNCALIBRATED
    size = tile_words(piece, style_of(plan.say))
    return (
        f"{job} \u00b7 {prints}",
        f"{doubt} \u00b7 {size}",
        f"{note} \u00b7 {HOW_TO_PRINT}" if note else HOW_TO_PRINT,
    )


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
