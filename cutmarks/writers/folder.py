"""The output folder: the new output is there whole, or the earlier one still is, whatever stops a run.

All is written into DIR.new beside DIR; then DIR becomes DIR.old, DIR.new becomes DIR, and DIR.old is removed. DIR must
be missing, empty, or an earlier output of the same job: one with our plan.json, which says whose it is, which files
are ours, and how we wrote them. Whatever else stands in it is the user's own and is carried over, never deleted; a
file of ours that is not as we wrote it is kept under a name that says so (holes.yours.csv). A run that was stopped in
the middle, even by a power cut, is put right by the next one:

    DIR.new, with our marker in it     was never finished: removed
    DIR.old and no DIR                 stopped between the two renames: put back
    DIR.old, and our marker in DIR     stopped while DIR.old was being removed: its removal is finished

A DIR.new or DIR.old that is none of these is the user's own: it is left alone, and one sentence says so. An output
whose plan.json does not prove what is ours (the first releases wrote none that does, or it was changed since) is not
removed at all, but left to the user once, as DIR.earlier.

A link in place of a folder of ours is the user's own, and nothing is done through it: `cutmarks.writers.disk` holds
every folder open that something is done in. Two runs at once are kept apart by a lock on the folders themselves, which
ends with the run that holds it; while they are looked at or exchanged, by one on the folder round them.
"""

from __future__ import annotations

import errno
import os
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from contextlib import ExitStack, contextmanager, suppress
from dataclasses import dataclass, field
from pathlib import Path

from cutmarks.errors import OutputError
from cutmarks.plan import Plan
from cutmarks.plan.model import Progress
from cutmarks.writers import folder_swap as swap
from cutmarks.writers.disk import Digest, Folder, inside, link_in_the_way, open_parent
from cutmarks.writers.folder_record import FILE_NAME, GIVE, MARKER, Record, Whose, plan_bytes, read_record
from cutmarks.writers.folder_swap import Content, OutputPlace
from cutmarks.writers.plan_json import PLAN_FILE, digests_listed, files_listed, read_index

Contents = Callable[[Mapping[str, Digest]], Iterable[tuple[str, Content]]]
"""Gives each file with its name; what it is called with tells the digests of those that are written by then."""


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


@dataclass(frozen=True, slots=True)
class Published:
    """What became of the folder.

    carried  the user's own files that stood in the earlier output and stand in the new one.
    yours    files of ours that the user had changed: their new names, by the names that they had.
    earlier  what the earlier output is called now, where nothing proved what of it is ours; else "".
    left     a sentence where DIR.old could not be wholly removed, else "".
    """

    carried: tuple[str, ...]
    yours: Mapping[str, str]
    earlier: str
    left: str


@dataclass(slots=True)
class _Kept:
    """What was kept of earlier outputs while they were removed, and what can be told as soon as the new one stands."""

    yours: dict[str, str] = field(default_factory=dict)
    earlier: str = ""
    published: Published | None = None


def publish(
    out: Path,
    whose: Whose,
    names: Collection[str],
    contents: Contents,
    *,
    replace: bool = False,
    progress: Progress | None = None,
) -> Published:
    """Put files into the folder `out`: all of them, or none.

    `names` (lower case ASCII, / between folders) are all the files there will be; `contents` gives each with its name,
    in any order, and is asked for the next one when the last is on the disk. plan.json must be among them, and its own
    lists must name every one of them. What makes the contents may raise what it likes: nothing is then written. With
    `replace` the output of another job may stand there as well.

    Raises:
        OutputError: the folder, the disk or another run stands in the way; what was there is there as before.
        ValueError: one of `names` is not allowed, or plan.json's lists or `contents` are others than `names`.
    """
    if PLAN_FILE not in names:
        raise ValueError(f"{PLAN_FILE} must be one of the files")
    for name in names:
        if not FILE_NAME.fullmatch(name):
            raise ValueError(f"{name!r} may not be a file of an output: lower case ASCII, / between folders")
    kept = _Kept()
    try:
        return _publish(out, whose, names, contents, replace, progress, kept)
    except KeyboardInterrupt:
        if kept.published is None:
            raise
        return kept.published


def _publish(
    out: Path,
    whose: Whose,
    names: Collection[str],
    contents: Contents,
    replace: bool,
    progress: Progress | None,
    kept: _Kept,
) -> Published:
    """The steps of `publish`: `kept.published` is set when the new output stands, whatever stops the run after that."""
    with _in_a_sentence(out), ExitStack() as held:
        place = _place_for(out, held)
        with swap.guard(place.parent):
            _put_right(place, whose, replace, kept)
            earlier = _held(place.parent, place.out, held)
            ours = frozenset[str]() if earlier is None else _ours_in(earlier, whose, replace)
            own = () if earlier is None else swap.entries_besides(earlier, ours)
            if earlier is not None:
                _refuse_links(earlier, own, swap.folders_of((*ours, *names)))
                _refuse_clashes(earlier, own, names)
                _refuse_closed(place.parent, earlier, ours)
            new = held.enter_context(swap.make_new(place, earlier))
        try:
            _write_all(new, names, contents, progress)
            if earlier is not None:
                swap.carry_over(earlier, new, own)
            swap.sync(new)
            with swap.guard(place.parent):
                swap.swap(place, earlier, new)
        except KeyboardInterrupt:
            if not swap.stands(place, new):
                swap.remove_made(place, new)
                raise
        except BaseException:
            swap.remove_made(place, new)
            raise
        kept.published = Published(own, kept.yours, kept.earlier, INTERRUPTED)
        left = _finish(place, earlier, new, kept)
        kept.published = Published(own, kept.yours, kept.earlier, left)
        return kept.published


def earlier_plan(out: Path) -> bytes | None:
    """The plan.json of the output that now stands in `out`, or waits in DIR.old to be put back; None without one.

    What is odd about that file is not said here: `publish` refuses it.

    Raises:
        OutputError: no output can ever be at `out`.
    """
    with _in_a_sentence(out), ExitStack() as held:
        place = _place_for(out, held)
        with suppress(OSError, OutputError):
            for name in (place.out, place.old):
                if place.parent.kind(name) == "folder":
                    return plan_bytes(held.enter_context(place.parent.sub(name)))
    return None


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


def _place_for(out: Path, held: ExitStack) -> OutputPlace:
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


def _held(parent: Folder, name: str, held: ExitStack) -> Folder | None:
    """A folder, open and locked until `held` closes; None where there is none."""
    return held.enter_context(swap.hold(parent, name)) if parent.kind(name) == "folder" else None


def _put_right(place: OutputPlace, whose: Whose, replace: bool, kept: _Kept) -> None:
    """Finish or undo what a stopped run left; refuse what is not its leaving."""
    parent = place.parent
    stopped = parent.kind(place.new) is not None
    with ExitStack() as held:
        out = _held(parent, place.out, held)
        if stopped:
            _remove_new(place)
        if parent.kind(place.old) is None:
            return
        taken = OutputError(
            f"{parent.shown / place.old}: an earlier output is moved to this name, and something of yours has it: "
            "move it, then run it again"
        )
        old = _held(parent, place.old, held)
        record = None if old is None else _record_in(old)
        if out is None:
            if record is not None and (not whose.differs(record.whose) or (replace and stopped)):
                parent.rename(place.old, parent, place.out)
            elif record is not None:
                raise taken
        elif swap.has_marker(out):
            if old is None or (record is None and old.names()):
                raise taken
            _remove_old(place, old, out, record, kept)
        elif out.names():
            raise taken


def _remove_new(place: OutputPlace) -> None:
    """Remove the DIR.new of a run that was stopped."""
    shown = place.parent.shown / place.new
    taken = OutputError(
        f"{shown}: the output is made under this name first, and something of yours has it: move it, then run it again"
    )
    if place.parent.kind(place.new) != "folder":
        raise taken
    with swap.hold(place.parent, place.new) as new:
        if not swap.is_unfinished(new):
            raise taken
        try:
            swap.remove_all(new)
            place.parent.remove_folder(place.new)
        except OSError as error:
            raise _stays(shown, error) from error


def _remove_old(place: OutputPlace, old: Folder, out: Folder, record: Record | None, kept: _Kept) -> None:
    try:
        _retire(place, old, out, record, kept)
    except OSError as error:
        raise _stays(place.parent.shown / place.old, error) from error


def _stays(shown: Path, error: OSError) -> OutputError:
    return OutputError(
        f"{shown}: this was left by a run that was stopped, and cannot be removed ({_reason(error)}): "
        "move it to another place, then run it again. Nothing was written."
    )


def _retire(place: OutputPlace, old: Folder, out: Folder, record: Record | None, kept: _Kept) -> None:
    """Remove DIR.old, or leave it to the user under another name where nothing proves what of it is ours."""
    if record is None:
        place.parent.remove_folder(place.old)
    elif record.sealed:
        swap.remove_replaced(place, old, out, record, kept.yours)
    else:
        kept.earlier = str(place.parent.shown / swap.keep_earlier(place))


def _record_in(folder: Folder) -> Record | None:
    """What an output says of itself; None where it is no output of ours."""
    try:
        return read_record(folder)
    except (FileNotFoundError, OutputError):
        return None


def _ours_in(out: Folder, whose: Whose, replace: bool) -> frozenset[str]:
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


def _refuse_links(out: Folder, own: Collection[str], folders: frozenset[str]) -> None:
    """Refuse a link of the user's own in place of a folder of the output."""
    for name in sorted(folders & set(own)):
        with inside(out, name) as (folder, last):
            if folder.kind(last) == "link":
                raise OutputError(link_in_the_way(folder.shown / last))


def _refuse_clashes(out: Folder, own: Collection[str], names: Collection[str]) -> None:
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


def _refuse_closed(parent: Folder, out: Folder, ours: Collection[str]) -> None:
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


def _write_all(new: Folder, names: Collection[str], contents: Contents, progress: Progress | None) -> None:
    due, digests = set(names), dict[str, Digest]()
    for done, (name, content) in enumerate(contents(digests)):
        if name not in due:
            raise ValueError(f"{name!r} is not among the files that were said to come, or comes twice")
        if progress is not None:
            progress(name, done, len(names))
        digests[name] = swap.write_file(new, name, content)
        due.remove(name)
    digests.pop(PLAN_FILE, None)
    if due or _listed(new) != (set(names), digests):
        raise ValueError(f"{PLAN_FILE} must be written, and its lists must name every file as it is and no other")


def _listed(new: Folder) -> tuple[set[str], dict[str, Digest]]:
    """The files that the new plan.json lists, and their digests; the rest of it, which may be large, is not read."""
    with new.open(PLAN_FILE) as plan:
        return set(files_listed(plan)), digests_listed(plan)


INTERRUPTED = (
    "Ended from the keyboard when all was written: the next run goes on with what is left of the earlier output"
)


def _finish(place: OutputPlace, earlier: Folder | None, new: Folder, kept: _Kept) -> str:
    """Remove what was replaced, and the marker; the new output stands already, so a failure is told, not raised."""
    shown = place.parent.shown
    left = f"{shown / place.out / MARKER}: this mark"
    try:
        if earlier is not None and place.parent.identity_of(place.old) == earlier.identity:
            left = f"{shown / place.old}: the earlier output"
            _retire(place, earlier, new, read_record(earlier), kept)
        new.remove(MARKER)
    except OSError as error:
        return f"{left} could not be wholly removed ({_reason(error)}): the next run tries again"
    except OutputError as error:
        return f"{left} could not be wholly removed: {error}"
    except KeyboardInterrupt:
        return INTERRUPTED
    return ""


@contextmanager
def _in_a_sentence(out: Path) -> Iterator[None]:
    """Say what the operating system refused, that nothing was written, and how to go on."""
    try:
        yield
    except OSError as error:
        how_on = HOW_ON.get(error.errno or 0, "try again, or give another folder")
        raise OutputError(f"{error.filename or out}: {_reason(error)}: nothing was written: {how_on}") from error


def _reason(error: OSError) -> str:
    """The operating system's own words, without its number."""
    return (error.strerror or str(error)).lower()
