"""Writing one new file: whole or not at all, and never over one that is there."""

from __future__ import annotations

import errno
import os
from contextlib import suppress
from pathlib import Path

from cutmarks.cli.ending import writing
from cutmarks.errors import OutputError

WHAT_TO_DO = {
    errno.ENOENT: "there is no folder {parent}: make it first, or give another place",
    errno.ENOTDIR: "{parent} is no folder: give another place",
    errno.ENAMETOOLONG: "that name is too long for the disk: give a shorter one",
    errno.ENOSPC: "the disk is full: make room, or give a place on another one",
    errno.EDQUOT: "your part of the disk is full: make room, or give a place on another one",
    errno.EFBIG: "the disk takes no file of that size: give a place on another one",
    errno.EROFS: "nothing can be written on that disk: give a place on another one",
    errno.EACCES: "you may not write in {parent}: give a place in a folder of your own",
    errno.EPERM: "you may not write in {parent}: give a place in a folder of your own",
}
"""What stands in the way of a new file, and how to go on."""


def save_new(target: Path, content: bytes) -> None:
    """Write a file that is not there yet.

    Raises:
        OutputError: it is there already, or the disk or the folder is in the way; nothing was written.
    """
    with writing(target):
        _made(target, content)


def refuse_taken(target: Path) -> None:
    """Make the file and take it away again: what is in its way is said before anybody answers forty questions.

    Raises:
        OutputError: as `save_new`.
    """
    _take_away(target, _made(target, b""))


def _made(target: Path, content: bytes) -> os.stat_result:
    """Write the file, and say which one it is; what hinders it leaves nothing of it behind."""
    try:
        handle = os.open(target, os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0), 0o666)
        made = os.fstat(handle)
        try:
            with os.fdopen(handle, "wb") as file:
                file.write(content)
                file.flush()
                os.fsync(handle)
        except BaseException:
            _take_away(target, made)
            raise
    except (FileExistsError, IsADirectoryError) as error:
        if target.is_dir():
            raise OutputError(
                f"{target} is a folder: give the name of a file in it, such as {target / 'job.yaml'}. "
                "Nothing was written."
            ) from error
        raise OutputError(f"{target} is there already: give another name. Nothing was written.") from error
    except OSError as error:
        raise OutputError(f"{target}: {_in_the_way(target, error)}. Nothing was written.") from error
    return made


def _in_the_way(target: Path, error: OSError) -> str:
    """What the system refused, and what to do instead."""
    if error.errno in WHAT_TO_DO and not (error.errno == errno.ENOENT and target.parent.is_dir()):
        return WHAT_TO_DO[error.errno].format(parent=target.parent)
    return f"{(error.strerror or str(error)).lower()}: give another name or place"


def _take_away(target: Path, made: os.stat_result) -> None:
    """Remove the file that we made, unless something else has its name by now."""
    with suppress(OSError):
        if os.path.samestat(os.stat(target, follow_symlinks=False), made):
            target.unlink()
