"""Edges as measured: where each lies at a given height or width, and the block that no tile may enter."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence

from cutmarks.geometry.frames import Point, Surface
from cutmarks.geometry.regions import Region, region
from cutmarks.geometry.rings import polygon
from cutmarks.setout.model import SurfaceEdge
from cutmarks.sides import Side

FAR = 1e7
"""How far a side goes of which nothing is known, mm: 10 km, past any floor and well inside the kernel's precision."""


def runs_up(side: Side) -> bool:
    """Whether an edge on this side is read along y (left and right) rather than along x (bottom and top)."""
    return side.axis == "across"


def position_at(edge: SurfaceEdge, along: float) -> float:
    """Where the edge lies, x for left and right, y for bottom and top, at the running coordinate `along`, mm.

    Straight from reading to reading; the end stretches go on. At a step the stretch beyond it counts.
    """
    up = runs_up(edge.side)
    return read_at([(p.y, p.x) if up else (p.x, p.y) for p in edge.measured], along)


def read_at(points: Sequence[tuple[float, float]], along: float) -> float:
    """The same of readings alone, each (running coordinate, where the edge is), in running order."""
    if len(points) == 1:
        return points[0][1]
    at = min(max(bisect_right([t for t, _ in points], along), 1), len(points) - 1)
    (t0, v0), (t1, v1) = points[at - 1], points[at]
    if t1 == t0:
        return v0 if along < t0 else v1
    return v0 + (v1 - v0) * (along - t0) / (t1 - t0)


def what_at(edge: SurfaceEdge, along: float) -> str:
    """What the edge is at a running coordinate, mm: of a step its own word; "" where the job does not say."""
    return edge.whats[stretch_at(edge, along)] if edge.whats else edge.what


def is_unfinished_at(edge: SurfaceEdge, along: float) -> bool:
    """Whether what is still to come there is not known, at a running coordinate, mm."""
    return edge.unfinished[stretch_at(edge, along)] if edge.unfinished else edge.still_to_come is None


def stretch_at(edge: SurfaceEdge, along: float) -> int:
    """Which reading tells of the stretch at a running coordinate, mm. At a step the stretch beyond it counts."""
    up = runs_up(edge.side)
    running = [point.y if up else point.x for point in edge.measured]
    if len(running) == 1:
        return 0
    at = min(max(bisect_right(running, along), 1), len(running) - 1)
    return at - 1 if running[at] == running[at - 1] and along < running[at] else at


def step_begins(edge: SurfaceEdge) -> list[int]:
    """Which of `measured` each stretch begins with: where one ends the next one begins, and the place stands twice."""
    running = [point.y if runs_up(edge.side) else point.x for point in edge.measured]
    return [0, *(at for at in range(1, len(running)) if running[at] == running[at - 1])]


def block(edge: SurfaceEdge) -> Region[Surface]:
    """All that lies beyond the edge, moved inward by what has to stay clear: what a tile may not enter.

    The distance is taken level from a left or right edge and plumb from a bottom or top one, so that a raking edge
    keeps its rake; a step also keeps it off its upright face.
    """
    inward = 1.0 if edge.side in ("left", "bottom") else -1.0
    up = runs_up(edge.side)
    points = [((p.y, p.x) if up else (p.x, p.y)) for p in edge.measured]
    moved = _with_ends(_moved_in(points, edge.clears, inward))
    # Past wherever the edge itself goes: one that rakes by 45 degrees or more leaves FAR behind.
    beyond = -inward * (FAR + max(abs(v) for _, v in moved))
    ring = [*moved, (FAR, beyond), (-FAR, beyond)]
    return region(polygon([(v, t) if up else (t, v) for t, v in ring]))


def _with_ends(stretch: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    """The polyline, its end stretches gone on to FAR."""
    if len(stretch) == 1:
        value = stretch[0][1]
        return [(-FAR, value), (FAR, value)]
    first = _gone_on(stretch[1], stretch[0], -FAR)
    last = _gone_on(stretch[-2], stretch[-1], FAR)
    return [first, *stretch, last]


def _gone_on(a: tuple[float, float], b: tuple[float, float], to: float) -> tuple[float, float]:
    slope = 0.0 if b[0] == a[0] else (b[1] - a[1]) / (b[0] - a[0])
    return to, b[1] + slope * (to - b[0])


def _moved_in(
    points: Sequence[tuple[float, float]], clears: Sequence[float], inward: float
) -> list[tuple[float, float]]:
    """Each reading moved inward by its own clear space, each upright face of a step off the part that stands out."""
    running = [t for t, _ in points]
    for i in range(1, len(points)):
        (t0, v0), (t1, v1) = points[i - 1], points[i]
        if t0 == t1 and v0 != v1:
            stands_out_before = (v0 - v1) * inward > 0
            shift = clears[i - 1] if stands_out_before else -clears[i]
            running[i - 1] += shift
            running[i] += shift
    return [(t, v + inward * clear) for t, (_, v), clear in zip(running, points, clears, strict=True)]


def straight(side: Side, at: float) -> tuple[Point[Surface], ...]:
    """An edge of one reading: plumb (left, right) or level (bottom, top) through `at`."""
    return (Point(at, 0.0),) if runs_up(side) else (Point(0.0, at),)
