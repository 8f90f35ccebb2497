"""The wall of the set-out sketch that was added up by hand, and how a test plans one."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from cutmarks import load_job, make_plan, parse_job
from cutmarks.gauging.flow import gauged
from cutmarks.gauging.model import Gauged
from cutmarks.plan import Plan

EXAMPLES = Path(__file__).parents[2] / "examples"
TERN_ROW = """\
job: Tern Row 4, utility
tiles:
  slate: {size: 397 x 247, measured: yes, thickness: 8, bed: 3, box: 10}
surfaces:
  - name: window wall
    kind: wall
    lines:
      V: plumb, middle of the window
      B: level, top of the 3 packers on the worktop
    edges:
      left: {at: 1300 left of V, what: left corner, true: plumb, still to come: 0}
      right:
        what: right corner
        still to come: 0
        at: [1380 right of V at 919 below B, 1380 right of V at B, 1373.5 right of V at 1474 above B]
      top: {what: ceiling, at: [1480 above B at 1300 left of V, 1474 above B at 1380 right of V]}
      bottom:
        steps:
          - {at: 3 below B, until: 390 right of V, what: worktop, gap: 3}
          - at: [915 below B at 390 right of V, 919 below B at 1380 right of V]
            what: floor
            gap: 5
            still to come: 0
    windows:
      - {name: window, across: 420 left to 420 right of V, up: 220 to 1115 above B, gap: 3}
    areas:
      - {name: slate, tile: slate, joint: 3, start: {across: middle on V, up: sits on B}}
    holes:
      - name: waste
        what: 40 mm solvent weld waste
        across: centre on V
        up: centre 80 above B
        cover: 85
        end: comes off
      - name: sockets
        what: socket box
        size: 140 x 70
        across: 770 to 910 left of V
        up: 90 to 160 above B
        cover: 147 x 86
        end: comes off
      - name: machine
        what: 15 copper
        across: centre 800 right of V
        up: centre 565 below B
        cover: 65
        end: comes off
"""
"""Packers on a worktop that ends, a floor that falls, a ceiling and a corner out of true, a window."""
WALL = """\
job: gauged
tiles:
  rib: {size: 297 x 97, measured: yes, thickness: 9, bed: 3}
  slab: {size: 397 x 247, measured: yes, thickness: 8, bed: 3}
surfaces:
  - name: wall
    kind: wall
    lines: {V: "plumb, middle", B: "level, batten"}
    edges:
      left: {at: 900 left of V, what: corner, true: plumb, still to come: 0}
      right: {at: 900 right of V, what: panel, true: plumb, still to come: 0}
      bottom: {at: 5 below B, what: worktop, true: level, gap: 5}
      top: {at: 1000 above B, what: ceiling, true: level}
    areas:
AREAS
"""


@cache
def example(name: str) -> Plan:
    """An example of the repository, planned once."""
    return make_plan(load_job(EXAMPLES / name / f"{name}.yaml"))


def planned(text: str) -> Plan:
    return make_plan(parse_job(text))


def first_of(text: str) -> Gauged:
    """What is gauged on the first surface of a job, nothing held back."""
    return gauged(planned(text), lambda piece: None)[0]


def with_areas(*areas: str, **instead: str) -> str:
    """The plain wall with these areas; `instead` replaces an edge by its side."""
    text = WALL.replace("AREAS", "\n".join(f"      - {{{area}}}" for area in areas))
    for side, said in instead.items():
        line = next(line for line in text.splitlines() if line.strip().startswith(f"{side}:"))
        text = text.replace(line, f"      {side}: {said}")
    return text
