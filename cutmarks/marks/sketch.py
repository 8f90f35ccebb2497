"""A small sketch of one cut piece on its FACE, UP at the top: what is hatched goes, heavy lines are cut."""

from __future__ import annotations

from collections.abc import Collection
from itertools import pairwise

from cutmarks.geometry.frames import Page
from cutmarks.geometry.regions import Region, difference
from cutmarks.geometry.rings import Bounds, Ring, Vertex, edges, polygon
from cutmarks.marks.hatching import hatched
from cutmarks.marks.model import Mark, Role, Stroke, block, outline
from cutmarks.openings.model import CutPiece
from cutmarks.openings.outlines import maker_side
from cutmarks.sides import SIDES, Side

HATCH = 1.1
"""Between two lines of the pattern, mm."""
HEAVY = 0.9
"""How thick the bar along a heavy side is, mm."""


def sketch(piece: CutPiece, w: float, h: float, heavy: Collection[Side] = ()) -> tuple[Mark[Page], ...]:
    """The piece in a box of w by h mm, not to scale, at the box's top left; of the whole tile what goes is hatched.

    Its `heavy` sides have a bar along them, inside the box.
    """
    tile = piece.piece.tile
    scale = min(w / tile.w, h / tile.h)
    lift = h - scale * tile.h
    whole: Ring[Page] = polygon(((0.0, lift), (scale * tile.w, lift), (scale * tile.w, h), (0.0, h)))
    rings: list[Ring[Page]] = [
        Ring(tuple(Vertex(v.x * scale, v.y * scale + lift, v.bulge) for v in ring.vertices))
        for ring in piece.outline.rings
    ]
    goes = difference(Region((whole,)), Region(tuple(rings)))
    marks: list[Mark[Page]] = [*hatched(goes, HATCH, rising=True), outline(whole, Role.GRID)]
    for ring, drawn in zip(piece.outline.rings, rings, strict=True):
        ends = pairwise((*drawn.vertices, drawn.vertices[0]))
        for edge, (a, b) in zip(edges(ring), ends, strict=True):
            role = Role.CUT if maker_side(edge, tile.w, tile.h) is None else Role.BOX
            marks.append(Stroke((a, Vertex(b.x, b.y)), role))
    marks += [_bar(whole.bounds, side) for side in SIDES if side in heavy]
    return tuple(marks)


def _bar(box: Bounds, side: Side) -> Mark[Page]:
    low_x, low_y, high_x, high_y = box.with_side(side.opposite, box.at(side) - side.sign * HEAVY)
    return block(low_x, low_y, high_x - low_x, high_y - low_y)


def sketch_height(piece: CutPiece, w: float, h: float) -> float:
    """How high the sketch comes out in a box of w by h mm."""
    tile = piece.piece.tile
    return min(w / tile.w, h / tile.h) * tile.h
