"""wall.html as it is written: one file that needs nothing, all its figures there without the script that moves them."""

from __future__ import annotations

import base64
import hashlib
import json
import re
from pathlib import Path

import pytest
from lxml import html
from msgspec.structs import replace

from cutmarks import load_job, make_plan
from tests.bench.jobs import write_square_wall
from tests.told.walls import wall
from tests.writers.as_bytes import wall_page

EXAMPLES = Path(__file__).parents[2] / "examples"
MOST_BYTES = 300_000
"""For fifty tiles, as was asked for."""


@pytest.fixture(scope="module")
def laundry():
    return make_plan(load_job(EXAMPLES / "laundry" / "laundry.yaml"))


@pytest.fixture(scope="module")
def page(laundry):
    return html.fromstring(wall_page(laundry).decode("ascii"))


def words(element) -> str:
    return " ".join(element.text_content().split())


def piece(page, name):
    return next(one for one in page.findall(".//section") if words(one.find("h2")) == name)


def test_it_is_one_file_that_names_no_other(laundry):
    text = wall_page(laundry).decode("ascii")
    assert re.findall(r"""(?:src|href|action|srcset|data|poster)\s*=\s*["'](?!#)""", text) == []
    assert re.findall(r"https?:|//[a-z]", text.replace("// ", "")) == []
    assert "@import" not in text
    assert "url(" not in text


def test_its_policy_lets_its_own_script_and_style_run_and_nothing_else(page):
    policy = page.find(".//meta[@http-equiv='Content-Security-Policy']").get("content")
    rules = dict(rule.split(" ", 1) for rule in policy.split("; "))
    assert rules["default-src"] == "'none'"
    (style,), scripts = page.findall(".//style"), page.findall(".//script")
    run = [script for script in scripts if script.get("type") != "application/json"]
    assert len(run) == 1

    def digest(text: str) -> str:
        return f"'sha256-{base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()}'"

    assert rules["script-src"] == digest(run[0].text)
    assert rules["style-src"] == digest(style.text)
    assert page.findall(".//*[@style]") == []
    assert [one for one in page.iter() if any(str(name).startswith("on") for name in one.attrib)] == []


def test_no_two_parts_have_one_name(page):
    names = [one.get("id") for one in page.iter() if one.get("id")]
    assert len(names) == len(set(names))


def test_the_same_plan_gives_the_same_bytes(laundry):
    assert wall_page(laundry) == wall_page(laundry)


def test_the_data_has_no_sign_that_ends_a_block(laundry):
    named = replace(laundry, job="</script><!--&")
    text = wall_page(named).decode("ascii")
    block = re.search(r'<script type="application/json" id="plan">(.*?)</script>', text)
    assert block is not None
    assert not set("<>&") & set(block[1])
    assert json.loads(block[1])["job"] == "</script><!--&"


def test_a_hole_is_there_with_its_figures(page):
    # hot: 75 left of V, 220 up (212 to 228 above B); 3-4 lies -298.5 to -1.5 across and 200 to 297 up.
    here = piece(page, "splash 3-4")
    rows = [(words(row.find("b")), words(row.find("span"))) for row in here.findall(".//p[@class='row']")]
    assert rows[0] == ("73½", "from the RIGHT edge (towards V)")
    boxes = [words(one) for one in here.findall(".//span[@class='figure']")]
    # From the tile on the right, whose edge is at 1½: 67 + 1½ and 83 + 1½.
    assert boxes[:2] == ["68½", "84½"]
    assert words(here.find(".//p[@class='core']")) == "CORE 35"
    assert words(here.find(".//p[@class='may-be']")) == "you may be 10 any way"


def test_pieces_stand_in_the_order_of_fixing(laundry, page):
    listed = [words(one.find("b")) for one in page.findall(".//ol[@class='pieces']/li/a")]
    assert listed == [one.name for one in laundry.pieces]
    assert len(listed) == len(page.findall(".//section[@class='view piece']"))


def test_a_template_for_the_back_has_its_band_and_names_the_edges_as_seen_on_the_face(page):
    here = piece(page, "upper 1-5")
    assert words(here.find(".//p[@class='band']")).startswith("BACK – MIRRORED")
    assert words(here.find(".//p[@class='face']")) == "BACK"


def test_a_piece_that_is_stopped_has_no_figure_to_mark(tmp_path):
    plan = make_plan(load_job(EXAMPLES / "wash-house" / "wash-house.yaml"))
    stopped = {
        one
        for finding in plan.findings
        if finding.level == "stop" and finding.accepted is None
        for one in finding.about
    }
    page = html.fromstring(wall_page(plan).decode("ascii"))
    checked = 0
    for one in plan.pieces:
        if one.name in stopped and one.cuts:
            here = piece(page, one.name)
            assert here.findall(".//b[@data-row]") == []
            assert [words(band) for band in here.findall(".//p[@class='stop']") if band.get("hidden") is None] != []
            checked += 1
    assert checked


@pytest.mark.parametrize("tiles", [10, 50])
def test_fifty_tiles_are_under_300_kb(tmp_path, tiles):
    plan = make_plan(load_job(write_square_wall(tmp_path, 20, tiles)))
    assert len(plan.pieces) == tiles
    assert len(wall_page(plan)) < MOST_BYTES


def test_a_job_without_tiles_has_no_page(tmp_path):
    from cutmarks import write_job

    plan = make_plan(load_job(EXAMPLES / "treatment-room" / "treatment-room.yaml"))
    assert "wall.html" not in write_job(plan, tmp_path / "out").files


def test_a_piece_that_goes_round_a_step_says_its_shape_and_no_other_says_nothing():
    # A hearth 120 high from 250 right of V on, gap 4: of the tile from 1 to 299 and from 0 to 198 above B a corner
    # is cut from 250 - 4 = 246 on and 120 + 4 = 124 high: 246 - 1 = 245 stay, and 198 - 124 = 74 over it.
    edges = (
        "left: {at: 0 right of V, true: plumb, gap: 1}, right: {at: 560 right of V, true: plumb, gap: 3}, "
        "top: {at: 600 above B, true: level, gap: 2}, bottom: {steps: [{at: 2 below B, until: 250 right of V, what: "
        "worktop, gap: 2}, {at: 120 above B, what: hearth, gap: 4}]}"
    )
    page = html.fromstring(
        wall_page(wall(edges=edges, area="start: {across: joint on V, up: sits on B}")).decode("ascii")
    )
    said = [words(line) for line in page.iterfind(".//p") if (line.get("class") or "").startswith("size")]
    assert said
    assert all(said)
    assert "L cut, the bottom right corner goes: 245 stays from the left edge, 74 from the upper edge" in said


def test_every_finding_stands_behind_the_tiles():
    # The job in which all goes wrong: whatever is found of it is said on the page, under a heading of its own.
    plan = make_plan(load_job(EXAMPLES / "wash-house" / "wash-house.yaml"))
    assert len(plan.findings) > 5
    (behind,) = html.fromstring(wall_page(plan).decode("ascii")).xpath("//section[@id='v-behind']")
    said = words(behind)
    assert [finding.text for finding in plan.findings if " ".join(finding.text.split()) not in said] == []
    assert [line for line in behind.findall(".//h3") if words(line) == "BEFORE YOU CUT"]


def test_whatever_a_picture_shows_from_elsewhere_is_on_the_page(page):
    shown = {one.get("href") for one in page.iterfind(".//use")}
    there = [f"#{one.get('id')}" for one in page.iterfind(".//*[@id]")]
    assert len(shown) > 2
    assert shown <= set(there)
    assert len(there) == len(set(there))
