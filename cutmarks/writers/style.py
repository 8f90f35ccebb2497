"""How each kind of line looks: widths and dashes by ISO 128-2, in mm; black, white and one grey.

Widths of ISO 128-2 by what a line is for: cut 0.7, an edge to line up on 0.5, bars and marks 0.35, measures, covers and
centres 0.25. None is thinner than a copy in black and white at 150 dots to the inch keeps: its dot is 0.17, and a line
of 0.2 fills more than half of one wherever it lies. For a line of width d a dash is 12 d, a long dash 24 d, a gap 3 d
and a dot 0.5 d, as ISO 128-2 gives them.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from msgspec import Struct

from cutmarks.marks.model import Role, Tone

CUTTING = 0.7
LINING_UP = 0.5
WIDE = 0.35
NARROW = 0.25
NARROWEST = 0.2
EXTRA_WIDE = 1.0

DASH, LONG_DASH, GAP, DOT = 12.0, 24.0, 3.0, 0.5
"""In line widths."""


class LineStyle(Struct, frozen=True):
    """A line's width and its dashes (dash, gap, dash, gap ...; () for a continuous line), mm."""

    width: float
    dashes: tuple[float, ...] = ()


def _dashed(width: float) -> LineStyle:
    return LineStyle(width, (DASH * width, GAP * width))


def _chain(width: float, dots: int) -> LineStyle:
    return LineStyle(width, (LONG_DASH * width, GAP * width) + (DOT * width, GAP * width) * dots)


LINES: Mapping[Role, LineStyle] = MappingProxyType(
    {
        Role.CUT: LineStyle(CUTTING),
        Role.TILE_EDGE: _chain(LINING_UP, 2),
        Role.TILE: _chain(NARROW, 2),
        Role.CENTRE: _chain(NARROW, 1),
        Role.CENTRE_RING: LineStyle(NARROW),
        Role.STOPPED: LineStyle(EXTRA_WIDE),
        Role.FRAME: LineStyle(NARROW),
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
        Role.JOINT: LineStyle(NARROW),
        Role.MAIN_LINE: _chain(NARROW, 1),
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
