"""What an output folder is refused for: each in one sentence, before anything is written."""

from __future__ import annotations

import errno
import os
from collections.abc import Collection, Iterator
from contextlib import ExitStack, contextmanager
from pathlib import Path

from cutmarks.errors import OutputError
from cutmarks.writers import folder_swap as swap
from cutmarks.writers.disk import Folder, inside, link_in_the_way, open_parent
from cutmarks.writers.folder_record import GIVE, MARKER, Whose, read_record
from cutmarks.writers.folder_swap import OutputPlace
from cutmarks.writers.plan_json import PLAN_FILE

NAMED_IN_A_SENTENCE = 3
"""So many of the user's own files are named in a refusal; the rest are counted."""

HOW_ON = {
    errno.ENOSPC: "make room on the disk, or give a folder on another one",
    errno.EDQUOT: "make room on the disk, or give a folder on another one",
    errno.EACCES: "see to it that you may read and write there, or give another folder",
    errno.EPERM: "see to it that you may read and write there, or give another folder",
    errno.EROFS: "give a folder on a disk that can be written",
    errno.ENAMETOOLONG: "give a shorter name",
    errno.ELOOP: "give the folder itself and not a link that leads in a circle",
}
"""What can be done about what the operating system refuses."""


def place_for(out: Path, held: ExitStack) -> OutputPlace:
    """Where `out` goes, the folder round it open until `held` closes; refuses what can never be an output folder."""
    plain = out.name not in ("", "..")
    full = Path(os.path.realpath(out.parent)) / out.name if plain else Path(os.path.realpath(out))
    if not full.name:
        raise OutputError(f"{out}: this is the root of the disk: give the output a folder of its own")
    here = Path(os.path.realpath("."))
    if here == full or full in here.parents:
        raise OutputError(
            f"{out}: you are in this folder, and the output takes the place of it as a whole: "
            "go out of it first, or give another folder"
        )
    shown = out.parent if plain else full.parent
    try:
        parent = held.enter_context(open_parent(full.parent, shown))
    except FileNotFoundError:
        raise OutputError(
            f"{out}: there is no folder {shown} to put it in: make that first, or check the name"
        ) from None
    except NotADirectoryError:
        raise OutputError(f"{out}: {shown} is a file and no folder to put it in: check the name") from None
    place = OutputPlace(parent, full.name, f"{full.name}.new", f"{full.name}.old")
    try:
        for name in (place.old, place.new, swap.EARLIER.format(place.out)):
            parent.kind(name)
        kind = parent.kind(place.out)
    except OSError as error:
        if error.errno != errno.ENAMETOOLONG:
            raise
        raise OutputError(
            f"{out}: this name is too long, as the output is first made beside it under this name and .new: "
            "give a shorter one"
        ) from None
    if kind == "link":
        raise OutputError(f"{out}: this is a link to another place: give the folder itself, {os.path.realpath(full)}")
    if kind not in ("folder", None):
        raise OutputError(f"{out}: this is a file: {GIVE}")
    return place


def ours_in(out: Folder, whose: Whose, replace: bool) -> frozenset[str]:
    """The names of our own files in `out`; our marker alone where it is empty.

    Raises:
        OutputError: it holds something and is no earlier output of this job (with `replace`: of any).
    """
    held = [name for name in out.names() if name != MARKER]
    if not held:
        return frozenset({MARKER})
    if out.kind(PLAN_FILE) is None:
        shown = ", ".join(held[:NAMED_IN_A_SENTENCE])
        more = f" and {len(held) - NAMED_IN_A_SENTENCE} more" if len(held) > NAMED_IN_A_SENTENCE else ""
        raise OutputError(f"{out.shown}: this folder holds things that are not cutmarks' own ({shown}{more}): {GIVE}")
    if out.kind(PLAN_FILE) != "file":
        raise OutputError(f"{out.shown / PLAN_FILE}: this is no plain file, and none that cutmarks wrote: {GIVE}")
    record = read_record(out)
    other = whose.differs(record.whose)
    if other and not replace:
        raise OutputError(
            f"{out.shown}: this folder holds the output {other}: give this one a folder of its own, "
            "or say --replace to put it in the place of that one"
        )
    return record.names


def refuse_links(out: Folder, own: Collection[str], folders: frozenset[str]) -> None:
    """Refuse a link of the user's own in place of a folder of the output."""
    for name in sorted(folders & set(own)):
        with inside(out, name) as (folder, last):
            if folder.kind(last) == "link":
                raise OutputError(link_in_the_way(folder.shown / last))


def refuse_clashes(out: Folder, own: Collection[str], names: Collection[str]) -> None:
    """Refuse an output that needs a name which a file of the user's own has, on any file system."""
    taken = {name.casefold(): name for name in own}
    for name in names:
        parts = name.split("/")
        for depth in range(1, len(parts) + 1):
            mine = taken.get("/".join(parts[:depth]))
            if mine is not None and not (depth < len(parts) and _is_folder(out, mine)):
                raise OutputError(
                    f"{out.shown / mine}: the output needs this name, and something of yours has it: move it"
                )
        inner = next((kept for folded, kept in taken.items() if folded.startswith(f"{name}/")), None)
        if inner is not None:
            raise OutputError(f"{out.shown / name}: the output needs this name, and a folder of yours has it: move it")


def _is_folder(out: Folder, name: str) -> bool:
    with inside(out, name) as (folder, last):
        return folder.kind(last) == "folder"


def refuse_closed(parent: Folder, out: Folder, ours: Collection[str]) -> None:
    """Refuse an earlier output of which something could not be read, moved or removed afterwards."""
    for prefix, folder in swap.folders_in(out):
        if folder.identity[0] != parent.identity[0]:
            raise OutputError(
                f"{folder.shown}: this is a disk of its own, and the output is replaced as a whole: "
                "give a folder that no other disk is mounted on or in"
            )
        if not folder.may_change():
            raise OutputError(
                f"{folder.shown}: this folder is read-only, and the output is replaced as a whole: "
                "make it writable (chmod u+w), or give another folder. Nothing was written."
            )
        for name in folder.names():
            if prefix + name in ours and folder.kind(name) == "file" and not folder.may_read(name):
                raise OutputError(
                    f"{folder.shown / name}: this file may not be read, so nothing tells whether it was changed since "
                    "it was written: make it readable (chmod u+r), or move it. Nothing was written."
                )


def taken(shown: Path, by: str) -> OutputError:
    """A name beside the output that is needed and is the user's own; `by` says what for."""
    return OutputError(f"{shown}: {by}, and something of yours has it: move it, then run it again")


def stays(shown: Path, error: OSError) -> OutputError:
    """What a stopped run left, and the system does not let go of."""
    return OutputError(
        f"{shown}: this was left by a run that was stopped, and cannot be removed ({reason(error)}): "
        "move it to another place, then run it again. Nothing was written."
    )


@contextmanager
def in_a_sentence(out: Path) -> Iterator[None]:
    """Say what the operating system refused, that nothing was written, and how to go on."""
    try:
        yield
    except OSError as error:
        how_on = HOW_ON.get(error.errno or 0, "try again, or give another folder")
        raise OutputError(f"{error.filename or out}: {reason(error)}: nothing was written: {how_on}") from error


def reason(error: OSError) -> str:
    """The operating system's own words, without its number."""
    return (error.strerror or str(error)).lower()
