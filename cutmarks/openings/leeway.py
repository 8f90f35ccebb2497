"""How far a hole may be off the thing that comes through it: one value, which all that speaks of it reads.

It is the HOLE that is off, rigid with its tile; the thing stays where it is, and the cover is fixed to the thing. The
hole may be off by what keeps the thing inside it, and keeps it under the cover with the lap that is wanted all round.
"""

from __future__ import annotations

import math
from typing import Literal

from msgspec import Struct

from cutmarks.geometry.frames import Tile, cos_sin
from cutmarks.geometry.slack import Slack


class Leeway(Struct, frozen=True):
    """All that one hole may be off, as (dx, dy) of the hole against the thing along the surface's axes, mm.

    lean   of the frame that the parts are in, degrees: that of a leaning box, with which its plate leans.
    over   what keeps the thing inside the hole; None where the thing's size is not known.
    under  what keeps the hole under its cover with its lap, for each tile that an opened one is cut in; () without one.
    bare   the same without the lap: until it shows.
    """

    lean: float
    over: Slack[Tile] | None
    under: tuple[Slack[Tile], ...] = ()
    bare: tuple[Slack[Tile], ...] = ()

    @property
    def parts(self) -> tuple[Slack[Tile], ...]:
        """All that holds at once; the cover's behind that of the thing."""
        return self.under if self.over is None else (self.over, *self.under)

    @property
    def least(self) -> float:
        """How far off any way it may be, mm; 0 where it may not be off at all, or shows as it is."""
        return max(0.0, min((part.least for part in self.parts), default=math.inf))

    @property
    def why(self) -> Literal["thing", "cover"]:
        """What is in the way first: the thing that has to go through, or the cover that has to hide it."""
        cover = min((part.least for part in self.under), default=math.inf)
        return "thing" if self.over is not None and self.over.least <= cover else "cover"

    @property
    def laps(self) -> float:
        """How much further than the hole its cover reaches, mm; below 0: how far it shows; infinite without a cover."""
        return min((part.least for part in self.bare), default=math.inf)

    @property
    def shows_by(self) -> float:
        """How far the hole shows past its cover as it is, mm; 0 where it is hidden."""
        return max(0.0, -self.laps)

    @property
    def without_lap(self) -> Leeway:
        """The same until the hole shows: how often it works out, not how it ought to be."""
        return Leeway(self.lean, self.over, self.bare, self.bare)

    def contains(self, dx: float, dy: float) -> bool:
        """Whether it may be off by so much."""
        x, y = self.turned(dx, dy)
        return all(part.contains(x, y) for part in self.parts)

    def along(self, dx: float, dy: float) -> float:
        """How far off it may be in the direction of (dx, dy), mm; 0 where it may not be off at all."""
        far = math.hypot(dx, dy)
        x, y = self.turned(dx / far, dy / far)
        return min((part.along(x, y) for part in self.parts), default=math.inf)

    def turned(self, dx: float, dy: float) -> tuple[float, float]:
        """The same step along the axes of the parts."""
        c, s = cos_sin(self.lean)
        return c * dx + s * dy, c * dy - s * dx
