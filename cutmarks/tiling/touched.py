"""Which places a boundary touches, and what of a tile is big enough to be a piece."""

from __future__ import annotations

import math

from cutmarks.geometry.edges import Arc, Bounds, edge_bounds
from cutmarks.geometry.frames import Courses, Placement, Tile
from cutmarks.geometry.regions import Region, canonical, parts
from cutmarks.geometry.rings import edges
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.tiling.model import Grid


def sorted_by_size(shape: Region[Tile], least: float) -> tuple[Region[Tile] | None, list[Bounds]]:
    """What of a shape makes a piece (None: nothing), and the bounds of its parts under `least` one way, which is joint.

    So a strip narrower than its joint and `least`, mm, stays joint.
    """
    if shape.is_empty:
        return None, []
    kept: list[Region[Tile]] = []
    lost: list[Bounds] = []
    for part in parts(shape):
        box = part.bounds
        if min(box.width, box.height) >= least - TOUCH:
            kept.append(part)
        else:
            lost.append(box)
    if not lost:
        return shape, lost
    return canonical(Region(tuple(ring for part in kept for ring in part.rings))) if kept else None, lost


def shifted(shape: Region[Courses], du: float, dv: float) -> Region[Tile]:
    """The same shape moved by (du, dv) mm, from the Courses frame to one tile's own."""
    step: Placement[Courses, Tile] = Placement.shift(du, dv)
    return shape.moved(step)


def touched_runs(ground: Region[Courses], grid: Grid, row: int) -> tuple[range, ...]:
    """Runs of columns into whose tile in this row the ground's boundary comes (not merely along the tile's edge)."""
    low, high = row * grid.pitch_v + TOUCH, row * grid.pitch_v + grid.h - TOUCH
    found: list[range] = []
    for ring in ground.rings:
        for edge in edges(ring):
            if isinstance(edge, Arc):
                box = edge_bounds(edge)
                reach = (box.min_x, box.max_x) if box.max_y >= low and box.min_y <= high else None
            else:
                reach = _clipped(edge.x0, edge.y0, edge.x1, edge.y1, low, high)
            if reach is not None and (run := _columns(*reach, grid, row)):
                found.append(run)
    found.sort(key=lambda run: run.start)
    merged: list[range] = []
    for run in found:
        if merged and run.start <= merged[-1].stop:
            merged[-1] = range(merged[-1].start, max(merged[-1].stop, run.stop))
        else:
            merged.append(run)
    return tuple(merged)


def _clipped(x0: float, y0: float, x1: float, y1: float, low: float, high: float) -> tuple[float, float] | None:
    """The x range of a line within a band of y; None where it stays outside."""
    if y0 > y1:
        x0, y0, x1, y1 = x1, y1, x0, y0
    if y1 < low or y0 > high:
        return None
    slope = 0.0 if y1 == y0 else (x1 - x0) / (y1 - y0)
    a = x0 if y0 >= low else x0 + slope * (low - y0)
    b = x1 if y1 <= high else x0 + slope * (high - y0)
    return min(a, b), max(a, b)


def _columns(a: float, b: float, grid: Grid, row: int) -> range:
    """Columns whose tile the range [a, b] enters by more than a touch."""
    shift = grid.shift(row)
    first = math.ceil((a - shift - grid.w + TOUCH) / grid.pitch_u)
    last = math.floor((b - shift - TOUCH) / grid.pitch_u)
    return range(first, last + 1)
