"""Two boundaries split where they meet: near pairs of edges, nodes, and the parts between them.

A node is a place known once, whichever edges go through it: all that comes after asks which nodes a part joins, and
never measures again whether two places are one.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from enum import Enum
from itertools import combinations, pairwise
from typing import Generic

from cutmarks.geometry.edges import Arc, Bounds, Edge, Segment, edge_bounds, reversed_edge, touches, travelled
from cutmarks.geometry.frames import F
from cutmarks.geometry.meetings import meetings
from cutmarks.geometry.rings import Ring, edges
from cutmarks.geometry.tolerance import FULL_TURN, TOUCH
from cutmarks.geometry.winding import winding


class Lies(Enum):
    """Where a part of one region's boundary lies in the other."""

    OUTSIDE = 0
    INSIDE = 1
    SAME = 2
    AGAINST = 3


@dataclass(slots=True)
class Part(Generic[F]):
    """A piece of an edge between two nodes."""

    edge: Edge[F]
    tail: int
    head: int
    lies: Lies = Lies.OUTSIDE

    def turned(self) -> Part[F]:
        """The same, run the other way."""
        return Part(reversed_edge(self.edge), self.head, self.tail, self.lies)


@dataclass(slots=True)
class Side(Generic[F]):
    """One of the two regions: its rings, and their edges while nothing is split."""

    rings: Sequence[Ring[F]]
    rows: list[list[Edge[F]]] = field(init=False)
    bounds: list[Bounds] = field(init=False)

    def __post_init__(self) -> None:
        self.rows = [edges(ring) for ring in self.rings]
        self.bounds = [ring.bounds for ring in self.rings]

    def holds(self, x: float, y: float) -> bool:
        """Whether (x, y) is inside, boundary aside."""
        count = 0
        for row, box in zip(self.rows, self.bounds, strict=True):
            if box[0] <= x <= box[2] and box[1] <= y <= box[3]:
                count += winding(row, x, y)
        return count > 0


class Nodes:
    """The meetings: each place known once, with which of the two boundaries go through it."""

    def __init__(self, tolerance: float) -> None:
        self.xy: list[tuple[float, float]] = []
        self.sides: list[set[int]] = []
        self.tolerance = tolerance

    def at(self, x: float, y: float, side: int) -> int:
        """The node at this place, the nearest within the tolerance; else a new one."""
        best, best_distance = -1, self.tolerance
        for index, (node_x, node_y) in enumerate(self.xy):
            if abs(node_x - x) <= best_distance and abs(node_y - y) <= best_distance:
                distance = math.hypot(node_x - x, node_y - y)
                if distance <= best_distance:
                    best, best_distance = index, distance
        if best < 0:
            best = len(self.xy)
            self.xy.append((x, y))
            self.sides.append(set())
        self.sides[best].add(side)
        return best

    def shared(self, index: int) -> bool:
        """Whether both boundaries go through it."""
        return len(self.sides[index]) > 1


NearPair = tuple[int, int, int, int]
"""Two edges that may meet: ring and edge of the one region, ring and edge of the other."""


def near_pairs(a: Side[F], b: Side[F], tolerance: float) -> list[NearPair]:
    """The pairs of edges that may meet, by their bounds."""
    near: list[NearPair] = []
    for ring_a, box_a in enumerate(a.bounds):
        for ring_b, box_b in enumerate(b.bounds):
            if not box_a.overlaps(box_b, tolerance):
                continue
            left, low, right, high = box_b
            boxes_b: list[Bounds] | None = None
            for i, edge in enumerate(a.rows[ring_a]):
                edge_box = edge_bounds(edge)
                if (
                    edge_box[0] > right + tolerance
                    or edge_box[2] < left - tolerance
                    or edge_box[1] > high + tolerance
                    or edge_box[3] < low - tolerance
                ):
                    continue
                if boxes_b is None:
                    boxes_b = [edge_bounds(other) for other in b.rows[ring_b]]
                near += [(ring_a, i, ring_b, j) for j, box in enumerate(boxes_b) if edge_box.overlaps(box, tolerance)]
    return near


def split(
    a: Side[F], b: Side[F], near: list[NearPair], nodes: Nodes
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


def _ends(row: list[Edge[F]], nodes: Nodes, side: int) -> list[list[int]]:
    """For each edge of a ring the node at its start and at its end; further ones are added behind."""
    starts = [nodes.at(edge[0], edge[1], side) for edge in row]
    return [[start, end] for start, end in zip(starts, starts[1:] + starts[:1], strict=True)]


def _touch_within(side: Side[F], splits: dict[int, list[list[int]]], nodes: Nodes, which: int) -> None:
    """Nodes where rings of one and the same region touch: cut open elsewhere, they could become one ring."""
    for ring, other in combinations(splits, 2):
        if not side.bounds[ring].overlaps(side.bounds[other], nodes.tolerance):
            continue
        boxes = [edge_bounds(edge) for edge in side.rows[other]]
        for i, edge in enumerate(side.rows[ring]):
            box = edge_bounds(edge)
            for j, other_edge in enumerate(side.rows[other]):
                if box.overlaps(boxes[j], nodes.tolerance):
                    for x, y in meetings(edge, other_edge, nodes.tolerance):
                        node = nodes.at(x, y, which)
                        splits[ring][i].append(node)
                        splits[other][j].append(node)


def _pass_through(side: Side[F], splits: dict[int, list[list[int]]], nodes: Nodes, which: int) -> None:
    """With a wider touch a node may lie on edges that have not met there, one ring's own among them."""
    for ring, row in splits.items():
        for edge, inner in zip(side.rows[ring], row, strict=True):
            for node, (x, y) in enumerate(nodes.xy):
                if node not in inner and touches(edge, x, y, nodes.tolerance):
                    inner.append(node)
                    nodes.sides[node].add(which)


def _parts(row: list[Edge[F]], splits: list[list[int]], nodes: Nodes) -> list[Part[F]]:
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
