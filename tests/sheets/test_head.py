"""Which way is up, on the head of a template."""

from __future__ import annotations

import pytest

from cutmarks.job import parse_job
from cutmarks.plan import make_plan
from cutmarks.sheets.build import build_sheets
from tests.sheets.drawn import words_of as words_in


def words_of(kind, turn):
    lines = '{V: "plumb, middle", B: "level, batten"}' if kind == "wall" else '{V: "across, door", B: "along, bar"}'
    up = "    up: towards the window\n" if kind == "floor" else ""
    start = "middle on V and B" if turn else "{across: middle on V, up: middle on B}"
    reading = "up: centre 20 above B" if kind == "wall" else "in: centre 20 in from B"
    text = f"""
job: heads
tiles: {{t: {{size: 300 x 300, measured: yes}}}}
surfaces:
  - name: here
    kind: {kind}
{up}    lines: {lines}
    areas: [{{name: field, tile: t, joint: 3, turn: {turn}, start: {start}}}]
    holes: [{{name: h, what: 15 copper, cover: 65, across: centre 20 right of V, {reading}}}]
"""
    (sheet, *_) = build_sheets(make_plan(parse_job(text)))
    return " ".join(mark.text for mark in words_in(sheet.marks))


@pytest.mark.parametrize(
    ("kind", "turn", "said", "not_said"),
    [
        ("wall", 0, {"UP"}, {"PLUMB", "of the tile itself"}),
        ("wall", 30, {"UP", "PLUMB", "of the tile itself"}, set()),
        # On a floor UP is the way that the job names; of a turned tile that is the second arrow's, and never UP's own.
        ("floor", 0, {"UP", "towards the window"}, {"of the tile itself"}),
        ("floor", 30, {"UP", "towards the window", "of the tile itself"}, {"PLUMB", "ALONG"}),
    ],
)
def test_what_the_arrows_point_at(kind, turn, said, not_said):
    words = words_of(kind, turn)
    assert all(text in words for text in said)
    assert not any(text in words for text in not_said)
