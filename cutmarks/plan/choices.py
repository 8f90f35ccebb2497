"""What each surface of a job may be started with: set out, its holes opened, and looked through."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from cutmarks.choosing.choose import BEST_FEW, Choices, Chooser, Offer
from cutmarks.choosing.words import start_words
from cutmarks.errors import Faults, JobError
from cutmarks.plan.equal import with_equal_starts
from cutmarks.plan.surfaces import lay, say_of
from cutmarks.tiling.unlaid import lacks

if TYPE_CHECKING:
    from cutmarks.job import Job
    from cutmarks.job.models import SurfaceSpec
    from cutmarks.plan.model import Plan, Say

NAMED = 2
"""A refusal for want of a start names so many."""


@dataclass(frozen=True, slots=True)
class AsLaid:
    """What a surface that has its start is laid as, and a start that is a band better; None: there is none."""

    now: Offer
    better: Offer | None


def choices_of(job: Job, most: int = BEST_FEW) -> tuple[Choices, ...]:
    """The best few starts of each surface, in the order of the job.

    Raises:
        JobError: the job contradicts itself; all such faults at once.
    """
    faults, say = job.faults(), say_of(job)
    job, _ = with_equal_starts(job, say.style, faults)
    found = [_chooser(surface, job, say, faults) for surface in job.surfaces]
    if faults:
        raise JobError(sorted(faults, key=lambda fault: (fault.file or "", fault.line or 0)))
    return tuple(replace(chooser.choices(most), left_out=left_out) for chooser, left_out in found)


def first_starts(job: Job, say: Say) -> dict[str, dict[str, list[str]]]:
    """The first two starts of each area of the surfaces that have none, as they are written; by surface and area.

    A surface that contradicts itself has none: its own faults are told.
    """
    found: dict[str, dict[str, list[str]]] = {}
    for surface in job.surfaces:
        faults = job.faults()
        if lacks(surface) != "start":
            continue
        chooser, _ = _chooser(surface, job, say, faults)
        if faults:
            continue
        areas: dict[str, list[str]] = {}
        for offer in chooser.choices().offers:
            for start in offer.starts:
                words = f"start: {{across: {start_words(start.across)}, up: {start_words(start.up)}}}"
                if words not in areas.setdefault(start.area, []):
                    areas[start.area].append(words)
        found[surface.name] = {area: words[:NAMED] for area, words in areas.items()}
    return found


def as_laid(job: Job, plan: Plan) -> Iterator[tuple[str, AsLaid]]:
    """What each surface that has its start is laid as, by its name, and whether another start is a band better."""
    job, _ = with_equal_starts(job, plan.say.style, job.faults())
    for surface in job.surfaces:
        if lacks(surface):
            continue
        openings = [opening for opening in plan.openings if opening.surface == surface.name]
        chooser = Chooser(surface, plan.setout(surface.name), openings, job)
        now = chooser.now()
        if now is not None:
            yield surface.name, AsLaid(now, _better(chooser, now))


def _better(chooser: Chooser, now: Offer) -> Offer | None:
    """The best start where it is a band better in what shows; nothing is looked for where nothing is amiss."""
    limits = chooser.limits
    if not any(now.worth.shown(limits)):
        return None
    offers = chooser.choices(1).offers
    return offers[0] if offers and offers[0].worth.shown(limits) < now.worth.shown(limits) else None


def _chooser(surface: SurfaceSpec, job: Job, say: Say, faults: Faults) -> tuple[Chooser, tuple[str, ...]]:
    """Who looks for the starts of a surface; with the holes that have no place before it has tiles."""
    bare = replace(surface, areas=tuple(replace(area, start_across=None) for area in surface.areas))
    laid = lay(bare, job, say, faults, undecided=True)
    unlooked = laid.material.unlaid
    left_out = () if unlooked is None else unlooked.unlooked.holes
    return Chooser(surface, laid.setout, laid.openings, job), left_out
