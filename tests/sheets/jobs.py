"""Jobs for the tests of paper, after the worked examples; every figure that a test expects is worked by hand there."""

from __future__ import annotations

import random
from functools import cache
from textwrap import dedent

from cutmarks.job import parse_job
from cutmarks.plan import Plan, make_plan

W1 = """
    job: One riser
    tiles: {upright: {size: 248 x 398, measured: yes}}
    surfaces:
      - name: wall
        kind: wall
        lines: {V: "plumb, middle of the sink", B: "level, top of the batten"}
        areas:
          - {name: field, tile: upright, joint: 2, from: B, start: {across: joint on V, up: sits on B}}
        holes:
          - {name: riser, what: 15 copper, across: 318 to 333 right of V, up: 905 to 920 above B, cover: 65}
    """

W4 = """
    job: One stub, in inches
    units: in
    tiles: {square: {size: 11 13/16 x 11 13/16, measured: yes}}
    surfaces:
      - name: wall
        kind: wall
        lines: {V: "plumb, middle of the sink", B: "level, top of the ledger"}
        areas:
          - {name: field, tile: square, joint: 3/16, from: B, start: {across: middle on V, up: sits on B}}
        holes:
          - name: stub
            what: 1/2 copper
            across: 8 1/16 to 8 11/16 left of V
            up: 15 1/2 to 16 1/8 above B
            cover: 2 1/2
    """

W5 = """
    job: A corner out of true
    tiles: {big: {size: 448 x 448, measured: yes}}
    surfaces:
      - name: wall
        kind: wall
        lines: {V: "plumb, middle of the sink", B: "level, top of the batten"}
        edges:
          left: {at: 3 left of V, what: end panel, true: plumb}
          right: [1020 right of V at B, 1011 right of V at 1800 above B]
          bottom: {at: 5 below B, what: worktop, true: level}
          top: {at: 1801 above B, what: ceiling, true: level}
        gaps: {left: 3, right: 3, bottom: 5, top: 3}
        areas:
          - {name: field, tile: big, joint: 2, start: {across: joint on V, up: sits on B}}
        holes:
          - {name: spur, what: 15 copper, across: centre 960 right of V, up: centre 200 above B, cover: 65}
    """

W6 = """
    job: A window over a batten
    tiles: {flat: {size: 297 x 197, measured: yes}}
    surfaces:
      - name: wall
        kind: wall
        lines: {V: "plumb, middle of the sink", B: "level, top of the batten"}
        edges:
          left: {at: 700 left of V, what: next wall, true: plumb, still to come: 0}
          right: {at: 700 right of V, what: next wall, true: plumb, still to come: 0}
          bottom: {at: 150 below B, what: floor, true: level, still to come: 0}
          top: {at: 960 above B, what: ceiling, true: level}
        gaps: {left: 3, right: 3, bottom: 5, top: 3}
        windows:
          - {name: window, across: 100 to 500 right of V, up: 350 to 850 above B, gap: 3}
        areas:
          - {name: field, tile: flat, joint: 3, bond: half, start: {across: joint on V, up: sits on B}}
        holes:
          - {name: drain, what: 40 waste, diameter: 40, across: centre 100 right of V, up: centre 60 below B, cover: ?}
          - {name: feed, what: 15 copper, across: centre 300 left of V, up: centre 300 above B, cover: 65}
    """

SMALL_TILES = """
    job: Many small tiles
    tiles: {{small: {{size: 98 x 98, measured: yes}}}}
    surfaces:
      - name: wall
        kind: wall
        lines: {{V: "plumb, left end", B: "level, lower end"}}
        edges:
          left: {{at: 3 left of V, true: plumb}}
          right: {{at: {right} right of V, true: plumb}}
          bottom: {{at: 3 below B, true: level, what: worktop}}
          top: {{at: {top} above B, true: level}}
        gaps: {{left: 3, right: 3, bottom: 3, top: 3}}
        areas:
          - {{name: field, tile: small, joint: 2, start: {{across: left on V, up: sits on B}}}}
        holes:
          - {{name: pipe, what: 15 copper, across: centre 345 right of V, up: centre 245 above B, cover: 65}}
    """


@cache
def plan_of(text: str) -> Plan:
    """The plan of a job file's text."""
    return make_plan(parse_job(dedent(text), "job.yaml"))


def small_tiles(columns: int, rows: int) -> Plan:
    """A wall of 98 mm tiles, pitch 100, every edge flush: columns x rows whole tiles."""
    return plan_of(SMALL_TILES.format(right=columns * 100 - 2 + 3, top=rows * 100 - 2 + 3))


RAIL = """
    job: Tern Row 4, {count} pipes
    tiles: {{upright: {{size: 248 x 398, measured: yes, lay: long side up, thickness: 9}}}}
    surfaces:
      - name: sink wall
        kind: wall
        lines: {{V: "plumb, middle of the sink", B: "level, top of the batten"}}
        edges:
          left: {{at: 1121 left of V, what: end panel, true: plumb}}
          right: [1143 right of V at B, 1133 right of V at 1450 above B]
          bottom: {{at: 3 below B, what: worktop, true: level, gap: 3}}
          top: {{at: 1750 above B, what: ceiling, true: level}}
        gaps: {{left: 3, right: 3, bottom: 3, top: 3}}
        areas:
          - {{name: splash, tile: upright, joint: 2, from: B, start: {{across: joint on V, up: sits on B}}}}
        holes:
{holes}
    """


def rail(count: int) -> Plan:
    """A wall trimmed at three sides with so many pipes, one a tile as far as its 32 whole tiles go, then two."""
    draw = random.Random(count)
    places = [(column, row) for row in range(4) for column in range(-4, 4)]
    draw.shuffle(places)
    rows = []
    for number in range(count):
        (column, row), second = places[number % len(places)], number // len(places)
        x = 250 * column + (180 if second else 70) + draw.randint(0, 9)
        y = 400 * row + 90 + draw.randint(0, 60) + 150 * second
        low, high = sorted((abs(x) - 7, abs(x) + 8))
        side = "right" if x > 0 else "left"
        rows.append(
            f"          - {{name: pipe {number + 1}, what: 15 copper, across: {low} to {high} {side} of V, "
            f"up: {y} to {y + 15} above B, cover: 65, end: comes off}}"
        )
    return plan_of(RAIL.format(count=count, holes="\n".join(rows)))
