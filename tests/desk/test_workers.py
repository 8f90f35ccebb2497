"""Calls in processes of their own: the newest wins, each has its limit, and the next one is answered all the same."""

from __future__ import annotations

import multiprocessing
import threading
import time
from collections.abc import Iterator
from contextlib import ExitStack
from pathlib import Path

import pytest

from cutmarks.desk.workers import ALONE, MOST, BentCall, FellOver, Superseded, TookTooLong, Workers, WorkProcess

ROOT = Path(__file__).parents[2]
SLOW = ROOT / "examples" / "mending-room" / "mending-room.yaml"
"""Its starts take over a second to be looked for and drawn."""
PATIENCE = 120.0
"""So many seconds what is waited for may take on a busy machine."""


@pytest.fixture
def workers() -> Iterator[Workers]:
    made = Workers()
    yield made
    made.close()


def asked(workers: Workers, name: str = "says", kind: str = "a kind", path: Path = SLOW, longer: bool = False) -> dict:
    return workers.ask(kind, name, {"text": path.read_text("utf-8"), "file": str(path)}, longer=longer)


def test_a_process_is_kept_for_the_next_call(workers):
    assert asked(workers)["says"] == asked(workers)["says"] != {}
    assert len(workers._idle) == 1


def test_what_takes_too_long_is_stopped_and_the_next_call_is_answered(workers):
    workers.limit = 0.0
    with pytest.raises(TookTooLong):
        asked(workers, "starts")
    assert workers._idle == []
    workers.limit = 60.0
    assert asked(workers)["says"]


class Pipe:
    """The end of a pipe that says one thing after the other, and then nothing."""

    def __init__(self, *said: tuple[str, object]) -> None:
        self.said = list(said)

    def poll(self, _: float) -> bool:
        return bool(self.said)

    def recv(self) -> tuple[str, object]:
        return self.said.pop(0)

    def close(self) -> None:
        self.said = []


class Stands:
    """A process that there is none of."""

    def is_alive(self) -> bool:
        return True

    def kill(self) -> None:
        pass

    def join(self) -> None:
        pass


def heard(workers: Workers, *said: tuple[str, object], longer: bool = False) -> dict:
    """The answer of a process that says this."""
    pipe = Pipe(*said)
    pipe.send = lambda _: None  # type: ignore[attr-defined]
    workers._idle.append(WorkProcess(Stands(), pipe))  # type: ignore[arg-type]
    return workers.ask("a kind", "says", {}, longer=longer)


def test_the_limit_is_of_the_processor_and_not_of_the_clock(workers):
    workers.limit = 2.0
    # What it used is said again and again; how long that took by the clock is nothing to it.
    under = [("used", 0.5), ("used", 1.0), ("used", 1.9), ("done", {"ok": 1})]
    assert heard(workers, *under) == {"ok": 1}
    workers._idle.clear()
    over = [("used", 0.5), ("used", 2.0), ("done", {"ok": 1})]
    with pytest.raises(TookTooLong) as stopped:
        heard(workers, *over)
    assert stopped.value.limit == 2.0
    # Asked for longer, it may take ten times as much.
    assert heard(workers, *over, longer=True) == {"ok": 1}
    workers._idle.clear()
    with pytest.raises(TookTooLong):
        heard(workers, ("used", 20.0), ("done", {"ok": 1}), longer=True)


def test_a_process_that_says_nothing_any_more_is_stopped(workers, monkeypatch):
    monkeypatch.setattr("cutmarks.desk.workers.SILENT", -1.0)
    with pytest.raises(TookTooLong):
        heard(workers)


def test_a_process_at_work_says_what_it_used(workers):
    """Its starts take over a second of the processor: a fifth of one is too little for them."""
    workers.limit = 0.2
    with pytest.raises(TookTooLong):
        asked(workers, "starts")
    workers.limit = 30.0
    assert asked(workers, "starts", longer=True)["pictures"]


def test_a_process_that_ends_by_itself_is_not_said_to_have_taken_too_long(workers):
    asked(workers)  # a process is ready
    ready = workers._idle.pop()
    here, there = multiprocessing.get_context("spawn").Pipe()
    there.close()  # as the pipe of a process is that has fallen over
    workers._idle.append(WorkProcess(ready.process, here))
    ready.pipe.close()
    with pytest.raises(FellOver):
        asked(workers)
    assert workers._idle == []
    assert asked(workers)["says"]


def test_what_a_newer_call_made_needless_is_dropped(workers):
    asked(workers)  # a process is ready
    ended: list[str] = []

    def older() -> None:
        try:
            asked(workers, "starts")
            ended.append("answered")
        except Superseded:
            ended.append("superseded")

    thread = threading.Thread(target=older)
    thread.start()
    patience = time.monotonic() + PATIENCE
    while workers._newest.get("a kind", 0) < 2:
        assert time.monotonic() < patience, "the older call was never made"
        time.sleep(0.005)
    assert asked(workers)["says"]
    thread.join(PATIENCE)
    assert ended == ["superseded"]


def test_calls_of_another_kind_go_on(workers):
    answers: list[object] = []
    thread = threading.Thread(target=lambda: answers.append(asked(workers, "starts", "another")["pictures"]))
    thread.start()
    asked(workers)
    thread.join(PATIENCE)
    assert len(answers) == 1


def test_a_change_is_never_made_needless_by_another(workers):
    asked(workers, kind=ALONE)
    answers: list[object] = []
    thread = threading.Thread(target=lambda: answers.append(asked(workers, "starts", ALONE)["pictures"]))
    thread.start()
    patience = time.monotonic() + PATIENCE
    while workers._newest.get(ALONE, 0) < 2:
        assert time.monotonic() < patience, "the older call was never made"
        time.sleep(0.005)
    asked(workers, kind=ALONE)
    thread.join(PATIENCE)
    assert len(answers) == 1


def test_what_cannot_be_asked_is_said_and_ends_no_process(workers):
    with pytest.raises(BentCall):
        workers.ask(ALONE, "near", {"text": SLOW.read_text("utf-8"), "file": str(SLOW)})
    assert len(workers._idle) == 1
    assert asked(workers)["says"]


def test_so_many_are_at_work_at_once_and_no_more(workers):
    with ExitStack() as held:
        for _ in range(MOST):
            held.enter_context(workers._room)
        assert not workers._room.acquire(blocking=False)
    assert asked(workers)["says"]
