"""The steps of a folder's exchange, each of which leaves every file somewhere whole. See `cutmarks.writers.folder`."""

from __future__ import annotations

import errno
import time
from collections.abc import Callable, Collection, Iterator
from contextlib import contextmanager, suppress
from pathlib import PurePosixPath
from typing import BinaryIO

from msgspec import Struct

from cutmarks.errors import OutputError
from cutmarks.writers.disk import Digest, Folder, digest_of, inside
from cutmarks.writers.folder_record import MARKER, Record, plan_bytes
from cutmarks.writers.plan_json import PLAN_FILE, is_sealed

MARKER_TEXT = b"cutmarks is at work on this folder, or was stopped in the middle: its next run puts this right.\n"

NO_HARD_LINK = {errno.EPERM, errno.ENOTSUP, errno.EOPNOTSUPP, errno.ENOSYS, errno.EMLINK, errno.EXDEV, errno.EACCES}
"""What a file system answers that has no hard links, or no more of them: the file is copied instead."""

EARLIER = "{}.earlier"
"""What an output is called that is left to the user, by what it was called."""

TURNS, TURN = 200, 0.05
"""So often another run that is just exchanging folders is waited for, and how long each time, s."""


class OutputPlace(Struct, frozen=True):
    """Where an output goes: the folder round it, open, and the three names in it that a run may use."""

    parent: Folder
    out: str
    new: str
    old: str


@contextmanager
def guard(parent: Folder) -> Iterator[None]:
    """Keep other runs from looking at the folders in `parent` while they are exchanged; waits for its turn, briefly.

    Between two renames there is no DIR: a run that looked just then would take what stands there next for its own.
    Where the system cannot lock a folder, making DIR.new is the only guard.

    Raises:
        OutputError: the turn does not come.
    """
    for _ in range(TURNS):
        if parent.lock():
            break
        time.sleep(TURN)
    else:
        raise OutputError(f"{parent.shown}: another program holds this folder: let it finish, then try again")
    try:
        yield
    finally:
        parent.unlock()


def hold(parent: Folder, name: str) -> Folder:
    """Open a folder and lock it; the lock goes with it when it is renamed, and ends when it is closed.

    Raises:
        OutputError: another run has it.
    """
    folder = parent.sub(name)
    if not folder.lock() or parent.identity_of(name) != folder.identity:
        folder.__exit__()
        raise busy(parent, name)
    return folder


def busy(parent: Folder, name: str) -> OutputError:
    """What is said where another run has a folder."""
    return OutputError(f"{parent.shown / name}: another run is writing there: let it finish, then try again")


def has_marker(folder: Folder) -> bool:
    """Whether a run of ours has not finished with `folder`."""
    return folder.kind(MARKER) == "file"


def is_unfinished(new: Folder) -> bool:
    """Whether DIR.new was left by a stopped run: it has our marker, or is an empty folder."""
    return has_marker(new) or not new.names()


def make_new(place: OutputPlace, earlier: Folder | None) -> Folder:
    """Make DIR.new, locked and marked, open to whom the `earlier` output is; what is said of it names DIR."""
    try:
        place.parent.make(place.new)
    except FileExistsError:
        raise busy(place.parent, place.new) from None
    new = hold(place.parent, place.new)
    try:
        new.shown = place.parent.shown / place.out
        if earlier is not None:
            new.open_like(earlier)
        write_file(new, MARKER, MARKER_TEXT)
    except BaseException:
        remove_made(place, new)
        new.__exit__()
        raise
    return new


def remove_made(place: OutputPlace, new: Folder) -> None:
    """Remove the DIR.new that this run made, if it is still there; what is in the way stays for the next run."""
    with suppress(OSError, OutputError):
        if place.parent.identity_of(place.new) == new.identity:
            remove_all(new)
            place.parent.remove_folder(place.new)


def remove_all(folder: Folder) -> None:
    """Remove what is in a folder that is wholly ours, its marker last: a removal that is stopped can be finished."""
    for name in folder.names():
        if folder.kind(name) == "folder":
            with folder.sub(name) as inner:
                remove_all(inner)
            folder.remove_folder(name)
        elif name != MARKER:
            folder.remove(name)
    with suppress(FileNotFoundError):
        folder.remove(MARKER)


Content = bytes | Callable[[BinaryIO], object]
"""What stands in a file: its bytes, or what writes them into the open file, so that a large one is not held whole."""


def write_file(root: Folder, name: str, content: Content) -> Digest:
    """Write a new file below `root`, see it onto the disk, so that the exchange cannot overtake it in a power cut.

    Returns the digest of what stands there then.
    """
    with inside(root, name, make=True) as (folder, last), folder.create(last) as file:
        if isinstance(content, bytes):
            file.write(content)
        else:
            content(file)
        file.flush()
        return digest_of(file)


def folders_in(root: Folder, prefix: str = "") -> Iterator[tuple[str, Folder]]:
    """`root` and every folder below it, open, none through a link: its name with / behind it ("" for the root)."""
    yield prefix, root
    for name in root.names():
        if root.kind(name) == "folder":
            with root.sub(name) as inner:
                yield from folders_in(inner, f"{prefix}{name}/")


def folders_of(names: Collection[str]) -> frozenset[str]:
    """The folders that files of these names stand in."""
    return frozenset(parent.as_posix() for name in names for parent in PurePosixPath(name).parents) - {"."}


def entries_besides(root: Folder, ours: Collection[str]) -> tuple[str, ...]:
    """Everything below `root` that is not ours: files, links, whatever it is, and empty folders; sorted names.

    A name of ours that is no plain file any more is not ours; a folder for files of ours is, even where it is empty.
    """
    own, folders = [], folders_of(ours)
    for prefix, folder in folders_in(root):
        held = folder.names()
        if not held and prefix and prefix.rstrip("/") not in folders:
            own.append(prefix.rstrip("/"))
        for name in held:
            kind = folder.kind(name)
            if kind != "folder" and not (kind == "file" and prefix + name in ours):
                own.append(prefix + name)
    return tuple(sorted(own))


def carry_over(out: Folder, new: Folder, names: Collection[str]) -> None:
    """Give DIR.new the user's own files as well: links to the very same files, copies where that cannot be."""
    for name in names:
        with inside(out, name) as (source, last), inside(new, name, make=True, like=out) as (target, _):
            match source.kind(last):
                case "link":
                    target.make_link(source.read_link(last), last)
                case "folder":
                    if target.kind(last) is None:
                        target.make(last)
                    with source.sub(last) as model, target.sub(last) as made:
                        made.open_like(model)
                case _:
                    _link_or_copy(source, target, last)


def _link_or_copy(source: Folder, target: Folder, name: str) -> None:
    try:
        source.link(name, target, name)
    except OSError as error:
        if error.errno not in NO_HARD_LINK or source.kind(name) != "file":
            raise
        source.copy(name, target, name)


def sync(root: Folder) -> None:
    """See the names of all that was made onto the disk as well."""
    for _, folder in folders_in(root):
        folder.sync()


def stands(place: OutputPlace, new: Folder) -> bool:
    """Whether the folder that this run made as DIR.new is DIR now."""
    if place.parent.identity_of(place.out) != new.identity:
        return False
    new.renamed(place.parent, place.out)
    return True


def swap(place: OutputPlace, earlier: Folder | None, new: Folder) -> None:
    """DIR to DIR.old, DIR.new to DIR; DIR is put back if the second step fails. An empty DIR is simply replaced.

    Raises:
        OutputError: DIR or DIR.new is not the folder any more that this run looked at.
    """
    parent, out = place.parent, place.out
    for name, folder in ((out, earlier), (place.new, new)):
        if parent.identity_of(name) != (None if folder is None else folder.identity):
            raise OutputError(
                f"{parent.shown / name}: something else was put in this place meanwhile: run it again. "
                "Nothing was written."
            )
    filled = earlier is not None and bool(set(earlier.names()) - {MARKER})
    if earlier is not None and not filled:
        if has_marker(earlier):
            earlier.remove(MARKER)
        parent.remove_folder(out)
    try:
        if earlier is not None and filled:
            parent.rename(out, parent, place.old)
            earlier.renamed(parent, place.old)
        parent.rename(place.new, parent, out)
        new.renamed(parent, out)
    except BaseException:
        if earlier is not None and parent.identity_of(place.old) == earlier.identity and parent.kind(out) is None:
            parent.rename(place.old, parent, out)
        raise


def remove_replaced(place: OutputPlace, old: Folder, out: Folder, record: Record, yours: dict[str, str]) -> None:
    """Remove DIR.old; what of it is not as we wrote it goes to DIR first, under a name that says so.

    `yours` is filled with the new names of our own files that the user had changed, by the old ones. plan.json, which
    tells what is ours, goes when nothing else is left, so that a removal which is stopped can be finished.
    """
    for name in entries_besides(old, record.names):
        _give_back(old, out, name)
    for name in sorted(record.names - {PLAN_FILE}):
        with suppress(FileNotFoundError), inside(old, name) as (folder, last):
            if folder.kind(last) != "file":
                continue
            if name == MARKER or _as_written(folder, last, record.digests.get(name)):
                folder.remove(last)
            else:
                yours[name] = _keep_aside(old, out, name)
    below = [prefix.rstrip("/") for prefix, _ in folders_in(old) if prefix]
    for name in reversed(below):
        with inside(old, name) as (folder, last):
            folder.remove_folder(last)
    if old.kind(PLAN_FILE) == "file":
        if is_sealed(plan_bytes(old)):
            old.remove(PLAN_FILE)
        else:
            yours[PLAN_FILE] = _keep_aside(old, out, PLAN_FILE)
    place.parent.remove_folder(place.old)


def _give_back(old: Folder, out: Folder, name: str) -> None:
    """Bring something of the user's own from DIR.old to DIR, where it is not there already as it is."""
    with inside(old, name) as (source, last), inside(out, name, make=True, like=old) as (target, _):
        there = target.kind(last)
        if there is None:
            source.rename(last, target, last)
        elif not _same(source, target, last):
            source.rename(last, target, _free_name(target, last))
        elif there != "folder":
            source.remove(last)


def _keep_aside(old: Folder, out: Folder, name: str) -> str:
    """Bring a file of ours that the user changed from DIR.old to DIR, under a name that says so; that name."""
    with inside(old, name) as (source, last), inside(out, name, make=True, like=old) as (target, _):
        kept = _free_name(target, last)
        source.rename(last, target, kept)
    return str(PurePosixPath(name).with_name(kept))


def keep_earlier(place: OutputPlace) -> str:
    """Leave DIR.old, of which nothing can be proved ours, to the user under a free name; that name."""
    free = EARLIER.format(place.out)
    count = 1
    while place.parent.kind(free) is not None:
        count += 1
        free = f"{EARLIER.format(place.out)}-{count}"
    place.parent.rename(place.old, place.parent, free)
    return free


def _as_written(folder: Folder, name: str, digest: Digest | None) -> bool:
    """Whether a file is as we wrote it."""
    if digest is None:
        return False
    with folder.open(name) as file:
        return digest_of(file) == digest


def _same(one: Folder, other: Folder, name: str) -> bool:
    """Whether two entries are one file, or equal copies of one."""
    kinds = one.kind(name), other.kind(name)
    if kinds == ("link", "link"):
        return one.read_link(name) == other.read_link(name)
    if kinds == ("folder", "folder") or one.identity_of(name) == other.identity_of(name):
        return True
    if kinds != ("file", "file"):
        return False
    with one.open(name) as first, other.open(name) as second:
        return digest_of(first) == digest_of(second)


def _free_name(folder: Folder, name: str) -> str:
    """A name beside `name` that says that it is the user's: holes.yours.csv, then holes.yours-2.csv."""
    path = PurePosixPath(name)
    stem, suffix = (path.stem, path.suffix) if path.stem else (name, "")
    count = 1
    free = f"{stem}.yours{suffix}"
    while folder.kind(free) is not None:
        count += 1
        free = f"{stem}.yours-{count}{suffix}"
    return free
