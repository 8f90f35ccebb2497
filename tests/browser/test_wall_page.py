"""The wall page on a phone: what it shows, what a tap does, what it keeps, and what comes back."""

from __future__ import annotations

import base64
import re
import shutil
from pathlib import Path

import pytest

from cutmarks import load_job, make_plan
from tests.browser.conftest import LAUNDRY
from tests.browser.phone import HIGH, WIDE
from tests.saying.test_by_reading import JOB

pytestmark = pytest.mark.browser

NEAR, FAR = "c.0.0.0", "c.0.0.1"
UP = "c.0.1"
"""What is read from the course below."""
HOT = "splash 3-4"
"""Its hole is 75 left of V; V lies 1½ off the tile's right edge: 73½ from there (README's walk of x). Read from the
fixed tile on the right, 3-5, whose left edge is 1½ right of V: near and far side 68½ and 84½."""


def figure(handset, row="0.0"):
    return handset.text(f'[data-row="{row}"]')


def test_the_first_screen_is_the_next_piece_with_its_figures(handset, made):
    handset.open(made())
    assert handset.text(".view.shown .next") == "NEXT"
    assert handset.text(".view.shown h2").casefold() == "splash 1-8"  # the first trimmed piece of the first course
    assert handset.text("header .job").startswith("job ")
    assert not handset.sees("#m-not-kept")
    assert handset.errors == []
    assert [url for url in handset.asked_for if not url.startswith("file:")] == []


def test_what_is_read_moves_the_figure_by_as_much(handset, made):
    handset.open(made())
    handset.go(HOT)
    assert (handset.text(f'button.figure[data-box="{NEAR}"]'), handset.text(f'button.figure[data-box="{FAR}"]')) == (
        "68½",
        "84½",
    )
    assert figure(handset) == "73½"
    handset.step(NEAR, 3)
    handset.step(FAR, 3)
    # 1½ more from the right: 1½ further from the right edge, 73½ + 1½.
    assert figure(handset) == "75"
    assert handset.text('[data-check="0.0"]') == "222"  # 297 - 75
    assert not handset.sees(".view.shown .print")
    handset.as_expected(UP)
    assert handset.text(".view.shown [data-told=moved]").startswith(
        "MOVED: the figures here are the ones to mark by, with no wait for a print. The print "
    )


def test_until_all_is_read_what_is_to_be_marked_is_not_final(handset, made):
    """Two readings of two figures each: one figure of two moves nothing, and what is marked says how many are read."""
    handset.open(made())
    handset.go(HOT)
    seen = [handset.text(".view.shown .count")]
    handset.step(NEAR, 3)
    assert figure(handset) == "73½"
    assert handset.text(f'.box[data-box="{NEAR}"] .what') == "near side found"
    assert handset.text(f'.box[data-box="{FAR}"] .what') == "far side expected"
    seen.append(handset.text(".view.shown .count"))
    handset.step(FAR, 3)
    assert figure(handset) == "75"
    seen.append(handset.text(".view.shown .count"))
    assert handset.sees(".view.shown .not-yet")
    assert handset.text(".view.shown [data-told=moving]").endswith(
        "is no longer the one to drill through. Read the rest, and then mark."
    )
    handset.as_expected(UP)
    seen.append(handset.text(".view.shown .count"))
    assert seen == ["NOT YET: 0 of 4 read", "NOT YET: 1 of 4 read", "NOT YET: 2 of 4 read", "4 of 4 read"]
    assert not handset.sees(".view.shown .not-yet")
    assert handset.text('.box[data-box="c.0.1.0"] .what') == "near side as expected"
    assert "all read" in handset.text('.view.shown [data-listed="6"]')


def test_what_is_expected_looks_like_it_and_is_never_taken_for_read(handset, made):
    handset.open(made())
    handset.go(HOT)
    looks = "one => { const s = getComputedStyle(one); return [s.borderTopStyle, s.backgroundColor]; }"
    box = handset.page.locator(f'button.figure[data-box="{NEAR}"]')
    assert box.evaluate(looks) == ["dashed", "rgb(255, 255, 255)"]
    handset.tap("[data-tick=cut]")
    assert "NOT YET" in handset.text(".view.shown .count")
    assert "right" not in handset.sent()
    handset.go(HOT)
    handset.step(NEAR, 1)
    assert box.evaluate(looks) == ["solid", "rgb(0, 0, 0)"]
    sent = handset.sent()
    assert "right" not in sent
    assert handset.text("#m-half") == "Half read, so nothing of it goes back: splash 3-4"
    handset.go(HOT)
    handset.as_expected("c.0.0")
    assert '"right":"68.5 mm to 84.5 mm"' in handset.sent()
    handset.go(HOT)
    handset.as_expected("c.0.0")
    assert "right" not in handset.sent()


def test_a_step_from_what_was_as_expected_keeps_the_other_figure(handset, made):
    handset.open(made())
    handset.go(HOT)
    handset.as_expected("c.0.0")
    handset.step(FAR, 2)
    assert '"right":"68½ mm to 85½ mm"' in handset.sent()


def test_the_page_shows_the_digits_that_the_print_made_after_it_carries(handset, made, job, tmp_path, run):
    """Moved once, then, with the page made anew, once more: what the page says is what `found` makes."""
    page = made(job)
    told = []
    for number, (across, up) in enumerate(((3, -2), (-1, 3))):
        handset.open(page)
        handset.go(HOT)
        for box, by in ((NEAR, across), (FAR, across), ("c.0.1.0", up), ("c.0.1.1", up)):
            handset.step(box, by)
        said = handset.text(".view.shown [data-told=moved]")
        told += re.findall(r"the right one carries ([0-9a-f]{8})\. Who made this page prints it, once these", said)
        result = run("found", job, "--from", given(tmp_path, handset.sent()), "--yes")
        assert f"splash 3-4: sheet {told[-1]}" in result.stdout
        page = made(job, f"anew {number}")
    handset.open(page)
    handset.go(HOT)
    assert handset.text(".view.shown .print") == f"The right print carries {told[-1]}."
    # Back to where it was planned, 68½ and 84½ from the right, 43 and 59 up: the first print is the right one again.
    for box, typed, half in ((NEAR, "68", 1), (FAR, "84", 1), ("c.0.1.0", "43", 0), ("c.0.1.1", "59", 0)):
        handset.tap(f'[data-do=type][data-box="{box}"]')
        for digit in typed:
            handset.tap(f'[data-digit="{digit}"]')
        if half:
            handset.tap("[data-do=part]")
        handset.tap("[data-do=enter]")
    first = next(one for one in make_plan(load_job(LAUNDRY)).pieces if one.name == HOT).fingerprint
    assert f"the right one carries {first}" in handset.text(".view.shown [data-told=moved]")
    assert len({first, *told}) == 3


def test_on_which_edge_both_ends_of_a_cut_lie_is_drawn(handset, made):
    """184½ to 227½ are on the upper edge of splash 4-7, over which the socket's cut-out runs."""
    handset.open(made())
    handset.go("splash 4-7")
    assert handset.text(".view.shown .row span") == "along the upper edge, from the LEFT edge (towards V)"
    drawn = handset.page.locator(".view.shown .row .along")
    assert drawn.count() == 1
    assert drawn.get_attribute("aria-label") == "along the upper edge"
    # A core of 50 whose middle is 12½ outside the upper edge (its bite is 12½ deep), drawn whole with its cross.
    core, taken = drawn.locator("circle").bounding_box(), drawn.locator(".fill path").bounding_box()
    assert taken["height"] == pytest.approx(core["height"] / 4, abs=2)
    assert taken["y"] + taken["height"] == pytest.approx(core["y"] + core["height"], abs=2)
    middle = "its middle: 206 from the LEFT edge (towards V), 12½ outside the upper edge"
    assert handset.text(".view.shown .middle") == middle
    # Along the edge it moves by adding: 1 more from the left, 184½ to 227½ become 185½ to 228½.
    handset.step(NEAR, 2)
    handset.step(FAR, 2)
    assert figure(handset) == "185½ to 228½"
    assert handset.text(".view.shown .core") == "CORE 50"
    assert handset.text(".view.shown .middle") == middle.replace("206", "207")
    # Deeper or less deep its ends are others: no figure is shown. (1.4 off, under 1¾, half of the 3½ it may be off.)
    handset.step("c.0.1.0", 2)
    handset.step("c.0.1.1", 2)
    assert handset.text(".view.shown [data-told=otherwise]").startswith("STOP Moved so far it is not enough to add")


BACK = """\
job: split face
tiles: {split: {size: 397 x 247, measured: yes, face: textured}}
surfaces:
  - name: wall
    kind: wall
    lines: {V: "plumb, left of the door", B: "level, top of the batten"}
    areas:
      - {name: field, tile: split, joint: 3, from: B, start: {across: joint on V, up: sits on B}}
    holes:
      - {name: waste, what: own pipe, diameter: 42, across: 471 to 513 left of V, up: 337 to 379 above B, cover: 90}
"""


def test_on_a_back_it_says_on_which_hand_the_edge_lies_now(handset, made, tmp_path):
    """2-L2 ends 401.5 left of V: its middle, 492 left of V, is 90½ from the edge towards V, the right one on its face.

    Turned over like a page that edge lies on the left.
    """
    job = tmp_path / "split.yaml"
    job.write_text(BACK, "utf-8")
    handset.open(made(job))
    handset.go("field 2-L2")
    assert figure(handset) == "90½"
    assert handset.text(".view.shown .row span") == "from the edge on your LEFT now (towards V)"
    middle, whole = (
        handset.page.locator(f".view.shown .sketch {what}").first.bounding_box() for what in (".cut", ".grid")
    )
    assert middle["x"] + middle["width"] / 2 < whole["x"] + whole["width"] / 2


def test_what_to_cut_with_is_seen_without_scrolling(handset, made, tmp_path):
    """Core and leeway of a tile with one hole, on its face, on its back, over an edge, in inches."""
    job = tmp_path / "split.yaml"
    job.write_text(BACK, "utf-8")
    foot = "document.querySelector('.foot').getBoundingClientRect().top"
    inches = made(LAUNDRY.parents[1] / "potting-bench" / "potting-bench.yaml", "inches")
    pages = (made(), HOT), (made(), "splash 4-7"), (made(job, "back"), "field 2-L2"), (inches, "bench 2-4")
    for page, piece in pages:
        handset.open(page)
        handset.go(piece)
        for reading in ("c.0.0", UP):
            handset.as_expected(reading)
        handset.page.evaluate("window.scrollTo(0, 0)")
        for what in (".core", ".may-be"):
            box = handset.page.locator(f".view.shown {what}").bounding_box()
            assert box["y"] + box["height"] <= handset.page.evaluate(foot), (piece, what)


def test_what_stops_is_ticked_neither_as_cut_nor_as_fixed(handset, made):
    handset.open(made())
    handset.go(HOT)
    handset.tap("[data-tick=cut]")
    handset.step(NEAR, 12)
    handset.step(FAR, 12)
    assert handset.sees(".view.shown [data-told=far]")
    assert handset.page.locator("[data-tick=fixed]").is_disabled()
    handset.tap("[data-tick=cut]")  # ticked before, it can be taken back, and no more than that
    assert handset.page.locator("[data-tick=cut]").is_disabled()
    handset.open(made(LAUNDRY.parents[1] / "wash-house" / "wash-house.yaml", "stopped"))
    handset.go("trough 1-4")  # stopped as planned: 7½ of tile left beside the waste, under 15
    assert handset.page.locator("[data-tick=cut]").is_disabled()
    handset.go("trough 4-8")
    assert handset.page.locator("[data-tick=cut]").is_enabled()


def test_under_the_limit_nothing_moves(handset, made):
    handset.open(made())
    handset.go(HOT)
    handset.step(NEAR, 1)
    handset.step(FAR, 1)
    handset.as_expected(UP)
    assert figure(handset) == "73½"
    assert handset.sees(".view.shown .print")


def test_over_half_of_what_it_may_be_off_it_stops(handset, made):
    handset.open(made())
    handset.go(HOT)
    may_be = handset.text(".view.shown .may-be")
    assert may_be == "you may be 10 any way"  # a pipe of 15 in a core of 35, and the cover of 65 laps 12
    handset.step(NEAR, 11)
    handset.step(FAR, 11)
    said = handset.text(".view.shown [data-told=far]")
    assert said.startswith("STOP hot in splash 3-4 was found 5½ off, over 5: read it again")  # half of 10
    assert handset.text(".view.shown [data-told=held]") == "Nothing is marked, cut or fixed until this is settled."
    assert not handset.sees('[data-row="0.0"]')
    assert handset.text(".view.shown [data-told=held]") == "Nothing is marked, cut or fixed until this is settled."
    handset.step(NEAR, -1)
    handset.step(FAR, -1)
    assert figure(handset) == "78½"  # 5 off: 73½ + 5


def test_where_adding_is_not_enough_no_figure_is_shown(handset, made, tmp_path):
    # A round notch 18½ from the tile's left edge: 4 nearer it would leave 14½, and under 15 it cracks.
    job = tmp_path / "notch.yaml"
    hole = "{name: hot, what: 15 copper, across: 279.5 to 294.5 right of V, up: 401 to 416 above B, cover: 65}"
    job.write_text(JOB.format(hole=hole[1:-1], more=""), "utf-8")
    handset.open(made(job))
    handset.go("field 2-R2")
    handset.step(NEAR, -6)
    handset.step(FAR, -6)
    assert figure(handset) == "33"  # 36 less 3
    handset.step(NEAR, -2)
    handset.step(FAR, -2)
    assert handset.text(".view.shown [data-told=otherwise]").startswith("STOP Moved so far it is not enough to add")
    assert not handset.sees('[data-row="0.0"]')
    assert not handset.sees(".view.shown [data-told=moved]")


def test_sides_that_disagree_are_told(handset, made):
    handset.open(made())
    handset.go(HOT)
    handset.step(NEAR, 1)
    handset.step(NEAR, -1)
    handset.step(FAR, 5)
    # 16 wide, found 18½: 2½ more, over 2.
    said = handset.text(".view.shown [data-told=apart-warn]")
    assert said == (
        "CHECK hot in splash 3-4: its two sides were found 18½ apart, and it is 16: read it again, edge to edge."
    )


def test_the_keypad_takes_halves(handset, made):
    handset.open(made())
    handset.go(HOT)
    for box, digits in ((NEAR, "70"), (FAR, "86")):
        handset.tap(f'[data-do=type][data-box="{box}"]')
        for digit in digits:
            handset.tap(f'[data-digit="{digit}"]')
        handset.tap("[data-do=part]")
        assert handset.text("#typed") == f"{digits}½"
        handset.tap("[data-do=enter]")
    assert figure(handset) == "75½"  # found 2 more on both sides


def test_a_trimmed_piece_is_cut_to_the_opening_less_what_comes_off(handset, made):
    handset.open(made())
    # 1-8: from the fixed tile to the next wall 241, less joint 3 and gap 3.
    # The wall leans by under 1 on it: one figure for both its ends, that of the smaller, the upper one.
    assert handset.text('[data-size="0.1"]') == "235"
    handset.step("o.0.1", -3)
    assert handset.text('[data-size="0.1"]') == "233½"
    assert not handset.sees(".view.shown .planned-size")


def test_ticks_are_kept_and_taken_back(handset, made):
    page = made()
    handset.open(page)
    handset.tap("[data-tick=fixed]")
    handset.open(page)
    assert handset.text(".view.shown h2").casefold() == "splash 1-1"
    assert "FIXED" in handset.text('[data-listed="0"]')
    handset.tap("[data-do=undo]")
    assert handset.text(".view.shown h2").casefold() == "splash 1-8"
    assert not handset.sees("[data-tick=fixed][aria-pressed=true]")
    assert handset.text(".view.shown .next") == "NEXT"


def test_a_page_in_another_folder_has_the_same_store(handset, made):
    handset.open(made(name="one"))
    handset.go(HOT)
    handset.step(NEAR, 2)
    handset.open(made(name="two"))
    handset.go(HOT)
    assert handset.text(f'button.figure[data-box="{NEAR}"]') == "69½"


def test_a_page_made_anew_takes_what_did_not_change_and_holds_the_rest(handset, made, tmp_path):
    handset.open(made())
    handset.go(HOT)
    handset.step(NEAR, 2)
    handset.step(FAR, 2)
    handset.go("splash 3-5")
    handset.tap("[data-tick=cut]")
    job = tmp_path / "laundry.yaml"
    # The hot pipe was read again, 1 further left: splash 3-4 has other digits, 3-5 has its own still.
    job.write_text(LAUNDRY.read_text("utf-8").replace("67 to 83 left of V", "68 to 84 left of V"), "utf-8")
    handset.open(made(job, "anew"))
    handset.go("splash 3-5")
    assert handset.sees("[data-tick=cut][aria-pressed=true]")
    handset.go(HOT)
    assert (
        handset.text(f'button.figure[data-box="{NEAR}"]') == "69½"
    )  # expected: 68½ and 1 more; nothing was taken over
    assert figure(handset) == "74½"
    handset.tap("[data-do=list]")
    held = handset.text("#m-held")
    assert HOT in held
    assert "right 69½ mm to 85½ mm" in held
    assert "right" in handset.sent()
    handset.tap("[data-do=list]")
    handset.tap("[data-do=away]")
    assert not handset.sees("#m-held")


def test_from_an_opaque_origin_it_says_not_kept_and_the_address_holds_it(handset, made):
    data = "data:text/html;base64," + base64.b64encode(made().read_bytes()).decode()
    handset.open(data)
    assert handset.text("#m-not-kept").startswith("NOT KEPT")
    handset.go(HOT)
    handset.step(NEAR, 2)
    address = handset.page.evaluate("location.href")
    assert "#s=" in address
    handset.open("about:blank")
    handset.open(address)
    handset.go(HOT)
    assert handset.text(f'button.figure[data-box="{NEAR}"]') == "69½"


def test_without_script_every_piece_can_be_read(chromium, made):
    from tests.browser.phone import phone

    with phone(chromium, java_script_enabled=False) as handset:
        handset.open(made())
        assert handset.page.locator("section.piece").count() == 32
        assert all(one.is_visible() for one in handset.page.locator("section.piece h2").all())
        assert figure(handset, "0.0") != ""
        assert not handset.sees(".foot")
        assert "no script here" in handset.text("noscript p")
        link = handset.page.locator("[data-listed]", has=handset.page.get_by_text(HOT, exact=True)).first
        link.tap()
        target = link.get_attribute("href")
        box = handset.page.locator(f"section{target} h2").bounding_box()
        assert box is not None
        assert -1 <= box["y"] < HIGH


def test_nothing_is_wider_than_the_phone_and_targets_are_large(handset, made):
    handset.open(made())
    for view in ("p-0", "p-6", "v-list", "v-behind", "v-send"):
        handset.tap("[data-do=list]")
        handset.page.evaluate(f"document.querySelector('a[href=\"#{view}\"]')?.click()")
        assert handset.page.evaluate("document.documentElement.scrollWidth") <= WIDE
        for one in handset.page.locator("button, .pieces a, .links a").locator("visible=true").all():
            box = one.bounding_box()
            assert box is not None
            assert box["height"] >= 48, one.inner_text()
            assert box["width"] >= 48, one.inner_text()
    handset.go(HOT)
    assert handset.page.evaluate("getComputedStyle(document.querySelector('.row .figure')).fontSize") == "44px"


CLIPPED = """() => [...document.querySelectorAll(".figure")].filter(one => one.offsetParent &&
    (one.getBoundingClientRect().right > innerWidth || one.scrollWidth > one.clientWidth + 1 &&
     getComputedStyle(one).display != "inline")).map(one => one.textContent)"""
"""The figures on the screen that are not there whole: cut off by their box, or by the edge of the phone."""


def test_no_figure_is_cut_off(handset, made):
    """187½ and 230½ to read, 184½ to 227½ to mark (splash 4-7): the halves were behind the next button."""
    handset.open(made())
    listed = handset.page.locator("[data-listed]")
    assert listed.count() > 10
    for number in range(listed.count()):
        handset.tap("[data-do=list]")
        listed.nth(number).tap()
        assert handset.page.evaluate(CLIPPED) == []
    handset.go("splash 4-7")
    assert handset.page.evaluate(CLIPPED) == []
    # As it was: larger, in boxes that may be narrower than what stands in them.
    narrow = (
        "document.querySelectorAll('.box, .steps .figure').forEach(one => "
        "{ one.style.minWidth = 0; one.style.fontSize = '26px' })"
    )
    handset.page.evaluate(narrow)
    assert "187½" in handset.page.evaluate(CLIPPED)


def test_no_gesture_does_anything(handset, made):
    """Only a tap has a handler; the browser's own zoom by two fingers or two taps is off."""
    handset.page.add_init_script(
        "window.listened = []; const add = EventTarget.prototype.addEventListener;"
        "EventTarget.prototype.addEventListener = function (name) {"
        "window.listened.push(name); return add.apply(this, arguments); };"
    )
    handset.open(made())
    assert handset.page.evaluate("window.listened") == ["click"]
    assert handset.page.evaluate("getComputedStyle(document.body).touchAction") == "pan-x pan-y"
    handset.go(HOT)
    before = handset.text(".view.shown")
    handset.page.mouse.wheel(0, 300)
    handset.page.wait_for_timeout(50)
    assert handset.text(".view.shown") == before


def test_the_elevation_is_enlarged_by_buttons(handset, made):
    handset.open(made())
    handset.tap("[data-do=list]")
    handset.tap('a[href="#v-elevation-0"]')
    before = handset.page.locator(".elevation").bounding_box()
    handset.tap("[data-do=larger]")
    after = handset.page.locator(".elevation").bounding_box()
    assert before is not None
    assert after is not None
    assert after["width"] == pytest.approx(1.5 * before["width"], rel=0.02)


@pytest.fixture
def job(tmp_path: Path) -> Path:
    path = tmp_path / "laundry.yaml"
    shutil.copy(LAUNDRY, path)
    return path


def given(tmp_path: Path, text: str, name: str = "sent.txt") -> Path:
    path = tmp_path / name
    path.write_text(text, encoding="utf-8")
    return path


def test_what_is_sent_back_is_shown_then_kept_and_never_twice(handset, made, job, tmp_path, run):
    handset.open(made(job))
    handset.go(HOT)
    handset.step(NEAR, 3)
    handset.step(FAR, 3)
    handset.go("splash 1-8")
    handset.step("o.0.1", -3)
    sent = given(tmp_path, handset.sent())
    refused = run("found", job, "--from", sent, input="n\n")
    assert refused.exit_code == 2
    # 68½ and 84½ were expected from the right, 70 and 86 were found.
    assert "corrected 1½ left; now expect 70 and 86 from the right" in " ".join(refused.stdout.split())
    assert not (tmp_path / "laundry.found.yaml").exists()
    result = run("found", job, "--from", sent, "--yes")
    assert result.exit_code == 0, result.output
    kept = (tmp_path / "laundry.found.yaml").read_text("utf-8")
    assert "right: '70 mm to 86 mm'" in kept
    assert "opening across: '239½ mm and 239½ mm'" in kept
    assert re.search(r"by: 'JK \d{4}-\d\d-\d\d \d\d:\d\d:\d\d'", kept)
    again = run("found", job, "--from", sent, "--yes")
    assert "Nothing new is to be kept" in again.stdout
    assert (tmp_path / "laundry.found.yaml").read_text("utf-8") == kept
    # The page made anew expects what was found, and shows the figure as it moved.
    handset.open(made(job, "anew"))
    handset.go(HOT)
    assert handset.text(f'button.figure[data-box="{NEAR}"]') == "70"
    assert figure(handset) == "75"


def test_ticks_alone_come_back_too(handset, made, job, tmp_path, run):
    handset.open(made(job))
    handset.as_expected("o.0")  # splash 1-8, which is trimmed and has no hole
    handset.tap("[data-tick=cut]")
    handset.go(HOT)
    handset.as_expected("c.0.0")
    handset.tap("[data-tick=cut]")
    handset.go("splash 2-1")
    handset.tap("[data-tick=cut]")  # and nothing of it was read: no opening is made up for it
    handset.go("splash 2-9")
    handset.tap("[data-tick=fixed]")
    result = run("found", job, "--from", given(tmp_path, handset.sent()), "--yes")
    assert result.exit_code == 0, result.output
    assert "Ticked as cut or fixed, which stays with the phone: splash 2-9, splash 2-1." in result.stdout
    kept = (tmp_path / "laundry.found.yaml").read_text("utf-8")
    assert "right: '68.5 mm to 84.5 mm'" in kept
    assert kept.count("cut: 'yes'") == 2
    # Once it is cut the page reads nothing for it any more.
    handset.open(made(job, "anew"))
    handset.go(HOT)
    assert not handset.sees(f'button.figure[data-box="{NEAR}"]')
    assert "was cut on" in handset.text(".view.shown .read .note")


def test_a_piece_that_is_stopped_never_says_mark_these_figures(handset, made):
    handset.open(made(LAUNDRY.parents[1] / "wash-house" / "wash-house.yaml"))
    handset.go("trough 1-4")  # 7½ of tile left beside the waste, under 15
    handset.step(NEAR, 3)
    handset.step(FAR, 3)
    assert not handset.sees(".view.shown [data-told=moved]")
    assert handset.page.locator(".view.shown [data-row]").count() == 0


def test_readings_of_a_piece_that_changed_are_shown_and_not_taken(handset, made, job, tmp_path, run):
    handset.open(made(job))
    handset.go(HOT)
    handset.step(NEAR, 3)
    handset.step(FAR, 3)
    sent = given(tmp_path, handset.sent())
    job.write_text(job.read_text("utf-8").replace("67 to 83 left of V", "68 to 84 left of V"), "utf-8")
    result = run("found", job, "--from", sent, "--yes")
    assert "NOT TAKEN, its sheet is another than" in result.stdout
    assert not (tmp_path / "laundry.found.yaml").exists()


def test_two_phones_are_joined_tile_by_tile_and_what_differs_is_asked(handset, other_handset, made, job, tmp_path, run):
    page = made(job)
    handset.open(page)
    handset.go(HOT)
    handset.step(NEAR, 3)
    handset.step(FAR, 3)
    other_handset.open(page)
    other_handset.go(HOT)
    other_handset.step(NEAR, 2)
    other_handset.step(FAR, 2)
    other_handset.go("splash 3-5")
    other_handset.tap("[data-tick=cut]")
    mine, theirs = handset.sent("JK"), other_handset.sent("AB")
    both = run("found", job, "--from", given(tmp_path, mine, "a.txt"), "--from", given(tmp_path, theirs, "b.txt"))
    assert "NOT TAKEN, two read it differently" in both.stdout
    handset.page.locator("#joined").fill(theirs)
    handset.tap("[data-do=join]")
    assert handset.text("#m-joined") == "Joined, tile by tile: splash 3-5"
    assert "read differently" in handset.text("#asked-list")
    handset.go(HOT)
    assert figure(handset) == "75"  # nothing was taken in silence
    handset.tap("[data-do=list]")
    handset.tap('a[href="#v-send"]')
    handset.tap("[data-do=theirs]")
    handset.go(HOT)
    assert figure(handset) == "74½"  # 69½ and 85½: 1 more
    handset.go("splash 3-5")
    assert handset.sees("[data-tick=cut][aria-pressed=true]")
    result = run("found", job, "--from", given(tmp_path, handset.sent("JK"), "c.txt"), "--yes")
    assert result.exit_code == 0, result.output
    assert "right: '69½ mm to 85½ mm'" in (tmp_path / "laundry.found.yaml").read_text("utf-8")


def test_two_phones_without_initials_are_still_two(handset, other_handset, made, job, tmp_path, run):
    page = made(job)
    for held, times in ((handset, 3), (other_handset, 2)):
        held.open(page)
        held.go(HOT)
        held.step(NEAR, times)
        held.step(FAR, times)
    files = [given(tmp_path, held.sent(""), f"{name}.txt") for held, name in ((handset, "a"), (other_handset, "b"))]
    result = run("found", job, "--from", files[0], "--from", files[1], "--yes")
    assert "NOT TAKEN, two read it differently" in result.stdout
    assert not (tmp_path / "laundry.found.yaml").exists()


def test_where_two_differ_the_one_that_is_named_is_taken(handset, other_handset, made, job, tmp_path, run):
    page = made(job)
    for held, times in ((handset, 3), (other_handset, 2)):
        held.open(page)
        held.go(HOT)
        held.step(NEAR, times)
        held.step(FAR, times)
    files = [given(tmp_path, handset.sent("JK"), "a.txt"), given(tmp_path, other_handset.sent("AB"), "b.txt")]
    result = run("found", job, "--from", files[0], "--from", files[1], "--of", "AB", "--yes")
    assert result.exit_code == 0, result.output
    kept = (tmp_path / "laundry.found.yaml").read_text("utf-8")
    assert kept.count("- piece:") == 1
    assert "right: '69½ mm to 85½ mm'" in kept


BITE = """\
job: two tiles
tiles: {rib: {size: 248 x 398, measured: yes}}
surfaces:
  - name: sink wall
    kind: wall
    lines: {V: "plumb, middle of the window", B: "level, top of the batten"}
    areas:
      - {name: sink, tile: rib, joint: 2, from: B, start: {across: joint on V, up: sits on B}}
    holes:
      - {name: outlet, what: 32 waste, across: 374 to 409 right of V, up: 385 to 420 above B, cover: 75}
"""
"""The core of 51 has its middle 402½ up, 4½ over the lower tile (398), so its bite goes down to 402½ - 25½ = 377; the
upper tile, from 400 on, takes the rest."""


@pytest.fixture
def bitten(handset, made, tmp_path):
    """A page of two tiles that share a core, with their names, the lower one first."""
    job = tmp_path / "two.yaml"
    job.write_text(BITE, "utf-8")
    lower, upper = sorted(piece.name for piece in make_plan(load_job(job)).pieces if piece.cuts)
    handset.open(made(job))
    return lower, upper


def test_a_bite_is_never_said_as_a_straight_cut(handset, bitten):
    lower, _ = bitten
    handset.go(lower)
    assert figure(handset, "0.1") == "377"
    mark = handset.text(".view.shown .mark")
    assert "to its deepest point, from the batten edge" in mark
    # 398 - 377 from the other edge, to the same point; along the upper edge the check is to where it begins.
    assert "21 to its deepest point from the upper edge" in handset.text(".view.shown .check")
    assert "4½ outside the upper edge" in mark
    assert "clamp scrap of the same thickness" in mark


def test_a_check_to_the_middle_says_so(handset, made):
    handset.open(made())
    handset.go(HOT)
    assert handset.text(".view.shown .check").startswith("check to its middle: 223½ from the ")  # 297 - 73½


def test_where_the_rest_of_a_hole_is_stays_and_that_tile_is_told_too(handset, bitten):
    lower, upper = bitten
    handset.go(lower)
    rest = f"the rest is in {upper}"
    assert handset.text(".view.shown .rest") == rest
    handset.step(NEAR, -4)
    handset.step(FAR, -4)
    handset.as_expected(UP)
    assert handset.text(".view.shown .rest") == rest
    assert handset.sees(".view.shown .rest")
    assert upper in handset.text(".view.shown [data-told=moves-too]")
    listed = handset.page.locator("[data-listed]", has_text=upper)
    assert listed.locator(".ticked").inner_text() == "MOVED"
    handset.go(upper)
    assert handset.text(".view.shown [data-told=moved-there]").startswith(f"outlet was found moved at {lower}: read it")
    assert not handset.sees(".view.shown .print")
    # Read here too, nothing is asked for any more, here or there.
    handset.step(NEAR, -4)
    handset.step(FAR, -4)  # up it is carried over from the lower tile, and there it is as expected
    assert handset.page.locator("[data-told=moved-there]").count() == 0
    assert listed.locator(".ticked").inner_text() == "all read"
    handset.go(lower)
    assert handset.page.locator(".view.shown [data-told=moves-too]").count() == 0


def test_boxes_read_from_the_right_stand_as_the_sides_do_on_the_wall(handset, made):
    """The hot pipe of 3-4 is read from the tile on its right: its near side is the right one."""
    handset.open(made())
    handset.go(HOT)
    near, far = (handset.page.locator(f'.view.shown .box[data-box="{box}"]').bounding_box() for box in (NEAR, FAR))
    assert near["x"] > far["x"]
    assert near["y"] == far["y"]


def test_what_is_not_read_yet_has_quiet_ticks(handset, made):
    handset.open(made())
    handset.go(HOT)
    tick = handset.page.locator("[data-tick=cut]")
    assert tick.evaluate("one => getComputedStyle(one).borderStyle") == "dashed"
    handset.as_expected("c.0.0")
    handset.as_expected(UP)
    assert tick.evaluate("one => getComputedStyle(one).borderStyle") == "solid"
