"""What proves the two lines of a floor square: three, four and five of the same length, as long as the room allows."""

from __future__ import annotations

import math

from cutmarks.gauging.model import ThreeFourFive
from cutmarks.setout.model import SetOut

THREE, FOUR, FIVE = 3, 4, 5
STEP_MM, STEP_INCHES = 100.0, 3.0 * 25.4
"""The length that is taken three, four and five times is a whole number of these."""


def square_of(setout: SetOut, inches: bool) -> ThreeFourFive | None:
    """The longest three-four-five from the crossing of the main lines that lies in the room.

    None on a wall, or where the room was not read.
    """
    if setout.kind != "floor" or setout.outline is None:
        return None
    box = setout.outline.bounds
    across, along = max(box.max_x, -box.min_x), max(box.max_y, -box.min_y)
    step = STEP_INCHES if inches else STEP_MM
    best: tuple[float, float, float] | None = None
    for of_across, of_along in ((THREE, FOUR), (FOUR, THREE)):
        unit = math.floor(min(across / of_across, along / of_along) / step) * step
        if unit > 0.0 and (best is None or unit > best[0]):
            best = (unit, unit * of_along, unit * of_across)
    return None if best is None else ThreeFourFive(along=best[1], across=best[2], diagonal=best[0] * FIVE)
