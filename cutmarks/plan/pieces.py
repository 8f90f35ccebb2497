"""The pieces of a surface that are trimmed or cut, with what came back from the wall."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING

from msgspec import Struct, field
from msgspec.structs import replace

from cutmarks.errors import Fault, Faults, JobPath
from cutmarks.fixing.model import Rank
from cutmarks.geometry.near import Near
from cutmarks.openings.cuts import places_met
from cutmarks.openings.found import AsFound, InfillFound, NotTaken, corrected, infills_found
from cutmarks.openings.made_anew import made_anew
from cutmarks.openings.model import CutPiece, Opening
from cutmarks.openings.pieces import Surroundings, cut_pieces, swallowed_by
from cutmarks.openings.prints import shape_key
from cutmarks.plan.model import Progress
from cutmarks.plan.remarks import remarked
from cutmarks.plan.surfaces import Laid
from cutmarks.readings import Corners, base_name
from cutmarks.tiling.model import Place
from cutmarks.units import Style

if TYPE_CHECKING:
    from cutmarks.job import Job
    from cutmarks.job.models import FoundSpec


class FromTheWall(Struct):
    """What came back from the wall: the entries by piece, those that were used, and what came of them."""

    job: Job
    specs: Mapping[str, Sequence[FoundSpec]]
    style: Style
    faults: Faults
    used: set[JobPath] = field(default_factory=set)
    record: list[AsFound] = field(default_factory=list)
    infills: list[InfillFound] = field(default_factory=list)


class CutUp(Struct):
    """A surface's pieces that are trimmed or cut; by opening the names of those that it takes whole.

    gone  by area, the places of which an opening leaves nothing.
    """

    pieces: list[CutPiece] = field(default_factory=list)
    taken: dict[str, list[str]] = field(default_factory=lambda: defaultdict(list))
    gone: dict[str, list[Place]] = field(default_factory=lambda: defaultdict(list))


def cut_up(one: Laid, back: FromTheWall, progress: Progress | None) -> CutUp:
    """Every piece of a surface that is trimmed or cut, in the order of fixing, and what each hole does to which."""
    found = CutUp()
    near = Near(opening.ring.bounds for opening in one.openings)
    wanted: list[tuple[Rank, Surroundings, Place, list[Opening]]] = []
    for context in one.contexts:
        layout = context.layout
        met: dict[Place, list[Opening]] = {place: [] for place in layout.cut_places()}
        for opening in (one.openings[number] for number in near.within(layout.on_surface)):
            for place in places_met(opening, layout):
                met.setdefault(place, []).append(opening)
        order = context.sources.order
        wanted += [(order.rank(layout.area, place), context, place, through) for place, through in met.items()]
    wanted.sort(key=lambda one: one[0])
    for done, (_, context, place, through) in enumerate(wanted):
        layout = context.layout
        if progress is not None:
            progress(f"{one.setout.name}, {layout.area}", done + 1, len(wanted))
        made = _of_place(place, through, context, one, back)
        takers = () if made else swallowed_by(place, through, context)
        if takers:
            found.gone[layout.area].append(place)
            for name in takers:
                found.taken[name].append(layout.name(place))
        if layout.is_open and not any(piece.cuts for piece in made):
            continue  # nothing is said about trimming there
        found.pieces += made
    return found


def _of_place(
    place: Place, through: Sequence[Opening], context: Surroundings, one: Laid, back: FromTheWall
) -> list[CutPiece]:
    """The pieces of one place as they are to be cut, each with the digits of its print."""
    layout = context.layout

    def remarks_on(pieces: Sequence[CutPiece]) -> list[CutPiece]:
        return [remarked(piece, layout.area, one, back.job) for piece in pieces]

    planned = remarks_on(cut_pieces(place, through, context))
    specs = back.specs.get(base_name(layout.name(place)), ())
    if not specs:
        return planned
    known = len(back.record)
    anew = remarks_on(_as_found(place, through, context, planned, specs, back))
    record = back.record[known:]
    return [made_anew(planned, piece, record) for piece in anew] if record else anew


def _as_found(
    place: Place,
    openings: Sequence[Opening],
    context: Surroundings,
    made: list[CutPiece],
    specs: Sequence[FoundSpec],
    back: FromTheWall,
) -> list[CutPiece]:
    """The pieces of one place made anew by what was found there; what cannot be taken in is a fault of the job."""
    back.used.update(spec.where for spec in specs)
    of_holes = [spec for spec in specs if not spec.openings]
    try:
        infills = [infill for spec in specs if spec.openings for infill in infills_found(made, spec, back.style)]
        record: list[AsFound] = []
        if of_holes:
            made, record = corrected(place, openings, context, made, of_holes, back.job.limits.figures(), back.style)
    except NotTaken as error:
        about = f'found at "{error.spec.piece}"'
        sentence = str(error)
        if error.cut_by is not None:
            sentence += (
                f" If it was not cut, or another tile takes its place, {_taken_out(error.cut_by, back.job)}. "
                "A note can still be added."
            )
        with back.faults.about(about, error.spec.where):
            back.faults.tell(sentence)
        return made
    back.record += record
    back.infills += infills
    return made


def _taken_out(spec: FoundSpec, job: Job) -> str:
    """How an entry is taken out again: by the command, or by hand where the job itself says it."""
    place = job.source.places.find(spec.where)
    if place is not None and place.file not in (None, job.source.file):
        line = "" if place.line is None else f" line {place.line}"
        named = " ".join(filter(None, [f'"{spec.piece}"', spec.hole and f'"{spec.hole}"']))
        command = f"cutmarks found {job.source.file} {named} --take-back"
        return f"take back the entry that says so ({place.file}{line}): {command}"
    where = "" if place is None or place.line is None else f" ({place.file} line {place.line})"
    return f"take out the entry that says so{where}"


def found_nowhere(back: FromTheWall, laid: Sequence[Laid]) -> Iterator[Fault]:
    """What was found of pieces that are not cut; nothing is said of those of an area that is not laid yet."""
    unlaid = tuple(
        f"{area.name.casefold()} " for one in laid if one.material.unlaid is not None for area in one.spec.areas
    )
    fittings = {
        hole.name.casefold(): one.spec.name
        for one in laid
        if one.material.unlaid is not None
        for hole in one.spec.holes
    }
    for spec in back.job.found:
        if spec.where not in back.used and not spec.piece.casefold().startswith(unlaid):
            surface = fittings.get(spec.piece.casefold())
            sentence = "there is no such piece with anything cut in it: look at its name on the sheet."
            if surface is not None:
                sentence = (
                    f"it comes through {surface}, where no tile is laid yet, and nothing is cut. Fill in AS BUILT on "
                    "the clearance sheet; where it was set elsewhere, write at the hole itself where it is now."
                )
            yield back.job.fault(spec.where, f'found at "{spec.piece}"', sentence)


def own_corners(job: Job, pieces: Sequence[CutPiece], faults: Faults | None) -> dict[str, Corners]:
    """What is made of the inside corners of the pieces that the job names.

    A name that no piece has is a fault, told to `faults`; None where not every piece is known yet.
    """
    names = {piece.name.casefold(): piece.name for piece in pieces}
    own: dict[str, Corners] = {}
    for said, corners in job.corner_radius_of.items():
        name = names.get(" ".join(said.split()).casefold())
        if name is not None:
            own[name] = corners
        elif faults is not None:
            with faults.about(f'corner radius of "{said}"', ("corner radius of", said)):
                faults.tell("there is no such piece with anything cut in it: look at its name on its sheet.")
    return own


def named_alike(pieces: Sequence[CutPiece], own: Mapping[str, Corners]) -> list[CutPiece]:
    """Each piece that is cut like an earlier one, its `own` inside corners among it, names that."""
    first: dict[tuple[object, ...], str] = {}
    named = []
    for piece in pieces:
        name = first.setdefault((*shape_key(piece), own.get(piece.name)), piece.name)
        named.append(piece if name == piece.name else replace(piece, same_as=name))
    return named
