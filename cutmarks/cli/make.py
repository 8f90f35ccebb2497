"""cutmarks make: everything that a tiler and a shop need, in one folder."""

from __future__ import annotations

import datetime
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click
from msgspec.structs import replace

import cutmarks
from cutmarks.cli.ending import Exit, writing
from cutmarks.cli.loading import loading_once
from cutmarks.cli.options import (
    PAPER,
    job_argument,
    own_files,
    printer_options,
    printers_file,
    replace_option,
    shop_option,
    tools_option,
    trace_option,
)
from cutmarks.cli.progress import progress_line
from cutmarks.cli.terminal import tell, wrapped

if TYPE_CHECKING:
    from cutmarks.job.load import OwnFiles
    from cutmarks.plan import Plan
    from cutmarks.registering.calibration import Calibration
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
@click.option("--joined", is_flag=True, help="Joined sheets where one does not reach, instead of one with a tape.")
@click.option("--back", is_flag=True, help="Templates for the back of every tile, mirrored, instead of its face.")
@click.option("--pictures", is_flag=True, help="Also a PNG of each sheet and of each surface, to be sent from a site.")
@replace_option
@printer_options
@tools_option
@shop_option
@trace_option
def make(
    job: Path,
    out: Path,
    only: tuple[str, ...],
    paper: str | None,
    joined: bool,
    back: bool,
    pictures: bool,
    replace_other: bool,
    printer: str | None,
    tray: str,
    tools: Path | None,
    shop_file: Path | None,
) -> Exit:
    """Write templates, job sheet, wall page, DXF, lists and plan.json into a folder.

    JOB is a job file. DIR must be new, empty, or an earlier output of the same job: then it is replaced as a whole,
    and files of your own in it are kept, those of the output that you changed under another name. It says which pieces
    changed since then.
    """
    wished = {"paper": paper, "sheets": "joined" if joined else None, "template": "back" if back else None}
    plan = _planned(job, wished, printer, tray, own_files(job, tools, shop_file))
    return make_into(plan, out, only, pictures=pictures, replace=replace_other)


def _planned(job: Path, wished: Mapping[str, str | None], printer: str | None, tray: str, own: OwnFiles) -> Plan:
    """The plan of a job file; the job itself is not held any longer while the plan is written."""
    read = cutmarks.load_job(job, **own)
    said: dict[str, Any] = {key: value for key, value in wished.items() if value is not None}
    read = replace(read, **said)
    calibration = corrected_for(printer, tray, read.paper)
    with progress_line() as progress:
        return cutmarks.make_plan(read, progress, calibration)


def corrected_for(printer: str | None, tray: str, paper: str) -> Calibration | None:
    """The calibration that was asked for; None where none was.

    Raises:
        OutputError: that printer was never measured with this paper.
    """
    if printer is None:
        if tray:
            raise click.UsageError("--tray is a tray of a printer: give --printer NAME too.")
        return None
    from cutmarks.desk.printers import calibration_for  # late: only for a printer that was measured

    return calibration_for(printer, tray, paper, printers_file())


def make_into(
    plan: Plan,
    out: Path,
    only: tuple[str, ...] = (),
    before: Sequence[str] = (),
    *,
    pictures: bool = False,
    replace: bool = False,
) -> Exit:
    """Write everything for one plan into `out`, and say what was written, behind the lines `before`.

    All is said in one, and when all is written: what cannot be printed does not keep it from being written.
    """
    with loading_once():  # late: --help of a command loads nothing of the job
        from cutmarks.cli.table import finding_lines, says_stop

    ending = Exit.STOP if says_stop(plan) else Exit.DONE
    with writing(out, ending), progress_line() as progress:
        written = cutmarks.write_job(plan, out, again=only, pictures=pictures, replace=replace, progress=progress)
    if written.left:
        tell(written.left, err=True)
    findings = finding_lines(plan)
    lines = [*before, *_calibrated(plan), *written_lines(written, out)]
    tell([*lines, "BEFORE YOU CUT", *findings] if findings else lines)
    return ending


def _calibrated(plan: Plan) -> list[str]:
    """What the sheets are corrected for, and how old its readings are."""
    if plan.calibration is None:
        return []
    from cutmarks.desk.printers import aged  # late: as above

    age = aged(plan.calibration.date, datetime.date.today())
    return wrapped(f"The sheets are {plan.calibration} ({age}).", "", "  ")


def written_lines(written: Written, out: Path) -> list[str]:
    """What stands in the folder now, and what is new about it."""
    from cutmarks.desk.written import changed_words, kept_words  # late: it brings the writers

    loose = [name for name in written.files if "/" not in name]
    inside = {
        folder: sum(name.startswith(f"{folder}/") for name in written.files) for folder in ("sheets", "dxf", "pictures")
    }
    counted = [f"{count} in {folder}/" for folder, count in inside.items() if count]
    lines = wrapped(f"Written to {out}: {', '.join((*loose, *counted))}.", "", "  ")
    for words in (*kept_words(written), *changed_words(written)):
        lines += wrapped(words, "", "  ")
    return lines
