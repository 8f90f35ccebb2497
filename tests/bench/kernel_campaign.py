"""The kernel against closed forms and shapely, on seeded random pieces with one to five openings each.

    python -m tests.bench.kernel_campaign --cases 20000 --seed 1

Prints each failure with its case number (`--only N` runs that one again), how many there were (0 is asked) and the time
a piece. Ends with 1 where there was a failure. For each opening of each piece:

- difference + intersection = piece, union = piece + opening - intersection, each by area;
- what the first opening takes from the piece against the closed form, what all of them leave against shapely;
- no contour crosses or touches itself, holes lie in their outers, the plainest form is its own plainest form;
- every arc has an opening's own centre and radius to 0.001 mm, every vertex and middle lies on a source line;
- places at random are inside or outside as the shapes say, and `spans_across` says the same.
"""

from __future__ import annotations

import argparse
import math
import random
import statistics
import sys
import time
from collections.abc import Iterator

import shapely
from msgspec import Struct, field

from cutmarks.errors import GeometryError
from cutmarks.geometry.edges import distance_to, middle
from cutmarks.geometry.frames import Point, Surface, Tile
from cutmarks.geometry.regions import (
    Region,
    canonical,
    contains,
    difference,
    intersection,
    parts,
    region,
    spans_across,
    union,
)
from cutmarks.geometry.rings import Arc, Ring, edges, self_crossing
from cutmarks.geometry.winding import winding
from tests.bench.kernel_cases import Case, make_case
from tests.bench.kernel_referee import (
    CIRCLE_ERROR,
    areal,
    as_polygon,
    inside_opening,
    round_parts,
    share,
)

ARC = 0.001
"""Every arc's centre and radius agree with its opening's own to this, mm."""
ON = 2e-5
"""A vertex or a middle lies this near to a source line, mm: the widest touch that settles a doubtful case is 1.6e-5."""
ROUNDING = 1e-9
"""Areas agree to this part of all the areas involved, and to `TOUCHED` for each mm of boundary."""
TOUCHED = 2e-6
PROBES = 6
CLEAR = 1e-4
"""Places nearer than this to a boundary, mm, are not asked about."""


class Tally(Struct):
    """What was found."""

    failures: list[str] = field(default_factory=list)
    seconds: list[float] = field(default_factory=list)
    differences: int = 0
    worst_closed_form: float = 0.0
    worst_arc: float = 0.0


def run_case(case: Case, tally: Tally) -> None:
    """All the checks of one case; failures and figures are added to the tally."""
    where = f"case {case.number} (seed {case.seed})"
    try:
        for complaint in _complaints(case, tally):
            tally.failures.append(f"{where}: {complaint}")
    except (GeometryError, ArithmeticError, LookupError, ValueError) as error:
        tally.failures.append(f"{where}: {type(error).__name__}: {error}")


def _complaints(case: Case, tally: Tally) -> Iterator[str]:
    rng = random.Random(case.number)
    back = case.placement.inverse()
    piece = region(case.piece.moved(case.placement))
    refereed = shapely.set_precision(shapely.Polygon([(v.x, v.y) for v in case.piece.vertices]), 1e-6)
    error = 1e-3
    spent = 0.0
    left = piece
    for count, put in enumerate(case.puts, start=1):
        opening = region(put.ring().moved(case.placement))
        begun = time.process_time()
        after = difference(left, opening)
        spent += time.process_time() - begun
        tally.differences += 1
        taken = intersection(left, opening)
        joined = union(left, opening)
        slack = ROUNDING * (left.area + opening.area) + TOUCHED * sum(
            ring.length for ring in (*left.rings, *opening.rings)
        )
        if abs(after.area + taken.area - left.area) > slack:
            yield f"opening {count}: left {after.area} + taken {taken.area} is not {left.area}"
        if abs(joined.area + taken.area - left.area - opening.area) > slack:
            yield f"opening {count}: joined {joined.area} + taken {taken.area} is not {left.area} + {opening.area}"
        if count == 1:
            expected = share(shapely.Polygon([(v.x, v.y) for v in case.piece.vertices]), put)
            tally.worst_closed_form = max(tally.worst_closed_form, abs(taken.area - expected))
            if abs(taken.area - expected) > slack:
                yield f"takes {taken.area}, by the closed form {expected}"
        refereed = areal(refereed.difference(as_polygon(put), grid_size=1e-6))
        error += CIRCLE_ERROR * sum(r * r for _, _, r in round_parts(put)) + slack
        if abs(after.area - refereed.area) > error:
            yield f"opening {count}: leaves {after.area}, by shapely {refereed.area}"
        for name, found in (("left", after), ("taken", taken), ("joined", joined)):
            home = found.moved(back)
            for complaint in (*_crossings(home), *_strays(case, count, home, tally)):
                yield f"opening {count}, {name}: {complaint}"
        yield from _probes(case, count, after, taken, rng)
        left = after
    pieces = parts(left)
    if abs(sum(one.area for one in pieces) - left.area) > ROUNDING * piece.area:
        yield f"its {len(pieces)} parts have not its area"
    if canonical(left) != left:
        yield "its plainest form has a plainer one"
    tally.seconds.append(spent)


def _crossings(found: Region[Tile]) -> Iterator[str]:
    """Contours that cross or touch themselves, or reach into what another one leaves out."""
    rows = [edges(ring) for ring in found.rings]
    for ring, row in zip(found.rings, rows, strict=True):
        place = self_crossing(ring)
        if place is not None:
            yield f"a contour crosses itself at {place}"
        others = [other for other in rows if other is not row]
        around = 0 if ring.area > 0.0 else 1
        for x, y in [middle(edge) for edge in row] + [(v.x, v.y) for v in ring.vertices]:
            if sum(winding(other, x, y) for other in others) != around and all(
                distance_to(edge, x, y) > ON for other in others for edge in other
            ):
                yield f"at ({x}, {y}) a contour lies where it must not"


def _off(ring: Ring[Tile], x: float, y: float) -> float:
    return min(distance_to(edge, x, y) for edge in edges(ring))


def _strays(case: Case, count: int, found: Region[Tile], tally: Tally) -> Iterator[str]:
    """Arcs that have not their opening's centre and radius, lines that are not where a line was."""
    sources = [edge for ring in (case.piece, *(put.ring() for put in case.puts[:count])) for edge in edges(ring)]
    rounds = [part for put in case.puts[:count] for part in round_parts(put)]
    for ring in found.rings:
        for edge in edges(ring):
            for x, y in ((edge[0], edge[1]), middle(edge)):
                if min(distance_to(source, x, y) for source in sources) > ON:
                    yield f"({x}, {y}) lies on no line of the piece or an opening"
            if isinstance(edge, Arc):
                off = min(
                    (max(math.hypot(edge.cx - x, edge.cy - y), abs(edge.radius - r)) for x, y, r in rounds),
                    default=math.inf,
                )
                tally.worst_arc = max(tally.worst_arc, off)
                if off > ARC:
                    yield f"an arc of {edge.length} mm has a centre or radius that is {off} off"


def _probes(
    case: Case, count: int, after: Region[Surface], taken: Region[Surface], rng: random.Random
) -> Iterator[str]:
    """Places at random, asked of the kernel and of the shapes."""
    box = case.piece.bounds
    outline = shapely.Polygon([(v.x, v.y) for v in case.piece.vertices])
    for _ in range(PROBES):
        here: Point[Tile] = Point(rng.uniform(box.min_x - 5, box.max_x + 5), rng.uniform(box.min_y - 5, box.max_y + 5))
        if _off(case.piece, here.x, here.y) < CLEAR:
            continue
        depths = [inside_opening(put, here) for put in case.puts[:count]]
        if any(abs(depth) < CLEAR for depth in depths):
            continue
        on_piece = outline.contains(shapely.Point(here.x, here.y))
        free = all(depth < 0.0 for depth in depths)
        was_free = all(depth < 0.0 for depth in depths[:-1])
        there = case.placement.apply(here)
        if contains(after, there, strict=True) != (on_piece and free):
            yield f"opening {count}: left is wrong about {here}"
        if contains(taken, there) != (on_piece and was_free and not free):
            yield f"opening {count}: taken is wrong about {here}"
        if any(begins < there.x < ends for begins, ends in spans_across(after, there.y)) != (on_piece and free):
            yield f"opening {count}: spans_across is wrong about {here}"


def run(cases: int, seed: int, first: int = 0) -> Tally:
    """So many cases from a seed."""
    tally = Tally()
    for number in range(first, first + cases):
        run_case(make_case(seed, number), tally)
    return tally


def main() -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.bench.kernel_campaign", description=__doc__.splitlines()[0])
    parser.add_argument("--cases", type=int, default=20000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--only", type=int, help="run this one case")
    given = parser.parse_args()
    tally = run(given.cases, given.seed) if given.only is None else run(1, given.seed, given.only)
    for failure in tally.failures[:50]:
        sys.stdout.write(failure + "\n")
    figures = [1000.0 * second for second in tally.seconds] or [math.nan]
    sys.stdout.write(
        f"{len(tally.seconds)} pieces, {tally.differences} openings, {len(tally.failures)} failures\n"
        f"a piece took {statistics.mean(figures):.3f} ms on average, {statistics.median(figures):.3f} in the middle, "
        f"{max(figures):.3f} at most\n"
        f"furthest from the closed form {tally.worst_closed_form:.2e} mm2, "
        f"from an arc's own centre or radius {tally.worst_arc:.2e} mm\n"
    )
    return 1 if tally.failures else 0


if __name__ == "__main__":
    sys.exit(main())
