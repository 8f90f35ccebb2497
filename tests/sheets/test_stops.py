"""What a STOP does to a sheet: on every page, never over the drawing; and one that holds up the trimming alone."""

from __future__ import annotations

from dataclasses import replace

import pytest

from cutmarks.marks.model import Role, Stroke, Words
from cutmarks.saying.findings import held
from cutmarks.sheets.build import build_sheets
from cutmarks.writers.dxf import dxf_files
from tests.scenes import SCENES, STOP
from tests.sheets.special import SPECIAL, WAITS


def said(sheet):
    return [mark.text for mark in sheet.marks if isinstance(mark, Words)]


def of(sheet, role):
    return [mark for mark in sheet.marks if isinstance(mark, Stroke) and mark.role is role]


def test_where_the_cut_fills_the_sheet_the_stop_stands_in_the_head():
    first, *_ = build_sheets(SPECIAL["stopped_everywhere"]())
    assert "STOP" in said(first)
    assert "do not cut this piece" in " ".join(said(first))
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
    assert len(of(sheet, Role.CENTRE)) == 2
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
    assert "BEFORE YOU CUT" not in words
    noted = replace(plan, findings=(stop, replace(stop, level="note", text="Carry it by the long side.")))
    words = " ".join(" ".join(said(sheet)) for sheet in build_sheets(noted))
    assert "BEFORE YOU CUT" in words
