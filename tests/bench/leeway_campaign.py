"""How far holes may be off, against offsets tried one by one: the plan's leeway and a second reckoning.

    python -m tests.bench.leeway_campaign --pairs 200 --offsets 1000 --seed 1

Each pair is a thing in its hole under its cover: round and square under round, round under oblong,
leaning boxes, slots, outlines. The second reckoning knows the figures alone: a thing is discs (a corner is
one of no radius) that lie in the hole by its signed distance, the hole is discs that lie in the cover; outlines are
shapely's polygons, which have no arcs to be rounded. Offsets are drawn all over the room and close to its border, down
to a millionth of a millimetre; those nearer than that are counted, not judged. `least` and `along` are held against the
border, found by halving in 240 directions and then finer. Ends with 1 where anything differs.
"""

from __future__ import annotations

import argparse
import math
import sys
from collections import Counter
from collections.abc import Callable, Iterator
from random import Random
from typing import Any

import numpy as np
import shapely
from msgspec import Struct, field
from msgspec.structs import replace
from numpy.typing import NDArray
from scipy.optimize import minimize_scalar

from cutmarks.geometry.frames import Point, Surface
from cutmarks.geometry.rings import Vertex
from cutmarks.geometry.shapes import Circle, Outline, Rect, Shape, Slot, ring_of
from cutmarks.limits import LIMITS
from cutmarks.openings.hidden import leeway_of
from cutmarks.openings.model import Cover, Opening
from tests.handmade import opening

Floats = NDArray[np.float64]
Clearance = Callable[[Floats], Floats]
"""For offsets, one a row, how far each is inside (+) or outside (-) what may be, mm: exact inside."""
NEAR = 1e-6
DIRECTIONS = 240
FARTHEST = 400.0
HALVINGS = 50
LAPS = {True: 3.0, False: 2.0}
"""Common practice: 3 mm for a rose (1/8 in), 2 for a plate."""
KINDS = (
    "round in round under round",
    "round in square under round",
    "round in round under oblong",
    "round in oblong under oblong",
    "box under round",
    "leaning box under oblong",
    "leaning box under round",
    "slot under round",
    "slot under oblong",
    "outline under oblong",
    "outline under round",
    "round in square, no cover",
)


class Pair(Struct, frozen=True, dict=True):
    """One thing in its hole under its cover, and the second reckoning: the thing in the hole, the hole as discs.

    discs  of the hole: x, y, radius, about the middle of the cover.
    lean   of the cover, degrees.
    """

    kind: str
    thing: Shape
    hole: Shape
    cover: Cover | None
    over: Clearance
    discs: Floats
    lean: float = 0.0

    def opening(self) -> Opening:
        """The opening about a place on a wall."""
        at: Point[Surface] = Point(1234.5, 678.25)
        made = replace(opening("hole", self.hole, at.x, at.y, cover=self.cover), thing=ring_of(self.thing, at))
        return replace(made, leeway=leeway_of(made, LIMITS, size_known=True))

    def clearance(self, offsets: Floats, lapped: bool = True) -> Floats:
        """Of both at once: the thing in the hole, and the hole, with its lap, under the cover."""
        over = self.over(offsets)
        if self.cover is None:
            return over
        lap = LAPS[self.cover.round] if lapped else 0.0
        return np.minimum(over, _under(self.discs, self.cover, self.lean, lap, offsets))


def _turned(points: Floats, degrees: float) -> Floats:
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return points @ np.array([[c, s], [-s, c]])


def _under(discs: Floats, cover: Cover, lean: float, lap: float, offsets: Floats) -> Floats:
    places = offsets[:, None, :] + discs[None, :, :2]
    if cover.round:
        return (cover.w / 2 - lap - np.hypot(places[..., 0], places[..., 1]) - discs[:, 2]).min(axis=1)
    own = np.abs(_turned(places.reshape(-1, 2), -lean).reshape(places.shape))
    beside = cover.w / 2 - lap - own[..., 0] - discs[:, 2]
    above = cover.h / 2 - lap - own[..., 1] - discs[:, 2]
    return np.minimum(beside, above).min(axis=1)


def _in_shape(thing: Floats, distance: Callable[[Floats], Floats]) -> Clearance:
    """Discs inside a convex hole, of which the signed distance of a place is known; the hole is off, not the thing."""

    def clearance(offsets: Floats) -> Floats:
        places = thing[None, :, :2] - offsets[:, None, :]
        inside = distance(places.reshape(-1, 2)).reshape(places.shape[:2])
        return (inside - thing[:, 2]).min(axis=1)

    return clearance


def _in_disc(d: float) -> Callable[[Floats], Floats]:
    return lambda at: d / 2 - np.hypot(at[:, 0], at[:, 1])


def _in_box(w: float, h: float, lean: float) -> Callable[[Floats], Floats]:
    def distance(at: Floats) -> Floats:
        own = np.abs(_turned(at, -lean))
        return np.minimum(w / 2 - own[:, 0], h / 2 - own[:, 1])

    return distance


def _in_slot(length: float, w: float, lean: float) -> Callable[[Floats], Floats]:
    def distance(at: Floats) -> Floats:
        own = np.abs(_turned(at, -lean))
        return w / 2 - np.hypot(np.maximum(0.0, own[:, 0] - (length - w) / 2), own[:, 1])

    return distance


def _corners(w: float, h: float, lean: float = 0.0) -> Floats:
    points = _turned(np.array([[x * w / 2, y * h / 2] for x in (-1, 1) for y in (-1, 1)]), lean)
    return np.column_stack([points, np.zeros(4)])


def _ends(length: float, w: float, lean: float) -> Floats:
    points = _turned(np.array([[(length - w) / 2, 0.0], [-(length - w) / 2, 0.0]]), lean)
    return np.column_stack([points, np.full(2, w / 2)])


def _disc(d: float) -> Floats:
    return np.array([[0.0, 0.0, d / 2]])


def random_pair(draw: Random, kind: str) -> Pair:
    """A pair of a kind; some have a hole that is too large for its cover."""
    if kind.startswith("outline"):
        return _outline(draw, kind)
    d, room = draw.randint(20, 120) / 2, draw.randint(4, 60) / 2
    lean = draw.choice((0.0, draw.uniform(2.5, 44.0), -draw.uniform(2.5, 44.0)))
    if kind.startswith("slot"):
        length, play = d + draw.randint(5, 60), room / 2
        wide, high = length + 2 * play, d + 2 * play
        over = _in_shape(_ends(length, d, lean), _in_slot(wide, high, lean))
        cover = _cover(draw, kind, wide, wide)
        return Pair(kind, Slot(length, d, lean), Slot(wide, high, lean), cover, over, _ends(wide, high, lean))
    if "box" in kind:
        lean = (lean or 17.25) if "leaning" in kind else 0.0
        w, h = float(draw.randint(40, 140)), float(draw.randint(40, 90))
        wide, high = w + room, h + draw.randint(4, 20) / 2
        over = _in_shape(_corners(w, h, lean), _in_box(wide, high, lean))
        cover = _cover(draw, kind, wide, high)
        return Pair(kind, Rect(w, h, lean), Rect(wide, high, lean), cover, over, _corners(wide, high, lean), lean)
    wide = d + room
    if kind.startswith("round in round"):
        over = _in_shape(_disc(d), _in_disc(wide))
        return Pair(kind, Circle(d), Circle(wide), _cover(draw, kind, wide, wide), over, _disc(wide))
    high = wide if "square" in kind else d + draw.randint(4, 60) / 2
    over = _in_shape(_disc(d), _in_box(wide, high, 0.0))
    return Pair(kind, Circle(d), Rect(wide, high), _cover(draw, kind, wide, high), over, _corners(wide, high))


def _cover(draw: Random, kind: str, wide: float, high: float) -> Cover | None:
    """A cover over a hole so wide and high: as often scant as ample."""
    if "no cover" in kind:
        return None
    beyond = draw.choice((draw.randint(2, 80), draw.randint(12, 80), draw.randint(-6, 20)))
    if kind.endswith("under oblong"):
        return Cover(math.ceil(wide) + beyond, math.ceil(high) + draw.randint(2, 60), False)
    across = math.ceil(math.hypot(wide, high) if "round in round" not in kind else wide) + beyond
    return Cover(across, across, True)


def _outline(draw: Random, kind: str) -> Pair:
    """A free outline, a triangle, a skew box or an L, in a hole with play all round it, mitred."""
    a, b = float(draw.randint(40, 90)), float(draw.randint(40, 90))
    shapes: tuple[list[tuple[float, float]], ...] = (
        [(0.0, 0.0), (a, draw.uniform(-8, 8)), (draw.uniform(10, 30), b)],
        [(0.0, 0.0), (a, -6.0), (a + 9.0, b), (-5.0, b - 8.0)],
        [(0.0, 0.0), (a, 0.0), (a, b / 2), (a / 2, b / 2), (a / 2, b), (0.0, b)],
    )
    thing = shapely.Polygon([(x - a / 2, y - b / 2) for x, y in draw.choice(shapes)])
    cut = thing.buffer(draw.randint(4, 20) / 2, join_style="mitre", mitre_limit=100.0)
    places = np.array(cut.exterior.coords)[:-1]
    reach = 2 * np.abs(places).max(axis=0)
    edge = cut.exterior

    corners = np.array(thing.exterior.coords)[:-1]

    def over(offsets: Floats) -> Floats:
        moved = corners[None] - offsets[:, None, :]
        rings = shapely.linearrings(np.concatenate([moved, moved[:, :1]], axis=1))
        polygons = shapely.polygons(rings)
        inside = shapely.contains(cut, polygons)
        # How far a corner of one sticks through the boundary of the other; no more than it is out.
        ours = shapely.points(moved)
        out = np.where(shapely.contains(cut, ours), 0.0, shapely.distance(edge, ours)).max(axis=1)
        theirs = shapely.points(places)[None, :]
        held = shapely.contains(polygons[:, None], theirs)
        through = np.where(held, shapely.distance(rings[:, None], theirs), 0.0).max(axis=1)
        return np.where(inside, shapely.distance(edge, rings), -np.maximum(out, through))

    def shape(of: Any) -> Outline:
        return Outline(tuple(Vertex(x, y) for x, y in shapely.geometry.polygon.orient(of).exterior.coords[:-1]))

    cover = _cover(draw, kind, reach[0], reach[1])
    return Pair(kind, shape(thing), shape(cut), cover, over, np.column_stack([places, np.zeros(len(places))]))


def border(pair: Pair, ways: Floats, lapped: bool = True) -> Floats:
    """How far it is from where it is meant to be to the border, in the directions of unit vectors, by halving."""
    inside, outside = np.zeros(len(ways)), np.full(len(ways), FARTHEST)
    for _ in range(HALVINGS):
        between = (inside + outside) / 2
        holds = pair.clearance(ways * between[:, None], lapped) >= 0
        inside, outside = np.where(holds, between, inside), np.where(holds, outside, between)
    return inside


def unit(angles: Floats) -> Floats:
    """Unit vectors in these directions, radians."""
    return np.column_stack([np.cos(angles), np.sin(angles)])


def nearest_border(pair: Pair, lapped: bool = True) -> float:
    """The least distance to the border: the best of many directions, and finer round it."""
    if pair.clearance(np.zeros((1, 2)), lapped)[0] <= 0:
        return 0.0
    directions = DIRECTIONS // 4 if pair.kind.startswith("outline") else DIRECTIONS
    angles = np.linspace(0, 2 * math.pi, directions, endpoint=False)
    far = border(pair, unit(angles), lapped)
    step = 2 * math.pi / directions
    best = math.inf
    for index in np.argsort(far)[:2]:
        found = minimize_scalar(
            lambda angle: float(border(pair, unit(np.array([angle])), lapped)[0]),
            bounds=(angles[index] - step, angles[index] + step),
            method="bounded",
            options={"xatol": 1e-9},
        )
        best = min(best, float(found.fun), float(far[index]))
    return best


def drawn(pair: Pair, count: int, numbers: np.random.Generator) -> Floats:
    """Offsets all over the room and beyond, half of them close to its border, from a tenth of a mm down to nothing."""
    ways = unit(numbers.uniform(0, 2 * math.pi, count))
    far = border(pair, ways)
    close = 10.0 ** numbers.uniform(-6.5, -1, count) * numbers.choice((-1, 1), count)
    anywhere = np.maximum(far, 1.0) * np.sqrt(numbers.uniform(0, 2, count))
    return ways * np.where(numbers.random(count) < 0.5, np.abs(far + close), anywhere)[:, None]


class Tally(Struct, dict=True):
    """What was tried, and what differs."""

    pairs: Counter[str] = field(default_factory=Counter)
    judged: int = 0
    inside: int = 0
    near: int = 0
    without: int = 0
    worst_least: float = 0.0
    wrong: list[str] = field(default_factory=list)


def look_at(pair: Pair, offsets: int, seed: int, tally: Tally) -> None:
    """Hold a pair's leeway against the second reckoning."""
    numbers = np.random.default_rng(seed)
    leeway = pair.opening().leeway
    tally.pairs[pair.kind] += 1
    tally.without += leeway.least == 0.0
    for lapped, one in ((True, leeway), (False, leeway.without_lap)):
        off = abs(one.least - nearest_border(pair, lapped))
        tally.worst_least = max(tally.worst_least, off)
        if off > NEAR:
            tally.wrong.append(f"seed {seed}, {pair.kind}, lap {lapped}: least is {one.least}, the border {off} off")
    if leeway.least > 0.0 and not pair.kind.startswith("outline"):
        ways = unit(numbers.uniform(0, 2 * math.pi, 12))
        for (dx, dy), far in zip(ways, border(pair, ways), strict=True):
            if abs(leeway.along(dx, dy) - far) > NEAR:
                tally.wrong.append(f"seed {seed}, {pair.kind}: along {dx}, {dy} is {leeway.along(dx, dy)}, not {far}")
    places = drawn(pair, offsets, numbers)
    for (dx, dy), clear in zip(places, pair.clearance(places), strict=True):
        if abs(clear) <= NEAR:
            tally.near += 1
            continue
        tally.judged += 1
        tally.inside += clear > 0
        if leeway.contains(dx, dy) != (clear > 0):
            tally.wrong.append(f"seed {seed}, {pair.kind}: off by {dx}, {dy}: {clear} mm inside, said otherwise")


def pairs(count: int, seed: int) -> Iterator[tuple[int, Pair]]:
    """So many pairs of all kinds in turn, each with the number that makes it again."""
    for number in range(seed * 1_000_000, seed * 1_000_000 + count):
        yield number, random_pair(Random(number), KINDS[number % len(KINDS)])


def main() -> int:
    """Run the campaign; 1 where anything differs."""
    parser = argparse.ArgumentParser(description="The leeway of holes against a second reckoning.")
    parser.add_argument("--pairs", type=int, default=200)
    parser.add_argument("--offsets", type=int, default=1000)
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args()
    tally = Tally()
    for number, pair in pairs(asked.pairs, asked.seed):
        look_at(pair, asked.offsets, number, tally)
    for sentence in tally.wrong[:40]:
        print(sentence)
    print(dict(sorted(tally.pairs.items())))
    print(
        f"{tally.judged} offsets judged, {tally.inside} of them inside; {tally.near} within {NEAR:g} mm of a border; "
        f"{tally.without} pairs without leeway; least is out by {tally.worst_least:.2g} mm at most; "
        f"{len(tally.wrong)} differ"
    )
    return 1 if tally.wrong else 0


if __name__ == "__main__":
    sys.exit(main())
