"""The figures on a box of tiles: in centimetres as often as not; and a size that a measured run does not bear out."""

from __future__ import annotations

import pytest

from tests.job.jobs import changed, job, only_fault

ASKED = (
    '"40 x 25" is off the box, and has a side of 25: 25 mm, or 25 cm? Write its unit, as in size: 40 x 25 cm, or '
    "measured: yes where you measured the tile."
)
BOX = "size: 297 x 97, thickness: 9, measured: yes"


def test_a_small_size_off_the_box_is_asked() -> None:
    for written in ("size: 40 x 25", "size: 40 x 25, measured: no"):
        fault = only_fault(changed(BOX, written))
        assert fault == f'job.yaml line 3, tile "rib": {ASKED}'


@pytest.mark.parametrize(
    ("written", "size"),
    [
        ("size: 40 x 25 cm", (400.0, 250.0)),
        ("size: 48 x 48 mm", (48.0, 48.0)),  # a mosaic
        ("size: 48 x 48, measured: yes", (48.0, 48.0)),
        ("size: 48 x 48, run across: 5 in 248", (48.0, 48.0)),  # 5 x 48 + 4 x 2
        ("size: 297 x 50", (297.0, 50.0)),
    ],
)
def test_a_size_of_which_the_unit_is_known_is_taken(written: str, size: tuple[float, float]) -> None:
    read = job(changed(BOX, written).replace("joint: 3", "joint: 2")).tiles["rib"].size
    assert (read.first, read.second) == size


def test_no_tile_of_an_inch_job_is_asked() -> None:
    text = changed(BOX, "size: 1 x 2").replace("tiles:", "units: in\ntiles:").replace("joint: 3", "joint: 1/8")
    assert job(text).tiles["rib"].size.first == pytest.approx(25.4)


@pytest.mark.parametrize("start", ["        start: {across: joint on V, up: sits on B}\n", ""])
def test_a_run_that_makes_another_tile_is_refused_with_or_without_a_start(start: str) -> None:
    """5 tiles and 4 joints of 3 in 1250: (1250 - 12) / 5 = 247.6, and not 297."""
    text = changed(BOX, "size: 297 x 97, run across: 5 in 1250").replace(
        "        start: {across: joint on V, up: sits on B}\n", start
    )
    fault = only_fault(text)
    assert "It makes the tile 247½ in area splash, and its size says 297" in fault
