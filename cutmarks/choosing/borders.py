"""What ends the courses and columns of an area: edges, windows, its own limits, each as straight stretches.

All in the Surface frame, for areas that are not turned. A stretch is looked at along `t`: upward where it ends courses
(a left or right end), to the right where it ends columns; its own place `v` lies on the other axis.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from itertools import pairwise
from typing import Literal

from msgspec import Struct

from cutmarks.geometry.edges import Arc, Edge, at_angle
from cutmarks.geometry.frames import Point, Surface
from cutmarks.geometry.regions import Region, contains, region, touches_boundary
from cutmarks.geometry.rings import edges
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.setout.edges import position_at
from cutmarks.setout.model import SetOut, Void
from cutmarks.sides import ON_AXIS, Axis, Side

SLANT = 0.2
"""A stretch that leans more than this, mm per mm, leaves points whatever the start: it is no end to be measured."""
ARC_PARTS = 16
"""An arc is followed by so many chords; what it leaves is not measured, for the same reason."""
LONG = 30_000.0
"""Where a side of the surface was not read its other edges are looked at so far from its lines, mm."""
PAST = 0.3
"""So far past the end of a stretch, and beyond it, is looked whether the ground goes on there, mm."""
BESIDE = 0.01
"""How near to an edge a stretch of ground lies that ends there, mm: both come from the same readings."""


class EndOf(Struct, frozen=True):
    """What a stretch is the end of.

    kind    an edge of the surface, the area's own limit, a step in an edge, or a window, niche or door; other: an edge
            of another wall round which courses run at one height.
    what    in words: "left edge", "window"; thing: the name of the window, niche, door or other wall, else "".
    side    of the area, or of the thing, on which the piece lies that it trims.
    hidden  something covers the joint there.
    """

    kind: Literal["edge", "limit", "step", "void", "other"]
    what: str
    side: Side
    thing: str = ""
    hidden: bool = False

    @property
    def of(self) -> str:
        """What it is an end of: the area, by its edges and its own limits, a step, or a window by its name."""
        return {"edge": "area", "limit": "area", "step": "step"}.get(self.kind, f"{self.kind} {self.thing}")


class Border(Struct, frozen=True):
    """A stretch that trims pieces on their `side`: from v0 at t0 to v1 at t1, mm, t0 < t1.

    o0, o1  where the ground begins behind it, at both ends: a piece reaches no further.
    turns0, turns1  at that end the ground goes on round a corner, so that a tile may lie both beside and beyond it.
    """

    end: EndOf
    side: Side
    t0: float
    t1: float
    v0: float
    v1: float
    o0: float
    o1: float
    turns0: bool = False
    turns1: bool = False

    def at(self, t: float) -> tuple[float, float]:
        """Its place, and that of what lies behind it, at `t`."""
        part = (t - self.t0) / (self.t1 - self.t0)
        behind = self.o0 if math.isinf(self.o0) else self.o0 + part * (self.o1 - self.o0)
        return self.v0 + part * (self.v1 - self.v0), behind

    @property
    def is_true(self) -> bool:
        """Whether it is plumb or level, and what lies behind it too."""
        return abs(self.v1 - self.v0) <= TOUCH and (math.isinf(self.o0) or abs(self.o1 - self.o0) <= TOUCH)


class Slab(Struct, frozen=True):
    """A band of an area from t0 to t1 in which nothing begins or ends: spans of (low, high) at t0 and at t1, mm."""

    t0: float
    t1: float
    spans: tuple[tuple[float, float, float, float], ...]
    """Each as low at t0, low at t1, high at t0, high at t1."""


class _Line(Struct, frozen=True):
    """An edge of the ground as a line: from v0 at t0 to v1 at t1, t0 < t1; `high`: the ground ends there going up v."""

    t0: float
    t1: float
    v0: float
    v1: float
    high: bool
    curved: bool

    @property
    def slants(self) -> bool:
        return self.curved or abs(self.v1 - self.v0) > SLANT * (self.t1 - self.t0)

    def at(self, t: float) -> float:
        return self.v0 + (self.v1 - self.v0) * (t - self.t0) / (self.t1 - self.t0)


def slabs_of(ground: Region[Surface], axis: Axis) -> tuple[list[Slab], list[tuple[_Line, _Line, float, float]]]:
    """The ground in bands: for "across" along y, with spans from left to right; for "up" along x, from below.

    With it each pair of lines between which a band's span lies, from t to t.
    """
    lines = [line for ring in ground.rings for edge in edges(ring) for line in _lines(edge, axis)]
    levels = sorted({one for line in lines for one in (line.t0, line.t1)})
    starts = sorted(lines, key=lambda line: line.t0)
    found: list[Slab] = []
    pairs: list[tuple[_Line, _Line, float, float]] = []
    active: list[_Line] = []
    next_line = 0
    for a, b in pairwise(levels):
        if b - a <= TOUCH:
            continue
        middle = (a + b) / 2
        while next_line < len(starts) and starts[next_line].t0 < middle:
            active.append(starts[next_line])
            next_line += 1
        active = [line for line in active if line.t1 > middle]
        row = sorted(active, key=lambda line: line.at(middle))
        spans = []
        for low, high in zip(row[::2], row[1::2], strict=False):
            spans.append((low.at(a), low.at(b), high.at(a), high.at(b)))
            pairs.append((low, high, a, b))
        found.append(Slab(a, b, tuple(spans)))
    return found, pairs


def _lines(edge: Edge[Surface], axis: Axis) -> Iterator[_Line]:
    curved = isinstance(edge, Arc)
    if isinstance(edge, Arc):
        turns = [edge.start + edge.sweep * part / ARC_PARTS for part in range(ARC_PARTS + 1)]
        points = [at_angle(edge, turn) for turn in turns]
        points[0], points[-1] = (edge.x0, edge.y0), (edge.x1, edge.y1)
    else:
        points = [(edge.x0, edge.y0), (edge.x1, edge.y1)]
    for (x0, y0), (x1, y1) in pairwise(points):
        t0, v0, t1, v1 = (y0, x0, y1, x1) if axis == "across" else (x0, y0, x1, y1)
        if abs(t1 - t0) <= TOUCH:
            continue
        # Ground lies left of a ring's edge: one that goes up ends it to the right, one that goes right begins it.
        high = (t1 > t0) == (axis == "across")
        yield _Line(t0, t1, v0, v1, high, curved) if t0 < t1 else _Line(t1, t0, v1, v0, high, curved)


def borders_of(
    ground: Region[Surface], between: Sequence[tuple[_Line, _Line, float, float]], axis: Axis, ends: EndsOf
) -> list[Border]:
    """The stretches of one axis that end pieces and can be measured; `between` is what `slabs_of` gives with it."""

    def goes_on(t: float, v: float) -> bool:
        return contains(ground, Point(v, t) if axis == "across" else Point(t, v))

    found: list[Border] = []
    for low, high, a, b in between:
        for line, other, sign in ((low, high, -1), (high, low, 1)):
            side = ON_AXIS[axis][sign > 0]
            t0, t1 = max(a, -LONG), min(b, LONG)
            if t1 - t0 <= TOUCH:
                continue
            v0, v1 = line.at(t0), line.at(t1)
            if line.slants or min(abs(v0), abs(v1)) > LONG:
                continue
            of = ends.of(side, (t0 + t1) / 2, (v0 + v1) / 2)
            # A slanted edge behind it is no side of the same piece: that goes on above or below.
            o0, o1 = (-sign * math.inf,) * 2 if other.slants else (other.at(t0), other.at(t1))
            past0, past1 = goes_on(t0 - PAST, v0 + sign * PAST), goes_on(t1 + PAST, v1 + sign * PAST)
            found.append(Border(of, side, t0, t1, v0, v1, o0, o1, past0, past1))
    return found


class EndsOf(Struct, frozen=True, dict=True):
    """Says what a stretch of an area's ground is the end of; `own` are the area's own limits that it has, by side."""

    setout: SetOut
    own: Callable[[Side], float | None]

    def of(self, side: Side, t: float, v: float) -> EndOf:
        """What trims a piece's `side` at (t, v)."""
        x, y = (v, t) if side.axis == "across" else (t, v)
        void = next((one for one in self.setout.voids if _ends_at(one, x, y)), None)
        if void is not None:
            return EndOf("void", void.called, side.opposite, void.name)
        limit = self.own(side)
        if limit is not None and abs(limit - v) <= BESIDE:
            return EndOf("limit", f"area's {side}", side)
        edge = self.setout.edges.get(side)
        if edge is not None:
            for clear in set(edge.clears):
                # Beside a step the ground keeps as far from its upright face: it ends there as the next stretch does.
                for near in (t, t - abs(clear) - BESIDE, t + abs(clear) + BESIDE):
                    if abs(position_at(edge, near) - side.sign * clear - v) <= max(BESIDE, SLANT * abs(near - t)):
                        return EndOf("edge", edge.called, side, hidden=bool(edge.hidden_by))
        return EndOf("step", "step", side) if self.setout.edges else EndOf("edge", f"{side} end", side)


def _ends_at(void: Void, x: float, y: float) -> bool:
    ring = region(void.ring)
    return any(
        touches_boundary(ring, x + dx, y + dy)
        for dx, dy in ((0.0, 0.0), (TOUCH, 0.0), (-TOUCH, 0.0), (0.0, TOUCH), (0.0, -TOUCH))
    )
