"""How a command ends: one table of exit codes, and what each error says on the way out."""

from __future__ import annotations

from enum import IntEnum

from cutmarks.errors import CutmarksError, JobError, OutputError


class Exit(IntEnum):
    """The exit codes, all of them."""

    DONE = 0
    """Done, and nothing says stop."""
    STOP = 1
    """Done, but a finding that is not accepted says stop: it can spoil a tile."""
    NOTHING_WRITTEN = 2
    """Nothing was written: the job, the call, the disk or the folder is in the way, in a sentence."""
    OWN_FAULT = 4
    """A fault of cutmarks itself; nothing was written."""
    INTERRUPTED = 130
    """Ended from the keyboard (128 + SIGINT, as shells count); nothing was written."""
    NOBODY_READS = 141
    """What was printed had no reader any more, as in `cutmarks check JOB | head` (128 + SIGPIPE)."""


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


def own_fault(error: BaseException) -> str:
    """What is said when something escapes that nobody raised on purpose."""
    found = f"{type(error).__name__}: {error}".strip().rstrip(":")
    return (
        f"This is a fault of cutmarks itself, not of your job ({found}). Nothing was written. "
        "Run the same command with --trace and send what it prints, with the job file, to those who keep cutmarks."
    )
