"""The order of fixing on random walls and floors, against tiles listed one by one and put up in turn.

    python -m tests.bench.fixing_campaign --jobs 1000 --seed 1
    python -m tests.bench.fixing_campaign --jobs 150 --faults      # each fault that is planted has to be found

Of each job: the ranks of all its tiles are unique and give the order that `fixing_jobs` walks; every piece stands on
what carries it or on an earlier one; nobody is asked to read from a later one, nor from a line that is covered, and
what is asked for is what a tape reads there; every hole has a check each way or says why not.
"""

from __future__ import annotations

import argparse
import sys
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

from msgspec import Struct, field
from shapely.geometry import LineString, Point
from shapely.geometry.base import BaseGeometry

from cutmarks.fixing import areas as areas_module
from cutmarks.fixing import order as order_module
from cutmarks.fixing.areas import order_of_areas
from cutmarks.fixing.model import Rank
from cutmarks.fixing.order import AreaOrder, order_of
from cutmarks.fixing.sources import Sources
from cutmarks.job import build_job
from cutmarks.openings.model import Cut, CutPiece, WallCheck
from cutmarks.plan import make_plan
from cutmarks.setout.surface import set_out
from cutmarks.sides import Side
from cutmarks.tiling.areas import lay_out
from tests.bench.fixing_jobs import REACH, Case, Key, Simulation, in_courses, make_case

NEAR = 1e-3
"""What a tape reads is compared so far, mm; job files hold six decimals."""
HALF = 7.5
"""Half of each pipe, mm."""


class Tally(Struct):
    """What was seen."""

    jobs: int = 0
    tiles: int = 0
    cuts: int = 0
    refused: int = 0
    read: Counter[str] = field(default_factory=Counter)
    failures: list[str] = field(default_factory=list)


def run_case(case: Case, number: int, tally: Tally) -> None:
    """Plan one job and put its tiles up one by one."""

    def fails(what: str) -> None:
        tally.failures.append(f"job {number}: {what}")

    tally.jobs += 1
    job = build_job(case.job())
    surface, faults = job.surfaces[0], job.faults()
    setout = set_out(surface, job, faults)
    layouts = lay_out(surface, setout, job, faults)
    numbers = order_of_areas(surface, setout, layouts, faults)
    if faults:
        tally.refused += 1
        return
    simulation = Simulation(case)
    holed = {layout.area: frozenset[tuple[int, int]]() for layout in layouts}
    for name, column, row in filter(simulation.is_holed, simulation.tiles):
        holed[name] |= {(column, row)}
    order = order_of(surface, setout, layouts, numbers, holed)
    ranks = {key: order.rank(key[0], key[1:]) for key in simulation.tiles}
    tally.tiles += len(ranks)
    for layout in layouts:
        held = {key[1:] for key in simulation.tiles if key[0] == layout.area}
        if missing := [place for place in held if layout.shape(place) is None]:
            fails(f"{layout.area} has no piece in {missing[:3]}")
            return
    if len(set(ranks.values())) != len(ranks):
        fails("two tiles have one rank")
    by_rank = sorted(ranks, key=lambda key: ranks[key])
    if by_rank != simulation.order:
        wrong = next(k for k, (one, two) in enumerate(zip(by_rank, simulation.order, strict=True)) if one != two)
        fails(f"tile {wrong + 1} to go up is {by_rank[wrong]}, walked it is {simulation.order[wrong]}")
    for words in _standing(simulation, ranks):
        fails(words)
    plan = make_plan(job)
    turns = {key: turn for turn, key in enumerate(simulation.order)}
    named = {tile.name: key for key, tile in simulation.tiles.items()}
    for piece in plan.pieces:
        key = (piece.piece.area, *piece.piece.place)
        if key not in simulation.tiles:
            continue  # past what is listed of a wall without an end
        if piece.piece.name != simulation.tiles[key].name:
            fails(f"{simulation.tiles[key].name} is called {piece.piece.name}")
        for cut in piece.cuts:
            tally.cuts += 1
            for words in _readings(simulation, turns, named, key, piece, cut, tally):
                fails(f"{cut.opening.name} in {piece.name}: {words}")


def _standing(simulation: Simulation, ranks: dict[Key, Rank]) -> Iterator[str]:
    """Tiles that would go up with nothing under them but what comes later."""
    case = simulation.case
    if case.kind == "floor":
        return
    areas = {area.name: area for area in case.areas}
    flat = {key: simulation.flat(areas[key[0]])[key].bounds for key in simulation.tiles}
    for key, (x0, y0, x1, y1) in flat.items():
        area = areas[key[0]]
        if key[2] == simulation.start_rows[area.name]:
            continue  # it is carried: by the batten or the packers, or hung
        # Worked downward it hangs from what is over it; else it stands on what is under it.
        hangs = simulation.hangs(area)
        downward = key[2] <= simulation.start_rows[area.name] if hangs else key[2] < simulation.start_rows[area.name]
        carrying = []
        for other, (a0, b0, a1, b1) in flat.items():
            if min(x1, a1) - max(x0, a0) > REACH and (other[0] == key[0] or not area.turn):
                if case.first and other[0] != key[0]:
                    continue  # which area waits for which was said by hand
                if 0.0 < (b0 - y1 if downward else y0 - b1) < REACH:
                    carrying.append(other)
        if not carrying:
            continue  # at an edge or a window
        carried = any(ranks[other] < ranks[key] for other in carrying)
        packed = case.holed == "left out" and any(simulation.is_holed(other) for other in carrying)
        if not carried and not packed:
            yield f"{simulation.tiles[key].name} stands on nothing"


def _readings(
    simulation: Simulation,
    turns: dict[Key, int],
    named: dict[str, Key],
    key: Key,
    piece: CutPiece,
    cut: Cut,
    tally: Tally,
) -> Iterator[str]:
    """What is wrong with what is asked to be read for one cut."""
    for axis in ("across", "up"):
        checks = [check for check in cut.wall_checks if check.fixed and check.side.axis == axis]
        if not checks and axis not in [unread.axis for unread in cut.unread]:
            yield f"nothing is said of how to read it {axis}"
        tally.read["nothing" if not checks else checks[0].source.kind] += 1
        kinds = {check.source.kind for check in checks}
        if axis == "up" and not kinds & {"piece", "support"} and _stands_on_base(simulation, key, cut):
            yield "its first course is not read from what it stands on"
        for check in checks:
            source = check.source
            if source.kind == "piece":
                if source.name not in named:
                    continue
                if turns[named[source.name]] >= turns[key]:
                    yield f"it is read from {source.name}, which goes up later"
            yield from _figure(simulation, turns, named, key, cut, check)


def _stands_on_base(simulation: Simulation, key: Key, cut: Cut) -> bool:
    """Whether a tile is of the first course on a batten or packers, and the pipe comes through over them."""
    area = next(one for one in simulation.case.areas if one.name == key[0])
    hole = next(one for one in simulation.case.holes if one.name == cut.opening.name)
    base = simulation.bases[key[0]]
    if simulation.case.kind == "floor" or base is None or simulation.hangs(area):
        return False
    on_it = simulation.corner(area, 0, key[2])[1] + area.up[1] <= base + 1e-6
    return on_it and key[2] == simulation.start_rows[key[0]] and hole.y - HALF > base + NEAR


def _figure(
    simulation: Simulation, turns: dict[Key, int], named: dict[str, Key], key: Key, cut: Cut, check: WallCheck
) -> Iterator[str]:
    """Whether a tape held there reads what is asked for, and whether it lies on bare wall from there on."""
    case = simulation.case
    area = next(one for one in case.areas if one.name == key[0])
    hole = next(one for one in case.holes if one.name == cut.opening.name)
    pipe, flat = in_courses(area, Point(hole.x, hole.y)), simulation.flat(area)
    own = flat[key].bounds
    across = check.side.axis == "across"
    middle, level = (pipe.x, pipe.y) if across else (pipe.y, pipe.x)
    low, high = (own[1], own[3]) if across else (own[0], own[2])
    level = min(max(level, low + 1e-4), high - 1e-4)
    source = check.source
    if source.kind == "piece":
        other = flat[named[source.name]]
        levels = (level, level - area.joint - 1e-3, level + area.joint + 1e-3)
        edges = [one for at in levels if (one := _facing(other, check.side, at, across)) is not None]
        if not edges:
            return  # it is an area further on: it is read where it begins
        # Where a joint lies at this level, or the end of a window, it is read beside that.
        edge = min(edges, key=lambda one: abs(abs(one - middle) - HALF - check.near))
    elif source.kind == "line":
        edge = 0.0
    elif source.kind == "support":
        base = simulation.bases[key[0]]
        if base is None or key[2] != simulation.start_rows[key[0]]:
            yield "it is read from what another course stands on"
            return
        edge = base
    else:
        edge = _end(simulation, source.name, level, check.side)
    near = (middle - HALF - edge) if check.side in ("left", "bottom") else (edge - middle - HALF)
    if abs(near - check.near) > NEAR or abs(check.far - check.near - 2 * HALF) > NEAR:
        yield f"from {source.name} a tape reads {near:.3f}, and {check.near:.3f} is asked for"
    if source.kind in ("line", "edge"):
        begin, end = sorted((edge, middle - HALF if check.side in ("left", "bottom") else middle + HALF))
        tape = LineString([(begin, level), (end, level)] if across else [(level, begin), (level, end)])
        for other, turn in turns.items():
            earlier = turn < turns[key] and flat[other].intersects(tape)
            if earlier and flat[other].intersection(tape).length > 0.01:
                yield f"from {source.name} the tape lies over {simulation.tiles[other].name}, which is fixed"
                return


def _facing(shape: BaseGeometry, side: Side, level: float, across: bool) -> float | None:
    """Where a tile ends towards the piece on whose `side` it lies, at a level; None where it is not at that level."""
    far = 1e5
    cut = shape.intersection(LineString([(-far, level), (far, level)] if across else [(level, -far), (level, far)]))
    if cut.is_empty or cut.length < 1e-6:
        return None
    x0, y0, x1, y1 = cut.bounds
    low, high = (x0, x1) if across else (y0, y1)
    return float(high if side in ("left", "bottom") else low)


def _end(simulation: Simulation, name: str, level: float, side: Side) -> float:
    """Where an edge of the surface lies at a level, or the side of a window that looks at the piece."""
    for window in simulation.case.windows:
        if window.name == name:
            return {"left": window.right, "right": window.left, "bottom": window.top, "top": window.bottom}[side]
    if name == "right":
        return simulation.right_at(level)
    at = simulation.case.ends[name]
    assert at is not None
    return at


def run(jobs: int, seed: int, only: int | None = None) -> Tally:
    """So many jobs, or the one of that number."""
    tally = Tally()
    for number in [only] if only is not None else range(jobs):
        run_case(make_case(seed, number), number, tally)
    return tally


# Faults, to see that each of them is found.


@contextmanager
def _planted(owner: Any, name: str, other: Any) -> Iterator[None]:
    before = owner.__dict__[name]
    setattr(owner, name, other)
    try:
        yield
    finally:
        setattr(owner, name, before)


def _altered(**changes: Callable[[Rank], Any]) -> Callable[..., Rank]:
    true = AreaOrder.rank

    def rank(self: AreaOrder, place: tuple[int, int], part: int = 0) -> Rank:
        found = true(self, place, part)
        return found._replace(**{key: change(found) for key, change in changes.items()})

    return rank


def _backwards(*args: Any) -> dict[str, int]:
    numbers = areas_module.order_of_areas(*args)
    return {name: len(numbers) - 1 - number for name, number in numbers.items()}


FAULTS: dict[str, tuple[Any, str, Any]] = {
    "what lies under the base is put up on the first day": (AreaOrder, "rank", _altered(day=lambda rank: 1)),
    "courses go downward first": (AreaOrder, "rank", _altered(beyond=lambda rank: not rank.beyond)),
    "the far course first": (AreaOrder, "rank", _altered(course=lambda rank: -rank.course)),
    "the side is forgotten": (AreaOrder, "rank", _altered(side=lambda rank: 0)),
    "the first of a course is not told": (
        AreaOrder,
        "rank",
        _altered(following=lambda rank: False, distance=lambda rank: -rank.distance),
    ),
    "trimmed pieces do not wait": (AreaOrder, "rank", _altered(cut=lambda rank: False)),
    "tiles with a hole are not left out": (AreaOrder, "rank", _altered(left_out=lambda rank: False)),
    "areas in another order": (sys.modules[__name__], "order_of_areas", _backwards),
    "the tie goes to the left": (AreaOrder, "_starts_right", property(lambda self: False)),
    "way out forgotten": (order_module, "_strict", lambda area, setout: None),
    "every neighbour is earlier": (Sources, "_is_earlier", lambda self, area, place, piece: True),
    "no neighbour is earlier": (Sources, "_is_earlier", lambda self, area, place, piece: False),
    "every line is bare": (Sources, "_is_bare", lambda self, piece, thing, side, edge: True),
    "a course below a base hangs on nothing": (Sources, "_support", lambda self, piece, thing: []),
}


def faults_found(jobs: int, seed: int) -> list[str]:
    """The faults that were planted and not found."""
    missed = []
    for name, (owner, attribute, other) in FAULTS.items():
        with _planted(owner, attribute, other):
            tally = run(jobs, seed)
        print(f"{name}: {len(tally.failures)} found", flush=True)
        if not tally.failures:
            missed.append(name)
    return missed


def main() -> int:
    """The command."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench.fixing_campaign", description=__doc__.splitlines()[0])
    parser.add_argument("--jobs", type=int, default=1000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--only", type=int, help="this case alone")
    parser.add_argument("--faults", action="store_true", help="plant faults: each must be found")
    args = parser.parse_args()
    if args.faults:
        missed = faults_found(args.jobs, args.seed)
        print(f"missed: {missed}" if missed else "every fault was found")
        return 1 if missed else 0
    tally = run(args.jobs, args.seed, args.only)
    print(
        f"{tally.jobs} jobs ({tally.refused} refused), {tally.tiles} tiles, {tally.cuts} cuts; read from",
        dict(tally.read),
    )
    print(*tally.failures[:40], f"{len(tally.failures)} failures", sep="\n")
    return 1 if tally.failures else 0


if __name__ == "__main__":
    sys.exit(main())
