"""The joints that no grout goes into: where tile ends at a wall, a floor, a worktop or a window."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

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
from cutmarks.setout.model import SetOut, SurfaceEdge, Void

NEAR = 0.5
"""The tiled ground lies along an edge where its middle is this near to where that lets tile come, mm: past a step that
rakes the edge moved in and the edge are not quite the same way apart all along."""


def sealed_joints(areas: Sequence[AreaPlan], setout: SetOut) -> tuple[Sealed, ...]:
    """What tile meets with a gap kept clear, each with all of its length; none where tile goes on round a corner."""
    found: dict[tuple[str, float, str], float] = {}
    for area in areas:
        for ring in area.ground.rings:
            for edge in edges(ring.moved(area.grid.to_surface)):
                for what, width, hidden in _meets(edge, setout):
                    key = (what, width, hidden)
                    found[key] = found.get(key, 0.0) + edge.length
    return tuple(Sealed(what, width, length, hidden) for (what, width, hidden), length in found.items())


def _meets(edge: Edge[Surface], setout: SetOut) -> Iterator[tuple[str, float, str]]:
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
