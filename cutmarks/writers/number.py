"""Numbers for every file that is written: rounded here and nowhere else."""

from __future__ import annotations

import math
from collections.abc import Iterable

from cutmarks.errors import GeometryError
from cutmarks.geometry.rings import Vertex

PLACES = 4
"""Decimals of a millimetre in drawings: a hundredth of what is promised."""
EXACT_PLACES = 6
"""Decimals of a millimetre where another program reckons on: the width of one meeting in the geometry.

With three the centre of a short arc would move by 0.04 mm.
"""
BULGE_PLACES = 12
"""A bulge rounded so moves its arc by less than a coordinate's rounding does."""


def number(value: float, places: int = PLACES) -> str:
    """The value with at most `places` decimals, no exponent, no trailing zeros, no minus zero.

    Raises GeometryError for a value that is not finite: a viewer would draw it at 0 and say nothing.

    >>> number(0.1 + 0.2), number(-0.00001), number(74.50)
    ('0.3', '0', '74.5')
    """
    text = f"{value:.{places}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    elif not math.isfinite(value):
        raise GeometryError(f"A drawing holds {value} where a length is due; nothing is drawn.")
    return "0" if text == "-0" else text


def exact(value: float) -> float:
    """The value to 0.000001, and never a nought with a minus sign.

    >>> exact(1 / 3), exact(-1e-9)
    (0.333333, 0.0)
    """
    return round(value, EXACT_PLACES) + 0.0


def exact_vertices(vertices: Iterable[Vertex]) -> list[tuple[float, float, float]]:
    """The x, y and bulge of each vertex as they are written for another program."""
    return [(exact(x), exact(y), round(bulge, BULGE_PLACES) + 0.0) for x, y, bulge in vertices]
