"""How thick a region is where it is thinnest: bridges, webs and legs between edges that face each other."""

from __future__ import annotations

import math
from typing import Final, Generic

from msgspec import Struct

from cutmarks.geometry.distance import Nearest, apart, between, edge_gap
from cutmarks.geometry.edges import Arc, Bounds, Edge, foot, heading
from cutmarks.geometry.frames import F, Point
from cutmarks.geometry.near import Near
from cutmarks.geometry.regions import Region, contains
from cutmarks.geometry.rings import edges
from cutmarks.geometry.tolerance import TOUCH


def facing_gap(r: Region[F]) -> float:
    """The least thickness of a region, mm, between any two of its edges that face each other; inf where none do."""
    found = thinnest(r)
    return math.inf if found is None else found.distance


def thinnest(r: Region[F], under: float = math.inf) -> Nearest[F] | None:
    """Where a region is least thick: between two edges that are no neighbours and face each other across it.

    Edges face each other where the line between their nearest places leaves both at no more than FACING off square,
    or from a corner that points at the other. A side, its rounded or cut-off corner and the next side do not.
    None where there are none such less than `under` mm apart; the smaller that is, the fewer edges are looked at.
    """
    placed: list[_Placed[F]] = []
    for n, row in enumerate(map(edges, r.rings)):
        placed += [_Placed(edge, len(placed) + k, n, k, len(row)) for k, edge in enumerate(row)]
    boxes = [box for ring in r.rings for box in ring.near.boxes]
    # Two boxes come within `under` where both, wider by half of that all round, share a place.
    wide = under / 2.0 if under < math.inf else 0.0
    near = Near(Bounds(box[0] - wide, box[1] - wide, box[2] + wide, box[3] + wide) for box in boxes)
    best: Nearest[F] | None = None
    limit = under
    for i, one in enumerate(placed):
        for j in near.within(near.boxes[i], 0.0 if under < math.inf else math.inf):
            other = placed[j]
            if j <= i or one.neighbours(other) or apart(boxes[i], boxes[j]) >= limit:
                continue
            if _runs_on(placed, one, other):
                continue
            found = _across(one.edge, other.edge)
            if found.distance < limit and (found.distance <= TOUCH or _face(placed, one, other, found, r)):
                best, limit = found, found.distance
    return best


FACING: Final = math.cos(math.radians(40))
"""Two edges face each other up to 40 degrees off square: over that they are the sides of a corner."""


class _Placed(Struct, Generic[F], frozen=True):
    """An edge, its place among all, its ring's number, its own in the ring, and how many the ring has."""

    edge: Edge[F]
    place: int
    ring: int
    index: int
    count: int

    def neighbours(self, other: _Placed[F]) -> bool:
        return self.ring == other.ring and (self.index - other.index) % self.count in (1, self.count - 1)


def _runs_on(placed: list[_Placed[F]], one: _Placed[F], other: _Placed[F]) -> bool:
    """Whether two straight edges plainly follow each other, as along a curve: then they do not face each other.

    All ways from the one to the other lie in a cone about the way between their middles; where the whole cone runs so
    far along either edge that no way in it is within FACING of square to it, `_looks` would say no to each.
    """
    a, b = one.edge, other.edge
    if isinstance(a, Arc) or isinstance(b, Arc):
        return False
    x, y = (b.x0 + b.x1 - a.x0 - a.x1) / 2.0, (b.y0 + b.y1 - a.y0 - a.y1) / 2.0
    far, reach = math.hypot(x, y), (a.length + b.length) / 2.0
    if reach >= _ASLANT * far:
        return False
    wide = reach / far
    along = far * (math.sqrt((1.0 - _ASLANT**2) * (1.0 - wide * wide)) + _ASLANT * wide)
    for edge, it in ((a, one), (b, other)):
        run = abs(x * (edge.x1 - edge.x0) + y * (edge.y1 - edge.y0))
        if run >= along * edge.length and _bends_little(placed, it):
            return True
    return False


_ASLANT: Final = math.sin(math.radians(49.5))
"""The sine of how far off an edge's own way what is near square to it must be, half a degree for rounding."""


def _bends_little(placed: list[_Placed[F]], one: _Placed[F]) -> bool:
    """Whether a straight edge meets two straight neighbours, each at a corner of under 40 degrees."""
    first = one.place - one.index
    for step in (-1, 1):
        beside = placed[first + (one.index + step) % one.count].edge
        if isinstance(beside, Arc):
            return False
        dx, dy = one.edge.x1 - one.edge.x0, one.edge.y1 - one.edge.y0
        ex, ey = beside.x1 - beside.x0, beside.y1 - beside.y0
        if dx * ex + dy * ey < FACING * math.hypot(dx, dy) * math.hypot(ex, ey):
            return False
    return True


def _across(a: Edge[F], b: Edge[F]) -> Nearest[F]:
    """The nearest places; for parallel lines those in the middle of where they lie side by side."""
    found = edge_gap(a, b)
    if isinstance(a, Arc) or isinstance(b, Arc):
        return found
    dx, dy = a.x1 - a.x0, a.y1 - a.y0
    bx, by = b.x1 - b.x0, b.y1 - b.y0
    if abs(dx * by - dy * bx) > TOUCH * math.hypot(dx, dy):
        return found
    square = dx * dx + dy * dy
    ends = sorted(((x - a.x0) * dx + (y - a.y0) * dy) / square for x, y in ((b.x0, b.y0), (b.x1, b.y1)))
    low, high = max(0.0, ends[0]), min(1.0, ends[1])
    if low >= high:
        return found
    part = (low + high) / 2.0
    place = a.x0 + part * dx, a.y0 + part * dy
    return between(place, foot(b, *place))


def _face(placed: list[_Placed[F]], one: _Placed[F], other: _Placed[F], found: Nearest[F], r: Region[F]) -> bool:
    """Whether two edges face each other at their nearest places, with the region's own stuff between."""
    a, b = found.on_a, found.on_b
    ux, uy = (b.x - a.x) / found.distance, (b.y - a.y) / found.distance
    if not (_looks(placed, one, a, ux, uy) and _looks(placed, other, b, -ux, -uy)):
        return False
    return contains(r, Point((a.x + b.x) / 2.0, (a.y + b.y) / 2.0))


def _looks(placed: list[_Placed[F]], one: _Placed[F], at: Point[F], ux: float, uy: float) -> bool:
    """Whether the way (ux, uy) is near square to an edge, inward, or both edges of a corner there fall back from it."""
    tangent = _tangent(one.edge, at)
    if _along(tangent + math.pi / 2.0, ux, uy) >= FACING:
        return True
    at_start = math.hypot(at.x - one.edge[0], at.y - one.edge[1]) <= TOUCH
    at_end = math.hypot(at.x - one.edge[2], at.y - one.edge[3]) <= TOUCH
    if not (at_start or at_end):
        return False
    index = (one.index + (1 if at_end else -1)) % one.count
    beside = _tangent(placed[one.place + index - one.index].edge, at)
    forward, backward = (beside, tangent) if at_end else (tangent, beside)
    return max(_along(forward, ux, uy), _along(backward + math.pi, ux, uy)) <= _SQUARE


def _along(way: float, ux: float, uy: float) -> float:
    """The cosine between a direction, radians, and a unit step."""
    return math.cos(way) * ux + math.sin(way) * uy


_SQUARE: Final = 1e-6
"""A corner's edges fall back from a direction when neither leads that way, by the cosine, to rounding."""


def _tangent(edge: Edge[F], at: Point[F]) -> float:
    """The direction of travel at a place of the edge, radians."""
    if isinstance(edge, Arc):
        return math.atan2(at.y - edge.cy, at.x - edge.cx) + math.copysign(math.pi / 2.0, edge.sweep)
    return heading(edge, at_end=False)
