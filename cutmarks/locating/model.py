"""A located thing: what comes through, where on the surface, as read."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from cutmarks.geometry.frames import Point, Surface
from cutmarks.geometry.rings import Ring
from cutmarks.geometry.shapes import Shape

if TYPE_CHECKING:
    from cutmarks.job.models import HoleSpec


@dataclass(frozen=True, slots=True)
class Located:
    """One penetration in its place.

    thing      the shape of what comes through, about `at`; `ring` the same on the surface.
    read       (width, height) between the two sides as read, mm; None on an axis read once.
    diameter   of a round thing, mm: its own where its kind is known, else as read.
    """

    spec: HoleSpec
    at: Point[Surface]
    thing: Shape
    ring: Ring[Surface]
    read: tuple[float | None, float | None]
    diameter: float | None
