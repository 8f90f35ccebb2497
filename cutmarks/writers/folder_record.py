"""What an earlier output says of itself, in its plan.json: whose it is, which files are ours, and how we wrote them."""

from __future__ import annotations

import re
from collections.abc import Mapping

from msgspec import Struct

from cutmarks.errors import OutputError
from cutmarks.plan import Plan
from cutmarks.writers.disk import Digest, Folder
from cutmarks.writers.plan_json import PLAN_FILE, Index, is_sealed, read_index

MARKER = ".cutmarks-unfinished"
"""Stands in a folder that a run has not finished with, and says so to whoever looks into it."""

FILE_NAME = re.compile(r"([a-z0-9][a-z0-9_.-]*/)*[a-z0-9][a-z0-9_.-]*")
"""What a file of ours may be called: lower case ASCII, so that no file system can take two names for one."""

MOST_BYTES = 256_000_000
"""A plan.json over this is no output of ours that can be replaced: a piece takes one or two thousand bytes of it."""


class Whose(Struct, frozen=True):
    """What tells one job from another: its name, its file's name, its surfaces.

    job_file  None: the job was read from no file; "": an output of the first releases, which do not say.
    """

    job: str
    job_file: str | None
    surfaces: tuple[str, ...]

    def differs(self, earlier: Whose) -> str:
        """In what the job of an earlier output is another than this one, in words; "" where it is the same."""
        if earlier.job != self.job:
            return f'of another job, "{earlier.job}"'
        if earlier.job_file == "":
            return ""
        if (earlier.job_file or "").casefold() != (self.job_file or "").casefold():
            return f'of another job that is called "{self.job}" too, {_file(earlier)} and not {_file(self)}'
        if not set(earlier.surfaces) & set(self.surfaces):
            return f'of another job that is called "{self.job}" too, with no surface of this one ({_listed(earlier)})'
        return ""


def whose(plan: Plan) -> Whose:
    """Whose output a plan's is."""
    return Whose(plan.job, plan.job_file, tuple(surface.setout.name for surface in plan.surfaces))


class Record(Struct, frozen=True):
    """What an output says of itself.

    names    its files, our marker among them.
    digests  of each file as it was written, but plan.json; empty where that cannot be trusted.
    sealed   plan.json is as it was written, and so what it says of the others.
    """

    whose: Whose
    names: frozenset[str]
    digests: Mapping[str, Digest]
    sealed: bool


def read_record(folder: Folder) -> Record:
    """What the output in `folder` says of itself.

    Raises:
        OutputError: it has no plan.json, or none that is ours.
    """
    data = plan_bytes(folder)
    try:
        index = read_index(data)
    except OutputError as error:
        raise OutputError(f"{folder.shown / PLAN_FILE}: {error}: {GIVE}") from None
    names = frozenset({name for name in index.files if FILE_NAME.fullmatch(name)} | {PLAN_FILE, MARKER})
    digests = {name: Digest(digest.size, digest.sha256) for name, digest in index.digests.items()}
    sealed = bool(digests) and is_sealed(data)
    return Record(_whose_in(index), names, digests if sealed else {}, sealed)


GIVE = "give a folder that is new, empty, or an earlier output of this job"


def plan_bytes(folder: Folder) -> bytes:
    """The plan.json of an output.

    Raises:
        OutputError: there is none, it is no plain file, or far too large.
    """
    data = folder.read(PLAN_FILE, MOST_BYTES)
    if data is None:
        raise OutputError(f"{folder.shown / PLAN_FILE}: this is over {MOST_BYTES // 1_000_000} MB, too large: {GIVE}")
    return data


def _whose_in(index: Index) -> Whose:
    job_file = index.job_file if index.says_job_file else ""
    return Whose(index.job, job_file, tuple(surface.name for surface in index.surfaces))


def _file(one: Whose) -> str:
    return "from no file" if one.job_file is None else f"from {one.job_file}"


def _listed(one: Whose) -> str:
    return ", ".join(one.surfaces) or "none"
