"""Every kind of reading to its place on the wall; figures by hand."""

from __future__ import annotations

from typing import Any

import pytest

from cutmarks.geometry.shapes import Circle, Outline, Rect, Slot
from cutmarks.locating.locate import locate_all
from cutmarks.locating.model import Located
from cutmarks.setout.surface import set_out
from cutmarks.tiling.areas import lay_out
from tests.properties.wall import BOX, built, faults_of

RAKING = {**BOX, "left": ["500 left of V at B", "520 left of V at 1000 above B"]}
"""The left edge leans out 20 in 1000."""


def near(value: float) -> Any:
    return pytest.approx(value, abs=1e-6)


def located(*holes: dict[str, Any], **surface: Any) -> list[Located]:
    job = built(surface=surface, holes=list(holes))
    faults = job.faults()
    setout = set_out(job.surfaces[0], job, faults)
    layouts = lay_out(job.surfaces[0], setout, job, faults)
    found = locate_all(job.surfaces[0].holes, setout, layouts, job, faults)
    assert not faults, list(faults)
    return found


def at(across: str, up: str = "on B", edges: Any = None, **hole: Any) -> tuple[float, float]:
    """Where a 15 copper pipe read so lies."""
    (found,) = located({"name": "pipe", "what": "15 copper", "across": across, "up": up, **hole}, edges=edges or {})
    return found.at.x, found.at.y


@pytest.mark.parametrize(
    ("across", "x"),
    [
        ("67 to 83 left of V", -75),
        ("67-82 right of V", 74.5),
        ("centre 75 left of V", -75),
        ("on V", 0),
        # A 15 pipe's near side at 60 right of V: its middle is 7.5 further.
        ("near side 60 right of V", 67.5),
        ("far side 60 right of V", 52.5),
        ("near side 60 left of V", -67.5),
        ("left side 60 right of V", 67.5),
        ("30 left to 20 right of V", -5),
    ],
)
def test_across_from_a_line(across: str, x: float) -> None:
    assert at(across) == (near(x), 0)


@pytest.mark.parametrize(
    ("up", "y"),
    [
        ("212 to 228 above B", 220),
        ("42 below to 30 above B", -6),
        ("underside 100 above B", 107.5),
        ("top 100 above B", 92.5),
        ("centre 30 below B", -30),
    ],
)
def test_up_from_a_line(up: str, y: float) -> None:
    assert at("on V", up) == (0, near(y))


@pytest.mark.parametrize(
    ("across", "x"),
    # The wall ends 500 either side of V.
    [
        ("277 in from right", 223),
        ("centre 277 in from left", -223),
        ("270 to 285 in from right", 222.5),
        ("near side 270 in from right", 222.5),
    ],
)
def test_in_from_an_edge(across: str, x: float) -> None:
    assert at(across, edges=BOX) == (near(x), 0)


def test_an_edge_out_of_true_is_read_at_that_height() -> None:
    # 250 up the edge is 5 further out: -505 + 100.
    assert at("100 in from left there", "centre 250 above B", RAKING) == (near(-405), 250)


def test_two_edges_out_of_true_that_need_each_other() -> None:
    # Left edge x = -500 - 0.02 y; floor y = -400 + 0.01 x. Read 100 in from the left and 50 up from the floor:
    # x = -400 - 0.02 y, y = -350 + 0.01 x, so y (1 + 0.0002) = -350 - 4, y = -354 / 1.0002, x = -400 - 0.02 y.
    edges = {**RAKING, "bottom": ["400 below B at V", "390 below B at 1000 right of V"]}
    y = -354 / 1.0002
    assert at("100 in from left", "50 up from bottom", edges) == (near(-400 - 0.02 * y), near(y))


def test_level_with_another_hole_in_either_order() -> None:
    hot = {"name": "hot", "what": "15 copper", "across": "67 to 83 left of V", "up": "212 to 228 above B"}
    cold = {"name": "cold", "what": "15 copper", "across": "67 to 83 right of V", "up": "level with hot"}
    for holes in ((hot, cold), (cold, hot)):
        places = {thing.spec.name: thing.at for thing in located(*holes)}
        assert (places["cold"].x, places["cold"].y) == (near(75), near(220))


def test_level_with_each_other_is_a_fault() -> None:
    one = {"name": "one", "what": "15 copper", "across": "on V", "up": "level with two"}
    two = {"name": "two", "what": "15 copper", "across": "on V", "up": "level with one"}
    faults = faults_of(holes=[one, two])
    circle = "one and two are placed by each other: read one of them from a line."
    assert faults == [f'hole "one", up: This goes round in a circle, {circle}']
    three = {"name": "three", "what": "15 copper", "across": "on V", "up": "level with two"}
    itself = {"name": "four", "what": "15 copper", "across": "plumb with four", "up": "on B"}
    assert faults_of(holes=[three, one, two, itself]) == [
        'hole "two", up: This goes round in a circle, two and one are placed by each other: read one of them from a '
        "line.",
        'hole "four", across: This goes round in a circle, it is placed by itself: read it from a line.',
    ]


def test_a_long_row_of_pipes_is_each_level_with_the_one_before() -> None:
    # 1,500 of them, the last the only one read: all lie where it does, at 100.
    last = 1_500
    holes = [
        {"name": f"h{n}", "what": "15 copper", "across": f"centre {n * 30} right of V", "up": f"level with h{n + 1}"}
        for n in range(last)
    ]
    holes.append({"name": f"h{last}", "what": "15 copper", "across": "on V", "up": "centre 100 above B"})
    assert {found.at.y for found in located(*holes)} == {100.0}


def test_in_a_course_up_from_the_tiles_own_lower_edge() -> None:
    # Courses of 100 and joints of 2 from B: course 4 begins at 306.
    (found,) = located(
        {"name": "pipe", "what": "15 copper", "across": "on V", "up": "in course 4, 98 up"},
        areas=[
            {
                "name": "field",
                "tile": "square",
                "joint": 2,
                "from": "B",
                "start": {"across": "joint on V", "up": "sits on B"},
            }
        ],
    )
    assert found.at.y == near(404)


BELOW = {"left": {"at": "500 left of V", "true": "plumb"}, "right": {"at": "500 right of V", "true": "plumb"}}
"""Tiles of 100 with joints of 2, a tile from 1 to 101 right of V and from 0 to 100 above B."""


def in_course(up: str, bottom: object, x: float = 50.0, **surface: object) -> Located:
    spec = {"name": "pipe", "what": "15 copper", "across": f"centre {x:g} right of V", "up": up}
    (found,) = located(spec, edges={**BELOW, "bottom": bottom}, **surface)
    return found


def test_in_a_course_that_is_cut_it_is_read_from_the_edge_that_is_seen() -> None:
    # The worktop is at 40 below B and its gap 3: under 1 lies from -102 to -2 and is cut at -37. 30 up from there is
    # -7; course 1 is whole and begins at 0.
    level = {"at": "40 below B", "true": "level", "what": "worktop", "gap": 3}
    assert in_course("in under 1, 30 up", level).at.y == near(-7)
    assert in_course("in under 1, 22.5 to 37.5 up", level).at.y == near(-7)
    assert in_course("in course 1, 30 up", level).at.y == near(30)


def test_a_little_rake_is_read_where_the_pipe_is() -> None:
    # From 42 below B at 500 left to 38 below at 500 right: 4 in 1000, so 0.4 over a tile: one size. At 50 right it
    # is 40 - 0.2 = 39.8 below, and 3 of gap above that.
    raking = {"at": ["42 below B at 500 left of V", "38 below B at 500 right of V"], "what": "worktop", "gap": 3}
    assert in_course("in under 1, 30 up", raking).at.y == near(-39.8 + 3 + 30)


@pytest.mark.parametrize(
    "bottom",
    [
        # 20 in 1000: 2 over a tile.
        {"at": ["50 below B at 500 left of V", "30 below B at 500 right of V"], "what": "worktop", "gap": 3},
        # A step of 20 under the very tile.
        {
            "steps": [{"at": "40 below B", "until": "60 right of V"}, {"at": "60 below B"}],
            "what": "worktop",
            "gap": 3,
        },
    ],
)
def test_in_a_course_that_is_not_cut_level_it_is_asked_for_otherwise(bottom: object) -> None:
    spec = {"name": "pipe", "what": "15 copper", "across": "centre 50 right of V", "up": "in under 1, 30 up"}
    (sentence,) = faults_of(surface={"edges": {**BELOW, "bottom": bottom}}, holes=[spec])
    assert '"in under 1, 30 up": the lower edge of that course is cut, and not at one height there' in sentence
    # What it offers is taken: the upper edge of under 1 is at -2.
    assert "as in centre 98 below the top edge of field under 1-6, or from a line" in sentence
    assert in_course("centre 98 below the top edge of field under 1-6", bottom).at.y == near(-100)


def test_a_step_under_another_tile_of_the_course_does_not_matter() -> None:
    steps = [{"at": "40 below B", "until": "250 right of V"}, {"at": "60 below B"}]
    stepped = {"steps": steps, "what": "worktop", "gap": 3}
    assert in_course("in under 1, 30 up", stepped).at.y == near(-7)
    assert in_course("in under 1, 30 up", stepped, x=350.0).at.y == near(-27)


def test_a_raking_side_of_the_piece_is_no_lower_edge() -> None:
    # The right edge opens upward by 10 in 100: the last piece is wider at its top than at its bottom.
    right = ["390 right of V at B", "400 right of V at 100 above B"]
    level = {"at": "0 above B", "true": "level", "what": "worktop", "gap": 0}
    assert in_course("in course 1, 30 up", level, 350.0).at.y == near(30)
    spec = {"name": "pipe", "what": "15 copper", "across": "centre 350 right of V", "up": "in course 1, 30 up"}
    (found,) = located(spec, edges={**BELOW, "right": right, "bottom": level})
    assert found.at.y == near(30)


@pytest.mark.parametrize(
    ("across", "x"),
    # Wall from -500 + 3: the tile at -509 to -409 keeps 88 and is number 1; number 6 lies at 1 to 101.
    [
        ("centre 30 from the left edge of field under 1-6", 31 - 60),
        ("centre 30 right of the left edge of field under 1-6", 31),
        ("centre 30 right of field under 1-6", 131),
        ("centre 30 left of field under 1-6", -29),
    ],
)
def test_from_a_fixed_piece(across: str, x: float) -> None:
    # "from the left edge" goes away from the piece, to its left: 1 - 30 = -29.
    assert at(across, "centre 50 above B", BOX)[0] == near(x)


def test_from_a_piece_that_is_not_there_is_a_fault() -> None:
    hole = {"name": "pipe", "what": "15 copper", "across": "centre 30 right of field 1-99", "up": "on B"}
    faults = faults_of(surface={"edges": BOX}, holes=[hole])
    assert any("there is no piece field 1-99" in fault for fault in faults), faults


# --- what shape it has ---


def thing(**hole: Any) -> Located:
    (found,) = located({"name": "thing", "across": "on V", "up": "on B", **hole})
    return found


def test_a_known_pipe_has_its_own_diameter_however_it_was_read() -> None:
    found = thing(what="15 copper", across="67 to 83 left of V")
    assert found.thing == Circle(15)
    assert found.read == (near(16), None)


def test_two_like_readings_of_something_unknown_are_round() -> None:
    # 44 and 43 differ by under 2, so that it is round, and the wider counts.
    found = thing(across="30 left to 14 right of V", up="20 below to 23 above B")
    assert found.thing == Circle(44)
    # 44 and 60 do not.
    found = thing(across="30 left to 14 right of V", up="20 below to 40 above B")
    assert found.thing == Rect(44, 60)
    # A box is a box even where it is square.
    found = thing(what="socket box", across="36 left to 36 right of V", up="36 below to 36 above B")
    assert found.thing == Rect(72, 72)


def test_own_sizes() -> None:
    assert thing(size="70 x 50").thing == Rect(70, 50)
    assert thing(size="70 x 50", lean=10).thing == Rect(70, 50, 10)
    assert thing(slot="40 x 20").thing == Slot(40, 20)
    # The first size lies across: a slot 20 across and 40 up stands on end.
    assert thing(slot="20 x 40").thing == Slot(40, 20, 90)
    assert thing(diameter=32).thing == Circle(32)


def test_a_box_by_its_corners_in_any_order() -> None:
    # A level box 72 x 60 about (-36, 230).
    spots = ["72 left of V, 200 above B", "V, 260 above B", "V, 200 above B", "72 left of V, 260 above B"]
    (found,) = located({"name": "box", "what": "socket box", "corners": spots})
    assert (found.at.x, found.at.y) == (near(-36), near(230))
    assert isinstance(found.thing, Rect)
    assert (found.thing.w, found.thing.h, found.thing.lean) == (near(72), near(60), near(0))


def test_a_box_by_corners_leans_as_its_lower_and_upper_side() -> None:
    # A 3-4-5 slope would be too much; 4 in 100 is 2.2906 degrees (arc tangent of 0.04, tables).
    spots = ["V, B", "100 right of V, 4 above B", "96 right of V, 104 above B", "4 left of V, 100 above B"]
    (found,) = located({"name": "box", "what": "socket box", "corners": spots})
    assert isinstance(found.thing, Rect)
    assert found.thing.lean == pytest.approx(2.2906, abs=1e-4)
    # What a tape reads is from its outermost corner to its outermost corner: 104 both ways.
    assert found.ring.bounds.width == near(104)
    # Its own sides are sqrt(100^2 + 4^2) = 100.079968.
    assert (found.thing.w, found.thing.h) == (pytest.approx(100.079968), pytest.approx(100.079968))


def test_an_outline_keeps_its_shape() -> None:
    spots = ["V, B", "30 right of V, B", "30 right of V, 10 above B", "10 right of V, 10 above B"]
    spots += ["10 right of V, 40 above B", "V, 40 above B"]
    (found,) = located({"name": "valve", "outline": spots})
    assert isinstance(found.thing, Outline)
    assert (found.at.x, found.at.y) == (near(15), near(20))
    # An L of 30 x 10 and 10 x 30.
    assert found.ring.area == near(600)


@pytest.mark.parametrize(
    ("hole", "words"),
    [
        ({"across": "on V", "up": "on B"}, "Its size is not known"),
        ({"across": "near side 60 right of V", "up": "on B"}, "whose size is not known"),
        ({"what": "15 copper", "across": "20 in from left", "up": "on B"}, "which has no reading"),
        ({"what": "15 copper", "across": "on V", "up": "level with nobody"}, "nobody"),
        (
            {"outline": ["V, B", "100 right of V, 100 above B", "100 right of V, B", "V, 100 above B"]},
            "crosses itself",
        ),
        ({"diameter": 0, "across": "on V", "up": "on B"}, "0"),
    ],
)
def test_what_has_no_place_or_size(hole: dict[str, Any], words: str) -> None:
    faults = faults_of(holes=[{"name": "thing", **hole}])
    assert any(words in fault for fault in faults), faults


def test_in_a_course_among_several_readings_it_needs_one_height_all_along() -> None:
    level = {"at": "40 below B", "true": "level", "what": "worktop", "gap": 3}
    spec = {"name": "pipe", "what": "15 copper", "across": "centre 50 right of V", "up": "in under 1, 30 up"}
    more = {**spec, "readings": ["centre 50 right of V"]}
    (found,) = located(more, edges={**BELOW, "bottom": level})
    assert found.at.y == near(-7)
    steps = [{"at": "40 below B", "until": "250 right of V"}, {"at": "60 below B"}]
    faults = faults_of(surface={"edges": {**BELOW, "bottom": {"steps": steps, "what": "worktop"}}}, holes=[more])
    assert "not at one height there" in faults[0]
