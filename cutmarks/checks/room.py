"""Whether a hole has room all round it once the start of its area has moved."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Sequence

from msgspec import Struct

from cutmarks.geometry.distance import apart, gap
from cutmarks.geometry.edges import Bounds
from cutmarks.geometry.frames import Tile
from cutmarks.geometry.regions import Region, parts
from cutmarks.geometry.tolerance import COINCIDE, TOUCH
from cutmarks.openings.cuts import places_met, share_of
from cutmarks.openings.model import Cut, CutPiece, Opening, Share
from cutmarks.openings.webs import web_of
from cutmarks.sides import Side
from cutmarks.tiling.layout import Layout


class InRow(Struct, frozen=True):
    """The openings of a surface with their bounds, in the order of their left ends, and how wide the widest is, mm."""

    openings: tuple[tuple[Bounds, Opening], ...]
    widest: float

    def within(self, reach: float, opening: Opening) -> Iterator[Opening]:
        """The others whose bounds lie within `reach` mm of an opening's."""
        box = opening.ring.bounds
        first = bisect_left(self.openings, box.min_x - reach - self.widest, key=lambda one: one[0].min_x)
        last = bisect_right(self.openings, box.max_x + reach, key=lambda one: one[0].min_x)
        for bounds, other in self.openings[first:last]:
            if other.name != opening.name and apart(box, bounds) < reach:
                yield other


def in_row(openings: Sequence[Opening]) -> InRow:
    """The openings, ready to be asked for those near one of them."""
    found = sorted(((one.ring.bounds, one) for one in openings), key=lambda one: one[0].min_x)
    return InRow(tuple(found), max((box.width for box, _ in found), default=0.0))


def is_makers(piece: CutPiece, cut: Cut, side: Side, layout: Layout) -> bool:
    """Whether what is left beside a cut ends at the maker's edge of its tile, one of the area's own size."""
    if piece.part is not None or piece.piece.tile != layout.tile:
        return False
    web = cut.web.beside[side]
    to_edge = side.sign * (piece.piece.tile.box.at(side) - cut.share.bounds.at(side))
    return side in piece.factory_edges and web is not None and abs(web - to_edge) <= COINCIDE


def has_room(opening: Opening, near: InRow, layout: Layout, moved: Layout, limit: float) -> bool:
    """Whether an opening is cut as before once the start has moved, and `limit` mm are left all round it."""
    if any(gap(opening.ring, other.ring) < limit - TOUCH for other in near.within(limit, opening)):
        return False
    kinds = []
    for share, shape in _shares(opening, moved):  # one thin bridge is enough: of a large opening few are looked at
        web = web_of(share, shape, ())
        if any(one is not None and one < limit - TOUCH for one in (*web.beside, web.nearest)):
            return False
        kinds.append(share.kind)
    return sorted(kinds) == sorted(share.kind for share, _ in _shares(opening, layout))


def keeps_bridges(opening: Opening, near: InRow, moved: Layout, limit: float) -> bool:
    """Whether `limit` mm are left beside an opening once the start has moved, but where it runs out of its tile."""
    if any(gap(opening.ring, other.ring) < limit - TOUCH for other in near.within(limit, opening)):
        return False
    webs = (web_of(share, shape, ()) for share, shape in _shares(opening, moved))
    return all(one is None or one >= limit - TOUCH for web in webs for one in (*web.beside, web.nearest))


def _shares(opening: Opening, layout: Layout) -> Iterator[tuple[Share, Region[Tile]]]:
    """What an opening takes out of each piece of an area, and of what."""
    for place in places_met(opening, layout):
        piece = layout.piece(place)
        if piece is None:
            continue
        for shape in parts(piece.outline):
            if (share := share_of(opening, piece, shape)) is not None:
                yield share, shape
