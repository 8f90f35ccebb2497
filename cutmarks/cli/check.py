"""cutmarks check: the figures without paper."""

from __future__ import annotations

from pathlib import Path

import click

import cutmarks
from cutmarks.cli.ending import Exit
from cutmarks.cli.options import job_argument, tools_for, tools_option, trace_option
from cutmarks.cli.table import check_lines, says_stop
from cutmarks.cli.terminal import tell


@click.command("check")
@job_argument
@tools_option
@trace_option
def check(job: Path, tools: Path | None) -> Exit:
    """Print each hole's four measures and wall checks, and what to know before cutting.

    JOB is a job file (cutmarks new writes one). Nothing is written. Where the job has no start yet, it says what a
    joint or the middle of a tile on the line would leave at the edges.
    """
    plan = cutmarks.make_plan(cutmarks.load_job(job, tools=tools_for(job, tools)))
    tell(check_lines(plan))
    return Exit.STOP if says_stop(plan) else Exit.DONE
