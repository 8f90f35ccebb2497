"""What never leaves a sheet: what has to be checked, in what order it is read, whether a figure goes to a centre."""

from __future__ import annotations

import re
from functools import cache

import pytest
from msgspec.structs import replace

from cutmarks.checks.model import Finding
from cutmarks.geometry.edges import Bounds
from cutmarks.geometry.shapes import Circle, Rect
from cutmarks.job import parse_job
from cutmarks.marks.model import CircleMark, Filled, Role, Stroke, Words
from cutmarks.plan import Plan, make_plan
from cutmarks.registering.layouts import page_layout
from cutmarks.registering.paper import PAPERS
from cutmarks.sheets.build import build_pack, build_sheets
from cutmarks.sides import Side
from tests.handmade import cut_piece, opening, plan_of
from tests.scenes import SCENES
from tests.sheets.drawn import words_of
from tests.sheets.printed import faults_of

LONG = "Hold the tile up dry, look from the side, and go on only when nothing touches anywhere along the whole of it."


def with_checks(count: int, tile: float = 248.0) -> Plan:
    """A tile with a pipe, and so many findings that ask for a look, each with a figure and a long second sentence."""
    pipe = opening("pipe", Circle(35.0), 80.0, 90.0, core=35.0)
    findings = [
        Finding("warn", f"rule {number}", ("pipe",), f"pipe stands {number}½ too near to what is beside it. {LONG}")
        for number in range(10, 10 + count)
    ]
    return plan_of([cut_piece([pipe], tile, tile, at=(0.0, 0.0))], findings=findings)


@pytest.mark.parametrize("count", [1, 3, 6, 12])
def test_what_has_to_be_checked_stands_on_the_sheet_whatever_room_the_panel_has(count):
    plan = with_checks(count)
    for sheet in build_sheets(plan):
        said = " ".join(mark.text for mark in words_of(sheet.marks))
        for number in range(10, 10 + count):
            assert f"CHECK: pipe stands {number}½ too near to what is beside it." in said
        assert "job sheet" not in said
    assert list(faults_of(plan)) == []


def test_it_is_told_in_short_before_the_drawing_gives_way():
    # One sentence more than the panel has lines for: the second sentences go first.
    def boxes(plan):
        (sheet, *_) = build_sheets(plan)
        return sum(mark.text == "4 CUT, more to check" for mark in words_of(sheet.marks))

    def second(plan):
        (sheet, *_) = build_sheets(plan)
        return " ".join(mark.text for mark in words_of(sheet.marks)).count("go on only when nothing touches")

    assert (boxes(with_checks(1)), second(with_checks(1))) == (0, 1)
    assert (boxes(with_checks(3)), second(with_checks(3))) == (0, 0)
    assert (boxes(with_checks(12)), second(with_checks(12))) == (1, 0)


def test_only_a_note_goes_to_the_job_sheet_by_its_number():
    plan = with_checks(4)
    notes = [
        Finding("note", f"note {n}", ("pipe",), f"pipe may be seen from the door, {n} away. {LONG}") for n in (1, 2)
    ]
    plan = replace(plan, findings=(*plan.findings, *notes))
    (sheet, *_) = build_sheets(plan)
    said = " ".join(mark.text for mark in words_of(sheet.marks))
    # Numbered through, the worst first: the four to check are 1 to 4.
    assert "read on the JOB SHEET: NOTE 5, NOTE 6" in said


@pytest.mark.parametrize("paper", ["A4", "Letter", "A3"])
def test_the_panels_are_read_one_two_three_four(paper):
    # Upright: left to right, and in a column from above; held sideways: from above.
    portrait, landscape = (page_layout(PAPERS[paper], name) for name in ("portrait", "landscape"))
    assert portrait.read.max_x <= portrait.fold.min_x
    assert portrait.fold.min_y >= portrait.mark.max_y
    assert portrait.mark.max_x <= portrait.cut.min_x
    tops = [box.max_y for box in (landscape.read, landscape.fold, landscape.mark, landscape.cut)]
    assert tops == sorted(tops, reverse=True)


def pictured(plan: Plan, figure: str) -> tuple[int, int, str]:
    """How many rings with a cross and how many cuts the picture beside a figure of MARK has, and the word at it."""
    (sheet, *_) = build_sheets(plan)
    panel = page_layout(PAPERS["A4"], plan.registrations[0].layout).mark
    (word,) = [
        mark
        for mark in sheet.marks
        if isinstance(mark, Words) and mark.text == figure and panel.min_x < mark.at.x < panel.max_x
        if panel.min_y < mark.at.y < panel.max_y
    ]

    def is_beside(x: float, y: float) -> bool:
        return word.at.x < x < panel.max_x and word.at.y - 0.1 < y < word.at.y + word.height + 0.1

    rings = [
        mark
        for mark in sheet.marks
        if isinstance(mark, CircleMark) and mark.role is Role.BOX and is_beside(mark.centre.x, mark.centre.y)
    ]
    bars = [
        box
        for mark in sheet.marks
        if isinstance(mark, Filled) and len(mark.rings[0].vertices) == 4
        for box in (mark.rings[0].bounds,)
        if abs(min(box.width, box.height) - 0.7) < 1e-6 and is_beside(box.min_x, (box.min_y + box.max_y) / 2)
    ]
    (tag,) = [
        mark.text
        for mark in sheet.marks
        if isinstance(mark, Words) and mark.text in ("CENTRE", "CUT") and is_beside(mark.at.x, mark.at.y)
    ]
    return len(rings), len(bars), tag


def test_a_figure_to_a_centre_and_one_to_a_cut_have_each_their_picture_and_word():
    for figure in ("74\u00bd", "112\u00bd"):
        assert pictured(SCENES["w1"](), figure) == (1, 0, "CENTRE")
    (sheet, *_) = build_sheets(SCENES["w1"]())
    assert "3 MARK on the tile, to centre" in [mark.text for mark in words_of(sheet.marks)]
    # A box is marked by its sides: 40 to 110 across, 60 to 150 up.
    box = plan_of([cut_piece([opening("box", Rect(70.0, 90.0), 75.0, 105.0)], 248.0, 248.0, at=(0.0, 0.0))])
    for figure in ("40 to 110", "60 to 150"):
        assert pictured(box, figure) == (0, 2, "CUT")
    (sheet, *_) = build_sheets(box)
    said = [mark.text for mark in words_of(sheet.marks)]
    assert not any("centre" in text.casefold() for text in said)
    assert any(text.endswith("to the cut") for text in said)  # on the drawing


@pytest.mark.parametrize("across", ["left", "right"])
@pytest.mark.parametrize("up", ["bottom", "top"])
def test_both_figures_have_their_edge_heavy_in_a_picture(across, up):
    # A hole near a corner of a tile of 400 x 400 is marked from the two edges there. In the one picture the heavy edge,
    # 1.4 thick, stands beside the ring, in the other under or over it, on the side that is measured from.
    x, y = 60.0 if across == "left" else 340.0, 60.0 if up == "bottom" else 340.0
    hole = opening("hole", Circle(30.0), x, y, core=30.0)
    plan = plan_of([cut_piece([hole], 400.0, 400.0, at=(0.0, 0.0), fixed=(Side(across), Side(up)))])
    (sheet, *_) = build_sheets(plan)
    panel = page_layout(PAPERS["A4"], plan.registrations[0].layout).mark

    def is_in(box: Bounds) -> bool:
        return box.within(panel)

    rings = [
        mark.centre
        for mark in sheet.marks
        if isinstance(mark, CircleMark) and mark.role is Role.BOX
        if is_in(Bounds(mark.centre.x, mark.centre.y, mark.centre.x, mark.centre.y))
    ]
    heavy = [mark.rings[0].bounds for mark in sheet.marks if isinstance(mark, Filled) and is_in(mark.rings[0].bounds)]
    heavy = [box for box in heavy if abs(min(box.width, box.height) - 1.4) < 1e-6]
    ((beside, first), (under, second)) = zip(
        sorted(heavy, key=lambda box: -box.min_y), sorted(rings, key=lambda at: -at.y), strict=True
    )
    assert beside.height > beside.width
    assert (beside.max_x < first.x) == (across == "left")
    assert under.width > under.height
    assert (under.max_y < second.y) == (up == "bottom")


WALL = """
    job: A wall with many cuts
    tiles: {flat: {size: 297 x 197, measured: yes}}
    surfaces:
      - name: wall
        kind: wall
        lines: {V: "plumb, middle of the wall", B: "level, top of the batten"}
        edges:
          left: [1450 left of V at B, 1440 left of V at 3900 above B]
          right: [1450 right of V at B, 1446 right of V at 3900 above B]
          bottom: {at: 3 below B, what: worktop, true: level}
          top: {at: HIGH above B, what: ceiling, true: level}
        areas:
          - {name: field, tile: flat, joint: 3, start: {across: joint on V, up: sits on B}}
        holes:
          - {name: pipe, what: 15 copper, across: centre 500 right of V, up: centre 500 above B, cover: 65}
    """


@cache
def listed(courses: int) -> tuple[Plan, list[str], int]:
    """A wall of so many courses of 200, each with a cut at both ends: its front sheet's words, its boxes to tick."""
    plan = make_plan(parse_job(WALL.replace("HIGH", str(200 * courses + 3))))
    pages = list(build_pack(plan).front)
    words = [mark.text for page in pages for mark in words_of(page.marks)]
    ticks = sum(
        isinstance(mark, Stroke)
        and len(mark.path) == 4
        and abs(mark.path[1].x - mark.path[0].x - 4.2) < 1e-6
        and abs(mark.path[2].y - mark.path[1].y - 4.2) < 1e-6
        for page in pages
        for mark in page.marks
    )
    return plan, words, ticks


def test_many_tiles_that_are_only_trimmed_share_rows_and_none_is_lost():
    plan, words, ticks = listed(25)
    trimmed = [piece for piece in plan.pieces if not piece.cuts]
    assert len(trimmed) > 40
    assert ticks == len(plan.pieces)
    rows = [text for text in words if text.startswith("READ each")]
    assert len(rows) == 2  # the left ends, the right ends
    for piece in trimmed:
        assert piece.name in words or piece.name.rpartition(" ")[2] in words
    assert len(list(build_pack(plan).front)) <= 2


def test_a_few_stand_each_in_its_own_place_of_the_order():
    plan, words, ticks = listed(8)
    assert ticks == len(plan.pieces)
    names = [piece.name for piece in sorted(plan.pieces, key=lambda piece: piece.rank)]
    in_list = words[words.index("done") :]
    assert [text for text in in_list if text in names] == names


def test_words_beside_one_of_two_holes_say_whose_they_are():
    # 150 apart on one sheet, cores of 32 under covers of 55: neither "CORE 32" nor the cover's words fit inside.
    plan = make_plan(parse_job(TWO_TAPS, "two.yaml"))
    (sheet,) = build_sheets(plan)
    said = [mark.text for mark in words_of(sheet.marks)]
    assert {
        "hot: CORE 32",
        "cold: CORE 32",
        "cover of hot \u2013 do not cut",
        "cover of cold \u2013 do not cut",
    } <= set(said)
    assert list(faults_of(plan)) == []


@pytest.mark.parametrize(("measured", "words"), [("yes", " opposite \u00b11"), ("no", " opposite")])
def test_a_check_from_the_far_edges_says_how_far_a_tile_may_be_out(measured, words):
    # As the small print has it: a tile is 1 out at most where its size was measured; else nothing is known of it.
    text = TWO_TAPS.replace("measured: yes", f"measured: {measured}").replace("      - {name: cold", "#")
    (sheet,) = build_sheets(make_plan(parse_job(text, "one.yaml")))
    said = " ".join(mark.text for mark in words_of(sheet.marks))
    assert re.search(rf"check \(\S+ and \S+\){words}", said), said
    assert ("\u00b1" in said) is (measured == "yes")


TWO_TAPS = """
job: Tern Row 4, cloaks
units: mm
tiles:
  field: {size: 598 x 298, lay: long side across, measured: yes, thickness: 9, material: porcelain}
surfaces:
  - name: back wall
    kind: wall
    lines: {V: "plumb, middle of the basin", B: "level, top of the batten"}
    edges:
      left:   {at: 1300 left of V, what: corner, true: plumb}
      right:  {at: 1300 right of V, what: corner, true: plumb}
      bottom: {at: B, what: batten, true: level, gap: 0}
      top:    {at: 1500 above B, what: ceiling, true: level}
    gaps: {left: 3, right: 3, top: 3}
    areas:
      - name: field
        tile: field
        joint: 2
        bond: half
        from: B
        to: 1500 above B
        start: {across: left on V, up: sits on B}
    holes:
      - {name: hot, what: 15 copper, across: 67 to 83 left of V, up: 407 to 423 above B, cover: 55}
      - {name: cold, what: 15 copper, across: 67 to 83 right of V, up: 407 to 423 above B, cover: 55}
"""
