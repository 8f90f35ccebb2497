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

from collections.abc import Callable, Collection, Iterable, Mapping
from contextlib import ExitStack, suppress
from pathlib import Path

from msgspec import Struct, field

from cutmarks.errors import OutputError
from cutmarks.plan import Plan
from cutmarks.plan.model import Progress
from cutmarks.writers import folder_swap as swap
from cutmarks.writers.disk import Digest, Folder
from cutmarks.writers.folder_record import FILE_NAME, MARKER, Record, Whose, plan_bytes, read_record
from cutmarks.writers.folder_refusals import (
    in_a_sentence,
    ours_in,
    place_for,
    reason,
    refuse_clashes,
    refuse_closed,
    refuse_links,
    stays,
    taken,
)
from cutmarks.writers.folder_swap import Content, OutputPlace
from cutmarks.writers.plan_json import PLAN_FILE, digests_listed, files_listed, read_index

Contents = Callable[[Mapping[str, Digest]], Iterable[tuple[str, Content]]]
"""Gives each file with its name; what it is called with tells the digests of those that are written by then."""


class Published(Struct, frozen=True):
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


class _Kept(Struct):
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
    with in_a_sentence(out), ExitStack() as held:
        place = place_for(out, held)
        with swap.guard(place.parent):
            _put_right(place, whose, replace, kept)
            earlier = _held(place.parent, place.out, held)
            ours = frozenset[str]() if earlier is None else ours_in(earlier, whose, replace)
            own = () if earlier is None else swap.entries_besides(earlier, ours)
            if earlier is not None:
                refuse_links(earlier, own, swap.folders_of((*ours, *names)))
                refuse_clashes(earlier, own, names)
                refuse_closed(place.parent, earlier, ours)
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
    with in_a_sentence(out), ExitStack() as held:
        place = place_for(out, held)
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


def moved_names(before: bytes | None, plan: Plan) -> dict[str, str]:
    """The pieces that had another name in the plan.json `before`: their names now, by those that they had.

    A piece is told by its place in its area's grid, which no edge moves.
    """
    if before is None:
        return {}
    try:
        then = {(one.surface, one.area, one.grid, one.part): one.name for one in read_index(before).pieces}
    except OutputError:
        return {}
    places = (((one.piece.surface, one.piece.area, one.piece.place, one.part), one.name) for one in plan.pieces)
    return {old: name for place, name in places if (old := then.get(place, name)) != name}


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
        old_taken = taken(parent.shown / place.old, "an earlier output is moved to this name")
        old = _held(parent, place.old, held)
        record = None if old is None else _record_in(old)
        if out is None:
            if record is not None and (not whose.differs(record.whose) or (replace and stopped)):
                parent.rename(place.old, parent, place.out)
            elif record is not None:
                raise old_taken
        elif swap.has_marker(out):
            if old is None or (record is None and old.names()):
                raise old_taken
            _remove_old(place, old, out, record, kept)
        elif out.names():
            raise old_taken


def _remove_new(place: OutputPlace) -> None:
    """Remove the DIR.new of a run that was stopped."""
    shown = place.parent.shown / place.new
    new_taken = taken(shown, "the output is made under this name first")
    if place.parent.kind(place.new) != "folder":
        raise new_taken
    with swap.hold(place.parent, place.new) as new:
        if not swap.is_unfinished(new):
            raise new_taken
        try:
            swap.remove_all(new)
            place.parent.remove_folder(place.new)
        except OSError as error:
            raise stays(shown, error) from error


def _remove_old(place: OutputPlace, old: Folder, out: Folder, record: Record | None, kept: _Kept) -> None:
    try:
        _retire(place, old, out, record, kept)
    except OSError as error:
        raise stays(place.parent.shown / place.old, error) from error


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
        return f"{left} could not be wholly removed ({reason(error)}): the next run tries again"
    except OutputError as error:
        return f"{left} could not be wholly removed: {error}"
    except KeyboardInterrupt:
        return INTERRUPTED
    return ""
