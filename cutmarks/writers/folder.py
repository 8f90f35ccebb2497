"""The output folder: the new output is there whole, or the earlier one still is, whatever stops a run.

All is written into DIR.new beside DIR; then DIR becomes DIR.old, DIR.new becomes DIR, and DIR.old is removed. DIR must
be missing, empty, or an earlier output of the same job: one with our plan.json, whose list says which files are ours.
Whatever else stands in it is the user's own and is carried over, never deleted. A run that was stopped in the middle,
even by a power cut, is put right by the next one:

    DIR.new, with our marker in it     was never finished: removed
    DIR.old and no DIR                 stopped between the two renames: put back
    DIR.old, and our marker in DIR     stopped while DIR.old was being removed: its removal is finished

A DIR.new or DIR.old that is none of these is the user's own: it is left alone, and one sentence says so. Two runs at
once are kept apart by a lock on the folders themselves, which ends with the run that holds it; while they are looked at
or exchanged, by one on the folder round them.
"""

from __future__ import annotations

import os
import re
from collections.abc import Callable, Collection, Iterable, Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass
from pathlib import Path

from cutmarks.errors import OutputError
from cutmarks.plan import Plan
from cutmarks.writers import folder_swap as swap
from cutmarks.writers.plan_json import PLAN_FILE, files_listed, read_index

Content = swap.Content

Progress = Callable[[str, int, int], None]
"""Called as each file is written with its name, how many are done and how many there will be."""

FILE_NAME = re.compile(r"([a-z0-9][a-z0-9_.-]*/)*[a-z0-9][a-z0-9_.-]*")
"""What a file of ours may be called: lower case ASCII, so that no file system can take two names for one."""

NAMED_IN_A_SENTENCE = 3
"""So many of the user's own files are named in a refusal; the rest are counted."""


@dataclass(frozen=True, slots=True)
class Published:
    """What became of the folder.

    carried  the user's own files that stood in the earlier output and stand in the new one.
    left     a sentence where DIR.old could not be wholly removed, else "".
    """

    carried: tuple[str, ...]
    left: str


def publish(
    out: Path,
    job: str,
    names: Collection[str],
    contents: Iterable[tuple[str, Content]],
    progress: Progress | None = None,
) -> Published:
    """Put files into the folder `out`: all of them, or none.

    `names` (lower case ASCII, / between folders) are all the files there will be; `contents` gives each with its name,
    in any order, and is asked for the next one when the last is on the disk. plan.json must be among them, and its own
    list must name every one of them. What makes the contents may raise what it likes: nothing is then written.

    Raises:
        OutputError: the folder, the disk or another run stands in the way; what was there is there as before.
        ValueError: one of `names` is not allowed, or plan.json's list or `contents` are others than `names`.
    """
    if PLAN_FILE not in names:
        raise ValueError(f"{PLAN_FILE} must be one of the files")
    for name in names:
        if not FILE_NAME.fullmatch(name):
            raise ValueError(f"{name!r} may not be a file of an output: lower case ASCII, / between folders")
    with _in_a_sentence(out), ExitStack() as held:
        out = _place_for(out)
        new, old = _beside(out, "new"), _beside(out, "old")
        with swap.guard(out.parent):
            for folder in (out, new, old):
                if folder.is_dir() and not folder.is_symlink():
                    swap.hold(folder, held)
            _put_right(out, new, old, job)
            ours = _ours_in(out, job)
            own = swap.entries_besides(out, ours) if out.exists() else ()
            _refuse_clashes(out, own, names)
            mark = swap.make_folder(new, out, held)
        try:
            _write_all(new, names, contents, progress)
            swap.carry_over(out, new, own)
            with swap.guard(out.parent):
                replaced = swap.swap(out, new, old)
        except BaseException:
            swap.remove_made(new, mark)
            raise
        left = _finish(out, old if replaced else None, ours)
        return Published(carried=own, left=left)


def earlier_plan(out: Path) -> bytes | None:
    """The plan.json of the output that now stands in `out`, or waits in DIR.old to be put back; None without one."""
    full = _full(out)
    for folder in (full, _beside(full, "old")):
        if folder.is_dir():
            try:
                return (folder / PLAN_FILE).read_bytes()
            except OSError:
                return None
    return None


def _beside(out: Path, ending: str) -> Path:
    return out.with_name(f"{out.name}.{ending}")


def changed_pieces(before: bytes | None, plan: Plan) -> tuple[str, ...]:
    """The pieces whose templates are out of date since the plan.json `before`, by their own fingerprints.

    Those that are cut otherwise or were not cut then, in the order of the plan; then those that are not cut any more.
    None of them where there was no output, or none that can be read.
    """
    if before is None:
        return ()
    try:
        then = {piece.name: piece.fingerprint for piece in read_index(before).pieces}
    except OutputError:
        return ()
    now = {piece.name: piece.fingerprint for piece in plan.pieces}
    changed = [name for name, fingerprint in now.items() if then.get(name) != fingerprint]
    return (*changed, *(name for name in then if name not in now))


def _full(out: Path) -> Path:
    """`out` as a full path, its own last part unresolved: a link stays a link."""
    return out.parent.resolve() / out.name if out.name not in ("", "..") else out.resolve()


def _place_for(out: Path) -> Path:
    """`out` as a full path; refuses what can never be an output folder."""
    full = _full(out)
    if not full.name:
        raise OutputError(f"{out}: this is the root of the disk: give the output a folder of its own")
    if not full.parent.is_dir():
        raise OutputError(f"{out}: there is no folder {full.parent} to put it in: make that first, or check the name")
    if full.is_symlink():
        raise OutputError(f"{out}: this is a link to another place: give the folder itself, {full.resolve()}")
    if full.exists() and not full.is_dir():
        raise OutputError(f"{out}: this is a file: give a folder that is new, empty, or an earlier output of this job")
    return full


def _put_right(out: Path, new: Path, old: Path, job: str) -> None:
    """Finish or undo what a stopped run left; refuse what is not its leaving."""
    if os.path.lexists(new):
        if not swap.is_unfinished(new):
            raise OutputError(
                f"{new}: the output is made under this name first, and something of yours has it: move it"
            )
        swap.remove_tree(new)
    if not os.path.lexists(old):
        return
    if not out.exists():
        if _is_output_of(old, job):
            old.rename(out)
    elif swap.has_marker(out):
        swap.remove_replaced(old, out, _ours_in(old, job), PLAN_FILE)
    elif any(out.iterdir()):
        raise OutputError(f"{old}: an earlier output is moved to this name, and something of yours has it: move it")


def _is_output_of(folder: Path, job: str) -> bool:
    try:
        return read_index((folder / PLAN_FILE).read_bytes()).job == job
    except (OSError, OutputError):
        return False


def _ours_in(out: Path, job: str) -> frozenset[str]:
    """The names of our own files in `out`; none where it is missing or empty.

    Raises:
        OutputError: it holds something and is no earlier output of this job.
    """
    if not out.exists():
        return frozenset()
    held = sorted(entry.name for entry in out.iterdir() if entry.name != swap.MARKER)
    if not held:
        return frozenset({swap.MARKER})
    plan = out / PLAN_FILE
    if not plan.is_file() or plan.is_symlink():
        shown = ", ".join(held[:NAMED_IN_A_SENTENCE])
        more = f" and {len(held) - NAMED_IN_A_SENTENCE} more" if len(held) > NAMED_IN_A_SENTENCE else ""
        raise OutputError(
            f"{out}: this folder holds things that are not cutmarks' own ({shown}{more}): "
            "give a folder that is new, empty, or an earlier output of this job"
        )
    try:
        index = read_index(plan.read_bytes())
    except OutputError as error:
        raise OutputError(
            f"{plan}: {error}: give a folder that is new, empty, or an earlier output of this job"
        ) from None
    if index.job != job:
        raise OutputError(f'{out}: this folder holds the output of another job, "{index.job}": give this one its own')
    named = {name for name in index.files if FILE_NAME.fullmatch(name)}
    return frozenset(named | {PLAN_FILE, swap.MARKER})


def _refuse_clashes(out: Path, own: tuple[str, ...], names: Collection[str]) -> None:
    """Refuse an output that needs a name which a file of the user's own has, on any file system."""
    taken = {name.casefold(): name for name in own}
    for name in names:
        parts = name.split("/")
        for depth in range(1, len(parts) + 1):
            mine = taken.get("/".join(parts[:depth]))
            if mine is not None and not ((out / mine).is_dir() and depth < len(parts)):
                raise OutputError(f"{out / mine}: the output needs this name, and something of yours has it: move it")
        inside = next((kept for folded, kept in taken.items() if folded.startswith(f"{name}/")), None)
        if inside is not None:
            raise OutputError(f"{out / name}: the output needs this name, and a folder of yours has it: move it")


def _write_all(
    new: Path, names: Collection[str], contents: Iterable[tuple[str, Content]], progress: Progress | None
) -> None:
    due = set(names)
    for done, (name, content) in enumerate(contents):
        if name not in due:
            raise ValueError(f"{name!r} is not among the files that were said to come, or comes twice")
        if progress is not None:
            progress(name, done, len(names))
        swap.write_file(new / name, content)
        due.remove(name)
    if due or set(_listed(new)) != set(names):
        raise ValueError(f"{PLAN_FILE} must be written, and its list must name every file and no other")


def _listed(new: Path) -> tuple[str, ...]:
    """The files that the new plan.json lists; the rest of it, which may be large, is not read."""
    with (new / PLAN_FILE).open("rb") as plan:
        return files_listed(plan)


def _finish(out: Path, old: Path | None, ours: frozenset[str]) -> str:
    """Remove what was replaced, and the marker; the new output stands already, so a failure is told, not raised."""
    try:
        if old is not None:
            swap.remove_replaced(old, out, ours, PLAN_FILE)
        (out / swap.MARKER).unlink()
    except OSError as error:
        what = f"{old}: the earlier output" if old is not None else f"{out / swap.MARKER}: this mark"
        return f"{what} could not be wholly removed ({_reason(error)}): the next run tries again"
    return ""


@contextmanager
def _in_a_sentence(out: Path) -> Iterator[None]:
    """Say what the operating system refused, and that nothing was written."""
    try:
        yield
    except OSError as error:
        where = error.filename2 or error.filename or out
        raise OutputError(f"{where}: {_reason(error)}: nothing was written") from error


def _reason(error: OSError) -> str:
    """The operating system's own words, without its number."""
    return (error.strerror or str(error)).lower()
