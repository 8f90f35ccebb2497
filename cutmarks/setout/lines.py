"""Set-out lines: each fixes one coordinate of the surface; the main two cross at its origin."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from cutmarks.job.slips import line_places
from cutmarks.setout.model import Line

if TYPE_CHECKING:
    from cutmarks.job.models import SurfaceSpec
    from cutmarks.readings import Reading


def on_lines(reading: Reading, lines: Mapping[str, Line]) -> float:
    """The coordinate that a single reading from a set-out line names, mm in the Surface frame.

    `reading` is of how "centre" and from a line, which loading has made sure of.
    """
    assert reading.start is not None
    return lines[reading.start.name].at + reading.low


def place_lines(surface: SurfaceSpec) -> dict[str, Line]:
    """Every line of a surface at its coordinate."""
    places = line_places(surface.lines)
    return {
        line.name: Line(
            line.name, line.fixes, places[line.name], line.kind, line.words, 0.0 if line.off is None else line.off.slope
        )
        for line in surface.lines
    }
