"""The figures without paper, on worked example W1 and on jobs with something to say."""

from __future__ import annotations

from tests.cli.conftest import W1


def rows(text, title):
    """The lines of one block of the output, each run of blanks as one."""
    lines = text.split(title)[1].split("\n\n")[0].splitlines()[1:]
    return [" ".join(line.split()) for line in lines]


def test_w1_on_the_tile_and_on_the_wall(run, w1):
    result = run("check", w1)
    assert result.exit_code == 0
    # Worked example W1, by hand: 74.5 and 112.5 to mark, 173.5 and 285.5 to check with; 69 and 84, 107 and 122.
    assert rows(result.stdout, "ON THE TILE")[1].endswith("hole 74.5* 173.5 112.5* 285.5 core 35 10 any way")
    left, below = rows(result.stdout, "ON THE WALL")
    assert left.endswith("from the tile on the left 69 and 84")
    assert below.endswith("from the course below 107 and 122")


def test_wall_figures_never_stand_in_the_list_of_tile_figures(run, w1):
    on_the_tile = run("check", w1).stdout.split("ON THE WALL")[0]
    for wall_figure in ("69", "84", "107", "122"):
        assert wall_figure not in on_the_tile.split()


def test_nothing_is_written(run, w1, tmp_path):
    before = sorted(tmp_path.rglob("*"))
    run("check", w1)
    assert sorted(tmp_path.rglob("*")) == before


def test_what_was_assumed_is_said(run, tmp_path):
    job = tmp_path / "job.yaml"
    job.write_text(W1.replace("measured: yes", "measured: no"), encoding="utf-8")
    assert "Assumed" in run("check", job).stdout


def test_a_stop_ends_with_1_until_it_is_accepted(run, tmp_path):
    # The centre 22 from the left edge of its tile (251): 273; a core of 43 leaves 22 - 21.5 = 0.5, and 0.5 is a STOP.
    text = W1.replace("318 to 333 right of V", "265.5 to 280.5 right of V").replace("cover: 65", "opening: 43")
    job = tmp_path / "job.yaml"
    job.write_text(text, encoding="utf-8")
    result = run("check", job)
    assert "BEFORE YOU CUT\n  STOP  " in result.stdout
    assert result.exit_code == 1


def test_a_job_without_a_start_is_told_what_each_would_leave(run, tmp_path):
    text = W1.replace(", start: {across: joint on V, up: sits on B}", "").replace(
        "    areas:",
        "    edges: {left: 700 left of V, right: 700 right of V, bottom: 0 below B, top: 1000 above B}\n"
        "    gaps: {left: 3, right: 3, bottom: 0, top: 3}\n    areas:",
    )
    job = tmp_path / "job.yaml"
    job.write_text(text, encoding="utf-8")
    result = run("check", job)
    # By hand: clear ground 697 either side. Joint on V: 1, 251, 501: the last piece is 697 - 501 = 196.
    # Middle on V: the middle tile ends at 124, then 126, 376, 626: the last piece is 697 - 626 = 71.
    # Up, on B: 0, 400, 800: the last is 997 - 800 = 197.
    assert "NO START YET" in result.stdout
    assert rows(result.stdout, "NO START YET")[1:3] == [
        "field joint on V 196 196",
        "field middle on V 71 71",
    ]
    assert "field sits on B 398 197" in rows(result.stdout, "NO START YET")
    assert result.exit_code == 0


def test_the_users_own_cores_are_found_in_the_configuration_folder(run, w1, tmp_path):
    folder = tmp_path / "config" / "cutmarks"
    folder.mkdir(parents=True)
    (folder / "tools.yaml").write_text("cores: [28]\n", encoding="utf-8")
    assert "core 28" in run("check", w1).stdout


def test_tools_beside_the_job_go_before_the_users_own(run, w1, tmp_path):
    folder = tmp_path / "config" / "cutmarks"
    folder.mkdir(parents=True)
    (folder / "tools.yaml").write_text("cores: [28]\n", encoding="utf-8")
    (tmp_path / "tools.yaml").write_text("cores: [32]\n", encoding="utf-8")
    assert "core 32" in run("check", w1).stdout
    (tmp_path / "mine.yaml").write_text("cores: [25]\n", encoding="utf-8")
    assert "core 25" in run("check", w1, "--tools", tmp_path / "mine.yaml").stdout


def test_faults_say_file_and_line(run, tmp_path):
    job = tmp_path / "laundry.yaml"
    job.write_text(W1.replace("318 to 333 right of V", "-12 right of V"), encoding="utf-8")
    result = run("check", job)
    assert result.exit_code == 2
    assert result.stdout == ""
    assert result.stderr.startswith('laundry.yaml line 10, hole "riser", across: ')
    assert 'write "12 left of V"' in result.stderr
