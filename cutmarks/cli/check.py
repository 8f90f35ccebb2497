"""cutmarks check: the figures without paper."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import click

import cutmarks
from cutmarks.cli.ending import Exit
from cutmarks.cli.loading import loading_once
from cutmarks.cli.options import job_argument, own_files, tools_option, trace_option
from cutmarks.cli.terminal import tell

if TYPE_CHECKING:
    from cutmarks.job import Job


@click.command("check")
@job_argument
@tools_option
@click.option("--why", is_flag=True, help="Also print every limit and default, and where its figure comes from.")
@trace_option
def check(job: Path, tools: Path | None, why: bool) -> Exit:
    """Print each hole's four measures and wall checks, and what to know before cutting.

    JOB is a job file (cutmarks new writes one). Nothing is written. It says what lies at each edge and window, and
    whether another start is clearly better. Where an area has no start yet, it says what the best would leave, and last
    of all what it could not look at.
    """
    # Late, all of it: --help of a command loads nothing of the job.
    with loading_once():
        from cutmarks.cli.choices import laid_lines, undecided_lines
        from cutmarks.cli.table import check_lines, says_stop
        from cutmarks.cli.unlooked import unlooked_lines

    read = cutmarks.load_job(job, **own_files(job, tools))
    reasons = _reasons(read) if why else ()
    plan = cutmarks.make_plan(read, undecided=True)
    starts = [*laid_lines(read, plan), *undecided_lines(read, plan)]
    tell([*check_lines(plan), *starts, *reasons, *unlooked_lines(plan)])
    return Exit.STOP if says_stop(plan) else Exit.DONE


def _reasons(job: Job) -> Iterator[str]:
    from cutmarks.cli.why import why_lines  # late: a plain check does not wait for it

    return why_lines(job)
