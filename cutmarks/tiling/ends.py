"""What a layout leaves where its rows and courses end, and the same layout with its start moved."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from msgspec.structs import replace

from cutmarks.geometry.edges import Arc
from cutmarks.geometry.frames import Courses, F, Placement, Surface, Tile
from cutmarks.geometry.regions import Region, parts, spans_across, spans_up
from cutmarks.geometry.rings import edges
from cutmarks.geometry.spans import Span
from cutmarks.geometry.tolerance import COINCIDE, TOUCH
from cutmarks.sides import Side
from cutmarks.tiling.layout import Layout
from cutmarks.tiling.model import Grid, Place

Ends = tuple[float | None, float | None]
BESIDE = 0.5
"""A tile is looked at so far inside its own edges, mm: a leg beside a window that is narrower is none."""


def with_start_moved(layout: Layout, du: float, dv: float) -> Layout:
    """The same area with its start (du, dv) mm further along and across its courses: the ground stays where it is.

    Seen from the grid the ground moves the other way; where the start's point lies on its tile does not change.
    """
    back: Placement[Courses, Courses] = Placement.shift(-du, -dv)
    grid = _moved(layout.grid, du, dv)
    return _like(layout, grid, layout.bounds.moved(back), layout.ground.moved(back))


def with_grid_moved(layout: Layout, du: float, dv: float) -> Layout:
    """The same for who asks where its joints run, and nothing of its ground: that is left where it was in the grid."""
    return _like(layout, _moved(layout.grid, du, dv), layout.bounds, layout.ground)


def _moved(grid: Grid, du: float, dv: float) -> Grid:
    x, y = grid.to_surface.xy(du, dv)
    at: Placement[Courses, Surface] = replace(grid.to_surface, dx=x, dy=y)
    return replace(grid, to_surface=at)


def with_voids_tiled(layout: Layout) -> Layout:
    """The same area as if no window, niche or door lay in it: what ends a piece then is the area's own end."""
    return (
        layout
        if layout.ground.rings == layout.bounds.rings
        else _like(layout, layout.grid, layout.bounds, layout.bounds)
    )


def _like(layout: Layout, grid: Grid, bounds: Region[Courses], ground: Region[Courses]) -> Layout:
    return Layout(
        area=layout.area,
        surface=layout.surface,
        tile=layout.tile,
        grid=grid,
        bounds=bounds,
        ground=ground,
        reference=layout.reference,
        open_to=layout.open_to,
        least_piece=layout.least_piece,
        stands_at=layout.stands_at,
    )


def ends_across(layout: Layout) -> Ends:
    """The least width of the first and of the last piece of any course, at its narrowest, mm; None where it is open.

    Where the end rakes the narrowest is at one of its corners, and 0 where the piece ends there in a point.
    """
    return _least(layout, upright=False)


def ends_up(layout: Layout) -> Ends:
    """The least height of any piece with nothing below it, and with nothing above it, mm; None where it is open.

    Under an edge that rakes such pieces lie in more than one course. Each is taken where it is lowest, as in
    `ends_across`.
    """
    return _least(layout, upright=True)


def ends_at_voids(layout: Layout, tiled: Layout, *, upright: bool) -> list[tuple[Place, float]]:
    """The pieces at both ends of courses (of columns where `upright`) that a window, niche or door makes what they are.

    Each with its least size that way, mm, as in `ends_across` and `ends_up`. None where the area is open. `tiled` is
    the layout with its voids tiled.
    """
    if layout.is_open or layout is tiled:
        return []
    found: list[tuple[Place, float]] = []
    whole = layout.grid.h if upright else layout.grid.w
    for here, own in zip(_ends(layout, upright=upright), _ends(tiled, upright=upright), strict=True):
        # What is as large where the voids are tiled too ends at the area's own end.
        found += [
            (place, size)
            for place, size in here.items()
            if size < whole - TOUCH and abs(own.get(place, math.inf) - size) > COINCIDE
        ]
    return found


def least_beside_voids(layout: Layout, tiled: Layout, *, upright: bool) -> float | None:
    """The least that any window, niche or door inside the area leaves of a tile beside it, mm; None: nothing is cut.

    Along the courses, or across them where `upright`; wherever it lies in its course, between other pieces too. Looked
    at three levels of each course, at both ends and the middle of its tiles. `tiled` is the layout with voids tiled.
    """
    if layout.is_open or layout is tiled:
        return None
    grid = layout.grid
    size, spans = (grid.h, spans_up) if upright else (grid.w, spans_across)
    found: list[float] = []
    for row, level in _levels(layout, upright=upright):
        own = [end for span in spans(tiled.ground, level) for end in span]
        pitch, begin = (grid.pitch_v, 0.0) if upright else (grid.pitch_u, grid.shift(row))
        for low, high in spans(layout.ground, level):
            for end, left in ((low, -(low - begin - size)), (high, high - begin)):
                part = left % pitch
                if TOUCH < part < size - TOUCH and all(abs(end - one) > COINCIDE for one in own):
                    found.append(part)
    return min(found, default=None)


def _levels(layout: Layout, *, upright: bool) -> Iterator[tuple[int, float]]:
    """Three levels of each course, with its row; of columns where `upright`, of those of the start's course."""
    grid, box = layout.grid, layout.extent
    size, pitch = (grid.w, grid.pitch_u) if upright else (grid.h, grid.pitch_v)
    low, high = (box.min_x, box.max_x) if upright else (box.min_y, box.max_y)
    for number in range(math.floor(low / pitch), math.floor(high / pitch) + 1):
        begin = number * pitch
        yield from ((number, begin + at) for at in (BESIDE, size / 2, size - BESIDE) if low < begin + at < high)


def _least(layout: Layout, *, upright: bool) -> Ends:
    if layout.is_open:
        return None, None
    first, last = _ends(layout, upright=upright)
    return min(first.values(), default=None), min(last.values(), default=None)


def _ends(layout: Layout, *, upright: bool) -> tuple[dict[Place, float], dict[Place, float]]:
    """The pieces at both ends, each with its least size that way, mm."""
    if upright:
        rows = layout.rows()
        lowest, highest = _ends_of_columns(layout, rows, Side.BOTTOM), _ends_of_columns(layout, rows[::-1], Side.TOP)
        return dict(lowest), dict(highest)
    first: dict[Place, float] = {}
    last: dict[Place, float] = {}
    for row in layout.rows():
        begins, stops = _outermost(layout, row, backwards=False), _outermost(layout, row, backwards=True)
        if begins is not None and stops is not None:
            first[begins] = _narrowest(layout, begins, Side.LEFT, alone=begins == stops)
            last[stops] = _narrowest(layout, stops, Side.RIGHT, alone=begins == stops)
    return first, last


def _outermost(layout: Layout, row: int, *, backwards: bool) -> Place | None:
    """The first place of a row that holds a piece, from the left or, backwards, from the right."""
    course = layout.course(row)
    runs = sorted([*course.touched, *course.whole], key=lambda run: run.start, reverse=backwards)
    for run in runs:
        for column in reversed(run) if backwards else run:
            if layout.shape((column, row)) is not None:
                return column, row
    return None


def _ends_of_columns(layout: Layout, rows: Sequence[int], side: Side) -> Iterator[tuple[Place, float]]:
    """The pieces beyond which, in the rows before theirs, nothing is fixed, with their least heights; one for a run."""
    covered: list[Span] = []
    apart = layout.grid.joint + layout.least_piece
    left, right = layout.extent.min_x, layout.extent.max_x
    for row in rows:
        here: list[Span] = []
        course = layout.course(row)
        for run in course.whole:
            span = layout.grid.corner((run.start, row))[0], layout.grid.corner((run.stop - 1, row))[0] + layout.grid.w
            here.append(span)
            if not _lies_in(span, covered, apart):
                yield (run.start, row), layout.grid.h
        for column in course.touched_columns():
            u, _ = layout.grid.corner((column, row))
            if _lies_in((u, u + layout.grid.w), covered, apart):
                continue
            shape = layout.shape((column, row))
            if shape is None:
                continue
            span = u + shape.bounds.min_x, u + shape.bounds.max_x
            here.append(span)
            if not _lies_in(span, covered, apart):
                yield (column, row), _narrowest(layout, (column, row), side, alone=False)
        covered = _joined([*covered, *here], apart)
        if _lies_in((left, right), covered, apart):
            return


def _lies_in(span: Span, spans: Sequence[Span], apart: float) -> bool:
    return any(a <= span[0] + apart and span[1] <= b + apart for a, b in spans)


def _joined(spans: list[Span], apart: float) -> list[Span]:
    """The spans from left to right, those no more than `apart` from one another as one."""
    spans.sort()
    found: list[Span] = []
    for a, b in spans:
        if found and a <= found[-1][1] + apart:
            found[-1] = found[-1][0], max(found[-1][1], b)
        else:
            found.append((a, b))
    return found


def _narrowest(layout: Layout, place: Place, side: Side, *, alone: bool) -> float:
    """How far a piece goes, on its narrowest, from what ends it on `side` to its far side, mm; 0 where it is a point.

    `alone` is a piece that both ends of a row trim: its far side is taken where it comes nearest.
    """
    shape = layout.shape(place)
    assert shape is not None
    if len(shape.rings) > 1:
        shape = max(parts(shape), key=lambda part: max(_outward(part, side)))
    near = min(outer_ends(shape, side), default=None)
    far = max((-out for out in outer_ends(shape, side.opposite)), default=None) if alone else min(_outward(shape, side))
    return 0.0 if near is None or far is None else max(near - far, 0.0)


def _outward(shape: Region[Tile], side: Side) -> tuple[float, float]:
    """How far out towards a side the whole shape begins and ends, mm."""
    x, y = side.step
    box = shape.bounds
    one, other = box.min_x * x + box.min_y * y, box.max_x * x + box.max_y * y
    return min(one, other), max(one, other)


def outer_ends(shape: Region[F], side: Side) -> Iterator[float]:
    """How far out towards a side the ends of the edges lie that end the shape there, mm.

    Such an edge faces that side, by the normal of its chord, and nothing of the shape lies beyond it: not the far wall
    of a notch.
    """
    x, y = side.step
    for edge in (edge for ring in shape.rings if ring.area > 0.0 for edge in edges(ring)):
        normal_x, normal_y = edge.y1 - edge.y0, edge.x0 - edge.x1
        if normal_x * x + normal_y * y < abs(normal_x * y) + abs(normal_y * x) or edge.length <= TOUCH:
            continue
        if isinstance(edge, Arc) or _is_last(shape, (edge.x0 + edge.x1) / 2, (edge.y0 + edge.y1) / 2, side):
            yield from (edge.x0 * x + edge.y0 * y, edge.x1 * x + edge.y1 * y)


def _is_last(shape: Region[F], x: float, y: float, side: Side) -> bool:
    """Whether a place on the boundary is the outermost on its own level (left, right) or plumb line (bottom, top)."""
    spans, at = (spans_across(shape, y), x) if side.axis == "across" else (spans_up(shape, x), y)
    ends = [end for span in spans for end in span]
    return bool(ends) and abs((min(ends) if side in ("left", "bottom") else max(ends)) - at) <= COINCIDE
