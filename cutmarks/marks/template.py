"""A template: one piece's cuts at full size, in the Tile frame, with the edges that the paper is lined up on."""

from __future__ import annotations

import math
from collections.abc import Iterator

from msgspec import field

from cutmarks.geometry.edges import Bounds, Edge, touches
from cutmarks.geometry.frames import Placement, Point, Tile
from cutmarks.geometry.frames import Sheet as SheetFrame
from cutmarks.geometry.regions import Region
from cutmarks.geometry.rings import Ring, Vertex, as_circle, edges
from cutmarks.geometry.shapes import Circle
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.marks.clip import clipped, clipped_circle
from cutmarks.marks.frames import frames_above
from cutmarks.marks.model import CircleMark, Mark, Role, Stroke, line, outline
from cutmarks.openings.hidden import outline_about
from cutmarks.openings.model import Cut, CutPiece
from cutmarks.openings.outlines import maker_side, places_along
from cutmarks.plan import Plan
from cutmarks.registering.model import Registration
from cutmarks.saying.measures import is_bite
from cutmarks.saying.seen import Seen, seen
from cutmarks.sides import SIDES, Side


class Subject(Seen, frozen=True):
    """What one template draws, and the part of the Tile frame that is on the paper.

    view      that part.
    on_sheet  where the tile lies on the paper as it is held.
    page   which of several joined sheets, counted from 0 away from the corner: across, up.
    """

    view: Bounds
    page: tuple[int, int] = (0, 0)
    on_sheet: Placement[Tile, SheetFrame] = field(default_factory=Placement)

    @property
    def edges(self) -> tuple[Side, ...]:
        """The edges to line up on that are on this very sheet: of joined ones, those beside the edge have it."""
        on = zip(self.registration.edges, self.page if self.registration.how == "joined" else (0, 0), strict=False)
        return tuple(side for side, number in on if number == 0)


def subject(
    plan: Plan,
    piece: CutPiece,
    registration: Registration,
    view: Bounds,
    page: tuple[int, int] = (0, 0),
    on_sheet: Placement[Tile, SheetFrame] | None = None,
) -> Subject:
    """Gathers what the drawing of one template needs; `view` is in the frame that the template is drawn in.

    `on_sheet` is where the tile lies on the paper; without it at the paper's own corner.
    """
    of = seen(plan, piece, registration)
    at: Placement[Tile, SheetFrame] = Placement() if on_sheet is None else on_sheet
    return Subject(of.plan, of.piece, of.registration, of.names, of.style, of.face, of.waits, view, page, at)


def is_clipped(shown: Subject, cut: Cut) -> bool:
    """Whether the sheet, or the joined sheets, cannot show all of the cut."""
    return shown.registration.how != "joined" and not cut.share.bounds.within(shown.view)


def lines(shown: Subject) -> tuple[Mark[Tile], ...]:
    """The lines of a template: the tile's edges, what is cut, covers, and frames above."""
    marks: list[Mark[Tile]] = [*_tile_edges(shown), *_cut_lines(shown), *_past_the_edge(shown), *_covers(shown)]
    for ring in frames_above(shown.plan, shown.piece):
        marks += clipped(outline(ring, Role.ABOVE), shown.view)
    return tuple(marks)


def side_line(piece: CutPiece, side: Side) -> tuple[float, float, float, float]:
    """A side of the whole tile as (x0, y0, x1, y1) in the Tile frame, left to right or upward."""
    return piece.piece.tile.box.with_side(side.opposite, piece.piece.tile.box.at(side))


def _tile_edges(shown: Subject) -> Iterator[Mark[Tile]]:
    for side in SIDES:
        is_lined_up = side in shown.registration.edges
        role = Role.TILE_EDGE if is_lined_up else Role.TILE
        for stretch in [side_line(shown.piece, side)] if is_lined_up else _beside_no_cover(shown, side):
            whole: Stroke[Tile] = line(*stretch, role)
            yield from clipped(whole, shown.view)


def _beside_no_cover(shown: Subject, side: Side) -> list[tuple[float, float, float, float]]:
    """What of a side no sheet is lined up on is drawn: not where a square cover's own side runs right along it."""
    x0, y0, x1, y1 = side_line(shown.piece, side)
    upright = side.axis == "across"
    at, low, high = (x0, y0, y1) if upright else (y0, x0, x1)
    stretches = [(low, high)]
    for cut in shown.cuts:
        cover = cut.opening.cover
        if cover is None or cover.round:
            continue
        middle, along = (cut.centre.x, cut.centre.y) if upright else (cut.centre.y, cut.centre.x)
        deep, wide = (cover.w, cover.h) if upright else (cover.h, cover.w)
        if any(abs(middle + way * deep / 2 - at) < TOO_NEAR for way in (-1, 1)):
            start, end = along - wide / 2 - TOO_NEAR, along + wide / 2 + TOO_NEAR
            stretches = [
                part
                for one, other in stretches
                for part in ((one, min(other, start)), (max(one, end), other))
                if part[1] > part[0]
            ]
    return [(at, one, at, other) if upright else (one, at, other, at) for one, other in stretches]


def _cut_lines(shown: Subject) -> Iterator[Mark[Tile]]:
    """What is cut: the outlines of this sheet's cuts, and the saw lines of trimming."""
    piece = shown.piece
    trimmed = _all_edges(piece.piece.outline)
    own = [edge for cut in shown.cuts for edge in _all_edges(cut.share)]
    for ring in piece.outline.rings:
        kept = [_lies_on(edge, own) and not _lies_on(edge, trimmed) for edge in edges(ring)]
        yield from _runs(ring, kept, shown.view)
    if shown.waits == "trimming":
        return  # where the saw goes is not known yet
    for ring in piece.piece.outline.rings:
        yield from _runs(ring, [_is_sawn(edge, piece) for edge in edges(ring)], shown.view)


def _is_sawn(edge: Edge[Tile], piece: CutPiece) -> bool:
    """Whether an edge of the piece is none that the maker gave its tile."""
    return maker_side(edge, piece.piece.tile.w, piece.piece.tile.h) is None


def trimmed_edges(piece: CutPiece) -> list[Edge[Tile]]:
    """The edges of the trimmed piece that the saw makes: those that the maker did not."""
    return [edge for edge in _all_edges(piece.piece.outline) if _is_sawn(edge, piece)]


def _runs(ring: Ring[Tile], kept: list[bool], view: Bounds) -> Iterator[Mark[Tile]]:
    """The kept edges of a ring, joined where they follow each other."""
    row = edges(ring)
    circle = as_circle(ring)
    if all(kept):
        if circle is not None:
            yield from clipped_circle(CircleMark(circle[0], circle[1], Role.CUT), view)
        else:
            yield from clipped(Stroke(ring.vertices, Role.CUT, closed=True), view)
        return
    first = kept.index(False)
    path: list[Vertex] = []
    for step in range(1, len(row) + 1):
        edge = row[(first + step) % len(row)]
        if kept[(first + step) % len(row)]:
            start = Vertex(edge[0], edge[1], edge.bulge)
            path = [*path[:-1], start] if path else [start]
            path.append(Vertex(edge[2], edge[3]))
        elif path:
            yield from clipped(Stroke(tuple(path), Role.CUT), view)
            path = []


def _past_the_edge(shown: Subject) -> Iterator[Mark[Tile]]:
    """How the arc of a bite goes on past the tile's edge, narrow: there the edge comes to lie where it goes deeper."""
    if shown.stopped:
        return
    for cut in shown.cuts:
        shape = cut.opening.shape
        if not (is_bite(cut) and isinstance(shape, Circle)):
            continue
        (over,) = cut.runs_out
        radius, out = shape.d / 2, -cut.from_edges[over]
        further = max(out - _PAST_EDGE, 0.0)
        if out - further < TOUCH:
            # Half of the circle is in the tile: of the other half nothing comes to lie at an edge that it is cut at.
            continue
        bulge = math.tan((math.asin(out / radius) - math.asin(further / radius)) / 4)
        for way in (-1.0, 1.0):
            ends = (
                _on_arc(cut, over, -deep, way * math.sqrt(radius**2 - deep**2), bulge=way * bulge)
                for deep in (out, further)
            )
            yield from clipped(Stroke(tuple(ends), Role.MEASURE), shown.view)


def _on_arc(cut: Cut, side: Side, outward: float, along: float, bulge: float) -> Vertex:
    """A place so far from a cut's middle towards a side, and to the right hand of who looks that way."""
    x, y = cut.centre.x, cut.centre.y
    if side.axis == "across":
        return Vertex(x + side.sign * outward, y - side.sign * along, bulge)
    return Vertex(x + side.sign * along, y + side.sign * outward, bulge)


def is_clear_of_cover(cut: Cut) -> bool:
    """Whether what has to stay clear of tile has a line of its own: not where it runs right along the cover's."""
    cover, clear = cut.opening.cover, cut.opening.keep_clear
    if cover is None or clear is None or cover.round != clear.round:
        return True
    return min(abs(cover.w - clear.w), abs(cover.h - clear.h)) / 2 >= TOO_NEAR


def _covers(shown: Subject) -> Iterator[Mark[Tile]]:
    """What will hide each cut, and what has to stay clear of tile for its screws and lugs."""
    to_tile = shown.piece.piece.tile_at.inverse()
    for cut in shown.cuts:
        for hides, role in ((cut.opening.cover, Role.COVER), (cut.opening.keep_clear, Role.KEEP_CLEAR)):
            if hides is None or (role is Role.KEEP_CLEAR and not is_clear_of_cover(cut)):
                continue
            if hides.round:
                yield from clipped_circle(CircleMark(cut.centre, hides.w / 2, role), shown.view)
            else:
                ring = outline_about(cut.opening, hides).moved(to_tile)
                yield from clipped(Stroke(ring.vertices, role, closed=True), shown.view)


def tape_at(piece: CutPiece, registration: Registration) -> Point[Tile]:
    """Where the lines to tape to cross; along an axis that none fixes, the middle of the sheet's first cut."""
    x, y = piece.spots[registration.cuts[0]].centre.x, piece.spots[registration.cuts[0]].centre.y
    for side, at in zip(registration.tape, registration.lines, strict=True):
        line_at = piece.piece.tile.box.at(side) - side.sign * at
        x, y = (line_at, y) if side.axis == "across" else (x, line_at)
    return Point(x, y)


def _all_edges(region: Region[Tile]) -> list[Edge[Tile]]:
    return [edge for ring in region.rings for edge in edges(ring)]


def _lies_on(edge: Edge[Tile], others: list[Edge[Tile]]) -> bool:
    return all(any(touches(other, *place, tolerance=_NEAR) for other in others) for place in places_along(edge))


_PAST_EDGE = 6.0
"""So far past the edge an arc goes on, mm: further than the ticks reach."""
TOO_NEAR = 2.1
"""Lines of different meaning are further apart than this, mm."""
_NEAR = 10 * TOUCH
"""The kernel rounds meetings to TOUCH; an edge on another is within a few of them."""
