"""Rings: closed rows of lines and arcs, as vertices with bulges.

The edge leaving a vertex has that vertex's bulge, tan(sweep / 4), positive counter-clockwise: the definition of DXF.
A whole circle is two vertices of bulge 1. Rings that enclose something run counter-clockwise, holes clockwise.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from functools import cached_property
from typing import Generic, NamedTuple

from msgspec import Struct

from cutmarks.errors import GeometryError
from cutmarks.geometry.edges import (
    XY,
    Arc,
    Bounds,
    Edge,
    Segment,
    edge_between,
    edge_bounds,
    heading,
    segment_area,
    touches,
)
from cutmarks.geometry.frames import F, G, Placement, Point
from cutmarks.geometry.meetings import meetings
from cutmarks.geometry.near import FEW, Near
from cutmarks.geometry.tolerance import CUSP, FULL_TURN, SHORTEST, TOUCH

__all__ = [
    "Arc",
    "Bounds",
    "Edge",
    "Ring",
    "Segment",
    "Vertex",
    "as_circle",
    "edge_between",
    "edge_bounds",
    "edges",
    "polygon",
    "self_crossing",
]


class Vertex(NamedTuple):
    """A corner of a ring, mm, and the bulge of the edge that leaves it."""

    x: float
    y: float
    bulge: float = 0.0


class Ring(Struct, Generic[F], frozen=True, dict=True):
    """A closed outline in frame F; the first vertex is not repeated at the end.

    What is worked out of it is kept with it: its edges, area and bounds are asked for again and again. `plain` says
    that it is known to be in its plainest form (`tidy.tidied`), which need not be looked for again.

    Raises GeometryError for fewer than two vertices or a number that is not finite. Whether it crosses itself is
    looked at where it becomes a region (`regions.region`), or by `self_crossing`.
    """

    vertices: tuple[Vertex, ...]
    plain: bool = False

    def __post_init__(self) -> None:
        if len(self.vertices) < 2:
            raise GeometryError(f"an outline has {len(self.vertices)} vertex; give at least 2 (a circle) or 3 corners")
        if not math.isfinite(sum([x + y + bulge for x, y, bulge in self.vertices])):
            self._complain()

    def __eq__(self, other: object) -> bool:
        # `plain` says what is known of the vertices, which are the same with or without.
        return isinstance(other, Ring) and self.vertices == other.vertices

    def __hash__(self) -> int:
        return hash(self.vertices)

    def _complain(self) -> None:
        """Say which vertex has no finite numbers; a sum that ran over from finite ones is too large anyway."""
        bad = next((v for v in self.vertices if not all(map(math.isfinite, v))), self.vertices[0])
        raise GeometryError(
            f"a vertex of an outline is ({bad[0]}, {bad[1]}) with bulge {bad[2]}; all three must be ordinary numbers"
        )

    @cached_property
    def area(self) -> float:
        """Exact, arcs included, mm2; positive where the ring runs counter-clockwise."""
        # Measured from the first vertex, so that a ring far from the origin loses no digits.
        x0, y0, _ = self.vertices[0]
        total = 0.0
        last_x, last_y, last_bulge = self.vertices[-1]
        for x, y, bulge in self.vertices:
            total += ((last_x - x0) * (y - y0) - (last_y - y0) * (x - x0)) / 2.0
            if last_bulge:
                total += segment_area(math.hypot(x - last_x, y - last_y), last_bulge)
            last_x, last_y, last_bulge = x, y, bulge
        return total

    @cached_property
    def disc(self) -> tuple[float, float, float] | None:
        """The middle's x and y and the radius, mm, where it is two halves of one circle; None of any other ring.

        Most rings of a job are such, and what is asked of a circle has a closed form.
        """
        if len(self.vertices) != 2:
            return None
        (ax, ay, bulge), (bx, by, other) = self.vertices
        radius = math.hypot(bx - ax, by - ay) / 2.0
        if bulge != other or abs(bulge) != 1.0 or radius <= SHORTEST:
            return None
        return (ax + bx) / 2.0, (ay + by) / 2.0, radius

    @cached_property
    def bounds(self) -> Bounds:
        """Exact, arcs included, mm."""
        if (disc := self.disc) is not None:
            x, y, radius = disc
            return Bounds(x - radius, y - radius, x + radius, y + radius)
        xs, ys = [v[0] for v in self.vertices], [v[1] for v in self.vertices]
        if any(v[2] for v in self.vertices):
            boxes = self.near.boxes
            xs += [x for box in boxes for x in (box[0], box[2])]
            ys += [y for box in boxes for y in (box[1], box[3])]
        return Bounds(min(xs), min(ys), max(xs), max(ys))

    @cached_property
    def upright_box(self) -> Bounds | None:
        """Its bounds where it is a rectangle with level and plumb sides, counter-clockwise, mm; else None."""
        return self.rectangle if self.area > 0.0 else None

    @cached_property
    def rectangle(self) -> Bounds | None:
        """Its bounds where it is a rectangle with level and plumb sides, whichever way it runs, mm; else None."""
        if len(self.vertices) != 4 or any(vertex[2] for vertex in self.vertices):
            return None
        a, b, c, d = self.vertices
        level_first = a[1] == b[1] and b[0] == c[0] and c[1] == d[1] and d[0] == a[0]
        plumb_first = a[0] == b[0] and b[1] == c[1] and c[0] == d[0] and d[1] == a[1]
        return self.bounds if level_first or plumb_first else None

    @cached_property
    def length(self) -> float:
        """All the way round, mm."""
        return math.fsum(edge.length for edge in edges(self))

    @cached_property
    def _edges(self) -> tuple[Edge[F], ...]:
        vs = self.vertices
        return tuple([edge_between(a[0], a[1], b[0], b[1], a[2]) for a, b in zip(vs, vs[1:] + vs[:1], strict=True)])

    @cached_property
    def near(self) -> Near:
        """Which of its edges come near a place, by their numbers."""
        return Near(map(edge_bounds, self._edges))

    @cached_property
    def _circle(self) -> tuple[Point[F], float] | None:
        if (disc := self.disc) is not None:
            return Point(disc[0], disc[1]), disc[2]
        return _circle(self._edges)

    @cached_property
    def _crossing(self) -> Point[F] | None:
        return None if self.disc is not None else _first_crossing(self._edges, TOUCH)

    @property
    def rounded(self) -> tuple[tuple[float, float, float], ...]:
        """Each vertex to a millionth of a mm, its bulge to nine places: as far as either decides.

        It is asked for twice or three times, early; kept, it would be as large as the ring.
        """
        return tuple([(round(x, 6), round(y, 6), round(bulge, 9)) for x, y, bulge in self.vertices])

    @cached_property
    def turned_over(self) -> Ring[F]:
        """The ring with x and y changed over; which way it runs changes too."""
        return Ring(tuple(Vertex(v.y, v.x, 0.0 - v.bulge) for v in self.vertices))

    def reversed(self) -> Ring[F]:
        """The same outline, run the other way."""
        return Ring(tuple(Vertex(here[0], here[1], 0.0 - before[2]) for before, here in self._backward()))

    def moved(self, placement: Placement[F, G]) -> Ring[G]:
        """The outline in another frame; it keeps its sense, a mirrored placement running it the other way round."""
        made: Ring[G]
        if not placement.mirrored:
            c, s, dx, dy = placement.cos, placement.sin, placement.dx, placement.dy
            made = Ring(tuple([Vertex(c * x - s * y + dx, s * x + c * y + dy, b) for x, y, b in self.vertices]))
        else:
            # Mirroring turns every bulge's sign and running the other way turns it back: only places change hands.
            made = Ring(tuple(Vertex(*placement.xy(here[0], here[1]), before[2]) for before, here in self._backward()))
        if len(self.vertices) > FEW and self.__dict__.get("_crossing", self) is None:
            made.__dict__["_crossing"] = None  # A long outline that is known to be free of itself stays so.
        return made

    def bounds_in(self, placement: Placement[F, G]) -> Bounds:
        """The bounds that it has in another frame, mm, without the ring itself where it is a circle."""
        if (disc := self.disc) is None:
            return self.moved(placement).bounds
        (x, y), radius = placement.xy(disc[0], disc[1]), disc[2]
        return Bounds(x - radius, y - radius, x + radius, y + radius)

    def _backward(self) -> list[tuple[Vertex, Vertex]]:
        """Each vertex with the one before it, from the last to the first: the edge between them then leaves it."""
        vs = self.vertices
        return list(zip(vs[-1:] + vs[:-1], vs, strict=True))[::-1]


def polygon(points: Iterable[tuple[float, float]]) -> Ring[F]:
    """The ring with straight sides through these places, mm, in their order."""
    return Ring(tuple(Vertex(x, y) for x, y in points))


def edges(ring: Ring[F]) -> tuple[Edge[F], ...]:
    """The ring's edges in order; the first leaves the first vertex. An edge may have no length."""
    return ring._edges


def as_circle(ring: Ring[F]) -> tuple[Point[F], float] | None:
    """Centre and radius, mm, if the ring is one whole circle within TOUCH; else None."""
    return ring._circle


def _circle(row: Iterable[Edge[F]]) -> tuple[Point[F], float] | None:
    first: Arc[F] | None = None
    sweep = 0.0
    for edge in row:
        if isinstance(edge, Segment):
            if edge.length > TOUCH:
                return None
            continue
        if first is None:
            first = edge
        elif math.hypot(edge.cx - first.cx, edge.cy - first.cy) > TOUCH or abs(edge.radius - first.radius) > TOUCH:
            return None
        sweep += edge.sweep
    if first is None or abs(abs(sweep) - FULL_TURN) * first.radius > TOUCH:
        return None
    return first.centre, first.radius


def self_crossing(ring: Ring[F], tolerance: float = TOUCH) -> Point[F] | None:
    """The first place, along the ring, where it crosses, touches or doubles back on itself; None where it does not.

    Coming within `tolerance` mm of itself is touching; a neighbour may be near its corner.
    """
    return ring._crossing if tolerance == TOUCH else _first_crossing(ring._edges, tolerance)


def _first_crossing(every: Iterable[Edge[F]], tolerance: float) -> Point[F] | None:
    row = [edge for edge in every if edge.length > SHORTEST]
    if _plainly_convex(row):
        return None
    near = Near(map(edge_bounds, row))
    count = len(row)
    for i, edge in enumerate(row):
        for j in near.within(near.boxes[i], tolerance):
            if j <= i:
                continue
            shared: list[XY] = []
            if j == i + 1:
                shared.append((edge[2], edge[3]))
            if (j + 1) % count == i:
                shared.append((edge[0], edge[1]))
            for x, y in meetings(edge, row[j], tolerance):
                if not any(_is_one_corner(edge, row[j], at, (x, y)) for at in shared):
                    return Point(x, y)
    return None


def _is_one_corner(a: Edge[F], b: Edge[F], corner: XY, place: XY) -> bool:
    """Whether a meeting of neighbours is only their corner, or the end of a cusp: tangent edges part slowly."""
    apart = math.hypot(place[0] - corner[0], place[1] - corner[1])
    if apart <= SHORTEST:
        return True
    between = (place[0] + corner[0]) / 2.0, (place[1] + corner[1]) / 2.0
    return apart <= CUSP and touches(a, *between, SHORTEST) and touches(b, *between, SHORTEST)


def _plainly_convex(row: list[Edge[F]]) -> bool:
    """Whether the ring turns one way only and once round, which proves it simple at little cost."""
    total = 0.0
    sense = 0.0
    if not row:
        return False
    last = row[-1]
    last_turn = heading(last, at_end=True)
    for edge in row:
        turn = (heading(edge, at_end=False) - last_turn + math.pi) % FULL_TURN - math.pi
        if abs(turn) > _SHARPEST:
            return False
        sweep = edge.sweep if isinstance(edge, Arc) else 0.0
        for part in (turn, sweep):
            if abs(part) <= _LEVEL:
                continue
            if sense * part < 0.0:
                return False
            sense = part
        total += turn + sweep
        last_turn = heading(edge, at_end=True)
    return abs(abs(total) - FULL_TURN) < 1.0


_SHARPEST = math.radians(179)
"""A corner sharper than this is looked at edge by edge."""

_LEVEL = 1e-12
"""A turn of less than this, radians, is none: a circle's halves join by rounding."""
