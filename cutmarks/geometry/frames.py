"""Coordinate frames, and the only way between them.

Lengths are millimetres, angles degrees counter-clockwise, y up. The frame is part of the type: a `Point[Surface]`
handed to a function that wants a `Point[Tile]` is rejected by mypy, because a surface point taken for a tile point is
the silent, expensive mistake of this trade.
"""

from __future__ import annotations

import math
from typing import Generic, TypeVar

from msgspec import Struct


class Frame:
    """The root of all frames; never instantiated."""


class Surface(Frame):
    """A wall seen face on (x right, y up) or a floor from above; origin where the main set-out lines cross."""


class Courses(Frame):
    """An area's grid: origin at the start tile's bottom-left corner, x along the courses, y across them."""


class Tile(Frame):
    """One tile seen on its FACE: origin at the bottom-left corner of the WHOLE tile as it lies, axes along it.

    What is drawn for the back is the same tile mirrored about its middle, its frame still called so: the drawing code
    knows one frame, and is given either face.
    """


class Sheet(Frame):
    """A page of paper at full size: origin at its bottom-left corner."""


class Page(Frame):
    """The job sheet's own frame, for the one reduced drawing (the elevation)."""


F = TypeVar("F", bound=Frame)
G = TypeVar("G", bound=Frame)
H = TypeVar("H", bound=Frame)


class Vector(Struct, Generic[F], frozen=True):
    """A displacement in frame F, mm."""

    x: float
    y: float

    @property
    def length(self) -> float:
        """How far it goes, mm."""
        return math.hypot(self.x, self.y)


class Point(Struct, Generic[F], frozen=True):
    """A place in frame F, mm."""

    x: float
    y: float

    def __sub__(self, other: Point[F]) -> Vector[F]:
        return Vector(self.x - other.x, self.y - other.y)

    def __add__(self, step: Vector[F]) -> Point[F]:
        return Point(self.x + step.x, self.y + step.y)


def cos_sin(degrees: float) -> tuple[float, float]:
    """Cosine and sine, exact at the quarter turns so that level stays level to the last bit.

    >>> cos_sin(90)
    (0.0, 1.0)
    """
    quarter, rest = divmod(degrees, 90.0)
    if rest == 0.0:
        return ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))[int(quarter) % 4]
    angle = math.radians(degrees)
    return math.cos(angle), math.sin(angle)


class Placement(Struct, Generic[F, G], frozen=True):
    """A rigid map from frame F to frame G: mirror (x to -x) if asked, then turn, then shift.

        | x in G |   | cos  -sin |   | m  0 |   | x in F |   | dx |
        |        | = |           | * |      | * |        | + |    |     m: -1 if mirrored, else 1
        | y in G |   | sin   cos |   | 0  1 |   | y in F |   | dy |

    `cos` and `sin` are of the turn, counter-clockwise; `dx`, `dy` in mm, in G. It is made by `shift`, `turned` or
    `mirror`.
    """

    cos: float = 1.0
    sin: float = 0.0
    dx: float = 0.0
    dy: float = 0.0
    mirrored: bool = False

    @staticmethod
    def shift(dx: float, dy: float) -> Placement[F, G]:
        """Without a turn: F's origin lies at (dx, dy) mm in G.

        >>> Placement.shift(251.0, 800.0).xy(74.5, 112.5)
        (325.5, 912.5)
        """
        return Placement(1.0, 0.0, dx, dy)

    @staticmethod
    def mirror(width: float) -> Placement[F, G]:
        """Left for right in a thing of that width, mm: what was its right edge is at x = 0.

        >>> Placement.mirror(248.0).xy(74.5, 112.5)
        (173.5, 112.5)
        """
        return Placement(1.0, 0.0, width, 0.0, True)

    @staticmethod
    def turned(degrees: float, dx: float = 0.0, dy: float = 0.0, *, mirrored: bool = False) -> Placement[F, G]:
        """Mirror, turn by `degrees` counter-clockwise, then shift by (dx, dy) mm.

        >>> Placement.turned(90.0, 10.0, 20.0).xy(3.0, 4.0)
        (6.0, 23.0)
        """
        cos, sin = cos_sin(degrees)
        return Placement(cos, sin, dx, dy, mirrored)

    def apply(self, point: Point[F]) -> Point[G]:
        """Where a point of F lies in G."""
        x, y = self.xy(point.x, point.y)
        return Point(x, y)

    def xy(self, x: float, y: float) -> tuple[float, float]:
        """The same for bare coordinates, for inner loops."""
        if self.mirrored:
            x = -x
        return self.cos * x - self.sin * y + self.dx, self.sin * x + self.cos * y + self.dy

    def inverse(self) -> Placement[G, F]:
        """The way back. `p.inverse().apply(p.apply(q))` is q to rounding."""
        x, y = self.dx, self.dy
        back_x, back_y = -(self.cos * x + self.sin * y), self.sin * x - self.cos * y
        if self.mirrored:
            return Placement(self.cos, self.sin, -back_x, back_y, True)
        return Placement(self.cos, -self.sin, back_x, back_y)

    def then(self, after: Placement[G, H]) -> Placement[F, H]:
        """First this, then `after`."""
        sin = -self.sin if after.mirrored else self.sin
        dx, dy = after.xy(self.dx, self.dy)
        return Placement(
            after.cos * self.cos - after.sin * sin,
            after.sin * self.cos + after.cos * sin,
            dx,
            dy,
            self.mirrored != after.mirrored,
        )
