"""What was found at the wall moves the hole the right way, whichever neighbour it was read from."""

from __future__ import annotations

import pytest

from tests.told.walls import PIPE, only_cut, wall

RIGHT_TO_LEFT = "from: B, work: right to left, start: {across: joint on V, up: sits on B}"


def test_more_from_the_right_tile_moves_the_hole_left() -> None:
    # Fixed from the right: its tile begins at 601, so 601 - 433 = 168 and 601 - 418 = 183 are expected.
    plan = wall(area=RIGHT_TO_LEFT)
    _, cut = only_cut(plan)
    (check,) = [check for check in cut.wall_checks if check.fixed and check.side == "right"]
    assert (check.near, check.far) == (pytest.approx(168), pytest.approx(183))
    # 170 and 185 are 2 more: the hole moves away from that tile, to 173.5 + 2 from the right edge.
    _, cut = only_cut(wall(area=RIGHT_TO_LEFT, more="found: [{piece: field 3-R2, right: 170 to 185}]"))
    assert cut.from_right == pytest.approx(175.5)
    assert cut.from_left == pytest.approx(122.5)
    assert cut.centre.x == pytest.approx(122.5)


def test_less_from_the_course_above_moves_the_hole_up() -> None:
    # Hung from B: courses 0 to -198, -200 to -398, -400 to -598. 505 to 520 below B lies in the third, its middle
    # 112.5 from the top edge at -400; the course above ends at -398: 107 and 122 are expected.
    hung = {
        "area": "to: B, start: {across: joint on V, up: hangs from B}",
    }
    pipe = PIPE.replace("505 to 520 above B", "505 to 520 below B")
    _, cut = only_cut(wall(pipe, **hung))
    assert (cut.from_top, cut.from_bottom) == (pytest.approx(112.5), pytest.approx(85.5))
    (check,) = [check for check in cut.wall_checks if check.fixed and check.side == "top"]
    assert (check.near, check.far) == (pytest.approx(107), pytest.approx(122))
    piece = only_cut(wall(pipe, **hung))[0].name
    _, cut = only_cut(wall(pipe, **hung, more=f"found: [{{piece: {piece}, top: 104 to 119}}]"))
    # 3 less than expected: 3 nearer to the top edge.
    assert (cut.from_top, cut.from_bottom) == (pytest.approx(109.5), pytest.approx(88.5))


def test_a_sawn_edge_is_not_marked_from() -> None:
    # The wall ends 797 right of V, gap 3: the tile 601 to 899 is sawn at 794. Laid from the right that sawn edge is the
    # fixed side, and a pipe at 700 is read from the line on that side, 790 right of V: 790 - 707.5 and 790 - 692.5. It
    # is still marked from the maker's edge, 99 from the left.
    plan = wall(
        "what: 15 copper, across: 692.5 to 707.5 right of V, up: 505 to 520 above B, cover: 65, end: comes off",
        lines='W: "plumb, 790 right of V"',
        area=RIGHT_TO_LEFT,
        edges="right: {at: 797 right of V, true: plumb, gap: 3}",
    )
    piece, cut = only_cut(plan)
    assert piece.cut_edges == ("right",)
    (check,) = [check for check in cut.wall_checks if check.fixed and check.side.axis == "across"]
    assert (check.source.name, check.side, check.near, check.far) == (
        "W",
        "right",
        pytest.approx(82.5),
        pytest.approx(97.5),
    )
    assert cut.from_left == pytest.approx(99)
    assert cut.mark_from == ("left", "bottom")
    # 794 - 700: said to be from a sawn edge, never among the marks.
    assert dict(cut.from_cut_edges) == {"right": pytest.approx(94)}
