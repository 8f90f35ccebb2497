"""Nothing is written or removed through a link: not one that stands there, nor one that is put there in the middle."""

from __future__ import annotations

import os
import shutil
import stat
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from cutmarks.errors import OutputError
from cutmarks.writers import disk
from cutmarks.writers.disk import Folder, kind_of, open_parent
from tests.writers.folders import (
    JOB,
    NEW,
    OLD,
    OVER,
    child,
    contents,
    disturbed_at,
    needs_fork,
    publish,
    refused,
    with_own_files,
)

SENTENCE = (
    "{}: this is a link of your own, and the output has a folder of this name: move or remove the link, then run it "
    "again; what it leads to is not touched"
)


def share(place: Path) -> dict[str, bytes]:
    """A folder elsewhere, with files that have names of ours; what stands in it."""
    for name in OLD:
        (place / name).parent.mkdir(parents=True, exist_ok=True)
        (place / name).write_text("another job's")
        (place / Path(name).name).write_text("another job's")
    return contents(place)


def lead(link: Path, place: Path) -> None:
    """Put a link in a folder's place."""
    shutil.rmtree(link)
    link.symlink_to(place)


# Links that stand there.


@pytest.mark.parametrize("folder", ["dxf", "sheets"])
def test_a_link_in_place_of_a_folder_of_ours_is_refused(out: Path, tmp_path: Path, folder: str) -> None:
    """The new output needs sheets/ and no dxf/: the link is refused all the same."""
    publish(out, JOB, OLD)
    there = share(tmp_path / "share")
    lead(out / folder, tmp_path / "share" / folder)
    assert refused(out) == SENTENCE.format(out / folder)
    assert contents(tmp_path / "share") == there


def test_the_sentence_names_the_folder_as_it_was_given(
    out: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    publish(out, JOB, OLD)
    share(tmp_path / "share")
    lead(out / "dxf", tmp_path / "share")
    (tmp_path / "way").symlink_to(tmp_path)
    monkeypatch.chdir(tmp_path)
    for given in ("quay", "way/quay"):
        with pytest.raises(OutputError) as caught:
            publish(Path(given), JOB, NEW)
        assert str(caught.value) == SENTENCE.format(f"{given}/dxf")


def test_when_the_link_is_gone_the_output_is_made(out: Path, tmp_path: Path) -> None:
    publish(out, JOB, OLD)
    there = share(tmp_path / "share")
    lead(out / "dxf", tmp_path / "share" / "dxf")
    refused(out)
    (out / "dxf").unlink()
    publish(out, JOB, NEW)
    assert contents(out) == NEW
    assert contents(tmp_path / "share") == there


def test_a_link_in_place_of_what_was_left_by_a_stopped_run_is_left_alone(out: Path, tmp_path: Path) -> None:
    publish(out, JOB, OLD)
    there = share(tmp_path / "share")
    for ending in ("new", "old"):
        link = out.with_name(f"quay.{ending}")
        link.symlink_to(tmp_path / "share")
        assert refused(out).startswith(f"{link}: ")
        link.unlink()
    assert contents(tmp_path / "share") == there


def test_the_folder_round_the_output_may_be_reached_through_a_link(out: Path, tmp_path: Path) -> None:
    (tmp_path / "way").symlink_to(tmp_path)
    publish(tmp_path / "way" / "quay", JOB, OLD)
    publish(tmp_path / "way" / "quay", JOB, NEW)
    assert contents(out) == NEW


# Links that are put there in the middle.


@needs_fork
@pytest.mark.usefixtures("unsynced")
@pytest.mark.parametrize("where", ["quay/dxf", "quay.new/sheets", "quay.old/dxf", "quay.old", "quay.new"])
def test_a_link_put_in_a_folders_place_at_any_moment_leads_nothing_astray(tmp_path: Path, where: str) -> None:
    """Before every fifth call that touches the disk in turn, the folder is exchanged for a link to another job's files.

    A step of five is enough to come to every part of the run.
    """
    step, put = 0, 0
    while True:
        step += 5
        place = tmp_path / f"{step}"
        (place / "aside").mkdir(parents=True)
        there = share(place / "share")
        out, link = place / "quay", place / where
        mine = with_own_files(out)

        def exchange(link: Path = link, place: Path = place) -> None:
            if link.is_dir():
                link.rename(place / "aside" / "was")
                link.symlink_to(place / "share" / link.name if "/" in where else place / "share")

        ended = child(disturbed_at(step, exchange, lambda out=out: publish(out, JOB, NEW)))  # type: ignore[misc]
        assert contents(place / "share") == there, f"at step {step}"
        kept = {data for folder in (place / "aside", out, out.with_name("quay.old")) for data in all_below(folder)}
        assert set(mine.values()) - {b"empty folder"} <= kept, f"at step {step}"
        put += any((place / "aside").iterdir())
        if os.waitstatus_to_exitcode(ended) == OVER:
            break
    assert step > 80
    assert put > 0


def all_below(folder: Path) -> list[bytes]:
    """What every file below a folder holds; nothing where a link has its place."""
    return [*contents(folder).values()] if folder.is_dir() and not folder.is_symlink() else []


# Systems without handles on folders.


@pytest.fixture
def by_paths(monkeypatch: pytest.MonkeyPatch) -> None:
    """A system that can do nothing by a name in an open folder, as Windows."""
    monkeypatch.setattr(disk, "HANDLES", False)


@pytest.mark.usefixtures("by_paths")
def test_without_handles_an_output_is_replaced_just_so(out: Path) -> None:
    mine = with_own_files(out)
    (out / "holes.csv").write_text("ticked")
    published = publish(out, JOB, NEW)
    assert published.yours == {"holes.csv": "holes.yours.csv"}
    assert contents(out) == {**NEW, **mine, "holes.yours.csv": b"ticked"}
    assert os.listdir(out.parent) == ["quay"]


@pytest.mark.usefixtures("by_paths")
@pytest.mark.parametrize("folder", ["dxf", "sheets"])
def test_without_handles_a_link_is_refused_just_so(out: Path, tmp_path: Path, folder: str) -> None:
    publish(out, JOB, OLD)
    there = share(tmp_path / "share")
    lead(out / folder, tmp_path / "share" / folder)
    assert refused(out) == SENTENCE.format(out / folder)
    assert contents(tmp_path / "share") == there


STEPS: list[Callable[[Folder], object]] = [
    Folder.names,
    Folder.may_change,
    lambda folder: folder.kind("holes.csv"),
    lambda folder: folder.sub("inner"),
    lambda folder: folder.make("made"),
    lambda folder: folder.remove("holes.csv"),
    lambda folder: folder.remove_folder("inner"),
    lambda folder: folder.rename("holes.csv", folder, "other.csv"),
    lambda folder: folder.link("holes.csv", folder, "other.csv"),
    lambda folder: folder.make_link("holes.csv", "made"),
    lambda folder: folder.read_link("link"),
    lambda folder: folder.create("made").__enter__(),
    lambda folder: folder.open("holes.csv").__enter__(),
    lambda folder: folder.copy("holes.csv", folder, "other.csv"),
    lambda folder: folder.open_like(folder),
]


@pytest.mark.usefixtures("by_paths")
@pytest.mark.parametrize("step", STEPS)
@pytest.mark.parametrize("above", [False, True])
def test_without_handles_every_step_looks_again(tmp_path: Path, step: Callable[[Folder], object], above: bool) -> None:
    """The folder, or the one above it, was exchanged for a link, and then for another folder."""
    for place in ("quay/dxf", "share/dxf"):
        (tmp_path / place / "inner").mkdir(parents=True)
        (tmp_path / place / "holes.csv").write_text("another job's")
    there = contents(tmp_path / "share")
    folder = open_parent(tmp_path, tmp_path).sub("quay").sub("dxf")
    turned = tmp_path / "quay" if above else tmp_path / "quay" / "dxf"
    turned.rename(tmp_path / "was")
    turned.symlink_to(tmp_path / "share" if above else tmp_path / "share" / "dxf")
    with pytest.raises(OutputError, match=r"this is a link of your own"):
        step(folder)
    turned.unlink()
    shutil.copytree(tmp_path / "share" if above else tmp_path / "share" / "dxf", turned)
    with pytest.raises(OutputError, match=r"another folder was put in this one's place meanwhile: run it again"):
        step(folder)
    assert contents(tmp_path / "share") == there


# The tags are those of Microsoft's list of reparse tags: a mount point (junction), a symbolic link, a file that is
# kept in the cloud (no name surrogate: the folder is itself).
@pytest.mark.parametrize(
    ("tag", "kind"), [(0xA0000003, "link"), (0xA000000C, "link"), (0x9000001A, "folder"), (0, "folder")]
)
def test_a_junction_is_a_link(tag: int, kind: str) -> None:
    class Found:
        st_mode = stat.S_IFDIR | 0o755
        st_reparse_tag = tag

    found: Any = Found()
    assert kind_of(found) == kind


@pytest.mark.usefixtures("by_paths")
def test_a_junction_in_place_of_a_folder_of_ours_is_refused(out: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    publish(out, JOB, OLD)
    junction, real = os.lstat(out / "dxf"), disk.kind_of

    def seen(found: os.stat_result) -> disk.EntryKind:
        return "link" if os.path.samestat(found, junction) else real(found)

    monkeypatch.setattr(disk, "kind_of", seen)
    assert refused(out) == SENTENCE.format(out / "dxf")
