"""Where a place of a surface is from its main set-out lines, in words."""

from __future__ import annotations

from typing import Literal

from cutmarks.geometry.frames import Point, Surface
from cutmarks.setout.model import SetOut
from cutmarks.units import Style, say


def place_words(at: Point[Surface], setout: SetOut, style: Style) -> tuple[str, str]:
    """Where the middle is from the main lines, across and up: "75 left of V", "220 above B"."""
    return across_words(at.x, setout, style), up_words(at.y, setout, style)


def across_words(x: float, setout: SetOut, style: Style) -> str:
    """A place across, from the main line: "75 left of V", "on V"."""
    name = _main(setout, "x")
    return f"on {name}" if x == 0.0 else f"{say(abs(x), style)} {'right' if x > 0.0 else 'left'} of {name}"


def up_words(y: float, setout: SetOut, style: Style) -> str:
    """A place up, or in from the door, from the main line: "220 above B", "30 short of D"."""
    name = _main(setout, "y")
    if y == 0.0:
        return f"on {name}"
    ways = ("above", "below") if setout.kind == "wall" else ("in from", "short of")
    return f"{say(abs(y), style)} {ways[0] if y > 0.0 else ways[1]} {name}"


def _main(setout: SetOut, fixes: Literal["x", "y"]) -> str:
    return next((one.name for one in setout.lines.values() if one.fixes == fixes and one.at == 0.0), "the main line")
