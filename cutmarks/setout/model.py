"""What the set-out stage gives: lines, edges, voids and the ground inside them, all in the Surface frame."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

from msgspec import Struct

from cutmarks.geometry.frames import Point, Surface
from cutmarks.geometry.regions import Region
from cutmarks.geometry.rings import Ring
from cutmarks.readings import OuterCorner, SillBoard, with_kind
from cutmarks.sides import FourSides, Side

BATTENS = ("batten", "ledger")
"""What a first course is put up on, as an edge or a line is called."""
_FLOORS = ("floor", "screed", "slab")


def is_a_floor(what: str) -> bool:
    """Whether what lies at a wall's foot is a floor, or was not said: a batten is put up over it."""
    return not what or any(word in what.casefold() for word in _FLOORS)


class Line(Struct, frozen=True):
    """A set-out line: fixes one coordinate, at `at` mm. `kind` and `words` are as the tiler said them.

    off  how far it was found to lean, mm per mm: to the right going up, or up going right.
    """

    name: str
    fixes: Literal["x", "y"]
    at: float
    kind: str
    words: str
    off: float = 0.0


class SurfaceEdge(Struct, frozen=True):
    """Where the surface ends on one side.

    measured  the edge as read, a polyline in the order of its running coordinate (upward or to the right); the
              end stretches go on past the last readings.
    clears    for each of these readings, how far inside it tile may come: what is still to come, the gap and a trim,
              less what tile passes an outer corner by, mm.
    gap       the edge's gap (of its first stretch where it steps); still_to_come likewise, None where it was not said
              although the edge, or a stretch of it, needs it (the next wall's bed and tile, a floor).
    gaps      for each of these readings the gap of its own stretch, mm.
    whats     where it steps, for each of these readings what its own stretch is: hearth, worktop; unfinished: whether
              what is still to come there is not known; read: of each stretch its readings where they were taken,
              also outside it. Its own part of `measured` lies on the line through them.
    trim      width of a trim along it, mm.
    lining, corner  of an outer corner: bed and tile of the return, mm, and how the tiles meet; passes: how far tile
              passes the edge as measured, mm.
    finish    how the tile's edge is finished there; hides: how wide that is which covers it, mm; note: a remark.
    assumed   True where one reading was taken for the whole edge without `true:`; usual_gap: where no gap was said.
    """

    side: Side
    measured: tuple[Point[Surface], ...]
    clears: tuple[float, ...]
    gaps: tuple[float, ...]
    still_to_come: float | None
    what: str = ""
    hidden_by: str = ""
    scribe: bool = False
    assumed: bool = False
    trim: float = 0.0
    lining: float | None = None
    corner: OuterCorner | None = None
    passes: float = 0.0
    finish: str = ""
    hides: float | None = None
    note: str = ""
    whats: tuple[str, ...] = ()
    unfinished: tuple[bool, ...] = ()
    usual_gap: bool = False
    read: tuple[tuple[Point[Surface], ...], ...] = ()

    @property
    def called(self) -> str:
        """What it is, in words: "right edge"."""
        return f"{self.side} edge"

    @property
    def gap(self) -> float:
        """Its gap, mm: of its first stretch where it steps."""
        return self.gaps[0]

    @property
    def steps(self) -> bool:
        """Whether it was read in stretches that do not all keep as much clear."""
        return len(set(zip(self.gaps, self.clears, strict=True))) > 1


class Void(Struct, frozen=True):
    """A window, niche or door: `measured` as read, `ring` grown by its gap. It trims pieces as an edge does.

    undercut    the height that is free under a frame that was cut off, mm; None where it was not said.
    goes_under  how far tile runs in under such a frame from the sides on which there is tile, mm; None where nothing
                goes under it. `tiling.frames` says what it then still takes.
    lining, corner  bed and tile of its inside, mm, and how they meet the tile in front; passes: how far that passes
                its edge, by the side of the void, mm, None where nothing is tiled; sill_laps: at its foot what lies
                there laps the tile in front; lined: its outline where that tile ends, None where none passes it.
    beside      ground beside such a frame that is no wider stays bare, mm.
    sill      what lies on its foot instead of tile; its horns are part of `ring`.
    finish      how the tile's edge is finished round it; note: a remark.
    """

    name: str
    kind: Literal["window", "niche", "door"]
    measured: Ring[Surface]
    ring: Ring[Surface]
    gap: float
    undercut: float | None = None
    goes_under: float | None = None
    lining: float | None = None
    corner: OuterCorner | None = None
    passes: FourSides[float] | None = None
    sill_laps: bool = False
    lined: Ring[Surface] | None = None
    sill: SillBoard | None = None
    finish: str = ""
    note: str = ""
    beside: float = 0.0

    @property
    def finished(self) -> Ring[Surface]:
        """Its outline on the finished face: as measured, or where the tile that passes its edge ends."""
        return self.measured if self.lined is None else self.lined

    @property
    def inside(self) -> tuple[float, float] | None:
        """How wide and high its inside is when it is lined, mm; None where it is not, or is no level rectangle."""
        if self.lining is None or self.measured.upright_box is None:
            return None
        box = self.measured.bounds
        foot = self.lining if self.sill is None or self.sill.thick is None else self.sill.thick
        return box.width - 2 * self.lining, box.height - self.lining - foot

    @property
    def called(self) -> str:
        """Its name with what it is, where the name does not say that: "door hall", "window"."""
        return with_kind(self.kind, self.name)


class KeepOut(Struct, frozen=True):
    """A strip or outline where nothing is drilled; it trims nothing."""

    name: str
    ring: Ring[Surface]
    why: str
    note: str = ""


class SetOut(Struct, frozen=True):
    """One surface, set out.

    outline  the bare surface as measured; None where any of its edges is not known.
    bare     the same; where an edge is not known it runs to FAR.
    clear    the same less gaps.
    open_sides  the sides of which nothing is known: nothing is said about trimming there.
    up       on a floor, what UP on a template points at, in words.
    """

    name: str
    kind: Literal["wall", "floor"]
    lines: Mapping[str, Line]
    edges: Mapping[Side, SurfaceEdge]
    outline: Region[Surface] | None
    bare: Region[Surface]
    clear: Region[Surface]
    open_sides: frozenset[Side]
    voids: tuple[Void, ...]
    keep_outs: tuple[KeepOut, ...]
    up: str = ""
    way_out: Side | None = None
