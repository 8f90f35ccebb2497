"""The straight cuts that a finished outline takes: where each begins and ends, and what it may run on through.

An edge of the outline that turns away from its neighbour at an outside corner may be cut on past it, through what is
waste; at an inside corner the disc has to stop. Edges on one line with nothing of the piece between them are one cut.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from msgspec import Struct
from msgspec.structs import replace

from cutmarks.geometry.edges import XY, Edge, Segment, foot, heading
from cutmarks.geometry.frames import Point, Tile
from cutmarks.geometry.meetings import meetings
from cutmarks.geometry.regions import Region, contains
from cutmarks.geometry.rings import edges
from cutmarks.geometry.rounding import SHARP
from cutmarks.geometry.tolerance import FULL_TURN, TOUCH
from cutmarks.openings.outlines import maker_side, part_way

NEAR = 100.0 * TOUCH
"""A meeting this near to where a ray begins is its own corner."""


class SawLine(Struct, frozen=True):
    """One straight cut, the piece on its left.

    start, end       how far the disc may run in the tile; first, last: the finished stretch of it.
    from_edge, to_edge  whether it may run out of the tile there; else it stops: at a sharp inside corner (corner_*), or
                     where a round edge goes on.
    """

    start: XY
    end: XY
    first: XY
    last: XY
    from_edge: bool
    to_edge: bool
    corner_start: bool
    corner_end: bool

    @property
    def length(self) -> float:
        """Of the cut, mm."""
        return math.hypot(self.end[0] - self.start[0], self.end[1] - self.start[1])

    @property
    def way(self) -> XY:
        """Its direction, one mm long."""
        dx, dy = self.last[0] - self.first[0], self.last[1] - self.first[1]
        far = math.hypot(dx, dy)
        return dx / far, dy / far


def cut_lines(outline: Region[Tile], w: float, h: float) -> tuple[SawLine, ...]:
    """Every straight cut of a finished outline in a whole tile of w x h mm, in the order of its rings."""
    found: list[SawLine] = []
    for ring in outline.rings:
        row = edges(ring)
        for number, edge in enumerate(row):
            if isinstance(edge, Segment) and maker_side(edge, w, h) is None and edge.length > NEAR:
                found.append(_line(outline, edge, row[number - 1], row[(number + 1) % len(row)], w, h))
    return tuple(_joined(outline, found))


def _turn(before: Edge[Tile], after: Edge[Tile]) -> float:
    """How far the outline turns to the left at a corner, radians, -pi to pi."""
    turn = heading(after, at_end=False) - heading(before, at_end=True)
    return (turn + math.pi) % FULL_TURN - math.pi


def _line(
    outline: Region[Tile], edge: Segment[Tile], before: Edge[Tile], after: Edge[Tile], w: float, h: float
) -> SawLine:
    first, last = (edge.x0, edge.y0), (edge.x1, edge.y1)
    dx, dy = (edge.x1 - edge.x0) / edge.length, (edge.y1 - edge.y0) / edge.length
    start, from_edge = _run_on(outline, first, (-dx, -dy), _turn(before, edge), w, h)
    end, to_edge = _run_on(outline, last, (dx, dy), _turn(edge, after), w, h)
    return SawLine(
        start,
        end,
        first,
        last,
        from_edge,
        to_edge,
        corner_start=not from_edge and isinstance(before, Segment),
        corner_end=not to_edge and isinstance(after, Segment),
    )


def _run_on(outline: Region[Tile], at: XY, way: XY, turn: float, w: float, h: float) -> tuple[XY, bool]:
    """Where a cut that leaves an edge at its end may run to, and whether that is off the tile."""
    border = _border(at, way, w, h)
    if math.hypot(border[0] - at[0], border[1] - at[1]) <= NEAR:
        return at, True
    if turn < SHARP:
        return at, False
    ray: Segment[Tile] = Segment(*at, *border)
    met = [
        place
        for ring in outline.rings
        for edge in edges(ring)
        if maker_side(edge, w, h) is None
        for place in meetings(ray, edge)
        if math.hypot(place[0] - at[0], place[1] - at[1]) > NEAR
    ]
    if not met:
        return border, True
    nearest = min(met, key=lambda place: math.hypot(place[0] - at[0], place[1] - at[1]))
    return nearest, False


def behind(outline: Region[Tile], corner: XY, way: XY, w: float, h: float) -> float:
    """How much of the piece lies behind an inside corner, on along a cut that stops there, mm."""
    border = _border(corner, way, w, h)
    ray: Segment[Tile] = Segment(*corner, *border)
    met = (place for ring in outline.rings for edge in edges(ring) for place in meetings(ray, edge))
    far = (math.dist(place, corner) for place in met)
    return min((one for one in far if one > NEAR), default=math.dist(border, corner))


def _border(at: XY, way: XY, w: float, h: float) -> XY:
    """Where a ray from a place in the tile leaves the whole tile."""
    far = math.inf
    for place, step, low, high in ((at[0], way[0], 0.0, w), (at[1], way[1], 0.0, h)):
        if abs(step) > TOUCH / max(w, h):
            far = min(far, max(((high if step > 0.0 else low) - place) / step, 0.0))
    return at[0] + way[0] * far, at[1] + way[1] * far


def _joined(outline: Region[Tile], lines: Sequence[SawLine]) -> Iterator[SawLine]:
    """Lines that lie on one line and look the same way, with nothing of the piece between them, as one cut."""
    left = [(line, line.way) for line in lines]
    while left:
        one, (x, y) = left.pop(0)
        # An outline of many corners has as many directions: only what looks the same way is held against one another.
        alike = [other for other, (dx, dy) in left if x * dx + y * dy >= 1.0 - TOUCH]
        again = True
        while again:
            again = False
            for other in alike:
                joined = _one_cut(outline, one, other) or _one_cut(outline, other, one)
                if joined is not None:
                    alike.remove(other)
                    left.remove((other, other.way))
                    one, again = joined, True
                    break
        yield one


def _one_cut(outline: Region[Tile], a: SawLine, b: SawLine) -> SawLine | None:
    """The cut that `b` makes behind `a`; None where they are two."""
    (ax, ay), (bx, by) = a.way, b.way
    if ax * bx + ay * by < 1.0 - TOUCH or _ahead(a, b.first) < -NEAR:
        return None
    if any(abs(ax * (y - a.last[1]) - ay * (x - a.last[0])) > NEAR for x, y in (b.first, b.last)):
        return None
    between: Segment[Tile] = Segment(*a.last, *b.first)
    if between.length > NEAR:
        places = [part_way(between, part) for part in (0.25, 0.5, 0.75)]
        if any(contains(outline, Point(*place), strict=True) for place in places):
            return None
        crossed = (
            place
            for ring in outline.rings
            for edge in edges(ring)
            for place in meetings(between, edge)
            if not any(math.hypot(place[0] - x, place[1] - y) <= NEAR for x, y in (a.last, b.first))
        )
        if next(crossed, None) is not None:
            return None
    return replace(a, end=b.end, last=b.last, to_edge=b.to_edge, corner_end=b.corner_end)


def _ahead(a: SawLine, place: XY) -> float:
    """How far a place lies on from the end of a cut, along it."""
    dx, dy = a.way
    return (place[0] - a.last[0]) * dx + (place[1] - a.last[1]) * dy


def passes(line: SawLine, edge: Edge[Tile]) -> float:
    """How near a cut comes to an edge, mm; looked at from the edge's ends, its middle, and the cut's ends."""
    own: Segment[Tile] = Segment(*line.start, *line.end)
    places = [part_way(edge, part) for part in (0.0, 0.25, 0.5, 0.75, 1.0)]
    near = [math.dist(place, foot(own, *place)) for place in places]
    return min(near, default=math.inf)
