"""A second way to every area: a scene's ground, tiles, joints and openings as shapely polygons, from its numbers alone.

Nothing here uses the package but `polygon_of`, which turns its exact outlines into many-sided polygons. Circles that
are made here are polygons of the circle's own area. Intersections are taken one at a time, in coordinates rounded to
1e-6 mm.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from functools import cached_property
from typing import Any

import shapely
from msgspec import Struct
from shapely import affinity
from shapely.geometry import Polygon, box

from cutmarks.geometry.edges import Arc
from cutmarks.geometry.regions import Region
from cutmarks.geometry.rings import edges
from tests.properties.scene import XY, Area, Box, Corners, Hole, Long, Pipe, Scene, Side

WINDOW = 1500.0
"""Half of the square in which everything is looked at, mm; open sides end here."""
CIRCLE = 1024
"""Corners of a circle's polygon."""
LEAST_PIECE = 1.0
"""A strip of under 1 mm is no piece."""

# Of the polygon with n corners in a circle of radius r, area n/2 r^2 sin(2 pi / n): this much wider has the circle's.
_FULLER = math.sqrt(2 * math.pi / (CIRCLE * math.sin(2 * math.pi / CIRCLE)))


def rounded(shape: Any) -> Any:
    return shapely.set_precision(shape, 1e-6)


def disc(x: float, y: float, r: float) -> Polygon:
    steps = (2 * math.pi * k / CIRCLE for k in range(CIRCLE))
    return Polygon([(x + _FULLER * r * math.cos(a), y + _FULLER * r * math.sin(a)) for a in steps])


def wider(corners: Sequence[XY], by: float) -> Any:
    """An outline with straight sides, moved outward by `by`, its corners mitred."""
    return Polygon(corners).buffer(by, join_style="mitre", mitre_limit=20)


def opening_of(hole: Hole) -> Any:
    """What is cut for a hole: as written, else the thing and its play; a box under 2 degrees is cut level."""
    match hole:
        case Pipe():
            return disc(hole.x, hole.y, hole.opening / 2)
        case Box():
            thing = affinity.rotate(box(-hole.w / 2, -hole.h / 2, hole.w / 2, hole.h / 2), hole.lean, (0, 0))
            thing = affinity.translate(thing, hole.x, hole.y)
            if abs(hole.lean) < 2:
                thing = box(*thing.bounds)
            return thing.buffer(hole.play, join_style="mitre")
        case Long():
            r, reach = hole.width / 2 + hole.play, (hole.length - hole.width) / 2
            ends = [disc(sign * reach, 0, r) for sign in (-1, 1)]
            middle = box(-reach, -r, reach, r)
            whole = shapely.union_all([*ends, middle]) if reach else ends[0]
            return affinity.translate(affinity.rotate(whole, hole.lean, (0, 0)), hole.x, hole.y)
        case Corners():
            return _box_read(hole) if hole.is_box else wider(hole.points, hole.play)


def _box_read(hole: Corners) -> Any:
    """A box by its corners, bottom left first and counter-clockwise: the mean lean of its lower and upper side."""
    (x0, y0), (x1, y1), (x2, y2), (x3, y3) = hole.points
    lean = math.degrees((math.atan2(y1 - y0, x1 - x0) + math.atan2(y2 - y3, x2 - x3)) / 2)
    if abs(lean) < 2:
        lean = 0.0
    level = affinity.rotate(Polygon(hole.points), -lean, (0, 0))
    return affinity.rotate(box(*level.bounds).buffer(hole.play, join_style="mitre"), lean, (0, 0))


def polygon_of(region: Region[Any], chords: int = CIRCLE) -> Any:
    """An exact region as a shapely one: arcs as chords, so many a turn, their ends on the arc.

    So an arc lies outside of its chords by up to r (1 - cos(pi / chords)), and a disc loses (2 pi / chords)^2 / 6 of
    its area: 6.3e-6 of it at 1,024 chords. `disc` makes up for that, this does not.
    """
    outers: list[Polygon] = []
    holes: list[Polygon] = []
    for ring in region.rings:
        points: list[XY] = []
        for edge in edges(ring):
            points.append((edge.x0, edge.y0))
            if isinstance(edge, Arc):
                points += _along(edge, chords)
        (outers if ring.area > 0 else holes).append(Polygon(points))
    whole = shapely.union_all(outers) if len(outers) != 1 else outers[0]
    for hole in holes:
        whole = whole.difference(hole)
    return whole


def _along(arc: Any, chords: int) -> Iterator[XY]:
    count = max(4, math.ceil(chords * abs(arc.sweep) / (2 * math.pi)))
    for k in range(1, count):
        angle = arc.start + arc.sweep * k / count
        yield arc.cx + arc.radius * math.cos(angle), arc.cy + arc.radius * math.sin(angle)


class Referee(Struct, frozen=True, dict=True):
    scene: Scene

    @cached_property
    def outline(self) -> Any:
        """The bare surface as measured, within the window."""
        return self._inside(dict.fromkeys(("left", "right", "bottom", "top"), 0.0))

    @cached_property
    def clear(self) -> Any:
        """The same less its gaps, taken level from left and right, plumb from bottom and top."""
        return self._inside(dict(self.scene.gaps))

    def _inside(self, gaps: dict[Any, float]) -> Any:
        ground = box(-WINDOW, -WINDOW, WINDOW, WINDOW)
        for side, readings in self.scene.edges.items():
            ground = rounded(ground.intersection(self._half_plane(side, readings, gaps[side])))
        return ground

    @staticmethod
    def _half_plane(side: Side, readings: Sequence[XY], gap: float) -> Any:
        """Everything on the inner side of an edge, straight from reading to reading, the end stretches gone on."""
        inward = 1 if side in ("left", "bottom") else -1
        far = 2 * WINDOW

        def at(along: float) -> float:
            if len(readings) == 1:
                return readings[0][0]
            k = max([i for i in range(len(readings) - 1) if readings[i][1] <= along], default=0)
            (v0, t0), (v1, t1) = readings[k], readings[k + 1]
            return v0 + (v1 - v0) * (along - t0) / (t1 - t0)

        alongs = [-far, *(t for _, t in sorted(readings, key=lambda r: r[1])), far]
        edge = [(at(t) + inward * gap, t) for t in alongs]
        points = [*edge, (inward * far, far), (inward * far, -far)]
        return Polygon(points if side in ("left", "right") else [(t, v) for v, t in points])

    @cached_property
    def windows(self) -> list[Any]:
        return [wider(one.corners, one.gap) for one in self.scene.windows]

    def limits(self, area: Area) -> Any:
        """The area inside gaps and its own limits, voids left aside."""
        low = [-WINDOW if v is None else v for v in area.low]
        high = [WINDOW if v is None else v for v in area.high]
        return rounded(self.clear.intersection(box(*low, *high)))

    def ground(self, area: Area) -> Any:
        ground = self.limits(area)
        for window in self.windows:
            ground = rounded(ground.difference(window))
        return ground

    # The grid, from the words of the start: `before` is how far its point lies into the tile.

    @staticmethod
    def _before(anchor: str, size: float, joint: float) -> float:
        return {
            "joint": -joint / 2,
            "crossing": -joint / 2,
            "middle": size / 2,
            "right": size,
            "hangs from": size,
        }.get(anchor, 0.0)

    def shift(self, area: Area, row: int) -> float:
        step = float(area.bond.part) * (area.w + area.joint) + area.bond.mm
        return step * row if area.bond.stepped else step * (row % 2)

    def to_surface(self, area: Area, shape: Any) -> Any:
        """From the area's own axes, its start point at the origin, to the surface."""
        return affinity.translate(affinity.rotate(shape, area.turn, (0, 0)), area.x, area.y)

    def corner(self, area: Area, place: tuple[int, int]) -> XY:
        """Bottom left of a tile in the area's own axes, from its start point."""
        u = (
            place[0] * (area.w + area.joint)
            + self.shift(area, place[1])
            - self._before(area.across, area.w, area.joint)
        )
        v = place[1] * (area.h + area.joint) - self._before(area.up, area.h, area.joint)
        return u, v

    def tile(self, area: Area, place: tuple[int, int]) -> Any:
        u, v = self.corner(area, place)
        return self.to_surface(area, box(u, v, u + area.w, v + area.h))

    def _reach(self, area: Area, looked_at: Any) -> tuple[float, float, float, float]:
        """Bounds of a shape along the area's own axes, from its start point."""
        back = affinity.rotate(affinity.translate(looked_at, -area.x, -area.y), -area.turn, (0, 0))
        bounds: tuple[float, float, float, float] = back.bounds
        return bounds

    def rows(self, area: Area, looked_at: Any) -> range:
        _, v0, _, v1 = self._reach(area, looked_at)
        start = self._before(area.up, area.h, area.joint)
        pitch = area.h + area.joint
        return range(math.floor((v0 + start) / pitch) - 1, math.ceil((v1 + start) / pitch) + 1)

    def columns(self, area: Area, row: int, looked_at: Any) -> range:
        u0, _, u1, _ = self._reach(area, looked_at)
        start = self._before(area.across, area.w, area.joint) - self.shift(area, row)
        pitch = area.w + area.joint
        return range(math.floor((u0 + start) / pitch) - 1, math.ceil((u1 + start) / pitch) + 1)

    def laid(self, area: Area, ground: Any) -> dict[tuple[int, int], Any]:
        """What the ground leaves of each tile, by place; places with nothing are left out, slivers are not."""
        found: dict[tuple[int, int], Any] = {}
        if ground.is_empty:
            return found
        for row in self.rows(area, ground):
            for column in self.columns(area, row, ground):
                left = rounded(self.tile(area, (column, row)).intersection(ground))
                if left.area > 1e-6:
                    found[column, row] = left
        return found

    def joints(self, area: Area, looked_at: Any) -> Iterator[Any]:
        """The joints about a shape: a strip below each course, and one left of each tile in it."""
        far = 2 * WINDOW
        for row in self.rows(area, looked_at):
            _, v = self.corner(area, (0, row))
            yield self.to_surface(area, box(-far, v - area.joint, far, v))
            for column in self.columns(area, row, looked_at):
                u, _ = self.corner(area, (column, row))
                yield self.to_surface(area, box(u - area.joint, v, u, v + area.h))


def solid(shape: Any) -> list[Polygon]:
    """The polygons of a shape, lines and points left out."""
    return [part for part in getattr(shape, "geoms", [shape]) if part.geom_type == "Polygon" and part.area > 1e-6]


def split(shape: Any, turn: float) -> tuple[list[Polygon], list[Polygon]]:
    """(pieces, slivers) of what is left of a tile: a sliver is under 1 mm one way along the tile's own sides."""
    pieces: list[Polygon] = []
    slivers: list[Polygon] = []
    for part in solid(shape):
        x0, y0, x1, y1 = affinity.rotate(part, -turn, (0, 0)).bounds
        (slivers if min(x1 - x0, y1 - y0) < LEAST_PIECE - 1e-5 else pieces).append(part)
    return pieces, slivers
