"""Which of many boxes come near a place, without looking at all of them."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from typing import Final, TypeVar

from cutmarks.geometry.edges import Bounds

FEW: Final = 12
"""So few boxes are looked at one by one: that is quicker than to keep them in squares."""

_SMALLEST: Final = -9
"""The power of two of the smallest squares, mm: 0.002. All that is smaller, a place among it, is kept in these."""

T = TypeVar("T")


def pairs_near(things: Sequence[tuple[T, Bounds]], slack: float) -> Iterator[tuple[T, T]]:
    """Each two things whose boxes come within `slack` mm of each other, in their order."""
    near = Near(box for _, box in things)
    for number, (one, box) in enumerate(things):
        yield from ((one, things[other][0]) for other in near.within(box, slack) if other > number)


class Near:
    """Boxes by number, in the order in which they came.

    Each is kept in squares of a grid that are just larger than itself, four at most, one grid for each power of two: so
    that a window and a wall, or a tooth and its saw, do not fill each other's squares.
    """

    def __init__(self, boxes: Iterable[Bounds] = ()) -> None:
        self.boxes: list[Bounds] = list(boxes)
        self._grids: dict[int, dict[tuple[int, int], list[int]]] = {}
        self._kept = 0
        self._round: Bounds | None = None
        self._rounded = 0

    def add(self, box: Bounds) -> int:
        """One more box; its number."""
        self.boxes.append(box)
        return len(self.boxes) - 1

    def within(self, box: Bounds, slack: float = 0.0) -> list[int]:
        """The numbers of all boxes that share a place with this one, or come within `slack` mm; ascending."""
        boxes = self.boxes
        if len(boxes) <= FEW or slack == math.inf:
            return [number for number, other in enumerate(boxes) if box.overlaps(other, slack)]
        if self._kept < len(boxes):
            self._keep()
        wide = Bounds(box[0] - slack, box[1] - slack, box[2] + slack, box[3] + slack)
        found: set[int] = set()
        for power, grid in self._grids.items():
            columns, rows = _squares(wide, power)
            if len(columns) * len(rows) <= len(grid):
                for column in columns:
                    for row in rows:
                        found.update(grid.get((column, row), ()))
            else:
                found.update(number for square in grid.values() for number in square)
        return sorted(number for number in found if box.overlaps(boxes[number], slack))

    def at_level(self, y: float, slack: float = 0.0) -> list[int]:
        """The numbers of all boxes that the level line at height y comes to, within `slack` mm; ascending."""
        low, _, high, _ = self._all_round()
        return self.within(Bounds(low, y, high, y), slack)

    def at_plumb(self, x: float, slack: float = 0.0) -> list[int]:
        """The numbers of all boxes that the plumb line at x comes to, within `slack` mm; ascending."""
        _, low, _, high = self._all_round()
        return self.within(Bounds(x, low, x, high), slack)

    def _all_round(self) -> Bounds:
        """The box round all boxes; of none, a place."""
        if self._round is None or self._rounded < len(self.boxes):
            sides = zip(*self.boxes, strict=True) if self.boxes else ((0.0,),) * 4
            left, bottom, right, top = sides
            self._round, self._rounded = Bounds(min(left), min(bottom), max(right), max(top)), len(self.boxes)
        return self._round

    def _keep(self) -> None:
        """Put what has come since into its squares."""
        for number in range(self._kept, len(self.boxes)):
            box = self.boxes[number]
            _, power = math.frexp(max(box[2] - box[0], box[3] - box[1]))
            power = max(power, _SMALLEST)
            grid = self._grids.setdefault(power, defaultdict(list))
            columns, rows = _squares(box, power)
            for column in columns:
                for row in rows:
                    grid[column, row].append(number)
        self._kept = len(self.boxes)


def _squares(box: Bounds, power: int) -> tuple[range, range]:
    """The columns and rows of a grid's squares, 2 to the `power` mm each way, that a box comes into."""
    side = math.ldexp(1.0, power)
    return (
        range(math.floor(box[0] / side), math.floor(box[2] / side) + 1),
        range(math.floor(box[1] / side), math.floor(box[3] / side) + 1),
    )
