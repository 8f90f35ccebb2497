"""The heart of the kernel: two regions laid over each other, every line sorted into inside, outside or shared.

1. Edges of the one are split where they meet edges of the other; meetings within TOUCH become one node.
2. A part that lies between the same two nodes as a part of the other, with its middle at the same place, is shared
   (the same way or against). This is decided by the nodes, once for both, never by a second measurement.
3. All else is inside or outside of the other, run by run from meeting to meeting, by the middle of the run's longest
   part: far from every boundary, so that no tolerance is needed.

What an operation keeps of them, `stitching` joins into rings.
Rings that meet nothing are never split: they are kept or dropped whole.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from enum import Enum
from itertools import combinations, pairwise
from typing import Generic

from cutmarks.geometry.edges import Arc, Bounds, Edge, Segment, edge_bounds, middle, reversed_edge, touches, travelled
from cutmarks.geometry.frames import F
from cutmarks.geometry.meetings import meetings
from cutmarks.geometry.rings import Ring, edges
from cutmarks.geometry.tolerance import COINCIDE, FULL_TURN, TOUCH
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


@dataclass(slots=True)
class Sorted(Generic[F]):
    """One region's boundary, sorted by where it lies in the other: whole rings that meet nothing, and parts."""

    whole: list[tuple[Ring[F], Lies]]
    parts: list[Part[F]]


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


def overlay(a: Sequence[Ring[F]], b: Sequence[Ring[F]], tolerance: float = TOUCH) -> tuple[Sorted[F], Sorted[F]]:
    """Both boundaries, each sorted by where it lies in the other region."""
    side_a, side_b = Side(a), Side(b)
    near = _near_pairs(side_a, side_b, tolerance)
    met_a = {pair[0] for pair in near}
    met_b = {pair[2] for pair in near}
    whole_a = _sort_whole(side_a, met_a, side_b)
    whole_b = _sort_whole(side_b, met_b, side_a)
    if not near:
        return Sorted(whole_a, []), Sorted(whole_b, [])
    nodes = Nodes(tolerance)
    splits_a = {ring: _ends(side_a.rows[ring], nodes, 0) for ring in sorted(met_a)}
    splits_b = {ring: _ends(side_b.rows[ring], nodes, 1) for ring in sorted(met_b)}
    for ring_a, i, ring_b, j in near:
        for x, y in meetings(side_a.rows[ring_a][i], side_b.rows[ring_b][j], tolerance):
            node = nodes.at(x, y, 0)
            nodes.sides[node].add(1)
            splits_a[ring_a][i].append(node)
            splits_b[ring_b][j].append(node)
    _touch_within(side_a, splits_a, nodes, 0)
    _touch_within(side_b, splits_b, nodes, 1)
    if tolerance > TOUCH:
        _pass_through(side_a, splits_a, nodes, 0)
        _pass_through(side_b, splits_b, nodes, 1)
    parts_a = [_parts(side_a.rows[ring], splits, nodes) for ring, splits in splits_a.items()]
    parts_b = [_parts(side_b.rows[ring], splits, nodes) for ring, splits in splits_b.items()]
    _sort_shared(parts_a, parts_b, tolerance)
    for row in parts_a:
        _sort_runs(row, side_b, nodes)
    for row in parts_b:
        _sort_runs(row, side_a, nodes)
    return (
        Sorted(whole_a, [part for row in parts_a for part in row]),
        Sorted(whole_b, [part for row in parts_b for part in row]),
    )


def _near_pairs(a: Side[F], b: Side[F], tolerance: float) -> list[tuple[int, int, int, int]]:
    """The pairs of edges that may meet, as (ring, edge) of both, by their bounds."""
    near: list[tuple[int, int, int, int]] = []
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


def _sort_whole(side: Side[F], met: set[int], other: Side[F]) -> list[tuple[Ring[F], Lies]]:
    """The rings that meet nothing, each as a whole."""
    found: list[tuple[Ring[F], Lies]] = []
    for index, ring in enumerate(side.rings):
        if index not in met:
            x, y, _ = ring.vertices[0]
            found.append((ring, Lies.INSIDE if other.holds(x, y) else Lies.OUTSIDE))
    return found


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


def _sort_shared(rows_a: list[list[Part[F]]], rows_b: list[list[Part[F]]], tolerance: float) -> None:
    """Mark the parts that both boundaries have: between the same nodes, with their middles at one place."""
    by_nodes: dict[tuple[int, int], list[Part[F]]] = {}
    for row in rows_b:
        for part in row:
            by_nodes.setdefault((min(part.tail, part.head), max(part.tail, part.head)), []).append(part)
    limit = COINCIDE / TOUCH * tolerance
    for row in rows_a:
        for part in row:
            for other in by_nodes.get((min(part.tail, part.head), max(part.tail, part.head)), ()):
                if other.lies is Lies.OUTSIDE and _middles_apart(part, other) <= limit:
                    part.lies = other.lies = Lies.SAME if _run_alike(part, other) else Lies.AGAINST
                    break


def _middles_apart(a: Part[F], b: Part[F]) -> float:
    ax, ay = middle(a.edge)
    bx, by = middle(b.edge)
    return math.hypot(ax - bx, ay - by)


def _run_alike(a: Part[F], b: Part[F]) -> bool:
    if a.tail != a.head:
        return a.tail == b.tail
    # Two whole turns from a node back to itself.
    return isinstance(a.edge, Arc) and isinstance(b.edge, Arc) and a.edge.sweep * b.edge.sweep > 0.0


def _sort_runs(row: list[Part[F]], other: Side[F], nodes: Nodes) -> None:
    """Sort what is not shared, from meeting to meeting."""
    count = len(row)
    first = next((k for k, part in enumerate(row) if nodes.shared(part.tail)), 0)
    run: list[Part[F]] = []
    for k in range(first, first + count):
        part = row[k % count]
        run.append(part)
        if nodes.shared(part.head) or k == first + count - 1:
            if run[0].lies is Lies.OUTSIDE:
                longest = max(run, key=lambda one: one.edge.length)
                lies = Lies.INSIDE if other.holds(*middle(longest.edge)) else Lies.OUTSIDE
                for one in run:
                    one.lies = lies
            run = []
