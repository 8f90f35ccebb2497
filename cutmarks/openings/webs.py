"""What is left of a piece beside a cut."""

from __future__ import annotations

from collections.abc import Sequence

from cutmarks.geometry.distance import gap
from cutmarks.geometry.frames import Tile
from cutmarks.geometry.regions import Region, spans_across, spans_up
from cutmarks.geometry.spans import Span, XSide, YSide
from cutmarks.openings.cuts import Share
from cutmarks.openings.model import Web
from cutmarks.openings.outlines import reach
from cutmarks.setout.model import Side


def web_of(share: Share, shape: Region[Tile], others: Sequence[Share]) -> Web:
    """Distances from a share to the edges of its piece, side by side, and the least of any, mm.

    Beside a raking edge the least over the share's bottom, middle and top counts. A side that the cut runs out over
    has none. `nearest` also looks at the piece's other openings and, for a hole, at the true least distance.
    """
    box = share.share.bounds
    levels: tuple[tuple[float, YSide], ...] = (
        (box.min_y, "above"),
        ((box.min_y + box.max_y) / 2, "above"),
        (box.max_y, "below"),
    )
    uprights: tuple[tuple[float, XSide], ...] = (
        (box.min_x, "right"),
        ((box.min_x + box.max_x) / 2, "right"),
        (box.max_x, "left"),
    )
    rows = [(spans_across(share.share, y, side=side), spans_across(shape, y, side=side)) for y, side in levels]
    columns = [(spans_up(share.share, x, side=side), spans_up(shape, x, side=side)) for x, side in uprights]
    left, right = _beside(rows)
    bottom, top = _beside(columns)
    found: dict[Side, float | None] = {"left": left, "right": right, "bottom": bottom, "top": top}
    for side in share.runs_out:
        found[side] = None
    near = [value for value in found.values() if value is not None]
    near += [gap(share.ring, other.ring) for other in others]
    if share.kind == "hole":
        near += [gap(share.ring, ring) for ring in shape.rings]
    return Web(found["left"], found["right"], found["bottom"], found["top"], min(near, default=None))


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
