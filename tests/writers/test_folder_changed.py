"""What is removed is what we wrote, and of the same job: files that were changed, outputs that prove nothing."""

from __future__ import annotations

import json
import os
from pathlib import Path

import pytest

from cutmarks.errors import OutputError
from cutmarks.writers.folder import Published
from cutmarks.writers.folder_record import Whose
from cutmarks.writers.plan_json import PLAN_FILE, is_sealed
from tests.writers.folders import JOB, NEW, OLD, contents, listed, output, publish, refused, with_own_files

# Files of ours that the user changed.


def test_a_file_of_ours_that_was_changed_is_kept_aside(out: Path) -> None:
    publish(out, JOB, OLD)
    (out / "holes.csv").write_text("ticked")
    (out / "sheets" / "splash_3-07_face_1.svg").write_text("marked by hand")
    (out / "dxf" / "splash_3-07_face_mm.dxf").write_text("drawn on")
    published = publish(out, JOB, NEW)
    assert published.yours == {
        "dxf/splash_3-07_face_mm.dxf": "dxf/splash_3-07_face_mm.yours.dxf",
        "holes.csv": "holes.yours.csv",
        "sheets/splash_3-07_face_1.svg": "sheets/splash_3-07_face_1.yours.svg",
    }
    kept = {
        "dxf/splash_3-07_face_mm.yours.dxf": b"drawn on",
        "holes.yours.csv": b"ticked",
        "sheets/splash_3-07_face_1.yours.svg": b"marked by hand",
    }
    assert contents(out) == {**NEW, **kept}
    again = publish(out, JOB, NEW)
    assert (again.yours, again.carried) == ({}, tuple(sorted(kept)))
    assert contents(out) == {**NEW, **kept}


def test_it_is_kept_under_a_number_where_the_name_is_taken(out: Path) -> None:
    for text in ("first", "second", "third"):
        publish(out, JOB, OLD)
        (out / "holes.csv").write_text(text)
    publish(out, JOB, NEW)
    kept = {"holes.yours.csv": b"first", "holes.yours-2.csv": b"second", "holes.yours-3.csv": b"third"}
    assert contents(out) == {**NEW, **kept}


def test_a_file_of_the_same_size_is_told_by_its_digest(out: Path) -> None:
    publish(out, JOB, OLD)
    swapped = bytes(reversed(OLD["holes.csv"]))
    (out / "holes.csv").write_bytes(swapped)
    assert publish(out, JOB, NEW).yours == {"holes.csv": "holes.yours.csv"}
    assert (out / "holes.yours.csv").read_bytes() == swapped


def test_what_was_not_changed_is_simply_replaced(out: Path) -> None:
    """A file that was only touched, or copied back, is as we wrote it."""
    publish(out, JOB, OLD)
    os.utime(out / "holes.csv", (1, 1))
    assert publish(out, JOB, NEW) == Published((), {}, "", "")
    assert contents(out) == NEW


def test_a_changed_file_is_kept_by_the_run_that_finishes_a_removal(out: Path) -> None:
    publish(out, JOB, OLD)
    (out / "holes.csv").write_text("ticked")
    out.rename(out.with_name("quay.old"))
    publish(out.with_name("other"), JOB, NEW)
    out.with_name("other").rename(out)
    (out / ".cutmarks-unfinished").write_bytes(b"")
    assert publish(out, JOB, NEW).yours == {"holes.csv": "holes.yours.csv"}
    assert contents(out) == {**NEW, "holes.yours.csv": b"ticked"}
    assert os.listdir(out.parent) == ["quay"]


# Outputs that prove nothing.


def of_the_first_releases(files: dict[str, bytes]) -> dict[str, bytes]:
    """The files with a plan.json as the first releases wrote it: without digests, seal and job file."""
    plan = json.loads(files[PLAN_FILE])
    for key in ("digests", "seal", "job_file"):
        del plan[key]
    return {**files, PLAN_FILE: json.dumps(plan).encode()}


def put(out: Path, files: dict[str, bytes]) -> None:
    for name, data in files.items():
        (out / name).parent.mkdir(parents=True, exist_ok=True)
        (out / name).write_bytes(data)


def test_an_output_of_the_first_releases_is_kept_whole_once(out: Path) -> None:
    mine = with_own_files(out)
    put(out, of_the_first_releases(OLD))
    before = contents(out)
    published = publish(out, JOB, NEW)
    assert published.earlier == str(out.with_name("quay.earlier"))
    assert contents(out) == {**NEW, **mine}
    assert contents(out.with_name("quay.earlier")) == before
    assert publish(out, JOB, OLD).earlier == ""
    assert sorted(os.listdir(out.parent)) == ["quay", "quay.earlier"]


def test_it_takes_a_free_name(out: Path) -> None:
    out.with_name("quay.earlier").mkdir()
    put(out, of_the_first_releases(OLD))
    assert publish(out, JOB, NEW).earlier == str(out.with_name("quay.earlier-2"))


@pytest.mark.parametrize(
    ("was", "now"),
    [('"size": 18', '"size": 19'), ('"schema": 1', '"schema":  1'), ('"wall"', '"hall"'), ("}\n", "}\n\n")],
)
def test_a_plan_json_that_was_changed_proves_nothing(out: Path, was: str, now: str) -> None:
    """Whoever changed it may have put a file of the user's on its list, with the right digest."""
    publish(out, JOB, OLD)
    plan = (out / PLAN_FILE).read_text(encoding="utf-8")
    assert was in plan
    assert is_sealed(plan.encode())
    (out / PLAN_FILE).write_text(plan.replace(was, now), encoding="utf-8")
    before = contents(out)
    published = publish(out, JOB, NEW, replace=True)
    assert contents(Path(published.earlier)) == before
    assert contents(out) == NEW


# Whose it is.

BATH = Whose(JOB, "bath.yaml", ("wall", "floor"))


def stood(out: Path, whose: Whose) -> None:
    """An output of this job, sealed by hand."""
    plan = json.loads(output("aaaaaaaa", job=whose.job)[PLAN_FILE])
    plan["job_file"] = whose.job_file
    plan["surfaces"] = [{**plan["surfaces"][0], "name": name} for name in whose.surfaces]
    text = "{\n" + ",\n".join(f"{json.dumps(key)}: {json.dumps(value)}" for key, value in plan.items()) + "\n}\n"
    files = {name: data for name, data in output("aaaaaaaa").items() if name != PLAN_FILE}
    put(out, listed({**files, PLAN_FILE: text.encode()}))


REPLACE = "give this one a folder of its own, or say --replace to put it in the place of that one"


@pytest.mark.parametrize(
    ("earlier", "said"),
    [
        (Whose(JOB, "kitchen.yaml", ("wall",)), "from kitchen.yaml and not from bath.yaml"),
        (Whose(JOB, None, ("wall",)), "from no file and not from bath.yaml"),
        (Whose(JOB, "bath.yaml", ("hall", "stairs")), "with no surface of this one (hall, stairs)"),
    ],
)
def test_another_job_of_the_same_name_does_not_replace_an_output_unasked(out: Path, earlier: Whose, said: str) -> None:
    stood(out, earlier)
    before = contents(out)
    with pytest.raises(OutputError) as caught:
        publish(out, BATH, NEW)
    comma = "" if said.startswith("(") else ", "
    assert str(caught.value) == (
        f'{out}: this folder holds the output of another job that is called "{JOB}" too{comma}{said}: {REPLACE}'
    )
    assert contents(out) == before
    assert publish(out, BATH, NEW, replace=True).earlier == ""
    assert contents(out) == NEW
    assert os.listdir(out.parent) == ["quay"]


@pytest.mark.parametrize(
    "earlier",
    [
        BATH,
        Whose(JOB, "Bath.YAML", ("floor",)),  # as a file system that folds case has it; a wall was added since
    ],
)
def test_the_same_job_is_known_again(out: Path, earlier: Whose) -> None:
    stood(out, earlier)
    publish(out, BATH, NEW)
    assert contents(out) == NEW


def test_an_output_that_does_not_say_its_file_is_known_by_the_jobs_name(out: Path) -> None:
    put(out, of_the_first_releases(OLD))
    assert publish(out, BATH, NEW).earlier
    assert contents(out) == NEW


def test_replace_is_for_outputs_alone(out: Path) -> None:
    put(out, {"photo.jpg": b"mine"})
    with pytest.raises(OutputError, match=r"this folder holds things that are not cutmarks' own \(photo.jpg\)"):
        publish(out, JOB, NEW, replace=True)
    assert contents(out) == {"photo.jpg": b"mine"}


def test_another_jobs_output_that_waits_as_old_is_not_taken(out: Path) -> None:
    """It may be a copy of the user's: only with --replace, and where a run was stopped, is it put back."""
    stood(out.with_name("quay.old"), Whose("Mill Lane", None, ("wall",)))
    assert "something of yours has it: move it, then run it again" in refused(out)
    with pytest.raises(OutputError, match="something of yours has it"):
        publish(out, JOB, NEW, replace=True)
    out.with_name("quay.new").mkdir()
    publish(out, JOB, NEW, replace=True)
    assert contents(out) == NEW
    assert os.listdir(out.parent) == ["quay"]
