"""A whole first course on what is there and is not level: a worktop that falls, which packers make up for.

The tiles would end in a strip below it that nobody lays, so that no such start is looked at by itself: where the area
begins on a line of its own it is.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec import Struct

from cutmarks.geometry.tolerance import TOUCH
from cutmarks.limits import Limits
from cutmarks.setout.model import SetOut, is_a_floor
from cutmarks.sides import Side

if TYPE_CHECKING:
    from cutmarks.job.models import SurfaceSpec


class OnPackers(Struct, frozen=True):
    """A level on which an area may begin: y, mm from the main level `line`, and how high packers are under it, mm.

    what, falls  what they stand on, and by how much that falls.
    """

    y: float
    line: str
    what: str
    falls: float
    least: float
    most: float


def whole_on_packers(spec: SurfaceSpec, setout: SetOut, limits: Limits) -> OnPackers | None:
    """Where the only area of a wall might begin on packers; None where it says where it begins, or needs none."""
    edge = setout.edges.get(Side.BOTTOM)
    if setout.kind != "wall" or edge is None or edge.whats or len(spec.areas) != 1:
        return None
    (area,) = spec.areas
    is_said = area.from_ is not None or area.nothing_below is not None or area.start_up is not None or area.turn
    gap = edge.gaps[0]
    if is_said or is_a_floor(edge.what) or any(abs(clear - gap) > TOUCH for clear in edge.clears):
        return None
    read = [point.y for point in edge.measured]
    falls = max(read) - min(read)
    # What is no piece stays joint: then a start is looked at as it is.
    if falls - area.joint < limits.least_piece.value - TOUCH or gap + falls > limits.packers.value + TOUCH:
        return None
    line = next((one.name for one in setout.lines.values() if one.fixes == "y" and one.at == 0.0), None)
    return None if line is None else OnPackers(max(read) + gap, line, edge.what, falls, gap, gap + falls)
