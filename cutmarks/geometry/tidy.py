"""The plainest form of a ring: neighbours on one line or one circle merged, nothing of no length, a fixed start."""

from __future__ import annotations

import math
from collections.abc import Sequence

from cutmarks.geometry.edges import Arc, Edge, Segment, at_angle, bulge_of
from cutmarks.geometry.frames import F
from cutmarks.geometry.rings import Ring, Vertex, edges
from cutmarks.geometry.tolerance import FULL_TURN, SHORTEST, STRAIGHT, TOUCH, WEAR, WIDEST_ARC


def tidied(ring: Ring[F]) -> Ring[F] | None:
    """The same outline in its plainest form, starting at its smallest (x, y); None if nothing is left of it.

    What was plain already keeps its very numbers: arithmetic would only wear at their last digits.
    """
    if ring.plain:
        return ring
    if (disc := ring.disc) is not None:
        return _unless_alike(ring, _disc(*disc, ring.vertices[0].bulge))
    row = edges(ring)
    if len(_merged(row)) == len(row) and all(map(_is_plain, ring.vertices, row)):
        return None if is_thin(ring) else Ring(from_smallest(list(ring.vertices)), plain=True)
    plain = ring_from_edges(row)
    return plain if plain is None else _unless_alike(ring, plain)


def _unless_alike(ring: Ring[F], plain: Ring[F]) -> Ring[F]:
    """The plainest form, with the ring's own numbers where these are the same but for wear."""
    if len(plain.vertices) != len(ring.vertices):
        return plain
    vertices = from_smallest(list(ring.vertices))
    return plain if any(map(_differ, vertices, plain.vertices)) else Ring(vertices, plain=True)


def is_thin(ring: Ring[F]) -> bool:
    """Whether a ring is thinner than TOUCH on average, and so encloses nothing."""
    area = abs(ring.area)
    return area < _AMPLE and area <= TOUCH * ring.length / 2.0


_AMPLE = 1.0
"""A ring of this area, mm2, would have to be two kilometres long to be thin: its length need not be measured."""


def _is_plain(vertex: Vertex, edge: Edge[F]) -> bool:
    return abs(edge.sweep) <= WIDEST_ARC if isinstance(edge, Arc) else vertex.bulge == 0.0


def _differ(a: Vertex, b: Vertex) -> bool:
    return abs(a.x - b.x) > WEAR or abs(a.y - b.y) > WEAR or abs(a.bulge - b.bulge) > WEAR


def place_order(x: float, y: float) -> tuple[int, int]:
    """What places are sorted by: x, then y, told apart no finer than TOUCH."""
    return round(x / TOUCH), round(y / TOUCH)


def from_smallest(vertices: list[Vertex]) -> tuple[Vertex, ...]:
    """The same row from its smallest (x, y) on."""
    start = min(range(len(vertices)), key=lambda k: place_order(*vertices[k][:2]))
    return tuple(vertices[start:] + vertices[:start])


def ring_from_edges(row: Sequence[Edge[F]]) -> Ring[F] | None:
    """A ring of edges that follow each other, in its plainest form; None if it is thinner than TOUCH."""
    merged = _merged(row)
    while True:
        if len(merged) == 1 and isinstance(merged[0], Arc):
            return _circle(merged[0]) if _is_whole(merged[0]) else None
        vertices = [vertex for edge in merged for vertex in _vertices(edge)]
        if len(vertices) < 2:
            return None
        ring: Ring[F] = Ring(from_smallest(vertices), plain=True)
        # Read back, neighbours may turn out to be on one line that were a hair off it with their own numbers.
        again = _merged(edges(ring))
        if len(again) >= len(merged):
            return None if is_thin(ring) else ring
        merged = again


def _vertices(edge: Edge[F]) -> list[Vertex]:
    """An edge as the vertex it leaves, or as two if it is too wide an arc."""
    if isinstance(edge, Segment) or _is_flat(edge):
        return [Vertex(edge.x0, edge.y0)]
    if abs(edge.sweep) > WIDEST_ARC:
        half = bulge_of(edge.sweep / 2.0)
        return [Vertex(edge.x0, edge.y0, half), Vertex(*at_angle(edge, abs(edge.sweep) / 2.0), half)]
    return [Vertex(edge.x0, edge.y0, edge.bulge)]


def _is_flat(arc: Arc[F]) -> bool:
    """Whether its vertices and bulge would be read as a straight line, as `edges.edge_between` reads them."""
    return abs(arc.sweep) < 1.0 and math.hypot(arc.x1 - arc.x0, arc.y1 - arc.y0) * abs(arc.bulge) < 2.0 * STRAIGHT


def _is_whole(arc: Arc[F]) -> bool:
    """Whether an arc comes back to its start, edges aside that were too short to keep."""
    return (FULL_TURN - abs(arc.sweep)) * arc.radius <= 2.0 * SHORTEST


def _circle(arc: Arc[F]) -> Ring[F]:
    return _disc(arc.cx, arc.cy, arc.radius, math.copysign(1.0, arc.sweep))


def _disc(x: float, y: float, radius: float, bulge: float) -> Ring[F]:
    """A whole circle: its leftmost place, and the one across."""
    return Ring((Vertex(x - radius, y, bulge), Vertex(x + radius, y, bulge)), plain=True)


def _merged(row: Sequence[Edge[F]]) -> list[Edge[F]]:
    """Neighbours on one line or circle as one, the last and the first too."""
    kept: list[Edge[F]] = []
    for edge in row:
        if edge.length <= SHORTEST:
            continue
        kept.append(edge)
        while len(kept) > 1 and (one := _one_edge(kept[-2], kept[-1])) is not None:
            kept[-2:] = [one]
    while len(kept) > 1 and (one := _one_edge(kept[-1], kept[0])) is not None:
        kept = [one, *kept[1:-1]] if len(kept) > 2 else [one]
    return kept


def _one_edge(a: Edge[F], b: Edge[F]) -> Edge[F] | None:
    """The edge that two neighbours make together, or None where they differ."""
    if isinstance(a, Arc):
        if not isinstance(b, Arc) or (a.sweep > 0.0) != (b.sweep > 0.0):
            return None
        if abs(a.radius - b.radius) > TOUCH or math.hypot(a.cx - b.cx, a.cy - b.cy) > TOUCH:
            return None
        sweep = a.sweep + b.sweep
        if abs(sweep) > FULL_TURN + TOUCH / a.radius:
            return None
        longer = a if abs(a.sweep) >= abs(b.sweep) else b
        return Arc(a.x0, a.y0, b.x1, b.y1, longer.cx, longer.cy, longer.radius, a.start, sweep)
    if isinstance(b, Arc):
        return None
    dx, dy = b.x1 - a.x0, b.y1 - a.y0
    length = math.hypot(dx, dy)
    ahead = (a.x1 - a.x0) * dx + (a.y1 - a.y0) * dy
    if length <= TOUCH or not 0.0 < ahead < length * length:
        return None  # it doubles back
    off = dx * (a.y1 - a.y0) - dy * (a.x1 - a.x0)
    return Segment(a.x0, a.y0, b.x1, b.y1) if abs(off) <= TOUCH * length else None
