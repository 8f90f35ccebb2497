"""Rules about a hole that is opened to an edge or into a slot: how its cover laps, and how far it may come off.

What shows is tile that was cut away: the mouth ends at the edge of the tile, and the joint beyond is filled as every
joint is. The cover sits on the pipe.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from msgspec import Struct

from cutmarks.checks.notches import cover_ring
from cutmarks.geometry.distance import gap
from cutmarks.geometry.frames import Tile
from cutmarks.geometry.regions import Region, difference, region
from cutmarks.openings.hidden import from_cover, under_cover
from cutmarks.openings.model import Cut, CutPiece, Opening

NEAR = 0.01
"""A lap this near to what is wanted is enough, mm: a notch that is offered may show a speck of `TOUCH` mm2 at a corner.
"""


class Hidden(Struct, frozen=True):
    """How a cover hides an opened hole, mm; infinite where nothing of a tile is cut or left.

    lap    what it laps over the tile that is left beside and behind the cut; below 0: how far the cut shows.
    spare  how far the cut may move any way until it shows; less than the lap where a mouth comes near to the rim.
    """

    lap: float
    spare: float


def hidden(opening: Opening, pieces: Sequence[CutPiece]) -> Hidden:
    """How the cover hides the opening in all the pieces that it is cut in."""
    found = [_on_piece(piece, cut) for piece, cut in _cuts_of(opening, pieces)]
    return Hidden(
        min((one.lap for one in found), default=math.inf), min((one.spare for one in found), default=math.inf)
    )


def _cuts_of(opening: Opening, pieces: Sequence[CutPiece]) -> Iterator[tuple[CutPiece, Cut]]:
    for piece in pieces:
        for cut in piece.cuts:
            if cut.opening.name == opening.name:
                yield piece, cut


def _on_piece(piece: CutPiece, cut: Cut) -> Hidden:
    cover, rim = cut.opening.cover, cover_ring(cut.opening, piece)
    assert cover is not None
    assert rim is not None
    spare = under_cover(cover, seen_from_cover(piece, cut)).least
    if spare < -NEAR:
        return Hidden(spare, spare)
    bare = difference(piece.piece.outline, region(rim))
    lap = min((gap(a, b) for a in cut.share.rings for b in bare.rings), default=math.inf)
    return Hidden(lap, max(0.0, spare))


def seen_from_cover(piece: CutPiece, cut: Cut) -> Region[Tile]:
    """What is cut out of a piece, about the middle of the cover and along its sides."""
    return cut.share.moved(piece.piece.tile_at).moved(from_cover(cut.opening))
