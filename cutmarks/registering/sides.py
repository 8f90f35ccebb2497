"""The four sides of a tile as edges to measure from."""

from __future__ import annotations

from cutmarks.openings.model import Cut, CutPiece
from cutmarks.sides import Side


def mark_sides(cut: Cut) -> tuple[Side, Side]:
    """The two sides to mark a cut from, across first."""
    first, second = cut.mark_from
    return (first, second) if first.axis == "across" else (second, first)


def span(cut: Cut, piece: CutPiece, side: Side) -> tuple[float, float]:
    """Where the cut begins and ends, measured from `side` of the whole tile, mm."""
    box, tile = cut.share.bounds, piece.piece.tile.box
    near, far = (side.sign * (tile.at(side) - box.at(end)) for end in (side, side.opposite))
    return near, far
