"""The job sheet's page on doubt: how often each cut goes over and is covered, and how good each place is."""

from __future__ import annotations

from collections.abc import Iterator

from cutmarks.checks.doubt import ellipse_words, in_words
from cutmarks.plan import Plan
from cutmarks.sheets.flow import SMALL, Block, heading, paragraph, space

CERTAIN = 0.999
"""Cuts that are surer than this are counted, not listed."""
NOTE = "readings, lines, pitch, paper, marking and core together; until it shows, the lap not counted"


def sure_blocks(plan: Plan, width: float) -> Iterator[Block]:
    """A sentence for each cut that may fail, then one for each hole that was read more often than needed."""
    if not plan.sure:
        return
    style = plan.say.style
    yield heading("HOW SURE", width, NOTE)
    doubtful = [one for one in plan.sure if one.chance < CERTAIN]
    for one in doubtful:
        yield from paragraph(one.sentence, width, height=SMALL)
    certain = len(plan.sure) - len(doubtful)
    if certain:
        words = "Every cut" if not doubtful else f"The other {certain}" if certain > 1 else "The other one"
        yield from paragraph(f"{words}: {in_words(1.0)}.", width, height=SMALL)
    for fit in plan.fits:
        for name, doubt in zip(fit.holes, fit.doubts, strict=True):
            words = ellipse_words(doubt, style)
            yield from paragraph(f"{name} was read more often than needed: its place is {words}.", width, height=SMALL)
    yield space(4.0)
