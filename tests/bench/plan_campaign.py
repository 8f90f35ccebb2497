"""Thousands of seeded random jobs through the whole plan, each looked at from outside.

    python -m tests.bench.plan_campaign --cases 5000 --seed 1

Each case is a job with raking edges, windows, bonds, turned areas, open sides and holes that are flush, tangent or on
a crossing. It must plan without any error but a fault of the job; every opening and surface must add up against
shapely; the same job measured from other lines, in a mirror, and (a floor) from another side must have the same tiles.
Prints what failed with the number that makes it again, and the time a plan; ends with 1 where anything failed.
"""

from __future__ import annotations

import argparse
import sys
import time
from collections.abc import Callable, Iterator
from random import Random

from cutmarks.errors import JobError
from cutmarks.geometry.frames import Placement
from cutmarks.plan import Plan
from tests.properties.accounts import AGREE, Ground, finished_balance, opening_balance, plan_of, surface_balance
from tests.properties.compare import Change, assert_same_piece, matched
from tests.properties.scene import QUARTER, Scene, mirrored, turned_quarter
from tests.properties.strategies import ALL, CLOSED, LEVEL_STACK, NO_JOINT, Taste, random_scene

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


def wrong_with(scene: Scene, draw: Random) -> tuple[list[str], float]:
    """All that is wrong with the plan of one scene, and the seconds that the plan took (0: no job)."""
    begun = time.perf_counter()
    try:
        plan = plan_of(scene)
    except JobError as error:
        return [f"refused: {error}"], 0.0
    taken = time.perf_counter() - begun
    if plan is None:
        return [], 0.0
    found = list(out_of_balance(scene, plan))
    x, y = draw.randint(-9000, 9000) / 4, draw.randint(-9000, 9000) / 4
    shift = Change(Placement(dx=-x, dy=-y), lambda w, h: Placement())
    found += not_alike(plan, plan_of(scene, (x, y)), shift, "from other lines")
    found += not_alike(plan, plan_of(mirrored(scene)), MIRROR, "mirrored")
    if scene.kind == "floor":
        found += not_alike(plan, plan_of(turned_quarter(scene)), TURN, "turned")
    return found, taken


def guarded(look: Callable[[], tuple[list[str], float]]) -> tuple[list[str], float]:
    """Any error at all is a failure of its case, not the end of the campaign."""
    try:
        return look()
    except Exception as error:
        return [f"{type(error).__name__}: {error}"], 0.0


def main() -> int:
    """Run the campaign; 0 where nothing failed."""
    options = argparse.ArgumentParser(description="Random jobs through the whole plan.")
    options.add_argument("--cases", type=int, default=CASES)
    options.add_argument("--seed", type=int, default=1)
    options.add_argument("--only", type=int, help="one case, by the number that was printed")
    asked = options.parse_args()
    numbers = range(asked.seed * 1_000_000, asked.seed * 1_000_000 + asked.cases)
    failed, planned, seconds = 0, 0, 0.0
    for number in numbers if asked.only is None else (asked.only,):
        draw = Random(number)
        scene = random_scene(draw, TASTES[number % len(TASTES)])
        wrong, taken = guarded(lambda scene=scene, draw=draw: wrong_with(scene, draw))  # type: ignore[misc]
        planned += taken > 0
        seconds += taken
        failed += bool(wrong)
        for sentence in wrong:
            print(f"case {number}: {sentence}")
    print(f"{planned} jobs planned, {failed} failed, {1000 * seconds / max(planned, 1):.1f} ms a plan")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
