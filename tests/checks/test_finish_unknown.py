"""A floor or a next wall that is still to come: only the pieces that it trims wait."""

from __future__ import annotations

from cutmarks.job import parse_job
from cutmarks.plan import make_plan

JOB = """
job: tack room
tiles: {{t: {{size: 300 x 300, measured: yes}}}}
surfaces:
  - name: east wall
    kind: wall
    lines: {{V: "plumb, door side", B: "level, batten"}}
    edges:
      left: {{at: 900 left of V, true: plumb}}
      right: {{at: 1000 right of V, true: plumb}}
      bottom: {{at: 400 below B, what: floor, true: level{said}}}
      top: {{at: 1200 above B, true: level}}
    gaps: {{left: 3, right: 3, top: 3}}
    windows: [{{name: hatch, across: 100 to 500 right of V, up: 350 to 850 above B, gap: 3}}]
    areas: [{{name: tack, tile: t, joint: 2, start: {{across: joint on V, up: sits on B}}}}]
"""


def waiting(said: str) -> list[str]:
    plan = make_plan(parse_job(JOB.format(said=said)))
    return [name for finding in plan.findings if finding.rule == "still to come" for name in finding.about]


def test_the_trimmed_pieces_along_that_edge_wait_and_no_others() -> None:
    # Under 2 alone lies on the floor: 900 + 1000 less two gaps is 1894, and 302 goes seven times, ends cut. The
    # pieces over the window are trimmed at their bottom too, and do not wait.
    assert sorted(waiting("")) == [f"tack under 2-{number}" for number in range(1, 8)]


def test_nothing_waits_where_it_was_said() -> None:
    assert waiting(", still to come: 14") == []


def test_a_gap_that_was_not_given_is_said() -> None:
    plan = make_plan(parse_job(JOB.format(said=", still to come: 14")))
    assert "east wall: a gap of 5 at bottom edge; write gap: where it is another." in plan.assumed
    assert not [sentence for sentence in plan.assumed if "left edge" in sentence]
