"""The templates of a plan, a sheet or several for each registration, and the front sheet that goes before them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from cutmarks.fixing.model import Rank
from cutmarks.geometry.frames import Sheet as SheetFrame
from cutmarks.marks.elevation import Thumbnails
from cutmarks.marks.lettering import width
from cutmarks.marks.model import Mark
from cutmarks.openings.model import CutPiece
from cutmarks.plan import Plan, paper_of
from cutmarks.registering.model import Registration
from cutmarks.registering.paper import Paper
from cutmarks.saying.names import file_stems
from cutmarks.saying.trust import printed_how, tile_words
from cutmarks.sheets.days_list import Listed
from cutmarks.sheets.front import front_sheets
from cutmarks.sheets.furniture import SMALL_PRINT, BarSide, bar_marks, corner_marks, print_room, small_print
from cutmarks.sheets.layout import LaidTemplate, SheetLayout, drafts, laid_out
from cutmarks.sheets.model import PaperSheet, Series, Sheets

HOW_TO_PRINT = (
    "print at 100 %, one side \u00b7 fold the paper back along LINE UP: the fold lies on the tile's edge \u00b7 "
    "where they differ, the tape wins"
)


@dataclass(frozen=True, slots=True)
class Pack:
    """All sheets of a job, in the order in which they are printed: the front sheet's pages, then the templates.

    `listed` says which of the templates, counted from 1, each registration is on.
    """

    front: Series
    templates: Sheets
    listed: tuple[Listed, ...]


def build_sheets(plan: Plan) -> Sheets:
    """Every template of the plan, in the order of fixing; each at full size on the job's paper.

    A piece's file name has its sheets' numbers from 1, for each face, and the piece's fingerprint:
    "sheets/quay_cottage__splash_3-07_face_1_1a2b3c4d.svg". Where things stand is looked for here, once; the sheets are
    drawn when their turn comes.
    """
    return _sheets(plan, _laid_out(plan))


def build_pack(plan: Plan) -> Pack:
    """The templates with their front sheet, which has no number; "sheet 3 of 9" counts templates alone."""
    laid = _laid_out(plan)
    listed = tuple(Listed(one.template.registration, one.first, one.last) for one in laid)
    return Pack(front_sheets(plan, listed), _sheets(plan, laid), listed)


@dataclass(frozen=True, slots=True)
class _LaidTemplate:
    """One registration laid out: its sheets' files, and the number of the first among all."""

    template: LaidTemplate
    layout: SheetLayout
    files: tuple[str, ...]
    first: int

    @property
    def last(self) -> int:
        """The number of its last sheet."""
        return self.first + len(self.files) - 1


def _laid_out(plan: Plan) -> list[_LaidTemplate]:
    """All registrations in the order of fixing, each with its place among the sheets; nothing is drawn."""
    paper, thumbnails = paper_of(plan.say), Thumbnails(plan)
    pieces = {piece.name: piece for piece in plan.pieces}
    stems = file_stems(plan.job, plan.pieces)
    count: dict[tuple[str, str], int] = {}
    laid: list[_LaidTemplate] = []
    first = 1
    for registration in _in_order_of_fixing(plan, pieces):
        template = LaidTemplate(plan, pieces[registration.piece], registration, paper, thumbnails)
        layout = laid_out(template)
        key = (registration.piece, _face(registration))
        before = count.get(key, 0)
        count[key] = before + layout.count
        numbers = range(before + 1, count[key] + 1)
        print_of = template.piece.fingerprint
        files = tuple(f"sheets/{stems[key[0]]}_{key[1]}_{number}_{print_of}.svg" for number in numbers)
        laid.append(_LaidTemplate(template, layout, files, first))
        first += layout.count
    return laid


def _face(registration: Registration) -> str:
    return "back" if registration.back else "face"


def _sheets(plan: Plan, laid: Sequence[_LaidTemplate]) -> Sheets:
    return Sheets([file for one in laid for file in one.files], lambda: _drawn(plan, laid))


def _drawn(plan: Plan, laid: Sequence[_LaidTemplate]) -> Iterator[PaperSheet]:
    of = laid[-1].last if laid else 0
    for one in laid:
        template, paper = one.template, one.template.paper
        face = _face(template.registration).upper()
        pages = drafts(template, one.layout, one.first)
        for number, (file, draft) in enumerate(zip(one.files, pages, strict=True), start=one.first):
            piece = template.piece
            title = f"{plan.job}: {piece.name}, {face}, sheet {number} of {of}, piece {piece.fingerprint}"
            rows = _print(template, f"sheet {number} of {of} \u00b7 {paper.name} \u00b7 {face}", draft.note)
            marks = (*draft.marks, *_furniture(plan, paper, draft.bar_side, rows))
            yield PaperSheet(file, title, paper.width, paper.height, marks)


def _furniture(plan: Plan, paper: Paper, side: BarSide, rows: tuple[str, ...]) -> Iterator[Mark[SheetFrame]]:
    yield from corner_marks(paper)
    yield from bar_marks(paper, plan.say.style, side)
    yield from small_print(paper, rows, side)


def _print(template: LaidTemplate, which: str, note: str) -> tuple[str, ...]:
    """The small print of a sheet; `which` it is, in words."""
    plan, piece, paper = template.plan, template.piece, template.paper
    prints = f"job {plan.fingerprint} \u00b7 piece {piece.fingerprint}"
    size = tile_words(piece, plan.say.style, plan.paper_figures)
    return (
        _with_lines(f"{plan.job} \u00b7 {which} \u00b7 {prints}", plan, piece, print_room(paper)),
        f"{printed_how(plan)} \u00b7 {size}",
        f"{note} \u00b7 {HOW_TO_PRINT}" if note else HOW_TO_PRINT,
    )


def _with_lines(row: str, plan: Plan, piece: CutPiece, room: float) -> str:
    """What the set-out lines are, behind a row of small print, as many of them as it has room for."""
    for line in plan.setout(piece.piece.surface).lines.values():
        longer = f"{row} \u00b7 {line.name}: {line.kind}, {line.words}"
        row = longer if line.words and width(longer, SMALL_PRINT) <= room else row
    return row


def _in_order_of_fixing(plan: Plan, pieces: Mapping[str, CutPiece]) -> list[Registration]:
    """Surface by surface, and on each by rank."""
    surfaces = [one.setout.name for one in plan.surfaces]

    def key(registration: Registration) -> tuple[int, Rank]:
        piece = pieces[registration.piece]
        return surfaces.index(piece.piece.surface), piece.rank

    return sorted(plan.registrations, key=key)
