"""A whole first course on a worktop that falls: where it begins and on what packers, by hand."""

from __future__ import annotations

import pytest

from cutmarks.choosing.on_packers import OnPackers
from cutmarks.job import build_job
from cutmarks.plan.choices import choices_of
from cutmarks.saying.starts import packers_words
from cutmarks.units import Style


def packers(right: str = "4 below B", what: str = "worktop", joint: float = 2, limits=None, **area) -> OnPackers | None:
    edge = {"at": ["0 below B at 1300 left of V", f"{right} at 1460 right of V"], "what": what, "still to come": 0}
    (found,) = choices_of(
        build_job({
            "job": "Hazel Row",
            "limits": limits or {},
            "tiles": {"linen": {"size": "150 x 75", "measured": "yes"}},
            "surfaces": [
                {
                    "name": "wall",
                    "kind": "wall",
                    "lines": {"V": "plumb, middle of the window", "B": "level, high end of the worktop"},
                    "gaps": 3,
                    "edges": {
                        "left": {"at": "1300 left of V", "true": "plumb", "what": "wall", "still to come": 0},
                        "right": {"at": "1460 right of V", "true": "plumb", "what": "panel"},
                        "bottom": edge,
                        "top": {"at": "480 above B", "true": "level", "what": "wall units"},
                    },
                    "areas": [{"name": "field", "tile": "linen", "joint": joint, **area}],
                }
            ],
        })
    )  # fmt: skip
    return found.packers


def test_a_worktop_that_falls_has_packers_from_its_high_end() -> None:
    # The gap of 3 over the high end, which is on B; at the low end 4 more.
    found = packers()
    assert found is not None
    assert (found.y, found.line, found.falls, found.least, found.most) == (3.0, "B", 4.0, 3.0, 7.0)
    assert packers_words(found, Style()) == (
        "The worktop falls 4. Whole tiles stand on it all along, on packers of 3 to 7, with from: 3 above B in the area"
        ": write that, and the starts on it are looked at."
    )


@pytest.mark.parametrize(
    "said",
    [
        # What is under a joint of 2 by less than 1 is no piece: such a start is looked at as it is.
        {"right": "2.9 below B"},
        {"what": "floor"},
        # 3 and 20 are over the 22 that packers may be.
        {"right": "20 below B"},
        {"from": "3 above B"},
        {"start": {"up": "sits on 50 above B"}},
    ],
)
def test_where_it_is_level_or_said_or_a_floor_nothing_is_offered(said) -> None:
    assert packers(**said) is None


def test_how_high_packers_may_be_is_the_limit() -> None:
    found = packers("20 below B", limits={"packers": 30})
    assert found is not None
    assert found.most == 23.0
