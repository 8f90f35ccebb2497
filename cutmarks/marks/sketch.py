"""A small sketch of one cut piece on its FACE, UP at the top: what is hatched goes, heavy lines are cut."""

from __future__ import annotations

from itertools import pairwise

from cutmarks.geometry.frames import Page
from cutmarks.geometry.regions import Region, difference
from cutmarks.geometry.rings import Bounds, Ring, Vertex, polygon
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.marks.hatching import hatched
from cutmarks.marks.model import Mark, Role, Stroke, outline
from cutmarks.openings.model import CutPiece

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
    for ring in rings:
        for a, b in pairwise((*ring.vertices, ring.vertices[0])):
            role = Role.BOX if _factory(a, b, whole.bounds) else Role.CUT
            marks.append(Stroke((a, Vertex(b.x, b.y)), role))
    return tuple(marks)


def _factory(a: Vertex, b: Vertex, whole: Bounds) -> bool:
    """Whether the stretch from a to b lies on a side of the whole tile."""
    if a.bulge:
        return False
    return any(_on(a.x, b.x, side) for side in (whole.min_x, whole.max_x)) or any(
        _on(a.y, b.y, side) for side in (whole.min_y, whole.max_y)
    )


def _on(one: float, other: float, side: float) -> bool:
    return abs(one - side) <= TOUCH and abs(other - side) <= TOUCH


def sketch_height(piece: CutPiece, w: float, h: float) -> float:
    """How high the sketch comes out in a box of w by h mm."""
    tile = piece.piece.tile
    return min(w / tile.w, h / tile.h) * tile.h
