"""What is wrong with an outline that encloses no ground."""

from __future__ import annotations

from cutmarks.errors import GeometryError
from cutmarks.geometry.frames import Surface
from cutmarks.geometry.regions import region
from cutmarks.geometry.rings import Ring, self_crossing
from cutmarks.job.measures import bare
from cutmarks.job.words import Setting


def no_outline(ring: Ring[Surface], setting: Setting) -> str | None:
    """Why a ring, in the Surface frame, is no outline, in a sentence; None where it is one."""
    crossing = self_crossing(ring)
    if crossing is not None:
        ways = ("right" if crossing.x >= 0.0 else "left", "up" if crossing.y >= 0.0 else "down")
        return (
            f"Its outline crosses itself near {bare(abs(crossing.x), setting)} {ways[0]} and "
            f"{bare(abs(crossing.y), setting)} {ways[1]} from where the lines cross: list its corners in order, once "
            "round."
        )
    try:
        region(ring if ring.area >= 0.0 else ring.reversed())
    except GeometryError:
        return "Its outline encloses nothing: its corners must not all lie on one line."
    return None
