"""What is read for a piece that is trimmed: the opening that it goes into, what comes off that, and the cut it gives.

The opening is from what is fixed to the wall, floor, sill or ceiling, at both ends of the piece. Cuts are measured one
by one; what is worked out here is what to expect.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from cutmarks.fixing.beside import PAST
from cutmarks.fixing.model import FixedSides, Reference, SourceKind
from cutmarks.fixing.sources import Sources, Thing
from cutmarks.geometry.edges import distance_to
from cutmarks.geometry.frames import Point, Tile
from cutmarks.geometry.regions import Region, spans_across, spans_up
from cutmarks.geometry.rings import edges
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.openings.edge_work import AT_THE_EDGE
from cutmarks.openings.model import Infill, InfillEnd, OffWhat, TakenOff
from cutmarks.openings.outlines import maker_side, nearly_facing
from cutmarks.setout.edges import position_at
from cutmarks.setout.model import SurfaceEdge
from cutmarks.sides import ON_AXIS, Side
from cutmarks.tiling.model import Piece

LITTLE = 1.0
"""What a joint between two areas may be over twice their own, mm: beyond it something else lies between."""

_FIRST: tuple[SourceKind, ...] = ("piece", "line", "support", "edge")
"""Where the two ends would be read from different things, only the one that is read from the first of these is."""


def infills_of(piece: Piece, trimmed: Region[Tile], sources: Sources, fixed: FixedSides) -> tuple[Infill, ...]:
    """What to read for a piece, or one part of it, on each axis on which it is trimmed; () in a turned area."""
    if piece.turn or not piece.trimmed:
        return ()
    found = (_infill(piece, trimmed, sources, near) for near in (fixed.across, fixed.up))
    return tuple(infill for infill in found if infill is not None)


def _infill(piece: Piece, trimmed: Region[Tile], sources: Sources, near: Side) -> Infill | None:
    """The reading on one axis: from the side that the work comes from, or where only that is cut, from the other."""
    for start in (near, near.opposite):
        far = start.opposite
        worked = [_end(piece, trimmed, sources, far, level) for level in _levels(trimmed, piece, far)]
        ends = [end for end in worked if end is not None]
        if ends:
            best = min(ends, key=lambda end: _FIRST.index(end.reference.source.kind))
            alike = [end for end in ends if end.reference.source.kind == best.reference.source.kind]
            return Infill(far, best.reference.source, best.to, tuple(end.said for end in alike), best.off)
    return None


@dataclass(frozen=True, slots=True)
class _End:
    """One end as it was worked out: what it is read from and to, what comes off, and how it is said."""

    reference: Reference
    to: str
    off: tuple[TakenOff, ...]
    said: InfillEnd


def _levels(trimmed: Region[Tile], piece: Piece, far: Side) -> Iterator[tuple[Side, float]]:
    """The two ends of what is cut on a side, each with the level just inside it at which a tape is held."""
    along = 1 if far.axis == "across" else 0
    row = [edge for ring in trimmed.rings for edge in edges(ring)]
    cut = [edge for edge in row if nearly_facing(edge) is far and maker_side(edge, piece.tile.w, piece.tile.h) is None]
    # Only where there is an end to read from as well: beside a raking side it may be a point.
    other = [edge for edge in row if nearly_facing(edge) is far.opposite]
    if not cut or not other:
        return
    spans = [[end[along] for edge in side for end in (edge[0:2], edge[2:4])] for side in (cut, other)]
    low, high = ON_AXIS["up" if far.axis == "across" else "across"]
    begin, stop = max(map(min, spans)), min(map(max, spans))
    if begin + 2 * PAST < stop:
        yield low, begin + PAST
        yield high, stop - PAST


def _end(piece: Piece, trimmed: Region[Tile], sources: Sources, far: Side, level: tuple[Side, float]) -> _End | None:
    """What is read at one end towards the side `far`; None where that is not cut there, or nothing can be read."""
    end, at = level
    spans = spans_across(trimmed, at) if far.axis == "across" else spans_up(trimmed, at)
    if not spans:
        return None
    low, high = spans[0][0], spans[-1][1]
    cut, own = (high, low) if far.sign > 0 else (low, high)
    if abs(cut - piece.tile.box.at(far)) <= TOUCH:
        return None
    beyond = _beyond(piece, sources, far, at, cut)
    if beyond is None:
        return None
    to, wall, clear = beyond
    reference = _reference(piece, sources, far, at, wall)
    if reference is None:
        return None
    opening = abs(wall - reference.edge)
    before = (own - reference.edge) * far.sign
    kind, is_cut = reference.source.kind, abs(own - piece.tile.box.at(far.opposite)) > TOUCH
    name: OffWhat = "joint" if kind == "piece" else "gap" if kind == "edge" and is_cut else "to its edge"
    off = (TakenOff(name, before), *clear) if abs(before) > TOUCH else clear
    return _End(reference, to, off, InfillEnd(end, opening, abs(cut - own)))


def _reference(piece: Piece, sources: Sources, far: Side, at: float, wall: float) -> Reference | None:
    """What the opening is read from: the earlier piece on the other side, else what shows on the wall."""
    beside = sources.beside(piece, far.opposite, at)
    if beside is not None and beside[1]:
        return beside[0]
    return sources.without_neighbour(piece, Thing(far.axis, wall, wall, at), far.opposite)


def _beyond(
    piece: Piece, sources: Sources, far: Side, at: float, cut: float
) -> tuple[str, float, tuple[TakenOff, ...]] | None:
    """What ends the piece there, where it lies in the Tile frame, mm, and what is kept clear of it; None: a border."""
    across = far.axis == "across"
    point = piece.tile_at.apply(Point(cut, at) if across else Point(at, cut))
    own, along = (point.x, point.y) if across else (point.y, point.x)
    offset = own - cut
    setout = sources.order.setout
    edge = setout.edges.get(far)
    if edge is not None and edge.still_to_come is None:
        return None  # what takes off room there is not known yet, and so neither is the cut
    if edge is not None:
        lies = position_at(edge, along)
        clear = (lies - own) * far.sign
        if any(abs(clear - one) <= AT_THE_EDGE for one in edge.clears):
            to_come = clear - edge.gap - edge.trim + edge.passes
            off = _kept(edge.gap, to_come, edge.trim, edge.passes)
            return edge.what or f"{far} edge", lies - offset, off
    for other in setout.edges.values():
        riser = None if other.side.axis == far.axis else _riser(other, own, far)
        if riser is not None:
            lies, gap = riser
            return other.what or f"step of the {other.called}", lies - offset, _kept(gap)
    for void in setout.voids:
        if min(distance_to(one, point.x, point.y) for one in edges(void.ring)) <= AT_THE_EDGE:
            # The side of the window that the piece ends at is the one across from the piece's own.
            passes = 0.0 if void.passes is None else void.passes[far.opposite]
            wall = cut + far.sign * (void.gap - passes)
            return void.called, wall, _kept(void.gap, passes=passes)
    beside = sources.beside(piece, far, at)
    if beside is not None and beside[1]:
        space = abs(beside[0].edge - cut)
        if (
            space <= 2.0 * sources.order.areas[piece.area].layout.grid.joint + LITTLE
        ):  # else something lies between them
            return beside[0].source.name, beside[0].edge, (TakenOff("joint", space),)
    return None


def _riser(edge: SurfaceEdge, own: float, far: Side) -> tuple[float, float] | None:
    """Where the side of a step of an edge lies that ends a piece at `own`, and its gap; None: none does, mm."""
    up = edge.side.axis == "across"
    row = [(point.y if up else point.x, gap) for point, gap in zip(edge.measured, edge.gaps, strict=True)]
    for (begin, gap_before), (end, gap_after) in pairwise(row):
        clear = (begin - own) * far.sign
        for gap in (gap_before, gap_after):
            if abs(begin - end) <= TOUCH and abs(clear - gap) <= AT_THE_EDGE:
                return begin, gap
    return None


def _kept(gap: float, to_come: float = 0.0, trim: float = 0.0, passes: float = 0.0) -> tuple[TakenOff, ...]:
    """What is kept clear of where a piece ends, what is nothing left out; what tile passes it by comes on, mm."""
    kept: tuple[tuple[OffWhat, float], ...] = (
        ("gap", gap),
        ("still to come", to_come),
        ("trim", trim),
        ("past the edge", -passes),
    )
    return tuple(TakenOff(what, mm) for what, mm in kept if abs(mm) > TOUCH)
