"""Outlines given corner by corner: their rings, and what is wrong with one that encloses no ground."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from cutmarks.errors import GeometryError
from cutmarks.geometry.frames import Surface
from cutmarks.geometry.regions import region
from cutmarks.geometry.rings import Ring, polygon, self_crossing
from cutmarks.setout.lines import on_lines
from cutmarks.setout.model import Line

if TYPE_CHECKING:
    from cutmarks.job.phrases import Spot


def ring_through(spots: Sequence[Spot], lines: Mapping[str, Line]) -> Ring[Surface]:
    """The ring through corners read from set-out lines, counter-clockwise, mm in the Surface frame."""
    ring: Ring[Surface] = polygon([(on_lines(s.across, lines), on_lines(s.up, lines)) for s in spots])
    return ring if ring.area >= 0 else ring.reversed()


def no_outline(ring: Ring[Surface]) -> str | None:
    """Why a ring is no outline, in a sentence; None where it is one."""
    crossing = self_crossing(ring)
    if crossing is not None:
        return (
            f"its outline crosses itself near {crossing.x:g} across, {crossing.y:g} up: "
            "list its corners in order, once round."
        )
    try:
        region(ring)
    except GeometryError:
        return "its outline encloses nothing: its corners must not all lie on one line."
    return None
