"""The job of one room: its type's, in the room's hand, with what was read there in place of the type's own readings."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from msgspec.structs import replace

from cutmarks.errors import Faults
from cutmarks.job.edges import EdgeSpec
from cutmarks.job.grammar import parse_edge, parse_thing
from cutmarks.job.holes import HoleSpec
from cutmarks.job.mirroring import mirrored
from cutmarks.job.models import Job
from cutmarks.job.rooms_file import MIRRORED, RoomRead, RoomSpec
from cutmarks.job.surfaces import SurfaceSpec
from cutmarks.job.words import Setting, either, found
from cutmarks.readings import Reading, RoomHand


def in_hand(job: Job, hand: RoomHand) -> Job:
    """A type as it is in rooms of one hand.

    What came back from a wall (`found`) is of one room, and no type's.

    Raises:
        ValueError: it has a reading that cannot be told in the other hand.
    """
    return mirrored(job) if hand == MIRRORED else replace(job, found=())


def with_readings(job: Job, room: RoomSpec, faults: Faults) -> Job:
    """A type's job, in the room's hand already, with the readings of the room; what is wrong with them is told."""
    read: dict[str, list[RoomRead]] = {}
    for one in room.read:
        surface = _surface_of(one, job.surfaces, faults)
        if surface is not None:
            read.setdefault(surface.name, []).append(one)
    surfaces = tuple(_surface_read(surface, read.get(surface.name, ()), job, faults) for surface in job.surfaces)
    said = [[one.on, one.hole, one.edge, one.across, one.up, list(one.at)] for one in room.read]
    return replace(job, surfaces=surfaces, read={**job.read, "room": said} if said else job.read)


def _surface_of(read: RoomRead, surfaces: Sequence[SurfaceSpec], faults: Faults) -> SurfaceSpec | None:
    names = {surface.name.casefold(): surface for surface in surfaces}
    if not read.on and len(surfaces) == 1:
        return surfaces[0]
    if read.on.casefold() in names:
        return names[read.on.casefold()]
    allowed = either([surface.name for surface in surfaces])
    found_ = f"{found(read.on)} is no surface of this type" if read.on else "It does not say on which surface it is"
    faults.tell(f"{found_}: write on: {allowed}.", read.where)
    return None


def _surface_read(surface: SurfaceSpec, reads: Sequence[RoomRead], job: Job, faults: Faults) -> SurfaceSpec:
    if not reads:
        return surface
    setting = _setting(surface, job)
    holes = {hole.name.casefold(): hole for hole in surface.holes}
    edges = dict(surface.edges)
    for read in reads:
        with faults.about("", read.where):
            try:
                if read.edge is None:
                    hole = _hole_named(read.hole, surface)
                    holes[hole.name.casefold()] = _hole_read(holes[hole.name.casefold()], read, setting)
                else:
                    edges[read.edge] = _edge_read(edges.get(read.edge), read, setting)
            except ValueError as error:
                faults.tell(str(error))
    return replace(surface, holes=tuple(holes.values()), edges=edges)


def _setting(surface: SurfaceSpec, job: Job) -> Setting:
    """What a phrase on this surface is read in, as it was in the job file."""
    return Setting(
        unit=job.units,
        say=job.say,
        kind=surface.kind,
        lines={line.name: line.fixes for line in surface.lines},
        holes=_by_fold([hole.name for hole in surface.holes]),
        areas=_by_fold([area.name for area in surface.areas]),
        points=_by_fold(list(surface.points)),
        line_words={line.name: line.words for line in surface.lines},
        edge_words={side: edge.what for side, edge in surface.edges.items()},
    )


def _by_fold(names: Sequence[str]) -> Mapping[str, str]:
    return {name.casefold(): name for name in names}


def _hole_named(name: str, surface: SurfaceSpec) -> HoleSpec:
    """Raises ValueError: there is none of that name."""
    for hole in surface.holes:
        if hole.name.casefold() == name.casefold():
            return hole
    allowed = either([hole.name for hole in surface.holes])
    raise ValueError(
        f"{found(name)} is no hole on {surface.name}"
        + (f": write {allowed}." if allowed else ", which has none: write on: and the surface that it is on.")
    )


def _hole_read(hole: HoleSpec, read: RoomRead, setting: Setting) -> HoleSpec:
    """Raises ValueError: a phrase is no reading, or the type gives the hole by corners."""
    if hole.corners or hole.outline or hole.readings:
        raise ValueError(
            f"{hole.name} is given by corners, an outline or several readings in its type: give it across and up "
            "there, so that a room's reading can stand in their place."
        )
    across: Reading | None = parse_thing(read.across, "across", setting) if read.across else hole.across
    up: Reading | None = parse_thing(read.up, "up", setting) if read.up else hole.up
    return replace(hole, across=across, up=up)


def _edge_read(edge: EdgeSpec | None, read: RoomRead, setting: Setting) -> EdgeSpec:
    """Raises ValueError: a phrase is no reading of an edge, or the type's edge steps."""
    assert read.edge is not None
    if edge is None:
        raise ValueError(f"Its type has no {read.edge} edge: write that edge in the type's job first.")
    if edge.steps:
        raise ValueError(
            f"The {read.edge} edge steps in its type: a room's reading of it is of no use; read the holes."
        )
    within = replace(setting, side=read.edge)
    readings = tuple(parse_edge(text, read.edge, within) for text in read.at)
    if len(readings) > 1 and any(one.along is None for one in readings):
        raise ValueError(
            "It has several readings, and one does not say where it was taken: write each with at and a place."
        )
    return replace(edge, readings=readings, true="" if len(readings) > 1 else edge.true)
