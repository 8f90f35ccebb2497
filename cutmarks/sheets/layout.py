"""A template put together: head, panels and drawing in the boxes that its layout gives them.

Nothing looks for its place but the words inside the drawing. A sheet is drawn when its turn comes and kept by nobody:
how many sheets there are, and their files' names, are known from the registrations alone.
"""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from cutmarks.geometry.edges import Bounds
from cutmarks.geometry.frames import Placement, Tile
from cutmarks.geometry.frames import Sheet as SheetFrame
from cutmarks.marks.centres import centre_fields, centre_marks
from cutmarks.marks.elevation import Thumbnails
from cutmarks.marks.joins import join_lines, join_words, runs_into_join
from cutmarks.marks.labels import edge_words, fold_signs, names, saw_breaks
from cutmarks.marks.model import Mark, moved
from cutmarks.marks.room import Room
from cutmarks.marks.rulers import ruler_figures, ruler_lines
from cutmarks.marks.tapes import tapes
from cutmarks.marks.template import Subject, lines, subject, tape_at
from cutmarks.marks.ticks import near_ticks
from cutmarks.openings.model import CutPiece
from cutmarks.plan import Plan
from cutmarks.registering.layouts import SIZES, PageLayout, page_layout
from cutmarks.registering.model import Registration
from cutmarks.registering.paper import Paper
from cutmarks.saying.dialect import wording
from cutmarks.saying.seen import as_laid
from cutmarks.sheets.back import back_frame
from cutmarks.sheets.cut_panel import cut_panel
from cutmarks.sheets.fold_panel import fold_panel
from cutmarks.sheets.head import head
from cutmarks.sheets.mark_panel import mark_panel
from cutmarks.sheets.more_to_check import MoreToCheck
from cutmarks.sheets.read_panel import read_panel
from cutmarks.sheets.stop import stop_marks
from cutmarks.sides import Side

_IN = 0.5
"""Words keep so far inside the part that shows the tile: panels and the frame of a back begin there."""


class SheetDraft(Struct, frozen=True):
    """A page without its furniture: its marks, in the Held frame, and a word for its foot."""

    marks: Iterator[Mark[SheetFrame]]
    note: str = ""


class SheetTemplate(Struct, frozen=True):
    """One registration, with what all of its pages have in common."""

    plan: Plan
    piece: CutPiece
    registration: Registration
    paper: Paper
    thumbnails: Thumbnails

    @property
    def layout(self) -> PageLayout:
        """Where everything stands on its pages."""
        return page_layout(self.paper, self.registration.layout)

    @property
    def view(self) -> Bounds:
        """The part of a page that shows the tile."""
        return self.layout.view(self.registration.back)


def drafts(template: SheetTemplate) -> Iterator[SheetDraft]:
    """The pages of one registration: one, or joined ones row by row from the corner."""
    registration = template.registration
    for row in range(registration.rows):
        for column in range(registration.columns):
            shown = _subject(template, (column, row))
            number = row * registration.columns + column + 1
            note = f"JOINED: sheet {number} of {registration.pages}" if registration.pages > 1 else ""
            yield SheetDraft(_marks(template, shown), note)


def _marks(template: SheetTemplate, shown: Subject) -> Iterator[Mark[SheetFrame]]:
    layout = template.layout
    yield from head(shown, layout, template.thumbnails)
    cut, more = cut_panel(shown, layout.cut)
    drawn = _drawing(shown, more)
    yield from read_panel(shown, layout.read, drawn.ticked)
    yield from fold_panel(shown, layout.fold)
    yield from mark_panel(shown, layout.mark)
    place = drawn.box
    if more.sentences and place is None and not shown.stopped:
        cut, _ = cut_panel(shown, layout.cut, alone=True)
    yield from cut
    if template.registration.back:
        yield from back_frame(shown, layout)
    yield from (moved(mark, shown.on_sheet) for mark in drawn.marks)
    if place is not None:
        yield from more.marks(place.shifted(shown.on_sheet.dx, shown.on_sheet.dy))
    if shown.stopped:
        yield from stop_marks(shown, template.view, more)


def _subject(template: SheetTemplate, page: tuple[int, int]) -> Subject:
    piece, registration = template.piece, template.registration
    on_sheet = _on_sheet(piece, registration, template.view, page)
    view = template.view.shifted(-on_sheet.dx, -on_sheet.dy)
    return subject(template.plan, piece, registration, view, page, on_sheet)


def _on_sheet(
    piece: CutPiece, registration: Registration, view: Bounds, page: tuple[int, int]
) -> Placement[Tile, SheetFrame]:
    """Where the tile, as it is drawn, lies on the page as it is held."""
    laid, lined_up = as_laid(piece, registration)
    tile = laid.piece.tile
    x, y = _middle(laid, lined_up)
    dx = (view.min_x + view.max_x) / 2 - x
    dy = (view.min_y + view.max_y) / 2 - y
    further_x, further_y = (number * step for number, step in zip(page, registration.steps, strict=True))
    for side in lined_up.edges:
        # The edge lies a little inside the view, and the further on one side the further this page is from it.
        inset = SIZES.inset - (further_x if side.axis == "across" else further_y)
        at = view.at(side) - side.sign * inset - tile.box.at(side)
        dx, dy = (at, dy) if side.axis == "across" else (dx, at)
    return Placement.shift(dx, dy)


def _middle(laid: CutPiece, lined_up: Registration) -> tuple[float, float]:
    """What lies in the middle of a sheet along an axis that goes by tape: the line, or the middle of two cuts."""
    at = tape_at(laid, lined_up)
    if len(lined_up.cuts) == 1:
        return at.x, at.y
    boxes = [laid.spots[index].bounds for index in lined_up.cuts]
    return (
        (min(box.min_x for box in boxes) + max(box.max_x for box in boxes)) / 2,
        (min(box.min_y for box in boxes) + max(box.max_y for box in boxes)) / 2,
    )


class _Drawing(Struct, frozen=True):
    """The template as it is drawn.

    box     where in it there is room for what is to be checked.
    ticked  the edges that have a set of ticks: what is said of ticks is said of these.
    """

    marks: tuple[Mark[Tile], ...]
    box: Bounds | None = None
    ticked: tuple[Side, ...] = ()


def _drawing(shown: Subject, more: MoreToCheck) -> _Drawing:
    """The template with its words; of a stopped piece its lines alone.

    Its lines come first, then ticks, then words where they lie on none of them. Where these leave the box no room,
    they give way.
    """
    if shown.stopped:
        return _Drawing((*lines(shown), *centre_marks(shown)))
    drawn = _with_words(shown, more, first=False)
    return _with_words(shown, more, first=True) if more.sentences and drawn.box is None else drawn


def _with_words(shown: Subject, more: MoreToCheck, *, first: bool) -> _Drawing:
    """The drawing with its words; the box has its place before them, or takes what they leave."""
    view = shown.view
    room: Room[Tile] = Room(Bounds(view.min_x + _IN, view.min_y + _IN, view.max_x - _IN, view.max_y - _IN))
    of_tile = (mark for mark in lines(shown) if not runs_into_join(shown, mark))
    drawn = [*of_tile, *centre_marks(shown), *ruler_lines(shown), *join_lines(shown), *fold_signs(shown)]
    drawn += saw_breaks(shown)
    room.take(drawn)
    for box in centre_fields(shown):
        room.take_box(box)
    place = more.place(room) if more.sentences and first else None
    ticks = near_ticks(shown, room)
    marks = [*drawn, *(mark for one in ticks.values() for mark in one.marks), *edge_words(shown, room, ticks)]
    marks += tapes(shown, room)
    marks += join_words(shown, room)
    marks += ruler_figures(shown, room)
    word = wording(shown.plan.say.words)
    marks += names(shown, room, (word.cover, word.faceplate))
    return _Drawing(tuple(marks), more.place(room) if more.sentences and not first else place, tuple(ticks))
