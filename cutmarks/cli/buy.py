"""cutmarks buy: what a job takes, as it is laid out."""

from __future__ import annotations

from pathlib import Path

import click

import cutmarks
from cutmarks.cli.ending import Exit
from cutmarks.cli.loading import loading_once
from cutmarks.cli.options import job_argument, own_files, tools_option, trace_option
from cutmarks.cli.order import has_tiles
from cutmarks.cli.terminal import figure, tell, wrapped


@click.command("buy")
@job_argument
@tools_option
@trace_option
def buy(job: Path, tools: Path | None) -> Exit:
    """Print what the job takes: tiles with offcuts and spares, adhesive, grout, silicone.

    JOB is a job file whose areas have their start. Each figure stands with its formula and where it is from; bags need
    the maker's own figure (bag: 20 kg makes 14 litres). Where the tiles in hand (have: 25 tiles) are not enough, it
    says which start needs fewer. Nothing is written.
    """
    with loading_once():  # late: --help of a command loads nothing of the job
        from cutmarks.buying.flow import what_to_buy
        from cutmarks.desk.fewer import fewer_lines
        from cutmarks.saying.buying import buy_lines

    read = cutmarks.load_job(job, **own_files(job, tools))
    plan = cutmarks.make_plan(read)
    has_tiles(plan)
    to_buy = what_to_buy(plan)
    lines = [*buy_lines(to_buy, plan), *fewer_lines(read, to_buy.tiles, "cutmarks setout")]
    tell([line for text in lines for line in wrapped(figure(text), "", "  ")])
    return Exit.DONE
