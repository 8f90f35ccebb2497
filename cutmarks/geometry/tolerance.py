"""The tolerances of the kernel, each with its reason. All are lengths in mm unless the name says otherwise."""

from __future__ import annotations

import math
from typing import Final

TOUCH: Final = 1e-6
"""Places this near are one place. Measures come in whole and half millimetres, so that flush and tangent are common,
and arithmetic leaves them a few 1e-13 apart; nothing that can be cut is anywhere near this small."""

COINCIDE: Final = 2 * TOUCH
"""Two parts between the same two meetings are one and the same line where their middles are this near."""

SHORTEST: Final = 4 * TOUCH
"""An edge up to this length is left out of a ring, its neighbours meeting instead: it stands between two meetings that
are all but one."""

CUSP: Final = 0.1
"""So far from a corner tangent neighbours may still be within TOUCH of each other: sqrt(2 r TOUCH), r up to 5 m."""

STRAIGHT: Final = 4 * TOUCH
"""An arc that rises less than this above its chord is a straight line: a chord so short cannot tell a centre."""

WEAR: Final = 1e-9
"""Numbers nearer than this differ by arithmetic alone."""

SHALLOW: Final = 0.1
"""Two crossings count as one tangent meeting only where their half distance is at most this part of the radius."""

WIDEST_ARC: Final = math.radians(300)
"""An arc wider than this (radians) is given as two halves: on a short chord a rounded vertex would move its centre."""

FULL_TURN: Final = 2 * math.pi
"""One revolution, radians."""
