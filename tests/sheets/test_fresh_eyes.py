"""What readers who saw a sheet for the first time did wrong with it, each step held to what the sheet says now.

Figures by hand from the two example jobs: tiles of 297 x 97 and 198 x 198, joint 3.
"""

from __future__ import annotations

import math
from functools import cache
from pathlib import Path

import pytest

from cutmarks import load_job, make_plan
from cutmarks.marks.model import CircleMark, Role, Stroke
from cutmarks.plan import Plan
from cutmarks.saying.infills import expected_lines
from cutmarks.sheets.build import build_pack, build_sheets
from cutmarks.sheets.model import PaperSheet
from tests.bench.sheets_campaign import random_case
from tests.sheets.drawn import words_of


@cache
def plan_of(job: str) -> Plan:
    return make_plan(load_job(Path(__file__).parents[2] / "examples" / job / f"{job}.yaml"))


@cache
def sheets_of(job: str) -> tuple[PaperSheet, ...]:
    return tuple(build_sheets(plan_of(job)))


def sheet_of(job: str, piece: str) -> PaperSheet:
    return next(one for one in sheets_of(job) if f" {piece}," in one.title)


def said(job: str, piece: str) -> str:
    return " ".join(mark.text for mark in words_of(sheet_of(job, piece).marks))


def rings(job: str, piece: str) -> list[tuple[float, float]]:
    marks = sheet_of(job, piece).marks
    return [
        (one.centre.x, one.centre.y) for one in marks if isinstance(one, CircleMark) and one.role is Role.CENTRE_RING
    ]


def test_a_bite_s_ends_go_by_the_paper_and_its_middle_is_said_and_drawn() -> None:
    # Read 187 1/2, 230 1/2 from the left, 91 and 134 from below, joint 3: its middle is 206 from the left and 109 1/2
    # up, 12 1/2 past the tile. 3 more from below, 15 1/2 past it, the ends are 19.6 to each side of 206 and not 21.65.
    words = said("laundry", "splash 4-7")
    assert "the two ends go BY THE PAPER" in words
    assert "its middle: 206 from the LEFT edge (towards V), 12½ outside the upper edge" in words
    assert math.sqrt(25.0**2 - 15.5**2) == pytest.approx(19.6, abs=0.02)
    # Midway between the ends, which lie on the tile's upper edge, and 12 1/2 above them.
    (arc,) = (
        one for one in sheet_of("laundry", "splash 4-7").marks if isinstance(one, Stroke) and one.role is Role.CUT
    )
    (ring,) = rings("laundry", "splash 4-7")
    (left, right) = sorted((vertex.x, vertex.y) for vertex in arc.path)
    assert right[0] - left[0] == pytest.approx(2 * math.sqrt(25.0**2 - 12.5**2))
    assert ring == (pytest.approx((left[0] + right[0]) / 2), pytest.approx(left[1] + 12.5))


def test_a_bite_s_arc_goes_on_past_the_edge_for_where_it_goes_deeper() -> None:
    # Deeper by the 5 that the ticks have, the edge lies 7 1/2 below the middle on the paper: 23.85 to each side.
    marks = sheet_of("laundry", "splash 4-7").marks
    (ring,) = rings("laundry", "splash 4-7")
    past = [
        vertex
        for one in marks
        if isinstance(one, Stroke) and one.role is Role.MEASURE and any(vertex.bulge for vertex in one.path)
        for vertex in one.path
    ]
    assert len(past) == 4
    assert all(math.dist((one.x, one.y), ring) == pytest.approx(25.0) for one in past)
    far = [one for one in past if ring[1] - one.y < 7.5]
    assert len(far) == 2
    assert all(abs(one.x - ring[0]) > math.sqrt(25.0**2 - 7.5**2) for one in far)


def test_of_a_bite_whose_middle_is_on_the_edge_no_arc_of_no_length_goes_past_it() -> None:
    # Seed 52: a circle of 25 with its middle on the tile's edge. Its lines of no length lay beside the paper.
    case = random_case(52)
    assert case is not None
    lines = [mark for sheet in build_sheets(case.plan) for mark in sheet.marks if isinstance(mark, Stroke)]
    assert lines
    assert all(len({(vertex.x, vertex.y) for vertex in line.path}) > 1 for line in lines)


def test_the_size_of_a_bite_s_core_stands_behind_its_name_and_not_at_the_end_of_a_measure() -> None:
    texts = [mark.text for mark in words_of(sheet_of("laundry", "splash 4-7").marks)]
    assert "waste: CORE 50" in texts
    # In CUT, and there alone.
    assert texts.count("CORE 50") == 1


def test_a_bite_whose_middle_is_on_its_tile_goes_by_that() -> None:
    assert "BY THE PAPER" not in said("laundry", "splash 5-7")


def test_a_reading_in_doubt_is_read_again_and_marked_by_its_middle() -> None:
    # 90, 122 are 32 apart, the pipe is 22 wide; (90 + 122) / 2 less a joint of 3 is 103. Across it is 110 - 88 = 22.
    words = said("wash-house", "trough 4-8")
    assert (
        "IN DOUBT from the lower edge: read it again. MARK the middle of your two, less 3, from there; fold by what "
        "that differs from 103" in words
    )
    assert words.count("IN DOUBT") == 1
    assert words.count("in doubt, see READ") == 1
    assert "READ IT AGAIN FIRST" in words
    assert "READ IT AGAIN FIRST" not in said("wash-house", "trough 3-5")


def test_what_is_not_sure_leads_and_has_a_way_out() -> None:
    # The hole that leaves as much round a pipe of 15 as under a cover of 54 with its lap of 3: (15 + 54 - 2 x 3) / 2.
    words = said("wash-house", "trough 3-7")
    assert "READ IT AGAIN FIRST" in words
    assert "a hole of 31½ would leave most room under its cover" in words


def test_how_a_tile_is_held_while_it_is_cored_stands_on_its_sheet() -> None:
    words = said("laundry", "upper 1-5")
    assert "NOTE: Cut with the tile flat on its whole face, and carry it on edge." in words
    assert "JOB SHEET" not in words


def test_a_line_in_the_middle_of_a_joint_says_so() -> None:
    # V runs down the middle of a joint of 3: (68 + 83) / 2 is 75 1/2, and 74 on the tile.
    assert "from V (the middle of a joint: 1½ of it is in) to the near and the far side" in said(
        "laundry", "splash 3-5"
    )
    # These are read from a tile that is fixed, whose joint the title has.
    assert all("middle of a joint" not in said("wash-house", f"trough {one}") for one in ("3-7", "4-8"))


def test_a_trimmed_tile_says_what_is_kept_of_it() -> None:
    (piece,) = (one for one in plan_of("laundry").pieces if one.name == "splash 2-9")
    # 90 1/2 less a joint of 3 and a gap of 3.
    assert list(expected_lines(plan_of("laundry"), piece)) == [
        "left tile to next wall, plastered 90½, less 6: keep 84½"
    ]
    words = " ".join(mark.text for page in build_pack(plan_of("laundry")).front for mark in words_of(page.marks))
    assert "Found 3 more: keep 3 more." in words
    assert ": cut 8" not in words
