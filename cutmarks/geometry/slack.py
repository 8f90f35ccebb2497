"""How far one outline may be moved inside another and stay there: all such moves as one value, exact.

A move is (dx, dy) in the outlines' own frame, mm. What stays inside a straight-sided outline without a corner that
points inward is held by half planes; inside a circle by the places that reach farthest out; inside anything else by the
curves on which the two begin to touch.
"""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import cached_property, lru_cache
from itertools import combinations, pairwise
from typing import Generic, TypeAlias

from msgspec import Struct

from cutmarks.geometry.distance import meets, nearest_of
from cutmarks.geometry.edges import XY, Arc, Bounds, Edge, Segment, edge_bounds, heading, travelled
from cutmarks.geometry.frames import F, Point
from cutmarks.geometry.near import FEW, Near
from cutmarks.geometry.rings import Ring, as_circle, edges
from cutmarks.geometry.tolerance import FULL_TURN, TOUCH, WEAR
from cutmarks.geometry.winding import winding

HALVINGS = 60
"""An end is looked for by halving this often at most."""
ENOUGH = 1e-11
"""It is found when it is known to this, mm."""
THIRDS = 100
"""The widest place is looked for by leaving a third out this often: from a metre down to 1e-15 mm."""
SMOOTH = 1e-9
"""Two edges that turn by less, radians, go on into each other: what the arcs touch there is touched by them alone."""

SlackSpan = tuple[float, float]


class InDisc(Struct, frozen=True):
    """A circle inside a circle: moves that end within `radius` of (cx, cy); below 0: none, and how far it shows."""

    cx: float
    cy: float
    radius: float

    @property
    def least(self) -> float:
        """How far any way, mm; below 0: how far it sticks out as it is."""
        return self.radius - math.hypot(self.cx, self.cy)

    @property
    def reach(self) -> SlackSpan:
        """The least and the most dx, mm; nothing is between them where there is no room."""
        return self.cx - self.radius, self.cx + self.radius

    def contains(self, dx: float, dy: float) -> bool:
        """Whether it is still inside when moved so."""
        return math.hypot(dx - self.cx, dy - self.cy) <= self.radius

    def along(self, ux: float, uy: float) -> float:
        """How far in the direction of a unit vector, mm; 0 where it is not inside as it is."""
        if self.least < 0.0:
            return 0.0
        middle = self.cx * ux + self.cy * uy
        beside = self.cx * uy - self.cy * ux
        return middle + math.sqrt(max(0.0, self.radius**2 - beside**2))

    def span(self, dx: float) -> SlackSpan:
        """From which dy to which, for a dx within `reach`, mm."""
        half = math.sqrt(max(0.0, self.radius**2 - (dx - self.cx) ** 2))
        return self.cy - half, self.cy + half


class InPolygon(Struct, frozen=True):
    """Anything inside straight sides: for each (nx, ny, room), n one long, nx dx + ny dy is at most `room`."""

    sides: tuple[tuple[float, float, float], ...]

    @property
    def least(self) -> float:
        """How far any way, mm; below 0: how far it sticks out past a side as it is."""
        return min(room for _, _, room in self.sides)

    @property
    def reach(self) -> SlackSpan:
        """The least and the most dx, mm; (0, 0) where there is no room."""
        xs = [x for x, y in self._corners() if self._holds(x, y, TOUCH)]
        return (min(xs), max(xs)) if xs else (0.0, 0.0)

    def contains(self, dx: float, dy: float) -> bool:
        """Whether it is still inside when moved so."""
        return self._holds(dx, dy, 0.0)

    def along(self, ux: float, uy: float) -> float:
        """How far in the direction of a unit vector, mm; 0 where it is not inside as it is."""
        if self.least < 0.0:
            return 0.0
        ways = ((nx * ux + ny * uy, room) for nx, ny, room in self.sides)
        return min((room / way for way, room in ways if way > WEAR), default=math.inf)

    def span(self, dx: float) -> SlackSpan:
        """From which dy to which, for a dx within `reach`, mm."""
        down, up = -math.inf, math.inf
        for nx, ny, room in self.sides:
            if ny > WEAR:
                up = min(up, (room - nx * dx) / ny)
            elif ny < -WEAR:
                down = max(down, (room - nx * dx) / ny)
        return down, up

    def _holds(self, x: float, y: float, slack: float) -> bool:
        return all(nx * x + ny * y <= room + slack for nx, ny, room in self.sides)

    def _corners(self) -> Iterator[XY]:
        for (ax, ay, a), (bx, by, b) in combinations(self.sides, 2):
            cross = ax * by - ay * bx
            if abs(cross) > WEAR:
                yield (a * by - b * ay) / cross, (ax * b - bx * a) / cross


class InRound(Struct, Generic[F], frozen=True):
    """Anything inside a circle of `radius` about the origin."""

    row: tuple[Edge[F], ...]
    radius: float

    @property
    def least(self) -> float:
        """How far any way, mm; below 0: how far it sticks out as it is."""
        return self.radius - farthest_out(self.row)

    @property
    def reach(self) -> SlackSpan:
        """The least and the most dx, mm; one place where there is no room."""
        return _reach_under_round(self.row, self.radius)

    def contains(self, dx: float, dy: float) -> bool:
        """Whether it is still inside when moved so."""
        return farthest_out(self.row, dx, dy) <= self.radius

    def along(self, ux: float, uy: float) -> float:
        """How far in the direction of a unit vector, mm; 0 where it is not inside as it is."""
        return _halved(lambda far: self.contains(far * ux, far * uy), 2.0 * self.radius)

    def span(self, dx: float) -> SlackSpan:
        """From which dy to which, for a dx within `reach`, mm; the second is the lesser where there is no room."""
        return _under_round(self.row, self.radius, dx)


class InOutline(Struct, Generic[F], frozen=True, dict=True):
    """Outlines inside any other: one with round ends, or with a corner that points inward.

    What is worked out of it is kept with it: every tile that one long outline is cut in asks the same.
    """

    inner: tuple[Edge[F], ...]
    outer: tuple[Edge[F], ...]

    @cached_property
    def _inner(self) -> Near:
        return Near(map(edge_bounds, self.inner))

    @cached_property
    def _outer(self) -> Near:
        return Near(map(edge_bounds, self.outer))

    @cached_property
    def _moves(self) -> Bounds:
        """The moves that keep the one's bounds in the other's, mm; the least over the most where there are none."""
        own, around = _around(self._inner.boxes), _around(self._outer.boxes)
        return Bounds(*(there - here for here, there in zip(own, around, strict=True)))

    @cached_property
    def _pairs(self) -> list[tuple[Edge[F], Bounds, list[tuple[Edge[F], Bounds]]]]:
        """Each edge of the one with its bounds, and those of the other that some such move brings it to."""
        left, down, right, up = self._moves
        return [
            (
                edge,
                box,
                [
                    (self.outer[k], self._outer.boxes[k])
                    for k in self._outer.within(
                        Bounds(box[0] + left, box[1] + down, box[2] + right, box[3] + up), 2.0 * TOUCH
                    )
                ],
            )
            for edge, box in zip(self.inner, self._inner.boxes, strict=True)
        ]

    @cached_property
    def borders(self) -> tuple[Edge[F], ...]:
        """The moves with which the two begin to touch, as edges; none lies among the moves that keep them apart.

        Those that would take the one's bounds out of the other's are left out: they are never the first to touch.
        """
        return tuple(_borders(self.inner, self._inner, self.outer, self._outer, self._moves))

    @cached_property
    def _borders_near(self) -> tuple[Near, Bounds]:
        near = Near(map(edge_bounds, self.borders))
        return near, _around(near.boxes)

    @cached_property
    def _spans(self) -> dict[float, SlackSpan]:
        return {}

    @cached_property
    def least(self) -> float:
        """How far any way, mm; 0 where it is not inside as it is."""
        if not self.contains(0.0, 0.0):
            return 0.0
        return nearest_of(self.inner, self._inner.boxes, self.outer, self._outer).distance

    @property
    def reach(self) -> SlackSpan:
        """The least and the most dx on the way from where it is, mm; (0, 0) where it is not inside as it is."""
        return _reach_in_outline(self)

    def contains(self, dx: float, dy: float) -> bool:
        """Whether it is still inside when moved so: the boundaries do not meet, and a place of it is inside."""
        left, down, right, up = self._moves
        if not (left <= dx <= right and down <= dy <= up):
            return False
        for edge, box, others in self._pairs:
            there = Bounds(box[0] + dx, box[1] + dy, box[2] + dx, box[3] + dy)
            near = [other for other, around in others if there.overlaps(around, 2.0 * TOUCH)]
            if near:
                moved = _shifted(edge, dx, dy)
                if any(meets(moved, other) for other in near):
                    return False
        return winding(self.outer, self.inner[0][0] + dx, self.inner[0][1] + dy) != 0

    def along(self, ux: float, uy: float) -> float:
        """How far in the direction of a unit vector until the two touch, mm; 0 where it is not inside as it is."""
        if not self.contains(0.0, 0.0):
            return 0.0
        return min((far for edge in self.borders for far in _hits(edge, 0.0, 0.0, ux, uy) if far > 0.0), default=0.0)

    def span(self, dx: float) -> SlackSpan:
        """From which dy to which, for a dx within `reach`, mm: of several stretches the one nearest to dy = 0."""
        if dx not in self._spans:
            self._spans[dx] = self._span(dx)
        return self._spans[dx]

    def _span(self, dx: float) -> SlackSpan:
        if not self.borders:
            return 0.0, 0.0
        near, box = self._borders_near
        there = near.within(Bounds(dx, box[1], dx, box[3]), TOUCH)
        heights = sorted(far for k in there for far in _hits(self.borders[k], dx, 0.0, 0.0, 1.0))
        stretches = [(a, b) for a, b in pairwise(heights) if b - a > TOUCH]
        if len(stretches) > FEW:
            crossed = self._crossed(dx)
            stretches = [one for one in stretches if not _holds(crossed, (one[0] + one[1]) / 2.0)]
        for down, up in sorted(stretches, key=lambda one: max(one[0], -one[1], 0.0)):
            if self.contains(dx, (down + up) / 2.0):
                return down, up
        return 0.0, 0.0

    @cached_property
    def _crossings(self) -> list[tuple[float, float, tuple[XY, XY, XY, XY]]]:
        """The moves by which two straight edges cross, a parallelogram for each two: from which dx, to which, corners.

        Looked up where a saw's teeth leave many stretches, nearly all of them of moves by which some edges cross.
        """
        left, _, right, _ = self._moves
        found = []
        for own, _, others in self._pairs:
            for edge, _ in others:
                if isinstance(own, Segment) and isinstance(edge, Segment):
                    ends = ((0, 0), (2, 0), (2, 2), (0, 2))
                    a, b, c, d = ((edge[i] - own[j], edge[i + 1] - own[j + 1]) for i, j in ends)
                    low, high = min(a[0], b[0], c[0], d[0]), max(a[0], b[0], c[0], d[0])
                    if low <= right and high >= left:
                        found.append((low, high, (a, b, c, d)))
        return found

    def _crossed(self, dx: float) -> list[SlackSpan]:
        """From which dy to which some two straight edges cross, for one dx: ascending, and none meets the next."""
        found = []
        for low, high, corners in self._crossings:
            if low < dx < high:
                ys = []
                x0, y0 = corners[3]
                for x1, y1 in corners:
                    if (x0 < dx) != (x1 < dx):
                        ys.append(y0 + (y1 - y0) * (dx - x0) / (x1 - x0))
                    x0, y0 = x1, y1
                found.append((min(ys), max(ys)))
        return _merged(found)

    def reached(self, way: float) -> float:
        """How far it goes to the right (1) or to the left (-1), mm."""

        def is_free(far: float) -> bool:
            down, up = self.span(way * far)
            return up > down

        return _halved(is_free, max(map(abs, self._moves)))


def _merged(spans: Iterable[SlackSpan]) -> list[SlackSpan]:
    """Stretches as few that do not meet, ascending."""
    found: list[SlackSpan] = []
    for low, high in sorted(spans):
        if found and low <= found[-1][1]:
            found[-1] = (found[-1][0], max(found[-1][1], high))
        else:
            found.append((low, high))
    return found


def _holds(merged: Sequence[SlackSpan], at: float) -> bool:
    """Whether one of these stretches, ascending and apart, has a place inside it."""
    before = bisect_left(merged, (at, -math.inf)) - 1
    return before >= 0 and at < merged[before][1]


@lru_cache(maxsize=256)
def _reach_in_outline(room: InOutline[F]) -> SlackSpan:
    """Found by halving, which costs a look at every pair of edges each time: once for outlines that are alike."""
    if not room.contains(0.0, 0.0):
        return 0.0, 0.0
    low, high = (room.reached(way) for way in (-1.0, 1.0))
    return -low, high


Slack: TypeAlias = InDisc | InPolygon | InRound[F] | InOutline[F]


def slack(inner: Sequence[Ring[F]], outer: Ring[F]) -> Slack[F]:
    """All moves of the outlines `inner`, together, that keep them inside `outer`."""
    circle = as_circle(outer)
    if circle is not None:
        middle, radius = circle
        return in_round(inner, radius, middle)
    around = tuple(edge for edge in edges(outer if outer.area > 0.0 else outer.reversed()) if edge.length > TOUCH)
    row = _row(inner)
    if all(isinstance(edge, Segment) for edge in around) and _turns_left(around):
        return InPolygon(tuple(_side(edge, row) for edge in around))
    return InOutline(row, around)


def in_round(inner: Sequence[Ring[F]], radius: float, about: Point[F] | None = None) -> Slack[F]:
    """The same inside a circle about a place, the origin where none is given."""
    x, y = (0.0, 0.0) if about is None else (about.x, about.y)
    alone = as_circle(inner[0]) if len(inner) == 1 else None
    if alone is not None:
        middle, own = alone
        return InDisc(x - middle.x, y - middle.y, radius - own)
    return InRound(tuple(_shifted(edge, -x, -y) for edge in _row(inner)), radius)


def in_box(inner: Sequence[Ring[F]], half_w: float, half_h: float) -> Slack[F]:
    """The same inside an upright box about the origin, so far to each side; its halves may be less than nothing."""
    boxes = [ring.bounds for ring in inner]
    left, right = min(box.min_x for box in boxes), max(box.max_x for box in boxes)
    down, up = min(box.min_y for box in boxes), max(box.max_y for box in boxes)
    return InPolygon(
        ((1.0, 0.0, half_w - right), (-1.0, 0.0, half_w + left), (0.0, 1.0, half_h - up), (0.0, -1.0, half_h + down))
    )


def _row(rings: Sequence[Ring[F]]) -> tuple[Edge[F], ...]:
    return tuple(edge for ring in rings for edge in edges(ring))


def farthest_out(row: Iterable[Edge[F]], dx: float = 0.0, dy: float = 0.0) -> float:
    """The distance of the farthest place of edges, moved by (dx, dy), from the origin, mm."""
    far = 0.0
    for edge in row:
        far = max(far, math.hypot(edge[0] + dx, edge[1] + dy), math.hypot(edge[2] + dx, edge[3] + dy))
        # Of a whole circle the place straight beyond its middle is farthest; of an arc only where it has that one.
        if isinstance(edge, Arc) and _reaches(edge, edge.cx + dx, edge.cy + dy):
            far = max(far, math.hypot(edge.cx + dx, edge.cy + dy) + edge.radius)
    return far


def _reaches(arc: Arc[F], dx: float, dy: float) -> bool:
    """Whether an arc has the place that lies in that direction from its own middle."""
    return travelled(arc, arc.cx + dx, arc.cy + dy) <= abs(arc.sweep)


def _under_round(row: Sequence[Edge[F]], radius: float, dx: float) -> SlackSpan:
    """Every place p keeps it to dy between -p.y -/+ sqrt(R^2 - (p.x + dx)^2).

    Of an arc of radius r about m the tightest place is an end, or the one straight out from the circle's middle: there
    dy = -m.y -/+ sqrt((R - r)^2 - (m.x + dx)^2), where the arc has it.
    """
    down, up = -math.inf, math.inf
    for edge in row:
        half = math.sqrt(max(0.0, radius**2 - (edge[0] + dx) ** 2))
        down, up = max(down, -half - edge[1]), min(up, half - edge[1])
        if not isinstance(edge, Arc):
            continue
        x, inner = edge.cx + dx, radius - edge.radius
        if abs(x) >= inner:
            continue
        half = math.sqrt(inner**2 - x**2)
        if _reaches(edge, x, half):
            up = min(up, half - edge.cy)
        if _reaches(edge, x, -half):
            down = max(down, -half - edge.cy)
    return down, up


def _reach_under_round(row: Sequence[Edge[F]], radius: float) -> SlackSpan:
    """The first dx and the last at which there is room; one place where there is none."""

    def width(dx: float) -> float:
        down, up = _under_round(row, radius, dx)
        return up - down

    boxes = [edge_bounds(edge) for edge in row]
    low, high = -radius - min(box.min_x for box in boxes), radius - max(box.max_x for box in boxes)
    if low >= high:
        return low, low
    ends = (low, high)
    for _ in range(THIRDS):
        third = (high - low) / 3.0
        if width(low + third) < width(high - third):
            low += third
        else:
            high -= third
    widest = (low + high) / 2.0
    if width(widest) <= 0.0:
        return widest, widest
    down = _halved(lambda far: width(widest - far) > 0.0, widest - ends[0])
    up = _halved(lambda far: width(widest + far) > 0.0, ends[1] - widest)
    return widest - down, widest + up


def _halved(holds: Callable[[float], bool], most: float) -> float:
    """How far it holds, of what holds from 0 on and does not hold any more at some place up to `most`."""
    if not holds(0.0):
        return 0.0
    inside, outside = 0.0, most
    for _ in range(HALVINGS):
        if outside - inside <= ENOUGH:
            break
        between = (inside + outside) / 2.0
        if holds(between):
            inside = between
        else:
            outside = between
    return inside


def _side(side: Edge[F], row: Sequence[Edge[F]]) -> tuple[float, float, float]:
    """A side that runs with the inside on its left: its outward direction, and the room up to it."""
    length = side.length
    nx, ny = (side.y1 - side.y0) / length, (side.x0 - side.x1) / length
    far = -math.inf
    for edge in row:
        far = max(far, nx * edge[0] + ny * edge[1])
        if isinstance(edge, Arc) and _reaches(edge, nx, ny):
            far = max(far, nx * edge.cx + ny * edge.cy + edge.radius)
    return nx, ny, nx * side.x0 + ny * side.y0 - far


def _turns_left(row: Sequence[Edge[F]]) -> bool:
    """Whether a straight-sided outline has no corner that points inward."""
    for before, after in zip(row, (*row[1:], row[0]), strict=True):
        ax, ay = before.x1 - before.x0, before.y1 - before.y0
        bx, by = after.x1 - after.x0, after.y1 - after.y0
        if ax * by - ay * bx < -SMOOTH * before.length * after.length:
            return False
    return True


def _around(boxes: Sequence[Bounds]) -> Bounds:
    """The bounds of all boxes."""
    return Bounds(
        min(box[0] for box in boxes),
        min(box[1] for box in boxes),
        max(box[2] for box in boxes),
        max(box[3] for box in boxes),
    )


def _borders(
    row: Sequence[Edge[F]], row_near: Near, around: Sequence[Edge[F]], around_near: Near, moves: Bounds
) -> Iterator[Edge[F]]:
    """Every move with which an edge of `row` touches one of `around`, ends, sides and arcs, as edges.

    Only edges that meet by some of `moves` are looked at.
    """
    left, down, right, up = moves
    if left > right or down > up:
        return
    for x, y in _corners(row):
        for k in around_near.within(Bounds(x + left, y + down, x + right, y + up), 2.0 * TOUCH):
            yield _shifted(around[k], -x, -y)
    for x, y in _corners(around):
        for k in row_near.within(Bounds(x - right, y - up, x - left, y - down), 2.0 * TOUCH):
            yield _turned_about(row[k], x, y)
    for own, box in zip(row, row_near.boxes, strict=True):
        reach = Bounds(box[0] + left, box[1] + down, box[2] + right, box[3] + up)
        for edge in (around[k] for k in around_near.within(reach, 2.0 * TOUCH)):
            if isinstance(edge, Arc) and isinstance(own, Arc):
                yield from _arc_on_arc(own, edge)
            elif isinstance(own, Arc):
                yield from _arc_on_side(own, edge)
            elif isinstance(edge, Arc):
                yield from (_turned_about(one, 0.0, 0.0) for one in _arc_on_side(edge, own))


def _corners(row: Sequence[Edge[F]]) -> Iterator[XY]:
    """Where edges meet and do not go on into each other."""
    for before, after in zip((row[-1], *row[:-1]), row, strict=True):
        away = math.hypot(before[2] - after[0], before[3] - after[1]) > TOUCH
        turn = abs((heading(after, at_end=False) - heading(before, at_end=True) + math.pi) % FULL_TURN - math.pi)
        if away or turn > SMOOTH:
            yield after[0], after[1]
            if away:
                yield before[2], before[3]


def _shifted(edge: Edge[F], dx: float, dy: float) -> Edge[F]:
    x0, y0, x1, y1 = edge[0] + dx, edge[1] + dy, edge[2] + dx, edge[3] + dy
    if isinstance(edge, Arc):
        return Arc(x0, y0, x1, y1, edge.cx + dx, edge.cy + dy, edge.radius, edge.start, edge.sweep)
    return Segment(x0, y0, x1, y1)


def _turned_about(edge: Edge[F], x: float, y: float) -> Edge[F]:
    """The edge mirrored through the origin and moved by (x, y): the moves that bring its places to there."""
    x0, y0, x1, y1 = x - edge[0], y - edge[1], x - edge[2], y - edge[3]
    if isinstance(edge, Arc):
        return Arc(x0, y0, x1, y1, x - edge.cx, y - edge.cy, edge.radius, edge.start + math.pi, edge.sweep)
    return Segment(x0, y0, x1, y1)


def _arc_on_side(arc: Arc[F], side: Edge[F]) -> Iterator[Edge[F]]:
    """The moves of an arc with which it is tangent to a straight side, on either hand of it."""
    length = math.hypot(side.x1 - side.x0, side.y1 - side.y0)
    nx, ny = (side.y1 - side.y0) / length, (side.x0 - side.x1) / length
    for way in (1.0, -1.0):
        if _reaches(arc, way * nx, way * ny):
            dx, dy = -arc.cx - way * arc.radius * nx, -arc.cy - way * arc.radius * ny
            yield Segment(side.x0 + dx, side.y0 + dy, side.x1 + dx, side.y1 + dy)


def _arc_on_arc(own: Arc[F], around: Arc[F]) -> Iterator[Edge[F]]:
    """The moves of an arc with which it is tangent to another: from inside, and from the other hand."""
    x, y = around.cx - own.cx, around.cy - own.cy
    for start, sweep in _shared(own, around, 0.0):
        yield from _about(x, y, around.radius - own.radius, start, sweep)
    for start, sweep in _shared(own, around, math.pi):
        yield from _about(x, y, around.radius + own.radius, start, sweep)


def _shared(own: Arc[F], around: Arc[F], turned: float) -> Iterator[tuple[float, float]]:
    """The angles that `around` has and, turned by so much, `own` has too: where each stretch starts, its sweep."""
    a, wide_a = _rising(around)
    b, wide_b = _rising(own)
    first = (b + turned - a) % FULL_TURN
    for begin in (first - FULL_TURN, first):
        low, high = max(0.0, begin), min(wide_a, begin + wide_b)
        if low <= high:
            yield a + low, high - low


def _rising(arc: Arc[F]) -> tuple[float, float]:
    return (arc.start, arc.sweep) if arc.sweep > 0.0 else (arc.start + arc.sweep, -arc.sweep)


def _about(x: float, y: float, radius: float, start: float, sweep: float) -> Iterator[Edge[F]]:
    """An arc about (x, y); one of a negative radius lies on the other hand."""
    if radius < 0.0:
        radius, start = -radius, start + math.pi
    if radius <= WEAR:
        yield Segment(x, y, x, y)
        return
    ends = [(x + radius * math.cos(at), y + radius * math.sin(at)) for at in (start, start + sweep)]
    yield Arc(*ends[0], *ends[1], x, y, radius, start, sweep)


def _hits(edge: Edge[F], x: float, y: float, ux: float, uy: float) -> Iterator[float]:
    """How far on from (x, y), ahead or behind, the line in the direction of a unit vector meets an edge, mm."""
    if isinstance(edge, Arc):
        middle = (edge.cx - x) * ux + (edge.cy - y) * uy
        beside = (edge.cx - x) * uy - (edge.cy - y) * ux
        if abs(beside) > edge.radius:
            return
        half = math.sqrt(edge.radius**2 - beside**2)
        for far in (middle - half, middle + half):
            angle = travelled(edge, x + far * ux, y + far * uy)
            if min(angle, FULL_TURN - angle) <= SMOOTH or angle <= abs(edge.sweep) + SMOOTH:
                yield far
        return
    a, b = ((px - x) * uy - (py - y) * ux for px, py in ((edge.x0, edge.y0), (edge.x1, edge.y1)))
    if a == b or (a * b > 0.0 and min(abs(a), abs(b)) > WEAR):
        return
    part = min(1.0, max(0.0, a / (a - b)))
    yield (edge.x0 + part * (edge.x1 - edge.x0) - x) * ux + (edge.y0 + part * (edge.y1 - edge.y0) - y) * uy
