"""Pieces of several jobs that are cut alike get one number, and stand in the order in which a saw is set.

Alike: the same contours within SAME, the same edges the maker's, the same tile, thickness, batch and pattern, the same
done to what is seen and to inside corners; turned half round where the pattern allows that. What waits for a reading on
the wall, or is signed for first, is not alike to what does not, and comes after that.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator, Sequence

from msgspec import Struct
from msgspec.structs import replace

from cutmarks.cutting.operations import StraightCut
from cutmarks.geometry.edges import Bounds
from cutmarks.geometry.frames import Placement, Tile
from cutmarks.geometry.rings import Ring, Vertex, edges
from cutmarks.openings.model import CutPiece
from cutmarks.openings.outlines import maker_side
from cutmarks.plan import Plan
from cutmarks.plan.model import TileStock

SAME = 0.05
"""Contours that are nowhere further apart are alike, mm: a tenth of what a shop cuts to."""
_HALF_TURN = 180.0


class ShopPiece(Struct, frozen=True):
    """A piece with the plan that it is of; turned: it is cut as its number's first is, and turned half round then."""

    plan: Plan
    piece: CutPiece
    turned: bool = False

    @property
    def waits(self) -> bool:
        """Whether it must not be cut before it was read on the wall."""
        return self.plan.waits_for_reading(self.piece)


class Numbered(Struct, frozen=True):
    """Pieces that are cut alike, the first of them drawn."""

    number: int
    pieces: tuple[ShopPiece, ...]

    @property
    def first(self) -> ShopPiece:
        """The one that is drawn."""
        return self.pieces[0]


class _Contour(Struct, frozen=True):
    """A ring about the piece's own corner, with which of its edges are the maker's."""

    vertices: tuple[Vertex, ...]
    makers: tuple[bool, ...]


def numbered(pieces: Sequence[ShopPiece]) -> tuple[Numbered, ...]:
    """One number for all that are alike, by tile and saw setting, from 1."""
    groups: list[list[ShopPiece]] = []
    known: dict[tuple[object, ...], list[tuple[list[_Contour], list[ShopPiece]]]] = defaultdict(list)
    for one in sorted(pieces, key=_place):
        own, turned = _contours(one.piece), _may_turn(one)
        bucket = known[_kind(one)]
        for contours, group in bucket:
            if _same(own, contours):
                group.append(one)
                break
            if turned and _same(_contours(one.piece, half=True), contours):
                group.append(replace(one, turned=True))
                break
        else:
            group = [one]
            bucket.append((own, group))
            groups.append(group)
    return tuple(Numbered(number, tuple(group)) for number, group in enumerate(groups, start=1))


def _place(one: ShopPiece) -> tuple[object, ...]:
    """Where a piece stands in the list: what waits last, by tile, by where the fence stands for its first cut."""
    tile = one.piece.piece.tile
    straight = (cut for cut in one.plan.how_cut[one.piece.name].operations if isinstance(cut, StraightCut))
    first = next((cut.from_edge for cut in straight if cut.from_edge is not None), None)
    fence = (1, "", 0.0) if first is None else (0, str(first.side.axis), round(first.first, 1))
    return one.waits, one.plan.say.cut == "ahead", tile.name, tile.thickness or 0.0, tile.batch, fence


def _kind(one: ShopPiece) -> tuple[object, ...]:
    """What has to be the same besides the contours."""
    tile = one.piece.piece.tile
    stock = one.plan.supplies.tiles.get(tile.name, TileStock(tile.name))
    return (
        *(tile.name, tile.w, tile.h, tile.thickness, tile.batch, tile.calibre, tile.shade, tile.material, tile.face),
        *(
            stock.pattern,
            stock.along,
            one.plan.shop,
            one.plan.cuttings[one.piece.name].corners,
            one.waits,
            one.plan.say.cut,
        ),
        tuple(work.values for work in one.piece.edge_work),
        tuple(sorted(len(ring.vertices) for ring in one.piece.outline.rings)),
    )


def _may_turn(one: ShopPiece) -> bool:
    stock = one.plan.supplies.tiles.get(one.piece.piece.tile.name)
    return stock is not None and stock.pattern in ("none", "two ways") and not one.piece.edge_work


def _contours(piece: CutPiece, *, half: bool = False) -> list[_Contour]:
    """The finished contours with the corner of their box at (0, 0), turned half round where `half`."""
    tile = piece.piece.tile
    made = []
    for ring in piece.outline.rings:
        makers = tuple(maker_side(edge, tile.w, tile.h) is not None for edge in edges(ring))
        made.append(_Contour(_moved(ring, piece.outline.bounds, half=half), makers))
    return made


def _moved(ring: Ring[Tile], box: Bounds, *, half: bool) -> tuple[Vertex, ...]:
    place: Placement[Tile, Tile] = (
        Placement.turned(_HALF_TURN, box.max_x, box.max_y) if half else Placement.shift(-box.min_x, -box.min_y)
    )
    return tuple(Vertex(*place.xy(v.x, v.y), v.bulge) for v in ring.vertices)


def _same(one: Sequence[_Contour], other: Sequence[_Contour]) -> bool:
    """Whether each contour of the one has its like in the other."""
    left = list(other)
    for contour in one:
        like = next((held for held in left if any(_near(turned, held) for turned in _begun(contour))), None)
        if like is None:
            return False
        left.remove(like)
    return not left


def _begun(contour: _Contour) -> Iterator[_Contour]:
    """The same contour begun at each of its corners."""
    for start in range(len(contour.vertices)):
        yield _Contour(
            contour.vertices[start:] + contour.vertices[:start], contour.makers[start:] + contour.makers[:start]
        )


def _near(a: _Contour, b: _Contour) -> bool:
    if len(a.vertices) != len(b.vertices) or a.makers != b.makers:
        return False
    pairs = list(zip(a.vertices, b.vertices, strict=True))
    return all(math.dist(v[:2], u[:2]) <= SAME and abs(_rise(v, a) - _rise(u, b)) <= SAME for v, u in pairs)


def _rise(vertex: Vertex, contour: _Contour) -> float:
    """How far the edge that leaves a vertex rises above its chord, mm: half the chord times its bulge."""
    row = contour.vertices
    after = row[(row.index(vertex) + 1) % len(row)]
    return vertex.bulge * math.dist(vertex[:2], after[:2]) / 2.0
