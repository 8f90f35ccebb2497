"""Play, bridges, covers, beds and depths against what standards, makers' guides and trade sources say.

No paid standard was read whole: a value quoted from one stands with its clause, and with "from memory" where it is.
"""

from __future__ import annotations

import math

import pytest

from cutmarks.checks.depth import bed_of, build_up
from cutmarks.checks.leaning import hole_needed
from cutmarks.fittings import catalogue, find
from cutmarks.geometry.shapes import Circle, Rect, area_of
from cutmarks.limits import LIMITS
from cutmarks.openings.sizing import best_hole
from cutmarks.tiling.model import TileKind
from cutmarks.units import Unit
from tests.checks.jobs import hole, only, plan, said

INCH = 25.4


def may_be(pipe: float, opening: float, cover: object) -> float | None:
    """How far any way a hole may be off a pipe, mm."""
    made = plan(hole(what="pipe", diameter=f"{pipe:.4f}", opening=f"{opening:.4f}", cover=cover))
    return made.openings[0].you_may_be


def test_play_round_a_pipe_is_that_of_ansi_a108() -> None:
    # ANSI A108: at least 1/8 in all round a pipe, which the trade takes as 3 mm: 1/8 in is 3.175.
    assert LIMITS.round_play.value == 3.0
    assert LIMITS.round_play.value == pytest.approx(INCH / 8, abs=0.2)


@pytest.mark.parametrize(("pipe", "hole_in"), [(0.625, 7 / 8), (0.875, 9 / 8), (1.125, 11 / 8), (3.5, 3.75)])
def test_a_us_chart_of_clearances_allows_the_play(pipe: float, hole_in: float) -> None:
    # A US chart (framing, not tile): pipe + 1/4 in, which is 1/8 in a side.
    assert may_be(pipe * INCH, hole_in * INCH, "none") == pytest.approx(INCH / 8)


def test_the_best_hole_of_the_trade_example() -> None:
    # A 15 pipe under a 65 plate: 37 best; a 35 core allows 10, a 28 core 6.5 (worked in the trade's own arithmetic).
    assert best_hole(15.0, 65.0) == pytest.approx(37.0)
    assert may_be(15.0, 35.0, 65) == pytest.approx(10.0)
    assert may_be(15.0, 28.0, 65) == pytest.approx(6.5)


def test_boxes_under_their_plates() -> None:
    # A 72 box with 3 all round under an 86 plate laps 4; a 133 box under 146 laps 3.5 (trade sizes with BS 4662, which
    # was not read): both hold when all is 2.3 off, and neither is spoken of.
    for size, cover in (("72 x 72", "86 x 86"), ("133 x 72", "146 x 86")):
        made = plan(hole("socket", what="box", size=size, cover=cover, play=3))
        assert not said(made, "cover laps little")
        assert not said(made, "cover may not hide it")


def test_the_screw_centres_fit_in_their_plates() -> None:
    # BS 4662, from memory: 60.3 and 120.6 between the screws, whose heads lie inside plates of 86 and 146.
    plates = {one.label: one for one in catalogue() if one.kind == "plate" and one.system == "uk"}
    assert [plates["1 gang plate"].centres, plates["2 gang plate"].centres] == [60.3, 120.6]
    for plate in plates.values():
        assert plate.centres is not None
        assert plate.w is not None
        assert plate.centres < plate.w


def test_us_plates_step_by_their_gang() -> None:
    # ANSI/NEMA WD 6: widths 2-3/4, 4-9/16, 6-3/8, ... in: the step is 1-13/16 in.
    widths = [find(f"{n} gang plate", "us", Unit.INCH) for n in range(1, 11)]
    found = [one.w for one in widths if one is not None and one.w is not None]
    assert found == pytest.approx([(2.75 + 1.8125 * n) * INCH for n in range(10)])


@pytest.mark.parametrize(("notch", "bed"), [(3 / 8 * INCH, 3 / 16 * INCH), (1 / 4 * INCH, 1 / 8 * INCH), (8.0, 4.0)])
def test_a_bed_is_half_of_the_notch(notch: float, bed: float) -> None:
    # Trade sources: a 3/8 in notch leaves 3/16 in, a 1/4 in notch flattened 1/8 in.
    tile = TileKind("rib", 297.0, 197.0, True, thickness=9.0, notch=notch)
    assert bed_of(tile, LIMITS) == pytest.approx(bed)


def test_the_build_up_of_a_valve() -> None:
    # One US guide: 60 +- 13 mm (2-3/8 +- 1/2 in) from the pipe's centre to the finished wall. A valve set 47 behind a
    # board on which 3/16 in of bed and a 5/16 in tile come: 47 + 4.7625 + 7.9375 = 59.7, in the middle of 47 to 73.
    tile = TileKind("rib", 297.0, 197.0, True, thickness=5 / 16 * INCH, notch=3 / 8 * INCH)
    built = build_up("board", tile, None, LIMITS)
    assert built is not None
    assert 47.0 + built.total == pytest.approx(59.7)
    assert 60.0 - 13.0 < 47.0 + built.total < 60.0 + 13.0


def test_a_box_guide_with_ten_of_float() -> None:
    # One European box guide: 58 to 68 deep. 50 behind the board with 4 of bed and 9 of tile is 63; with 15 of tile 69.
    keys = {"what": "valve body", "size": "90 x 90", "cover": "150 x 150", "depth range": "58 to 68"}
    made = plan(hole("valve", depth="50 behind the board", **keys), tile={"thickness": 9, "notch": 8})
    assert not [f for f in made.findings if f.rule in ("too deep", "too far out", "depth is tight")]
    made = plan(hole("valve", depth="50 behind the board", **keys), tile={"thickness": 15, "notch": 8})
    assert only(made, "too deep").value == pytest.approx(69.0)


def test_a_lean_of_five_degrees_read_eighty_out() -> None:
    # Trade example: read 80 mm out, 5 degrees is 7 mm wrong.
    assert hole_needed(0.0, math.tan(math.radians(5.0)), 80.0) == pytest.approx(7.0, abs=0.01)
    # The ellipse that a slanting cylinder cuts is d / cos a long (any handbook), and across a tile it moves by t tan a.
    assert hole_needed(22.0, math.tan(math.radians(5.0)), 10.0) == pytest.approx(22.084 + 0.875, abs=0.001)


def test_what_may_be_taken_out_of_a_tile() -> None:
    # Tool guides: 10 to 12 in2 may exceed what the tile bears. 12 in2 is 77.4 cm2; a 68 hole takes 5.6 in2, 75 x 75
    # 8.7, 135 x 75 15.7.
    assert LIMITS.area_taken.value == pytest.approx(12 * INCH**2 / 100, abs=0.5)
    for shape, square_inches in ((Circle(68.0), 5.6), (Rect(75.0, 75.0), 8.7), (Rect(135.0, 75.0), 15.7)):
        assert area_of(shape) / INCH**2 == pytest.approx(square_inches, abs=0.05)
    assert said(plan(hole(what="box", size="131 x 71", cover="147 x 86")), "much cut out")
    assert not said(plan(hole(what="box", size="71 x 71", cover="86 x 86")), "much cut out")


def test_offsets_by_ansi_a108_02() -> None:
    # ANSI A108.02 4.3.8.2: a side over 15 in is offset by no more than 33 %. Tiles of 400 x 100 (15-3/4 in) by half.
    assert (LIMITS.offset_side.value, LIMITS.offset_part.value) == (15 * INCH, pytest.approx(0.33, abs=0.004))
    area = {
        "name": "field",
        "tile": "rib",
        "joint": 3,
        "bond": "half",
        "start": {"across": "joint on V", "up": "sits on B"},
    }
    assert said(plan(tile={"size": "400 x 100"}, areas=[area]), "long offset")
    assert not said(plan(tile={"size": "380 x 100"}, areas=[area]), "long offset")
    assert not said(plan(tile={"size": "400 x 100"}, areas=[{**area, "bond": "third right"}]), "long offset")


def test_large_panels_are_those_that_bs_5385_1_sets_apart() -> None:
    # BS 5385-1:2018 (clause not seen): grout widths up to 1200, and larger. Makers' guidelines: 70 to 80 to an edge.
    assert LIMITS.panel_side.value == 1200.0
    assert (LIMITS.panel_stop_bridge.value, LIMITS.panel_bridge.value) == (70.0, 80.0)


def test_a_gap_at_a_floor_is_that_of_tcna_and_bs() -> None:
    # TCNA EJ171: 1/4 in inside, 1/8 in allowed where joints are closer; BS 5385-3:2007 cl. 6.8: 6 at least for movement
    # joints of floors. The usual gaps are layout gaps and no more: 5 lies between 1/8 and 1/4 in, and is under both.
    assert INCH / 8 < LIMITS.floor_gap.value < INCH / 4
    assert LIMITS.floor_gap.value < 6.0
