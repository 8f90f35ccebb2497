"""Openings carried on to the edge of the tile: a U cut over one edge, an L cut over a corner, a slot to slide along.

A hole near an edge leaves a bridge that cracks; carried on to the edge it leaves none. The sides run straight from the
hole's round end, tangent to it and along the tile's own sides. What is carried on has to be convex: a circle, a box or
a slot, leaning or not.
"""

from __future__ import annotations

from collections.abc import Sequence

from cutmarks.geometry.edges import Arc, Bounds, travelled
from cutmarks.geometry.frames import F, Placement, Point
from cutmarks.geometry.regions import Region, region, union
from cutmarks.geometry.rings import Ring, edges, polygon
from cutmarks.geometry.tidy import is_thin
from cutmarks.sides import Side


def carried_on(ring: Ring[F], sides: Sequence[Side], box: Bounds) -> Region[F]:
    """The outline and all that lies between it and one side of `box`, or two sides that meet: a U cut, or an L cut.

    Raises ValueError where the sides are not one, or two that meet at a corner.
    """
    if len(sides) == 1:
        return _with(ring, polygon(_to_side(ring, sides[0], box)))
    if len(sides) == 2 and sides[1] in sides[0].beside:
        return _with(ring, polygon(_to_corner(ring, sides[0], sides[1], box)))
    raise ValueError(f"a cut opens to one side, or to two that meet, not to {' and '.join(sides)}")


def swept(ring: Ring[F], side: Side, by: float) -> Region[F]:
    """The outline and all that it passes over when it is moved `by` mm towards a side, along the frame's axes."""
    dx, dy = side.step[0] * by, side.step[1] * by
    step: Placement[F, F] = Placement.shift(dx, dy)
    first, second = (farthest(ring, beside) for beside in side.beside)
    corners = [(first.x, first.y), (second.x, second.y)]
    between: Ring[F] = polygon([*corners, *((x + dx, y + dy) for x, y in reversed(corners))])
    return union(_with(ring, between), region(ring.moved(step)))


def _with(ring: Ring[F], more: Ring[F]) -> Region[F]:
    """The outline and what is carried on from it; the outline alone where it reaches the edge already."""
    return region(ring) if is_thin(more) else union(region(ring), region(more))


def farthest(ring: Ring[F], side: Side) -> Point[F]:
    """The place of an outline that lies farthest towards a side; the first of them along the outline."""
    dx, dy = side.step
    places = [(v.x, v.y) for v in ring.vertices]
    for edge in edges(ring):
        if isinstance(edge, Arc):
            out = (edge.cx + dx * edge.radius, edge.cy + dy * edge.radius)
            if travelled(edge, *out) <= abs(edge.sweep):
                places.append(out)
    return Point(*max(places, key=lambda xy: xy[0] * dx + xy[1] * dy))


def _to_side(ring: Ring[F], side: Side, box: Bounds) -> list[tuple[float, float]]:
    """From the two places where the sides of a U cut begin to the edge."""
    first, second = (farthest(ring, beside) for beside in side.beside)
    ends = [_at_edge(point, side, box) for point in (second, first)]
    return _in_order([(first.x, first.y), (second.x, second.y), *ends])


def _to_corner(ring: Ring[F], a: Side, b: Side, box: Bounds) -> list[tuple[float, float]]:
    """From the two places where the sides of an L cut begin to both edges and the corner between them."""
    from_b = farthest(ring, b.opposite)  # the side towards `a` begins at the place farthest from b
    from_a = farthest(ring, a.opposite)
    end_a, end_b = _at_edge(from_b, a, box), _at_edge(from_a, b, box)
    corner = (end_a[0], end_b[1]) if a.axis == "across" else (end_b[0], end_a[1])
    return _in_order([(from_a.x, from_a.y), (from_b.x, from_b.y), end_a, corner, end_b])


def _at_edge(point: Point[F], side: Side, box: Bounds) -> tuple[float, float]:
    """Straight on from a place to the side of the box; the place itself where it lies beyond."""
    out = side.sign * max(side.sign * box.at(side), side.sign * (point.x if side.axis == "across" else point.y))
    return (out, point.y) if side.axis == "across" else (point.x, out)


def _in_order(corners: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """Once round, each place once."""
    return list(dict.fromkeys(corners))
