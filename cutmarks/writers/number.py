"""Numbers as text for every file that is written: rounded here and nowhere else."""

from __future__ import annotations

import math

from cutmarks.errors import GeometryError

PLACES = 4
"""Decimals of a millimetre in drawings: a hundredth of what is promised."""


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
