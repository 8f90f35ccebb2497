"""Inside corners made round: the arc of a given radius that touches both edges of a corner, exact.

An inside corner is one that what is enclosed goes round by more than half a turn: there a jet or a drill leaves a
radius, and a crack would start without one. The arc lies in what is cut out, so that tile is left in the corner.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Generic

from msgspec import Struct

from cutmarks.geometry.edges import Arc, Bounds, Edge, bulge_of, distance_to, heading
from cutmarks.geometry.frames import F, Point
from cutmarks.geometry.regions import Region, canonical
from cutmarks.geometry.rings import Ring, Vertex, edges
from cutmarks.geometry.tolerance import FULL_TURN, TOUCH

SHARP = math.radians(1.0)
"""A corner that turns by less is none: its edges run on, as along a curve."""


class InsideTurn(Struct, Generic[F], frozen=True):
    """A sharp inside corner of a region, by the numbers of its ring and of the edge that leaves it.

    before, after  the edges that meet there.
    turn           how far the outline turns to the right there, radians.
    """

    ring: int
    edge: int
    at: Point[F]
    before: Edge[F]
    after: Edge[F]
    turn: float

    def reach(self, radius: float) -> float:
        """How far from the corner an arc of this radius touches both edges, mm; inf where they are not straight."""
        if isinstance(self.before, Arc) or isinstance(self.after, Arc):
            return math.inf
        return radius * math.tan(self.turn / 2.0)

    def middle(self, radius: float) -> Point[F]:
        """The middle of the circle that touches both edges, in what is cut out: to the right of either."""
        on = heading(self.after, at_end=False)
        far = self.reach(radius)
        x, y = self.at.x + far * math.cos(on), self.at.y + far * math.sin(on)
        return Point(x + radius * math.sin(on), y - radius * math.cos(on))


class Rounded(Struct, Generic[F], frozen=True):
    """A region with its inside corners round; `fits` has those that are, `sharp` those in which there is no room."""

    region: Region[F]
    fits: tuple[InsideTurn[F], ...]
    sharp: tuple[InsideTurn[F], ...]


def inside_turns(r: Region[F]) -> tuple[InsideTurn[F], ...]:
    """The sharp inside corners of a region, in the order of its rings."""
    found: list[InsideTurn[F]] = []
    for n, ring in enumerate(r.rings):
        row = edges(ring)
        for k, edge in enumerate(row):
            before = row[k - 1]
            turn = heading(edge, at_end=False) - heading(before, at_end=True)
            right = -((turn + math.pi) % FULL_TURN - math.pi)
            if right > SHARP and edge.length > TOUCH and before.length > TOUCH:
                found.append(InsideTurn(n, k, Point(edge.x0, edge.y0), before, edge, right))
    return tuple(found)


def rounded(r: Region[F], radius: float) -> Rounded[F]:
    """The region with each inside corner rounded by `radius` mm where that has room.

    It has room where the arc meets both edges within their length, with what the arc at their other end takes, and
    where the whole circle lies in what is cut out. Where an edge meets a curve the corner stays as it is.
    """
    turns = inside_turns(r)
    fits = _with_room(r, turns, radius)
    round_ones = tuple(turn for turn in turns if turn in fits)
    sharp = tuple(turn for turn in turns if turn not in fits)
    return Rounded(canonical(_put_in(r, round_ones, radius)) if round_ones else r, round_ones, sharp)


def _with_room(r: Region[F], turns: Sequence[InsideTurn[F]], radius: float) -> set[InsideTurn[F]]:
    """The corners whose circles are free, and whose arcs have room along both edges with those at the other ends."""
    at = {(turn.ring, turn.edge): turn for turn in turns}
    fits = {turn for turn in turns if turn.reach(radius) < math.inf and _is_free(r, turn, radius)}
    while True:
        tight = {turn for turn in fits if not _has_room(r, turn, at, fits, radius)}
        if not tight:
            return fits
        # Of two that have no room beside each other both stay sharp: neither is the better one.
        fits -= tight


def _has_room(
    r: Region[F],
    turn: InsideTurn[F],
    at: dict[tuple[int, int], InsideTurn[F]],
    fits: set[InsideTurn[F]],
    radius: float,
) -> bool:
    count = len(edges(r.rings[turn.ring]))
    own = turn.reach(radius)
    for edge, other in ((turn.before, (turn.edge - 1) % count), (turn.after, (turn.edge + 1) % count)):
        beside = at.get((turn.ring, other))
        taken = beside.reach(radius) if beside is not None and beside in fits else 0.0
        if own + taken > edge.length + TOUCH:
            return False
    return True


def _is_free(r: Region[F], turn: InsideTurn[F], radius: float) -> bool:
    """Whether the circle of an arc takes nothing of the region: it touches its two edges, and nothing comes nearer."""
    middle = turn.middle(radius)
    box = Bounds(middle.x, middle.y, middle.x, middle.y)
    rings = (r.rings[number] for number in r.near.within(box, radius))
    near = (edges(ring)[k] for ring in rings for k in ring.near.within(box, radius))
    return all(distance_to(edge, middle.x, middle.y) >= radius - TOUCH for edge in near)


def _put_in(r: Region[F], turns: Sequence[InsideTurn[F]], radius: float) -> Region[F]:
    """The region with these arcs."""
    by_place = {(turn.ring, turn.edge): turn for turn in turns}
    rings: list[Ring[F]] = []
    for n, ring in enumerate(r.rings):
        vertices: list[Vertex] = []
        for k, edge in enumerate(edges(ring)):
            turn = by_place.get((n, k))
            start = Vertex(edge.x0, edge.y0, edge.bulge)
            if turn is not None:
                far = turn.reach(radius)
                into, on = heading(turn.before, at_end=True), heading(edge, at_end=False)
                x, y = turn.at.x - far * math.cos(into), turn.at.y - far * math.sin(into)
                vertices.append(Vertex(x, y, bulge_of(-turn.turn)))
                start = Vertex(turn.at.x + far * math.cos(on), turn.at.y + far * math.sin(on), edge.bulge)
            vertices.append(start)
        rings.append(Ring(tuple(_without_nothing(vertices))))
    return Region(tuple(rings))


def _without_nothing(vertices: Sequence[Vertex]) -> Iterator[Vertex]:
    """The vertices without those that lie where the next does: an edge that both of its arcs use up."""
    for vertex, after in zip(vertices, [*vertices[1:], vertices[0]], strict=True):
        if math.hypot(vertex.x - after.x, vertex.y - after.y) > TOUCH:
            yield vertex
