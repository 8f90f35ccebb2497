"""The front sheet: how to print, the map, every hole, the pocket gauge."""

from __future__ import annotations

import pytest

from cutmarks.geometry.shapes import Circle
from cutmarks.marks.model import Role, Stroke, Words
from cutmarks.sheets.build import build_pack
from tests.handmade import cut_piece, opening, plan_of
from tests.scenes import SCENES
from tests.sheets.special import SPECIAL


def said(sheets):
    return [mark.text for sheet in sheets for mark in sheet.marks if isinstance(mark, Words)]


def test_it_says_how_to_print():
    words = " ".join(said(build_pack(SCENES["w1"]()).front))
    for text in ("100 %, actual size", "borderless off", "Measure both bars", "do not print them from a browser"):
        assert text in words
    assert "More than ½ off 180 or 250: print again" in words
    assert "Mark through the paper, then take it off, or put clear tape over it" in words


def test_the_card_has_the_size_of_iso_7810():
    (front,) = build_pack(SCENES["w1"]()).front
    outlines = [m for m in front.marks if isinstance(m, Stroke) and m.closed and any(v.bulge for v in m.path)]
    sizes = [
        (max(v.x for v in m.path) - min(v.x for v in m.path), max(v.y for v in m.path) - min(v.y for v in m.path))
        for m in outlines
        if max(v.x for v in m.path) - min(v.x for v in m.path) > 40.0
    ]
    # ISO/IEC 7810, ID-1: 85.60 x 53.98 mm.
    assert sizes == [pytest.approx((85.60, 53.98))]


def test_every_hole_stands_in_the_list_with_its_measures_and_its_sheet():
    pack = build_pack(SCENES["two_sheets"]())
    words = said(pack.front)
    # 301 - 251 is 50 from the left and 950 - 800 is 150 from below; 751 - 251 is 500.
    for text in ("hot", "cold", "50 from the edge towards V", "500 from the edge towards V", "CORE 35"):
        assert text in words
    assert "150 from the lower edge" in words


def test_the_map_has_the_numbers_of_the_sheets_that_are_printed_on_them():
    pieces = [
        cut_piece(
            [opening(f"p{n}", Circle(35.0), 250.0 * n + 75.0, 100.0, core=35.0)],
            248.0,
            398.0,
            at=(250.0 * n, 0.0),
            name=f"splash 1-{n + 1}",
            place=(n, 0),
        )
        for n in range(4)
    ]
    pack = build_pack(plan_of(pieces))
    numbers = [
        m.text for sheet in pack.front for m in sheet.marks if isinstance(m, Words) and m.bold and m.text.isdigit()
    ]
    # Each stands on the map and in the list of holes.
    assert sorted(numbers) == sorted(["1", "2", "3", "4"] * 2)
    assert [sheet.title for sheet in pack.templates][2].endswith("splash 1-3, FACE, sheet 3 of 4, piece 5e6f7a8b")


def test_it_speaks_of_what_the_job_has_and_of_nothing_else():
    plain = " ".join(said(build_pack(SCENES["w1"]()).front))
    joined = " ".join(said(build_pack(SPECIAL["joined"]()).front))
    back = " ".join(said(build_pack(SPECIAL["box_back"]()).front))
    assert "JOINED" not in plain
    assert "MIRRORED" not in plain
    assert "cross on cross" in joined
    assert "Never lay it on the face" in back
    assert "BACK" in said(build_pack(SPECIAL["box_back"]()).front)


def test_it_goes_on_over_several_pages_and_carries_its_bars_on_each():
    pieces = [
        cut_piece(
            [opening(f"p{n}", Circle(35.0), 75.0, 100.0 + 400.0 * n)],
            248.0,
            398.0,
            at=(0.0, 400.0 * n),
            name=f"splash {n + 1}-1",
            place=(0, n),
        )
        for n in range(60)
    ]
    pack = build_pack(plan_of(pieces))
    assert len(pack.front) > 2
    for sheet in pack.front:
        bars = [m for m in sheet.marks if isinstance(m, Stroke) and m.role is Role.BAR and len(m.path) == 2]
        long = [abs(m.path[1].x - m.path[0].x) + abs(m.path[1].y - m.path[0].y) for m in bars]
        assert {180.0, 250.0} <= {round(one, 6) for one in long}
    words = said(pack.front)
    assert all(f"p{n}" in words for n in range(60))


def test_a_job_without_templates_has_no_front_sheet():
    trimmed = cut_piece([], 448.0, 448.0, trimmed_to=((0.0, 0.0), (116.0, 0.0), (116.0, 448.0), (0.0, 448.0)))
    assert tuple(build_pack(plan_of([trimmed])).front) == ()
