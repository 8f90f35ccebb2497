"""The map of a job's sheets: one surface drawn small, not to scale, on each tile the numbers of its sheets.

All marks are in the Page frame, mm, origin at the bottom-left corner of the box that the caller gives.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import product

from cutmarks.geometry.frames import Page, Point
from cutmarks.geometry.rings import Bounds
from cutmarks.marks.elevation import inside_box
from cutmarks.marks.elevation_labels import rings_of
from cutmarks.marks.elevation_names import on_white
from cutmarks.marks.elevation_surface import drawn_box, edges, grid_of, voids
from cutmarks.marks.elevation_view import View, extent, fitted, openings_of, pieces_of
from cutmarks.marks.lettering import width
from cutmarks.marks.model import Mark, Role, Words, outline
from cutmarks.marks.room import Room
from cutmarks.openings.model import CutPiece
from cutmarks.plan import Plan, SurfacePlan

MOST_PLACES = 3000
"""Above this many places the map draws courses only."""
_HEIGHTS = (3.4, 2.6, 2.0, 1.6)
_APART = 0.5
_MARGIN = 1.0


def sheet_map(
    plan: Plan, surface: SurfacePlan, sheets: Mapping[str, str], w: float, h: float
) -> tuple[Mark[Page], ...]:
    """The surface in a box of w by h mm; `sheets` says for each piece's name which sheets it has.

    A number that finds no room among the others is left out: the list beside the map has all of them.
    """
    view = fitted(extent(plan, surface), Bounds(_MARGIN, _MARGIN, w - _MARGIN, h - _MARGIN))
    pieces = pieces_of(plan, surface.setout)
    marks: list[Mark[Page]] = [*voids(surface, view)]
    taken = {(piece.piece.area, piece.piece.place) for piece in pieces}
    for area in surface.areas:
        marks += grid_of(area, view, taken, MOST_PLACES)
    for piece in pieces:
        role = Role.OUTLINE if piece.name in sheets else Role.GRID
        marks += [outline(ring, role) for ring in rings_of(view, piece)]
    marks += edges(surface, view)
    room: Room[Page] = Room(Bounds(0.0, 0.0, w, h))
    beside_holes: Room[Page] = Room(room.view)
    numbers: list[Mark[Page]] = []
    for opening in openings_of(plan, surface.setout):
        beside_holes.take_box(drawn_box(opening, view))
    for piece in pieces:
        if piece.name in sheets:
            tries = list(_numbers(piece, sheets[piece.name], view))
            words = beside_holes.place(tries, _APART) or room.place(tries, _APART)
            if words is not None:
                beside_holes.take((words,))
                room.take((words,))
                numbers += on_white(words)
    # All of the white first: it reaches further than a number's own ink.
    marks += sorted(numbers, key=lambda mark: isinstance(mark, Words))
    return tuple(inside_box(marks, w, h))


def _numbers(piece: CutPiece, text: str, view: View) -> Iterator[Words[Page]]:
    """The numbers in the middle of the tile, or near it, smaller where there is no room; in any case the smallest."""
    rings = rings_of(view, piece)
    low_x, high_x = min(ring.bounds.min_x for ring in rings), max(ring.bounds.max_x for ring in rings)
    low_y, high_y = min(ring.bounds.min_y for ring in rings), max(ring.bounds.max_y for ring in rings)
    for height in _HEIGHTS:
        room = high_x - low_x - width(text, height, bold=True) - 2 * _APART
        if room < 0.0 and height != _HEIGHTS[-1]:
            continue
        for up, along in product((0.5, 0.25, 0.75), (0.0, -0.5, 0.5)):
            x = (low_x + high_x) / 2 + along * max(room, 0.0)
            yield Words(text, Point(x, low_y + up * (high_y - low_y) - height / 2), height, "middle", bold=True)
