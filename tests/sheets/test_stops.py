"""What a STOP does to a sheet: on every page, never over the drawing; and one that holds up the trimming alone."""

from __future__ import annotations

import csv
import io

import pytest
from msgspec.structs import replace

from cutmarks.marks.model import CircleMark, Role, Stroke, Words
from cutmarks.saying.cuts import mark_rows
from cutmarks.saying.findings import held
from cutmarks.saying.seen import seen
from cutmarks.sheets.build import build_pack, build_sheets
from cutmarks.sheets.jobsheet import jobsheet_pages
from cutmarks.writers.dxf import dxf_files
from cutmarks.writers.lists import holes_csv, pieces_csv
from tests.scenes import SCENES, STOP
from tests.sheets.special import SPECIAL, WAITS


def said(sheet):
    return [mark.text for mark in sheet.marks if isinstance(mark, Words)]


def of(sheet, role):
    return [mark for mark in sheet.marks if isinstance(mark, Stroke) and mark.role is role]


def test_where_the_cut_fills_the_sheet_the_stop_lies_across_it():
    first, *_ = build_sheets(SPECIAL["stopped_everywhere"]())
    assert "STOP" in said(first)
    assert "Do not cut this piece" in " ".join(said(first))
    assert of(first, Role.CENTRE) == []


def test_every_joined_sheet_carries_the_stop():
    plan = SPECIAL["joined"]()
    stopped = replace(plan, findings=(replace(STOP, about=(plan.pieces[0].name,)),))
    sheets = build_sheets(stopped)
    assert len(sheets) >= 6
    for sheet in sheets:
        assert any(text.startswith("STOP") for text in said(sheet))
        assert of(sheet, Role.CENTRE) == []


def test_a_stop_for_the_trimming_leaves_the_hole_s_cross_and_takes_the_saw_s_line():
    plan = SPECIAL["waiting"]()
    (sheet, *_) = build_sheets(plan)
    words = " ".join(said(sheet))
    assert "STOP BEFORE THE SAW" in words
    assert "saw cut" not in words
    assert len([mark for mark in sheet.marks if isinstance(mark, CircleMark) and mark.role is Role.CENTRE_RING]) == 1
    assert of(sheet, Role.CUT) == []
    goes = SCENES["raking"]()
    (other, *_) = build_sheets(goes)
    assert len(of(other, Role.CUT)) == 1
    # The contour is not known yet, so there is none for a shop.
    assert list(dxf_files(plan)) == []
    assert len(list(dxf_files(goes))) == 1


@pytest.mark.parametrize(
    ("findings", "waits"),
    [
        ((), None),
        ((STOP,), "all"),
        ((WAITS,), "trimming"),
        ((WAITS, STOP), "all"),
        ((replace(STOP, accepted="moved"), WAITS), "trimming"),
        ((replace(WAITS, accepted="14, asked"),), None),
    ],
)
def test_what_a_piece_waits_for(findings, waits):
    plan = SCENES["w1"]()
    about = (plan.pieces[0].name,)
    told = replace(plan, findings=tuple(replace(finding, about=about) for finding in findings))
    assert held(told, told.pieces[0]) == waits


def test_a_stop_that_is_all_there_is_to_know_is_said_once():
    plan = SCENES["stopped"]()
    (stop,) = plan.findings
    sheets = list(build_sheets(plan))
    words = " ".join(" ".join(said(sheet)) for sheet in sheets)
    assert words.count(stop.text.split()[0]) == 1
    assert "CHECK" not in words
    assert "NOTE" not in words
    noted = replace(plan, findings=(stop, replace(stop, level="note", text="Carry it by the long side.")))
    words = " ".join(" ".join(said(sheet)) for sheet in build_sheets(noted))
    assert "NOTE: Carry it by the long side." in words


def paper(plan):
    return [*build_sheets(plan)]


def everywhere_stopped(plan):
    return replace(plan, findings=(replace(STOP, about=(plan.pieces[0].name,)),))


@pytest.mark.parametrize("name", ["w1", "box", "two_holes", "two_sheets", "quarter_of_crossing", "middle_of_large"])
def test_a_piece_that_is_stopped_is_stopped_on_each_of_its_pages_and_has_no_figure_to_mark(name):
    plan = SCENES[name]()
    marks = {figure for shown in subjects(plan) for cut in shown.cuts for figure, _ in mark_rows(shown, cut)}
    goes = " ".join(" ".join(said(sheet)) for sheet in paper(plan))
    assert all(figure in goes for figure in marks)
    for sheet in paper(everywhere_stopped(plan)):
        assert any(text.startswith("STOP") for text in said(sheet)), sheet.file
        assert not marks.intersection(said(sheet)), sheet.file
        assert not [text for text in said(sheet) if text.startswith("MEASURE")]


def subjects(plan):
    pieces = {piece.name: piece for piece in plan.pieces}
    return [seen(plan, pieces[one.piece], one) for one in plan.registrations]


def test_the_tables_and_lists_have_no_figure_to_mark_of_what_is_stopped():
    plan = SCENES["w1"]()
    stopped = everywhere_stopped(plan)
    for made in (build_pack(plan).front, jobsheet_pages(plan)):
        assert [page for page in made if "74\u00bd" in " ".join(said(page)) or "112\u00bd" in " ".join(said(page))]
    for made in (build_pack(stopped).front, jobsheet_pages(stopped)):
        words = " ".join(" ".join(said(page)) for page in made)
        assert "74\u00bd" not in words
        assert "112\u00bd" not in words
        assert "STOP" in words
    (row,) = rows_of(holes_csv(stopped))
    assert row["stop"] == "STOP"
    assert not [heading for heading in row if heading.startswith(("from ", "mark ")) and row[heading]]
    (row,) = rows_of(holes_csv(plan))
    assert (row["stop"], row["mark across mm"], row["mark up mm"]) == ("", "74.5", "112.5")


def test_what_is_cut_on_day_two_has_no_size_yet_and_its_hole_goes_on():
    plan = SPECIAL["waiting"]()
    later = replace(plan, findings=(replace(plan.findings[0], level="note"),))
    (row,) = rows_of(pieces_csv(later))
    assert (row["stop"], row["width at bottom mm"], row["over all w mm"]) == ("DAY TWO", "", "")
    (hole,) = rows_of(holes_csv(later))
    assert (hole["stop"], hole["mark across mm"]) == ("DAY TWO", "59")
    words = " ".join(" ".join(said(sheet)) for sheet in paper(later))
    assert "DAY TWO" in words
    assert "STOP" not in words
    assert "DAY TWO" in " ".join(" ".join(said(page)) for page in jobsheet_pages(later))
    assert list(dxf_files(later)) == []


def rows_of(data):
    return list(csv.DictReader(io.StringIO(data.decode("utf-8-sig"), newline="")))
