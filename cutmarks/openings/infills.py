"""What is read for a piece that is trimmed: the opening that it goes into, what comes off that, and the cut it gives.

The opening is from what is fixed to the wall, floor, sill or ceiling, at both ends of the piece; to the near and to the
far side of what it is notched round. Cuts are measured one by one; what is worked out here is what to expect. Where
nothing is read, it says why.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import NamedTuple

from msgspec import Struct

from cutmarks.fixing.beside import PAST
from cutmarks.fixing.model import FixedSides, ReadFrom, Reference, SourceKind
from cutmarks.fixing.sources import Sources, Thing
from cutmarks.geometry.edges import Edge, distance_to
from cutmarks.geometry.frames import Point, Surface, Tile
from cutmarks.geometry.regions import Region, region, spans_across, spans_up, touches_boundary
from cutmarks.geometry.rings import edges
from cutmarks.geometry.spans import Span
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.openings.edge_work import AT_THE_EDGE, of_a_horn
from cutmarks.openings.model import Infill, InfillEnd, NoReading, OffWhat, TakenOff
from cutmarks.openings.outlines import maker_side, nearly_facing
from cutmarks.setout.edges import is_unfinished_at, position_at, stretch_at, what_at
from cutmarks.setout.model import SurfaceEdge, Void
from cutmarks.sides import ON_AXIS, Axis, Side
from cutmarks.tiling.model import Piece

LITTLE = 1.0
"""What a joint between two areas may be over twice their own, mm: beyond it something else lies between."""

_FIRST: tuple[SourceKind, ...] = ("piece", "line", "support", "mark", "edge")
"""Where the two ends would be read from different things, only the one that is read from the first of these is."""


class EndsAt(NamedTuple):
    """What ends a piece at one place: what it is, where it lies in the Tile frame, mm, and what is kept clear of it."""

    to: str
    at: float
    off: tuple[TakenOff, ...]


class _End(Struct, frozen=True):
    """One end as it was worked out: what it is read from and to, what comes off, and how it is said."""

    reference: Reference
    to: str
    off: tuple[TakenOff, ...]
    said: InfillEnd
    past: bool = False


class _Of(Struct, frozen=True):
    """One part of a trimmed piece, in its Tile frame, what it is read by, and its edges that the saw makes."""

    piece: Piece
    trimmed: Region[Tile]
    sources: Sources
    cut: tuple[Edge[Tile], ...]

    def spans(self, axis: Axis, level: float) -> list[Span]:
        """What there is of it along an axis, at a level across that, mm."""
        return spans_across(self.trimmed, level) if axis == "across" else spans_up(self.trimmed, level)


def read_for(
    piece: Piece, trimmed: Region[Tile], sources: Sources, fixed: FixedSides
) -> tuple[tuple[Infill, ...], tuple[NoReading, ...]]:
    """What to read for a piece, or one part of it, on each axis on which it is trimmed; and where nothing is, why."""
    if not piece.trimmed:
        return (), ()
    if piece.turn:
        return (), (NoReading("across", "turned"), NoReading("up", "turned"))
    w, h = piece.tile.w, piece.tile.h
    row = [edge for ring in trimmed.rings for edge in edges(ring)]
    of = _Of(piece, trimmed, sources, tuple([edge for edge in row if maker_side(edge, w, h) is None]))
    infills: list[Infill] = []
    unread: list[NoReading] = []
    for near in (fixed.across, fixed.up):
        found, why = _on_axis(of, near)
        infills += found
        unread += [] if why is None or found else [why]
    if not infills and not unread and of.cut:
        unread = [NoReading("across", "shape"), NoReading("up", "shape")]
    return tuple(infills), tuple(unread)


def _on_axis(of: _Of, near: Side) -> tuple[list[Infill], NoReading | None]:
    """The readings on one axis: from the side that the work comes from, or where only that is cut, from the other."""
    why: NoReading | None = None
    for start in (near, near.opposite):
        far = start.opposite
        stretches = _stretches(of, far)
        if not stretches:
            continue
        looked = [_end(of, far, level) for level in _levels(of, far, stretches)]
        ends = [end for end in looked if isinstance(end, _End)]
        infills = [*_grouped(far, ends), *_round_notches(of, far, stretches)]
        if infills:
            return infills, None
        why = why or next((end for end in looked if isinstance(end, NoReading)), None)
    return [], why


def _grouped(far: Side, ends: Sequence[_End]) -> Iterator[Infill]:
    """The ends as readings: one for each thing that ends the piece, from what comes first among its sources."""
    for to, past in dict.fromkeys((end.to, end.past) for end in ends):
        own = [end for end in ends if (end.to, end.past) == (to, past)]
        # Of two stretches at one thing, a step, the outer ends are read; of more each has its own.
        for some in [own] if len(own) <= 4 else [own[at : at + 2] for at in range(0, len(own), 2)]:
            best = min(some, key=lambda end: _FIRST.index(end.reference.source.kind))
            alike = [end for end in some if end.reference.source.kind == best.reference.source.kind]
            outer = [alike[0], *([alike[-1]] if len(alike) > 1 else [])]
            # An end that something else comes off, beside the horn of a sill board, is a reading of its own.
            for off in dict.fromkeys(end.off for end in outer):
                said = tuple(end.said for end in outer if end.off == off)
                yield Infill(far, best.reference.source, best.to, said, off, past)


def _levels(of: _Of, far: Side, stretches: Sequence[Span]) -> Iterator[tuple[Side, float]]:
    """The two ends of each stretch that is cut on a side, each with the level just inside it where a tape is held."""
    along = 1 if far.axis == "across" else 0
    low, high = ON_AXIS["up" if far.axis == "across" else "across"]
    # Only where there is an end to read from as well: beside a raking side it may be a point.
    row = [edge for ring in of.trimmed.rings for edge in edges(ring)]
    other = [at for edge in row if nearly_facing(edge) is far.opposite for at in (edge[along], edge[along + 2])]
    if not other:
        return
    for begin, stop in stretches:
        begin, stop = max(begin, min(other)), min(stop, max(other))
        if begin + 2 * PAST < stop:
            yield low, begin + PAST
            yield high, stop - PAST


def _stretches(of: _Of, far: Side) -> list[Span]:
    """The stretches that are cut on a side, along it, low first: those that go on from one another are one."""
    along = 1 if far.axis == "across" else 0
    cut = [edge for edge in of.cut if nearly_facing(edge) is far]
    found: list[tuple[float, float, float, float]] = []
    for edge in sorted(cut, key=lambda edge: min(edge[along], edge[along + 2])):
        ends = sorted([(edge[along], edge[1 - along]), (edge[along + 2], edge[3 - along])])
        (begin, here), (stop, there) = ends
        if found and abs(begin - found[-1][1]) <= TOUCH and abs(here - found[-1][3]) <= TOUCH:
            found[-1] = (found[-1][0], stop, found[-1][2], there)
        else:
            found.append((begin, stop, here, there))
    return [(begin, stop) for begin, stop, _, _ in found]


def _end(of: _Of, far: Side, level: tuple[Side, float]) -> _End | NoReading | None:
    """What is read at one end towards the side `far`, or why nothing is; None where that is not cut there."""
    end, at = level
    spans = of.spans(far.axis, at)
    if not spans:
        return None
    cut, own = (spans[-1][1], spans[0][0]) if far.sign > 0 else (spans[0][0], spans[-1][1])
    if abs(cut - of.piece.tile.box.at(far)) <= TOUCH:
        return None
    wall = _beyond(of, far, at, cut)
    if isinstance(wall, NoReading):
        return wall
    return _read(of, far, at, own, wall, InfillEnd(end, 0.0, abs(cut - own)))


def _round_notches(of: _Of, far: Side, stretches: Sequence[Span]) -> Iterator[Infill]:
    """The readings to both sides of what the piece is notched round, or goes all round: near side first."""
    found: list[_End] = []
    along: Axis = "up" if far.axis == "across" else "across"
    if len(of.cut) < 3:
        return  # a notch has two sides and a foot
    for begin, stop in stretches:
        ends = list(zip(ON_AXIS[along], (begin + PAST, stop - PAST), strict=True))
        if len({_told_apart(of.spans(far.axis, level)) for _, level in ends}) == 1:
            # As wide at both ends: it is read in the middle, where no gap beside it looks like bare wall.
            ends = [(ends[0][0], (begin + stop) / 2.0)]
        for end, at in ends:
            spans = of.spans(far.axis, at)
            spans = spans if far.sign > 0 else [(high, low) for low, high in reversed(spans)]
            for (_, cut), (on, _) in pairwise(spans):
                own = spans[0][0]
                for where, towards in ((cut, far), (on, far.opposite)):
                    wall = _beyond(of, towards, at, where)
                    if isinstance(wall, NoReading):
                        continue
                    past = towards is not far
                    if past:
                        wall = wall._replace(off=tuple(TakenOff(off.what, -off.mm) for off in wall.off))
                    read = _read(of, far, at, own, wall, InfillEnd(end, 0.0, abs(where - own)), past=past)
                    found += [read] if isinstance(read, _End) else []
    yield from _grouped(far, found)


def _told_apart(spans: Sequence[Span]) -> tuple[int, ...]:
    """The ends of spans, told apart no finer than a touch."""
    return tuple(round(at / TOUCH) for span in spans for at in span)


def _read(
    of: _Of, far: Side, at: float, own: float, wall: EndsAt, end: InfillEnd, *, past: bool = False
) -> _End | NoReading:
    """One end with its opening, read from what is there on the side of the piece's own end, `own`."""
    reference, is_cut = _reference(of, far, at, wall.at), abs(own - of.piece.tile.box.at(far.opposite)) > TOUCH
    if reference is not None and not is_cut and _is_marked_first(reference, own, far):
        reference = _marked(of, far, own) or reference
    if reference is None:
        return NoReading(far.axis, "nothing there", wall.to)
    before, kind = (own - reference.edge) * far.sign, reference.source.kind
    name: OffWhat = "joint" if kind == "piece" else "gap" if kind == "edge" and is_cut else "to its edge"
    begins = _at_opening(of, reference, before) if name == "gap" else (TakenOff(name, before),)
    off = (*(one for one in begins if abs(one.mm) > TOUCH), *wall.off)
    return _End(reference, wall.to, off, InfillEnd(end.at, abs(wall.at - reference.edge), end.cut), past)


def _is_marked_first(reference: Reference, own: float, far: Side) -> bool:
    """Whether the tile's own edge is marked, and measured from, in place of what lies there.

    Over a niche it has to lie on its joint, however far the ceiling is. A first course that is cut to a worktop lies
    over the level line: from that to the worktop there is next to nothing to read.
    """
    beyond = reference.source.kind == "line" and far.axis == "up" and (own - reference.edge) * far.sign < -TOUCH
    return reference.source.kind == "edge" or beyond


def _at_opening(of: _Of, reference: Reference, before: float) -> tuple[TakenOff, ...]:
    """What lies between the edge of an opening that is read from and the piece's own end: tile may pass it as well."""
    if before < 0.0:
        return (TakenOff("past the start", before),)
    horns = max(
        (
            void.sill.horns
            for void in of.sources.order.setout.voids
            if void.called == reference.source.name and void.sill is not None and void.sill.horns <= before + TOUCH
        ),
        default=0.0,
    )
    return (TakenOff("sill board", horns), TakenOff("gap", before - horns))


def _marked(of: _Of, far: Side, own: float) -> Reference | None:
    """Its own end on the side across from `far`, marked from the main line that fixes it."""
    fixes, begin = ("x", of.piece.tile_at.dx) if far.axis == "across" else ("y", of.piece.tile_at.dy)
    line = next((one for one in of.sources.order.setout.lines.values() if one.fixes == fixes and one.at == 0.0), None)
    if line is None:
        return None
    return Reference(ReadFrom("mark", line.name, at=round(own + begin, 6)), far.opposite, own)


def _reference(of: _Of, far: Side, at: float, wall: float) -> Reference | None:
    """What the opening is read from: the earlier piece on the other side, else what shows on the wall."""
    beside = of.sources.beside(of.piece, far.opposite, at)
    if beside is not None and beside[1]:
        return beside[0]
    return of.sources.without_neighbour(of.piece, Thing(far.axis, wall, wall, at), far.opposite)


def _beyond(of: _Of, far: Side, at: float, cut: float) -> EndsAt | NoReading:
    """What ends the piece there, with what is kept clear of it; or why it is not read to."""
    across = far.axis == "across"
    point = of.piece.tile_at.apply(Point(cut, at) if across else Point(at, cut))
    own, along = (point.x, point.y) if across else (point.y, point.x)
    offset = own - cut
    setout = of.sources.order.setout
    edge = setout.edges.get(far)
    if edge is not None:
        lies = position_at(edge, along)
        clear = (lies - own) * far.sign
        if any(abs(clear - one) <= AT_THE_EDGE for one in edge.clears):
            what = what_at(edge, along)
            if is_unfinished_at(edge, along):
                return NoReading(far.axis, "still to come", what or edge.called)
            gap = edge.gaps[stretch_at(edge, along)]
            to_come = _nominal(clear, edge.clears[stretch_at(edge, along)]) - gap - edge.trim + edge.passes
            return EndsAt(what or edge.called, lies - offset, _kept(gap, to_come, edge.trim, edge.passes))
    for other in setout.edges.values():
        riser = None if other.side.axis == far.axis else riser_at(other, own, far)
        if riser is not None:
            return riser._replace(at=riser.at - offset)
    if not setout.edges and setout.outline is not None and touches_boundary(setout.clear, point.x, point.y):
        # A surface by its corners: what is kept clear is as far as the tape goes past the tile's own end.
        spans = spans_across(setout.outline, along) if across else spans_up(setout.outline, along)
        ends = [span[1 if far.sign > 0 else 0] for span in spans]
        lies = min(
            (end for end in ends if (end - own) * far.sign >= -TOUCH), key=lambda end: abs(end - own), default=own
        )
        return EndsAt(f"{far} edge", lies - offset, _kept(abs(lies - own)))
    for void in of.sources.voids_about(point, 2.0 * AT_THE_EDGE):
        horn = _at_horn(void, point)
        ended = _at_frame(void, point, far) if void.goes_under is not None else horn or _at_void(void, point, far)
        if ended is not None:
            kept, off = ended
            to = void.called if horn is None else f"{void.called}'s sill board"
            return EndsAt(to, cut + far.sign * kept, off)
    beside = of.sources.beside(of.piece, far, at)
    if beside is not None and beside[1]:
        space = abs(beside[0].edge - cut)
        # Else something lies between them.
        if space <= 2.0 * of.sources.order.areas[of.piece.area].layout.grid.joint + LITTLE:
            return EndsAt(beside[0].source.name, beside[0].edge, (TakenOff("joint", space),))
    return NoReading(far.axis, "border")


def _nominal(clear: float, kept: float) -> float:
    """What is kept clear, as the job has it where it is that: an edge that rakes past a step is a hair off it, mm."""
    return kept if abs(clear - kept) <= AT_THE_EDGE else clear


def _at_void(void: Void, point: Point[Surface], far: Side) -> tuple[float, tuple[TakenOff, ...]] | None:
    """How far past a place the side of a window lies at which a piece ends there, mm, and what is kept clear of it."""
    if min(distance_to(one, point.x, point.y) for one in edges(void.ring)) > AT_THE_EDGE:
        return None
    # The side of the window that the piece ends at is the one across from the piece's own.
    passes = 0.0 if void.passes is None else void.passes[far.opposite]
    return void.gap - passes, _kept(void.gap, passes=passes)


def _at_horn(void: Void, point: Point[Surface]) -> tuple[float, tuple[TakenOff, ...]] | None:
    """The same of a horn of its sill board: there the tile ends at the board, and passes no edge."""
    nearest = min(edges(void.ring), key=lambda one: distance_to(one, point.x, point.y))
    if not of_a_horn(nearest, void) or distance_to(nearest, point.x, point.y) > AT_THE_EDGE:
        return None
    return void.gap, _kept(void.gap)


def _at_frame(void: Void, point: Point[Surface], far: Side) -> tuple[float, tuple[TakenOff, ...]] | None:
    """The same of a frame that tile goes under, or keeps clear of on the sides from which none comes."""
    across = far.axis == "across"
    box = void.measured.bounds
    level, low, high = (point.y, box.min_y, box.max_y) if across else (point.x, box.min_x, box.max_x)
    # What is kept clear goes on past the frame's own ends.
    most = max(void.gap, void.beside)
    if not low - most <= level <= high + most:
        return None
    inside = min(max(level, low + PAST), high - PAST)
    frame = region(void.measured)
    spans = spans_across(frame, inside) if across else spans_up(frame, inside)
    own, under = (point.x if across else point.y), void.goes_under or 0.0
    for span in spans:
        kept = (span[0 if far.sign > 0 else 1] - own) * far.sign
        if abs(kept + under) <= AT_THE_EDGE:
            return kept, _kept(under=under)
        if -AT_THE_EDGE <= kept <= most + AT_THE_EDGE:
            return kept, _kept(kept)
    return None


def riser_at(edge: SurfaceEdge, own: float, far: Side) -> EndsAt | None:
    """The side of a step of an edge that ends a piece at `own`, on the surface, mm; None: none does."""
    up = edge.side.axis == "across"
    row = [point.y if up else point.x for point in edge.measured]
    for after, (begin, end) in enumerate(pairwise(row), 1):
        # It is the side of the stretch that stands out beyond it.
        at = after if far.sign > 0 else after - 1
        clear = (begin - own) * far.sign
        if abs(begin - end) <= TOUCH and abs(clear - edge.clears[at]) <= AT_THE_EDGE:
            gap, what = edge.gaps[at], edge.whats[at] if edge.whats else edge.what
            to_come = clear - gap - edge.trim + edge.passes
            return EndsAt(what or f"step of the {edge.called}", begin, _kept(gap, to_come, edge.trim, edge.passes))
    return None


def _kept(
    gap: float = 0.0, to_come: float = 0.0, trim: float = 0.0, passes: float = 0.0, under: float = 0.0
) -> tuple[TakenOff, ...]:
    """What is kept clear of where a piece ends, what is nothing left out; what tile passes it by comes on, mm."""
    kept: tuple[tuple[OffWhat, float], ...] = (
        ("gap", gap),
        ("still to come", to_come),
        ("trim", trim),
        ("past the edge", -passes),
        ("under it", -under),
    )
    return tuple(TakenOff(what, mm) for what, mm in kept if abs(mm) > TOUCH)
