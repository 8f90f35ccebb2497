"""What a wall page sent back, sorted against what is kept, and what becomes of the job with it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path

from msgspec import Struct

from cutmarks.errors import Fault, JobError
from cutmarks.job.found_file import WHAT, found_path, read_kept
from cutmarks.job.found_sent import SortedOut, sent_in, sort_out
from cutmarks.job.found_text import with_entries
from cutmarks.job.load import OwnFiles, load_job
from cutmarks.job.reading import MOST_BYTES, read_file, stands
from cutmarks.plan import Plan, make_plan


class TakenIn(Struct, frozen=True):
    """What was sent, sorted; the file of what was found with what is new of it, and the plan with that."""

    found: SortedOut
    after: str
    plan: Plan


def take_in(job: Path, sent: Sequence[tuple[str, str | Fault]], of: str, own: OwnFiles) -> TakenIn:
    """What becomes of a job with the texts that wall pages sent, each behind its name; nothing is written.

    Raises:
        JobError: one is none of this job's, or the job cannot be planned with it.
    """
    path = found_path(job)
    before = text_of(path)
    kept = read_kept(before, path.name)
    if kept.faults:
        raise JobError(kept.faults)
    plan = make_plan(load_job(job, **own))
    sheets = {piece.name.casefold(): piece.fingerprint for piece in plan.pieces}
    found = sort_out(sent_in(sent, plan.job), kept, sheets, of)
    if not found.taken:
        return TakenIn(found, before, plan)
    entries: list[Mapping[str, str]] = [one.to_keep for one in found.taken]
    moved = make_plan(load_job(job, **own, found=entries))
    return TakenIn(found, with_entries(before, entries, path.name), moved)


def not_taken(found: SortedOut) -> list[str]:
    """What is left out, and why: a sentence each."""
    said = [f"Kept already: {one.words}" for one in found.known]
    said += [
        f"NOT TAKEN, its sheet is another than {one.sheet} by now: {one.words}. Read it again on the new page."
        for one in found.changed
    ]
    said += [
        f"NOT TAKEN, two read it differently: {'; '.join(words)}. Say whose it is, as in --of JK."
        for words in found.apart
    ]
    if found.ticked:
        said.append(f"Ticked as cut or fixed, which stays with the phone: {', '.join(found.ticked)}.")
    return said


def text_of(path: Path) -> str:
    """A file's text; empty where there is none. Raises JobError."""
    if not stands(path):
        return ""
    content = read_file(path, MOST_BYTES, WHAT)
    if isinstance(content, Fault):
        raise JobError([content])
    return content
