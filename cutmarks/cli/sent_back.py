"""What a wall page sent back: sorted, shown with what it moves, asked, and kept beside the job in one step."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import cutmarks
from cutmarks.cli.ending import Exit, note_unwritten, note_written, writing
from cutmarks.cli.found import ending_of, found_lines, text_of
from cutmarks.cli.options import own_files
from cutmarks.cli.terminal import confirmed, tell, wrapped
from cutmarks.errors import JobError
from cutmarks.job.found_file import found_path, read_kept
from cutmarks.job.found_sent import SortedOut, read_sent, sort_out
from cutmarks.job.found_text import with_entries
from cutmarks.job.reading import MOST_BYTES

if TYPE_CHECKING:
    from cutmarks.plan import Plan

INDENT = "  "


def take_in(job: Path, sent: Sequence[Path], of: str, tools: Path | None, *, asks: bool) -> Exit:
    """Keep what is new in the files that wall pages sent, once it was shown and said yes to.

    Raises:
        JobError, OutputError: a file is none of this job's, or cannot be taken in; nothing was written.
    """
    from cutmarks.writers.found_file import holds, one_at_a_time, put, standing

    path = found_path(job)
    before, content = standing(path, MOST_BYTES), text_of(path)
    kept = read_kept(content, path.name)
    if kept.faults:
        raise JobError(kept.faults)
    plan = _planned(job, tools)
    sheets = {piece.name.casefold(): piece.fingerprint for piece in plan.pieces}
    found = sort_out(read_sent(sent, plan.job), kept, sheets, of)
    if not found.taken:
        tell([*_not_taken(found), "Nothing new is to be kept: nothing was written."])
        return Exit.NOTHING_WRITTEN if found.apart else ending_of(plan)
    entries = [one.to_keep for one in found.taken]
    moved = _planned(job, tools, entries)
    after = with_entries(content, entries, path.name).encode()
    tell([*_not_taken(found), *_taken(found, moved)])
    if asks and not confirmed(f"Keep {len(entries)} of them in {path.name}?"):
        tell("Nothing was written.")
        return Exit.NOTHING_WRITTEN
    try:
        with one_at_a_time(job), writing(path, ending_of(moved)):
            unsure = put(path, before, after)
    except KeyboardInterrupt:
        if holds(path, after):
            note_written(path, ending_of(moved))
        else:
            note_unwritten()
        raise
    tell([f"Kept in {path.name}. Make the sheets anew: cutmarks make.", *filter(None, [unsure])])
    return ending_of(moved)


def _planned(job: Path, tools: Path | None, found: Sequence[Mapping[str, str]] = ()) -> Plan:
    return cutmarks.make_plan(cutmarks.load_job(job, **own_files(job, tools), found=found))


def _not_taken(found: SortedOut) -> Iterator[str]:
    """What is left out, and why."""
    for one in found.known:
        yield from wrapped(f"Kept already: {one.words}", "", INDENT)
    for one in found.changed:
        yield from wrapped(
            f"NOT TAKEN, its sheet is another than {one.sheet} by now: {one.words}. Read it again on the new page.",
            "",
            INDENT,
        )
    for words in found.apart:
        yield from wrapped(
            f"NOT TAKEN, two read it differently: {'; '.join(words)}. Say whose it is, as in --of JK.",
            "",
            INDENT,
        )
    if found.ticked:
        yield from wrapped(
            f"Ticked as cut or fixed, which stays with the phone: {', '.join(found.ticked)}.", "", INDENT
        )


def _taken(found: SortedOut, plan: Plan) -> Iterator[str]:
    """What is to be kept, and what becomes of each piece."""
    for one in found.taken:
        yield from wrapped(f"To keep: {one.words}", "", INDENT)
    for piece in dict.fromkeys(one.said["piece"] for one in found.taken):
        yield ""
        yield from found_lines(plan, piece)
