"""Limits of the checks, as frozen values with their sources."""

from __future__ import annotations

from dataclasses import dataclass

COMMON = "common practice, no published source"


@dataclass(frozen=True, slots=True)
class Limit:
    """A figure in mm (or a plain ratio), and where it comes from."""

    value: float
    source: str


@dataclass(frozen=True, slots=True)
class Limits:
    """Every limit that a rule looks at."""

    least_bite: Limit = Limit(0.5, COMMON + ": a web or bite this thin breaks off")
    thin_bridge: Limit = Limit(30.0, COMMON)
    bridge_part: Limit = Limit(0.25, COMMON + ": a quarter of the tile's side")
    derived_mm: Limit = Limit(2.0, COMMON)
    derived_inch: Limit = Limit(25.4 / 8, COMMON + ": 1/8 in")
    narrow: Limit = Limit(50.0, COMMON + ": 50 mm or 2 in")
    narrow_part: Limit = Limit(0.2, "one fifth of the tile, trade guides")
    narrow_from: Limit = Limit(150.0, COMMON)
    joint_problem: Limit = Limit(5.0, COMMON)
    lap: Limit = Limit(3.0, COMMON)
    box_lap: Limit = Limit(2.0, COMMON)
    wide_space: Limit = Limit(2.0, COMMON + ": twice the larger joint")
    offset_side: Limit = Limit(381.0, "ANSI A108.02 4.3.8.2: 15 in")
    offset_part: Limit = Limit(1 / 3, "ANSI A108.02 4.3.8.2: 33 %")


LIMITS = Limits()
