"""The clearance sheet and its list, read back from the finished folder. Figures by hand, as in the example's job."""

from __future__ import annotations

import csv
import io
from pathlib import Path

import pytest

from cutmarks import load_job, make_plan, write_job
from cutmarks.sheets.clearance import clearance_pages
from cutmarks.writers.plan_json import PLAN_FILE, read_plan
from tests.sheets.drawn import words_of as words_in
from tests.writers.pdf_reading import reader_of

ROOM = Path(__file__).parents[2] / "examples" / "treatment-room" / "treatment-room.yaml"
AREA = "    areas: [{name: a, tile: rib, joint: 3, start: {across: joint on V, up: sits on B}}]\n"
TILED = (
    "  - name: other wall\n    kind: wall\n    lines: {V: plumb, B: level}\n"
    + AREA
    + "    holes: [{name: waste, diameter: 40, across: centre 100 right of V, up: centre 50 above B, cover: 80}]\n"
)


def words_of(pdf: Path) -> str:
    """The words of a finished PDF, by a reader of its own."""
    return " ".join(" ".join(page.extract_text() for page in reader_of(pdf.read_bytes()).pages).split())


@pytest.fixture
def out(tmp_path: Path) -> Path:
    write_job(make_plan(load_job(ROOM)), tmp_path / "out")
    return tmp_path / "out"


def test_a_job_without_tiles_makes_a_clearance_sheet_and_nothing_to_cut(out: Path) -> None:
    made = {path.relative_to(out).as_posix() for path in out.rglob("*") if path.is_file()}
    pages = {f"sheets/clearance_{number}.svg" for number in (1, 2)}
    assert made == {"clearance.pdf", "clearance.csv", "plan.json", *pages}


def test_the_list_has_each_fitting_from_the_finished_edges(out: Path) -> None:
    rows = {row["fitting"]: row for row in csv.DictReader(io.StringIO((out / "clearance.csv").read_text("utf-8-sig")))}
    assert list(rows) == ["mixing valve", "shut-off", "basin hot", "basin cold", "pull cord"]
    hot = rows["basin hot"]
    assert [hot[f"from finished {side} mm"] for side in ("left", "right", "bottom", "top")] == [
        *("297.5", "1875", "488", "1850")  # 900 - 27.5 - 575; 1300 + 575; 1000 - 62 - 450; 1400 + 450
    ]
    assert (hot["across mm"], hot["up mm"], hot["nearest"], hot["between mm"]) == ("-575", "-450", "basin cold", "85")
    stopped = rows["shut-off"]
    assert (stopped["verdict"], stopped["service mm"], stopped["service clear mm"]) == ("STOP", "140", "130")
    assert stopped["what is wrong"] == "STOP cannot be serviced"
    assert rows["mixing valve"]["behind face mm"] == "75"


def test_plan_json_has_the_same(out: Path) -> None:
    made = {one.penetration: one for one in read_plan((out / PLAN_FILE).read_bytes()).clearances}
    assert made["basin hot"].finished == {"left": 297.5, "right": 1875.0, "bottom": 488.0, "top": 1850.0}
    assert (made["mixing valve"].behind_face, made["mixing valve"].passes) == (75.0, True)
    assert (made["shut-off"].clear, made["shut-off"].passes) == (130.0, False)


def test_the_sheet_says_it_on_paper(out: Path) -> None:
    words = words_of(out / "clearance.pdf")
    for said in ("CLEARANCE SHEET", "872½", "1038", "needs 140", "has 130", "75 behind the", "AS BUILT - BASIN WALL"):
        assert said in words
    # One line to be filled in for each fitting, with five blanks.
    assert words.count("________") == 5 * 5


def test_a_fitting_that_passes_says_so_under_its_name() -> None:
    pages = [list(words_in(page.marks)) for page in clearance_pages(make_plan(load_job(ROOM)))]
    verdicts = {"PASS", "STOP", "CHECK"}
    for name, verdict in (("mixing valve", "PASS"), ("shut-off", "STOP"), ("pull cord", "CHECK")):
        marks, named = next((page, mark) for page in pages for mark in page if mark.text == name and mark.bold)
        below = [mark for mark in marks if mark.text in verdicts and 0.0 < named.at.y - mark.at.y < 12.0]
        assert [mark.text for mark in below if mark.at.x == named.at.x] == [verdict]


def test_a_surface_with_its_tiles_is_made_as_before_beside_it(tmp_path: Path) -> None:
    mixed = tmp_path / "mixed.yaml"
    text = ROOM.read_text("utf-8")
    mixed.write_text(text + TILED + "tiles: {rib: {size: 297 x 97, measured: yes}}\n", "utf-8")
    plan = make_plan(load_job(mixed))
    write_job(plan, tmp_path / "out")
    made = {path.relative_to(tmp_path / "out").as_posix() for path in (tmp_path / "out").rglob("*") if path.is_file()}
    assert {"pack.pdf", "job-sheet.pdf", "holes.csv", "pieces.csv", "clearance.pdf", "clearance.csv"} <= made
    job_sheet = words_of(tmp_path / "out" / "job-sheet.pdf")
    assert "BASIN WALL" not in job_sheet
    assert "OTHER WALL" in job_sheet
    assert "OTHER WALL" not in words_of(tmp_path / "out" / "clearance.pdf")
    assert {one.opening.name for one in plan.clearances} == {
        *("mixing valve", "shut-off", "basin hot", "basin cold", "pull cord")
    }


def test_a_surface_with_neither_tiles_nor_fittings_stays_on_the_job_sheet(tmp_path: Path) -> None:
    job = tmp_path / "job.yaml"
    bare = "  - {name: bare wall, kind: wall, lines: {V: plumb, B: level}}\n"
    tiles = "tiles: {rib: {size: 297 x 97, measured: yes}}\n"
    job.write_text(f"job: two walls\n{tiles}surfaces:\n{bare}{TILED}", "utf-8")
    write_job(make_plan(load_job(job)), tmp_path / "out")
    assert not (tmp_path / "out" / "clearance.pdf").exists()
    assert "BARE WALL" in words_of(tmp_path / "out" / "job-sheet.pdf")


def test_the_heading_of_a_wall_stays_with_its_first_fitting() -> None:
    # Heading, what the finished edges are, titles of the columns: none may be the last thing on a page.
    from cutmarks.sheets.clearance import _fittings

    plan = make_plan(load_job(ROOM))
    (surface,) = (one for one in plan.to_clear if one.setout.name == plan.clearances[0].opening.surface)
    own = [one for one in plan.clearances if one.opening.surface == surface.setout.name]
    blocks = list(_fittings(plan, surface, own, 180.0))
    rows = [number for number, block in enumerate(blocks) if block.head]
    assert rows[0] >= 3
    assert all(block.keep for block in blocks[: rows[0]])
