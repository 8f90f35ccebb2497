"""What the fixing stage gives: a piece's rank, the sides that its work comes from, and what is read from."""

from __future__ import annotations

from typing import Literal, NamedTuple

from msgspec import Struct

from cutmarks.sides import Side

SourceKind = Literal["piece", "line", "support", "edge", "mark"]


class Rank(NamedTuple):
    """When a piece is fixed, among all of its surface: the lower rank goes up first.

    day        2 for what lies under the base of its area, which waits until the batten is off; else 1.
    left_out   it has a hole, and such tiles are put in last.
    area       its area's place in the order of areas.
    beyond     its course lies on the other side of the start row than the one that is worked first.
    course     how many courses from the start row; on a floor with a way out, from the door, the farthest first.
    cut        it is trimmed, and such pieces come after the whole tiles of their course.
    following  it is not the first of its course.
    side       0 on the side that is worked first from the first of its course, 1 on the other.
    distance   how many places from the first of its course.
    put_in     it is cut where the work comes from, and is put in when the tile on its other side is fixed.
    part       which part of a parted piece.
    """

    day: int = 1
    left_out: bool = False
    area: int = 0
    beyond: bool = False
    course: int = 0
    cut: bool = False
    following: bool = False
    side: int = 0
    distance: int = 0
    put_in: bool = False
    part: int = 0


FIRST = Rank()


class FixedSides(Struct, frozen=True):
    """The two sides of a piece that its work comes from: they lie towards what is fixed before it."""

    across: Side
    up: Side


class ReadFrom(Struct, frozen=True):
    """What a measure is read from on the bare wall.

    kind "piece": an earlier piece's edge, by its name; `across`: a window, niche or door lies between. "line": a
    set-out line. "support": what the first course stands on, by the line at its top, or as the job says where that is
    (600 above B). "edge": the surface's own edge as measured, by its side, or a window, niche or door, by its name;
    `what`: what that edge is there, as the job says it. "mark": where the piece's own edge will be, put on the bare
    wall with rod or level from the main set-out line of that name, `at` mm right of it, or above it.
    """

    kind: SourceKind
    name: str
    across: bool = False
    what: str = ""
    at: float = 0.0

    @property
    def called(self) -> str:
        """Its name; of an edge what it is, where the job says so."""
        return self.what or self.name


class Reference(Struct, frozen=True):
    """A source as one piece has it: on which of its sides, and where its edge lies in the piece's Tile frame, mm."""

    source: ReadFrom
    side: Side
    edge: float
