"""Whether a thin bridge may be opened to the edge: only where what covers the hole hides the notch too."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct

from cutmarks.geometry.distance import gap
from cutmarks.geometry.edges import Bounds
from cutmarks.geometry.frames import Tile
from cutmarks.geometry.regions import Region, difference, intersection, parts, region
from cutmarks.geometry.rings import Ring
from cutmarks.geometry.shapes import Outline
from cutmarks.geometry.thickness import facing_gap
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.limits import Limits
from cutmarks.openings.hidden import closed_shape, cover_on_surface, lap_of, with_lap
from cutmarks.openings.model import Cut, CutPiece, Opening
from cutmarks.openings.notches import carried_on
from cutmarks.sides import Side


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
    for sides in _ways(cut, limit):
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


def _ways(cut: Cut, limit: float) -> list[tuple[Side, ...]]:
    """What to open: the one thin side, or the corner between two; nothing where three or opposite ones are thin."""
    thin = thin_sides(cut, limit)
    if len(thin) == 1:
        return [thin]
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
