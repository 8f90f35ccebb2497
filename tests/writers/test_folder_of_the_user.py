"""Nothing of the user's is ever lost: their own files in the output folder, and folders of theirs beside it."""

from __future__ import annotations

import errno
import os
import stat
from pathlib import Path

import pytest

from cutmarks.errors import OutputError
from cutmarks.writers import folder_swap
from cutmarks.writers.disk import Folder
from cutmarks.writers.folder import earlier_plan
from cutmarks.writers.folder_swap import OutputPlace
from cutmarks.writers.plan_json import PLAN_FILE
from tests.writers.folders import (
    JOB,
    NEW,
    OLD,
    contents,
    output,
    publish,
    refused,
    with_own_files,
)

# What is the user's own.


def test_the_users_own_files_are_carried_over(out: Path) -> None:
    mine = with_own_files(out)
    (out / "photos").chmod(0o700)
    os.utime(out / "notes.txt", (1_000_000_000, 1_000_000_000))
    published = publish(out, JOB, NEW)
    assert contents(out) == {**NEW, **mine}
    assert published.carried == tuple(sorted(mine))
    assert stat.S_IMODE((out / "photos").stat().st_mode) == 0o700
    assert (out / "notes.txt").stat().st_mtime == 1_000_000_000
    assert os.listdir(out.parent) == ["quay"]


def test_they_are_copied_where_the_disk_has_no_hard_links(out: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    mine = with_own_files(out)

    def no_link(*_: object, **__: object) -> None:
        raise PermissionError(errno.EPERM, "Operation not permitted")

    monkeypatch.setattr(os, "link", no_link)
    publish(out, JOB, NEW)
    assert contents(out) == {**NEW, **mine}


def test_a_link_of_theirs_is_not_followed(out: Path, tmp_path: Path) -> None:
    outside = tmp_path / "outside"
    outside.mkdir()
    (outside / "keep.txt").write_text("mine")
    publish(out, JOB, OLD)
    (out / "link").symlink_to(outside)
    publish(out, JOB, NEW)
    assert (out / "link").is_symlink()
    assert contents(outside) == {"keep.txt": b"mine"}


def test_a_file_of_ours_that_they_replaced_by_a_link_is_theirs(out: Path, tmp_path: Path) -> None:
    precious = tmp_path / "precious.csv"
    precious.write_text("mine")
    publish(out, JOB, OLD)
    (out / "holes.csv").unlink()
    (out / "holes.csv").symlink_to(precious)
    assert refused(out) == (f"{out / 'holes.csv'}: the output needs this name, and something of yours has it: move it")
    assert precious.read_text() == "mine"


@pytest.mark.parametrize("mine", ["Sheets", "pieces.csv", "PIECES.CSV"])
def test_a_name_that_the_output_needs_and_they_have_is_refused(out: Path, mine: str) -> None:
    publish(out, JOB, output("aaaaaaaa", names=("holes.csv",)))
    (out / mine).write_text("mine")
    sentence = refused(out, output("bbbbbbbb", names=("pieces.csv", "sheets/a.svg")))
    assert sentence == f"{out / mine}: the output needs this name, and something of yours has it: move it"


def test_a_folder_of_theirs_where_a_file_is_needed_is_refused(out: Path) -> None:
    publish(out, JOB, output("aaaaaaaa", names=("holes.csv",)))
    (out / "pieces.csv").mkdir()
    (out / "pieces.csv" / "a.txt").write_text("mine")
    sentence = refused(out, output("bbbbbbbb", names=("pieces.csv",)))
    assert sentence == f"{out / 'pieces.csv'}: the output needs this name, and a folder of yours has it: move it"


def test_an_empty_folder_of_theirs_with_our_folders_name_is_used(out: Path) -> None:
    publish(out, JOB, output("aaaaaaaa", names=("holes.csv",)))
    (out / "sheets").mkdir()
    publish(out, JOB, NEW)
    assert contents(out) == NEW


def test_a_list_that_names_files_outside_removes_none(out: Path, tmp_path: Path) -> None:
    precious = tmp_path / "precious.txt"
    precious.write_text("mine")
    publish(out, JOB, OLD)
    plan = (out / PLAN_FILE).read_text(encoding="utf-8")
    (out / PLAN_FILE).write_text(plan.replace('"holes.csv"', '"../precious.txt"'), encoding="utf-8")
    (out / "holes.csv").rename(out / "mine.csv")
    publish(out, JOB, NEW)
    assert precious.read_text() == "mine"
    assert (out / "mine.csv").read_bytes() == OLD["holes.csv"]


def test_what_they_change_while_the_folders_are_exchanged_is_kept(out: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with_own_files(out)
    real = folder_swap.swap

    def late(place: OutputPlace, earlier: Folder | None, new: Folder) -> None:
        (out / "notes.txt").unlink()
        (out / "notes.txt").write_text("measured a third time")
        (out / "just now.txt").write_text("new")
        real(place, earlier, new)

    monkeypatch.setattr(folder_swap, "swap", late)
    publish(out, JOB, NEW)
    assert (out / "just now.txt").read_text() == "new"
    assert {(out / "notes.txt").read_text(), (out / "notes.yours.txt").read_text()} == {
        "measured twice",
        "measured a third time",
    }
    assert os.listdir(out.parent) == ["quay"]


# What is beside it.


def test_a_new_or_old_folder_of_theirs_is_left_alone(out: Path) -> None:
    publish(out, JOB, OLD)
    new, old = out.with_name("quay.new"), out.with_name("quay.old")
    new.mkdir()
    (new / "kitchen.txt").write_text("mine")
    assert refused(out) == (
        f"{new}: the output is made under this name first, and something of yours has it: move it, then run it again"
    )
    (new / "kitchen.txt").unlink()
    old.mkdir()
    (old / "kitchen.txt").write_text("mine")
    (new / "kitchen.txt").write_text("mine")
    (new / "kitchen.txt").unlink()
    with pytest.raises(OutputError, match=r"an earlier output is moved to this name, and something of yours has it"):
        publish(out, JOB, NEW)
    assert contents(old) == {"kitchen.txt": b"mine"}
    assert contents(out) == OLD


def test_a_copy_of_an_output_that_they_keep_as_old_is_left_alone(out: Path) -> None:
    publish(out, JOB, OLD)
    old = out.with_name("quay.old")
    publish(old, JOB, OLD)
    assert "an earlier output is moved to this name, and something of yours has it: move it" in refused(out)


def test_an_old_folder_of_theirs_is_no_hindrance_to_a_first_output(out: Path) -> None:
    old = out.with_name("quay.old")
    old.mkdir()
    (old / "kitchen.txt").write_text("mine")
    publish(out, JOB, NEW)
    assert contents(out) == NEW
    assert contents(old) == {"kitchen.txt": b"mine"}


def test_an_output_that_waits_as_old_is_put_back_and_then_replaced(out: Path) -> None:
    mine = with_own_files(out)
    out.rename(out.with_name("quay.old"))
    assert earlier_plan(out) == OLD[PLAN_FILE]
    publish(out, JOB, NEW)
    assert contents(out) == {**NEW, **mine}
    assert os.listdir(out.parent) == ["quay"]


def test_it_is_put_back_even_where_the_new_output_fails(out: Path) -> None:
    publish(out, JOB, OLD)
    out.rename(out.with_name("quay.old"))

    def fails() -> bytes:
        raise OutputError("no ink")

    with pytest.raises(OutputError, match="no ink"):
        publish(out, JOB, {**NEW, "holes.csv": fails})
    assert contents(out) == OLD
    assert os.listdir(out.parent) == ["quay"]
