"""One file below an output: there whole or not at all, and nothing written through a link."""

from __future__ import annotations

import os
from collections.abc import Callable
from typing import Any

import pytest

from cutmarks.errors import OutputError
from cutmarks.writers.disk import read_whole, write_whole


def test_a_file_is_put_there_with_the_folders_on_its_way_and_read_back(tmp_path):
    write_whole(tmp_path, "rooms/101.json", b"one")
    write_whole(tmp_path, "rooms/101.json", b"two")
    assert read_whole(tmp_path, "rooms/101.json", 3) == b"two"
    assert read_whole(tmp_path, "rooms/101.json", 2) is None
    assert read_whole(tmp_path, "rooms/102.json", 3) is None
    assert [path.name for path in (tmp_path / "rooms").iterdir()] == ["101.json"]


def test_what_a_stopped_run_left_half_written_is_written_anew(tmp_path):
    (tmp_path / "101.json.part").write_bytes(b"ha")
    write_whole(tmp_path, "101.json", b"whole")
    assert {path.name: path.read_bytes() for path in tmp_path.iterdir()} == {"101.json": b"whole"}


@pytest.mark.parametrize("link", ["rooms", "rooms/101.json", "rooms/101.json.part"])
def test_nothing_is_written_through_a_link(tmp_path, link):
    out, elsewhere = tmp_path / "out", tmp_path / "elsewhere"
    elsewhere.mkdir()
    (out / link).parent.mkdir(parents=True)
    (out / link).symlink_to(elsewhere if link == "rooms" else elsewhere / "own.json")
    with pytest.raises(OutputError, match="this is a link of your own"):
        write_whole(out, "rooms/101.json", b"room")
    assert list(elsewhere.iterdir()) == []
    assert (out / link).is_symlink()


def test_it_is_on_the_disk_before_it_has_its_name(tmp_path, monkeypatch):
    done: list[str] = []

    def noted(name: str) -> Callable[..., Any]:
        does = getattr(os, name)

        def noting(*given: Any, **ways: Any) -> Any:
            done.append(name)
            return does(*given, **ways)

        return noting

    for name in ("fsync", "rename"):
        monkeypatch.setattr(os, name, noted(name))
    write_whole(tmp_path, "101.json", b"room")
    assert done == ["fsync", "rename", "fsync"]  # the file, its name, and the folder's list of names


def test_a_folder_in_its_place_is_said(tmp_path):
    (tmp_path / "101.json").mkdir()
    with pytest.raises(OutputError, match=r"101\.json cannot be written"):
        write_whole(tmp_path, "101.json", b"room")
