"""How far a start may have to move for the pieces at both ends to come out best: candidates, to be laid and read."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import product

from cutmarks.geometry.frames import Courses
from cutmarks.geometry.regions import Region, intersection, region
from cutmarks.geometry.rings import polygon
from cutmarks.sides import Side
from cutmarks.tiling.ends import outer_ends
from cutmarks.tiling.layout import Layout

ROWS_LOOKED_AT = 6
"""So many rows of a bond tell where the ground begins and ends, half of them the lowest, half the highest."""
ENDS_LOOKED_AT = 2 * ROWS_LOOKED_AT
"""So many of the places where the ground begins, or ends, are reckoned with: of more, those between are left out."""


def even_moves(layout: Layout, *, upright: bool, step: float) -> list[float]:
    """Moves along the courses (across them where `upright`), mm in whole steps, the best first as far as is reckoned.

    Where the ground begins at s and ends at e, seen from the grid, moving the start by t leaves t + tile - s and e - t
    there, less whole pitches. The smaller of all such ends is largest where two are alike, at t = (s + e - tile) / 2 or
    half a pitch further, or where one is all but to become a strip beyond a whole tile, or has just ceased to be one.
    None goes further than half a pitch either way. Only for an area that is not open.
    """
    grid = layout.grid
    size, pitch = (grid.h, grid.pitch_v) if upright else (grid.w, grid.pitch_u)
    starts, stops = _upward(layout) if upright else _along(layout)
    best = [(s + e - size) / 2 + half for s, e, half in product(starts, stops, (0.0, pitch / 2))]
    best += [s + spare for s in starts for spare in (0.0, grid.joint)]
    best += [e - size - spare for e in stops for spare in (0.0, grid.joint)]
    found: set[int] = set()
    for move in best:
        steps = (move - pitch * round(move / pitch)) // step
        found |= {int(steps), int(steps) + 1}

    def least(steps: int) -> float:
        ends = [steps * step + size - s for s in starts] + [e - steps * step for e in stops]
        parts = (end % pitch for end in ends)
        # What is no piece is joint, and the tile before it is the last.
        return min(size if part < layout.least_piece else min(part, size) for part in parts)

    return [steps * step for steps in sorted(found, key=lambda steps: (-least(steps), abs(steps), steps))]


def _along(layout: Layout) -> tuple[list[float], list[float]]:
    """Where the ground begins and where it ends along the rows, seen from each row's own shift."""
    grid, box, rows = layout.grid, layout.extent, layout.rows()
    if not grid.bond_shift:
        return _few(-out for out in outer_ends(layout.ground, Side.LEFT)), _few(outer_ends(layout.ground, Side.RIGHT))
    starts: list[float] = []
    stops: list[float] = []
    for row in sorted({*rows[: ROWS_LOOKED_AT // 2], *rows[-(ROWS_LOOKED_AT // 2) :]}):
        low, shift = row * grid.pitch_v, grid.shift(row)
        corners = [(box.min_x - grid.w, low), (box.max_x + grid.w, low)]
        band: Region[Courses] = region(polygon([*corners, *((u, low + grid.h) for u, _ in reversed(corners))]))
        held = intersection(layout.ground, band)
        starts += [-out - shift for out in outer_ends(held, Side.LEFT)]
        stops += [out - shift for out in outer_ends(held, Side.RIGHT)]
    return _few(starts), _few(stops)


def _upward(layout: Layout) -> tuple[list[float], list[float]]:
    """Where the ground begins and where it ends upward."""
    return _few(-out for out in outer_ends(layout.ground, Side.BOTTOM)), _few(outer_ends(layout.ground, Side.TOP))


def _few(ends: Iterable[float]) -> list[float]:
    """The first, the last and some between, each once."""
    found = sorted(set(ends))
    if len(found) <= ENDS_LOOKED_AT:
        return found
    return [found[round(k * (len(found) - 1) / (ENDS_LOOKED_AT - 1))] for k in range(ENDS_LOOKED_AT)]
