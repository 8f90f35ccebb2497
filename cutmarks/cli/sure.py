"""How sure each cut is, in words for the terminal: a sentence a cut, and the readings that were adjusted together."""

from __future__ import annotations

from typing import TYPE_CHECKING

from cutmarks.checks.doubt import ellipse_words
from cutmarks.cli.terminal import columns, wrapped
from cutmarks.locating.precision import SIGMAS
from cutmarks.units import Style, say

if TYPE_CHECKING:
    from cutmarks.locating.model import ReadingsFit
    from cutmarks.plan import Plan

INDENT = "  "


def sure_lines(plan: Plan) -> list[str]:
    """Every cut's chance in a sentence, then each network's readings with what they are off."""
    lines = [line for one in plan.sure for line in wrapped(one.sentence, INDENT, INDENT * 2)]
    for fit in plan.fits:
        lines += ["", *fit_lines(fit, plan.say.style)]
    return lines


def fit_lines(fit: ReadingsFit, style: Style) -> list[str]:
    """One network: each reading, what it is off the place that fits best, and how far the others check it."""
    over = "1 reading more" if fit.over == 1 else f"{fit.over} readings more"
    title = f"{', '.join(fit.holes)}: adjusted together, {over} than needed"
    rows: list[tuple[str, ...]] = [("reading", "of", "reads", "give or take", "checked")]
    for index, reading in enumerate(fit.readings):
        wrong = fit.misfit is not None and index in (fit.misfit.reading, *fit.misfit.mirrored)
        rows.append(
            (
                reading.text,
                " and ".join(reading.about),
                _off(reading.off, style),
                say(SIGMAS * reading.sigma, style),
                f"{reading.redundancy:.0%}{' DOES NOT FIT' if wrong else ''}",
            )
        )
    places = (f"{name}: {ellipse_words(doubt, style)}" for name, doubt in zip(fit.holes, fit.doubts, strict=True))
    lines = [line for words in (title, *places) for line in wrapped(words, INDENT, INDENT * 2)]
    return [*lines, *columns(rows, INDENT * 2)]


def _off(off: float, style: Style) -> str:
    shown = say(abs(off), style)
    if shown == say(0.0, style):
        return "as it should"
    return f"{shown} {'more' if off > 0 else 'less'}"
