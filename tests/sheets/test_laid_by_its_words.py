"""How a sheet is laid on its tile, from the paper alone; and that panel, drawing and lists have one set of figures."""

from __future__ import annotations

import csv
import io
from dataclasses import replace

import pytest

from cutmarks.geometry.edges import Bounds
from cutmarks.geometry.frames import Tile
from cutmarks.geometry.shapes import Circle
from cutmarks.job import load_job
from cutmarks.marks.labels import edge_words, tape_words, unsaid
from cutmarks.marks.model import Words
from cutmarks.marks.room import Room
from cutmarks.marks.template import subject
from cutmarks.plan import Plan, make_plan
from cutmarks.sheets.build import build_sheets
from cutmarks.sheets.jobsheet import jobsheet_pages
from cutmarks.sheets.tile_panel import tile_panel
from cutmarks.writers.lists import holes_csv
from tests.bench.sheets_campaign import EXAMPLES
from tests.handmade import cut_piece, opening, plan_of
from tests.scenes import SCENES
from tests.sheets.printed import laying_faults

LAUNDRY = next(path for path in EXAMPLES if path.stem == "laundry")


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
    assert list(laying_faults(plan, piece, sheet, words.replace("TAPE ", "tape "))) != []
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


@pytest.mark.parametrize(("name", "corner"), [("w1", -8.5), ("one_edge", -8.5), ("middle_of_large", 500.0)])
def test_what_found_no_room_in_the_drawing_stands_in_the_panel(name, corner):
    plan = SCENES[name]()
    (piece,), (sheet, *_) = plan.pieces, plan.registrations
    shown = subject(plan, piece, sheet, Bounds(corner, min(corner, 200.0), corner + 200.0, corner + 240.0))
    room: Room[Tile] = Room(shown.view)
    room.take_box(shown.view)
    drawn = [*edge_words(shown, room), *tape_words(shown, room)]
    assert said(drawn) == []
    missed = unsaid(shown, drawn)
    assert len(missed) == len(sheet.edges) + len(sheet.tape) == 2
    words = " ".join(said(tile_panel(replace(shown, unsaid=missed), 90.0).at(0.0, 0.0)))
    assert list(laying_faults(plan, piece, sheet, words)) == []
    # All of it found a place: the panel has nothing to add.
    open_room: Room[Tile] = Room(shown.view)
    assert unsaid(shown, [*edge_words(shown, open_room), *tape_words(shown, open_room)]) == ()


def test_a_short_edge_has_its_name_in_two_rows():
    # A back of 72 high: "LINE UP: right edge (as seen on the face)" in capitals of 2.2 is longer than that.
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
    assert {"184\u00bd", "227\u00bd from the edge towards V", "84\u00bd"} <= set(words)  # on the dimension lines
    assert not {"112\u00bd", "69\u00bd", "109\u00bd"} & set(words)
    rows = csv.DictReader(io.StringIO(holes_csv(plan).decode("utf-8-sig"), newline=""))
    (row,) = (row for row in rows if row["piece"] == "splash 4-7")
    across, to, up = (float(row[f"mark {name} mm"]) for name in ("across", "across to", "up"))
    assert (across, to, up) == (pytest.approx(184.35, abs=0.01), pytest.approx(227.65, abs=0.01), pytest.approx(84.5))
    listed = [text for page in jobsheet_pages(plan) for text in said(page.marks)]
    first = next(place for place, text in enumerate(listed) if "edge notch" in text)
    assert {"184\u00bd", "to 227\u00bd", "84\u00bd"} <= set(listed[first : first + 24])
    assert "109\u00bd" not in listed
