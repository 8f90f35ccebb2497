"""What a set-out page says of offcuts, of holes and of the cuts that come first: a store of three walls, by hand."""

from __future__ import annotations

import re
from functools import cache

import pytest

from cutmarks.buying.flow import what_to_buy
from cutmarks.saying.buying import buy_lines
from cutmarks.saying.gauging import sections, told
from tests.gauging.walls import example, planned


@cache
def lines(wall: str, title: str) -> tuple[str, ...]:
    plan = example("meal-store")
    one = next(one for one in told(plan) if one.surface.setout.name == wall)
    return next(step.lines for step in sections(one, plan) if step.title.startswith(title))


def test_no_piece_of_the_first_day_is_cut_from_what_the_second_leaves() -> None:
    # The three walls have one batten: what lies under it waits until it is off, on all of them.
    plan = example("meal-store")
    days = {piece.piece.name: piece.rank.day for piece in plan.pieces}
    (need,) = what_to_buy(plan).tiles
    assert any("under" in name for tile in need.shared for name in tile.pieces)
    for tile in need.shared:
        assert [days[name] for name in tile.pieces] == sorted(days[name] for name in tile.pieces)


def test_each_wall_has_what_is_kept_of_it_and_for_which_piece() -> None:
    # 1-10 is 62 of 297: less the saw's 2 that leaves 233, of which under 1-1 takes 230½. Of 1-1, 78, 217 are left, of
    # which 2-9 takes 215, the bond's own next piece.
    (bins,) = (line for line in lines("bin wall", "CUTS") if line.startswith("Offcuts to keep"))
    assert "1-10 for under 1-1" in bins
    assert "1-1 for 2-9" in bins
    # What the scale wall gives the end wall stands on both their pages: 213 and 80 and the saw's 2 are 295.
    (scale,) = (line for line in lines("scale wall", "CUTS") if line.startswith("Offcuts to keep"))
    assert "for the end wall: 1-6 for 1-1" in scale
    (end,) = (line for line in lines("end wall", "CUTS") if line.startswith("From offcuts kept"))
    assert end.startswith("From offcuts kept, else whole tiles: of the scale wall: 1-1 of 1-6")


def test_what_is_cut_both_ways_and_leaves_a_piece_is_cut_to_length_first() -> None:
    # Under 1-1 is 101 x 100; its end's offcut is for a piece that is 103 high. Cut to its height first it would be 100.
    kept = lines("scale wall", "DAY TWO")
    assert "To length before height, or the offcut is too low: under 1-1, under 1-7." in kept
    assert any("for the end wall: under 1-1 for under 1-4" in line for line in kept)
    # What serves no other piece may be cut in any order.
    assert not any("before" in line for line in lines("end wall", "DAY TWO"))


TALL = """\
job: strips
limits: {kerf: 2}
tiles: {tall: {size: 200 x 400, measured: yes, thickness: 8, pattern: none}}
surfaces:
  - name: wall
    kind: wall
    lines: {V: plumb, B: level}
    gaps: {left: 3, right: 3, bottom: 0, top: 3}
    edges:
      left: {at: 193 left of V, what: post, true: plumb}
      right: {at: 186 right of V, what: end panel, true: plumb}
      bottom: {at: 0 below B, what: worktop, true: level}
      top: {at: 556 above B, what: shelf, true: level}
    areas: [{name: field, tile: tall, joint: 3, start: {across: START, up: sits on B}}]
"""
"""Two columns between 190 left and 183 right of V, with a joint of 3; over a course of 400 one of 150."""


@pytest.mark.parametrize(
    ("start", "kept", "first"),
    [
        # The joint is left of V: 187 lie left of it and 183 right of it. The right one goes first. Of 400 the two
        # heights of 150 and the saw's 2 are 302; cut to its width of 183 first, it would leave no 187 over it.
        ("left on V", "2-2 for 2-1", "In height before length, or the offcut is too short: 2-2."),
        # The tile left of V goes first, 190 of it, and the other has 180: whichever way it is cut, that is left.
        ("right on V", "2-1 for 2-2", ""),
    ],
)
def test_where_they_lie_over_each_other_the_height_comes_first_if_the_later_is_wider(
    start: str, kept: str, first: str
) -> None:
    plan = planned(TALL.replace("START", start))
    (one,) = told(plan)
    said = [line for step in sections(one, plan) for line in step.lines]
    assert f"Offcuts to keep, and trim to fit: {kept}." in said
    assert [line for line in said if " before " in line] == ([first] if first else [])


def test_a_hole_has_its_size_and_the_tile_that_it_alone_meets() -> None:
    # The socket of 72 is cut 2 larger on every side. The pipe of 15 about 508 below B ends at 500½; 3-3 begins at 500,
    # and of a core of 32 what is over 492 below B lies in it.
    assert "Holes, sheets in pack.pdf: dust socket, 76 x 76: 7-4, 8-4, 8-3." in lines("bin wall", "CUTS")
    assert "Holes, sheets in pack.pdf: water, core 32: 2-3, 3-3 (3-3 by its hole alone)." in lines("scale wall", "CUTS")


def test_a_course_that_begins_with_a_cut_says_that_before_its_first_whole_tile() -> None:
    start = " ".join(lines("end wall", "START TILE"))
    assert (
        "Courses like 2, 4 and under 1: first 2-1, its cut measured from V, then 2-2, its left edge 63½ left" in start
    )


def test_ends_of_one_name_are_told_apart() -> None:
    # The next walls stand 1105 left and 1262 right of V, the start tile from 18 to 265 right of it: 1123 and 997.
    plan = example("mending-room")
    (one,) = told(plan)
    said = " ".join(line for step in sections(one, plan) for line in step.lines)
    assert "Check: its ends are 1123 from the next wall on the left and 997 from the next wall on the right." in said


@pytest.mark.parametrize("name", ["meal-store", "mending-room", "laundry"])
def test_the_parts_of_the_silicone_add_up_as_printed(name: str) -> None:
    plan = example(name)
    (line,) = (line for line in buy_lines(what_to_buy(plan), plan) if line.startswith("silicone"))
    widths, _, parts = line.partition(" deep ")
    of_widths = [float(found) for found in re.findall(r"([\d.]+) m of", widths)]
    of_parts = [float(found) for found in re.findall(r" ([\d.]+) m(?:,|$)", parts)]
    assert len(of_parts) > 1
    assert sum(of_widths) == pytest.approx(sum(of_parts), abs=1e-6)
