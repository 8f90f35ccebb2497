"""Reading a piece's outline: which way an edge faces, which sides are the maker's, how far a boundary is."""

from __future__ import annotations

from collections.abc import Iterator

from cutmarks.geometry.edges import XY, Arc, Edge, at_angle, distance_to
from cutmarks.geometry.frames import Tile
from cutmarks.geometry.regions import Region
from cutmarks.geometry.rings import edges
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.setout.model import SIDES, Side

DIAGONAL = 1e-9
"""An edge that looks this near to 45 degrees (as a part of its length) looks left or right, whatever rounding says."""
LOOKED_AT = (0.25, 0.75)
"""Where along an edge it is looked at: not in its middle, where a round one may just touch."""


def boundary_distance(shape: Region[Tile], x: float, y: float) -> float:
    """Least distance from a point to any of the shape's boundaries, mm."""
    return min(distance_to(edge, x, y) for ring in shape.rings for edge in edges(ring))


def part_way(edge: Edge[Tile], part: float) -> XY:
    """The place that lies `part` of the way along an edge."""
    if isinstance(edge, Arc):
        return at_angle(edge, abs(edge.sweep) * part)
    return edge.x0 + (edge.x1 - edge.x0) * part, edge.y0 + (edge.y1 - edge.y0) * part


def runs_along(shape: Region[Tile], edge: Edge[Tile]) -> bool:
    """Whether an edge lies on the shape's own boundary for some way, and does not only touch it."""
    return all(boundary_distance(shape, *part_way(edge, part)) <= TOUCH for part in LOOKED_AT)


def facing(edge: Edge[Tile]) -> Side:
    """The side that an edge of a counter-clockwise outline looks towards, by the outward normal of its chord."""
    out_x, out_y = edge.y1 - edge.y0, edge.x0 - edge.x1
    if abs(out_x) >= abs(out_y) * (1.0 - DIAGONAL):
        return "right" if out_x > 0 else "left"
    return "top" if out_y > 0 else "bottom"


def sides_of(shape: Region[Tile], w: float, h: float) -> tuple[tuple[Side, ...], tuple[Side, ...]]:
    """(factory, cut): sides of which any stretch of the maker's edge is left, and sides along which there is a cut."""
    factory: set[Side] = set()
    cut: set[Side] = set()
    for edge, maker in _by_maker(shape, w, h):
        if maker is None:
            cut.add(facing(edge))
        else:
            factory.add(maker)
    return tuple(s for s in SIDES if s in factory), tuple(s for s in SIDES if s in cut)


def _by_maker(shape: Region[Tile], w: float, h: float) -> Iterator[tuple[Edge[Tile], Side | None]]:
    for ring in shape.rings:
        for edge in edges(ring):
            yield edge, maker_side(edge, w, h)


def maker_side(edge: Edge[Tile], w: float, h: float) -> Side | None:
    """The whole tile's side that this straight edge lies on, or None for a cut edge."""
    if isinstance(edge, Arc):
        return None
    x0, y0, x1, y1 = edge
    if abs(x0) <= TOUCH and abs(x1) <= TOUCH:
        return "left"
    if abs(x0 - w) <= TOUCH and abs(x1 - w) <= TOUCH:
        return "right"
    if abs(y0) <= TOUCH and abs(y1) <= TOUCH:
        return "bottom"
    if abs(y0 - h) <= TOUCH and abs(y1 - h) <= TOUCH:
        return "top"
    return None


def sizes_of(shape: Region[Tile]) -> dict[str, float]:
    """Width at the piece's bottom and top, height at its left and right, over all that is there, mm.

    An end that rakes is taken from its one corner to the other.
    """
    return {side: _end_size(shape, side) for side in SIDES}


def _end_size(shape: Region[Tile], side: Side) -> float:
    """The extent, along the end on `side`, of the outermost edges that face it and of those that go on from them."""
    upright = side in ("left", "right")
    box = shape.bounds
    outermost = {"left": box.min_x, "right": box.max_x, "bottom": box.min_y, "top": box.max_y}[side]
    ends: list[float] = []
    for ring in shape.rings:
        for run in _runs_facing(edges(ring), side):
            across = [p[0 if upright else 1] for e in run for p in (e[0:2], e[2:4])]
            if any(abs(at - outermost) <= TOUCH for at in across):
                ends += [p[1 if upright else 0] for e in run for p in (e[0:2], e[2:4])]
    return max(ends) - min(ends) if ends else 0.0


def _runs_facing(row: list[Edge[Tile]], side: Side) -> Iterator[list[Edge[Tile]]]:
    """Each stretch of neighbouring edges of a ring that all face one way."""
    faces = [facing(edge) == side for edge in row]
    if all(faces):
        yield row
        return
    start = faces.index(False)
    run: list[Edge[Tile]] = []
    for k in range(len(row)):
        at = (start + k) % len(row)
        if faces[at]:
            run.append(row[at])
        elif run:
            yield run
            run = []
    if run:
        yield run


def reach(spans: list[tuple[float, float]], at: float) -> tuple[float, float] | None:
    """The span that holds `at`, within a touch; None where it lies in none."""
    for a, b in spans:
        if a - TOUCH <= at <= b + TOUCH:
            return a, b
    return None
