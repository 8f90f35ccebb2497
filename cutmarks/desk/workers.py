"""Calls in processes of their own: a call that a newer one has made needless is dropped, and each has a limit.

A process is kept for the next call. One that is stopped on its way is ended, and another takes its place.
"""

from __future__ import annotations

import multiprocessing
import threading
import time
from collections.abc import Callable, Mapping
from contextlib import suppress
from multiprocessing.connection import Connection
from typing import Any

from msgspec import Struct, field

LIMIT = 30.0
"""A call may take so long, in seconds of the processor: what else runs on the machine takes nothing of it."""
MAKING_LIMIT = 1800.0
LONGER = 10.0
"""So many times as long it may take where that was asked for."""
SILENT = 120.0
"""A process that says nothing for so many seconds of the clock is stuck: at work it says every `BEAT` what it used."""
BEAT = 0.25
MOST_MEMORY = 3_000_000_000
"""So many bytes a process may have, where the system keeps to that."""
GRACE = 0.25
"""A call that was made needless may still come to its end in so many seconds: to begin a process takes longer."""
LOOK = 0.02
EVERY = 0.1
"""How far it is, is told no more often, in seconds."""
MAKING = ("make", "shop")
FROM_WRITERS = (*MAKING, "starts_page", "test_page", "measured", "one_pdf")
"""The calls that bring the writers of files."""
SPARE = 3
"""So many processes are kept while nothing is asked: a change, a look, and the sentences of a slow look."""
MOST = 8
"""So many are at work at once; who asks more waits."""
ALONE = ""
"""The kind of calls that no newer one makes needless: each is a change that somebody typed."""
BENT = (KeyError, StopIteration, IndexError, TypeError, ValueError)
"""What a call ends in that was asked what cannot be asked."""

HowFar = Callable[[str, int, int], None]


class Superseded(Exception):
    """A newer call of the same kind was made meanwhile: nobody wants this one's answer."""


class TookTooLong(Exception):
    """It was stopped at its limit, so many seconds of the processor."""

    def __init__(self, limit: float) -> None:
        super().__init__(limit)
        self.limit = limit


class FellOver(Exception):
    """Its process ended by itself: it had no memory left, or what it runs was changed under it."""


class BentCall(Exception):
    """That cannot be asked."""


class WorkProcess(Struct):
    """A process, and the end of the pipe to it."""

    process: multiprocessing.process.BaseProcess
    pipe: Connection

    def end(self) -> None:
        """End it, whatever it does."""
        self.pipe.close()
        self.process.kill()
        self.process.join()


class Workers(Struct):
    """The processes of one server."""

    limit: float = LIMIT
    _idle: list[WorkProcess] = field(default_factory=list)
    _newest: dict[str, int] = field(default_factory=dict)
    _lock: threading.Lock = field(default_factory=threading.Lock)
    _room: threading.Semaphore = field(default_factory=lambda: threading.Semaphore(MOST))
    _closed: bool = False

    def ask(
        self,
        kind: str,
        name: str,
        arguments: Mapping[str, Any],
        told: HowFar | None = None,
        *,
        longer: bool = False,
    ) -> dict[str, Any]:
        """The answer to a call, made in another process; `kind` tells which calls it makes needless.

        longer  whether it may take `LONGER` times its limit.

        Raises:
            Superseded: a newer call of this kind was made.
            TookTooLong: it was stopped at its limit.
            FellOver: its process ended by itself.
            BentCall: the arguments are none of that call.
        """
        limit = (MAKING_LIMIT if name in MAKING else self.limit) * (LONGER if longer else 1.0)
        with self._lock:
            number = self._newest[kind] = self._newest.get(kind, 0) + 1
        with self._room:
            worker = self._one()
            try:
                worker.pipe.send((name, dict(arguments)))
                said, answer = self._wait(worker, kind, number, limit, told)
            except (EOFError, OSError) as error:
                worker.end()
                if self._is_needless(kind, number):
                    raise Superseded from error
                raise FellOver from error
            except BaseException:
                worker.end()
                raise
            self._put_back(worker)
        if said == "bent":
            raise BentCall
        return dict(answer)

    def _is_needless(self, kind: str, number: int) -> bool:
        return kind != ALONE and self._newest.get(kind) != number

    def stop(self, kind: str) -> None:
        """Stop what is asked of this kind."""
        with self._lock:
            self._newest[kind] = self._newest.get(kind, 0) + 1

    def close(self) -> None:
        """End all that are idle; those at work are ended when they are put back."""
        with self._lock:
            self._closed = True
            idle, self._idle = self._idle, []
        for one in idle:
            one.end()

    def warm(self) -> None:
        """Have the spare processes ready before anything is asked."""
        made = [_begun() for _ in range(SPARE)]
        for one in made:
            self._put_back(one)

    def _wait(
        self, worker: WorkProcess, kind: str, number: int, limit: float, told: HowFar | None
    ) -> tuple[str, dict[str, Any]]:
        heard, used = time.monotonic(), 0.0
        needless: float | None = None
        while True:
            now = time.monotonic()
            if worker.pipe.poll(LOOK):
                heard = now
                said, answer = worker.pipe.recv()
                if said in ("done", "bent"):
                    return said, answer
                if said == "used":
                    used = answer
                elif told is not None:
                    told(*answer)
            if self._is_needless(kind, number):
                needless = needless or now
                if now - needless > GRACE:
                    raise Superseded
            if used >= limit or now - heard > SILENT or self._closed:
                raise TookTooLong(limit)

    def _one(self) -> WorkProcess:
        with self._lock:
            while self._idle:
                worker = self._idle.pop()
                if worker.process.is_alive():
                    return worker
        return _begun()

    def _put_back(self, worker: WorkProcess) -> None:
        with self._lock:
            if not self._closed and len(self._idle) < SPARE:
                self._idle.append(worker)
                return
        worker.end()


def _begun() -> WorkProcess:
    context = multiprocessing.get_context("spawn")
    here, there = context.Pipe()
    process = context.Process(target=_work, args=(there,), daemon=True)
    process.start()
    there.close()
    return WorkProcess(process, here)


def _work(pipe: Connection) -> None:
    """What runs in the other process: one call after the other."""
    import signal

    signal.signal(signal.SIGINT, signal.SIG_IGN)  # the server ends it
    _bounded()
    from cutmarks.desk.calls import call

    last = [0.0]
    saying = threading.Lock()
    at_work = threading.Event()
    began = [0.0]

    def say(*what: object) -> None:
        with saying:
            pipe.send(what)

    def progress(name: str, done: int, count: int) -> None:
        now = time.monotonic()
        if now - last[0] > EVERY:
            last[0] = now
            say("told", (name, done, count))

    def beat() -> None:
        """Say what the call that is at work has used of the processor, again and again."""
        while True:
            at_work.wait()
            time.sleep(BEAT)
            with saying, suppress(OSError):
                if at_work.is_set():
                    pipe.send(("used", time.process_time() - began[0]))

    threading.Thread(target=beat, daemon=True).start()
    while True:
        try:
            name, arguments = pipe.recv()
        except (EOFError, OSError):
            return
        began[0] = time.process_time()
        at_work.set()
        said: tuple[str, dict[str, Any]]
        try:
            said = "done", _answered(call, name, arguments, progress)
        except BENT:
            said = "bent", {}
        with saying:
            at_work.clear()  # what is said last of a call is its answer
            pipe.send(said)


def _answered(
    call: Callable[[str, dict[str, Any]], dict[str, Any]], name: str, arguments: dict[str, Any], progress: HowFar
) -> dict[str, Any]:
    if name not in FROM_WRITERS:
        return call(name, arguments)
    from cutmarks.desk.making import made  # late: it brings all the writers

    return made(name, arguments, progress)


def _bounded() -> None:
    """Keep to the memory that is allowed, where the system can."""
    try:
        import resource
    except ImportError:
        return
    try:
        resource.setrlimit(resource.RLIMIT_AS, (MOST_MEMORY, MOST_MEMORY))
    except (ValueError, OSError):
        return
