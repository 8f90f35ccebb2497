"""What a start leaves, read off the pieces that the tiling lays: a second way to every figure of the search.

It takes each cut piece as it is built and measures from each edge that trimming made to the tile's own side, or to the
edge across from it; and it counts. How a hole lands is read off the shares that are really cut.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from cutmarks.checks.starts import Wanted, fair_share
from cutmarks.choosing.borders import SLANT, EndOf, EndsOf
from cutmarks.geometry.edges import Bounds, Segment
from cutmarks.geometry.frames import Tile
from cutmarks.geometry.regions import Region, intersection, region
from cutmarks.geometry.rings import edges
from cutmarks.openings.cuts import places_met
from cutmarks.openings.model import Opening
from cutmarks.sides import SIDES, Side
from cutmarks.tiling.layout import Layout
from cutmarks.tiling.model import Place

ON = 1e-5
"""An edge this near to the tile's own side is that side, mm."""

Sizes = dict[EndOf, tuple[float, float]]


def sizes_at_ends(layout: Layout, which: EndsOf) -> Sizes:
    """The least and the most of the cut pieces at each end, at their narrowest, mm."""
    found: Sizes = {}
    for place in layout.cut_places():
        shape = layout.shape(place)
        assert shape is not None
        for end, size in _of_piece(layout, place, shape, which):
            before = found.get(end, (size, size))
            found[end] = min(before[0], size), max(before[1], size)
    return found


def _of_piece(layout: Layout, place: Place, shape: Region[Tile], which: EndsOf) -> Iterator[tuple[EndOf, float]]:
    to_surface = layout.grid.placement(place)
    rows = [edge for ring in shape.rings for edge in edges(ring)]
    for edge in rows:
        for axis in (0, 1):
            one = _as_end(edge, axis)
            if one is None:
                continue
            side, t0, t1, v0, v1 = one
            size = layout.grid.w if axis == 0 else layout.grid.h
            if t1 - t0 < layout.least_piece or (
                min(abs(v - at) for v in (v0, v1) for at in (0.0, size)) <= ON and abs(v0 - v1) <= ON
            ):
                continue
            across = [other for row in rows if (other := _as_end(row, axis)) is not None and other[0] is side.opposite]
            turns = {t0, t1, *(t for other in across for t in other[1:3] if t0 < t < t1)}
            least = min(
                _reach(across, side, t, v0 + (v1 - v0) * (t - t0) / (t1 - t0), size)
                for turn in turns
                for t in (turn - ON, turn + ON)
                if t0 < t < t1
            )
            t, v = (t0 + t1) / 2, (v0 + v1) / 2
            x, y = to_surface.xy(*((v, t) if axis == 0 else (t, v)))
            yield which.of(side, *((y, x) if axis == 0 else (x, y))), least


def _as_end(edge: object, axis: int) -> tuple[Side, float, float, float, float] | None:
    """An edge that ends a piece on an axis: its side, from t to t, from v to v; None for one that slants."""
    if not isinstance(edge, Segment):
        return None
    x0, y0, x1, y1 = edge
    t0, v0, t1, v1 = (y0, x0, y1, x1) if axis == 0 else (x0, y0, x1, y1)
    if abs(t1 - t0) <= ON or abs(v1 - v0) > SLANT * abs(t1 - t0):
        return None
    up = t1 > t0
    side = (Side.RIGHT if up else Side.LEFT) if axis == 0 else (Side.BOTTOM if up else Side.TOP)
    return (side, t0, t1, v0, v1) if up else (side, t1, t0, v1, v0)


def _reach(
    across: Sequence[tuple[Side, float, float, float, float]], side: Side, t: float, v: float, size: float
) -> float:
    """From an end inward to the tile's own side, or to what ends the piece across from it."""
    nearest = v if side.sign > 0 else size - v
    for _, t0, t1, v0, v1 in across:
        if t0 < t < t1:
            at = v0 + (v1 - v0) * (t - t0) / (t1 - t0)
            if side.sign * (v - at) > ON:
                nearest = min(nearest, side.sign * (v - at))
    return nearest


def lands(opening: Opening, layout: Layout, want: Wanted) -> str:
    """How a hole lands on the whole tiles of a grid: as it is cut, tile by tile."""
    bites, bridges = [], []
    for _, box, share in _shares(opening, layout):
        for side in SIDES:
            at = layout.tile.box.at(side)
            if side.sign * (box.at(side) - at) <= 1e-6:
                bridges.append(side.sign * (at - share.at(side)))
                continue
            wide, deep = (box.width, share.width) if side.axis == "across" else (box.height, share.height)
            middle = (box.min_x + box.max_x if side.axis == "across" else box.min_y + box.max_y) / 2
            if side.sign * (middle - at) > 0 and deep < fair_share(wide, want.bite, want.part) - 1e-6:
                bites.append(deep)
    if bridges and min(bridges) < want.bridge.least_stop - 1e-6:
        return "stops"
    if bites:
        return "just bites"
    return "thin" if bridges and min(bridges) < want.bridge.least_look - 1e-6 else "well"


def _shares(opening: Opening, layout: Layout) -> Iterator[tuple[Place, Bounds, Bounds]]:
    """The places of which a hole takes something: its own bounds in each tile, and those of what it takes."""
    for place in places_met(opening, layout):
        ring = opening.ring.moved(layout.grid.placement(place).inverse())
        share = intersection(layout.whole_shape(), region(ring))
        if not share.is_empty and min(share.bounds.width, share.bounds.height) > ON:
            yield place, ring.bounds, share.bounds


def waiting(openings: Sequence[Opening], layout: Layout) -> int:
    """How many of these holes come through a tile that lies under the area's base, and waits for the batten."""
    base = layout.base_row
    if base is None:
        return 0
    return sum(any(row < base for (_, row), _, _ in _shares(one, layout)) for one in openings)
