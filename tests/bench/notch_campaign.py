"""Every notch that is offered on random holes: hidden, strong enough, holding its opening; and none that is missed.

    python -m tests.bench.notch_campaign --notches 2000 --seed 1
    python -m tests.bench.notch_campaign --notches 100 --faults      # each bar with the fault that it is there for

Each case is one hole in a field of tiles, as a job. Where a finding says `write slot: towards ...`, the job is written
again with that slot and planned a second time, and what is then cut is looked at: polygons of the tile, the opening and
the cover are made here from the case's own numbers, round ones as regular polygons outside the circle. From the same
polygons it is reckoned which notches have to be offered: those of a closed hole that is thin towards one side, or
towards two that meet, and whose opening, carried on over them and grown by the lap, lies under its cover.
"""

from __future__ import annotations

import argparse
import math
import random
import re
import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from typing import Literal
from unittest import mock

from msgspec import Struct, field
from shapely.affinity import translate
from shapely.geometry import MultiPolygon, Point, Polygon, box
from shapely.geometry.base import BaseGeometry

from cutmarks.checks import notches
from cutmarks.checks.bridges import bridge_of
from cutmarks.checks.notches import _ways as own_ways
from cutmarks.checks.notches import thin_sides
from cutmarks.geometry.edges import Arc, Bounds, at_angle
from cutmarks.geometry.frames import Placement, Tile
from cutmarks.geometry.regions import Region
from cutmarks.geometry.rings import Ring, edges
from cutmarks.job import build_job
from cutmarks.limits import LIMITS
from cutmarks.openings import opened
from cutmarks.openings.hidden import lap_of
from cutmarks.openings.model import Cut, CutPiece
from cutmarks.openings.notches import carried_on as own_notch
from cutmarks.plan import Plan, make_plan
from cutmarks.sides import Side
from tests.bench.measured import Bar, Planted, all_bite, told

STEP = math.radians(0.5)
"""Arcs are walked in steps of this: on a radius of 60 a chord lies 0.0006 mm inside its arc."""
NEAR = 0.005
"""Polygons that stand for arcs are trusted to this, mm."""
SPECK = 0.01
"""What is left over from polygons that stand for arcs, mm2."""
SIDES = ("left", "right", "bottom", "top")
FAR = {"left": (-2000.0, 0.0), "right": (2000.0, 0.0), "bottom": (0.0, -2000.0), "top": (0.0, 2000.0)}
"""A step past each side of any tile."""
AGAINST = ("thin bridge", "hair bridge", "thin leg", "hair bite", "shows past its cover", "cover laps little")
"""What may not be said of a notch that was offered."""


Wrong = Literal["missed", "not cut as offered", "opening not in it", "shows", "too little left", "spoken against"]
OFFER = re.compile(r"write slot: towards the (\w+)(?: and the (\w+))?\.")
"""How a finding offers a notch."""
LEAST_SHOWN = 0.5
"""Measures are said to half a millimetre: what is under a limit by less is not spoken of."""


class Case(Struct, frozen=True):
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


class Tally(Struct):
    """What was seen.

    due       notches that by the second method have to be offered; missed: those of them that were not.
    failures  what is wrong, by its kind, each with its case.
    """

    cases: int = 0
    notches: int = 0
    corners: int = 0
    due: int = 0
    missed: int = 0
    failures: list[tuple[Wrong, str]] = field(default_factory=list)

    def count(self, kind: Wrong) -> int:
        """How many notches have such a failure."""
        return sum(found == kind for found, _ in self.failures)


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
    plan = make_plan(build_job(case.job()))
    found = _only_cut(plan)
    if found is None or found[1].kind != "hole":
        return
    limit = bridge_of(found[0].piece.tile, "wall", LIMITS).least_look
    offered, due = _offered(plan), due_notch(case, limit)
    if due:
        tally.due += 1
        if set(offered) != set(due):
            tally.missed += 1
            tally.failures.append(("missed", f"{case}: {due}, and {offered} is offered"))
    if not offered:
        return
    tally.notches += 1
    tally.corners += len(offered) == 2
    again = make_plan(build_job(case.job(" and the ".join(offered))))
    tally.failures += [(kind, f"{case}: {what}") for kind, what in _faults(case, offered, limit, again)]


def _only_cut(plan: Plan) -> tuple[CutPiece, Cut] | None:
    cuts = [(piece, cut) for piece in plan.pieces for cut in piece.cuts]
    return cuts[0] if len(cuts) == 1 else None


def _offered(plan: Plan) -> tuple[str, ...]:
    """The sides over which a finding offers to open the hole."""
    found = [match for one in plan.findings if (match := OFFER.search(one.text))]
    return tuple(side for side in found[0].groups() if side) if found else ()


def carried_on(case: Case, sides: Sequence[str]) -> BaseGeometry:
    """The opening with all that lies between it and these sides, and on past them: far more than the tile is wide."""
    steps = [(0.0, 0.0)]
    for side in sides:
        dx, dy = FAR[side]
        steps += [(x + dx, y + dy) for x, y in steps]
    opening = case.opening_polygon()
    return MultiPolygon([translate(opening, *step) for step in steps]).convex_hull


def due_notch(case: Case, limit: float) -> tuple[str, ...]:
    """The sides over which a notch has to be offered, by the case's own numbers; none where that hangs on a hair.

    What is left beside each side is under the limit by more than is said, or over it: one side alone, or two that meet.
    On the other sides as much is then left beside the notch as beside the hole.
    """
    left, bottom, right, top = case.opening_polygon().bounds
    beside = {"left": left, "right": case.w - right, "bottom": bottom, "top": case.h - top}
    if min(beside.values()) < NEAR or any(abs(gap - limit) < NEAR for gap in beside.values()):
        return ()
    thin = tuple(side for side in SIDES if beside[side] < limit)
    if not 1 <= len(thin) <= 2 or set(thin) in ({"left", "right"}, {"bottom", "top"}):
        return ()
    if min(beside.values()) > limit - LEAST_SHOWN - NEAR:
        return ()
    seen = carried_on(case, thin).buffer(case.lap, quad_segs=90).intersection(box(0.0, 0.0, case.w, case.h))
    return thin if case.cover_polygon().buffer(-NEAR).covers(seen) else ()


def _faults(case: Case, sides: tuple[str, ...], limit: float, plan: Plan) -> Iterator[tuple[Wrong, str]]:
    found = _only_cut(plan)
    if found is None:
        yield "not cut as offered", "the notch is not cut in one piece alone"
        return
    piece, cut = found
    tile = box(0.0, 0.0, case.w, case.h)
    notch, finished = polygon(cut.share), polygon(piece.outline)
    if carried_on(case, sides).intersection(tile).symmetric_difference(notch).area > notch.length * NEAR:
        yield "not cut as offered", "what is cut is not the opening carried on"
    if case.opening_polygon().difference(notch.buffer(NEAR)).area > SPECK:
        yield "opening not in it", "the opening is not in its notch"
    shown = notch.buffer(case.lap).intersection(tile).difference(case.cover_polygon().buffer(NEAR))
    if shown.area > SPECK:
        yield "shows", f"{shown.area:.3f} mm2 of the notch show"
    if finished.geom_type != "Polygon" or finished.buffer(-(limit / 2.0 - NEAR)).geom_type != "Polygon":
        yield "too little left", "the tile is parted, or held by less than the limit"
    own = notch.boundary.intersection(tile.buffer(-NEAR))
    for side, edge in _edges(case).items():
        if side not in sides and own.distance(edge) < limit - NEAR:
            yield "too little left", f"{own.distance(edge):.3f} is left to the {side}, under {limit}"
    said = [one.rule for one in plan.findings if one.rule in AGAINST]
    if said:
        yield "spoken against", f"the notch itself is said to be {said}"


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
    """Cases from a seed until so many notches have been offered; where most are missed, not for ever."""
    tally = Tally()
    number = 0
    while tally.notches < notches and tally.missed < notches:
        run_case(make_case(seed, number), tally)
        number += 1
    return tally


BARS: dict[str, Wrong] = {
    "notches missed": "missed",
    "notches cut otherwise than offered": "not cut as offered",
    "openings not in their notch": "opening not in it",
    "notches that show": "shows",
    "notches that leave too little": "too little left",
    "notches spoken against": "spoken against",
}
DUE, CORNERS = "notches due by the second method, of the offered", "notches over a corner, of the offered"


def bars(tally: Tally) -> list[Bar]:
    """Each figure beside its bar."""
    offered = max(tally.notches, 1)
    counted = [Bar(what, tally.count(kind), most=0) for what, kind in BARS.items()]
    return [
        *counted,
        Bar(DUE, tally.due / offered, least=0.9),
        Bar(CORNERS, tally.corners / offered, least=0.05),
    ]


def _lap(times: float) -> Planted:
    """A fault: a notch has to be lapped so many times as far as its cover laps."""
    return lambda: mock.patch.object(notches, "lap_of", lambda *given: times * lap_of(*given))


@contextmanager
def _first_side_alone() -> Iterator[None]:
    """A fault: of two thin sides only one is seen, and what is left beside the other is not looked at."""
    with (
        mock.patch.object(notches, "thin_sides", lambda cut, limit: thin_sides(cut, limit)[:1]),
        mock.patch.object(notches, "_leaves_enough", return_value=True),
    ):
        yield


def _narrower(ring: Ring[Tile], sides: Sequence[Side], box: Bounds) -> Region[Tile]:
    """A fault: a notch is carried on from the next half millimetre to the right."""
    return own_notch(ring.moved(Placement(dx=0.5)), sides, box)


FAULTS: dict[str, Planted] = {
    "notches missed": _lap(1.5),
    "notches cut otherwise than offered": lambda: mock.patch.object(opened, "carried_on", _narrower),
    "openings not in their notch": lambda: mock.patch.object(opened, "carried_on", _narrower),
    "notches that show": lambda: mock.patch.object(notches, "is_hidden", return_value=True),
    "notches that leave too little": _first_side_alone,
    "notches spoken against": lambda: mock.patch.object(notches, "is_hidden", return_value=True),
    DUE: lambda: mock.patch(f"{__name__}.due_notch", return_value=()),
    CORNERS: lambda: mock.patch.object(
        notches, "_ways", lambda *given: [one for one in own_ways(*given) if len(one) < 2]
    ),
}
"""For each bar the fault that it is there for."""


def main() -> int:
    """Run the campaign; 0 where every bar holds, and, with faults, each fails with its own."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench.notch_campaign", description=__doc__.splitlines()[0])
    parser.add_argument("--notches", type=int, default=2000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--faults", action="store_true", help="plant the fault that each bar is there for")
    given = parser.parse_args()
    if given.faults:
        return 0 if all_bite(lambda: bars(run(given.notches, given.seed)), FAULTS) else 1
    tally = run(given.notches, given.seed)
    for kind, failure in tally.failures[:50]:
        print(f"{kind}: {failure}")
    print(f"{tally.cases} holes, {tally.notches} notches offered ({tally.corners} over a corner), {tally.due} due")
    return 0 if told(bars(tally)) else 1


if __name__ == "__main__":
    sys.exit(main())
