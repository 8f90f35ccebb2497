"""A template in a bad copy, and lines that could be taken for each other; what is planted is found."""

from __future__ import annotations

import pytest

from cutmarks.geometry.frames import Point
from cutmarks.geometry.frames import Sheet as SheetFrame
from cutmarks.marks.model import CircleMark, Role, Stroke, Tone, Words, line
from cutmarks.sheets.build import build_sheets
from cutmarks.sheets.model import PaperSheet
from cutmarks.writers import drawing
from cutmarks.writers.drawing import Pen
from cutmarks.writers.pdf import pdf_bytes
from cutmarks.writers.style import LineStyle
from tests.scenes import SCENES
from tests.sheets.beside import beside_faults
from tests.sheets.copied import copy_faults, copy_of
from tests.sheets.ink import inked_pages
from tests.sheets.places import place_faults
from tests.sheets.special import SPECIAL

EVERY = 9
"""Of the letters each so many-th is looked at: they are some hundreds a page."""


def one_page(*marks):
    return pdf_bytes([PaperSheet("sheets/a.svg", "a", 210.0, 297.0, marks)], "a")


@pytest.mark.parametrize("name", ["w1", "two_holes", "middle_of_large", "stopped", "inches", "both_faces", "joined"])
def test_a_copy_in_black_and_white_keeps_every_line_and_letter(name):
    data = pdf_bytes(list(build_sheets({**SCENES, **SPECIAL}[name]()))[:2], name)
    for number, page in enumerate(inked_pages(data)):
        assert list(copy_faults(page, copy_of(data, number), EVERY)) == []


def test_a_hair_line_is_lost_in_it(monkeypatch):
    # A dot is 0.169: a line of 0.1 between two fills less than a third of each.
    role = Role.MEASURE
    monkeypatch.setitem(drawing._PENS, role, Pen("measure", Tone.BLACK, LineStyle(0.1)))
    data = one_page(*(line(30.0, 50.0 + n * 1.03, 90.0, 50.0 + n * 1.03, role) for n in range(12)))
    (page,) = inked_pages(data)
    assert any("of a line of 0.10" in fault for fault in copy_faults(page, copy_of(data, 0)))


def test_words_of_three_points_are_lost_in_it():
    data = one_page(Words("keep to MARK", Point(30.0, 50.0), 0.7))
    (page,) = inked_pages(data)
    assert any("is lost" in fault for fault in copy_faults(page, copy_of(data, 0)))


def test_lines_of_other_meaning_beside_each_other_are_found():
    view = (10.0, 10.0, 200.0, 287.0)
    measure: Stroke[SheetFrame] = line(30.0, 50.0, 90.0, 50.0, Role.MEASURE)
    for role, off, found in (
        (Role.COVER, 1.5, True),
        (Role.COVER, 2.1, False),
        (Role.MEASURE, 1.0, False),
        (Role.CUT, 1.0, False),
        (Role.TILE_EDGE, 1.0, False),
    ):
        (page,) = inked_pages(one_page(measure, line(70.0, 50.0 + off, 150.0, 50.0 + off, role)))
        assert bool(list(beside_faults(page, view))) == found, role
    # Beside each other for 8 of their length alone.
    (page,) = inked_pages(one_page(measure, line(82.0, 51.0, 150.0, 51.0, Role.COVER)))
    assert list(beside_faults(page, view)) == []
    # Circles about one middle: 1.5 apart, 2.1 apart, alike in meaning, and about another middle.
    for x, radius, role, found in (
        (100.0, 31.5, Role.COVER, True),
        (100.0, 32.1, Role.COVER, False),
        (100.0, 31.0, Role.MEASURE, False),
        (103.0, 31.0, Role.COVER, False),
    ):
        around: CircleMark[SheetFrame] = CircleMark(Point(100.0, 100.0), 30.0, Role.MEASURE)
        (page,) = inked_pages(one_page(around, CircleMark(Point(x, 100.0), radius, role)))
        assert bool(list(beside_faults(page, view))) == found, (x, radius)


def test_a_word_too_small_or_out_of_its_panel_is_found():
    (sheet,) = build_sheets(SCENES["w1"]())
    (good,) = inked_pages(pdf_bytes([sheet], "w1"))
    assert list(place_faults(good, "portrait", 10.0)) == []
    # READ is 62 wide from 10 on, and ends 102 below the paper's upper edge (10, 34 and 58): at 195.
    planted: tuple[tuple[Words[SheetFrame], str], ...] = (
        (Words("8 pt", Point(100.0, 150.0), 2.05), "'8 pt' is 7.97 pt"),
        (Words("from the fixed tile towards the left", Point(20.0, 197.0), 2.83), "leaves read"),
    )
    for words, fault in planted:
        page = PaperSheet(sheet.file, sheet.title, sheet.width, sheet.height, (*sheet.marks, words))
        (inked,) = inked_pages(pdf_bytes([page], "w1"))
        assert any(fault in one for one in place_faults(inked, "portrait", 10.0)), fault
    bare = tuple(mark for mark in sheet.marks if getattr(mark, "role", None) is not Role.BOX)
    (inked,) = inked_pages(pdf_bytes([PaperSheet(sheet.file, "a", sheet.width, sheet.height, bare)], "w1"))
    assert any("no frame of mark" in one for one in place_faults(inked, "portrait", 10.0))
