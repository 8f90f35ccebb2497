"""Where the tiles lie that others are read from: whole ones are no pieces of the plan, and have a name alone there."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping

from cutmarks.geometry.frames import Point, Surface, Tile
from cutmarks.geometry.regions import contains
from cutmarks.geometry.rings import Bounds
from cutmarks.marks.elevation_view import drawn_of, tile_ring, whole_tile
from cutmarks.openings.model import Cut, CutPiece, WallCheck
from cutmarks.plan import AreaPlan, Plan, SurfacePlan
from cutmarks.sides import Side
from cutmarks.tiling.model import Place

INSIDE = 5.0
"""So far past the joint a neighbour is looked for, mm: a piece that is read from is no narrower, or is one of the
plan's own."""


def tiles_read(plan: Plan, surface: SurfacePlan, pieces: Iterable[CutPiece]) -> Mapping[str, Bounds]:
    """The tiles that READ is done from on these pieces, by name: where they lie on the surface, mm.

    A tile across a window that is no piece of the plan is not looked for.
    """
    own = {piece.name: whole_tile(piece).bounds for piece in drawn_of(plan, surface.setout)}
    found: dict[str, Bounds] = {}
    for piece in pieces:
        for cut, check in _checks(piece):
            name = check.source.name
            if name in found:
                continue
            at = own.get(name)
            if at is None and not check.source.across:
                at = _beside(surface, piece, cut, check.side)
            if at is not None:
                found[name] = at
    return found


def _checks(piece: CutPiece) -> Iterator[tuple[Cut, WallCheck]]:
    for cut in piece.cuts:
        for check in cut.wall_checks:
            if check.fixed and check.source.kind == "piece":
                yield cut, check


def _beside(surface: SurfacePlan, piece: CutPiece, cut: Cut, side: Side) -> Bounds | None:
    """The whole tile past a piece's side, at the level of a cut; None where there is none."""
    areas = {area.name: area for area in surface.areas}
    own = areas[piece.piece.area]
    box = piece.piece.tile.box
    past = box.at(side) + side.sign * (own.grid.joint + INSIDE)
    x, y = (
        (past, min(max(cut.centre.y, box.min_y), box.max_y))
        if side.axis == "across"
        else (min(max(cut.centre.x, box.min_x), box.max_x), past)
    )
    at: Point[Tile] = Point(x, y)
    on_surface = piece.piece.tile_at.apply(at)
    for area in (own, *(other for other in surface.areas if other is not own)):
        place = _place_at(area, on_surface)
        if place is not None:
            return tile_ring(area.grid.w, area.grid.h, area.grid.placement(place)).bounds
    return None


def _place_at(area: AreaPlan, at: Point[Surface]) -> Place | None:
    """The place of an area that a point of the surface lies in; None where its ground does not reach."""
    grid = area.grid
    in_courses = grid.to_surface.inverse().apply(at)
    if area.ground.rings and not contains(area.ground, in_courses):
        return None
    row = math.floor(in_courses.y / grid.pitch_v)
    return math.floor((in_courses.x - grid.shift(row)) / grid.pitch_u), row
