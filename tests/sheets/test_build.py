"""Every template: inside the safe area, nothing over a cut line, the right figures in the right box."""

from __future__ import annotations

from collections import Counter
from functools import cache
from pathlib import Path

import pytest
from msgspec.structs import replace

from cutmarks.fixing.model import Rank
from cutmarks.geometry.edges import Bounds
from cutmarks.geometry.shapes import Circle
from cutmarks.job import load_job
from cutmarks.marks.model import CircleMark, Filled, Role, Stroke, Tone, Words
from cutmarks.marks.room import crosses, ink_box, spans
from cutmarks.plan import make_plan
from cutmarks.registering.calibration import Calibration, Scale
from cutmarks.registering.paper import PAPERS, SAFE_MARGIN
from cutmarks.sheets import build, front, job_pages
from cutmarks.sheets.build import build_pack, build_sheets
from cutmarks.sheets.furniture import bars
from cutmarks.sides import Side
from cutmarks.units import Style
from cutmarks.writers.pack import write_job
from tests.handmade import cut_piece, opening, plan_of, w1_piece
from tests.scenes import ROSE, SCENES, STOP
from tests.sheets.drawn import words_of
from tests.sheets.random_plans import random_plan
from tests.sheets.special import SPECIAL

TOUCH = 1e-6
READ_OVER = (Role.CUT, Role.TILE_EDGE, Role.TILE, Role.COVER, Role.BAR, Role.CORNER, Role.BOX)
"""Lines that no word may lie on. A ruler and a centre line may run close to the figure that belongs to them."""


EXAMPLES = sorted(path for path in Path(__file__).parents[2].glob("examples/*/*.yaml") if path.stem == path.parent.name)
JOBS = [path.stem for path in EXAMPLES]
RANDOM = [f"seed {seed}" for seed in range(14)]


@cache
def sheets_of(name):
    if name in SCENES:
        return build_sheets(SCENES[name]())
    if name in JOBS:
        built = build_pack(make_plan(load_job(EXAMPLES[JOBS.index(name)])))
        return (*built.front, *built.templates)
    plan = SPECIAL[name]() if name in SPECIAL else random_plan(int(name.removeprefix("seed ")))
    pack = build_pack(plan)
    return (*pack.front, *pack.templates)


def said(sheet):
    return [mark.text for mark in sheet.marks if isinstance(mark, Words)]


def text_of(sheet):
    return " ".join(said(sheet))


def extent(mark):
    """The box of a mark, mm: words by their measured ink, lines by their path."""
    if isinstance(mark, Words):
        return ink_box(mark)
    if isinstance(mark, Filled):
        corners = [(v.x, v.y) for ring in mark.rings for v in ring.vertices]
    else:
        corners = [point for x0, y0, x1, y1 in spans(mark) for point in ((x0, y0), (x1, y1))]
    xs, ys = zip(*corners, strict=True)
    return Bounds(min(xs), min(ys), max(xs), max(ys))


def stop_ground(sheet):
    """Of a STOP, the white ground of the whole block: which mark it is, and its box; None on a sheet without one."""
    if not any(isinstance(mark, Stroke) and mark.role is Role.STOPPED for mark in sheet.marks):
        return None
    (word,) = [
        extent(mark)
        for mark in sheet.marks
        if isinstance(mark, Words) and mark.text == "STOP" and mark.tone is Tone.WHITE
    ]
    ((index, ground),) = [
        (index, box)
        for index, mark in enumerate(sheet.marks)
        if isinstance(mark, Filled) and mark.tone is Tone.WHITE and word.within(box := extent(mark), TOUCH)
    ]
    return index, ground


@pytest.mark.parametrize("name", [*SCENES, *JOBS, *SPECIAL, *RANDOM])
def test_nothing_is_outside_the_safe_area(name):
    for sheet in sheets_of(name):
        safe = Bounds(SAFE_MARGIN, SAFE_MARGIN, sheet.width - SAFE_MARGIN, sheet.height - SAFE_MARGIN)
        outside = [mark for mark in sheet.marks if (box := extent(mark)) is not None and not box.within(safe, TOUCH)]
        assert outside == []


@pytest.mark.parametrize("name", [*SCENES, *JOBS, *SPECIAL, *RANDOM])
def test_no_word_is_over_a_line_that_is_cut_nor_over_another_word(name):
    for sheet in sheets_of(name):
        words = [(mark, box) for mark in sheet.marks if isinstance(mark, Words) and (box := ink_box(mark)) is not None]
        lines = [
            (mark.role, span)
            for mark in sheet.marks
            if isinstance(mark, Stroke | CircleMark) and mark.role in READ_OVER
            for span in spans(mark)
        ]
        # White words stand on black, and the reasons of a stop on white: both cover the lines under them, which `apart`
        # sees to.
        covered = [extent(mark) for mark in sheet.marks if isinstance(mark, Filled) and mark.tone is Tone.WHITE]
        on_white = [
            (mark, box)
            for mark, box in words
            if mark.tone is not Tone.WHITE and not any(box.within(area) for area in covered)
        ]
        struck = [(mark.text, role) for mark, box in on_white for role, span in lines if crosses(span, box, 0.0)]
        assert struck == []
        doubled = [
            (mark.text, other.text)
            for index, (mark, box) in enumerate(words)
            for other, second in words[index + 1 :]
            if box.overlaps(second)
        ]
        assert doubled == []


@pytest.mark.parametrize("name", [*SCENES, *JOBS, *SPECIAL, *RANDOM])
def test_panels_do_not_lie_on_what_is_drawn_of_the_tile(name):
    for sheet in sheets_of(name):
        frames = [extent(mark) for mark in sheet.marks if isinstance(mark, Stroke) and mark.role is Role.BOX]
        panels = [frame for frame in frames if frame.width > 40.0 and frame.height > 8.0]
        stop = stop_ground(sheet)
        # Black bands are lower than 11; the block of a STOP, its frame too, lies across the drawing, as it is meant to.
        panels += [
            box
            for mark in sheet.marks
            if isinstance(mark, Filled)
            and (box := extent(mark)).width > 40.0
            and (box.height < 11.0 or mark.tone is Tone.WHITE)
            and not (stop is not None and box.within(stop[1], TOUCH))
        ]
        drawn = [
            (index, span)
            for index, mark in enumerate(sheet.marks)
            if isinstance(mark, Stroke | CircleMark) and mark.role in (Role.CUT, Role.CENTRE, Role.COVER, Role.MEASURE)
            for span in spans(mark)
        ]
        assert [panel for panel in panels if any(crosses(span, panel, 0.0) for _, span in drawn)] == []
        if stop is not None:
            # Its ground covers the lines that are drawn before it, and no panel.
            number, ground = stop
            assert [span for index, span in drawn if index > number and crosses(span, ground, 0.0)] == []
            assert [panel for panel in panels if panel.overlaps(ground)] == []


@pytest.mark.parametrize("name", [*SCENES, *JOBS, *SPECIAL, *RANDOM])
def test_what_a_panel_says_stays_in_it(name):
    for sheet in sheets_of(name):
        frames = [extent(mark) for mark in sheet.marks if isinstance(mark, Stroke) and mark.role is Role.BOX]
        panel = None
        for mark in words_of(sheet.marks):
            if mark.tone is Tone.WHITE:
                # A title in its frame; what follows is what the panel says. After 4 CUT there follows the drawing.
                titled = mark.text.startswith(("1 READ", "2 FOLD", "3 MARK"))
                around = [one for one in frames if titled and extent(mark).within(one)]
                panel = around[0] if around else None
            elif panel is not None:
                assert extent(mark).within(panel), mark.text


@pytest.mark.parametrize("name", SCENES)
def test_every_page_says_what_it_is(name):
    sheets = sheets_of(name)
    plan = SCENES[name]()
    for number, sheet in enumerate(sheets, start=1):
        page = said(sheet)
        assert "FACE" in page
        assert "UP" in page
        assert plan.pieces[0].name.upper() in text_of(sheet)
        assert f"sheet {number} of {len(sheets)}" in text_of(sheet)
        assert plan.fingerprint in text_of(sheet)
        assert plan.pieces[0].fingerprint in text_of(sheet)
        assert plan.job in text_of(sheet)
        assert "printer not measured: its print is within" in text_of(sheet)


@pytest.mark.parametrize("name", SCENES)
def test_every_page_has_its_four_panels_and_no_page_is_there_for_words_alone(name):
    plan = SCENES[name]()
    sheets = sheets_of(name)
    assert len(sheets) == sum(registration.pages for registration in plan.registrations)
    for sheet in sheets:
        for titles in (("1 READ",), ("2 FOLD", "2 LAY by MEASURE"), ("3 MARK",), ("4 CUT",)):
            assert sum(mark.tone is Tone.WHITE and mark.text.startswith(titles) for mark in words_of(sheet.marks)) == 1
        assert any(
            isinstance(mark, Stroke | CircleMark) and mark.role in (Role.CUT, Role.TILE_EDGE) for mark in sheet.marks
        )


@pytest.mark.parametrize("name", SCENES)
def test_the_bars_are_as_long_as_they_say(name):
    for sheet in sheets_of(name):
        lengths = sorted(
            max(box.width, box.height)
            for mark in sheet.marks
            if isinstance(mark, Stroke) and mark.role is Role.BAR and max((box := extent(mark)).width, box.height) > 50
        )
        # Two bars, 180 across and 250 along; 7 and 10 inches where the job is in inches.
        expected = [7 * 25.4, 10 * 25.4] if name == "inches" else [180.0, 250.0]
        assert lengths == pytest.approx(expected)
        said_lengths = ["must be 7 in", "must be 10 in"] if name == "inches" else ["must be 180", "must be 250"]
        assert sorted(text for text in said(sheet) if text.startswith("must be")) == sorted(said_lengths)


@pytest.mark.parametrize("paper", ["A4", "A3", "Letter", "Tabloid", "any"])
def test_every_paper_has_room_for_its_bars(paper):
    (sheet,) = build_sheets(plan_of([w1_piece()], paper=paper))
    across, along = bars(PAPERS[paper], Style())
    assert across.length >= 180.0
    assert along.length >= 250.0
    safe = Bounds(SAFE_MARGIN, SAFE_MARGIN, sheet.width - SAFE_MARGIN, sheet.height - SAFE_MARGIN)
    assert all(box.within(safe, TOUCH) for mark in sheet.marks if (box := extent(mark)) is not None)


def test_w1_says_the_words_of_the_trade():
    (sheet,) = sheets_of("w1")
    page = said(sheet)
    for words in (
        "SPLASH 3-7",
        "74½",
        "from the LEFT edge (towards V)",
        "112½",
        "from the lower edge",
        "CORE 35",
        "check (173½ and 285½) opposite",
        "you may be 10 any way",
        "from the fixed tile on the LEFT (towards V)",
        "69",
        "84",
        "from the course below",
        "107",
        "122",
        "found",
        "found MORE: the hole moves AWAY from it",
        "cover – do not cut",
        # 0.5 % of 112.5, 0.3 and 0.25 by hand: 1.1125, said rounded up.
        "Paper may be 1.2 out; you have 10",
    ):
        assert words in page or words in text_of(sheet)


def test_the_figures_to_mark_from_are_36_point_and_of_two_holes_27():
    # A point is 25.4 / 72 mm, the font's capitals are 1493 of 2048 units: 36 pt are 9.26 mm, 27 are 6.94, 16 are 4.11.
    heights: dict[tuple[str, str], float] = {}
    for name in ("w1", "two_holes"):
        for mark in words_of(sheets_of(name)[0].marks):
            heights[name, mark.text] = max(mark.height, heights.get((name, mark.text), 0.0))
    assert heights["w1", "74½"] == heights["w1", "112½"] == pytest.approx(9.26, abs=0.005)
    assert heights["two_holes", "50"] == heights["two_holes", "125"] == pytest.approx(6.94, abs=0.005)
    assert heights["w1", "69"] == heights["w1", "122"] == pytest.approx(4.11, abs=0.005)


def test_figures_on_the_tile_and_on_the_wall_stand_in_two_panels():
    (sheet,) = sheets_of("w1")
    frames = [extent(mark) for mark in sheet.marks if isinstance(mark, Stroke) and mark.role is Role.BOX]
    panels = [frame for frame in frames if frame.width > 40.0 and frame.height > 25.0]

    def panel_of(text):
        boxes = [extent(m) for m in sheet.marks if isinstance(m, Words) and m.text == text]
        return [index for index, panel in enumerate(panels) for box in boxes if box is not None and box.within(panel)]

    on_tile, on_wall = panel_of("74½"), panel_of("69")
    assert len(on_tile) == len(on_wall) == 1
    assert panel_of("112½") == on_tile
    assert panel_of("84") == panel_of("107") == panel_of("122") == on_wall
    assert on_tile != on_wall


def test_a_stop_crosses_the_drawing_out_and_leaves_no_figure_on_it():
    (sheet,) = sheets_of("stopped")
    strokes = [mark for mark in sheet.marks if isinstance(mark, Stroke)]
    crossed = [mark for mark in strokes if mark.role is Role.STOPPED]
    # From corner to corner of what shows the tile on A4: 183 x 168.5.
    assert [(extent(mark).width, extent(mark).height) for mark in crossed] == [pytest.approx((183.0, 168.5))] * 2
    assert [mark.tone for mark in words_of(sheet.marks) if mark.text == "STOP"] == [Tone.WHITE]
    assert not any("CORE" in mark.text or "CUT-OUT" in mark.text for mark in words_of(sheet.marks))
    assert [mark for mark in strokes if mark.role in (Role.CENTRE, Role.MEASURE)] == []
    page = text_of(sheet)
    assert STOP.text in page
    assert "Change the job file, or write into it why this is accepted" in page
    accepted = SCENES["stopped"]()
    accepted = replace(accepted, findings=(replace(STOP, accepted="moved on the day"),))
    (other,) = build_sheets(accepted)
    assert "STOP" not in said(other)
    assert not [mark for mark in other.marks if isinstance(mark, Stroke) and mark.role is Role.STOPPED]
    assert [mark for mark in other.marks if isinstance(mark, Stroke) and mark.role is Role.CENTRE] != []
    assert "moved on the day" in text_of(other)


def test_the_figures_of_a_notch_over_a_corner_are_down_and_in():
    page = text_of(sheets_of("quarter_of_crossing")[0])
    # Worked example W3: 298 - 269.18 is 28.82, 598 - 570.32 is 27.68.
    assert "29 CUT in from the corner that goes, along the upper edge" in page
    assert "27½ CUT down from the corner that goes, along the RIGHT edge (towards V)" in page


def test_a_hole_by_tape_says_what_to_hold_the_tape_to():
    page = text_of(sheets_of("middle_of_large")[0])
    assert "MEASURE 600 from the LEFT edge (towards V)" in page
    assert "MEASURE 300 from the batten edge" in page
    assert "MEASURE 205 from the batten edge" in text_of(sheets_of("one_edge")[0])


def test_a_turned_tile_has_a_second_arrow():
    assert "PLUMB" in said(sheets_of("turned")[0])
    assert "PLUMB" not in said(sheets_of("w1")[0])


def test_ticks_lie_plus_outside_where_the_edge_is_the_one_to_mark_from():
    (sheet,) = sheets_of("w1")
    edge = next(
        mark.path[0].x
        for mark in sheet.marks
        if isinstance(mark, Stroke) and mark.role is Role.TILE_EDGE and mark.path[0].x == mark.path[1].x
    )
    plus = [
        mark.at.x for mark in sheet.marks if isinstance(mark, Words) and mark.text == "+5" and mark.anchor == "middle"
    ]
    minus = [
        mark.at.x for mark in sheet.marks if isinstance(mark, Words) and mark.text == "−5" and mark.anchor == "middle"
    ]
    # Found more: the hole moves away from the fixed tile, so that the tile's edge comes out 5 beyond the line.
    assert plus == pytest.approx([edge - 5.0] * len(plus))
    assert minus == pytest.approx([edge + 5.0] * len(minus))
    assert len(plus) == len(minus) == 2


def test_cut_ahead_has_no_wall_check():
    plan = SCENES["w1"]()
    (sheet,) = build_sheets(replace(plan, say=replace(plan.say, cut="ahead")))
    assert "Cut ahead: nothing is read on the wall." in text_of(sheet)
    assert "69" not in said(sheet)
    assert "74½" in said(sheet)


def test_sheets_come_in_the_order_of_fixing():
    def one(name, place, fixed, rank):
        x, y = place[0] * 250.0 + 1.0, place[1] * 400.0
        piece = cut_piece(
            [opening(name, Circle(20.0), x + 60.0, y + 60.0)],
            248.0,
            398.0,
            at=(x, y),
            name=name,
            place=place,
            fixed=fixed,
        )
        return replace(piece, rank=rank)

    pieces = [
        one("splash 2-1", (0, 1), (Side.LEFT, Side.BOTTOM), Rank(course=1)),
        one("splash 1-2", (1, 0), (Side.LEFT, Side.BOTTOM), Rank(following=True, distance=1)),
        one("splash 1-1", (0, 0), (Side.LEFT, Side.BOTTOM), Rank()),
        one("splash 1-9", (-1, 0), (Side.RIGHT, Side.BOTTOM), Rank(following=True, side=1, distance=1)),
    ]
    files = [sheet.file for sheet in build_sheets(plan_of(pieces))]
    assert files == [
        "sheets/quay_cottage_laundry__splash_1-01_face_1_5e6f7a8b.svg",
        "sheets/quay_cottage_laundry__splash_1-02_face_1_5e6f7a8b.svg",
        "sheets/quay_cottage_laundry__splash_1-09_face_1_5e6f7a8b.svg",
        "sheets/quay_cottage_laundry__splash_2-01_face_1_5e6f7a8b.svg",
    ]


def test_a_second_page_has_the_next_number():
    assert [sheet.file for sheet in sheets_of("two_sheets")] == [
        f"sheets/quay_cottage_laundry__splash_3-07_face_{number}_5e6f7a8b.svg"
        for number in range(1, len(sheets_of("two_sheets")) + 1)
    ]


def test_a_hole_that_paper_cannot_mark_well_enough_says_so():
    riser = opening("riser", Circle(35.0), 325.5, 912.5, core=35.0, cover=ROSE, you_may_be=0.5)
    (sheet,) = build_sheets(plan_of([cut_piece([riser], 248.0, 398.0)]))
    assert "mark by the tape, not through the paper" in text_of(sheet)


def test_many_holes_in_a_tile_stand_two_on_a_sheet_each_with_its_figures():
    holes = [opening(f"pipe {n}", Circle(14.0), 270.0 + 24.0 * (n % 6), 820.0 + 24.0 * (n // 6)) for n in range(24)]
    sheets = build_sheets(plan_of([cut_piece(holes, 248.0, 398.0)]))
    assert len(sheets) == 12
    safe = Bounds(SAFE_MARGIN, SAFE_MARGIN, 210.0 - SAFE_MARGIN, 297.0 - SAFE_MARGIN)
    assert all(box.within(safe, TOUCH) for sheet in sheets for mark in sheet.marks if (box := extent(mark)) is not None)
    named = [{text for text in said(sheet) if text in {one.name for one in holes}} for sheet in sheets]
    assert [len(names) for names in named] == [2] * 12
    assert {name for names in named for name in names} == {f"pipe {n}" for n in range(24)}


def test_a_stop_is_seen_even_where_the_cut_fills_the_sheet():
    duct = opening("duct", Circle(150.0), 90.0, 110.0, core=150.0)
    findings = [replace(STOP, about=("duct",), text="No tile is left beside duct. " * 6)]
    sheets = build_sheets(plan_of([cut_piece([duct], 448.0, 448.0, at=(1.0, 1.0))], findings=findings))
    assert "STOP" in said(sheets[0])


def test_a_bevelled_tile_says_which_line_is_its_edge():
    piece = w1_piece()
    bevelled = replace(piece, piece=replace(piece.piece, tile=replace(piece.piece.tile, bevelled=True)))
    (sheet,) = build_sheets(plan_of([bevelled]))
    assert "OUTER edges" in text_of(sheet)
    assert "OUTER edges" not in text_of(sheets_of("w1")[0])


@pytest.mark.parametrize("name", ["w1", "two_holes", "joined"])
def test_a_sheet_comes_out_alike_whenever_it_is_drawn(name):
    sheets = build_sheets(SCENES[name]() if name in SCENES else SPECIAL[name]())
    assert [sheet.marks for sheet in sheets] == [sheet.marks for sheet in sheets]


@pytest.mark.parametrize("calibrated", [False, True])
def test_every_page_is_drawn_and_set_once(calibrated, tmp_path, monkeypatch):
    plan = make_plan(load_job(EXAMPLES[JOBS.index("plant-cupboard")]))
    if calibrated:
        plan = replace(plan, calibration=Calibration("office", "", "A4", "2026-11-25", Scale(1.004, 0.997)))
    done: Counter[str] = Counter()

    def counted(module, function):
        own = getattr(module, function)

        def call(*given, **named):
            done[f"{module.__name__.rpartition('.')[2]}.{function}"] += 1
            return own(*given, **named)

        monkeypatch.setattr(module, function, call)

    for module, function in ((build, "drafts"), (front, "paginate"), (job_pages, "paginate")):
        counted(module, function)
    write_job(plan, tmp_path / "out")
    # The SVG files are never corrected, and say so: of a calibrated job they are sheets of their own.
    times = len(plan.registrations) * (2 if calibrated else 1)
    assert done == {"build.drafts": times, "front.paginate": 1, "job_pages.paginate": 1}
