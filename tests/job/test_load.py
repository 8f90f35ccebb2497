"""A job from its file, with the tools beside it, or from a program; and the files that cannot be read."""

from __future__ import annotations

import tracemalloc
from pathlib import Path

import pytest

from cutmarks.errors import JobError
from cutmarks.job import build_job, load_job
from cutmarks.job.reading import MOST_BYTES
from tests.job.jobs import WALL, changed, job


def test_later_stages_find_the_line_of_anything():
    read = job(WALL)
    hole = read.surfaces[0].holes[0]
    assert str(read.fault((*hole.where, "up"), 'hole "hot"', "Too high.")) == 'job.yaml line 19, hole "hot": Too high.'
    assert str(read.fault((*hole.where, "play"), 'hole "hot"', "Odd.")) == 'job.yaml line 16, hole "hot": Odd.'


def test_a_job_is_frozen():
    hole = job(WALL).surfaces[0].holes[0]
    with pytest.raises(AttributeError, match="immutable"):
        hole.name = "cold"  # type: ignore[misc]


def test_a_program_builds_a_job_from_its_own_values():
    built = build_job(
        {
            "job": "One",
            "tiles": {"rib": {"size": "297 x 97", "measured": True}},
            "surfaces": [
                {
                    "name": "wall",
                    "kind": "wall",
                    "lines": {"V": "plumb", "B": "level"},
                    "areas": [{"name": "a", "tile": "rib", "joint": 3, "start": "joint on V, sits on B"}],
                    "holes": [{"name": "h", "what": "15 copper", "across": "on V", "up": "centre 50.5 above B"}],
                }
            ],
        }
    )
    assert built.surfaces[0].holes[0].up is not None
    assert built.surfaces[0].holes[0].up.low == 50.5
    assert str(built.fault(("surfaces", 0), "wall", "Odd.")) == "wall: Odd."
    with pytest.raises(JobError) as refused:
        build_job({"job": "One", "tiles": {"rib": {"size": 3}}, "surfaces": []})
    assert [str(fault) for fault in refused.value.faults] == [
        'tile "rib", size: "3" is no size: write two with x between, as in 297 x 97.'
    ]


def test_a_file_that_cannot_be_read(tmp_path: Path):
    def told(path: Path) -> str:
        with pytest.raises(JobError) as refused:
            load_job(path)
        return str(refused.value)

    assert told(tmp_path / "no.yaml") == "no.yaml: This job file is not there: write the path of a file."
    assert told(tmp_path) == (
        f"{tmp_path.name}: This job file is a folder, and only a plain file is read: "
        "put one in its place, or give another name."
    )
    old = tmp_path / "old.yaml"
    old.write_bytes(b"job: a\nnote: 12\xbd wide\n")
    assert told(old) == "old.yaml line 2: This job file is not in UTF-8: save it again as UTF-8 text."


def test_a_huge_file_is_refused_before_it_is_read(tmp_path: Path):
    huge = tmp_path / "huge.yaml"
    with huge.open("wb") as file:
        file.truncate(100_000_000)
    tracemalloc.start()
    with pytest.raises(JobError) as refused:
        load_job(huge)
    _, peak = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert peak < 3 * MOST_BYTES  # of its hundred million bytes no more than that are ever held
    assert str(refused.value) == "huge.yaml: This job file is over 2 MB, the most that is read."
    assert MOST_BYTES == 2_000_000


def test_the_file_may_have_a_byte_order_mark_and_windows_line_ends(tmp_path: Path):
    path = tmp_path / "job.yaml"
    path.write_bytes(b"\xef\xbb\xbf" + WALL.replace("\n", "\r\n").encode())
    assert load_job(path).surfaces[0].holes[0].name == "hot"


@pytest.mark.parametrize(("before", "line"), [("", 1), ("\n", 2), ("\n\njob: Alder Row\n", 4)])
def test_a_control_character_is_told_by_its_line(before: str, line: int):
    with pytest.raises(JobError) as error:
        job(f"{before}note: \x07\n")
    (fault,) = error.value.faults
    assert fault.line == line
    assert "U+0007" in str(fault)


def test_the_tools_beside_the_job_are_found(tmp_path: Path):
    path = tmp_path / "job.yaml"
    path.write_text(WALL)
    assert len(load_job(path).tools.cores) == 0
    (tmp_path / "tools.yaml").write_text("cores: 20, 28, 35\ndiscs: [115, 1' 2\"]\nprinter: {paper: A4, margin: 4.2}\n")
    tools = load_job(path).tools
    # By hand: 1 ft 2 in is 14 x 25.4 = 355.6 mm.
    assert list(tools.cores) == [20, 28, 35]
    assert [disc.d for disc in tools.discs] == pytest.approx([115, 355.6])
    assert (tools.printer.paper, tools.printer.margin) == ("A4", 4.2)
    own = tmp_path / "mine.yaml"
    own.write_text("units: in\ncores: [1 3/8]\n")
    assert load_job(path, tools=own).tools.cores == pytest.approx((34.925,))


def test_the_printers_paper_is_taken_by_jobs_that_name_none(tmp_path: Path):
    path = tmp_path / "job.yaml"
    (tmp_path / "tools.yaml").write_text("printer: {paper: A3}\n")
    path.write_text(WALL)
    assert load_job(path).paper == "A3"
    path.write_text("paper: Letter\n" + WALL)
    assert load_job(path).paper == "Letter"
    path.write_text("say: us\n" + WALL)
    assert load_job(path).paper == "A3"


def test_faults_of_the_tools_stand_with_those_of_the_job(tmp_path: Path):
    path = tmp_path / "job.yaml"
    path.write_text(changed("joint: 3", "joint: x"))
    (tmp_path / "tools.yaml").write_text("cores: [20,28]\nsaws: 3\n")
    with pytest.raises(JobError) as refused:
        load_job(path)
    assert [str(fault) for fault in refused.value.faults] == [
        'job.yaml line 13, area "splash", joint: "x" is no length: write a number such as 642, 64.2 cm or 25 1/4 in.',
        "tools.yaml line 1: 20,28 is split by its comma: write 20.28 for a decimal, "
        "or 20, 28 with a blank for two values.",
        'tools.yaml line 2, saws: "saws" is no key here: write cores, discs, longest snap, narrowest snap, spacers, '
        "printer, units or note.",
    ]
