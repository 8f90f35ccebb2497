"""A job's pack, as `cutmarks make` writes it, and its files handed out: those alone that its record names."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import cutmarks
from cutmarks.desk.places import own_files_in, pack_of
from cutmarks.errors import CutmarksError, JobError, OutputError
from cutmarks.plan.model import Progress
from cutmarks.saying.findings import STOP
from cutmarks.writers.disk import Folder, digest_of, inside, open_parent
from cutmarks.writers.folder_record import Record, read_record
from cutmarks.writers.plan_json import PLAN_FILE

MOST_FILE = 200_000_000
FIXED_DATE = (1980, 1, 1, 0, 0, 0)
"""The least that a ZIP can say: the same pack gives the same bytes."""
LISTED = ("pack.pdf", "job-sheet.pdf", "set-out.pdf", "clearance.pdf", "wall.html", "holes.csv", "pieces.csv")
"""What is offered one by one, in this order; all is in the ZIP."""


def make(arguments: dict[str, Any], progress: Progress) -> dict[str, Any]:
    """Write the pack of a saved job; what stands in the folder then.

    Raises:
        CutmarksError: the job or the folder is in the way; nothing was written.
    """
    job = Path(arguments["file"])
    read = cutmarks.load_job(job, **own_files_in(arguments))
    plan = cutmarks.make_plan(read, progress)
    written = cutmarks.write_job(plan, pack_of(job), progress=progress)
    stops = [one.text for one in plan.findings if one.level == "stop" and one.accepted is None]
    said = [f"You had changed {old}: yours is now {new}." for old, new in written.yours.items()]
    said += [f"{STOP}: {text}" for text in stops]
    said += [written.left] if written.left else []
    if written.changed:
        said.append(f"Changed since the last pack: {', '.join(written.changed)}.")
    return {
        "folder": pack_of(job).name,
        "files": [name for name in LISTED if name in written.files],
        "count": len(written.files),
        "said": said,
    }


def make_or_fault(arguments: dict[str, Any], progress: Progress) -> dict[str, Any]:
    """What `make` gives, or why there is nothing, under `fault`."""
    try:
        return make(arguments, progress)
    except JobError as error:
        return {"fault": " ".join(str(fault) for fault in error.faults)}
    except CutmarksError as error:
        return {"fault": str(error)}


def file_of(job: Path, name: str) -> bytes:
    """A file of a job's pack, as it was written: none else of that folder, and through no link.

    Raises:
        OutputError: there is no such file.
    """
    try:
        with _pack(job) as (out, record):
            if name in record.digests or name == PLAN_FILE:
                content = _held(out, name, record)
                if content is not None:
                    return content
    except OSError as error:
        raise OutputError("That is no file of this pack.") from error
    raise OutputError("That is no file of this pack.")


def zip_of(job: Path) -> bytes:
    """All files of a job's pack as they were written, in one ZIP; the same bytes for the same pack.

    Raises:
        OutputError: there is no pack.
    """
    made = io.BytesIO()
    try:
        with _pack(job) as (out, record), zipfile.ZipFile(made, "w", zipfile.ZIP_DEFLATED) as archive:
            for name in sorted({*record.digests, PLAN_FILE}):
                content = _held(out, name, record)
                if content is not None:
                    archive.writestr(zipfile.ZipInfo(f"{pack_of(job).name}/{name}", FIXED_DATE), content)
    except OSError as error:
        raise OutputError("There is no pack of this job: make it first.") from error
    return made.getvalue()


@contextmanager
def _pack(job: Path) -> Iterator[tuple[Folder, Record]]:
    pack = pack_of(job)
    with open_parent(pack.parent, pack.parent) as parent, parent.sub(pack.name) as out:
        yield out, read_record(out)


def _held(out: Folder, name: str, record: Record) -> bytes | None:
    """A file of a pack; None where it is another than was written."""
    with inside(out, name) as (folder, last):
        content = folder.read(last, MOST_FILE)
    wanted = record.digests.get(name)
    if content is None or (wanted is not None and digest_of(io.BytesIO(content)) != wanted):
        return None
    return content
