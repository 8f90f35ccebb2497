"""Every limit and default of a job, with what it decides and where its figure comes from."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from cutmarks.cli.terminal import figure, wrapped
from cutmarks.fittings import cores_source
from cutmarks.job.limits import Limit, rows
from cutmarks.job.models import IMPERIAL
from cutmarks.plan import cores_of
from cutmarks.units import Style, Unit, say

if TYPE_CHECKING:
    from cutmarks.job import Job

TITLE = "LIMITS AND DEFAULTS. To set your own, in the job: limits: {thin bridge: 25}"
_SIGNS = {"degrees": " degrees", "cm2": " cm2", "times": " times"}


def why_lines(job: Job) -> Iterator[str]:
    """A line for each figure: its key, the figure, what it decides, its source."""
    style = Style(Unit.INCH if job.units in IMPERIAL else Unit.MM, job.finest)
    yield ""
    yield TITLE
    listed = rows(job.limits.figures())
    widest = max(len(key) for key, _ in listed)
    for key, limit in listed:
        yield from wrapped(f"{_shown(limit, style)}: {limit.what} ({limit.source})", f"  {key.ljust(widest)}  ")
    own = bool(job.tools.cores)
    yield from wrapped(
        f"{', '.join(f'{core:g}' for core in cores_of(job))} mm: what a hole is drilled with "
        f"({'your own, in tools.yaml' if own else cores_source()})",
        f"  {'cores'.ljust(widest)}  ",
    )


def _shown(limit: Limit, style: Style) -> str:
    """The figure as the job is measured; a part as a part of a hundred."""
    if limit.unit == "mm":
        exact = f"{limit.value:g}" if style.unit is Unit.MM else figure(say(limit.value, style))
        return f"{exact} {style.unit}"
    if limit.unit == "part":
        return f"{round(limit.value * 100.0, 1):g} %"
    return f"{limit.value:g}{_SIGNS[limit.unit]}"
