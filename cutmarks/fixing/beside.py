"""The piece beside a piece: right past the joint in its own area, or in another area that begins there."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct

from cutmarks.geometry.frames import Point, Tile
from cutmarks.geometry.regions import Region, contains, spans_across, spans_up
from cutmarks.geometry.spans import reach
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.sides import Side
from cutmarks.tiling.layout import Layout
from cutmarks.tiling.model import Piece, Place

LOOK = (2.0, 4.0, 7.0, 11.0, 16.0, 22.0, 30.0, 40.0, 55.0, 75.0, 100.0)
"""How far past the tile's own edge a neighbour in another area is looked for, mm, step by step."""
USUAL = 22.0
"""So far at least, mm: any joint that is usual."""
SQUARE_OVER = 1.0
"""A neighbour's edge is square to the tape if it lies alike this far to both sides, mm."""
PAST = 10 * TOUCH
"""How far inside a neighbour it is looked for, mm, so that rounding cannot put the place beside it."""


class Neighbour(Struct, frozen=True):
    """A piece beside another: where it is, its name, and its facing edge in the other's Tile frame, mm."""

    layout: Layout
    place: Place
    name: str
    edge: float


def neighbour(side: Side, at: float, piece: Piece, layout: Layout, layouts: Sequence[Layout]) -> Neighbour | None:
    """The neighbour of a piece on `side` at the level `at` along that side, mm; None where nothing is fixed there."""
    edge = piece.tile.box.at(side) + side.sign * layout.grid.joint
    # Of a tile of its own size set against the one on its right, the corner is not where the grid has it.
    u, v = layout.from_surface.xy(piece.tile_at.dx, piece.tile_at.dy)
    for level in _levels(at, layout.grid.joint + PAST):
        x, y = past(side, edge, level, PAST)
        row = layout.row_at(v + y)
        place = (layout.column_at(u + x, row), row)
        if side.axis == "across" and row != piece.place[1]:
            continue  # beside the end of a course lies the next one, whose tiles begin elsewhere
        shape = layout.shape(place)
        if shape is not None:
            corner_u, corner_v = layout.grid.corner(place)
            if contains(shape, Point(u + x - corner_u, v + y - corner_v)):
                return Neighbour(layout, place, layout.name(place), edge)
    piece_box = piece.outline.moved(piece.tile_at).bounds
    for other in layouts:
        far = most_apart(layout.grid.joint, other.grid.joint)
        if other is layout or not other.on_surface.overlaps(piece_box, far + other.grid.joint + SQUARE_OVER):
            continue
        found = _in_area(side, at, piece, other, far)
        if found is not None:
            return found
    return None


def most_apart(*joints: float) -> float:
    """How far apart two areas may lie and face each other across a joint, mm: twice the wider of their own.

    What lies further off has something else between.
    """
    return max(USUAL, 2.0 * max(joints))


def past(side: Side, edge: float, at: float, by: float) -> tuple[float, float]:
    """The point `by` mm past an edge, seen from the tile, at the level `at`."""
    beyond = edge + side.sign * by
    return (beyond, at) if side.axis == "across" else (at, beyond)


def own_end(side: Side, at: float, piece: Piece) -> float:
    """Where the piece itself ends on a side, at a level of its own; between two parts of it, where it ends at all."""
    box = piece.outline.bounds
    if side.axis == "across":
        spans = spans_across(piece.outline, at) or [(box.min_x, box.max_x)]
    else:
        spans = spans_up(piece.outline, at) or [(box.min_y, box.max_y)]
    return spans[0][0] if side in ("left", "bottom") else spans[-1][1]


def _levels(at: float, aside: float) -> tuple[float, ...]:
    """Where along a side a neighbour is looked for: at the thing's own level, or `aside`, past a joint that lies there.

    Of a neighbour that may lie turned, 1 mm to both sides is looked at: so far past the joint, that rounding at its
    edge cannot decide whether it is seen.
    """
    return at, at - aside, at + aside


def _in_area(side: Side, at: float, piece: Piece, other: Layout, far: float) -> Neighbour | None:
    """The same in another area, whose tiles may begin anywhere past the end of this piece; its edge must be square."""
    to_grid = piece.tile_at.then(other.grid.to_surface.inverse())
    end = own_end(side, at, piece)
    for by in (by for by in LOOK if by <= far):
        for level in _levels(at, other.grid.joint + 2 * SQUARE_OVER):
            x, y = past(side, end, level, by)
            u, v = to_grid.xy(x, y)
            row = other.row_at(v)
            beside = other.piece((other.column_at(u, row), row))
            if beside is None:
                continue
            shape = beside.outline.moved(beside.tile_at.then(piece.tile_at.inverse()))
            edge = _square_edge(side, shape, x, y)
            if edge is not None:
                return Neighbour(other, beside.place, beside.name, edge)
    return None


def _square_edge(side: Side, shape: Region[Tile], x: float, y: float) -> float | None:
    """The coordinate of the edge that a shape round (x, y) turns to the piece; None where that edge is not square."""
    found: list[float] = []
    for step in (0.0, -SQUARE_OVER, SQUARE_OVER):
        upright = side.axis == "across"
        spans = spans_across(shape, y + step) if upright else spans_up(shape, x + step)
        span = reach(spans, x if upright else y)
        if span is None:
            return None
        found.append(span[1] if side in ("left", "bottom") else span[0])
    return found[0] if max(found) - min(found) <= PAST else None
