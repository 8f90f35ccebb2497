"""Text to millimetres and back: the only unit table, lengths as they are written on site, measures as words.

    parse_length("25 1/4 in", Unit.MM).mm   -> 641.35
    match_range("67-83 left of V", Unit.MM) -> 67 mm, 83 mm, "left of V"
    say(74.5, Style())                      -> "74½"

A length has no sign: sides are said in words.
"""

from cutmarks.units.reading import Length, match_length, match_range, parse_length
from cutmarks.units.saying import (
    SNAP_PER_MM,
    Style,
    millionths,
    pair_in_steps,
    pair_that_goes_in,
    say,
    say_down,
    say_spare,
    say_steps,
    say_sum,
    say_up,
    step_millionths,
    steps_down,
    steps_nearest,
)
from cutmarks.units.table import MM_PER, UNIT_WORDS, Unit

__all__ = [
    "MM_PER",
    "SNAP_PER_MM",
    "UNIT_WORDS",
    "Length",
    "Style",
    "Unit",
    "match_length",
    "match_range",
    "millionths",
    "pair_in_steps",
    "pair_that_goes_in",
    "parse_length",
    "say",
    "say_down",
    "say_spare",
    "say_steps",
    "say_sum",
    "say_up",
    "step_millionths",
    "steps_down",
    "steps_nearest",
]
