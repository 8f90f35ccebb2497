"""The map of a job's sheets: one surface drawn small, not to scale, on each tile the numbers of its sheets.

Among them stand the names of the tiles that they are read from. Where tiles are small only the part of the surface
that has sheets is shown, and a number that its tile cannot hold stands near it, or in the margin, with a leader. All
marks are in the Page frame, mm, origin at the bottom-left corner of the box that the caller gives.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence

from msgspec import Struct, field
from msgspec.structs import replace

from cutmarks.geometry.frames import Page, Point
from cutmarks.geometry.regions import Region
from cutmarks.geometry.rings import Bounds, polygon
from cutmarks.marks import sizes
from cutmarks.marks.elevation import inside_box
from cutmarks.marks.elevation_labels import rings_of
from cutmarks.marks.elevation_names import (
    AIR,
    BREAK,
    CALLOUT_STEP,
    PlacedName,
    by_side,
    callouts,
    inside,
    margin_for,
    on_white,
    short_name,
    words_box,
)
from cutmarks.marks.elevation_surface import drawn_box, edges, grid_of, set_out_lines, voids
from cutmarks.marks.elevation_view import View, drawn_of, extent, fitted, openings_of, pieces_of, whole_tile
from cutmarks.marks.lettering import width
from cutmarks.marks.model import Mark, Role, Words, line, outline
from cutmarks.marks.room import TakenRoom
from cutmarks.marks.tiles_read import tiles_read
from cutmarks.openings.model import CutPiece
from cutmarks.plan import Plan, SurfacePlan
from cutmarks.sides import Side

MOST_PLACES = 3000
"""Above this many places the map draws courses only."""
MOST_LEADERS, MOST_CALLED = 8, 2
"""A map with more leaders than these, or more names in its margins, is crowded."""
MOST_NEAR = 40
"""Where more names and numbers than these have no room in their tiles, only numbers stand beside theirs."""
NUMBER_HEIGHTS = (3.4, 2.8, sizes.LEAST)
_MARGIN = 1.0
_LINE_ROOM = 5.0
"""Above the drawing and right of it, for the letters of the set-out lines."""
_WORTH_CROPPING = 1.25
"""A part of the surface is shown alone where it comes out so many times larger."""
_AROUND = 0.6
"""So much of a tile is shown round those that have sheets."""
_STEPS = (4.0, 6.5, 9.0, 12.0, 15.0)
"""How far from its tile's middle a number with a leader is tried, mm, besides half the tile."""
_WAYS = 12
_MOST_FITTED = 3
_ON_LEADER = 0.8
"""A leader is tried at points so far apart, mm."""
_MOST_MARGIN = 0.2


class SheetMap(Struct, frozen=True):
    """What is drawn.

    part      only a part of the surface is shown.
    crowded   numbers stand in the margin, or many away from their tiles: it is better drawn larger.
    left_out  the numbers that found no room at all.
    view      where it lies in the box.
    """

    marks: tuple[Mark[Page], ...]
    view: View
    part: bool
    crowded: bool
    left_out: tuple[str, ...]


class _NamedTile(Struct):
    """What stands on the map: marks, boxes that are taken, and those that still want a place."""

    taken: TakenRoom = field(default_factory=TakenRoom)
    marks: list[Mark[Page]] = field(default_factory=list)
    leaders: list[Mark[Page]] = field(default_factory=list)
    waiting: list[PlacedName] = field(default_factory=list)

    def take(self, words: Iterable[Words[Page]], also: TakenRoom) -> None:
        for one in words:
            self.taken.take(words_box(one))
            also.take(words_box(one))
            self.marks += on_white(one)


def sheet_map(plan: Plan, surface: SurfacePlan, sheets: Mapping[str, str], w: float, h: float) -> SheetMap:
    """The surface in a box of w by h mm; `sheets` says for each piece's name which sheets it has."""
    whole = extent(plan, surface)
    box = Bounds(_MARGIN, _MARGIN, w - _MARGIN - _LINE_ROOM, h - _MARGIN - _LINE_ROOM)
    view = _at_top(fitted(whole, box), box)
    numbered = [piece for piece in pieces_of(plan, surface.setout) if piece.name in sheets]
    beside = tiles_read(plan, surface, numbered)
    part = False
    if not all(_fits(piece, sheets[piece.name], view) for piece in numbered):
        close = _at_top(fitted(_cropped(surface, whole, numbered, beside, box), box), box)
        part = close.scale >= _WORTH_CROPPING * view.scale
        view = close if part else view
    named = _names(plan, surface, numbered, beside, sheets, view)
    margins = (0.0, 0.0)
    # With margins the drawing is smaller, and a name may have to wait that had room before, at the other side even.
    for _ in range(_MOST_FITTED):
        wanted = (margin_for(side, _MOST_MARGIN * w) for side in by_side(named.waiting, view.page))
        left, right = (max(one, other) for one, other in zip(margins, wanted, strict=True))
        if (left, right) == margins:
            break
        margins = (left, right)
        view = _at_top(
            fitted(view.extent, box.with_side(Side.LEFT, box.min_x + left).with_side(Side.RIGHT, box.max_x - right)),
            box,
        )
        named = _names(plan, surface, numbered, beside, sheets, view)
    called: list[Words[Page]] = []
    left_out: list[PlacedName] = []
    for number, side in enumerate(by_side(named.waiting, view.page)):
        room = Bounds(_MARGIN, _MARGIN, w - _MARGIN, h - _MARGIN)
        leaders, words, count = callouts(side, room, _MOST_MARGIN * w, right=bool(number))
        named.leaders += leaders
        called += words
        left_out += side[count:]
    # Tiles that lie turned reach past the surface, into the margin.
    white = [mark for one in called for mark in on_white(one)]
    drawing = [*inside_box(_drawing(plan, surface, view, sheets), w, h), *named.leaders, *named.marks, *white]
    # All of the white first: it reaches further than a number's own ink.
    marks = sorted(drawing, key=lambda mark: isinstance(mark, Words))
    numbers = tuple(name.text for name in left_out if name.bold)
    crowded = len(called) > MOST_CALLED or len(named.leaders) > MOST_LEADERS
    return SheetMap(tuple(marks), view, part, crowded, numbers)


def _at_top(view: View, box: Bounds) -> View:
    """The same drawing at the top of the box."""
    return replace(view, dy=view.dy + box.max_y - view.page.max_y)


def map_height(plan: Plan, surface: SurfacePlan, sheets: Mapping[str, str], w: float, least: float) -> float:
    """How high a map of width w has to be, mm: `least`, or what numbers one over the other at both sides take."""
    view = fitted(extent(plan, surface), Bounds(0.0, 0.0, w, least))
    small = sum(
        not _fits(piece, sheets[piece.name], view) for piece in pieces_of(plan, surface.setout) if piece.name in sheets
    )
    return max(least, math.ceil(small / 2) * CALLOUT_STEP + 2 * _MARGIN)


def _drawing(plan: Plan, surface: SurfacePlan, view: View, sheets: Mapping[str, str]) -> Iterator[Mark[Page]]:
    pieces = drawn_of(plan, surface.setout)
    taken = {(piece.piece.area, piece.piece.place) for piece in pieces}
    yield from voids(surface, view)
    for area in surface.areas:
        yield from grid_of(area, view, taken, MOST_PLACES)
    for piece in pieces:
        role = Role.OUTLINE if piece.name in sheets else Role.GRID
        for ring in rings_of(view, piece):
            yield outline(ring, role)
    yield from edges(surface, view)
    yield from set_out_lines(surface, view)


def _room_of(piece: CutPiece, view: View) -> Region[Page]:
    return Region(rings_of(view, piece))


def _fits(piece: CutPiece, text: str, view: View) -> bool:
    """Whether a tile can hold its numbers at all, level, as small as they may be."""
    box = _room_of(piece, view).bounds
    return width(text, sizes.LEAST, bold=True) + 2 * AIR <= box.width and box.height >= sizes.LEAST * 1.5 + 2 * AIR


def _cropped(
    surface: SurfacePlan,
    whole: Bounds,
    numbered: Sequence[CutPiece],
    beside: Mapping[str, Bounds],
    box: Bounds,
) -> Bounds:
    """The part of the surface that has sheets, and what they are read from, as wide to its height as the box is."""
    boxes = [*(whole_tile(piece).bounds for piece in numbered), *beside.values()]
    pad = _AROUND * max((area.grid.pitch_u for area in surface.areas), default=0.0)
    low_x, low_y = min(one.min_x for one in boxes) - pad, min(one.min_y for one in boxes) - pad
    high_x, high_y = max(one.max_x for one in boxes) + pad, max(one.max_y for one in boxes) + pad
    wide = max(high_x - low_x, (high_y - low_y) * box.width / box.height)
    high = max(high_y - low_y, (high_x - low_x) * box.height / box.width)
    left, right = _within(low_x, high_x, wide, whole.min_x, whole.max_x)
    bottom, top = _within(low_y, high_y, high, whole.min_y, whole.max_y)
    return Bounds(left, bottom, right, top)


def _within(low: float, high: float, long: float, least: float, most: float) -> tuple[float, float]:
    """A stretch `long` about low to high, moved so that it lies between least and most as far as it can."""
    start = (low + high - long) / 2
    start = max(min(start, most - long), least)
    return start, min(start + long, most)


def _names(
    plan: Plan,
    surface: SurfacePlan,
    numbered: Sequence[CutPiece],
    beside: Mapping[str, Bounds],
    sheets: Mapping[str, str],
    view: View,
) -> _NamedTile:
    """The numbers, then the names of the tiles that are read from, then the numbered tiles' own where there is room."""
    named = _NamedTile()
    holes = TakenRoom()
    page = view.page
    for letter in _lines(surface, view):
        if named.taken.free(words_box(letter)):
            named.take((letter,), holes)
    for opening in openings_of(plan, surface.setout):
        holes.take(drawn_box(opening, view))
    small: list[PlacedName] = []
    for piece in numbered:
        room = _room_of(piece, view)
        text = sheets[piece.name].replace(", ", f",{BREAK}")
        name = PlacedName((text,), _middle(room.bounds), room, bold=True, needed=True)
        words = _number(name, holes, named.taken)
        if not words:
            small.append(name)
        named.take(words, holes)
    own = {piece.name for piece in numbered}
    areas = [area.name for area in surface.areas]
    read = [_read_name(full, tile, view, areas, needed=full not in own) for full, tile in beside.items()]
    rest = [
        PlacedName(
            (short_name(piece.name, piece.piece.area),), _middle(page), _room_of(piece, view), bold=False, needed=False
        )
        for piece in numbered
        if piece.name not in beside
    ]
    for name in (*(one for one in read if one is not None), *rest):
        words = inside(name, holes, (sizes.LEAST,))
        named.take(words, holes)
        if not words and name.needed:
            small.append(name)
    for piece in numbered:
        holes.take(_room_of(piece, view).bounds)
    # Names alone have leaders only where few do: of a map full of numbers they would make a tangle.
    for name in small if len(small) <= MOST_NEAR else [name for name in small if name.bold]:
        _near(name, page, holes, named)
    return named


def _number(name: PlacedName, holes: TakenRoom, taken: TakenRoom) -> tuple[Words[Page], ...]:
    """A tile's numbers in it: level rather than upright, then rather beside its holes than over them."""
    tries = [inside(name, room, NUMBER_HEIGHTS) for room in (holes, taken)]
    return next((one for one in tries if one and not one[0].turn), tries[0] or tries[1])


def _read_name(full: str, tile: Bounds, view: View, areas: Iterable[str], *, needed: bool) -> PlacedName | None:
    """The name of a tile that is read from; None where it lies outside what is shown."""
    page = view.page
    (low_x, low_y), (high_x, high_y) = view.xy(tile.min_x, tile.min_y), view.xy(tile.max_x, tile.max_y)
    at = Bounds(max(low_x, page.min_x), max(low_y, page.min_y), min(high_x, page.max_x), min(high_y, page.max_y))
    if at.min_x >= at.max_x or at.min_y >= at.max_y:
        return None
    corners = ((at.min_x, at.min_y), (at.max_x, at.min_y), (at.max_x, at.max_y), (at.min_x, at.max_y))
    # Whose area it is, is told by its name, which begins with it.
    area = max((area for area in areas if full.startswith(f"{area} ")), key=len, default="")
    return PlacedName((short_name(full, area),), _middle(at), Region((polygon(corners),)), bold=False, needed=needed)


def _near(name: PlacedName, page: Bounds, holes: TakenRoom, named: _NamedTile) -> None:
    """The name beside its tile with a leader, as near as there is room; else it waits for the margin."""
    own = name.room.bounds
    for step in _STEPS:
        for way in range(_WAYS):
            angle = 2 * math.pi * (way + 0.5) / _WAYS
            x = name.at.x + math.cos(angle) * (own.width / 2 + step)
            y = name.at.y + math.sin(angle) * (own.height / 2 + step)
            words: Words[Page] = Words(name.text, Point(x, y - sizes.LEAST / 2), sizes.LEAST, "middle", name.bold)
            box = words_box(words)
            if not box.within(page) or not holes.free(box):
                continue
            ends = _to_edge(name.at, Point(x, y), box)
            if all(named.taken.free(_spot(spot)) for spot in _along(name.at, ends)):
                named.take((words,), holes)
                named.leaders.append(line(name.at.x, name.at.y, ends.x, ends.y, Role.MEASURE))
                return
    named.waiting.append(name)


def _to_edge(start: Point[Page], end: Point[Page], box: Bounds) -> Point[Page]:
    """Where the straight line from `start` comes to the box about `end`."""
    dx, dy = end.x - start.x, end.y - start.y
    parts = [half / abs(d) for half, d in ((box.width / 2, dx), (box.height / 2, dy)) if abs(d) > AIR]
    back = min(parts, default=0.0)
    return Point(end.x - dx * min(back, 1.0), end.y - dy * min(back, 1.0))


def _along(start: Point[Page], end: Point[Page]) -> Iterator[Point[Page]]:
    count = max(1, math.ceil(math.hypot(end.x - start.x, end.y - start.y) / _ON_LEADER))
    for number in range(count):
        part = number / count
        yield Point(start.x + part * (end.x - start.x), start.y + part * (end.y - start.y))


def _spot(at: Point[Page]) -> Bounds:
    return Bounds(at.x - AIR / 2, at.y - AIR / 2, at.x + AIR / 2, at.y + AIR / 2)


def _lines(surface: SurfacePlan, view: View) -> Iterator[Words[Page]]:
    """The letters of the set-out lines, above the drawing and right of it."""
    page = view.page
    for name, set_out in surface.setout.lines.items():
        x, y = view.xy(set_out.at, set_out.at)
        if set_out.fixes == "x" and page.min_x <= x <= page.max_x:
            yield Words(name, Point(x, page.max_y + 3.0), sizes.LEAST, "middle", bold=True)
        elif set_out.fixes == "y" and page.min_y <= y <= page.max_y:
            yield Words(name, Point(page.max_x + 3.0, y - sizes.LEAST / 2), sizes.LEAST, bold=True)


def _middle(box: Bounds) -> Point[Page]:
    return Point((box.min_x + box.max_x) / 2, (box.min_y + box.max_y) / 2)
