"""Where things stand on a template.

Looking for the places (`laid_out`) and drawing (`drafts`) are two things: a job's sheets are numbered, and its files
named, before the first of them is drawn, and a large job is never held as a whole.

The head is at the top, the bar across and the small print at the foot, the bar along the paper on the side away from
the edge that is lined up. Between them is the view: the part of the tile that is on the paper. The panels stand above
the view, side by side, where the cuts leave them that much; else on the blank tile itself; else on a second page.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace
from functools import partial
from itertools import chain, repeat

from cutmarks.geometry.edges import Bounds
from cutmarks.geometry.frames import Placement, Tile
from cutmarks.geometry.frames import Sheet as SheetFrame
from cutmarks.marks.elevation import Thumbnails
from cutmarks.marks.joins import join_lines, join_words
from cutmarks.marks.labels import LINE_UP, edge_words, names, tape_words, unsaid
from cutmarks.marks.model import Mark, moved
from cutmarks.marks.room import PlacedPanel, Room
from cutmarks.marks.rulers import ruler_figures, ruler_lines
from cutmarks.marks.template import Subject, lines, subject, tape_at
from cutmarks.marks.ticks import ticks
from cutmarks.openings.model import CutPiece
from cutmarks.plan import Plan
from cutmarks.registering.model import Registration
from cutmarks.registering.paper import BAND, CLEAR, EDGE_INSET, FOOT, HEAD, SIDE, Paper
from cutmarks.saying.dialect import wording
from cutmarks.saying.findings import findings_of, waiting_for
from cutmarks.saying.seen import as_laid
from cutmarks.sheets.before_panels import findings_panel, forbidden, stop_panel
from cutmarks.sheets.furniture import BarSide
from cutmarks.sheets.head import back_band, head_panel
from cutmarks.sheets.panel import Panel
from cutmarks.sheets.panel_places import (
    GAP,
    INSIDE,
    MAKERS,
    SHORT,
    Maker,
    height_of,
    in_rows,
    on_the_tile,
    over_pages,
    stacked,
)
from cutmarks.sheets.tile_panel import tile_panel
from cutmarks.sheets.wall_panel import wall_panel

_TAPE_ROOM = 18.0
"""Left free above and below a cut that is laid by tape: the words of its lines stand there."""
_ABOVE: tuple[tuple[Maker, ...], ...] = (
    MAKERS,
    (stop_panel, tile_panel, wall_panel),
    (stop_panel, findings_panel),
    (findings_panel,),
    (stop_panel,),
)
"""Which panels stand above the drawing, in the order in which that is tried."""


@dataclass(frozen=True, slots=True)
class SheetLayout:
    """Where everything stands on the pages of one registration, looked for once: a few numbers a page, and no mark.

    above    which of the rows of panels above the drawing, counted from 0; None where one page does not take it all.
    pages    of each page that shows the tile, what its room answered.
    further  how many pages of panels follow them.
    """

    above: int | None
    pages: tuple[PlacedPanel, ...]
    further: int = 0

    @property
    def count(self) -> int:
        """How many pages there are."""
        return len(self.pages) + self.further


@dataclass(frozen=True, slots=True)
class SheetDraft:
    """A page without its furniture: its marks, the side that the bar along the paper stands on, a word for its foot."""

    marks: Iterator[Mark[SheetFrame]]
    bar_side: BarSide
    note: str = ""


@dataclass(frozen=True, slots=True)
class LaidTemplate:
    """One registration, with what all of its pages have in common."""

    plan: Plan
    piece: CutPiece
    registration: Registration
    paper: Paper
    thumbnails: Thumbnails

    @property
    def side(self) -> BarSide:
        """The side of the paper that the bar along it stands on."""
        return "left" if "right" in as_laid(self.piece, self.registration)[1].edges else "right"

    @property
    def view(self) -> Bounds:
        """The part of the paper that shows the tile."""
        return _view(self.paper, self.side, self.registration.back)


def laid_out(template: LaidTemplate) -> SheetLayout:
    """Looks for a place for everything on the pages of one registration."""
    if template.registration.how != "joined":
        found = _on_one_page(template, range(len(_ABOVE)))
        if found is not None:
            above, page, _ = found
            return SheetLayout(above, (page.room.placed,))
    pages, further = _on_several(template)
    return SheetLayout(None, tuple(page.room.placed for page in pages), len(further))


def drafts(template: LaidTemplate, layout: SheetLayout, first: int) -> Iterator[SheetDraft]:
    """The pages of one registration: what shows the tile, and further ones with the panels that found no room there.

    `first` is the number of the first of them among all sheets.
    """
    view, side = template.view, template.side
    if layout.above is not None:
        found = _on_one_page(template, (layout.above,), layout.pages[0])
        if found is None:
            raise ValueError(f"The sheet of {template.piece.name} does not come out as it was laid out.")
        _, page, rows = found
        above = stacked(rows, view)
        yield SheetDraft(chain(_head(template, page.shown), page.drawing, page.panels, above), side)
        return
    pages, further = _on_several(template, layout)
    read_first = _numbers(first + len(pages), len(further))
    for number, page in enumerate(pages, start=1):
        note = f"JOINED: sheet {number} of {len(pages)}" if len(pages) > 1 else ""
        marks = chain(_head(template, page.shown, page.stop, read_first), page.drawing, page.panels)
        yield SheetDraft(marks, side, note)
    for rows in further:
        shown = pages[0].shown
        yield SheetDraft(chain(_head(template, shown, forbidden(shown)), stacked(rows, view)), side)


def _on_one_page(
    template: LaidTemplate, tries: Iterable[int], placed: PlacedPanel | None = None
) -> tuple[int, _LaidPage, list[list[Panel]]] | None:
    """The whole template on one page: some panels above the drawing, the rest on the blank tile; None: no room.

    Which of `_ABOVE`, the page, and its panels in rows.
    """
    view = template.view
    told = _only_stops(template.plan, template.piece)
    for number in tries:
        above = _ABOVE[number]
        wanted = _wanted(told and stop_panel in above)
        makers = [maker for maker in above if maker in wanted]
        rows = in_rows(_subject(template, view), makers, view.width - 2 * INSIDE)
        low = view._replace(max_y=view.max_y - sum(height_of(row) + GAP for row in rows))
        if not rows or not _holds(template.piece, template.registration, low):
            continue
        page = _page(_subject(template, low), placed)
        if page.shown.unsaid and tile_panel in above:
            continue  # that panel was made before it was known what it has to say
        if all(page.takes(maker, low) for maker in wanted if maker not in above):
            return number, page, rows
    return None


def _on_several(
    template: LaidTemplate, layout: SheetLayout | None = None
) -> tuple[list[_LaidPage], list[list[list[Panel]]]]:
    """The pages that show the tile, and in rows the panels of further ones."""
    view = template.view
    parts = _parts(template)
    known: Iterable[PlacedPanel | None] = repeat(None) if layout is None else layout.pages
    pages = [_page(shown, placed) for shown, placed in zip(parts, known, strict=False)]
    missed = tuple(dict.fromkeys(words for page in pages for words in page.shown.unsaid))
    for page in pages:
        page.shown = replace(page.shown, unsaid=missed)
        page.warn(view)
    told = all(page.is_told for page in pages) and _only_stops(template.plan, template.piece)
    left_over = [maker for maker in _wanted(told)[1:] if not any(page.takes(maker, view) for page in pages)]
    return pages, over_pages(pages[0].shown, left_over, view)


@dataclass(slots=True)
class _LaidPage:
    """A page that shows the tile while the panels look for room on it."""

    shown: Subject
    drawing: Iterator[Mark[SheetFrame]]
    room: Room[Tile]
    panels: list[Mark[SheetFrame]] = field(default_factory=list)
    stop: str = ""
    is_told: bool = False

    def takes(self, maker: Maker, view: Bounds) -> bool:
        """Puts a maker's panel, or its short form, on the blank tile.

        False where there is no room, True where there is none to put.
        """
        for form in (maker, SHORT.get(maker)):
            found = None if form is None else on_the_tile(self.shown, form, self.room, view)
            if found is not None:
                self.panels += found
                self.is_told |= form is stop_panel and bool(found)
                return True
        return False

    def warn(self, view: Bounds) -> None:
        """STOP on every page: its sentences on the blank tile, else one line there, else a block in the head."""
        if not self.takes(stop_panel, view):
            self.stop = forbidden(self.shown)


def _page(shown: Subject, placed: PlacedPanel | None) -> _LaidPage:
    """A page with its drawing, and the room that it leaves (in the Tile frame)."""
    room, marks = _drawing(shown, placed)
    shown = replace(shown, unsaid=unsaid(shown, marks))
    return _LaidPage(shown, (moved(mark, shown.on_sheet) for mark in marks), room)


def _wanted(told: bool) -> tuple[Maker, ...]:
    """The panels of a template; without BEFORE YOU CUT where all of it is `told` in the band of its stops."""
    return tuple(maker for maker in MAKERS if not (told and maker is findings_panel))


def _only_stops(plan: Plan, piece: CutPiece) -> bool:
    """Whether all that is to be known before cutting stands in the band of its stops."""
    return findings_of(plan, piece) == waiting_for(plan, piece)


def _numbers(first: int, count: int) -> str:
    """So many numbers in a row, in words: "8", "8 TO 10", "" for none."""
    last = first + count - 1
    return "" if not count else str(first) if count == 1 else f"{first} TO {last}"


def _head(template: LaidTemplate, shown: Subject, stop: str = "", read_first: str = "") -> Iterator[Mark[SheetFrame]]:
    """The head above the view, and between them the band of a template for the back."""
    view = template.view
    band = BAND if template.registration.back else 0.0
    head = head_panel(shown, view.width, template.thumbnails, stop=stop, read_first=read_first)
    yield from head.at(view.min_x, view.max_y + band + HEAD)
    if band:
        yield from back_band(view.width).at(view.min_x, view.max_y + band)


def _view(paper: Paper, side: BarSide, back: bool) -> Bounds:
    left = paper.margin + (SIDE if side == "left" else 0.0)
    bottom = paper.margin + FOOT
    return Bounds(left, bottom, left + paper.view("across"), bottom + paper.view("up", back))


def _parts(template: LaidTemplate) -> list[Subject]:
    """What each page shows of the tile: one page, or joined ones row by row from the corner."""
    return [
        _subject(template, template.view, (column, row))
        for row in range(template.registration.rows)
        for column in range(template.registration.columns)
    ]


def _subject(template: LaidTemplate, view: Bounds, page: tuple[int, int] = (0, 0)) -> Subject:
    piece, registration = template.piece, template.registration
    on_sheet = _on_sheet(piece, registration, view, page)
    return subject(template.plan, piece, registration, view.shifted(-on_sheet.dx, -on_sheet.dy), page, on_sheet)


def _on_sheet(
    piece: CutPiece, registration: Registration, view: Bounds, page: tuple[int, int] = (0, 0)
) -> Placement[Tile, SheetFrame]:
    """Where the tile, as it is drawn, lies on the sheet."""
    laid, lined_up = as_laid(piece, registration)
    tile, middle = laid.piece.tile, tape_at(laid, lined_up)
    dx = (view.min_x + view.max_x) / 2 - middle.x
    dy = (view.min_y + view.max_y) / 2 - middle.y
    further_x, further_y = (number * step for number, step in zip(page, registration.steps, strict=True))
    for side in lined_up.edges:
        # The edge lies a little inside the view, and the further on one side the further this page is from it.
        inset = EDGE_INSET - (further_x if side.axis == "across" else further_y)
        at = view.at(side) - side.sign * inset - tile.box.at(side)
        dx, dy = (at, dy) if side.axis == "across" else (dx, at)
    return Placement.shift(dx, dy)


def _holds(piece: CutPiece, registration: Registration, view: Bounds) -> bool:
    """Whether the view shows all of the cuts with some tile round them, laid as the registration says."""
    on_sheet = _on_sheet(piece, registration, view)
    clear = _TAPE_ROOM if registration.tape else CLEAR
    room = Bounds(view.min_x + CLEAR, view.min_y + clear, view.max_x - CLEAR, view.max_y - clear)
    laid, _ = as_laid(piece, registration)
    for index in registration.cuts:
        box = laid.cuts[index].share.bounds
        if not box.shifted(on_sheet.dx, on_sheet.dy).within(room):
            return False
    return True


def _drawing(shown: Subject, placed: PlacedPanel | None) -> tuple[Room[Tile], list[Mark[Tile]]]:
    """The template, and the room that it leaves on the sheet."""
    room, marks = _edges_drawn(shown, placed)
    marks += join_words(shown, room)
    marks += tape_words(shown, room)
    marks += ruler_figures(shown, room)
    word = wording(shown.plan.say.words)
    marks += names(shown, room, (word.cover, word.faceplate))
    for cut in shown.cuts:
        room.take_box(cut.share.bounds)
    return room, marks


def _edges_drawn(shown: Subject, placed: PlacedPanel | None) -> tuple[Room[Tile], list[Mark[Tile]]]:
    """The lines with ticks and names on the edges; a short edge that has no room for both keeps its name."""
    drawn = [*lines(shown), *ruler_lines(shown), *join_lines(shown)]
    for names_first in (False, True):
        room: Room[Tile] = Room(shown.view, placed)
        if room.answer(partial(int, names_first)) != names_first:
            continue  # it is known that the names had to come first
        room.take(drawn)
        named: list[Mark[Tile]] = [*edge_words(shown, room)] if names_first else []
        near = [*ticks(shown, room)]
        if not names_first:
            named += edge_words(shown, room)
        marks = [*drawn, *near, *named, *ticks(shown, room, far=True)]
        if not any(words.startswith(LINE_UP) for words in unsaid(shown, named)):
            break
    return room, marks
