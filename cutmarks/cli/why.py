"""Every limit and default, as lines for the terminal."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from cutmarks.cli.terminal import figure, wrapped
from cutmarks.desk.why import why_parts
from cutmarks.job.limits import NAMES
from cutmarks.job.models import IMPERIAL

if TYPE_CHECKING:
    from cutmarks.job import Job

TITLE = "LIMITS AND DEFAULTS. To set your own, in the job: limits: {thin bridge: 25}"
NOTE = 'Where it says "common practice" or "own judgement" there is no published source.'
IN_MM = "Lengths in brackets without a unit are mm."


def why_lines(job: Job) -> Iterator[str]:
    """Under headings, a line for each figure: its key, the figure, what it decides, its source."""
    yield from ("", *wrapped(TITLE), *wrapped(f"{NOTE} {IN_MM}" if job.units in IMPERIAL else NOTE))
    widest = max(map(len, NAMES))
    for part in why_parts(job):
        yield from ("", *wrapped(part.heading))
        for one in part.rows:
            yield from wrapped(f"{figure(one.shown)}: {one.what} ({one.source})", f"  {one.key.ljust(widest)}  ")
