"""Pieces as they are cut: trimmed, holed, parted, and measured from the edges that the maker gave them."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from functools import partial

from msgspec import Struct
from msgspec.structs import replace

from cutmarks.fixing.model import FixedSides
from cutmarks.fixing.sources import Sources
from cutmarks.geometry.distance import gap
from cutmarks.geometry.frames import Point, Tile
from cutmarks.geometry.regions import Region, canonical, contains, parts, spans_across, spans_up
from cutmarks.geometry.shapes import Rect
from cutmarks.geometry.spans import XSide, YSide, reach
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.openings.between import Between
from cutmarks.openings.corners import inside_corners
from cutmarks.openings.cuts import SeenShare, centre_on, share_of, taken_out
from cutmarks.openings.infills import read_for
from cutmarks.openings.model import Cut, CutPiece, Infill, Opening, Share
from cutmarks.openings.neighbours import wall_checks
from cutmarks.openings.outlines import sides_of, sizes_of
from cutmarks.openings.prints import printed
from cutmarks.openings.webs import web_of
from cutmarks.sides import FourSides, Side
from cutmarks.tiling.layout import Layout
from cutmarks.tiling.model import Piece, Place


class Surroundings(Struct, frozen=True):
    """What a piece has to know of its surroundings: its area's layout, what is fixed before it, and how it is said."""

    layout: Layout
    sources: Sources
    words: Callable[[Place], str]


def cut_pieces(
    place: Place, openings: Sequence[Opening], context: Surroundings, instead: Piece | None = None
) -> list[CutPiece]:
    """All that is fixed in one place once it is trimmed and cut: one piece, its parts, or none where nothing is left.

    A piece parted by a void or an opening gives parts a, b, ... from left to right, then upward. `instead`
    is this very tile where it is not as the others.
    """
    piece = instead or context.layout.piece(place)
    if piece is None:
        return []
    made: list[tuple[Region[Tile], Region[Tile], list[SeenShare], Sequence[SeenShare]]] = []
    for trimmed in parts(piece.outline) if piece.trimmed else (piece.outline,):
        shares = [s for opening in openings if (s := share_of(opening, piece, trimmed)) is not None]
        if not shares and not piece.trimmed:
            continue
        left = taken_out(trimmed, shares)
        finals = parts(left)
        for final in finals:
            own = shares if len(finals) == 1 else [s for s in shares if _touches(s, final)]
            made.append((trimmed, canonical(final), own, shares))
    made.sort(key=lambda m: (m[1].bounds.min_x, m[1].bounds.min_y))
    lettered = len(made) > 1
    return [
        _finished(piece, trimmed, final, own, context, i if lettered else None)
        for i, (trimmed, final, own, _) in enumerate(made)
    ]


def swallowed_by(place: Place, openings: Sequence[Opening], context: Surroundings) -> tuple[str, ...]:
    """The openings that meet what is fixed in a place, by name: of a place that `cut_pieces` left nothing of."""
    piece = context.layout.piece(place)
    if piece is None:
        return ()
    return tuple(opening.name for opening in openings if share_of(opening, piece, piece.outline) is not None)


def _letter(index: int) -> str:
    return chr(ord("a") + index) if index < 26 else f"z{index}"


def _touches(share: Share, final: Region[Tile]) -> bool:
    return any(gap(a, b) <= TOUCH for a in share.share.rings for b in final.rings)


def _finished(
    piece: Piece,
    trimmed: Region[Tile],
    final: Region[Tile],
    shares: Sequence[Share],
    context: Surroundings,
    number: int | None,
) -> CutPiece:
    w, h = piece.tile.w, piece.tile.h
    order = context.sources.order
    fixed = order.sides(piece.area, piece.place)
    part = None if number is None else _letter(number)
    factory_before, cut_before = sides_of(trimmed, w, h)
    factory, _ = sides_of(final, w, h)
    between = Between([share.ring for share in shares])
    cuts = tuple(
        _cut(share, partial(between.least, k), piece, trimmed, cut_before, factory_before, fixed, context)
        for k, share in enumerate(shares)
    )
    name = piece.name if part is None else piece.name + part
    infills, unread = read_for(piece, trimmed, context.sources, fixed)
    made = CutPiece(
        piece=piece,
        name=name,
        part=part,
        outline=final,
        cuts=cuts,
        sizes=sizes_of(trimmed) if piece.trimmed else None,
        factory_edges=factory,
        cut_edges=cut_before if piece.trimmed else (),
        fixed=fixed,
        words=context.words(piece.place),
        same_as=None,
        fingerprint="",
        rank=order.rank(piece.area, piece.place, number or 0),
        infills=infills,
        unread=unread,
        corners=inside_corners(trimmed, final, w, h, _corner_sides(infills, fixed, factory)) if piece.trimmed else (),
    )
    return printed(made)


def _cut(
    share: Share,
    to_others: Callable[[float], float],
    piece: Piece,
    trimmed: Region[Tile],
    cut_edges: Sequence[Side],
    factory: Sequence[Side],
    fixed: FixedSides,
    context: Surroundings,
) -> Cut:
    w, h = piece.tile.w, piece.tile.h
    opening = share.opening
    web = web_of(share, trimmed)
    nearest = to_others(math.inf if web.nearest is None else web.nearest)
    if nearest != (math.inf if web.nearest is None else web.nearest):
        web = replace(web, nearest=nearest)
    centre = centre_on(opening, piece)
    checked = wall_checks(opening, centre, piece, context.sources, fixed)
    return Cut(
        opening=opening,
        ring=share.ring,
        share=share.share,
        kind=share.kind,
        runs_out=share.runs_out,
        from_edges=FourSides.of(lambda side: piece.tile.box.inward(side, centre.x, centre.y)),
        sides=_box_sides(share, piece),
        web=web,
        wall_checks=checked.checks,
        mark_from=(_mark_side(checked.sides.across, factory), _mark_side(checked.sides.up, factory)),
        from_cut_edges=_from_cut_edges(centre.x, centre.y, trimmed, cut_edges, w, h),
        drill_at=_drill_at(opening, piece, trimmed),
        unread=checked.unread,
    )


def _drill_at(opening: Opening, piece: Piece, trimmed: Region[Tile]) -> tuple[Point[Tile], ...]:
    """The middles of the core that an opened hole begins with, those that stand on the piece."""
    if opening.drilled is None:
        return ()
    to_piece = piece.tile_at.inverse()
    middles = (to_piece.apply(Point(opening.at.x + dx, opening.at.y + dy)) for dx, dy in opening.drilled.steps)
    return tuple(middle for middle in middles if contains(trimmed, middle, strict=True))


def _box_sides(share: Share, piece: Piece) -> FourSides[float] | None:
    """Left, right (x), bottom and top (y) of a box's opening that lies square on the tile; else None."""
    shape = share.opening.shape
    if not isinstance(shape, Rect) or (shape.lean - piece.turn) % 90 != 0:
        return None
    return FourSides.of(share.ring.bounds.at)


def _corner_sides(infills: Sequence[Infill], fixed: FixedSides, factory: Sequence[Side]) -> tuple[Side, Side]:
    """The sides to mark an inside corner from: where the reading that gives the cut begins, else the fixed ones."""
    begins = {infill.side.axis: infill.side.opposite for infill in reversed(infills)}
    across, up = begins.get("across", fixed.across), begins.get("up", fixed.up)
    return _mark_side(across, factory), _mark_side(up, factory)


def _mark_side(fixed: Side, factory: Sequence[Side]) -> Side:
    """The fixed side where the maker's edge is left of it, else the opposite one if that has one."""
    return fixed.opposite if fixed not in factory and fixed.opposite in factory else fixed


def _from_cut_edges(
    x: float, y: float, trimmed: Region[Tile], cut_edges: Sequence[Side], w: float, h: float
) -> tuple[tuple[Side, float], ...]:
    """The centre's distance to each cut edge along the tile's own axes, at the centre's height or width, mm.

    A centre on the very edge of the tile is looked at from the tile's inside.
    """
    if not cut_edges:
        return ()
    level: YSide = "below" if y > h / 2 else "above"
    upright: XSide = "left" if x > w / 2 else "right"
    across, up = reach(spans_across(trimmed, y, level), x), reach(spans_up(trimmed, x, upright), y)
    found: list[tuple[Side, float]] = []
    if across is not None:
        if "left" in cut_edges and across[0] > TOUCH:
            found.append((Side.LEFT, x - across[0]))
        if "right" in cut_edges and across[1] < w - TOUCH:
            found.append((Side.RIGHT, across[1] - x))
    if up is not None:
        if "bottom" in cut_edges and up[0] > TOUCH:
            found.append((Side.BOTTOM, y - up[0]))
        if "top" in cut_edges and up[1] < h - TOUCH:
            found.append((Side.TOP, up[1] - y))
    return tuple(found)
