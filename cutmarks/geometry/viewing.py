"""A region as it is seen in a box: the same there, and as plain as can be beyond it.

What is asked of a wall's ground at one tile is answered by what comes near that tile, however many windows the wall
has and however many corners its outline.
"""

from __future__ import annotations

from typing import Final

from cutmarks.geometry.edges import Bounds
from cutmarks.geometry.frames import F
from cutmarks.geometry.near import FEW
from cutmarks.geometry.rings import Ring, Vertex

CLEAR: Final = 0.001
"""What is further than this beyond a box, mm, meets nothing in it at any attempt of an operation."""


def rings_seen(rings: tuple[Ring[F], ...], box: Bounds, numbers: list[int]) -> tuple[Ring[F], ...]:
    """Of the rings of these numbers each as it is seen in the box."""
    return tuple([_drawn_short(rings[number], box) for number in numbers])


def _drawn_short(ring: Ring[F], box: Bounds) -> Ring[F]:
    """The ring with what runs on beyond one side of the box drawn straight: it winds as often round what is in it.

    Beyond a straight line any way may be pulled straight without passing over what is on this side of it.
    """
    if len(ring.vertices) <= FEW or ring.bounds.within(box):
        return ring
    beyond = [_beyond(edge, box) for edge in ring.near.boxes]
    first = next((k for k, sides in enumerate(beyond) if not sides), 0)
    kept: list[Vertex] = []
    run = 0
    for k in (*range(first, len(beyond)), *range(first)):
        sides = beyond[k]
        if run & sides:
            run &= sides
            kept[-1] = Vertex(kept[-1].x, kept[-1].y)
        else:
            run = sides
            kept.append(ring.vertices[k])
    return Ring(tuple(kept)) if 2 < len(kept) < len(ring.vertices) else ring


def _beyond(edge: Bounds, box: Bounds) -> int:
    """The sides of the box that an edge lies wholly beyond: left 1, right 2, below 4, above 8, added up."""
    return (
        (edge[2] < box[0] - CLEAR)
        | (edge[0] > box[2] + CLEAR) << 1
        | (edge[3] < box[1] - CLEAR) << 2
        | (edge[1] > box[3] + CLEAR) << 3
    )
