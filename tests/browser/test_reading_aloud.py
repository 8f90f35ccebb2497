"""The wall page for who cannot see it well: axe-core finds nothing on any of its screens."""

from __future__ import annotations

import base64
from importlib.resources import files

import pytest

from tests.browser.conftest import LAUNDRY
from tests.browser.test_wall_page import BACK, FAR, HOT, NEAR, UP

pytestmark = pytest.mark.browser

WASH_HOUSE, POTTING_BENCH = (LAUNDRY.parents[1] / name / f"{name}.yaml" for name in ("wash-house", "potting-bench"))


def violations(handset) -> list[str]:
    """What axe-core finds on what is shown: its rules for all of WCAG and its best practice."""
    source = files("axe_playwright_python").joinpath("axe.min.js").read_text("utf-8")
    handset.page.evaluate(source + ";undefined")
    found = handset.page.evaluate("() => axe.run(document, {resultTypes: ['violations']})")
    return [f"{one['id']}: {node['html'][:200]}" for one in found["violations"] for node in one["nodes"]]


def test_no_screen_has_a_violation(handset, made):
    handset.open(made())
    found = {"first": violations(handset)}
    handset.go(HOT)
    found["a piece with a hole"] = violations(handset)
    handset.step(NEAR, 3)
    found["one of two"] = violations(handset)
    handset.step(FAR, 3)
    handset.as_expected(UP)
    found["moved"] = violations(handset)
    handset.step(NEAR, 12)
    found["stopped"] = violations(handset)
    handset.go("splash 4-7")
    found["a cut over an edge"] = violations(handset)
    handset.go(HOT)
    handset.tap(f'[data-do=type][data-box="{NEAR}"]')
    found["the keypad"] = violations(handset)
    handset.tap("[data-do=leave]")
    handset.tap("[data-do=list]")
    found["the list"] = violations(handset)
    for view in ("v-elevation-0", "v-behind", "v-send"):
        handset.tap("[data-do=list] >> visible=true")
        handset.tap(f'a[href="#{view}"]')
        found[view] = violations(handset)
    assert {screen: said for screen, said in found.items() if said} == {}


def test_no_screen_of_other_pieces_has_one(handset, other_handset, made, tmp_path):
    """A back, a tile that is stopped, inches and their keypad, what is held and what two read differently, NOT KEPT."""
    job = tmp_path / "split.yaml"
    job.write_text(BACK, "utf-8")
    handset.open(made(job, "back"))
    handset.go("field 2-L2")
    found = {"a back": violations(handset)}
    handset.open(made(WASH_HOUSE, "stopped"))
    handset.go("trough 1-4")
    found["stopped as planned"] = violations(handset)
    handset.open(made(POTTING_BENCH, "inches"))
    handset.go("bench 4-2")
    found["inches"] = violations(handset)
    handset.tap(f'[data-do=type][data-box="{NEAR}"]')
    found["a keypad of sixteenths"] = violations(handset)
    page = made()
    for held, times in ((handset, 3), (other_handset, 2)):
        held.open(page)
        held.go(HOT)
        held.step(NEAR, times)
        held.step(FAR, times)
    sent = other_handset.sent("AB")
    handset.sent("JK")
    handset.page.locator("#joined").fill(sent)
    handset.tap("[data-do=join]")
    assert handset.sees("#asked-list li")
    found["read differently"] = violations(handset)
    job.write_text(LAUNDRY.read_text("utf-8").replace("67 to 83 left of V", "68 to 84 left of V"), "utf-8")
    handset.open(made(job, "anew"))
    handset.tap("[data-do=list]")
    assert handset.sees("#m-held")
    found["held"] = violations(handset)
    handset.open("data:text/html;base64," + base64.b64encode(page.read_bytes()).decode())
    assert handset.sees("#m-not-kept")
    found["not kept"] = violations(handset)
    assert {screen: said for screen, said in found.items() if said} == {}


def test_a_violation_is_found(handset, made):
    handset.open(made())
    handset.page.evaluate(
        "document.querySelector('.view.shown button').removeAttribute('aria-label');"
        "document.querySelector('.view.shown button').textContent = ''"
    )
    assert any(said.startswith("button-name") for said in violations(handset))
