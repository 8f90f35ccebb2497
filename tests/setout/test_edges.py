"""Edges as measured, and the ground that they leave; every expected figure is worked by hand beside it."""

from __future__ import annotations

from typing import Any

import pytest

from cutmarks.geometry.regions import spans_across, spans_up
from cutmarks.setout.edges import FAR, position_at
from cutmarks.sides import Side
from tests.properties.wall import BOX, faults_of, ground_of

CLOSE = 1e-6


def near(value: float) -> Any:
    return pytest.approx(value, abs=CLOSE)


@pytest.mark.parametrize(
    ("height", "x"),
    # 9 mm in 1800: the end stretches go on at 1 in 200.
    [(0, 1020), (900, 1015.5), (1800, 1011), (-200, 1021), (3600, 1002)],
)
def test_an_edge_of_two_readings_goes_on_past_them(height: float, x: float) -> None:
    setout = ground_of(surface={"edges": {"right": ["1020 right of V at B", "1011 right of V at 1800 above B"]}})
    assert position_at(setout.edges[Side.RIGHT], height) == near(x)


@pytest.mark.parametrize(
    ("along", "y"), [(-400, -110), (-300, -105), (-200, -100), (0, -104), (200, -108), (300, -110)]
)
def test_an_edge_of_three_readings_bends_at_the_middle_one(along: float, y: float) -> None:
    # 5 in 100 up to the middle reading, 8 in 400 down after it; in any order of writing.
    edge = ["108 below B at 200 right of V", "100 below B at 200 left of V", "105 below B at 300 left of V"]
    setout = ground_of(surface={"edges": {"bottom": edge}})
    assert position_at(setout.edges[Side.BOTTOM], along) == near(y)


def test_one_reading_is_plumb_or_level_and_said_to_be_assumed() -> None:
    edges = {"left": "500 left of V", "bottom": {"at": "400 below B", "true": "level"}}
    setout = ground_of(surface={"edges": edges})
    assert position_at(setout.edges[Side.LEFT], 12345) == -500
    assert setout.edges[Side.LEFT].assumed
    assert not setout.edges[Side.BOTTOM].assumed
    assert setout.open_sides == {"right", "top"}
    assert setout.outline is None


def test_a_gap_is_taken_level_from_a_raking_upright_edge() -> None:
    # At 900 the edge is at 1015.5; 4 of gap leaves 1011.5, though at right angles to the edge it would be a hair more.
    readings = ["1020 right of V at B", "1011 right of V at 1800 above B"]
    setout = ground_of(surface={"edges": {"right": readings}, "gaps": {"right": 4}})
    assert spans_across(setout.clear, 900)[-1][1] == near(1011.5)


def test_a_gap_is_taken_plumb_from_a_floor_out_of_level() -> None:
    # 20 in 400: at the middle the floor is 110 below B, and tile may begin 5 above that.
    floor = ["100 below B at 200 left of V", "120 below B at 200 right of V"]
    setout = ground_of(surface={"edges": {"bottom": floor}, "gaps": {"bottom": 5}})
    assert spans_up(setout.clear, 0)[0][0] == near(-105)


def test_what_is_still_to_come_comes_off_before_the_gap() -> None:
    # A bed of 5 and a tile of 9 on the next wall, and then 3: tile begins at -500 + 14 + 3.
    edges = {"left": {"at": "500 left of V", "what": "next wall", "still to come": 14, "gap": 3}}
    setout = ground_of(surface={"edges": edges})
    assert spans_across(setout.clear, 0)[0][0] == near(-483)
    assert setout.edges[Side.LEFT].still_to_come == 14


def test_what_was_not_said_of_a_next_wall_is_not_known() -> None:
    edges = {"left": {"at": "500 left of V", "what": "next wall"}, "right": {"at": "500 right of V", "what": "pier"}}
    setout = ground_of(surface={"edges": edges})
    assert setout.edges[Side.LEFT].still_to_come is None
    assert setout.edges[Side.RIGHT].still_to_come == 0


@pytest.mark.parametrize(
    ("side", "kind", "what", "gap"),
    # Common practice, no published source: 5 over a floor, 3 at all else; a worktop is no floor, and a floor has none.
    [
        ("bottom", "wall", "", 5),
        ("bottom", "wall", "floor", 5),
        ("bottom", "wall", "worktop", 3),
        ("top", "wall", "", 3),
        ("bottom", "floor", "", 3),
    ],
)
def test_gaps_that_nobody_gave(side: Any, kind: str, what: str, gap: float) -> None:
    lines = {"V": "plumb", "B": "level"} if kind == "wall" else {"V": "across", "B": "along"}
    edges = {side: {"at": "400 below B", "what": what}}
    assert ground_of(surface={"kind": kind, "lines": lines, "edges": edges}).edges[side].gap == gap


def test_an_edges_own_gap_goes_before_the_surfaces() -> None:
    edges = {"left": {"at": "500 left of V", "gap": 8}, "right": "500 right of V"}
    setout = ground_of(surface={"edges": edges, "gaps": {"left": 2, "right": 2}})
    assert spans_across(setout.clear, 0) == [(near(-492), near(498))]


STEPPED = {
    "bottom": {
        "steps": [
            {"at": "500 below B", "until": "200 left of V", "what": "floor", "gap": 5},
            {"at": "100 below B", "what": "bath", "gap": 3},
        ]
    }
}


@pytest.mark.parametrize(
    ("x", "lowest"),
    # Floor 500 below, 5 clear; rim 100 below, 3 clear, and the bath's upright end is kept clear by its own 3 as well.
    [(-1000, -495), (-203.5, -495), (-202.5, -97), (-200, -97), (1000, -97)],
)
def test_a_bath_steps_the_edge(x: float, lowest: float) -> None:
    setout = ground_of(surface={"edges": STEPPED})
    assert spans_up(setout.clear, x)[0][0] == near(lowest)


def test_a_recess_is_kept_clear_of_its_face_too() -> None:
    # The other way round: the bath ends at -200 and the floor goes on; the bath's end face keeps 3 clear on its right.
    steps = [
        {"at": "100 below B", "until": "200 left of V", "what": "bath", "gap": 3},
        {"at": "500 below B", "what": "floor", "gap": 5},
    ]
    setout = ground_of(surface={"edges": {"bottom": {"steps": steps}}})
    assert spans_up(setout.clear, -197.5)[0][0] == near(-97)
    assert spans_up(setout.clear, -196.5)[0][0] == near(-495)


def test_the_bare_outline_has_no_gaps() -> None:
    setout = ground_of(surface={"edges": BOX})
    assert setout.outline is not None
    assert setout.outline.area == near(1000 * 1000)
    # 3 all round (the worktop is no floor): 994 x 994.
    assert setout.clear.area == near(994 * 994)


def test_an_outlines_sides_take_the_gap_of_the_way_they_face() -> None:
    outline = ["500 left of V, 400 below B", "500 right of V, 400 below B", "500 right of V, 400 above B"]
    outline.append("500 left of V, 400 above B")
    gaps = {"left": 2, "right": 4, "bottom": 6, "top": 8}
    setout = ground_of(surface={"outline": outline, "gaps": gaps})
    assert spans_across(setout.clear, 0) == [(near(-498), near(496))]
    assert spans_up(setout.clear, 0) == [(near(-394), near(392))]
    clockwise = ground_of(surface={"outline": outline[::-1], "gaps": gaps})
    assert clockwise.clear.area == near(994 * 786)


def test_an_outlines_gap_is_at_right_angles_to_a_slope() -> None:
    # Under a stair falling 3 in 4, a 3-4-5 triangle: 5 at right angles is 5 x 5/4 = 6.25 plumb.
    outline = ["0 right of V, 0 above B", "1000 right of V, 0 above B", "1000 right of V, 50 above B"]
    outline.append("0 right of V, 800 above B")
    setout = ground_of(surface={"outline": outline, "gaps": {"left": 3, "right": 3, "bottom": 3, "top": 5}})
    assert spans_up(setout.clear, 400)[-1][1] == near(800 - 300 - 6.25)


def test_sides_that_nobody_read_run_on() -> None:
    setout = ground_of()
    assert setout.open_sides == {"left", "right", "bottom", "top"}
    assert spans_across(setout.clear, 0) == [(near(-FAR), near(FAR))]


@pytest.mark.parametrize(
    ("surface", "words"),
    [
        (
            {"edges": {"left": "10 right of V", "right": "10 left of V"}},
            "The right edge lies 20 mm left of the left one: look at which side of which line was written.",
        ),
        (
            {"edges": {"left": ["500 left of V at B", "510 left of V at 0 above B"]}},
            'Two of its readings were taken at one place, "0 above B": keep one, or write where the other was taken',
        ),
        (
            {"outline": ["0 right of V, B", "100 right of V, 100 above B", "100 right of V, B", "V, 100 above B"]},
            "Its outline crosses itself near 50 right and 50 up from where the lines cross: list its corners in order",
        ),
        (
            {"outline": ["V, B", "30 right of V, B", "30 right of V, 900 above B", "V, 900 above B"], "gaps": 20},
            "its gaps cannot be taken off its outline",
        ),
        (
            {
                "edges": {
                    "bottom": {
                        "steps": [
                            {"at": "500 below B", "until": "200 right of V"},
                            {"at": "100 below B", "until": "200 left of V"},
                            {"at": "300 below B"},
                        ]
                    }
                }
            },
            "its steps run into each other",
        ),
    ],
)
def test_edges_that_cannot_be(surface: dict[str, Any], words: str) -> None:
    faults = faults_of(surface=surface)
    assert any(words in fault for fault in faults), faults


@pytest.mark.parametrize(
    ("rise", "area"),
    # The soffit of a stair over a wall of 1000 to each side, gap 3 beside it and over it: between 997 left and 997
    # right it is 400 + 3 r - 3 high at the left and 400 + 1997 r - 3 at the right: (397 + 1000 r) x 1994, where r is
    # 1 for 2000, 1.05 for 2100 and 3 for 6000.
    [(2000, 1397 * 1994), (2100, 1447 * 1994), (6000, 3397 * 1994)],
)
def test_an_edge_may_rake_by_45_degrees_and_more(rise: int, area: float) -> None:
    edges = {
        "left": {"at": "1000 left of V", "true": "plumb", "gap": 3},
        "right": {"at": "1000 right of V", "true": "plumb", "gap": 3},
        "bottom": {"at": "0 above B", "true": "level", "gap": 0},
        "top": {"at": ["400 above B at 1000 left of V", f"{400 + rise} above B at 1000 right of V"], "gap": 3},
    }
    assert ground_of(surface={"edges": edges}).clear.area == pytest.approx(area, abs=0.01)
