"""cutmarks order: the set-out and the order of work, as the set-out page has them."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

import cutmarks
from cutmarks.cli.ending import Exit
from cutmarks.cli.loading import loading_once
from cutmarks.cli.options import job_argument, own_files, tools_option, trace_option
from cutmarks.cli.terminal import figure, tell, wrapped
from cutmarks.errors import OutputError

if TYPE_CHECKING:
    from cutmarks.plan import Plan

NUMBERED = 4
"""How wide the number of a step stands, columns."""


def has_tiles(plan: Plan) -> None:
    """Raises OutputError: no surface of a plan has its tiles, and there is nothing to set out or to buy."""
    if not plan.laid:
        raise OutputError("No surface has its tiles yet: write tiles: and areas:, and where they start.")


@click.command("order")
@job_argument
@tools_option
@trace_option
def order(job: Path, tools: Path | None) -> Exit:
    """Print the set-out and the order of work of each wall and floor: batten, rod, cuts, day two.

    JOB is a job file whose areas have their start. Nothing is written; `make` puts the same on set-out.pdf, drawn, with
    what `cutmarks buy` says.
    """
    with loading_once():  # late: --help of a command loads nothing of the job
        from cutmarks.cli.table import says_stop
        from cutmarks.saying.gauging import heading_lines, sections, told

    read = cutmarks.load_job(job, **own_files(job, tools))
    plan = cutmarks.make_plan(read)
    has_tiles(plan)
    lines: list[str] = []
    for one in told(plan):
        lines += ["", one.surface.setout.name.upper()]
        lines += [line for text in heading_lines(one, plan) for line in wrapped(figure(text), "", "  ")]
        for number, step in enumerate(sections(one, plan), start=1):
            lines.append(f"{number:<{NUMBERED}}{step.title}")
            blank = " " * NUMBERED
            lines += [line for text in step.lines for line in wrapped(figure(text), f"{blank}- ", f"{blank}  ")]
    tell(lines[1:])
    return Exit.STOP if says_stop(plan) else Exit.DONE
