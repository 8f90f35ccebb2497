"""cutmarks rooms: a type and its rooms, what fits and what is cut anew."""

from __future__ import annotations

import os
from pathlib import Path
from typing import TYPE_CHECKING

import click

from cutmarks.cli.ending import Exit, note_written
from cutmarks.cli.loading import loading_once
from cutmarks.cli.options import tools_option, trace_option
from cutmarks.cli.progress import progress_line
from cutmarks.cli.terminal import tell, wrapped

if TYPE_CHECKING:
    from cutmarks.rooms.model import RoomsReport


@click.command("rooms")
@click.argument("file", type=click.Path(exists=True, dir_okay=False, path_type=Path), metavar="ROOMS")
@click.option(
    "--out", type=click.Path(path_type=Path), metavar="DIR", help="Also write types, pages and what is cut anew."
)
@click.option(
    "--at-once",
    type=click.IntRange(1, 64),
    default=None,
    help="So many rooms are worked out at once. Without it: as many as this machine has processors.",
)
@tools_option
@trace_option
def rooms(file: Path, out: Path | None, at_once: int | None, tools: Path | None) -> Exit:
    """Say which rooms of a site what was cut for their type fits, and what is cut anew.

    ROOMS is a file that names each room, its type (a job file beside it), its hand and what was read in it. Nothing
    that is cut already is moved: what was read is judged against it. With --out, each type is written as `make` does,
    each room that needs a piece of its own into a folder of its own, and a batch that was stopped goes on where it was.
    """
    with loading_once():  # late: --help of a command loads nothing of the job
        from cutmarks.cli.batch import Batch, rooms_of
        from cutmarks.cli.rooms_table import room_lines
        from cutmarks.rooms.report import report_of

    work = rooms_of(file, tools)
    batch = Batch(file, tools, out, at_once or os.cpu_count() or 1)
    with progress_line() as progress:
        done = batch.run(work, progress)
    report = report_of(work, done)
    lines = room_lines(report)
    if out is not None:
        from cutmarks.writers.rooms import write_report  # late: a table needs no writer

        names = write_report(report, out)
        note_written(out, _ending(report))
        lines += wrapped(f"Written to {out}: {', '.join(names)}, types/ and rooms/.", "", "  ")
    tell(lines)
    return _ending(report)


def _ending(report: RoomsReport) -> Exit:
    """STOP where something is cut anew, not judged or wrong; else done."""
    bad = report.failed or report.to_cut or any(not room.clears for room in report.rooms)
    return Exit.STOP if bad else Exit.DONE
