"""One wall whose figures are easily worked by hand, and what its lists say.

Tiles 298 wide and 198 high, joint 2: 300 by 200 from joint to joint, a joint on V, the first course on B. Right of V
tiles lie 1 to 299, 301 to 599, 601 to 899; left of it -299 to -1 and so on; courses 0 to 198, 200 to 398, 400 to 598.
"""

from __future__ import annotations

import csv
import io

from cutmarks.checks.model import Finding
from cutmarks.job import parse_job
from cutmarks.openings.model import Cut, CutPiece
from cutmarks.plan import Plan, make_plan
from cutmarks.writers.dxf import dxf_files
from cutmarks.writers.lists import holes_csv, pieces_csv

WALL = """\
job: Alder Row, scullery
tiles: {{field: {{size: 298 x 198, measured: yes{tile}}}}}
surfaces:
  - name: wall
    kind: wall
    lines: {{V: "plumb, middle", B: "level, top of the batten"{lines}}}
    edges: {{{edges}}}
    areas:
      - {{name: field, tile: field, joint: 2, {area}}}
    holes:
{holes}
{surface}
{more}
"""
PIPE = "what: 15 copper, across: 418 to 433 right of V, up: 505 to 520 above B, cover: 65, end: comes off"
"""Middle 425.5 right of V and 512.5 above B: course 3, the tile 301 to 599. From its left 124.5, right 173.5, bottom
112.5, top 85.5."""


def text_of(
    *holes: str,
    lines: str = "",
    tile: str = "",
    edges: str = "",
    area: str = "from: B, start: {across: joint on V, up: sits on B}",
    surface: str = "",
    more: str = "",
) -> str:
    """The job file of the wall with these holes (`PIPE` alone where none is given); they are called h1, h2, ..."""
    return WALL.format(
        lines=f", {lines}" if lines else "",
        tile=f", {tile}" if tile else "",
        edges=edges,
        area=area,
        holes="\n".join(f"      - {{name: h{at}, {keys}}}" for at, keys in enumerate(holes or (PIPE,), 1)),
        surface=surface,
        more=more,
    )


def wall(*holes: str, **parts: str) -> Plan:
    """The plan of `text_of` with the same parts."""
    return make_plan(parse_job(text_of(*holes, **parts)))


def only_cut(plan: Plan) -> tuple[CutPiece, Cut]:
    """The one cut of the plan, and its piece."""
    ((piece, cut),) = [(piece, cut) for piece in plan.pieces for cut in piece.cuts]
    return piece, cut


def said(plan: Plan, rule: str) -> list[Finding]:
    """What one rule said."""
    return [finding for finding in plan.findings if finding.rule == rule]


def hole_rows(plan: Plan) -> list[dict[str, str]]:
    """holes.csv, a row each, by the heads of its columns."""
    return _rows(holes_csv(plan))


def piece_rows(plan: Plan) -> list[dict[str, str]]:
    """pieces.csv, a row each, by the heads of its columns."""
    return _rows(pieces_csv(plan, [drawing.entry for drawing in dxf_files(plan)]))


def _rows(data: bytes) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(data.decode("utf-8-sig"), newline="")))
