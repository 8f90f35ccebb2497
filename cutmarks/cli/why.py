"""Every limit and default, by what it is about, with what it decides and where its figure comes from."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import TYPE_CHECKING

from cutmarks.cli.printers import OLD_AFTER
from cutmarks.cli.terminal import figure, wrapped
from cutmarks.fittings import cores_source
from cutmarks.job.limits import NAMES, SET_IN_JOB, rows
from cutmarks.job.models import IMPERIAL
from cutmarks.limits import COMMON, HEADINGS, Limit
from cutmarks.plan import cores_of
from cutmarks.registering.calibration import JUDGED, fixed_figures
from cutmarks.registering.paper import SAFE_MARGIN
from cutmarks.units import MM_PER, Style, Unit, say

if TYPE_CHECKING:
    from cutmarks.job import Job

TITLE = "LIMITS AND DEFAULTS. To set your own, in the job: limits: {thin bridge: 25}"
UNPUBLISHED = ", no published source"
NOTE = 'Where it says "common practice" or "own judgement" there is no published source.'
IN_MM = "Lengths in brackets without a unit are mm."
JOB = "THE JOB: each has a line of its own in the job file"
TOOLS = "YOUR TOOLS: set in tools.yaml"
OWN_TOOLS = "your own, in tools.yaml"
PRINTERS = "PRINTERS: what cutmarks printer goes by. Fixed, since it is no job's"
FINEST_SHOWN = 64
"""An inch is shown in fractions down to this."""
SNAP_DIGITS = 6
DECIMALS = PLACES = 3
_SIGNS = {"degrees": " degrees", "cm2": " cm2", "times": " times", "count": ""}


def why_lines(job: Job) -> Iterator[str]:
    """Under headings, a line for each figure: its key, the figure, what it decides, its source."""
    style = Style(Unit.INCH if job.units in IMPERIAL else Unit.MM, job.finest)
    yield from ("", *wrapped(TITLE), *wrapped(NOTE if style.unit is Unit.MM else f"{NOTE} {IN_MM}"))
    listed = rows(job.limits.figures())
    widest = max(len(key) for key, _ in listed)

    def line(key: str, shown: str, what: str, source: str) -> list[str]:
        source = source.replace(UNPUBLISHED, "")
        return wrapped(f"{shown}: {what} ({source})", f"  {key.ljust(widest)}  ")

    yield from ("", JOB)
    for key, shown, what, source in _of_the_job(job, style):
        yield from line(key, shown, what, source)
    for key, limit in listed:
        if NAMES[key] in HEADINGS:
            yield from ("", *wrapped(HEADINGS[NAMES[key]]))
        yield from line(key, _shown(limit, style), limit.what, limit.source)
    yield from ("", TOOLS)
    cores = f"{', '.join(_length(core, style) for core in cores_of(job))} {style.unit}"
    yield from line("cores", cores, "what a hole is drilled with", OWN_TOOLS if job.tools.cores else cores_source())
    margin = job.tools.printer.margin
    shown = f"{_length(SAFE_MARGIN if margin is None else margin, style)} {style.unit}"
    usual = f"{COMMON}: desktop printers leave 3 to 6"
    yield from line("printer margin", shown, "what the printer leaves white", usual if margin is None else OWN_TOOLS)
    yield from ("", *wrapped(PRINTERS))
    for name, shown, what in fixed_figures():
        yield from line(name, shown, what, JUDGED)
    yield from line("measured anew", f"{OLD_AFTER} days", "after so long the bars are better measured again", COMMON)


def _of_the_job(job: Job, style: Style) -> Iterator[tuple[str, str, str, str]]:
    """What is taken where the job does not write it: the key, what it is, what it decides, where it comes from."""
    rows = (
        ("units", str(job.units), "of a number that has none"),
        ("say", job.say, "whose words stand on paper, uk or us"),
        ("finest", f"{job.finest} {style.unit}", "the step of measures on paper"),
        ("paper", job.paper, "of all sheets"),
        ("sheets", job.sheets, "where one sheet does not reach: single, with a tape, or joined"),
        ("template", job.template or "face", "what sheets are laid on: face, back or both; a textured tile's back"),
        ("cut", job.cut, "when: on the day, the wall read again, or ahead, from the plan alone"),
    )
    for key, shown, what in rows:
        own = OWN_TOOLS if key == "paper" and job.tools.printer.paper is not None else "taken where none is written"
        yield key, shown, what, SET_IN_JOB if key in job.read["job"] else own


def _shown(limit: Limit, style: Style) -> str:
    """The figure as the job is measured; a part as a part of a hundred."""
    if limit.unit == "mm":
        return f"{_length(limit.value, style)} {style.unit}"
    if limit.unit == "part":
        return f"{limit.value * 100.0:.{PLACES}g} %"
    return f"{limit.value:g}{_SIGNS[limit.unit]}"


def _length(mm: float, style: Style) -> str:
    """A length as it is: in a job in inches a fraction where it is one, else decimals."""
    if style.unit is Unit.MM:
        return f"{mm:g}"
    inches = Fraction(str(round(mm, SNAP_DIGITS))) / MM_PER[Unit.INCH]
    if inches.denominator <= FINEST_SHOWN:
        return figure(say(mm, Style(Unit.INCH, Fraction(1, FINEST_SHOWN))))
    return f"{float(inches):.{DECIMALS}f}"
