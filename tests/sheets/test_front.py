"""The front sheet: how to print, the map, and the day's list; what it says is read from the finished PDF."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest
import shapely
from msgspec.structs import replace

from cutmarks import load_job, make_plan
from cutmarks.geometry.shapes import Circle
from cutmarks.marks.elevation_view import whole_tile
from cutmarks.marks.lettering import ink
from cutmarks.marks.model import Role, Stroke, Words
from cutmarks.marks.sheet_map import sheet_map
from cutmarks.openings.model import CutPiece
from cutmarks.plan import Plan
from cutmarks.sheets.build import build_pack
from cutmarks.sheets.days_list import Listed, sheet_numbers
from cutmarks.sheets.front import front_sheets
from cutmarks.writers.pdf import pdf_bytes
from tests.handmade import cut_piece, opening, plan_of
from tests.scenes import SCENES, STOP
from tests.sheets.ink import Page, inked_pages
from tests.sheets.jobs import rail
from tests.sheets.special import SPECIAL

EXAMPLES = sorted(
    path
    for path in Path(__file__).parents[2].glob("examples/*/*.yaml")
    if path.stem == path.parent.name and path.stem != "treatment-room"  # that has no tiles
)
RAILS = (1, 3, 12, 60)
BEFORE = {1: 1, 3: 2, 12: 2, 60: 5}
"""Pages of the front sheet of these jobs before it was the day's list: counted in packs of the release before."""
TICK = 4.2
"""The side of a box to tick, mm."""
NINE_POINT = 9.0 * 25.4 / 72 * 1493 / 2048 - 1e-3
"""The capitals of such type, mm: 1493 of the font's 2048 units to an em are a capital's (its OS/2 and head tables)."""
SMALL_PRINT = 8.0
"""So far above the safe area's foot the small print reaches, mm: which job it is, and what the paper is worth."""
NAME_WIDE = 40.0


def said(sheets):
    return [mark.text for sheet in sheets for mark in sheet.marks if isinstance(mark, Words)]


@cache
def plan_for(which: int | Path) -> Plan:
    return rail(which) if isinstance(which, int) else make_plan(load_job(which))


@cache
def front_of(which: int | Path) -> tuple[Page, ...]:
    """The front sheet's pages as they are in the finished PDF."""
    return tuple(inked_pages(pdf_bytes(tuple(build_pack(plan_for(which)).front), "front")))


def ticks(page: Page) -> list[shapely.Geometry]:
    """The boxes to tick of a page."""
    boxes = [line.middle.envelope for line in page.lines]
    return [
        one
        for one in boxes
        if abs(one.bounds[2] - one.bounds[0] - TICK) < 0.01 and abs(one.bounds[3] - one.bounds[1] - TICK) < 0.01
    ]


def ticked(page: Page, names: set[str]) -> list[str]:
    """The names behind a page's boxes, in reading order; a holed tile's stands behind its picture."""
    found = []
    for box in ticks(page):
        left, bottom, _, top = box.bounds
        near = [
            (word.box.bounds[0], word.text)
            for word in page.words
            if word.text in names
            and left < word.box.bounds[0] < left + NAME_WIDE
            and bottom - 1.0 < (word.box.bounds[1] + word.box.bounds[3]) / 2 < top + 1.0
        ]
        if near:  # else it is a cut-out in the picture of a tile
            found.append((round(-top, 1), left, min(near)[1]))
    return [name for _, _, name in sorted(found)]


@pytest.mark.parametrize("which", [*RAILS, *EXAMPLES], ids=lambda one: getattr(one, "stem", f"{one} holes"))
def test_every_piece_that_is_cut_stands_once_in_the_list_in_the_order_of_fixing(which):
    plan = plan_for(which)
    surfaces = [one.setout.name for one in plan.surfaces]
    ordered = sorted(plan.pieces, key=lambda piece: (surfaces.index(piece.piece.surface), piece.rank))
    names = {piece.name for piece in plan.pieces}
    assert [name for page in front_of(which) for name in ticked(page, names)] == [piece.name for piece in ordered]


@pytest.mark.parametrize("which", [*RAILS, *EXAMPLES], ids=lambda one: getattr(one, "stem", f"{one} holes"))
def test_no_word_that_a_tiler_needs_is_under_nine_point(which):
    pages = front_of(which)
    assert pages
    for page in pages:
        small = [one.text for one in page.words if one.capitals < NINE_POINT and one.box.bounds[1] > 10.0 + SMALL_PRINT]
        assert small == []


@pytest.mark.parametrize("which", RAILS)
def test_it_takes_no_more_pages_than_it_did(which):
    assert len(front_of(which)) <= BEFORE[which]


def test_a_pack_of_a_few_holes_has_one_front_page():
    assert len(front_of(1)) == len(front_of(3)) == 1


@pytest.mark.parametrize("count", range(1, 46))
def test_no_last_page_has_fewer_than_three_rows(count):
    made = inked_pages(pdf_bytes(tuple(column_of(count)), "front"))
    assert sum(len(ticks(page)) for page in made) == count
    assert len(made) == 1 or len(ticks(made[-1])) >= 3


def column_of(count: int):
    """The front sheet of a wall with a hole in each of so many courses; a number of its own for each sheet."""
    plan = tall(count)
    listed = [Listed(one, number, number) for number, one in enumerate(plan.registrations, start=1)]
    return front_sheets(plan, listed)


def tall(count: int) -> Plan:
    return plan_of([piece_at(0, row) for row in range(count)])


def piece_at(column: int, row: int) -> CutPiece:
    pipe = opening(f"p{column}-{row}", Circle(35.0), 250.0 * column + 75.0, 100.0 + 400.0 * row, core=35.0)
    at = (250.0 * column, 400.0 * row)
    return cut_piece([pipe], 248.0, 398.0, at=at, name=f"splash {row + 1}-{column + 1}", place=(column, row))


@pytest.mark.parametrize("which", [*RAILS, *EXAMPLES], ids=lambda one: getattr(one, "stem", f"{one} holes"))
@pytest.mark.parametrize(("wide", "high"), [(78.0, 55.0), (179.0, 87.0)], ids=["beside the words", "right across"])
def test_every_sheet_number_stands_at_its_tile_on_the_map(which, wide, high):
    """In the tile, or at the end of a leader from it. A map beside the words is not taken where it is crowded."""
    plan = plan_for(which)
    numbers = sheet_numbers(build_pack(plan).listed)
    for surface in plan.surfaces:
        own = [piece for piece in plan.pieces if piece.name in numbers and piece.piece.surface == surface.setout.name]
        made = sheet_map(plan, surface, numbers, wide, high)
        if made.crowded and wide < 100.0:
            continue
        assert made.left_out == ()
        words = [mark for mark in made.marks if isinstance(mark, Words) and mark.bold]
        for piece in own:
            tile = on_map(made, piece)
            inside = sorted((one for one in words if tile.contains(middle_of(one))), key=lambda one: -one.at.y)
            stands = " ".join(one.text for one in inside if one.text[0].isdigit())
            led = [one.text for one in words if not inside and leads_to(made, one, tile)]
            # What a margin has no room for on one line goes on below it.
            assert stands == numbers[piece.name] or (len(led) == 1 and numbers[piece.name].startswith(led[0]))


def on_map(made, piece):
    """A piece's whole tile on the map, which is drawn there: a hole leaves its outer contour as it is."""
    corners = [made.view.xy(v.x, v.y) for v in whole_tile(piece).vertices]
    tile = shapely.Polygon(corners)
    drawn = [m for m in made.marks if isinstance(m, Stroke) and m.role is Role.OUTLINE and len(m.path) > 2]
    if not piece.piece.trimmed and all(cut.kind == "hole" for cut in piece.cuts):
        assert any(shapely.Polygon([(v.x, v.y) for v in m.path]).equals_exact(tile, 0.01) for m in drawn)
    return tile


def middle_of(words):
    corners = ink(words)
    return shapely.Polygon(corners).centroid


def leads_to(made, words, tile):
    """Whether a leader has one end in the tile and the other beside the words."""
    box = shapely.Polygon(ink(words))
    for leader in (m for m in made.marks if isinstance(m, Stroke) and m.role is Role.MEASURE):
        ends = [shapely.Point(leader.path[place].x, leader.path[place].y) for place in (0, -1)]
        for one, other in (ends, reversed(ends)):
            if tile.contains(one) and box.distance(other) < 1.5:
                return True
    return False


def test_it_says_how_to_print():
    words = " ".join(said(build_pack(SCENES["w1"]()).front))
    for text in ("100 %, actual size", "not borderless", "Measure both bars", "lp -o print-scaling=none"):
        assert text in words
    assert "More than ½ off 180 or 250: print again" in words
    assert "Prick the marks through the paper, then take it off, or put clear sticky tape over it" in words


def test_what_was_measured_is_written_down_once_a_pack():
    first, *others = build_pack(rail(60)).front
    assert said([first]).count("I measured") == 2
    assert {"(must be 180)", "(must be 250)"} <= set(said([first]))
    assert others
    for page in others:
        assert "I measured" not in said([page])
        assert {"must be 180", "must be 250"} <= set(said([page]))


def test_every_hole_stands_in_the_list_with_its_measures_and_its_sheet():
    pack = build_pack(SCENES["two_sheets"]())
    words = said(pack.front)
    # 301 - 251 is 50 from the left and 950 - 800 is 150 from below; 751 - 251 is 500.
    for text in ("hot", "cold", "50", "500", "150", "from the LEFT edge (towards V)", "from the lower edge", "CORE 35"):
        assert text in words


def test_a_row_that_is_stopped_shows_no_core_no_paper_and_no_figure():
    goes = SCENES["w1"]()
    stopped = replace(goes, findings=(replace(STOP, about=(goes.pieces[0].name,)),))
    words, before = (" ".join(said(build_pack(plan).front)) for plan in (stopped, goes))
    assert "STOP: not to be cut" in words
    for text in ("CORE", "74½", "112½"):
        assert text in before
        assert text not in words
    assert "may be" not in words


def test_what_is_only_trimmed_stands_there_with_what_to_expect():
    # The joint of 2 is on V, so four tiles of 248 and their joints end 1 + 4 x 248 + 3 x 2 = 999 left of it. To the end
    # panel at 1121 that is 122; less the joint of 2 and the gap of 3 it is 117.
    words = said(build_pack(rail(1)).front)
    # The first says from what it is read and that 5 comes off in all; those that follow go by it.
    assert words.count("READ right tile to end panel 122, less 5: keep 117") == 1
    assert words.count("READ end panel 122: keep 117") > 1


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
    pack = build_pack(tall(60))
    assert len(pack.front) > 2
    for sheet in pack.front:
        bars = [m for m in sheet.marks if isinstance(m, Stroke) and m.role is Role.BAR and len(m.path) == 2]
        long = [abs(m.path[1].x - m.path[0].x) + abs(m.path[1].y - m.path[0].y) for m in bars]
        assert {180.0, 250.0} <= {round(one, 6) for one in long}
    words = said(pack.front)
    assert all(f"p0-{row}" in words for row in range(60))


def test_a_job_without_templates_has_no_front_sheet():
    trimmed = cut_piece([], 448.0, 448.0, trimmed_to=((0.0, 0.0), (116.0, 0.0), (116.0, 448.0), (0.0, 448.0)))
    assert tuple(build_pack(plan_of([trimmed])).front) == ()
