"""Everything of one plan in its folder: made a file at a time, nothing held that is written already."""

from __future__ import annotations

import fnmatch
import gc
import os
import signal
import weakref
from collections.abc import Iterator
from pathlib import Path

import pypdf
import pytest

from cutmarks import load_job, make_plan, write_job
from cutmarks.errors import OutputError
from cutmarks.plan import Plan
from cutmarks.sheets import build
from cutmarks.sheets.model import PaperSheet, Sheets
from tests.bench.jobs import write_square_wall

HOLES = 12


@pytest.fixture(scope="module")
def wall(tmp_path_factory: pytest.TempPathFactory) -> Plan:
    """So many holes, each on a tile of its own."""
    return make_plan(load_job(write_square_wall(tmp_path_factory.mktemp("wall"), 10, HOLES)))


@pytest.fixture(scope="module")
def written(wall: Plan, tmp_path_factory: pytest.TempPathFactory) -> dict[str, bytes]:
    """The whole output, by file."""
    out = tmp_path_factory.mktemp("out") / "wall"
    files = write_job(wall, out).files
    return {name: (out / name).read_bytes() for name in files}


def test_a_sheet_is_forgotten_before_the_next_is_drawn(
    wall: Plan, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    class Watched(PaperSheet, frozen=True, weakref=True):
        """A sheet that can be watched: a plain one cannot."""

    alive: list[weakref.ref[PaperSheet]] = []
    at_once: list[int] = []

    def watched(*given: object) -> PaperSheet:
        gc.collect()
        at_once.append(sum(one() is not None for one in alive))
        sheet = Watched(*given)  # type: ignore[arg-type]
        alive.append(weakref.ref(sheet))
        return sheet

    monkeypatch.setattr(build, "PaperSheet", watched)
    write_job(wall, tmp_path / "out")
    # One template for each hole; while one is drawn the last one may still be in the hands of the writer.
    assert len(at_once) == HOLES
    assert max(at_once) <= 1


def test_sheets_are_known_by_their_files_and_drawn_when_asked_for() -> None:
    drawn: list[str] = []

    def draw() -> Iterator[PaperSheet]:
        for name in "abc":
            drawn.append(name)
            yield PaperSheet(name, name, 210.0, 297.0, ())

    sheets = Sheets("abc", draw)
    assert (len(sheets), sheets.files, drawn) == (3, ("a", "b", "c"), [])
    assert sheets[1].file == "b"
    assert drawn == ["a", "b"]
    assert [sheet.file for sheet in sheets[1:]] == ["b", "c"]
    assert sheets[-1].file == "c"
    with pytest.raises(IndexError):
        sheets[3]


def test_again_has_the_sheets_that_were_named_and_no_others(wall: Plan, tmp_path: Path) -> None:
    whole = build.build_pack(wall)
    named = [one.registration.piece for one in whole.listed][3:5]
    write_job(wall, tmp_path / "out", again=named[::-1])
    again, pack = (
        [page.extract_text() for page in pypdf.PdfReader(tmp_path / "out" / name).pages]
        for name in ("again.pdf", "pack.pdf")
    )
    # The fourth and the fifth template, behind the pages of the front sheet.
    assert again == pack[len(whole.front) + 3 : len(whole.front) + 5]


@pytest.mark.skipif(not hasattr(os, "fork"), reason="this system cannot fork")
@pytest.mark.parametrize("pattern", ["pack.pdf", "job-sheet.pdf", "plan.json", "sheets/*__field_1-01_face_1_*.svg"])
def test_a_disk_that_is_full_in_the_middle_of_a_file_is_said(
    wall: Plan, written: dict[str, bytes], tmp_path: Path, pattern: str
) -> None:
    """The operating system itself ends the writing of every file that is as long as this one."""
    resource = pytest.importorskip("resource")
    (name,) = fnmatch.filter(written, pattern)
    process = os.fork()
    if process == 0:
        code = 1
        try:
            signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
            limit = len(written[name]) - 1
            resource.setrlimit(resource.RLIMIT_FSIZE, (limit, limit))
            write_job(wall, tmp_path / "out")
        except OutputError as error:
            code = (
                0
                if str(error).endswith("file too large: nothing was written: try again, or give another folder")
                else 2
            )
        finally:
            os._exit(code)
    assert os.waitstatus_to_exitcode(os.waitpid(process, 0)[1]) == 0
    assert list(tmp_path.iterdir()) == []
