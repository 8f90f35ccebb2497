"""Faults planted to try the tests: each is Python; a test that looks notices where one that looks away does not."""

from __future__ import annotations

import ast
import random
from pathlib import Path

import pytest

from tests.bench.listed_faults import LISTED, Listed
from tests.bench.planted_faults import EQUIVALENT, ROOT, Fault, lives, sites


def test_what_is_planted_is_python_and_another_text() -> None:
    faults = list(sites(ROOT))
    assert len(faults) > 10_000
    for fault in random.Random(7).sample(faults, 150):
        source = (ROOT / fault.path).read_bytes()
        ast.parse(fault.planted(source))
        before, after = fault.told(source)
        assert before != after


def test_a_fault_is_noticed_by_a_test_that_looks_and_by_no_other(tmp_path: Path) -> None:
    source = b"def least(a, b):\n    return min(a, b)\n"
    (tmp_path / "short.py").write_bytes(source)
    (tmp_path / "test_short.py").write_text(
        "from short import least\n\n"
        "def test_looks():\n    assert least(1, 2) == 1\n\n"
        "def test_looks_away():\n    assert least(2, 2) == 2\n",
        encoding="utf-8",
    )
    at = source.index(b"min")
    fault = Fault("short.py", 2, at, at + 3, "max")
    assert fault.told(source) == ("return min(a, b)", "return max(a, b)")
    assert not lives(fault, source, ["test_short.py::test_looks"], tmp_path)
    assert lives(fault, source, ["test_short.py::test_looks_away"], tmp_path)
    assert lives(fault, source, [], tmp_path)
    # Tests that are not there have noticed nothing.
    with pytest.raises(RuntimeError, match="the tests were not run"):
        lives(fault, source, ["test_short.py::test_that_is_not_there"], tmp_path)
    assert (tmp_path / "short.py").read_bytes() == source


def test_a_fault_that_keeps_the_code_from_loading_is_noticed(tmp_path: Path) -> None:
    source = b"LEAST = min(1, 2)\n"
    (tmp_path / "short.py").write_bytes(source)
    (tmp_path / "test_short.py").write_text("import short\n\ndef test_is_there():\n    assert short\n", "utf-8")
    fault = Fault("short.py", 1, 8, 11, "mim")
    assert not lives(fault, source, ["test_short.py"], tmp_path)


@pytest.mark.parametrize("row", LISTED, ids=lambda row: row.words)
def test_a_listed_fault_can_still_be_planted(row: Listed) -> None:
    fault = row.fault()
    source = (ROOT / fault.path).read_bytes()
    ast.parse(fault.planted(source))
    before, after = fault.told(source)
    assert before != after
    assert row.tests
    assert all((ROOT / test).is_file() for test in row.tests)


def test_no_fault_is_listed_twice() -> None:
    assert len({row.words for row in LISTED}) == len(LISTED)
    assert len({(row.path, row.found, row.instead) for row in LISTED}) == len(LISTED)


def test_a_listed_fault_whose_place_is_gone_is_told(tmp_path: Path) -> None:
    there = tmp_path / "cutmarks/short.py"
    there.parent.mkdir()
    there.write_text("x = 1\nx = 1\n", encoding="utf-8")
    with pytest.raises(ValueError, match="stands 0 times"):
        Listed("one more", "short.py", "y = 1", "y = 2", ("tests/test_short.py",)).fault(tmp_path)
    with pytest.raises(ValueError, match="stands 2 times"):
        Listed("one more", "short.py", "x = 1", "x = 2", ("tests/test_short.py",)).fault(tmp_path)


@pytest.mark.parametrize(("path", "before"), [(path, before) for path, before, _ in EQUIVALENT])
def test_what_is_said_to_change_nothing_still_stands_there(path: str, before: str) -> None:
    assert before in " ".join((ROOT / path).read_text(encoding="utf-8").split())
