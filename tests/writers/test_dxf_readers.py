"""The drawings in a reader that shares nothing with the library that writes them: GDAL, where it is installed."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.bench.dxf_readers import drawings, wrong_in


def test_gdal_reads_every_release_as_it_was_drawn(tmp_path: Path) -> None:
    pytest.importorskip("pyogrio", reason="GDAL is not there: pip install pyogrio")
    read = 0
    for name, data, held in drawings(4, 3):
        path = tmp_path / name
        path.write_bytes(data)
        assert list(wrong_in(path, held)) == []
        read += 1
    assert read == 4 * 9
