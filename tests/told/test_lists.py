"""Every figure of the two lists, on a tile that is no square and a hole that is in no middle."""

from __future__ import annotations

from itertools import pairwise

import pytest

from tests.told.walls import PIPE, hole_rows, piece_rows, wall


def test_a_hole_row_has_each_figure_in_its_own_column() -> None:
    (row,) = hole_rows(wall())
    assert (row["tile w mm"], row["tile h mm"]) == ("298", "198")
    assert [row[f"from {side} mm"] for side in ("left", "right", "bottom", "top")] == [
        "124.5",
        "173.5",
        "112.5",
        "85.5",
    ]
    # A core of 35 takes 17.5 each way: 107 is left at the left, 156 at the right, 95 below and 68 above.
    assert [row[f"tile left at {side} mm"] for side in ("left", "right", "bottom", "top")] == ["107", "156", "95", "68"]
    assert row["tile left nearest mm"] == "68"
    # Laid from V outward and upward: from the tile that ends at 299, and from the course that ends at 398.
    assert (row["wall across from"], row["wall across near mm"], row["wall across far mm"]) == (
        "field 3-R1 (left)",
        "119",
        "134",
    )
    assert (row["wall up from"], row["wall up near mm"], row["wall up far mm"]) == ("field 2-R2 (bottom)", "107", "122")


def test_laid_from_the_right_it_is_read_from_the_right() -> None:
    (row,) = hole_rows(wall(area="from: B, work: right to left, start: {across: joint on V, up: sits on B}"))
    # The tile on the right begins at 601: 601 - 433 and 601 - 418.
    assert (row["wall across from"], row["wall across near mm"], row["wall across far mm"]) == (
        "field 3-R3 (right)",
        "168",
        "183",
    )
    assert row["mark from"] == "right, bottom"


def test_where_the_fixed_tile_lies_under_the_pipe_no_later_tile_is_read_from() -> None:
    # A pipe from 292.5 to 307.5, in the joint of the tile that ends at 299 and goes up first: its middle is 1 left of
    # the next, which begins at 301. Nothing shows to read it from across; the tile from 601 on comes later.
    across = PIPE.replace("418 to 433", "292.5 to 307.5")
    row = {row["piece"]: row for row in hole_rows(wall(across))}["field 3-R2"]
    assert row["from left mm"] == "-1"
    assert row["wall across from"] == "field 3-R1: carry its cut over"
    assert (row["wall across near mm"], row["wall across far mm"]) == ("", "")
    assert (row["wall up from"], row["wall up near mm"]) == ("field 2-R2 (bottom)", "107")


def test_a_piece_has_the_size_of_its_whole_tile() -> None:
    (row,) = piece_rows(wall())
    assert (row["tile w mm"], row["tile h mm"]) == ("298", "198")


def test_a_piece_along_a_rake_has_a_width_at_either_end() -> None:
    # The right edge is 800 right of V at B and 797 at 600 above it: at y it is 800 - y/200. Gap 3, read level. The
    # last tile begins at 601: it is 196 - y/200 wide. Course 1: 196 and 195.01 at 198; course 2, from 200:
    # 195 and 194.01.
    rows = piece_rows(
        wall(
            edges="left: {at: 0 right of V, true: plumb, gap: 1}, top: {at: 600 above B, true: level, gap: 2}, "
            "right: {at: [800 right of V at B, 797 right of V at 600 above B], gap: 3}"
        )
    )
    by_name = {row["piece"]: row for row in rows}
    for name, bottom, top in (("field 1-3", 196.0, 195.01), ("field 2-3", 195.0, 194.01)):
        row = by_name[name]
        assert float(row["width at bottom mm"]) == pytest.approx(bottom, abs=6e-4)
        assert float(row["width at top mm"]) == pytest.approx(top, abs=6e-4)
        assert (row["height at left mm"], row["height at right mm"]) == ("198", "198")
        assert float(row["over all w mm"]) == pytest.approx(bottom, abs=6e-4)


def test_a_piece_under_a_slope_has_a_height_at_either_end() -> None:
    # The ceiling is 530 above B at V and 536 at 600 to its right: at x it is 530 + x/100. Gap 2. Course 3 begins at
    # 400: the tile 1 to 299 is 128.01 and 130.99 high, the tile 301 to 599 131.01 and 133.99.
    rows = piece_rows(
        wall(
            "what: 15 copper, across: 418 to 433 right of V, up: 105 to 120 above B, cover: 65, end: comes off",
            edges="left: {at: 0 right of V, true: plumb, gap: 1}, right: {at: 600 right of V, true: plumb, gap: 1}, "
            "top: {at: [530 above B at V, 536 above B at 600 right of V], gap: 2}",
        )
    )
    by_name = {row["piece"]: row for row in rows}
    for name, left, right in (("field 3-1", 128.01, 130.99), ("field 3-2", 131.01, 133.99)):
        assert float(by_name[name]["height at left mm"]) == pytest.approx(left, abs=6e-4)
        assert float(by_name[name]["height at right mm"]) == pytest.approx(right, abs=6e-4)


def test_pieces_stand_in_the_order_in_which_they_are_laid() -> None:
    # A pipe in each of five courses, given from the top down: the lists go from the batten up.
    holes = [PIPE.replace("505 to 520", f"{105 + 200 * course} to {120 + 200 * course}") for course in (4, 2, 3, 0, 1)]
    rows = hole_rows(wall(*holes))
    assert [row["piece"] for row in rows] == [f"field {course}-R2" for course in (1, 2, 3, 4, 5)]
    assert [row["hole"] for row in rows] == ["h4", "h5", "h2", "h3", "h1"]


def test_hung_from_a_line_the_order_goes_down() -> None:
    holes = [
        PIPE.replace("505 to 520 above B", f"{105 + 200 * course} to {120 + 200 * course} below B")
        for course in (2, 0, 1)
    ]
    rows = hole_rows(wall(*holes, area="to: B, start: {across: joint on V, up: hangs from B}"))
    # The first course laid is the one that hangs from B: 105 below it.
    assert [row["hole"] for row in rows] == ["h2", "h3", "h1"]
    assert all(float(above["from top mm"]) == float(below["from top mm"]) for above, below in pairwise(rows))


def test_what_lies_over_the_line_that_it_hangs_from_comes_last() -> None:
    # Courses hang from B downward: that right over B goes up when all under it are there, wherever its pipe is named.
    over = PIPE.replace("505 to 520 above B", "105 to 120 above B")
    under = [PIPE.replace("505 to 520 above B", f"{mm} to {mm + 15} below B") for mm in (305, 105)]
    rows = hole_rows(wall(over, *under, area="start: {across: joint on V, up: hangs from B}"))
    assert [row["hole"] for row in rows] == ["h3", "h2", "h1"]


def test_pieces_with_other_holes_are_not_the_same() -> None:
    # The same middle on three tiles of one kind: round 35, a box of 35 x 35, round 35. The first and third are alike.
    at = "across: centre {} right of V, up: centre 300 above B, cover: none, end: comes off"
    rows = piece_rows(
        wall(
            f"what: tail, diameter: 15, opening: 35, {at.format(150)}",
            f"what: tail, size: 31 x 31, opening: 35 x 35, {at.format(450)}",
            f"what: tail, diameter: 15, opening: 35, {at.format(750)}",
        )
    )
    assert [(row["piece"], row["quantity"], row["same as"]) for row in rows] == [
        ("field 2-R1", "2", ""),
        ("field 2-R2", "1", ""),
        ("field 2-R3", "", "field 2-R1"),
    ]


def test_a_course_that_a_window_takes_wholly_has_no_piece() -> None:
    # 0 to 600 right of V and 0 to 1,000 above B, two tiles a course. The window takes courses 2 and 3 from wall to
    # wall, 200 to 598, and a strip of course 1 and of course 4; course 5, 800 to 998, is whole.
    edges = (
        "left: {at: 0 right of V, true: plumb, gap: 1}, right: {at: 600 right of V, true: plumb, gap: 1}, "
        "bottom: {at: 0 above B, true: level, gap: 0}, top: {at: 1000 above B, true: level, gap: 2}"
    )
    window = "    windows: [{name: bay, across: 0 to 600 right of V, up: 190 to 610 above B, gap: 2}]"
    plan = wall(PIPE.replace("505 to 520", "905 to 920"), edges=edges, surface=window)
    (surface,) = plan.surfaces
    assert (surface.areas[0].counts.whole, surface.areas[0].counts.cut) == (2, 4)
    assert {row["course"] for row in piece_rows(plan)} == {"1", "4", "5"}
