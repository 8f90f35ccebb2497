"""The wall check: what to read from the neighbours' edges before the tile is cut."""

from __future__ import annotations

from collections.abc import Sequence

from cutmarks.geometry.edges import XY
from cutmarks.geometry.frames import Point, Tile
from cutmarks.geometry.regions import Region, contains, spans_across, spans_up
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.openings.model import Opening, WallCheck
from cutmarks.openings.outlines import reach
from cutmarks.sides import SIDES, Side
from cutmarks.tiling.layout import Layout
from cutmarks.tiling.model import FixedSides, Piece

LOOK = (2.0, 4.0, 7.0, 11.0, 16.0, 22.0)
"""How far past the tile's own edge a neighbour in another area is looked for, mm: any joint that is laid."""
SQUARE_OVER = 1.0
"""A neighbour's edge is square to the tape if it lies alike this far to both sides, mm."""
PAST = 10 * TOUCH
"""How far inside a neighbour it is looked for, mm, so that rounding cannot put the place beside it."""


def wall_checks(
    opening: Opening, centre: Point[Tile], piece: Piece, layout: Layout, layouts: Sequence[Layout], fixed: FixedSides
) -> tuple[WallCheck, ...]:
    """From each neighbour's edge to the near and the far side of the thing, mm along the tile's own axes.

    Fixed neighbours come first. A neighbour that the thing itself reaches gives no check.
    """
    half_w, half_h = _half_read(opening, piece)
    box = piece.outline.bounds
    found = []
    # Of a tile of its own size set against the one on its right, the corner is not where the grid has it.
    corner = piece.tile_at.then(layout.grid.to_surface.inverse()).xy(0.0, 0.0)
    for side in sorted(SIDES, key=lambda s: s not in (fixed.across, fixed.up)):
        upright = side.axis == "across"
        low, high = (box.min_y, box.max_y) if upright else (box.min_x, box.max_x)
        at = min(max(centre.y if upright else centre.x, low + PAST), high - PAST)
        seen = _neighbour(side, at, piece, corner, layout, layouts)
        if seen is None:
            continue
        name, edge = seen
        middle, half = (centre.x, half_w) if upright else (centre.y, half_h)
        distance = middle - edge if side in ("left", "bottom") else edge - middle
        if distance - half <= TOUCH:
            continue
        found.append(WallCheck(name, side, distance - half, distance + half, side in (fixed.across, fixed.up)))
    return tuple(found)


def _half_read(opening: Opening, piece: Piece) -> tuple[float, float]:
    """Half of what a tape reads across the thing, along the tile's axes: as read, or its own outline where turned.

    Nothing of a thing whose size is not known: it is read to its middle.
    """
    if opening.read_size is None:
        return 0.0, 0.0
    if piece.turn == 0:
        return opening.read_size[0] / 2, opening.read_size[1] / 2
    box = opening.thing.moved(piece.tile_at.inverse()).bounds
    return box.width / 2, box.height / 2


def _neighbour(
    side: Side, at: float, piece: Piece, corner: XY, layout: Layout, layouts: Sequence[Layout]
) -> tuple[str, float] | None:
    """(name, coordinate of its facing edge in this piece's Tile frame) of the neighbour on `side` at the level `at`.

    `corner` is where the piece's own corner lies in its area's grid, mm.
    """
    joint = layout.grid.joint
    edge = piece.tile.box.at(side) + side.sign * joint
    u, v = corner
    for level in _levels(at, joint + PAST):
        x, y = _past(side, edge, level, PAST)
        row = layout.row_at(v + y)
        place = (layout.column_at(u + x, row), row)
        shape = layout.shape(place)
        if shape is not None:
            corner_u, corner_v = layout.grid.corner(place)
            if contains(shape, Point(u + x - corner_u, v + y - corner_v)):
                return layout.name(place), edge
    if len(layouts) == 1:
        return None
    piece_box = piece.outline.moved(piece.tile_at).bounds
    for other in layouts:
        if other is layout or not other.on_surface.overlaps(piece_box, LOOK[-1] + other.grid.joint + SQUARE_OVER):
            continue
        found = _in_area(side, at, piece, other)
        if found is not None:
            return found
    return None


def _levels(at: float, aside: float) -> tuple[float, ...]:
    """Where along a side a neighbour is looked for: at the thing's own level, or `aside`, past a joint that lies there.

    Of a neighbour that may lie turned, 1 mm to both sides is looked at: so far past the joint, that rounding at its
    edge cannot decide whether it is seen.
    """
    return at, at - aside, at + aside


def _past(side: Side, edge: float, at: float, by: float) -> tuple[float, float]:
    """The point `by` mm past an edge, seen from the tile, at the level `at`."""
    past = edge + side.sign * by
    return (past, at) if side.axis == "across" else (at, past)


def _in_area(side: Side, at: float, piece: Piece, other: Layout) -> tuple[str, float] | None:
    """The same in another area, whose tiles may begin anywhere past the end of this piece; its edge must be square."""
    to_grid = piece.tile_at.then(other.grid.to_surface.inverse())
    end = _own_end(side, at, piece)
    for by in LOOK:
        for level in _levels(at, other.grid.joint + 2 * SQUARE_OVER):
            x, y = _past(side, end, level, by)
            u, v = to_grid.xy(x, y)
            row = other.row_at(v)
            neighbour = other.piece((other.column_at(u, row), row))
            if neighbour is None:
                continue
            shape = neighbour.outline.moved(neighbour.tile_at.then(piece.tile_at.inverse()))
            edge = _square_edge(side, shape, x, y)
            if edge is not None:
                return neighbour.name, edge
    return None


def _own_end(side: Side, at: float, piece: Piece) -> float:
    """Where the piece itself ends on a side, at a level of its own; between two parts of it, where it ends at all."""
    box = piece.outline.bounds
    if side.axis == "across":
        spans = spans_across(piece.outline, at) or [(box.min_x, box.max_x)]
    else:
        spans = spans_up(piece.outline, at) or [(box.min_y, box.max_y)]
    return spans[0][0] if side in ("left", "bottom") else spans[-1][1]


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
