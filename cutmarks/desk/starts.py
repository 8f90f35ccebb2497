"""The starts of a surface side by side, and one of them written into the job: what `setout` and the page both do."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from cutmarks.choosing.choose import Choices, Offer, says, with_offer
from cutmarks.choosing.words import start_words
from cutmarks.errors import Fault, JobError
from cutmarks.job import Job, parse_job
from cutmarks.job.rewriting import Value, with_area_keys
from cutmarks.plan import make_plan
from cutmarks.plan.surfaces import say_of
from cutmarks.saying.starts import bad_holes, picture_lines, sizes_at, start_said
from cutmarks.sheets.starts_page import Pictured, SizeAt


def pictured(read: Job, one: Choices) -> list[Pictured]:
    """Each start of a surface with the job laid out with it, in their order."""
    return [_pictured(read, one.surface, one.offers, number) for number in range(len(one.offers))]


def _pictured(read: Job, surface: str, offers: Sequence[Offer], number: int) -> Pictured:
    offer, style = offers[number], say_of(read).style
    plan = make_plan(with_offer(read, surface, offer), undecided=True)
    said = "; ".join(start_said(start) for start in offer.starts)
    lines = picture_lines(offers, number, read.limits.figures(), style)
    sizes = tuple(SizeAt(*size) for start in offer.starts for size in sizes_at(start, style))
    return Pictured(f"{number + 1}   {said}", plan, lines, sizes, bad_holes(offer))


def taken_together(found: Sequence[Choices], read: Job) -> list[Choices]:
    """The walls whose starts are taken together, since their courses run round; [] where there are others too."""
    names = {name.casefold() for name in read.courses_run_round}
    able = [one for one in found if one.offers]
    return able if len(able) > 1 and all(one.surface.casefold() in names for one in able) else []


def with_start(text: str, path: Path, read: Job, surface: str, offer: Offer) -> str:
    """The job's text with these starts in it, read again: it must say the same.

    Raises:
        JobError: there is no place for a start in it, or it would be read as something else.
    """
    changes: dict[str, dict[str, Value]] = {}
    specs = {area.name: area for one in read.surfaces if one.name == surface for area in one.areas}
    for start in offer.starts:
        words = {"across": start_words(start.across), "up": start_words(start.up)}
        if specs[start.area].carries_on_from:
            del words["across"]  # the other wall says it
        keys: dict[str, Value] = {"start": words}
        if start.bond is not None:
            keys["bond"] = start.bond.words
        if start.joint_words:
            keys["joint"] = start.joint_words
        changes[start.area] = keys
    after = with_area_keys(text, surface, changes)
    again = parse_job(after.removeprefix("\ufeff"), path.name, path.parent, read.tools)
    if not says(again, surface, offer):
        raise JobError(
            [Fault(f"The start of {surface} cannot be written into this file: write it by hand.", file=path.name)]
        )
    return after
