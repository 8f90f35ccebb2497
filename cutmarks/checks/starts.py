"""Whether the start of an area can be moved so that its holes fall well: a search by division on the grid.

A hole that lies in one tile needs so much of it on both sides; one over a joint is to take a fair share of both tiles,
and to leave no horn. Across the courses and along them are looked at one after the other: the shortest move upward or
downward that helps, then the shortest to a side.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from typing import Literal, NamedTuple

from msgspec import Struct, field

from cutmarks.checks.bridges import Bridge, bridge_of
from cutmarks.geometry.edges import Bounds
from cutmarks.geometry.shapes import Circle, ring_of
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.limits import Limits
from cutmarks.openings.model import Cut, CutPiece, Opening
from cutmarks.sides import SIDES, Side
from cutmarks.tiling.layout import Layout
from cutmarks.tiling.model import Grid


class Fall(NamedTuple):
    """How a hole falls on one axis: 0 well, 1 to be looked at, 2 it stops; on how many tiles in a row; over an edge?"""

    trouble: Literal[0, 1, 2]
    tiles: int
    runs_out: bool

    def is_worse(self, now: Fall) -> bool:
        """Whether it falls worse than now: into more trouble, onto one more tile, or over an edge."""
        return self.trouble > now.trouble or self.tiles > now.tiles or self.runs_out > now.runs_out

    def mends(self, now: Fall) -> bool:
        """Whether it falls well, and no worse than now; on fewer tiles, where it falls badly over a joint now."""
        spares = self.tiles < now.tiles or now.tiles < 2 or not now.trouble
        return not self.trouble and not self.is_worse(now) and spares


MOST_TROUBLED = 12
"""More holes than these no one start puts right."""


class Wanted(Struct, frozen=True):
    """What a hole has to have where it falls: bridges, the least share of the next tile, the sharpest horn, degrees."""

    bridge: Bridge
    least: float
    bite: float
    part: float
    horn: float


def wanted(layout: Layout, kind: str, limits: Limits) -> Wanted:
    """The limits of an area's tile on a wall or a floor."""
    bridge = bridge_of(layout.tile, kind, limits)
    return Wanted(bridge, limits.least_bite.value, limits.bite.value, limits.bite_part.value, limits.horn.value)


def fair_share(size: float, bite: float, part: float) -> float:
    """What a hole `size` mm wide has to take of the next tile not just to bite it, mm."""
    return min(bite, part * size)


def bite_of(cut: Cut, piece: CutPiece, limits: Limits) -> tuple[float, float, Side] | None:
    """How far a cut just bites into a tile, what would be a fair share, mm, and over which side it comes in.

    None where it lies in the tile, takes a fair share of it, or is a hair bite, which has been said.
    """
    box, tile, share = cut.opening.ring.moved(piece.piece.tile_at.inverse()).bounds, piece.piece.tile.box, cut.share
    found = []
    for side in SIDES:
        if cut.kind == "hole" or side.sign * (box.at(side) - tile.at(side)) <= TOUCH:
            continue
        across = side.axis == "across"
        deep = share.bounds.width if across else share.bounds.height
        size = box.width if across else box.height
        fair = fair_share(size, limits.bite.value, limits.bite_part.value)
        middle = (cut.centre.x if across else cut.centre.y) - tile.at(side)
        if side.sign * middle > 0.0 and limits.least_bite.value + TOUCH < deep < fair - TOUCH:
            found.append((deep, fair, side))
    return min(found, key=lambda one: one[0], default=None)


def falls_on(box: Bounds, is_round: bool, grid: Grid, want: Wanted, du: float, dv: float) -> tuple[Fall, Fall]:
    """How a hole falls across and up with the start moved by (du, dv), mm; its bounds are in the Courses frame."""
    return _falls_across(box, is_round, grid, want, du, dv), _falls_up(box, is_round, grid, want, dv)


def _falls_across(box: Bounds, is_round: bool, grid: Grid, want: Wanted, du: float, dv: float) -> Fall:
    """Across it is seen in each of the rows that it meets, where these are set off against each other."""
    low, high = box[0] - du, box[2] - du
    if not grid.bond_shift:
        return _on_axis(low, high, grid.w, grid.pitch_u, is_round, want)
    rows = range(math.floor((box[1] - dv) / grid.pitch_v), math.floor((box[3] - dv) / grid.pitch_v) + 1)
    shifts = {grid.shift(row) for row in rows}
    return max(_on_axis(low - shift, high - shift, grid.w, grid.pitch_u, is_round, want) for shift in shifts)


def _falls_up(box: Bounds, is_round: bool, grid: Grid, want: Wanted, dv: float) -> Fall:
    return _on_axis(box[1] - dv, box[3] - dv, grid.h, grid.pitch_v, is_round, want)


def _on_axis(low: float, high: float, size: float, pitch: float, is_round: bool, want: Wanted) -> Fall:
    first, last = math.floor(low / pitch), math.floor(high / pitch)
    begin, end = low - first * pitch, high - last * pitch
    in_first = begin < size - TOUCH
    if first == last and not in_first:
        return Fall(0, 0, True)
    left: list[float] = [begin] if in_first else []
    shares: list[float] = []
    if first == last or end > TOUCH:
        left += [size - end] if end <= size else []
    if first != last:
        shares = [size - begin] * in_first + [end] * (end > TOUCH)
    tiles = max(last - first + 1 - (not in_first) - (first != last and end <= TOUCH), 0)
    runs_out = first != last or end > size + TOUCH
    fair = fair_share(high - low, want.bite, want.part)
    if any(one < want.bridge.least_stop - TOUCH for one in left) or any(one <= want.least + TOUCH for one in shares):
        return Fall(2, tiles, runs_out)
    if any(one < want.bridge.least_look - TOUCH for one in left) or any(one < fair - TOUCH for one in shares):
        return Fall(1, tiles, runs_out)
    horn = is_round and _has_horn((low + high) / 2.0, (high - low) / 2.0, size, pitch, want.horn)
    return Fall(1 if horn else 0, tiles, runs_out)


def _has_horn(middle: float, radius: float, size: float, pitch: float, horn: float) -> bool:
    """Whether a round hole leaves a sharp horn at the edge of the tile that its middle lies on."""
    at = middle - math.floor(middle / pitch) * pitch
    return any(0.0 <= off < radius and math.degrees(math.acos(off / radius)) < horn for off in (at, size - at))


class OnGrid(NamedTuple):
    """An opening's bounds in the Courses frame of one area, and whether it is round."""

    box: Bounds
    is_round: bool


def placed(openings: Sequence[Opening], layout: Layout) -> dict[str, OnGrid]:
    """The openings that lie in an area, by name; one that is opened to an edge as it was while closed."""
    to_courses, found = layout.grid.to_surface.inverse(), {}
    for opening in openings:
        to_edge = opening.closed if opening.closed is not None and opening.slide is None else None
        ring = opening.ring if to_edge is None else ring_of(to_edge, opening.at)
        box = ring.moved(to_courses).bounds
        if box.overlaps(layout.extent):
            found[opening.name] = OnGrid(box, isinstance(opening.shape, Circle))
    return found


def moves(pitch: float, step: float) -> Iterator[float]:
    """Every move in whole steps up to half a pitch, the shortest first, towards the right or the top before back."""
    for n in range(1, int(pitch / 2.0 / step) + 1):
        yield n * step
        yield -n * step


class Holes(Struct, frozen=True):
    """The holes of an area as they lie on its grid, what they want, and how they fall now."""

    layout: Layout
    placed: Mapping[str, OnGrid]
    want: Wanted
    now: dict[str, tuple[Fall, Fall]] = field(default_factory=dict)

    def falls(self, name: str, du: float, dv: float) -> tuple[Fall, Fall]:
        """How a hole falls across and up with the start moved, mm."""
        hole = self.placed[name]
        if not du and not dv:
            if name not in self.now:
                self.now[name] = falls_on(hole.box, hole.is_round, self.layout.grid, self.want, 0.0, 0.0)
            return self.now[name]
        return falls_on(hole.box, hole.is_round, self.layout.grid, self.want, du, dv)

    def no_worse(self, helped: Sequence[str], du: float, dv: float) -> bool:
        """Whether no hole but those that are helped falls worse with the start moved than it does now."""
        grid, want = self.layout.grid, self.want
        for name, (box, is_round) in self.placed.items():
            if name in helped:
                continue
            across, up = self.falls(name, 0.0, 0.0)
            if dv and _falls_up(box, is_round, grid, want, dv).is_worse(up):
                return False
            # Moved up alone it lies as it did across, but for rows that are set off against each other.
            moved = du or (dv and grid.bond_shift)
            if moved and _falls_across(box, is_round, grid, want, du, dv).is_worse(across):
                return False
        return True

    def helping(self, troubled: Sequence[str], step: float, *, upright: bool, dv: float = 0.0) -> Iterator[float]:
        """The moves of the start on one axis after which the troubled holes fall well there, and no other worse.

        The shortest first. `dv` is how far it is moved up already, mm. A hole that bites the next tile is only helped
        by a move that spares that tile: a bite of 15 in place of 14 is still one more tile to cut.
        """
        grid, axis = self.layout.grid, 1 if upright else 0
        for by in moves(grid.pitch_v if upright else grid.pitch_u, step):
            du, up = (0.0, by) if upright else (by, dv)
            then = [(self.falls(name, du, up)[axis], self.falls(name, 0.0, 0.0)[axis]) for name in troubled]
            well = all(fall.mends(now) for fall, now in then)
            if well and self.no_worse(troubled, du, up):
                yield by
