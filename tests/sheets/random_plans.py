"""Seeded random tiles for the sheets: sizes, cuts over edges and corners, covers, findings, papers, units."""

from __future__ import annotations

import random
from typing import Literal

from cutmarks.checks.model import Finding
from cutmarks.fixing.model import ReadFrom
from cutmarks.geometry.frames import Point, Tile
from cutmarks.geometry.rings import Ring
from cutmarks.geometry.shapes import Circle, Rect, Shape, Slot, ring_of
from cutmarks.openings.model import Cover, CutKind, Opening, WallCheck
from cutmarks.plan import Plan
from cutmarks.sides import Side
from tests.handmade import cut_piece, opening, plan_of

TILES = (
    (97.0, 297.0),
    (297.0, 97.0),
    (248.0, 398.0),
    (597.0, 297.0),
    (298.0, 598.0),
    (448.0, 448.0),
    (1198.0, 598.0),
    (146.0, 146.0),
    (200.0, 1200.0),
)
SENTENCE = "Only 22 of tile is left beside it, under 30 it may crack: drill slowly and hold the piece on both sides."


def random_plan(seed: int) -> Plan:
    """One tile with one to three cuts that lie on it at least in part."""
    draw = random.Random(seed)
    w, h = draw.choice(TILES)
    at = (draw.choice((1.0, 251.0, -w - 1.0, -w / 2)), draw.choice((0.0, 400.0, -h - 1.0)))
    fixed: tuple[Side, Side] = (draw.choice((Side.LEFT, Side.RIGHT)), draw.choice((Side.BOTTOM, Side.BOTTOM, Side.TOP)))
    openings: list[Opening] = []
    kinds: list[CutKind] = []
    for number in range(draw.choice((1, 1, 1, 2, 3))):
        one, kind = _cut(draw, number, w, h, at)
        openings.append(one)
        kinds.append(kind)
    findings = [
        Finding(
            draw.choice(("warn", "note", "stop")), "bridge", (draw.choice(("splash 3-7", openings[0].name)),), SENTENCE
        )
        for _ in range(draw.choice((0, 0, 1, 4)))
    ]
    checks = tuple(
        WallCheck(ReadFrom("piece", "next to it"), side, draw.uniform(10.0, 900.0), draw.uniform(10.0, 900.0), True)
        for side in draw.sample(fixed, draw.choice((0, 1, 2)))
    )
    piece = cut_piece(openings, w, h, at=at, fixed=fixed, kinds=kinds, checks=checks)
    paper = draw.choice(("A4", "A4", "Letter", "any", "A3"))
    units: Literal["mm", "in"] = draw.choice(("mm", "mm", "in"))
    return plan_of([piece], findings=findings, paper=paper, units=units)


def _cut(draw: random.Random, number: int, w: float, h: float, at: tuple[float, float]) -> tuple[Opening, CutKind]:
    shapes: tuple[Shape, ...] = (
        Circle(draw.choice((20.0, 28.0, 35.0, 44.0, 68.0, 117.0))),
        Rect(draw.uniform(40.0, 150.0), draw.uniform(40.0, 120.0)),
        Slot(60.0, 24.0, lean=draw.uniform(0.0, 90.0)),
        Circle(35.0),
    )
    shape = draw.choice(shapes)
    x, y = draw.uniform(0.0, w), draw.uniform(0.0, h)
    ring: Ring[Tile] = ring_of(shape, Point(x, y))
    box = ring.bounds
    over = (box.min_x < 0.0, box.max_x > w, box.min_y < 0.0, box.max_y > h)
    kind: CutKind = "hole"
    if (over[0] and over[1]) or (over[2] and over[3]):
        kind = "part"
    elif any(over[:2]) and any(over[2:]):
        kind = "corner notch"
    elif any(over):
        kind = "edge notch"
    wide = max(box.width, box.height) + 20.0
    cover = draw.choice((None, Cover(wide, wide, True), Cover(box.width + 12.0, box.height + 12.0, False)))
    core = shape.d if isinstance(shape, Circle) else None
    spare = draw.choice((None, 1.0, 6.5))
    return opening(f"pipe {number}", shape, at[0] + x, at[1] + y, core=core, cover=cover, you_may_be=spare), kind
