"""The wall page for who cannot see it well: axe-core finds nothing on any of its screens."""

from __future__ import annotations

from importlib.resources import files

import pytest

from tests.browser.test_wall_page import FAR, HOT, NEAR, UP

pytestmark = pytest.mark.browser


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


def test_a_violation_is_found(handset, made):
    handset.open(made())
    handset.page.evaluate(
        "document.querySelector('.view.shown button').removeAttribute('aria-label');"
        "document.querySelector('.view.shown button').textContent = ''"
    )
    assert any(said.startswith("button-name") for said in violations(handset))
