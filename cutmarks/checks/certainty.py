"""Rules about how sure a place is: the reading that does not fit, tapes that cross flat, a chance that is too small."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import TYPE_CHECKING

from cutmarks.checks.doubt import Sure
from cutmarks.checks.model import Finding, Level
from cutmarks.locating.model import Located, Misfit, ReadingsFit
from cutmarks.openings.model import Opening
from cutmarks.units import Style, say

if TYPE_CHECKING:
    from cutmarks.limits import Limits


def readings_that_do_not_fit(
    located: Sequence[Located], openings: Sequence[Opening], limits: Limits, style: Style
) -> Iterator[Finding]:
    """A reading that the others contradict: named once for all the holes that were adjusted together.

    It stops where leaving it out moves a hole by more than `shift_part` of what that hole may be off.
    """
    spare = {opening.name: opening.you_may_be for opening in openings}
    for fit in fits_of(located):
        if fit.misfit is None:
            continue
        least = min((have for name in fit.holes if (have := spare.get(name)) is not None), default=None)
        stops = least is not None and fit.misfit.moves > limits.shift_part.value * least
        level: Level = "stop" if stops else "warn"
        yield Finding(
            level,
            "reading does not fit",
            fit.holes,
            _misfit_words(fit, fit.misfit, style),
            fit.misfit.figure,
            fit.misfit.limit,
            limits.false_alarm.source,
        )


def _misfit_words(fit: ReadingsFit, misfit: Misfit, style: Style) -> str:
    first, *others = (fit.readings[index] for index in (misfit.reading, *misfit.mirrored))
    read = [one for one in (first, *others) if not one.point]
    points = list(dict.fromkeys(one.point for one in (first, *others) if one.point))
    about = " and ".join(dict.fromkeys(name for one in read or [first] for name in one.about))
    # A tape and the nail that it is held to cannot be told apart, and that goes without saying.
    if (others and first.point) or len(read) > 1:
        suspects = [*(f'"{one.text}"' for one in read), *(f"where {point} is" for point in points)]
        named = " or ".join(suspects)
        by = f"one of them is wrong, by about {say(abs(misfit.off), style)}"
        return f"{about}: {named}, {by}, and they cannot be told apart: read them again."
    more = "more" if misfit.off > 0 else "less"
    says = f"it says {say(abs(misfit.off), style)} {more} than they do"
    moves = f"without it the place moves by {say(misfit.moves, style)}"
    again = "Read it again" + (f", and where {' and '.join(points)} is." if others else ".")
    return f'{about}: "{first.text}" does not fit the other readings: {says}, {moves}. {again}'


def tapes_cross_flat(located: Sequence[Located], limits: Limits, style: Style) -> Iterator[Finding]:
    """Two tapes alone place a hole badly where their arcs all but touch."""
    ellipses = {thing.spec.name: thing.doubt.ellipse for thing in located}
    for fit in fits_of(located):
        for name, angle in fit.crossing:
            if angle < limits.arcs_cross.value:
                long = 2 * ellipses[name][0]
                yield Finding(
                    "warn",
                    "tapes cross flat",
                    (name,),
                    f"{name}: its two tapes cross at {angle:.0f} degrees (wanted {limits.arcs_cross.value:g} to "
                    f"{180 - limits.arcs_cross.value:g}), so that it may be {say(long, style)} off. "
                    "Read it from a third point, or from a line.",
                    angle,
                    limits.arcs_cross.value,
                    limits.arcs_cross.source,
                )


def not_sure(sure: Iterable[Sure], limits: Limits) -> Iterator[Finding]:
    """The chance that a cut goes over and is covered is too small to rely on: once a hole, of its worst piece."""
    least = limits.sure.value
    for worst, cuts in _worst_of_holes(sure):
        if worst.chance < least:
            remedy = "take a bigger cover" if worst.shows else "give it more room"
            # In the first sentence: where there is little room that alone stands on the sheet.
            roomier = f"; {worst.roomier} would leave most room under its cover" if worst.roomier else ""
            yield Finding(
                "warn",
                "not sure",
                (worst.hole, *(cut.piece for cut in cuts if cut.piece and cut.chance < least)),
                f"{worst.sentence.removesuffix('.')}{roomier}. Read it again at the wall before cutting, or {remedy}.",
                worst.chance,
                least,
                limits.sure.source,
            )


def unsure_of_cover(sure: Iterable[Sure], limits: Limits) -> set[str]:
    """The holes of which `not_sure` says that the cover may not hide them: nothing more is to be said of that."""
    return {worst.hole for worst, _ in _worst_of_holes(sure) if worst.shows and worst.chance < limits.sure.value}


def _worst_of_holes(sure: Iterable[Sure]) -> Iterator[tuple[Sure, list[Sure]]]:
    """Of each hole the cut that is least sure, and all of them."""
    of_hole: dict[str, list[Sure]] = {}
    for one in sure:
        of_hole.setdefault(one.hole, []).append(one)
    for cuts in of_hole.values():
        yield min(cuts, key=lambda cut: cut.chance), cuts


def fits_of(located: Iterable[Located]) -> tuple[ReadingsFit, ...]:
    """What was adjusted together, each once."""
    return tuple({thing.fit.holes: thing.fit for thing in located if thing.fit is not None}.values())
