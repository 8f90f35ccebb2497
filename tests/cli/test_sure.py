"""HOW SURE: on the terminal, on the job sheet and in plan.json."""

from __future__ import annotations

import json

import pypdfium2
import pytest

TWICE = """\
job: twice
tiles: {rib: {size: 248 x 398, measured: yes}}
surfaces:
  - name: wall
    kind: wall
    lines: {V: "plumb, middle of the sink", B: "level, top of the batten"}
    points: {N1: "300 left of V, 1700 above B", N2: "500 right of V, 1700 above B"}
    areas:
      - {name: field, tile: rib, joint: 2, from: B, start: {across: joint on V, up: sits on B}}
    holes:
      - name: drain
        what: 15 copper
        cover: 65
        readings:
          - 992.5 to 1007.5 from N1
          - 817.1 to 832.1 from N2
          - centre 904 above B, within 3
"""


@pytest.fixture
def twice(tmp_path):
    path = tmp_path / "twice.yaml"
    path.write_text(TWICE, encoding="utf-8")
    return path


def flat(text):
    return " ".join(text.split())


def test_a_hole_with_two_readings_has_its_sentence_alone(run, w1):
    said = flat(run("check", w1).stdout.split("HOW SURE")[1])
    # Worked example W1 under a 65 cover with a 35 core: 10 any way (handbook formula).
    often = "over 99.9 % sure that it goes over and stays covered"
    assert said.startswith(f"riser in field 3-R2: {often} (it may come ")
    assert "you have 10 any way" in said
    assert "adjusted together" not in said


def test_readings_to_spare_are_listed_with_what_they_are_off(run, twice):
    said = flat(run("check", twice).stdout.split("HOW SURE")[1])
    assert "drain: adjusted together, 1 reading more than needed" in said
    # From the tapes it is 900 up (3-4-5 and its neighbour); 904 was read from a ladder: it reads more.
    row = said.split("centre 904 above B, within 3 drain ")[1]
    assert float(row.split(" more")[0].replace("½", ".5")) > 1
    assert "good to " in said


def test_the_same_stands_on_the_job_sheet_and_in_the_file(run, twice, tmp_path):
    assert run("make", twice, "--out", tmp_path / "out").exit_code == 0
    document = pypdfium2.PdfDocument(tmp_path / "out" / "job-sheet.pdf")
    words = flat(" ".join(page.get_textpage().get_text_range() for page in document))
    assert "HOW SURE" in words
    assert "Every cut: over 99.9 % sure." in words
    assert "drain was read more often than needed: its place is good to" in words
    (sure,) = json.loads((tmp_path / "out" / "plan.json").read_text(encoding="utf-8"))["sure"]
    assert (sure["penetration"], sure["piece"]) == ("drain", "field 3-R2")
    assert 0.999 < sure["chance"] <= 1.0
    xx, xy, yy = sure["covariance"]
    assert xx * yy > xy * xy


def test_what_was_found_stands_on_the_job_sheet_and_in_the_file(run, w1, tmp_path):
    run("found", w1, "field 3-R2", "--from-left-tile", "70 to 85", "--cut", "--date", "2026-03-14")
    assert run("make", w1, "--out", tmp_path / "out").exit_code == 0
    (found,) = json.loads((tmp_path / "out" / "plan.json").read_text(encoding="utf-8"))["found"]
    assert found["read"] == [{"side": "left", "expected": [69.0, 84.0], "found": [70.0, 85.0]}]
    assert (found["moved"], found["cut"], found["date"]) == ([1.0, 0.0], True, "2026-03-14")
    document = pypdfium2.PdfDocument(tmp_path / "out" / "job-sheet.pdf")
    words = flat(" ".join(page.get_textpage().get_text_range() for page in document))
    assert "AS BUILT" in words
    assert "70 and 85 from the left" in words
    pack = pypdfium2.PdfDocument(tmp_path / "out" / "pack.pdf")
    sheet = flat(" ".join(page.get_textpage().get_text_range() for page in pack))
    assert "corrected 1 right: these are the figures to expect now" in sheet
