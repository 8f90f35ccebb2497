"""cutmarks shop: a pack for the workshop, over one job or many."""

from __future__ import annotations

from pathlib import Path

import click

import cutmarks
from cutmarks.cli.ending import Exit, note_written
from cutmarks.cli.loading import loading_once
from cutmarks.cli.options import own_files, shop_option, tools_option, trace_option
from cutmarks.cli.progress import progress_line
from cutmarks.cli.terminal import tell, wrapped


@click.command("shop")
@click.argument("jobs", nargs=-1, required=True, type=click.Path(exists=True, dir_okay=False, path_type=Path))
@click.option("--out", required=True, type=click.Path(path_type=Path), metavar="DIR", help="A new or empty folder.")
@click.option("--issue", default="", metavar="TEXT", help='Stands on each page and label, as in "2, 28 November".')
@tools_option
@shop_option
@trace_option
def shop(jobs: tuple[Path, ...], out: Path, issue: str, tools: Path | None, shop_file: Path | None) -> Exit:
    """Write a pack for the workshop: cut list, labels, one drawing for all pieces that are alike.

    JOBS are job files. Pieces of all of them that are alike have one number, one drawing, one DXF, and each its own
    label. What has a STOP is left out, and named. Jobs that are cut ahead get a sheet to sign.
    """
    with loading_once():  # late: --help of a command loads nothing of the job
        from cutmarks.saying.workshop import count_words, left_to_ask
        from cutmarks.writers.workshop import shop_pack, write_shop_pack

    plans = []
    with progress_line() as progress:
        for job in jobs:
            plans.append(cutmarks.make_plan(cutmarks.load_job(job, **own_files(job, tools, shop_file)), progress))
    pack = shop_pack(plans, issue.strip())
    names = write_shop_pack(pack, out)
    ending = Exit.STOP if pack.held else Exit.DONE
    note_written(out, ending)
    pieces = sum(len(number.pieces) for number in pack.numbered)
    loose = [name for name in names if "/" not in name]
    lines = wrapped(f"Written to {out}: {', '.join(loose)}, {len(names) - len(loose)} in dxf/.", "", "  ")
    lines += wrapped(f"{pieces} pieces, {len(pack.numbered)} drawings.", "", "  ")
    for one in pack.counts:
        lines += wrapped(count_words(one), "", "  ")
    if pack.held:
        held = ", ".join(one.piece.name for one in pack.held)
        lines += wrapped(f"NOT in it, since it must not be cut yet: {held}.", "", "  ")
    for words in left_to_ask(pack):
        lines += wrapped(f"ASKED OF YOU: {words}", "", "  ")
    tell(lines)
    return ending
