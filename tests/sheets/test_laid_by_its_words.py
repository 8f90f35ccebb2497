"""How a sheet is laid on its tile, from the paper alone; and that panel, drawing and lists have one set of figures."""

from __future__ import annotations

import csv
import io
import math

import pytest
from msgspec.structs import replace

from cutmarks.geometry.edges import Bounds
from cutmarks.geometry.frames import Tile
from cutmarks.geometry.shapes import Circle
from cutmarks.job import load_job
from cutmarks.marks.labels import edge_words
from cutmarks.marks.model import Filled, Role, Stroke, Words
from cutmarks.marks.room import Room
from cutmarks.marks.tapes import tapes
from cutmarks.marks.template import subject
from cutmarks.marks.ticks import near_ticks
from cutmarks.plan import Plan, make_plan
from cutmarks.sheets.build import build_sheets
from cutmarks.sheets.fold_panel import fold_panel
from cutmarks.sheets.jobsheet import jobsheet_pages
from cutmarks.writers.lists import holes_csv
from tests.bench.sheets_campaign import EXAMPLES
from tests.handmade import cut_piece, opening, plan_of, w1_piece
from tests.scenes import SCENES
from tests.sheets.printed import laying_faults

LAUNDRY, MENDING_ROOM = (next(path for path in EXAMPLES if path.stem == name) for name in ("laundry", "mending-room"))


def said(marks):
    return [mark.text for mark in marks if isinstance(mark, Words)]


def pages_of(plan: Plan, name: str) -> list[str]:
    return [text for sheet in build_sheets(plan) if f": {name}, " in sheet.title for text in said(sheet.marks)]


@pytest.mark.parametrize("name", ["one_edge", "middle_of_large"])
def test_a_figure_to_tape_that_is_missing_or_wrong_is_found(name):
    plan = SCENES[name]()
    (piece,), (sheet, *_) = plan.pieces, plan.registrations
    words = " ".join(text for page in build_sheets(plan) for text in said(page.marks))
    assert list(laying_faults(plan, piece, sheet, words)) == []
    assert list(laying_faults(plan, piece, sheet, words.replace("MEASURE ", "tape "))) != []
    # One of the figure's own millimetres out.
    line = sheet.lines[0]
    wrong = replace(sheet, lines=(line + 1.0, *sheet.lines[1:]))
    assert list(laying_faults(plan, piece, wrong, words)) != []


@pytest.mark.parametrize("name", ["w1", "one_edge"])
def test_an_edge_without_its_name_is_found(name):
    plan = SCENES[name]()
    (piece,), (sheet, *_) = plan.pieces, plan.registrations
    words = " ".join(text for page in build_sheets(plan) for text in said(page.marks))
    assert list(laying_faults(plan, piece, sheet, words)) == []
    assert list(laying_faults(plan, piece, sheet, words.replace("LINE UP: ", "LINE UP "))) != []


@pytest.mark.parametrize("name", ["w1", "one_edge", "middle_of_large", "two_holes"])
def test_what_finds_no_room_in_the_drawing_stands_in_fold_in_any_case(name):
    plan = SCENES[name]()
    (piece,), (sheet, *_) = plan.pieces, plan.registrations
    shown = subject(plan, piece, sheet, Bounds(-8.5, -8.5, 174.5, 160.0))
    full: Room[Tile] = Room(shown.view)
    full.take_box(shown.view)
    assert said([*edge_words(shown, full, near_ticks(shown, full)), *tapes(shown, full)]) == []
    words = " ".join(said(fold_panel(shown, Bounds(0.0, 0.0, 68.0, 17.5))))
    assert list(laying_faults(plan, piece, sheet, words)) == []


def test_an_edge_has_its_name_and_its_ticks_at_both_ends():
    # W1 on A4: 174.5 of the lower edge are on the sheet, 160 of the left one.
    (sheet,) = build_sheets(SCENES["w1"]())
    words = [mark for mark in sheet.marks if isinstance(mark, Words)]
    for name in ("lower edge", "LEFT edge (towards V)"):
        two = [mark.at for mark in words if mark.text == f"LINE UP: {name}"]
        drawn = [at for at in two if at.y < 190.0]  # below the panels: 297 less 10, 34, 58 and a little
        assert len(drawn) == 2
        assert math.dist((drawn[0].x, drawn[0].y), (drawn[1].x, drawn[1].y)) > 60.0
    # Both sets of an edge stand as far apart as it is long, less the sign and the corner at its ends: else it folds
    # askew. The names stand between them.
    for anchor, least in (("start", 120.0), ("middle", 120.0)):
        one, other = [mark.at for mark in words if mark.text == "+5" and mark.anchor == anchor]
        assert math.dist((one.x, one.y), (other.x, other.y)) > least


def test_two_sets_of_ticks_on_an_edge_are_never_near_each_other():
    # A lower edge of 60: two sets would stand 60 less 26 apart at most, and fold the paper askew.
    pipe = opening("pipe", Circle(15.0), 281.0, 860.0, core=15.0)
    plan = plan_of([cut_piece([pipe], 60.0, 197.0, checks=w1_piece().cuts[0].wall_checks)])
    for sheet in build_sheets(plan):
        anchors = [mark.anchor for mark in sheet.marks if isinstance(mark, Words) and mark.text == "+5"]
        assert anchors.count("start") == 1
        assert anchors.count("middle") == 2


def test_the_tick_at_nought_is_seen_beside_the_line_that_it_lies_in():
    # Two points, 1.6 long, with their tips on the edge's line, at either end of the ticks, which are 3 long.
    (sheet,) = build_sheets(SCENES["w1"]())
    lines = {mark.path[0].y for mark in sheet.marks if isinstance(mark, Stroke) and mark.role is Role.TILE_EDGE}
    tips = [ring.vertices for mark in sheet.marks if isinstance(mark, Filled) for ring in mark.rings]
    small = [ring for ring in tips if len(ring) == 3 and abs(ring[0].x - ring[1].x) == pytest.approx(1.6)]
    level = [ring for ring in small if any(v.y == pytest.approx(line) for v in ring for line in lines)]
    assert len(level) == 4
    inner = sorted(x for ring in level for x in (min(v.x for v in ring), max(v.x for v in ring)))
    assert inner[2] - inner[1] == pytest.approx(3.0)


def test_an_edge_with_little_room_beside_its_ticks_has_its_plain_name():
    # 97 high, 40 of it under a faceplate, 18.5 a set of ticks: "LINE UP: RIGHT edge (towards V)" is some 60 long.
    plan = make_plan(load_job(MENDING_ROOM))
    words = pages_of(plan, "reed 4-2")
    assert "LINE UP: RIGHT edge" in words
    assert "LINE UP: RIGHT edge (towards V)" in words  # in FOLD
    assert words.count("+5") == 3


def test_a_measure_by_tape_is_drawn_as_a_tape():
    plan = SCENES["two_holes"]()
    (sheet,) = build_sheets(plan)
    # 150 from the lower edge, 20 pt, in a box: MEASURE over it, the edge under it.
    (figure,) = [
        m
        for m in sheet.marks
        if isinstance(m, Words) and m.text == "150" and m.height == pytest.approx(5.144, abs=0.001)
    ]
    boxes = [m for m in sheet.marks if isinstance(m, Stroke) and m.role is Role.BOX and m.closed and len(m.path) == 4]
    around = [
        box
        for box in boxes
        if box.path[0].x < figure.at.x < box.path[1].x and box.path[0].y < figure.at.y < box.path[2].y
    ]
    assert [box.path[2].y - box.path[0].y for box in around] == [pytest.approx(5.144 + 2 * 1.4, abs=0.001)]
    near = [
        m.text
        for m in sheet.marks
        if isinstance(m, Words) and abs(m.at.x - figure.at.x) < 3.0 and abs(m.at.y - figure.at.y) < 12.0
    ]
    assert near == ["MEASURE", "150", "from the lower edge"]


def test_a_short_edge_has_its_name_in_two_rows():
    # A back of 72 high: "LINE UP: edge on your LEFT now (the face's right)" in capitals of 2.2 is longer than that.
    pipe = opening("pipe", Circle(22.0), 281.0, 836.0, core=22.0)
    plan = plan_of([cut_piece([pipe], 197.0, 72.0)])
    plan = replace(plan, registrations=tuple(replace(one, back=True) for one in plan.registrations))
    words = [text for sheet in build_sheets(plan) for text in said(sheet.marks)]
    (piece,), (sheet, *_) = plan.pieces, plan.registrations
    assert list(laying_faults(plan, piece, sheet, " ".join(words))) == []


def test_one_cut_has_one_pair_of_figures():
    # A waste of 50 at 206 from the left of a tile 297 x 97, its middle 12.5 above the tile: half its chord at the upper
    # edge is sqrt(25^2 - 12.5^2) = 21.65, so it runs from 184.35 to 227.65, and down to 109.5 - 25 = 84.5.
    plan = make_plan(load_job(LAUNDRY))
    words = pages_of(plan, "splash 4-7")
    assert "184\u00bd to 227\u00bd" in words  # the panel
    # On the dimension lines: none of them leads to a middle.
    assert {"184\u00bd to the cut", "227\u00bd to the cut", "84\u00bd"} <= set(words)
    assert not {"112\u00bd", "69\u00bd", "109\u00bd"} & set(words)
    rows = csv.DictReader(io.StringIO(holes_csv(plan).decode("utf-8-sig"), newline=""))
    (row,) = (row for row in rows if row["piece"] == "splash 4-7")
    across, to, up = (float(row[f"mark {name} mm"]) for name in ("across", "across to", "up"))
    assert (across, to, up) == (pytest.approx(184.35, abs=0.01), pytest.approx(227.65, abs=0.01), pytest.approx(84.5))
    listed = [text for page in jobsheet_pages(plan) for text in said(page.marks)]
    first = next(place for place, text in enumerate(listed) if "edge notch" in text)
    assert {"184\u00bd", "to", "227\u00bd", "84\u00bd"} <= set(listed[first : first + 24])
    assert "109\u00bd" not in listed
