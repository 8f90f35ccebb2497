"""What the cutting stage gives: how one piece is cut, as paths in the Tile frame of the whole tile, mm."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Literal

from msgspec import Struct

from cutmarks.geometry.edges import Bounds
from cutmarks.geometry.frames import Point, Tile
from cutmarks.geometry.regions import Region
from cutmarks.geometry.rings import Ring, Vertex, as_circle
from cutmarks.readings import SHARP, Corners

MM3_OF_A_LITRE = 1_000_000.0


class ClosedPath(Struct, frozen=True):
    """One contour of a finished piece.

    ring       the outline itself, or what is cut out of it: that one runs clockwise.
    all_round  whether all of it is cut, and no part is an edge that the maker gave the tile.
    """

    ring: Ring[Tile]
    all_round: bool

    @property
    def is_inner(self) -> bool:
        """Whether it is cut out of the piece, and not its outline."""
        return self.ring.area < 0.0

    @property
    def circle(self) -> tuple[Point[Tile], float] | None:
        """Centre and radius, mm, of a whole round hole; None for anything else."""
        return as_circle(self.ring) if self.is_inner else None


class OpenPath(Struct, frozen=True):
    """One path from factory edge to factory edge.

    vertices  as in a ring, each with the bulge of the edge to the next; the last is the end, its bulge 0. The first
              and last edges run on straight past the factory edge.
    length    of what is cut in the tile, without what runs past, mm.
    """

    vertices: tuple[Vertex, ...]
    length: float


class SmallHole(Struct, frozen=True):
    """A hole that is drilled in an inside corner, mm."""

    at: Point[Tile]
    d: float


JetTrouble = Literal["no room to pierce", "small hole", "small radius"]


class ForTheJet(Struct, frozen=True):
    """What a jet cannot make of a contour: where, how large that is, and what it has to be at least, mm.

    no room to pierce  the largest circle in what is cut out, by its radius; small hole: its diameter; small radius.
    """

    what: JetTrouble
    at: Point[Tile]
    mm: float
    least: float


class Cutting(Struct, frozen=True):
    """How one piece is cut.

    contours  the finished ones, outlines before what is cut out of them, inside corners as the shop makes them.
    open      what is cut of contours that are the maker's elsewhere: a finished factory edge is not cut again.
    corners   what is made of sharp inside corners; holes: the small holes drilled in them.
    sharp     the inside corners in which a radius, or a hole, has no room, and which stay sharp.
    trouble   what a jet cannot make.
    """

    contours: tuple[ClosedPath, ...]
    open: tuple[OpenPath, ...]
    corners: Corners = SHARP
    holes: tuple[SmallHole, ...] = ()
    sharp: tuple[Point[Tile], ...] = ()
    trouble: tuple[ForTheJet, ...] = ()

    @property
    def outline(self) -> Region[Tile]:
        """The finished contours as a region."""
        return Region(tuple(path.ring for path in self.contours))

    @property
    def closed(self) -> tuple[ClosedPath, ...]:
        """The contours that are cut all round."""
        return tuple(path for path in self.contours if path.all_round)

    @property
    def length(self) -> float:
        """What is cut in the tile, mm: what a shop prices."""
        return sum(path.ring.length for path in self.closed) + sum(path.length for path in self.open)

    @property
    def paths(self) -> int:
        """How many paths that is, each begun anew, small holes among them."""
        return len(self.open) + len(self.closed) + len(self.holes)

    def mass(self, thickness: float, density: float) -> float:
        """What the finished piece weighs, kg; the tile's thickness in mm, its density in kg a litre."""
        return self.outline.area * thickness * density / MM3_OF_A_LITRE

    @property
    def finished(self) -> Bounds:
        """Of the finished piece, mm."""
        return _around(path.ring for path in self.contours)

    @property
    def bounds(self) -> Bounds:
        """Of all that is cut, with what runs past the tile, mm; a tile of which nothing is cut has a nought.

        An open path runs straight at both ends, so that closing it with a straight line adds nothing outside it.
        """
        return _around([*(path.ring for path in self.closed), *(Ring[Tile](path.vertices) for path in self.open)])


def _around(rings: Iterable[Ring[Tile]]) -> Bounds:
    """The bounds of all rings; a nought where there is none."""
    boxes = [ring.bounds for ring in rings] or [Bounds(0.0, 0.0, 0.0, 0.0)]
    lows, highs = [box[:2] for box in boxes], [box[2:] for box in boxes]
    return Bounds(*map(min, zip(*lows, strict=True)), *map(max, zip(*highs, strict=True)))
