"""The output is whole or not at all, whatever stops a run: failures, a full disk, two runs at once, kills."""

from __future__ import annotations

import errno
import os
import signal
import subprocess
import sys
from collections.abc import Callable, Iterator
from contextlib import suppress
from pathlib import Path
from typing import Any

import pytest

from cutmarks.errors import OutputError
from cutmarks.writers import folder_swap
from cutmarks.writers.folder_record import MARKER
from tests.writers.folders import (
    JOB,
    NEW,
    OLD,
    OVER,
    Content,
    child,
    contents,
    killed_at,
    listed,
    needs_fork,
    not_root,
    output,
    publish,
    refused,
    start,
    with_own_files,
)

# Runs that fail.


@pytest.mark.parametrize("error", [OutputError("x"), KeyboardInterrupt(), ZeroDivisionError()])
@pytest.mark.parametrize("earlier", [False, True])
def test_what_fails_in_the_middle_leaves_all_as_it_was(out: Path, error: BaseException, earlier: bool) -> None:
    if earlier:
        with_own_files(out)
    before = contents(out.parent)

    def fails() -> bytes:
        raise error

    with pytest.raises(type(error)):
        publish(out, JOB, {**NEW, "sheets/splash_3-07_face_1.svg": fails})
    assert contents(out.parent) == before


def failing(monkeypatch: pytest.MonkeyPatch, owner: Any, name: str, code: int, when: Callable[..., bool]) -> None:
    """Let the operating system refuse one call."""
    real = getattr(owner, name)

    def refuse(*arguments: Any, **keywords: Any) -> Any:
        if when(*arguments):
            raise OSError(code, os.strerror(code), str(arguments[0]))
        return real(*arguments, **keywords)

    monkeypatch.setattr(owner, name, refuse)


def test_a_full_disk_leaves_the_earlier_output(out: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with_own_files(out)
    failing(monkeypatch, os, "fsync", errno.ENOSPC, lambda handle: os.fstat(handle).st_size > 1000)
    assert refused(out, {**NEW, "holes.csv": b"x" * 2000}) == (
        f"{out / 'holes.csv'}: no space left on device: nothing was written: "
        "make room on the disk, or give a folder on another one"
    )


@needs_fork
def test_a_file_that_the_system_cuts_short_leaves_the_earlier_output(out: Path) -> None:
    """The operating system itself ends the writing of a file in the middle: no call is replaced."""
    resource = pytest.importorskip("resource")
    with_own_files(out)
    before = contents(out.parent)

    def limited() -> None:
        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
        resource.setrlimit(resource.RLIMIT_FSIZE, (1000, 1000))
        with pytest.raises(
            OutputError, match=r"file too large: nothing was written: try again, or give another folder"
        ):
            publish(out, JOB, {**NEW, "holes.csv": b"x" * 5000})

    assert os.waitstatus_to_exitcode(child(limited)) == 0
    assert contents(out.parent) == before


@pytest.mark.parametrize("which", ["quay", "quay.new"])
def test_a_rename_that_is_refused_leaves_the_earlier_output(
    out: Path, monkeypatch: pytest.MonkeyPatch, which: str
) -> None:
    with_own_files(out)
    failing(monkeypatch, os, "rename", errno.EACCES, lambda source, _: source == which)
    assert refused(out) == (
        f"{out.with_name(which)}: permission denied: nothing was written: "
        "see to it that you may read and write there, or give another folder"
    )


def test_a_removal_that_is_refused_is_told_and_finished_by_the_next_run(
    out: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    mine = with_own_files(out)
    with monkeypatch.context() as patch:
        failing(patch, os, "unlink", errno.EACCES, lambda name: name.endswith(".dxf"))
        published = publish(out, JOB, NEW)
    assert published.left == (
        f"{out.with_name('quay.old')}: the earlier output could not be wholly removed (permission denied): "
        "the next run tries again"
    )
    assert {name: data for name, data in contents(out).items() if name != MARKER} == {**NEW, **mine}
    publish(out, JOB, OLD)
    assert contents(out) == {**OLD, **mine}
    assert os.listdir(out.parent) == ["quay"]


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[Path]:
    """A disk of 64 kB, where the system lets one be mounted."""
    disk = tmp_path / "disk"
    disk.mkdir()
    if sys.platform != "linux":
        pytest.skip("this system has no disk in memory")
    mount = ["mount", "-t", "tmpfs", "-o", "size=64k", "tmpfs", str(disk)]
    if subprocess.run(mount, capture_output=True, check=False).returncode:
        pytest.skip("only root may mount a disk")
    yield disk
    subprocess.run(["umount", str(disk)], check=True)


def test_a_disk_that_is_really_full_leaves_the_earlier_output(small_disk: Path) -> None:
    out = small_disk / "quay"
    mine = with_own_files(out)
    too_much = {**NEW, "holes.csv": b"x" * 100_000}
    assert refused(out, too_much) == (
        f"{out / 'holes.csv'}: no space left on device: nothing was written: "
        "make room on the disk, or give a folder on another one"
    )
    publish(out, JOB, NEW)
    assert contents(out) == {**NEW, **mine}


@pytest.mark.parametrize(
    ("code", "said"),
    [
        (errno.EACCES, "permission denied: nothing was written: see to it that you may read and write there"),
        (errno.EROFS, "read-only file system: nothing was written: give a folder on a disk that can be written"),
    ],
)
def test_a_place_where_nothing_may_be_made_is_said(
    out: Path, monkeypatch: pytest.MonkeyPatch, code: int, said: str
) -> None:
    publish(out, JOB, OLD)
    failing(monkeypatch, os, "mkdir", code, lambda name: name == "quay.new")
    assert refused(out).startswith(f"{out.with_name('quay.new')}: {said}")


@not_root
def test_a_folder_that_may_not_be_written_is_said(out: Path) -> None:
    out.parent.chmod(0o500)
    try:
        assert refused(out).startswith(
            f"{out.with_name('quay.new')}: permission denied: nothing was written: see to it"
        )
    finally:
        out.parent.chmod(0o700)


# Two runs at once.


@needs_fork
@pytest.mark.parametrize("earlier", [False, True])
def test_a_second_run_at_the_same_time_is_refused(out: Path, earlier: bool) -> None:
    if earlier:
        publish(out, JOB, OLD)
    sentences: list[str] = []

    def meanwhile() -> bytes:
        def second() -> None:
            with pytest.raises(OutputError, match=r"another run is writing there: let it finish, then try again"):
                publish(out, JOB, OLD)

        assert os.waitstatus_to_exitcode(child(second)) == 0
        sentences.append("tried")
        return b"first"

    publish(out, JOB, {**NEW, "holes.csv": meanwhile})
    assert sentences == ["tried"]
    assert contents(out) == listed({**NEW, "holes.csv": b"first"})
    publish(out, JOB, OLD)
    assert contents(out) == OLD


@needs_fork
@pytest.mark.usefixtures("unsynced")
def test_of_many_runs_at_once_each_writes_all_or_is_refused(out: Path) -> None:
    versions = [output(f"{number:08d}") for number in range(1, 9)]

    def many_times(files: dict[str, Content]) -> None:
        for _ in range(10):
            with suppress(OutputError):
                publish(out, JOB, files)

    started = [start(lambda files=files: many_times(files)) for files in versions]  # type: ignore[misc]
    assert [os.waitstatus_to_exitcode(os.waitpid(process, 0)[1]) for process in started] == [0] * len(versions)
    assert contents(out) in versions
    assert os.listdir(out.parent) == ["quay"]


# Runs that are killed.


def places(tmp_path: Path) -> Iterator[Path]:
    """One folder after another, each for one kill."""
    for number in range(1, 1000):
        place = tmp_path / f"{number}"
        place.mkdir()
        yield place / "quay"
    raise AssertionError("a run has no end")


@needs_fork
@pytest.mark.usefixtures("unsynced")
@pytest.mark.parametrize("hard_links", [True, False])
def test_a_run_that_is_killed_anywhere_leaves_one_whole_output(
    tmp_path: Path, hard_links: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Before every single call that touches the disk in turn: old or new is whole, and the user's files are there."""
    if not hard_links:
        failing(monkeypatch, os, "link", errno.EPERM, lambda *_: True)
    seen = set()
    for step, out in enumerate(places(tmp_path), start=1):
        mine = with_own_files(out)
        ended = child(killed_at(step, lambda out=out: publish(out, JOB, NEW)))  # type: ignore[misc]
        state = stands(out, mine)
        seen.add(state)
        # The next run puts it right, and nothing is left beside the folder.
        publish(out, JOB, NEW)
        assert contents(out) == {**NEW, **mine}, f"after a kill at step {step}"
        assert os.listdir(out.parent) == ["quay"], f"after a kill at step {step}"
        if os.WIFEXITED(ended):
            assert os.waitstatus_to_exitcode(ended) == OVER
            assert state == "new"
            break
    assert step > 50
    assert seen == {"old", "old waits", "new"}


def stands(out: Path, mine: dict[str, bytes]) -> str:
    """Which output is there whole, with all of the user's files."""
    folder = out if out.exists() else out.with_name("quay.old")
    found = contents(folder)
    found.pop(MARKER, None)
    if found == {**OLD, **mine}:
        return "old" if folder == out else "old waits"
    assert folder == out
    assert found == {**NEW, **mine}
    return "new"


@needs_fork
@pytest.mark.usefixtures("unsynced")
def test_a_first_run_that_is_killed_anywhere_leaves_nothing_or_all(tmp_path: Path) -> None:
    for step, out in enumerate(places(tmp_path), start=1):
        ended = child(killed_at(step, lambda out=out: publish(out, JOB, NEW)))  # type: ignore[misc]
        if out.exists():
            assert {name: data for name, data in contents(out).items() if name != MARKER} == NEW
        publish(out, JOB, NEW)
        assert contents(out) == NEW
        assert os.listdir(out.parent) == ["quay"]
        if os.WIFEXITED(ended):
            assert os.waitstatus_to_exitcode(ended) == OVER
            break
    assert step > 10


@needs_fork
@pytest.mark.usefixtures("unsynced")
def test_a_run_that_puts_things_right_may_be_killed_too(tmp_path: Path) -> None:
    """A kill between the renames, and then one at every step of the run that should put it right."""
    for step, out in enumerate(places(tmp_path), start=1):
        mine = with_own_files(out)
        out.rename(out.with_name("quay.old"))
        new = out.with_name("quay.new")
        new.mkdir()
        (new / MARKER).write_bytes(folder_swap.MARKER_TEXT)
        (new / "holes.csv").write_bytes(b"half")
        ended = child(killed_at(step, lambda out=out: publish(out, JOB, NEW)))  # type: ignore[misc]
        stands(out, mine)
        publish(out, JOB, NEW)
        assert contents(out) == {**NEW, **mine}
        assert os.listdir(out.parent) == ["quay"]
        if os.WIFEXITED(ended):
            break
    assert step > 50
