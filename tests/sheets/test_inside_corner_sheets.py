"""Templates of L cuts and notches, at a window and at a step: measured from the finished PDF, and in a bad copy."""

from __future__ import annotations

import csv
import io
from functools import cache
from pathlib import Path

import pytest
from msgspec.structs import replace

from cutmarks.geometry.frames import Placement, Tile
from cutmarks.job import load_job, parse_job
from cutmarks.marks.model import Role, Stroke
from cutmarks.plan import Plan, make_plan
from cutmarks.sheets.build import build_pack, build_sheets
from cutmarks.sheets.days_list import sheet_numbers
from cutmarks.sheets.jobsheet import jobsheet_pages
from cutmarks.writers.lists import pieces_csv
from cutmarks.writers.pdf import pdf_bytes
from tests.openings.test_inside_corners import STEP
from tests.sheets.copied import copy_faults, copy_of
from tests.sheets.drawn import words_of
from tests.sheets.ink import inked_pages
from tests.sheets.jobs import W6 as WINDOW
from tests.sheets.printed import faults_of

JOBS = {"window": WINDOW, "step": STEP.replace("RISE", "60")}


@cache
def plan_for(name: str, template: str = "") -> Plan:
    text = JOBS[name]
    return make_plan(parse_job(text.replace("job:", f"template: {template}\n    job:") if template else text))


def page_of(plan: Plan, piece: str) -> list[str]:
    (sheet,) = [sheet for sheet in build_sheets(plan) if f" {piece}," in sheet.title]
    return [mark.text for mark in words_of(sheet.marks)]


@pytest.mark.parametrize("template", ["", "back"])
@pytest.mark.parametrize("name", JOBS)
def test_measured_from_the_finished_pdf_every_corner_is_where_it_is_to_be(name, template):
    assert list(faults_of(plan_for(name, template))) == []


@pytest.mark.parametrize("name", JOBS)
def test_a_corner_that_is_a_fiftieth_of_a_millimetre_out_is_found(name):
    plan = plan_for(name)
    shift: Placement[Tile, Tile] = Placement(dx=0.02)
    moved = tuple(
        replace(
            piece,
            piece=replace(piece.piece, outline=piece.piece.outline.moved(shift)),
            outline=piece.outline.moved(shift),
        )
        if piece.corners
        else piece
        for piece in plan.pieces
    )
    assert any("no saw cut" in fault or "no corner" in fault for fault in faults_of(plan, replace(plan, pieces=moved)))


@pytest.mark.parametrize("name", JOBS)
def test_a_copy_in_black_and_white_keeps_every_line_and_letter(name):
    plan = plan_for(name)
    own = {piece.name for piece in plan.pieces if piece.corners}
    sheets = [sheet for sheet in build_sheets(plan) if any(f" {piece}," in sheet.title for piece in own)]
    assert len(sheets) == {"window": 4, "step": 1}[name]
    data = pdf_bytes(sheets[:2], name)
    for number, page in enumerate(inked_pages(data)):
        assert list(copy_faults(page, copy_of(data, number), 9)) == []


def test_the_page_says_what_is_read_marked_and_cut():
    # Course 5 begins 800 above B: of the tile 1.5 to 298.5 right of V the window takes what is right of 97 and below
    # 853. The corner lies 95.5 from the left, 201.5 from the right, 53 from below, 144 from above.
    words = page_of(plan_for("window"), "field 5-4")
    said = " ".join(words)
    # A hole of 6 that touches both lines has its middle 3 from each: about the corner it would bite into what stays.
    drilled = "drill 6 first: its middle in what goes, 3 from both lines; stop both saw cuts there"
    for needed in ("FIELD 5-4", "FACE", "UP", "L CUT", drilled, "this goes", "95\u00bd"):
        assert needed in said, needed
    assert "found MORE: the corner moves AWAY from it" in said
    assert "NO PILOT" not in said.upper()
    assert "CORE" not in said
    assert said.count("LINE UP: LEFT edge (towards V)") >= 2  # in FOLD, and at the edge
    assert "3 MARK on the tile" in words
    assert words.count("CUT") == 2  # beside each of its figures
    assert any(text in words for text in ("95\u00bd to the cut", "95\u00bd from the LEFT edge (towards V)"))


def test_what_is_left_of_the_tile_goes_in():
    # A window 0.3 lower and further left: 201.5 + 0.3 is left of the tile on the right, rounded down 201 1/2 (not 202).
    text = WINDOW.replace("100 to 500 right of V", "100 to 499.7 right of V")
    words = page_of(make_plan(parse_job(text)), "field 5-5")
    # 502.7 - 301.5 = 201.2 goes, measured from the left: of 95.8 that is left 95 1/2 goes in.
    assert any(word.startswith("95\u00bd") for word in words)
    assert not any(word.startswith("96") for word in words)


def test_the_saw_cuts_have_the_weight_of_cuts_and_run_from_edge_to_corner_to_edge():
    (sheet,) = [sheet for sheet in build_sheets(plan_for("window")) if " field 5-4," in sheet.title]
    cut = [mark for mark in sheet.marks if isinstance(mark, Stroke) and mark.role is Role.CUT]
    # The other one is straight, at the ceiling.
    assert sorted(len(mark.path) for mark in cut) == [2, 3]


def test_lists_name_its_sheet():
    plan = plan_for("window")
    pack = build_pack(plan)
    numbers = sheet_numbers(pack.listed)
    rows = {row["piece"]: row for row in csv.DictReader(io.StringIO(pieces_csv(plan, (), numbers).decode("utf-8-sig")))}
    for piece in ("field 2-3", "field 2-5", "field 5-4", "field 5-5"):
        number = int(numbers[piece])
        assert f" {piece}," in list(pack.templates)[number - 1].title
        assert rows[piece]["sheets"] == numbers[piece]
        row = [mark.text for page in pack.front for mark in words_of(page.marks)]
        assert piece in row
        assert numbers[piece] in row
    assert rows["field 1-1"]["sheets"] == ""
    said = [mark.text for page in jobsheet_pages(plan, numbers) for mark in words_of(page.marks)]
    assert f"sheet {numbers['field 5-4']}" in said


@pytest.mark.parametrize(
    ("piece", "figures"),
    [
        ("field 2-3", ("245\u00bd", "147")),
        ("field 2-5", ("51\u00bd", "147")),
        ("field 5-4", ("95\u00bd", "53")),
        ("field 5-5", ("95\u00bd", "53")),
    ],
)
def test_both_figures_stand_in_the_panel_and_on_the_drawing(piece, figures):
    words = page_of(plan_for("window"), piece)
    for figure in figures:
        assert figure in words  # MARK
        assert f"{figure} to the cut" in words or any(word.startswith(f"{figure} from the ") for word in words)


def test_a_sheet_says_the_radius_that_is_asked_for_in_its_inside_corners() -> None:
    round_ = make_plan(parse_job(JOBS["step"].replace("job:", "corner radius: 5\n    job:")))
    said = [mark.text for sheet in build_sheets(round_) for mark in words_of(sheet.marks)]
    assert any("inside corners: radius 5" in words for words in said)
    sharp = [mark.text for sheet in build_sheets(plan_for("step")) for mark in words_of(sheet.marks)]
    assert not any("radius" in words for words in sharp)


def test_a_notch_round_a_frame_leg_says_how_its_end_is_made_and_how_the_tile_gets_in() -> None:
    # examples/boot-room: the notch lies 128 1/2 to 160 1/2 from the right edge, so B, the further one, is drawn on the
    # left. It is 32 wide and 76 deep; between its corners a plunged cut had 26 left, and no disc is said. The leg ends
    # 92 in from D, the tile 4 past it: it has to lie 92 - 4 = 88 further in to be clear of the leg.
    plan = make_plan(load_job(Path("examples/boot-room/boot-room.yaml")))
    words = page_of(plan, "floor 1-2")
    said = " ".join(words)
    assert words.index("corner B") < words.index("corner A")
    assert words.index("160\u00bd") < words.index("128\u00bd")
    assert "drill 6 first at each corner: its middle in what goes, 3 from both lines; stop the saw there" in said
    assert "A to B: small holes, then grind" in said
    assert "slides in under this frame" in words
    assert "slid 88 towards the bottom. Until it is in, fix nothing at its top: lay that dry, to read from" in said
    assert "less joint 3, plus 12 to go under it" in said
    assert "less joint 3, less 12 to go under it" in said


def test_two_saw_cuts_into_one_corner_are_told_in_their_order_by_the_edges_they_come_in_over() -> None:
    # examples/shower-bay: of 4-7 the niche takes the upper left. Sawn first from above, nothing thin stands free.
    plan = make_plan(load_job(Path("examples/shower-bay/shower-bay.yaml")))
    said = " ".join(page_of(plan, "bay 4-7"))
    assert "Saw in first over the upper edge, then over the LEFT edge" in said
    assert "each inside corner" not in said


def test_a_saw_cut_that_goes_on_past_the_sheet_ends_at_a_broken_edge() -> None:
    # examples/shower-bay, 4-7: the sheet lies on the right and the lower edge of a tile of 297 x 197, and both measures
    # are from there. The level cut goes on to the left edge, 297 away, the upright one to the upper edge, 197 away;
    # the drawing ends before. Of 8-3 the measure from the left and the upright cut to the lower edge go on.
    plan = make_plan(load_job(Path("examples/shower-bay/shower-bay.yaml")))
    broken = {}
    for name in ("bay 4-7", "bay 8-3"):
        (sheet,) = [one for one in build_sheets(plan) if f" {name}," in one.title]
        zigzags = [mark for mark in sheet.marks if isinstance(mark, Stroke) and mark.role is Role.MEASURE]
        broken[name] = sum(len(mark.path) == 6 for mark in zigzags)
    assert broken == {"bay 4-7": 2, "bay 8-3": 2}


def test_up_is_written_on_the_tile_where_the_head_folds_away() -> None:
    # 8-3 is lined up on its upper edge: what stands above that goes behind the tile. 4-7 lies on its lower edge.
    plan = make_plan(load_job(Path("examples/shower-bay/shower-bay.yaml")))
    assert "write UP on the tile first" in page_of(plan, "bay 8-3")
    assert "write UP on the tile first" not in page_of(plan, "bay 4-7")
