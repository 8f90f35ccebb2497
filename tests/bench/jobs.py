"""Jobs made for the benchmarks: a square wall of small tiles, holes spread over it, edges flush with joints or not."""

from __future__ import annotations

import random
from pathlib import Path

TILE = 98
JOINT = 2
PITCH = TILE + JOINT
GAP = 3


def write_square_wall(folder: Path, side: int, holes: int, *, raking: bool = False, seed: int = 1) -> Path:
    """A job of `side` x `side` tiles with `holes` pipes, no two on one tile; returns the job file.

    Edges lie flush with the tiles, so that nothing is trimmed; or they rake by 40 mm over the wall, so that every
    tile along the left and right edge is. The pipes sit at the same places on their tiles for any `side`.
    """
    draw = random.Random(seed)
    apart = side * side // max(holes, 1)
    rows = ["name,what,across,up"]
    for k in range(holes):
        row, column = divmod(k * apart, side)
        x, y = column * PITCH + draw.randint(30, 68), row * PITCH + draw.randint(30, 68)
        rows.append(f"p{k},15 copper,centre {x} right of V,centre {y} above B")
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "pipes.csv").write_text("\n".join(rows) + "\n", encoding="utf-8")
    far = side * PITCH - JOINT
    rake = 40 if raking else 0
    job = folder / "square.yaml"
    job.write_text(
        f"""\
job: square wall
units: mm
tiles:
  small: {{size: {TILE} x {TILE}, measured: yes}}
surfaces:
  - name: wall
    kind: wall
    lines:
      V: plumb, left end
      B: level, lower end
    edges:
      left: [{GAP} left of V at B, {GAP + rake} left of V at {far} above B]
      right: [{far + GAP} right of V at B, {far + GAP - rake} right of V at {far} above B]
      bottom: {{at: {GAP} below B, true: level, what: worktop}}
      top: {{at: {far + GAP} above B, true: level}}
    gaps: {{left: {GAP}, right: {GAP}, bottom: {GAP}, top: {GAP}}}
    areas:
      - {{name: field, tile: small, joint: {JOINT}, start: {{across: left on V, up: sits on B}}}}
    holes list: pipes.csv
""",
        encoding="utf-8",
    )
    return job
