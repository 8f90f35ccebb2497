"""The heart of the kernel: two regions laid over each other, every line sorted into inside, outside or shared.

1. Edges of the one are split where they meet edges of the other; meetings within TOUCH become one node (`splitting`).
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
from typing import Generic

from msgspec import Struct

from cutmarks.geometry.edges import Arc, middle
from cutmarks.geometry.frames import F
from cutmarks.geometry.rings import Ring
from cutmarks.geometry.splitting import LiesWhere, Nodes, Part, SideOfRing, near_pairs, split
from cutmarks.geometry.tolerance import COINCIDE, TOUCH


class Sorted(Struct, Generic[F]):
    """One region's boundary, sorted by where it lies in the other: whole rings that meet nothing, and parts."""

    whole: list[tuple[Ring[F], LiesWhere]]
    parts: list[Part[F]]


def overlay(a: Sequence[Ring[F]], b: Sequence[Ring[F]], tolerance: float = TOUCH) -> tuple[Sorted[F], Sorted[F]]:
    """Both boundaries, each sorted by where it lies in the other region."""
    side_a, side_b = SideOfRing(a), SideOfRing(b)
    near = near_pairs(side_a, side_b, tolerance)
    whole_a = _sort_whole(side_a, {pair[0] for pair in near}, side_b)
    whole_b = _sort_whole(side_b, {pair[2] for pair in near}, side_a)
    if not near:
        return Sorted(whole_a, []), Sorted(whole_b, [])
    nodes = Nodes(tolerance)
    parts_a, parts_b = split(side_a, side_b, near, nodes)
    _sort_shared(parts_a, parts_b, tolerance)
    for row in parts_a:
        _sort_runs(row, side_b, nodes)
    for row in parts_b:
        _sort_runs(row, side_a, nodes)
    return (
        Sorted(whole_a, [part for row in parts_a for part in row]),
        Sorted(whole_b, [part for row in parts_b for part in row]),
    )


def _sort_whole(side: SideOfRing[F], met: set[int], other: SideOfRing[F]) -> list[tuple[Ring[F], LiesWhere]]:
    """The rings that meet nothing, each as a whole."""
    found: list[tuple[Ring[F], LiesWhere]] = []
    for index, ring in enumerate(side.rings):
        if index not in met:
            x, y, _ = ring.vertices[0]
            found.append((ring, LiesWhere.INSIDE if other.holds(x, y) else LiesWhere.OUTSIDE))
    return found


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
                if other.lies is LiesWhere.OUTSIDE and _middles_apart(part, other) <= limit:
                    part.lies = other.lies = LiesWhere.SAME if _run_alike(part, other) else LiesWhere.AGAINST
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


def _sort_runs(row: list[Part[F]], other: SideOfRing[F], nodes: Nodes) -> None:
    """Sort what is not shared, from meeting to meeting."""
    count = len(row)
    first = next((k for k, part in enumerate(row) if nodes.shared(part.tail)), 0)
    run: list[Part[F]] = []
    for k in range(first, first + count):
        part = row[k % count]
        run.append(part)
        if nodes.shared(part.head) or k == first + count - 1:
            if run[0].lies is LiesWhere.OUTSIDE:
                longest = max(run, key=lambda one: one.edge.length)
                lies = LiesWhere.INSIDE if other.holds(*middle(longest.edge)) else LiesWhere.OUTSIDE
                for one in run:
                    one.lies = lies
            run = []
