"""Transfer: an opening's exact share in each piece that it meets, in that piece's own Tile frame."""

from __future__ import annotations

from collections.abc import Sequence

from cutmarks.geometry.frames import Point, Tile
from cutmarks.geometry.regions import Region, difference, intersection, parts, region, without
from cutmarks.geometry.rings import edges
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.openings.model import CutKind, Opening, Share
from cutmarks.openings.outlines import facing, runs_along
from cutmarks.sides import Side
from cutmarks.tiling.layout import Layout
from cutmarks.tiling.model import Piece, Place

SPECK = TOUCH
"""A share less than this one way, mm, is a touch and not a cut."""


def places_met(opening: Opening, layout: Layout) -> list[Place]:
    """Places of an area whose tile the opening's own bounds overlap: division on the grid, not a search."""
    box = opening.ring.moved(layout.grid.to_surface.inverse()).bounds
    return list(layout.places_under(box)) if box.overlaps(layout.extent) else []


def centre_on(opening: Opening, piece: Piece) -> Point[Tile]:
    """The opening's centre as it falls on the piece, Tile frame of the whole tile, mm."""
    return piece.tile_at.inverse().apply(opening.at)


def share_of(opening: Opening, piece: Piece, shape: Region[Tile]) -> Share | None:
    """What the opening takes out of `shape` (the piece, or one part of it); None where it only touches or misses."""
    ring = opening.ring.moved(piece.tile_at.inverse())
    box = ring.bounds
    if not box.overlaps(shape.bounds):
        return None
    if not piece.trimmed and box.within(shape.bounds, -TOUCH):
        return Share(opening, ring, region(ring), "hole", frozenset())
    share = intersection(shape, region(ring))
    if share.is_empty or min(share.bounds.width, share.bounds.height) <= SPECK:
        return None
    sides = runs_out(share, shape)
    return Share(opening, ring, share, _kind(share, shape, sides), sides)


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


def taken_out(shape: Region[Tile], shares: Sequence[Share]) -> Region[Tile]:
    """The piece with every opening taken out."""
    return without(shape, [region(share.ring) for share in shares])
