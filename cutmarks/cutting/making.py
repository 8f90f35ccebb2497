"""A piece in, the operations that make it out, in their order: `how_cut`."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from typing import Literal

from msgspec import Struct, field
from msgspec.structs import replace

from cutmarks.cutting.lines import SawLine, behind, cut_lines, passes
from cutmarks.cutting.operations import (
    AlongOutline,
    ByHand,
    CoreHole,
    Face,
    FirstWhy,
    FreeStrip,
    HowCut,
    Operation,
    PlungeCut,
    ReliefHoles,
    RoundNotch,
    SetOutFrom,
    StoppedCut,
    StraightCut,
)
from cutmarks.cutting.order import Cells, CutStep, in_order
from cutmarks.cutting.stops import DiscReach, reaches, row_of_cuts
from cutmarks.geometry.edges import XY, Arc, Bounds, Segment, touches
from cutmarks.geometry.frames import Point, Tile
from cutmarks.geometry.regions import contains
from cutmarks.geometry.rings import edges
from cutmarks.geometry.rounding import rounded
from cutmarks.geometry.shapes import Circle
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.limits import LIMITS, Limits
from cutmarks.openings.model import Cut, CutPiece
from cutmarks.openings.outlines import facing, is_rake, part_way
from cutmarks.readings import Disc
from cutmarks.sides import Side

CORES, PLUNGES, STRAIGHT, STOPPED, NOTCHES, BY_HAND = range(6)
"""What is usually done first: what is made while the tile is whole, then what goes right through, then the rest."""
MOST_LINES = 8
"""An opening of more straight edges is followed by hand: no saw is set to each."""
LARGEST_CORNER = 10.0
"""An arc of a larger radius, mm, is no corner that a small drill leaves."""
ON_RING = 1e-3
"""A cut is an opening's where it lies on its outline within this, mm."""


class CutWith(Struct, frozen=True):
    """What a tiler cuts with; the discs in the order in which they are told.

    longest, narrowest  what the snap cutter takes, mm; None: not said.
    kerf                of a disc whose own was not said, mm; relief: the small hole in an inside corner, mm.
    """

    discs: tuple[Disc, ...] = ()
    longest: float | None = None
    narrowest: float | None = None
    kerf: float = LIMITS.kerf.value
    relief: float = LIMITS.relief_hole.value
    limits: Limits = LIMITS


class _Part(Struct, frozen=True):
    """An operation with what the order has to know of it; closed: it leaves the outside of the tile as it is."""

    made: Operation
    rank: int
    slits: tuple[tuple[float, float, float, float], ...] = ()
    voids: tuple[Bounds, ...] = ()
    needs: str = ""
    line: SawLine | None = None
    closed: bool = False


class _Work(Struct):
    """One piece while its operations are gathered."""

    piece: CutPiece
    tools: CutWith
    sides: Mapping[str, Face]
    parts: list[_Part] = field(default_factory=list)

    @property
    def w(self) -> float:
        return self.piece.piece.tile.w

    @property
    def h(self) -> float:
        return self.piece.piece.tile.h


def how_cut(piece: CutPiece, tools: CutWith, sides: Mapping[str, Face] | None = None) -> HowCut:
    """How a piece is made of its whole tile; `sides` says from which hole is drilled, the face if not said."""
    if piece.outline.is_empty:
        return HowCut()
    work = _Work(piece, tools, sides or {})
    _round(work)
    relief = _lines(work)
    return _ordered(work, relief)


# What there is to do.


def _round(work: _Work) -> None:
    """Cores, round notches, and the round edges that neither makes."""
    made: list[tuple[float, float, float]] = []
    for cut in work.piece.cuts:
        opening, side = cut.opening, work.sides.get(cut.opening.name, "face")
        if opening.drilled is not None and cut.drill_at:
            for at in cut.drill_at:
                _core(work, cut, at, opening.drilled.core, side)
                made.append((at.x, at.y, opening.drilled.core / 2.0))
        elif isinstance(opening.shape, Circle):
            made.append((cut.centre.x, cut.centre.y, opening.shape.d / 2.0))
            _round_hole(work, cut, opening.shape.d / 2.0, side)
    for ring in work.piece.outline.rings:
        for edge in edges(ring):
            if not isinstance(edge, Arc) or edge.radius <= LARGEST_CORNER:
                continue  # so small a one is an inside corner, or is ground
            if not any(
                math.hypot(edge.cx - x, edge.cy - y) <= ON_RING for x, y, r in made if abs(r - edge.radius) <= ON_RING
            ):
                made.append((edge.cx, edge.cy, edge.radius))
                work.parts.append(_Part(ByHand(_whose(work, part_way(edge, 0.5)), edge.centre, edge.radius), BY_HAND))


def _round_hole(work: _Work, cut: Cut, radius: float, side: Face) -> None:
    core, box = cut.opening.core, cut.ring.bounds
    over = [one for one in cut.runs_out if _is_tiles(work, box, one)]
    if core is not None and box.within(work.piece.piece.tile.box, TOUCH):
        _core(work, cut, cut.centre, core, side)
    elif cut.kind == "edge notch" and len(over) == 1:
        (edge,) = over
        kerf = min((disc.kerf for disc in work.tools.discs if disc.kerf is not None), default=work.tools.kerf)
        row = row_of_cuts(radius, cut.from_edges[edge], kerf, work.tools.limits.finger.value)
        middle = cut.centre.y if edge.axis == "across" else cut.centre.x
        notch = RoundNotch(cut.opening.name, edge, middle, kerf, row, core)
        work.parts.append(_Part(notch, NOTCHES, voids=(box,)))
    elif core is not None:
        work.parts.append(_Part(CoreHole(cut.opening.name, cut.centre, core, side, pilot=False), NOTCHES, voids=(box,)))
    else:
        rank = CORES if cut.kind == "hole" else BY_HAND
        by_hand = ByHand(cut.opening.name, cut.centre, radius)
        work.parts.append(_Part(by_hand, rank, voids=(box,), closed=cut.kind == "hole"))


def _is_tiles(work: _Work, box: Bounds, side: Side) -> bool:
    """Whether a hole reaches past the whole tile's own side, and not only over a cut edge."""
    return side.sign * (box.at(side) - work.piece.piece.tile.box.at(side)) > TOUCH


def _core(work: _Work, cut: Cut, at: Point[Tile], d: float, side: Face) -> None:
    box = Bounds(at.x - d / 2.0, at.y - d / 2.0, at.x + d / 2.0, at.y + d / 2.0)
    core = CoreHole(
        cut.opening.name, at, d, side, pilot=Bounds(at.x, at.y, at.x, at.y).within(work.piece.piece.tile.box)
    )
    whole = box.within(work.piece.piece.tile.box, TOUCH)
    work.parts.append(_Part(core, CORES if whole else NOTCHES, voids=(box,), closed=whole))


def _lines(work: _Work) -> tuple[ReliefHoles, ...]:
    """Straight, stopped and plunged cuts, and the small holes at the inside corners that they come to."""
    lines = [(line, _whose(work, _on(line))) for line in cut_lines(work.piece.outline, work.w, work.h)]
    count = {name: sum(whose == name for _, whose in lines) for _, name in lines}
    corners = _relieved(work, [name for name, many in count.items() if name and many > MOST_LINES])
    thickness = work.piece.piece.tile.thickness
    known = () if thickness is None else reaches(work.tools.discs, thickness, work.tools.limits.disc_past.value)
    for line, whose in lines:
        if whose and count[whose] > MOST_LINES:
            continue
        work.parts.append(_line_part(work, line, whose, [(at, clear) for _, _, at, clear in corners], known))
    for name, many in count.items():
        if name and many > MOST_LINES:
            box = next(cut for cut in work.piece.cuts if cut.opening.name == name).share.bounds
            work.parts.append(_Part(AlongOutline(name), BY_HAND, voids=(box,)))
    d = work.tools.relief
    whose_holes: dict[tuple[str, float], list[Point[Tile]]] = {}
    for name, middle, _, _ in corners:
        whose_holes.setdefault((name, d), []).append(Point(*middle))
    for name, arc in _rounded_corners(work):
        whose_holes.setdefault((name, 2.0 * arc.radius), []).append(arc.centre)
    return tuple(ReliefHoles(name, across, tuple(places)) for (name, across), places in whose_holes.items())


def _rounded_corners(work: _Work) -> Iterator[tuple[str, Arc[Tile]]]:
    """The inside corners that are round as a drill would leave them: an arc between two straight edges."""
    for ring in work.piece.outline.rings:
        row = edges(ring)
        for number, edge in enumerate(row):
            beside = row[number - 1], row[(number + 1) % len(row)]
            inward = isinstance(edge, Arc) and edge.sweep < 0.0 and edge.radius <= LARGEST_CORNER
            if isinstance(edge, Arc) and inward and all(isinstance(one, Segment) for one in beside):
                yield _whose(work, part_way(edge, 0.5)), edge


def _relieved(work: _Work, by_hand: Sequence[str]) -> list[tuple[str, XY, XY, float]]:
    """The inside corners that a small hole has room in: whose, its middle, the corner, how far before it it begins."""
    found = []
    radius = work.tools.relief / 2.0
    for turn in rounded(work.piece.outline, radius).fits:
        whose = _whose(work, part_way(turn.after, ON_RING))
        if whose not in by_hand:
            middle = turn.middle(radius)
            found.append((whose, (middle.x, middle.y), (turn.at.x, turn.at.y), turn.reach(radius)))
    return found


def _line_part(
    work: _Work, line: SawLine, whose: str, relieved: Sequence[tuple[XY, float]], known: tuple[DiscReach, ...]
) -> _Part:
    clear_start, clear_end = (
        _clear(line.first, line.corner_start, relieved),
        _clear(line.last, line.corner_end, relieved),
    )
    dx, dy = line.way
    outline, back, size = work.piece.outline, (-dx, -dy), (work.w, work.h)
    start: Point[Tile] = Point(line.start[0] + dx * clear_start, line.start[1] + dy * clear_start)
    end: Point[Tile] = Point(line.end[0] - dx * clear_end, line.end[1] - dy * clear_end)
    from_edge = _from_edge(work.piece, line, work.tools.limits.two_sizes.value)
    slits = _slits(line)
    if line.from_edge and line.to_edge:
        straight = StraightCut(whose, start, end, from_edge, "either", "", _waste(work, line))
        return _Part(straight, STRAIGHT, slits, needs=whose, line=line)
    if line.from_edge or line.to_edge:
        edge, corner, clear = (start, end, clear_end) if line.from_edge else (end, start, clear_start)
        left = (
            behind(outline, line.end, (dx, dy), *size) if line.from_edge else behind(outline, line.start, back, *size)
        )
        stopped = StoppedCut(whose, edge, corner, from_edge, clear, known, left)
        return _Part(stopped, STOPPED, slits, needs=whose, line=line)
    left = min(behind(outline, line.end, (dx, dy), *size), behind(outline, line.start, back, *size))
    plunge = PlungeCut(whose, start, end, from_edge, max(clear_start, clear_end), known, left)
    closed = any(cut.opening.name == whose and cut.kind == "hole" for cut in work.piece.cuts)
    return _Part(plunge, PLUNGES if closed else STOPPED, slits, needs=whose, line=line, closed=closed)


def _clear(at: XY, is_corner: bool, relieved: Sequence[tuple[XY, float]]) -> float:
    if not is_corner:
        return 0.0
    return next((clear for corner, clear in relieved if math.dist(corner, at) <= ON_RING), 0.0)


def _slits(line: SawLine) -> tuple[tuple[float, float, float, float], ...]:
    """A cut as the order sees it: level or plumb through its middle; none where it lies aslant."""
    (x0, y0), (x1, y1) = line.start, line.end
    if not is_rake(x1 - x0, y1 - y0):
        return ()
    if abs(x1 - x0) >= abs(y1 - y0):
        y = (y0 + y1) / 2.0
        return ((x0, y, x1, y),)
    x = (x0 + x1) / 2.0
    return ((x, y0, x, y1),)


def _on(line: SawLine) -> XY:
    """A place on the finished stretch of a cut that is no gap between two."""
    dx, dy = line.way
    return line.first[0] + dx * ON_RING * 10.0, line.first[1] + dy * ON_RING * 10.0


def _whose(work: _Work, place: XY) -> str:
    """The opening on whose outline a place lies; "" where it is trimming."""
    for cut in work.piece.cuts:
        if any(touches(edge, *place, ON_RING) for edge in edges(cut.ring)):
            return cut.opening.name
    return ""


def _faces(line: SawLine) -> Side:
    finished: Segment[Tile] = Segment(*line.first, *line.last)
    return facing(finished)


def _from_edge(piece: CutPiece, line: SawLine, two_sizes: float) -> SetOutFrom | None:
    """The measure that a cut along a side is set out by: from the piece's side where the maker's edge is left there."""
    (x0, y0), (x1, y1) = line.start, line.end
    if not is_rake(x1 - x0, y1 - y0):
        return None
    away = _faces(line)
    side = next((one for one in (away.opposite, away) if one in piece.factory_edges), away)
    box = piece.piece.tile.box
    ends = sorted((line.start, line.end), key=lambda xy: xy[1] if side.axis == "across" else xy[0])
    first, last = (box.inward(side, *end) for end in ends)
    two = abs(first - last) >= two_sizes - TOUCH
    return SetOutFrom(side, first, last, keeps=side is away.opposite, two=two)


def _waste(work: _Work, line: SawLine) -> float:
    """How wide what comes off is at its narrowest; of a corner that is cut off, how far it reaches."""
    (x0, y0), (x1, y1) = line.start, line.end
    box, away = work.piece.piece.tile.box, _faces(line)
    if is_rake(x1 - x0, y1 - y0):
        return min(box.inward(away, *line.start), box.inward(away, *line.end))
    dx, dy = line.way
    corners = ((box.min_x, box.min_y), (box.max_x, box.min_y), (box.max_x, box.max_y), (box.min_x, box.max_y))
    return max(dy * (x - x0) - dx * (y - y0) for x, y in corners)


# The order.


def _ordered(work: _Work, relief: tuple[ReliefHoles, ...]) -> HowCut:
    """Closed holes of one kind are one step, all else each its own; small holes come right before their first cut."""
    parts = work.parts
    if not parts:
        return HowCut(relief)
    groups = _groups(parts)
    ordered, strips, changed = _steps_in_order(work, groups)
    made: list[Operation] = []
    ends: list[int] = []
    drilled: set[str] = set()
    for group in ordered:
        for part in group:
            for holes in relief:
                if part.line is not None and holes.cut == part.needs and holes.cut not in drilled:
                    made.append(holes)
            if part.line is not None:
                drilled.add(part.needs)
            made.append(part.made)
        ends.append(len(made) - 1)
    rest = [holes for holes in relief if holes.cut not in drilled]
    how = [*rest, *made]
    told = tuple(replace(strip, after=ends[strip.after] + len(rest)) for strip in strips)
    lines = {id(part.made): part.line for part in parts if part.line is not None}
    snapped = tuple(_snapped(work, one, how[:number], lines) for number, one in enumerate(how))
    return HowCut(snapped, told, _why_first(work, ordered, changed))


def _groups(parts: Sequence[_Part]) -> list[list[_Part]]:
    """What is one step of the order: all cores that leave the outside as it is, and each other part alone."""
    cores = [part for part in parts if part.rank == CORES and part.closed]
    return [*([cores] if cores else []), *([part] for part in parts if part not in cores)]


def _steps_in_order(
    work: _Work, groups: Sequence[Sequence[_Part]]
) -> tuple[list[Sequence[_Part]], tuple[FreeStrip, ...], bool]:
    if len(groups) == 1:
        return list(groups), (), False
    steps = _steps(groups, work.piece.piece.outline.bounds)
    outline = work.piece.outline
    limits = work.tools.limits
    cells = Cells(
        work.w,
        work.h,
        steps,
        lambda x, y: contains(outline, Point(x, y)),
        limits.thin_strip.value,
        limits.leg_times.value,
    )
    found = in_order(steps, cells)
    return [groups[number] for number in found.steps], found.strips, found.changed


def _steps(groups: Sequence[Sequence[_Part]], trimmed: Bounds) -> list[CutStep]:
    """Each group as a step; a core that is drilled partly in what comes off has to come before that does."""
    straight = [number for number, group in enumerate(groups) if isinstance(group[0].made, StraightCut)]
    return [
        CutStep(
            group[0].rank,
            tuple(slit for part in group for slit in part.slits),
            tuple(box for part in group for box in part.voids),
            tuple(straight)
            if any(part.closed and not box.within(trimmed, TOUCH) for part in group for box in part.voids)
            else (),
        )
        for group in groups
    ]


def _snapped(
    work: _Work, one: Operation, before: Sequence[Operation], lines: Mapping[int, SawLine | None]
) -> Operation:
    """A straight cut with how it is made, which hangs on what was done before it."""
    line = lines.get(id(one))
    if not isinstance(one, StraightCut) or line is None:
        return one
    tools, limits = work.tools, work.tools.limits
    narrowest = limits.snaps.value if tools.narrowest is None else tools.narrowest
    why: Literal["", "long", "narrow", "hole", "cut"] = ""
    if tools.longest is not None and line.length > tools.longest + TOUCH:
        why = "long"
    elif one.waste < narrowest - TOUCH:
        why = "narrow"
    elif _passes_hole(work, line, before):
        why = "hole"
    elif any(isinstance(o, StoppedCut | PlungeCut | RoundNotch) for o in before):
        why = "cut"
    way: Literal["saw", "snap", "either"] = "saw" if why else "snap" if tools.longest is not None else "either"
    return replace(one, way=way, why=why)


def _passes_hole(work: _Work, line: SawLine, before: Sequence[Operation]) -> bool:
    """Whether a cut comes nearer to a hole that is there already than a bridge may be."""
    drilled = {one.cut for one in before if isinstance(one, CoreHole | PlungeCut | ByHand)}
    least = work.tools.limits.thin_bridge.value
    return any(
        passes(line, edge) < least for cut in work.piece.cuts if cut.opening.name in drilled for edge in edges(cut.ring)
    )


def _why_first(work: _Work, ordered: Sequence[Sequence[_Part]], changed: bool) -> FirstWhy:
    if len(ordered) < 2 or not any(isinstance(part.made, StraightCut) for group in ordered for part in group):
        return ""
    if changed:
        return "strip"
    first = ordered[0][0]
    if not isinstance(first.made, StraightCut):
        return "whole" if first.closed else ""
    opens = any(cut.kind != "hole" and not cut.runs_out <= set(work.piece.factory_edges) for cut in work.piece.cuts)
    return "opens into the cut" if opens else ""
