"""The job sheet's page on doubt: how often each cut goes over and is covered, and how good each place is."""

from __future__ import annotations

from collections.abc import Iterator

from cutmarks.checks.doubt import ellipse_words
from cutmarks.plan import Plan, style_of
from cutmarks.sheets.flow import Block, heading, paragraph, space

NOTE = "readings, lines, pitch, paper, marking and core together"


def sure_blocks(plan: Plan, width: float) -> Iterator[Block]:
    """A sentence for each cut, then one for each hole that was read more often than needed."""
    if not plan.sure:
        return
    style = style_of(plan.say)
    yield heading("HOW SURE", width, NOTE)
    for one in plan.sure:
        yield from paragraph(one.sentence, width)
    for fit in plan.fits:
        for name, doubt in zip(fit.holes, fit.doubts, strict=True):
            words = ellipse_words(doubt, style)
            yield from paragraph(f"{name} was read more often than needed: its place is {words}.", width)
    yield space(4.0)
