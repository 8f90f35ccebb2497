"""What the tiling stage gives: tiles, grids, areas and pieces.

A place is one cell of an area's grid, (column, row) from the start place (0, 0), which never moves when an edge is
measured again. A piece is what is fixed in a place, named as one counts on the finished wall: area, course, number.
"""

from __future__ import annotations

from typing import Literal

from msgspec import Struct

from cutmarks.geometry.edges import Bounds
from cutmarks.geometry.frames import Courses, Placement, Surface, Tile
from cutmarks.geometry.regions import Region
from cutmarks.sides import Side

Place = tuple[int, int]


class TileKind(Struct, frozen=True):
    """One kind of tile as it lies in its area: w across, h up (along the tile's own sides), mm, real sizes."""

    name: str
    w: float
    h: float
    measured: bool
    thickness: float | None = None
    bed: float | None = None
    notch: float | None = None
    material: str = ""
    face: Literal["plain", "textured"] = "plain"
    bevelled: bool = False
    shade: str = ""
    calibre: str = ""
    batch: str = ""
    template: Literal["", "face", "back", "both"] = ""
    written: tuple[float, float] | None = None

    @property
    def box(self) -> Bounds:
        """The whole tile in its Tile frame."""
        return Bounds(0.0, 0.0, self.w, self.h)

    @property
    def run_differs(self) -> tuple[float, float]:
        """How much larger than its size as written the tile is by its run, across and up, mm."""
        return (0.0, 0.0) if self.written is None else (self.w - self.written[0], self.h - self.written[1])


class Grid(Struct, frozen=True):
    """Where the tiles of an area lie, for every place at once.

    `to_surface` maps the Courses frame to the surface; tile (0, 0) has its bottom-left corner at its origin. Row r is
    shifted along the courses by `shift(r)`. carried: the end at which each course begins with what came off the other
    end of the one below; None: none does.
    """

    w: float
    h: float
    joint: float
    bond_shift: float
    progressive: bool
    turn: float
    to_surface: Placement[Courses, Surface]
    carried: Side | None = None

    @property
    def pitch_u(self) -> float:
        """Tile and joint along the courses, mm."""
        return self.w + self.joint

    @property
    def pitch_v(self) -> float:
        """Tile and joint across the courses, mm."""
        return self.h + self.joint

    @property
    def offset_part(self) -> float:
        """How far the joints of a course lie beside those of the next one, as a part of the pitch: a half at most."""
        part = abs(self.bond_shift) / self.pitch_u % 1
        return min(part, 1 - part)

    def shift(self, row: int) -> float:
        """How far row `row` is moved along u, mm; whole pitches are kept, so that (0, row) never jumps."""
        return self.bond_shift * (row if self.progressive else row % 2)

    def corner(self, place: Place) -> tuple[float, float]:
        """Bottom-left corner (u, v) of the tile in `place`, mm, in the Courses frame."""
        column, row = place
        return column * self.pitch_u + self.shift(row), row * self.pitch_v

    def placement(self, place: Place) -> Placement[Tile, Surface]:
        """From the frame of the tile in `place` to the surface."""
        u, v = self.corner(place)
        in_grid: Placement[Tile, Courses] = Placement.shift(u, v)
        return in_grid.then(self.to_surface)


class Piece(Struct, frozen=True):
    """What is fixed in one place, before anything is drilled.

    outline   in the Tile frame of the WHOLE tile, trimmed by edges, borders and voids.
    course, number  as counted on the finished surface; -1 is the course `under 1`. Counted from the start place where
              nothing else is there to count from (1 is the start place, -1 the one before it).
    trimmed   False for a whole tile.
    tile_at   from the Tile frame to the Surface.
    """

    name: str
    surface: str
    area: str
    course: int
    number: int
    place: Place
    tile: TileKind
    tile_at: Placement[Tile, Surface]
    turn: float
    outline: Region[Tile]
    trimmed: bool
    part: str | None = None

    @property
    def course_said(self) -> str:
        """The course as it stands in the name: 3, under 1, U2."""
        return self.name.removeprefix(f"{self.area} ").rpartition("-")[0]


class Counts(Struct, frozen=True):
    """How many places of an area hold a whole tile, a cut piece, or (wholly taken) none; None: the area is open."""

    whole: int | None
    cut: int
    gone: int
