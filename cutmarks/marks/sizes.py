"""How large words stand on a sheet that a tiler holds: the one table, in points, as they are asked for.

Everywhere else a size is the height of capitals and figures in mm: `capitals` of a size here.
"""

from __future__ import annotations

MM_PER_POINT = 25.4 / 72
CAPITALS_TO_EM = 1493 / 2048
"""Of the shipped font (`glyphs.CAP` and `glyphs.EM`), which need not be opened for it."""


def capitals(points: float) -> float:
    """The height of the capitals of a size in points, mm.

    >>> round(capitals(36.0), 2)
    9.26
    """
    return points * MM_PER_POINT * CAPITALS_TO_EM


NAME, NAME_LEAST = capitals(40.0), capitals(28.0)
"""Which tile: so large, or what fits."""
FACE = capitals(29.0)
BLACK = capitals(20.0)
"""BACK - MIRRORED, white on black."""
STOP = capitals(60.0)
MARK_ONE, MARK_TWO = capitals(36.0), capitals(27.0)
"""The figures to mark from: of one hole, of two."""
CORE = capitals(24.0)
TAPE = capitals(20.0)
"""A measure on the drawing."""
READ = capitals(16.0)
"""What a tape should read on the wall."""
BODY = capitals(11.0)
LEAST = capitals(9.0)
"""Nothing that a tiler uses is smaller."""
PRINT = capitals(8.0)
"""Where a sheet comes from: job, fingerprints, printer."""
