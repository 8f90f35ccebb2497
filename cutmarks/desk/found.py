"""What was read at the wall, kept by hand or taken back: what the file of what was found becomes, and the plan with it.

Nothing is written here: `found` and the page both show what it comes to first.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from msgspec import Struct

from cutmarks.desk.sent import text_of
from cutmarks.errors import JobError
from cutmarks.job.found_file import found_path, last_of, read_kept, said_in
from cutmarks.job.found_text import with_entries, without_entry
from cutmarks.job.load import OwnFiles, load_job
from cutmarks.plan import Plan, make_plan


class Returned(Struct, frozen=True):
    """The text of the file with it, what to say once it is written, and the plan then.

    plan  None: the job cannot be planned so; faults says why.
    """

    after: str
    said: str
    plan: Plan | None
    faults: tuple[str, ...] = ()


def with_found(job: Path, entry: Mapping[str, str], own: OwnFiles) -> Returned:
    """One more entry; the whole job is planned with it: what names nothing is never kept.

    Raises:
        JobError: it cannot be taken in.
    """
    path = found_path(job)
    plan = make_plan(load_job(job, **own, found=[entry]))
    return Returned(with_entries(text_of(path), [entry], path.name), f"Kept in {path.name}.", plan)


def without_last(job: Path, piece: str, hole: str, own: OwnFiles) -> Returned:
    """The last entry of a piece, and of a hole where one is named, taken out.

    Other faults of the job do not keep it: they may come of this very entry, or of the next to be taken back.

    Raises:
        JobError: there is no such entry, or the file cannot be read.
    """
    path = found_path(job)
    text = text_of(path)
    kept = read_kept(text, path.name)
    if kept.faults:
        raise JobError(kept.faults)
    number = last_of(piece, hole, kept, job)
    after = without_entry(text, number, path.name)
    said = f"Taken back from {path.name}: {said_in(kept.entries[number][1])}."
    try:
        return Returned(after, said, make_plan(load_job(job, **own, taken_back=number)))
    except JobError as error:
        return Returned(after, said, None, tuple(map(str, error.faults)))
