"""The starts of a surface side by side, and one of them written into the job: what `setout` and the page both do."""

from __future__ import annotations

from collections.abc import Sequence, Set
from pathlib import Path

from msgspec import Struct

from cutmarks.checks.model import Finding
from cutmarks.choosing.offers import Choices, Offer, says, with_offer
from cutmarks.choosing.words import start_words
from cutmarks.errors import Fault, JobError
from cutmarks.job import Job, parse_job
from cutmarks.job.rewriting import Value, with_area_keys
from cutmarks.plan import Plan, make_plan
from cutmarks.plan.choices import choices_of
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


class WayOut(Struct, frozen=True):
    """A start with which a STOP is gone; stops: how many others there are then."""

    surface: str
    number: int
    said: str
    stops: int


def ways_out(read: Job, rule: str, about: Sequence[str]) -> tuple[list[WayOut], list[str]]:
    """The starts of those that are offered with which a STOP of a rule is gone; with why there are none to offer.

    about  what the STOP is about: holes are the same with every start, pieces have other names then.
    """
    now = make_plan(read, undecided=True)
    holes = {one.name for one in now.openings}.intersection(about)
    surfaces = {one.surface for one in now.openings if one.name in holes}
    surfaces |= {piece.piece.surface for piece in now.pieces if piece.name in about}
    found, why_not = [], []
    for one in choices_of(read):
        if one.surface not in surfaces:
            continue
        if one.why_not:
            why_not.append(f"{one.surface}: {one.why_not}")
        for number, offer in enumerate(one.offers, 1):
            plan = make_plan(with_offer(read, one.surface, offer), undecided=True)
            stops = [each for each in plan.findings if each.level == "stop" and each.accepted is None]
            if not any(_is_still(each, rule, holes, plan, one.surface) for each in stops):
                said = "; ".join(start_said(start) for start in offer.starts)
                found.append(WayOut(one.surface, number, said, len(stops)))
    return found, why_not


def _is_still(stop: Finding, rule: str, holes: Set[str], plan: Plan, surface: str) -> bool:
    """Whether a STOP is the one that was asked about: of the same holes, or where it has none of the same surface."""
    if stop.rule != rule:
        return False
    if holes:
        return not holes.isdisjoint(stop.about)
    return any(piece.piece.surface == surface and piece.name in stop.about for piece in plan.pieces)


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
