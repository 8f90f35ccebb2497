"""The inside corners in which two walls of a job meet: which of them is tiled into it, and which covers that edge."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from cutmarks.gauging.model import InCorner
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.setout.model import SetOut, SurfaceEdge


def corners_of(setouts: Sequence[SetOut]) -> Mapping[str, tuple[InCorner, ...]]:
    """By wall its corners with others of the job: each names the other at an edge, and what is still to come there.

    Where the one has the other's tile and bed still to come and the other has nothing, the other's tile runs into the
    corner, and goes up first. Where both have it, or neither, nothing follows.
    """
    walls = {one.name.casefold(): one for one in setouts if one.kind == "wall"}
    return {wall.name: tuple(_corners(wall, walls)) for wall in walls.values()}


def _corners(wall: SetOut, walls: Mapping[str, SetOut]) -> Iterator[InCorner]:
    for edge in wall.edges.values():
        other = walls.get(edge.what.casefold())
        if edge.side.axis != "across" or other is None or other is wall:
            continue
        facing = next((one for one in other.edges.values() if _is_same(one, wall, edge)), None)
        own = edge.still_to_come
        theirs = None if facing is None else facing.still_to_come
        if own is None or theirs is None:
            continue
        if own > TOUCH >= theirs:
            yield InCorner(edge.side, other.name, own, goes_first=False)
        elif theirs > TOUCH >= own:
            yield InCorner(edge.side, other.name, theirs, goes_first=True)


def _is_same(facing: SurfaceEdge, wall: SetOut, edge: SurfaceEdge) -> bool:
    """Whether an edge of the other wall is the same inside corner: one's right is the other's left."""
    return facing.side is edge.side.opposite and facing.what.casefold() == wall.name.casefold()


def walls_in_order(corners: Mapping[str, Sequence[InCorner]]) -> tuple[str, ...]:
    """The walls of all these corners, each after those that go up before it; () where they do not settle one order."""
    before = {
        wall: {corner.other for corner in found if not corner.goes_first} for wall, found in corners.items() if found
    }
    order: list[str] = []
    while len(order) < len(before):
        ready = [wall for wall, others in before.items() if wall not in order and others <= set(order)]
        if len(ready) != 1:
            return ()
        order += ready
    return tuple(order)
