"""Two boundaries split where they meet: near pairs of edges, nodes, and the parts between them.

A node is a place known once, whichever edges go through it: all that comes after asks which nodes a part joins, and
never measures again whether two places are one.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from enum import Enum
from itertools import pairwise
from typing import Generic

from msgspec import Struct

from cutmarks.geometry.edges import Arc, Bounds, Edge, Segment, reversed_edge, touches, travelled
from cutmarks.geometry.frames import F
from cutmarks.geometry.meetings import meetings
from cutmarks.geometry.near import Near
from cutmarks.geometry.rings import Ring, edges
from cutmarks.geometry.tolerance import FULL_TURN, TOUCH
from cutmarks.geometry.winding import winding


class LiesWhere(Enum):
    """Where a part of one region's boundary lies in the other."""

    OUTSIDE = 0
    INSIDE = 1
    SAME = 2
    AGAINST = 3


class Part(Struct, Generic[F]):
    """A piece of an edge between two nodes."""

    edge: Edge[F]
    tail: int
    head: int
    lies: LiesWhere = LiesWhere.OUTSIDE

    def turned(self) -> Part[F]:
        """The same, run the other way."""
        return Part(reversed_edge(self.edge), self.head, self.tail, self.lies)


class SideOfRing(Generic[F]):
    """One of the two regions: its rings, and their edges while nothing is split."""

    __slots__ = ("near", "rings", "rows")

    def __init__(self, rings: Sequence[Ring[F]]) -> None:
        self.rings = rings
        self.rows: list[tuple[Edge[F], ...]] = [edges(ring) for ring in rings]
        self.near = Near(ring.bounds for ring in rings)

    @property
    def bounds(self) -> list[Bounds]:
        """Of each ring."""
        return self.near.boxes

    def holds(self, x: float, y: float) -> bool:
        """Whether (x, y) is inside, boundary aside."""
        return sum(winding(self.rows[ring], x, y) for ring in self.near.within(Bounds(x, y, x, y))) > 0


class Nodes:
    """The meetings: each place known once, with which of the two boundaries go through it."""

    def __init__(self, tolerance: float) -> None:
        self.xy: list[tuple[float, float]] = []
        self.sides: list[set[int]] = []
        self.tolerance = tolerance
        self._near = Near()

    def at(self, x: float, y: float, side: int) -> int:
        """The node at this place, the nearest within the tolerance; else a new one."""
        best, best_distance = -1, self.tolerance
        place = Bounds(x, y, x, y)
        for index in self._near.within(place, self.tolerance):
            node_x, node_y = self.xy[index]
            distance = math.hypot(node_x - x, node_y - y)
            if distance <= best_distance:
                best, best_distance = index, distance
        if best < 0:
            best = self._near.add(place)
            self.xy.append((x, y))
            self.sides.append(set())
        self.sides[best].add(side)
        return best

    def shared(self, index: int) -> bool:
        """Whether both boundaries go through it."""
        return len(self.sides[index]) > 1


NearPair = tuple[int, int, int, int]
"""Two edges that may meet: ring and edge of the one region, ring and edge of the other."""


def near_pairs(a: SideOfRing[F], b: SideOfRing[F], tolerance: float) -> list[NearPair]:
    """The pairs of edges that may meet, by their bounds."""
    near: list[NearPair] = []
    for ring_a, box_a in enumerate(a.bounds):
        for ring_b in b.near.within(box_a, tolerance):
            box_b = b.bounds[ring_b]
            boxes_a, near_b = a.rings[ring_a].near.boxes, b.rings[ring_b].near
            for i in a.rings[ring_a].near.within(box_b, tolerance):
                near += [(ring_a, i, ring_b, j) for j in near_b.within(boxes_a[i], tolerance)]
    return near


def split(
    a: SideOfRing[F], b: SideOfRing[F], near: list[NearPair], nodes: Nodes
) -> tuple[list[list[Part[F]]], list[list[Part[F]]]]:
    """The parts of the rings that may meet, ring by ring in order, of both sides."""
    splits_a = {ring: _ends(a.rows[ring], nodes, 0) for ring in sorted({pair[0] for pair in near})}
    splits_b = {ring: _ends(b.rows[ring], nodes, 1) for ring in sorted({pair[2] for pair in near})}
    for ring_a, i, ring_b, j in near:
        for x, y in meetings(a.rows[ring_a][i], b.rows[ring_b][j], nodes.tolerance):
            node = nodes.at(x, y, 0)
            nodes.sides[node].add(1)
            splits_a[ring_a][i].append(node)
            splits_b[ring_b][j].append(node)
    for which, side, splits in ((0, a, splits_a), (1, b, splits_b)):
        _touch_within(side, splits, nodes, which)
    if nodes.tolerance > TOUCH:
        for which, side, splits in ((0, a, splits_a), (1, b, splits_b)):
            _pass_through(side, splits, nodes, which)
    return (
        [_parts(a.rows[ring], row, nodes) for ring, row in splits_a.items()],
        [_parts(b.rows[ring], row, nodes) for ring, row in splits_b.items()],
    )


def _ends(row: Sequence[Edge[F]], nodes: Nodes, side: int) -> list[list[int]]:
    """For each edge of a ring the node at its start and at its end; further ones are added behind."""
    starts = [nodes.at(edge[0], edge[1], side) for edge in row]
    return [[start, end] for start, end in zip(starts, starts[1:] + starts[:1], strict=True)]


def _touch_within(side: SideOfRing[F], splits: dict[int, list[list[int]]], nodes: Nodes, which: int) -> None:
    """Nodes where rings of one and the same region touch: cut open elsewhere, they could become one ring."""
    met = list(splits)
    boxes = Near(side.bounds[ring] for ring in met)
    for place, ring in enumerate(met):
        for other in (met[k] for k in boxes.within(side.bounds[ring], nodes.tolerance) if k > place):
            near = side.rings[other].near
            for i, edge in enumerate(side.rows[ring]):
                for j in near.within(side.rings[ring].near.boxes[i], nodes.tolerance):
                    for x, y in meetings(edge, side.rows[other][j], nodes.tolerance):
                        node = nodes.at(x, y, which)
                        splits[ring][i].append(node)
                        splits[other][j].append(node)


def _pass_through(side: SideOfRing[F], splits: dict[int, list[list[int]]], nodes: Nodes, which: int) -> None:
    """With a wider touch a node may lie on edges that have not met there, one ring's own among them."""
    for ring, row in splits.items():
        for edge, inner in zip(side.rows[ring], row, strict=True):
            for node, (x, y) in enumerate(nodes.xy):
                if node not in inner and touches(edge, x, y, nodes.tolerance):
                    inner.append(node)
                    nodes.sides[node].add(which)


def _parts(row: Sequence[Edge[F]], splits: list[list[int]], nodes: Nodes) -> list[Part[F]]:
    """The parts of a ring, in order, from node to node."""
    found: list[Part[F]] = []
    for edge, (start, end, *inner) in zip(row, splits, strict=True):
        if start == end and edge.length <= 2.0 * nodes.tolerance:
            continue
        between = {node for node in inner if node not in (start, end)}
        if isinstance(edge, Arc):
            found += _arc_parts(edge, start, end, between, nodes)
        else:
            found += _line_parts(edge, start, end, between, nodes)
    return found


def _line_parts(edge: Segment[F], start: int, end: int, between: set[int], nodes: Nodes) -> list[Part[F]]:
    xy = nodes.xy
    dx, dy = edge.x1 - edge.x0, edge.y1 - edge.y0
    row = [start, *sorted(between, key=lambda node: xy[node][0] * dx + xy[node][1] * dy), end]
    return [Part(Segment(*xy[tail], *xy[head]), tail, head) for tail, head in pairwise(row)]


def _arc_parts(edge: Arc[F], start: int, end: int, between: set[int], nodes: Nodes) -> list[Part[F]]:
    """Parts of an arc keep its own centre, radius and angles, even where a node lies off it by a part of TOUCH."""
    xy = nodes.xy
    width, sense = abs(edge.sweep), math.copysign(1.0, edge.sweep)

    def along(node: int) -> float:
        angle = travelled(edge, *xy[node])
        if angle <= width:
            return angle
        return width if angle - width < FULL_TURN - angle else 0.0  # past an end by rounding: the nearer one

    stops = [(0.0, start), *sorted((along(node), node) for node in between), (width, end)]
    return [
        Part(
            Arc(
                *xy[tail],
                *xy[head],
                edge.cx,
                edge.cy,
                edge.radius,
                edge.start + sense * begins,
                sense * (ends - begins),
            ),
            tail,
            head,
        )
        for (begins, tail), (ends, head) in pairwise(stops)
    ]
