"""cutmarks fittings: the catalogue on a terminal."""

from __future__ import annotations

from cutmarks.fittings import catalogue


def test_everything_is_listed_with_its_source(run):
    shown = " ".join(run("fittings").stdout.split())
    for fitting in catalogue():
        assert " ".join(fitting.source.split()) in shown, fitting
        assert fitting.label in shown


def test_words_narrow_it_down(run):
    # EN 1057: 15 outside. BS EN 1329-1's national foreword: a 40 waste is 43; push-fit 41.
    copper = run("fittings", "copper", "15").stdout
    assert "EN 1057" in copper
    assert "15 mm outside" in copper
    assert "22 mm outside" not in copper
    waste = run("fittings", "waste", "40").stdout
    assert "43 mm outside" in waste
    assert "41 mm outside" in waste


def test_what_is_from_memory_says_measure_yours(run):
    for line in run("fittings", "rosette").stdout.splitlines():
        if line.startswith("  union"):
            assert "measure yours" in line
    assert "measure yours" not in run("fittings", "thread").stdout


def test_us_sizes_stand_in_inches_too(run):
    # ANSI/NEMA WD 6: a 1-gang plate is 2.75 x 4.5 in.
    assert "69.85 x 114.3 mm (2.75 x 4.5 in)" in run("fittings", "us", "plate").stdout


def test_an_unknown_word_is_told(run):
    result = run("fittings", "spaceship")
    assert result.exit_code == 2
    assert "Nothing in the catalogue is called spaceship" in result.stderr


def test_own_rows_come_first(run, tmp_path):
    folder = tmp_path / "config" / "cutmarks"
    folder.mkdir(parents=True)
    (folder / "fittings.toml").write_text('[[fitting]]\nname = "tall tail"\nod_mm = 24.2\n', encoding="utf-8")
    shown = run("fittings").stdout
    assert shown.startswith("own: your own, no source written (your own)\n  tall tail")
    given = tmp_path / "mine.toml"
    given.write_text("[[fitting]]\n", encoding="utf-8")
    result = run("fittings", "--fittings", given)
    assert result.exit_code == 2
    assert "mine.toml: fitting 1 has no name" in result.stderr


def test_a_job_takes_the_rows_of_the_configuration_folder(run, tmp_path, w1):
    folder = tmp_path / "config" / "cutmarks"
    folder.mkdir(parents=True)
    (folder / "fittings.toml").write_text('[[fitting]]\nname = "tall tail"\nod_mm = 25\n', encoding="utf-8")
    text = w1.read_text(encoding="utf-8").replace("15 copper", "tall tail").replace("318 to 333", "centre 325.5")
    w1.write_text(text, encoding="utf-8")
    # 25 under a rose of 65: best (25 + 65 - 6) / 2 = 42, and there is a core of 42.
    assert "core 42" in run("check", w1).stdout
