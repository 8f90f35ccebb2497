"""The output folder: whole or not at all, whatever stops a run, and nothing of the user's is ever lost."""

from __future__ import annotations

import errno
import os
import signal
import stat
import subprocess
import sys
from collections.abc import Callable, Iterator, Mapping
from contextlib import suppress
from pathlib import Path
from typing import Any

import pytest

from cutmarks.errors import OutputError
from cutmarks.plan import Plan
from cutmarks.writers import folder_swap
from cutmarks.writers.folder import Progress, Published, changed_pieces, earlier_plan
from cutmarks.writers.folder import publish as publish_contents
from cutmarks.writers.plan_json import PLAN_FILE, to_json
from tests.writers.plans import boxed, cut_piece, plain, plan_of, raking

JOB = "Quay Cottage"
needs_fork = pytest.mark.skipif(not hasattr(os, "fork"), reason="this system cannot fork")
not_root = pytest.mark.skipif(getattr(os, "geteuid", lambda: 1)() == 0, reason="root may write anywhere")


Content = bytes | Callable[[], bytes]
"""A file's bytes, or what makes them when its turn comes."""


def publish(out: Path, job: str, files: Mapping[str, Content], progress: Progress | None = None) -> Published:
    """Publish files by their names, each made when its turn comes."""
    contents = ((name, made if isinstance(made, bytes) else made()) for name, made in files.items())
    return publish_contents(out, job, [*files], contents, progress)


def output(version: str, *, job: str = JOB, names: tuple[str, ...] = ("holes.csv", "sheets/splash_3-07_face_1.svg")):
    """A small output: every file holds its version, plan.json the list of them."""
    files = {name: f"{version} {name}".encode() for name in names}
    plan = plan_of(cut_piece("splash 3-7", 248, 398, fingerprint=version), job=job)
    files[PLAN_FILE] = to_json(plan, [*files, PLAN_FILE])
    return files


OLD = output("aaaaaaaa", names=("holes.csv", "sheets/splash_3-07_face_1.svg", "dxf/splash_3-07_face_mm.dxf"))
NEW = output("bbbbbbbb")
"""The new output has one file and one folder fewer."""


def contents(folder: Path) -> dict[str, bytes]:
    """Every file below a folder; links and empty folders are said as such."""
    found: dict[str, bytes] = {}
    for path in sorted(folder.rglob("*")):
        name = path.relative_to(folder).as_posix()
        if path.is_symlink():
            found[name] = b"link to " + os.readlink(path).encode()
        elif path.is_file():
            found[name] = path.read_bytes()
        elif not any(path.iterdir()):
            found[name] = b"empty folder"
    return found


@pytest.fixture
def out(tmp_path: Path) -> Path:
    return tmp_path / "quay"


def refused(out: Path, files: Any = None, job: str = JOB) -> str:
    """The sentence with which an output is refused; nothing in or beside the folder has changed by it."""
    before = contents(out.parent) if out.parent.is_dir() else {}
    with pytest.raises(OutputError) as caught:
        publish(out, job, NEW if files is None else files)
    assert (contents(out.parent) if out.parent.is_dir() else {}) == before
    return str(caught.value)


# Where an output may go.


@pytest.mark.parametrize("exists", [False, True])
def test_a_new_or_an_empty_folder_is_filled(out: Path, exists: bool) -> None:
    if exists:
        out.mkdir()
    published = publish(out, JOB, NEW)
    assert contents(out) == NEW
    assert (published.carried, published.left) == ((), "")
    assert os.listdir(out.parent) == ["quay"]


def test_an_earlier_output_is_replaced_and_files_it_alone_had_are_gone(out: Path) -> None:
    publish(out, JOB, OLD)
    publish(out, JOB, NEW)
    assert contents(out) == NEW
    assert os.listdir(out.parent) == ["quay"]


def test_content_may_be_made_when_its_turn_comes(out: Path) -> None:
    told: list[tuple[str, int, int]] = []
    publish(out, JOB, {**NEW, "holes.csv": lambda: b"late"}, lambda *step: told.append(step))
    assert (out / "holes.csv").read_bytes() == b"late"
    assert told == [("holes.csv", 0, 3), ("sheets/splash_3-07_face_1.svg", 1, 3), ("plan.json", 2, 3)]


def test_a_folder_with_other_things_is_refused(out: Path) -> None:
    out.mkdir()
    for name in ("photo.jpg", "notes.txt", "offer.pdf", "z.txt"):
        (out / name).write_text("mine")
    assert refused(out) == (
        f"{out}: this folder holds things that are not cutmarks' own (notes.txt, offer.pdf, photo.jpg and 1 more): "
        "give a folder that is new, empty, or an earlier output of this job"
    )


def test_a_plan_json_of_another_program_makes_it_no_output(out: Path) -> None:
    out.mkdir()
    (out / PLAN_FILE).write_text('{"rooms": 3}')
    assert "plan.json: this is no plan that cutmarks wrote (schema: field required): give a folder" in refused(out)


def test_the_output_of_another_job_is_refused(out: Path) -> None:
    publish(out, "Mill Lane", output("aaaaaaaa", job="Mill Lane"))
    assert refused(out) == f'{out}: this folder holds the output of another job, "Mill Lane": give this one its own'


def test_a_file_a_link_and_a_missing_parent_are_refused(out: Path) -> None:
    out.write_text("mine")
    assert refused(out) == (
        f"{out}: this is a file: give a folder that is new, empty, or an earlier output of this job"
    )
    target = out.parent / "real"
    target.mkdir()
    link = out.parent / "link"
    link.symlink_to(target)
    assert refused(link) == f"{link}: this is a link to another place: give the folder itself, {target}"
    lost = out.parent / "no" / "where"
    assert refused(lost) == (
        f"{lost}: there is no folder {lost.parent} to put it in: make that first, or check the name"
    )
    with pytest.raises(OutputError, match="this is the root of the disk: give the output a folder of its own"):
        publish(Path(out.anchor), JOB, NEW)


def test_the_folder_that_one_stands_in_can_be_given_as_a_dot(out: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    out.mkdir()
    monkeypatch.chdir(out)
    publish(Path(), JOB, NEW)
    assert contents(out) == NEW


@pytest.mark.parametrize("name", ["../x.csv", "/x.csv", "Sheets/a.svg", "a//b", ".hidden", "a\\b", "ä.csv", "a/../b"])
def test_a_name_that_could_leave_the_folder_is_a_fault_of_ours(out: Path, name: str) -> None:
    with pytest.raises(ValueError, match="may not be a file of an output"):
        publish(out, JOB, output("aaaaaaaa", names=(name,)))
    assert not out.exists()


def test_the_list_in_plan_json_must_name_every_file(out: Path) -> None:
    with pytest.raises(ValueError, match="its list must name every file and no other"):
        publish(out, JOB, {**NEW, "extra.csv": b""})
    assert not out.exists()


@pytest.mark.parametrize(
    ("names", "said"),
    [
        (["holes.csv", "plan.json"], "'sheets/splash_3-07_face_1.svg' is not among the files that were said to come"),
        ([*NEW, "pieces.csv"], "its list must name every file and no other"),
        (["holes.csv"], "plan.json must be one of the files"),
    ],
)
@pytest.mark.parametrize("earlier", [False, True])
def test_what_comes_must_be_what_was_said_to_come(out: Path, names: list[str], said: str, earlier: bool) -> None:
    if earlier:
        publish(out, JOB, OLD)
    before = contents(out.parent)
    with pytest.raises(ValueError, match=said):
        publish_contents(out, JOB, names, iter(output("bbbbbbbb").items()))
    assert contents(out.parent) == before


def test_a_file_that_comes_twice_is_a_fault_of_ours(out: Path) -> None:
    twice = [*output("bbbbbbbb").items(), ("holes.csv", b"again")]
    with pytest.raises(ValueError, match="or comes twice"):
        publish_contents(out, JOB, [*NEW], twice)
    assert not out.exists()


def test_each_content_is_asked_for_when_the_last_is_on_the_disk(out: Path) -> None:
    seen: list[list[str]] = []

    def one_by_one() -> Iterator[tuple[str, bytes]]:
        for name, data in output("bbbbbbbb").items():
            seen.append(sorted(contents(out.with_name("quay.new"))))
            yield name, data

    publish_contents(out, JOB, [*NEW], one_by_one())
    marker = folder_swap.MARKER
    assert seen == [[marker], [marker, "holes.csv"], [marker, "holes.csv", "sheets/splash_3-07_face_1.svg"]]


def test_content_may_write_itself_into_the_open_file(out: Path) -> None:
    given = {**output("bbbbbbbb"), "holes.csv": lambda file: file.write(b"by itself")}
    publish_contents(out, JOB, [*NEW], given.items())
    assert (out / "holes.csv").read_bytes() == b"by itself"


# What is the user's own.


def with_own_files(out: Path) -> dict[str, bytes]:
    """An earlier output with the user's own files in it, and what these are."""
    publish(out, JOB, OLD)
    (out / "notes.txt").write_text("measured twice")
    (out / "sheets" / "marked.svg").write_text("by hand")
    (out / "photos" / "wall").mkdir(parents=True)
    (out / "photos" / "wall" / "1.jpg").write_bytes(b"\xff\xd8")
    (out / "photos" / "later").mkdir()
    (out / "latest").symlink_to("../elsewhere")
    mine = contents(out)
    for name in OLD:
        del mine[name]
    return mine


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

    def late(out: Path, new: Path, old: Path) -> bool:
        (out / "notes.txt").unlink()
        (out / "notes.txt").write_text("measured a third time")
        (out / "just now.txt").write_text("new")
        return real(out, new, old)

    monkeypatch.setattr(folder_swap, "swap", late)
    publish(out, JOB, NEW)
    assert (out / "just now.txt").read_text() == "new"
    assert {(out / "notes.txt").read_text(), (out / "notes.txt.kept").read_text()} == {
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
    assert refused(out) == f"{new}: the output is made under this name first, and something of yours has it: move it"
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
    assert refused(out).endswith(": no space left on device: nothing was written")


@needs_fork
def test_a_file_that_the_system_cuts_short_leaves_the_earlier_output(out: Path) -> None:
    """The operating system itself ends the writing of a file in the middle: no call is replaced."""
    resource = pytest.importorskip("resource")
    with_own_files(out)
    before = contents(out.parent)

    def limited() -> None:
        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
        resource.setrlimit(resource.RLIMIT_FSIZE, (1000, 1000))
        with pytest.raises(OutputError, match="file too large: nothing was written"):
            publish(out, JOB, {**NEW, "holes.csv": b"x" * 5000})

    assert os.waitstatus_to_exitcode(child(limited)) == 0
    assert contents(out.parent) == before


@pytest.mark.parametrize("which", ["quay", "quay.new"])
def test_a_rename_that_is_refused_leaves_the_earlier_output(
    out: Path, monkeypatch: pytest.MonkeyPatch, which: str
) -> None:
    with_own_files(out)
    failing(monkeypatch, Path, "rename", errno.EACCES, lambda source, _: source.name == which)
    assert refused(out) == f"{out.with_name(which)}: permission denied: nothing was written"


def test_a_removal_that_is_refused_is_told_and_finished_by_the_next_run(
    out: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    mine = with_own_files(out)
    with monkeypatch.context() as patch:
        failing(patch, Path, "unlink", errno.EACCES, lambda path, *_: path.parent.name == "dxf")
        published = publish(out, JOB, NEW)
    assert published.left == (
        f"{out.with_name('quay.old')}: the earlier output could not be wholly removed (permission denied): "
        "the next run tries again"
    )
    assert {name: data for name, data in contents(out).items() if name != folder_swap.MARKER} == {**NEW, **mine}
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
    assert refused(out, too_much) == (f"{out}: no space left on device: nothing was written")
    publish(out, JOB, NEW)
    assert contents(out) == {**NEW, **mine}


@pytest.mark.parametrize("code", [errno.EACCES, errno.EROFS])
def test_a_place_where_nothing_may_be_made_is_said(out: Path, monkeypatch: pytest.MonkeyPatch, code: int) -> None:
    publish(out, JOB, OLD)
    failing(monkeypatch, Path, "mkdir", code, lambda path, *_: path.name == "quay.new")
    said = os.strerror(code).lower()
    assert refused(out) == f"{out.with_name('quay.new')}: {said}: nothing was written"


@not_root
def test_a_folder_that_may_not_be_written_is_said(out: Path) -> None:
    out.parent.chmod(0o500)
    try:
        assert refused(out) == f"{out.with_name('quay.new')}: permission denied: nothing was written"
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
    assert contents(out) == {**NEW, "holes.csv": b"first"}
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


def child(run: Callable[[], object]) -> int:
    """Run something in a process of its own; returns how it ended, as os.waitpid says it."""
    return os.waitpid(start(run), 0)[1]


def start(run: Callable[[], object]) -> int:
    """Run something in a process of its own; returns its number."""
    process = os.fork()
    if process == 0:
        code = 1
        try:
            run()
            code = 0
        finally:
            os._exit(code)
    return process


def killed_at(step: int, within: Path, run: Callable[[], object]) -> Callable[[], None]:
    """`run`, killed just before its `step`-th call to the operating system that touches `within`."""

    def killed() -> None:
        left = step

        def watch(event: str, arguments: tuple[object, ...]) -> None:
            nonlocal left
            watched = event == "open" or event.startswith("os.")
            if watched and any(str(within) in str(argument) for argument in arguments[:2]):
                left -= 1
                if left == 0:
                    os.kill(os.getpid(), signal.SIGKILL)

        sys.addaudithook(watch)
        run()

    return killed


@pytest.fixture
def unsynced(monkeypatch: pytest.MonkeyPatch) -> None:
    """Spare the disk: what a killed process has written is there for the next one, synced or not."""
    monkeypatch.setattr(os, "fsync", lambda _: None)


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
        ended = child(killed_at(step, out.parent, lambda out=out: publish(out, JOB, NEW)))  # type: ignore[misc]
        state = stands(out, mine)
        seen.add(state)
        # The next run puts it right, and nothing is left beside the folder.
        publish(out, JOB, NEW)
        assert contents(out) == {**NEW, **mine}, f"after a kill at step {step}"
        assert os.listdir(out.parent) == ["quay"], f"after a kill at step {step}"
        if os.WIFEXITED(ended):
            assert os.waitstatus_to_exitcode(ended) == 0
            assert state == "new"
            break
    assert step > 50
    assert seen == {"old", "old waits", "new"}


def stands(out: Path, mine: dict[str, bytes]) -> str:
    """Which output is there whole, with all of the user's files."""
    folder = out if out.exists() else out.with_name("quay.old")
    found = contents(folder)
    found.pop(folder_swap.MARKER, None)
    if found == {**OLD, **mine}:
        return "old" if folder == out else "old waits"
    assert folder == out
    assert found == {**NEW, **mine}
    return "new"


@needs_fork
@pytest.mark.usefixtures("unsynced")
def test_a_first_run_that_is_killed_anywhere_leaves_nothing_or_all(tmp_path: Path) -> None:
    for step, out in enumerate(places(tmp_path), start=1):
        ended = child(killed_at(step, out.parent, lambda out=out: publish(out, JOB, NEW)))  # type: ignore[misc]
        if out.exists():
            assert {name: data for name, data in contents(out).items() if name != folder_swap.MARKER} == NEW
        publish(out, JOB, NEW)
        assert contents(out) == NEW
        assert os.listdir(out.parent) == ["quay"]
        if os.WIFEXITED(ended):
            assert os.waitstatus_to_exitcode(ended) == 0
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
        (new / folder_swap.MARKER).write_bytes(folder_swap.MARKER_TEXT)
        (new / "holes.csv").write_bytes(b"half")
        ended = child(killed_at(step, out.parent, lambda out=out: publish(out, JOB, NEW)))  # type: ignore[misc]
        stands(out, mine)
        publish(out, JOB, NEW)
        assert contents(out) == {**NEW, **mine}
        assert os.listdir(out.parent) == ["quay"]
        if os.WIFEXITED(ended):
            break
    assert step > 50


# What has changed since.


def plans() -> tuple[Plan, Plan]:
    kept, other = plain(), cut_piece("splash 3-9", 248, 398, fingerprint="11111111")
    moved = cut_piece("splash 3-9", 248, 398, fingerprint="22222222")
    return plan_of(kept, other, raking()), plan_of(kept, boxed(), moved)


def test_the_pieces_that_changed_are_those_cut_otherwise_now_cut_or_not_cut_any_more() -> None:
    then, now = plans()
    assert changed_pieces(to_json(then, []), now) == ("upper 5-2", "splash 3-9", "field 1-3")
    assert changed_pieces(to_json(now, []), now) == ()


def test_nothing_has_changed_since_no_output() -> None:
    assert changed_pieces(None, plans()[1]) == ()
    assert changed_pieces(b"{}", plans()[1]) == ()


def test_the_earlier_plan_is_none_where_there_is_no_output(out: Path) -> None:
    assert earlier_plan(out) is None
    out.mkdir()
    assert earlier_plan(out) is None
    publish(out, JOB, NEW)
    assert earlier_plan(out) == NEW[PLAN_FILE]
