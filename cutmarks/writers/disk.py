"""The one room that touches the disk for the output folder: folders held open, and what is done in them by name.

A path can be led elsewhere between two steps: any folder on it may be exchanged for a link. So a folder is opened
once, never through a link, and what is in it is looked at, made, linked, renamed and removed by its name in that open
folder: a link that is put in the folder's place later leads nothing astray. Where the system has no such handles
(Windows), every folder down from the one round the output is looked at again before each step: it must still be a
folder, no link and no junction, and the very same one. That leaves the moment between the look and the step.
"""

from __future__ import annotations

import hashlib
import os
import stat
import sys
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager, suppress
from pathlib import Path
from typing import Any, BinaryIO, Literal, Self

from msgspec import Struct

from cutmarks.errors import OutputError

if sys.platform != "win32":
    import fcntl

EntryKind = Literal["folder", "file", "link", "other"]
"""What has a name. A junction is a link; "other" is a pipe, a device or a socket."""

HANDLES = {
    os.open,
    os.stat,
    os.mkdir,
    os.rename,
    os.link,
    os.symlink,
    os.readlink,
    os.unlink,
    os.rmdir,
    os.access,
} <= os.supports_dir_fd and os.scandir in os.supports_fd
"""Whether the system can do all of this by a name in an open folder."""

NAME_SURROGATE = 0x20000000
"""The bit of a reparse tag that says "this name stands for another place" (IsReparseTagNameSurrogate of Windows)."""

NO_LINK = getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_CLOEXEC", 0)
AS_FOLDER = os.O_RDONLY | getattr(os, "O_DIRECTORY", 0) | NO_LINK
TO_READ = os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0) | NO_LINK
TO_MAKE = os.O_RDWR | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0) | NO_LINK

AT_ONCE = 1 << 20
"""So many bytes of a file are held at once."""

Identity = tuple[int, int]
"""What tells one folder or file from another of the same name: its disk and its number there."""


class Digest(Struct, frozen=True):
    """A file's size in bytes and the SHA-256 of what stands in it, in hex."""

    size: int
    sha256: str


def kind_of(found: os.stat_result) -> EntryKind:
    """What an entry is, as it stands, by what the system says of it."""
    if stat.S_ISLNK(found.st_mode) or getattr(found, "st_reparse_tag", 0) & NAME_SURROGATE:
        return "link"
    if stat.S_ISDIR(found.st_mode):
        return "folder"
    return "file" if stat.S_ISREG(found.st_mode) else "other"


class Folder:
    """One open folder: `path` is where it was, `shown` what sentences call it.

    Every operation takes a name in this folder, without /, and raises OSError with the shown name as its filename.
    """

    __slots__ = ("_above", "_handle", "identity", "path", "shown")

    def __init__(self, path: Path, shown: Path, handle: int | None, above: Folder | None) -> None:
        self.path, self.shown = path, shown
        self._handle, self._above = handle, above
        found = os.fstat(handle) if handle is not None else os.lstat(path)
        self.identity: Identity = (found.st_dev, found.st_ino)

    def __enter__(self) -> Self:
        """The folder itself; it is closed at the end."""
        return self

    def __exit__(self, *_: object) -> None:
        """Let go of the folder. What stands in it stands, whatever the system says to this."""
        if self._handle is not None:
            with suppress(OSError):
                os.close(self._handle)
            self._handle = None

    def sub(self, name: str) -> Folder:
        """Open a folder in this one.

        Raises:
            OutputError: a link has that name.
        """
        shown = self.shown / name
        if self.kind(name) == "link":
            raise OutputError(link_in_the_way(shown))
        with self._named(name):
            if HANDLES:
                handle = os.open(name, AS_FOLDER, dir_fd=self._handle)
                try:
                    return Folder(self.path / name, shown, handle, self)
                except BaseException:
                    os.close(handle)
                    raise
            return Folder(self._path_of(name), shown, None, self)

    def renamed(self, parent: Folder, name: str) -> None:
        """Take note that this folder has another name in `parent` now."""
        self.path, self.shown = parent.path / name, parent.shown / name

    def kind(self, name: str) -> EntryKind | None:
        """What has that name; None: nothing has."""
        found = self._stat(name)
        return None if found is None else kind_of(found)

    def identity_of(self, name: str) -> Identity | None:
        """The identity of what has that name; None: nothing has."""
        found = self._stat(name)
        return None if found is None else (found.st_dev, found.st_ino)

    def names(self) -> list[str]:
        """The names of all that is in the folder, sorted."""
        with self._named(), self._listing() as place, os.scandir(place) as entries:
            return sorted(entry.name for entry in entries)

    def may_change(self) -> bool:
        """Whether things may be made in this folder and taken from it, as far as the system tells beforehand."""
        with self._named():
            place, keywords = self._at(".")
            return os.access(place, os.W_OK | os.X_OK, **keywords)

    def may_read(self, name: str) -> bool:
        """Whether a file in this folder may be read, as far as the system tells beforehand."""
        with self._named(name):
            place, keywords = self._at(name)
            return os.access(place, os.R_OK, **keywords)

    def make(self, name: str) -> None:
        """Make a folder in this one."""
        with self._named(name):
            place, keywords = self._at(name)
            os.mkdir(place, **keywords)

    def open_like(self, model: Folder) -> None:
        """Open this folder to whom `model` is open, and to its owner at least."""
        with self._named():
            if HANDLES and self._handle is not None and model._handle is not None:
                os.fchmod(self._handle, stat.S_IMODE(os.fstat(model._handle).st_mode) | stat.S_IRWXU)
            else:
                os.chmod(self._look_again(), stat.S_IMODE(os.lstat(model.path).st_mode) | stat.S_IRWXU)

    @contextmanager
    def create(self, name: str) -> Iterator[BinaryIO]:
        """A new file, open to be written and read again; it is on the disk, and not only on its way, at the end."""
        with self._named(name):
            place, keywords = self._at(name)
            with os.fdopen(os.open(place, TO_MAKE, 0o666, **keywords), "w+b") as file:
                yield file
                file.flush()
                os.fsync(file.fileno())

    @contextmanager
    def open(self, name: str) -> Iterator[BinaryIO]:
        """A plain file, open to be read.

        Raises:
            OutputError: it is anything else: a link, a pipe, a device.
        """
        with self._named(name):
            if self.kind(name) not in ("file", None):
                raise OutputError(f"{self.shown / name}: this is no plain file: move it")
            place, keywords = self._at(name)
            with os.fdopen(os.open(place, TO_READ, **keywords), "rb") as file:
                if kind_of(os.fstat(file.fileno())) != "file":
                    raise OutputError(f"{self.shown / name}: this is no plain file: move it")
                yield file

    def read(self, name: str, most: int) -> bytes | None:
        """What stands in a plain file; None where it is more than `most` bytes.

        Raises:
            OutputError: it is no plain file.
        """
        data = bytearray()
        with self.open(name) as file:
            if os.fstat(file.fileno()).st_size > most:
                return None
            while len(data) <= most and (piece := file.read(AT_ONCE)):
                data += piece
        return bytes(data) if len(data) <= most else None

    def copy(self, name: str, target: Folder, target_name: str) -> None:
        """Copy a plain file, with who may read it and when it was changed."""
        with self.open(name) as source, target.create(target_name) as made:
            while piece := source.read(AT_ONCE):
                made.write(piece)
            made.flush()
            found = os.fstat(source.fileno())
            if HANDLES:
                os.fchmod(made.fileno(), stat.S_IMODE(found.st_mode))
                os.utime(made.fileno(), ns=(found.st_atime_ns, found.st_mtime_ns))

    def link(self, name: str, target: Folder, target_name: str) -> None:
        """Give a file a second name, in `target`."""
        with self._named(name):
            source, made, keywords = self._two(name, target, target_name)
            os.link(source, made, follow_symlinks=False, **keywords)

    def rename(self, name: str, target: Folder, target_name: str) -> None:
        """Move what has that name to `target`, on the same disk."""
        with self._named(name):
            source, moved, keywords = self._two(name, target, target_name)
            os.rename(source, moved, **keywords)

    def read_link(self, name: str) -> str:
        """Where a link leads, as it says it."""
        with self._named(name):
            place, keywords = self._at(name)
            return os.readlink(place, **keywords)

    def make_link(self, leads: str, name: str) -> None:
        """Make a link that leads where it says."""
        with self._named(name):
            place, keywords = self._at(name)
            os.symlink(leads, place, **keywords)

    def remove(self, name: str) -> None:
        """Remove what has that name and is no folder; of a link the link alone."""
        with self._named(name):
            place, keywords = self._at(name)
            os.unlink(place, **keywords)

    def remove_folder(self, name: str) -> None:
        """Remove an empty folder."""
        with self._named(name):
            place, keywords = self._at(name)
            os.rmdir(place, **keywords)

    def sync(self) -> None:
        """See the folder's list of names onto the disk, where the system does that for a folder."""
        if self._handle is not None:
            with suppress(OSError):
                os.fsync(self._handle)

    def lock(self) -> bool:
        """Whether this folder is locked for this process now: False where another has it.

        The lock ends when the folder is closed, or with the process. Where the system cannot lock a folder, this is
        True all the same.
        """
        if sys.platform != "win32" and self._handle is not None:
            try:
                fcntl.flock(self._handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
            except BlockingIOError:
                return False
            except OSError:
                return True
        return True

    def unlock(self) -> None:
        """Let others have it."""
        if sys.platform != "win32" and self._handle is not None:
            with suppress(OSError):
                fcntl.flock(self._handle, fcntl.LOCK_UN)

    @contextmanager
    def _listing(self) -> Iterator[int | Path]:
        """What a list is read from: a handle of its own, as one that was read to its end would give no name again."""
        if not HANDLES:
            yield self._look_again()
            return
        handle = os.open(".", AS_FOLDER, dir_fd=self._handle)
        try:
            yield handle
        finally:
            with suppress(OSError):
                os.close(handle)

    def _stat(self, name: str) -> os.stat_result | None:
        with self._named(name):
            place, keywords = self._at(name)
            try:
                return os.stat(place, follow_symlinks=False, **keywords)
            except FileNotFoundError:
                return None

    def _at(self, name: str) -> tuple[str | Path, dict[str, Any]]:
        """How the system is told of a name in this folder."""
        return (name, {"dir_fd": self._handle}) if HANDLES else (self._path_of(name), {})

    def _two(self, name: str, target: Folder, target_name: str) -> tuple[str | Path, str | Path, dict[str, Any]]:
        """How the system is told of a name in this folder and one in another."""
        if HANDLES:
            return name, target_name, {"src_dir_fd": self._handle, "dst_dir_fd": target._handle}
        return self._path_of(name), target._path_of(target_name), {}

    def _path_of(self, name: str) -> Path:
        return self._look_again() / name

    def _look_again(self) -> Path:
        """The folder's path, where it still leads to this very folder through no link.

        Raises:
            OutputError: it does not.
        """
        if self._above is not None:
            self._above._look_again()
        found = os.lstat(self.path)
        if kind_of(found) == "link":
            raise OutputError(link_in_the_way(self.shown))
        if (found.st_dev, found.st_ino) != self.identity:
            raise OutputError(f"{self.shown}: another folder was put in this one's place meanwhile: run it again")
        return self.path

    @contextmanager
    def _named(self, name: str = "") -> Iterator[None]:
        """Let an error of the system name what it is about as the user knows it."""
        try:
            yield
        except OSError as error:
            error.filename, error.filename2 = str(self.shown / name), None
            raise


def open_parent(path: Path, shown: Path) -> Folder:
    """The folder round an output. Its path is the user's own choice, and may lead through links: once, here."""
    real = Path(os.path.realpath(path))
    if not HANDLES:
        return Folder(real, shown, None, None)
    handle = os.open(real, os.O_RDONLY | getattr(os, "O_DIRECTORY", 0) | getattr(os, "O_CLOEXEC", 0))
    return Folder(real, shown, handle, None)


def link_in_the_way(shown: Path) -> str:
    """What is said of a link where the output has a folder."""
    return (
        f"{shown}: this is a link of your own, and the output has a folder of this name: move or remove the link, "
        "then run it again; what it leads to is not touched"
    )


@contextmanager
def inside(root: Folder, name: str, *, make: bool = False, like: Folder | None = None) -> Iterator[tuple[Folder, str]]:
    """The folder of a file below `root` (/ between folders), open, and the file's own name.

    With `make`, folders on the way that are not there are made: each open to whom the one of the same name below `like`
    is, or as the system makes it where there is none.
    """
    *folders, last = name.split("/")
    with ExitStack() as held:
        here, model = root, like
        for part in folders:
            model = held.enter_context(model.sub(part)) if model is not None and model.kind(part) == "folder" else None
            made = make and here.kind(part) is None
            if made:
                here.make(part)
            here = held.enter_context(here.sub(part))
            if made and model is not None:
                here.open_like(model)
        yield here, last


def write_whole(out: Path, name: str, content: bytes) -> None:
    """Put one file below the folder `out` (/ between folders, which are made): there whole or not at all.

    It is on the disk, and not only on its way, before it has its name; nothing is written through a link below `out`.

    Raises:
        OutputError: a link or a folder of the user's has its name, or the disk is in the way.
    """
    try:
        with open_parent(out, out) as root, inside(root, name, make=True) as (folder, last):
            part = f"{last}.part"
            for one in (part, last):
                if folder.kind(one) == "link":
                    raise OutputError(link_in_the_way(folder.shown / one))
            if folder.kind(part) is not None:
                folder.remove(part)  # of a run that was stopped
            with folder.create(part) as file:
                file.write(content)
            folder.rename(part, folder, last)
            folder.sync()
    except OSError as error:
        raise OutputError(f"{out / name} cannot be written ({error.strerror}).") from None


def read_whole(out: Path, name: str, most: int) -> bytes | None:
    """What stands in a file below the folder `out`; None where there is none that can be read, or more than `most`."""
    try:
        with open_parent(out, out) as root, inside(root, name) as (folder, last):
            return folder.read(last, most)
    except (OSError, OutputError):
        return None


def digest_of(file: BinaryIO) -> Digest:
    """The digest of an open file, from its beginning."""
    reckoned, size = hashlib.sha256(), 0
    file.seek(0)
    while piece := file.read(AT_ONCE):
        reckoned.update(piece)
        size += len(piece)
    return Digest(size, reckoned.hexdigest())
