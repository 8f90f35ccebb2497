"""Transfer: an opening's exact share in each piece that it meets, in that piece's own Tile frame."""

from __future__ import annotations

from collections.abc import Sequence

from cutmarks.geometry.frames import Point, Tile
from cutmarks.geometry.near import FEW
from cutmarks.geometry.regions import Region, difference, intersection, parts, region, seen_in, without
from cutmarks.geometry.rings import Ring, edges, polygon, self_crossing
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.openings.model import CutKind, Opening, Share
from cutmarks.openings.outlines import facing, runs_along
from cutmarks.sides import Side
from cutmarks.tiling.layout import Layout
from cutmarks.tiling.model import Piece, Place

SPECK = TOUCH
"""A share less than this one way, mm, is a touch and not a cut."""


class SeenShare(Share, frozen=True):
    """A share as it is cut out: `seen` is what the opening encloses, the same as the whole of it within the piece."""

    seen: Region[Tile]


def places_met(opening: Opening, layout: Layout) -> list[Place]:
    """Places of an area whose tile the opening's own bounds overlap: division on the grid, not a search."""
    box = opening.ring.bounds_in(layout.grid.to_surface.inverse())
    return list(layout.places_under(box)) if box.overlaps(layout.extent) else []


def centre_on(opening: Opening, piece: Piece) -> Point[Tile]:
    """The opening's centre as it falls on the piece, Tile frame of the whole tile, mm."""
    return piece.tile_at.inverse().apply(opening.at)


def share_of(opening: Opening, piece: Piece, shape: Region[Tile]) -> SeenShare | None:
    """What the opening takes out of `shape` (the piece, or one part of it); None where it only touches or misses."""
    self_crossing(opening.ring)  # known once on the surface, it is not looked for again on every tile
    ring = opening.ring.moved(piece.tile_at.inverse())
    box = ring.bounds
    if not box.overlaps(shape.bounds):
        return None
    if not piece.trimmed and box.within(shape.bounds, -TOUCH):
        whole = region(ring)
        return SeenShare(opening, ring, whole, "hole", frozenset(), whole)
    seen = _seen(opening, piece, ring, shape)
    share = intersection(shape, seen)
    if share.is_empty or min(share.bounds.width, share.bounds.height) <= SPECK:
        return None
    sides = runs_out(share, shape)
    return SeenShare(opening, ring, share, _kind(share, shape, sides), sides, seen)


def _seen(opening: Opening, piece: Piece, ring: Ring[Tile], shape: Region[Tile]) -> Region[Tile]:
    """What the opening encloses, as it is seen in the bounds of `shape`; a long outline is shortened on the surface."""
    if len(ring.vertices) <= FEW:
        return region(ring)
    box = shape.bounds
    corners = ((box.min_x, box.min_y), (box.max_x, box.min_y), (box.max_x, box.max_y), (box.min_x, box.max_y))
    tile: Ring[Tile] = polygon(corners)
    there = tile.moved(piece.tile_at).bounds
    return seen_in(region(opening.ring), there).moved(piece.tile_at.inverse())


def runs_out(share: Region[Tile], shape: Region[Tile]) -> frozenset[Side]:
    """The sides over which the share leaves the piece: where a stretch of its outline is the piece's own."""
    found: set[Side] = set()
    for ring in share.rings:
        for edge in edges(ring):
            if edge.length > TOUCH and runs_along(shape, edge):
                found.add(facing(edge))
    return frozenset(found)


def _kind(share: Region[Tile], shape: Region[Tile], sides: frozenset[Side]) -> CutKind:
    if not sides:
        return "hole"
    if len(parts(difference(shape, share))) != 1 or len(sides) > 2 or sides in _OPPOSITES:
        return "part"
    return "edge notch" if len(sides) == 1 else "corner notch"


_OPPOSITES = (frozenset({"left", "right"}), frozenset({"bottom", "top"}))


def taken_out(shape: Region[Tile], shares: Sequence[SeenShare]) -> Region[Tile]:
    """The piece with every opening taken out."""
    return without(shape, [share.seen for share in shares])
