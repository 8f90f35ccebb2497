"""The user's own fittings: read from a file, and found before the catalogue's."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from cutmarks.errors import JobError
from cutmarks.fittings import find, pipes_near, read_own
from cutmarks.job import load_job
from cutmarks.units import Unit

TAIL = '[[fitting]]\nname = "tall mixer tail"\nod_mm = 24.2\nsource = "measured, two of them"\n'
SHOE = '[[fitting]]\nname = "1 gang box"\nkind = "box"\nw_in = 2\nh_mm = 71\n'


def test_a_row_of_ones_own_goes_before_the_catalogue() -> None:
    own = read_own(TAIL + SHOE)
    tail = find("the tall mixer tail", "uk", Unit.MM, own)
    assert tail is not None
    assert (tail.od, tail.kind, tail.mark, tail.source) == (24.2, "pipe", "own", "measured, two of them")
    box = find("1 gang box", "uk", Unit.MM, own)
    assert box is not None
    assert (box.w, box.h) == (pytest.approx(50.8), 71.0)
    assert not box.measure_yours


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("[[fitting]]\nod_mm = 3\n", "fitting 1 has no name"),
        ('[[fitting]]\nname = "tail"\n', '"tail" has no size, or two'),
        ('[[fitting]]\nname = "tail"\nod_mm = 3\nw_mm = 3\nh_mm = 3\n', '"tail" has no size, or two'),
        ('[[fitting]]\nname = "tail"\nod = 3\n', '"od" is no key here: write name'),
        ('[[fitting]]\nname = "tail"\nkind = "hose"\nod_mm = 3\n', '"hose" is no kind'),
        ('[[fitting]]\nname = "tail"\nod_mm = -3\n', "over 0 and up to 1000 mm"),
        ('[[fitting]]\nname = "tail"\nod_mm = nan\n', '"tail", od_mm: NaN is no size: write one number, over 0 and up'),
        ('[[fitting]]\nname = "tail"\nod_in = inf\n', '"tail", od_in: Infinity is no size'),
        ('[[fitting]]\nname = "tail"\nod_mm = 1e400\n', '"tail", od_mm: 1E+400 is no size'),
        ('[[fitting]]\nname = "tail"\nod_mm = [3, 4]\n', "is no size: write one number"),
        ('[[fitting]]\nname = "tail"\nod_mm = true\n', "True is no size"),
        ('[[fitting]]\nname = "tail"\nw_mm = {a = 1}\nh_mm = 3\n', "is no size"),
        ('[[fitting]]\nname = "tail"\n' + "k" * 90 + " = 3\n", f'"{"k" * 60}..." is no key here'),
        ("pipes = 3\n", "each fitting begins with"),
        ("[[fitting]\n", "this is not TOML"),
    ],
)
def test_a_file_that_cannot_be_read_is_told_in_a_sentence(text: str, sentence: str) -> None:
    with pytest.raises(ValueError, match=re.escape(sentence)):
        read_own(text)


JOB = """\
job: own
tiles: {rib: {size: 297 x 197, measured: yes}}
surfaces:
  - name: wall
    kind: wall
    lines: {V: "plumb, middle", B: "level, top of the batten"}
    areas:
      - {name: field, tile: rib, joint: 3, start: {across: joint on V, up: sits on B}}
    holes:
      - {name: tail, what: tall mixer tail, across: centre 150 right of V, up: centre 100 above B}
"""


def test_a_job_finds_the_file_beside_it_and_its_fingerprint_holds_it(tmp_path: Path) -> None:
    (tmp_path / "job.yaml").write_text(JOB, encoding="utf-8")
    with pytest.raises(JobError, match='hole "tail": Its size is not known'):
        load_job(tmp_path / "job.yaml")
    (tmp_path / "fittings.toml").write_text(TAIL, encoding="utf-8")
    job = load_job(tmp_path / "job.yaml")
    fitting = job.surfaces[0].holes[0].fitting
    assert fitting is not None
    assert fitting.od == 24.2
    (tmp_path / "fittings.toml").write_text(TAIL.replace("24.2", "24.4"), encoding="utf-8")
    assert load_job(tmp_path / "job.yaml").read != job.read


def test_a_fault_in_the_file_names_it(tmp_path: Path) -> None:
    # What only follows, that the tail has no size and "24 tail" is not known, is kept back.
    sized = "      - {name: other, what: 24 tail, across: centre 450 right of V, up: centre 100 above B}\n"
    (tmp_path / "job.yaml").write_text(JOB + sized, encoding="utf-8")
    (tmp_path / "fittings.toml").write_text("[[fitting]]\n", encoding="utf-8")
    with pytest.raises(JobError) as refused:
        load_job(tmp_path / "job.yaml")
    assert [str(fault).startswith("fittings.toml") for fault in refused.value.faults] == [True]


def test_pipes_near_a_diameter_are_of_the_jobs_own_country() -> None:
    # EN 1057: 15; ASTM B88: 1/2 is 15.875.
    assert {one.od for one in pipes_near(15.0, "uk", 2.0)} == {15.0}
    assert {(one.family, one.label) for one in pipes_near(15.9, "us", 2.0)} >= {("copper", "1/2"), ("PEX", "1/2")}
    assert pipes_near(119.0, "uk", 2.0) == ()
