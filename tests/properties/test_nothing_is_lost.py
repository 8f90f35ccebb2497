"""Every square millimetre of an opening and of a surface is somewhere: on a piece, a joint, a gap, a void or bare.

What falls on pieces comes from the plan; joints (strips of the grid), gaps, voids and slivers from shapely alone.
"""

from __future__ import annotations

from hypothesis import assume, given, settings

from tests.properties.accounts import AGREE, Ground, finished_balance, opening_balance, plan_of, surface_balance
from tests.properties.scene import Scene
from tests.properties.strategies import ALL, CLOSED, scenes

PER_SURFACE = 5 * AGREE
"""A surface has a hundred outlines where an opening has a few."""


@given(scenes(ALL))
@settings(max_examples=60)
def test_shares_and_what_falls_off_the_tiles_add_up_to_the_opening(scene: Scene) -> None:
    plan = plan_of(scene)
    assume(plan is not None)
    assert plan is not None
    ground = Ground(scene)
    for opening in plan.openings:
        assert abs(opening_balance(plan, ground, opening)) < AGREE, opening.name


@given(scenes(CLOSED))
@settings(max_examples=40)
def test_pieces_openings_gaps_joints_and_voids_add_up_to_the_surface(scene: Scene) -> None:
    plan = plan_of(scene)
    assume(plan is not None)
    assert plan is not None
    ground = Ground(scene)
    assert abs(surface_balance(plan, ground)) < PER_SURFACE
    assert finished_balance(plan, ground) < AGREE
