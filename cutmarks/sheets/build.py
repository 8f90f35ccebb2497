"""The templates of a plan, a sheet or several for each registration, and the front sheet that goes before them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import chain

from msgspec import Struct

from cutmarks.fixing.model import Rank
from cutmarks.geometry.frames import Sheet as SheetFrame
from cutmarks.marks import sizes
from cutmarks.marks.elevation import Thumbnails
from cutmarks.marks.lettering import width
from cutmarks.marks.model import Mark, moved
from cutmarks.openings.model import CutPiece, SheetSpot
from cutmarks.plan import Plan, paper_of
from cutmarks.registering.model import Registration
from cutmarks.saying.corners import corner_name
from cutmarks.saying.names import file_stems
from cutmarks.saying.seen import Seen, seen
from cutmarks.saying.trust import parts_words, printed_how, tile_words
from cutmarks.sheets.days_list import Listed
from cutmarks.sheets.front import front_sheets
from cutmarks.sheets.furniture import corner_marks, template_bars, template_print, template_print_room
from cutmarks.sheets.layout import SheetTemplate, drafts
from cutmarks.sheets.model import PaperSheet, Series, Sheets


class Pack(Struct, frozen=True):
    """All sheets of a job, in the order in which they are printed: the front sheet's pages, then the templates.

    `listed` says which of the templates, counted from 1, each registration is on.
    """

    front: Series
    templates: Sheets
    listed: tuple[Listed, ...]


def build_sheets(plan: Plan) -> Sheets:
    """Every template of the plan, in the order of fixing; each at full size on the job's paper.

    A piece's file name has its sheets' numbers from 1, for each face, and the piece's fingerprint:
    "sheets/quay_cottage__splash_3-07_face_1_1a2b3c4d.svg". The sheets are drawn when their turn comes.
    """
    return _sheets(plan, _numbered(plan))


def build_pack(plan: Plan) -> Pack:
    """The templates with their front sheet, which has no number; "sheet 3 of 9" counts templates alone."""
    laid = _numbered(plan)
    listed = tuple(Listed(one.template.registration, one.first, one.last) for one in laid)
    return Pack(front_sheets(plan, listed), _sheets(plan, laid), listed)


class _Numbered(Struct, frozen=True):
    """One registration with its sheets' files, and the number of the first among all."""

    template: SheetTemplate
    files: tuple[str, ...]
    first: int

    @property
    def last(self) -> int:
        """The number of its last sheet."""
        return self.first + len(self.files) - 1


def _numbered(plan: Plan) -> list[_Numbered]:
    """All registrations in the order of fixing, each with its place among the sheets; nothing is drawn."""
    paper, thumbnails = paper_of(plan.say), Thumbnails(plan)
    pieces = {piece.name: piece for piece in plan.pieces}
    stems = file_stems(plan.job, plan.pieces)
    count: dict[tuple[str, str], int] = {}
    found: list[_Numbered] = []
    first = 1
    for registration in _in_order_of_fixing(plan, pieces):
        template = SheetTemplate(plan, pieces[registration.piece], registration, paper, thumbnails)
        key = (registration.piece, _face(registration))
        before = count.get(key, 0)
        count[key] = before + registration.pages
        numbers = range(before + 1, count[key] + 1)
        print_of = template.piece.fingerprint
        files = tuple(f"sheets/{stems[key[0]]}_{key[1]}_{number}_{print_of}.svg" for number in numbers)
        found.append(_Numbered(template, files, first))
        first += registration.pages
    return found


def _face(registration: Registration) -> str:
    return "back" if registration.back else "face"


def _sheets(plan: Plan, laid: Sequence[_Numbered]) -> Sheets:
    return Sheets([file for one in laid for file in one.files], lambda: _drawn(plan, laid))


def _drawn(plan: Plan, laid: Sequence[_Numbered]) -> Iterator[PaperSheet]:
    of = laid[-1].last if laid else 0
    for one in laid:
        template, paper = one.template, one.template.paper
        face = _face(template.registration).upper()
        pages = drafts(template)
        for number, (file, draft) in enumerate(zip(one.files, pages, strict=True), start=one.first):
            piece = template.piece
            title = f"{plan.job}: {piece.name}, {face}, sheet {number} of {of}, piece {piece.fingerprint}"
            rows, size = _print(template, f"sheet {number} of {of} \u00b7 {paper.name} \u00b7 {face}", draft.note)
            marks = (*corner_marks(paper), *_on_page(template, draft.marks, rows, size))
            yield PaperSheet(file, title, paper.width, paper.height, marks)


def _on_page(
    template: SheetTemplate, marks: Iterable[Mark[SheetFrame]], rows: tuple[str, ...], size: float
) -> Iterator[Mark[SheetFrame]]:
    """A draft's marks with bars and small print, turned where the page is held otherwise than the file has it."""
    layout = template.layout
    bars = template_bars(template.paper, template.plan.say.style, layout)
    held = chain(marks, bars, template_print(layout, rows, size))
    return held if layout.name == "portrait" else (moved(mark, layout.on_page) for mark in held)


def _print(template: SheetTemplate, which: str, note: str) -> tuple[tuple[str, ...], float]:
    """The small print of a sheet, and how large it is; `which` it is, in words. All of it is larger where it fits."""
    plan, piece = template.plan, template.piece
    laid = seen(plan, piece, template.registration)
    prints = f"job {plan.fingerprint} \u00b7 piece {piece.fingerprint}"
    size = tile_words(piece, plan.say.style, plan.paper_figures)
    said = (*([note] if note else []), plan.job, which, prints, printed_how(plan), size, *_lines_said(plan, piece))
    said, room = (*said, *_parts(laid)), template_print_room(template.layout)
    large = _in_rows(said, room, sizes.LEAST)
    if sum(len(row.split(_DOT)) for row in large) == len(_DOT.join(said).split(_DOT)):
        return large, sizes.LEAST
    return _in_rows(said, room, sizes.PRINT), sizes.PRINT


_DOT = " \u00b7 "
_ROWS = 3
"""So many rows of small print stand at the foot of a template."""


def _in_rows(said: Iterable[str], room: float, size: float) -> tuple[str, ...]:
    """As much of the small print as its rows have room for, each part in the first row that has: the last give way."""
    rows: list[str] = []
    for one in said:
        for number, row in enumerate(rows):
            longer = f"{row}{_DOT}{one}"
            if width(longer, size) <= room:
                rows[number] = longer
                break
        else:
            if len(rows) < _ROWS:
                rows.append(one)
    return tuple(rows)


def _parts(laid: Seen) -> Iterator[str]:
    """What the error of the paper is made of at each cut, by its name where there are several."""
    named: list[tuple[str, SheetSpot]] = [(cut.opening.name, cut) for cut in laid.cuts]
    named += [(corner_name(laid.piece, corner), corner) for corner in laid.corners]
    for name, spot in named:
        yield f"{name}: {parts_words(laid, spot)}" if len(named) > 1 else parts_words(laid, spot)


def _lines_said(plan: Plan, piece: CutPiece) -> Iterator[str]:
    """What the set-out lines are."""
    for line in plan.setout(piece.piece.surface).lines.values():
        if line.words:
            yield f"{line.name}: {line.kind}, {line.words}"


def _in_order_of_fixing(plan: Plan, pieces: Mapping[str, CutPiece]) -> list[Registration]:
    """Surface by surface, and on each by rank."""
    surfaces = [one.setout.name for one in plan.surfaces]

    def key(registration: Registration) -> tuple[int, Rank]:
        piece = pieces[registration.piece]
        return surfaces.index(piece.piece.surface), piece.rank

    return sorted(plan.registrations, key=key)
