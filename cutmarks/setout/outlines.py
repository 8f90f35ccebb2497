"""Outlines given corner by corner: their rings."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from cutmarks.geometry.frames import Surface
from cutmarks.geometry.rings import Ring, polygon
from cutmarks.setout.lines import on_lines
from cutmarks.setout.model import Line

if TYPE_CHECKING:
    from cutmarks.readings import Spot


def ring_through(spots: Sequence[Spot], lines: Mapping[str, Line]) -> Ring[Surface]:
    """The ring through corners read from set-out lines, counter-clockwise, mm in the Surface frame."""
    ring: Ring[Surface] = polygon([(on_lines(s.across, lines), on_lines(s.up, lines)) for s in spots])
    return ring if ring.area >= 0 else ring.reversed()
