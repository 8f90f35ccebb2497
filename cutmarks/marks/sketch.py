"""A small sketch of one cut piece on its FACE, UP at the top: what is hatched goes, heavy lines are cut."""

from __future__ import annotations

from itertools import pairwise

from cutmarks.geometry.frames import Page
from cutmarks.geometry.regions import Region, difference
from cutmarks.geometry.rings import Ring, Vertex, edges, polygon
from cutmarks.marks.hatching import hatched
from cutmarks.marks.model import Mark, Role, Stroke, outline
from cutmarks.openings.model import CutPiece
from cutmarks.openings.outlines import maker_side

HATCH = 1.1
"""Between two lines of the pattern, mm."""


def sketch(piece: CutPiece, w: float, h: float) -> tuple[Mark[Page], ...]:
    """The piece in a box of w by h mm, not to scale, at the box's top left; of the whole tile what goes is hatched."""
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
    return tuple(marks)


def sketch_height(piece: CutPiece, w: float, h: float) -> float:
    """How high the sketch comes out in a box of w by h mm."""
    tile = piece.piece.tile
    return min(w / tile.w, h / tile.h) * tile.h
