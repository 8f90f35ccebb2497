"""cutmarks check --why: every limit and default with its source."""

from __future__ import annotations

from cutmarks.job.limits import rows


def test_every_limit_stands_there_with_its_figure_and_source(run, w1):
    shown = " ".join(run("check", w1, "--why").stdout.split())
    for key, limit in rows():
        assert limit.source, key
        assert f"{key} " in shown
        assert " ".join(limit.source.split()) in shown, key


def test_figures_are_those_of_the_trade(run, w1):
    # ANSI A108: 1/8 in round a pipe, taken as 3; wall tile 15 stops and 30 is worth a look; NEC 314.20: 1/4 in.
    shown = " ".join(run("check", w1, "--why").stdout.split())
    for said in ("round play 3 mm", "thin bridge 30 mm", "stop bridge 15 mm", "set back 6.35 mm", "offset part 33.3 %"):
        assert said in shown


def test_what_the_job_sets_is_said_to_be_set_in_the_job(run, w1):
    w1.write_text("limits: {thin bridge: 25}\n" + w1.read_text(encoding="utf-8"), encoding="utf-8")
    shown = " ".join(run("check", w1, "--why").stdout.split())
    assert "thin bridge 25 mm: bridge of a wall tile that is worth a look (set in the job)" in shown


def test_without_why_nothing_of_it_is_printed(run, w1):
    assert "LIMITS AND DEFAULTS" not in run("check", w1).stdout


def test_the_cores_stand_there_too(run, w1, tmp_path):
    assert "trade series, from memory" in " ".join(run("check", w1, "--why").stdout.split())
    (tmp_path / "tools.yaml").write_text("cores: [28, 35]\n", encoding="utf-8")
    assert "28, 35 mm: what a hole is drilled with (your own, in tools.yaml)" in run("check", w1, "--why").stdout
