"""A box or a round thing: whatever asks, the answer is one; words as a tiler says them."""

from __future__ import annotations

import pytest

from cutmarks.geometry.shapes import Circle, Rect
from cutmarks.job import build_job
from cutmarks.plan import make_plan


def said_of(what: str) -> tuple[type, str]:
    """How a thing that was read 70 apart both ways is taken: its hole's shape, and what is assumed of its cover."""
    hole = {"name": "h", "what": what, "across": "40 to 110 right of V", "up": "100 to 170 above B", "end": "comes off"}
    area = {"name": "field", "tile": "t", "joint": "3", "start": {"across": "left on V", "up": "sits on B"}}
    plan = make_plan(
        build_job(
            {
                "job": "one thing",
                "tiles": {"t": {"size": "297 x 297", "measured": "yes"}},
                "surfaces": [
                    {
                        "name": "wall",
                        "kind": "wall",
                        "lines": {"V": "plumb, one", "B": "level, other"},
                        "areas": [area],
                        "holes": [hole],
                    }
                ],
            }
        )
    )
    (sentence,) = [one for one in plan.assumed if "cover not known" in one]
    return type(plan.openings[0].shape), "box" if "box h" in sentence else "hole"


@pytest.mark.parametrize("what", ["kitchen outlet", "socket", "light switch", "valve box", "fused spur", "back plate"])
def test_a_box_is_cut_as_a_box_and_asked_for_its_plate(what: str) -> None:
    assert said_of(what) == (Rect, "box")


@pytest.mark.parametrize("what", ["wc outlet", "pan outlet", "flue", "drain"])
def test_a_round_thing_is_cut_round_and_asked_for_its_rose(what: str) -> None:
    assert said_of(what) == (Circle, "hole")
