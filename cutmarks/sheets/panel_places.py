"""Where the panels of a template stand: in rows above the drawing, or each where the tile is blank."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence

from cutmarks.geometry.edges import Bounds
from cutmarks.geometry.frames import Sheet as SheetFrame
from cutmarks.geometry.frames import Tile
from cutmarks.marks.model import Mark
from cutmarks.marks.room import Room
from cutmarks.marks.template import Subject
from cutmarks.saying.findings import findings_of
from cutmarks.sheets.before_panels import findings_panel, short_stop_panel, stop_panel
from cutmarks.sheets.panel import Panel
from cutmarks.sheets.tile_panel import short_tile_panel, tile_panel
from cutmarks.sheets.wall_panel import wall_panel

GAP = 2.5
"""Between panels, and from a panel to any line."""
INSIDE = 0.5
"""A panel's frame lies wholly inside the safe area."""
_SHARES = (0.5, 0.45, 0.41, 0.36, 0.32)
_SHARES_OF_SEVERAL = (1.0, 0.86, *_SHARES)
"""Of the view's width: what a panel on the tile may be wide."""
_BAND_SHARES = (1.0, 0.8, 0.6, 0.45)
_LEAST_WIDE = 59.0
"""No narrower, mm: "found" and "differs" with their blanks are 51.7 long, stand on one line and keep 2 mm apart."""

Maker = Callable[..., Panel | None]
"""A function that makes a panel: of the subject, the panel's width and, where it is parted, which of its items."""
MAKERS: tuple[Maker, ...] = (stop_panel, tile_panel, wall_panel, findings_panel)
SHORT: Mapping[Maker, Maker] = {stop_panel: short_stop_panel, tile_panel: short_tile_panel}
"""What stands for a panel on a tile that has no room for it."""


def in_rows(shown: Subject, makers: Sequence[Maker], width: float) -> list[list[Panel]]:
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


def over_pages(shown: Subject, makers: Sequence[Maker], view: Bounds) -> list[list[list[Panel]]]:
    """The panels in rows, as many rows on a page as it has room for; a panel that is higher is parted."""
    room = view.height - GAP
    rows = in_rows(shown, makers, view.width - 2 * INSIDE)
    if any(height_of(row) > room for row in rows):
        rows = [[part] for part in _parted(shown, makers, view)]
    pages: list[list[list[Panel]]] = []
    left = 0.0
    for row in rows:
        if not pages or height_of(row) > left:
            pages.append([])
            left = room
        pages[-1].append(row)
        left -= height_of(row) + GAP
    return pages


def _parted(shown: Subject, makers: Sequence[Maker], view: Bounds) -> Iterator[Panel]:
    """All panels right across, halved and halved again until each is no higher than the view."""
    for maker in makers:
        count = len(findings_of(shown.plan, shown.piece)) if maker is findings_panel else len(shown.cuts)
        yield from _halves(shown, maker, range(count), view)


def _halves(shown: Subject, maker: Maker, which: Sequence[int], view: Bounds) -> Iterator[Panel]:
    panel = maker(shown, view.width - 2 * INSIDE, which)
    if panel is None:
        return
    if panel.height <= view.height - GAP or len(which) == 1:
        yield panel
        return
    middle = (len(which) + 1) // 2
    yield from _halves(shown, maker, which[:middle], view)
    yield from _halves(shown, maker, which[middle:], view)


def height_of(row: Sequence[Panel]) -> float:
    """How high a row of panels is: as its highest, mm."""
    return max(panel.height for panel in row)


def stacked(rows: Sequence[Sequence[Panel]], view: Bounds) -> Iterator[Mark[SheetFrame]]:
    """The rows one under the other from the top of the view, their frames as high as the row."""
    top = view.max_y - GAP / 2
    for row in rows:
        left = view.min_x + INSIDE
        for panel in row:
            yield from panel.at(left, top, height_of(row))
            left += panel.width + GAP
        top -= height_of(row) + GAP


def on_the_tile(shown: Subject, maker: Maker, room: Room[Tile], view: Bounds) -> list[Mark[SheetFrame]] | None:
    """The panel's marks where there is room for it on the blank tile; [] where there is none to place; else None."""
    several = len(shown.cuts) > 1
    shares = _BAND_SHARES if maker in (stop_panel, short_stop_panel) else _SHARES_OF_SEVERAL if several else _SHARES

    for_share: dict[float, Panel | None] = {}

    def made(share: float) -> Panel | None:
        if share not in for_share:
            for_share[share] = maker(shown, max(share * (view.width - 2 * GAP), _LEAST_WIDE))
        return for_share[share]

    def fits(share: float) -> bool:
        panel = made(share)
        return panel is None or room.highest(panel.width, panel.height, GAP) >= 0

    share = room.first(shares, fits)
    panel = None if share is None else made(share)
    if panel is None:
        return None if share is None else []
    width, height = panel.width, panel.height
    left, top = room.corner(room.answer(lambda: room.highest(width, height, GAP)), width, height, GAP)
    room.take_box(Bounds(left, top - height, left + width, top))
    return list(panel.at(*shown.on_sheet.xy(left, top)))
