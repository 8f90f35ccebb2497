"""The file of what was found, beside the job: one entry more or less, or as it was; one run at a time.

A run holds a lock on the job file from before it reads until it has written, so that two at once lose nothing. The new
text is written under a name that nobody else has, seen onto the disk, and then takes the place of the old file in one
step. What a killed run left under such a name is cleared by the next one that writes.
"""

from __future__ import annotations

import errno
import hashlib
import os
import re
import secrets
import stat
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from cutmarks.errors import OutputError

if sys.platform == "win32":
    import msvcrt
else:
    import fcntl

PATIENCE = 60.0
"""A run waits so long for its turn, in seconds; a large job takes some to be planned."""
PAUSE = 0.05
"""Between two looks whether it is its turn, in seconds."""
TAKEN = {errno.EWOULDBLOCK, errno.EAGAIN, errno.EACCES, errno.EDEADLK}
"""What is answered where another run has the lock."""
NO_LOCKS = {errno.ENOLCK, errno.ENOTSUP, errno.EOPNOTSUPP, errno.ENOSYS, errno.EINVAL, errno.EBADF}
"""What a file system answers that has no locks: that the file is still as it was read is then the only guard."""
NO_FOLDER_SYNC = {errno.EINVAL, errno.ENOTSUP, errno.EOPNOTSUPP, errno.EBADF, errno.EACCES, errno.EPERM, errno.EISDIR}
"""What a system answers that has no way, or no need, to see a folder's names onto the disk."""
_FAR_OUT = 0x7FFF_FFFF
"""The byte that stands for the job file where bytes are locked: far behind what anybody reads of it."""
_RANDOM = 8


@contextmanager
def one_at_a_time(job: Path) -> Iterator[None]:
    """Keep other runs for this job waiting until this one is through.

    Raises:
        OutputError: another run is at work and does not come to its end, or the job file cannot be opened.
    """
    try:
        handle = os.open(job, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0))
    except OSError as error:
        raise OutputError(f"{job.name} cannot be read ({_reason(error)}): nothing was written.") from error
    try:
        for turn in range(round(PATIENCE / PAUSE) + 1):
            if turn:
                time.sleep(PAUSE)
            if _locked(handle, job):
                break
        else:
            raise OutputError(
                f"{job.name}: another cutmarks found is at work on this job: let it finish, then say it again. "
                "Nothing was written."
            )
        yield
    finally:
        with suppress(OSError):  # nothing was written to it: that it is closed is all that counts
            os.close(handle)


def _locked(handle: int, job: Path) -> bool:
    """Whether this run has the job to itself now."""
    try:
        if sys.platform == "win32":
            os.lseek(handle, _FAR_OUT, os.SEEK_SET)
            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        else:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError as error:
        if error.errno in TAKEN:
            return False
        if error.errno not in NO_LOCKS:
            raise OutputError(f"{job.name} cannot be locked ({_reason(error)}): nothing was written.") from error
    return True


def standing(path: Path, most: int) -> bytes | None:
    """What the file holds, no more than `most` bytes of it; None where no plain file stands there.

    Raises:
        OutputError: it is a link or is protected against writing, or cannot be read.
    """
    try:
        found = path.lstat()
    except FileNotFoundError:
        return None
    except OSError as error:
        raise _cannot(path, "read", error) from error
    if stat.S_ISLNK(found.st_mode):
        raise OutputError(
            f"{path.name}: this is a link to {os.path.realpath(path)}, and cutmarks writes through no link: "
            "put the file itself in its place. Nothing was written."
        )
    if not stat.S_ISREG(found.st_mode):
        return None
    if not found.st_mode & (stat.S_IWUSR | stat.S_IWGRP | stat.S_IWOTH) or not os.access(path, os.W_OK):
        raise OutputError(
            f"{path.name}: this file is protected against writing: allow it, then say it again. Nothing was written."
        )
    try:
        with open(path, "rb", opener=_itself) as file:
            return file.read(most)
    except OSError as error:
        raise _cannot(path, "read", error) from error


def put(path: Path, before: bytes | None, content: bytes) -> str:
    """Put `content` in the place of the file at `path`, which held `before` (None: there was none) when it was read.

    Returns a sentence where it is in its place, but the disk did not confirm it; else "".

    Raises:
        OutputError: the disk or the folder is in the way, or the file was changed meanwhile; it is as it was.
    """
    _clear(path)
    new = path.with_name(f"{_stem(path)}{secrets.token_hex(_RANDOM)}.new")
    try:
        _write(new, content, path)
        if standing(path, len(before or b"") + 1) != before:
            raise OutputError(
                f"{path.name} was changed by another program just now: look at it, then say it again. "
                "Nothing was written."
            )
        os.replace(new, path)
    except FileExistsError as error:
        raise _cannot(path, "written", error) from error  # whoever has this name, it is not this run
    except BaseException as error:
        with suppress(OSError):
            new.unlink()
        if isinstance(error, OSError):
            raise _cannot(path, "written", error) from error
        raise
    return _settled(path)


def holds(path: Path, content: bytes) -> bool:
    """Whether the file holds this now: what can be said for sure when a run was stopped on its way."""
    try:
        return standing(path, len(content) + 1) == content
    except OutputError:
        return False


def _write(new: Path, content: bytes, like: Path) -> None:
    """Write a new file and see it onto the disk; it belongs to, and is open to, whom the old one does and is."""
    try:
        old: os.stat_result | None = like.lstat()
    except FileNotFoundError:
        old = None
    mode = 0o666 if old is None else 0o600
    with open(new, "xb", opener=lambda name, flags: os.open(name, flags, mode)) as file:
        if old is not None and sys.platform != "win32":
            made = os.fstat(file.fileno())
            if (made.st_uid, made.st_gid) != (old.st_uid, old.st_gid):
                with suppress(PermissionError):
                    os.fchown(file.fileno(), old.st_uid, old.st_gid)
            if stat.S_IMODE(os.fstat(file.fileno()).st_mode) != stat.S_IMODE(old.st_mode):
                os.fchmod(file.fileno(), stat.S_IMODE(old.st_mode))
        file.write(content)
        file.flush()
        os.fsync(file.fileno())


def _settled(path: Path) -> str:
    """See the folder's new name onto the disk; a sentence where the disk fails at that."""
    if sys.platform == "win32":
        return ""
    try:
        handle = os.open(path.parent, os.O_RDONLY | os.O_DIRECTORY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
    except OSError as error:
        if error.errno not in NO_FOLDER_SYNC:
            return f"The disk does not confirm it ({_reason(error)}): look at {path.name} before you switch off."
    return ""


def _stem(path: Path) -> str:
    """How the names begin under which this file is written first: ours alone, and short however long its own is."""
    return f".cutmarks-found-{hashlib.sha256(os.fsencode(path.name)).hexdigest()[:8]}-"


def _clear(path: Path) -> None:
    """Remove what killed runs left: plain files of this user, of names that only `put` gives, when none is at work."""
    name = re.compile(f"{re.escape(_stem(path))}[0-9a-f]{{{2 * _RANDOM}}}\\.new")
    with suppress(OSError):
        for left in [one for one in os.listdir(path.parent) if name.fullmatch(one)]:
            found = (path.parent / left).lstat()
            if stat.S_ISREG(found.st_mode) and (sys.platform == "win32" or found.st_uid == os.geteuid()):
                (path.parent / left).unlink()


def _itself(path: str, flags: int) -> int:
    """Open a plain file and nothing that has taken its name just now: no link, no waiting for a pipe's writer."""
    return os.open(path, flags | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_NOFOLLOW", 0))


def _cannot(path: Path, what: str, error: OSError) -> OutputError:
    return OutputError(
        f"{path.name} cannot be {what} ({_reason(error)}): nothing was written. "
        "Look at the folder and the disk, then say it again."
    )


def _reason(error: OSError) -> str:
    """The operating system's own words, without its number."""
    return (error.strerror or str(error)).lower()
