"""The four sides of a tile as edges to measure from."""

from __future__ import annotations

from cutmarks.openings.model import CutPiece, SheetSpot
from cutmarks.sides import Side


def mark_sides(cut: SheetSpot) -> tuple[Side, Side]:
    """The two sides to mark a cut from, across first."""
    first, second = cut.mark_from
    return (first, second) if first.axis == "across" else (second, first)


def span(cut: SheetSpot, piece: CutPiece, side: Side) -> tuple[float, float]:
    """Where the cut begins and ends, measured from `side` of the whole tile, mm."""
    box, tile = cut.bounds, piece.piece.tile
    match side:
        case Side.LEFT:
            return box[0], box[2]
        case Side.RIGHT:
            return tile.w - box[2], tile.w - box[0]
        case Side.BOTTOM:
            return box[1], box[3]
        case Side.TOP:
            return tile.h - box[3], tile.h - box[1]
