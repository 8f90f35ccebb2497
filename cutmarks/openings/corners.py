"""Inside corners: where two saw cuts of trimming meet inside a tile, as an L cut at a window, a door or a step has one.

A straight trim is measured and cut; what an L cut and a notch are marked by is the corner, a point on the tile.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Literal

from msgspec import Struct
from msgspec.structs import replace

from cutmarks.geometry.edges import Arc, Bounds, Edge
from cutmarks.geometry.frames import Point, Tile
from cutmarks.geometry.regions import Region
from cutmarks.geometry.rings import Ring, edges
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.openings.outlines import RAKE, maker_side
from cutmarks.sides import FourSides, Side

SHOWN = 15.0
"""So much of both saw cuts is on the paper with their corner, mm: less gives no direction to saw in."""
_NEAR = 10 * TOUCH
_LEAST_TURN = math.sin(math.radians(RAKE))

Arm = tuple[float, float]
"""From a corner to the other end of one of its saw cuts, (x, y) in the Tile frame, mm."""


class InsideCorner(Struct, frozen=True):
    """One inside corner of a trimmed piece, in the Tile frame of the whole tile.

    from_edges  from the corner to the WHOLE tile's four edges, mm.
    arms        its two saw cuts: what goes lies between them.
    mark_from   the two edges to mark it from, as a hole's.
    """

    from_edges: FourSides[float]
    arms: tuple[Arm, Arm]
    mark_from: tuple[Side, Side]

    @property
    def kind(self) -> Literal["corner"]:
        """What it is, beside the kinds of cuts."""
        return "corner"

    @property
    def centre(self) -> Point[Tile]:
        """The corner itself: what is marked."""
        return Point(self.from_edges.left, self.from_edges.bottom)

    @property
    def least_arm(self) -> float:
        """The length of the shorter saw cut, mm: of a step, how high it is."""
        return min(_long(*arm) for arm in self.arms)

    @property
    def bounds(self) -> Bounds:
        """About the corner and what has to be seen of its saw cuts."""
        x, y = self.centre.x, self.centre.y
        ends = [(x + dx * part, y + dy * part) for dx, dy in self.arms for part in (_shown(dx, dy),)]
        xs, ys = zip((x, y), *ends, strict=True)
        return Bounds(min(xs), min(ys), max(xs), max(ys))

    @property
    def goes(self) -> tuple[float, float]:
        """Which way from the corner that lies which goes: 1 or -1 along x, and along y."""
        ways = [(dx / _long(dx, dy), dy / _long(dx, dy)) for dx, dy in self.arms]
        x, y = (sum(part) for part in zip(*ways, strict=True))
        return math.copysign(1.0, x), math.copysign(1.0, y)

    @property
    def mirrored(self) -> InsideCorner:
        """The same corner as it is seen from behind."""
        first, second = self.mark_from
        one, other = ((-dx, dy) for dx, dy in self.arms)
        return replace(
            self, from_edges=self.from_edges.mirrored, arms=(one, other), mark_from=(first.mirrored, second.mirrored)
        )


def _long(dx: float, dy: float) -> float:
    return math.hypot(dx, dy)


def _shown(dx: float, dy: float) -> float:
    """The share of an arm that has to be seen."""
    return min(1.0, SHOWN / _long(dx, dy))


def inside_corners(
    trimmed: Region[Tile], final: Region[Tile], w: float, h: float, mark_from: tuple[Side, Side]
) -> tuple[InsideCorner, ...]:
    """The inside corners that trimming leaves on a piece of a tile w x h, and that no opening takes away again.

    They come in the order in which they lie away from the edges to mark from, across first: the same on both faces.
    """
    left = [vertex for ring in final.rings for vertex in ring.vertices]
    found = [
        corner
        for ring in trimmed.rings
        for corner in _of_ring(ring, w, h, mark_from)
        if any(math.hypot(corner.centre.x - v.x, corner.centre.y - v.y) <= _NEAR for v in left)
    ]
    across, up = mark_from
    return tuple(sorted(found, key=lambda one: (round(one.from_edges[across], 3), round(one.from_edges[up], 3))))


def _of_ring(ring: Ring[Tile], w: float, h: float, mark_from: tuple[Side, Side]) -> Iterator[InsideCorner]:
    """Where a ring that keeps its material at its left turns right, from one straight saw cut to another."""
    row = edges(ring)
    for number, after in enumerate(row):
        before = row[number - 1]
        if not (_is_saw_cut(before, w, h) and _is_saw_cut(after, w, h)):
            continue
        ux, uy = before.x1 - before.x0, before.y1 - before.y0
        vx, vy = after.x1 - after.x0, after.y1 - after.y0
        if ux * vy - uy * vx >= -_LEAST_TURN * math.hypot(ux, uy) * math.hypot(vx, vy):
            continue
        x, y = after.x0, after.y0
        yield InsideCorner(FourSides(x, w - x, y, h - y), ((-ux, -uy), (vx, vy)), mark_from)


def _is_saw_cut(edge: Edge[Tile], w: float, h: float) -> bool:
    return not isinstance(edge, Arc) and maker_side(edge, w, h) is None
