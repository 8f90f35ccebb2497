"""The joints that no grout goes into: where tile ends at a wall, a floor, a worktop or a window."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from msgspec.structs import replace

from cutmarks.gauging.model import Sealed
from cutmarks.geometry.edges import Edge, middle
from cutmarks.geometry.frames import Surface
from cutmarks.geometry.rings import edges
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.openings.edge_work import lies_along
from cutmarks.openings.infills import riser_at
from cutmarks.openings.outlines import nearly_facing
from cutmarks.plan import AreaPlan
from cutmarks.setout.edges import position_at, runs_up, stretch_at, what_at
from cutmarks.setout.model import BATTENS, SetOut, SurfaceEdge, Void
from cutmarks.sides import Side

NEAR = 0.5
"""The tiled ground lies along an edge where its middle is this near to where that lets tile come, mm: past a step that
rakes the edge moved in and the edge are not quite the same way apart all along."""


def sealed_joints(areas: Sequence[AreaPlan], setout: SetOut, packers: float) -> tuple[Sealed, ...]:
    """What tile meets with a gap kept clear, each with all of its length; none where tile goes on round a corner.

    packers  what lies no further below a first course carries it on packers, mm: the joint is as wide as they are.
    """
    found: dict[tuple[str, float, str], float] = {}
    for area in areas:
        for ring in area.ground.rings:
            for edge in edges(ring.moved(area.grid.to_surface)):
                for what, width, hidden in _meets(edge, setout, packers):
                    key = (what, width, hidden)
                    found[key] = found.get(key, 0.0) + edge.length
    return tuple(Sealed(what, width, length, hidden) for (what, width, hidden), length in found.items())


def once_each(joints: Iterable[tuple[str, Sequence[Sealed]]]) -> Iterator[Sealed]:
    """The joints of several surfaces, each with the surface's name, those between two of them once.

    In a corner both walls have it among theirs, each by the other's name; it is one bead, the longer of the two.
    """
    held = {name.casefold(): (name, list(found)) for name, found in joints}
    order = list(held)
    for key, (name, found) in held.items():
        for joint in found:
            other = joint.what.casefold()
            theirs = _along(held[other][1], key) if other in held and other != key else 0.0
            if theirs <= TOUCH:
                yield joint
                continue
            own = _along(found, other)
            if own > theirs + TOUCH or (own >= theirs - TOUCH and order.index(key) < order.index(other)):
                yield replace(joint, what=f"corner of {name} and {joint.what}")


def _along(joints: Sequence[Sealed], what: str) -> float:
    return sum(one.length for one in joints if one.what.casefold() == what)


def _meets(edge: Edge[Surface], setout: SetOut, packers: float) -> Iterator[tuple[str, float, str]]:
    """What an edge of the tiled ground lies along, the gap there, and what hides it; at most one."""
    x, y = middle(edge)
    far = nearly_facing(edge)
    for thing in setout.edges.values():
        at, along = (x, y) if runs_up(thing.side) else (y, x)
        kept = thing.clears[stretch_at(thing, along)]
        clear = (position_at(thing, along) - at) * thing.side.sign
        if far not in (None, thing.side) or abs(clear - kept) > NEAR:
            continue
        gap = thing.gaps[stretch_at(thing, along)]
        if gap > TOUCH and not _goes_on(thing):
            yield what_at(thing, along) or thing.called, gap, thing.hidden_by
        return
    for void in setout.voids:
        if void.goes_under is None and lies_along(edge, void):
            if void.gap > TOUCH and not _goes_on(void):
                yield void.called, void.gap, ""
            return
    below = setout.edges.get(Side.BOTTOM)
    if below is not None and far is Side.BOTTOM and setout.kind == "wall":
        what, over = what_at(below, x) or below.called, y - position_at(below, x)
        if TOUCH < over <= packers and not _goes_on(below) and not any(word in what.casefold() for word in BATTENS):
            # On packers: at its middle, where what they stand on is not level.
            yield what, over, below.hidden_by
            return
    if far is None:
        return
    for thing in setout.edges.values():
        riser = None if thing.side.axis == far.axis else riser_at(thing, x if far.axis == "across" else y, far)
        if riser is not None:
            gap = next((off.mm for off in riser.off if off.what == "gap"), 0.0)
            if gap > TOUCH:
                yield riser.to, gap, ""
            return


def _goes_on(thing: SurfaceEdge | Void) -> bool:
    """Whether tile goes on round it: a trim or a mitre, and no gap."""
    return thing.corner is not None or thing.lining is not None
