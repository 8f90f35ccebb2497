"""Faults planted to try the tests: each is Python; a test that looks notices where one that looks away does not."""

from __future__ import annotations

import ast
import random
from pathlib import Path

from tests.bench.planted_faults import ROOT, Fault, lives, sites


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
    assert (tmp_path / "short.py").read_bytes() == source
