"""Measures as they are printed: rounded to a step that stands on a tape, in mm or in inches."""

from __future__ import annotations

import math
from fractions import Fraction

from msgspec import Struct

from cutmarks.units.table import MM_PER, Unit

SNAP_PER_MM = 1_000_000
"""Values are snapped to 0.000001 mm before they are rounded for paper, so that a half is a half (1/64 in is exact)."""


class Style(Struct, frozen=True):
    """How measures are shown: in mm (whole, half; tenths for a shop) or in inches (halves down to 64ths).

    `finest` is in that unit. Raises ValueError for any other unit or step.
    """

    unit: Unit = Unit.MM
    finest: Fraction = Fraction(1, 2)

    def __post_init__(self) -> None:
        """Refuse a step that no figure on paper is written in."""
        steps = {Unit.MM: (1, 2, 10), Unit.INCH: (1, 2, 4, 8, 16, 32, 64)}
        if self.unit not in steps:
            raise ValueError(f"Measures are shown in mm or in, not in {self.unit}.")
        if self.finest.numerator != 1 or self.finest.denominator not in steps[self.unit]:
            allowed = ", ".join(f"1/{step}" for step in steps[self.unit][1:])
            raise ValueError(f"{self.finest} {self.unit} is no step for measures: use 1 or {allowed}.")

    @property
    def by_tolerance(self) -> bool:
        """Whether it is for whoever cuts to a tolerance: no figure is rounded one way, so that it goes in."""
        return self.unit is Unit.MM and self.finest.denominator > 2


def say(mm: float, style: Style) -> str:
    """A measure as it is printed, without its unit: "248", "74½", "9 17/32"; nearest step, halves up."""
    return say_steps(_steps(mm, style), style)


def say_down(mm: float, style: Style) -> str:
    """A size that has to go in, rounded down: 113.76 mm is "113½"."""
    steps, parts = _in_steps(mm, style)
    return say_steps(steps // parts, style)


def say_spare(mm: float, style: Style) -> str:
    """What there is to spare, rounded down: "9½"; "under ½" of less than a step; "nothing" of nothing."""
    steps, parts = _in_steps(max(mm, 0.0), style)
    if steps < parts:
        return f"under {say_steps(1, style)}" if steps else "nothing"
    return say_steps(steps // parts, style)


def say_up(mm: float, style: Style) -> str:
    """A size that something has to go past, rounded up: 160.6 mm is "161"."""
    steps, parts = _in_steps(mm, style)
    return say_steps(-(-steps // parts), style)


def pair_in_steps(nearer_mm: float, whole_mm: float, style: Style) -> tuple[int, int]:
    """The two measures to opposite edges in steps of the style: together they are the whole as printed.

    The nearer keeps its own rounding, the other is the shown whole less that. In whole numbers, so that what two
    figures differ by is exact.
    """
    nearer = _steps(nearer_mm, style)
    return nearer, _steps(whole_mm, style) - nearer


def pair_that_goes_in(mm: float, whole_mm: float, style: Style, *, up: bool) -> tuple[int, int]:
    """The same for a cut that something has to go in by: the first is rounded down, or `up` where that is what goes."""
    steps, parts = _in_steps(mm, style)
    own = -(-steps // parts) if up else steps // parts
    return own, _steps(whole_mm, style) - own


def say_sum(first_mm: float, second_mm: float, style: Style) -> str:
    """What two measures that follow one another are together, as printed: what each is as printed, added up."""
    return say_steps(_steps(first_mm, style) + _steps(second_mm, style), style)


def steps_down(mm: float, style: Style) -> int:
    """A size that has to go in, in whole steps: figures that have to add up as printed are reckoned with in these."""
    steps, parts = _in_steps(mm, style)
    return steps // parts


def steps_nearest(mm: float, style: Style) -> int:
    """A measure in whole steps, as `say` prints it."""
    return _steps(mm, style)


def millionths(mm: float) -> int:
    """The measure in whole millionths of a millimetre, snapped as every figure is before it is rounded."""
    return _in_steps(mm, Style(finest=Fraction(1)))[0]


def step_millionths(style: Style) -> int:
    """The step that measures are shown in, in millionths of a millimetre: exact for every step that there is."""
    return int(MM_PER[style.unit] * style.finest * SNAP_PER_MM)


def _in_steps(mm: float, style: Style) -> tuple[int, int]:
    """The measure as an exact count of steps, after the snap: so many of the second, which make one step.

    In whole numbers: every figure on paper comes through here, and a `Fraction` of each would be ten times as dear.
    """
    if not math.isfinite(mm):
        raise ValueError(f"{mm} is not a measure that can be shown.")
    over, under = mm.as_integer_ratio()
    snapped, rest = divmod(over * SNAP_PER_MM, under)
    if 2 * rest > under or (2 * rest == under and snapped % 2):
        snapped += 1  # halves to even, as `round` does
    of_unit = MM_PER[style.unit]
    return snapped * of_unit.denominator * style.finest.denominator, SNAP_PER_MM * of_unit.numerator


def _steps(mm: float, style: Style) -> int:
    steps, parts = _in_steps(mm, style)
    return (2 * steps + parts) // (2 * parts)


def say_steps(steps: int, style: Style) -> str:
    """So many steps of the style, `style.finest` each, as they are printed."""
    parts = style.finest.denominator
    whole, part = divmod(abs(steps), parts)
    sign = "-" if steps < 0 else ""
    if not part:
        return f"{sign}{whole}"
    if style.unit is Unit.MM:
        return f"{sign}{whole}.{part}" if style.by_tolerance else f"{sign}{whole or ''}½"
    common = math.gcd(part, parts)
    return f"{sign}{f'{whole} ' if whole else ''}{part // common}/{parts // common}"
