"""One surface half-way: set out, tiled, its holes located and opened; and what the plan keeps of it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import partial
from types import MappingProxyType
from typing import TYPE_CHECKING

from msgspec import Struct
from msgspec.structs import replace

from cutmarks.checks.material import Material, Unlaid
from cutmarks.errors import Faults, GeometryError
from cutmarks.fittings import cores
from cutmarks.fixing.areas import assumed_order, order_of_areas
from cutmarks.fixing.order import base_words, order_of
from cutmarks.fixing.sources import Sources
from cutmarks.locating.at_face import at_the_face
from cutmarks.locating.locate import locate_all
from cutmarks.locating.model import Located
from cutmarks.openings.cuts import places_met, share_of
from cutmarks.openings.model import Opening
from cutmarks.openings.opened import as_opened
from cutmarks.openings.pieces import Surroundings
from cutmarks.openings.sizing import open_up
from cutmarks.plan.model import AreaPlan, AreaWork, Say, SurfacePlan
from cutmarks.setout.model import SetOut
from cutmarks.setout.surface import set_out
from cutmarks.tiling.areas import lay_out, look_at_spaces
from cutmarks.tiling.bonds import carried_on
from cutmarks.tiling.layout import Layout
from cutmarks.tiling.model import Counts, Place
from cutmarks.tiling.unlaid import lacks, not_looked_at, on_the_wall, placed, tiles_of
from cutmarks.tiling.words import place_in_words, said_place
from cutmarks.units import Style, Unit

MOST_WAYS = 4
"""Of so many courses from the first on it is said with which tile they begin: as many as a bond in quarters has."""
ALIKE = 0.001
"""Courses that lie so near to each other, mm, lie alike."""

if TYPE_CHECKING:
    from cutmarks.job import Job
    from cutmarks.job.models import SurfaceSpec
    from cutmarks.readings import Start
    from cutmarks.registering.calibration import Calibration


class Laid(Struct, frozen=True):
    """One surface half-way: set out, tiled, its openings located; `assumed`: what was taken of its areas' order."""

    spec: SurfaceSpec
    setout: SetOut
    layouts: tuple[Layout, ...]
    openings: tuple[Opening, ...]
    material: Material
    contexts: tuple[Surroundings, ...]
    assumed: tuple[str, ...] = ()


def cores_of(job: Job) -> tuple[float, ...]:
    """The tiler's own cores, or the usual series of the job's unit, mm, ascending."""
    own = job.tools.cores
    return tuple(sorted(own)) if own else cores("in" if job.units.is_imperial else "mm")


def say_of(job: Job, calibration: Calibration | None = None) -> Say:
    """How the job wants to be spoken to; on a printer that was measured, with that printer's margin.

    Raises ValueError: the calibration is of another paper than the job's.
    """
    if calibration is not None and calibration.paper != job.paper:
        raise ValueError(f"the calibration is of {calibration.paper}, and the job's paper is {job.paper}")
    measured = None if calibration is None else calibration.margin
    margin = job.tools.printer.margin if measured is None else measured
    style = Style(Unit.INCH if job.units.is_imperial else Unit.MM, job.finest)
    return Say(job.say, style, job.paper, margin, job.cut)


def lay(
    surface: SurfaceSpec,
    job: Job,
    say: Say,
    faults: Faults,
    undecided: bool = False,
    offered: Mapping[str, Sequence[str]] = MappingProxyType({}),
) -> Laid:
    """A surface set out and tiled, its holes located and opened; what is wrong is told to `faults`.

    Of a surface without areas, and where `undecided` of one with an area that has no start, no tile is laid: what is on
    it is located and opened as far as its place is not read from a tile. `offered` has by area, in words, what one that
    has no start may be started with: the refusal names it.
    """
    before = len(faults)
    setout = set_out(surface, job, faults)
    lacking = lacks(surface)
    if not lacking or (lacking == "start" and not undecided):
        unlooked, holes, pairs = None, surface.holes, surface.pairs
        layouts = lay_out(surface, setout, job, faults, offered) if len(faults) == before else ()
    else:
        unlooked, layouts = not_looked_at(surface, lacking), ()
        holes, pairs = placed(surface, unlooked.holes)
        if len(faults) == before:
            look_at_spaces(surface, setout, job, faults)
    located = locate_all(holes, setout, layouts, job, faults, pairs, surface.points) if len(faults) == before else []
    located, openings = _opened(located, surface.name, layouts, job, say, faults, as_closed=unlooked is not None)
    numbers = order_of_areas(surface, setout, layouts, faults) if len(faults) == before else {}
    contexts: tuple[Surroundings, ...] = ()
    taken: tuple[str, ...] = ()
    if len(faults) == before:
        taken = (*assumed_order(surface, setout, layouts), *carried_on(layouts, job, say.style))
        order = order_of(surface, setout, layouts, numbers, _holed(surface, layouts, openings))
        contexts = tuple(_contexts(surface, setout, layouts, Sources(order), say))
    material = Material(setout, layouts, located, openings, surface.board)
    if unlooked is not None:
        over = {thing.spec.name: on_the_wall(surface, setout, thing.at, job) for thing in located}
        material = replace(material, unlaid=Unlaid(unlooked, tiles_of(surface, job), over))
    material.tell_off(faults, say.style)
    return Laid(surface, setout, layouts, openings, material, contexts, taken)


def _contexts(
    surface: SurfaceSpec, setout: SetOut, layouts: Sequence[Layout], sources: Sources, say: Say
) -> Iterator[Surroundings]:
    areas = {area.name: area for area in surface.areas}
    for layout in layouts:
        yield Surroundings(layout, sources, partial(place_in_words, layout, areas[layout.area], setout, say.words))


def _holed(surface: SurfaceSpec, layouts: Sequence[Layout], openings: Sequence[Opening]) -> dict[str, frozenset[Place]]:
    """By area the places that something comes through, where such tiles are put in last."""
    if surface.holed_tiles != "left out":
        return {}
    return {
        layout.area: frozenset(
            place
            for opening in openings
            for place in places_met(opening, layout)
            if (piece := layout.piece(place)) is not None and share_of(opening, piece, piece.outline) is not None
        )
        for layout in layouts
    }


def _opened(
    located: Sequence[Located],
    surface: str,
    layouts: Sequence[Layout],
    job: Job,
    say: Say,
    faults: Faults,
    as_closed: bool,
) -> tuple[list[Located], tuple[Opening, ...]]:
    """The openings of things that can have one, with these things; a fault for each of the others.

    `as_closed`: none is opened to an edge of its tile, which is not known.
    """
    at_hand, limits = cores_of(job), job.limits.figures()
    kept: list[Located] = []
    openings: list[Opening] = []
    for thing in map(at_the_face, located):
        try:
            opening = open_up(thing, surface, at_hand, say.style, limits)
            openings.append(opening if as_closed else as_opened(opening, thing.spec, layouts, say.style, limits))
            kept.append(thing)
        except GeometryError:
            sentence = (
                "with its play all round, its opening would run into itself or have no size: look at its corners and "
                "its size, or write another play."
            )
            with faults.about(f'hole "{thing.spec.name}"', thing.spec.where):
                faults.tell(sentence)
    return kept, tuple(openings)


def surface_plan(one: Laid, gone: Mapping[str, Sequence[Place]]) -> SurfacePlan:
    """What the plan keeps of a surface; `gone` has the places of which an opening leaves nothing, by area."""
    bonds = {area.name: area.bond.words for area in one.spec.areas}
    areas = (
        _area_plan(context, one.setout, bonds[context.layout.area], gone.get(context.layout.area, ()))
        for context in one.contexts
    )
    unlaid = one.material.unlaid
    return SurfacePlan(one.setout, tuple(areas), None if unlaid is None else unlaid.unlooked)


def _counted(layout: Layout, gone: Sequence[Place]) -> Counts:
    """The area's count, less the places of which an opening leaves nothing."""
    counts = layout.counts()
    if layout.is_open:
        return replace(counts, gone=counts.gone + len(gone))
    whole = sum(layout.is_whole(place) for place in gone)
    assert counts.whole is not None
    return Counts(counts.whole - whole, counts.cut - (len(gone) - whole), counts.gone + len(gone))


def _anchored(start: Start) -> str:
    """What of the start tile lies where, as it is said: "middle on V", "sits on B", "joint 300 right of V"."""
    at_line = start.at.low == 0 and start.anchor not in ("sits on", "hangs from")
    return f"{start.anchor} {'on ' if at_line else ''}{said_place(start.at)}"


def _work(context: Surroundings, setout: SetOut) -> AreaWork:
    """Where the work of an area begins and ends on the first day."""
    layout, order = context.layout, context.sources.order
    of_area, spec = order.areas[layout.area], order.specs[layout.area]
    base = None
    if setout.kind == "wall" and layout.stands_at is not None and not of_area.hangs:
        base = layout.grid.to_surface.xy(0.0, layout.stands_at)[1]
    anchors = tuple(_anchored(one) for one in (spec.start_across, spec.start_up) if one is not None)
    first, last = of_area.ends()
    return AreaWork(
        number=of_area.number,
        base=base,
        base_words=base_words(spec),
        start_row=of_area.start_row,
        first=first,
        last=last,
        start=layout.name((0, 0)) if layout.shape((0, 0)) is not None else "",
        anchors=(anchors[0], anchors[1]),
        hangs=of_area.hangs,
        moved=tuple(_moved(context)),
    )


def _moved(context: Surroundings) -> Iterator[tuple[int, str, float]]:
    """Of the courses from the first on those that lie otherwise than the start's, each with its first tile."""
    layout, order = context.layout, context.sources.order
    grid, of_area = layout.grid, order.areas[layout.area]
    if grid.turn or layout.is_open or of_area.strict is not None:
        return
    onward = -1 if of_area.hangs else 1
    rows = layout.rows()
    ways = {0}
    for row in range(of_area.start_row, of_area.start_row + MOST_WAYS * onward, onward):
        way = round(grid.shift(row) % grid.pitch_u / ALIKE) % round(grid.pitch_u / ALIKE)
        first = of_area.first_of_course(row) if row in rows else None
        column = None if first is None else _set_out_by(layout, first, row)
        if way in ways or column is None or layout.shape((column, row)) is None:
            continue
        ways.add(way)
        yield layout.course_number(row), layout.name((column, row)), grid.placement((column, row)).dx


def _set_out_by(layout: Layout, first: int, row: int) -> int:
    """The column of the tile that a course is set out by: its first, or a whole one right beside that where it is cut.

    The edge of a cut one may lie past the end of the wall.
    """
    beside = (first, first + 1, first - 1)
    return next((column for column in beside if layout.is_whole((column, row))), first)


def _area_plan(context: Surroundings, setout: SetOut, bond_words: str, gone: Sequence[Place]) -> AreaPlan:
    layout = context.layout
    rows = () if layout.is_open else layout.rows()
    held = {row: ends for row in rows if (ends := layout.columns_held(row)) is not None}
    return AreaPlan(
        name=layout.area,
        tile=layout.tile,
        grid=layout.grid,
        counts=_counted(layout, gone),
        bond_words=bond_words,
        places=tuple((row, first, last) for row, (first, last) in held.items()),
        courses={row: layout.course_number(row) for row in held},
        ground=layout.ground,
        work=_work(context, setout),
    )
