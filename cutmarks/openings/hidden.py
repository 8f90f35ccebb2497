"""How what is cut away lies under its cover: measured from the pipe, which the cover is fixed to.

A hole that is opened to an edge, or into a slot, has its pipe far from the middle of the cut: its mouth may show though
a cover over that middle would hide it.
"""

from __future__ import annotations

import math

from cutmarks.geometry.edges import Arc, travelled
from cutmarks.geometry.frames import F, Placement, Surface, Tile
from cutmarks.geometry.regions import Region
from cutmarks.geometry.rings import edges
from cutmarks.geometry.shapes import Rect
from cutmarks.openings.model import Cover, Opening


def lean_of(opening: Opening) -> float:
    """The lean of an opening and of an oblong cover over it, degrees: that of its box, opened or closed."""
    shape = opening.closed or opening.shape
    return shape.lean if isinstance(shape, Rect) else 0.0


def from_cover(opening: Opening) -> Placement[Surface, Tile]:
    """From the surface to a cover's own sides: its middle, which is the pipe's, at the origin, and upright."""
    own: Placement[Tile, Surface] = Placement.turned(lean_of(opening), opening.at.x, opening.at.y)
    return own.inverse()


def spare_under(cover: Cover, cut: Region[Tile]) -> float:
    """How far a cut may move any way and stay under its cover, mm; below 0: how far it shows past it.

    `cut` is seen from the cover, as `from_cover` has it. Past an oblong cover it is measured along the cover's sides.
    """
    if cover.round:
        return cover.w / 2.0 - farthest_out(cut)
    box = cut.bounds
    return min(
        cover.w / 2.0 - max(-box.min_x, box.max_x),
        cover.h / 2.0 - max(-box.min_y, box.max_y),
    )


def farthest_out(cut: Region[F]) -> float:
    """The distance of its farthest place from the origin, mm."""
    far = 0.0
    for ring in cut.rings:
        for edge in edges(ring):
            far = max(far, math.hypot(edge.x0, edge.y0))
            # Of a whole circle the place straight beyond its middle is farthest; of an arc only where it has that one.
            if isinstance(edge, Arc) and reaches(edge, edge.cx, edge.cy):
                far = max(far, math.hypot(edge.cx, edge.cy) + edge.radius)
    return far


def reaches(arc: Arc[F], dx: float, dy: float) -> bool:
    """Whether an arc has the place that lies in that direction from its own middle."""
    return travelled(arc, arc.cx + dx, arc.cy + dy) <= abs(arc.sweep)
