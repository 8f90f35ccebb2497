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
from cutmarks.marks.findings import findings_of
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
from cutmarks.sheets.panels import findings_panel, short_stop_panel, stop_panel, tile_panel, wall_panel
from cutmarks.sheets.words import wording

GAP = 2.5
"""Between panels, and from a panel to any line."""
_INSIDE = 0.5
"""A panel's frame lies wholly inside the safe area."""
_TAPE_ROOM = 18.0
"""Left free above and below a cut that is laid by tape: the words of its lines stand there."""
_STEP_DOWN, _STEP_ALONG = 3.0, 6.0
"""How finely a place for a panel is looked for."""
_SHARES = (0.5, 0.45, 0.41, 0.36)
_SHARES_OF_SEVERAL = (1.0, 0.86, *_SHARES)
"""Of the view's width: what a panel on the tile may be wide."""
_BAND_SHARES = (1.0, 0.8, 0.6, 0.45)

Maker = Callable[..., Panel | None]
"""A function of panels.py: of the subject, the panel's width and, where it is parted, which of its items."""
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
    rows = _rows(shown, _MAKERS, view.width - 2 * _INSIDE)
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
        if found is None and maker is stop_panel:
            found = _on_the_tile(shown, short_stop_panel, room, view) or _across(shown, view)
        if found is None:
            left_over.append(maker)
        else:
            placed += found
    pages = [(*head, *drawing, *placed)]
    pages += [(*head, *_stacked(page, view)) for page in _pages(shown, left_over, view)]
    for number, marks in enumerate(pages, start=1):
        yield Draft(marks, side, ON_NEXT if number < len(pages) else "")


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


def _pages(shown: Subject, makers: Sequence[Maker], view: Bounds) -> list[list[list[Panel]]]:
    """The panels in rows, as many rows on a page as it has room for; a panel that is higher is parted."""
    room = view.height - GAP
    rows = _rows(shown, makers, view.width - 2 * _INSIDE)
    if any(_height(row) > room for row in rows):
        rows = [[part] for part in _parted(shown, makers, view)]
    pages: list[list[list[Panel]]] = []
    left = 0.0
    for row in rows:
        if not pages or _height(row) > left:
            pages.append([])
            left = room
        pages[-1].append(row)
        left -= _height(row) + GAP
    return pages


def _parted(shown: Subject, makers: Sequence[Maker], view: Bounds) -> Iterator[Panel]:
    """All panels right across, halved and halved again until each is no higher than the view."""
    for maker in makers:
        count = len(findings_of(shown.plan, shown.piece)) if maker is findings_panel else len(shown.cuts)
        yield from _halves(shown, maker, range(count), view)


def _halves(shown: Subject, maker: Maker, which: Sequence[int], view: Bounds) -> Iterator[Panel]:
    panel = maker(shown, view.width - 2 * _INSIDE, which)
    if panel is None:
        return
    if panel.height <= view.height - GAP or len(which) == 1:
        yield panel
        return
    middle = (len(which) + 1) // 2
    yield from _halves(shown, maker, which[:middle], view)
    yield from _halves(shown, maker, which[middle:], view)


def _height(row: Sequence[Panel]) -> float:
    return max(panel.height for panel in row)


def _stacked(rows: Sequence[Sequence[Panel]], view: Bounds) -> Iterator[Mark[SheetFrame]]:
    top = view.max_y - GAP / 2
    for row in rows:
        left = view.min_x + _INSIDE
        for panel in row:
            yield from panel.at(left, top, _height(row))
            left += panel.width + GAP
        top -= _height(row) + GAP


def _on_the_tile(shown: Subject, maker: Maker, room: Room[Tile], view: Bounds) -> list[Mark[SheetFrame]] | None:
    """The panel's marks where there is room for it on the blank tile; [] where there is none to place; else None."""
    several = len(shown.cuts) > 1
    for share in (
        _BAND_SHARES if maker in (stop_panel, short_stop_panel) else _SHARES_OF_SEVERAL if several else _SHARES
    ):
        panel = maker(shown, share * (view.width - 2 * GAP))
        if panel is None:
            return []
        corner = _corner(panel, room)
        if corner is not None:
            left, top = corner
            room.take_box(Bounds(left, top - panel.height, left + panel.width, top))
            return list(panel.at(left - shown.view.min_x + view.min_x, top - shown.view.min_y + view.min_y))
    return None


def _across(shown: Subject, view: Bounds) -> list[Mark[SheetFrame]] | None:
    """The short band over whatever is drawn: a piece that must not be cut needs its warning more than its lines."""
    panel = short_stop_panel(shown, view.width - 2 * GAP)
    return None if panel is None else list(panel.at(view.min_x + GAP, view.max_y - GAP))


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
