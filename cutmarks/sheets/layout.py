"""Where things stand on a template.

The head is at the top, the bar across and the small print at the foot, the bar along the paper on the side away from
the edge that is lined up. Between them is the view: the part of the tile that is on the paper. The panels stand above
the view, side by side, where the cuts leave them that much; else on the blank tile itself; else on a second page.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import chain

from cutmarks.geometry.edges import Bounds
from cutmarks.geometry.frames import Placement, Tile
from cutmarks.geometry.frames import Sheet as SheetFrame
from cutmarks.marks.findings import findings_of, stops_of
from cutmarks.marks.joins import join_lines, join_words
from cutmarks.marks.labels import edge_words, names, tape_words
from cutmarks.marks.model import Mark, moved
from cutmarks.marks.room import Room
from cutmarks.marks.rulers import ruler_figures, ruler_lines
from cutmarks.marks.template import Subject, as_laid, lines, subject, tape_at
from cutmarks.marks.ticks import ticks
from cutmarks.openings.model import CutPiece
from cutmarks.plan import Plan
from cutmarks.registering.model import Registration
from cutmarks.registering.paper import BAND, CLEAR, EDGE_INSET, FOOT, HEAD, SIDE, Paper
from cutmarks.sheets.before_panels import findings_panel, forbidden, stop_panel
from cutmarks.sheets.furniture import BarSide
from cutmarks.sheets.head import back_band, head_panel
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
from cutmarks.sheets.words import wording

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
class Draft:
    """A page without its furniture: its marks, the side that the bar along the paper stands on, a word for its foot.

    The marks are drawn as they are asked for, once: who only counts pages does not draw them.
    """

    marks: Iterator[Mark[SheetFrame]]
    bar_side: BarSide
    note: str = ""


def drafts(plan: Plan, piece: CutPiece, registration: Registration, paper: Paper, first: int) -> Iterator[Draft]:
    """The pages of one registration: what shows the tile, and further ones with the panels that found no room there.

    `first` is the number of the first of them among all sheets.
    """
    side: BarSide = "left" if "right" in as_laid(piece, registration)[1].edges else "right"
    view = _view(paper, side, registration.back)
    if registration.how != "joined":
        whole = _on_one_page(plan, piece, registration, view)
        if whole is not None:
            yield Draft(whole, side)
            return
    pages = [_Page(shown, *_drawing(shown, view)) for shown in _parts(plan, piece, registration, view)]
    for page in pages:
        page.warn(view)
    told = all(page.is_told for page in pages) and _only_stops(plan, piece)
    left_over = [maker for maker in _wanted(told)[1:] if not any(page.takes(maker, view) for page in pages)]
    further = list(over_pages(pages[0].shown, left_over, view))
    read_first = _numbers(first + len(pages), len(further))
    for number, page in enumerate(pages, start=1):
        note = f"JOINED: sheet {number} of {len(pages)}" if len(pages) > 1 else ""
        yield Draft(page.marks(view, read_first), side, note)
    for rows in further:
        yield Draft(chain(_head(pages[0].shown, view), stacked(rows, view)), side)


def _on_one_page(
    plan: Plan, piece: CutPiece, registration: Registration, view: Bounds
) -> Iterator[Mark[SheetFrame]] | None:
    """The whole template on one page: some panels above the drawing, the rest on the blank tile; None: no room."""
    told = _only_stops(plan, piece)
    for above in _ABOVE:
        wanted = _wanted(told and stop_panel in above)
        makers = [maker for maker in above if maker in wanted]
        rows = in_rows(_subject(plan, piece, registration, view), makers, view.width - 2 * INSIDE)
        low = view._replace(max_y=view.max_y - sum(height_of(row) + GAP for row in rows))
        if not rows or not _holds(piece, registration, low):
            continue
        shown = _subject(plan, piece, registration, low)
        page = _Page(shown, *_drawing(shown, low))
        if all(page.takes(maker, low) for maker in wanted if maker not in above):
            return chain(_head(shown, view), page.drawing, page.panels, stacked(rows, view))
    return None


@dataclass(slots=True)
class _Page:
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

    def marks(self, view: Bounds, read_first: str) -> Iterator[Mark[SheetFrame]]:
        """All that is on the page; `read_first` are the sheets with the panels that it has no room for."""
        return chain(_head(self.shown, view, self.stop, read_first), self.drawing, self.panels)


def _wanted(told: bool) -> tuple[Maker, ...]:
    """The panels of a template; without BEFORE YOU CUT where all of it is `told` in the band of its stops."""
    return tuple(maker for maker in MAKERS if not (told and maker is findings_panel))


def _only_stops(plan: Plan, piece: CutPiece) -> bool:
    """Whether all that is to be known before cutting stands in the band of its stops."""
    return findings_of(plan, piece) == stops_of(plan, piece)


def _numbers(first: int, count: int) -> str:
    """So many numbers in a row, in words: "8", "8 TO 10", "" for none."""
    last = first + count - 1
    return "" if not count else str(first) if count == 1 else f"{first} TO {last}"


def _head(shown: Subject, view: Bounds, stop: str = "", read_first: str = "") -> Iterator[Mark[SheetFrame]]:
    """The head above the view, and between them the band of a template for the back."""
    band = BAND if shown.registration.back else 0.0
    yield from head_panel(shown, view.width, stop=stop, read_first=read_first).at(view.min_x, view.max_y + band + HEAD)
    if band:
        yield from back_band(view.width).at(view.min_x, view.max_y + band)


def _view(paper: Paper, side: BarSide, back: bool) -> Bounds:
    left = paper.margin + (SIDE if side == "left" else 0.0)
    bottom = paper.margin + FOOT
    return Bounds(left, bottom, left + paper.view("across"), bottom + paper.view("up", back))


def _parts(plan: Plan, piece: CutPiece, registration: Registration, view: Bounds) -> Iterator[Subject]:
    """What each page shows of the tile: one page, or joined ones row by row from the corner."""
    for row in range(registration.rows):
        for column in range(registration.columns):
            yield _subject(plan, piece, registration, view, (column, row))


def _subject(
    plan: Plan, piece: CutPiece, registration: Registration, view: Bounds, page: tuple[int, int] = (0, 0)
) -> Subject:
    dx, dy = _shift(piece, registration, view, page)
    on_tile = Bounds(view.min_x - dx, view.min_y - dy, view.max_x - dx, view.max_y - dy)
    return subject(plan, piece, registration, on_tile, page)


def _shift(
    piece: CutPiece, registration: Registration, view: Bounds, page: tuple[int, int] = (0, 0)
) -> tuple[float, float]:
    """Where the tile's bottom-left corner, as it is drawn, lies on the sheet."""
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
    return dx, dy


def _holds(piece: CutPiece, registration: Registration, view: Bounds) -> bool:
    """Whether the view shows all of the cuts with some tile round them, laid as the registration says."""
    dx, dy = _shift(piece, registration, view)
    clear = _TAPE_ROOM if registration.tape else CLEAR
    room = Bounds(view.min_x + CLEAR, view.min_y + clear, view.max_x - CLEAR, view.max_y - clear)
    laid, _ = as_laid(piece, registration)
    for index in registration.cuts:
        box = laid.cuts[index].share.bounds
        if not Bounds(box.min_x + dx, box.min_y + dy, box.max_x + dx, box.max_y + dy).within(room):
            return False
    return True


def _drawing(shown: Subject, view: Bounds) -> tuple[Iterator[Mark[SheetFrame]], Room[Tile]]:
    """The template on the sheet, and the room that it leaves (in the Tile frame)."""
    room, marks = _edges_drawn(shown)
    marks += join_words(shown, room)
    marks += tape_words(shown, room)
    marks += ruler_figures(shown, room)
    word = wording(shown.plan.say.words)
    marks += names(shown, room, (word.cover, word.faceplate))
    for cut in shown.cuts:
        room.take_box(cut.share.bounds)
    onto: Placement[Tile, SheetFrame] = Placement(
        1.0, 0.0, view.min_x - shown.view.min_x, view.min_y - shown.view.min_y
    )
    return (moved(mark, onto) for mark in marks), room


def _edges_drawn(shown: Subject) -> tuple[Room[Tile], list[Mark[Tile]]]:
    """The lines with ticks and names on the edges; a short edge that has no room for both keeps its name."""
    for names_first in (False, True):
        room: Room[Tile] = Room(shown.view)
        marks = [*lines(shown), *ruler_lines(shown), *join_lines(shown)]
        room.take(marks)
        named: list[Mark[Tile]] = [*edge_words(shown, room)] if names_first else []
        near = [*ticks(shown, room)]
        if not names_first:
            named += edge_words(shown, room)
        marks += [*near, *named, *ticks(shown, room, far=True)]
        if len(named) == len(shown.edges):
            break
    return room, marks
