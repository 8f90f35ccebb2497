"""Calls in processes of their own: the newest wins, each has its limit, and the next one is answered all the same."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from pathlib import Path

import pytest

from cutmarks.desk.workers import Superseded, TookTooLong, Workers

ROOT = Path(__file__).parents[2]
SLOW = ROOT / "examples" / "mending-room" / "mending-room.yaml"
"""Its starts take over a second to be looked for and drawn."""


@pytest.fixture
def workers() -> Iterator[Workers]:
    made = Workers()
    yield made
    made.close()


def asked(workers: Workers, name: str = "says", kind: str = "a kind", path: Path = SLOW) -> dict:
    return workers.ask(kind, name, {"text": path.read_text("utf-8"), "file": str(path)})


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
    while workers._newest.get("a kind", 0) < 2:
        pass
    assert asked(workers)["says"]
    thread.join()
    assert ended == ["superseded"]


def test_calls_of_another_kind_go_on(workers):
    answers: list[object] = []
    thread = threading.Thread(target=lambda: answers.append(asked(workers, "starts", "another")["pictures"]))
    thread.start()
    asked(workers)
    thread.join()
    assert len(answers) == 1
