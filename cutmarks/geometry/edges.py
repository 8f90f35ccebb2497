"""Edges: straight lines and circular arcs from one place to another, and what can be asked of a single one.

Lengths in mm, angles in radians counter-clockwise from the x axis. An edge has a direction: from (x0, y0) to (x1, y1).
"""

from __future__ import annotations

import math
from typing import Generic, NamedTuple, TypeAlias

from cutmarks.geometry.frames import F, Point
from cutmarks.geometry.tolerance import FULL_TURN, STRAIGHT, TOUCH
from cutmarks.sides import Side

XY: TypeAlias = tuple[float, float]
"""Bare coordinates in mm, for inner loops; the frame is that of the edges they came from."""


class Bounds(NamedTuple):
    """The smallest upright rectangle round something, mm."""

    min_x: float
    min_y: float
    max_x: float
    max_y: float

    @property
    def width(self) -> float:
        """From left to right, mm."""
        return self.max_x - self.min_x

    @property
    def height(self) -> float:
        """From bottom to top, mm."""
        return self.max_y - self.min_y

    def at(self, side: Side) -> float:
        """Where a side of it lies: x of left and right, y of bottom and top, mm."""
        match side:
            case Side.LEFT:
                return self.min_x
            case Side.RIGHT:
                return self.max_x
            case Side.BOTTOM:
                return self.min_y
            case Side.TOP:
                return self.max_y

    def with_side(self, side: Side, at: float) -> Bounds:
        """The same with one side at `at`, mm."""
        bottom_left_first = (Side.LEFT, Side.BOTTOM, Side.RIGHT, Side.TOP)
        return Bounds(*(at if one is side else self.at(one) for one in bottom_left_first))

    def shifted(self, dx: float, dy: float) -> Bounds:
        """The same rectangle dx further right and dy further up, mm."""
        return Bounds(self.min_x + dx, self.min_y + dy, self.max_x + dx, self.max_y + dy)

    def inward(self, side: Side, x: float, y: float) -> float:
        """How far a place lies in from a side of it, mm; negative where it lies outside there."""
        return side.sign * (self.at(side) - (x if side.axis == "across" else y))

    def overlaps(self, other: Bounds, slack: float = 0.0) -> bool:
        """Whether the two share a place, or come within `slack` mm of it along x and along y."""
        return (
            self[0] <= other[2] + slack
            and other[0] <= self[2] + slack
            and self[1] <= other[3] + slack
            and other[1] <= self[3] + slack
        )

    def within(self, other: Bounds, slack: float = 0.0) -> bool:
        """Whether this lies in `other`, or sticks out of it by at most `slack` mm."""
        return (
            self[0] >= other[0] - slack
            and self[1] >= other[1] - slack
            and self[2] <= other[2] + slack
            and self[3] <= other[3] + slack
        )


class Segment(NamedTuple, Generic[F]):
    """A straight edge."""

    x0: float
    y0: float
    x1: float
    y1: float

    @property
    def length(self) -> float:
        """Mm."""
        return math.hypot(self.x1 - self.x0, self.y1 - self.y0)

    @property
    def bulge(self) -> float:
        """0: it does not curve."""
        return 0.0


class Arc(NamedTuple, Generic[F]):
    """A circular edge about (cx, cy): from the angle `start` on through `sweep` radians, + counter-clockwise."""

    x0: float
    y0: float
    x1: float
    y1: float
    cx: float
    cy: float
    radius: float
    start: float
    sweep: float

    @property
    def centre(self) -> Point[F]:
        """The centre of its circle."""
        return Point(self.cx, self.cy)

    @property
    def length(self) -> float:
        """Along the arc, mm."""
        return self.radius * abs(self.sweep)

    @property
    def bulge(self) -> float:
        """tan(sweep / 4), the bulge of DXF."""
        return bulge_of(self.sweep)


Edge: TypeAlias = Segment[F] | Arc[F]


def bulge_of(sweep: float) -> float:
    """tan(sweep / 4) for a sweep in radians; exactly 1 for half a turn, so that circles and slots stay themselves."""
    bulge = math.tan(sweep / 4.0)
    return math.copysign(1.0, bulge) if abs(abs(bulge) - 1.0) <= _HALF_TURN else bulge


_HALF_TURN = 4e-16
"""Rounding of the tangent of an eighth of a turn."""


def edge_between(x0: float, y0: float, x1: float, y1: float, bulge: float) -> Edge[F]:
    """The edge from one vertex to the next by the DXF definition: bulge = tan(sweep / 4), + counter-clockwise.

    With chord c and bulge b the sweep is 4 atan b and the radius c (1 + b^2) / (4 |b|).
    """
    if bulge == 0.0:
        return Segment(x0, y0, x1, y1)
    dx, dy = x1 - x0, y1 - y0
    chord = math.hypot(dx, dy)
    if chord * abs(bulge) < 2.0 * STRAIGHT:
        return Segment(x0, y0, x1, y1)
    # The centre lies on the chord's right bisector, (1 - b^2) / (4 b) chords to the left of its middle.
    along = (1.0 - bulge * bulge) / (4.0 * bulge)
    cx, cy = (x0 + x1) / 2.0 - dy * along, (y0 + y1) / 2.0 + dx * along
    radius = chord * (1.0 + bulge * bulge) / (4.0 * abs(bulge))
    return Arc(x0, y0, x1, y1, cx, cy, radius, math.atan2(y0 - cy, x0 - cx), 4.0 * math.atan(bulge))


def travelled(arc: Arc[F], x: float, y: float) -> float:
    """The angle from the arc's start to the ray through (x, y), the way the arc runs: 0 <= angle < 2 pi, radians."""
    angle = math.atan2(y - arc.cy, x - arc.cx) - arc.start
    return (angle if arc.sweep > 0.0 else -angle) % FULL_TURN


def at_angle(arc: Arc[F], angle: float) -> XY:
    """The place `angle` radians on from the arc's start, the way the arc runs."""
    at = arc.start + (angle if arc.sweep > 0.0 else -angle)
    return arc.cx + arc.radius * math.cos(at), arc.cy + arc.radius * math.sin(at)


def middle(edge: Edge[F]) -> XY:
    """The place half-way along the edge."""
    if isinstance(edge, Arc):
        return at_angle(edge, abs(edge.sweep) / 2.0)
    return (edge.x0 + edge.x1) / 2.0, (edge.y0 + edge.y1) / 2.0


def heading(edge: Edge[F], *, at_end: bool) -> float:
    """The direction of travel at the start or at the end, radians; not brought into any one turn."""
    if isinstance(edge, Arc):
        return edge.start + (edge.sweep if at_end else 0.0) + math.copysign(math.pi / 2.0, edge.sweep)
    return math.atan2(edge.y1 - edge.y0, edge.x1 - edge.x0)


def edge_bounds(edge: Edge[F]) -> Bounds:
    """Exact bounds: an arc's reach its outermost points, not only its ends."""
    x0, y0, x1, y1 = edge[0], edge[1], edge[2], edge[3]
    if x0 > x1:
        x0, x1 = x1, x0
    if y0 > y1:
        y0, y1 = y1, y0
    if isinstance(edge, Arc):
        cx, cy, radius = edge.cx, edge.cy, edge.radius
        start, sweep = (edge.start, edge.sweep) if edge.sweep > 0.0 else (edge.start + edge.sweep, -edge.sweep)
        quarter = math.pi / 2.0
        first = math.ceil(start / quarter)
        last = math.floor((start + sweep) / quarter)
        for turn in range(first, min(last, first + 3) + 1):
            match turn % 4:
                case 0:
                    x1 = max(x1, cx + radius)
                case 1:
                    y1 = max(y1, cy + radius)
                case 2:
                    x0 = min(x0, cx - radius)
                case _:
                    y0 = min(y0, cy - radius)
    return Bounds(x0, y0, x1, y1)


def reversed_edge(edge: Edge[F]) -> Edge[F]:
    """The same line, run the other way."""
    if isinstance(edge, Arc):
        return Arc(
            edge.x1, edge.y1, edge.x0, edge.y0, edge.cx, edge.cy, edge.radius, edge.start + edge.sweep, -edge.sweep
        )
    return Segment(edge.x1, edge.y1, edge.x0, edge.y0)


def foot(edge: Edge[F], x: float, y: float) -> XY:
    """The place on the edge that is nearest to (x, y); for the centre of an arc, its start."""
    x0, y0, x1, y1 = edge[0], edge[1], edge[2], edge[3]
    if isinstance(edge, Arc):
        dx, dy = x - edge.cx, y - edge.cy
        far = math.hypot(dx, dy)
        if far > 0.0 and travelled(edge, x, y) <= abs(edge.sweep):
            return edge.cx + dx * edge.radius / far, edge.cy + dy * edge.radius / far
        return (x0, y0) if math.hypot(x - x0, y - y0) <= math.hypot(x - x1, y - y1) else (x1, y1)
    dx, dy = x1 - x0, y1 - y0
    square = dx * dx + dy * dy
    if square == 0.0:
        return x0, y0
    part = ((x - x0) * dx + (y - y0) * dy) / square
    if part <= 0.0:
        return x0, y0
    if part >= 1.0:
        return x1, y1
    return x0 + part * dx, y0 + part * dy


def distance_to(edge: Edge[F], x: float, y: float) -> float:
    """How far (x, y) is from the edge, mm."""
    near_x, near_y = foot(edge, x, y)
    return math.hypot(x - near_x, y - near_y)


def touches(edge: Edge[F], x: float, y: float, tolerance: float = TOUCH) -> bool:
    """Whether (x, y) lies on the edge, within `tolerance` mm."""
    return distance_to(edge, x, y) <= tolerance


def segment_area(chord: float, bulge: float) -> float:
    """The area between a chord and its arc, mm2, signed as the bulge: r^2 / 2 (sweep - sin sweep).

    Flat arcs are summed as a series, since there the closed form is the small difference of huge numbers.
    """
    square = bulge * bulge
    if abs(bulge) < _FLAT_BULGE:
        return chord * chord * bulge * (1.0 / 3.0 + square * (1.0 / 15.0 - square / 105.0))
    wide = 1.0 + square
    return chord * chord * (wide * wide * math.atan(bulge) - bulge * (1.0 - square)) / (8.0 * square)


_FLAT_BULGE = 0.01
"""Under this bulge the series' first dropped term, b^6 / 105 of the sum, is beyond the last digit of a double."""
