"""What is left of a piece beside a cut."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from cutmarks.geometry.distance import gap
from cutmarks.geometry.edges import XY, Arc, Bounds, Edge, Segment, touches
from cutmarks.geometry.frames import Tile
from cutmarks.geometry.regions import Region, spans_across, spans_up, upright_box
from cutmarks.geometry.rings import Ring, as_circle, edges
from cutmarks.geometry.spans import Span, XSide, YSide, reach
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.openings.model import Share, Web
from cutmarks.openings.outlines import runs_along
from cutmarks.sides import FourSides


def web_of(share: Share, shape: Region[Tile], others: Sequence[Share] = ()) -> Web:
    """Distances from a share to the edges of its piece, side by side, and the least of any, mm.

    Beside edges that rake or step the least counts of those at the share's own ends, its middle, where an arc of either
    is widest, and every corner of either. A side that the cut runs out over has none. `nearest` also looks at the
    piece's other openings and, for a hole, at the true least distance.
    """
    whole = upright_box(shape)
    if share.kind == "hole" and whole is not None and _ends_at_corners(share.ring):
        return _web_in_a_box(share, whole, others)
    return _web_by_levels(share, shape, others)


def _ends_at_corners(ring: Ring[Tile]) -> bool:
    """Whether an outline is outermost, each way, at a corner of its own or as a circle is."""
    return as_circle(ring) is not None or all(isinstance(edge, Segment) for edge in edges(ring))


def _web_in_a_box(share: Share, box: Bounds, others: Sequence[Share]) -> Web:
    """The same for a hole in a rectangle, where the sides are as far off at every level."""
    own = share.ring.bounds
    sides = own.min_x - box.min_x, box.max_x - own.max_x, own.min_y - box.min_y, box.max_y - own.max_y
    return Web(*sides, _least(share, others, list(sides)))


def _least(share: Share, others: Sequence[Share], near: list[float]) -> float | None:
    """The least of all that is near, and of what is left to the piece's other openings."""
    near += [gap(share.ring, other.ring) for other in others]
    return min(near, default=None)


def _web_by_levels(share: Share, shape: Region[Tile], others: Sequence[Share]) -> Web:
    """The same for any cut in any piece."""
    box = share.share.bounds
    corners = [place for ring in (*share.share.rings, *shape.rings) for place in _places(ring)]
    levels: set[tuple[float, YSide]] = {(box.min_y, "above"), (box.max_y, "below")}
    uprights: set[tuple[float, XSide]] = {(box.min_x, "right"), (box.max_x, "left")}
    for y in _between(box.min_y, box.max_y, [y for _, y in corners]):
        levels |= {(y, "above"), (y, "below")}
    for x in _between(box.min_x, box.max_x, [x for x, _ in corners]):
        uprights |= {(x, "right"), (x, "left")}
    rows = [(y, spans_across(share.share, y, side=side), spans_across(shape, y, side=side)) for y, side in levels]
    columns = [(x, spans_up(share.share, x, side=side), spans_up(shape, x, side=side)) for x, side in uprights]
    shared = [edge for ring in share.share.rings for edge in edges(ring) if share.runs_out and runs_along(shape, edge)]
    left, right = _beside(rows, lambda level, at: _is_open(shared, at, level))
    bottom, top = _beside(columns, lambda level, at: _is_open(shared, level, at))
    least = FourSides(left, right, bottom, top)
    found = FourSides.of(lambda side: None if side in share.runs_out else least[side])
    near = [value for value in found if value is not None]
    if share.kind == "hole":
        near += [gap(share.ring, ring) for ring in shape.rings]
    return Web(found.left, found.right, found.bottom, found.top, _least(share, others, near))


def _places(ring: Ring[Tile]) -> Iterator[XY]:
    """The corners of a ring, and the middles of its arcs: level with one an arc is widest, plumb with it highest."""
    yield from ((vertex.x, vertex.y) for vertex in ring.vertices)
    yield from ((edge.cx, edge.cy) for edge in edges(ring) if isinstance(edge, Arc))


def _between(low: float, high: float, corners: Sequence[float]) -> Iterator[float]:
    """The middle, and every corner that lies between the two ends."""
    yield (low + high) / 2
    yield from (at for at in corners if low + TOUCH < at < high - TOUCH)


def _is_open(shared: Sequence[Edge[Tile]], x: float, y: float) -> bool:
    """Whether the cut runs out of the piece here: one over an edge that rakes does so on its own level too."""
    return any(touches(edge, x, y) for edge in shared)


def _beside(
    looks: Sequence[tuple[float, list[Span], list[Span]]], is_open: Callable[[float, float], bool]
) -> tuple[float | None, float | None]:
    """Least room before and behind the share on one axis, from its own spans and the piece's at each level.

    `is_open` tells, of a level and a place on it, whether the cut runs out there: nothing is left beside it, nor
    wanted.
    """
    before: list[float] = []
    behind: list[float] = []
    for level, own, whole in looks:
        if not own:
            continue
        first, last = reach(whole, own[0][0]), reach(whole, own[-1][1])
        if first is not None and (own[0][0] - first[0] > TOUCH or not is_open(level, own[0][0])):
            before.append(own[0][0] - first[0])
        if last is not None and (last[1] - own[-1][1] > TOUCH or not is_open(level, own[-1][1])):
            behind.append(last[1] - own[-1][1])
    return min(before, default=None), min(behind, default=None)
