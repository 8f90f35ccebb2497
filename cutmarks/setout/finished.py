"""Where a surface will end once all is finished: its edges as measured, less what is still to come on them.

A floor that is not laid yet takes its bed and tile off the height, the next wall takes its own off the width, and a
corner that is tiled round comes out by the return; who sets a valve before a tile is on measures from there.
"""

from __future__ import annotations

from msgspec.structs import replace

from cutmarks.geometry.frames import Point, Surface
from cutmarks.geometry.regions import Region
from cutmarks.setout.edges import block, position_at
from cutmarks.setout.model import SetOut, SurfaceEdge
from cutmarks.setout.surface import inside
from cutmarks.sides import FourSides


def finished_ground(setout: SetOut) -> Region[Surface]:
    """The surface inside its finished edges; an edge of which it is not known what is still to come, as measured."""
    if not any(any(come_in(edge)) for edge in setout.edges.values()):
        return setout.bare
    return inside([block(replace(edge, clears=come_in(edge))) for edge in setout.edges.values()])


def from_finished(setout: SetOut, at: Point[Surface]) -> FourSides[float | None]:
    """How far a place is from each finished edge, level or plumb, mm, positive inside.

    None: that edge was not read, or what is still to come there is not known.
    """
    return FourSides.of(lambda side: _from(setout.edges.get(side), at))


def _from(edge: SurfaceEdge | None, at: Point[Surface]) -> float | None:
    if edge is None or edge.still_to_come is None:
        return None
    level = edge.side.axis == "across"
    mine, along = (at.x, at.y) if level else (at.y, at.x)
    inward = -edge.side.sign
    return (mine - position_at(_moved_in(edge), along)) * inward


def _moved_in(edge: SurfaceEdge) -> SurfaceEdge:
    """The edge where it will be: each reading moved inward by what comes in there."""
    dx, dy = edge.side.step
    both = zip(edge.measured, come_in(edge), strict=True)
    moved: tuple[Point[Surface], ...] = tuple(Point(p.x - dx * come, p.y - dy * come) for p, come in both)
    return replace(edge, measured=moved)


def come_in(edge: SurfaceEdge) -> tuple[float, ...]:
    """How far inside each of its readings the finished edge will be, mm; negative round an outer corner.

    What tile keeps clear of an edge is that, the gap and a trim, less what tile passes an outer corner by; round such a
    corner the finished edge is the face of the return.
    """
    beside = edge.trim - edge.passes
    out = edge.passes if edge.lining is None else edge.lining
    return tuple(clear - gap - beside - out for clear, gap in zip(edge.clears, edge.gaps, strict=True))
