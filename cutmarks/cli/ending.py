"""How a command ends: one table of exit codes, what each error says on the way out, and what was written by then.

The exit code is for what happened to the work. A command that has written everything, and then cannot print that,
because standard output is closed or full or has no reader any more, or because it is ended from the keyboard, ends with
the code of what it wrote. Of a command whose work is the printing, such as `check`, nothing is done then: 2.
"""

from __future__ import annotations

import atexit
import os
import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from enum import IntEnum
from pathlib import Path

import click
from msgspec import Struct

from cutmarks.errors import CutmarksError, JobError, OutputError


class Exit(IntEnum):
    """The exit codes, all of them."""

    DONE = 0
    """Done, and nothing says stop."""
    STOP = 1
    """Done, but a finding that is not accepted says stop: it can spoil a tile."""
    NOTHING_WRITTEN = 2
    """Nothing was written: the job, the call, the disk or the folder is in the way, in a sentence.

    Or it could not be printed, by a command that prints and writes nothing.
    """
    OWN_FAULT = 4
    """A fault of cutmarks itself; its sentence says what was written."""
    INTERRUPTED = 130
    """Ended from the keyboard before all was written (128 + SIGINT, as shells count)."""
    NOBODY_READS = 141
    """What was printed had no reader any more, as in `cutmarks check JOB | head` (128 + SIGPIPE); nothing written."""


class WorkDone(Struct):
    """What a command has written so far, for whatever ends it.

    what    the file or folder that is being written, "" before that; done: it is written.
    kept    what is kept of it though it is not written, as a clause; "" where nothing is.
    ending  the exit code of the work, once it is done.
    """

    what: str = ""
    done: bool = False
    kept: str = ""
    ending: Exit = Exit.DONE

    @property
    def outcome(self) -> str:
        """What became of the disk, as a clause. Everything that commands write is there whole or not at all."""
        if not self.what:
            return self.kept or "nothing was written"
        if self.done:
            return f"all of {self.what} was written"
        return f"it is not sure that {self.what} was written: it is as it was before, or new and whole"


WORK = "cutmarks.work"
"""Where the context of a command keeps its `Work`."""


def work_of(ctx: click.Context) -> WorkDone:
    """What the command that was called has written so far."""
    work: WorkDone = ctx.meta.setdefault(WORK, WorkDone())
    return work


@contextmanager
def writing(what: Path, ending: Exit = Exit.DONE) -> Iterator[None]:
    """Note that `what` is written inside, and at its end that it is; `ending` is then the command's exit code."""
    work = _work()
    work.what = str(what)
    try:
        yield
    except OutputError:
        note_unwritten()  # it is raised where nothing was written: see its class
        raise
    note_written(what, ending)


def note_written(what: Path, ending: Exit) -> None:
    """Note that `what` is written, and that `ending` is therefore the command's exit code."""
    work = _work()
    work.what, work.done, work.ending = str(what), True, ending


def note_kept(kept: str) -> None:
    """Note what is kept of what is not written yet, as a clause."""
    _work().kept = kept


def note_unwritten() -> None:
    """Note that nothing is written after all."""
    work = _work()
    work.what, work.done = "", False


def _work() -> WorkDone:
    """What the command that is running has written so far; of no one where none is running."""
    ctx = click.get_current_context(silent=True)
    return WorkDone() if ctx is None else work_of(ctx)


def exit_for(error: CutmarksError) -> Exit:
    """The exit code of an error that is raised on purpose."""
    match error:
        case JobError() | OutputError():
            return Exit.NOTHING_WRITTEN
        case _:
            # A shape that the kernel refuses should have been a fault of the job, with its line, long before.
            return Exit.OWN_FAULT


def said(error: CutmarksError) -> str:
    """What the error says on the terminal: every fault on a line of its own, and how many there are."""
    if not isinstance(error, JobError):
        return str(error)
    count = len(error.faults)
    closing = "1 fault: nothing was written." if count == 1 else f"{count} faults: nothing was written."
    return "\n".join((*(str(fault) for fault in error.faults), closing))


def own_fault(error: BaseException, work: WorkDone) -> str:
    """What is said when something escapes that nobody raised on purpose."""
    found = f"{type(error).__name__}: {error}".strip().rstrip(":")
    return (
        f"This is a fault of cutmarks itself, not of your job ({found}). {sentence(work.outcome)} "
        "Run the same command with --trace and send what it prints, with the job file, to those who keep cutmarks."
    )


def leave_at_once(code: object) -> None:
    """End the process with this code without taking apart what it holds, which is a fifteenth of a check.

    Returns where it has to end in the usual way: another thread runs, something is registered for the end, there is
    more to say than a code, or a stream does not take what it still holds.
    """
    if not isinstance(code, int) or threading.active_count() > 1 or atexit._ncallbacks():
        return
    try:
        sys.stdout.flush()
        sys.stderr.flush()
    except (OSError, ValueError):
        return
    os._exit(code)


def sentence(clause: str) -> str:
    """A clause as a sentence of its own.

    >>> sentence("nothing was written")
    'Nothing was written.'
    """
    return f"{clause[0].upper()}{clause[1:]}."
