"""What each surface of a job may be started with: set out, its holes opened, and looked through."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING

from msgspec import Struct
from msgspec.structs import replace

from cutmarks.choosing.choose import BEST_FEW, Chooser
from cutmarks.choosing.offers import Choices, Offer
from cutmarks.choosing.on_packers import whole_on_packers
from cutmarks.choosing.words import start_words
from cutmarks.errors import Faults, JobError
from cutmarks.plan.surfaces import lay, say_of
from cutmarks.plan.worked_out import with_starts_worked_out
from cutmarks.tiling.round import areas_run_round
from cutmarks.tiling.unlaid import lacks

if TYPE_CHECKING:
    from cutmarks.job import Job
    from cutmarks.job.models import SurfaceSpec
    from cutmarks.plan.model import Plan, Say

NAMED = 2
"""A refusal for want of a start names so many."""


class AsLaid(Struct, frozen=True):
    """What a surface that has its start is laid as, and a start that is a band better; None: there is none."""

    now: Offer
    better: Offer | None


def choices_of(job: Job, most: int = BEST_FEW) -> tuple[Choices, ...]:
    """The best few starts of each surface, in the order of the job.

    Raises:
        JobError: the job contradicts itself; all such faults at once.
    """
    faults, say = job.faults(), say_of(job)
    job, _ = with_starts_worked_out(job, say.style, faults, undecided=True)
    found = {surface.name: _chooser(surface, job, say, faults) for surface in job.surfaces}
    if faults:
        raise JobError(sorted(faults, key=lambda fault: (fault.file or "", fault.line or 0)))
    choosers = {name: chooser for name, (chooser, _) in found.items()}
    chosen, limits = _at_one_height(job, choosers, most), job.limits.figures()
    return tuple(
        replace(
            chosen[name] if name in chosen else chooser.choices(most),
            left_out=left_out,
            packers=whole_on_packers(chooser.spec, chooser.setout, limits),
        )
        for name, (chooser, left_out) in found.items()
    )


def _levelled(job: Job, choosers: Mapping[str, Chooser]) -> list[Chooser]:
    """The walls round which courses run, the first with the floors and ceilings of the others; [] where none do."""
    walls = [(choosers[name], area) for name, area in areas_run_round(job).items() if name in choosers]
    if len(walls) < 2:
        return []
    first, *others = [replace(chooser, level_area=area) for chooser, area in walls]
    return [replace(first, runs_round=tuple(others)), *others]


def _at_one_height(job: Job, choosers: Mapping[str, Chooser], most: int) -> dict[str, Choices]:
    """The starts of the walls round which courses run at one height: the first one's height is that of all of them.

    Its own start is looked for with the floors and ceilings of all; where another has its height already, by that.
    """
    levelled = _levelled(job, choosers)
    if not levelled:
        return {}
    leader = levelled[0]
    level = [area for chooser in levelled for area in chooser.spec.areas if area.name == chooser.level_area]
    free = all(area.start_across is not None and area.start_up is not None for area in level)
    said = next((area.start_up for area in level if area.start_up is not None), None)
    if not free and said is not None:
        areas = tuple(
            replace(area, start_up=said) if area.name == leader.level_area else area for area in leader.spec.areas
        )
        leader = replace(leader, spec=replace(leader.spec, areas=areas))
    first = leader.choices(most, free=free or None)
    found = {leader.spec.name: first}
    ups = [start.up for offer in first.offers for start in offer.starts if start.area == leader.level_area]
    for chooser in levelled[1:]:
        found[chooser.spec.name] = chooser.at_heights(ups, free=free) if ups else chooser.choices(most)
    return found


def first_starts(job: Job, say: Say) -> dict[str, dict[str, list[str]]]:
    """The first two starts of each area of the surfaces that have none, as they are written; by surface and area.

    A surface that contradicts itself has none: its own faults are told.
    """
    found: dict[str, dict[str, list[str]]] = {}
    choosers: dict[str, Chooser] = {}
    wanting = {surface.name for surface in job.surfaces if lacks(surface) == "start"}
    for surface in job.surfaces:
        if surface.name not in wanting | areas_run_round(job).keys():
            continue
        faults = job.faults()
        chooser, _ = _chooser(surface, job, say, faults)
        if not faults:
            choosers[surface.name] = chooser
    chosen = _at_one_height(job, choosers, BEST_FEW)
    for surface in job.surfaces:
        if surface.name not in wanting & choosers.keys():
            continue
        areas: dict[str, list[str]] = {}
        for offer in (chosen.get(surface.name) or choosers[surface.name].choices()).offers:
            for start in offer.starts:
                words = f"start: {{across: {start_words(start.across)}, up: {start_words(start.up)}}}"
                if words not in areas.setdefault(start.area, []):
                    areas[start.area].append(words)
        found[surface.name] = {area: words[:NAMED] for area, words in areas.items()}
    return found


def as_laid(job: Job, plan: Plan) -> Iterator[tuple[str, AsLaid]]:
    """What each surface that has its start is laid as, by its name, and whether another start is a band better."""
    choosers, job = _choosers(job, plan)
    levelled = _levelled(job, choosers)
    followers = {one.spec.name for one in levelled[1:]}
    for name, chooser in choosers.items():
        now = chooser.now()
        if now is None:
            continue
        # Where courses run round, the first wall's start is that of all: only there another one is looked for.
        own = next((one for one in levelled if one.spec.name == name), chooser)
        counted = now if own is chooser else own.now() or now
        yield name, AsLaid(now, None if name in followers else _better(own, counted))


def laid_now(job: Job, plan: Plan) -> Iterator[tuple[str, AsLaid]]:
    """The same without a look for another start, which costs a search."""
    choosers, _ = _choosers(job, plan)
    for name, chooser in choosers.items():
        now = chooser.now()
        if now is not None:
            yield name, AsLaid(now, None)


def _choosers(job: Job, plan: Plan) -> tuple[dict[str, Chooser], Job]:
    """Who looks for the starts of each surface that has its own, by its name; the job with all starts worked out."""
    job, _ = with_starts_worked_out(job, plan.say.style, job.faults(), undecided=True)
    choosers: dict[str, Chooser] = {}
    for surface in job.surfaces:
        if not lacks(surface):
            openings = [opening for opening in plan.openings if opening.surface == surface.name]
            choosers[surface.name] = Chooser(surface, plan.setout(surface.name), openings, job)
    return choosers, job


def _better(chooser: Chooser, now: Offer) -> Offer | None:
    """The best start where it is a band better in what shows; nothing is looked for where nothing is amiss."""
    if not any(now.worth.shown(chooser.limits)):
        return None
    return chooser.better(now)


def _chooser(surface: SurfaceSpec, job: Job, say: Say, faults: Faults) -> tuple[Chooser, tuple[str, ...]]:
    """Who looks for the starts of a surface; with the holes that have no place before it has tiles."""
    bare = replace(surface, areas=tuple(replace(area, start_across=None) for area in surface.areas))
    laid = lay(bare, job, say, faults, undecided=True)
    unlooked = laid.material.unlaid
    left_out = () if unlooked is None else unlooked.unlooked.holes
    return Chooser(surface, laid.setout, laid.openings, job), left_out
