"""Where things stand on a template.

The head is at the top, the bar across and the small print at the foot, the bar along the paper on the side away from
the edge that is lined up. Between them is the view: the part of the tile that is on the paper. The panels stand above
the view, side by side, where the cuts leave them that much; else on the blank tile itself; else on a second page.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from cutmarks.geometry.edges import Bounds
from cutmarks.geometry.frames import Placement, Tile
from cutmarks.geometry.frames import Sheet as SheetFrame
from cutmarks.marks.labels import edge_words, names, tape_words
from cutmarks.marks.model import Mark, moved
from cutmarks.marks.room import Room
from cutmarks.marks.rulers import ruler_figures, ruler_lines
from cutmarks.marks.template import Subject, lines, subject
from cutmarks.marks.ticks import ticks
from cutmarks.openings.model import CutPiece
from cutmarks.plan import Plan
from cutmarks.registering.model import Registration
from cutmarks.registering.paper import CLEAR, EDGE_INSET, FOOT, HEAD, SAFE_MARGIN, SIDE, Paper
from cutmarks.sheets.furniture import BarSide
from cutmarks.sheets.head import head_panel
from cutmarks.sheets.panel import Panel
from cutmarks.sheets.panels import findings_panel, stop_panel, tile_panel, wall_panel
from cutmarks.sheets.words import wording

GAP = 2.5
"""Between panels, and from a panel to any line."""
_TAPE_ROOM = 18.0
"""Left free above and below a cut that is laid by tape: the words of its lines stand there."""
_STEP_DOWN, _STEP_ALONG = 3.0, 6.0
"""How finely a place for a panel is looked for."""
_SHARES = (0.5, 0.45, 0.41, 0.36)
_SHARES_OF_SEVERAL = (1.0, 0.86, *_SHARES)
"""Of the view's width: what a panel on the tile may be wide."""
_BAND_SHARES = (1.0, 0.8, 0.6, 0.45)

Maker = Callable[[Subject, float], Panel | None]
_MAKERS: tuple[Maker, ...] = (stop_panel, tile_panel, wall_panel, findings_panel)
ON_NEXT = "MORE TO READ on the next sheet"


@dataclass(frozen=True, slots=True)
class Draft:
    """A page without its furniture: its marks, the side that the bar along the paper stands on, a word on it."""

    marks: tuple[Mark[SheetFrame], ...]
    bar_side: BarSide
    note: str = ""


def drafts(plan: Plan, piece: CutPiece, registration: Registration, paper: Paper) -> Iterator[Draft]:
    """The page of one registration; a second one with the panels that found no room on it."""
    side: BarSide = "left" if "right" in registration.edges else "right"
    view = _view(paper, side)
    shown = _subject(plan, piece, registration, view)
    head = tuple(head_panel(shown, view.width).at(view.min_x, view.max_y + HEAD))
    rows = _rows(shown, _MAKERS, view.width)
    low = view._replace(max_y=view.max_y - sum(_height(row) + GAP for row in rows))
    if _holds(piece, registration, low):
        drawing, _ = _drawing(_subject(plan, piece, registration, low), low)
        yield Draft((*head, *drawing, *_stacked(rows, view)), side)
        return
    drawing, room = _drawing(shown, view)
    placed: list[Mark[SheetFrame]] = []
    left_over: list[Maker] = []
    for maker in _MAKERS:
        found = _on_the_tile(shown, maker, room, view)
        if found is None:
            left_over.append(maker)
        else:
            placed += found
    yield Draft((*head, *drawing, *placed), side, ON_NEXT if left_over else "")
    if left_over:
        yield Draft((*head, *_stacked(_rows(shown, left_over, view.width), view)), side)


def _view(paper: Paper, side: BarSide) -> Bounds:
    left = SAFE_MARGIN + (SIDE if side == "left" else 0.0)
    bottom = SAFE_MARGIN + FOOT
    return Bounds(left, bottom, left + paper.view_width, bottom + paper.view_height)


def _subject(plan: Plan, piece: CutPiece, registration: Registration, view: Bounds) -> Subject:
    dx, dy = _shift(piece, registration, view)
    on_tile = Bounds(view.min_x - dx, view.min_y - dy, view.max_x - dx, view.max_y - dy)
    return subject(plan, piece, registration, on_tile)


def _shift(piece: CutPiece, registration: Registration, view: Bounds) -> tuple[float, float]:
    """Where the tile's bottom-left corner lies on the sheet."""
    tile, first = piece.piece.tile, piece.cuts[registration.cuts[0]]
    dx = (view.min_x + view.max_x) / 2 - first.centre.x
    dy = (view.min_y + view.max_y) / 2 - first.centre.y
    for side in registration.edges:
        match side:
            case "left":
                dx = view.min_x + EDGE_INSET
            case "right":
                dx = view.max_x - EDGE_INSET - tile.w
            case "bottom":
                dy = view.min_y + EDGE_INSET
            case "top":
                dy = view.max_y - EDGE_INSET - tile.h
    return dx, dy


def _holds(piece: CutPiece, registration: Registration, view: Bounds) -> bool:
    """Whether the view shows all of the cuts with some tile round them, laid as the registration says."""
    dx, dy = _shift(piece, registration, view)
    clear = _TAPE_ROOM if registration.tape else CLEAR
    room = Bounds(view.min_x + CLEAR, view.min_y + clear, view.max_x - CLEAR, view.max_y - clear)
    for index in registration.cuts:
        box = piece.cuts[index].share.bounds
        if not Bounds(box.min_x + dx, box.min_y + dy, box.max_x + dx, box.max_y + dy).within(room):
            return False
    return True


def _drawing(shown: Subject, view: Bounds) -> tuple[tuple[Mark[SheetFrame], ...], Room[Tile]]:
    """The template on the sheet, and the room that it leaves (in the Tile frame)."""
    room: Room[Tile] = Room(shown.view)
    marks = [*lines(shown), *ruler_lines(shown)]
    room.take(marks)
    # One set of ticks on each edge comes before its name, so that a short edge has both.
    marks += ticks(shown, room)
    marks += edge_words(shown, room)
    marks += ticks(shown, room, far=True)
    marks += tape_words(shown, room)
    marks += ruler_figures(shown, room)
    word = wording(shown.plan.say.words)
    marks += names(shown, room, (word.cover, word.faceplate))
    for cut in shown.cuts:
        room.take_box(cut.share.bounds)
    onto: Placement[Tile, SheetFrame] = Placement(
        1.0, 0.0, view.min_x - shown.view.min_x, view.min_y - shown.view.min_y
    )
    return tuple(moved(mark, onto) for mark in marks), room


def _rows(shown: Subject, makers: Sequence[Maker], width: float) -> list[list[Panel]]:
    """The panels in rows: the band right across, then two side by side, the findings beside or below."""
    half = (width - GAP) / 2
    rows: list[list[Panel]] = []
    pair: list[Panel] = []
    for maker in makers:
        several = len(shown.cuts) > 1 and maker is not findings_panel
        wide = maker is stop_panel or several or (maker is findings_panel and len(pair) != 1)
        panel = maker(shown, width if wide else half)
        if panel is None:
            continue
        if wide:
            rows.append([panel])
        else:
            pair.append(panel)
            if len(pair) == 1:
                rows.append(pair)
    return rows


def _height(row: Sequence[Panel]) -> float:
    return max(panel.height for panel in row)


def _stacked(rows: Sequence[Sequence[Panel]], view: Bounds) -> Iterator[Mark[SheetFrame]]:
    top = view.max_y - GAP / 2
    for row in rows:
        left = view.min_x
        for panel in row:
            yield from panel.at(left, top, _height(row))
            left += panel.width + GAP
        top -= _height(row) + GAP


def _on_the_tile(shown: Subject, maker: Maker, room: Room[Tile], view: Bounds) -> list[Mark[SheetFrame]] | None:
    """The panel's marks where there is room for it on the blank tile; [] where there is none to place; else None."""
    several = len(shown.cuts) > 1
    for share in _BAND_SHARES if maker is stop_panel else _SHARES_OF_SEVERAL if several else _SHARES:
        panel = maker(shown, share * (view.width - 2 * GAP))
        if panel is None:
            return []
        corner = _corner(panel, room)
        if corner is not None:
            left, top = corner
            room.take_box(Bounds(left, top - panel.height, left + panel.width, top))
            return list(panel.at(left - shown.view.min_x + view.min_x, top - shown.view.min_y + view.min_y))
    return None


def _corner(panel: Panel, room: Room[Tile]) -> tuple[float, float] | None:
    """The highest place for a panel, then the leftmost: its top-left corner."""
    view = room.view
    down = int((view.height - 2 * GAP - panel.height) // _STEP_DOWN) + 1
    along = int((view.width - 2 * GAP - panel.width) // _STEP_ALONG) + 1
    for i in range(down):
        top = view.max_y - GAP - i * _STEP_DOWN
        for j in range(along):
            left = view.min_x + GAP + j * _STEP_ALONG
            if room.free(Bounds(left, top - panel.height, left + panel.width, top), GAP):
                return left, top
    return None
