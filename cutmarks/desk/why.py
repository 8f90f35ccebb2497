"""Every limit and default, by what it is about, with what it decides and where its figure comes from."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from msgspec import Struct, field

from cutmarks.checks.bridges import bridge_of
from cutmarks.desk.printers import OLD_AFTER
from cutmarks.fittings import cores_source
from cutmarks.job import Job
from cutmarks.job.limits import NAMES, SET_IN_JOB, rows
from cutmarks.job.models import IMPERIAL
from cutmarks.limits import COMMON, HEADINGS, Limit, Limits
from cutmarks.plan import cores_of
from cutmarks.registering.calibration import JUDGED, fixed_figures
from cutmarks.registering.paper import SAFE_MARGIN
from cutmarks.tiling.grid import tile_as_laid
from cutmarks.units import MM_PER, Style, Unit, say

UNPUBLISHED = ", no published source"
JOB = "THE JOB: each has a line of its own in the job file"
TOOLS = "YOUR TOOLS: set in tools.yaml"
OWN_TOOLS = "your own, in tools.yaml"
PRINTERS = "PRINTERS: what cutmarks printer goes by. Fixed, since it is no job's"
FINEST_SHOWN = 64
"""An inch is shown in fractions down to this."""
SNAP_DIGITS = 6
DECIMALS = PLACES = 3
_SIGNS = {"degrees": " degrees", "cm2": " cm2", "times": " times", "count": ""}


class WhyRow(Struct, frozen=True):
    """One figure: its key, how it is said, what it decides, where it comes from."""

    key: str
    shown: str
    what: str
    source: str


class WhyPart(Struct):
    """A heading, and the figures under it."""

    heading: str
    rows: list[WhyRow] = field(default_factory=list)


def why_parts(job: Job) -> list[WhyPart]:
    """All figures under their headings."""
    style = Style(Unit.INCH if job.units in IMPERIAL else Unit.MM, job.finest)
    parts = [WhyPart(JOB, list(_of_the_job(job, style)))]
    limits = job.limits.figures()
    of_tiles = _of_the_tiles(job, limits, style)
    for key, limit in rows(limits):
        if NAMES[key] in HEADINGS:
            parts.append(WhyPart(HEADINGS[NAMES[key]]))
        what = limit.what + of_tiles.get(NAMES[key], "")
        parts[-1].rows.append(WhyRow(key, _shown(limit, style), what, limit.source.replace(UNPUBLISHED, "")))
    return [*parts, WhyPart(TOOLS, list(_of_the_tools(job, style))), WhyPart(PRINTERS, list(_of_printers()))]


def _of_the_tiles(job: Job, limits: Limits, style: Style) -> dict[str, str]:
    """What the part of a tile's side comes to on the job's own tiles, by the limit's name: "; 24½ on chalk"."""
    own: dict[str, dict[str, str]] = {}
    for surface in job.surfaces:
        for area in surface.areas:
            spec = job.tiles.get(area.tile)
            if spec is None:
                continue
            bridge = bridge_of(tile_as_laid(spec, area), surface.kind, limits)
            for decides, least in ((bridge.look, bridge.least_look), (bridge.stop, bridge.least_stop)):
                for name in ("bridge_part", "stop_bridge_part"):
                    if decides is getattr(limits, name):
                        own.setdefault(name, {})[spec.name] = f"{say(least, style)} on {spec.name}"
    return {name: f"; here {', '.join(said.values())}" for name, said in own.items()}


def _of_the_job(job: Job, style: Style) -> Iterator[WhyRow]:
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
        yield WhyRow(key, shown, what, SET_IN_JOB if key in job.read["job"] else own)


def _of_the_tools(job: Job, style: Style) -> Iterator[WhyRow]:
    cores = f"{', '.join(_length(core, style) for core in cores_of(job))} {style.unit}"
    own = OWN_TOOLS if job.tools.cores else cores_source().replace(UNPUBLISHED, "")
    yield WhyRow("cores", cores, "what a hole is drilled with", own)
    margin = job.tools.printer.margin
    shown = f"{_length(SAFE_MARGIN if margin is None else margin, style)} {style.unit}"
    usual = f"{COMMON}: desktop printers leave 3 to 6".replace(UNPUBLISHED, "")
    yield WhyRow("printer margin", shown, "what the printer leaves white", usual if margin is None else OWN_TOOLS)


def _of_printers() -> Iterator[WhyRow]:
    judged, common = (source.replace(UNPUBLISHED, "") for source in (JUDGED, COMMON))
    for name, shown, what in fixed_figures():
        yield WhyRow(name, shown, what, judged)
    yield WhyRow("measured anew", f"{OLD_AFTER} days", "after so long the bars are better measured again", common)


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
        return say(mm, Style(Unit.INCH, Fraction(1, FINEST_SHOWN)))
    return f"{float(inches):.{DECIMALS}f}"
