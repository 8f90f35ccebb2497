"""What is done to a tile to make a piece of it, one operation after the other, in the Tile frame of the whole tile, mm.

Each is a value: what is said of it (`saying.how_cut`) and what is drawn of it come from the same figures.
"""

from __future__ import annotations

import math
from typing import Literal, TypeAlias

from msgspec import Struct

from cutmarks.cutting.stops import DiscReach, Finger
from cutmarks.geometry.frames import Point, Tile
from cutmarks.sides import Side

Face = Literal["face", "back"]
StraightWay = Literal["snap", "saw", "either"]


class SetOutFrom(Struct, frozen=True):
    """What a straight cut is set out by: from a maker's edge to where the line leaves the tile, or ends, both ends, mm.

    Equal where the cut is parallel to the edge.

    keeps  it measures what is kept, and not what comes off; two: the ends differ by so much that both are said.
    """

    side: Side
    first: float
    last: float
    keeps: bool = True
    two: bool = False


class CoreHole(Struct, frozen=True):
    """A hole that is drilled with a core.

    cut     the hole that it is for, by its name.
    side    the face that it is drilled from: the one that its template lies on.
    pilot   False: its middle lies off the tile, and a board with a hole in it has to hold the core.
    """

    cut: str
    at: Point[Tile]
    d: float
    side: Face
    pilot: bool


class ReliefHoles(Struct, frozen=True):
    """Small holes that are drilled in inside corners before the saw comes to them, each touching both of its sides."""

    cut: str
    d: float
    at: tuple[Point[Tile], ...]


class StraightCut(Struct, frozen=True):
    """A cut right through, from edge to edge of what is there.

    cut        the opening that it is for; "" where it trims the piece.
    start, end  where it runs in the tile, the piece on its left.
    from_edge  None: no maker's edge is there to set it out by.
    way        scored and snapped, sawn, or either: it is not said what the snap cutter takes.
    why        why it is not snapped: "long", "narrow", "hole" (it passes a hole nearer than the tile bears), "cut" (a
               cut lies in the tile already), "" where it is.
    waste      how wide what comes off is at its narrowest, mm.
    """

    cut: str
    start: Point[Tile]
    end: Point[Tile]
    from_edge: SetOutFrom | None
    way: StraightWay
    why: Literal["", "long", "narrow", "hole", "cut"]
    waste: float


class StoppedCut(Struct, frozen=True):
    """A cut from an edge that must not go on past an inside corner.

    start, end  from the edge to where it stops; from_edge as a straight cut's.
    clear       how far before the corner it stops already, since a hole was drilled there, mm.
    reaches     of each of the discs that come through; () where no disc or no thickness was said.
    behind      how much of the piece lies behind the corner, on along the cut, mm.
    """

    cut: str
    start: Point[Tile]
    end: Point[Tile]
    from_edge: SetOutFrom | None
    clear: float
    reaches: tuple[DiscReach, ...]
    behind: float = math.inf


class PlungeCut(Struct, frozen=True):
    """A cut that must stop at both ends, let down into the tile; all as of a stopped cut, behind at its least."""

    cut: str
    start: Point[Tile]
    end: Point[Tile]
    from_edge: SetOutFrom | None
    clear: float
    reaches: tuple[DiscReach, ...]
    behind: float = math.inf

    @property
    def room(self) -> float:
        """How long the cut may be at most, mm."""
        return math.hypot(self.end.x - self.start.x, self.end.y - self.start.y)

    @property
    def from_face(self) -> tuple[DiscReach, ...]:
        """The discs for which it is long enough from the face."""
        return tuple(reach for reach in self.reaches if reach.fits_from_face(self.room))

    @property
    def from_back(self) -> tuple[DiscReach, ...]:
        """The discs for which it is long enough from the back alone, and which leave tile behind its corners there."""
        return tuple(
            r
            for r in self.reaches
            if r.fits_from_back(self.room) and not r.fits_from_face(self.room) and r.left - self.clear < self.behind
        )


class RoundNotch(Struct, frozen=True):
    """A round notch as a row of cuts from one edge, then broken out and ground.

    side     the edge that it runs out over; middle: where along it, from the whole tile's left or bottom, mm.
    kerf     of the disc that the cuts are for, mm; core: that is of its size, held by a board; None: none is.
    """

    cut: str
    side: Side
    middle: float
    kerf: float
    fingers: tuple[Finger, ...]
    core: float | None = None


class ByHand(Struct, frozen=True):
    """A round edge that no core is there for: a ring of small holes and a grinder, or a shop."""

    cut: str
    at: Point[Tile]
    radius: float


class AlongOutline(Struct, frozen=True):
    """An opening of so many edges that no saw is set to each: its line is followed by hand."""

    cut: str


Operation: TypeAlias = (
    CoreHole | ReliefHoles | StraightCut | StoppedCut | PlungeCut | RoundNotch | ByHand | AlongOutline
)


class FreeStrip(Struct, frozen=True):
    """A strip that stands free on one end while there is still something to cut.

    after  the number of the operation that leaves it so, from 0; wide, long: mm.
    """

    after: int
    wide: float
    long: float


FirstWhy = Literal["", "whole", "opens into the cut", "strip"]


class HowCut(Struct, frozen=True):
    """The operations that make a piece, in their order.

    strips  those that stand free meanwhile, where no order is without any.
    first   why it begins with what it begins with: a hole is made while the tile is whole; a straight cut comes before
            a notch that runs out over it; another order would leave a thin strip standing free. "": nothing to choose.
    """

    operations: tuple[Operation, ...] = ()
    strips: tuple[FreeStrip, ...] = ()
    first: FirstWhy = ""
