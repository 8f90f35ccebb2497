"""A slice of the long campaign, and that its looks find what is wrong."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from cutmarks.geometry.frames import Placement
from tests.bench.plan_campaign import MIRROR, case, not_alike, out_of_balance
from tests.properties.accounts import plan_of
from tests.properties.compare import Change
from tests.properties.scene import XY, Area, Bond, Pipe, Scene, Side, mirrored

AREA = Area("field", 98, 98, 2, Bond(), 0.0, (None, None), (None, None), "joint", 0, "sits on", 0)
EDGES: dict[Side, tuple[XY, ...]] = {
    "left": ((-400.0, 0.0),),
    "right": ((400.0, 0.0),),
    "bottom": ((-300.0, 0.0),),
    "top": ((300.0, 0.0),),
}
GAPS: dict[Side, float] = {"left": 3.0, "right": 3.0, "bottom": 5.0, "top": 3.0}
SCENE = Scene("wall", EDGES, GAPS, (AREA,), (), (Pipe("pipe", 50, 40, 15, 35), Pipe("edge", 100, 140, 15, 35)))
HERE = Change(Placement(), lambda w, h: Placement())


@pytest.mark.parametrize("number", range(24))
def test_random_jobs(number: int) -> None:
    looked = case(number)
    assert (looked.wrong, looked.unlike) == ([], [])


def changed(**area: object) -> Scene:
    return replace(SCENE, areas=(replace(AREA, **area),))


@pytest.mark.parametrize(
    "other",
    [
        # The plan of another job is taken for that of SCENE: each differs by half a millimetre or by one thing.
        replace(SCENE, holes=(Pipe("pipe", 50, 40, 15, 35.5), SCENE.holes[1])),
        replace(SCENE, holes=(SCENE.holes[0], Pipe("edge", 100.5, 140, 15, 35))),
        replace(SCENE, gaps={**GAPS, "left": 3.5}),
        replace(SCENE, edges={**EDGES, "top": ((300.5, 0.0),)}),
        changed(joint=2.5),
        changed(w=98.5),
    ],
)
def test_a_plan_that_is_half_a_millimetre_out_does_not_add_up(other: Scene) -> None:
    plan = plan_of(SCENE)
    wrong = plan_of(other)
    assert plan is not None
    assert wrong is not None
    assert list(out_of_balance(SCENE, plan)) == []
    assert list(out_of_balance(SCENE, wrong)) != []


def test_a_plan_that_is_not_mirrored_is_not_alike() -> None:
    before, after = plan_of(SCENE), plan_of(mirrored(SCENE))
    assert before is not None
    assert list(not_alike(before, after, MIRROR, "mirrored")) == []
    assert list(not_alike(before, before, MIRROR, "mirrored")) != []
    assert list(not_alike(before, before, HERE, "here")) == []


def test_a_hole_that_is_a_hundredth_out_is_not_alike() -> None:
    before = plan_of(SCENE)
    assert before is not None
    for hole in (Pipe("pipe", 50.01, 40, 15, 35), Pipe("pipe", 50, 40, 15, 35.01), Pipe("pipe", 50, 40, 15.1, 35)):
        after = plan_of(replace(SCENE, holes=(hole, SCENE.holes[1])))
        assert list(not_alike(before, after, HERE, "here")) != []
