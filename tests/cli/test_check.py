"""The figures without paper, on worked example W1 and on jobs with something to say."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from tests.bench.check_startup import loaded_in_vain
from tests.cli.conftest import W1

EXAMPLES = Path(__file__).parents[2] / "examples"


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


def test_a_raking_edge_is_said_to_be_a_cut_edge(run, tmp_path):
    # Worked example W5, by hand: 59 from the left factory edge, 200 up; 56 from the raking cut edge at that height.
    job = tmp_path / "w5.yaml"
    job.write_text(
        """\
job: W5
tiles: {slab: {size: 448 x 448, measured: yes}}
surfaces:
  - name: wall
    kind: wall
    lines: {V: "plumb, door", B: "level, top of the batten"}
    edges: {right: [1020 right of V at B, 1011 right of V at 1800 above B]}
    gaps: {right: 3}
    areas:
      - {name: field, tile: slab, joint: 2, from: B, start: {across: joint on V, up: sits on B}}
    holes:
      - {name: feed, what: 15 copper, across: centre 960 right of V, up: centre 200 above B, cover: 65}
""",
        encoding="utf-8",
    )
    table = rows(run("check", job).stdout, "ON THE TILE")
    assert "hole 59* 389 200* 248 core 35 10 any way" in table[1]
    assert table[2].endswith("56 from the right edge, which is a cut edge")


def test_a_box_has_the_places_of_its_sides(run, tmp_path):
    # Worked example W2, by hand: 76 x 78, from 448.5 to 524.5 and from 95 to 173; an 86 plate laps 5 and 4 a side.
    job = tmp_path / "w2.yaml"
    job.write_text(
        """\
job: W2
tiles: {flat: {size: 597 x 297, measured: yes}}
surfaces:
  - name: wall
    kind: wall
    lines: {V: "plumb, middle", B: "level, top of the batten"}
    areas:
      - {name: field, tile: flat, joint: 3, bond: half, from: B, start: {across: middle on V, up: sits on B}}
    holes:
      - name: socket
        what: socket box
        corners: ["448 left of V, 1298 above B", "377 left of V, 1297 above B", "376 left of V, 1370 above B",
                  "447 left of V, 1371 above B"]
        cover: 86 x 86
""",
        encoding="utf-8",
    )
    table = rows(run("check", job).stdout, "ON THE TILE")
    assert " 76 x 78 " in table[1]
    assert table[2].endswith("cut-out from 448.5 to 524.5 from the left, from 95 to 173 from the bottom")


def test_wall_figures_never_stand_in_the_list_of_tile_figures(run, w1):
    on_the_tile = run("check", w1).stdout.split("ON THE WALL")[0]
    for wall_figure in ("69", "84", "107", "122"):
        assert wall_figure not in on_the_tile.split()


def test_of_an_area_that_is_open_to_a_side_no_number_of_pieces_is_said(run, w1):
    # W1's wall has no edges: tiles go on, and how many there are, or are trimmed, is nothing that 0 would say.
    head = run("check", w1).stdout.split("ON THE TILE")[0]
    assert "field: not counted, a side was not measured" in head
    assert "0 cut" not in head


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
    # Nothing to mark it by: 22 from the left and 112.5 up; what is read on the wall stands.
    assert rows(result.stdout, "ON THE TILE")[1] == "riser field 3-R2 hole STOP - - - - -"
    assert "22" not in result.stdout.split("ON THE WALL")[0].split("ON THE TILE")[1]
    offered = "{rule: hair bridge, about: riser, reason: ...}"
    assert f"To accept it, under accept: in the job: {offered}" in result.stdout
    job.write_text(f"{text}accept:\n  - {offered.replace('...', 'the plate hides it')}\n", encoding="utf-8")
    accepted = run("check", job)
    assert "Accepted: the plate hides it" in " ".join(accepted.stdout.split())
    assert "22*" in accepted.stdout
    assert accepted.exit_code == 0


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
    # A middle on V would leave 71: its tile ends at 124, then 126, 376, 626, and 697 - 626 = 71.
    # Up, on B: 0, 400, 800: the last is 997 - 800 = 197.
    # Three courses of six: cut are both end columns, 6, and the top course less its two ends, 4; 8 are whole.
    assert rows(result.stdout, "NO START YET")[:3] == [
        "wall",
        "start left right bottom top holes whole cut",
        "1 joint on V, sits on B 196 196 whole 197 1 in a tile 8 10",
    ]
    assert result.exit_code == 0
    # What was not looked at stands last, with why and what to write, in a few lines.
    lines = result.stdout.split("\nNOT LOOKED AT\n")[1].splitlines()
    assert len(lines) <= 6
    assert " ".join(" ".join(lines).split()) == (
        "wall, as it is not known which tile lies where: what is left of each tile beside its holes; whether a tile "
        "goes over its pipes, and in under a frame; the pieces at the edges, and spaces and joints between areas; "
        "tiles that could be taken for each other, and holes on none; covers over two thicknesses, or over a bevel; "
        "what was found at the wall. No start yet for field: write start: {across: joint on V, up: sits on B}, or one "
        "of those above."
    )


def test_a_surface_without_a_start_hides_nothing_that_is_wrong(run, tmp_path):
    text = W1.replace(", start: {across: joint on V, up: sits on B}", "")
    (first,) = [line for line in text.splitlines() if "name: hole" in line or "name: riser" in line][:1]
    job = tmp_path / "job.yaml"
    # The same hole again, 20 beside the first: a cover of 65 over each, 45 of it over the other.
    second = "      - {name: twin, what: 15 copper, across: level with NAME, up: level with NAME, cover: 65}"
    name = first.split("name: ")[1].split(",")[0]
    job.write_text(text.rstrip() + "\n" + second.replace("NAME", name) + "\n", encoding="utf-8")
    result = run("check", job)
    assert "their covers overlap by 65" in " ".join(result.stdout.split())
    assert result.exit_code == 1
    assert result.stdout.index("BEFORE YOU CUT") < result.stdout.index("NOT LOOKED AT")


def test_fittings_without_tiles_stand_in_two_tables(run):
    result = run("check", EXAMPLES / "treatment-room" / "treatment-room.yaml")
    # By hand: 900 - 27.5; 1300; 1000 - 62 + 100; 1400 - 100. 60 + bed 4 + tile 11. 150 - 85 - 30; 65 twice.
    assert "mixing valve on V, 100 above B 872.5 1300 1038 1300" in rows(result.stdout, "WITHOUT THE TILES")
    room = rows(result.stdout, ", ROOM.")
    assert "mixing valve PASS 170 75 60 to 90 shut-off 35 190 190" in room
    assert "shut-off STOP 60 mixing valve 35 140 130" in room
    assert "No tiles yet on basin wall" in result.stdout
    assert result.exit_code == 1


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


def test_no_file_library_and_no_referee_is_loaded(w1):
    assert loaded_in_vain(w1) == []


@pytest.mark.parametrize("name", ["laundry", "plant-cupboard", "potting-bench"])
def test_on_a_narrow_terminal_every_line_fits_and_no_figure_is_lost(run, monkeypatch, name):
    job = EXAMPLES / name / f"{name}.yaml"
    told = {}
    for width in ("60", "300"):
        monkeypatch.setenv("COLUMNS", width)
        told[width] = run("check", job, "--why").stdout
    assert max(map(len, told["60"].splitlines())) <= 60
    figures = [sorted(re.findall(r"[0-9][0-9/.*½]*", text)) for text in told.values()]
    assert figures[0] == figures[1]
