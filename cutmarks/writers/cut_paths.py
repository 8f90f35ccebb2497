"""What has to be cut of a tile: the parts of the finished outline that the maker has not made already.

A finished factory edge must not be cut again, so a shop is also given the open paths alone. Tile frame, mm.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from cutmarks.geometry.edges import Arc, Bounds, Edge
from cutmarks.geometry.frames import Tile
from cutmarks.geometry.regions import Region
from cutmarks.geometry.rings import Ring, Vertex, edges
from cutmarks.geometry.tolerance import TOUCH

LONGEST_RUN_OUT = 4.0
"""A path that leaves the tile at a flat angle runs on no further than so many times the run-out."""

GRAZING = math.sin(math.radians(2.0))
"""A path that meets the factory edge flatter than this does not run on: it would follow the edge, and cut it again."""


@dataclass(frozen=True, slots=True)
class OpenPath:
    """One path from factory edge to factory edge.

    vertices  as in a ring, each with the bulge of the edge to the next; the last is the end, its bulge 0. The first
              and last edges run on straight past the factory edge.
    length    of what is cut in the tile, without what runs past, mm.
    """

    vertices: tuple[Vertex, ...]
    length: float


@dataclass(frozen=True, slots=True)
class CutPaths:
    """All that is cut: whole contours (holes, and an outline with no factory edge left), and open paths."""

    closed: tuple[Ring[Tile], ...]
    open: tuple[OpenPath, ...]

    @property
    def length(self) -> float:
        """What is cut in the tile, mm: what a shop prices."""
        return sum(ring.length for ring in self.closed) + sum(path.length for path in self.open)

    @property
    def bounds(self) -> Bounds:
        """Of all paths with what runs past the tile, mm; a tile of which nothing is cut has a nought.

        An open path runs straight at both ends, so that closing it with a straight line adds nothing outside it.
        """
        rings: list[Ring[Tile]] = [*self.closed, *(Ring(path.vertices) for path in self.open)]
        boxes = [ring.bounds for ring in rings]
        if not boxes:
            return Bounds(0.0, 0.0, 0.0, 0.0)
        lows, highs = [box[:2] for box in boxes], [box[2:] for box in boxes]
        return Bounds(*map(min, zip(*lows, strict=True)), *map(max, zip(*highs, strict=True)))


def cut_paths(outline: Region[Tile], w: float, h: float, run_out: float) -> CutPaths:
    """The cut parts of the finished `outline` of a whole tile of w x h mm.

    An open path runs `run_out` mm past the factory edge, square to it: the jet or disc starts and ends off the tile.
    """
    closed: list[Ring[Tile]] = []
    paths: list[OpenPath] = []
    for ring in outline.rings:
        around = edges(ring)
        made = [_is_factory_edge(edge, w, h) for edge in around]
        if not any(made):
            closed.append(ring)
            continue
        for start in range(len(around)):
            if made[start - 1] and not made[start]:
                chain: list[Edge[Tile]] = []
                while not made[(start + len(chain)) % len(around)]:
                    chain.append(around[(start + len(chain)) % len(around)])
                paths.append(_run_out(chain, w, h, run_out))
    return CutPaths(tuple(closed), tuple(paths))


def _is_factory_edge(edge: Edge[Tile], w: float, h: float) -> bool:
    if isinstance(edge, Arc):
        return False
    along_x = any(abs(edge.x0 - x) <= TOUCH and abs(edge.x1 - x) <= TOUCH for x in (0.0, w))
    along_y = any(abs(edge.y0 - y) <= TOUCH and abs(edge.y1 - y) <= TOUCH for y in (0.0, h))
    return along_x or along_y


def _run_out(chain: list[Edge[Tile]], w: float, h: float, past: float) -> OpenPath:
    first, last = chain[0], chain[-1]
    dx, dy = _direction(first, at_end=False)
    before = _beyond(first.x0, first.y0, -dx, -dy, w, h, past)
    dx, dy = _direction(last, at_end=True)
    after = _beyond(last.x1, last.y1, dx, dy, w, h, past)
    on_tile = [Vertex(edge.x0, edge.y0, edge.bulge) for edge in chain] + [Vertex(last.x1, last.y1)]
    vertices = (*([before] if before else []), *on_tile, *([after] if after else []))
    return OpenPath(vertices, sum(edge.length for edge in chain))


def _direction(edge: Edge[Tile], *, at_end: bool) -> tuple[float, float]:
    """The way an edge runs at its start or its end, as a vector of length 1."""
    if isinstance(edge, Arc):
        x, y = (edge.x1, edge.y1) if at_end else (edge.x0, edge.y0)
        turn = math.copysign(1.0, edge.sweep) / edge.radius
        return -(y - edge.cy) * turn, (x - edge.cx) * turn
    return (edge.x1 - edge.x0) / edge.length, (edge.y1 - edge.y0) / edge.length


def _beyond(x: float, y: float, dx: float, dy: float, w: float, h: float, past: float) -> Vertex | None:
    """The place `past` mm past the factory edge at (x, y), the way (dx, dy) goes; None where it only grazes the edge.

    A straight line that leaves the tile never meets it again, as the arc of an opening might.
    """
    leaving = 0.0
    if abs(x) <= TOUCH:
        leaving = max(leaving, -dx)
    if abs(x - w) <= TOUCH:
        leaving = max(leaving, dx)
    if abs(y) <= TOUCH:
        leaving = max(leaving, -dy)
    if abs(y - h) <= TOUCH:
        leaving = max(leaving, dy)
    if leaving < GRAZING:
        return None
    far = min(past / leaving, past * LONGEST_RUN_OUT)
    return Vertex(x + dx * far, y + dy * far)
