"""The file of what was found: the new one is there whole, or the old one, and no litter, whatever fails on the way."""

from __future__ import annotations

import errno
import fcntl
import os
import secrets
import signal
import stat
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from cutmarks.errors import OutputError
from cutmarks.writers import found_file
from cutmarks.writers.found_file import holds, one_at_a_time, put, standing
from tests.bench.found_pairs import run
from tests.writers.folders import needs_fork

OLD, NEW = b"found: []\n", b"found:\n  - piece: 'a 1'\n"
MOST = 1_000


@pytest.fixture
def kept(tmp_path: Path) -> Path:
    path = tmp_path / "laundry.found.yaml"
    path.write_bytes(OLD)
    return path


def names(folder: Path) -> list[str]:
    return sorted(one.name for one in folder.iterdir())


def test_the_new_text_takes_the_place_of_the_old(kept: Path) -> None:
    kept.chmod(0o640)
    assert put(kept, OLD, NEW) == ""
    assert kept.read_bytes() == NEW
    assert stat.S_IMODE(kept.stat().st_mode) == 0o640
    assert names(kept.parent) == [kept.name]
    assert holds(kept, NEW)
    assert not holds(kept, OLD)


def test_a_first_file_is_open_to_whom_new_files_are(tmp_path: Path) -> None:
    before = os.umask(0o027)
    try:
        put(tmp_path / "laundry.found.yaml", None, NEW)
    finally:
        os.umask(before)
    assert stat.S_IMODE((tmp_path / "laundry.found.yaml").stat().st_mode) == 0o640


CALLS = ("open", "fsync", "replace", "listdir", "stat", "lstat", "close", "fstat", "fchmod", "fchown")


def nth_fails(monkeypatch: pytest.MonkeyPatch, name: str, nth: int, failure: BaseException) -> Callable[[], int]:
    """Let one call to the operating system fail; how many there were is told."""
    real, count = getattr(os, name), 0

    def call(*arguments: Any, **keywords: Any) -> Any:
        nonlocal count
        count += 1
        if count == nth:
            raise failure
        return real(*arguments, **keywords)

    monkeypatch.setattr(os, name, call)
    return lambda: count


FAILURES = [OSError(code, os.strerror(code)) for code in (errno.ENOSPC, errno.EIO, errno.EACCES)]


@pytest.mark.parametrize("failure", [*FAILURES, KeyboardInterrupt()], ids=lambda one: repr(one)[:22])
@pytest.mark.parametrize("name", CALLS)
def test_whatever_call_fails_the_file_is_whole_and_what_is_said_is_so(
    kept: Path, monkeypatch: pytest.MonkeyPatch, name: str, failure: BaseException
) -> None:
    kept.chmod(0o640)
    for nth in range(1, 20):
        kept.write_bytes(OLD)
        said: str | None = None
        with monkeypatch.context() as patch:
            count = nth_fails(patch, name, nth, failure)
            try:
                put(kept, OLD, NEW)
            except OutputError as refused:
                said = str(refused)
            except KeyboardInterrupt:
                said = ""
        if said is None:
            assert kept.read_bytes() == NEW
        elif said:
            assert kept.read_bytes() == OLD
            assert said.startswith("laundry.found.yaml cannot be")
            assert "nothing was written" in said
        else:
            assert kept.read_bytes() in (OLD, NEW)
        assert len(names(kept.parent)) == 1
        if count() < nth:
            break
    else:
        pytest.fail("so many calls were never made")


class FullDisk:
    """A file on a disk that takes the first bytes and no more."""

    def __init__(self, file: Any) -> None:
        self.file = file

    def __enter__(self) -> FullDisk:
        return self

    def __exit__(self, *_: object) -> None:
        self.file.close()

    def write(self, content: bytes) -> None:
        self.file.write(content[:5])
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    def __getattr__(self, name: str) -> Any:
        return getattr(self.file, name)


def test_a_full_disk_leaves_nothing_behind(kept: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    real = open
    monkeypatch.setattr(
        found_file,
        "open",
        lambda path, how, **more: FullDisk(real(path, how, **more)) if "x" in how else real(path, how),
        raising=False,
    )
    with pytest.raises(OutputError) as refused:
        put(kept, OLD, NEW)
    assert str(refused.value) == (
        "laundry.found.yaml cannot be written (no space left on device): nothing was written. "
        "Look at the folder and the disk, then say it again."
    )
    assert kept.read_bytes() == OLD
    assert names(kept.parent) == [kept.name]


def test_a_disk_that_does_not_confirm_the_name_is_said(kept: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with monkeypatch.context() as patch:
        nth_fails(patch, "fsync", 2, OSError(errno.EIO, os.strerror(errno.EIO)))
        said = put(kept, OLD, NEW)
    assert said == (
        "The disk does not confirm it (input/output error): look at laundry.found.yaml before you switch off."
    )
    assert kept.read_bytes() == NEW


def test_the_name_it_is_written_under_is_taken_from_nobody(kept: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(secrets, "token_hex", lambda size: "somebody's")
    theirs = kept.parent / f"{found_file._stem(kept)}somebody's.new"
    theirs.write_bytes(b"theirs")
    with pytest.raises(OutputError, match="file exists"):
        put(kept, OLD, NEW)
    assert theirs.read_bytes() == b"theirs"
    assert kept.read_bytes() == OLD


@needs_fork
def test_what_a_killed_run_left_is_cleared_by_the_next(kept: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for _ in range(2):
        child = os.fork()
        if child == 0:
            monkeypatch.setattr(os, "replace", lambda *_: os.kill(os.getpid(), signal.SIGKILL))
            put(kept, OLD, NEW)
            os._exit(0)
        assert os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == -signal.SIGKILL
        # It does not grow: the second run cleared what the first had left.
        assert len(names(kept.parent)) == 2
        assert kept.read_bytes() == OLD
    put(kept, OLD, NEW)
    assert names(kept.parent) == [kept.name]


def test_only_what_is_surely_its_own_is_cleared(kept: Path) -> None:
    stem = found_file._stem(kept)
    others = [
        f"{stem}0123456789abcdef.new.txt",
        f"{stem}0123456789ABCDEF.new",
        ".cutmarks-found-00000000-0123456789abcdef.new",
        "laundry.found.yaml.new",
    ]
    for name in others:
        (kept.parent / name).write_bytes(b"")
    (kept.parent / f"{stem}0000000000000000.new").mkdir()
    (kept.parent / f"{stem}1111111111111111.new").symlink_to(kept)
    before = names(kept.parent)
    (kept.parent / f"{stem}0123456789abcdef.new").write_bytes(b"")
    put(kept, OLD, NEW)
    assert names(kept.parent) == before


def test_what_is_changed_meanwhile_stays(kept: Path) -> None:
    kept.write_bytes(OLD + b"# mine\n")
    with pytest.raises(OutputError, match=r"was changed by another program just now"):
        put(kept, OLD, NEW)
    assert kept.read_bytes() == OLD + b"# mine\n"
    assert names(kept.parent) == [kept.name]


def test_a_protected_file_is_not_replaced(kept: Path) -> None:
    kept.chmod(0o444)
    with pytest.raises(OutputError, match=r"is protected against writing: allow it, then say it again"):
        standing(kept, MOST)


def test_what_is_no_plain_file_is_not_read(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe")
    assert standing(tmp_path / "pipe", MOST) is None
    assert standing(tmp_path, MOST) is None
    assert standing(tmp_path / "nothing", MOST) is None
    (tmp_path / "link").symlink_to("nowhere")
    with pytest.raises(OutputError, match=r"link: this is a link to .*/nowhere, and cutmarks writes through no"):
        standing(tmp_path / "link", MOST)


# One at a time.


@pytest.fixture
def impatient(monkeypatch: pytest.MonkeyPatch) -> list[float]:
    """Waits that take no time, and how many there were."""
    waits: list[float] = []
    monkeypatch.setattr(time, "sleep", waits.append)
    return waits


def test_who_comes_second_waits_for_a_minute_and_is_then_told(kept: Path, impatient: list[float]) -> None:
    with (
        one_at_a_time(kept),
        pytest.raises(OutputError, match="another cutmarks found is at work on this job"),
        one_at_a_time(kept),
    ):
        pass
    assert sum(impatient) == pytest.approx(60.0)
    with one_at_a_time(kept):
        pass


@pytest.mark.parametrize("code", sorted(found_file.NO_LOCKS))
def test_a_file_system_without_locks_does_without(kept: Path, monkeypatch: pytest.MonkeyPatch, code: int) -> None:
    def no_locks(*_: object) -> None:
        raise OSError(code, os.strerror(code))

    monkeypatch.setattr(fcntl, "flock", no_locks)
    with one_at_a_time(kept):
        put(kept, OLD, NEW)
    assert kept.read_bytes() == NEW


def test_a_lock_that_fails_is_said(kept: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(*_: object) -> None:
        raise OSError(errno.EIO, os.strerror(errno.EIO))

    monkeypatch.setattr(fcntl, "flock", broken)
    with (
        pytest.raises(OutputError, match=r"cannot be locked \(input/output error\): nothing was written"),
        one_at_a_time(kept),
    ):
        pass


@needs_fork
def test_of_pairs_at_once_nothing_is_lost(tmp_path: Path) -> None:
    assert run(tmp_path, pairs=5) == []


@needs_fork
def test_without_the_lock_the_pairs_would_tell(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The check can fail: two that are not kept apart meet, and one of them is refused."""
    monkeypatch.setattr(found_file, "_locked", lambda *_: True)
    real = found_file._write

    def both_write(*arguments: Any) -> None:
        real(*arguments)
        time.sleep(0.5)

    monkeypatch.setattr(found_file, "_write", both_write)
    assert run(tmp_path, pairs=1) != []
