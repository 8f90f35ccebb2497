"""cutmarks make: everything that a tiler and a shop need, in one folder."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

import cutmarks
from cutmarks.cli.ending import Exit
from cutmarks.cli.options import PAPER, job_argument, tools_for, tools_option, trace_option
from cutmarks.cli.progress import progress_line
from cutmarks.cli.table import finding_lines, says_stop
from cutmarks.cli.terminal import tell, wrapped

if TYPE_CHECKING:
    from cutmarks.plan import Plan
    from cutmarks.writers.pack import Written


@click.command("make")
@job_argument
@click.option("--out", required=True, type=click.Path(path_type=Path), metavar="DIR", help="The folder for the output.")
@click.option(
    "--only",
    multiple=True,
    metavar="NAME",
    help="Also write again.pdf with the sheets of this piece or hole alone: what broke. May be given several times.",
)
@click.option("--paper", type=PAPER, help="Print on this paper instead of the job's.")
@tools_option
@trace_option
def make(job: Path, out: Path, only: tuple[str, ...], paper: str | None, tools: Path | None) -> Exit:
    """Write templates, job sheet, DXF, lists and plan.json into a folder.

    JOB is a job file. DIR must be new, empty, or an earlier output of the same job: then it is replaced as a whole,
    and files of your own in it are kept. It says which pieces changed since then.
    """
    read = cutmarks.load_job(job, tools=tools_for(job, tools))
    if paper is not None:
        read = read.model_copy(update={"paper": paper})
    with progress_line() as progress:
        plan = cutmarks.make_plan(read, progress)
    return make_into(plan, out, only)


def make_into(plan: Plan, out: Path, only: tuple[str, ...] = ()) -> Exit:
    """Write everything for one plan into `out`, and say what was written."""
    with progress_line() as progress:
        written = cutmarks.write_job(plan, out, again=only, progress=progress)
    tell(written_lines(written, out))
    findings = finding_lines(plan)
    if findings:
        tell(["BEFORE YOU CUT", *findings])
    for sentence in filter(None, (written.without_pdf, written.left)):
        tell(sentence, err=True)
    if says_stop(plan):
        return Exit.STOP
    return Exit.NO_PDF if written.without_pdf else Exit.DONE


def written_lines(written: Written, out: Path) -> list[str]:
    """What stands in the folder now, and what is new about it."""
    loose = [name for name in written.files if "/" not in name]
    inside = {folder: sum(name.startswith(f"{folder}/") for name in written.files) for folder in ("sheets", "dxf")}
    counted = [f"{count} in {folder}/" for folder, count in inside.items() if count]
    lines = wrapped(f"Written to {out}: {', '.join((*loose, *counted))}.", "", "  ")
    if written.changed is None:
        return lines
    if not written.changed:
        return [*lines, "No piece changed since the last output."]
    return lines + wrapped(f"Changed since the last output: {', '.join(written.changed)}.", "", "  ")
