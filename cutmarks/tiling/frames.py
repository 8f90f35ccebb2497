"""Frames that were cut off above the floor: how far tile runs in under them, and what they still take of the ground."""

from __future__ import annotations

import math
from dataclasses import dataclass

from cutmarks.geometry.frames import Surface
from cutmarks.geometry.offset import shrunk
from cutmarks.geometry.regions import Region, canonical, difference, intersection, region
from cutmarks.geometry.rings import Ring, edges, polygon
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.setout.model import Void

PROBE = 1.0
"""How deep the ground is looked at beyond the distance that decides whether tile comes from a side, mm."""


@dataclass(frozen=True, slots=True)
class _Side:
    """One side of a frame's outline: its ends, the unit vector into the frame, and whether tile comes from it.

    bent_in  at its begin and end, the tangent of half the turn where the outline turns inward there; 0.0 elsewhere.
    """

    begin: tuple[float, float]
    end: tuple[float, float]
    inward: tuple[float, float]
    comes: bool
    bent_in: tuple[float, float] = (0.0, 0.0)


def taken(void: Void, by: float, least: float, ground: Region[Surface]) -> Region[Surface]:
    """What a frame that tile goes under by `by` still takes of `ground` (Surface frame, mm).

    Tile goes under it at right angles, on the sides from which it comes: those beyond which the ground is deeper than
    `least`. Towards a wall, or the end of an area, the frame keeps its gap, and what little ground lies there is not
    tiled: no tile goes past the frame's outline. A frame under which tile meets from all sides takes nothing.

    Raises GeometryError: its gap cannot be drawn on the sides that keep it.
    """
    frame = canonical(region(void.measured))
    (ring,) = frame.rings
    sides = _sides(ring, least, ground)
    kept = region(shrunk(ring, [0.0 if side.comes else -max(void.gap, least) for side in sides]))
    for side in sides:
        if side.comes:
            kept = difference(kept, intersection(_band(side, 0.0, by), frame))
    return kept


def _sides(frame: Ring[Surface], least: float, ground: Region[Surface]) -> list[_Side]:
    """The sides of an outline of straight edges that runs counter-clockwise, in the order of its edges."""
    found = []
    for edge in edges(frame):
        x0, y0, x1, y1 = edge[0], edge[1], edge[2], edge[3]
        inward = (y0 - y1) / edge.length, (x1 - x0) / edge.length
        side = _Side((x0, y0), (x1, y1), inward, comes=False)
        beyond = _band(side, -least - PROBE, -least)
        comes = intersection(beyond, ground).area > TOUCH * edge.length
        found.append(_Side(side.begin, side.end, inward, comes))
    corners = [_bent_in(found[k - 1], side) for k, side in enumerate(found)]
    return [
        _Side(side.begin, side.end, side.inward, side.comes, (begins, ends))
        for side, begins, ends in zip(found, corners, corners[1:] + corners[:1], strict=True)
    ]


def _bent_in(before: _Side, after: _Side) -> float:
    """The tangent of half the turn at an inside corner with tile on both sides: so far, in depths, its strips go on."""
    (ax, ay), (bx, by) = before.inward, after.inward
    turn = math.atan2(ax * by - ay * bx, ax * bx + ay * by)
    return math.tan(-turn / 2.0) if turn < 0.0 and before.comes and after.comes else 0.0


def _band(side: _Side, near: float, far: float) -> Region[Surface]:
    """What lies between two distances inward of a side (negative: outward), mm; at an inside corner up to the mitre."""
    (x0, y0), (x1, y1), (nx, ny) = side.begin, side.end, side.inward
    ux, uy = ny, -nx
    begins, ends = side.bent_in[0] * far, side.bent_in[1] * far
    corners = ((near, -begins, x0, y0), (near, ends, x1, y1), (far, ends, x1, y1), (far, -begins, x0, y0))
    return region(polygon([(x + ux * along + nx * off, y + uy * along + ny * off) for off, along, x, y in corners]))
