"""Surfaces without a start, and without tiles: what needs no grid is looked at, and what was not is known.

The figures are by hand; the wall is that of `jobs`: V in its middle, 1000 either side, 900 high.
"""

from __future__ import annotations

from math import exp
from typing import Any

import pytest

from cutmarks.checks.rules import NEED_A_GRID, OF_THE_TILES, RULES
from cutmarks.cli.unlooked import unlooked_lines
from cutmarks.errors import JobError
from cutmarks.job import build_job
from cutmarks.plan import Plan, make_plan
from tests.checks.jobs import EDGES, hole, only, said

LINES = {"V": "plumb, middle", "B": "level, top of the batten"}
TILES = {"rib": {"size": "297 x 197", "run across": "5 in 1497", "thickness": 9, "bed": 4}}
AREA = {"name": "field", "tile": "rib", "joint": 3}
START = {"start": {"across": "joint on V", "up": "sits on B"}}


def surface(name: str, *holes: object, **keys: Any) -> dict[str, Any]:
    """A wall without areas; `keys` go to it."""
    return {"name": name, "kind": "wall", "lines": LINES, "edges": EDGES, "holes": list(holes), **keys}


def looked_at(*surfaces: object, **job: Any) -> Plan:
    return make_plan(build_job({"job": "unlaid", "surfaces": list(surfaces), **job}), undecided=True)


def test_covers_and_depth_are_looked_at_without_a_start() -> None:
    made = looked_at(
        surface(
            "wall",
            hole(
                "left tap",
                across="centre 95 left of V",
                y=335,
                cover=170,
                depth="90 behind the board",
                **{"depth range": "45 to 70"},
            ),
            hole("right tap", x=65, y=335, cover=170),
            areas=[AREA],
        ),
        tiles=TILES,
    )
    # 160 from middle to middle, and each cover reaches 85: they overlap by 10.
    assert only(made, "covers overlap").value == pytest.approx(10)
    # 90 + bed 4 + tile 9 = 103, and 70 is the most.
    assert only(made, "too deep").value == pytest.approx(103)
    assert made.surfaces[0].unlooked is not None
    assert (made.surfaces[0].unlooked.lacks, made.surfaces[0].unlooked.areas) == ("start", ("field",))
    assert not made.pieces
    assert not made.laid


def test_the_surface_beside_it_is_looked_at_whole() -> None:
    alone = looked_at(surface("wall", hole("riser", x=39), areas=[{**AREA, **START}]), tiles=TILES)
    both = looked_at(
        surface("wall", hole("riser", x=39), areas=[{**AREA, **START}]),
        surface("other", hole("feed", x=39), areas=[{**AREA, "name": "second"}]),
        tiles=TILES,
    )
    assert said(alone, "thin bridge")
    assert both.pieces == alone.pieces
    assert [one for one in both.findings if {"riser", "field"} & {*one.about}] == list(alone.findings)
    assert not any(one.rule in NEED_A_GRID for one in both.findings if "feed" in one.about)
    assert [one.setout.name for one in both.laid] == ["wall"]


def test_only_the_tile_that_comes_over_a_hole_counts_for_its_depth() -> None:
    deep = {"depth": "60 behind the board", "depth range": "60 to 72"}
    made = looked_at(
        surface(
            "wall",
            hole("low", y=100, **deep),
            hole("high", y=700, **deep),
            areas=[{**AREA, "to": "400 above B"}, {**AREA, "name": "upper", "tile": "slab", "from": "403 above B"}],
        ),
        tiles={**TILES, "slab": {"size": "397 x 197", "measured": "yes", "thickness": 14, "bed": 6}},
    )
    # Below 60 + 13 = 73, 1 too deep; above 60 + 20 = 80, 8 too deep.
    assert {one.about[0]: one.value for one in said(made, "too deep")} == {"low": 73.0, "high": 80.0}


def test_a_run_that_is_not_the_size_is_told_without_a_start() -> None:
    # (1527 + 3) / 5 - 3 = 303: 6 more than the 297 as written, and 5 is the most.
    made = looked_at(
        surface("wall", areas=[AREA]), tiles={"rib": {"size": "297 x 197", "run across": "5 in 1527", "thickness": 9}}
    )
    assert only(made, "run and size differ").value == pytest.approx(6)


def test_a_hole_read_from_a_course_waits_for_the_tiles_and_so_does_what_hangs_on_it() -> None:
    made = looked_at(
        surface(
            "wall",
            {"name": "spout", "what": "15 copper", "across": "centre 75 left of V", "up": "in course 3, 50 up"},
            {"name": "twin", "what": "15 copper", "across": "centre 75 right of V", "up": "level with spout"},
            hole("free", x=400),
            areas=[AREA],
        ),
        tiles=TILES,
    )
    assert made.surfaces[0].unlooked is not None
    assert made.surfaces[0].unlooked.holes == ("spout", "twin")
    assert [one.name for one in made.openings] == ["free"]


def test_a_slot_is_not_drawn_before_its_tile_is_known_and_nothing_is_said_of_it() -> None:
    made = looked_at(surface("wall", hole("riser", slot="towards the left"), areas=[AREA]), tiles=TILES)
    assert not said(made, "slot not drawn")
    assert not made.openings[0].opened


def test_what_lies_off_the_wall_and_areas_that_overlap_are_refused_all_the_same() -> None:
    with pytest.raises(JobError, match="it lies off wall"):
        looked_at(surface("wall", hole(x=1200), areas=[AREA]), tiles=TILES)
    with pytest.raises(JobError, match='overlaps area "field"'):
        looked_at(surface("wall", areas=[AREA, {**AREA, "name": "second"}]), tiles=TILES)


def test_make_refuses_an_area_without_a_start() -> None:
    job = build_job({"job": "unlaid", "tiles": TILES, "surfaces": [surface("wall", hole(), areas=[AREA])]})
    with pytest.raises(JobError, match="no start: write start:"):
        make_plan(job)


def test_what_was_accepted_of_a_rule_that_was_not_looked_for_is_no_slip() -> None:
    accept = [{"rule": rule, "about": "riser", "reason": "it is hidden"} for rule in ("thin bridge", "covers overlap")]
    made = looked_at(surface("wall", hole(), areas=[AREA]), tiles=TILES, accept=accept)
    assert ["covers overlap" in one.text for one in said(made, "accepted, not found")] == [True]


def test_what_was_found_at_a_piece_that_is_not_laid_yet_is_no_fault() -> None:
    found = [{"piece": "field 1-3", "cut": "yes"}]
    assert not looked_at(surface("wall", hole(), areas=[AREA]), tiles=TILES, found=found).found
    with pytest.raises(JobError, match="there is no such piece"):
        looked_at(surface("wall", hole(), areas=[AREA]), tiles=TILES, found=[{"piece": "splash 1-3", "cut": "yes"}])


def test_what_was_found_at_a_fitting_is_led_to_its_own_record() -> None:
    # Nothing is cut where no tile is laid: the fitting has its row under AS BUILT, and its readings in the job.
    with pytest.raises(JobError, match=r"where no tile is laid yet, and nothing is cut\. Fill in AS BUILT"):
        looked_at(surface("wall", hole()), found=[{"piece": "Riser", "left": "70 to 86"}])


def test_how_sure_it_is_by_its_readings_alone() -> None:
    made = looked_at(surface("wall", hole(play=0.5), areas=[AREA]), tiles=TILES)
    (sure,) = made.sure
    assert (sure.hole, sure.piece) == ("riser", "")
    # A centre by eye is good to 2 each way and a line to 0.6 (two sigma, `check --why`): the root of 4.36 together.
    assert sure.give_or_take == pytest.approx(4.36**0.5)
    # A round normal spread of sigma s stays within r so often: 1 - exp(-r2 / 2 s2); here s2 is 4.36 / 4, r is 0.5.
    assert sure.chance == pytest.approx(1 - exp(-0.25 / 2.18), abs=0.002)
    assert only(made, "not sure").about == ("riser",)


@pytest.mark.parametrize(
    ("keys", "remedy"),
    [
        # A pipe of 15 in a hole of 35 has 10 each way, and a cover of 38 hides only 1.5 past the hole.
        ({"opening": 35, "cover": 38}, "take a bigger cover"),
        # Half a millimetre round it, and a cover of 65 that reaches 24.5 past the hole.
        ({"play": 0.5, "cover": 65}, "give it more room"),
    ],
)
def test_what_makes_it_unsure_is_what_is_to_be_mended(keys: dict[str, Any], remedy: str) -> None:
    made = looked_at(surface("wall", hole(**keys), areas=[AREA]), tiles=TILES)
    assert remedy in only(made, "not sure").text


def test_rules_of_one_look_need_a_grid_alike() -> None:
    looks: dict[object, set[str]] = {}
    for rule in RULES:
        looks.setdefault(rule.look, set()).add(rule.grid)
    assert all(len(grids) == 1 for grids in looks.values())
    # What is said not to be looked at is what they look at.
    assert {rule.grid for rule in RULES if rule.grid} == set(OF_THE_TILES)


def test_without_tiles_the_surface_says_what_comes_on_it() -> None:
    deep = {"depth": "60 behind the studs", "depth range": "60 to 85"}
    thick = {"board": 12, "thickness": 11, "notch": 8}
    made = looked_at(surface("wall", hole(**deep), **thick))
    # Board 12 + half of a notch of 8 + tile 11 = 27 on 60: 87, 2 too deep.
    assert only(made, "too deep").value == pytest.approx(87)
    assert not said(looked_at(surface("wall", hole(**deep), **{**thick, "thickness": 9})), "too deep")
    assert said(looked_at(surface("wall", hole(**deep), board=12)), "depth not known")
    assert not said(looked_at(surface("wall", hole())), "on no tile")


@pytest.mark.parametrize(
    ("start", "missing", "example"),
    [("joint on V", "up", "sits on B"), ("bottom edge 3 up from B", "across", "joint on V")],
)
def test_half_a_start_is_said_to_be_half_of_one(start: str, missing: str, example: str) -> None:
    wall = surface("wall", hole(), areas=[{**AREA, "start": start}])
    made = looked_at(wall, tiles=TILES)
    unlooked = made.surfaces[0].unlooked
    assert unlooked is not None
    assert (unlooked.areas, unlooked.half) == (("field",), (f"{missing} of field",))
    assert any(f"{missing} of field is not said" in line for line in unlooked_lines(made))
    with pytest.raises(JobError, match=f"half a start: say {missing} too, as in {example}"):
        make_plan(build_job({"job": "unlaid", "surfaces": [wall], "tiles": TILES}))
