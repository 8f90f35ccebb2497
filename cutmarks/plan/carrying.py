"""Starts that follow from another wall's: a course or a vein that goes round a corner with what came off its end.

The last tile of a course on the one wall and the first piece on the other are one tile: with b fixed there, and a joint
in the corner, tile - b - joint begins the course here; where the saw takes more than the joint, so much less.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from msgspec import Struct
from msgspec.structs import replace

from cutmarks.choosing.asking import AXES
from cutmarks.choosing.words import before, figure, of_axis, start_at, start_words
from cutmarks.geometry.regions import spans_across
from cutmarks.geometry.tolerance import COINCIDE, TOUCH
from cutmarks.readings import Start
from cutmarks.setout.edges import stretch_at
from cutmarks.setout.lines import on_lines
from cutmarks.setout.model import SetOut
from cutmarks.setout.surface import set_out
from cutmarks.sides import Side
from cutmarks.tiling.areas import layout_of, limits
from cutmarks.tiling.bonds import kerf_of
from cutmarks.tiling.grid import tile_as_laid
from cutmarks.units import MM_PER, Style, Unit, say

if TYPE_CHECKING:
    from cutmarks.errors import Faults
    from cutmarks.job import Job
    from cutmarks.job.models import AreaSpec, SurfaceSpec


class _From(Struct, frozen=True):
    """The area that another one goes on from, its surface, and the end of its courses at which it does."""

    surface: SurfaceSpec
    area: AreaSpec
    end: Side


def with_carried_starts(
    job: Job, style: Style, faults: Faults, *, undecided: bool = False
) -> tuple[Job, tuple[str, ...]]:
    """The job with the start of every area worked out that carries on from another wall, and what each came to.

    A wall that carries on may be carried on from. One that cannot be worked out is told to `faults`; where `undecided`,
    one whose other wall has no start yet has none either.
    """
    waiting = {(surface.name, area.name) for surface in job.surfaces for area in surface.areas if area.carries_on_from}
    said: list[str] = []
    while waiting:
        ready = [one for one in sorted(waiting) if not _goes_on_from_one_of(job, one, waiting)]
        for surface_name, area_name in ready or sorted(waiting):
            surface = next(one for one in job.surfaces if one.name == surface_name)
            area = next(one for one in surface.areas if one.name == area_name)
            with faults.about(f'area "{area.name}"', (*area.where, "carries on from")):
                if ready and undecided and _waits_for_a_start(job, surface, area):
                    continue
                found = _carried(job, surface, area, style) if ready else "it goes round in a ring: give one its start."
                if isinstance(found, str):
                    faults.tell(found)
                    continue
                changed, sentence = found
                said.append(sentence)
                areas = tuple(changed if one is area else one for one in surface.areas)
                surfaces = (replace(one, areas=areas) if one is surface else one for one in job.surfaces)
                job = replace(job, surfaces=tuple(surfaces))
        waiting -= set(ready or waiting)
    return job, tuple(said)


def _goes_on_from_one_of(job: Job, one: tuple[str, str], waiting: set[tuple[str, str]]) -> bool:
    surface = next(surface for surface in job.surfaces if surface.name == one[0])
    area = next(area for area in surface.areas if area.name == one[1])
    found = _source(job, surface, area)
    return not isinstance(found, str) and (found.surface.name, found.area.name) in waiting


def _source(job: Job, surface: SurfaceSpec, area: AreaSpec) -> _From | str:
    """What an area carries on from, or why there is no such thing."""
    assert area.carries_on_from is not None
    end, name = Side(area.carries_on_from.end), area.carries_on_from.of
    others = [one for one in job.surfaces if one is not surface]
    found = [(one, its) for one in others for its in one.areas if its.name.casefold() == name.casefold()]
    if not found:
        walls = [one for one in others if one.name.casefold() == name.casefold()]
        if not walls:
            names = ", ".join(one.name for one in others) or "none"
            return f'there is no other surface called "{name}": write one of {names}, or the left of it.'
        found = [(walls[0], its) for its in walls[0].areas if its.tile == area.tile]
        if not found:
            return f"{walls[0].name} has no area of {area.tile}: a course goes on with the same tile."
        if len(found) > 1:
            names = " or ".join(its.name for _, its in found)
            return f"{walls[0].name} has several areas of {area.tile}: write carries on from: {names}."
    return _From(*found[0], end)


def _waits_for_a_start(job: Job, surface: SurfaceSpec, area: AreaSpec) -> bool:
    source = _source(job, surface, area)
    return not isinstance(source, str) and (source.area.start_across is None or source.area.start_up is None)


def _carried(job: Job, surface: SurfaceSpec, area: AreaSpec, style: Style) -> tuple[AreaSpec, str] | str:
    """The area with its start, and what it came to; or why it cannot be worked out."""
    source = _source(job, surface, area)
    if isinstance(source, str):
        return source
    why_not = "; ".join(_unlike(job, source, area, style))
    if why_not:
        return why_not
    own = job.faults()
    here, there = set_out(surface, job, own), set_out(source.surface, job, own)
    if own:
        return "it waits for what is wrong with the edges or lines of either wall, which is told there."
    up = area.start_up or source.area.start_up
    assert up is not None
    assert up.at.start is not None
    if up.at.start.name not in here.lines or any(not of_axis(here.lines.values(), axis) for axis in AXES):
        return (
            f"{source.surface.name} starts from {up.at.start.name}, which is no line of {surface.name}: give both "
            "walls a level line of that name, drawn at one height."
        )
    return _worked_out(job, area, source, here, there, up, style)


def _unlike(job: Job, source: _From, area: AreaSpec, style: Style) -> Iterator[str]:
    """Why a course cannot go on from that area into this one."""
    other, name = source.area, source.surface.name
    if area.start_across is not None:
        yield f"it has a start across too, and carries on from {name} says where that is: leave one out."
    if other.start_across is None or other.start_up is None:
        yield f"{name} has no start yet to carry on from: write that first, or let cutmarks setout show what to write."
    sizes = [tile_as_laid(job.tiles[one.tile], one) for one in (other, area)]
    if abs(other.joint - area.joint) > TOUCH or abs(sizes[0].w - sizes[1].w) > TOUCH:
        yield (
            f"its tile lies {say(sizes[1].w, style)} across with a joint of {say(area.joint, style)}, and on {name} "
            f"{say(sizes[0].w, style)} with one of {say(other.joint, style)}: a course goes on with the same."
        )
    if (other.bond.part, other.bond.mm, other.bond.way) != (area.bond.part, area.bond.mm, area.bond.way):
        yield f"its bond is {area.bond.words}, and on {name} {other.bond.words}: a course goes on with the same."
    if area.bond.carried is not None:
        yield "what comes off the end of a course begins the next one already: leave one of the two out."
    if area.turn or other.turn:
        yield "courses that lie turned do not go round a corner."


def _worked_out(
    job: Job, area: AreaSpec, source: _From, here: SetOut, there: SetOut, up: Start, style: Style
) -> tuple[AreaSpec, str] | str:
    other = layout_of(source.area, there, job)
    tile, side = tile_as_laid(job.tiles[area.tile], area), source.end.opposite
    # The course there that lies where this one's start course does: both walls' lines of one name are one level.
    low = on_lines(up.at, here.lines) - before(up.anchor, tile.h, area.joint)
    row = other.row_at(low + tile.h / 2 - other.grid.to_surface.dy)
    spans = spans_across(limits(area, here), low + tile.h / 2)
    column = other.end_of_row(row, source.end) if not {source.end} & other.open_to else None
    edge = here.edges.get(side)
    if column is None or not spans or edge is None:
        return (
            f"it needs what ends the courses of {source.surface.name} on the {source.end}, and its own {side} edge: "
            "read both."
        )
    last = other.shape((column, row))
    assert last is not None
    fixed = last.bounds.width
    corner = edge.gaps[stretch_at(edge, low + tile.h / 2)]
    comes_off = max(corner, kerf_of(job)[0])
    is_whole = fixed >= tile.w - COINCIDE
    begins = tile.w if is_whole else tile.w - fixed - comes_off
    if begins <= 0.0:
        return f"nothing is left of the tile at the {source.end} of {source.surface.name}: give it a start of its own."
    ends_at = spans[0][0] if side is Side.LEFT else spans[-1][1]
    pitch = tile.w + area.joint
    at = ends_at + begins + area.joint if side is Side.LEFT else ends_at - begins - pitch
    step = float(MM_PER[Unit.INCH]) / 16 if job.units.is_imperial else 1.0
    plumb = of_axis(here.lines.values(), "across")
    across = start_at("across", at, tile.w, area.joint, plumb, here.kind, job.units, step)
    # Nobody writes it: it is said as it is read off a tape, and lies where it was worked out.
    exact, of_tape = figure(abs(across.at.low), job.units), say(abs(across.at.low), style)
    across = replace(across, at=replace(across.at, text=across.at.text.replace(exact, of_tape, 1)))
    bond = area.bond
    if row % 2 and bond.way == "alternate":
        bond = replace(bond, part=-bond.part, mm=-bond.mm)  # its even course is the odd one there
    why = "a whole tile" if is_whole else f"{say(fixed, style)} of a tile, less {say(comes_off, style)}"
    off = (low - other.grid.to_surface.dy) % other.grid.pitch_v
    off = min(off, other.grid.pitch_v - off)
    level = "" if off <= job.limits.figures().reading.value else f" Its courses lie {say(off, style)} off those there."
    return replace(area, start_across=across, start_up=up, bond=bond), (
        f"{here.name}, {area.name}: carries on from {source.surface.name}, where its course ends at the {source.end} "
        f"in {why}: {say(begins, style)} begin it here, {start_words(across)}, {start_words(up)}.{level}"
    )
