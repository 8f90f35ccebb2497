"""The part of a line that is on the paper; arcs stay arcs."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise
from typing import TypeVar

from cutmarks.geometry.edges import Arc, Bounds, Edge, at_angle, edge_between, middle, travelled
from cutmarks.geometry.frames import Frame
from cutmarks.geometry.rings import Vertex
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.marks.model import CircleMark, Stroke

F = TypeVar("F", bound=Frame)


def clipped(stroke: Stroke[F], view: Bounds) -> Iterator[Stroke[F]]:
    """The stretches of a line inside `view`, in its order; the line itself where all of it is."""
    run: list[Vertex] = []
    runs: list[list[Vertex]] = []
    whole = True
    for edge in _edges(stroke):
        for piece in _split(edge, view):
            if not _inside(*middle(piece), view):
                whole = False
                run = []
                continue
            if not run:
                run = [Vertex(piece[0], piece[1])]
                runs.append(run)
            run[-1] = run[-1]._replace(bulge=piece.bulge)
            run.append(Vertex(piece[2], piece[3]))
    if whole:
        yield stroke
        return
    if stroke.closed and len(runs) > 1 and _meets(runs[-1][-1], runs[0][0]):
        joined = runs.pop()
        runs[0] = joined[:-1] + runs[0]
    for path in runs:
        yield Stroke(tuple(path), stroke.role)


def clipped_circle(circle: CircleMark[F], view: Bounds) -> Iterator[CircleMark[F] | Stroke[F]]:
    """The circle itself where all of it is inside `view`, else its arcs inside."""
    x, y, r = circle.centre.x, circle.centre.y, circle.radius
    if Bounds(x - r, y - r, x + r, y + r).within(view):
        yield circle
        return
    half = (Vertex(x - r, y, 1.0), Vertex(x + r, y, 1.0))
    yield from clipped(Stroke(half, circle.role, closed=True), view)


def _edges(stroke: Stroke[F]) -> Iterator[Edge[F]]:
    path = (*stroke.path, stroke.path[0]) if stroke.closed else stroke.path
    for start, end in pairwise(path):
        if math.hypot(end.x - start.x, end.y - start.y) > TOUCH:
            yield edge_between(start.x, start.y, end.x, end.y, start.bulge)


def _split(edge: Edge[F], view: Bounds) -> Iterator[Edge[F]]:
    if isinstance(edge, Arc):
        yield from _split_arc(edge, view)
        return
    x0, y0, x1, y1 = edge[0], edge[1], edge[2], edge[3]
    cuts = {0.0, 1.0}
    for limit, start, end in ((view.min_x, x0, x1), (view.max_x, x0, x1), (view.min_y, y0, y1), (view.max_y, y0, y1)):
        if (start - limit) * (end - limit) < 0.0:
            cuts.add((limit - start) / (end - start))
    for a, b in pairwise(sorted(cuts)):
        yield edge_between(x0 + a * (x1 - x0), y0 + a * (y1 - y0), x0 + b * (x1 - x0), y0 + b * (y1 - y0), 0.0)


def _split_arc(arc: Arc[F], view: Bounds) -> Iterator[Edge[F]]:
    sweep = abs(arc.sweep)
    cuts = {0.0, sweep}
    places: list[tuple[float, float]] = []
    for x in (view.min_x, view.max_x):
        if abs(x - arc.cx) < arc.radius:
            rise = math.sqrt(arc.radius**2 - (x - arc.cx) ** 2)
            places += ((x, arc.cy - rise), (x, arc.cy + rise))
    for y in (view.min_y, view.max_y):
        if abs(y - arc.cy) < arc.radius:
            run = math.sqrt(arc.radius**2 - (y - arc.cy) ** 2)
            places += ((arc.cx - run, y), (arc.cx + run, y))
    cuts |= {angle for angle in (travelled(arc, x, y) for x, y in places) if angle < sweep}
    for a, b in pairwise(sorted(cuts)):
        if (b - a) * arc.radius > TOUCH:
            start, end = at_angle(arc, a), at_angle(arc, b)
            yield edge_between(*start, *end, math.copysign(math.tan((b - a) / 4.0), arc.sweep))


def _inside(x: float, y: float, view: Bounds) -> bool:
    return view.min_x - TOUCH <= x <= view.max_x + TOUCH and view.min_y - TOUCH <= y <= view.max_y + TOUCH


def _meets(a: Vertex, b: Vertex) -> bool:
    return math.hypot(a.x - b.x, a.y - b.y) <= TOUCH
