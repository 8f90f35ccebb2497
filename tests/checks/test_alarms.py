"""Alarms that were missing: each speaks with its figure by hand, and is silent beside it.

The wall is that of tests/checks/jobs.py: 297 x 197 tiles, joint 3, the first one 1.5 to 298.5 right of V and 0 to 197
above B, 2000 wide and 900 high: 98.5 at both ends, 100 at the top.
"""

from __future__ import annotations

from typing import Any

import pytest

from cutmarks.checks.model import Finding
from cutmarks.job import build_job
from cutmarks.plan import Plan, make_plan
from tests.checks.jobs import EDGES, hole, only, plan, said
from tests.checks.test_rules_of_surfaces import two_areas
from tests.properties.wall import BOX, plan_of


def edges(**sides: Any) -> dict[str, Any]:
    return {side: {**edge, **({"at": sides[side]} if side in sides else {})} for side, edge in EDGES.items()}


def test_a_cut_that_just_bites_the_next_tile_is_told_with_the_move_that_avoids_it() -> None:
    # 271.5 to 306.5 right of V: 5 into the tile that begins at 301.5. A fair share is a quarter of 35, 8.75. To spare
    # that tile the hole has to end 30 before the edge at 298.5: 306.5 - 268.5 is 38 to the right. (30 beyond 301.5 it
    # would be 60 to the left.) A joint 4 further left leaves 9, a fair share, and still two tiles to cut. The ends are
    # 98.5 and move with it: 136.5 and 60.5, which is not under 50.
    made = plan(hole(x=289.0, opening=35))
    found = only(made, "just bites")
    assert (found.level, found.about) == ("warn", ("field 1-6", "riser"))
    assert (found.value, found.limit) == (pytest.approx(5.0), pytest.approx(8.75))
    ends = "the ends are then 136\u00bd and 60\u00bd (now 98\u00bd and 98\u00bd)."
    assert found.text.endswith(f"Moving the start 38 towards the right avoids it; {ends}")


def test_advice_against_a_bite_spares_the_tile_and_does_not_make_the_bite_just_enough() -> None:
    # 138 to 214 above B: from 200 on 14 of it lie in the second course, and 15 would be a fair share, which the start 1
    # lower gives: still two tiles to cut. Its top stays 30 below an edge with the start 214 + 30 - 197 = 47 higher;
    # then 47 - 3 are left at the bottom, and 100 - 47 at the top.
    socket = hole("socket", x=150.0, y=176.0, what="1 gang box", opening="76 x 76", cover="86 x 86")
    found = only(plan(socket), "just bites")
    assert found.value == pytest.approx(14.0)
    ends = "the pieces at the bottom and the top are then 44 and 53 (now 197 and 100)."
    assert found.text.endswith(f"Moving the start 47 towards the top avoids it; {ends}")


@pytest.mark.parametrize(
    ("x", "y"),
    # Dead on the joint, dead on the crossing, and by a fair share: 9 into the tile from 301.5 on.
    [(300.0, 100.0), (300.0, 198.5), (293.0, 100.0), (150.0, 100.0)],
)
def test_dead_on_a_joint_or_a_crossing_is_fair(x: float, y: float) -> None:
    assert not said(plan(hole(x=x, y=y, opening=35)), "just bites")


def test_a_cut_that_bites_is_said_where_no_start_avoids_it_too() -> None:
    # Two that bite 5 to the right, and two that bite 5 to the left: 600 - 289 = 311.
    holes = [hole(name, x=x, y=y, opening=35) for name, x, y in (("a", 289.0, 60.0), ("b", 311.0, 140.0))]
    found = said(plan(*holes), "just bites")
    assert {name for one in found for name in one.about} >= {"a", "b"}
    assert not said(plan(*holes), "start can move")


def test_one_start_for_two_thin_bridges_of_two_sides() -> None:
    # 20 left of one to the tile's left edge (39 - 17.5 - 1.5) and 20 below the other (236.5 - 17.5 - 200 is 19); 30
    # wanted. 10 to the left and 11 down: 98.5 - 10 and + 10; 197 - 11, and 100 + 11 at the top.
    made = plan(hole("hot", x=39.0, opening=35), hole("low", x=150.0, y=236.5, opening=35))
    found = only(made, "start can move")
    assert (found.level, found.about) == ("note", ("field", "hot", "low"))
    assert found.text == (
        "field: moving the start 10 towards the left and 11 towards the bottom puts hot, low right, all at once; the "
        "ends are then 88\u00bd and 108\u00bd (now 98\u00bd and 98\u00bd); the pieces at the bottom and the top are "
        "then 186 and 111 (now 197 and 100)."
    )
    # Said once for the area, and not with each.
    assert not [one for one in said(made, "thin bridge") if "Moving" in one.text]


def test_no_start_is_told_that_puts_another_hole_wrong() -> None:
    # 20 to the left edge of one tile, 35 to the right edge of the next (563.5 + 35 = 598.5): 10 to the left leaves 25.
    one, other = hole("hot", x=39.0, opening=35), hole("cold", x=546.0, opening=35)
    (alone,) = said(plan(one), "thin bridge")
    (both,) = said(plan(one, other), "thin bridge")
    assert "Moving the start 10 towards the left" in alone.text
    assert "Moving" not in both.text


def test_no_start_is_told_that_only_lets_a_hole_run_out_of_its_tile() -> None:
    # 97 wide, a quarter is 24.25: 50 leave 47 in all, less than 24.25 on both sides; over the joint there is no bridge.
    made = plan(hole(x=46.5, opening=50), tile={"size": "97 x 197"})
    assert "Moving" not in only(made, "thin bridge").text


def test_no_start_is_told_that_takes_its_joints_off_another_area() -> None:
    # A second area from 400 on, its upright joints in line with the first's: the first keeps to them. Its start 3 to
    # the right of V they are not in line.
    def wall(start: str) -> Plan:
        areas = [
            {"name": "low", "tile": "rib", "joint": 3, "to": "397 above B", "start": STARTS},
            {"name": "high", "tile": "rib", "joint": 3, "from": "400 above B", "start": {**HIGH, "across": start}},
        ]
        return plan(hole(x=39.0, opening=35), areas=areas)

    assert "Moving" not in only(wall("joint on V"), "thin bridge").text
    assert "Moving the start 10 towards the left" in only(wall("middle on V"), "thin bridge").text


STARTS = {"across": "joint on V", "up": "sits on B"}
HIGH = {"across": "joint on V", "up": "sits on 400 above B"}


def test_mirror_images_are_told_of_trimmed_pieces_too_and_before_what_is_only_narrow() -> None:
    # Both ends are 43.5 wide, 20 of it left beside a pipe: 248.5 + 55 from the left of the one tile, as much from the
    # right of the other.
    def ends(cold: float, left: float = 945.0) -> list[Finding]:
        walls = edges(left=f"{left} left of V", right="945 right of V")
        hot = {**hole("hot", opening=22), "across": "centre 920 left of V"}
        holes = [hot, hole("cold", x=cold, opening=22)]
        return list(plan(*holes, edges=walls).findings)

    rules = [one.rule for one in ends(920.0)]
    assert rules.index("mirror images") < rules.index("narrow piece")
    assert "warn" in {one.level for one in ends(920.0) if one.rule == "mirror images"}
    # Within 1 they are taken for each other, and so they are not over it, nor where one is trimmed otherwise.
    assert "mirror images" in [one.rule for one in ends(920.9)]
    assert "mirror images" not in [one.rule for one in ends(921.2)]
    assert "mirror images" not in [one.rule for one in ends(920.0, left=955.0)]


def spaces(**keys: Any) -> list[Finding]:
    return [one for one in plan_of(**keys).findings if one.rule == "wide space"]


def test_a_window_between_two_areas_is_no_space() -> None:
    two = two_areas(402)
    assert [one.value for one in spaces(**two)] == [pytest.approx(200.0)]
    window = {"name": "strip", "across": "600 left to 600 right of V", "up": "202 to 402 above B", "gap": 0}
    two["surface"] = {**two["surface"], "windows": [window]}
    assert spaces(**two) == []


def side_by_side(start: str) -> list[Finding]:
    two = two_areas(204)
    two["surface"]["areas"][1]["start"]["across"] = start
    return [one for one in plan_of(**two).findings if one.rule == "joints nearly meet"]


def test_joints_of_two_areas_that_nearly_meet() -> None:
    # 100 and a joint of 2 in both: their upright joints miss each other by what the start is off.
    (found,) = side_by_side("joint on 3 right of V")
    assert (found.level, found.about, found.value) == ("warn", ("low", "high"), pytest.approx(3.0))
    assert "Moving the start of high 3 towards the left lets them run through." in found.text
    assert "4 towards the right" in side_by_side("joint on 4 left of V")[0].text
    # They meet; they plainly do not.
    assert side_by_side("joint on V") == []
    assert side_by_side("joint on 6 right of V") == []
    assert side_by_side("middle on V") == []


def test_joints_that_do_not_add_up_to_each_other_are_told_so() -> None:
    # Two of 100 with their joints make 204, one of 199 with its joint 201: at 201 right and left of V they miss by 3.
    def found(wide: int) -> list[Finding]:
        areas = [
            {"name": "low", "tile": "small", "joint": 2, "to": "202 above B", "start": STARTS},
            {"name": "high", "tile": "large", "joint": 2, "from": "204 above B"},
        ]
        areas[1]["start"] = {"across": "joint on V", "up": "sits on 204 above B"}
        small, large = {"size": "100 x 100", "measured": "yes"}, {"size": f"{wide} x 200", "measured": "yes"}
        lines = {"V": "plumb, middle", "B": "level, batten"}
        box = {**BOX, "left": "250 left of V", "right": "250 right of V"}
        wall = {"name": "wall", "kind": "wall", "lines": lines, "edges": box, "areas": areas}
        large["lay"] = "long side up"
        job = {"job": "add up", "tiles": {"small": small, "large": large}, "surfaces": [wall]}
        return [one for one in make_plan(build_job(job)).findings if one.rule == "joints nearly meet"]

    (off,) = found(199)
    assert off.value == pytest.approx(3.0)
    assert "do not add up" in off.text
    assert found(150) == []


def test_pieces_under_half_at_an_end_are_a_note_once_an_area() -> None:
    # 98.5 at both ends, of 297: half a pitch, 150, makes them 248.5.
    found = only(plan(), "under half")
    assert (found.level, found.about) == ("note", ("field",))
    assert found.text.startswith("field: pieces 98\u00bd wide at the left and the right: under half of a tile.")
    assert "leaves 248\u00bd at both ends." in found.text
    # 148.5 is half of 297; under a fifth (59.4) is narrow, and said as that.
    assert not said(plan(edges=edges(left="1050 left of V", right="1050 right of V")), "under half")
    narrow = plan(edges=edges(left="945 left of V", right="945 right of V"))
    assert said(narrow, "narrow piece")
    assert not said(narrow, "under half")


WITH_A_DOOR = {
    "left": {"at": "1000 left of V", "true": "plumb", "gap": 0},
    "right": {"at": "970 right of V", "true": "plumb", "gap": 0},
    "bottom": {"at": "0 above B", "true": "level", "gap": 0},
    "top": {"at": "1505 above B", "true": "level", "gap": 0},
}


def door_from(left: str) -> Plan:
    """Tiles of 300 with joints of 2 about V; a door from there to the right wall, 1000 high."""
    door = {"name": "hall", "across": f"{left} to 970 right of V", "up": "0 to 1000 above B", "gap": 0}
    return plan_of(tile={"size": "300 x 300"}, surface={"edges": WITH_A_DOOR, "doors": [door]})


def test_what_a_jamb_leaves_is_said_beside_the_doors_name_and_not_as_the_rooms_end() -> None:
    # Tiles begin 1, 303, 605, 907 right of V and end 1, 303, 605, 907 left of it: 970 - 907 = 63 at the right wall over
    # the door, 1000 - 907 = 93 at the left one, and 400 - 303 = 97 beside the door. 136 to the right: 93 + 136 = 229,
    # 63 - 136 + 302 = 229, and 97 - 136 + 302 = 263.
    found = only(door_from("400"), "under half")
    assert found.text == (
        "field: pieces 93 wide at the left, 63 wide at the right, 97 wide beside the door hall: under half of a tile. "
        "Moving the start 136 towards the right leaves 229 at both ends; beside the door hall 263 (now 97)."
    )
    # From 490 on 187 are left beside it, and the same move would leave 51: 115 to the left leaves 93 - 115 + 302 = 280
    # and 63 + 115 = 178, and 490 - 188 = a whole tile beside the door.
    found = only(door_from("490"), "under half")
    assert found.text.endswith(
        "at the right: under half of a tile. Moving the start 115 towards the left leaves 280 and 178 at the ends."
    )


def test_in_a_bond_under_half_is_said_only_where_another_start_leaves_more() -> None:
    # Half a tile off in every other course: 98.5 and 248.5 at both ends, and 98.5 is the most that both can have: any
    # move takes from the one end what it gives to the other, and half a pitch gives the same again.
    areas = [{"name": "field", "tile": "rib", "joint": 3, "bond": "half", "start": STARTS}]
    assert not said(plan(areas=areas), "under half")


def test_a_strip_under_a_ceiling_is_narrow_by_its_share_of_the_tile() -> None:
    # 80 of 597 is under a fifth, 119.4, and over 50: seen against the ceiling it is narrow all the same.
    tall = {"size": "297 x 597", "lay": "long side up"}
    found = only(plan(tile=tall, edges=edges(top="680 above B")), "narrow piece")
    assert (found.value, found.limit) == (pytest.approx(80.0), pytest.approx(119.4))
    assert not said(plan(tile=tall, edges=edges(top="720 above B")), "narrow piece")
    # A strip of 80 at the side has no ceiling over it.
    wide = {"size": "597 x 297", "lay": "long side across"}
    assert not said(plan(tile=wide, edges=edges(left="681.5 left of V", right="681.5 right of V")), "narrow piece")


def test_what_goes_over_less_than_nineteen_times_in_twenty_is_to_be_checked() -> None:
    # 70 + 2 x 3 of play under 80.4, read to both sides: about 87 in 100 (tests/checks/test_covers.py).
    box = {"what": "socket box", "size": "70 x 70", "cover": "80.4 x 80.4", "play": 3, "end": "comes off"}
    read = {"across": "115 to 185 right of V", "up": "65 to 135 above B"}
    (found,) = said(plan({"name": "socket", **box, **read}), "not sure")
    assert 0.75 < (found.value or 0.0) < 0.95
    assert found.level == "warn"
    assert not said(plan({"name": "socket", **box, **read}, limits={"sure": "75 %"}), "not sure")


def test_the_same_sentence_about_several_is_said_once() -> None:
    strip = {"name": "cable", "across": "0 to 1000 right of V", "up": "60 to 140 above B"}
    holes = [hole(name, x=x) for name, x in (("one", 150.0), ("two", 450.0), ("three", 750.0))]
    keys: dict[str, Any] = {"do not drill": [strip]}
    found = only(plan(*holes, **keys), "do not drill")
    assert found.about == ("one", "two", "three")
    assert found.text == "one lies in cable, where nothing is to be drilled. The same of two, three."
    # What differs in a figure is another sentence.
    leaning = [hole("thin", x=39.0, opening=35), hole("thinner", x=334.0, opening=35)]
    assert len(said(plan(*leaning), "thin bridge")) == 2


@pytest.mark.parametrize(
    ("right", "words"),
    [
        # The last tile but one ends at 901.5 - 3; 8.5 stay of the last, from 901.5 to 913 less the gap of 3.
        ("913 right of V", "only 8½ wide: a snap cutter does not take a strip under 10"),
        # It ends at 1198.5: to 1194 less 3 there comes 7.5 off.
        ("1194 right of V", "only 7½ comes off"),
    ],
)
def test_a_strip_that_a_snap_cutter_does_not_take_is_said(right: str, words: str) -> None:
    made = plan(edges={**EDGES, "right": {"at": right, "true": "plumb"}})
    found = only(made, "will not snap")
    assert words in found.text
    assert (found.level, found.limit) == ("note", pytest.approx(10.0))
    assert "common practice" in found.source


def test_what_snaps_and_what_is_a_matter_of_the_joints_is_no_such_strip() -> None:
    # 12.5 stay; and 3 off a tile is nothing that is cut.
    for right in ("917 right of V", "1198.5 right of V"):
        assert not said(plan(edges={**EDGES, "right": {"at": right, "true": "plumb"}}), "will not snap")
