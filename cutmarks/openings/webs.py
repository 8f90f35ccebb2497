"""What is left of a piece beside a cut."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from cutmarks.geometry.distance import gap
from cutmarks.geometry.edges import Bounds, Segment
from cutmarks.geometry.frames import Tile
from cutmarks.geometry.regions import Region, spans_across, spans_up, upright_box
from cutmarks.geometry.rings import Ring, as_circle, edges
from cutmarks.geometry.spans import Span, XSide, YSide
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.openings.model import Share, Web
from cutmarks.openings.outlines import reach
from cutmarks.sides import FourSides


def web_of(share: Share, shape: Region[Tile], others: Sequence[Share] = ()) -> Web:
    """Distances from a share to the edges of its piece, side by side, and the least of any, mm.

    Beside edges that rake or step the least counts of those at the share's own ends, its middle, and every corner of
    either. A side that the cut runs out over has none. `nearest` also looks at the piece's other openings and, for a
    hole, at the true least distance.
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
    corners = [v for ring in (*share.share.rings, *shape.rings) for v in ring.vertices]
    levels: set[tuple[float, YSide]] = {(box.min_y, "above"), (box.max_y, "below")}
    uprights: set[tuple[float, XSide]] = {(box.min_x, "right"), (box.max_x, "left")}
    for y in _between(box.min_y, box.max_y, [v.y for v in corners]):
        levels |= {(y, "above"), (y, "below")}
    for x in _between(box.min_x, box.max_x, [v.x for v in corners]):
        uprights |= {(x, "right"), (x, "left")}
    rows = [(spans_across(share.share, y, side=side), spans_across(shape, y, side=side)) for y, side in levels]
    columns = [(spans_up(share.share, x, side=side), spans_up(shape, x, side=side)) for x, side in uprights]
    left, right = _beside(rows)
    bottom, top = _beside(columns)
    least = FourSides(left, right, bottom, top)
    found = FourSides.of(lambda side: None if side in share.runs_out else least[side])
    near = [value for value in found if value is not None]
    if share.kind == "hole":
        near += [gap(share.ring, ring) for ring in shape.rings]
    return Web(found.left, found.right, found.bottom, found.top, _least(share, others, near))


def _between(low: float, high: float, corners: Sequence[float]) -> Iterator[float]:
    """The middle, and every corner that lies between the two ends."""
    yield (low + high) / 2
    yield from (at for at in corners if low + TOUCH < at < high - TOUCH)


def _beside(looks: Sequence[tuple[list[Span], list[Span]]]) -> tuple[float | None, float | None]:
    """Least room before and behind the share on one axis, from its own spans and the piece's at each level."""
    before: list[float] = []
    behind: list[float] = []
    for own, whole in looks:
        if not own:
            continue
        first, last = reach(whole, own[0][0]), reach(whole, own[-1][1])
        if first is not None:
            before.append(own[0][0] - first[0])
        if last is not None:
            behind.append(last[1] - own[-1][1])
    return min(before, default=None), min(behind, default=None)
