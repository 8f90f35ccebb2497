"""What is left between the openings of one piece: only those that come near each other are measured, each pair once."""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import cached_property

from cutmarks.geometry.distance import gap
from cutmarks.geometry.frames import F
from cutmarks.geometry.near import Near
from cutmarks.geometry.rings import Ring


class Between:
    """The gaps between outlines, by their numbers, mm."""

    def __init__(self, rings: Sequence[Ring[F]]) -> None:
        self._rings = rings
        self._gaps: dict[tuple[int, int], float] = {}

    @cached_property
    def _near(self) -> Near:
        return Near(ring.bounds for ring in self._rings)

    def gap(self, one: int, other: int) -> float:
        """What is left between two of them, mm; 0 where they meet."""
        pair = (one, other) if one < other else (other, one)
        if pair not in self._gaps:
            self._gaps[pair] = gap(self._rings[pair[0]], self._rings[pair[1]])
        return self._gaps[pair]

    def nearer(self, one: int, than: float) -> list[int]:
        """The others that are less than `than` mm off, by number."""
        if len(self._rings) < 2:
            return []
        near = self._near.within(self._near.boxes[one], than)
        return [other for other in near if other != one and self.gap(one, other) < than]

    def least(self, one: int, under: float = math.inf) -> float:
        """What is left to the nearest of the others, mm; `under` where none is nearer than that."""
        if len(self._rings) < 2:
            return under
        box = self._near.boxes[one]
        reach = min(under, max(box.width, box.height))
        # The nearest is looked for close by first: round a hole in the middle of a large tile lie many more.
        while True:
            near = self._near.within(box, reach)
            found = min((self.gap(one, other) for other in near if other != one), default=math.inf)
            if found <= reach or reach >= under or len(near) == len(self._rings):
                return min(found, under)
            reach = min(under, 2.0 * reach)
