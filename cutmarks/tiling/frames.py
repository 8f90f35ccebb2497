"""Frames that were cut off above the floor: how far tile runs in under them, and what they still take of the ground.

It is worked out as regions, side by side, and not as an offset of the outline: where a narrow part of a frame is passed
under altogether nothing of it stays, and two parts may stay for one.
"""

from __future__ import annotations

import math

from msgspec import Struct
from msgspec.structs import replace

from cutmarks.geometry.frames import Surface
from cutmarks.geometry.regions import Region, canonical, difference, intersection, region, union
from cutmarks.geometry.rings import Ring, edges, polygon
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.setout.model import Void

PROBE = 1.0
"""How deep the ground is looked at beyond the distance that decides whether tile comes from a side, mm."""
LONGEST_MITRE = 2.0
"""At a corner a strip goes on by so many times its depth at most: sharper ones are cut off."""


class _Side(Struct, frozen=True):
    """One side of a frame's outline: its ends, the unit vector into the frame, and whether tile comes from it."""

    begin: tuple[float, float]
    end: tuple[float, float]
    inward: tuple[float, float]
    comes: bool = False

    @property
    def length(self) -> float:
        return math.hypot(self.end[0] - self.begin[0], self.end[1] - self.begin[1])


def taken(void: Void, by: float, least: float, ground: Region[Surface]) -> Region[Surface]:
    """What a frame that tile goes under by `by` still takes of `ground` (Surface frame, mm).

    Tile goes under it at right angles, on the sides from which it comes: those beyond which the ground is deeper than
    `least`. Towards a wall, or the end of an area, the frame keeps its gap, and what little ground lies there is not
    tiled: no tile goes past the frame's outline. A frame under which tile meets from all sides takes nothing.
    """
    frame = canonical(region(void.measured))
    (ring,) = frame.rings
    sides = _sides(ring, least, ground)
    beyond = max(void.gap, least)
    kept = frame
    for before, side, after in zip(sides[-1:] + sides[:-1], sides, sides[1:] + sides[:1], strict=True):
        if not side.comes:
            ends = _kept_on(before, side, by, beyond), _kept_on(side, after, by, beyond)
            if side.length + sum(ends) > TOUCH:
                kept = union(kept, _band(side, -beyond, 0.0, ends))
    for before, side, after in zip(sides[-1:] + sides[:-1], sides, sides[1:] + sides[:1], strict=True):
        if side.comes:
            under = _band(side, 0.0, by, (_under_on(before, side, by), _under_on(side, after, by)))
            kept = difference(kept, intersection(under, frame))
    return kept


def _sides(frame: Ring[Surface], least: float, ground: Region[Surface]) -> list[_Side]:
    """The sides of an outline of straight edges that runs counter-clockwise, in the order of its edges."""
    found = []
    for edge in edges(frame):
        x0, y0, x1, y1 = edge[0], edge[1], edge[2], edge[3]
        side = _Side((x0, y0), (x1, y1), ((y0 - y1) / edge.length, (x1 - x0) / edge.length))
        beyond = intersection(_band(side, -least - PROBE, -least), ground)
        found.append(replace(side, comes=beyond.area > TOUCH * edge.length))
    return found


def _turn(before: _Side, after: _Side) -> float:
    """How the outline turns at the corner between two sides, radians; negative at an inside corner."""
    (ax, ay), (bx, by) = before.inward, after.inward
    return math.atan2(ax * by - ay * bx, ax * bx + ay * by)


def _under_on(before: _Side, after: _Side, by: float) -> float:
    """How far a strip under the frame goes on at a corner: to the mitre at an inside one, with tile on both sides."""
    turn = _turn(before, after)
    if turn >= 0.0 or not (before.comes and after.comes):
        return 0.0
    return by * min(math.tan(-turn / 2.0), LONGEST_MITRE)


def _kept_on(before: _Side, after: _Side, by: float, beyond: float) -> float:
    """How far the strip beyond a side without tile goes on at an outside corner: to the mitre with another such.

    Towards a side with tile it ends (a negative figure) where that tile ends under the frame.
    """
    turn = _turn(before, after)
    if turn <= 0.0:
        return 0.0
    if before.comes or after.comes:
        return -min(by / math.sin(turn), LONGEST_MITRE * by)
    return beyond * min(math.tan(turn / 2.0), LONGEST_MITRE)


def _band(side: _Side, near: float, far: float, ends: tuple[float, float] = (0.0, 0.0)) -> Region[Surface]:
    """What lies between two distances inward of a side (negative: outward), going on by `ends` at both ends, mm."""
    (x0, y0), (x1, y1), (nx, ny) = side.begin, side.end, side.inward
    ux, uy = ny, -nx
    begins, goes_on = ends
    corners = ((near, -begins, x0, y0), (near, goes_on, x1, y1), (far, goes_on, x1, y1), (far, -begins, x0, y0))
    return region(polygon([(x + ux * along + nx * off, y + uy * along + ny * off) for off, along, x, y in corners]))
