"""How each kind of line looks: widths and dashes by ISO 128-2, in mm; black, white and one grey.

Line group 0.35 (wide 0.35, narrow 0.18). For a line of width d a dash is 12 d, a long dash 24 d, a gap 3 d and a dot
0.5 d, as ISO 128-2 gives them.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from cutmarks.marks.model import Role, Tone

WIDE = 0.35
BETWEEN = 0.25
"""What is read at arm's length, pinned on a wall, has no narrower line."""
NARROW = 0.18
NARROWEST = 0.13
EXTRA_WIDE = 1.0

DASH, LONG_DASH, GAP, DOT = 12.0, 24.0, 3.0, 0.5
"""In line widths."""


@dataclass(frozen=True, slots=True)
class LineStyle:
    """A line's width and its dashes (dash, gap, dash, gap ...; () for a continuous line), mm."""

    width: float
    dashes: tuple[float, ...] = ()


def _dashed(width: float) -> LineStyle:
    return LineStyle(width, (DASH * width, GAP * width))


def _chain(width: float, dots: int) -> LineStyle:
    return LineStyle(width, (LONG_DASH * width, GAP * width) + (DOT * width, GAP * width) * dots)


LINES: Mapping[Role, LineStyle] = MappingProxyType(
    {
        Role.CUT: LineStyle(WIDE),
        Role.TILE_EDGE: _chain(WIDE, 2),
        Role.TILE: _chain(NARROW, 2),
        Role.CENTRE: _chain(NARROW, 1),
        Role.COVER: _dashed(NARROW),
        Role.KEEP_CLEAR: LineStyle(WIDE, (DOT * WIDE, GAP * WIDE)),
        Role.ABOVE: _dashed(NARROW),
        Role.MEASURE: LineStyle(NARROW),
        Role.BAR: LineStyle(WIDE),
        Role.CORNER: LineStyle(WIDE),
        Role.BOX: LineStyle(NARROW),
        Role.ARROW: LineStyle(EXTRA_WIDE),
        Role.OUTLINE: LineStyle(WIDE),
        Role.GRID: LineStyle(NARROWEST),
        Role.SET_OUT: _chain(NARROW, 1),
        Role.JOINT: LineStyle(BETWEEN),
        Role.MAIN_LINE: _chain(BETWEEN, 1),
        Role.HATCH: LineStyle(NARROWEST),
    }
)

SHADES: Mapping[Tone, int] = MappingProxyType({Tone.BLACK: 0, Tone.GREY: 200, Tone.WHITE: 255})
"""How light each tone is, from 0 (black) to WHITEST."""
WHITEST = 255

FILLS: Mapping[Tone, str] = MappingProxyType(
    {
        tone: {0: "black", WHITEST: "white"}.get(shade, f"#{shade:02x}{shade:02x}{shade:02x}")
        for tone, shade in SHADES.items()
    }
)
"""The same, as SVG writes them."""
