"""Every notch that is offered on random holes: hidden, strong enough, holding its opening; shapely is the referee.

    python -m tests.bench.notch_campaign --notches 2000 --seed 1

Each case is one hole in a field of tiles, as a job. Where a notch is offered for it, the job is written again with the
`slot:` that the finding asks for and planned a second time, and what is then cut is looked at: polygons of the tile,
the opening and the cover are made here from the case's own numbers, round ones as regular polygons outside the circle.
"""

from __future__ import annotations

import argparse
import math
import random
import sys
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from shapely.geometry import Point, Polygon, box
from shapely.geometry.base import BaseGeometry

from cutmarks.checks.notches import hidden_notch
from cutmarks.checks.strength import bridge_of
from cutmarks.geometry.edges import Arc, at_angle
from cutmarks.geometry.frames import Tile
from cutmarks.geometry.regions import Region
from cutmarks.geometry.rings import edges
from cutmarks.job import build_job
from cutmarks.limits import LIMITS
from cutmarks.openings.model import Cut, CutPiece
from cutmarks.plan import Plan, make_plan

STEP = math.radians(0.5)
"""Arcs are walked in steps of this: on a radius of 60 a chord lies 0.0006 mm inside its arc."""
NEAR = 0.005
"""Polygons that stand for arcs are trusted to this, mm."""
SPECK = 0.01
"""What is left over from polygons that stand for arcs, mm2."""
SIDES = ("left", "right", "bottom", "top")
AGAINST = ("thin bridge", "hair bridge", "thin leg", "hair bite", "shows past its cover", "cover laps little")
"""What may not be said of a notch that was offered."""


@dataclass(frozen=True, slots=True)
class Case:
    """One hole in one tile: sizes, where its middle lies on the tile, and its cover; all mm."""

    w: float
    h: float
    joint: float
    opening: float | tuple[float, float]
    at: tuple[float, float]
    cover: float | tuple[float, float]

    def opening_polygon(self) -> BaseGeometry:
        """The opening on the tile."""
        return _shape(self.opening, self.at)

    def cover_polygon(self) -> BaseGeometry:
        """What hides it, on the tile."""
        return _shape(self.cover, self.at)

    @property
    def lap(self) -> float:
        """How far the cover has to lap: 3 mm round, 2 mm for a plate, common practice."""
        return 2.0 if isinstance(self.cover, tuple) else 3.0

    def job(self, slot: str = "") -> dict[str, object]:
        """The job with this hole, opened towards `slot`."""
        x, y = self.at
        half_joint = self.joint / 2.0
        opening = f"{self.opening:g}" if isinstance(self.opening, float) else " x ".join(f"{s:g}" for s in self.opening)
        cover = f"{self.cover:g}" if isinstance(self.cover, float) else " x ".join(f"{s:g}" for s in self.cover)
        thing = {"diameter": 10} if isinstance(self.opening, float) else {"size": "10 x 10"}
        hole: dict[str, object] = {
            "name": "hole",
            **thing,
            "across": f"centre {x + half_joint:.6f} right of V",
            "up": f"centre {y:.6f} above B",
            "opening": opening,
            "cover": cover,
            "end": "comes off",
        }
        if slot:
            hole["slot"] = f"towards the {slot}"
        area = {
            "name": "field",
            "tile": "rib",
            "joint": self.joint,
            "start": {"across": "joint on V", "up": "sits on B"},
        }
        surface = {
            "name": "wall",
            "kind": "wall",
            "lines": {"V": "plumb, middle", "B": "level, top of the batten"},
            "areas": [area],
            "holes": [hole],
        }
        tiles = {"rib": {"size": f"{self.w:g} x {self.h:g}", "measured": "yes"}}
        return {"job": "campaign", "tiles": tiles, "surfaces": [surface]}


@dataclass(slots=True)
class Tally:
    """What was seen."""

    cases: int = 0
    notches: int = 0
    corners: int = 0
    failures: list[str] = field(default_factory=list)


def make_case(seed: int, number: int) -> Case:
    """The case of that number: a hole whose middle lies within 60 mm of an edge or a corner of its tile."""
    rng = random.Random(f"{seed} {number}")
    w, h = (rng.choice([97.0, 148.0, 197.0, 297.0, 397.0, 597.0]) for _ in "wh")
    joint = rng.choice([2.0, 3.0, 5.0])
    if rng.random() < 0.6:
        wide = high = float(rng.randint(18, 70))
        opening: float | tuple[float, float] = wide
        cover: float | tuple[float, float] = float(rng.randint(40, 190))
    else:
        wide, high = float(rng.randint(40, 140)), float(rng.randint(40, 90))
        opening, cover = (wide, high), (wide + rng.randint(0, 90), high + rng.randint(0, 90))
    gaps = [rng.choice([rng.uniform(0.6, 40.0), round(rng.uniform(1.0, 40.0))]) for _ in "xy"]
    x = _placed(rng, w, wide, gaps[0])
    y = _placed(rng, h, high, gaps[1])
    return Case(w, h, joint, opening, (round(x, 3), round(y, 3)), cover)


def _placed(rng: random.Random, size: float, extent: float, gap: float) -> float:
    where = rng.choice(["low", "high", "middle"])
    if where == "middle" or gap + extent > size:
        return size / 2.0
    return gap + extent / 2.0 if where == "low" else size - gap - extent / 2.0


def run_case(case: Case, tally: Tally) -> None:
    """Plan the case; where a notch is offered, plan it with the notch and look at what is cut."""
    tally.cases += 1
    found = _only_cut(make_plan(build_job(case.job())))
    if found is None or found[1].kind != "hole":
        return
    piece, cut = found
    limit = bridge_of(piece, "wall", LIMITS).least_look
    notch = hidden_notch(piece, cut, limit, LIMITS)
    if notch is None:
        return
    tally.notches += 1
    tally.corners += len(notch.sides) == 2
    plan = make_plan(build_job(case.job(" and the ".join(notch.sides))))
    tally.failures += [f"{case}: {what}" for what in _faults(case, notch.sides, limit, plan, notch.outline)]


def _only_cut(plan: Plan) -> tuple[CutPiece, Cut] | None:
    cuts = [(piece, cut) for piece in plan.pieces for cut in piece.cuts]
    return cuts[0] if len(cuts) == 1 else None


def _faults(case: Case, sides: tuple[str, ...], limit: float, plan: Plan, offered: Region[Tile]) -> Iterator[str]:
    found = _only_cut(plan)
    if found is None:
        yield "the notch is not cut in one piece alone"
        return
    piece, cut = found
    tile = box(0.0, 0.0, case.w, case.h)
    notch, finished = polygon(cut.share), polygon(piece.outline)
    if polygon(offered).symmetric_difference(notch).area > SPECK:
        yield "what is cut is not what was offered"
    if case.opening_polygon().difference(notch.buffer(NEAR)).area > SPECK:
        yield "the opening is not in its notch"
    shown = notch.buffer(case.lap).intersection(tile).difference(case.cover_polygon().buffer(NEAR))
    if shown.area > SPECK:
        yield f"{shown.area:.3f} mm2 of the notch show"
    if finished.geom_type != "Polygon" or finished.buffer(-(limit / 2.0 - NEAR)).geom_type != "Polygon":
        yield "the tile is parted, or held by less than the limit"
    own = notch.boundary.intersection(tile.buffer(-NEAR))
    for side, edge in _edges(case).items():
        if side not in sides and own.distance(edge) < limit - NEAR:
            yield f"{own.distance(edge):.3f} is left to the {side}, under {limit}"
    said = [one.rule for one in plan.findings if one.rule in AGAINST]
    if said:
        yield f"the notch itself is said to be {said}"


def _edges(case: Case) -> dict[str, BaseGeometry]:
    w, h = case.w, case.h
    return {
        "left": box(-1.0, -1.0, 0.0, h + 1.0),
        "right": box(w, -1.0, w + 1.0, h + 1.0),
        "bottom": box(-1.0, -1.0, w + 1.0, 0.0),
        "top": box(-1.0, h, w + 1.0, h + 1.0),
    }


def _shape(size: float | tuple[float, float], at: tuple[float, float]) -> BaseGeometry:
    x, y = at
    if isinstance(size, tuple):
        return box(x - size[0] / 2.0, y - size[1] / 2.0, x + size[0] / 2.0, y + size[1] / 2.0)
    return Point(x, y).buffer(size / 2.0, quad_segs=360)


def polygon(region: Region[Tile]) -> BaseGeometry:
    """An exact region of one part as a polygon: places on its arcs."""
    outer, *inner = ([*_walk(edges(ring))] for ring in sorted(region.rings, key=lambda ring: -ring.area))
    return Polygon(outer, inner)


def _walk(row: Sequence) -> Iterator[tuple[float, float]]:
    for edge in row:
        yield edge[0], edge[1]
        if isinstance(edge, Arc):
            count = max(1, math.ceil(abs(edge.sweep) / STEP))
            yield from (at_angle(edge, abs(edge.sweep) * k / count) for k in range(1, count))


def run(notches: int, seed: int) -> Tally:
    """Cases from a seed until so many notches have been offered."""
    tally = Tally()
    number = 0
    while tally.notches < notches:
        run_case(make_case(seed, number), tally)
        number += 1
    return tally


def main() -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.bench.notch_campaign", description=__doc__.splitlines()[0])
    parser.add_argument("--notches", type=int, default=2000)
    parser.add_argument("--seed", type=int, default=1)
    given = parser.parse_args()
    tally = run(given.notches, given.seed)
    for failure in tally.failures[:50]:
        sys.stdout.write(failure + "\n")
    sys.stdout.write(
        f"{tally.cases} holes, {tally.notches} notches offered ({tally.corners} over a corner), "
        f"{len(tally.failures)} failures\n"
    )
    return 1 if tally.failures else 0


if __name__ == "__main__":
    sys.exit(main())
