"""Reading a piece's outline: which way an edge faces, which sides are the maker's, how far a boundary is."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from cutmarks.geometry.edges import XY, Arc, Edge, at_angle, distance_to
from cutmarks.geometry.frames import F, Tile
from cutmarks.geometry.regions import Region, touches_boundary, upright_box
from cutmarks.geometry.rings import edges
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.sides import SIDES, FourSides, Side

DIAGONAL = 1e-9
"""An edge that looks this near to 45 degrees (as a part of its length) looks left or right, whatever rounding says."""
LOOKED_AT = (0.25, 0.75)
"""Where along an edge it is looked at: not in its middle, where a round one may just touch."""

RAKE = 20.0
"""An end that is out of level or plumb by more, degrees, has no size of its own: it is one more cut. Common practice,
no published figure."""
_RAKE_SLOPE = math.tan(math.radians(RAKE))


def is_rake(dx: float, dy: float) -> bool:
    """Whether a line runs along a side of the tile, or rakes from it by no more than RAKE; else it lies aslant."""
    return min(abs(dx), abs(dy)) <= _RAKE_SLOPE * max(abs(dx), abs(dy))


def boundary_distance(shape: Region[Tile], x: float, y: float) -> float:
    """Least distance from a point to any of the shape's boundaries, mm."""
    return min(distance_to(edge, x, y) for ring in shape.rings for edge in edges(ring))


def part_way(edge: Edge[Tile], part: float) -> XY:
    """The place that lies `part` of the way along an edge."""
    if isinstance(edge, Arc):
        return at_angle(edge, abs(edge.sweep) * part)
    return edge.x0 + (edge.x1 - edge.x0) * part, edge.y0 + (edge.y1 - edge.y0) * part


def places_along(edge: Edge[Tile]) -> list[XY]:
    """Where an edge is looked at, to tell whether it lies on another."""
    return [part_way(edge, part) for part in LOOKED_AT]


def runs_along(shape: Region[Tile], edge: Edge[Tile]) -> bool:
    """Whether an edge lies on the shape's own boundary for some way, and does not only touch it."""
    return all(touches_boundary(shape, *place) for place in places_along(edge))


def facing(edge: Edge[F]) -> Side:
    """The side that an edge of a counter-clockwise outline looks towards, by the outward normal of its chord."""
    out_x, out_y = edge.y1 - edge.y0, edge.x0 - edge.x1
    if abs(out_x) >= abs(out_y) * (1.0 - DIAGONAL):
        return Side.RIGHT if out_x > 0 else Side.LEFT
    return Side.TOP if out_y > 0 else Side.BOTTOM


def sides_of(shape: Region[Tile], w: float, h: float) -> tuple[tuple[Side, ...], tuple[Side, ...]]:
    """(factory, cut): sides of which any stretch of the maker's edge is left, and sides along which there is a cut."""
    if upright_box(shape) == (0.0, 0.0, w, h):
        return SIDES, ()
    factory: set[Side] = set()
    cut: set[Side] = set()
    for ring in shape.rings:
        for edge in edges(ring):
            maker = maker_side(edge, w, h)
            if maker is None:
                cut.add(facing(edge))
            else:
                factory.add(maker)
    return tuple([s for s in SIDES if s in factory]), tuple([s for s in SIDES if s in cut])


def maker_side(edge: Edge[Tile], w: float, h: float) -> Side | None:
    """The whole tile's side that this straight edge lies on, or None for a cut edge."""
    if isinstance(edge, Arc):
        return None
    x0, y0, x1, y1 = edge
    if abs(x0) <= TOUCH and abs(x1) <= TOUCH:
        return Side.LEFT
    if abs(x0 - w) <= TOUCH and abs(x1 - w) <= TOUCH:
        return Side.RIGHT
    if abs(y0) <= TOUCH and abs(y1) <= TOUCH:
        return Side.BOTTOM
    if abs(y0 - h) <= TOUCH and abs(y1 - h) <= TOUCH:
        return Side.TOP
    return None


def sizes_of(shape: Region[Tile]) -> FourSides[float]:
    """Width along the piece's lowest and highest level, height along its leftmost and rightmost plumb line, mm.

    Each is how far the outline reaches along that line: 0 where it only touches it, in a point or with an arc. An end
    that rakes from side to side is taken from its one corner to the other, along the tile's own axis: one straight
    edge within `RAKE` degrees of the line, or several in a row where it was read to have a kink, between two sides
    within as much of square to it.
    """
    return FourSides.of(lambda side: _end_size(shape, side))


def _end_size(shape: Region[Tile], side: Side) -> float:
    upright = side.axis == "across"
    across, along = (0, 1) if upright else (1, 0)
    box = shape.bounds
    outermost = box.at(side)
    there = [v[along] for ring in shape.rings for v in ring.vertices if abs(v[across] - outermost) <= TOUCH]
    level = max(there) - min(there) if there else 0.0
    if level > TOUCH:
        return level
    beside = side.beside
    for ring in shape.rings:
        for before, run, after in _runs_facing(edges(ring), side):
            corners = [edge[0:2] for edge in run] + [run[-1][2:4]]
            if (
                any(abs(corner[across] - outermost) <= TOUCH for corner in corners)
                and nearly_facing(before) in beside
                and nearly_facing(after) in beside
            ):
                return abs(corners[-1][along] - corners[0][along])
    return 0.0


def _runs_facing(row: Sequence[Edge[Tile]], side: Side) -> Iterator[tuple[Edge[Tile], list[Edge[Tile]], Edge[Tile]]]:
    """The edges of a ring that follow each other and all nearly face a side, with the edge before and the one after."""
    faces = [nearly_facing(edge) == side for edge in row]
    for start, here in enumerate(faces):
        if not here or faces[start - 1]:
            continue
        run = [row[start]]
        after = start + 1
        while faces[after % len(row)]:
            run.append(row[after % len(row)])
            after += 1
        yield row[start - 1], run, row[after % len(row)]


def nearly_facing(edge: Edge[F]) -> Side | None:
    """The side that a straight edge faces where it rakes by `RAKE` degrees at most; None for any other edge."""
    if isinstance(edge, Arc):
        return None
    wide, high = abs(edge.x1 - edge.x0), abs(edge.y1 - edge.y0)
    return facing(edge) if is_rake(wide, high) else None
