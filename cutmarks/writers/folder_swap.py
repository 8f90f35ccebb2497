"""The steps of a folder's exchange, each of which leaves every file somewhere whole. See `cutmarks.writers.folder`."""

from __future__ import annotations

import errno
import filecmp
import os
import shutil
import stat
import sys
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager, suppress
from pathlib import Path, PurePosixPath
from typing import BinaryIO

from cutmarks.errors import OutputError

if sys.platform != "win32":
    import fcntl

MARKER = ".cutmarks-unfinished"
"""Stands in a folder that a run has not finished with, and says so to whoever looks into it."""

MARKER_TEXT = b"cutmarks is at work on this folder, or was stopped in the middle: its next run puts this right.\n"

NO_HARD_LINK = {errno.EPERM, errno.ENOTSUP, errno.EOPNOTSUPP, errno.ENOSYS, errno.EMLINK, errno.EXDEV, errno.EACCES}
"""What a file system answers that has no hard links, or no more of them: the file is copied instead."""


def hold(folder: Path, held: ExitStack) -> None:
    """Lock `folder` until `held` closes; the lock goes with the folder when it is renamed, and ends with the process.

    Where the system cannot lock a folder, making DIR.new, which only one run can, is the only guard.

    Raises:
        OutputError: another run has it.
    """
    if sys.platform == "win32":
        return
    handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY | os.O_NOFOLLOW)
    held.callback(os.close, handle)
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        raise _busy(folder) from None
    except OSError:
        return
    if _identity(folder) != _identity(handle):
        raise _busy(folder)


@contextmanager
def guard(parent: Path) -> Iterator[None]:
    """Keep other runs from looking at the folders in `parent` while they are exchanged; waits for its turn, briefly.

    Between two renames there is no DIR: a run that looked just then would take what stands there next for its own.
    Where the system cannot lock a folder, making DIR.new is the only guard.
    """
    with ExitStack() as held:
        if sys.platform != "win32":
            with suppress(OSError):
                handle = os.open(parent, os.O_RDONLY | os.O_DIRECTORY)
                held.callback(os.close, handle)
                fcntl.flock(handle, fcntl.LOCK_EX)
        yield


def _busy(folder: Path) -> OutputError:
    return OutputError(f"{folder}: another run is writing there: let it finish, then try again")


def _identity(place: Path | int) -> tuple[int, int] | None:
    """What tells one folder from another of the same name; None where there is none."""
    try:
        found = os.stat(place, follow_symlinks=False) if isinstance(place, Path) else os.fstat(place)
    except FileNotFoundError:
        return None
    return found.st_dev, found.st_ino


def has_marker(folder: Path) -> bool:
    """Whether a run of ours has not finished with `folder`."""
    marker = folder / MARKER
    return marker.is_file() and not marker.is_symlink()


def is_unfinished(new: Path) -> bool:
    """Whether DIR.new was left by a stopped run: it has our marker, or is an empty folder."""
    return new.is_dir() and not new.is_symlink() and (has_marker(new) or not any(new.iterdir()))


def make_folder(new: Path, out: Path, held: ExitStack) -> tuple[int, int] | None:
    """Make DIR.new, lock and mark it; returns its identity for `remove_made`."""
    try:
        new.mkdir()
    except FileExistsError:
        raise _busy(new) from None
    hold(new, held)
    mark = _identity(new)
    try:
        if out.exists():
            _as_open(out, new)
        write_file(new / MARKER, MARKER_TEXT)
    except BaseException:
        remove_made(new, mark)
        raise
    return mark


def _as_open(model: Path, folder: Path) -> None:
    """Open `folder` to whom `model` is open."""
    folder.chmod(stat.S_IMODE(model.stat().st_mode) | stat.S_IRWXU)


def remove_made(new: Path, mark: tuple[int, int] | None) -> None:
    """Remove the DIR.new that this run made, if it is still there; what is in the way stays for the next run."""
    if mark is not None and _identity(new) == mark:
        shutil.rmtree(new, ignore_errors=True)


def remove_tree(folder: Path) -> None:
    """Remove a folder that is wholly ours, its marker last: a removal that is stopped can be finished."""
    for entry in folder.iterdir():
        if entry.is_dir() and not entry.is_symlink():
            shutil.rmtree(entry)
        elif entry.name != MARKER:
            entry.unlink()
    (folder / MARKER).unlink(missing_ok=True)
    folder.rmdir()


Content = bytes | Callable[[BinaryIO], object]
"""What stands in a file: its bytes, or what writes them into the open file, so that a large one is not held whole."""


def write_file(path: Path, content: Content) -> None:
    """Write a new file and see it onto the disk, so that the exchange cannot overtake it in a power cut."""
    path.parent.mkdir(parents=True, exist_ok=True)
    with path.open("xb") as file:
        if isinstance(content, bytes):
            file.write(content)
        else:
            content(file)
        file.flush()
        os.fsync(file.fileno())


def entries_besides(folder: Path, ours: frozenset[str]) -> tuple[str, ...]:
    """Everything in `folder` that is not ours: files, links, whatever it is, and empty folders; sorted names.

    A name of ours that is no plain file any more is not ours; a folder for files of ours is, even where it is empty.
    """
    folders = {parent.as_posix() for name in ours for parent in PurePosixPath(name).parents}
    return tuple(sorted(name for name in _walk(folder, "", ours) if name not in folders))


def _walk(folder: Path, prefix: str, ours: frozenset[str]) -> Iterator[str]:
    empty = True
    with os.scandir(folder) as entries:
        for entry in entries:
            empty = False
            name = prefix + entry.name
            if entry.is_dir(follow_symlinks=False):
                yield from _walk(Path(entry.path), f"{name}/", ours)
            elif name not in ours or not entry.is_file(follow_symlinks=False):
                yield name
    if empty and prefix:
        yield prefix.rstrip("/")


def carry_over(out: Path, new: Path, names: tuple[str, ...]) -> None:
    """Give DIR.new the user's own files as well: links to the very same files, copies where that cannot be."""
    for name in names:
        source, target = out / name, new / name
        _make_like(source.parent, target.parent)
        if source.is_symlink():
            target.symlink_to(os.readlink(source))
        elif source.is_dir():
            _make_like(source, target)
        else:
            _link_or_copy(source, target)


def _make_like(model: Path, folder: Path) -> None:
    """Make `folder`, and those above it, each open to whom its model is."""
    if not folder.exists():
        _make_like(model.parent, folder.parent)
        folder.mkdir()
        _as_open(model, folder)


def _link_or_copy(source: Path, target: Path) -> None:
    try:
        os.link(source, target)
    except OSError as error:
        if error.errno not in NO_HARD_LINK or not source.is_file():
            raise
        shutil.copy2(source, target)


def swap(out: Path, new: Path, old: Path) -> bool:
    """DIR to DIR.old, DIR.new to DIR; DIR is put back if the second step fails. An empty DIR is simply replaced.

    Returns whether there is a DIR.old now that this run made.
    """
    if not out.exists():
        new.rename(out)
        return False
    if not any(entry.name != MARKER for entry in out.iterdir()):
        (out / MARKER).unlink(missing_ok=True)
        out.rmdir()
        new.rename(out)
        return False
    try:
        out.rename(old)
        new.rename(out)
    except BaseException:
        if old.exists() and not out.exists():
            old.rename(out)
        raise
    return True


def remove_replaced(old: Path, out: Path, ours: frozenset[str], last: str) -> None:
    """Remove DIR.old; what of it is the user's own and not in DIR as it is goes there first.

    `last` is the file that tells what else is ours: it goes when nothing else is left, so that a removal which is
    stopped can be finished.
    """
    for name in entries_besides(old, ours):
        source, target = old / name, out / name
        if not os.path.lexists(target):
            _make_like(source.parent, target.parent)
            source.rename(target)
        elif not _same(source, target):
            source.rename(_free_name(target))
        elif not source.is_dir() or source.is_symlink():
            source.unlink()
    for name in sorted(ours - {last}):
        _unlink_file(old / name)
    for folder, _, _ in os.walk(old, topdown=False):
        if Path(folder) != old:
            os.rmdir(folder)
    _unlink_file(old / last)
    old.rmdir()


def _unlink_file(path: Path) -> None:
    """Remove a plain file; anything else that has its name is not ours."""
    if path.is_file() and not path.is_symlink():
        path.unlink()


def _same(one: Path, other: Path) -> bool:
    """Whether two entries are one file, or equal copies of one."""
    if one.is_symlink() or other.is_symlink():
        return one.is_symlink() and other.is_symlink() and os.readlink(one) == os.readlink(other)
    if one.is_dir() or other.is_dir():
        return one.is_dir() and other.is_dir()
    if os.path.samestat(one.stat(), other.stat()):
        return True
    return one.is_file() and other.is_file() and filecmp.cmp(one, other, shallow=False)


def _free_name(target: Path) -> Path:
    """A name beside `target` for what was changed while the folders were exchanged: nothing is thrown away."""
    kept = target.with_name(f"{target.name}.kept")
    count = 1
    while os.path.lexists(kept):
        count += 1
        kept = target.with_name(f"{target.name}.kept-{count}")
    return kept
