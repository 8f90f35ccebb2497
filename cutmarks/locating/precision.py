"""How good a reading is by the way it was taken: one standard deviation, mm, from the limits' two."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from cutmarks.locating.model import Doubt

if TYPE_CHECKING:
    from cutmarks.job.models import HoleSpec
    from cutmarks.limits import Limits
    from cutmarks.readings import Reading

SIGMAS = 2
"""What a tiler calls give or take is taken as so many standard deviations."""


def one_sigma(give_or_take: float) -> float:
    """One standard deviation of what is good to `give_or_take`, mm."""
    return give_or_take / SIGMAS


def of_reading(reading: Reading, limits: Limits) -> float:
    """One standard deviation of the middle that a reading gives, mm."""
    if reading.how == "level with":
        return one_sigma(limits.of_pair.value)
    if reading.start is not None and reading.start.kind == "edge":
        return one_sigma(limits.from_edge.value)
    if reading.high is not None:
        own = limits.both_sides.value
    else:
        own = limits.one_side.value if reading.how in ("low", "high") else limits.by_eye.value
    if reading.how == "course" or (reading.start is not None and reading.start.kind == "piece"):
        own = math.hypot(own, limits.neighbour_out.value)
    return one_sigma(own)


def of_two(spec: HoleSpec, limits: Limits, with_across: Doubt | None, with_up: Doubt | None) -> Doubt:
    """The doubt of a hole that is read once on each axis; `with_...` is that of the hole that it is level with."""
    assert spec.across is not None
    assert spec.up is not None
    return Doubt(
        of_reading(spec.across, limits) ** 2 + (0.0 if with_across is None else with_across.xx),
        0.0,
        of_reading(spec.up, limits) ** 2 + (0.0 if with_up is None else with_up.yy),
    )


def of_corners(count: int, limits: Limits) -> Doubt:
    """The doubt of the middle of `count` corners, each read to one side on both axes."""
    own = one_sigma(limits.one_side.value) ** 2 / count
    return Doubt(own, 0.0, own)
