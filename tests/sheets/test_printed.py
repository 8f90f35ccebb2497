"""The finished PDF measured against the plan: a slice of the sheets campaign, and that it finds what is wrong."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from cutmarks.geometry.frames import Placement, Tile
from cutmarks.job import load_job
from cutmarks.openings.cuts import runs_out
from cutmarks.plan import make_plan
from cutmarks.sheets.build import build_pack
from cutmarks.writers.pdf import pdf_bytes
from tests.bench.sheets_campaign import EXAMPLES, random_case
from tests.scenes import SCENES
from tests.sheets.apart import word_faults
from tests.sheets.ink import Line, Page, inked_pages
from tests.sheets.printed import faults_of, page_of
from tests.sheets.special import SPECIAL


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_every_example(path):
    assert list(faults_of(make_plan(load_job(path)))) == []


@pytest.mark.parametrize("seed", range(1, 10))
def test_random_jobs(seed):
    case = random_case(seed)
    assert case is None or list(faults_of(case.plan, asked=case.paper)) == []


def test_the_letters_of_the_set_out_lines_keep_off_tiles_that_reach_past_the_drawing():
    # The campaign's seed 280, whose printer leaves 5 blank: turned tiles over an open side end right of the small
    # elevation, where B stands.
    case = random_case(280)
    assert case is not None
    pack = build_pack(case.plan)
    (page,) = inked_pages(pdf_bytes([next(iter(pack.templates))], "first"))
    assert "B" in {word.text for word in page.words}
    assert list(word_faults(page, 5.0)) == []


def test_no_number_of_a_map_is_painted_over_by_the_white_of_the_next():
    # The campaign's seed 70: many small tiles, each with a sheet; its printer leaves 20 blank.
    case = random_case(70)
    assert case is not None
    for page in inked_pages(pdf_bytes(build_pack(case.plan).front, "front")):
        assert list(word_faults(page, 20.0)) == []


@pytest.mark.parametrize(
    "seed",
    [
        86,  # one leaning edge of a window is two readings: READ ran out of its panel
        185,  # the printer leaves 20 blank, and a wide tile's picture in the day's list reached its name
        428,  # tiles that lie turned reach past the surface, to a number in the map's margin
        192,  # three readings of a window, and what more does to two corners
        434,  # two holes with two readings each, marked from three edges
        520,  # the same on the back, with an edge that has no room for ticks
        378,  # three readings in many words on the back: one line is left for what more does
        354,  # a cross at a join stood on the tile's own edge, and its arm ran along it
        393,  # two cuts, one far across and one far up: the last of four joined sheets showed neither
        513,  # a measure to a cut ran along the side of a second cut's cover
        704,  # a saw cut that is printed as the line that closes its path
    ],
)
def test_the_campaigns_pages_that_went_wrong(seed):
    case = random_case(seed)
    assert case is not None
    assert list(faults_of(case.plan, asked=case.paper)) == []


def test_a_line_that_closes_its_path_is_a_line_as_any_other():
    # An L of five lines and a closing one: what lies on that one is on the paper.
    corner = [(0.0, 0.0), (40.0, 0.0), (40.0, 20.0), (20.0, 20.0), (20.0, 60.0), (0.0, 60.0)]
    steps = tuple(("m" if number == 0 else "l", [point]) for number, point in enumerate(corner))
    closed = Line((*steps, ("h", [])), 0.7, ())
    (stroke,) = page_of(Page(210.0, 297.0, (closed,)), 10.0).strokes
    points, kinds, *_ = stroke
    assert points == [*corner, corner[0]]
    assert kinds == ["m", *["l"] * 6]


@pytest.mark.parametrize("name", sorted(SPECIAL))
def test_sheets_out_of_the_ordinary(name):
    assert list(faults_of(SPECIAL[name]())) == []


@pytest.mark.parametrize("name", ["w1", "box", "quarter_of_crossing", "middle_of_large"])
def test_a_cut_that_is_a_fiftieth_of_a_millimetre_out_is_found(name):
    plan = SCENES[name]()
    shift: Placement[Tile, Tile] = Placement(dx=0.02)
    moved = tuple(
        replace(piece, outline=piece.outline.moved(shift), cuts=tuple(_moved(cut, piece, shift) for cut in piece.cuts))
        for piece in plan.pieces
    )
    assert list(faults_of(plan)) == []
    assert list(faults_of(plan, replace(plan, pieces=moved))) != []


def _moved(cut, piece, shift):
    """The cut's outline moved, its middle left where it was: what is drawn then differs from what is said."""
    share = cut.share.moved(shift)
    return replace(cut, share=share, runs_out=runs_out(share, piece.piece.outline))


def test_another_paper_and_a_missing_cut_are_found():
    plan = SCENES["two_holes"]()
    other = replace(plan, say=replace(plan.say, paper="Letter"))
    assert any("it is 215.900 x 279.400" in fault for fault in faults_of(plan, other))
    (only, *_) = plan.registrations
    half = replace(plan, registrations=(replace(only, cuts=only.cuts[:1]),))
    assert any("only cuts [0] are on paper" in fault for fault in faults_of(half))
