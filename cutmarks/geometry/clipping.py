"""What a plain outline has inside an upright box, by clipping it to one side after the other.

Most of what a plan asks of the kernel is a tile against ground with a few straight edges. Where nothing of the two runs
near to the other without lying on it, this gives what the kernel gives, at a fraction of the work; else it says that it
cannot tell, and the kernel does.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from cutmarks.geometry.edges import Bounds
from cutmarks.geometry.frames import F
from cutmarks.geometry.near import FEW
from cutmarks.geometry.rings import Ring, Vertex
from cutmarks.geometry.tidy import from_smallest
from cutmarks.geometry.viewing import CLEAR

XYPlace = tuple[float, float]


def clipped(ring: Ring[F], box: Bounds) -> tuple[Ring[F], ...] | None:
    """The ring, which does not cross itself, inside the box; () where nothing of it is; None where it cannot tell."""
    if len(ring.vertices) > FEW or any(vertex[2] for vertex in ring.vertices):
        return None
    places = [(vertex[0], vertex[1]) for vertex in ring.vertices]
    if not _turns_left(places) or not _is_plain(places, box):
        return None
    for axis, bound, sign in ((0, box[0], 1.0), (0, box[2], -1.0), (1, box[1], 1.0), (1, box[3], -1.0)):
        places = _on_one_side(places, axis, bound, sign)
        if len(places) < 3:
            return ()
    if any(abs(a[0] - b[0]) < CLEAR and abs(a[1] - b[1]) < CLEAR for a, b in pairwise([*places, places[0]])):
        return None
    return (Ring(from_smallest([Vertex(x, y) for x, y in places]), plain=True),)


def _turns_left(places: Sequence[XYPlace]) -> bool:
    """Whether the outline turns left at every corner, by more than arithmetic may: it is convex then."""
    (x0, y0), (x1, y1) = places[-2], places[-1]
    for x2, y2 in places:
        if (x1 - x0) * (y2 - y1) - (y1 - y0) * (x2 - x1) <= CLEAR * (abs(x1 - x0) + abs(y1 - y0)):
            return False
        x0, y0, x1, y1 = x1, y1, x2, y2
    return True


def _is_plain(places: Sequence[XYPlace], box: Bounds) -> bool:
    """Whether no corner of the one comes near a side of the other, unless it lies on the very line of it."""
    for x, y in places:
        if 0.0 < abs(x - box[0]) < CLEAR or 0.0 < abs(x - box[2]) < CLEAR:
            return False
        if 0.0 < abs(y - box[1]) < CLEAR or 0.0 < abs(y - box[3]) < CLEAR:
            return False
    for (ax, ay), (bx, by) in pairwise([places[-1], *places]):
        if ax == bx or ay == by:
            continue
        near = CLEAR * (abs(bx - ax) + abs(by - ay))
        for x, y in ((box[0], box[1]), (box[2], box[1]), (box[2], box[3]), (box[0], box[3])):
            if abs((bx - ax) * (y - ay) - (by - ay) * (x - ax)) < near:
                return False
    return True


def _on_one_side(places: Sequence[XYPlace], axis: int, bound: float, sign: float) -> list[XYPlace]:
    """What of a convex outline lies on one side of a level or plumb line, or on it."""
    kept: list[XYPlace] = []
    last = places[-1]
    was = sign * (last[axis] - bound)
    for place in places:
        here = sign * (place[axis] - bound)
        if was * here < 0.0:
            other = last[1 - axis] + (place[1 - axis] - last[1 - axis]) * (was / (was - here))
            kept.append((bound, other) if axis == 0 else (other, bound))
        if here >= 0.0:
            kept.append(place)
        last, was = place, here
    return kept
