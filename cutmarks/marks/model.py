"""What is drawn, as data: by role and not by colour, full size, in one frame.

A mark says where a thing is and what it means (`Role`); how wide its line is and how it is dashed stands with the
writers. Coordinates are mm, y up. A circle stays a circle and an arc an arc. Marks are compared in tests as values:

>>> line(0.0, 0.0, 248.0, 0.0, Role.TILE_EDGE) == Stroke((Vertex(0.0, 0.0), Vertex(248.0, 0.0)), Role.TILE_EDGE)
True
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from enum import Enum
from typing import Generic, Literal, TypeVar

from msgspec import Struct

from cutmarks.geometry.frames import Frame, Placement, Point
from cutmarks.geometry.rings import Ring, Vertex

F = TypeVar("F", bound=Frame)
G = TypeVar("G", bound=Frame)

WordsAnchor = Literal["start", "middle", "end"]


class Role(Enum):
    """What a line means; ISO 128-2 line types are named where one is used."""

    CUT = "cut"
    """What is cut: continuous wide."""
    TILE_EDGE = "tile edge"
    """The tile's own edge that the sheet is lined up on: long-dashed double-dotted, wide."""
    TILE = "tile"
    """The tile's other edges: long-dashed double-dotted, narrow."""
    CENTRE = "centre"
    """Centre lines and crosses: long-dashed dotted (chain)."""
    CENTRE_RING = "centre ring"
    """The ring round a middle that is drilled: continuous narrow."""
    STOPPED = "stopped"
    """What crosses a drawing out: continuous extra wide."""
    FRAME = "frame"
    """The pattern of the frame round a template for the back: continuous narrow."""
    COVER = "cover"
    """The cover that will hide a cut, never cut: dashed."""
    KEEP_CLEAR = "keep clear"
    """What has to stay free of tile for screws and lugs, never cut: dotted."""
    ABOVE = "above"
    """What stands above the tile, a frame that it is slid under, never cut: dashed."""
    MEASURE = "measure"
    """Dimension lines, their witness lines and ticks: continuous narrow."""
    BAR = "bar"
    """The bars that prove the paper: continuous wide."""
    CORNER = "corner"
    """The four marks at the corners of the safe area: continuous wide."""
    BOX = "box"
    """Frames round words and the lines of tables: continuous narrow."""
    ARROW = "arrow"
    """The arrow lines of UP and PLUMB: continuous extra wide."""
    OUTLINE = "outline"
    """In an elevation: where the surface ends, windows, niches and doors: continuous wide."""
    GRID = "grid"
    """In an elevation: the joints between pieces: continuous, narrowest."""
    SET_OUT = "set-out"
    """In an elevation: the set-out lines: long-dashed dotted (chain)."""
    JOINT = "joint"
    """On a set-out page: the edges of pieces, and measures to be read at arm's length: continuous, between the two."""
    MAIN_LINE = "main line"
    """There too: the set-out lines: long-dashed dotted (chain)."""
    HATCH = "hatch"
    """A pattern that marks an area: continuous, narrowest."""


class Tone(Enum):
    """What fills an area; grey stands only in the elevation and nothing is told by it alone."""

    BLACK = "black"
    GREY = "grey"
    WHITE = "white"


class Stroke(Struct, Generic[F], frozen=True):
    """A line of straight and bent edges (bulge of the edge that leaves each vertex, as in a ring).

    A quarter of a circle of 20, cut off the top right corner of a tile 248 x 398:

    >>> quarter = Stroke((Vertex(228.0, 398.0, 0.41421356), Vertex(248.0, 378.0)), Role.CUT)
    >>> [(vertex.x, vertex.y) for vertex in quarter.path]
    [(228.0, 398.0), (248.0, 378.0)]
    """

    path: tuple[Vertex, ...]
    role: Role
    closed: bool = False


class CircleMark(Struct, Generic[F], frozen=True):
    """A whole circle, drawn as a line.

    A core of 35 in a tile is this on its sheet, wherever the sheet lies: the mark is moved, not drawn anew.

    >>> core = CircleMark(Point(74.5, 112.5), 17.5, Role.CUT)
    >>> moved(core, Placement.shift(10.0, 29.0))
    CircleMark(centre=Point(x=84.5, y=141.5), radius=17.5, role=<Role.CUT: 'cut'>)
    """

    centre: Point[F]
    radius: float
    role: Role


class Filled(Struct, Generic[F], frozen=True):
    """An area without a line round it; a ring inside another is a hole in it (even-odd).

    The black band of a STOP, 100 x 8, at the foot of a page:

    >>> block(10.0, 10.0, 100.0, 8.0).rings[0].bounds
    Bounds(min_x=10.0, min_y=10.0, max_x=110.0, max_y=18.0)
    """

    rings: tuple[Ring[F], ...]
    tone: Tone = Tone.BLACK


class Words(Struct, Generic[F], frozen=True):
    """One line of words, always readable, never mirrored.

    at      on the baseline, at the start, middle or end of the words as `anchor` says.
    height  of its capitals and figures, mm (not the em).
    turn    degrees counter-clockwise about `at`.
    tone    BLACK, or WHITE on a black band.

    From behind they stand on the other side, and are still read from left to right:

    >>> said = Words("74½", Point(74.5, 60.0), 2.5, "middle")
    >>> behind = moved(said, Placement.mirror(248.0))
    >>> behind.text, behind.at, behind.turn
    ('74½', Point(x=173.5, y=60.0), 0.0)
    """

    text: str
    at: Point[F]
    height: float
    anchor: WordsAnchor = "start"
    bold: bool = False
    turn: float = 0.0
    tone: Tone = Tone.BLACK


Mark = Stroke[F] | CircleMark[F] | Filled[F] | Words[F]


def line(x1: float, y1: float, x2: float, y2: float, role: Role) -> Stroke[F]:
    """A straight line from (x1, y1) to (x2, y2), mm."""
    return Stroke((Vertex(x1, y1), Vertex(x2, y2)), role)


def rectangle(x: float, y: float, width: float, height: float, role: Role) -> Stroke[F]:
    """A rectangle drawn as a line, (x, y) its bottom-left corner, mm."""
    corners = ((x, y), (x + width, y), (x + width, y + height), (x, y + height))
    return Stroke(tuple(Vertex(*corner) for corner in corners), role, closed=True)


def outline(ring: Ring[F], role: Role) -> Stroke[F]:
    """A ring drawn as a line."""
    return Stroke(ring.vertices, role, closed=True)


def solid(points: Iterable[tuple[float, float]], tone: Tone = Tone.BLACK) -> Filled[F]:
    """A filled polygon through `points`, mm."""
    return Filled((Ring(tuple(Vertex(x, y) for x, y in points)),), tone)


def block(x: float, y: float, width: float, height: float, tone: Tone = Tone.BLACK) -> Filled[F]:
    """A filled rectangle, (x, y) its bottom-left corner, mm."""
    return solid(((x, y), (x + width, y), (x + width, y + height), (x, y + height)), tone)


def moved(mark: Mark[F], placement: Placement[F, G]) -> Mark[G]:
    """The mark in the frame that `placement` leads to; words turn with it but are never mirrored."""
    match mark:
        case Stroke():
            return Stroke(_moved_path(mark.path, placement), mark.role, mark.closed)
        case CircleMark():
            return CircleMark(placement.apply(mark.centre), mark.radius, mark.role)
        case Filled():
            return Filled(tuple(Ring(_moved_path(ring.vertices, placement)) for ring in mark.rings), mark.tone)
        case Words():
            turn = mark.turn + math.degrees(math.atan2(placement.sin, placement.cos))
            return Words(mark.text, placement.apply(mark.at), mark.height, mark.anchor, mark.bold, turn, mark.tone)


def _moved_path(path: tuple[Vertex, ...], placement: Placement[F, G]) -> tuple[Vertex, ...]:
    if placement.cos == 1.0 and not placement.mirrored:
        dx, dy = placement.dx, placement.dy
        return tuple(Vertex(x + dx, y + dy, bulge) for x, y, bulge in path)
    sign = -1.0 if placement.mirrored else 1.0
    return tuple(Vertex(*placement.xy(v.x, v.y), sign * v.bulge if v.bulge else 0.0) for v in path)
