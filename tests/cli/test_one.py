"""One tile from its fixed neighbours: the figures of worked example W1, by hand, from all four sides."""

from __future__ import annotations

import pytest

TILE = ("one", "--tile", "248x398", "--joint", "2", "--what", "15 copper", "--cover", "65")
BELOW = ("--from-course-below", "107 to 122")
# W1: the centre of 69 to 84 is 76.5 from the fixed tile, less the joint of 2: 74.5; 107 to 122: 114.5 - 2 = 112.5.
# The best hole is (15 + 65 - 6) / 2 = 37; the core under it 35: (35 - 15) / 2 = 10 and (65 - 35) / 2 - 3 = 12.
SAID = (
    "from the LEFT edge 74.5, from the BOTTOM edge 112.5 (check: right 173.5, top 285.5). "
    "Core 35. You may be 10 any way: it still goes over and is covered.\n"
)


def test_the_first_example_word_for_word(run):
    result = run(*TILE, "--from-left-tile", "69 to 84", *BELOW)
    assert (result.exit_code, result.stdout, result.stderr) == (0, SAID, "")


@pytest.mark.parametrize("reading", ["69-84", "69 – 84", "6.9 cm to 8.4 cm", "69mm to 84mm", "centre 76.5"])
def test_a_reading_may_be_written_in_many_ways(run, reading):
    assert run(*TILE, "--from-left-tile", reading, *BELOW).stdout == SAID


def test_from_the_right_and_from_above_the_figures_are_the_other_edges(run):
    result = run(*TILE, "--from-right-tile", "69 to 84", "--from-course-above", "107 to 122")
    assert result.stdout.startswith(
        "from the RIGHT edge 74.5, from the TOP edge 112.5 (check: left 173.5, bottom 285.5). Core 35. "
    )


def test_a_core_that_the_tiler_owns_is_taken(run):
    # (28 - 15) / 2 = 6.5, by hand; the cover of 65 allows (65 - 28) / 2 - 3 = 15.5.
    result = run(*TILE, "--from-left-tile", "69 to 84", *BELOW, "--core", "28")
    assert "Core 28. You may be 6.5 any way" in result.stdout


def test_inches_come_back_as_they_are_written(run):
    # By hand: the middle of 6 1/16 and 6 11/16 is 6 3/8, less the joint of 3/16: 6 3/16. Up: 4 less 3/16: 3 13/16.
    # The tile is 11 13/16: 11 13/16 - 6 3/16 = 5 5/8 and 11 13/16 - 3 13/16 = 8.
    result = run(
        *("one", "--units", "in", "--tile", "11 13/16 x 11 13/16", "--joint", "3/16", "--what", "1/2 copper"),
        *("--cover", "2 1/2", "--from-left-tile", "6 1/16 to 6 11/16", "--from-course-below", "3 11/16 to 4 5/16"),
    )
    assert result.stdout.startswith(
        "from the LEFT edge 6 3/16, from the BOTTOM edge 3 13/16 (check: right 5 5/8, top 8)."
    )


def test_a_box_has_its_sides_said(run):
    # By hand: 92 - 20 = 72 wide, 2 of play a side: 76. Left side 20 - 2 - 3 = 15, right side 15 + 76 = 91.
    # Up: 60 to 132 is 72, so 60 - 2 - 3 = 55 to 131.
    result = run(
        *("one", "--tile", "597x297", "--joint", "3", "--what", "socket box", "--cover", "86x86"),
        *("--from-left-tile", "20 to 92", "--from-course-below", "60 to 132"),
    )
    assert "Cut-out 76 x 76: from 15 to 91 from the left, from 55 to 131 from the bottom." in result.stdout


def test_without_a_cover_nothing_is_said_to_be_covered(run):
    result = run(*TILE[:-2], "--from-left-tile", "69 to 84", *BELOW)
    assert "it still goes over. What covers it is not known: give --cover." in result.stdout


def test_a_hole_that_nothing_hides_has_to_go_over_only(run):
    # 15 + 2 x 3 of play is 21: the usual cores go 20, 22, so 22, and (22 - 15) / 2 = 3.5.
    result = run(*TILE[:-1], "none", "--from-left-tile", "69 to 84", *BELOW)
    assert result.stdout.endswith("Core 22. You may be 3.5 any way: it still goes over.\n")


def test_a_hole_that_misses_the_tile_says_so(run):
    result = run(*TILE, "--from-left-tile", "400 to 415", *BELOW)
    assert "None of it is on the tile between those neighbours: look at the readings again." in result.stdout


@pytest.mark.parametrize(
    ("arguments", "sentence"),
    [
        (BELOW, "Give one of --from-left-tile or --from-right-tile: there is none."),
        (
            ("--from-left-tile", "69 to 84", "--from-right-tile", "1 to 16", *BELOW),
            "Give one of --from-left-tile or --from-right-tile: there are both.",
        ),
        (("--from-left-tile", "75", *BELOW), 'Invalid value for --from-left-tile: "75" does not say to what'),
        (("--from-left-tile", "-3 to 12", *BELOW), "Invalid value for --from-left-tile:"),
        (("--from-left-tile", "69 to 84", *BELOW, "--core", "3,5"), "Invalid value for --core:"),
        (("--from-left-tile", "69 to 84", *BELOW, "--joint", "two"), "Invalid value for --joint:"),
    ],
)
def test_a_call_that_cannot_be_answered_writes_nothing(run, tmp_path, arguments, sentence):
    result = run(*TILE, *arguments, "--out", "out")
    assert result.exit_code == 2
    assert sentence in result.stderr
    assert not (tmp_path / "out").exists()


def test_faults_of_other_figures_have_no_file_and_come_all_at_once(run):
    result = run(
        *("one", "--tile", "248x398", "--joint", "2", "--what", "15 coper", "--cover", "6,5"),
        *("--from-left-tile", "69 to 84", *BELOW),
    )
    assert result.exit_code == 2
    assert result.stderr == (
        'hole "hole", what: "15 coper" is not known: did you mean "15 copper"?\n'
        'hole "hole", cover: "6,5" has a comma in a number: write 6.5.\n'
        "2 faults: nothing was written.\n"
    )


def test_the_template_is_written_where_it_is_asked_for(run, tmp_path):
    result = run(*TILE, "--from-left-tile", "69 to 84", *BELOW, "--out", "out")
    assert result.exit_code == 0
    assert result.stdout.startswith(SAID)
    assert (tmp_path / "out" / "pack.pdf").read_bytes().startswith(b"%PDF")
    assert len(list((tmp_path / "out" / "sheets").glob("one_tile__tile_*_face_1_*.svg"))) == 1


def test_a_tile_that_is_stopped_has_no_figure_to_mark_it_by(run):
    # The middle 20 from the fixed tile is 18 from the edge: the core of 35 leaves 0.5.
    result = run(*TILE, "--from-left-tile", "12.5 to 27.5", *BELOW)
    assert result.stdout.startswith("STOP: nothing is marked on it until what stands below is settled.\n")
    assert "112.5" not in result.stdout
    assert result.exit_code == 1
