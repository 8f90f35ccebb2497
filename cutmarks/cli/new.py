"""cutmarks new: ask for a job, or copy a starter or a blank measure-up sheet."""

from __future__ import annotations

from pathlib import Path

import click

from cutmarks.cli.asking import asked
from cutmarks.cli.draft import written
from cutmarks.cli.ending import Exit
from cutmarks.cli.kept import KeptAnswers
from cutmarks.cli.options import trace_option
from cutmarks.cli.saving import refuse_taken, save_new
from cutmarks.cli.templates import STARTERS, find_template
from cutmarks.cli.terminal import tell
from cutmarks.errors import OutputError

JOB_FILE = "job.yaml"


@click.command("new")
@click.argument("path", required=False, type=click.Path(path_type=Path))
@click.option(
    "--starter",
    type=click.Choice([Path(name).stem for name in STARTERS]),
    help="Copy a commented job that runs, to be changed.",
)
@click.option("--blank", type=click.Choice(["wall", "floor"]), help="Copy a measure-up sheet to print and fill in.")
@click.option(
    "--paper", type=click.Choice(["A4", "Letter"]), default="A4", show_default=True, help="The blank sheet's paper."
)
@trace_option
def new(path: Path | None, starter: str | None, blank: str | None, paper: str) -> Exit:
    """Ask for the measurements, a line for each thing, and write a commented job.

    PATH is the file to write; without it, job.yaml, or the blank sheet's own name. A file that is there already is
    never overwritten. One line says several things: hot, 15 copper, 67 to 83 left of V, 212 to 228 above B, cover 65.
    At any question `back` takes the last answer back and `help` says what is taken. Ended on the way, the same command
    goes on there, by the answers that it keeps beside PATH (job.yaml.answers). Answers may be piped in, one to a line.
    """
    if starter and blank:
        raise click.UsageError("--starter and --blank are two different files: give one of them.")
    template = f"measure-up-{blank}-{paper}.pdf" if blank else f"{starter}.yaml" if starter else None
    target = path or Path(template if template and blank else JOB_FILE)
    if template:
        save_new(target, find_template(template).read_bytes())
        tell(f"Written: {target}")
    else:
        refuse_taken(target)
        _ask(target)
        tell(f"Written: {target}. The figures without paper: cutmarks check {target}")
    return Exit.DONE


def _ask(target: Path) -> None:
    """Ask for the job and write it. However the questions end, the answers so far are in a file beside it."""
    kept = KeptAnswers(target)
    _save_answers(target, written(asked(kept)))
    kept.remove()


def _save_answers(target: Path, text: str) -> None:
    """Save the job; where that is not possible any more it is printed, so that nobody answers everything again."""
    try:
        save_new(target, text.encode("utf-8"))
    except OutputError as error:
        tell(text, as_it_is=True)
        raise OutputError(f"{error} Your answers stand above, as a job file: put them into one.") from error
