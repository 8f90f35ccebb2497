"""How holes land on a grid, in closed form: inside one tile, on a joint, just over one, too near to a tile's edge."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Literal, NamedTuple

from msgspec import Struct

from cutmarks.checks.starts import Wanted, fair_share
from cutmarks.geometry.edges import Bounds
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.sides import SIDES, Axis
from cutmarks.tiling.model import Grid

Land = Literal["in a tile", "on a joint", "on a crossing", "just bites", "thin", "stops"]


class HoleOn(Struct, frozen=True):
    """An opening as it lies on the surface: its bounds, and where it is round its radius, mm (0: it is not)."""

    name: str
    box: Bounds
    radius: float = 0.0

    def moved(self, dx: float, dy: float) -> HoleOn:
        """The same hole somewhere else."""
        x0, y0, x1, y1 = self.box
        return HoleOn(self.name, Bounds(x0 + dx, y0 + dy, x1 + dx, y1 + dy), self.radius)


class Landing(NamedTuple):
    """How a hole lands: in words, on how many tiles, the least bite of a next tile and the least bridge, mm.

    bite    None where it takes a fair share of each tile; bridge: to a side that the maker made, None where it runs
            over each.
    """

    land: Land
    tiles: int
    bite: float | None
    bridge: float | None

    @property
    def is_bad(self) -> bool:
        """Whether it just bites, or leaves a thin bridge."""
        return self.land in ("just bites", "thin", "stops")


def landing(hole: HoleOn, grid: Grid, x: float, y: float, want: Wanted) -> Landing:
    """How a hole lands with the corner of tile [0, 0] at (x, y)."""
    inside = _inside(hole.box, grid, x, y)
    if inside is not None:
        return _landed(1, [], [inside], 0, want)
    tiles = 0
    bites: list[float] = []
    bridges: list[float] = []
    runs: set[Axis] = set()
    box = hole.box
    centre = (box.min_x + box.max_x) / 2, (box.min_y + box.max_y) / 2
    for tile in tiles_under(box, grid, x, y):
        share = share_in(hole, tile)
        if share is None:
            continue
        tiles += 1
        for side in SIDES:
            along = side.axis == "across"
            place, sign = tile.at(side), side.sign
            if sign * (box.at(side) - place) <= TOUCH:
                bridges.append(sign * (place - share.at(side)))
                continue
            runs.add(side.axis)
            wide, deep = (box.width, share.width) if along else (box.height, share.height)
            middle = centre[0] if along else centre[1]
            if sign * (middle - place) > 0.0 and deep < fair_share(wide, want.bite, want.part) - TOUCH:
                bites.append(deep)
    return _landed(tiles, bites, bridges, len(runs), want)


def _inside(box: Bounds, grid: Grid, x: float, y: float) -> float | None:
    """The least bridge of what lies in one tile, mm; None: it does not, or ends on its edge but for a rounding."""
    row = math.floor((box.min_y - y) / grid.pitch_v)
    low = y + row * grid.pitch_v
    along = x + grid.shift(row)
    left = along + math.floor((box.min_x - along) / grid.pitch_u) * grid.pitch_u
    bridge = min(box.min_x - left, left + grid.w - box.max_x, box.min_y - low, low + grid.h - box.max_y)
    return bridge if bridge > TOUCH else None


def _landed(tiles: int, bites: Sequence[float], bridges: Sequence[float], runs: int, want: Wanted) -> Landing:
    """How a hole lands on so many tiles that runs over the sides of some, on `runs` axes."""
    bite: float | None = min(bites, default=None)
    bridge: float | None = min(bridges, default=None)
    if not tiles:
        return Landing("on a joint", 0, None, None)
    if bridge is not None and bridge < want.bridge.least_stop - TOUCH:
        return Landing("stops", tiles, bite, bridge)
    if bite is not None:
        return Landing("just bites", tiles, bite, bridge)
    if bridge is not None and bridge < want.bridge.least_look - TOUCH:
        return Landing("thin", tiles, None, bridge)
    land: Land = "in a tile" if not runs else "on a joint" if runs == 1 else "on a crossing"
    return Landing(land, tiles, None, bridge)


def tiles_under(box: Bounds, grid: Grid, x: float, y: float) -> Iterator[Bounds]:
    """The tiles that a box lies over, by division; what only touches one does not."""
    for row in range(
        math.floor((box.min_y - y - grid.h + TOUCH) / grid.pitch_v) + 1,
        math.ceil((box.max_y - y - TOUCH) / grid.pitch_v),
    ):
        low = y + row * grid.pitch_v
        along = x + grid.shift(row)
        for column in range(
            math.floor((box.min_x - along - grid.w + TOUCH) / grid.pitch_u) + 1,
            math.ceil((box.max_x - along - TOUCH) / grid.pitch_u),
        ):
            left = along + column * grid.pitch_u
            yield Bounds(left, low, left + grid.w, low + grid.h)


def share_in(hole: HoleOn, tile: Bounds) -> Bounds | None:
    """The bounds of what a hole takes of one tile; None where it takes nothing.

    Of a circle they are what its highest, lowest and outermost places in the tile give; of anything else its own box's.
    """
    x0, y0 = max(hole.box.min_x, tile.min_x), max(hole.box.min_y, tile.min_y)
    x1, y1 = min(hole.box.max_x, tile.max_x), min(hole.box.max_y, tile.max_y)
    if x1 - x0 <= TOUCH or y1 - y0 <= TOUCH:
        return None
    if hole.radius:
        cx, cy = (hole.box.min_x + hole.box.max_x) / 2, (hole.box.min_y + hole.box.max_y) / 2
        dx, dy = max(x0 - cx, cx - x1, 0.0), max(y0 - cy, cy - y1, 0.0)
        if math.hypot(dx, dy) >= hole.radius - TOUCH:
            return None
        wide, high = math.sqrt(hole.radius**2 - dy**2), math.sqrt(hole.radius**2 - dx**2)
        x0, x1, y0, y1 = max(x0, cx - wide), min(x1, cx + wide), max(y0, cy - high), min(y1, cy + high)
    return Bounds(x0, y0, x1, y1)
