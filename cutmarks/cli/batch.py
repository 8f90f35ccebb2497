"""Rooms worked out several at once, each written whole or not at all, and gone on with where a batch was stopped.

Each worker is a process of the standard library that plans a type once and then does room after room; what comes back
is small. Nothing is shared but the disk.
"""

from __future__ import annotations

import multiprocessing
import signal
import time
from collections.abc import Iterable, Iterator, Mapping, Sequence
from concurrent.futures import ProcessPoolExecutor
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from msgspec import Struct

import cutmarks
from cutmarks.cli.options import own_files
from cutmarks.errors import JobError, OutputError
from cutmarks.job.rooms_file import RoomSpec, load_rooms
from cutmarks.rooms.flow import Rooms
from cutmarks.rooms.model import RoomFits
from cutmarks.saying.names import safe_name
from cutmarks.saying.rooms import type_words
from cutmarks.writers.rooms import read_record, record_of, room_names, write_whole

if TYPE_CHECKING:
    from cutmarks.job import Job
    from cutmarks.plan.model import Progress

TYPES_FOLDER, ROOMS_FOLDER = "types", "rooms"
FEW_ROOMS = 4
"""A worker is not worth its start for fewer rooms that were read."""
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
            JobError: a type has faults.
            OutputError: a folder or the disk is in the way; what was written by then stays.
        """
        if self.out is not None:
            _make_folder(self.out / TYPES_FOLDER)
            _make_folder(self.out / ROOMS_FOLDER)
        for kind in rooms.kinds:
            plan = rooms.plan(kind)
            if self.out is not None:
                cutmarks.write_job(plan, self.out / TYPES_FOLDER / safe_name(type_words(*kind)))
        specs = rooms.specs
        count = min(self.at_once, sum(bool(room.read) for room in specs) // FEW_ROOMS)
        if count <= 1:
            return dict(_told((one_room(rooms, number, self.out) for number in range(len(specs))), specs, progress))
        with ProcessPoolExecutor(count, _context(), _begin, (self.file, self.tools)) as pool:
            outs = [self.out] * len(specs)
            return dict(_told(pool.map(_in_worker, range(len(specs)), outs), specs, progress))


def _context() -> multiprocessing.context.BaseContext:
    """New processes that share nothing with this one, on every system alike."""
    return multiprocessing.get_context("spawn")


_rooms: list[Rooms] = []
"""Of a worker: the rooms of its file, whose types it plans once."""


def _begin(file: Path, tools: Path | None) -> None:
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # the one who waits for the workers says what became of the work
    _rooms.append(rooms_of(file, tools))


def _in_worker(number: int, out: Path | None) -> RoomFits | str:
    return one_room(_rooms[0], number, out)


def one_room(rooms: Rooms, number: int, out: Path | None) -> RoomFits | str:
    """One room, the unit of work: judged, and written where a piece is cut anew for it; or what is wrong with it.

    A room whose record is there, of the same type and readings, was done before and is not done again.

    Raises:
        OutputError: a folder or the disk is in the way.
    """
    room = rooms.specs[number]
    if out is None:
        return _worked_out(rooms, room)
    name = room_names(rooms.names)[room.name]
    record, folder = out / ROOMS_FOLDER / f"{name}.json", out / ROOMS_FOLDER / name
    before = _recorded(record)
    if before is not None and before.fingerprint == rooms.fingerprint(room):
        return before
    try:
        work = rooms.room(room)
    except JobError as error:
        return _sentences(error)
    if work.special is not None:
        cutmarks.write_job(work.special, folder)
    elif folder.exists():
        _set_aside(folder)
    write_whole(record, record_of(work.fits))
    return work.fits


def _worked_out(rooms: Rooms, room: RoomSpec) -> RoomFits | str:
    try:
        return rooms.room(room).fits
    except JobError as error:
        return _sentences(error)


def _sentences(error: JobError) -> str:
    return " ".join(str(fault) for fault in error.faults)


def _recorded(record: Path) -> RoomFits | None:
    try:
        return read_record(record.read_bytes())
    except OSError:
        return None


def _set_aside(folder: Path) -> None:
    """What was cut anew for a room once, and is not any more: kept under another name, since it may hold own files.

    Raises:
        OutputError: the disk is in the way.
    """
    with _told_of(folder):
        aside, number = folder.with_name(f"{folder.name}.earlier"), 2
        while aside.exists():
            aside, number = folder.with_name(f"{folder.name}.earlier-{number}"), number + 1
        folder.rename(aside)


def _make_folder(folder: Path) -> None:
    with _told_of(folder):
        folder.mkdir(parents=True, exist_ok=True)


@contextmanager
def _told_of(folder: Path) -> Iterator[None]:
    try:
        yield
    except OSError as error:
        raise OutputError(f"{folder}: {error.strerror}. What was written by then is there.") from None


def _told(
    done: Iterable[RoomFits | str], specs: Sequence[RoomSpec], progress: Progress | None
) -> Iterator[tuple[str, RoomFits | str]]:
    """Each room with what it comes to; on the way, how many are done and how long the others will take."""
    began = time.monotonic()
    for number, (room, one) in enumerate(zip(specs, done, strict=True), start=1):
        if progress is not None:
            left = (time.monotonic() - began) / number * (len(specs) - number)
            progress(f"rooms, {room.name} ({left:.0f} s left)", number, len(specs))
        yield room.name, one
