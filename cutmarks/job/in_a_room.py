"""The job of one room: its type's, in the room's hand, with what was read there in place of the type's own readings."""

from __future__ import annotations

from collections.abc import Mapping, Sequence, Set

from msgspec.structs import replace

from cutmarks.errors import Faults
from cutmarks.job.edges import EdgeSpec
from cutmarks.job.found import FoundSpec
from cutmarks.job.grammar import parse_edge, parse_spot, parse_thing
from cutmarks.job.holes import CORNERS, HoleSpec
from cutmarks.job.mirroring import mirrored
from cutmarks.job.models import Job
from cutmarks.job.rooms_file import MIRRORED, RoomRead, RoomSpec
from cutmarks.job.surfaces import SurfaceSpec
from cutmarks.job.taped import PairSpec, parse_taken
from cutmarks.job.words import Setting, found
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
    found_here: list[FoundSpec] = []
    for one in room.read:
        try:
            if one.piece:
                found_here.append(one.found_in(job.setting))
            else:
                read.setdefault(one.surface_in(job.surfaces).name, []).append(one)
        except ValueError as error:
            faults.tell(str(error), one.where)
    surfaces = tuple(_surface_read(surface, read.get(surface.name, ()), job, faults) for surface in job.surfaces)
    said = [one.values for one in room.read]
    read_in_it = {**job.read, "room": said} if said else job.read
    return replace(job, surfaces=surfaces, found=tuple(found_here), read=read_in_it)


def _surface_read(surface: SurfaceSpec, reads: Sequence[RoomRead], job: Job, faults: Faults) -> SurfaceSpec:
    if not reads:
        return surface
    setting = _setting(surface, job)
    holes = {hole.name: hole for hole in surface.holes}
    edges = dict(surface.edges)
    read_here: set[str] = set()
    for read in reads:
        with faults.about("", read.where):
            try:
                if read.edge is None:
                    name = read.hole_in(surface).name
                    holes[name] = _hole_read(holes[name], read, setting, surface)
                    read_here.add(name)
                else:
                    edges[read.edge] = _edge_read(edges.get(read.edge), read, setting)
            except ValueError as error:
                faults.tell(str(error))
    pairs = tuple(pair for pair in surface.pairs if not _is_read_apart(pair, holes, read_here))
    return replace(surface, holes=tuple(holes.values()), edges=edges, pairs=pairs)


def _is_read_apart(pair: PairSpec, holes: Mapping[str, HoleSpec], read: Set[str]) -> bool:
    """Whether what was read between two holes on the type's wall has no say in a room where one was read itself.

    The other has its place without it, or it is kept: nothing else says where that is.
    """
    return not read.isdisjoint(pair.of) and all(name in read or not holes[name].readings for name in pair.of)


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
        line_words=surface.line_words,
        edge_words={side: edge.what for side, edge in surface.edges.items()},
    )


def _by_fold(names: Sequence[str]) -> Mapping[str, str]:
    return {name.casefold(): name for name in names}


def _hole_read(hole: HoleSpec, read: RoomRead, setting: Setting, surface: SurfaceSpec) -> HoleSpec:
    """A hole where it was read: its shape is its type's, unless it was read by its corners.

    Raises ValueError: a phrase is no reading, or does not say enough of this hole.
    """
    if read.corners or read.readings:
        return _read_otherwise(hole, read, setting)
    across: Reading | None = parse_thing(read.across, "across", setting) if read.across else None
    up: Reading | None = parse_thing(read.up, "up", setting) if read.up else None
    for reading in (across, up):
        _has_its_edge(reading, surface)
    if hole.readings:
        if across is None or up is None:
            raise ValueError(
                f"{hole.name} has several readings in its type: say where it is both ways, across and up, or write "
                "readings here too."
            )
        return replace(hole, across=across, up=up, readings=(), lies=None)
    return replace(hole, across=across or hole.across, up=up or hole.up)


def _read_otherwise(hole: HoleSpec, read: RoomRead, setting: Setting) -> HoleSpec:
    """A hole that was read by four corners, or by several readings. Raises ValueError."""
    if hole.outline:
        raise ValueError(
            f"{hole.name} is given by an outline in its type: read its outermost sides, and write across and up."
        )
    if read.readings:
        if hole.corners:
            raise ValueError(f"{hole.name} is given by corners in its type: write corners, or across and up.")
        taken = tuple(parse_taken(text, setting) for text in read.readings)
        return replace(hole, across=None, up=None, readings=taken)
    if len(read.corners) != CORNERS:
        raise ValueError(f"It has {len(read.corners)} corners: a box has four; write them all, in any order round.")
    corners = tuple(parse_spot(text, setting) for text in read.corners)
    return replace(hole, across=None, up=None, readings=(), lies=None, corners=corners)


def _has_its_edge(reading: Reading | None, surface: SurfaceSpec) -> None:
    """Raises ValueError: a reading is from an edge that the type does not have."""
    if reading is None or reading.start is None or reading.start.kind != "edge":
        return
    side = reading.start.name
    if side not in surface.edges:
        raise ValueError(
            f"{found(reading.text)} is from the {side} edge, which the type does not have: read from a line, or write "
            f"that edge in the type's job first."
        )


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
