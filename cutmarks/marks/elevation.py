"""The elevation: one surface drawn small, not to scale, with what is cut on it; and a thumbnail with one tile black.

All marks are in the Page frame, mm, origin at the bottom-left corner of the box that the caller gives.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from cutmarks.geometry.frames import Page, Point
from cutmarks.geometry.regions import Region, intersection
from cutmarks.geometry.rings import Bounds, polygon
from cutmarks.marks import sizes
from cutmarks.marks.clip import clipped
from cutmarks.marks.elevation_labels import LEGEND_HEIGHT, NAME_HEIGHT, legend, named, rings_of, worst_levels
from cutmarks.marks.elevation_names import by_side, callouts, margin_for
from cutmarks.marks.elevation_surface import OVERHANG, edges, grid_of, opening_marks, set_out_lines, voids
from cutmarks.marks.elevation_view import View, drawn_of, extent, fitted, on_surface, openings_of, pieces_of
from cutmarks.marks.hatching import hatched
from cutmarks.marks.lettering import width
from cutmarks.marks.model import Filled, Mark, Role, Stroke, Tone, Words, block, line, outline
from cutmarks.marks.room import ink_box
from cutmarks.openings.model import CutPiece
from cutmarks.plan import Plan, SurfacePlan
from cutmarks.tiling.model import Place

MOST_PLACES = 3000
"""Above this many places an elevation draws courses only."""
MOST_THUMBNAIL_PLACES = 400
_BEHIND = 2
"""So many surfaces are kept behind thumbnails: sheets come surface by surface, for the face and for the back."""
LETTER = sizes.LEAST
"""The letters of the set-out lines beside a thumbnail, mm high."""
LETTER_AIR = 0.2
"""Left white round them, mm: less than from a letter to the line of the surface's edge."""
STOP_HATCH, CHECK_HATCH = 1.3, 2.6
MARGIN = 7.0
CALLOUT_SHARE = 0.2
"""Of the box's width that the words of callouts may take on each side."""
MOST_CALLOUTS = 24
"""Where more names than these find no place in the drawing only those of tiles go to the margin: what comes through a
tile stands in its row of the list."""
CALLOUT_TRIES = 4
"""Margins are widened for callouts, which shrinks the drawing, which may push more names out: so many times at most."""
LEGEND_STEP = 4.2
LEGEND_AIR = 2.0
"""Clear space over the legend."""


def elevation(
    plan: Plan, surface: SurfacePlan, w: float, h: float, sheets: Mapping[str, str] | None = None
) -> tuple[Mark[Page], ...]:
    """The surface drawn to fill a box of w by h mm, with the names of lines, cut pieces and holes, and a legend.

    `sheets` says for each piece's name which sheets it has: they stand in brackets behind it.
    Pieces with a finding are told by a pattern: close hatching is STOP, wide hatching CHECK. A name that does not fit
    is left out, but a hole's and that of a piece cut round something goes to the margin as long as there is room.
    """
    return elevation_in_view(plan, surface, w, h, sheets)[1]


def elevation_in_view(
    plan: Plan, surface: SurfacePlan, w: float, h: float, sheets: Mapping[str, str] | None = None
) -> tuple[View, tuple[Mark[Page], ...]]:
    """The same, with how the surface is reduced in it."""
    sheets = sheets or {}
    below = legend(plan, surface, w, sheets)
    foot = LEGEND_STEP * len(below) + LEGEND_AIR
    shown = extent(plan, surface)
    left = right = 0.0
    most = CALLOUT_SHARE * w
    for _ in range(CALLOUT_TRIES):
        room = Bounds(MARGIN + left, foot + OVERHANG, w - MARGIN - right, h - NAME_HEIGHT - OVERHANG - 2.0)
        view = fitted(shown, room)
        names, unnamed = named(plan, surface, view, sheets)
        if len(unnamed) > MOST_CALLOUTS:
            unnamed = [name for name in unnamed if name.bold]
        sides = by_side(unnamed, view.page)
        wanted = margin_for(sides[0], most), margin_for(sides[1], most)
        if wanted[0] <= left and wanted[1] <= right:
            break
        left, right = max(left, wanted[0]), max(right, wanted[1])
    marks: list[Mark[Page]] = [*inside_box(_drawing(plan, surface, view), w, h, foot)]
    called: list[Mark[Page]] = []
    for number, side in enumerate(sides):
        leaders, words, _ = callouts(side, Bounds(0.0, room.min_y, w, room.max_y), most, right=bool(number))
        marks += leaders
        called += words
    marks += [*names, *called]
    for row, text in enumerate(below):
        y = foot - LEGEND_AIR - LEGEND_STEP * row - LEGEND_HEIGHT
        marks.append(Words(text, Point(w / 2, y), LEGEND_HEIGHT, "middle", bold=row == 0))
    return view, tuple(marks)


def bare_elevation(
    plan: Plan, surface: SurfacePlan, room: Bounds, *, with_names: bool = False
) -> tuple[View, tuple[Mark[Page], ...]]:
    """The surface drawn to fill a room on the page, with its lines and holes; and how it is reduced.

    with_names  those of lines and holes, where there is room for them; pieces have none.
    """
    view = fitted(extent(plan, surface), room)
    marks = tuple(inside_box(_drawing(plan, surface, view), room.max_x + OVERHANG, room.max_y + OVERHANG))
    return view, (*marks, *named(plan, surface, view, {}, of_pieces=False)[0]) if with_names else marks


def elevation_height(plan: Plan, surface: SurfacePlan, w: float, sheets: Mapping[str, str] | None = None) -> float:
    """The height, mm, of the box of width `w` that the surface's elevation fills without waste."""
    shown = extent(plan, surface)
    around = LEGEND_STEP * len(legend(plan, surface, w, sheets or {})) + LEGEND_AIR + 2 * OVERHANG + NAME_HEIGHT + 2.0
    return (w - 2 * MARGIN) * shown.height / max(shown.width, 1.0) + around


class Thumbnails:
    """The pieces of one plan, each black on its surface: what all pieces of a surface share is drawn once for them."""

    def __init__(self, plan: Plan) -> None:
        """None is drawn yet."""
        self._plan = plan
        self._behind: dict[tuple[str, float, float], tuple[View, tuple[Mark[Page], ...]]] = {}

    def of(self, piece: CutPiece, w: float, h: float) -> tuple[Mark[Page], ...]:
        """The piece's surface in a box of w by h mm, the piece black, with no words but the letters of set-out lines.

        Raises:
            ValueError: the piece's surface is not in the plan.
        """
        behind, black, letters = self.layers(piece, w, h)
        return (*behind, *black, *letters)

    def layers(
        self, piece: CutPiece, w: float, h: float
    ) -> tuple[tuple[Mark[Page], ...], tuple[Mark[Page], ...], tuple[Mark[Page], ...]]:
        """The same in three layers: what lies behind all pieces of the surface, this piece, the letters over all.

        Raises:
            ValueError: the piece's surface is not in the plan.
        """
        surface = next((one for one in self._plan.surfaces if one.setout.name == piece.piece.surface), None)
        if surface is None:
            raise ValueError(f"The plan has no surface {piece.piece.surface!r}.")
        view, backdrop = self._backdrop(surface, w, h)
        black: Filled[Page] = Filled(tuple(view.ring(ring) for ring in on_surface(piece, piece.piece.outline).rings))
        box = _thumbnail_box(w, h)
        return backdrop, tuple(inside_box([black], box.max_x, box.max_y)), tuple(_lettered(surface, view, w, h))

    def _backdrop(self, surface: SurfacePlan, w: float, h: float) -> tuple[View, tuple[Mark[Page], ...]]:
        key = (surface.setout.name, w, h)
        if key not in self._behind:
            if len(self._behind) == _BEHIND:
                del self._behind[next(iter(self._behind))]
            self._behind[key] = _backdrop(self._plan, surface, w, h)
        return self._behind[key]


def _thumbnail_box(w: float, h: float) -> Bounds:
    """What the drawing may take of a thumbnail: the letters stand above it and on its right."""
    return Bounds(0.0, 0.0, w - LETTER * 1.4, h - LETTER * 1.4)


def _lettered(surface: SurfacePlan, view: View, w: float, h: float) -> Iterator[Mark[Page]]:
    """The set-out lines, each with its letter; one whose letter would run into the one before stays out."""
    last: dict[str, float] = {}
    letters: list[Words[Page]] = []
    for at in sorted(surface.setout.lines.values(), key=lambda one: abs(one.at)):
        x, y = view.xy(at.at, at.at)
        page, place = view.page, x if at.fixes == "x" else y
        low, high = (page.min_x, page.max_x) if at.fixes == "x" else (page.min_y, page.max_y)
        room = width(at.name, LETTER)
        if not low <= place <= high or room > 2 * LETTER or abs(place - last.get(at.fixes, -h - w)) < 2 * LETTER:
            continue
        if at.fixes == "x":
            drawn: Mark[Page] = line(x, page.min_y, x, page.max_y + 0.3, Role.SET_OUT)
            middle = min(max(x, room / 2), w - room / 2)
            letter: Words[Page] = Words(at.name, Point(middle, page.max_y + 0.6), LETTER, "middle")
        else:
            drawn = line(page.min_x, y, page.max_x + 0.3, y, Role.SET_OUT)
            letter = Words(at.name, Point(page.max_x + 0.6, min(max(y - LETTER / 2, 0.0), h - LETTER)), LETTER)
        if any(_ink(letter).overlaps(_ink(other), _APART) for other in letters):
            continue
        last[at.fixes] = place
        yield drawn
        letters.append(letter)
    yield from inside_box((_behind(words) for words in letters), w, h)
    yield from letters


_APART = 0.5
"""Between two letters, mm."""


def _ink(words: Words[Page]) -> Bounds:
    """The box round the ink of words, their own place where they have none."""
    return ink_box(words) or Bounds(words.at.x, words.at.y, words.at.x, words.at.y)


def _behind(words: Words[Page]) -> Mark[Page]:
    """White behind a letter: tiles that reach past the drawing's box end there."""
    box = _ink(words)
    air = LETTER_AIR
    return block(box.min_x - air, box.min_y - air, box.width + 2 * air, box.height + 2 * air, Tone.WHITE)


def _backdrop(plan: Plan, surface: SurfacePlan, w: float, h: float) -> tuple[View, tuple[Mark[Page], ...]]:
    """What the thumbnails of all pieces of a surface share."""
    box = _thumbnail_box(w, h)
    view = fitted(extent(plan, surface), box)
    marks: list[Mark[Page]] = [*voids(surface, view)]
    pieces = drawn_of(plan, surface.setout)
    for area in surface.areas:
        marks += grid_of(area, view, _places(pieces), MOST_THUMBNAIL_PLACES)
    if len(pieces) <= MOST_THUMBNAIL_PLACES:
        marks += [outline(ring, Role.GRID) for one in pieces for ring in rings_of(view, one)]
    marks += edges(surface, view)
    return view, tuple(inside_box(marks, box.max_x, box.max_y))


def inside_box(marks: Iterable[Mark[Page]], w: float, h: float, low: float = 0.0) -> Iterator[Mark[Page]]:
    """What of lines and areas lies in a box w wide, from `low` to h mm: a tile is cut off where it reaches past it."""
    box = Bounds(0.0, low, w, h)
    whole: Region[Page] = Region((polygon(((0.0, low), (w, low), (w, h), (0.0, h))),))
    for mark in marks:
        match mark:
            case Stroke():
                yield from clipped(mark, box)
            case Filled(rings=rings, tone=tone) if not Region(rings).bounds.within(box):
                inside = intersection(Region(rings), whole)
                if inside.rings:
                    yield Filled(inside.rings, tone)
            case _:
                yield mark


def _drawing(plan: Plan, surface: SurfacePlan, view: View) -> Iterator[Mark[Page]]:
    pieces, drawn = pieces_of(plan, surface.setout), drawn_of(plan, surface.setout)
    yield from voids(surface, view)
    for area in surface.areas:
        yield from grid_of(area, view, _places(drawn), MOST_PLACES)
    for piece in drawn[len(pieces) :]:
        yield from (outline(ring, Role.GRID) for ring in rings_of(view, piece))
    levels = worst_levels(plan)
    for piece in pieces:
        rings = rings_of(view, piece)
        level = levels.get(piece.name)
        if level is not None:
            stop = level == "stop"
            yield from hatched(Region(rings), STOP_HATCH if stop else CHECK_HATCH, rising=stop)
        for ring in rings:
            yield outline(ring, Role.BOX)
    yield from edges(surface, view)
    for keep_out in surface.setout.keep_outs:
        yield outline(view.ring(keep_out.ring), Role.TILE)
    yield from set_out_lines(surface, view)
    for opening in openings_of(plan, surface.setout):
        yield from opening_marks(opening, view)


def _places(pieces: list[CutPiece]) -> set[tuple[str, Place]]:
    return {(piece.piece.area, piece.piece.place) for piece in pieces}
