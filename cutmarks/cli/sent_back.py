"""What a wall page sent back: sorted, shown with what it moves, asked, and kept beside the job in one step."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from cutmarks.cli.ending import Exit, note_unwritten, note_written, writing
from cutmarks.cli.found import ending_of, found_lines
from cutmarks.cli.options import own_files
from cutmarks.cli.terminal import confirmed, tell, wrapped
from cutmarks.desk.sent import not_taken, take_in
from cutmarks.job.found_file import found_path
from cutmarks.job.found_sent import WHAT, SortedOut
from cutmarks.job.reading import MOST_BYTES, read_file

if TYPE_CHECKING:
    from cutmarks.plan import Plan

INDENT = "  "


def keep_sent(job: Path, sent: Sequence[Path], of: str, tools: Path | None, *, asks: bool) -> Exit:
    """Keep what is new in the files that wall pages sent, once it was shown and said yes to.

    Raises:
        JobError, OutputError: a file is none of this job's, or cannot be taken in; nothing was written.
    """
    from cutmarks.writers.found_file import holds, one_at_a_time, put, standing

    path = found_path(job)
    before = standing(path, MOST_BYTES)
    contents = [(one.name, read_file(one, MOST_BYTES, WHAT)) for one in sent]
    taken = take_in(job, contents, of, own_files(job, tools))
    found, moved = taken.found, taken.plan
    if not found.taken:
        tell([*_not_taken(found), "Nothing new is to be kept: nothing was written."])
        return Exit.NOTHING_WRITTEN if found.apart else ending_of(moved)
    after = taken.after.encode()
    tell([*_not_taken(found), *_taken(found, moved)])
    if asks and not confirmed(f"Keep {len(found.taken)} of them in {path.name}?"):
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


def _not_taken(found: SortedOut) -> Iterator[str]:
    """What is left out, and why."""
    for words in not_taken(found):
        yield from wrapped(words, "", INDENT)


def _taken(found: SortedOut, plan: Plan) -> Iterator[str]:
    """What is to be kept, and what becomes of each piece."""
    for one in found.taken:
        yield from wrapped(f"To keep: {one.words}", "", INDENT)
    for piece in dict.fromkeys(one.said["piece"] for one in found.taken):
        yield ""
        yield from found_lines(plan, piece)
