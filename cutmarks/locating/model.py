"""A located thing: what comes through, where on the surface, as read, and how sure that is."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from msgspec import Struct

from cutmarks.geometry.frames import Point, Surface
from cutmarks.geometry.rings import Ring
from cutmarks.geometry.shapes import Shape

if TYPE_CHECKING:
    from cutmarks.job.models import HoleSpec


class Doubt(Struct, frozen=True):
    """How far a place may be off, as the covariance of its two coordinates, mm2, one sigma (Surface frame)."""

    xx: float
    xy: float
    yy: float

    @property
    def ellipse(self) -> tuple[float, float, float]:
        """The error ellipse at one sigma: half its long axis, half its short one, mm, and where the long one points.

        Degrees counter-clockwise from the x axis, over -90 to 90.
        """
        mean, half = (self.xx + self.yy) / 2, math.hypot((self.xx - self.yy) / 2, self.xy)
        points = math.degrees(math.atan2(2 * self.xy, self.xx - self.yy)) / 2
        return math.sqrt(mean + half), math.sqrt(max(0.0, mean - half)), points


class Judged(Struct, frozen=True):
    """One reading after all were adjusted together.

    about     the hole, or the two holes, or the point, that it was read of; point: the name where it is a point.
    off       what was read less what it should have been, mm; sigma: its own standard deviation, mm.
    redundancy, normalised  how far the others check it, 0 to 1; and `off` over its own standard deviation then.
    """

    about: tuple[str, ...]
    text: str
    off: float
    sigma: float
    redundancy: float
    normalised: float
    point: str = ""


class Misfit(Struct, frozen=True):
    """The reading that does not fit, and those that cannot be told from it (indices into the fit's readings).

    off     read less what the others say, mm; moves: how far the holes move at most where it is left out, mm.
    figure, limit  its normalised residual, and what that may be.
    """

    reading: int
    mirrored: tuple[int, ...]
    off: float
    moves: float
    figure: float
    limit: float


class ReadingsFit(Struct, frozen=True):
    """Readings of one or several holes, adjusted together.

    doubts    of the holes, in their order.
    over      readings more than needed; spread: standard deviation of unit weight, 1 is as expected.
    crossing  for each hole that two tapes alone place: the angle at which they cross, degrees, at most 90.
    """

    holes: tuple[str, ...]
    doubts: tuple[Doubt, ...]
    readings: tuple[Judged, ...]
    over: int
    spread: float
    misfit: Misfit | None
    crossing: tuple[tuple[str, float], ...]


class Located(Struct, frozen=True):
    """One thing that comes through the surface, in its place.

    thing      the shape of what comes through, about `at`; `ring` the same on the surface.
    read       (width, height) between the two sides as read, mm; None on an axis read once.
    diameter   of a round thing, mm: its own where its kind is known, else as read.
    doubt      how far `at` may be off by its readings alone; fit: what was adjusted together, None where there are no
               more readings than needed and nothing to check.
    """

    spec: HoleSpec
    at: Point[Surface]
    thing: Shape
    ring: Ring[Surface]
    read: tuple[float | None, float | None]
    diameter: float | None
    doubt: Doubt
    fit: ReadingsFit | None = None
