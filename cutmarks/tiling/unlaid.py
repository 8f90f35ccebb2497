"""Surfaces of which no grid is known: an area of it has no start yet, or no tile is chosen and it has no areas.

What is on it is looked at as far as that goes: every place that is read from lines and edges is known, and so is what
will lie on the wall; which tile a hole lands on is not.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Literal, Protocol

from msgspec import Struct

from cutmarks.geometry.frames import Point, Surface
from cutmarks.geometry.regions import contains
from cutmarks.setout.model import SetOut
from cutmarks.tiling.areas import limits
from cutmarks.tiling.grid import tile_as_laid
from cutmarks.tiling.model import TileKind

if TYPE_CHECKING:
    from cutmarks.job import Job
    from cutmarks.job.models import AreaSpec, HoleSpec, SurfaceSpec
    from cutmarks.job.taped import PairSpec
    from cutmarks.readings import Reading

Lacks = Literal["", "tiles", "start"]


class Layers(Protocol):
    """What lies on the wall or the board at a place, mm: the tile and its bed, as far as they were said."""

    @property
    def thickness(self) -> float | None:
        """Of the tile."""

    @property
    def bed(self) -> float | None:
        """Of the adhesive."""

    @property
    def notch(self) -> float | None:
        """Of the trowel, which makes the bed."""


class Unlooked(Struct, frozen=True):
    """What of a surface could not be looked at, and why.

    lacks  the areas that have no start; "tiles": there are no areas at all.
    half   what is missing where a start says one way alone: "up of field".
    holes  those whose place is read from a course or a tile, or follows from such a hole: nothing is known of them.
    """

    surface: str
    lacks: Literal["tiles", "start"]
    areas: tuple[str, ...]
    holes: tuple[str, ...]
    half: tuple[str, ...] = ()


def lacks(surface: SurfaceSpec) -> Lacks:
    """What a surface lacks for a grid: "tiles" where it has no areas, "start" where any of them has none."""
    if not surface.areas:
        return "tiles"
    return "start" if any(map(has_no_start, surface.areas)) else ""


def has_no_start(area: AreaSpec) -> bool:
    """Whether where the tiles of an area lie is not decided, across or up."""
    return area.start_across is None or area.start_up is None


def missing_start(job: Job) -> bool:
    """Whether any area has no start, so that its pieces cannot be known yet."""
    return any(lacks(surface) == "start" for surface in job.surfaces)


def not_looked_at(surface: SurfaceSpec, lacking: Literal["tiles", "start"]) -> Unlooked:
    """What is not looked at on a surface that has no grid."""
    areas = tuple(area.name for area in surface.areas if has_no_start(area))
    half = tuple(f"{area.half_missing} of {area.name}" for area in surface.areas if area.half_missing)
    return Unlooked(surface.name, lacking, areas, tuple(sorted(_read_from_tiles(surface))), half)


def placed(surface: SurfaceSpec, without: Sequence[str]) -> tuple[tuple[HoleSpec, ...], tuple[PairSpec, ...]]:
    """The holes that have a place, in the order of the job, and what was read between them: all but the named ones."""
    holes = tuple(hole for hole in surface.holes if hole.name not in without)
    return holes, tuple(pair for pair in surface.pairs if not set(pair.of).intersection(without))


def on_the_wall(surface: SurfaceSpec, setout: SetOut, at: Point[Surface], job: Job) -> tuple[Layers, ...]:
    """What will lie on the wall at a place of a surface that has no grid.

    The tile of each area whose borders it lies in; where there are no areas, what the surface itself says.
    """
    if not surface.areas:
        return (surface,)
    return tuple(job.tiles[area.tile] for area in surface.areas if contains(limits(area, setout), at))


def tiles_of(surface: SurfaceSpec, job: Job) -> tuple[TileKind, ...]:
    """The tiles of a surface's areas, as they lie there."""
    return tuple(tile_as_laid(job.tiles[area.tile], area) for area in surface.areas)


def _read_from_tiles(surface: SurfaceSpec) -> set[str]:
    """The holes that need a tile or a course for their place, and those that need one of them in turn."""
    found = {hole.name for hole in surface.holes if any(map(_names_a_tile, _readings(hole)))}
    while True:
        more = {
            hole.name
            for hole in surface.holes
            if hole.name not in found and any(reading.other in found for reading in _readings(hole))
        }
        for pair in surface.pairs:
            if found.intersection(pair.of):
                more |= set(pair.of) - found
        if not more:
            return found
        found |= more


def _readings(hole: HoleSpec) -> list[Reading]:
    """The readings of a hole that may name a tile or another hole."""
    return [
        reading
        for reading in (hole.across, hole.up, *(taken.reading for taken in hole.readings))
        if reading is not None
    ]


def _names_a_tile(reading: Reading) -> bool:
    return reading.how == "course" or (reading.start is not None and reading.start.kind == "piece")
