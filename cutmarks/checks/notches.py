"""Whether a thin bridge may be opened to the edge: only where what covers the hole hides the notch too."""

from __future__ import annotations

import math
from collections.abc import Sequence

from msgspec import Struct

from cutmarks.geometry.distance import gap
from cutmarks.geometry.edges import Bounds
from cutmarks.geometry.frames import Tile
from cutmarks.geometry.regions import Region, difference, intersection, parts, region
from cutmarks.geometry.rings import Ring
from cutmarks.geometry.shapes import Circle, Outline
from cutmarks.geometry.thickness import facing_gap
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.limits import Limits
from cutmarks.openings.hidden import closed_shape, cover_on_surface, lap_of, with_lap
from cutmarks.openings.model import Cut, CutPiece, Opening
from cutmarks.openings.notches import carried_on
from cutmarks.sides import SIDES, Side


class Notch(Struct, frozen=True):
    """A hole opened to one side, or to two that meet; `outline` is what it takes out of the piece, Tile frame."""

    sides: tuple[Side, ...]
    outline: Region[Tile]


def hidden_notch(piece: CutPiece, cut: Cut, limit: float, limits: Limits) -> Notch | None:
    """The notch that takes a thin bridge away: hidden, with no bridge under `limit` mm left; None where there is none.

    Hidden is what the cover laps by its lap (`limits`) on both sides of the notch and behind it; towards the edge it
    has to reach the edge, and the joint there is filled as every joint is.
    """
    cover = cover_ring(cut.opening, piece)
    if cover is None or isinstance(cut.opening.shape, Outline):  # a free outline need not be convex
        return None
    for sides in _ways(piece, cut, limit, limits):
        if not _reaches(cover.bounds, sides, piece.piece.outline.bounds):
            continue
        outline = intersection(carried_on(cut.ring, sides, piece.piece.outline.bounds), piece.piece.outline)
        if _leaves_enough(outline, piece, cut, limit) and is_hidden(sides, piece, cut, limits):
            return Notch(sides, outline)
    return None


def _reaches(cover: Bounds, sides: Sequence[Side], box: Bounds) -> bool:
    """Whether a cover reaches every one of these edges at all: a quick look before the exact one."""
    return all(side.sign * (cover.at(side) - box.at(side)) >= -TOUCH for side in sides)


def is_hidden(sides: Sequence[Side], piece: CutPiece, cut: Cut, limits: Limits) -> bool:
    """Whether the cover hides the opening carried on to those sides, with its lap to spare beside and behind it."""
    cover, rim = cut.opening.cover, cover_ring(cut.opening, piece)
    if cover is None or rim is None or isinstance(closed_shape(cut.opening), Outline):
        return False
    lapped = with_lap(cut.opening, lap_of(cover, limits)).moved(piece.piece.tile_at.inverse())
    wider = carried_on(lapped, sides, piece.piece.outline.bounds)
    shown = difference(intersection(wider, piece.piece.outline), region(rim))
    return shown.is_empty or shown.area <= TOUCH


def cover_ring(opening: Opening, piece: CutPiece) -> Ring[Tile] | None:
    """The outline of what hides an opening, in the piece's Tile frame; None where nothing does."""
    cover = cover_on_surface(opening)
    return None if cover is None else cover.moved(piece.piece.tile_at.inverse())


def thin_sides(cut: Cut, limit: float) -> tuple[Side, ...]:
    """The sides of a hole beside which less than `limit` mm of tile is left."""
    return tuple(side for side, web in cut.web.beside.items() if web is not None and web < limit - TOUCH)


def mouth(piece: CutPiece, cut: Cut) -> tuple[Side, float] | None:
    """The one edge that a round hole breaks out at by itself, and how sharp the horns beside it are, degrees.

    Circle and edge meet at acos(e / r), e the middle's distance from the edge: as sharp as that is the horn. None where
    it breaks out nowhere, or round a corner, and on a trimmed piece, whose edge is another than its tile's.
    """
    shape = closed_shape(cut.opening)
    if piece.piece.trimmed or not isinstance(shape, Circle) or cut.opening.slide is not None:
        return None
    radius = shape.d / 2.0
    over = [side for side in SIDES if side not in cut.opening.opened and cut.from_edges[side] < radius - TOUCH]
    if len(over) != 1:
        return None
    return over[0], math.degrees(math.acos(max(cut.from_edges[over[0]] / radius, 0.0)))


def horned(piece: CutPiece, cut: Cut, limits: Limits) -> Side | None:
    """The edge at which a hole leaves horns that break off; None where it leaves none."""
    found = mouth(piece, cut)
    return found[0] if found is not None and found[1] < limits.horn.value else None


def _ways(piece: CutPiece, cut: Cut, limit: float, limits: Limits) -> list[tuple[Side, ...]]:
    """What to open: the one thin side, or the corner between two; nothing where three or opposite ones are thin.

    Where the hole leaves horns at an edge that meets the thin side, the corner between these comes first: the thin side
    alone leaves a horn, and that edge alone the bridge.
    """
    thin = thin_sides(cut, limit)
    if len(thin) == 1:
        edge = horned(piece, cut, limits)
        corner = [tuple(side for side in SIDES if side in (*thin, edge))] if edge in thin[0].beside else []
        return [*corner, thin]
    if len(thin) == 2 and thin[1] in thin[0].beside:
        return [thin]
    return []


def _leaves_enough(outline: Region[Tile], piece: CutPiece, cut: Cut, limit: float) -> bool:
    """Whether the piece stays whole round the notch and is nowhere thinner than the limit beside it."""
    left = difference(piece.piece.outline, outline)
    if len(parts(left)) != 1 or facing_gap(left) < limit - TOUCH:
        return False
    others = [other for other in piece.cuts if other is not cut]
    return all(gap(a, b) >= limit - TOUCH for other in others for a in other.share.rings for b in outline.rings)
