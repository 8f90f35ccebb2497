"""Jobs that the mutations of the job campaign begin with: the examples, the starters, and small ones of its own.

The small ones have between them most of what a job file can say.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]

WALL = """\
job: Heron Row, porch
units: mm
tiles:
  pale: {size: 246 x 246, measured: yes, thickness: 8, material: ceramic}
surfaces:
  - name: porch wall
    kind: wall
    lines: {V: "plumb, middle", B: "level, batten"}
    edges:
      left: {at: 800 left of V, what: lining, true: plumb}
      right: [900 right of V at B, 906 right of V at 1200 above B]
      bottom: {at: 3 below B, what: plinth, true: level, gap: 3}
      top: {at: 1300 above B, what: rail, true: level}
    windows:
      - {name: hatch, across: 300 to 620 right of V, up: 500 to 900 above B, gap: 4}
    areas:
      - {name: field, tile: pale, joint: 3, bond: third right, start: {across: joint on V, up: sits on B}}
    holes:
      - {name: tap, what: 15 copper, across: 100 to 115 right of V, up: 100 to 115 above B, cover: 60, end: comes off}
      - {name: box, what: socket box, size: 72 x 72, across: centre 400 left of V, up: underside 640 above B,
          cover: 86 x 86}
      - {name: flue, what: flue pipe, diameter: 60, across: 70 left to 10 right of V, up: centre 1000 above B,
          opening: 68, cover: 110}
"""

FLOOR = """\
job: Heron Row, hearth floor
units: mm
tiles:
  slab: {size: 346 x 346, run across: 4 in 1396, thickness: 10, material: porcelain}
surfaces:
  - name: hearth
    kind: floor
    up: towards the window
    way out: bottom
    lines: {C: "across, middle", D: "along, door", E: "across, 700 right of C, pier"}
    edges:
      left: [1200 left of C at D, 1211 left of C at 2000 in from D]
      right: {at: 1300 right of C, what: wall, true: plumb}
      bottom: {at: 0 from D, what: bar, true: level, gap: 4}
      top: {at: 2400 in from D, what: wall, true: level}
    gaps: {left: 5, right: 5, top: 5}
    doors:
      - {name: leg, across: 500 to 560 left of C, in: 0 to 90 from D, undercut: 16, goes under: 12}
    areas:
      - {name: ground, tile: slab, joint: 3, start: {across: middle on C, up: sits on D}}
    holes:
      - {name: soil, what: 110 soil, across: 243 to 353 right of C, in: 1150 to 1260 from D, cover: 160, end: runs on}
      - {name: feed, what: 16 multilayer, across: 200 to 216 in from left there, in: centre 1000 from D, cover: 45}
      - {name: leaning box, corners: ["800 right of C, 600 from D", "890 right of C, 610 from D",
          "884 right of C, 690 from D", "795 right of C, 680 from D"], cover: none}
"""

TURNED = """\
job: Heron Row, turned panel
tiles: {dart: {size: 147 x 147, measured: yes, thickness: 7}}
surfaces:
  - name: panel
    kind: wall
    lines: {V: "plumb, middle", B: "level, sill"}
    edges: {left: 500 left of V, right: 500 right of V, bottom: 400 below B, top: 600 above B}
    areas:
      - {name: diamond, tile: dart, joint: 2, turn: 45, start: middle on V and B}
    holes:
      - {name: lamp, what: lamp feed, diameter: 20, across: centre 40 right of V, up: centre 75 above B, opening: 28,
          cover: 80}
      - {name: slit, slot: 60 x 20, across: centre 210 left of V, up: centre 120 below B, cover: 90 x 50}
"""

TWO_AREAS = """\
job: Heron Row, sink
tiles:
  rib: {size: 297 x 97, lay: long side across, run across: 5 in 1497, thickness: 9}
  plate: {size: 600 x 300, measured: yes, thickness: 9, face: textured}
limits: {thin bridge: 25, box play: 3}
accept:
  - {rule: thin bridge, about: hot, reason: it was agreed}
surfaces:
  - name: sink wall
    kind: wall
    board: 12.5
    lines: {V: "plumb, sink", B: "level, packers", W: "plumb, 640 right of V, end of the sink"}
    areas:
      - {name: low, tile: rib, joint: 3, bond: half, from: B, to: 597 above B, start: {across: joint on V,
          up: sits on B}}
      - {name: high, tile: plate, joint: 3, from: 600 above B, start: {across: middle on V, up: sits on 600 above B}}
    holes:
      - {name: hot, what: 15 copper, across: 67 to 83 left of V, up: 240 to 256 above B, cover: 65, end: comes off}
      - {name: cold, what: 15 copper, across: 68 to 83 right of V, up: level with hot, cover: 65,
          slot: towards the top}
      - {name: valve, what: valve body, across: 40 left to 44 right of W, up: 706 to 790 above B, hole: 89 to 102,
          cover: 150, depth: 62 behind the board, depth range: 47 to 73}
      - {name: in course, what: 22 copper, across: near side 300 left of V, up: "in course 4 of low, 30 up",
          cover: none, lean: 4 in 60 right, stub: 40}
"""

TAPED = """\
job: Heron Row, taped
tiles: {tall: {size: 297 x 597, lay: long side up, measured: yes}}
surfaces:
  - name: rear wall
    kind: wall
    lines: {V: {kind: plumb, words: middle, off: 1 in 2000 to the right}, B: "level, batten"}
    square: 900 x 1200, diagonal 1501
    points: {N1: "610 left of V, 1905 above B", N2: "590 right of V, 1905 above B"}
    areas:
      - {name: rear, tile: tall, joint: 3, from: B, start: {across: joint on V, up: sits on B}}
    holes:
      - {name: flow, what: 22 copper, across: 64 to 86 left of V, up: 301 to 323 above B, cover: 70}
      - {name: return, what: 22 copper, across: 64 to 86 right of V, up: 302 to 324 above B, cover: 70}
      - {name: drain, what: 32 waste, cover: 75, readings: [1271 to 1306 from N1, 1045 to 1081 from N2,
          192 to 228 right of V, "centre 912 above B, within 3"]}
    pairs:
      - {of: flow and return, apart: 150, level: yes}
found:
  - {piece: rear 1-R1, left: 64 to 86, date: 2026-03-14}
"""

INCHES = """\
job: Heron Row, in inches
units: in
say: us
paper: Letter
tiles: {square: {size: 11 13/16 x 11 13/16, measured: yes, thickness: 3/8}}
surfaces:
  - name: bench
    kind: wall
    lines: {V: "plumb, bench", B: "level, ledger"}
    edges: {left: 31 1/2 left of V, right: 28 3/4 right of V, bottom: {at: 3/16 below B, gap: 3/16},
        top: 46 1/2 above B}
    gaps: {left: 1/8, right: 1/8, top: 1/8}
    areas:
      - {name: bench tiles, tile: square, joint: 3/16, bond: half, start: {across: middle on V, up: sits on B}}
    holes:
      - {name: stub, what: 1/2 copper, across: 8 1/16 to 8 11/16 left of V, up: 15 1/2 to 16 1/8 above B, cover: 2 1/2}
      - {name: outlet, what: device box, size: 2 x 3, across: centre 17 1/4 right of V, up: centre 29 7/8 above B,
          cover: 2 3/4 x 4 1/2}
"""

OUTLINES = """\
job: Heron Row, under the stairs
paper: A3
sheets: joined
tiles: {mid: {size: 396 x 196, measured: yes, face: textured}}
surfaces:
  - name: stairs
    kind: wall
    lines: {V: "plumb, newel", B: "level, floor line"}
    outline: ["1000 left of V, 0 above B", "1000 right of V, 0 above B", "1000 right of V, 400 above B",
        "1000 left of V, 1600 above B"]
    niches:
      - {name: shelf, outline: ["700 left of V, 500 above B", "400 left of V, 500 above B",
          "400 left of V, 800 above B", "700 left of V, 820 above B"], gap: 2}
    areas:
      - {name: rake, tile: mid, joint: 4, bond: "120 right, stepped", start: {across: left on V, up: joint on B}}
    holes:
      - {name: duct, outline: ["100 left of V, 300 above B", "200 right of V, 300 above B",
          "200 right of V, 420 above B"], cover: none}
      - {name: pipe, what: 28 copper, across: centre 300 left of V, up: 196 to 224 above B, template: both,
          keep clear: 50, sweep: 90}
  - name: return wall
    kind: wall
    lines: {V: "plumb, corner", B: "level, floor line"}
    edges:
      bottom: {what: step, steps: [{at: 0 above B, until: 200 right of V, gap: 5}, {at: 60 above B, gap: 5}]}
      left: {at: 0 right of V, still to come: 14, what: next wall}
    areas:
      - {name: short, tile: mid, joint: 4, left of: 900 right of V, to: 1000 above B,
          start: {across: left on 20 right of V, up: sits on 70 above B}}
    holes:
      - {name: spout, what: 15 copper, across: 277 to 292 in from left there, up: 120 to 135 above the floor,
          cover: 60}
"""

ONE_LINE = """\
job: Heron Row, utility
units: mm
tiles:
  pale: 246 x 246 landscape, 3 joint
surfaces:
  - name: utility wall
    kind: wall
    lines: {V: "plumb, middle of the sink", B: top of the batten}
    edges:
      left: LH wall 812 top, 806 bottom, from V
      right: end panel 900, plumb
      bottom: worktop 3 below B, level
      top: ceiling 1300 left, 1306 right, above B
    windows:
      - hatch, 300 to 620 right of V, 500 to 900 above B, gap 4
    areas:
      - {name: field, tile: pale, bond: half, start: "joint on V, sits on B"}
    holes:
      - tap, 15 copper, 100 to 115 right of V, 100 to 115 above B, rose 60, comes off
      - hot and cold, 15 copper, 150 centres, split on V, 240 above B to centre, rose 52, comes off
      - box 72 x 72 left edge 436 left of V underside 640 above B plate 86 x 86
      - {said: "flue, 60 round, centre 30 left of V, centre 1000 above B, hole 68", cover: 110}
"""

SMALL: Mapping[str, str] = {
    "wall": WALL,
    "floor": FLOOR,
    "turned": TURNED,
    "two areas": TWO_AREAS,
    "taped": TAPED,
    "inches": INCHES,
    "outlines": OUTLINES,
    "one line": ONE_LINE,
}


def seeds() -> dict[str, str]:
    """Every job to begin with, by name."""
    files = [*sorted(ROOT.glob("examples/*/*.yaml")), *sorted(ROOT.glob("templates/*.yaml"))]
    shipped = {path.stem: path.read_text(encoding="utf-8") for path in files if not path.stem.endswith(".found")}
    return {**shipped, **SMALL}
