"""The data files: every row complete, every key known, nothing said twice with two values."""

from __future__ import annotations

import subprocess
import sys
import tomllib
from collections import defaultdict
from pathlib import Path

import pytest

import cutmarks.fittings
from cutmarks.fittings import catalogue, cores, find
from cutmarks.fittings.rows import families
from cutmarks.units import Unit

DATA = Path(cutmarks.fittings.__file__).parent / "data"
FAMILY_FILES = sorted(file for file in DATA.glob("*.toml") if file.name != "cores.toml")
FAMILY_KEYS = {"family", "kind", "words", "order", "asked", "standard"}
LENGTHS = {
    f"{stem}_{unit}" for stem in ("od", "w", "h", "tol", "hole", "centres", "pitch", "depths") for unit in ("mm", "in")
}
ROW_KEYS = LENGTHS | {"names", "choices", "note", "kind"}
STANDARD_KEYS = LENGTHS | {"system", "variant", "words", "source", "mark", "note", "kind", "rows"}


@pytest.mark.parametrize("file", FAMILY_FILES, ids=lambda file: file.stem)
def test_no_key_is_misspelt(file: Path) -> None:
    # A misspelt key would be a value lost in silence.
    table = tomllib.loads(file.read_text(encoding="utf-8"))
    assert set(table) <= FAMILY_KEYS
    for standard in table["standard"]:
        assert set(standard) <= STANDARD_KEYS
        assert standard["source"]
        for row in standard["rows"]:
            assert set(row) <= ROW_KEYS
            for choice in row.get("choices", ()):
                assert set(choice) <= {"words", "od_mm", "od_in", "w_mm", "h_mm"}


def test_every_fitting_has_a_size_a_source_and_a_mark() -> None:
    fittings = catalogue()
    assert len(fittings) > 100
    for fitting in fittings:
        assert fitting.source
        assert fitting.mark in ("R", "M", "C")
        round_, flat = fitting.od is not None, fitting.w is not None and fitting.h is not None
        open_ = bool(fitting.choices) or fitting.hole is not None
        assert [round_, flat, open_].count(True) == 1, fitting
        sizes = (fitting.od, fitting.w, fitting.h, fitting.hole, fitting.centres, fitting.pitch)
        assert all(size > 0 for size in sizes if size is not None)


def test_what_is_from_memory_or_disputed_says_measure_yours() -> None:
    for fitting in catalogue():
        if fitting.mark in ("M", "C"):
            assert fitting.measure_yours
            assert "measure yours" in fitting.note or "maker's sheet" in fitting.note, fitting


def test_within_one_standard_a_name_means_one_thing() -> None:
    for family in families():
        seen: defaultdict[tuple[str, str, str], set[str]] = defaultdict(set)
        for row in family.rows:
            for name in row.names:
                seen[name.text, row.fitting.source, row.fitting.variant].add(row.fitting.label)
        assert all(len(labels) == 1 for labels in seen.values()), family.name


def test_every_pipe_is_found_again_by_its_own_name() -> None:
    sayings = {"us": ("us", Unit.INCH), "uk": ("uk", Unit.MM), "eu": ("uk", Unit.MM), "iso": ("uk", Unit.MM)}
    asked = 0
    for family in families():
        for row in family.rows:
            for name in row.names:
                if name.unit == "words" or not family.words or row.fitting.od is None:
                    continue
                say, default = sayings[row.fitting.system]
                words = f"{name.text} {row.fitting.variant} {family.words[0]}"
                fitting = find(words, "us" if say == "us" else "uk", default)
                assert fitting is not None
                assert row.fitting.od in (fitting.od, *(choice.od for choice in fitting.choices)), words
                asked += 1
    assert asked > 100


def test_core_series() -> None:
    # Trade series, from memory: 27/28, 67/68 and 82/83 are both sold. Inches by hand: 1-3/8 x 25.4 = 34.925.
    metric, inch = cores("mm"), cores("in")
    assert metric[:3] == (5.0, 6.0, 7.0)
    assert {27.0, 28.0, 35.0, 67.0, 68.0, 82.0, 83.0, 127.0} <= set(metric)
    assert inch[0] == 4.7625
    assert 34.925 in inch
    assert inch[-1] == pytest.approx(114.3)
    assert list(metric) == sorted(set(metric))
    assert list(inch) == sorted(set(inch))


def test_the_catalogue_is_not_read_before_it_is_asked() -> None:
    # A check's start has to stay light: neither the files nor pydantic are touched by the import.
    code = (
        "import sys, cutmarks.fittings.rows as c\n"
        "assert c.families.cache_info().currsize == 0\n"
        "assert 'pydantic' not in sys.modules\n"
    )
    root = DATA.parent.parent.parent
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False, cwd=root)
    assert done.returncode == 0, done.stderr


def test_the_rows_of_a_family_are_read_where_it_is_asked_about() -> None:
    families.cache_clear()
    find.cache_clear()
    assert find("15 copper", "uk", Unit.MM) is not None
    assert {"rows"} == set(vars(next(one for one in families() if one.name == "copper")))
    assert not vars(next(one for one in families() if one.name == "box"))


def test_no_name_in_words_is_passed_over_for_want_of_reading_its_family() -> None:
    # Told by the words of the file alone; the names themselves are the second way.
    for family in families():
        for name in (name for row in family.rows for name in row.names if name.unit == "words"):
            assert family.may_name(f"old {name.text} 2"), name
            assert not family.may_name("2 zzz 15")
