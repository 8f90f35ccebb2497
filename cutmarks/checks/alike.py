"""Rules about pieces that are easily taken for each other: mirror images, such as the tiles for hot and cold."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator, Sequence
from itertools import product

from msgspec import Struct

from cutmarks.checks.model import Finding
from cutmarks.checks.pieces import listed
from cutmarks.geometry.edges import Bounds
from cutmarks.limits import Limits
from cutmarks.openings.model import CutPiece

CutSpot = tuple[float, float, float, float]
"""A cut's place and size on the whole tile, mm: middle across and up, width and height of what it takes out."""


class _Hand(Struct, frozen=True):
    """One piece as it is seen on its face: what trimming leaves of it, as one more spot, and its cuts, in order."""

    name: str
    spots: tuple[CutSpot, ...]

    def mirrored(self, wide: float) -> tuple[CutSpot, ...]:
        """The same in a mirror that stands upright."""
        kept, *cuts = ((wide - x, y, w, h) for x, y, w, h in self.spots)
        return (kept, *_in_order(cuts))


def mirror_images(pieces: Sequence[CutPiece], limits: Limits) -> Iterator[Finding]:
    """Two pieces of one tile that are each other's mirror image: marked from the other's sheet, both are lost.

    What trimming leaves of them is held to it as well as what is cut: each place and size to its own in the mirror, to
    the limit. A piece that is its own mirror image cannot be mistaken.
    """
    hands: dict[tuple[str, int], list[_Hand]] = defaultdict(list)
    wide: dict[str, float] = {}
    for piece in pieces:
        if piece.cuts:
            tile = piece.piece.tile
            cuts = _in_order([_spot(cut.share.bounds) for cut in piece.cuts])
            hands[tile.name, len(cuts)].append(_Hand(piece.name, (_spot(piece.piece.outline.bounds), *cuts)))
            wide[tile.name] = tile.w
    limit = limits.alike.value
    for (tile_name, _), found in hands.items():
        for names in _pairs(found, wide[tile_name], limit):
            yield Finding(
                "warn",
                "mirror images",
                names,
                f"{listed(names)} are mirror images of each other: write the name and UP on each tile's face before it "
                "is marked, and mark from the sheet of that name only.",
                0.0,
                limit,
                limits.alike.source,
            )


def _pairs(hands: Sequence[_Hand], wide: float, limit: float) -> Iterator[tuple[str, ...]]:
    """The names of those that are alike and of their mirror images, each piece once."""
    squares = _Squares(hands, max(limit, LEAST_SQUARE))
    told: set[str] = set()
    for hand in hands:
        mirror = hand.mirrored(wide)
        if hand.name in told or _alike(hand.spots, mirror, limit):
            continue
        others = squares.like(mirror, limit)
        if others:
            names = sorted({*others, *squares.like(hand.spots, limit)})
            told.update(names)
            yield tuple(names)


class _Squares:
    """Pieces by the square that the middle of their first cut lies in."""

    def __init__(self, hands: Sequence[_Hand], side: float) -> None:
        self._side = side
        self._held: dict[tuple[int, int], list[_Hand]] = defaultdict(list)
        for hand in hands:
            self._held[self._square(hand.spots)].append(hand)

    def _square(self, spots: tuple[CutSpot, ...]) -> tuple[int, int]:
        return math.floor(spots[1][0] / self._side), math.floor(spots[1][1] / self._side)

    def like(self, spots: tuple[CutSpot, ...], limit: float) -> list[str]:
        """The names of those whose places and sizes are these, to the limit."""
        column, row = self._square(spots)
        near = product((column - 1, column, column + 1), (row - 1, row, row + 1))
        return [hand.name for one in near for hand in self._held.get(one, ()) if _alike(hand.spots, spots, limit)]


LEAST_SQUARE = 0.01
"""Where a job sets the limit to nothing, places still lie in squares of some size, mm."""


def _alike(one: tuple[CutSpot, ...], other: tuple[CutSpot, ...], limit: float) -> bool:
    return all(
        abs(a - b) <= limit for mine, theirs in zip(one, other, strict=True) for a, b in zip(mine, theirs, strict=True)
    )


def _in_order(spots: Sequence[CutSpot]) -> tuple[CutSpot, ...]:
    return tuple(sorted(spots))


def _spot(box: Bounds) -> CutSpot:
    return (box.min_x + box.max_x) / 2.0, (box.min_y + box.max_y) / 2.0, box.width, box.height
