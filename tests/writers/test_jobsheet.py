"""The job sheet, read back from its marks and its PDF; every expected figure is worked by hand (W1, W4, W5, W6)."""

from __future__ import annotations

import re
from collections.abc import Sequence
from io import BytesIO
from pathlib import Path

import pypdf
import pytest
from msgspec.structs import replace

from cutmarks.checks.model import Finding
from cutmarks.fixing.model import ReadFrom
from cutmarks.job import load_job
from cutmarks.marks.lettering import width
from cutmarks.plan import Plan, make_plan
from cutmarks.registering.paper import SAFE_MARGIN
from cutmarks.sheets.jobsheet import jobsheet_pages
from cutmarks.sheets.model import PaperSheet
from cutmarks.writers.documents import write_job_sheet
from tests.sheets.drawn import extents, overlapping, texts, words_of
from tests.sheets.ink import inked_pages
from tests.sheets.jobs import W1, W4, W5, W6, plan_of, rail, small_tiles

JOBS = {"W1": W1, "W4": W4, "W5": W5, "W6": W6}
HUNDREDTH = 0.01


def job_sheet_pdf(plan: Plan) -> bytes:
    out = BytesIO()
    write_job_sheet(plan, {}, out)
    return out.getvalue()


def pages(text: str) -> Sequence[PaperSheet]:
    return jobsheet_pages(plan_of(text))


def all_texts(sheets: Sequence[PaperSheet], *, bold: bool | None = None) -> list[str]:
    return [text for sheet in sheets for text in texts(sheet.marks, bold=bold)]


def in_cells(sheets: Sequence[PaperSheet], first: str, end: str) -> str:
    """The words from one heading to another in the order of drawing: a cell's lines one after the other."""
    said = [one.text for sheet in sheets for one in words_of(sheet.marks)]
    return " ".join(said[said.index(first) : said.index(end)])


def section(sheets: Sequence[PaperSheet], title: str, end: str = "") -> list[str]:
    """The words from one heading to another, in reading order."""
    said = all_texts(sheets)
    start = said.index(title)
    return said[start : said.index(end, start)] if end else said[start:]


def row_of(sheets: Sequence[PaperSheet], heading: str, name: str, *, bold: bool | None = None) -> list[str]:
    """The words on the line of a table that begins with `name`, below a heading on the same page."""
    for sheet in sheets:
        words = words_of(sheet.marks)
        tops = [one.at.y for one in words if one.text == heading]
        rows = [one for one in words if one.text == name and tops and one.at.y < tops[0]]
        if rows:
            row = max(rows, key=lambda one: one.at.y)
            line = [one for one in words if abs(one.at.y + one.height - row.at.y - row.height) < 1.0]
            return [one.text for one in sorted(line, key=lambda one: one.at.x) if bold is None or one.bold is bold]
    raise AssertionError(f"no row {name!r} under {heading!r}")


def lines(sheets: Sequence[PaperSheet], label: str) -> list[list[str]]:
    """What stands behind a label, line by line, from left to right; figures that are marked from are in stars."""
    found = []
    for sheet in sheets:
        words = words_of(sheet.marks)
        for label_at in sorted((one for one in words if one.text == label), key=lambda one: -one.at.y):
            line = [one for one in words if abs(one.at.y - label_at.at.y) < 0.1 and one.at.x > label_at.at.x]
            ordered = sorted(line, key=lambda one: one.at.x)
            found.append([f"*{one.text}*" if one.bold else one.text for one in ordered])
    return found


@pytest.mark.parametrize("name", JOBS)
def test_nothing_is_nearer_to_the_papers_edge_than_is_safe(name: str):
    for sheet in pages(JOBS[name]):
        for box in extents(sheet.marks):
            assert box.min_x >= SAFE_MARGIN
            assert box.min_y >= SAFE_MARGIN
            assert box.max_x <= sheet.width - SAFE_MARGIN
            assert box.max_y <= sheet.height - SAFE_MARGIN


@pytest.mark.parametrize("name", JOBS)
def test_no_words_on_other_words(name: str):
    assert [pair for sheet in pages(JOBS[name]) for pair in overlapping(sheet.marks)] == []


@pytest.mark.parametrize("name", JOBS)
def test_every_cut_piece_and_every_hole_is_listed(name: str):
    plan = plan_of(JOBS[name])
    said = section(jobsheet_pages(plan), "IN THE ORDER OF FIXING")
    assert {one.name for one in plan.openings} <= set(said)
    listed = " ".join(said).replace(",", " ").split()
    for piece in plan.pieces:
        assert piece.name.rsplit(" ", 1)[-1] in listed
    assert plan.pieces


def test_the_rows_stand_in_the_order_of_fixing():
    plan = plan_of(W6)
    said = [one.text for sheet in jobsheet_pages(plan) for one in words_of(sheet.marks) if one.bold]
    named = [text for text in said if text in {piece.name for piece in plan.pieces}]
    ranks = {piece.name: piece.rank for piece in plan.pieces}
    # The elevation names some as well; in the list each row's first piece has one line of its own.
    rows = named[-len(set(named)) :]
    assert len(rows) > 5
    assert [ranks[name] for name in rows] == sorted(ranks[name] for name in rows)


def test_four_measures_with_those_to_mark_from_in_bold():
    # W1: 74.5 from left and 112.5 from the bottom are marked (V and the course below are fixed); 248 - 74.5 = 173.5 and
    # 398 - 112.5 = 285.5 check them
    assert lines(pages(W1), "MARK") == [["to its middle", "*74½*", "173½", "*112½*", "285½", "*CORE 35*"]]


def test_wall_figures_stand_on_lines_of_their_own():
    # W1: the fixed neighbour on the left ends at 249: 318 - 249 = 69, 333 - 249 = 84; the course below ends at 798:
    # 905 - 798 = 107, 920 - 798 = 122
    across, up = lines(pages(W1), "READ")
    assert across[1:] == ["*69 and 84*", "found", "differs"]
    assert up[1:] == ["*107 and 122*", "found", "differs"]
    assert across[0].endswith("the fixed tile on the LEFT")
    assert "(towards V)" in [one.text for sheet in pages(W1) for one in words_of(sheet.marks)]  # in its next line
    assert up[0].endswith("the course below")


def test_figures_are_said_to_hold_the_joint_only_where_one_is_read_from_a_tile():
    joint, never = "Those from a tile hold the joint.", "never mark these figures on a tile"
    plan = plan_of(W1)
    said = " ".join(all_texts(jobsheet_pages(plan)))
    assert joint in said
    assert never in said
    (piece,) = (one for one in plan.pieces if one.cuts)
    (cut,) = piece.cuts
    checks = tuple(replace(check, source=ReadFrom("line", "V")) for check in cut.wall_checks)
    from_lines = replace(piece, cuts=(replace(cut, wall_checks=checks),))
    said = " ".join(all_texts(jobsheet_pages(replace(plan, pieces=(from_lines,)))))
    assert joint not in said
    assert never in said


def test_no_wall_check_where_the_tiles_are_cut_ahead():
    plan = plan_of(W1)
    ahead = jobsheet_pages(replace(plan, say=replace(plan.say, cut="ahead")))
    assert lines(ahead, "READ") == []
    assert not any(text.startswith("READ") for text in all_texts(ahead))
    assert any("cut ahead, without a wall check" in text for text in all_texts(ahead))


def test_inches_as_they_are_written():
    # W4: 9 17/32 from left, 2 9/32 from right, 3 13/16 from the bottom, 8 from the top
    ((_, *figures, _),) = lines(pages(W4), "MARK")
    assert [figure.strip("*") for figure in figures] == ["9 17/32", "2 9/32", "3 13/16", "8"]


def test_american_words():
    said = " ".join(all_texts(pages(W4)))
    assert "escutcheon" in said
    assert "grout joint" in said
    assert "GFCI" in said
    british = " ".join(all_texts(pages(W1)))
    assert "cover" in british
    assert "escutcheon" not in british


def test_sizes_that_go_in_are_rounded_down_and_stand_twice_where_they_differ():
    # W5: 116.00 at the bottom, 113.76 at the top of course 1
    said = " ".join(section(pages(W5), "IN THE ORDER OF FIXING"))
    # the heights do not differ: the whole 448
    assert "116 at the bottom, 113½ at the top, 448 high" in said


def test_measures_from_a_cut_edge_say_so():
    # W5: 56.00 from the raking cut edge at the pipe's height, 1020 - 200/200 - 3 - 960
    assert "from the cut right edge: 56" in section(pages(W5), "IN THE ORDER OF FIXING")


def test_pieces_that_are_alike_share_a_row_and_are_all_named():
    # W6: under 1 the pieces 1-2 to 1-4 are 297 x 142; the drain is cut in 1-3, so 1-2 and 1-4 are alike. In rank
    # 1-4 is before 1-2: V runs through 1-3, from which work goes to the right first.
    said = " ".join(section(pages(W6), "IN THE ORDER OF FIXING"))
    assert "2 alike: also field under 1-2" in said
    assert "297 x 142" in said


def test_counts():
    # W6 by hand: left whole 1-2 to 1-5, 2-2, 3-2, 3-3, 4-2 = 8; cut: 5 + 2 + 4 + 4 + 3 + 6 = 24; two are holed
    row = row_of(pages(W6), "HOW MANY", "field")
    assert row[-3:] == ["8", "24", "2"]


def test_how_trimmed_tiles_are_marked_is_said_where_there_are_any():
    # W1 has a hole in a whole tile and nothing trimmed; W5's tile is trimmed to 116 and 113.76.
    said = "Sizes of trimmed tiles are rounded down"
    assert not any(text.startswith(said) for text in all_texts(pages(W1)))
    assert any(text.startswith(said) for text in all_texts(pages(W5)))


def test_what_is_not_counted_has_no_number():
    # W1's wall has no edges: one tile has its hole, and nobody knows how many there are or are trimmed.
    assert row_of(pages(W1), "HOW MANY", "field")[-3:] == ["?", "?", "1"]


def test_findings_stop_first_then_check_then_note():
    plan = replace(
        plan_of(W1),
        findings=(
            Finding("note", "play", ("riser",), "riser: play 3 taken.", 3.0),
            Finding("stop", "bridge", ("riser",), "riser: 0.4 left.", 0.4, 0.5, "half a millimetre"),
            Finding("warn", "crack", ("field 3-2",), "20 to the edge.", 20.0, 30.0, accepted="core it slowly"),
        ),
    )
    said = section(jobsheet_pages(plan), "BEFORE YOU CUT")
    # The fourth stands in the row of the hole that must not be cut.
    # Numbered through, as a template calls them that has no room for the sentence.
    labels = [text for text in said if re.fullmatch(r"(STOP|CHECK|NOTE)( \d)?", text)]
    assert labels == ["STOP 1", "CHECK 2", "NOTE 3", "STOP"]
    assert "riser: 0.4 left. (half a millimetre)" in said
    assert "20 to the edge. For: field 3-2. Accepted: core it slowly" in said
    assert "1 STOP, 1 CHECK, 1 NOTE" in all_texts(jobsheet_pages(plan))


def test_what_was_assumed_is_said():
    plan = replace(plan_of(W1), assumed=("riser: the end comes off.",))
    said = all_texts(jobsheet_pages(plan))
    assert said.index("Assumed, because the job does not say it") < said.index("riser: the end comes off.")


@pytest.mark.parametrize("name", JOBS)
def test_cautions_stand_once(name: str):
    said = all_texts(pages(JOBS[name]))
    assert said.count("CAUTIONS") == 1
    text = " ".join(said)
    for caution in (
        "proved dead",
        "respirable crystalline silica",
        "30 mA RCD",
        "carried by two",
        "Local codes",
        "Dry-fit",
    ):
        assert text.count(caution) == 1


@pytest.mark.parametrize("name", JOBS)
def test_the_cautions_stand_at_the_foot_of_the_first_page(name: str):
    first, *others = pages(JOBS[name])
    words = words_of(first.marks)
    (heading,) = [one.at.y for one in words if one.text == "CAUTIONS"]
    last = [one for one in words if one.text.startswith("Measure again on the wall before cutting")]
    assert len(last) == 1
    # Nothing else stands below them but the page's foot, 16 mm up.
    below = [one.text for one in words if one.at.y < last[0].at.y and one.at.y > 16.0]
    assert below == []
    assert heading < 60.0
    assert all("CAUTIONS" not in texts(sheet.marks) for sheet in others)


NINE_POINT, EIGHT_POINT = (points * 25.4 / 72 * 1493 / 2048 - 1e-3 for points in (9.0, 8.0))
"""The capitals of such type, mm: 1493 of the font's 2048 units to an em are a capital's (its OS/2 and head tables)."""
FOOT = 16.0
"""Below this stand the job's fingerprint and the page's number, mm: where it comes from, in 8 point."""


@pytest.mark.parametrize("name", [*JOBS, "rail"])
def test_no_word_is_under_nine_point(name: str):
    plan = rail(12) if name == "rail" else plan_of(JOBS[name])
    for page in inked_pages(job_sheet_pdf(plan)):
        small = {one.text for one in page.words if one.capitals < NINE_POINT}
        assert small == {one.text for one in page.words if one.box.bounds[3] < FOOT}
        assert all(one.capitals >= EIGHT_POINT for one in page.words)


BEFORE = {1: 3, 3: 4, 12: 5, 60: 12}
"""Pages of the job sheet of these jobs when it had three tables: counted in the release before."""


@pytest.mark.parametrize("count", BEFORE)
def test_it_takes_no_more_pages_than_it_did(count: int):
    plan = rail(count)
    numbers = {piece.name: str(number) for number, piece in enumerate(plan.pieces, start=1) if piece.cuts}
    assert len(jobsheet_pages(plan, numbers)) <= BEFORE[count]


def test_each_page_says_which_job_and_which_page():
    plan = small_tiles(12, 12)
    many = jobsheet_pages(replace(plan, findings=tuple(_finding(number) for number in range(150))))
    assert len(many) > 2
    for number, sheet in enumerate(many, start=1):
        said = texts(sheet.marks)
        assert f"page {number} of {len(many)}" in said
        assert f"job {plan.fingerprint}" in said
        assert plan.job in said
        assert "JOB SHEET" in said


def _finding(number: int) -> Finding:
    return Finding("note", "play", ("pipe",), f"pipe: finding {number}.")


def test_tables_have_their_title_again_on_the_next_page():
    plan = plan_of(W6)
    holed = next(piece for piece in plan.pieces if piece.cuts)
    many = replace(plan, pieces=tuple(_renamed(holed, f"field 9-{number}") for number in range(60)))
    with_holes = [sheet for sheet in jobsheet_pages(many) if "MARK" in texts(sheet.marks)]
    assert len(with_holes) > 1
    for sheet in with_holes:
        assert "IN THE ORDER OF FIXING" in texts(sheet.marks)
        assert {"LEFT", "RIGHT", "BOTTOM", "TOP"} <= set(texts(sheet.marks))
    listed = all_texts(tuple(with_holes))
    assert all(f"field 9-{number}" in listed for number in range(60))


def _renamed(piece, name: str):
    return replace(piece, name=name)


def test_the_template_sheet_is_named():
    plan = plan_of(W1)
    name = plan.pieces[0].name
    said = all_texts(jobsheet_pages(plan, {name: "3, 4"}))
    assert "sheet 3, 4" in said
    # And on the elevation, behind the name.
    assert "(3, 4)" in " ".join(said)


def test_words_and_figures_of_the_job_are_printed_as_given():
    said = " ".join(all_texts(pages(W5)))
    assert "One riser" in all_texts(pages(W1))
    assert "right edge: 1020 right of V at B; 1011 right of V at 1800 above B; gap 3" in said
    assert "left edge (end panel): 3 left of V; gap 3" in said


@pytest.mark.parametrize(
    ("paper", "width", "height"),
    # ISO 216; ASME Y14.1; the part that A4 and Letter share. Of A3 and Tabloid the half is used.
    [
        ("A4", 210.0, 297.0),
        ("A3", 210.0, 297.0),
        ("Letter", 215.9, 279.4),
        ("Tabloid", 215.9, 279.4),
        ("any", 210.0, 279.4),
    ],
)
def test_page_sizes(paper: str, width: float, height: float):
    plan = _on_paper(plan_of(W1), paper)
    reader = pypdf.PdfReader(BytesIO(job_sheet_pdf(plan)))
    for page in reader.pages:
        # a point is 25.4 / 72 mm (ISO 32000-1, 8.3.2.3)
        assert float(page.mediabox.width) * 25.4 / 72 == pytest.approx(width, abs=HUNDREDTH)
        assert float(page.mediabox.height) * 25.4 / 72 == pytest.approx(height, abs=HUNDREDTH)


def _on_paper(plan: Plan, paper: str) -> Plan:
    return replace(plan, say=replace(plan.say, paper=paper))


def test_the_same_plan_gives_the_same_bytes():
    plan = plan_of(W1)
    assert job_sheet_pdf(plan) == job_sheet_pdf(plan)


def test_a_surface_without_holes_has_its_sheet_too():
    plan = replace(plan_of(W6), openings=(), pieces=())
    said = all_texts(jobsheet_pages(plan))
    assert "IN THE ORDER OF FIXING" not in said
    assert "CAUTIONS" in said


def test_a_hole_that_meets_no_tile_is_said():
    plan = plan_of(W1)
    missed = replace(plan, pieces=(), openings=plan.openings[:1])
    assert any("riser (15 copper): meets no tile." in text for text in all_texts(jobsheet_pages(missed)))


def test_figures_of_two_columns_do_not_run_together():
    # A waste whose sides are marked stands in two lines, "to 227½" beside "to 112½": at least 1.5 between them.
    plan = make_plan(load_job(Path(__file__).parents[2] / "examples" / "laundry" / "laundry.yaml"))
    words = [one for sheet in jobsheet_pages(plan) for one in words_of(sheet.marks)]
    (left,) = (one for one in words if one.text == "227½")
    (right,) = (one for one in words if one.text == "112½")
    (before,) = (one for one in words if one.text == "to" and one.at.y == right.at.y and one.at.x > left.at.x)
    assert left.at.y == right.at.y
    assert (left.anchor, right.anchor, before.anchor) == ("end", "end", "start")
    assert before.at.x - left.at.x >= 1.5
    assert right.at.x - width(right.text, right.height, right.bold) - before.at.x >= width("to", before.height)
