"""A piece of work in a process of its own, with limits: it may hang, eat memory or die, and the caller goes on.

The child is a fork of a caller that has imported all it needs, so that a case costs what its own work costs. Linux.
"""

from __future__ import annotations

import gc
import os
import pickle
import resource
import select
import signal
import time
import traceback
import warnings
from collections.abc import Callable
from typing import Any

from msgspec import Struct

WALL = 20.0
"""A child that has used so many times its processor time on the clock is taken for asleep."""
_PAGE = resource.getpagesize()
_MB = 1024 * 1024


class Ran(Struct, frozen=True):
    """How the work went.

    result   what it gave back; None where it gave nothing back.
    error    the traceback of what it raised, or how it ended; "" where it gave back a result.
    seconds  processor time of the child. megabytes: the most that it held beyond what its parent held at the fork.
    slow, big  it went over a limit.
    """

    result: Any
    error: str
    seconds: float
    megabytes: float
    slow: bool
    big: bool


def run_apart(work: Callable[[], Any], seconds: float, megabytes: float) -> Ran:
    """What `work` gives back from a forked child; it is killed a second beyond `seconds` of processor time."""
    read, write = os.pipe()
    with warnings.catch_warnings():
        # The caller has no other thread that holds a lock the child would wait for: what it wants is imported.
        warnings.simplefilter("ignore", DeprecationWarning)
        pid = os.fork()
    if pid == 0:
        _child(work, read, write, seconds, megabytes)
    os.close(write)
    said = _all_of(read, seconds * WALL)
    os.close(read)
    if said is None:
        os.kill(pid, signal.SIGKILL)
    _, status, used = os.wait4(pid, 0)
    taken = used.ru_utime + used.ru_stime
    if said is None:
        return Ran(None, "asleep: killed by the clock", taken, 0.0, True, False)
    ended = os.waitstatus_to_exitcode(status)
    if not said:
        return Ran(None, f"ended with {ended} and said nothing", taken, 0.0, ended == -signal.SIGXCPU, False)
    result, error, base, out_of_memory = pickle.loads(said)
    held = max(0.0, (used.ru_maxrss - base) / 1024.0)
    return Ran(result, error, taken, held, taken > seconds, out_of_memory or held > megabytes)


def _all_of(pipe: int, seconds: float) -> bytes | None:
    """Everything that comes through, to its end; None where nothing has ended by then."""
    parts: list[bytes] = []
    until = time.monotonic() + seconds
    while True:
        ready, _, _ = select.select([pipe], [], [], max(0.0, until - time.monotonic()))
        if not ready:
            return None
        part = os.read(pipe, 1 << 20)
        if not part:
            return b"".join(parts)
        parts.append(part)


def _child(work: Callable[[], Any], read: int, write: int, seconds: float, megabytes: float) -> None:
    """The child's whole life. It never returns: nothing of the caller's is flushed or closed twice."""
    code = 1
    try:
        os.close(read)
        signal.signal(signal.SIGINT, signal.SIG_DFL)
        base = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
        _limit(seconds, megabytes)
        gc.freeze()
        out_of_memory = False
        result, error = None, ""
        try:
            result = work()
        except MemoryError:
            out_of_memory, error = True, "MemoryError: killed by the limit on memory"
        except BaseException:
            error = traceback.format_exc()
        resource.setrlimit(resource.RLIMIT_AS, (resource.RLIM_INFINITY, resource.RLIM_INFINITY))
        _send(write, pickle.dumps((result, error, base, out_of_memory)))
        code = 0
    finally:
        os._exit(code)


def _limit(seconds: float, megabytes: float) -> None:
    """So much processor time and a second, and twice the memory: what is over is measured, what runs away is ended."""
    most = int(seconds) + 1
    resource.setrlimit(resource.RLIMIT_CPU, (most, most + 1))
    with open("/proc/self/statm", encoding="ascii") as statm:
        mapped = int(statm.read().split()[0]) * _PAGE
    resource.setrlimit(resource.RLIMIT_AS, (mapped + int(2 * megabytes * _MB), resource.RLIM_INFINITY))


def _send(pipe: int, content: bytes) -> None:
    while content:
        content = content[os.write(pipe, content) :]
