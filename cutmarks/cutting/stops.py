"""Where a round disc has to stop, since it cuts further on the face that its middle is nearer to.

Disc of radius R through a tile of thickness t, reaching e past the far face: it cuts sqrt((t + e)(2R - t - e)) either
way of its middle on the near face and sqrt(e (2R - e)) on the far one (a chord of the circle at that depth). Lengths in
mm. With the head above the tile and the face up, or a grinder from above, the face is the near one; laid face down, the
back is.
"""

from __future__ import annotations

import math
from collections.abc import Iterable

from msgspec import Struct

from cutmarks.readings import Disc


class DiscReach(Struct, frozen=True):
    """What one disc cuts at once of a tile.

    past  how far it reaches past the far face; near, far: half of what it cuts on either face, from its middle.
    """

    disc: Disc
    past: float
    near: float
    far: float

    @property
    def left(self) -> float:
        """How far the far face stays uncut where the near one is cut to the corner; or, from behind, is cut too far."""
        return self.near - self.far

    def fits_from_face(self, side: float) -> bool:
        """Whether a side of an opening is long enough for a cut plunged from the face, which must not pass its ends."""
        return side >= 2.0 * self.near

    def fits_from_back(self, side: float) -> bool:
        """The same plunged from the back, where the cut passes the ends by `left` and is hidden."""
        return side >= 2.0 * self.far


def half_chord(d: float, deep: float) -> float:
    """Half of the chord that lies `deep` mm inside a circle of diameter d, mm: sqrt(deep (d - deep)).

    >>> half_chord(200.0, 20.0)
    60.0
    """
    return math.sqrt(max(deep * (d - deep), 0.0))


def reach_of(disc: Disc, thickness: float, past: float) -> DiscReach | None:
    """What a disc cuts of a tile, reaching `past` the far face, or less where its machine stops it.

    None where it does not come through: the tile is thicker than it cuts deep.
    """
    depth = disc.d / 2.0 if disc.depth is None else disc.depth
    past = min(past, depth - thickness)
    if past <= 0.0:
        return None
    return DiscReach(disc, past, half_chord(disc.d, thickness + past), half_chord(disc.d, past))


def reaches(discs: Iterable[Disc], thickness: float, past: float) -> tuple[DiscReach, ...]:
    """The discs that come through, each reaching `past` the far face; as deep as it goes too, where that is known.

    The deeper it goes the less is left in the corner.
    """
    found: list[DiscReach] = []
    for disc in discs:
        deepest = past if disc.depth is None else disc.depth - thickness
        depths = dict.fromkeys((past, max(past, deepest)))
        found += [reach for depth in depths if (reach := reach_of(disc, thickness, depth)) is not None]
    return tuple(found)


class Finger(Struct, frozen=True):
    """One cut of the row that makes a round notch.

    at    its middle along the edge, from the notch's middle, mm; deep: how far in from the edge it may go, mm.
    """

    at: float
    deep: float


def row_of_cuts(radius: float, inside: float, kerf: float, finger: float) -> tuple[Finger, ...]:
    """The cuts into a round notch, about `finger` mm between them, from its one end to the other.

    inside  how far its centre lies in from the edge; less than nothing: outside it. No cut leaves the circle: at its
    outer side it is sqrt(r^2 - (|x| + k / 2)^2) + inside deep. Evenly spaced, the outermost at the mouth's very ends.
    """
    mouth = math.sqrt(max(radius * radius - inside * inside, 0.0))
    outermost = mouth - kerf / 2.0
    if outermost <= 0.0:
        return (Finger(0.0, inside + math.sqrt(max(radius * radius - kerf * kerf / 4.0, 0.0))),)
    each_way = max(1, math.ceil(outermost / (finger + kerf) - 1e-9))
    pitch = outermost / each_way
    return tuple(
        Finger(number * pitch, _deep(radius, inside, abs(number) * pitch + kerf / 2.0))
        for number in range(-each_way, each_way + 1)
    )


def _deep(radius: float, inside: float, off: float) -> float:
    """How far in from the edge the circle reaches, `off` mm from its middle."""
    return max(inside + math.sqrt(max(radius * radius - off * off, 0.0)), 0.0)
