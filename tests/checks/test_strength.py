"""Bridges, legs, cores and areas; the figures beside each are worked by hand on the wall of tests/checks/jobs.py."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

import pytest
from msgspec.structs import replace

from cutmarks.checks import legs
from cutmarks.geometry.shapes import Circle, Rect
from cutmarks.geometry.thickness import thinnest
from tests.checks.jobs import EDGES, hole, only, plan, said
from tests.handmade import cut_piece, opening


def at_gap(gap: float, **keys: object) -> dict[str, object]:
    """A 35 core that leaves `gap` to the tile's left edge: its middle lies 1.5 + gap + 17.5 right of V."""
    return hole(x=1.5 + gap + 17.5, opening=35, **keys)


@pytest.mark.parametrize(("gap", "level"), [(14.9, "stop"), (15.0, "warn"), (29.4, "warn")])
def test_a_thin_bridge_of_a_wall_tile(gap: float, level: str) -> None:
    # Common practice, no published figure: under 15 it stops, under 30 it is worth a look. A quarter of 197 is 49.25,
    # an eighth 24.6.
    finding = only(plan(at_gap(gap)), "thin bridge")
    assert finding.level == level
    assert finding.value == pytest.approx(gap)
    assert finding.limit == (15.0 if level == "stop" else 30.0)


def test_a_bridge_of_thirty_is_not_spoken_of() -> None:
    assert not said(plan(at_gap(30.0)), "thin bridge")


def test_a_small_tile_has_a_quarter_of_its_side() -> None:
    # A 97 tile: a quarter is 24.25, an eighth 12.125. The middle of a 35 core at 48.5 leaves 31.
    small = {"size": "297 x 97"}
    assert not said(plan(at_gap(24.5, y=48.5), tile=small), "thin bridge")
    assert only(plan(at_gap(13, y=48.5), tile=small), "thin bridge").level == "warn"
    assert only(plan(at_gap(12, y=48.5), tile=small), "thin bridge").level == "stop"


@pytest.mark.parametrize(
    ("tile", "gap", "level", "limit"),
    [
        ({"size": "297 x 197", "material": "glass"}, 40, "warn", 49.25),
        ({"size": "1500 x 900"}, 69, "stop", 70.0),
        ({"size": "1500 x 900"}, 75, "warn", 80.0),
        ({"size": "900 x 900", "material": "porcelain panel"}, 69, "stop", 70.0),
    ],
)
def test_the_limit_goes_by_what_the_tile_is(tile: dict[str, object], gap: float, level: str, limit: float) -> None:
    # Glass by analogy 50, at most a quarter of 197; large panels 70 to 80 (makers' guidelines).
    finding = only(plan(at_gap(gap), tile=tile), "thin bridge")
    assert (finding.level, finding.limit) == (level, limit)


def test_bridges_of_one_width_are_one_sentence() -> None:
    # The next tile begins at 301.5: 301.5 + 20 + 17.5 = 339.
    made = plan(at_gap(20), hole("tail", x=339.0, y=60.0, opening=35))
    finding = only(made, "thin bridge")
    assert finding.text.startswith("20 of tile left beside riser in field 1-5, tail in field 1-6 ")


def test_moving_the_start_is_told_with_what_it_leaves() -> None:
    # 20 left, 30 wanted: 10 to the left. The wall is 2000 wide, 3 tiles of 300 each way from V less half a joint:
    # the ends are 1000 - 901.5 = 98.5; moved 10 to the left the left one is 88.5, the right one 108.5.
    text = only(plan(at_gap(20)), "thin bridge").text
    assert "Moving the start 10 towards the left leaves enough here; the ends are then 88½ and 108½" in text


def moving(*holes: Mapping[str, object], **keys: Any) -> list[str]:
    """What is said of moving the start beside a thin bridge."""
    texts = [one.text for one in said(plan(*holes, **keys), "thin bridge")]
    return [text[text.index("Moving") :] for text in texts if "Moving" in text]


def test_room_beside_a_whole_tile_is_there_when_the_start_moves() -> None:
    # Tiles end 898.5 left of V, the edge is 2 further: moved 10 to the left 297 + 2 - 10 are left there. To the right
    # 921.5 - 901.5 = 20 become 30.
    edges = {
        **EDGES,
        "left": {"at": "900.5 left of V", "true": "plumb", "gap": "0"},
        "right": {"at": "921.5 right of V", "true": "plumb", "gap": "0"},
    }
    (text,) = moving(at_gap(20), edges=edges)
    assert text == (
        "Moving the start 10 towards the left leaves enough here; the ends are then 289 and 30 (now 297 and 20)."
    )


def test_a_start_that_leaves_a_narrow_end_is_not_named() -> None:
    # 1000 - 901.5 = 98.5 at both ends; a fifth of 297 is 59.4, and 50 is less. With the left edge at 960 left of V
    # there are 58.5: 10 less is under 50. At 962 they are 60.5, and 50.5 stay.
    def edges(left: float) -> dict[str, object]:
        return {**EDGES, "left": {"at": f"{left} left of V", "true": "plumb", "gap": "0"}}

    assert moving(at_gap(20), edges=edges(960)) == []
    assert moving(at_gap(20), edges=edges(962)) == [
        "Moving the start 10 towards the left leaves enough here; the ends are then 50½ and 108½ (now 60½ and 98½)."
    ]


def test_no_start_moves_an_edge_that_is_cut_but_the_maker_s_edge_goes_with_it() -> None:
    # The last tile begins at 901.5 and is cut at 1000. 20 are left to that cut (1000 - 20 - 17.5 = 962.5), or 20 to the
    # tile's own left edge (901.5 + 20 + 17.5 = 939) and then 43.5 to the cut, which stay.
    assert moving(hole(x=962.5, opening=35)) == []
    assert moving(hole(x=939, opening=35)) == [
        "Moving the start 10 towards the left leaves enough here; the ends are then 88½ and 108½ (now 98½ and 98½)."
    ]


def test_no_start_makes_room_between_two_openings() -> None:
    # 20 to the left, and 25 (under 30) to the next core: 39 + 35 + 25 = 99. With 30 between them there is room.
    assert moving(at_gap(20), hole("tail", x=99, opening=35)) == []
    assert len(moving(at_gap(20), hole("tail", x=104, opening=35))) == 1


def test_a_start_that_takes_the_room_from_the_other_side_is_not_named() -> None:
    # 97 wide, a quarter is 24.25; 50 drilled leave 20 and 27, and never 24.25 on both sides. Of 102 they can leave
    # 25.5, its quarter, and 26.5.
    assert moving(hole(x=1.5 + 20 + 25, opening=50), tile={"size": "97 x 197"}) == []
    assert len(moving(hole(x=1.5 + 20 + 25, opening=50), tile={"size": "102 x 197"})) == 1


def test_a_start_has_to_help_every_hole_of_the_sentence() -> None:
    # The next tile lies 301.5 to 598.5: 20 to its left edge (339) goes the same way, 20 to its right edge (561) not.
    assert len(moving(at_gap(20), hole("tail", x=339.0, y=60.0, opening=35))) == 1
    assert moving(at_gap(20), hole("tail", x=561.0, y=60.0, opening=35)) == []


def test_a_notch_is_offered_only_where_the_cover_hides_it() -> None:
    # The middle is 37.5 from the edge; the sides of the U, widened by the lap of 3, are 20.5 off the middle line:
    # the cover's radius has to be sqrt(37.5^2 + 20.5^2) = 42.74, its diameter 85.5.
    assert math.hypot(37.5, 20.5) == pytest.approx(42.74, abs=0.01)
    assert "write slot: towards the left" in only(plan(at_gap(20, cover=86)), "thin bridge").text
    assert "No notch" in only(plan(at_gap(20, cover=85)), "thin bridge").text


def test_beside_a_hair_a_notch_is_offered_by_what_the_tile_is() -> None:
    # 0.3 to the left and 50 below: a U to the left leaves 50, which is enough of a wall tile (30), not of a panel (80).
    def text(size: str) -> str:
        return only(
            plan(hole(x=1.5 + 0.3 + 17.5, y=67.5, opening=35, cover=120), tile={"size": size}), "hair bridge"
        ).text

    assert "write slot: towards the left" in text("600 x 600")
    assert "write slot" not in text("1500 x 900")


def test_a_corner_notch_is_offered_over_two_thin_sides() -> None:
    text = only(plan(hole(x=1.5 + 27.5, y=27.5, opening=35, cover="120 x 120")), "thin bridge").text
    assert "L cut over the corner: write slot: towards the left and the bottom" in text


def test_an_opened_hole_has_no_bridge_left() -> None:
    made = plan(at_gap(20, cover=86, slot="towards the left"))
    (piece,) = [one for one in made.pieces if one.cuts]
    assert not said(made, "thin bridge")
    assert piece.cuts[0].kind == "edge notch"
    # Half a disc of radius 17.5, and a strip 37.5 long and 35 wide.
    assert piece.cuts[0].share.area == pytest.approx(math.pi * 17.5**2 / 2 + 37.5 * 35)


def test_two_cores_that_break_into_each_other() -> None:
    # 35 cores 39 apart have 4 between them, under 5; 35.3 apart a hair of 0.3, which stops.
    near = only(plan(hole(x=100, opening=35), hole("tail", x=139, opening=35)), "core breaks in")
    assert (near.level, near.value) == ("warn", pytest.approx(4.0))
    hair = only(plan(hole(x=100, opening=35), hole("tail", x=135.3, opening=35)), "core breaks in")
    assert (hair.level, hair.value) == ("stop", pytest.approx(0.3))
    assert not said(plan(hole(x=100, opening=35), hole("tail", x=141, opening=35)), "core breaks in")


def test_a_thin_leg_beside_a_window() -> None:
    # The window's right side, with its gap of 3, is at 280.5; the tile's own right edge is at 298.5: a leg of 18.
    window = {"across": "100 to 277.5 right of V", "up": "50 to 400 above B"}
    finding = only(plan(hole(y=700), windows=[window]), "thin leg")
    assert finding.value == pytest.approx(298.5 - 277.5 - 3.0)
    assert "field 1-5" in finding.about


def test_a_strip_over_five_times_its_width_snaps() -> None:
    # A cut-out 100 high, 16 from the left edge: 6.25 times. At 21 it is 4.8 times.
    def box(gap: float) -> dict[str, object]:
        return hole(x=1.5 + gap + 25, what="box", size="46 x 96", opening="50 x 100", cover="80 x 130")

    assert only(plan(box(16)), "long strip").value == pytest.approx(100 / 16)
    assert not said(plan(box(21)), "long strip")


def test_much_cut_out_of_one_tile() -> None:
    # 135 x 75 is 101 cm2, over 77; a 68 hole is 36 cm2 (K: 5.6 in2).
    big = hole(what="box", size="131 x 71", opening="135 x 75", cover="147 x 86")
    assert only(plan(big), "much cut out").value == pytest.approx(101.25)
    assert not said(plan(hole(opening=68, cover=100)), "much cut out")


def test_the_inside_corners_of_boxes_are_said_once() -> None:
    boxes = [hole(n, x=x, what="box", size="70 x 70", cover="86 x 86") for n, x in (("one", 150), ("two", 450))]
    assert only(plan(*boxes), "inside corners").about == ("one", "two")
    assert not said(plan(hole()), "inside corners")


def test_a_job_sets_its_own_limits() -> None:
    made = plan(at_gap(12), limits={"stop bridge": 10, "thin bridge": 20})
    finding = only(made, "thin bridge")
    assert (finding.level, finding.limit, finding.source) == ("warn", 20.0, "set in the job")
    assert not said(plan(at_gap(21), limits={"thin bridge": 20}), "thin bridge")


def test_the_hole_comes_before_the_straight_cut() -> None:
    # The wall ends 1000 right of V, the last tile begins 901.5: a piece of 98.5, drilled in its middle.
    assert only(plan(hole(x=950, cover="none")), "hole before cut").about == ("field 1-8",)
    assert not said(plan(hole()), "hole before cut")


def test_a_long_leg_beside_a_window() -> None:
    # The window and its gap of 3 leave 33 of the tile on the right (298.5 - 265.5), over 193 (190 and the gap): 5.8
    # times. On the left 55.5 are left (57 - 1.5), 3.5 times.
    strip = {"across": "60 to 262.5 right of V", "up": "100 below to 190 above B"}
    made = plan(hole(y=700), windows=[strip], edges={**EDGES, "bottom": {"at": "200 below B", "true": "level"}})
    found = [one for one in said(made, "long strip") if "field 1-5" in one.about]
    assert [one.value for one in found] == [pytest.approx(193.0 / 33.0)]


def test_a_mouth_that_is_narrower_than_its_hole_leaves_horns() -> None:
    # A 40 hole 15 inside the left edge meets it at acos(15 / 20) = 41.4 degrees; 10 inside at 60, which is blunt.
    def at(inside: float, cover: object = 65) -> dict[str, object]:
        return hole(x=1.5 + inside, opening=40, cover=cover)

    finding = only(plan(at(15)), "sharp horn")
    assert finding.value == pytest.approx(math.degrees(math.acos(0.75)))
    assert finding.about == ("field 1-5", "riser")
    assert not said(plan(at(10)), "sharp horn")
    # 45 degrees are allowed: acos(14.26 / 20) is 44.5 and acos(14.02 / 20) is 45.5.
    assert said(plan(at(14.26)), "sharp horn")
    assert not said(plan(at(14.02)), "sharp horn")
    # The sides of the U, widened by 3, are 23 off the middle line and 15 from the edge: 2 x sqrt(23^2 + 15^2) = 54.9.
    assert "write slot: towards the left" in only(plan(at(15, 55)), "sharp horn").text
    assert "write slot" not in only(plan(at(15, 54)), "sharp horn").text
    assert not said(plan({**at(15, 55), "slot": "towards the left"}), "sharp horn")


def test_a_slot_in_a_turned_area_runs_along_the_tile_s_own_sides() -> None:
    # Worked example W7's tile, 297 x 297 turned by 45 about the crossing: a middle 30 from its left side, half way up,
    # lies 118.5 back along the tile, 118.5 / sqrt 2 = 83.793 left and below. Half a disc, and a strip of 30 x 35.
    back = 118.5 / math.sqrt(2.0)
    area = {"name": "field", "tile": "rib", "joint": 3, "turn": 45, "start": "middle on V and B"}
    riser = hole(opening=35, slot="towards the left", cover="none")
    riser |= {"across": f"centre {back:.6f} left of V", "up": f"centre {back:.6f} below B"}
    made = plan(riser, tile={"size": "297 x 297"}, areas=[area], edges={})
    (cut,) = [cut for piece in made.pieces for cut in piece.cuts]
    assert cut.share.area == pytest.approx(math.pi * 17.5**2 / 2 + 30 * 35, abs=0.01)
    assert cut.kind == "edge notch"


def test_a_rectangle_with_one_round_hole_has_nothing_thinner_than_its_web() -> None:
    for d, x, y, w, h in (
        (40.0, 60.0, 60.0, 300.0, 200.0),
        (90.0, 50.0, 50.0, 400.0, 100.0),
        (20.0, 10.5, 80.0, 98.0, 98.0),
    ):
        piece = cut_piece([opening("h", Circle(d), 251.0 + x, 800.0 + y)], w, h)
        web = min(x, y, w - x, h - y) - d / 2
        piece = replace(piece, cuts=(replace(piece.cuts[0], web=replace(piece.cuts[0].web, nearest=web)),))
        assert legs._has_only_webs(piece)
        assert thinnest(piece.outline, web) is None
        assert not list(legs._strips(piece.outline))
    boxed = cut_piece([opening("b", Rect(40.0, 40.0), 311.0, 860.0)], 300.0, 200.0)
    assert not legs._has_only_webs(boxed)


def test_a_thin_bridge_beside_a_mouth_and_its_horns_have_one_notch_for_both() -> None:
    # Tile field 1-5 is 297 x 197, from 1.5 right of V and from 0 up. A 36 hole, 21 in from the left and 181 up:
    # 21 - 18 = 3 of tile is left beside it, and its mouth is 16 under the top edge: acos(16 / 18) = 27.3 degrees. Slot
    # left alone leaves the horn at the right of the mouth, slot top alone the 3.
    def at(**more: object) -> dict[str, object]:
        return {**hole(x=1.5 + 21, y=181, opening=36, cover=65), **more}

    both = "write slot: towards the left and the top."
    for rule in ("thin bridge", "sharp horn"):
        assert both in only(plan(at()), rule).text
    left = only(plan(at(slot="towards the left")), "sharp horn")
    assert left.value == pytest.approx(math.degrees(math.acos(16 / 18)))
    assert "leaves a horn of 27 degrees that breaks off" in left.text
    assert both in left.text
    assert said(plan(at(slot="towards the top")), "thin bridge")
    made = plan(at(slot="towards the left and the top"))
    assert not said(made, "sharp horn")
    assert not said(made, "thin bridge")
