"""The four sides of a tile as edges to measure from."""

from __future__ import annotations

from typing import Literal

from cutmarks.openings.model import Cut, CutPiece
from cutmarks.setout.model import OPPOSITE, Side

Axis = Literal["across", "up"]


def axis_of(side: Side) -> Axis:
    """The axis that a measure from this side runs along."""
    return "across" if side in ("left", "right") else "up"


def opposite(side: Side) -> Side:
    """The other side of the same axis."""
    return OPPOSITE[side]


def mirrored(side: Side) -> Side:
    """The same side of the tile as it is called from behind."""
    return OPPOSITE[side] if axis_of(side) == "across" else side


def mark_sides(cut: Cut) -> tuple[Side, Side]:
    """The two sides to mark a cut from, across first."""
    first, second = cut.mark_from
    return (first, second) if axis_of(first) == "across" else (second, first)


def span(cut: Cut, piece: CutPiece, side: Side) -> tuple[float, float]:
    """Where the cut begins and ends, measured from `side` of the whole tile, mm."""
    box = cut.share.bounds
    tile = piece.piece.tile
    match side:
        case "left":
            return box.min_x, box.max_x
        case "right":
            return tile.w - box.max_x, tile.w - box.min_x
        case "bottom":
            return box.min_y, box.max_y
        case "top":
            return tile.h - box.max_y, tile.h - box.min_y


def centre_from(cut: Cut, side: Side) -> float:
    """The centre of the opening, measured from `side` of the whole tile, mm; negative where it lies off the tile."""
    match side:
        case "left":
            return cut.from_left
        case "right":
            return cut.from_right
        case "bottom":
            return cut.from_bottom
        case "top":
            return cut.from_top
