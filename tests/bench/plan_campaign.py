"""Thousands of seeded random jobs through the whole plan, each looked at from outside.

    python -m tests.bench.plan_campaign --cases 5000 --seed 1
    python -m tests.bench.plan_campaign --cases 40 --faults      # each bar with the fault that it is there for

Each case is a job with raking edges, windows, bonds, turned areas, open sides and holes that are flush, tangent or on
a crossing. It must plan without any error but a fault of the job; every opening and surface must add up against
shapely; the same job measured from other lines, in a mirror, and (a floor) from another side must have the same tiles.
Prints what failed with the number that makes it again, and the time a plan; then how much was looked at, beside its
bars: a campaign whose jobs are refused, or have no holes, shows nothing. Ends with 1 where one does not hold.
"""

from __future__ import annotations

import argparse
import sys
import time
from collections.abc import Callable, Iterable, Iterator, Sequence
from random import Random
from typing import Any
from unittest import mock

from msgspec import Struct, field
from msgspec.structs import replace

from cutmarks.errors import JobError
from cutmarks.geometry.frames import Placement, Point, Tile
from cutmarks.geometry.regions import Region
from cutmarks.job import Job, build_job
from cutmarks.openings import pieces as openings
from cutmarks.openings.cuts import centre_on
from cutmarks.openings.model import Opening, Share
from cutmarks.plan import Plan
from cutmarks.tiling.model import Piece
from tests.bench.measured import Bar, Planted, all_bite, told
from tests.properties import accounts, strategies
from tests.properties.accounts import AGREE, Ground, finished_balance, opening_balance, plan_of, shares, surface_balance
from tests.properties.compare import Change, assert_same_piece, matched
from tests.properties.scene import QUARTER, XY, Pipe, Scene, Side, mirrored, turned_quarter
from tests.properties.strategies import ALL, CLOSED, LEVEL_STACK, NO_JOINT, Taste, random_scene
from tests.properties.strategies import _edges as edges_of

TASTES: tuple[Taste, ...] = (ALL, CLOSED, LEVEL_STACK, NO_JOINT)
CASES = 2000
MIRROR = Change(
    Placement(mirrored=True),
    lambda w, h: Placement(dx=w, mirrored=True),
    {"left": "right", "right": "left", "bottom": "bottom", "top": "top"},
)
TURN = Change(Placement.turned(90), lambda w, h: Placement.turned(90, h, 0.0), QUARTER)


def out_of_balance(scene: Scene, plan: Plan) -> Iterator[str]:
    """What does not add up."""
    ground = Ground(scene)
    for opening in plan.openings:
        rest = opening_balance(plan, ground, opening)
        if abs(rest) > AGREE:
            yield f"{opening.name} is {rest:.4f} mm2 out"
    if (rest := finished_balance(plan, ground)) > AGREE:
        yield f"a piece is {rest:.4f} mm2 out"
    if len(scene.edges) == 4 and abs(rest := surface_balance(plan, ground)) > 5 * AGREE:
        yield f"the surface is {rest:.4f} mm2 out"


def not_alike(before: Plan, after: Plan | None, change: Change, what: str) -> Iterator[str]:
    """What a change of view has changed. A course of under 5 mm is refused where a column of it is not."""
    if after is None:
        return
    try:
        for one, two in matched(before, after, change):
            assert_same_piece(one, two, change)
    except AssertionError as error:
        yield f"{what}: {str(error).splitlines()[0] if str(error) else 'another piece'}"


class Looked(Struct, dict=True):
    """What was looked at, and what was wrong: of one case, and of all of them added up.

    unlike      what a change of view has changed.
    views       how often the job was seen otherwise, and how many of these plans there were.
    pieces      pieces that were held against what they became.
    cuts        shares of openings that went into the balances.
    surfaces    surfaces that were added up whole.
    """

    cases: int = 0
    planned: int = 0
    seconds: float = 0.0
    wrong: list[str] = field(default_factory=list)
    unlike: list[str] = field(default_factory=list)
    views: int = 0
    views_planned: int = 0
    pieces: int = 0
    cuts: int = 0
    surfaces: int = 0

    def add(self, other: Looked) -> None:
        """Add what was looked at in another case."""
        for name in self.__struct_fields__:
            setattr(self, name, getattr(self, name) + getattr(other, name))


def looked_at(scene: Scene, draw: Random) -> Looked:
    """All that is wrong with the plan of one scene."""
    looked = Looked(cases=1)
    begun = time.process_time()
    try:
        plan = plan_of(scene)
    except JobError as error:
        looked.wrong.append(f"refused: {error}")
        return looked
    if plan is None:
        return looked
    looked.planned, looked.seconds = 1, time.process_time() - begun
    looked.wrong += out_of_balance(scene, plan)
    looked.cuts = sum(1 for opening in plan.openings for _ in shares(plan, opening))
    looked.surfaces = int(len(scene.edges) == 4)
    x, y = draw.randint(-9000, 9000) / 4, draw.randint(-9000, 9000) / 4
    shift = Change(Placement(dx=-x, dy=-y), lambda w, h: Placement())
    views = [("from other lines", shift, plan_of(scene, (x, y))), ("mirrored", MIRROR, plan_of(mirrored(scene)))]
    if scene.kind == "floor":
        views.append(("turned", TURN, plan_of(turned_quarter(scene))))
    for what, change, after in views:
        looked.views += 1
        if after is not None:
            # A course of under 5 mm is refused where a column of it is not.
            looked.views_planned += 1
            looked.pieces += len(after.pieces)
            looked.unlike += not_alike(plan, after, change, what)
    return looked


def guarded(look: Callable[[], Looked]) -> Looked:
    """Any error at all is a failure of its case, not the end of the campaign."""
    try:
        return look()
    except Exception as error:
        return Looked(cases=1, wrong=[f"{type(error).__name__}: {error}"])


def case(number: int) -> Looked:
    """One case, by its number."""
    draw = Random(number)
    return guarded(lambda: looked_at(random_scene(draw, TASTES[number % len(TASTES)]), draw))


def run(numbers: Iterable[int], *, say: bool = True) -> Looked:
    """All of these cases; what is wrong is printed with its number, or only counted."""
    total = Looked()
    for number in numbers:
        looked = case(number)
        for sentence in (*looked.wrong, *looked.unlike) if say else ():
            print(f"case {number}: {sentence}")
        total.add(looked)
    return total


WRONG, UNLIKE = "jobs that break or do not add up", "jobs that look otherwise from another side"
PLANNED, VIEWS = "jobs planned", "other views of them planned"
CUTS, SURFACES, PIECES = "cuts reckoned a job", "surfaces added up, of the jobs", "pieces held against another view's"


def bars(looked: Looked) -> list[Bar]:
    """Each figure beside its bar.

    Of a hundred scenes a few have a first course of under 5 mm or an area without ground. A job has 1 to 4 holes, and
    some meet in nothing but a joint or a window. A side is open in 12 of 100 in three tastes of four: 0.25 + 0.75 x
    0.88^4 = 0.70 of the surfaces have all four edges.
    """
    jobs, views = max(looked.planned, 1), max(looked.views, 1)
    return [
        Bar(WRONG, len(looked.wrong), most=0),
        Bar(UNLIKE, len(looked.unlike), most=0),
        Bar(PLANNED, looked.planned / max(looked.cases, 1), least=0.9),
        Bar(VIEWS, looked.views_planned / views, least=0.95),
        Bar(CUTS, looked.cuts / jobs, least=1.5),
        Bar(SURFACES, looked.surfaces / jobs, least=0.6),
        Bar(PIECES, looked.pieces / views, least=5.0),
    ]


def _nothing_taken_out(shape: Region[Tile], taken: Sequence[Share]) -> Region[Tile]:
    """A fault: the openings stay in the pieces."""
    del taken
    return shape


def _beside_its_centre(opening: Opening, piece: Piece) -> Point[Tile]:
    """A fault: every centre is measured a twentieth of a millimetre too far from the left."""
    centre = centre_on(opening, piece)
    return Point(centre.x + 0.05, centre.y)


def _no_course_will_do(job: dict[str, Any]) -> Job:
    """A fault: a first course has to be taller than any tile."""
    return build_job({**job, "limits": {"first course": 500}})


def _off_the_wall(scene: Scene) -> Scene:
    """A fault: in the mirror, the holes lie ten metres off, and the job is refused."""
    (first, *rest) = mirrored(scene).holes or (Pipe("lost", 0.0, 0.0, 15.0, 21.0),)
    return replace(mirrored(scene), holes=(Pipe(first.name, 10_000.0, 0.0, 15.0, 21.0), *rest))


def _open_above(draw: Random, taste: Taste) -> dict[Side, tuple[XY, ...]]:
    """A fault: no surface has a top edge."""
    return {side: readings for side, readings in edges_of(draw, taste).items() if side != "top"}


FAULTS: dict[str, Planted] = {
    WRONG: lambda: mock.patch.object(openings, "taken_out", _nothing_taken_out),
    UNLIKE: lambda: mock.patch.object(openings, "centre_on", _beside_its_centre),
    PLANNED: lambda: mock.patch.object(accounts, "build_job", _no_course_will_do),
    VIEWS: lambda: mock.patch(f"{__name__}.mirrored", _off_the_wall),
    CUTS: lambda: mock.patch.object(strategies, "_holes", return_value=()),
    SURFACES: lambda: mock.patch.object(strategies, "_edges", _open_above),
    PIECES: lambda: mock.patch.object(strategies, "_edges", return_value={}),
}
"""For each bar the fault that it is there for."""


def main() -> int:
    """Run the campaign; 0 where every bar holds, and, with faults, each fails with its own."""
    options = argparse.ArgumentParser(description="Random jobs through the whole plan.")
    options.add_argument("--cases", type=int, default=CASES)
    options.add_argument("--seed", type=int, default=1)
    options.add_argument("--only", type=int, help="one case, by the number that was printed")
    options.add_argument("--faults", action="store_true", help="plant the fault that each bar is there for")
    asked = options.parse_args()
    numbers = range(asked.seed * 1_000_000, asked.seed * 1_000_000 + asked.cases)
    if asked.only is not None:
        looked = run((asked.only,))
        return 1 if looked.wrong or looked.unlike else 0
    if asked.faults:
        return 0 if all_bite(lambda: bars(run(numbers, say=False)), FAULTS) else 1
    looked = run(numbers)
    print(f"{looked.planned} of {looked.cases} planned, {1000 * looked.seconds / max(looked.planned, 1):.1f} ms a plan")
    return 0 if told(bars(looked)) else 1


if __name__ == "__main__":
    sys.exit(main())
