"""Names are text wherever they stand: no name runs, fetches or ends anything."""

from __future__ import annotations

from pathlib import Path

import pytest
from msgspec.structs import replace

from cutmarks import load_job, make_plan
from cutmarks.checks.model import Finding
from cutmarks.plan import Plan
from tests.bench.wall_page_campaign import sent_entries
from tests.writers.as_bytes import wall_page

pytestmark = pytest.mark.browser

NAMES = (
    "</script><script>window.ran=1</script>",
    "<img src=//example.invalid/a.png onerror=window.ran=1>",
    '"><svg onload=window.ran=1>',
    "{{constructor.constructor('window.ran=1')()}}",
    "<!--<script>",
    "&lt;b&gt; &amp;",
    "javascript:window.ran=1",
)


def hostile(path: Path) -> Plan:
    """A plan in which each of these is the name of something, or words that are printed.

    The job file refuses markup in a name: the names are put into the plan, behind its back. Words it takes.
    """
    job, line, what, edge, *_, note = (one.replace("'", "''") for one in NAMES)
    path.write_text(
        f"""\
job: hostile
tiles: {{rib: {{size: 248 x 398, measured: yes}}}}
surfaces:
  - name: wall
    kind: wall
    lines: {{V: 'plumb, {what}', B: 'level, top of the batten {line}'}}
    edges:
      left: {{at: 700 left of V, what: '{edge}', true: plumb}}
    areas:
      - {{name: field, tile: rib, joint: 2, from: B, note: '{note}', start: {{across: joint on V, up: sits on B}}}}
    holes:
      - {{name: hot, what: 15 copper, across: 318 to 333 right of V, up: 905 to 920 above B, cover: 65, note: '{job}'}}
      - {{name: cold, what: 15 copper, across: 368 to 383 right of V, up: 905 to 920 above B, cover: 65}}
""",
        encoding="utf-8",
    )
    plan = make_plan(load_job(path))
    holes = {"hot": NAMES[5], "cold": NAMES[3]}
    names = {piece.name: f"{NAMES[4]} {number}" for number, piece in enumerate(plan.pieces)}
    return replace(
        plan,
        job=NAMES[0],
        openings=tuple(replace(one, name=holes[one.name]) for one in plan.openings),
        pieces=tuple(
            replace(
                piece,
                name=names[piece.name],
                words=NAMES[1],
                cuts=tuple(
                    replace(cut, opening=replace(cut.opening, name=holes[cut.opening.name])) for cut in piece.cuts
                ),
            )
            for piece in plan.pieces
        ),
        registrations=tuple(replace(one, piece=names[one.piece]) for one in plan.registrations),
        findings=(*plan.findings, Finding("warn", "made up", tuple(names.values()), NAMES[2])),
    )


def test_nothing_runs_and_nothing_is_fetched(handset, tmp_path):
    page = tmp_path / "wall.html"
    page.write_bytes(wall_page(hostile(tmp_path / "hostile.yaml")))
    dialogs: list[str] = []

    def put_away(dialog) -> None:
        dialogs.append(dialog.message)
        dialog.dismiss()

    handset.page.on("dialog", put_away)
    handset.open(page)
    assert handset.page.title().startswith(NAMES[0])
    assert NAMES[0] in handset.text("header .job")
    number = handset.page.evaluate(
        "Array.from(document.querySelectorAll('section.piece')).findIndex((one) => one.querySelector('[data-row]'))"
    )
    handset.tap("[data-do=list]")
    handset.tap(f'[data-listed="{number}"]')
    assert handset.text(".view.shown h2").casefold() == f"{NAMES[4]} {number}".casefold()
    assert handset.text(".view.shown .place") == NAMES[1]
    assert NAMES[2] in handset.text(".view.shown .also")
    handset.step("c.0.0.0", 3)
    handset.step("c.0.0.1", 3)
    for view in ("v-elevation-0", "v-behind"):
        handset.tap("[data-do=list] >> visible=true")
        handset.tap(f'a[href="#{view}"]')
    sent = handset.sent('"><svg>')
    handset.page.locator("#joined").fill(sent.replace("½ mm", " mm").replace('\\"><svg>', "<script>1"))
    handset.tap("[data-do=join]")
    assert handset.sees("#asked-list li")
    assert handset.page.evaluate("window.ran") is None
    assert dialogs == []
    assert handset.errors == []
    assert handset.asked_for == [f"file://{page}"]
    entries = sent_entries(sent)
    assert {one["piece"] for one in entries} == {f"{NAMES[4]} {number}"}
    assert {one["hole"] for one in entries} <= set(NAMES)


def test_the_policy_refuses_what_would_run(handset, made, tmp_path):
    """The net under it: a script that stood in the page all the same, and a picture from outside, are refused."""
    page = made()
    planted = b'<script>window.ran=1</script><img src="https://example.invalid/a.png"></main>'
    page.write_bytes(page.read_bytes().replace(b"</main>", planted))
    refused: list[str | None] = []
    handset.page.on("requestfailed", lambda request: refused.append(request.failure))
    handset.open(page)
    assert handset.page.evaluate("window.ran") is None
    assert sum("Content Security Policy" in said for said in handset.errors) >= 2
    assert refused == ["csp"]  # it was asked for, and never left the browser
