"""The units of length, how they are written, and what they are in millimetres: the only table of them."""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum
from fractions import Fraction
from types import MappingProxyType


class Unit(StrEnum):
    """A unit of length; its value is what stands behind a number."""

    MM = "mm"
    CM = "cm"
    M = "m"
    INCH = "in"
    FOOT = "ft"

    @property
    def is_imperial(self) -> bool:
        """Whether who measures in it has a tape in inches."""
        return self in (Unit.INCH, Unit.FOOT)


MM_PER: Mapping[Unit, Fraction] = MappingProxyType(
    {
        Unit.MM: Fraction(1),
        Unit.CM: Fraction(10),
        Unit.M: Fraction(1000),
        Unit.INCH: Fraction(254, 10),
        Unit.FOOT: Fraction(3048, 10),
    }
)
"""Millimetres in one of each unit. The inch is 25.4 mm exactly (international yard and pound agreement, 1959)."""

UNIT_WORDS: Mapping[str, Unit] = MappingProxyType(
    {
        **dict.fromkeys(("mm", "millimetre", "millimetres", "millimeter", "millimeters"), Unit.MM),
        **dict.fromkeys(("cm", "centimetre", "centimetres", "centimeter", "centimeters"), Unit.CM),
        **dict.fromkeys(("m", "metre", "metres", "meter", "meters"), Unit.M),
        **dict.fromkeys(("in", "inch", "inches", '"', "''"), Unit.INCH),
        **dict.fromkeys(("ft", "foot", "feet", "'"), Unit.FOOT),
    }
)
"""Every way to write a unit, in lower case."""

INCHES_PER_FOOT = 12
