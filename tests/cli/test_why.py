"""cutmarks check --why: every limit and default with its source."""

from __future__ import annotations

from pathlib import Path

from cutmarks.job.limits import NAMES, rows
from cutmarks.limits import HEADINGS

TEMPLATES = Path(__file__).parent.parent.parent / "templates"


def test_every_limit_stands_there_with_its_figure_and_source(run, w1):
    shown = " ".join(run("check", w1, "--why").stdout.split())
    for key, limit in rows():
        assert limit.source, key
        assert f"{key} " in shown
        assert " ".join(limit.source.replace(", no published source", "").split()) in shown, key


def test_figures_are_those_of_the_trade(run, w1):
    # 1/8 in round a pipe, taken as 3; wall tile 15 stops and 30 is worth a look; NEC 314.20: 1/4 in.
    shown = " ".join(run("check", w1, "--why").stdout.split())
    for said in ("round play 3 mm", "thin bridge 30 mm", "stop bridge 15 mm", "set back 6.35 mm", "offset part 33.3 %"):
        assert said in shown


def test_what_the_job_sets_is_said_to_be_set_in_the_job(run, w1):
    w1.write_text("limits: {thin bridge: 25}\n" + w1.read_text(encoding="utf-8"), encoding="utf-8")
    shown = " ".join(run("check", w1, "--why").stdout.split())
    what = "bridge of a wall tile under which it is worth a look; bridge part may be less"
    assert f"thin bridge 25 mm: {what} (set in the job)" in shown


def test_without_why_nothing_of_it_is_printed(run, w1):
    assert "LIMITS AND DEFAULTS" not in run("check", w1).stdout


def test_the_cores_stand_there_too(run, w1, tmp_path):
    assert "trade series, from memory" in " ".join(run("check", w1, "--why").stdout.split())
    (tmp_path / "tools.yaml").write_text("cores: [28, 35]\n", encoding="utf-8")
    assert "28, 35 mm: what a hole is drilled with (your own, in tools.yaml)" in run("check", w1, "--why").stdout


def test_every_figure_stands_under_a_heading(run, w1):
    fields = list(NAMES.values())
    assert [name for name in fields if name in HEADINGS] == list(HEADINGS)
    assert fields[0] in HEADINGS
    lines = run("check", w1, "--why").stdout.splitlines()
    for name, heading in HEADINGS.items():
        below = lines[lines.index(heading) + 1]
        assert below.split("  ")[1] == name.replace("_", " ")
        assert lines[lines.index(heading) - 1] == ""


def test_no_line_is_wider_than_a_terminal(run, w1):
    lines = run("check", w1, "--why").stdout.splitlines()
    assert max(map(len, lines[lines.index("GAPS AT EDGES") :])) <= 110


def test_a_job_in_inches_has_inches_as_they_are(run, tmp_path):
    # 25.4 / 8 is 1/8 in; 2 mm is 0.0787 in, 0.25 mm is 0.00984 in, 30 mm is 1.181 in. Parts and degrees stay.
    job = tmp_path / "inch.yaml"
    job.write_bytes((TEMPLATES / "inch.yaml").read_bytes())
    shown = " ".join(run("check", job, "--why").stdout.split())
    for said in ("derived inch 1/8 in:", "box play 0.079 in:", "printed line 0.010 in:", "thin bridge 1.181 in:"):
        assert said in shown
    assert "set back 1/4 in:" in shown
    assert "paper scale 0.5 %:" in shown
    assert "Lengths in brackets without a unit are mm." in shown


def test_what_a_printer_is_judged_by_is_told_as_fixed(run, w1):
    # The project's own figures: 0.1 % is fine, over 1.5 % a program did it, and half a year is old.
    shown = " ".join(
        run("check", w1, "--why").stdout.split("PRINTERS: what cutmarks printer goes by. Fixed")[1].split()
    )
    for said in ("true enough 0.1 %:", "printer's own 1.5 %:", "askew 0.5 degrees:", "measured anew 180 days:"):
        assert said in shown


def test_what_the_job_takes_for_granted_stands_there(run, w1, tmp_path):
    shown = " ".join(run("check", w1, "--why").stdout.split())
    for said in ("units mm:", "finest 1/2 mm:", "paper A4: of all sheets (taken where none is written)"):
        assert said in shown
    # Desktop printers leave 3 to 6 mm blank; 10 is kept.
    assert "printer margin 10 mm: what the printer leaves white (common practice" in shown
    (tmp_path / "tools.yaml").write_text("printer: {paper: A3, margin: 14}\n", encoding="utf-8")
    shown = " ".join(run("check", w1, "--why").stdout.split())
    assert "paper A3: of all sheets (your own, in tools.yaml)" in shown
    assert "printer margin 14 mm: what the printer leaves white (your own, in tools.yaml)" in shown
    w1.write_text("paper: A2\n" + w1.read_text(encoding="utf-8"), encoding="utf-8")
    assert "paper A2: of all sheets (set in the job)" in " ".join(run("check", w1, "--why").stdout.split())
