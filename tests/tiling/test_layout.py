"""Names, words, strips that are too narrow, and areas that cannot lie side by side; figures by hand."""

from __future__ import annotations

from typing import Any

import pytest

from cutmarks.tiling.words import place_in_words
from tests.properties.wall import BOX, built, faults_of, ground_of, layouts_of


def near(value: float) -> Any:
    return pytest.approx(value, abs=1e-6)


# --- open sides ---


def test_where_nothing_was_read_pieces_are_counted_from_the_start() -> None:
    (layout,) = layouts_of(area={"start": {"across": "joint on V", "up": "joint on B"}})
    assert layout.is_open
    assert layout.counts().whole is None
    names = {place: layout.name(place) for place in ((0, 0), (2, 1), (-1, 0), (-3, -2))}
    assert names == {
        (0, 0): "field U1-R1",
        (2, 1): "field U2-R3",
        (-1, 0): "field U1-L1",
        (-3, -2): "field D2-L3",
    }
    for place, name in names.items():
        piece = layout.named(name)
        assert piece is not None
        assert piece.place == place
    assert layout.named("field U0-R1") is None
    assert layout.named("field 1-1") is None


def test_a_known_left_edge_counts_numbers_and_the_base_courses() -> None:
    # Left edge at -250 less 3: the tile at -101 to -1 is whole, -203 to -103 too, -305 to -205 keeps 42: number 1.
    (layout,) = layouts_of(surface={"edges": {"left": {"at": "250 left of V", "true": "plumb"}}})
    assert layout.name((-3, 0)) == "field 1-1"
    assert layout.name((0, 0)) == "field 1-4"
    (layout,) = layouts_of(area={"nothing below": "B"})
    assert layout.name((0, 0)) == "field 1-R1"


def test_edges_that_rake_towards_each_other_do_not_close_an_open_top() -> None:
    # 40 in 1000 each way: the edges would meet 25 m up, which is not the wall's end.
    edges = {
        "left": ["500 left of V at B", "480 left of V at 1000 above B"],
        "right": ["500 right of V at B", "480 right of V at 1000 above B"],
        "bottom": {"at": "B", "true": "level", "what": "worktop"},
    }
    (layout,) = layouts_of(surface={"edges": edges})
    assert layout.is_open
    assert list(layout.cut_places()) == []
    assert layout.counts().whole is None


def test_a_floor_that_falls_towards_an_open_side_counts_courses_from_the_start() -> None:
    # 10 in 1000 for ever: the lowest course is nowhere. A level floor has a lowest course all the same.
    on_nothing = {"start": {"across": "joint on V", "up": "joint 1 below B"}}
    falling = {"left": "500 left of V", "bottom": ["100 below B at 500 left of V", "110 below B at 500 right of V"]}
    (layout,) = layouts_of(surface={"edges": falling}, area=on_nothing)
    assert layout.name((0, 0)) == "field U1-6"
    (layout,) = layouts_of(surface={"edges": {"left": "500 left of V", "bottom": "100 below B"}}, area=on_nothing)
    # Floor at -100 and 5 over it: the course from -102 to -2 keeps 93.
    assert layout.name((0, 0)) == "field 2-6"


BELOW_B = (None, "150 below B", "100 below B", ["100 below B at 500 left of V", "110 below B at 500 right of V"])


@pytest.mark.parametrize("floor", BELOW_B)
def test_a_floor_that_is_measured_later_renames_nothing(floor: object) -> None:
    # The start sits on B: course 1 stands on it, and what lies under it is under 1, under 2 downward.
    edges = {"left": "500 left of V", **({} if floor is None else {"bottom": floor})}
    (layout,) = layouts_of(surface={"edges": edges})
    names = [layout.name((0, row)) for row in (2, 1, 0, -1)]
    assert names == ["field 3-6", "field 2-6", "field 1-6", "field under 1-6"]
    for row, name in zip((2, 1, 0, -1), names, strict=True):
        piece = layout.named(name)
        assert piece is not None
        assert piece.place == (0, row)


@pytest.mark.parametrize(
    ("area", "row", "course"),
    [
        # Its own lower limit is over the line that its start sits on: courses of 100 and joints of 2, 306 is row 3.
        ({"from": "306 above B"}, 3, 1),
        ({"from": "306 above B"}, 4, 2),
        ({"nothing below": "150 above B"}, 1, 1),
        # The start sits on a line over the lower limit: a batten is there, and what is under it waits.
        ({"from": "100 below B", "start": {"across": "joint on V", "up": "sits on B"}}, 0, 1),
        ({"from": "100 below B", "start": {"across": "joint on V", "up": "sits on B"}}, -1, -1),
        # It sits on nothing: from the lowest course, here the one cut at -395 (rows of 102 from -408 to -308).
        ({"start": {"across": "joint on V", "up": "joint 1 below B"}}, -4, 1),
    ],
)
def test_course_one_stands_on_the_areas_base(area: dict[str, Any], row: int, course: int) -> None:
    (layout,) = layouts_of(surface={"edges": BOX}, area=area)
    assert layout.course_number(row) == course
    assert layout.row_of(course) == row


def test_an_open_turned_area_is_open_along_its_own_courses() -> None:
    # Open to the right only, turned 30: along the courses that is to the right and downward.
    edges = {side: edge for side, edge in BOX.items() if side != "right"}
    (layout,) = layouts_of(surface={"edges": edges}, area={"turn": 30, "start": "corner on V and B"})
    assert layout.open_to == {"right", "bottom"}


# --- narrow strips ---


def strip_wall(right: float) -> dict[str, Any]:
    """Tiles end at 101, 203, 305; the clear ground ends at `right`."""
    edges = {**BOX, "right": {"at": f"{right} right of V", "true": "plumb", "gap": 0}}
    return {"surface": {"edges": edges}}


@pytest.mark.parametrize(
    ("right", "last"),
    # The next tile would begin at 307. A strip of joint + 1 = 3 and more past 305 is a piece of 1 and more.
    [(306, 2), (307.9, 2), (308, 3), (309, 3)],
)
def test_a_strip_under_its_joint_and_1_is_no_piece(right: float, last: int) -> None:
    (layout,) = layouts_of(**strip_wall(right))
    held = layout.columns_held(0)
    assert held is not None
    assert held[1] == last


def test_a_sliver_beside_a_window_is_no_part() -> None:
    # The window leaves 0.6 of the tile from 103 to 203 on its right, and 39 on its left.
    windows = [{"name": "window", "across": "142 to 202.4 right of V", "up": "100 below to 300 above B", "gap": 0}]
    (layout,) = layouts_of(surface={"edges": BOX, "windows": windows})
    shape = layout.shape((1, 1))
    assert shape is not None
    assert (shape.bounds.min_x, shape.bounds.max_x) == (near(0), near(39))
    assert ((1, 1), near(0.6)) in [(place, box.width) for place, box in layout.lost_strips()]


# --- words ---


@pytest.mark.parametrize(
    ("area", "say", "place", "words"),
    [
        ({}, "uk", (1, 1), "2nd course up from the batten, 2nd tile right of V"),
        ({}, "us", (1, 1), "2nd course up from the ledger, 2nd tile right of V"),
        ({}, "uk", (-1, -1), "1st course down from the batten, 1st tile left of V"),
        (
            {"start": {"across": "middle on V", "up": "sits on B"}},
            "uk",
            (0, 0),
            "1st course up from the batten, the tile across V",
        ),
        ({"bond": "half"}, "uk", (-1, 1), "2nd course up from the batten, the tile across V"),
        ({"bond": "half"}, "uk", (0, 1), "2nd course up from the batten, 1st tile right of V"),
        (
            {"start": {"across": "joint on V", "up": "joint on B"}},
            "uk",
            (11, 21),
            "22nd course up from B, 12th tile right of V",
        ),
        # What hangs from a line lies below it: its own course is the first down, the one above it the first up.
        (
            {"start": {"across": "right on V", "up": "hangs from B"}},
            "uk",
            (0, 0),
            "1st course down from B, 1st tile left of V",
        ),
        (
            {"start": {"across": "right on V", "up": "hangs from B"}},
            "uk",
            (1, 1),
            "1st course up from B, 1st tile right of V",
        ),
        (
            {"start": {"across": "right on V", "up": "hangs from B"}},
            "uk",
            (-1, -2),
            "3rd course down from B, 2nd tile left of V",
        ),
        (
            {"start": {"across": "middle on V", "up": "middle on B"}},
            "uk",
            (0, 0),
            "the course across B, the tile across V",
        ),
        (
            {"start": {"across": "middle on V", "up": "middle on B"}},
            "uk",
            (1, 1),
            "1st course up from B, 1st tile right of V",
        ),
        (
            {"start": {"across": "middle on V", "up": "hangs from 600 above B"}},
            "uk",
            (0, -1),
            "2nd course down (the 1st ends 600 above B), the tile across V",
        ),
    ],
)
def test_a_place_in_words(area: dict[str, Any], say: Any, place: tuple[int, int], words: str) -> None:
    (layout,) = layouts_of(area=area)
    job = built(area=area)
    assert place_in_words(layout, job.surfaces[0].areas[0], ground_of(area=area), say, place) == words


def test_on_a_floor_a_start_away_from_the_line_is_said_without_a_word_that_is_read_as_inches() -> None:
    area = {"start": {"across": "joint on V", "up": "sits on 4 in from B"}}
    surface = {"kind": "floor", "lines": {"V": "across", "B": "along"}}
    (layout,) = layouts_of(area=area, surface=surface)
    spec = built(area=area, surface=surface).surfaces[0].areas[0]
    words = place_in_words(layout, spec, ground_of(area=area, surface=surface), "uk", (1, 1))
    assert words == "2nd course in (the 1st begins 4 past B), 2nd tile right of V"


# --- faults ---


def two_areas(first: dict[str, Any], second: dict[str, Any]) -> dict[str, Any]:
    areas = [
        {
            "name": name,
            "tile": "square",
            "joint": 2,
            "start": {"across": "joint on V", "up": f"sits on {limits.get('from', 'B')}"},
            **limits,
        }
        for name, limits in (("low", first), ("high", second))
    ]
    return {"surface": {"edges": BOX, "areas": areas}}


@pytest.mark.parametrize(
    ("to", "begin", "words"),
    [
        ("200 above B", "150 above B", "overlaps area"),
        ("200 above B", "200 above B", "leaves 0 to area"),
        ("200 above B", "200.5 above B", "leaves 0.5 to area"),
        ("200 above B", "201 above B", ""),
        ("200 above B", "203 above B", ""),
    ],
)
def test_areas_need_a_joint_between_them(to: str, begin: str, words: str) -> None:
    faults = faults_of(**two_areas({"to": to}, {"from": begin}))
    assert [words in fault for fault in faults] == ([True] if words else [])


@pytest.mark.parametrize("edges", [{}, {"left": "500 left of V"}, {"left": "500 right of V"}, {"top": "900 above B"}])
def test_areas_that_overlap_without_end_are_not_measured(edges: dict[str, str]) -> None:
    areas = [
        {"name": name, "tile": "square", "joint": 2, "start": {"across": "joint on V", "up": "sits on B"}}
        for name in ("low", "high")
    ]
    (fault,) = faults_of(surface={"edges": edges, "areas": areas})
    assert 'overlaps area "low" on a side where nothing ends either of them: the borders are' in fault


def test_an_area_off_the_wall_is_a_fault() -> None:
    faults = faults_of(**two_areas({}, {"from": "700 above B"}))
    assert any("nothing of it lies inside" in fault for fault in faults), faults


@pytest.mark.parametrize(("below", "refused"), [(4, True), (6.9, True), (7, False), (50, False)])
def test_a_first_course_of_under_5_is_a_fault(below: float, refused: bool) -> None:
    # The course below the batten ends at -2; the ground begins `below` under B.
    edges = {**BOX, "bottom": {"at": f"{below} below B", "gap": 0, "what": "worktop"}}
    faults = faults_of(surface={"edges": edges})
    assert any("never a course" in fault for fault in faults) == (refused and below > 3), faults


def test_an_area_without_a_start_says_what_to_write() -> None:
    faults = faults_of(area={"start": None})
    assert any("write start:" in fault for fault in faults), faults


def test_an_areas_outline_that_crosses_itself_is_a_fault() -> None:
    spots = ["V, B", "100 right of V, 100 above B", "100 right of V, B", "V, 100 above B"]
    faults = faults_of(surface={"edges": BOX}, area={"outline": spots})
    assert any("crosses itself" in fault for fault in faults), faults


def test_an_outlined_area_holds_what_is_inside_its_outline() -> None:
    # An L of 306 x 306 less its upper right 204 x 204, corners on joints' far sides: 5 whole tiles.
    spots = ["1 right of V, B", "307 right of V, B", "307 right of V, 102 above B", "103 right of V, 102 above B"]
    spots += ["103 right of V, 306 above B", "1 right of V, 306 above B"]
    (layout,) = layouts_of(surface={"edges": BOX}, area={"outline": spots})
    counts = layout.counts()
    assert (counts.whole, counts.cut, counts.gone) == (5, 0, 0)


def test_a_course_that_its_name_counts_otherwise_is_said_by_both() -> None:
    """With a joint on the line nothing stands on it: names count from the lowest course, words from the line.

    Tiles of 100, joint 2: under the joint on B lies one course, 101 to 1 below it, so that the first above is course 2.
    """
    area = {"start": {"across": "joint on V", "up": "joint on B"}}
    surface = {"edges": {"bottom": {"at": "101 below B", "true": "level", "gap": 0}}}
    (layout,) = layouts_of(area=area, surface=surface)
    spec = built(area=area, surface=surface).surfaces[0].areas[0]
    words = place_in_words(layout, spec, ground_of(area=area, surface=surface), "uk", (0, 0))
    assert layout.name((0, 0)).startswith("field 2-")
    assert words == "course 2, the 1st up from B, 1st tile right of V"
