"""cutmarks found: what was read from the fixed neighbours, back from the wall."""

from __future__ import annotations

import datetime
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import click

import cutmarks
from cutmarks.checks.returned import corrected_words, cut_words
from cutmarks.cli.ending import Exit, writing
from cutmarks.cli.options import fittings_for, job_argument, tools_for, tools_option, trace_option
from cutmarks.cli.table import ON_THE_TILE, ON_THE_WALL, finding_lines, says_stop, tile_lines, wall_lines
from cutmarks.cli.terminal import tell, wrapped
from cutmarks.job.found_file import found_path, with_entry
from cutmarks.openings.found import base_name
from cutmarks.plan import style_of

if TYPE_CHECKING:
    from cutmarks.openings.found import AsFound
    from cutmarks.plan import Plan

INDENT = "  "


@click.command("found")
@job_argument
@click.argument("piece")
@click.argument("hole", default="")
@click.option("--from-left-tile", "left", metavar="READING", help='From the tile on the left: "70 to 85".')
@click.option("--from-right-tile", "right", metavar="READING", help="From the tile on the right.")
@click.option("--from-course-below", "bottom", metavar="READING", help="From the course below.")
@click.option("--from-course-above", "top", metavar="READING", help="From the course above.")
@click.option("--tile", metavar="SIZE", help="This very tile, across and up as it lies, where it differs: 247x398.")
@click.option("--cut", is_flag=True, help="It has been cut so.")
@click.option("--date", metavar="DAY", help="The day, as in 2026-03-14. Without it: today.")
@click.option("--note", metavar="WORDS", help="Kept with it.")
@tools_option
@trace_option
def found(job: Path, piece: str, hole: str, cut: bool, date: str | None, tools: Path | None, **read: str) -> Exit:
    """Take what was read at the wall: the hole moves, and its sheet is made anew by the next cutmarks make.

    PIECE is named as on its sheet; HOLE may be left out where there is one. Read to both sides of the thing, from the
    edges that are already fixed. It is kept, with the day, in a file beside the job (laundry.found.yaml). Once a hole
    is said to be cut, only a note is taken for it.

    \b
    cutmarks found laundry.yaml "splash 3-4" --from-right-tile "69 to 84" --from-course-below "44 to 59"
    """  # noqa: D301 - the backspace is click's own sign for lines that are not to be run together
    entry = {
        "piece": piece,
        "hole": hole,
        **{side: read[side] for side in ("left", "right", "bottom", "top", "tile")},
        "cut": "yes" if cut else "",
        "date": date or datetime.date.today().isoformat(),
        "note": read["note"],
    }
    entry = {key: value for key, value in entry.items() if value}
    # The whole job is planned with it before anything is written: what names nothing is never kept.
    plan = cutmarks.make_plan(
        cutmarks.load_job(job, tools=tools_for(job, tools), fittings=fittings_for(job, None), found=[entry])
    )
    from cutmarks.writers.found_file import keep, kept  # late: only this command writes it

    path = found_path(job)
    ending = Exit.STOP if says_stop(plan) else Exit.DONE
    with writing(path, ending):
        keep(path, with_entry(kept(path), entry))
    tell(found_lines(plan, piece, path.name))
    return ending


def found_lines(plan: Plan, piece: str, file: str) -> list[str]:
    """What came of it: the figures of this piece as they are now, and what to know before cutting it."""
    pieces = tuple(one for one in plan.pieces if base_name(one.name) == base_name(piece))
    names = {one.name for one in pieces}
    findings = tuple(finding for finding in plan.findings if names & set(finding.about))
    mine = replace(plan, pieces=pieces, findings=findings)
    lines = [f"Kept in {file}."]
    for one in plan.found:
        if one.piece in names:
            words = corrected_words(one, style_of(plan.say)) or _as_planned(one)
            lines += wrapped(f"{one.hole} in {one.piece}: {words}", "", INDENT)
    lines += [f"{one.name}: sheet {one.fingerprint}" for one in pieces]
    for title, block in (
        (ON_THE_TILE, tile_lines(mine)),
        (ON_THE_WALL, wall_lines(mine)),
        ("BEFORE YOU CUT", finding_lines(mine)),
    ):
        if block:
            lines += ["", title, *block]
    return lines


def _as_planned(one: AsFound) -> str:
    """Nothing moves: nothing was read, it was read where it was planned, or it was cut so."""
    return f"as planned. {cut_words(one)}" if one.cut else "as planned: nothing moves."
