"""Areas that border on each other by name: where one ends the other begins, a joint farther."""

from __future__ import annotations

import pytest

from cutmarks.errors import JobError
from cutmarks.job import build_job
from cutmarks.plan import make_plan

START = "joint on V, sits on B"


def built(*areas, units="mm", joint_of_tile=None):
    tile = {"size": "300 mm x 100 mm", "measured": "yes", **({"joint": joint_of_tile} if joint_of_tile else {})}
    edges = {
        "left": {"at": "1000 mm left of V", "true": "yes"},
        "right": {"at": "1000 mm right of V", "true": "yes"},
        "bottom": {"at": "0 mm above B", "true": "yes"},
        "top": {"at": "2000 mm above B", "true": "yes"},
    }
    wall = {"name": "here", "kind": "wall", "lines": {"V": "plumb", "B": "level"}, "edges": edges, "areas": list(areas)}
    return build_job({"job": "Quay Cottage", "units": units, "tiles": {"rib": tile}, "surfaces": [wall]})


def area(name, joint="3", **keys):
    said = {"joint": joint} if joint else {}
    return {
        "name": name,
        "tile": "rib",
        "start": START,
        **said,
        **{key.replace("_", " "): to for key, to in keys.items()},
    }


def test_side_by_side_the_joint_is_taken_off():
    job = built(
        area("band", right_of="150 left of V", left_of="150 right of V"),
        area("field left", left_of="the band"),
        area("field right", right_of="band"),
    )
    _, left, right = job.surfaces[0].areas
    # 150 and the joint of 3.
    assert (left.left_of.low, left.left_of.start.name) == (-153.0, "V")
    assert (right.right_of.low, right.right_of.start.name) == (153.0, "V")
    plan = make_plan(job)
    assert not [finding for finding in plan.findings if "ground" in finding.rule]


def test_one_above_another_the_start_may_stand_on_it():
    lower = area("splash", to="597 above B")
    upper = {**area("upper", **{"from": "the splash"}), "start": "joint on V, sits on the splash"}
    _, one = built(lower, upper).surfaces[0].areas
    assert (one.from_.low, one.start_up.anchor, one.start_up.at.low) == (600.0, "sits on", 600.0)


def test_the_joint_may_be_the_tiles_and_inches_stay_inches():
    job = built(
        area("band", joint="", right_of="6 left of V", left_of="6 right of V"),
        area("field", joint="", right_of="the band"),
        units="in",
        joint_of_tile="1/8",
    )
    assert job.surfaces[0].areas[1].right_of.low == pytest.approx(6.125 * 25.4)
    assert job.surfaces[0].areas[1].right_of.text == "6 1/8 right of V"


@pytest.mark.parametrize(
    ("areas", "sentence"),
    [
        (
            (area("band", left_of="150 right of V"), area("field", left_of="the band")),
            '"band" does not say where it ends on that side: write right of: there, as in right of: 300 left of V.',
        ),
        (
            (area("band", left_of="150 right of V", joint="5"), area("field", right_of="the band")),
            'The joints of "field" and "band" differ: write where this one begins, as in 600 above B.',
        ),
    ],
)
def test_what_is_not_said_of_a_border_is_asked(areas, sentence):
    with pytest.raises(JobError) as told:
        built(*areas)
    assert [fault.sentence for fault in told.value.faults] == [sentence]
