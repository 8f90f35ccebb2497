"""What was found at the wall moves the hole the right way, whichever neighbour it was read from."""

from __future__ import annotations

import pytest

from cutmarks import make_plan, parse_job
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
    # The wall ends 797 right of V, gap 3: the tile 601 to 899 is sawn at 794. Laid from the right it is cut where its
    # course begins, and goes up after the tile on its left, which ends at 599: a pipe at 700 is read from there, 692.5
    # less 599 and 707.5 - 599, and marked from the maker's edge, 99 from the left.
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
        "field 3-R2",
        "left",
        pytest.approx(93.5),
        pytest.approx(108.5),
    )
    assert cut.from_left == pytest.approx(99)
    assert cut.mark_from == ("left", "bottom")
    # 794 - 700: said to be from a sawn edge, never among the marks.
    assert dict(cut.from_cut_edges) == {"right": pytest.approx(94)}


def test_beside_a_window_no_tape_is_held_over_a_tile_that_is_fixed() -> None:
    # The third course, 198 to 295 up, by the window from 233 to 74 left of V: left of V lie the tiles 2 to 199, 201 to
    # 398, 400 to 597. The second is cut by the window where the work comes from, and waits for the third; the first is
    # fixed before both. A pipe at 502.5 in the third is not read from V over the first, but from the left edge, 892
    # left: 892 - 510 and 892 - 495.
    text = """\
job: Tern Row
tiles: {field: {size: 197 x 97, measured: yes}}
surfaces:
  - name: wall
    kind: wall
    lines: {V: plumb, B: level}
    edges:
      left: {at: 892 left of V, true: plumb}
      right: {at: 797 right of V, true: plumb}
      bottom: {at: 457 below B, true: level}
      top: {at: 606 above B, true: level}
    windows:
      - {name: window, across: 233 to 74 left of V, up: 250 to 393 above B}
    areas:
      - {name: field, tile: field, joint: 2, bond: half, start: {across: left on V, up: sits on B}}
    holes:
      - {name: pipe, what: 15 copper, across: centre 502.5 left of V, up: centre 215.5 above B, cover: 65,
         end: comes off}
"""
    _, cut = only_cut(make_plan(parse_job(text)))
    (check,) = [check for check in cut.wall_checks if check.fixed and check.side.axis == "across"]
    assert (check.source.kind, check.source.name) == ("edge", "left")
    assert (check.near, check.far) == (pytest.approx(382), pytest.approx(397))
