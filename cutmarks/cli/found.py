"""cutmarks found: what was read from the fixed neighbours, back from the wall."""

from __future__ import annotations

import datetime
from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING

import click
from msgspec import Struct
from msgspec.structs import replace

from cutmarks.checks.returned import corrected_words, cut_words
from cutmarks.cli.ending import Exit, note_unwritten, note_written, writing
from cutmarks.cli.options import job_argument, own_files, tools_option, trace_option
from cutmarks.cli.table import ON_THE_TILE, ON_THE_WALL, finding_lines, says_stop, tile_lines, wall_lines
from cutmarks.cli.terminal import tell, wrapped
from cutmarks.desk.found import with_found, without_last
from cutmarks.job.found_file import found_path
from cutmarks.job.reading import MOST_BYTES
from cutmarks.readings import base_name
from cutmarks.saying.infills import infill_found_words

if TYPE_CHECKING:
    from cutmarks.openings.found import AsFound
    from cutmarks.plan import Plan

INDENT = "  "


@click.command("found")
@job_argument
@click.argument("piece", default="")
@click.argument("hole", default="")
@click.option("--from-left-tile", "left", metavar="READING", help='From the tile on the left: "70 to 85".')
@click.option("--from-right-tile", "right", metavar="READING", help="From the tile on the right.")
@click.option("--from-course-below", "bottom", metavar="READING", help="From the course below.")
@click.option("--from-course-above", "top", metavar="READING", help="From the course above.")
@click.option("--tile", metavar="SIZE", help="This very tile, across and up as it lies, where it differs: 247x398.")
@click.option("--opening-across", metavar="SIZE", help='The opening of a trimmed piece, bottom and top: "91 and 90".')
@click.option("--opening-up", metavar="SIZE", help="The same upward, at its left and its right.")
@click.option("--cut", is_flag=True, help="It has been cut so.")
@click.option("--date", metavar="DAY", help="The day, as in 2026-03-14. Without it: today.")
@click.option("--note", metavar="WORDS", help="Kept with it, on one line.")
@click.option(
    "--from",
    "sent",
    multiple=True,
    type=click.Path(path_type=Path),
    metavar="FILE",
    help="Take what a wall page sent back. May be given several times: one for each phone.",
)
@click.option("--of", metavar="INITIALS", help="Where two phones read one tile differently: whose it is.")
@click.option("--yes", is_flag=True, help="Keep what --from gives without being asked.")
@click.option("--take-back", is_flag=True, help="Take the last entry of this piece and hole out again.")
@tools_option
@trace_option
def found(
    job: Path,
    piece: str,
    hole: str,
    cut: bool,
    date: str | None,
    take_back: bool,
    tools: Path | None,
    sent: tuple[Path, ...],
    of: str | None,
    yes: bool,
    **read: str | None,
) -> Exit:
    """Take what was read at the wall: the hole moves, and its sheet is made anew by the next cutmarks make.

    PIECE is named as on its sheet; HOLE may be left out where there is one. Read to both sides of the thing, from what
    its sheet reads from: --from-left-tile is the line or the edge on its left too. Of a trimmed piece the opening is
    read. It is kept, with the day, in a file beside the job (laundry.found.yaml). Once a hole is said to be cut, only a
    note is taken for it. What was said by mistake is taken back, the last entry first. With --from it is taken from
    what a wall page sent back: of pieces whose figures did not change since, each once; what moves is shown first.

    \b
    cutmarks found laundry.yaml "splash 3-4" --from-right-tile "69 to 84" --from-course-below "44 to 59"
    cutmarks found laundry.yaml "splash 2-9" --opening-across "91 and 90"
    cutmarks found laundry.yaml "splash 3-4" --take-back
    cutmarks found laundry.yaml --from readings.txt
    """  # noqa: D301 - the backspace is click's own sign for lines that are not to be run together
    if take_back and (cut or date or any(read.values())):
        raise click.UsageError("--take-back takes the last entry out and nothing in: give no reading, size or note.")
    if sent and (piece or take_back or cut or date or any(read.values())):
        raise click.UsageError("--from has the pieces and what was read of them: give nothing else but --of and --yes.")
    if not sent and (of or yes):
        raise click.UsageError("--of and --yes are for what a wall page sent: give --from FILE too.")
    if not sent and not piece:
        raise click.UsageError("Name the piece as on its sheet, or give --from FILE.")
    if sent:
        from cutmarks.cli.sent_back import keep_sent  # late: it is a way of its own

        return keep_sent(job, sent, of or "", tools, asks=not yes)
    from cutmarks.writers.found_file import holds, one_at_a_time, put  # late: only this command writes it

    path, change = found_path(job), None
    try:
        with one_at_a_time(job):
            if take_back:
                change = _taken_back(job, piece, hole, tools)
            else:
                entry = {
                    "piece": piece,
                    "hole": hole,
                    **{side: read[side] or "" for side in ("left", "right", "bottom", "top", "tile")},
                    "opening across": read["opening_across"] or "",
                    "opening up": read["opening_up"] or "",
                    "cut": "yes" if cut else "",
                    "date": date or datetime.date.today().isoformat(),
                    "note": read["note"] or "",
                }
                change = _kept(job, {key: value for key, value in entry.items() if value}, tools)
            with writing(path, change.ending):
                unsure = put(path, change.before, change.after)
        tell([change.said, *filter(None, [unsure]), *change.lines])
    except KeyboardInterrupt:
        # Stopped on the way: whether it was done is looked up, since what is said has to be so.
        if change is not None and holds(path, change.after):
            note_written(path, change.ending)
        else:
            note_unwritten()
        raise
    return change.ending


class Change(Struct, frozen=True):
    """A file that is to be changed: what it holds, what it is to hold, and what to say when it does."""

    before: bytes | None
    after: bytes
    said: str
    lines: list[str]
    ending: Exit


def _kept(job: Path, entry: Mapping[str, str], tools: Path | None) -> Change:
    """One more entry. Raises JobError, OutputError: it cannot be taken in; nothing was written."""
    from cutmarks.writers.found_file import standing

    before = standing(found_path(job), MOST_BYTES)
    taken = with_found(job, entry, own_files(job, tools))
    assert taken.plan is not None
    return Change(
        before, taken.after.encode(), taken.said, found_lines(taken.plan, entry["piece"]), ending_of(taken.plan)
    )


def _taken_back(job: Path, piece: str, hole: str, tools: Path | None) -> Change:
    """The last entry taken out. Raises JobError, OutputError: there is none; nothing was written."""
    from cutmarks.writers.found_file import standing

    before = standing(found_path(job), MOST_BYTES)
    taken = without_last(job, piece, hole, own_files(job, tools))
    if taken.plan is None:
        lines = ["The job cannot be planned without it either:", *taken.faults]
        return Change(before, taken.after.encode(), taken.said, lines, Exit.STOP)
    return Change(before, taken.after.encode(), taken.said, found_lines(taken.plan, piece), ending_of(taken.plan))


def ending_of(plan: Plan) -> Exit:
    """The exit code of a command that wrote something of this plan."""
    return Exit.STOP if says_stop(plan) else Exit.DONE


def found_lines(plan: Plan, piece: str) -> list[str]:
    """What came of it: the figures of this piece as they are now, and what to know before cutting it."""
    pieces = tuple(one for one in plan.pieces if base_name(one.name) == base_name(piece))
    names = {one.name for one in pieces}
    findings = tuple(finding for finding in plan.findings if names & set(finding.about))
    mine = replace(plan, pieces=pieces, findings=findings)
    lines = []
    for one in plan.found:
        if base_name(one.piece) == base_name(piece):
            words = corrected_words(one, plan.say.style) or _as_planned(one)
            lines += wrapped(f"{one.hole} in {one.piece}: {words}", "", INDENT)
    for infill in plan.infills_found:
        if base_name(infill.piece) == base_name(piece):
            lines += wrapped(f"{infill.piece}: {infill_found_words(infill, plan.say.style)}", "", INDENT)
    if pieces and not lines:
        lines.append(f"Nothing is kept of {' and '.join(one.name for one in pieces)} any more: it is as planned.")
    lines += [f"{one.name}: sheet {one.fingerprint}" for one in pieces]
    for title, block in (
        (ON_THE_TILE, tile_lines(mine)),
        (ON_THE_WALL, wall_lines(mine)),
        ("BEFORE YOU CUT", finding_lines(mine)),
    ):
        if block:
            lines += ["", *wrapped(title, "", INDENT), *block]
    return lines


def _as_planned(one: AsFound) -> str:
    """Nothing moves: nothing was read, it was read where it was planned, or it was cut so."""
    return f"as planned. {cut_words(one)}" if one.cut else "as planned: nothing moves."
