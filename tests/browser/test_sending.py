"""How what was read leaves the phone: as text, as a file, shared; and how the other phone's comes in as a file."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.browser.test_wall_page import FAR, HOT, NEAR, given

pytestmark = pytest.mark.browser


def moved(handset, page: Path, times: int = 3) -> None:
    handset.open(page)
    handset.go(HOT)
    handset.step(NEAR, times)
    handset.step(FAR, times)


def test_a_file_holds_what_the_page_shows(handset, made, tmp_path):
    moved(handset, made())
    text = handset.sent()
    with handset.page.expect_download() as waiting:
        handset.tap("[data-do=save]")
    waiting.value.save_as(tmp_path / "saved.txt")
    assert (tmp_path / "saved.txt").read_text("utf-8") == text
    assert waiting.value.suggested_filename == "quay_cottage_laundry_9023662b_JK.txt"


def test_what_is_copied_is_the_text(handset, made):
    moved(handset, made())
    text = handset.sent()
    handset.tap("[data-do=copy]")
    assert handset.sees("#m-copied") != handset.sees("#m-not-copied")
    assert handset.page.evaluate("String(getSelection())") in ("", text)
    assert handset.page.evaluate("document.activeElement.id") == "sent"


def test_it_is_shared_where_the_browser_can(handset, made):
    handset.page.add_init_script("navigator.share = (what) => { window.shared = what; return Promise.resolve(); };")
    moved(handset, made())
    text = handset.sent()
    handset.tap("[data-do=share]")
    assert handset.page.evaluate("window.shared.text") == text


def test_where_nothing_can_be_shared_there_is_no_button(handset, made):
    handset.page.add_init_script("delete Navigator.prototype.share;")
    handset.open(made())
    handset.tap("[data-do=list]")
    handset.tap('a[href="#v-send"]')
    assert not handset.sees("[data-do=share]")


def test_the_other_phone_s_file_is_joined(handset, other_handset, made, tmp_path):
    page = made()
    moved(other_handset, page)
    handset.open(page)
    handset.tap("[data-do=list]")
    handset.tap('a[href="#v-send"]')
    handset.page.locator("#joined-file").set_input_files(given(tmp_path, other_handset.sent("AB")))
    handset.tap("[data-do=join]")
    handset.page.wait_for_selector("#m-joined:not([hidden])")
    handset.go(HOT)
    assert handset.text('[data-row="0.0"]') == "75"


def test_what_is_of_another_job_is_not_joined(handset, made):
    handset.open(made())
    text = handset.sent()
    handset.page.locator("#joined").fill(text.replace("Quay Cottage", "Tern Row"))
    handset.tap("[data-do=join]")
    assert handset.sees("#m-not-joined")


def test_the_screen_is_kept_awake_from_the_first_tap_on(handset, made):
    handset.page.add_init_script(
        "Object.defineProperty(navigator, 'wakeLock', {value: {request: (what) => {"
        "window.woken = (window.woken || []).concat(what); return Promise.resolve({released: false}); }}});"
    )
    handset.open(made())
    handset.tap("[data-do=onward]")
    handset.tap("[data-do=onward]")
    assert handset.page.evaluate("window.woken") == ["screen"]


def test_a_reading_taken_back_is_sent_no_more(handset, made):
    moved(handset, made(), 1)
    handset.tap("[data-do=undo]")
    handset.tap("[data-do=undo]")
    assert "found: []" in handset.sent()


def test_a_phone_that_only_ticked_takes_what_the_other_read_and_keeps_its_tick(handset, other_handset, made):
    page = made()
    moved(other_handset, page)
    handset.open(page)
    handset.go(HOT)
    handset.tap("[data-tick=cut]")
    sent = other_handset.sent("AB")
    handset.tap("[data-do=list]")
    handset.tap('a[href="#v-send"]')
    handset.page.locator("#joined").fill(sent)
    handset.tap("[data-do=join]")
    assert not handset.sees("#asked-list li")
    handset.go(HOT)
    assert handset.text('[data-row="0.0"]') == "75"
    assert handset.sees("[data-tick=cut][aria-pressed=true]")


def test_half_a_reading_is_not_lost_to_the_other_phone_s(handset, other_handset, made):
    page = made()
    moved(other_handset, page)
    handset.open(page)
    handset.go(HOT)
    handset.step(NEAR, 1)
    sent = other_handset.sent("AB")
    handset.tap("[data-do=list]")
    handset.tap('a[href="#v-send"]')
    handset.page.locator("#joined").fill(sent)
    handset.tap("[data-do=join]")
    assert "splash 3-4" in handset.text("#asked-list")
    handset.go(HOT)
    assert handset.text(f'button.figure[data-box="{NEAR}"]') == "69"


def test_what_is_as_expected_on_one_phone_and_stepped_to_the_same_on_the_other_is_asked_of_nobody(
    handset, other_handset, made
):
    """From the course below 43 and 59 are expected: said to be so on one phone, stepped up and down on the other."""
    page = made()
    for held in (handset, other_handset):
        held.open(page)
        held.go(HOT)
    handset.as_expected("c.0.1")
    for box in ("c.0.1.0", "c.0.1.1"):
        other_handset.step(box, 1)
        other_handset.step(box, -1)
    sent = other_handset.sent("AB")
    handset.tap("[data-do=list]")
    handset.tap('a[href="#v-send"]')
    handset.page.locator("#joined").fill(sent)
    handset.tap("[data-do=join]")
    assert not handset.sees("#asked-list li")
