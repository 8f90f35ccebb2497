"""Odd places and odd things in them: each a sentence, before anything is written, and nothing hangs."""

from __future__ import annotations

import os
import stat
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from cutmarks.errors import OutputError
from cutmarks.writers import folder_record
from cutmarks.writers.folder import earlier_plan
from cutmarks.writers.plan_json import PLAN_FILE
from tests.bench.faults import as_everyone
from tests.writers.folders import JOB, NEW, OLD, child, contents, publish, refused, with_own_files

linux = pytest.mark.skipif(sys.platform != "linux", reason="capabilities and these devices are Linux's")


def as_everyone_refused(out: Path) -> str:
    """The sentence with which an output is refused to a user for whom modes hold, as they do not for root."""
    said = out.parent / "said"

    def tried() -> None:
        as_everyone()
        try:
            publish(out, JOB, NEW)
        except OutputError as error:
            said.write_text(str(error))

    assert os.waitstatus_to_exitcode(child(tried)) == 0
    sentence = said.read_text()
    said.unlink()
    return sentence


# Outputs that may not be changed.


@linux
@pytest.mark.parametrize("closed", [".", "sheets", "photos", "photos/wall"])
def test_a_read_only_part_of_an_earlier_output_is_said_before_anything_is_written(out: Path, closed: str) -> None:
    with_own_files(out)
    before = contents(out.parent)
    (out / closed).chmod(0o555)
    for _ in range(2):
        assert as_everyone_refused(out) == (
            f"{out / closed}: this folder is read-only, and the output is replaced as a whole: "
            "make it writable (chmod u+w), or give another folder. Nothing was written."
        )
    assert contents(out.parent) == before
    (out / closed).chmod(0o755)
    publish(out, JOB, NEW)
    assert os.listdir(out.parent) == ["quay"]


@linux
def test_a_file_of_ours_that_may_not_be_read_is_said(out: Path) -> None:
    publish(out, JOB, OLD)
    (out / "holes.csv").chmod(0)
    assert as_everyone_refused(out) == (
        f"{out / 'holes.csv'}: this file may not be read, so nothing tells whether it was changed since it was "
        "written: make it readable (chmod u+r), or move it. Nothing was written."
    )
    assert os.listdir(out.parent) == ["quay"]


@linux
def test_a_folder_round_it_that_may_not_be_written_is_said(out: Path) -> None:
    place = out.parent / "place"
    place.mkdir()
    place.chmod(0o555)
    said: list[str] = []

    def tried() -> None:
        as_everyone()
        said.append(refused(place / "quay"))
        assert said[0].startswith(f"{place / 'quay.new'}: permission denied: nothing was written: see to it that")

    assert os.waitstatus_to_exitcode(child(tried)) == 0
    assert contents(place) == {}


# A plan.json that is none.


def pipe(path: Path) -> None:
    os.mkfifo(path)


def endless(path: Path) -> None:
    path.symlink_to("/dev/zero")


def device(path: Path) -> None:
    try:
        os.mknod(path, stat.S_IFCHR | 0o600, os.makedev(1, 5))  # /dev/zero's own numbers (devices.txt of Linux)
    except PermissionError:
        pytest.skip("only root may make a device")


@linux
@pytest.mark.parametrize("make", [pipe, endless, device, Path.mkdir])
def test_a_plan_json_that_is_no_plain_file_is_said(out: Path, make: Callable[[Path], None]) -> None:
    out.mkdir()
    make(out / PLAN_FILE)
    assert earlier_plan(out) is None
    with pytest.raises(OutputError) as caught:
        publish(out, JOB, NEW)
    assert str(caught.value) == (
        f"{out / PLAN_FILE}: this is no plain file, and none that cutmarks wrote: "
        "give a folder that is new, empty, or an earlier output of this job"
    )
    assert os.listdir(out) == [PLAN_FILE]
    assert os.listdir(out.parent) == ["quay"]


def test_a_plan_json_that_is_far_too_large_is_not_read(out: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    publish(out, JOB, OLD)
    with (out / PLAN_FILE).open("r+b") as plan:
        plan.truncate(folder_record.MOST_BYTES + 1)
    assert earlier_plan(out) is None
    with pytest.raises(OutputError, match=r"plan.json: this is over 256 MB, too large: give a folder"):
        publish(out, JOB, NEW)
    assert (out / "holes.csv").read_bytes() == OLD["holes.csv"]


@linux
@pytest.mark.parametrize("ending", ["new", "old"])
@pytest.mark.parametrize("make", [pipe, endless, Path.touch])
def test_what_is_no_folder_beside_it_is_left_alone(out: Path, ending: str, make: Callable[[Path], None]) -> None:
    publish(out, JOB, OLD)
    beside = out.with_name(f"quay.{ending}")
    make(beside)
    with pytest.raises(OutputError) as caught:
        publish(out, JOB, NEW)
    assert str(caught.value).startswith(f"{beside}: ")
    assert str(caught.value).endswith("something of yours has it: move it, then run it again")
    assert sorted(os.listdir(out.parent)) == ["quay", f"quay.{ending}"]
    assert contents(out) == OLD


@linux
@pytest.mark.parametrize("make", [pipe, endless])
def test_an_odd_plan_json_in_what_waits_as_old_makes_it_the_users(out: Path, make: Callable[[Path], None]) -> None:
    old = out.with_name("quay.old")
    old.mkdir()
    make(old / PLAN_FILE)
    publish(out, JOB, NEW)
    assert contents(out) == NEW
    assert os.listdir(old) == [PLAN_FILE]


# Names and places.


@pytest.mark.parametrize("length", [255, 252, 248, 300])
def test_a_name_too_long_is_said(out: Path, length: int) -> None:
    """Most file systems take 255 bytes: what stands beside it needs some of them too."""
    long = out.parent / ("n" * length)
    assert refused(long) == (
        f"{long}: this name is too long, as the output is first made beside it under this name and .new: "
        "give a shorter one"
    )


def test_a_name_that_just_fits_is_taken(out: Path) -> None:
    fits = out.parent / ("n" * 240)
    publish(fits, JOB, OLD)
    publish(fits, JOB, NEW)
    assert contents(fits) == NEW


def test_a_parent_that_is_a_file_is_said(out: Path) -> None:
    out.write_text("mine")
    inner = out / "inner"
    assert refused(inner) == f"{inner}: {out} is a file and no folder to put it in: check the name"


def test_a_parent_that_leads_in_a_circle_is_said(out: Path) -> None:
    (out.parent / "a").symlink_to("b")
    (out.parent / "b").symlink_to("a")
    with pytest.raises(
        OutputError, match=r"nothing was written: give the folder itself and not a link that leads in a"
    ):
        publish(out.parent / "a" / "quay", JOB, NEW)
