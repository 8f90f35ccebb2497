"""The set-out page of a wall that was added up by hand: every figure of the sketch, from the job's readings alone.

The sums: 1300 - 3 - 1001½ = 295½; 1380 - 3 - 1001½ = 375½; 598½ - 423 = 175½; 915 - 753 - 5 = 157; 919 - 753 - 5 = 161;
1480 - 1250 - 3 = 227; 1474 - 1250 - 3 = 221; 220 - 3 = 217; 1247 - (1115 + 3) = 129; 3 x 397 + 2 x 3 = 1197. Courses
count from the base: the sketch's course 5 is 1 here, its 4 to 1 are under 1 to under 4.
"""

from __future__ import annotations

import math

import pytest

from cutmarks.buying.flow import what_to_buy
from cutmarks.gauging.model import CutGroup
from cutmarks.saying.buying import buy_lines
from cutmarks.saying.gauging import sections, told
from cutmarks.sides import Side
from tests.gauging.walls import TERN_ROW, first_of, planned

AT_THE_WALL = 0.03
"""The last piece ends 9½ short of where the ceiling was read, 3 of gap and 6½ out of plumb: 9½ x 6 / 2680 = 0.02 mm."""


def group(day: int, to: str, side: Side, piece: str) -> CutGroup:
    """The group of cuts to something, with this piece in it."""
    found = [one for one in first_of(TERN_ROW).cuts if (one.day, one.to, one.side) == (day, to, side)]
    return next(one for one in found if piece in one.pieces)


def test_13_are_whole_and_38_are_cut() -> None:
    counts = first_of(TERN_ROW).areas[0].area.counts
    assert (counts.whole, counts.cut) == (13, 38)


def test_packers_carry_the_first_course_on_the_worktop_and_a_batten_beside_it() -> None:
    (base,) = first_of(TERN_ROW).bases
    packers, batten = base.stretches
    assert (packers.on, packers.what, packers.packers) == ("packers", "worktop", pytest.approx(3))
    assert (packers.low, packers.high) == (pytest.approx(-1300), pytest.approx(390))
    assert (batten.on, batten.what, batten.finished) == ("batten", "floor", True)


def test_the_battens_top_is_915_917_and_919_over_the_finished_floor() -> None:
    batten = first_of(TERN_ROW).bases[0].stretches[1]
    assert [(one.x, one.over) for one in batten.heights] == [
        (pytest.approx(390), pytest.approx(915)),
        (pytest.approx(885), pytest.approx(917)),
        (pytest.approx(1380), pytest.approx(919)),
    ]


def test_the_lowest_point_adds_up_to_the_cut_the_joint_and_the_gap() -> None:
    batten = first_of(TERN_ROW).bases[0].stretches[1]
    assert batten.lowest is not None
    assert batten.under is not None
    assert (batten.lowest.x, batten.lowest.over) == (pytest.approx(1380), pytest.approx(919))
    under = batten.under
    assert (under.courses, under.pitch, under.joint, under.gap) == (3, 250, 3, 5)
    assert under.cut == pytest.approx(161)


def test_the_rod_goes_by_tile_edges_both_ways_up_and_down() -> None:
    gauge = first_of(TERN_ROW).areas[0]
    rods = {rod.way: [(joint.near, joint.far) for joint in rod.joints] for rod in (*gauge.across, *gauge.up)}
    across = [(198.5, 201.5), (598.5, 601.5), (998.5, 1001.5)]
    assert rods == {
        Side.RIGHT: [pytest.approx(one) for one in across],
        Side.LEFT: [pytest.approx(one) for one in across],
        Side.TOP: [pytest.approx(one) for one in [(247, 250), (497, 500), (747, 750), (997, 1000), (1247, 1250)]],
        Side.BOTTOM: [pytest.approx(one) for one in [(0, 3), (250, 253), (500, 503), (750, 753)]],
    }


def test_the_rods_end_at_what_is_there() -> None:
    gauge = first_of(TERN_ROW).areas[0]
    assert {rod.way: rod.end for rod in (*gauge.across, *gauge.up)} == {
        Side.RIGHT: "the right corner",
        Side.LEFT: "the left corner",
        Side.TOP: "the ceiling",
        Side.BOTTOM: "the floor",
    }


def test_columns_meet_again_over_the_window_1197_apart() -> None:
    (across,) = first_of(TERN_ROW).across
    assert [(left, right) for left, right, _ in across.pairs] == [
        ("slate 1-3", "slate 1-5"),
        ("slate 5-3", "slate 5-5"),
    ]
    assert [far for *_, far in across.pairs] == pytest.approx([1197, 1197])
    assert across.alike


@pytest.mark.parametrize(
    ("day", "to", "side", "piece", "openings", "cuts"),
    [
        (1, "left corner", Side.LEFT, "slate 1-1", (301.5, 301.5), (295.5, 295.5)),
        (1, "right corner", Side.RIGHT, "slate 1-7", (375.0, 381.5), (369.0, 375.5)),
        (1, "ceiling", Side.TOP, "slate 6-1", (227.0, 233.0), (221.0, 227.0)),
        (1, "window", Side.TOP, "slate 1-4", (220.0, 220.0), (217.0, 217.0)),
        (2, "floor", Side.BOTTOM, "slate under 4-2", (165.84, 169.0), (157.84, 161.0)),
        (2, "right corner", Side.RIGHT, "slate under 1-3", (381.5, 381.5), (375.5, 375.5)),
    ],
)
def test_each_opening_and_the_cut_to_expect(
    day: int, to: str, side: Side, piece: str, openings: tuple[float, float], cuts: tuple[float, float]
) -> None:
    # The floor's first piece begins 3 past the worktop's end, and that floor falls 4 in 990: 915 is 157 at 390,
    # 205½ further on at 393 + 205½ it is 157 + 0.84.
    found = group(day, to, side, piece)
    assert found.openings == pytest.approx(openings, abs=AT_THE_WALL)
    assert found.cuts == pytest.approx(cuts, abs=AT_THE_WALL)


@pytest.mark.parametrize(
    ("to", "side", "piece", "off"),
    [
        ("floor", Side.BOTTOM, "slate under 4-2", [("joint", 3), ("gap", 5)]),
        ("right corner", Side.RIGHT, "slate under 1-3", [("joint", 3), ("gap", 3)]),
    ],
)
def test_what_comes_off_is_the_stretchs_own(to: str, side: Side, piece: str, off: list[tuple[str, float]]) -> None:
    # The edge below begins with the worktop, whose gap is 3; over the floor it is 5, and nothing is still to come.
    assert [(one.what, pytest.approx(one.mm)) for one in group(2, to, side, piece).off] == off


def test_the_end_of_the_worktop_is_called_by_its_own_stretch() -> None:
    found = group(2, "worktop", Side.LEFT, "slate under 2-1")
    assert found.cuts == pytest.approx((205.5, 205.5), abs=AT_THE_WALL)


def test_a_piece_that_is_stopped_has_no_cut_to_expect() -> None:
    # A core of 35 about 1027 leaves 8 to the tile's left edge at 1001½: that stops.
    text = TERN_ROW + (
        "      - {name: tap, what: 15 copper, across: centre 1027 right of V, up: centre 120 above B, cover: 65, "
        "end: comes off}\n"
    )
    (one,) = told(planned(text))
    assert "slate 1-7" in one.waiting
    pieces = [name for cuts in one.cuts for name in cuts.pieces]
    assert "slate 1-7" not in pieces
    assert "slate 2-7" in pieces
    before = sections(one, planned(text))[0].lines
    assert before[0] == "STOP at 1-7: the job sheet says why. They are not cut yet."


@pytest.mark.parametrize(("piece", "side"), [("slate 2-3", Side.RIGHT), ("slate 2-5", Side.LEFT)])
def test_beside_the_window_175_and_a_half_is_left(piece: str, side: Side) -> None:
    assert group(1, "window", side, piece).cuts == pytest.approx((175.5, 175.5), abs=AT_THE_WALL)


def test_over_the_window_129_is_left() -> None:
    assert group(1, "window", Side.BOTTOM, "slate 5-4").cuts == pytest.approx((129, 129), abs=AT_THE_WALL)


def test_on_day_two_the_hole_is_62_down_from_the_top_edge() -> None:
    # The sketch's "3-2: 62": the pipe at 565 below B, the piece's top at 503.
    assert [(one.piece, one.hole, one.down) for one in first_of(TERN_ROW).from_top] == [
        ("slate under 3-2", "machine", pytest.approx(62))
    ]


def test_joints_for_silicone_have_their_widths() -> None:
    sealed = {one.what: one.width for one in first_of(TERN_ROW).sealed}
    assert sealed == {"worktop": 3, "left corner": 3, "right corner": 3, "window": 3, "ceiling": 3, "floor": 5}


def test_joints_for_silicone_have_their_lengths() -> None:
    # Along the tile: the worktop's top from 1297 left to 393 right and its end 910 down; the floor from 393 to 1377;
    # round the window 846 x 901; the left corner up to the ceiling less 3.
    sealed = {one.what: one.length for one in first_of(TERN_ROW).sealed}
    assert sealed["worktop"] == pytest.approx(1297 + 393 + 910, abs=0.1)
    assert sealed["floor"] == pytest.approx(math.hypot(1377 - 393, 4 * 984 / 990), abs=0.1)
    assert sealed["window"] == pytest.approx(2 * (846 + 901))
    assert sealed["left corner"] == pytest.approx(1477, abs=0.1)


def test_what_to_buy_is_51_tiles_in_6_boxes() -> None:
    (need,) = what_to_buy(planned(TERN_ROW)).tiles
    assert (need.from_offcuts, need.laid) == (3, 48)
    assert (need.holed, need.spare_holed, need.spare_cut) == (3, 1, 2)
    assert (need.total, need.boxes) == (51, 6)


def test_one_tile_gives_a_left_and_a_right_of_the_window() -> None:
    (need,) = what_to_buy(planned(TERN_ROW)).tiles
    assert {frozenset(tile.pieces) for tile in need.shared} == {
        frozenset({f"slate {course}-3", f"slate {course}-5"}) for course in (2, 3, 4)
    }


def test_adhesive_and_grout_by_geometry() -> None:
    to_buy = what_to_buy(planned(TERN_ROW))
    (adhesive,), (grout,) = to_buy.adhesive, to_buy.grout
    # About 4.1 m2; at a bed of 3 some 12 litres; grout 0.65 litre, said up to the next 0.05.
    assert adhesive.area / 1e6 == pytest.approx(4.1, abs=0.05)
    assert round(adhesive.litres) == 12
    assert math.ceil(grout.litres / 0.05) * 0.05 == pytest.approx(0.65)


def test_the_page_says_the_sums() -> None:
    plan = planned(TERN_ROW)
    (one,) = told(plan)
    said = "\n".join(line for step in sections(one, plan) for line in step.lines)
    for part in (
        "Batten from 390 right of V to 1380 right of V, its top on B: over the finished floor 915 at 390 right of V, "
        "917 at 885 right of V, 919 at 1380 right of V.",
        "The floor falls 4: lowest 1380 right of V, where 919 = 3 x 250 + joint 3 + cut up to 161 + gap 5.",
        "both ways from V: 198½ | 201½, 598½ | 601½, 998½ | 1001½, then to the right corner and the left corner",
        "to the left corner, less joint 3 and gap 3. 1-1 to 6-1: 301½ -> 295½ .... .... ....",
        # It leans in, going up, 6½ in 1480: 375½ at B, 374.4 at 247, 373.3 at 497, 372.2 at 747, 371.1 at 997, 370.0 at
        # 1247, each rounded down, and with the joint and the gap, 6, what is read; at the top 369.0, no 1 under that.
        "1-7: 381½ | 380 -> 375½ | 374 ....; 2-7: 380 | 379 -> 374 | 373 ....; 3-7: 379 | 378 -> 373 | 372 ....; "
        "4-7: 378 | 377 -> 372 | 371 ....; 5-7: 377 | 376 -> 371 | 370 ....; 6-7: 375 -> 369 ....",
        "Two figures are of its two ends, the lower or the left one first.",
        # 1480 and 1474 over the level line, the course from 1250 to 1497.
        "course 6, the last, is cut to the ceiling",
        "machine in under 3-2: 62 down from the TOP edge.",
    ):
        assert part in said
    bought = "\n".join(buy_lines(what_to_buy(plan), plan))
    assert (
        "13 whole + 38 cut - 3 from offcuts = 48, spares 1 for 3 holed (one in 10) + 2 for 38 cut (one in 20): 51"
        in bought
    )
    assert "6 boxes of 10" in bought


def test_the_steps_stand_in_the_order_of_the_work() -> None:
    plan = planned(TERN_ROW)
    (one,) = told(plan)
    assert [step.title.split(",")[0] for step in sections(one, plan)] == [
        "BEFORE ANYTHING",
        "BATTEN",
        "GAUGE ROD",
        "START TILE",
        "MEASURE ACROSS",
        "CUTS",
        "DAY TWO",
        "GROUT",
        "WHY THIS START",
    ]


def test_why_it_is_started_so_is_said_beside_what_a_joint_on_v_leaves() -> None:
    """175½ beside the window, as in the sketch: of 397 over a third and under a half.

    From a joint on V the left corner has 1300 - 3 - 1201½ = 95½, under a third; and beside the worktop, which ends 390
    right of V with a gap of 3, the first tile of the lower courses ends at 1½ + 397 = 398½: 5½ are left, a sliver.
    """
    plan = planned(TERN_ROW)
    (one,) = told(plan)
    own, joint, *more = sections(one, plan)[-1].lines
    assert own == "It leaves: smallest piece 175½ of 397 (left of window, a third of a tile or more)."
    assert joint.startswith(
        "With a joint on V it is worse: smallest piece 5½ of 397 (right of a step, a sliver); 1 more end with a sliver"
    )
    assert "fewer" not in joint  # what a worse start would gain is no reason
    assert more == []  # its own start has the middle of a tile on V
