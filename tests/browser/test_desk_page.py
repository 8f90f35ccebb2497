"""A job without terminal and without YAML: entered, slipped, mended, looked at, made, and its readings taken back."""

from __future__ import annotations

import json
import re
import shutil
from pathlib import Path
from urllib.parse import urljoin

import pytest

from cutmarks import load_job, make_plan
from tests.browser.desk import DeskPage, desk_page, expect, served
from tests.browser.test_hostile_names import NAMES
from tests.browser.test_reading_aloud import violations

pytestmark = pytest.mark.browser

ROOT = Path(__file__).parents[2]
WALL = ("surfaces", 0)


@pytest.fixture(scope="module")
def jobs(tmp_path_factory) -> Path:
    """A folder with the examples, and one job whose every name is markup."""
    folder = tmp_path_factory.mktemp("jobs")
    for name in ("laundry", "mending-room", "treatment-room"):
        shutil.copy(ROOT / "examples" / name / f"{name}.yaml", folder)
    line, what, edge, name, tile, key, hole = (json.dumps(one) for one in NAMES)
    (folder / "hostile.yaml").write_text(
        f"job: hostile\ntiles: {{{tile}: {{size: 248 x 398}}}}\nsurfaces:\n  - name: {name}\n    kind: wall\n"
        f"    lines: {{V: plumb, B: level, {key}: {line}}}\n    edges: {{left: {{at: 700 left of V, what: {edge}}}}}\n"
        f"    {what}: 3\n    holes:\n      - {{name: {hole}, what: {what}, across: {line}, up: 1, note: {tile}}}\n"
        f"      - {line}\n"
    )
    return folder


@pytest.fixture(scope="module")
def serving(jobs, chromium):
    """One server for the jobs that are not killed."""
    with served(jobs) as one:
        yield one


@pytest.fixture
def desk(chromium, serving):
    """A tab of a browser with nothing in it; at the end its script has tripped over nothing and asked nobody else."""
    with desk_page(chromium, serving.address) as held:
        yield held
        assert held.errors == []
        assert held.asked_for == []


def hole(desk: DeskPage, number: int, **said: str) -> None:
    """Add a hole by its fields."""
    desk.press("add a hole")
    for key, value in said.items():
        desk.put(value, *WALL, "holes", number, key)


def tile(desk: DeskPage, name: str, size: str) -> None:
    desk.press("add a tile")
    desk.page.get_by_label("name of the tile").fill(name)
    desk.press("Add")
    desk.put(size, "tiles", name, "size")


def area(desk: DeskPage, tiles: str, joint: str) -> None:
    desk.press("add an area")
    for key, value in (("tile", tiles), ("joint", joint), ("bond", "stack")):
        desk.put(value, *WALL, "areas", 0, key)


def test_a_wall_from_nothing_to_a_pack_with_slips_on_the_way(chromium, tmp_path):
    file = tmp_path / "fern-house.yaml"
    with served(tmp_path) as serving, desk_page(chromium, serving.address) as desk:
        desk.begin("Fern House", "nothing, a wall in mm")
        desk.put("plumb, middle of the basin", *WALL, "lines", "V")
        desk.put("level, top of the batten", *WALL, "lines", "B")
        tile(desk, "rib", "248 x 398")
        # A wrong unit, and a question mark where a size must be known.
        desk.at("tiles", "rib", "size").fill("248 stone x 398")
        expect(desk.says("tiles", "rib", "size")).to_contain_text("no unit")
        desk.at("tiles", "rib", "size").fill("?")
        expect(desk.says("tiles", "rib", "size")).to_have_attribute("data-level", re.compile("fault|wanted"))
        desk.put("24.8 cm x 39.8 cm", "tiles", "rib", "size")
        expect(desk.says("tiles", "rib", "size")).to_have_text("248 by 398 mm")
        hole(desk, 0, name="hot", what="15 copper", across="67 to 83 left of V", up="212 to 228 above B", cover="?")
        hole(desk, 1, name="cold", what="15 copper", across="68 to 83 right", up="level with hot", cover="65")
        expect(desk.says(*WALL, "holes", 1, "across")).to_contain_text("does not say from what")
        desk.put("68 to 83 right of V", *WALL, "holes", 1, "across")
        # A hole by a tap: the box. What is near is said, what is measured is typed.
        desk.drawn()
        desk.page.locator("#drawings img").click(position={"x": 420, "y": 60})
        expect(desk.page.locator("#tap-words")).to_contain_text("You tapped near")
        assert violations(desk) == []
        for key, value in (
            ("name", "socket"),
            ("what", "socket box"),
            ("across", "412 to 484"),  # on which side of V and B it is has been said by the tap
            ("up", "703 to 775"),
            ("cover", "146 x 86"),
        ):
            desk.page.locator(f"#t-{key}").press_sequentially(value)
        desk.press("Add it")
        expect(desk.at(*WALL, "holes", 2, "up")).to_have_value("703 to 775 above B")
        # Undo, and on again.
        desk.press("Undo")
        expect(desk.at(*WALL, "holes", 2, "name")).to_have_count(0)
        desk.press("Redo")
        expect(desk.at(*WALL, "holes", 2, "name")).to_have_value("socket")
        area(desk, "rib", "2")
        desk.put("joint on V", *WALL, "areas", 0, "start", "across")
        desk.put("sits on B", *WALL, "areas", 0, "start", "up")
        # A second tab on the same job: both changes stay; on one field it is asked.
        desk.page.route("**/do/state/**", lambda _: None)  # it has not looked round yet when it is typed into
        with desk_page(chromium, serving.address) as other:
            other.open("fern-house.yaml")
            other.put("B", *WALL, "areas", 0, "from")
            other.put("60", *WALL, "holes", 0, "cover")
            desk.at(*WALL, "holes", 0, "cover").fill("65")
            expect(desk.page.locator(".apart")).to_contain_text('to "60". Yours, "65", is not kept yet')
            assert violations(desk) == []
            desk.press("Keep mine")
            desk.kept()
        desk.page.unroute("**/do/state/**")
        text = (tmp_path / ".fern-house.yaml.draft").read_text("utf-8")
        last = json.loads(text)["steps"][-1][1]
        assert "from: B" in last
        assert "cover: 65" in last
        serving.kill()
        desk.at(*WALL, "holes", 0, "cover").fill("70")
        expect(desk.page.locator("#banners")).to_contain_text("NOT KEPT")
        assert violations(desk) == []
    with served(tmp_path) as serving, desk_page(chromium, serving.address) as desk:
        desk.open("fern-house.yaml")
        expect(desk.at(*WALL, "holes", 0, "cover")).to_have_value("65")  # all but what nobody heard of
        desk.press("Save")
        expect(desk.page.locator("#state")).to_have_text("Saved")
        # An editor's change, while there is one here that is not saved.
        desk.put("63", *WALL, "holes", 1, "cover")
        file.write_text(file.read_text("utf-8").replace("name: socket", "name: shaver"), encoding="utf-8")
        desk.press("Save")
        expect(desk.page.locator("#banners")).to_contain_text("changed by another program")
        assert violations(desk) == []
        desk.press("The file")
        expect(desk.at(*WALL, "holes", 2, "name")).to_have_value("shaver")
        expect(desk.at(*WALL, "holes", 1, "cover")).to_have_value("65")
        # The same text in the second tab, both ways.
        desk.page.get_by_role("tab", name="The file").click()
        box = desk.page.locator("#text")
        expect(box).to_have_value(file.read_text("utf-8"))
        box.fill(box.input_value().replace("name: shaver", "name: shaver   # over the mirror"))
        desk.kept()
        desk.page.get_by_role("tab", name="Form").click()
        expect(desk.at(*WALL, "holes", 2, "name")).to_have_value("shaver")
        desk.put("comes off", *WALL, "holes", 2, "end")
        desk.drawn()
        made = desk.made()
        assert [one.rpartition("/")[2] for one in made][:4] == ["pack.pdf", "job-sheet.pdf", "set-out.pdf", "wall.html"]
        assert desk.page.request.get(f"http://127.0.0.1:{serving.port}{made[0]}").body().startswith(b"%PDF-")
        assert (tmp_path / "fern-house-pack" / "plan.json").is_file()
        kept = file.read_text("utf-8")
        assert "name: shaver   # over the mirror" in kept
        assert "end: comes off" in kept
        # 67 to 83 is 75 from V; with a joint of 2 on V the tile begins at 1: 74 from its edge.
        assert "74 from the right" in desk.page.locator("#lands-body").inner_text()
        assert desk.errors == []


def test_a_floor_from_nothing(desk):
    desk.begin("Fern House, floor", "nothing, a floor in mm")
    desk.put("across, middle of the door", *WALL, "lines", "V")
    desk.put("along, face of the threshold", *WALL, "lines", "D")
    tile(desk, "slab", "598 x 598")
    waste = {"what": "110 soil", "across": "30 left to 80 right of V", "in": "1420 to 1530 from D", "cover": "none"}
    hole(desk, 0, name="waste", **waste)
    area(desk, "slab", "2")
    desk.put("joint on V", *WALL, "areas", 0, "start", "across")
    desk.put("sits on D", *WALL, "areas", 0, "start", "in")
    desk.drawn()
    # 30 left to 80 right of V is 25 right of it; the tile begins at 1: 24 from its left. From D 1475; the third course
    # begins at 1200: 275.
    assert "24 from the left, 275 from the bottom" in desk.page.locator("#lands-body").inner_text()
    assert any(one.endswith("pack.pdf") for one in desk.made())


def test_each_side_of_a_floor_has_an_example_of_its_own(desk):
    desk.begin("Fern House, hall", "nothing, a floor in mm")
    for side, said in (("left", "640 left of V"), ("bottom", "20 short of D"), ("top", "1850 from D")):
        assert desk.at(*WALL, "edges", side, "at").get_attribute("placeholder") == f"e.g. {said}"


def test_each_side_of_a_wall_in_inches_has_an_example_in_inches(desk):
    desk.begin("Fern House, bar", "nothing, a wall in inches")
    for side, said in (("left", "45 left of V"), ("bottom", "1/4 below B"), ("top", "57 1/2 above B")):
        assert desk.at(*WALL, "edges", side, "at").get_attribute("placeholder") == f"e.g. {said}"


def test_an_inch_job(desk):
    desk.begin("Fern House, shower", "an example of a wall in inches, to be changed")
    desk.put("3 1/2 to 4 1/8 left of V", *WALL, "holes", 0, "across")
    # 4 1/8 - 3 1/2 = 5/8; half of that beyond 3 1/2 is 3 13/16.
    expect(desk.says(*WALL, "holes", 0, "across")).to_have_text("5/8 in over both sides; its middle 3 13/16 left of V")
    desk.drawn()
    desk.press("Undo")
    expect(desk.page.locator("#state")).to_have_text("Saved")
    desk.drawn()
    assert any(one.endswith("pack.pdf") for one in desk.made())


SPLASHBACK = """\
job: Gull Street, splashback
units: in
say: us
tiles: {white: {size: 5 15/16 x 2 15/16, measured: yes, thickness: 5/16, box: 40}}
surfaces:
  - name: range wall
    kind: wall
    lines: {V: "plumb, middle of the range", B: "level, top of the counter"}
    edges:
      left: {at: 30 1/4 left of V, true: plumb}
      right: {at: 29 7/8 right of V, true: plumb}
      bottom: {at: at B, what: worktop, true: level}
      top: {at: 18 above B, true: level}
    holes:
      - pot filler, 1/2 copper, 4 7/8 to 5 1/2 left of V, 14 1/4 to 14 7/8 above B, cover 2 1/2, comes off
    areas:
      - {name: field, tile: white, joint: 1/8, bond: half, start: {across: joint on V, up: sits on B}}
"""


def test_what_an_inch_splashback_is_stopped_by_is_written_by_a_button(desk, jobs):
    (jobs / "gull.yaml").write_text(SPLASHBACK, encoding="utf-8")
    desk.open("gull.yaml")
    desk.drawn()
    # The usual gap is 3 mm, 1/8 at the nearest 1/32. Tile and joint are 6 1/16 across and 3 1/16 up, a half 3 1/32:
    # left 30 1/4 - 1/8 - 1/16 - 4 x 6 1/16 - 3 1/32 = 2 25/32, right 29 7/8 likewise 2 13/32,
    # top 18 - 1/8 - 5 x 3 1/16 = 2 9/16, bottom 2 15/16 - 1/8 = 2 13/16.
    ends = desk.page.locator("#edges-list")
    expect(ends).to_have_text("range wall, field: left 2 25/32+, right 2 13/32+, bottom 2 13/16, top 2 9/16")
    gap = (*WALL, "edges", "bottom", "gap")
    expect(desk.says(*gap)).to_contain_text("Left empty: 1/8 in is kept clear here.")
    expect(desk.page.get_by_label("box, tiles in it", exact=True)).to_have_value("40")
    desk.page.locator("#by-hand summary").click()
    expect(desk.page.locator("#b-tile")).to_have_attribute("placeholder", "only where it differs: 9 11/16 x 15 5/8")
    assert violations(desk) == []
    # One notch for the thin tile beside the hole and for its horns, and a button that writes it.
    findings = desk.page.locator("#findings")
    expect(findings.locator(".stop")).to_contain_text("write slot: towards the left and the top")
    expect(findings.locator(".check", has_text="horns")).to_contain_text("write slot: towards the left and the top")
    desk.press("write slot: towards the left and the top")
    expect(findings.locator(".stop")).to_have_count(0)
    expect(findings.locator(".check", has_text="horn")).to_have_count(0)
    # The first row stands on the counter: the gap that was assumed there is written off.
    desk.press("write gap: 0 at the bottom edge")
    expect(ends).to_contain_text("bottom whole")
    expect(desk.at(*gap)).to_have_value("0")
    expect(desk.says(*gap)).to_have_text("")
    desk.page.locator("#wishes summary").click()
    desk.page.get_by_label("for the back of the tiles, mirrored").check()
    desk.made()
    expect(desk.page.locator("#pack")).to_contain_text(
        "Sheets for the BACK of the tiles, mirrored, in pack.pdf: field 5-5."
    )
    expect(desk.page.locator("#pack a").first).to_contain_text("all of it for the BACK")
    assert violations(desk) == []


def test_what_was_stopped_at_its_limit_may_be_tried_for_longer(desk):
    desk.open("laundry.yaml")
    desk.drawn()
    asked: list[object] = []

    def answered(route):
        asked.append(route.request.post_data_json["longer"])
        if asked[-1]:
            route.continue_()
        else:
            route.fulfill(json={"fault": "This was not done.", "too_long": True})

    desk.page.route("**/do/told/**", answered)
    desk.press("What to buy")
    told = desk.page.locator("#told")
    expect(told).to_contain_text("This was not done.")
    assert violations(desk) == []
    told.get_by_role("button", name="Try it for ten times as long").click()
    expect(told.locator("h3").first).to_have_text("What to buy")
    assert asked == [False, True]


def test_the_sheets_to_fill_in_and_the_catalogue_are_under_the_list_of_jobs(desk):
    desk.page.goto(desk.address)
    sheet = desk.page.get_by_role("link", name="a wall, A4").get_attribute("href")
    assert desk.page.request.get(urljoin(desk.address, sheet)).body().startswith(b"%PDF-")
    desk.page.get_by_role("link", name="Pipes, boxes, plates and covers").click()
    expect(desk.page.locator("pre")).to_contain_text("1 gang box")
    assert violations(desk) == []


def test_valves_and_boxes_without_a_tile(desk):
    desk.open("treatment-room.yaml")
    desk.drawn()
    assert "STOP" in desk.page.locator("#findings").inner_text()
    desk.put("60", *WALL, "holes", 1, "service")
    desk.drawn()
    assert "STOP" not in desk.page.locator("#findings").inner_text()
    assert any(one.endswith("clearance.pdf") for one in desk.made())


def test_a_start_is_chosen_from_its_picture(desk, jobs):
    desk.open("mending-room.yaml")
    before = (jobs / "mending-room.yaml").read_text("utf-8")
    desk.press("Show the best few starts")
    second = desk.page.locator("[data-take='2']")
    second.wait_for()
    shown = desk.page.locator("[data-picture='1']").first
    assert shown.evaluate("one => one.decode().then(() => one.naturalWidth)") > 0
    desk.press("All starts of bench wall on one page")
    with desk.page.expect_download() as kept:
        desk.page.get_by_role("link", name="Here it is: starts.pdf").click()
    assert Path(kept.value.path()).read_bytes().startswith(b"%PDF-")
    assert violations(desk) == []
    second.click()
    expect(desk.page.locator("#start-choices")).to_contain_text("Start 2 is written into the job")
    desk.press("Save")
    expect(desk.page.locator("#state")).to_have_text("Saved")
    after = (jobs / "mending-room.yaml").read_text("utf-8")
    assert after != before
    load_job(jobs / "mending-room.yaml")


def test_what_was_sent_before_the_form_was_made_anew_is_no_change_of_another_tab(desk, jobs):
    shutil.copy(ROOT / "examples" / "laundry" / "laundry.yaml", jobs / "anew.yaml")
    desk.open("anew.yaml")
    desk.drawn()
    cover = (*WALL, "holes", 0, "cover")
    # What a server answers to a field with what it knows already, and with what it does not.
    standing = iter(("64", "60"))
    desk.page.route("**/do/change/**", lambda route: route.fulfill(json={"differs": next(standing)}))
    for typed, notes in (("64", 0), ("66", 1)):
        desk.put(typed, *cover)
        expect(desk.page.locator(".apart")).to_have_count(notes)
    assert desk.at(*cover).get_attribute("data-was") == "64"


DROP = """([name, text]) => {
  const dragged = new DataTransfer();
  dragged.items.add(new File([text], name, { type: "text/plain" }));
  for (const kind of ["dragover", "drop"]) {
    document.getElementById("drop").dispatchEvent(
      new DragEvent(kind, { dataTransfer: dragged, bubbles: true, cancelable: true }));
  }
}"""


def test_what_is_typed_in_the_moment_before_the_tab_is_closed_is_kept(desk, jobs):
    shutil.copy(ROOT / "examples" / "laundry" / "laundry.yaml", jobs / "closed.yaml")
    desk.page.on("dialog", lambda dialog: dialog.accept())
    desk.open("closed.yaml")
    field = desk.at(*WALL, "holes", 0, "cover").get_attribute("data-path")
    # Typed, and left in the same moment: the pause after a key (150 ms) is not over.
    desk.page.evaluate(
        """(path) => {
          const one = document.querySelector(`[data-path='${path}']`);
          one.value = "64";
          one.dispatchEvent(new Event("input", { bubbles: true }));
          location.href = document.body.dataset.root;
        }""",
        field,
    )
    desk.page.get_by_label("What it is called").wait_for()
    desk.open("closed.yaml")
    expect(desk.at(*WALL, "holes", 0, "cover")).to_have_value("64")
    expect(desk.page.locator("#state")).to_have_text("Kept, not saved yet")


def test_what_the_wall_page_sent_is_dropped_here_and_shown_before_it_is_kept(desk, jobs):
    plan = make_plan(load_job(jobs / "laundry.yaml"))
    sheet = next(piece.fingerprint for piece in plan.pieces if piece.name == "splash 3-4")
    entry = {"piece": "splash 3-4", "sheet": sheet, "hole": "hot", "right": "70 mm to 86 mm", "by": "JK 2026-03-14"}
    sent = f'job: "Quay Cottage, laundry"\ndigits: {plan.fingerprint}\nfound:\n- {json.dumps(entry)}\n'
    desk.open("laundry.yaml")
    desk.page.evaluate(DROP, ["sent.txt", sent])
    shown = desk.page.locator("#sent-shown")
    # 68½ and 84½ were expected from the right, 70 and 86 were found.
    expect(shown).to_contain_text("corrected 1½ left; now expect 70 and 86 from the right")
    assert violations(desk) == []
    assert not (jobs / "laundry.found.yaml").exists()
    desk.press("Keep it")
    expect(shown).to_contain_text("Kept in laundry.found.yaml")
    assert "70 mm to 86 mm" in (jobs / "laundry.found.yaml").read_text("utf-8")
    desk.page.locator("#sent").set_input_files(
        {"name": "odd.txt", "mimeType": "text/plain", "buffer": b"job: Another\n"}
    )
    expect(shown).to_contain_text("this job is")


def test_nothing_is_said_to_pass_before_there_is_a_start_and_a_stop_has_a_way_out(desk):
    desk.begin("Reed House", "nothing, a wall in mm")
    edges = {"left": "604 left of V", "right": "604 right of V", "bottom": "on B", "top": "809 above B"}
    for side, said in edges.items():
        desk.put(said, *WALL, "edges", side, "at")
    desk.drawn()
    expect(desk.page.locator("#unlooked")).to_contain_text("wall has no tiles yet")
    tile(desk, "rib", "200 x 200")
    desk.put("yes", "tiles", "rib", "measured")  # it stands there, and is not to be looked for
    # 15 to 30 right of V is 22.5; from a tile that begins at 1 that is 21.5: a core leaves less than 15 beside it.
    hole(desk, 0, name="feed", what="15 copper", across="15 to 30 right of V", up="292 to 307 above B", cover="65")
    desk.press("add an area")
    expect(desk.at(*WALL, "areas", 0, "tile")).to_have_value("rib")  # there is no other
    for key, value in (("joint", "2"), ("bond", "stack")):
        desk.put(value, *WALL, "areas", 0, key)
    desk.drawn()
    assert "not known before there is a start" in desk.page.locator("#lands-body").inner_text()
    expect(desk.page.locator("#unlooked")).to_contain_text("wall has no start yet")
    assert "Nothing is against it" not in desk.page.locator("body").inner_text()
    expect(desk.page.locator("#make")).to_be_disabled()
    desk.put("joint on V", *WALL, "areas", 0, "start", "across")
    desk.put("sits on B", *WALL, "areas", 0, "start", "up")
    desk.drawn()
    stop = desk.page.locator("#findings .stop").first
    expect(stop).to_contain_text("of tile left beside feed")
    desk.press("which start frees it?")
    expect(stop).to_contain_text("frees it, with")
    assert violations(desk) == []
    desk.page.get_by_role("button", name="Take start").first.click()
    expect(desk.page.locator("#start-choices")).to_contain_text("is written into the job")
    desk.drawn()
    assert "STOP" not in desk.page.locator("#findings").inner_text()


def test_why_there_is_no_pack_is_said_at_its_button_with_the_way_to_the_field(desk, jobs):
    shutil.copy(ROOT / "examples" / "laundry" / "laundry.yaml", jobs / "why.yaml")
    desk.open("why.yaml")
    desk.drawn()
    why = desk.page.locator("#make-why")
    expect(why).to_have_text("")
    desk.put("joints like a fence", *WALL, "areas", 0, "bond")
    expect(desk.page.locator("#make")).to_be_disabled()
    expect(why).to_contain_text('"joints like a fence" is no bond')
    # The figures of before are struck out, and said to be so beside the table itself.
    expect(desk.page.locator("#lands-old")).to_be_visible()
    cell = desk.page.locator("#lands-body td").first
    assert "line-through" in cell.evaluate("one => getComputedStyle(one).textDecorationLine")
    assert violations(desk) == []
    desk.page.evaluate("scrollTo(0, 0)")
    why.get_by_role("button", name="area splash, bond").click()
    field = desk.at(*WALL, "areas", 0, "bond")
    expect(field).to_be_focused()
    expect(field).to_be_in_viewport()
    desk.put("stack", *WALL, "areas", 0, "bond")
    desk.drawn()
    expect(why).to_have_text("")
    expect(desk.page.locator("#lands-old")).to_be_hidden()


def test_a_hole_in_one_line_has_its_box_and_the_line_is_free_for_the_next(desk):
    desk.begin("Reed House, taps", "nothing, a wall in mm")
    line = desk.page.get_by_label("or say it in one line")
    for number, words in enumerate(
        ("hot, 15 copper, 212 to 227 left of V, 298 to 313 above B, cover 60", "cold, 15 copper")
    ):
        line.press_sequentially(words)
        line.press("Enter")
        expect(desk.page.locator(f'[data-thing=\'["surfaces", 0, "holes", {number}]\']')).to_be_visible()
        expect(line).to_have_value("")
        expect(line).to_be_focused()


def test_nothing_moves_under_the_hand_while_the_form_is_made_anew(desk, jobs, chromium, serving):
    shutil.copy(ROOT / "examples" / "laundry" / "laundry.yaml", jobs / "still.yaml")
    desk.open("still.yaml")
    desk.drawn()
    field = desk.at(*WALL, "holes", 0, "cover")
    field.evaluate("one => one.scrollIntoView({block: 'center'})")

    def top(one) -> float:
        return one.evaluate("one => one.getBoundingClientRect().top")

    field.click()
    here = top(field)
    # A sentence of several lines, first at a field above, which another tab changes, and then at this one.
    with desk_page(chromium, serving.address) as other:
        other.open("still.yaml")
        other.put("67 to 83 parsecs left of V, and then some more", *WALL, "holes", 0, "across")
    expect(desk.says(*WALL, "holes", 0, "across")).to_have_attribute("data-level", "fault")
    assert top(field) == pytest.approx(here, abs=1.0)
    field.fill("60 stone")
    expect(desk.says(*WALL, "holes", 0, "cover")).to_contain_text("60 stone")
    assert top(field) == pytest.approx(here, abs=1.0)
    desk.kept()
    here = top(field)
    desk.press("Undo")
    expect(field).not_to_have_value("60 stone")
    assert top(field) == pytest.approx(here, abs=1.0)


def test_the_order_of_work_what_to_buy_and_every_limit_are_read_here(desk):
    desk.open("laundry.yaml")
    desk.drawn()
    told = desk.page.locator("#told")
    for button, says in (
        ("The order of work", "BEFORE ANYTHING"),
        ("What to buy", "39 whole + 12 cut"),
        ("What lies at the edges", "sink wall, splash: left"),
        ("How sure each cut is", "% sure that it goes over"),
        ("Every limit, and where it is from", "thin bridge: 30 mm"),
    ):
        desk.press(button)
        expect(told).to_contain_text(says)
    assert violations(desk) == []


def test_a_pack_is_made_as_it_is_wished_and_one_for_the_shop(desk, jobs):
    shutil.copy(ROOT / "examples" / "laundry" / "laundry.yaml", jobs / "wished.yaml")
    desk.open("wished.yaml")
    desk.drawn()
    desk.page.get_by_text("Paper, printer, the back, pictures, what broke").click()
    desk.page.get_by_label("for the back of the tiles, mirrored").check()
    desk.page.get_by_label("print again").fill("hot")
    assert violations(desk) == []
    assert desk.made()[0].endswith("again.pdf")
    sheets = list((jobs / "wished-pack" / "sheets").glob("*.svg"))
    assert sheets
    assert all("BACK" in one.read_text("utf-8") for one in sheets)
    desk.press("Make the shop's pack")
    expect(desk.page.locator("#making")).to_contain_text("in the folder wished-shop")
    with desk.page.expect_download() as kept:
        desk.page.get_by_role("link", name="All of it, in one ZIP").click()
    assert kept.value.suggested_filename == "wished-shop.zip"


def test_a_printer_that_is_out_is_measured_on_the_page(desk):
    desk.open("laundry.yaml")
    desk.drawn()
    desk.page.get_by_text("A printer that is out: measure it once").click()
    desk.page.locator("#p-name").fill("office")
    desk.press("Get its test page")
    with desk.page.expect_download() as kept:
        desk.page.get_by_role("link", name="Here it is: printer-test.pdf").click()
    assert Path(kept.value.path()).read_bytes().startswith(b"%PDF-")
    desk.page.get_by_label("bar across").fill("179.5")
    desk.page.get_by_label("bar along").fill("251")
    assert violations(desk) == []
    desk.press("Keep what was read")
    # Of 180 and 250.
    expect(desk.page.locator("#p-said")).to_contain_text("across \u22120.28 %, along +0.40 %")
    expect(desk.page.locator("#w-printer option")).to_have_count(2)


def test_what_was_read_is_said_by_hand_shown_kept_and_taken_back(desk, jobs):
    shutil.copy(ROOT / "examples" / "laundry" / "laundry.yaml", jobs / "by-hand.yaml")
    desk.open("by-hand.yaml")
    desk.drawn()
    desk.page.get_by_text("Or say it here").click()
    desk.page.locator("#b-piece").select_option("splash 3-4")
    expect(desk.page.locator("#b-hole")).to_have_value("hot")
    desk.page.get_by_label("from the right").fill("70 to 86")
    desk.press("Show what moves")
    shown = desk.page.locator("#found-shown")
    # 68½ and 84½ were expected from the right.
    expect(shown).to_contain_text("corrected 1½ left; now expect 70 and 86 from the right")
    assert violations(desk) == []
    assert not (jobs / "by-hand.found.yaml").exists()
    desk.press("Keep it")
    expect(shown).to_contain_text("Kept in by-hand.found.yaml. Make the pack anew.")
    assert "70 to 86" in (jobs / "by-hand.found.yaml").read_text("utf-8")
    desk.press("Take the last back")
    expect(shown).to_contain_text("Nothing is kept of splash 3-4 any more")
    desk.press("Take it back")
    expect(shown).to_contain_text("Taken back from by-hand.found.yaml")
    assert "70 to 86" not in (jobs / "by-hand.found.yaml").read_text("utf-8")


def test_one_tile_from_its_fixed_neighbours(desk):
    desk.page.goto(desk.address)
    desk.page.get_by_role("link", name="One tile, now").click()
    for label, said in (("tile", "248 x 398"), ("joint", "2"), ("what", "15 copper"), ("cover", "65")):
        desk.page.get_by_label(label, exact=True).fill(said)
    desk.page.get_by_label("both its sides").fill("69 to 84")
    desk.page.get_by_label("near and far side").fill("107 to")
    expect(desk.page.locator("#one .says")).to_contain_text("up: ")
    desk.page.get_by_label("near and far side").fill("107 to 122")
    # (69 + 84) / 2 - 2 and (107 + 122) / 2 - 2.
    expect(desk.page.locator("#one")).to_contain_text("74½ from the left, 112½ from the bottom")
    assert violations(desk) == []
    desk.press("Make its template")
    with desk.page.expect_download() as kept:
        desk.page.get_by_role("link", name="Here it is: one-tile.pdf").click()
    assert Path(kept.value.path()).read_bytes().startswith(b"%PDF-")


def test_what_there_is_to_read_is_read_here(desk):
    desk.page.goto(desk.address)
    desk.page.get_by_role("link", name="Help, and all there is to read").click()
    expect(desk.page.locator("pre")).to_contain_text("A job without a terminal and without YAML")
    assert violations(desk) == []
    desk.page.get_by_role("link", name="floors", exact=True).click()
    expect(desk.page.locator("h1")).to_have_text("floors")


def test_no_name_runs_and_nothing_is_fetched(desk):
    def told(dialog):
        # Whoever leaves while something is on its way to be kept is asked: that is the browser's own question.
        if dialog.type == "beforeunload":
            dialog.accept()
            return
        desk.errors.append(dialog.message)
        dialog.dismiss()

    desk.page.on("dialog", told)
    desk.open("hostile.yaml")
    desk.page.locator("[data-level=fault]").locator("visible=true").first.wait_for()
    desk.page.get_by_role("tab", name="The file").click()
    desk.page.locator("#text-says p").first.wait_for()
    for begin in NAMES[:3]:
        desk.page.goto(desk.address)
        desk.page.get_by_label("What it is called").fill(begin)
        desk.press("Begin")
        desk.page.locator(".banner, body[data-formed]").first.wait_for()
    assert desk.page.evaluate("window.ran") is None


def test_no_screen_has_a_violation(desk):
    desk.page.goto(desk.address)
    assert violations(desk) == []
    desk.open("laundry.yaml")
    desk.drawn()
    assert violations(desk) == []
    desk.at(*WALL, "holes", 0, "across").fill("67 to 83 left")
    expect(desk.says(*WALL, "holes", 0, "across")).to_contain_text("from what")
    desk.page.locator("[data-more]").first.click()
    desk.press("add a tile")
    assert violations(desk) == []
    desk.page.get_by_role("tab", name="The file").click()
    desk.page.locator("#text-says p").first.wait_for()
    assert violations(desk) == []
