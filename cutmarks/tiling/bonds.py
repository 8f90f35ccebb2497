"""How far each course of an area is moved after the one below it.

Where the offcut is carried on, a course begins with what came off the end of the one below: with a in front, whole
tiles and a piece b at its end fill the width W, and of the tile that b came from tile - b - kerf begins the next. So
each course is moved by the same distance, -(W + kerf) less whole pitches, and any of them is laid out by itself.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from cutmarks.geometry.frames import F, Surface
from cutmarks.geometry.regions import Region, spans_across
from cutmarks.geometry.rings import edges
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.tiling.layout import Layout
from cutmarks.units import Style, say

if TYPE_CHECKING:
    from cutmarks.job import Job
    from cutmarks.job.models import AreaSpec
    from cutmarks.tiling.model import TileKind

INSIDE = 10 * TOUCH
"""The width is looked at so far inside the levels at which an edge turns, mm."""


def kerf_of(job: Job) -> tuple[float, str]:
    """What the saw takes, mm, and where that is from: the largest disc, with which strips are cut; else the usual."""
    limit = job.limits.figures().kerf
    largest = max(job.tools.discs, key=lambda disc: disc.d, default=None)
    if largest is not None and largest.kerf is not None:
        return largest.kerf, f"the disc of {largest.d:g} in your tools"
    return limit.value, limit.source


def bond_shift(area: AreaSpec, tile: TileKind, bounds: Region[Surface], kerf: float) -> float:
    """How far an odd course, or each course after the one below it, is moved along, mm, to the right where positive.

    Of a carried offcut the widest course decides: what it leaves is enough for every other.
    """
    pitch = tile.w + area.joint
    if area.bond.carried is None:
        return float(area.bond.part) * pitch + area.bond.mm
    shift = -(widest_course(bounds) + kerf) % pitch
    return shift if area.bond.carried == "left" else -shift


def widest_course(bounds: Region[F]) -> float:
    """How wide an area is at the most, windows left aside, mm."""
    if bounds.is_empty:
        return 0.0
    levels = {y for ring in bounds.rings for edge in edges(ring) for y in (edge.y0, edge.y1)}
    low, high = min(levels), max(levels)
    inside = {min(max(level + by, low + INSIDE), high - INSIDE) for level in levels for by in (-INSIDE, INSIDE)}
    spans = [spans_across(bounds, level) for level in inside]
    return max((one[-1][1] - one[0][0] for one in spans if one), default=0.0)


def carried_on(layouts: Sequence[Layout], job: Job, style: Style) -> Iterator[str]:
    """How far the courses of an area are moved that begin with what comes off the one below, as a sentence."""
    for layout in layouts:
        grid = layout.grid
        if grid.carried is None:
            continue
        wide, kerf = say(widest_course(layout.bounds), style), say(kerf_of(job)[0], style)
        further = say(abs(grid.bond_shift), style)
        yield (
            f"{layout.surface}, {layout.area}: each course begins at the {grid.carried} with what comes off the other "
            f"end of the one below it, and so lies {further} further to the {grid.carried.opposite} than that; by a "
            f"course of {wide} and a saw that takes {kerf}."
        )
