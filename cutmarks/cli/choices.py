"""The starts that may be chosen, as a table for the terminal, with a line on what each gains and costs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from cutmarks.cli.terminal import columns, wrapped
from cutmarks.plan.choices import as_laid, choices_of
from cutmarks.saying.starts import (
    batten_words,
    gain_lines,
    laid_words,
    lands_words,
    left_out_words,
    left_words,
    now_words,
    own_ends,
    packers_words,
    start_said,
    things_words,
    told_once,
)
from cutmarks.sides import SIDES

if TYPE_CHECKING:
    from cutmarks.choosing.offers import AreaStart, Choices
    from cutmarks.job import Job
    from cutmarks.limits import Limits
    from cutmarks.plan import Plan
    from cutmarks.units import Style

INDENT = "  "
SHOWN_BY_CHECK = 3
"""Of a surface that has no start `check` shows so many."""


def laid_lines(job: Job, plan: Plan) -> list[str]:
    """What lies at each edge and window of the surfaces that have their start, and which start is clearly better."""
    said = laid_words(as_laid(job, plan), plan.limits, plan.say.style, "cutmarks setout")
    lines = [line for words in said for line in wrapped(words, INDENT, INDENT * 2)]
    return ["", "AT THE EDGES", *lines] if lines else []


def undecided_lines(job: Job, plan: Plan) -> list[str]:
    """The first few starts of the surfaces that have none."""
    unlooked = [surface.unlooked for surface in plan.surfaces if surface.unlooked is not None]
    wanting = {one.surface for one in unlooked if one.lacks == "start"}
    found = [one for one in (choices_of(job, SHOWN_BY_CHECK) if wanting else ()) if one.surface in wanting]
    if not any(one.offers for one in found):
        return []
    lines = ["", "NO START YET. The best few, as cutmarks setout shows and writes them"]
    for one in found:
        if one.offers:
            lines += [f"{INDENT}{one.surface}", *table(one, plan.say.style)]
        if one.packers is not None:
            lines += wrapped(packers_words(one.packers, plan.say.style), INDENT * 2, INDENT * 3)
    return lines


def choice_lines(found: Sequence[Choices], limits: Limits, style: Style, job_file: str) -> list[str]:
    """The best few starts of each surface, and how to take one."""
    lines: list[str] = []
    for one in found:
        lines += [*([""] if lines else []), *_surface(one, limits, style)]
    if any(one.offers for one in found):
        able = [one.surface for one in found if one.offers]
        of = "" if len(able) == 1 else f' --surface "{able[0]}"'
        lines += [
            "",
            *wrapped(f"To take one: cutmarks setout {job_file}{of} --take 1. Nothing is decided before that."),
        ]
    return lines


def _surface(one: Choices, limits: Limits, style: Style) -> Iterator[str]:
    if one.why_not:
        yield from wrapped(f"{one.surface}: no start is looked for: {one.why_not}", "", INDENT)
        return
    yield from wrapped(f"{one.surface}: where to start, the best first", "", INDENT)
    yield from table(one, style)
    lines = list(gain_lines(one.offers, limits, style))
    for number, place in told_once(one.offers):
        yield from wrapped(lines[place], f"{INDENT}{number}  ")
    if one.now is not None and one.offers:
        yield from wrapped(now_words(one.now, one.offers[0], limits, style), INDENT, INDENT * 2)
    if one.packers is not None:
        yield from wrapped(packers_words(one.packers, style), INDENT, INDENT * 2)
    if one.left_out:
        yield from wrapped(left_out_words(one), INDENT, INDENT * 2)


def table(one: Choices, style: Style) -> list[str]:
    """One row for each area of each start; the row of the job's own start is called now."""
    offers = [("now", one.now)] if one.now is not None else []
    offers += [(number, one.offers[place]) for number, place in told_once(one.offers)]
    several = any(len(offer.starts) > 1 for _, offer in offers)
    head = ["", *(["area"] if several else []), "start", *SIDES, "round openings", "holes", "batten", "whole", "cut"]
    rows = [tuple(head)]
    for name, offer in offers:
        for number, start in enumerate(offer.starts):
            rows.append((name if number == 0 else "", *([start.area] if several else []), *_row(start, style)))
    # A column in which nothing stands is left out.
    kept = [index for index in range(len(head)) if index == 0 or any(row[index] for row in rows[1:])]
    return columns([tuple(row[index] for index in kept) for row in rows], INDENT)


def _row(start: AreaStart, style: Style) -> Iterator[str]:
    yield start_said(start)
    own = own_ends(start)
    for side in SIDES:
        yield left_words(own[side][1], style) if side in own else ""
    yield things_words(start, style)
    yield lands_words(start)
    yield batten_words(start)
    counted = start.figures.counted
    # The same two counts as `cutmarks buy` begins with: what offcuts save is seen when a start is taken.
    yield str(counted.whole) if counted.tiles else ""
    yield str(counted.cut) if counted.tiles else ""
