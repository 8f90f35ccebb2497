"""Nothing is lost: each change is kept beside the job until it is saved, and nobody's is overwritten unseen."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from cutmarks.desk.drafts import MOST_STEPS, opened
from cutmarks.desk.places import draft_of, jobs_in
from cutmarks.errors import OutputError
from tests.desk.asking import desk_on, do

JOB = "job: Reed House   # invented\nunits: mm\nsurfaces:\n  - name: wall\n    kind: wall\n"
UNITS = {"path": ["units"], "was": "mm", "value": "cm"}


@pytest.fixture
def job(tmp_path: Path) -> Path:
    path = tmp_path / "reed.yaml"
    path.write_text(JOB, encoding="utf-8")
    return path


def test_a_change_is_kept_at_once_and_the_file_is_as_it_was_until_it_is_saved(job):
    desk = desk_on(job.parent)
    state = do(desk, "change", "reed.yaml", **UNITS)
    assert (state["saved"], state["undo"]) == (False, "units")
    assert job.read_text() == JOB
    again = opened(job)  # as after a power cut
    assert again.text == JOB.replace("units: mm", "units: cm")
    assert again.told == "What was not saved yet is still here."
    assert [one.is_unsaved for one in jobs_in(job.parent)] == [True]
    assert do(desk, "save", "reed.yaml")["saved"]
    assert job.read_text() == JOB.replace("units: mm", "units: cm")
    assert not draft_of(job).exists()


def test_what_cannot_be_read_is_kept_too(job):
    desk = desk_on(job.parent)
    on = do(desk, "state", "reed.yaml")["version"]
    do(desk, "text", "reed.yaml", text="job: [a\n", on=on)
    assert opened(job).text == "job: [a\n"


def test_undo_and_redo_live_through_a_crash(job):
    desk = desk_on(job.parent)
    do(desk, "change", "reed.yaml", **UNITS)
    do(desk, "change", "reed.yaml", path=["say"], value="us")
    desk = desk_on(job.parent)
    assert do(desk, "undo", "reed.yaml")["redo"] == "say"
    assert do(desk, "undo", "reed.yaml")["saved"]
    assert do(desk, "redo", "reed.yaml")["undo"] == "units"
    assert opened(job).text == JOB.replace("units: mm", "units: cm")


def test_what_is_typed_on_in_one_field_is_one_step(job):
    desk = desk_on(job.parent)
    for was, value in (("mm", "c"), ("c", "cm")):
        do(desk, "change", "reed.yaml", path=["units"], was=was, value=value)
    assert do(desk, "undo", "reed.yaml")["saved"]


def test_two_tabs_on_one_field_are_told_and_two_fields_go_together(job):
    desk = desk_on(job.parent)
    do(desk, "change", "reed.yaml", **UNITS)
    assert do(desk, "change", "reed.yaml", path=["units"], was="mm", value="in")["differs"] == "cm"
    assert "differs" not in do(desk, "change", "reed.yaml", path=["job"], was="Reed House", value="Reed Barn")
    assert opened(job).text == JOB.replace("units: mm", "units: cm").replace("Reed House", "Reed Barn")


def test_two_tabs_on_the_text_are_told(job):
    desk = desk_on(job.parent)
    on = do(desk, "state", "reed.yaml")["version"]
    do(desk, "text", "reed.yaml", text=JOB + "say: us\n", on=on)
    answer = do(desk, "text", "reed.yaml", text=JOB + "say: uk\n", on=on)
    assert answer["differs"] == JOB + "say: us\n"
    assert opened(job).text == JOB + "say: us\n"


def test_an_editors_change_is_taken_up_where_nothing_is_unsaved(job):
    desk = desk_on(job.parent)
    do(desk, "state", "reed.yaml")
    job.write_text(JOB + "say: us\n")
    state = do(desk, "state", "reed.yaml", text=True)
    assert state["text"] == JOB + "say: us\n"
    assert state["told"] == "reed.yaml was changed by another program: this is what it says now."
    assert state["saved"]
    assert do(desk, "undo", "reed.yaml")["saved"] is False  # what it said before is one step back


@pytest.mark.parametrize(("stands", "text"), [("mine", "units: cm"), ("theirs", "say: us")])
def test_an_editors_change_beside_one_of_ours_is_asked_and_the_other_stays_one_step_back(job, stands, text):
    desk = desk_on(job.parent)
    do(desk, "change", "reed.yaml", **UNITS)
    job.write_text(JOB + "say: us\n")
    assert do(desk, "state", "reed.yaml")["outside"]
    answer = do(desk, "save", "reed.yaml")
    assert "was changed by another program meanwhile" in answer["fault"]
    assert job.read_text() == JOB + "say: us\n"
    do(desk, stands, "reed.yaml")
    assert do(desk, "save", "reed.yaml")["saved"]
    assert text in job.read_text()
    do(desk, "undo", "reed.yaml")
    assert text not in opened(job).text


def test_an_editors_change_while_nobody_served_is_asked_too(job):
    do(desk_on(job.parent), "change", "reed.yaml", **UNITS)
    job.write_text(JOB + "say: us\n")
    desk = desk_on(job.parent)
    assert do(desk, "state", "reed.yaml")["outside"]
    assert do(desk, "mine", "reed.yaml")["saved"] is False
    assert do(desk, "save", "reed.yaml")["saved"]
    assert job.read_text() == JOB.replace("units: mm", "units: cm")


def test_two_servers_on_one_job_lose_nothing(job):
    one, other = desk_on(job.parent), desk_on(job.parent)
    do(one, "state", "reed.yaml")
    do(other, "state", "reed.yaml")
    do(one, "change", "reed.yaml", **UNITS)
    assert "changed by another program" in do(other, "change", "reed.yaml", path=["say"], value="us")["fault"]
    assert do(other, "change", "reed.yaml", path=["say"], value="us")["undo"] == "say"  # on what the first one kept
    assert "units: cm" in opened(job).text
    assert "say: us" in opened(job).text


@pytest.mark.parametrize(
    "content", [b"", b"{", b"[]", b'{"cutmarks": "draft", "base": "", "at": 5, "steps": [["", "a"]]}', b"\xff"]
)
def test_a_file_of_that_name_that_is_no_draft_is_never_written_over(job, content):
    draft_of(job).write_bytes(content)
    assert "no draft of cutmarks" in do(desk_on(job.parent), "state", "reed.yaml")["fault"]
    assert draft_of(job).read_bytes() == content


def test_a_draft_that_is_a_link_is_refused(job, tmp_path):
    other = tmp_path / "other"
    other.write_text("mine")
    draft_of(job).symlink_to(other)
    with pytest.raises(OutputError, match="this is a link"):
        opened(job)
    assert other.read_text() == "mine"


def test_there_is_an_end_to_the_steps_that_are_kept(job):
    desk = desk_on(job.parent)
    for number in range(MOST_STEPS + 20):
        was = "Reed House" if not number else f"Reed {number - 1}"
        do(desk, "change", "reed.yaml", path=["job"], was=was, value=f"Reed {number}")
        do(desk, "change", "reed.yaml", path=["say"], value="us" if number % 2 else "uk")
    kept = json.loads(draft_of(job).read_bytes())
    assert len(kept["steps"]) <= MOST_STEPS
    assert f"Reed {MOST_STEPS + 19}" in opened(job).text


def test_line_ends_and_the_mark_before_a_text_stay_those_of_the_file(tmp_path):
    path = tmp_path / "reed.yaml"
    before = ("\ufeff" + JOB.replace("\n", "\r\n")).encode()
    path.write_bytes(before)
    desk = desk_on(tmp_path)
    state = do(desk, "state", "reed.yaml", text=True)
    assert state["text"] == JOB
    do(desk, "text", "reed.yaml", text=JOB + "say: us\n", on=state["version"])
    do(desk, "change", "reed.yaml", **UNITS)
    do(desk, "save", "reed.yaml")
    assert path.read_bytes() == before.replace(b"units: mm", b"units: cm") + b"say: us\r\n"
