"""The four sides, by what a coordinate does; nothing here is read off the code."""

from __future__ import annotations

import json

import pytest

from cutmarks.geometry.edges import Bounds
from cutmarks.sides import ON_AXIS, SIDES, FourSides, Side

BOX = Bounds(10.0, 20.0, 40.0, 80.0)


@pytest.mark.parametrize(
    ("side", "axis", "step", "opposite", "mirrored"),
    [
        (Side.LEFT, "across", (-1, 0), Side.RIGHT, Side.RIGHT),
        (Side.RIGHT, "across", (1, 0), Side.LEFT, Side.LEFT),
        (Side.BOTTOM, "up", (0, -1), Side.TOP, Side.BOTTOM),
        (Side.TOP, "up", (0, 1), Side.BOTTOM, Side.TOP),
    ],
)
def test_a_side_knows_its_axis_its_way_and_the_other_side(side, axis, step, opposite, mirrored) -> None:
    assert (side.axis, side.step, side.opposite, side.mirrored) == (axis, step, opposite, mirrored)
    assert side in ON_AXIS[axis]
    assert set(side.beside) == set(SIDES) - {side, opposite}


@pytest.mark.parametrize(
    ("side", "at", "inward"), [(Side.LEFT, 10, 5), (Side.RIGHT, 40, 25), (Side.BOTTOM, 20, 7), (Side.TOP, 80, 53)]
)
def test_a_place_lies_so_far_in_from_each_side_of_a_box(side, at, inward) -> None:
    # The place 15, 27 in a box from 10 to 40 and from 20 to 80.
    assert BOX.at(side) == at
    assert BOX.inward(side, 15.0, 27.0) == inward
    moved = BOX.with_side(side, 0.5)
    assert [moved.at(one) for one in SIDES if one is not side] == [BOX.at(one) for one in SIDES if one is not side]
    assert moved.at(side) == 0.5


def test_four_values_are_found_by_their_side_and_change_hands_from_behind() -> None:
    four = FourSides("a", "b", "c", "d")
    assert [four[side] for side in (Side.TOP, Side.LEFT, Side.RIGHT, Side.BOTTOM)] == ["d", "a", "b", "c"]
    assert list(four.mirrored) == ["b", "a", "c", "d"]
    assert FourSides.of(lambda side: side.value) == FourSides("left", "right", "bottom", "top")


def test_a_side_is_its_word_in_a_file_and_a_sentence() -> None:
    assert json.dumps({"side": Side.TOP}) == '{"side": "top"}'
    assert f"{Side.LEFT} edge" == "left edge"
