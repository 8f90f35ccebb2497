"""How a surface is reduced onto the page: its extent, the scale, and which of its places are worth drawing."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

from msgspec import Struct

from cutmarks.geometry.frames import Courses, Page, Placement, Point, Surface, Tile
from cutmarks.geometry.regions import Region, contains
from cutmarks.geometry.rings import Bounds, Ring, Vertex
from cutmarks.openings.model import CutPiece, Opening
from cutmarks.plan import AreaPlan, Plan, SurfacePlan
from cutmarks.setout.model import SetOut
from cutmarks.sides import Side
from cutmarks.tiling.model import Place

SLACK = 0.5
"""How far, mm on the surface, a tile may reach past the extent and still be drawn."""


class View(Struct, frozen=True):
    """A reduction without turning: page = surface x scale + (dx, dy), mm."""

    extent: Bounds
    scale: float
    dx: float
    dy: float

    def xy(self, x: float, y: float) -> tuple[float, float]:
        """The page's coordinates of (x, y) on the surface."""
        return x * self.scale + self.dx, y * self.scale + self.dy

    def point(self, point: Point[Surface]) -> Point[Page]:
        """The page's point for one on the surface."""
        return Point(*self.xy(point.x, point.y))

    def ring(self, ring: Ring[Surface]) -> Ring[Page]:
        """A ring reduced; arcs stay arcs, because the scale is the same both ways."""
        return Ring(tuple(Vertex(*self.xy(v.x, v.y), v.bulge) for v in ring.vertices))

    @property
    def page(self) -> Bounds:
        """The extent on the page."""
        return Bounds(*self.xy(self.extent.min_x, self.extent.min_y), *self.xy(self.extent.max_x, self.extent.max_y))


def fitted(extent: Bounds, room: Bounds) -> View:
    """The view that shows `extent` (surface) as large as it goes, in the middle of `room` (page)."""
    width, height = max(extent.width, SLACK), max(extent.height, SLACK)
    scale = min(room.width / width, room.height / height)
    dx = room.min_x + (room.width - scale * width) / 2 - scale * extent.min_x
    dy = room.min_y + (room.height - scale * height) / 2 - scale * extent.min_y
    return View(extent, scale, dx, dy)


def extent(plan: Plan, surface: SurfacePlan) -> Bounds:
    """What of the surface is shown, mm: all of it; on a side that is not measured, one tile more than what is cut."""
    setout = surface.setout
    if setout.outline is not None:
        return setout.outline.bounds
    content = _hull([*_content(plan, setout)])
    pad_x = max((area.grid.pitch_u for area in surface.areas), default=0.0)
    pad_y = max((area.grid.pitch_v for area in surface.areas), default=0.0)
    laid = _hull(
        [content, *(area.ground.moved(area.grid.to_surface).bounds for area in surface.areas if area.ground.rings)]
    )
    shown = Bounds(
        max(content.min_x - pad_x, laid.min_x),
        max(content.min_y - pad_y, laid.min_y),
        min(content.max_x + pad_x, laid.max_x),
        min(content.max_y + pad_y, laid.max_y),
    )
    edges = setout.edges
    measured = Bounds(
        min(point.x for point in edges[Side.LEFT].measured) if Side.LEFT in edges else shown.min_x,
        min(point.y for point in edges[Side.BOTTOM].measured) if Side.BOTTOM in edges else shown.min_y,
        max(point.x for point in edges[Side.RIGHT].measured) if Side.RIGHT in edges else shown.max_x,
        max(point.y for point in edges[Side.TOP].measured) if Side.TOP in edges else shown.max_y,
    )
    # A raking edge goes on past its last reading, and with it the pieces that it trims.
    pieces = (on_surface(one, one.piece.outline).bounds for one in drawn_of(plan, setout) if one.piece.outline.rings)
    return _hull([measured, *pieces])


def _content(plan: Plan, setout: SetOut) -> Iterator[Bounds]:
    yield Bounds(0.0, 0.0, 0.0, 0.0)
    for cut_piece in pieces_of(plan, setout):
        yield whole_tile(cut_piece).bounds
    for opening in openings_of(plan, setout):
        yield opening.ring.bounds
    for void in setout.voids:
        yield void.measured.bounds
    for keep_out in setout.keep_outs:
        yield keep_out.ring.bounds


def _hull(boxes: list[Bounds]) -> Bounds:
    return Bounds(
        min(box.min_x for box in boxes),
        min(box.min_y for box in boxes),
        max(box.max_x for box in boxes),
        max(box.max_y for box in boxes),
    )


def pieces_of(plan: Plan, setout: SetOut) -> list[CutPiece]:
    """The cut pieces that lie on a surface, in the plan's order."""
    return [piece for piece in plan.pieces if piece.piece.surface == setout.name]


def drawn_of(plan: Plan, setout: SetOut) -> list[CutPiece]:
    """The cut pieces of a surface, and behind them those that are cut elsewhere."""
    return [*pieces_of(plan, setout), *(piece for piece in plan.beside if piece.piece.surface == setout.name)]


def openings_of(plan: Plan, setout: SetOut) -> list[Opening]:
    """The openings on a surface, in the plan's order."""
    return [opening for opening in plan.openings if opening.surface == setout.name]


def whole_tile(piece: CutPiece) -> Ring[Surface]:
    """The whole tile that a piece is made from, where it lies on the surface."""
    return tile_ring(piece.piece.tile.w, piece.piece.tile.h, piece.piece.tile_at)


def tile_ring(w: float, h: float, at: Placement[Tile, Surface]) -> Ring[Surface]:
    """A whole tile of w by h mm in its place."""
    return Ring(tuple(Vertex(*at.xy(x, y)) for x, y in ((0.0, 0.0), (w, 0.0), (w, h), (0.0, h))))


def on_surface(piece: CutPiece, region: Region[Tile]) -> Region[Surface]:
    """A region of the piece's Tile frame where it lies on the surface."""
    return region.moved(piece.piece.tile_at)


def courses(area: AreaPlan, shown: Bounds) -> tuple[tuple[int, int, int], ...]:
    """The courses to draw: (row, first column, last column); those in the extent where the area runs on unmeasured."""
    if area.places:
        return area.places
    return tuple(_courses_in(area, shown))


def _courses_in(area: AreaPlan, shown: Bounds) -> Iterator[tuple[int, int, int]]:
    grid = area.grid
    back = grid.to_surface.inverse()
    corners = [back.xy(x, y) for x in (shown.min_x, shown.max_x) for y in (shown.min_y, shown.max_y)]
    us, vs = [u for u, _ in corners], [v for _, v in corners]
    for row in range(_first(min(vs), grid.pitch_v), _last(max(vs), grid.h, grid.pitch_v) + 1):
        shift = grid.shift(row)
        first, last = _first(min(us) - shift, grid.pitch_u), _last(max(us) - shift, grid.w, grid.pitch_u)
        if first <= last:
            yield row, first, last


def _first(low: float, pitch: float) -> int:
    return math.ceil((low - SLACK) / pitch)


def _last(high: float, size: float, pitch: float) -> int:
    return math.floor((high + SLACK - size) / pitch)


def whole_places(
    area: AreaPlan, shown: Bounds, taken: set[tuple[str, Place]], rows: Iterable[tuple[int, int, int]]
) -> Iterator[Place]:
    """The places that hold a whole tile: no cut piece's (`taken`), and none that a void takes wholly."""
    grid = area.grid
    for row, first, last in rows:
        for column in range(first, last + 1):
            if (area.name, (column, row)) in taken:
                continue
            u, v = grid.corner((column, row))
            middle: Point[Courses] = Point(u + grid.w / 2, v + grid.h / 2)
            if contains(area.ground, middle) and _within(shown, grid.to_surface.apply(middle)):
                yield column, row


def _within(bounds: Bounds, point: Point[Surface]) -> bool:
    return bounds.min_x <= point.x <= bounds.max_x and bounds.min_y <= point.y <= bounds.max_y
