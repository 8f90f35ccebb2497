"""cutmarks order and cutmarks buy: what the set-out page has, in words, and nothing written."""

from __future__ import annotations

import pytest

from tests.gauging.walls import TERN_ROW


@pytest.fixture
def job(tmp_path):
    path = tmp_path / "tern-row.yaml"
    path.write_text(TERN_ROW, encoding="utf-8")
    return path


def words(text: str) -> str:
    return " ".join(text.split())


def test_order_prints_the_steps_numbered(run, job):
    result = run("order", str(job))
    assert result.exit_code == 0
    titles = [line for line in result.stdout.splitlines() if line[:1].isdigit()]
    assert [title[4:].split(",")[0] for title in titles] == [
        *("BEFORE ANYTHING", "BATTEN", "GAUGE ROD", "START TILE", "MEASURE ACROSS", "CUTS", "DAY TWO"),
        *("GROUT", "WHY THIS START"),
    ]
    assert [title[:1] for title in titles] == [*"123456789"]
    # As a terminal shows halves.
    assert "both ways from V: 198.5 | 201.5, 598.5 | 601.5, 998.5 | 1001.5" in words(result.stdout)
    assert "919 = 3 x 250 + joint 3 + cut up to 161 + gap 5" in words(result.stdout)


def test_buy_prints_the_sum_and_the_formulas(run, job):
    result = run("buy", str(job))
    assert result.exit_code == 0
    out = words(result.stdout)
    assert "13 whole + 38 cut - 3 from offcuts = 48" in out
    assert "51 tiles = 6 boxes of 10" in out
    assert "4.1 m2 x bed 3 = 12.2 litres" in out
    assert "silicone: 12.7 m of 3, 1.0 m of 5" in out


@pytest.mark.parametrize("command", ["order", "buy"])
def test_a_job_without_a_start_is_asked_for_one(run, job, command):
    job.write_text(TERN_ROW.replace("start: {across: middle on V, up: sits on B}", "start: ?"), encoding="utf-8")
    result = run(command, str(job))
    assert result.exit_code == 2
    assert "no start: write start:" in words(result.stderr)
    assert not list(job.parent.glob("*.pdf"))


@pytest.mark.parametrize("command", ["order", "buy"])
def test_a_job_without_tiles_has_nothing_to_set_out(run, repository, command):
    result = run(command, str(repository / "examples" / "treatment-room" / "treatment-room.yaml"))
    assert result.exit_code == 2
    assert result.stderr == "No surface has its tiles yet: write tiles: and areas:, and where they start.\n"


def test_in_an_american_job_it_is_a_ledger_and_a_story_pole(run, job):
    job.write_text(TERN_ROW.replace("job: Tern Row 4, utility", "job: Tern Row 4\nsay: us"), encoding="utf-8")
    out = run("order", str(job)).stdout
    assert "LEDGER" in out
    assert "STORY POLE" in out
    assert "batten" not in out.casefold()


def test_the_tools_beside_the_job_say_what_the_saw_takes(run, job):
    (job.parent / "tools.yaml").write_text("discs: [115 x 1.2, 230 x 1.6]\n", encoding="utf-8")
    assert "by a saw that takes 1.5 (the disc of 230 in your tools)" in words(run("buy", str(job)).stdout)


def test_what_is_in_hand_is_held_against_it(run, job):
    job.write_text(TERN_ROW.replace("box: 10", "box: 10, have: 4 boxes"), encoding="utf-8")
    assert "40 in hand: NOT ENOUGH, 11 short, 2 more of a box's 10" in words(run("buy", str(job)).stdout)


SHORT = """\
job: Reed House, pump room
units: mm
tiles:
  pale: {size: 247 x 397, lay: long side up, thickness: 8, measured: yes, have: 23 tiles}
surfaces:
  - name: tap wall
    kind: wall
    lines: {V: "plumb, middle of the pump", B: "level, top of the batten"}
    edges:
      left: {at: 850 left of V, true: plumb, still to come: 0}
      right: {at: 910 right of V, true: plumb, still to come: 0}
      bottom: {at: 0 below B, true: level, what: bench, gap: 0}
      top: {at: 1200 above B, true: level, what: ceiling}
    areas:
      - {name: pale, tile: pale, joint: 3, from: B, start: {across: joint on V, up: sits on B}}
    holes:
      - {name: feed, what: 15 copper, across: 231 to 247 right of V, up: 300 to 316 above B, cover: 60, end: comes off}
"""
"""Three courses, 1754 wide between the gaps. From a joint on V 3 whole and a cut one on either side, 8 a course: 24,
which share no tile, and 2 spares, one for the hole's tiles and one for the cuts. Seven tiles and their joints are 1747:
begun 3½ from the left edge, 21 whole ones do, and a spare."""


@pytest.mark.parametrize(("have", "ends"), [(23, "needs 22: enough"), (20, "needs 22: 2 short")])
def test_where_those_in_hand_are_not_enough_it_says_which_start_needs_fewer(run, tmp_path, have, ends):
    job = tmp_path / "pump-room.yaml"
    job.write_text(SHORT.replace("have: 23", f"have: {have}"), encoding="utf-8")
    out = words(run("buy", str(job)).stdout)
    assert "18 whole + 6 cut = 24, spares 1 for 2 holed (one in 10) + 1 for 6 cut (one in 20): 26 tiles" in out
    assert f"{have} in hand: NOT ENOUGH, {26 - have} short" in out
    assert out.endswith(ends)
    assert "pale: start 1 of cutmarks setout, tap wall (" in out


def test_where_they_are_enough_no_other_start_is_looked_for(run, tmp_path):
    job = tmp_path / "pump-room.yaml"
    job.write_text(SHORT.replace("have: 23", "have: 26"), encoding="utf-8")
    out = words(run("buy", str(job)).stdout)
    assert "26 in hand: enough" in out
    assert "cutmarks setout" not in out


def test_setout_counts_whole_and_cut_as_buy_does(run, tmp_path):
    job = tmp_path / "pump-room.yaml"
    job.write_text(SHORT, encoding="utf-8")
    head, now = (line.split() for line in run("setout", str(job)).stdout.splitlines()[1:3])
    assert head[-2:] == ["whole", "cut"]
    assert (now[0], now[-2:]) == ("now", ["18", "6"])
