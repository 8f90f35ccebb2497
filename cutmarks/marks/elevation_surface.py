"""What an elevation shows of the surface itself: voids, edges, joints, set-out lines, openings. Page frame, mm."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from cutmarks.geometry.frames import Page, Point, Surface
from cutmarks.geometry.regions import intersection, region
from cutmarks.geometry.rings import Bounds, Ring, Vertex, polygon
from cutmarks.marks.elevation_view import View, courses, tile_ring, whole_places
from cutmarks.marks.model import CircleMark, Filled, Mark, Role, Stroke, Tone, line, outline
from cutmarks.openings.hidden import outline_about
from cutmarks.openings.model import Opening
from cutmarks.plan import AreaPlan, SurfacePlan
from cutmarks.setout.model import SurfaceEdge, Void
from cutmarks.tiling.model import Place

LEAST_COURSE = 0.7
"""A course lower than this on the page is not drawn by itself: the lines would run together."""
SMALL = 1.6
"""An opening that would be drawn smaller across than this stands as a dot of this size."""
OVERHANG = 2.5
"""How far a set-out line runs past what is shown."""


def voids(surface: SurfacePlan, view: View) -> Iterator[Mark[Page]]:
    """Windows, niches and doors as measured, grey, as far as the surface is shown."""
    for void in surface.setout.voids:
        for ring in void_shown(void, view):
            yield Filled((ring,), Tone.GREY)
            yield outline(ring, Role.OUTLINE)


def void_shown(void: Void, view: View) -> Sequence[Ring[Page]]:
    """What of a void lies in what is drawn: one that goes on past the surface would cover the words round it."""
    e = view.extent
    drawn: Ring[Surface] = polygon(((e.min_x, e.min_y), (e.max_x, e.min_y), (e.max_x, e.max_y), (e.min_x, e.max_y)))
    return [view.ring(ring) for ring in intersection(region(void.measured), region(drawn)).rings]


def edges(surface: SurfacePlan, view: View) -> Iterator[Mark[Page]]:
    """The surface's outline as measured; only the edges that were measured where a side is open."""
    setout = surface.setout
    if setout.outline is not None and not setout.open_sides:
        for ring in setout.outline.rings:
            yield outline(view.ring(ring), Role.OUTLINE)
        return
    for edge in setout.edges.values():
        yield Stroke(tuple(Vertex(*view.xy(x, y)) for x, y in _run(edge, view.extent)), Role.OUTLINE)


def _run(edge: SurfaceEdge, shown: Bounds) -> Iterator[tuple[float, float]]:
    """The corners of an edge from one end of the extent to the other: its end stretches go on."""
    upright = edge.side.axis == "across"
    low, high = (shown.min_y, shown.max_y) if upright else (shown.min_x, shown.max_x)
    points = [(point.y, point.x) if upright else (point.x, point.y) for point in edge.measured]
    between = [(along, at) for along, at in points if low < along < high]
    for along, at in [(low, _at(points, low)), *between, (high, _at(points, high))]:
        yield (at, along) if upright else (along, at)


def _at(points: list[tuple[float, float]], along: float) -> float:
    """Where the edge is at `along`, straight from reading to reading, the end stretches going on."""
    if len(points) == 1:
        return points[0][1]
    after = next((i for i in range(1, len(points) - 1) if along <= points[i][0]), len(points) - 1)
    (a, at_a), (b, at_b) = points[after - 1], points[after]
    return at_a if a == b else at_a + (at_b - at_a) * (along - a) / (b - a)


def grid_of(area: AreaPlan, view: View, taken: set[tuple[str, Place]], most: int) -> Iterator[Mark[Page]]:
    """Whole tiles one by one; the courses alone where there are more than `most` places or no room for them."""
    rows = courses(area, view.extent)
    grid = area.grid
    if sum(last - first + 1 for _row, first, last in rows) <= most and grid.pitch_v * view.scale >= LEAST_COURSE:
        for place in whole_places(area, view.extent, taken, rows):
            yield outline(view.ring(tile_ring(grid.w, grid.h, grid.placement(place))), Role.GRID)
        return
    step = max(1, int(LEAST_COURSE / (grid.pitch_v * view.scale)) + 1)
    for row, first, last in rows[::step]:
        start, end = grid.placement((first, row)).xy(0.0, 0.0), grid.placement((last, row)).xy(grid.w, 0.0)
        yield line(*view.xy(*start), *view.xy(*end), Role.GRID)


def set_out_lines(surface: SurfacePlan, view: View) -> Iterator[Mark[Page]]:
    """The set-out lines that cross what is shown."""
    page = view.page
    for set_out in surface.setout.lines.values():
        x, y = view.xy(set_out.at, set_out.at)
        if set_out.fixes == "x" and page.min_x <= x <= page.max_x:
            yield line(x, page.min_y - OVERHANG, x, page.max_y + OVERHANG, Role.SET_OUT)
        elif set_out.fixes == "y" and page.min_y <= y <= page.max_y:
            yield line(page.min_x - OVERHANG, y, page.max_x + OVERHANG, y, Role.SET_OUT)


def opening_marks(opening: Opening, view: View) -> Iterator[Mark[Page]]:
    """The opening, the cover over it and what has to stay clear; a dot where it would be too small to see."""
    ring = view.ring(opening.ring)
    bounds = ring.bounds
    if max(bounds.width, bounds.height) < SMALL:
        middle = view.point(opening.at)
        yield Filled((_disc(middle, SMALL / 2),), Tone.BLACK)
    else:
        yield Filled((ring,), Tone.WHITE)
        yield outline(ring, Role.CUT)
    for round_it, role in ((opening.cover, Role.COVER), (opening.keep_clear, Role.KEEP_CLEAR)):
        if round_it is None or min(round_it.w, round_it.h) * view.scale < SMALL:
            continue
        if round_it.round:
            yield CircleMark(view.point(opening.at), round_it.w / 2 * view.scale, role)
        else:
            yield outline(view.ring(outline_about(opening, round_it)), role)


def hiding_box(opening: Opening, view: View) -> Bounds:
    """What an opening and what is drawn round it cover on the page."""
    box, at = drawn_box(opening, view), view.point(opening.at)
    for round_it in (opening.cover, opening.keep_clear):
        if round_it is None:
            continue
        half_w, half_h = round_it.w / 2 * view.scale, round_it.h / 2 * view.scale
        own = Bounds(at.x - half_w, at.y - half_h, at.x + half_w, at.y + half_h)
        if not round_it.round:
            own = view.ring(outline_about(opening, round_it)).bounds
        box = Bounds(*map(min, box[:2], own[:2]), *map(max, box[2:], own[2:]))
    return box


def _disc(centre: Point[Page], radius: float) -> Ring[Page]:
    """A whole circle as a ring of two half circles (a bulge of 1 is half a turn)."""
    return Ring((Vertex(centre.x - radius, centre.y, 1.0), Vertex(centre.x + radius, centre.y, 1.0)))


def drawn_box(opening: Opening, view: View) -> Bounds:
    """What an opening covers on the page, a dot's size at least."""
    x, y = view.xy(opening.at.x, opening.at.y)
    bounds = view.ring(opening.ring).bounds
    half = SMALL / 2
    low_x, low_y = min(bounds.min_x, x - half), min(bounds.min_y, y - half)
    return Bounds(low_x, low_y, max(bounds.max_x, x + half), max(bounds.max_y, y + half))
