"""Rules about pieces that are easily taken for each other: mirror images, such as the tiles for hot and cold."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence

from cutmarks.checks.model import Finding
from cutmarks.checks.pieces import listed
from cutmarks.limits import Limits
from cutmarks.openings.model import CutPiece

MirrorKey = tuple[int, int, int, int]
"""A cut's place and size, in steps of the limit: middle across and up, width and height of what it takes out."""


def mirror_images(pieces: Sequence[CutPiece], limits: Limits) -> Iterator[Finding]:
    """Two pieces of one tile whose cuts are each other's mirror image: cut from the other's sheet, both are lost.

    Places are compared in steps of the limit. A piece that is its own mirror image cannot be mistaken.
    """
    step = max(limits.alike.value, LEAST_STEP)
    hands: dict[tuple[str, frozenset[MirrorKey]], list[str]] = defaultdict(list)
    whole = [piece for piece in pieces if piece.cuts and not piece.piece.trimmed]
    as_seen = [_spots(piece, step, mirrored=False) for piece in whole]
    for piece, own in zip(whole, as_seen, strict=True):
        hands[piece.piece.tile.name, own].append(piece.name)
    pairs: dict[frozenset[tuple[str, frozenset[MirrorKey]]], None] = {}
    for piece, own in zip(whole, as_seen, strict=True):
        tile, other = piece.piece.tile.name, _spots(piece, step, mirrored=True)
        if own != other and (tile, other) in hands:
            pairs.setdefault(frozenset(((tile, own), (tile, other))))
    for pair in pairs:
        ordered = sorted(name for hand in pair for name in hands[hand])
        yield Finding(
            "note",
            "mirror images",
            tuple(ordered),
            f"{listed(ordered)} are mirror images of each other: write the name and UP on each tile's face before it "
            "is marked, and mark from the sheet of that name only.",
            0.0,
            limits.alike.value,
            limits.alike.source,
        )


LEAST_STEP = 0.01
"""Where a job sets the limit to nothing, places still have to be compared in some step, mm."""


def _spots(piece: CutPiece, step: float, *, mirrored: bool) -> frozenset[MirrorKey]:
    """Where the cuts are, and how big, as seen on the face or in a mirror that stands upright."""
    w = piece.piece.tile.w
    spots = []
    for cut in piece.cuts:
        box = cut.share.bounds
        x, y = (box.min_x + box.max_x) / 2.0, (box.min_y + box.max_y) / 2.0
        x = w - x if mirrored else x
        spots.append((round(x / step), round(y / step), round(box.width / step), round(box.height / step)))
    return frozenset(spots)
