"""Which files a page may touch: the jobs of one folder and of the folders right in it, by name, and through no link."""

from __future__ import annotations

import os
import re
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from msgspec import Struct

from cutmarks.errors import OutputError
from cutmarks.job.load import OwnFiles
from cutmarks.job.reading import MOST_BYTES
from cutmarks.writers.disk import kind_of

ENDINGS = (".yaml", ".yml")
DRAFT = ".draft"
MOST_LISTED = 500
_A_JOB = re.compile(rb"^(?:\xef\xbb\xbf)?[ ]*(?:\"?job\"?|surfaces)[ ]*:", re.MULTILINE)
_ODD = re.compile(r"[\x00-\x1f\\:/]")
_UNFIT = re.compile(r"[^\w .-]+")
_TITLE = re.compile(rb"^job:[ ]*[\"']?(?P<title>[^\"'\r\n#]{1,80})", re.MULTILINE)


class ListedJob(Struct, frozen=True):
    """A job of the folder: its name there, what it is called, and whether a draft lies beside it."""

    name: str
    title: str
    is_unsaved: bool


def job_at(folder: Path, name: str) -> Path:
    """The job file of that name: in the folder, or in one right in it.

    Raises:
        OutputError: nothing of that name may be touched: it leads elsewhere, or is no plain file.
    """
    parts = name.split("/")
    if len(parts) > 2 or any(not _is_name(part) for part in parts) or not parts[-1].lower().endswith(ENDINGS):
        raise OutputError("That is no job of this folder.")
    path = folder
    for number, part in enumerate(parts, 1):
        path = path / part
        try:
            kind = kind_of(path.lstat())
        except OSError:
            kind = "other"
        if kind != ("file" if number == len(parts) else "folder"):
            raise OutputError("That is no job of this folder.")
    return path


def new_job_at(folder: Path, called: str) -> Path:
    """Where a new job of that name goes: a file of its own, that is not there yet."""
    stem = _UNFIT.sub(" ", called).strip(" .").replace(" ", "-").casefold()[:60] or "job"
    stem = re.sub("-{2,}", "-", stem)
    taken = {entry.casefold() for entry in os.listdir(folder)}
    names = (f"{stem}.yaml", *(f"{stem}-{number}.yaml" for number in range(2, MOST_LISTED)))
    return folder / next(one for one in names if one not in taken)


def draft_of(job: Path) -> Path:
    """Where what is not saved yet of a job is kept."""
    return job.with_name(f".{job.name}{DRAFT}")


def pack_of(job: Path) -> Path:
    """The folder that a job's pack is written into."""
    return job.with_name(f"{job.stem}-pack")


def new_shop_folder(job: Path) -> Path:
    """Where a new pack for the workshop goes: a folder of its own, that is not there yet."""
    names = (f"{job.stem}-shop", *(f"{job.stem}-shop-{number}" for number in range(2, MOST_LISTED)))
    return next(path for name in names if not os.path.lexists(path := job.with_name(name)))


def jobs_in(folder: Path) -> list[ListedJob]:
    """The jobs of a folder and of the folders right in it, by name."""
    found = list(_listed(folder, ""))
    for entry in sorted(_entries(folder), key=lambda one: one.name):
        if _is_name(entry.name) and entry.is_dir(follow_symlinks=False):
            found += _listed(Path(entry.path), f"{entry.name}/")
        if len(found) > MOST_LISTED:
            break
    return found[:MOST_LISTED]


def _listed(folder: Path, before: str) -> Iterator[ListedJob]:
    for entry in sorted(_entries(folder), key=lambda one: one.name):
        is_file = entry.name.lower().endswith(ENDINGS) and entry.is_file(follow_symlinks=False)
        if not (is_file and _is_name(entry.name)) or entry.name == "tools.yaml" or ".found." in entry.name:
            continue
        begins = _beginning(Path(entry.path))
        if _A_JOB.search(begins):
            title = _TITLE.search(begins)
            called = title["title"].decode("utf-8", "replace").strip() if title else entry.name
            yield ListedJob(f"{before}{entry.name}", called, draft_of(Path(entry.path)).is_file())


def _beginning(path: Path) -> bytes:
    try:
        handle = os.open(path, os.O_RDONLY | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0))
        with os.fdopen(handle, "rb") as file:
            return file.read(min(MOST_BYTES, 20_000))
    except OSError:
        return b""


def _entries(folder: Path) -> list[os.DirEntry[str]]:
    try:
        with os.scandir(folder) as entries:
            return list(entries)
    except OSError:
        return []


def _is_name(part: str) -> bool:
    return bool(part) and not part.startswith(".") and not _ODD.search(part) and len(part) < 200


def own_files_in(arguments: Mapping[str, Any]) -> OwnFiles:
    """The user's own files that a call names, each by its path; None where it names none."""
    tools, fittings, shop = (arguments.get(name) for name in ("tools", "fittings", "shop"))
    return {
        "tools": Path(tools) if tools else None,
        "fittings": Path(fittings) if fittings else None,
        "shop": Path(shop) if shop else None,
    }
