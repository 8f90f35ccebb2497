"""A change is made in a process that can be stopped: a limit ends it, nobody waits for it, none is lost to another."""

from __future__ import annotations

import json
import threading
import time
from pathlib import Path
from typing import Any

import pytest
from msgspec import field

from cutmarks.desk.app import MADE
from cutmarks.desk.calls import call
from cutmarks.desk.drafts import opened
from cutmarks.desk.workers import BentCall, Workers
from tests.desk.asking import HOST, TOKEN, WORKERS, Answered, desk_on, do, request

JOB = "job: Reed House   # invented\nunits: mm\nsurfaces:\n  - name: wall\n    kind: wall\n"
JSON = {"content-type": "application/json", "origin": f"http://{HOST}"}
PATIENCE = 120.0
"""So many seconds what is waited for may take on a busy machine."""
UNITS = {"path": ["units"], "was": "mm", "value": "cm"}


@pytest.fixture
def job(tmp_path: Path) -> Path:
    path = tmp_path / "reed.yaml"
    path.write_text(JOB, encoding="utf-8")
    return path


class Held(Workers, dict=True):
    """Processes of which the first call waits until it may go on."""

    begun: threading.Event = field(default_factory=threading.Event)
    go_on: threading.Event = field(default_factory=threading.Event)
    texts: list[str] = field(default_factory=list)

    def ask(self, kind: str, name: str, arguments: Any, told: Any = None, *, longer: bool = False) -> dict[str, Any]:
        """The answer, from this very process."""
        self.texts.append(arguments["text"])
        if len(self.texts) == 1:
            self.begun.set()
            assert self.go_on.wait(PATIENCE)
        return call(name, arguments)


EDITS: dict[str, dict[str, Any]] = {
    "change": UNITS,
    "add": {"path": ["surfaces", 0, "holes"], "kind": "hole"},
    "remove": {"path": ["units"]},
    "rename": {"path": ["units"], "name": "unit"},
    "accept": {"rule": "thin bridge", "reason": "so be it"},
    "take": {"surface": "wall", "number": 1},
}


@pytest.mark.parametrize("action", EDITS)
def test_a_change_that_takes_too_long_is_stopped_and_changes_nothing(job, action):
    desk = desk_on(job.parent)
    desk.workers = Workers(limit=0.0)
    assert "work, and was stopped: nothing was changed by it" in do(desk, action, "reed.yaml", **EDITS[action])["fault"]
    assert sorted(one.name for one in job.parent.iterdir()) == ["reed.yaml"]
    assert job.read_text() == JOB
    desk.workers = WORKERS
    assert do(desk, "change", "reed.yaml", **UNITS)["undo"] == "units"


@pytest.mark.parametrize("how", ["sent", "found", "taken_back"])
def test_what_is_kept_is_worked_out_within_the_limit_too(job, how):
    desk = desk_on(job.parent)
    desk.workers = Workers(limit=0.0)
    given = {"sent": [], "entry": {"piece": "a 1-1"}, "piece": "a 1-1", "after": ""}
    assert "was stopped" in do(desk, "keep", "reed.yaml", how=how, **given)["fault"]
    assert sorted(one.name for one in job.parent.iterdir()) == ["reed.yaml"]


def test_a_new_job_is_begun_within_the_limit_too(job):
    desk = desk_on(job.parent)
    desk.workers = Workers(limit=0.0)
    heads = {**JSON, "content-type": "application/x-www-form-urlencoded"}
    answer = request(desk, "POST", f"/{TOKEN}/new", heads, b"called=Reed&begin=wall")
    assert answer.status == 200
    assert b"was stopped" in answer.body
    assert sorted(one.name for one in job.parent.iterdir()) == ["reed.yaml"]


def test_nobody_waits_for_a_slow_change_and_both_are_kept(job):
    desk = desk_on(job.parent)
    desk.workers = held = Held()
    answers: list[dict[str, Any]] = []
    slow = threading.Thread(target=lambda: answers.append(do(desk, "change", "reed.yaml", **UNITS)))
    slow.start()
    assert held.begun.wait(PATIENCE)
    assert do(desk, "state", "reed.yaml")["saved"]
    assert do(desk, "change", "reed.yaml", path=["say"], value="us")["undo"] == "say"
    held.go_on.set()
    slow.join(PATIENCE)
    # The slow one was worked out on a text that is gone by then: it is made anew on the one that stands there.
    assert [one["undo"] for one in answers] == ["units"]
    assert held.texts[-1] != JOB
    text = opened(job).text
    assert "units: cm" in text
    assert "say: us" in text


def test_two_slow_changes_of_one_field_are_asked_about(job):
    desk = desk_on(job.parent)
    desk.workers = held = Held()
    answers: list[dict[str, Any]] = []
    slow = threading.Thread(target=lambda: answers.append(do(desk, "change", "reed.yaml", **UNITS)))
    slow.start()
    assert held.begun.wait(PATIENCE)
    do(desk, "change", "reed.yaml", path=["units"], was="mm", value="in")
    held.go_on.set()
    slow.join(PATIENCE)
    assert [one["differs"] for one in answers] == ["in"]
    assert "units: in" in opened(job).text


def bent(job: Path, action: str, **given: object) -> Answered:
    return request(desk_on(job.parent), "POST", f"/{TOKEN}/do/{action}/reed.yaml", JSON, json.dumps(given).encode())


@pytest.mark.parametrize("action", ["change", "add", "rename", "near", "take", "told", "found", "frees"])
def test_what_cannot_be_asked_is_refused_and_is_not_called_slow(job, action):
    answer = bent(job, action, path=["units"], what="x", number="x", about=3)
    assert answer.status == 400 or "fault" in answer.json
    assert b"was stopped" not in answer.body


class Faulty(Workers, dict=True):
    """Processes in which what is asked ends in an error of ours."""

    def ask(self, kind: str, name: str, arguments: Any, told: Any = None, *, longer: bool = False) -> dict[str, Any]:
        """No answer."""
        raise BentCall


@pytest.mark.parametrize("what", MADE)
def test_a_pack_that_ends_in_an_error_of_ours_is_not_laid_to_the_job(job, what):
    desk = desk_on(job.parent)
    desk.workers = Faulty()
    do(desk, what, "reed.yaml")
    until = time.monotonic() + PATIENCE
    while (answer := do(desk, "making", "reed.yaml", what=what))["busy"]:
        assert time.monotonic() < until
        time.sleep(0.01)
    assert "a fault of cutmarks itself, not of your job" in answer["fault"]
