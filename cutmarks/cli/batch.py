"""Rooms worked out several at once, each written whole or not at all, and gone on with where a batch was stopped.

Each worker is a process of the standard library that does one type or one room after the other; what comes back is
small. Types are planned before the workers begin, which have the plans from the start where the system can copy a
process, and else plan them once each. Nothing that is written is shared but the disk. A worker whose parent is gone
ends too: a batch that is run again meets no one who still writes.
"""

from __future__ import annotations

import multiprocessing
import os
import signal
import sys
import time
from collections.abc import Iterable, Iterator, Mapping, Sequence
from concurrent.futures import ProcessPoolExecutor
from contextlib import ExitStack, contextmanager
from multiprocessing.connection import wait
from pathlib import Path
from threading import Thread
from typing import TYPE_CHECKING

from msgspec import Struct

import cutmarks
from cutmarks.cli.options import own_files
from cutmarks.errors import JobError, OutputError
from cutmarks.job.rooms_file import RoomSpec, load_rooms
from cutmarks.rooms.flow import Rooms, RoomWork
from cutmarks.rooms.model import RoomFits
from cutmarks.saying.names import safe_name
from cutmarks.saying.rooms import type_words
from cutmarks.writers.disk import inside, open_parent, read_whole, write_whole
from cutmarks.writers.rooms import read_record, record_of, room_names
from cutmarks.writers.workshop import labels_of

if TYPE_CHECKING:
    from cutmarks.job import Job
    from cutmarks.plan.model import Progress

TYPES_FOLDER, ROOMS_FOLDER = "types", "rooms"
FEW_ROOMS = 4
"""A worker is not worth its start for fewer rooms that were read."""
MOST_RECORDED = 1 << 20
"""The record of a room has at most so many bytes."""
Done = Mapping[str, RoomFits | str]
"""Each room by its name: what it comes to, or the sentence of what is wrong with its readings."""


def rooms_of(file: Path, tools: Path | None) -> Rooms:
    """The rooms of a file, whose types stand beside it.

    Raises:
        JobError: the file has faults.
    """

    def load(type_file: str) -> Job:
        path = file.parent / type_file
        return cutmarks.load_job(path, **own_files(path, tools))

    return Rooms(load_rooms(file), load)


class Batch(Struct, frozen=True):
    """A run over all rooms of a file; `out` None: nothing is written."""

    file: Path
    tools: Path | None
    out: Path | None
    at_once: int

    def run(self, rooms: Rooms, progress: Progress | None) -> Done:
        """Every type, and then every room.

        Raises:
            JobError: a type has faults: then nothing is written.
            OutputError: a folder or the disk is in the way; what was written by then stays.
        """
        rooms.plan_types()
        tasks = [*(range(-len(rooms.kinds), 0) if self.out is not None else ()), *range(len(rooms.specs))]
        count = min(self.at_once, sum(bool(room.read) for room in rooms.specs) // FEW_ROOMS)
        with _held(self.out):
            if count <= 1:
                return _collected((_done(rooms, task, self.out) for task in tasks), tasks, rooms.names, progress)
            with _workers(count, rooms, self.file, self.tools) as pool:
                done = pool.map(_in_worker, tasks, [self.out] * len(tasks))
                return _collected(done, tasks, rooms.names, progress)


_rooms: list[Rooms] = []
"""Of a worker: the rooms of its file. A copy of a process has them from the one that it is a copy of."""


@contextmanager
def _workers(count: int, rooms: Rooms, file: Path, tools: Path | None) -> Iterator[ProcessPoolExecutor]:
    """So many workers for the rooms of a file.

    Copied from this process on Linux, with all that is loaded and planned; begun anew where a copy is not safe. No
    library with threads of its own is loaded by then: types are written by workers, and not before.
    """
    way = "fork" if sys.platform == "linux" else "spawn"
    _rooms.append(rooms)
    try:
        with ProcessPoolExecutor(count, multiprocessing.get_context(way), _begin, (file, tools)) as pool:
            yield pool
    finally:
        _rooms.clear()


def _begin(file: Path, tools: Path | None) -> None:
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # the one who waits for the workers says what became of the work
    Thread(target=_end_with_parent, daemon=True).start()
    if not _rooms:
        _rooms.append(rooms_of(file, tools))


def _end_with_parent() -> None:
    """End this worker at once where the process that began it is killed: what it writes is whole or not there."""
    parent = multiprocessing.parent_process()
    if parent is not None:
        wait([parent.sentinel])
        os._exit(1)


def _in_worker(task: int, out: Path | None) -> RoomFits | str | None:
    return _done(_rooms[0], task, out)


def _done(rooms: Rooms, task: int, out: Path | None) -> RoomFits | str | None:
    """A room by its number from 0, or below 0 a type in a hand, which is written.

    Raises:
        OutputError: a folder or the disk is in the way.
    """
    if task >= 0:
        return one_room(rooms, task, out)
    assert out is not None
    kind = rooms.kinds[task]
    cutmarks.write_job(rooms.plan(kind), out / TYPES_FOLDER / safe_name(type_words(*kind)))
    return None


def one_room(rooms: Rooms, number: int, out: Path | None) -> RoomFits | str:
    """One room, the unit of work: judged, and written where a piece is cut anew for it; or what is wrong with it.

    A room whose record is there, of the same type and readings, was done before and is not done again. What is in the
    way of its own folder is said of it, and holds up no other.
    """
    room = rooms.specs[number]
    if out is None:
        return _worked_out(rooms, room)
    name = f"{ROOMS_FOLDER}/{room_names(rooms.names)[room.name]}"
    before = read_record(read_whole(out, f"{name}.json", MOST_RECORDED) or b"")
    if before is not None and before.fingerprint == rooms.fingerprint(room):
        return before
    try:
        work = rooms.room(room)
        _write(work, out, name)
    except JobError as error:
        return _sentences(error)
    except OutputError as error:
        return f"{error}" if f"{error}".endswith(".") else f"{error}."
    return work.fits


def _write(work: RoomWork, out: Path, name: str) -> None:
    """A room's own pieces with their labels, and last its record.

    Raises:
        OutputError: a folder or the disk is in the way.
    """
    if work.special is not None:
        cutmarks.write_job(work.special, out / name)
        labels = labels_of(work.special)
        if labels is not None:
            write_whole(out, f"{name}-labels.pdf", labels)
    else:
        _set_aside(out, name)
    write_whole(out, f"{name}.json", record_of(work.fits))


def _worked_out(rooms: Rooms, room: RoomSpec) -> RoomFits | str:
    try:
        return rooms.room(room).fits
    except JobError as error:
        return _sentences(error)


def _sentences(error: JobError) -> str:
    return " ".join(str(fault) for fault in error.faults)


def _set_aside(out: Path, name: str) -> None:
    """What was cut anew for a room once, and is not any more: kept under another name, since it may hold own files.

    Raises:
        OutputError: the disk is in the way.
    """
    with _told_of(out / name), open_parent(out, out) as root, inside(root, name) as (folder, last):
        if folder.kind(f"{last}-labels.pdf") == "file":
            folder.remove(f"{last}-labels.pdf")  # of pieces that nobody cuts now; it holds nothing of anyone's own
        if folder.kind(last) is None:
            return
        aside, number = f"{last}.earlier", 2
        while folder.kind(aside) is not None:
            aside, number = f"{last}.earlier-{number}", number + 1
        folder.rename(last, folder, aside)
        folder.sync()


@contextmanager
def _held(out: Path | None) -> Iterator[None]:
    """The folder of a batch, with the folders for its types and rooms, kept from any other run; None: no folder.

    A worker holds it too: as long as one still writes, no run that is begun anew does.

    Raises:
        OutputError: a link of the user's, another run or the disk is in the way.
    """
    if out is None:
        yield
        return
    with ExitStack() as held:
        with _told_of(out):
            out.mkdir(parents=True, exist_ok=True)
            root = held.enter_context(open_parent(out, out))
            if not root.lock():
                raise OutputError(f"{out}: another run writes there: wait until it is done, then run it again.")
            for name in (TYPES_FOLDER, ROOMS_FOLDER):
                if root.kind(name) is None:
                    root.make(name)
                with root.sub(name):
                    pass  # it is a folder, and no link
        yield


@contextmanager
def _told_of(folder: Path) -> Iterator[None]:
    try:
        yield
    except OSError as error:
        raise OutputError(f"{folder}: {error.strerror}. What was written by then is there.") from None


def _collected(
    done: Iterable[RoomFits | str | None], tasks: Sequence[int], names: Sequence[str], progress: Progress | None
) -> Done:
    """Each room with what it comes to; on the way, how many are done and how long the others will take."""
    began, rooms = time.monotonic(), {}
    for task, one in zip(tasks, done, strict=True):
        if one is None:
            continue
        rooms[names[task]] = one
        if progress is not None:
            left = (time.monotonic() - began) / len(rooms) * (len(names) - len(rooms))
            progress(f"rooms, {names[task]} ({left:.0f} s left)", len(rooms), len(names))
    return rooms
