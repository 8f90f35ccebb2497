"""Reading a piece's outline: which way an edge faces, which sides are the maker's, how far a boundary is."""

from __future__ import annotations

from collections.abc import Iterator

from cutmarks.geometry.edges import Arc, Edge, distance_to
from cutmarks.geometry.frames import Tile
from cutmarks.geometry.regions import Region, spans_across, spans_up
from cutmarks.geometry.rings import edges
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.setout.model import SIDES, Side

SIZES_DIFFER = 1.0
"""Two sizes of a piece are worth saying from this difference on, mm."""


def boundary_distance(shape: Region[Tile], x: float, y: float) -> float:
    """Least distance from a point to any of the shape's boundaries, mm."""
    return min(distance_to(edge, x, y) for ring in shape.rings for edge in edges(ring))


def facing(edge: Edge[Tile]) -> Side:
    """The side that an edge of a counter-clockwise outline looks towards, by the outward normal of its chord."""
    out_x, out_y = edge.y1 - edge.y0, edge.x0 - edge.x1
    if abs(out_x) >= abs(out_y):
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
    """Width at the piece's bottom and top, height at its left and right, over all that is there, mm."""
    box = shape.bounds
    return {
        "bottom": _over(spans_across(shape, box.min_y, side="above")),
        "top": _over(spans_across(shape, box.max_y, side="below")),
        "left": _over(spans_up(shape, box.min_x, side="right")),
        "right": _over(spans_up(shape, box.max_x, side="left")),
    }


def _over(spans: list[tuple[float, float]]) -> float:
    return spans[-1][1] - spans[0][0] if spans else 0.0


def reach(spans: list[tuple[float, float]], at: float) -> tuple[float, float] | None:
    """The span that holds `at`, within a touch; None where it lies in none."""
    for a, b in spans:
        if a - TOUCH <= at <= b + TOUCH:
            return a, b
    return None
