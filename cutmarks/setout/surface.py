"""A surface set out: lines placed, edges and voids turned into the ground that is left for tile."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import TYPE_CHECKING

from msgspec import Struct
from msgspec.structs import replace

from cutmarks.errors import Faults, GeometryError
from cutmarks.geometry.frames import Point, Surface
from cutmarks.geometry.offset import shrunk
from cutmarks.geometry.regions import Region, difference, region
from cutmarks.geometry.rings import Ring, polygon
from cutmarks.patterns import late
from cutmarks.readings import USUAL_CORNER
from cutmarks.setout.edges import FAR, block, read_at, runs_up, straight
from cutmarks.setout.lines import on_lines, place_lines
from cutmarks.setout.model import BATTENS, KeepOut, Line, SetOut, SurfaceEdge, Void
from cutmarks.setout.outlines import ring_through
from cutmarks.setout.spans import span_on_surface
from cutmarks.sides import SIDES, FourSides, Side

if TYPE_CHECKING:
    from cutmarks.job import Job
    from cutmarks.job.edges import Step
    from cutmarks.job.models import EdgeReading, EdgeSpec, KeepOutSpec, SurfaceSpec, VoidSpec
    from cutmarks.limits import Limits
    from cutmarks.readings import Reading, SillBoard

PAST = 50.0
"""So far past the edge above a window that goes on there is taken to go, mm: tile ends at that edge."""


def set_out(surface: SurfaceSpec, job: Job, faults: Faults) -> SetOut:
    """Lines, edges, voids and clear ground of one surface, in its Surface frame; what is wrong is told to `faults`."""
    with faults.about(f'surface "{surface.name}"', surface.where):
        return _set_out(surface, job, faults)


def _set_out(surface: SurfaceSpec, job: Job, faults: Faults) -> SetOut:
    lines = place_lines(surface)
    edges = {spec.side: _edge(spec, surface, lines, job) for spec in surface.edges.values()}
    if surface.outline:
        outline, clear = _outlined(surface, lines, job, faults)
        open_sides: frozenset[Side] = frozenset()
        bare = outline if outline is not None else clear
    else:
        open_sides = frozenset(side for side in SIDES if side not in edges)
        clear = inside(_blocks(edges.values(), surface, faults))
        bare = inside(_blocks(map(_bare, edges.values()), surface, job.faults()))
        outline = None if open_sides else bare
    if clear.is_empty and not surface.outline:
        faults.tell("its edges leave no room: a left edge lies right of a right one?")
    voids = [_void(spec, surface, lines, edges, job, faults) for spec in surface.voids]
    keep_outs = tuple(
        KeepOut(spec.name, _ring(spec, lines, edges), spec.why, spec.note) for spec in surface.do_not_drill
    )
    return SetOut(
        name=surface.name,
        kind=surface.kind,
        lines=lines,
        edges=edges,
        outline=outline,
        bare=bare,
        clear=clear,
        open_sides=open_sides,
        voids=tuple(void for void in voids if void is not None),
        keep_outs=keep_outs,
        up=surface.up or _towards_what(surface),
        way_out=surface.way_out,
    )


def _outlined(
    surface: SurfaceSpec, lines: Mapping[str, Line], job: Job, faults: Faults
) -> tuple[Region[Surface] | None, Region[Surface]]:
    """A surface by its corners: bare, and less its gaps; (None, nothing) and a fault where that cannot be."""
    ring = ring_through(surface.outline, lines)
    try:
        return region(ring), region(shrunk(ring, _gaps_by_facing(ring, surface, job.limits.figures())))
    except GeometryError as error:
        faults.tell(f"its gaps cannot be taken off its outline: {error}.")
        return None, Region(())


def _blocks(edges: Iterable[SurfaceEdge], surface: SurfaceSpec, faults: Faults) -> list[Region[Surface]]:
    """What lies beyond each edge; a fault for an edge whose steps and gaps run into each other."""
    blocks = []
    for edge in edges:
        try:
            blocks.append(block(edge))
        except GeometryError:
            with faults.about(f"{edge.side} edge", surface.edges[edge.side].where):
                faults.tell(
                    "its steps run into each other: list them in order, upward or to the right, each longer than the "
                    "space that is kept clear beside it."
                )
    return blocks


_STOOD_ON = (*BATTENS, "packers")
_NOTHING_THERE = late(r"^(?:nothing|open)$|\b(?:open|free) (?:end|edge)\b", re.IGNORECASE)
_TRIM = late(r"\btrim\b", re.IGNORECASE)


def is_open_end(what: str) -> bool:
    """Whether the tiles end there with nothing beside them, by what is said to be there: "open end, metal trim"."""
    return _NOTHING_THERE.search(" ".join(what.split())) is not None


def has_unsized_trim(edge: EdgeSpec) -> bool:
    """Whether a trim is named at an open end, and its width is not under its key: nothing is taken off for it."""
    return not edge.trim and edge.corner is None and is_open_end(edge.what) and _TRIM.search(edge.what) is not None


def default_gap(side: Side, kind: str, what: str, limits: Limits) -> float:
    """The gap taken where none was given, mm: one over a floor, another elsewhere.

    None is kept where the tiles stand on what is there, and where they end with nothing beside them.
    """
    said = what.strip().lower()
    if is_open_end(said) or (side == "bottom" and any(word in said for word in _STOOD_ON)):
        return 0.0
    over_floor = side == "bottom" and kind == "wall" and (not said or "floor" in said)
    return limits.floor_gap.value if over_floor else limits.gap.value


def usual_gap(spec: EdgeSpec, kind: str, lines: Mapping[str, str], limits: Limits) -> float:
    """The gap taken at an edge where none was given, mm; lines: what each set-out line is, in words.

    An edge that is read on the line of a batten is that batten.
    """
    on = {_line_of(one.at) for one in spec.readings}
    if spec.side == "bottom" and not spec.what and len(on) == 1:
        what = lines.get(on.pop() or "", "").lower()
        if any(word in what for word in _STOOD_ON):
            return 0.0
    return default_gap(spec.side, kind, spec.what, limits)


def _line_of(reading: Reading) -> str | None:
    """The set-out line that something was read on; None where it lies beside it, or was read from something else."""
    start = reading.start
    is_on = start is not None and start.kind == "line" and reading.low == 0.0 and reading.high in (None, 0.0)
    return start.name if start is not None and is_on else None


def takes_usual_gap(spec: EdgeSpec, gaps: Mapping[Side, float]) -> bool:
    """Whether no gap was said of an edge, nor of its side among its surface's `gaps`: the usual one is taken then."""
    return spec.gap is None and spec.side not in gaps and not is_outer_corner(spec)


def _edge(spec: EdgeSpec, surface: SurfaceSpec, lines: Mapping[str, Line], job: Job) -> SurfaceEdge:
    limits = job.limits.figures()
    passes = round_corner(spec)
    beside = spec.trim - passes
    assumed = False
    whats: tuple[str, ...] = ()
    unfinished: tuple[bool, ...] = ()
    read: tuple[tuple[Point[Surface], ...], ...] = ()
    to_come = spec.still_to_come
    if spec.steps:
        to_come = spec.steps[0].still_to_come
        stepped = tuple(_stepped(spec, lines))
        stretches = [(one.step, point) for one in stepped for point in one.lies]
        measured = tuple(point for _, point in stretches)
        read = tuple(one.read for one in stepped)
        gaps = tuple(gap_of_step(step, spec, surface, limits) for step, _ in stretches)
        clears = tuple(gap + step.still_to_come + beside for gap, (step, _) in zip(gaps, stretches, strict=True))
        whats = tuple(step.what or spec.what for step, _ in stretches)
        unfinished = tuple(not step.still_to_come_known for step, _ in stretches)
    else:
        gap = _gap_at(spec, surface, limits)
        measured = _polyline(spec.side, spec.readings, lines)
        clears = tuple(gap + spec.still_to_come + beside for _ in measured)
        gaps = tuple(gap for _ in measured)
        assumed = len(measured) == 1 and not spec.true
    return SurfaceEdge(
        side=spec.side,
        measured=measured,
        clears=clears,
        gaps=gaps,
        still_to_come=to_come if spec.finish_known else None,
        what=spec.what,
        hidden_by=spec.hidden_by,
        scribe=spec.scribe,
        assumed=assumed,
        trim=spec.trim,
        lining=spec.lining,
        corner=spec.corner,
        passes=passes,
        finish=spec.edge_finish,
        hides=spec.hides,
        note=spec.note,
        whats=whats,
        unfinished=unfinished,
        read=read,
        usual_gap=takes_usual_gap(spec, surface.gaps),
    )


def gap_of_step(step: Step, spec: EdgeSpec, surface: SurfaceSpec, limits: Limits) -> float:
    """The gap at one stretch of an edge that steps, mm: its own, else as the edge's, the usual one by what it is."""
    return step.gap if step.gap is not None else _gap_at(replace(spec, what=step.what or spec.what), surface, limits)


def _gap_at(spec: EdgeSpec, surface: SurfaceSpec, limits: Limits) -> float:
    """The gap at an edge, mm: its own, the surface's, or the usual one; round an outer corner nothing is kept clear."""
    if spec.gap is not None:
        return spec.gap
    if spec.side in surface.gaps:
        return surface.gaps[spec.side]
    if not takes_usual_gap(spec, surface.gaps):
        return 0.0
    return usual_gap(spec, surface.kind, surface.line_words, limits)


def is_outer_corner(spec: EdgeSpec | VoidSpec) -> bool:
    """Whether tile goes on round an edge of it."""
    return spec.corner is not None or spec.lining is not None


def round_corner(spec: EdgeSpec | VoidSpec) -> float:
    """How far the tile in front passes an edge round which tile goes on, mm."""
    return (spec.corner or USUAL_CORNER).passes(spec.lining or 0.0) if is_outer_corner(spec) else 0.0


def _polyline(side: Side, readings: Sequence[EdgeReading], lines: Mapping[str, Line]) -> tuple[Point[Surface], ...]:
    """The edge through its readings in running order; several say each where it was taken, no two at one place."""
    if len(readings) == 1:
        return straight(side, on_lines(readings[0].at, lines))
    found = sorted(
        (on_lines(reading.along, lines), on_lines(reading.at, lines))
        for reading in readings
        if reading.along is not None
    )
    return tuple(Point(v, t) if runs_up(side) else Point(t, v) for t, v in found)


class _SteppedPart(Struct, frozen=True):
    """One stretch of an edge that steps: its readings where they were taken, and it itself, cut to where it lies.

    A lone reading may have been taken anywhere: it stands at both ends of its stretch.
    """

    step: Step
    read: tuple[Point[Surface], ...]
    lies: tuple[Point[Surface], ...]


def _stepped(spec: EdgeSpec, lines: Mapping[str, Line]) -> Iterator[_SteppedPart]:
    """The stretches of an edge that steps (bath, apron, floor), each by the line through its own readings.

    That line goes on straight to the ends of the stretch, which only cut it: one may read a floor on either side of a
    bath at the two ends of the room. Several readings say each where it was taken, no two at one place.
    """
    up = runs_up(spec.side)

    def on_surface(points: Iterable[tuple[float, float]]) -> tuple[Point[Surface], ...]:
        return tuple(Point(v, t) if up else Point(t, v) for t, v in points)

    begins = None
    for step in spec.steps:
        ends = None if step.until is None else on_lines(step.until, lines)
        ats = [on_lines(one.at, lines) for one in step.readings]
        if len(ats) == 1:
            lies = on_surface((t, ats[0]) for t in ([t for t in (begins, ends) if t is not None] or [0.0]))
            yield _SteppedPart(step, lies, lies)
        else:
            taken = sorted(
                (on_lines(one.along, lines), at) for one, at in zip(step.readings, ats, strict=True) if one.along
            )
            along = [t for t, _ in taken if (begins is None or t > begins) and (ends is None or t < ends)]
            along = [*([] if begins is None else [begins]), *along, *([] if ends is None else [ends])]
            if len(along) == 1:
                # At either end of the edge a second place tells how it goes on: as far on as it was read.
                apart = taken[-1][0] - taken[0][0]
                along = [begins, begins + apart] if begins is not None else [along[0] - apart, along[0]]
            yield _SteppedPart(step, on_surface(taken), on_surface((t, read_at(taken, t)) for t in along))
        begins = ends


def _bare(edge: SurfaceEdge) -> SurfaceEdge:
    """The edge as measured, nothing kept clear."""
    nothing = tuple(0.0 for _ in edge.measured)
    return SurfaceEdge(edge.side, edge.measured, nothing, nothing, 0.0)


def inside(blocks: Sequence[Region[Surface]]) -> Region[Surface]:
    """What is left of everywhere inside these blocks, each of which lies beyond an edge."""
    ground: Region[Surface] = region(polygon([(-FAR, -FAR), (FAR, -FAR), (FAR, FAR), (-FAR, FAR)]))
    for taken in blocks:
        ground = difference(ground, taken)
    return ground


def _gaps_by_facing(ring: Ring[Surface], surface: SurfaceSpec, limits: Limits) -> list[float]:
    """The gap at each side of an outline, by the way that side faces."""
    return [surface.gaps.get(side, default_gap(side, surface.kind, "", limits)) for side in _facing(ring)]


def _facing(ring: Ring[Surface]) -> list[Side]:
    """For each side of a counter-clockwise outline the way that it faces."""
    sides = []
    corners = ring.vertices
    for a, b in zip(corners, corners[1:] + corners[:1], strict=True):
        out_x, out_y = b.y - a.y, a.x - b.x
        sides.append(
            (Side.RIGHT if out_x > 0 else Side.LEFT)
            if abs(out_x) >= abs(out_y)
            else (Side.TOP if out_y > 0 else Side.BOTTOM)
        )
    return sides


def sill_laps(spec: VoidSpec, kind: str) -> bool:
    """Whether what lies on the foot of a void laps the tile in front, so that water runs off it.

    A board does, and a tiled sill; a trim and a mitre go all round.
    """
    tiled = is_outer_corner(spec) and (spec.corner is None or spec.corner.way in ("front laps", "return laps"))
    return kind == "wall" and (tiled or bool(spec.sill_board))


def passes_of(spec: VoidSpec, kind: str) -> FourSides[float]:
    """How far the tile in front passes each edge of a void, mm: at a foot that is lapped it ends at the edge."""
    passes = round_corner(spec)
    return FourSides(passes, passes, 0.0 if sill_laps(spec, kind) else passes, passes)


def void_gap(surface: SurfaceSpec, limits: Limits) -> float:
    """The gap round a window, niche or door that has none of its own, mm: the surface's, if that is one for all."""
    return limits.gap.value if surface.one_gap is None else surface.one_gap


def kept_clear(spec: VoidSpec, kind: str, gap: float) -> FourSides[float]:
    """What is kept clear at each edge of a void, mm, `gap` being the usual: where tile goes on round it, nothing."""
    if spec.gap is not None or not is_outer_corner(spec):
        own = gap if spec.gap is None else spec.gap
        return FourSides(own, own, own, own)
    return FourSides(0.0, 0.0, gap if spec.sill_board and kind == "wall" else 0.0, 0.0)


def _cleared(
    ring: Ring[Surface], sill: SillBoard | None, passes: FourSides[float], gaps: FourSides[float]
) -> Ring[Surface]:
    """A void as it takes tile: moved in by what tile passes its edges, out by what is kept clear; with its horns.

    Raises GeometryError: nothing would be left.
    """
    moved = FourSides.of(lambda side: passes[side] - gaps[side])
    if sill is None or not sill.horns or sill.thick is None:
        return shrunk(ring, [moved[side] for side in _facing(ring)])
    box, round_it = ring.bounds, -gaps.bottom
    left, right, top = box.min_x - sill.horns, box.max_x + sill.horns, box.min_y + sill.thick
    foot = [(left, box.min_y), (right, box.min_y), (right, top), (box.max_x, top)]
    horned: Ring[Surface] = polygon(
        [*foot, (box.max_x, box.max_y), (box.min_x, box.max_y), (box.min_x, top), (left, top)]
    )
    return shrunk(horned, [round_it] * 3 + [moved.right, moved.top, moved.left] + [round_it] * 2)


def _void(
    spec: VoidSpec,
    surface: SurfaceSpec,
    lines: Mapping[str, Line],
    edges: Mapping[Side, SurfaceEdge],
    job: Job,
    faults: Faults,
) -> Void | None:
    # Tile that passes a lined edge takes room off the window, and none may come in over its head.
    ring = _ring(spec, lines, edges, PAST + (spec.lining or 0.0))
    limits = job.limits.figures()
    kind = surface.kind
    gaps, passes = kept_clear(spec, kind, void_gap(surface, limits)), passes_of(spec, kind)
    gap = max(gaps)
    under = None
    if spec.undercut is not None:
        under = limits.goes_under.value if spec.goes_under is None else spec.goes_under
    try:
        cleared = _cleared(ring, spec.sill, passes, gaps)
        return Void(
            spec.name,
            spec.kind,
            ring,
            cleared,
            gap,
            spec.undercut,
            under,
            spec.lining,
            spec.corner,
            passes if is_outer_corner(spec) else None,
            sill_laps(spec, kind),
            shrunk(ring, [passes[side] for side in _facing(ring)]) if is_outer_corner(spec) else None,
            spec.sill,
            spec.edge_finish,
            spec.note,
            limits.beside_frame.value,
        )
    except GeometryError:
        if max(passes) > gap:
            sentence = (
                f"tile would pass its edges by {max(passes):g} mm, and nothing of it would be left: look at its sides, "
                "or write a smaller lining."
            )
            with faults.about(f'{spec.kind} "{spec.name}"', spec.where):
                faults.tell(sentence)
            return None
        sentence = (
            f"with a gap of {gap:g} mm all round, its outline would run into itself: look at its corners, or write a "
            "smaller gap."
        )
        with faults.about(f'{spec.kind} "{spec.name}"', spec.where):
            faults.tell(sentence)
        return None


def _towards_what(surface: SurfaceSpec) -> str:
    """What UP on a floor points at where the job does not say: away from the line that it is measured from."""
    if surface.kind == "wall":
        return ""
    base = next((line.name for line in surface.lines if line.fixes == "y" and line.at is None), "")
    return f"away from {base}" if base else "into the room"


def _ring(
    spec: VoidSpec | KeepOutSpec, lines: Mapping[str, Line], edges: Mapping[Side, SurfaceEdge], past: float = 0.0
) -> Ring[Surface]:
    """Its outline on the surface, corner by corner or by both its sides on both axes.

    One that goes on past the edge above ends `past` mm beyond it.
    """
    if spec.outline:
        return ring_through(spec.outline, lines)
    assert spec.across is not None
    assert spec.up is not None
    (x0, x1), (y0, y1) = span_on_surface(spec.across, spec.up, lines, edges, past)
    return polygon([(x0, y0), (x1, y0), (x1, y1), (x0, y1)])
