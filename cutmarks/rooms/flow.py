"""From a file of rooms to what fits: each type planned once a hand, and each room that was read with its readings."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from functools import cached_property

from msgspec import Struct
from msgspec.structs import replace

from cutmarks.checks.model import Level
from cutmarks.errors import Fault, Faults, JobError
from cutmarks.fingerprint import fingerprint_of
from cutmarks.job import Job
from cutmarks.job.in_a_room import in_hand, with_readings
from cutmarks.job.rooms_file import RoomRead, RoomsFile, RoomSpec, in_order
from cutmarks.openings.model import CutPiece
from cutmarks.plan import AreaPlan, Plan, SurfacePlan, make_plan
from cutmarks.plan.clearances import Clearance
from cutmarks.readings import RoomHand
from cutmarks.rooms.judging import Looked, judged, judged_at_pieces
from cutmarks.rooms.model import Cleared, RoomFits
from cutmarks.tiling.model import Counts

TypeInHand = tuple[str, RoomHand]


class RoomWork(Struct, frozen=True):
    """One room judged, with the plan of what is cut for it alone; None where nothing is."""

    fits: RoomFits
    special: Plan | None = None


class Rooms:
    """The rooms of a site, and the plans of their types; `load` gives the job of a type by its file, as written.

    Every type is loaded and planned when a room of it is first asked for, once for each hand.
    """

    def __init__(self, file: RoomsFile, load: Callable[[str], Job]) -> None:
        self.file = file
        self._load = load
        self._jobs: dict[TypeInHand, Job] = {}
        self._plans: dict[TypeInHand, Plan] = {}

    @property
    def specs(self) -> tuple[RoomSpec, ...]:
        """The rooms in the order of the file."""
        return self.file.site.rooms

    @cached_property
    def names(self) -> tuple[str, ...]:
        """Their names, in the order of the file."""
        return tuple(room.name for room in self.specs)

    @cached_property
    def kinds(self) -> tuple[TypeInHand, ...]:
        """Each type in each hand that there is a room of, in the order of the rooms."""
        return tuple(dict.fromkeys(self.kind_of(room) for room in self.specs))

    def kind_of(self, room: RoomSpec) -> TypeInHand:
        """A room's type and hand."""
        return self.file.site.type_of(room), room.hand

    def plan(self, kind: TypeInHand) -> Plan:
        """The plan of a type in a hand, which is what is cut for all its rooms.

        Raises:
            JobError: the type's job has faults, or cannot be told in the other hand.
        """
        if kind not in self._plans:
            # A surface whose tile or start is not decided yet is looked at as a clearance round does.
            self._plans[kind] = make_plan(self._job(kind), undecided=True)
        return self._plans[kind]

    def plan_types(self) -> None:
        """Plan every type in each hand that there is a room of.

        Raises:
            JobError: all faults of all types.
        """
        faults: list[Fault] = []
        for kind in self.kinds:
            try:
                self.plan(kind)
            except JobError as error:
                faults += error.faults
        if faults:
            raise JobError(in_order(list(dict.fromkeys(faults))))

    def _job(self, kind: TypeInHand) -> Job:
        if kind not in self._jobs:
            job = self._load(kind[0])
            try:
                self._jobs[kind] = in_hand(job, kind[1])
            except ValueError as error:
                raise JobError([job.fault((), "", str(error))]) from None
        return self._jobs[kind]

    def room(self, room: RoomSpec) -> RoomWork:
        """One room judged against its type.

        Raises:
            JobError: its type, or its readings, have faults.
        """
        kind = self.kind_of(room)
        as_cut = self.plan(kind)
        if not room.read:
            return RoomWork(RoomFits(room.name, *kind, self.fingerprint(room), (), _cleared(as_cut), room.note))
        faults = Faults(self.file.faults.fault)
        job = with_readings(self._job(kind), room, faults)
        if faults:
            raise JobError(in_order(list(faults)))
        try:
            as_read = make_plan(job, undecided=True)
        except JobError as error:
            raise JobError(in_order([self._here(fault) for fault in error.faults])) from None
        looked = [_looked(one, job) for one in room.read if not one.piece]
        verdicts = (*judged(as_cut, as_read, looked), *judged_at_pieces(as_cut, as_read))
        fits = RoomFits(room.name, *kind, self.fingerprint(room), verdicts, _cleared(as_read), room.note)
        return RoomWork(fits, only_pieces(as_read, fits) if as_read.piece_names.intersection(fits.specials) else None)

    def _here(self, fault: Fault) -> Fault:
        """A fault of what stands in the file of rooms, by its line there."""
        is_here = fault.path[:1] == ("rooms",)
        return self.file.faults.fault(fault.path, fault.about, fault.sentence) if is_here else fault

    def fingerprint(self, room: RoomSpec) -> str:
        """The fingerprint of a room: its name, what its type is, and what was read in it; no other room counts."""
        read = [one.values for one in room.read]
        kind = self.kind_of(room)
        said = {"site": self.file.site.name, "room": room.name, "type": kind[0], "plan": self.plan(kind).fingerprint}
        return fingerprint_of({**said, "read": read, "note": room.note})


def _looked(read: RoomRead, job: Job) -> Looked:
    """What a reading is of, as it is called in the job."""
    surface = read.surface_in(job.surfaces)
    what = read.hole_in(surface).name if read.edge is None else read.edge
    return Looked(surface.name, what, shape_too=bool(read.corners))


def _cleared(plan: Plan) -> tuple[Cleared, ...]:
    """Each fitting of the surfaces without tiles, and what is wrong with it."""
    return tuple(Cleared(one.opening.surface, one.opening.name, tuple(_open(one))) for one in plan.clearances)


def _open(one: Clearance) -> Iterator[tuple[Level, str]]:
    return ((finding.level, finding.text) for finding in one.wrong if finding.accepted is None)


def only_pieces(plan: Plan, fits: RoomFits) -> Plan:
    """A room's plan with the pieces alone that are cut anew for it, under the room's own name."""
    names = set(fits.specials)
    pieces = tuple(piece for piece in plan.pieces if piece.name in names)
    surfaces = tuple(
        replace(surface, areas=tuple(replace(area, counts=_counts(surface, area, pieces)) for area in surface.areas))
        for surface in plan.surfaces
    )
    holes = {cut.opening.name for piece in pieces for cut in piece.cuts}
    about = names | holes
    return replace(
        plan,
        job=f"{plan.job}, room {fits.room}",
        surfaces=surfaces,
        pieces=tuple(replace(piece, same_as=None) for piece in pieces),
        cuttings={name: cutting for name, cutting in plan.cuttings.items() if name in names},
        registrations=tuple(one for one in plan.registrations if one.piece in names),
        openings=tuple(opening for opening in plan.openings if opening.name in holes),
        sure=tuple(one for one in plan.sure if one.piece in names),
        findings=tuple(finding for finding in plan.findings if about & set(finding.about)),
        clearances=(),
        beside=tuple(piece for piece in plan.pieces if piece.name not in names),
    )


def _counts(surface: SurfacePlan, area: AreaPlan, pieces: Sequence[CutPiece]) -> Counts:
    """What of an area is cut anew: a tile each."""
    own = [one for one in pieces if (one.piece.surface, one.piece.area) == (surface.setout.name, area.name)]
    trimmed = sum(bool(one.cut_edges) for one in own)
    return Counts(whole=len(own) - trimmed, cut=trimmed, gone=0)
