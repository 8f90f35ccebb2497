"""The shapes that are cut, about their own centre, and the rings that they make in a place.

Lean and turn are degrees counter-clockwise as seen in the frame where the shape is put.
"""

from __future__ import annotations

import math
from typing import TypeAlias

from msgspec import Struct

from cutmarks.errors import GeometryError
from cutmarks.geometry.frames import F, Placement, Point
from cutmarks.geometry.rings import Ring, Vertex


class Circle(Struct, frozen=True):
    """A round hole of diameter d, mm."""

    d: float

    def __post_init__(self) -> None:
        _positive("a round hole's diameter", self.d)


class Rect(Struct, frozen=True):
    """A box w wide and h high, mm, leaning by `lean` degrees, its corners rounded by the radius r, mm.

    r is at most half of the shorter side.
    """

    w: float
    h: float
    lean: float = 0.0
    r: float = 0.0

    def __post_init__(self) -> None:
        _positive("a box's width", self.w)
        _positive("a box's height", self.h)
        _finite("a box's lean", self.lean)
        if not 0.0 <= self.r <= min(self.w, self.h) / 2.0:
            raise GeometryError(
                f"a box {self.w:g} x {self.h:g} has a corner radius of {self.r:g}; "
                f"0 to {min(self.w, self.h) / 2.0:g} is possible"
            )


class Slot(Struct, frozen=True):
    """A slot l long over all and w wide, mm, its ends round; l lies along x before it leans. l == w is a circle."""

    l: float  # noqa: E741 - the name that is written
    w: float
    lean: float = 0.0

    def __post_init__(self) -> None:
        _positive("a slot's length", self.l)
        _positive("a slot's width", self.w)
        _finite("a slot's lean", self.lean)
        if self.l < self.w:
            raise GeometryError(
                f"a slot is {self.l:g} long and {self.w:g} wide; the length over all must not be under the width"
            )


class Outline(Struct, frozen=True):
    """Any outline, its vertices relative to its own centre, mm."""

    vertices: tuple[Vertex, ...]


Shape: TypeAlias = Circle | Rect | Slot | Outline


def ring_of(shape: Shape, at: Point[F], turn: float = 0.0) -> Ring[F]:
    """The shape in its place: centre `at`, leaning by its own lean and `turn` degrees; counter-clockwise."""
    if isinstance(shape, Circle):
        # Its vertices stay level with its centre, however it is turned.
        half = shape.d / 2.0
        return Ring((Vertex(at.x - half, at.y, 1.0), Vertex(at.x + half, at.y, 1.0)))
    lean = 0.0 if isinstance(shape, Outline) else shape.lean
    ring: Ring[F] = Ring(_vertices(shape))
    if isinstance(shape, Outline) and ring.area < 0.0:
        ring = ring.reversed()
    place: Placement[F, F] = Placement.turned(lean + turn, at.x, at.y)
    return ring.moved(place)


def area_of(shape: Shape) -> float:
    """The area by its closed form, mm2: circle pi d^2 / 4, box w h - (4 - pi) r^2, slot (l - w) w + pi w^2 / 4."""
    match shape:
        case Circle(d):
            return math.pi * d * d / 4.0
        case Rect(w, h, _, r):
            return w * h - (4.0 - math.pi) * r * r
        case Slot(length, w, _):
            return (length - w) * w + math.pi * w * w / 4.0
        case Outline(vertices):
            return abs(Ring(vertices).area)


def rounded_out(shape: Shape, by: float) -> Shape:
    """The shape with all that is within `by` mm of it: corners of a box come out round.

    Raises GeometryError for an outline of its own.
    """
    match shape:
        case Circle(d):
            return Circle(d + 2.0 * by)
        case Rect(w, h, lean, r):
            return Rect(w + 2.0 * by, h + 2.0 * by, lean, r + by)
        case Slot(length, w, lean):
            return Slot(length + 2.0 * by, w + 2.0 * by, lean)
        case Outline():
            raise GeometryError("an outline of its own is not grown as a box or a slot is")


def _vertices(shape: Shape) -> tuple[Vertex, ...]:
    match shape:
        case Circle(d):
            return _round(d)
        case Rect(w, h, _, r):
            return _box(w / 2.0, h / 2.0, r)
        case Slot(length, w, _):
            if length == w:
                return _round(w)
            x, y = (length - w) / 2.0, w / 2.0
            return Vertex(-x, -y), Vertex(x, -y, 1.0), Vertex(x, y), Vertex(-x, y, 1.0)
        case Outline(vertices):
            return vertices


def _round(d: float) -> tuple[Vertex, ...]:
    return Vertex(-d / 2.0, 0.0, 1.0), Vertex(d / 2.0, 0.0, 1.0)


QUARTER_BULGE = math.tan(math.pi / 8.0)
"""The bulge of a quarter turn, 0.414213562."""


def _box(x: float, y: float, r: float) -> tuple[Vertex, ...]:
    """Half width, half height and corner radius. Sides that the corners use up have no length and are left out."""
    if r == 0.0:
        return Vertex(-x, -y), Vertex(x, -y), Vertex(x, y), Vertex(-x, y)
    row = [
        Vertex(-x + r, -y),
        Vertex(x - r, -y, QUARTER_BULGE),
        Vertex(x, -y + r),
        Vertex(x, y - r, QUARTER_BULGE),
        Vertex(x - r, y),
        Vertex(-x + r, y, QUARTER_BULGE),
        Vertex(-x, y - r),
        Vertex(-x, -y + r, QUARTER_BULGE),
    ]
    return tuple(v for v, after in zip(row, row[1:] + row[:1], strict=True) if v[:2] != after[:2])


def _positive(what: str, value: float) -> None:
    if not (math.isfinite(value) and value > 0.0):
        raise GeometryError(f"{what} is {value:g}; it must be more than 0")


def _finite(what: str, value: float) -> None:
    if not math.isfinite(value):
        raise GeometryError(f"{what} is {value:g}; it must be an ordinary number of degrees")
