"""Which piece is fixed before which; orders by hand from the rules of the trade."""

from __future__ import annotations

from typing import Any

import pytest

from cutmarks.fixing.model import FixedSides
from cutmarks.sides import Side
from tests.fixing.orders import order_on
from tests.properties.wall import BOX, built, cut_of, faults_of, plan_of


@pytest.mark.parametrize(
    ("area", "place", "sides"),
    [
        ({}, (0, 0), ("left", "bottom")),
        ({}, (-1, 0), ("right", "bottom")),
        ({}, (3, -1), ("left", "top")),
        ({}, (-2, -2), ("right", "top")),
        ({"start": {"across": "middle on V", "up": "sits on B"}}, (0, 0), ("left", "bottom")),
        ({"start": {"across": "right on V", "up": "hangs from B"}}, (0, 0), ("right", "top")),
        ({"work": "left to right"}, (-2, 0), ("left", "bottom")),
        ({"work": "right to left"}, (2, -1), ("right", "top")),
    ],
)
def test_work_goes_away_from_the_start_and_up_from_the_batten(
    area: dict[str, Any], place: tuple[int, int], sides: tuple[str, str]
) -> None:
    fixed = order_on(built(area=area)).sides("field", place)
    assert (fixed.across, fixed.up) == sides


@pytest.mark.parametrize(
    ("way_out", "sides"), [("left", ("right", "bottom")), ("top", ("left", "bottom")), ("bottom", ("left", "top"))]
)
def test_on_a_floor_work_goes_towards_the_way_out(way_out: str, sides: tuple[str, str]) -> None:
    surface = {"kind": "floor", "lines": {"V": "across", "B": "along"}, "way out": way_out}
    fixed = order_on(built(surface=surface)).sides("field", (0, 0))
    assert fixed == FixedSides(*sides)  # type: ignore[arg-type]


def ordered(order, area: str, places: list[tuple[int, int]]) -> list[tuple[int, int]]:
    return sorted(places, key=lambda place: order.rank(area, place))


ROW = [(column, 0) for column in (-2, -1, 0, 1, 2)]


@pytest.mark.parametrize(
    ("area", "columns"),
    [
        # [0, 0] lies right of V: it is first, then to the right, then to the left.
        ({}, (0, 1, 2, -1, -2)),
        ({"start": {"across": "right on V", "up": "sits on B"}}, (0, -1, -2, 1, 2)),
        ({"start": {"across": "middle on V", "up": "sits on B"}}, (0, 1, 2, -1, -2)),
        ({"work": "left to right"}, (-2, -1, 0, 1, 2)),
        ({"work": "right to left"}, (2, 1, 0, -1, -2)),
    ],
)
def test_a_course_goes_outward_from_the_tile_nearest_the_start_line(
    area: dict[str, Any], columns: tuple[int, ...]
) -> None:
    order = order_on(built(surface={"edges": {"left": "310 left of V", "right": "310 right of V"}}, area=area))
    assert [column for column, _ in ordered(order, "field", ROW)] == list(columns)


def test_in_a_half_bond_a_tie_goes_to_the_side_of_the_start_tile() -> None:
    # Middle on V: in the odd courses a joint lies on V, tiles of 100 at -101 to -1 and 1 to 101, alike near.
    area = {"bond": "half", "start": {"across": "middle on V", "up": "sits on B"}}
    order = order_on(built(area=area))
    # The row is shifted by 51 to the right: place 0 lies right of V, place -1 left of it.
    assert ordered(order, "field", [(-1, 1), (0, 1), (1, 1), (-2, 1)]) == [(0, 1), (1, 1), (-1, 1), (-2, 1)]


def test_courses_go_up_from_the_base_and_what_lies_under_it_waits_for_day_two() -> None:
    order = order_on(built(surface={"edges": BOX}))
    rows = [row for _, row in ordered(order, "field", [(0, row) for row in range(-3, 5)])]
    assert rows == [0, 1, 2, 3, 4, -1, -2, -3]
    assert [order.rank("field", (0, row)).day for row in (-2, -1, 0, 1)] == [2, 2, 1, 1]


def test_an_area_that_hangs_goes_down_and_has_no_second_day() -> None:
    area = {"start": {"across": "joint on V", "up": "hangs from 300 above B"}}
    order = order_on(built(surface={"edges": BOX}, area=area))
    rows = [row for _, row in ordered(order, "field", [(0, row) for row in range(-3, 3)])]
    assert rows == [0, -1, -2, -3, 1, 2]
    assert {order.rank("field", (0, row)).day for row in range(-3, 3)} == {1}


@pytest.mark.parametrize(("way_out", "rows"), [("bottom", (2, 1, 0, -1)), ("top", (-1, 0, 1, 2))])
def test_on_a_floor_the_course_furthest_from_the_door_is_first(way_out: str, rows: tuple[int, ...]) -> None:
    surface = {"kind": "floor", "lines": {"V": "across", "B": "along"}, "way out": way_out}
    order = order_on(built(surface=surface))
    assert [row for _, row in ordered(order, "field", [(0, row) for row in (-1, 0, 1, 2)])] == list(rows)
    assert order.rank("field", (0, -1)).day == 1


def test_trimmed_pieces_wait_for_the_whole_ones_of_their_course_where_the_job_says_so() -> None:
    # Worked from the left wall at 230 left of V, gap 3: place -3 keeps 227 - 205 = 22,
    # and is put in after the next one.
    edges = {"left": "230 left of V", "right": "230 right of V"}
    places = [(column, 0) for column in (-3, -2, -1, 0, 1, 2)]
    in_turn = order_on(built(surface={"edges": edges}, area={"work": "left to right"}))
    after = order_on(built(surface={"edges": edges, "cuts": "after"}, area={"work": "left to right"}))
    assert [column for column, _ in ordered(in_turn, "field", places)] == [-2, -3, -1, 0, 1, 2]
    assert [column for column, _ in ordered(after, "field", places)] == [-2, -1, 0, 1, -3, 2]
    # It keeps its course: the whole tiles of the next one are later.
    assert after.rank("field", (-3, 0)) < after.rank("field", (-2, 1))


LOW = {"name": "low", "tile": "square", "joint": 2, "to": "202 above B"}
HIGH = {"name": "high", "tile": "square", "joint": 2, "from": "204 above B"}
ON_B = {"across": "joint on V", "up": "sits on B"}


def areas_in_turn(*areas: dict[str, Any], **surface: Any) -> list[str]:
    order = order_on(built(surface={"edges": BOX, "areas": list(areas), **surface}))
    return sorted(order.areas, key=lambda name: order.areas[name].number)


def test_an_area_comes_after_the_one_that_it_stands_on() -> None:
    # The upper one is written first and its start lies lower: it stands on the lower one all the same.
    high, low = {**HIGH, "start": ON_B}, {**LOW, "start": {"across": "joint on V", "up": "middle on 150 above B"}}
    assert areas_in_turn(high, low) == ["low", "high"]
    assert areas_in_turn(high, low, first=["high"]) == ["high", "low"]


def test_side_by_side_the_lower_start_is_first_else_the_file_decides() -> None:
    left = {"name": "left part", "tile": "square", "joint": 2, "left of": "50 right of V"}
    right = {"name": "right part", "tile": "square", "joint": 2, "right of": "52 right of V"}
    above = {"across": "joint on V", "up": "sits on 10 above B"}
    assert areas_in_turn({**left, "start": above}, {**right, "start": ON_B}) == ["right part", "left part"]
    assert areas_in_turn({**right, "start": ON_B}, {**left, "start": ON_B}) == ["right part", "left part"]


HANGING = {**LOW, "start": {"across": "joint on V", "up": "hangs from 202 above B"}}
SITTING = {**HIGH, "start": {"across": "joint on V", "up": "sits on 204 above B"}}


def test_over_one_that_hangs_the_upper_area_is_taken_to_come_second_and_that_is_printed() -> None:
    # The lower one hangs from its top line, and the upper one stands there too: a wall is tiled upward.
    assert areas_in_turn(HANGING, SITTING) == ["low", "high"]
    assumed = plan_of(surface={"edges": BOX, "areas": [SITTING, HANGING]}).assumed
    assert (
        "wall: low hangs from its line and high sits right over it; low is taken to be fixed first, and high to stand "
        "on it. Write first: [high] where it is the other way."
    ) in assumed
    # What is said is not assumed; and where both hang the upper one is first, as the lower hangs from it.
    assert areas_in_turn(HANGING, SITTING, first=["high"]) == ["high", "low"]
    said = plan_of(surface={"edges": BOX, "areas": [HANGING, SITTING], "first": ["high"]}).assumed
    assert not [one for one in said if "fixed first" in one]
    both = {**HIGH, "start": {"across": "joint on V", "up": "hangs from 600 above B"}}
    assert areas_in_turn(HANGING, both) == ["high", "low"]


def test_the_piece_over_one_that_hangs_is_read_from_it() -> None:
    # The pipe 250 up is 250 - 202 = 48 from the top of the lower area, near side 40.5 and far side 55.5.
    hot = {"name": "hot", "what": "15 copper", "across": "42.5 to 57.5 right of V", "up": "242.5 to 257.5 above B"}
    made = plan_of(
        surface={"edges": BOX, "areas": [HANGING, SITTING]}, holes=[{**hot, "cover": 65, "end": "comes off"}]
    )
    (check,) = (check for check in cut_of(made, "hot").wall_checks if check.fixed and check.side is Side.BOTTOM)
    assert check.source.kind == "piece"
    assert check.source.name.startswith("low ")
    assert (check.near, check.far) == (pytest.approx(40.5), pytest.approx(55.5))


def at(*corners: tuple[int, int]) -> list[str]:
    return [f"{abs(x)} {'right' if x > 0 else 'left'} of V, {y} above B" for x, y in corners]


def test_areas_that_lie_over_each_other_are_asked_about() -> None:
    # The hook's foot lies under the block's arm, and its upper arm over all of the block.
    block = at((-300, 0), (-1, 0), (-1, 204), (400, 204), (400, 496), (-300, 496))
    hook = at((3, 0), (490, 0), (490, 590), (-300, 590), (-300, 500), (404, 500), (404, 200), (3, 200))
    areas = [
        {"name": name, "tile": "square", "joint": 2, "outline": outline, "start": ON_B}
        for name, outline in (("block", block), ("hook", hook))
    ]
    (sentence,) = faults_of(surface={"edges": BOX, "areas": areas})
    assert 'which is fixed first of "block" and "hook"?' in sentence
    assert "Write first: [block] on the surface" in sentence
    assert faults_of(surface={"edges": BOX, "areas": areas, "first": ["hook"]}) == []


def test_a_joint_of_50_between_two_areas_is_a_joint() -> None:
    # 252 less 202: the upper one stands on the lower, and is read from it.
    high = {**HIGH, "joint": 50, "from": "252 above B", "start": {"across": "joint on V", "up": "sits on 252 above B"}}
    low = {**LOW, "joint": 50, "start": {"across": "joint on V", "up": "middle on 300 above B"}}
    assert areas_in_turn(high, low) == ["low", "high"]
    # With joints of 2 so much is a band of something else, and the lower start is first.
    thin = {"joint": 2}
    assert areas_in_turn({**high, **thin}, {**low, **thin}) == ["high", "low"]


@pytest.mark.parametrize(
    ("first", "words"),
    [(["hihg"], "did you mean high?"), (["high", "high"], "stands under first: twice")],
)
def test_what_stands_under_first_is_an_area_once(first: list[str], words: str) -> None:
    areas = [{**LOW, "start": ON_B}, {**HIGH, "start": ON_B}]
    (sentence,) = faults_of(surface={"edges": BOX, "areas": areas, "first": first})
    assert words in sentence
