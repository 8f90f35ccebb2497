"""Regions, and what is taken off, kept and joined: difference, intersection, union.

The results are in their plainest form (`canonical`), so that the same shape is always the same value.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Generic

from cutmarks.errors import GeometryError
from cutmarks.geometry.edges import XY, Bounds, middle, touches
from cutmarks.geometry.frames import F, G, Placement, Point
from cutmarks.geometry.overlay import Sorted, overlay
from cutmarks.geometry.rings import Ring, edges, self_crossing
from cutmarks.geometry.spans import Span, XSide, YSide, across, turned_over
from cutmarks.geometry.splitting import Lies
from cutmarks.geometry.stitching import stitched
from cutmarks.geometry.tidy import is_thin, place_order, ring_from_edges, tidied
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.geometry.winding import winding

__all__ = [
    "Region",
    "canonical",
    "contains",
    "difference",
    "intersection",
    "parts",
    "region",
    "spans_across",
    "spans_up",
    "union",
]


@dataclass(frozen=True, slots=True)
class Region(Generic[F]):
    """What rings enclose, in frame F: outers run counter-clockwise, holes clockwise; no rings is the empty region.

    Rings may touch each other at places, never cross. `region` makes one from an outline; the operations keep it so.
    """

    rings: tuple[Ring[F], ...]

    @property
    def is_empty(self) -> bool:
        """Whether there is nothing of it."""
        return not self.rings

    @property
    def area(self) -> float:
        """Exact, arcs included, mm2."""
        return sum(ring.area for ring in self.rings)

    @property
    def bounds(self) -> Bounds:
        """Exact, arcs included, mm. Raises GeometryError for the empty region, which is nowhere."""
        if not self.rings:
            raise GeometryError("an empty region has no bounds; ask is_empty first")
        boxes = [ring.bounds for ring in self.rings]
        return Bounds(
            min(box[0] for box in boxes),
            min(box[1] for box in boxes),
            max(box[2] for box in boxes),
            max(box[3] for box in boxes),
        )

    def moved(self, placement: Placement[F, G]) -> Region[G]:
        """The same region in another frame."""
        return Region(tuple(ring.moved(placement) for ring in self.rings))


def region(ring: Ring[F]) -> Region[F]:
    """What an outline encloses, whichever way it runs.

    Raises GeometryError where the outline crosses or touches itself, or encloses nothing.
    """
    area = ring.area
    if is_thin(ring):
        raise GeometryError("an outline encloses nothing; its corners must not all lie on one line")
    place = self_crossing(ring)
    if place is not None:
        raise GeometryError(
            f"an outline crosses or touches itself at ({place.x:.3f}, {place.y:.3f}); "
            "give its corners in order, once round"
        )
    return Region((ring if area > 0.0 else ring.reversed(),))


def difference(a: Region[F], b: Region[F]) -> Region[F]:
    """What is in `a` and not in `b`."""
    if _apart(a, b):
        return canonical(a)
    return _combined(a, b, _DIFFERENCE)


def intersection(a: Region[F], b: Region[F]) -> Region[F]:
    """What is in both."""
    if _apart(a, b):
        return Region(())
    return _combined(a, b, _INTERSECTION)


def union(a: Region[F], b: Region[F]) -> Region[F]:
    """What is in either."""
    if _apart(a, b):
        return canonical(Region(a.rings + b.rings))
    return _combined(a, b, _UNION)


def _apart(a: Region[F], b: Region[F]) -> bool:
    return not a.rings or not b.rings or not a.bounds.overlaps(b.bounds, TOUCH)


@dataclass(frozen=True, slots=True)
class _Keep:
    """What an operation keeps of each boundary, and whether the second then runs the other way."""

    of_a: frozenset[Lies]
    of_b: frozenset[Lies]
    turn_b: bool = False


_DIFFERENCE: Final = _Keep(frozenset({Lies.OUTSIDE, Lies.AGAINST}), frozenset({Lies.INSIDE}), turn_b=True)
_INTERSECTION: Final = _Keep(frozenset({Lies.INSIDE, Lies.SAME}), frozenset({Lies.INSIDE}))
_UNION: Final = _Keep(frozenset({Lies.OUTSIDE, Lies.SAME}), frozenset({Lies.OUTSIDE}))

_ATTEMPTS: Final = (
    (TOUCH, 0.0, 0.0),
    (4 * TOUCH, 0.0, 0.0),
    (16 * TOUCH, 0.0, 0.0),
    (TOUCH, 12 * TOUCH, 7 * TOUCH),
    (TOUCH, -7 * TOUCH, 12 * TOUCH),
    (TOUCH, -11 * TOUCH, -8 * TOUCH),
)
"""The touch, and a nudge of the second region, of each attempt, mm. Where lines run about TOUCH apart for long, what
meets can be told in two ways that do not fit together: a wider touch settles it, or else 0.000014 mm to the side."""

_FREE: Final = 2 * TOUCH
"""No ring of a result comes this near to itself: looked at in another frame, it must not be found to touch."""


def _combined(a: Region[F], b: Region[F], keep: _Keep) -> Region[F]:
    """The first result of which no ring touches itself; failing that, the first that closes."""
    second_best: list[Ring[F]] | None = None
    for tolerance, x, y in _ATTEMPTS:
        sorted_a, sorted_b = overlay(a.rings, b.rings if x == 0.0 else _nudged(b, x, y).rings, tolerance)
        whole: list[Ring[F] | None] = [tidied(ring) for ring, lies in sorted_a.whole if lies in keep.of_a]
        whole += [tidied(_turned(ring, keep)) for ring, lies in sorted_b.whole if lies in keep.of_b]
        joined = _joined(sorted_a, sorted_b, keep)
        if joined is None:
            continue
        found = [ring for ring in (*whole, *joined) if ring is not None]
        if all(ring is None or self_crossing(ring, _FREE) is None for ring in joined):
            return _in_order(found)
        second_best = second_best or found
    if second_best is None:
        raise GeometryError("two outlines run along each other too nearly to tell apart; move one by 0.01 mm or more")
    return _in_order(second_best)


def _nudged(r: Region[F], x: float, y: float) -> Region[F]:
    by: Placement[F, F] = Placement(dx=x, dy=y)
    return r.moved(by)


def _turned(ring: Ring[F], keep: _Keep) -> Ring[F]:
    return ring.reversed() if keep.turn_b else ring


def _joined(a: Sorted[F], b: Sorted[F], keep: _Keep) -> list[Ring[F] | None] | None:
    """The rings made of the parts that are kept; None where they do not close."""
    parts_a = [part for part in a.parts if part.lies in keep.of_a]
    parts_b = [part.turned() if keep.turn_b else part for part in b.parts if part.lies in keep.of_b]
    rows = stitched(parts_a + parts_b)
    return None if rows is None else [ring_from_edges(row) for row in rows]


def canonical(r: Region[F]) -> Region[F]:
    """The plainest form: each ring from its smallest (x, y), outers before holes and both sorted.

    Neighbours on one line or one circle are merged within TOUCH, edges of no length left out.
    """
    return _in_order([ring for ring in map(tidied, r.rings) if ring is not None])


def _in_order(rings: list[Ring[F]]) -> Region[F]:
    if len(rings) > 1:
        rings = sorted(rings, key=lambda ring: (ring.area < 0.0, place_order(*ring.vertices[0][:2]), ring.vertices))
    return Region(tuple(rings))


def parts(r: Region[F]) -> tuple[Region[F], ...]:
    """The connected pieces, each outer with its own holes, from left to right, then upward (by min_x, then min_y).

    Pieces that touch at single places are separate.
    """
    outers = [ring for ring in r.rings if ring.area > 0.0]
    if len(outers) == 1:
        return (r,)
    groups: list[list[Ring[F]]] = [[outer] for outer in outers]
    for hole in (ring for ring in r.rings if ring.area <= 0.0):
        holders = [group for group in groups if _lies_within(hole, group[0])]
        if not holders:
            raise GeometryError("a hole lies in no outline; a region's holes must lie inside its outers")
        min(holders, key=lambda group: group[0].area).append(hole)
    pieces = [Region(tuple(group)) for group in groups]
    return tuple(sorted(pieces, key=lambda piece: place_order(*piece.bounds[:2])))


def _lies_within(hole: Ring[F], outer: Ring[F]) -> bool:
    """Whether a hole lies inside an outer that it at most touches: told by a place that is not on the outer."""
    if not hole.bounds.within(outer.bounds, TOUCH):
        return False
    row = edges(outer)
    places: list[XY] = [middle(edge) for edge in edges(hole)] + [(v.x, v.y) for v in hole.vertices]
    clear = (place for place in places if not any(touches(edge, *place) for edge in row))
    return winding(row, *next(clear, places[0])) > 0


def contains(r: Region[F], point: Point[F], *, strict: bool = False) -> bool:
    """Whether a place is inside. On the edge, within TOUCH, counts as inside, and as outside where `strict`."""
    rows = [edges(ring) for ring in r.rings]
    if any(touches(edge, point.x, point.y) for row in rows for edge in row):
        return not strict
    return sum(winding(row, point.x, point.y) for row in rows) > 0


def spans_across(r: Region[F], y: float, side: YSide = "above") -> list[Span]:
    """What of the level line at height y is inside, as (from x, to x) from left to right, mm.

    `side` tells what is meant where the line runs along an edge: the limit from just "above" or just "below" y. An
    edge within TOUCH of y counts as at y.
    """
    return across(r.rings, y, upper=side == "above")


def spans_up(r: Region[F], x: float, side: XSide = "right") -> list[Span]:
    """What of the plumb line at x is inside, as (from y, to y) upward, mm; the limit from just "right" or "left"."""
    return across([turned_over(ring) for ring in r.rings], x, upper=side == "right")
