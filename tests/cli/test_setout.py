"""cutmarks setout: where to start, in the terminal, and written into the job."""

from __future__ import annotations

import pytest

from cutmarks import load_job
from cutmarks.plan.choices import choices_of
from cutmarks.saying.starts import start_said
from tests.plan.test_carrying import TWO_WALLS

WALL = """\
job: Reed House, pump room
units: mm
tiles:
  pale: {size: 247 x 397, lay: long side up, thickness: 8, measured: yes}   # the one in the van
surfaces:
  - name: tap wall
    kind: wall
    lines: {V: "plumb, middle of the pump", B: "level, top of the batten"}
    edges:
      left: {at: 1000 left of V, true: plumb, still to come: 0}
      right: {at: 1000 right of V, true: plumb, still to come: 0}
      bottom: {at: 0 below B, true: level, what: bench, gap: 0}
      top: {at: 1200 above B, true: level, what: ceiling}
    areas:
      - {name: pale, tile: pale, joint: 3, from: B}   # where to begin?
    holes:
      - {name: feed, what: 15 copper, across: 231 to 247 right of V, up: 300 to 316 above B, cover: 60, end: comes off}
"""


@pytest.fixture
def wall(tmp_path):
    job = tmp_path / "job.yaml"
    job.write_text(WALL, encoding="utf-8")
    return job


def table(text: str) -> list[str]:
    return [" ".join(line.split()) for line in text.split("\n")]


def test_the_best_few_are_told_with_what_each_leaves(run, wall):
    # 997 either side of V, pitch 250. Joint on V: 1.5 to 248.5, then 251.5, 501.5, 751.5: 245.5 of the last are left.
    # Middle on V: 126.5, 376.5, 626.5 and 876.5: 120.5. The hole is about 239, from 221.5 to 256.5 with a core of 35:
    # from a joint on V it lies over the joint from 248.5 to 251.5, and takes only 5 of the next tile.
    result = run("setout", wall)
    assert result.exit_code == 0
    lines = table(result.stdout)
    assert lines[0] == "tap wall: where to start, the best first"
    assert "joint on V, sits on B" not in lines[2]
    rows = {line.split(" sits on B ")[0][2:]: line for line in lines if " sits on B " in line}
    assert "middle on V," in rows
    assert "120½ 120½ whole" in rows["middle on V,"]
    assert wall.read_text("utf-8") == WALL
    assert "To take one: cutmarks setout job.yaml --take 1. Nothing is decided before that." in result.stdout


def test_what_is_taken_stands_in_the_job_as_a_tiler_writes_it(run, wall):
    first = next(line for line in table(run("setout", wall).stdout) if line.startswith("1 "))
    start = first.removeprefix("1 ").split(" sits on B")[0].rstrip(",")
    result = run("setout", wall, "--take", "1")
    assert result.exit_code == 0
    assert wall.read_text("utf-8") == WALL.replace(
        "from: B}   # where", f"from: B, start: {{across: {start}, up: sits on B}}}}   # where"
    )
    assert start in result.stdout
    made = run("make", wall, "--out", "out")
    assert made.exit_code in (0, 1)


def test_the_start_that_a_job_has_is_held_against_the_best(run, wall):
    wall.write_text(WALL.replace("from: B}", "from: B, start: {across: joint on V, up: sits on B}}"), encoding="utf-8")
    out = run("setout", wall).stdout
    # Across by hand as above; up 400, 800 and 1197, the ceiling less its gap: the third course is whole.
    assert "now joint on V, sits on B 245½ 245½ whole whole 1 just bites" in " ".join(out.split())
    # A tile's left edge 3 left of V: the last on the right is whole, 747 to 994, and stops 3 short of 997; all are cut
    # at the left alone. The hole, core 32 about 239, lies over the joint from 244 to 247 and takes 8 of the next tile:
    # a quarter of it, which is a fair share, and would be less a millimetre further right.
    assert "1 left on 3 left of V, sits on B 241 whole whole whole 1 on a joint" in " ".join(out.split())
    assert "Against what the job says 1 gains: 1 fewer hole that just bites the next tile, 3 fewer cuts;" in " ".join(
        out.split()
    )


def test_a_number_that_is_not_in_the_table_is_refused(run, wall):
    result = run("setout", wall, "--take", "40")
    assert result.exit_code == 2
    assert "--take 40: the table of tap wall ends at" in result.stderr
    assert wall.read_text("utf-8") == WALL


def test_an_unknown_surface_is_refused_with_those_that_there_are(run, wall):
    result = run("setout", wall, "--surface", "tub wall")
    assert result.exit_code == 2
    assert "There is no surface tub wall in job.yaml: it has tap wall." in result.stderr


def test_one_of_several_walls_has_to_be_named(run, wall):
    second = (
        WALL[WALL.index("  - name: tap wall") :]
        .replace("tap wall", "shelf wall")
        .replace("feed", "drain")
        .replace("name: pale", "name: far")
    )
    wall.write_text(WALL + second, encoding="utf-8")
    result = run("setout", wall, "--take", "1")
    assert result.exit_code == 2
    assert "say which with --surface NAME (with starts: tap wall, shelf wall)" in " ".join(result.stderr.split())
    assert run("setout", wall, "--surface", "shelf wall", "--take", "1").exit_code == 0
    assert wall.read_text("utf-8").startswith(WALL)


def test_make_without_a_start_names_the_first_two(run, wall):
    rows = [
        line for line in table(run("setout", wall).stdout) if line.startswith(("1 ", "2 ")) and " sits on B " in line
    ]
    starts = [row[2:].split(" sits on B")[0].rstrip(",") for row in rows]
    result = run("make", wall, "--out", "out")
    assert result.exit_code == 2
    first, second = (f"start: {{across: {start}, up: sits on B}}" for start in starts)
    assert f'area "pale": no start: write {first} or {second};' in result.stderr
    assert "`cutmarks setout` shows what each would leave, and --take writes it" in result.stderr


def test_a_turned_area_is_said_to_be_left_to_the_tiler(run, wall):
    wall.write_text(WALL.replace("joint: 3, from: B", "joint: 3, turn: 45"), encoding="utf-8")
    assert "tap wall: no start is looked for: area pale is turned" in run("setout", wall).stdout


def test_check_says_what_lies_at_the_edges_and_whether_another_start_is_better(run, wall):
    wall.write_text(WALL.replace("from: B}", "from: B, start: {across: middle on V, up: sits on B}}"), encoding="utf-8")
    out = " ".join(run("check", wall).stdout.split())
    # By hand: 126.5 + 3 x 250 = 876.5, 997 - 876.5 = 120.5; three courses of 400, 1197 - 1200 + 3 = 397: whole.
    assert "AT THE EDGES tap wall, pale: left 120½, right 120½, bottom whole, top whole" in out
    assert "another start is clearly better, as cutmarks setout shows" in out
    # Once it is taken there is none.
    assert run("setout", wall, "--take", "1").exit_code == 0
    assert "clearly better" not in run("check", wall).stdout


def test_a_wall_that_carries_on_keeps_its_across_when_a_start_is_taken(run, tmp_path):
    # The end wall's across follows from the sink wall; only its up is looked for, and written.
    text = TWO_WALLS.format(bond="stack", gap=3, carries="carries on from: sink wall, start: {up: sits on B}")
    path = tmp_path / "job.yaml"
    path.write_text(text, encoding="utf-8")
    result = run("setout", path, "--surface", "end wall", "--take", "1")
    assert result.exit_code == 0, result.stderr
    written = path.read_text(encoding="utf-8")
    assert "carries on from: sink wall" in written
    assert written.count("across:") == 1
    assert run("check", path).exit_code == 0


def test_a_start_is_taken_into_an_area_that_is_said_in_one_line(run, wall):
    line = "      - pale, pale, joint 3   # where to begin?\n"
    lines = [line if "name: pale, tile" in one else one for one in WALL.splitlines(keepends=True)]
    wall.write_text("".join(lines), encoding="utf-8")
    result = run("setout", wall, "--take", "1")
    assert result.exit_code == 0, result.output
    after = wall.read_text("utf-8").splitlines(keepends=True)
    changed = [(was, now) for was, now in zip(lines, after, strict=True) if was != now]
    assert [was for was, _ in changed] == [line]
    assert changed[0][1].startswith('      - {said: "pale, pale, joint 3", start: {across: ')
    assert changed[0][1].endswith("}   # where to begin?\n")


KITCHEN = """\
job: Kitchen
tiles:
  glaze: {size: 248 x 98, lay: long side across, run across: 5 in 1248, thickness: 8, material: glazed ceramic}
surfaces:
  - name: sink wall
    kind: wall
    lines: {V: "plumb, middle of the sink", B: "level, top of the packers"}
    edges:
      left: [1184 left of V at B, 1179 left of V at 566 above B]
      right: {at: 1527 right of V, what: tall cupboard, true: plumb}
      bottom: {at: 3 below B, what: worktop, true: level}
      top: {at: [566 above B at 1184 left of V, 562 above B at 1527 right of V], what: wall units, hidden by: strip 12}
    windows:
      - window, 385 left to 415 right of V, 214 to 900 above B
    areas:
      - splashback, glaze, joint 2, brick
    holes:
      - socket, double socket box, 133 x 72, left edge 742 left of V, bottom 118 above B, plate 146 x 86
      - hood, single box, 72 x 72, left edge 868 right of V, bottom 412 above B, plate 86 x 86
      - tap feed, 15 copper, centre 96 right of V, 61 above B, rose 50, comes off
"""


def test_a_start_on_a_whole_step_between_two_limits_is_offered(tmp_path):
    # The socket's cut-out ends at 742 - 133 - 2 = 607 left of V. Of a tile that starts at 80 + 750 left of V and ends
    # at 582 there are 25 left, which is over a quarter of 98, 24.5; with 82 it is 23, a thin bridge. At 80 exactly the
    # next figure changes, so that no interval has a whole step inside it.
    job = tmp_path / "kitchen.yaml"
    job.write_text(KITCHEN, encoding="utf-8")
    (found,) = choices_of(load_job(job))
    (start,) = found.offers[0].starts
    assert start_said(start) == "left on 80 left of V, sits on 62 above B"
    assert start.figures.landings["socket"].bridge == pytest.approx(25.0)
    assert found.offers[0].worth.thin == 0


def test_a_start_is_taken_and_its_page_drawn_in_one_go(run, wall):
    result = run("setout", wall, "--take", "1", "--page", "starts.svg")
    assert result.exit_code == 0
    assert "Drawn: starts.svg." in result.stdout
    assert (wall.parent / "starts.svg").read_text("utf-8").count("sits on B")
    assert "start: {across:" in wall.read_text("utf-8")


def test_nothing_is_taken_where_the_page_cannot_be_drawn(run, wall):
    result = run("setout", wall, "--take", "1", "--page", "starts.txt")
    assert result.exit_code == 2
    assert "--page starts.txt: give it a name that ends in .pdf, .svg or .png." in " ".join(result.stderr.split())
    assert wall.read_text("utf-8") == WALL
    assert not (wall.parent / "starts.txt").exists()
