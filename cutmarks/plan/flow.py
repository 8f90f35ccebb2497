"""The whole flow in one function: a job in, a plan out."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from msgspec.structs import replace

from cutmarks.checks.certainty import fits_of
from cutmarks.checks.doubt import by_readings_alone, how_sure
from cutmarks.checks.findings import findings
from cutmarks.checks.material import Evidence
from cutmarks.checks.model import Finding
from cutmarks.checks.waiting import holding_up
from cutmarks.cutting.paths import cuttings
from cutmarks.errors import Fault, Faults, JobError
from cutmarks.job.fingerprint import fingerprint
from cutmarks.openings.found import found_at
from cutmarks.openings.model import CutPiece
from cutmarks.plan.budget import over_budget
from cutmarks.plan.choices import first_starts
from cutmarks.plan.clearances import clearances
from cutmarks.plan.how_cut import cut_with, how_pieces_are_cut
from cutmarks.plan.model import Plan, Progress, paper_of
from cutmarks.plan.pieces import FromTheWall, cut_up, found_nowhere, named_alike, own_corners
from cutmarks.plan.reasons import reasons_of
from cutmarks.plan.remarks import notes_of
from cutmarks.plan.supplies import supplies_of
from cutmarks.plan.surfaces import lay, say_of, surface_plan
from cutmarks.plan.worked_out import with_starts_worked_out
from cutmarks.registering import register
from cutmarks.registering.figures import paper_figures
from cutmarks.registering.layouts import cut_to_length
from cutmarks.registering.model import Registration
from cutmarks.setout.assumed import assumed
from cutmarks.tiling.round import areas_run_round
from cutmarks.tiling.unlaid import lacks, missing_start
from cutmarks.units import Style

if TYPE_CHECKING:
    from cutmarks.job import Job
    from cutmarks.registering.calibration import Calibration


def make_plan(
    job: Job, progress: Progress | None = None, calibration: Calibration | None = None, *, undecided: bool = False
) -> Plan:
    """Work out every piece of a job that is cut: which tile, where on it, what, and what to beware of.

    The templates in the PDF are corrected by `calibration`, which has to be of the job's own paper; its margin is kept.
    Where `undecided`, a surface with an area that has no start is looked at without its tiles, as one without areas is.

    Raises:
        JobError: the job contradicts itself on the surface (areas that overlap, a hole off the wall, no start);
            all such faults at once.
        ValueError: the calibration is of another paper.
    """
    say = say_of(job, calibration)
    style, limits = say.style, job.limits.figures()
    faults, read = job.faults(), job
    job, worked_out = with_starts_worked_out(job, style, faults, undecided=undecided)
    offered = {} if undecided or not missing_start(job) else first_starts(job, say)
    laid = [lay(surface, job, say, faults, undecided, offered.get(surface.name, {})) for surface in job.surfaces]
    _refuse(faults)
    _refuse(over_budget(laid, job, style))
    back = FromTheWall(job, found_at(job.found), style, job.faults())
    cuts = [cut_up(one, back, progress) for one in laid]
    made = [piece for cut in cuts for piece in cut.pieces]
    own = own_corners(job, made, faults if all(one.material.unlaid is None for one in laid) else None)
    _refuse([*faults, *back.faults, *found_nowhere(back, laid)])
    pieces = named_alike(made, own)
    say = replace(say, paper=cut_to_length(say.paper, _tallest(pieces)))
    paper = paper_figures(limits, calibration is not None)
    registrations = register(pieces, paper_of(say), joined=job.sheets == "joined", template=job.template, figures=paper)
    located = [thing for one in laid for thing in one.material.located]
    unlaid = [one.material for one in laid if one.material.unlaid is not None]
    sure = (
        *how_sure(located, pieces, registrations, limits, paper, ahead=job.cut == "ahead", style=style),
        *(one for on in unlaid for one in by_readings_alone(on.located, on.openings, limits, style)),
    )
    taken = {name: names for cut in cuts for name, names in cut.taken.items()}
    found = findings(Evidence([one.material for one in laid], pieces, job, style, sure, back.record, taken))
    supplies, wishes = supplies_of(job), job.shop.wishes(job.corner_radius)
    return Plan(
        job=job.name,
        fingerprint=fingerprint(read, None if calibration is None else calibration.as_read()),
        say=say,
        surfaces=tuple(surface_plan(one, cut.gone) for one, cut in zip(laid, cuts, strict=True)),
        openings=tuple(opening for one in laid for opening in one.openings),
        pieces=tuple(pieces),
        cuttings=cuttings(pieces, limits.run_out.value, wishes, own),
        shop=wishes,
        registrations=tuple(to_print(registrations, pieces, found)),
        findings=found,
        assumed=(*job.assumed, *worked_out, *_assumed(job, style), *(said for one in laid for said in one.assumed)),
        calibration=calibration,
        job_file=job.source.file,
        sure=sure,
        fits=fits_of(located),
        found=tuple(back.record),
        infills_found=tuple(back.infills),
        limits=limits,
        clearances=tuple(one for material in unlaid for one in clearances(material, found, limits)),
        notes=tuple(notes_of(job)),
        contact=job.contact,
        supplies=supplies,
        how_cut=how_pieces_are_cut(pieces, cut_with(job, limits, supplies.kerf), job.template, own),
        reasons=reasons_of(laid, job),
        rounds=areas_run_round(job),
    )


def _refuse(faults: Faults | Sequence[Fault]) -> None:
    """Raises JobError where there is any fault, by file and line."""
    if faults:
        raise JobError(sorted(faults, key=lambda fault: (fault.file or "", fault.line or 0)))


def to_print(
    registrations: Sequence[Registration], pieces: Sequence[CutPiece], found: Sequence[Finding]
) -> Iterator[Registration]:
    """The sheets but for those of inside corners in pieces that are not to be trimmed yet: where is not known there."""
    waiting = {piece.name for piece in pieces if piece.corners and holding_up(found, piece)}
    uncut = {piece.name: len(piece.cuts) for piece in pieces}
    for one in registrations:
        if one.piece not in waiting or one.cuts[0] < uncut[one.piece]:
            yield one


def _tallest(pieces: Sequence[CutPiece]) -> float:
    """The height of the tallest tile that has a template, mm: how long a roll is cut."""
    return max((piece.piece.tile.h for piece in pieces if piece.spots), default=0.0)


def _assumed(job: Job, style: Style) -> Iterator[str]:
    for surface in job.surfaces:
        if lacks(surface) == "tiles":
            continue  # what tile keeps clear of is no matter there
        yield from assumed(surface, style, job.limits.figures())
