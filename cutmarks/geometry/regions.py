"""Regions, and what is taken off, kept and joined: difference, intersection, union.

The results are in their plainest form (`canonical`), so that the same shape is always the same value.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property
from operator import is_
from typing import Final, Generic

from msgspec import Struct

from cutmarks.errors import GeometryError
from cutmarks.geometry.clipping import clipped
from cutmarks.geometry.edges import XY, Bounds, middle, touches
from cutmarks.geometry.frames import F, G, Placement, Point
from cutmarks.geometry.near import Near
from cutmarks.geometry.overlay import Sorted, overlay
from cutmarks.geometry.rings import Ring, edges, self_crossing
from cutmarks.geometry.spans import Span, XSide, YSide, across
from cutmarks.geometry.splitting import LiesWhere
from cutmarks.geometry.stitching import stitched
from cutmarks.geometry.tidy import is_thin, place_order, ring_from_edges, tidied
from cutmarks.geometry.tolerance import SHORTEST, TOUCH
from cutmarks.geometry.viewing import CLEAR, rings_seen
from cutmarks.geometry.winding import winding

__all__ = [
    "Region",
    "canonical",
    "contains",
    "difference",
    "intersection",
    "parts",
    "region",
    "seen_in",
    "spans_across",
    "spans_up",
    "touches_boundary",
    "union",
    "upright_box",
    "without",
]


class Region(Struct, Generic[F], frozen=True, dict=True):
    """What rings enclose, in frame F: outers run counter-clockwise, holes clockwise; no rings is the empty region.

    Rings may touch each other at places, never cross. `region` makes one from an outline; the operations keep it so.
    """

    rings: tuple[Ring[F], ...]

    @property
    def is_empty(self) -> bool:
        """Whether there is nothing of it."""
        return not self.rings

    @cached_property
    def area(self) -> float:
        """Exact, arcs included, mm2."""
        return sum(ring.area for ring in self.rings)

    @cached_property
    def bounds(self) -> Bounds:
        """Exact, arcs included, mm. Raises GeometryError for the empty region, which is nowhere."""
        if not self.rings:
            raise GeometryError("an empty region has no bounds; ask is_empty first")
        boxes = [ring.bounds for ring in self.rings]
        if len(boxes) == 1:
            return boxes[0]
        return Bounds(
            min(box[0] for box in boxes),
            min(box[1] for box in boxes),
            max(box[2] for box in boxes),
            max(box[3] for box in boxes),
        )

    @cached_property
    def near(self) -> Near:
        """Which of its rings come near a place, by their numbers."""
        return Near(ring.bounds for ring in self.rings)

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


def seen_in(r: Region[F], box: Bounds) -> Region[F]:
    """A region that is the same inside a box, and as plain as can be beyond: only to ask what is in the box, mm."""
    numbers = r.near.within(box, CLEAR)
    rings = rings_seen(r.rings, box, numbers)
    return r if len(rings) == len(r.rings) and all(map(is_, rings, r.rings)) else Region(rings)


def upright_box(r: Region[F]) -> Bounds | None:
    """The bounds of a region that is one rectangle with level and plumb sides, as a whole tile is, mm; else None."""
    return r.rings[0].upright_box if len(r.rings) == 1 else None


def _lies_in_box(a: Region[F], b: Region[F]) -> bool:
    """Whether `a` lies clear of the sides of `b`, which is an upright rectangle: then nothing of them can meet."""
    box = upright_box(b)
    return box is not None and a.bounds.within(box, -CLEAR)


def difference(a: Region[F], b: Region[F]) -> Region[F]:
    """What is in `a` and not in `b`."""
    if _apart(a, b):
        return canonical(a)
    if _lies_in_box(a, b):
        return Region(())
    if _lies_in_box(b, a):
        return canonical(Region((*a.rings, *(ring.reversed() for ring in b.rings))))
    return _combined(a, seen_in(b, a.bounds), _DIFFERENCE)


def without(a: Region[F], taken: Sequence[Region[F]]) -> Region[F]:
    """What is in `a` and in none of the others: those that lie apart are taken off at once."""
    if len(taken) == 1:
        return difference(a, taken[0])
    for together in _apart_from_each_other(taken):
        a = difference(a, Region(tuple(ring for one in together for ring in one.rings)))
    return a


def _apart_from_each_other(regions: Sequence[Region[F]]) -> list[list[Region[F]]]:
    """The regions in rows: none comes near another of its row; of two that do the first is in an earlier row."""
    whole = [one for one in regions if not one.is_empty]
    near = Near(one.bounds for one in whole)
    places: list[int] = []
    rows: list[list[Region[F]]] = []
    for number, one in enumerate(whole):
        before = [places[k] for k in near.within(one.bounds, CLEAR) if k < number]
        place = max(before, default=-1) + 1
        places.append(place)
        if place == len(rows):
            rows.append([])
        rows[place].append(one)
    return rows


def intersection(a: Region[F], b: Region[F]) -> Region[F]:
    """What is in both."""
    if _apart(a, b):
        return Region(())
    for one, other in ((a, b), (b, a)):
        if _lies_in_box(one, other):
            return canonical(one)
    a, b = seen_in(a, b.bounds), seen_in(b, a.bounds)
    for one, other in ((a, b), (b, a)):
        box = upright_box(one)
        if box is not None and len(other.rings) == 1:
            found = clipped(other.rings[0], box)
            if found is not None:
                return Region(found)
    return _combined(a, b, _INTERSECTION)


def union(a: Region[F], b: Region[F]) -> Region[F]:
    """What is in either."""
    if _apart(a, b):
        return canonical(Region(a.rings + b.rings))
    return _combined(a, b, _UNION)


def _apart(a: Region[F], b: Region[F]) -> bool:
    return not a.rings or not b.rings or not a.bounds.overlaps(b.bounds, TOUCH)


class _Keep(Struct, frozen=True):
    """What an operation keeps of each boundary, and whether the second then runs the other way."""

    of_a: frozenset[LiesWhere]
    of_b: frozenset[LiesWhere]
    turn_b: bool = False


_DIFFERENCE: Final = _Keep(
    frozenset({LiesWhere.OUTSIDE, LiesWhere.AGAINST}), frozenset({LiesWhere.INSIDE}), turn_b=True
)
_INTERSECTION: Final = _Keep(frozenset({LiesWhere.INSIDE, LiesWhere.SAME}), frozenset({LiesWhere.INSIDE}))
_UNION: Final = _Keep(frozenset({LiesWhere.OUTSIDE, LiesWhere.SAME}), frozenset({LiesWhere.OUTSIDE}))

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
    by: Placement[F, F] = Placement.shift(x, y)
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
    x, y = point.x, point.y
    place = Bounds(x, y, x, y)
    if (box := upright_box(r)) is not None:
        if place.within(box, -SHORTEST):
            return True
        if not place.overlaps(box, SHORTEST):
            return False
    if touches_boundary(r, x, y):
        return not strict
    return sum(winding(edges(r.rings[number]), x, y) for number in r.near.within(place)) > 0


def touches_boundary(r: Region[F], x: float, y: float) -> bool:
    """Whether a place lies on any of a region's outlines, within TOUCH."""
    place = Bounds(x, y, x, y)
    rings = (r.rings[number] for number in r.near.within(place, SHORTEST))
    return any(touches(edges(ring)[k], x, y) for ring in rings for k in ring.near.within(place, SHORTEST))


def spans_across(r: Region[F], y: float, side: YSide = "above") -> list[Span]:
    """What of the level line at height y is inside, as (from x, to x) from left to right, mm.

    `side` tells what is meant where the line runs along an edge: the limit from just "above" or just "below" y. An
    edge within TOUCH of y counts as at y.
    """
    box = upright_box(r)
    if box is not None and box[1] + SHORTEST < y < box[3] - SHORTEST:
        return [(box[0], box[2])]
    return across([r.rings[number] for number in r.near.at_level(y, SHORTEST)], y, upper=side == "above")


def spans_up(r: Region[F], x: float, side: XSide = "right") -> list[Span]:
    """What of the plumb line at x is inside, as (from y, to y) upward, mm; the limit from just "right" or "left"."""
    box = upright_box(r)
    if box is not None and box[0] + SHORTEST < x < box[2] - SHORTEST:
        return [(box[1], box[3])]
    return across([r.rings[number].turned_over for number in r.near.at_plumb(x, SHORTEST)], x, upper=side == "right")
