"""Figures beside their bars: growth exponents and ratios, and what they are measured with.

All times are processor time: another program on the machine does not count.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

LARGER = 3
"""The growth is of so many of the largest sizes: the smaller ones are mostly what any job costs."""


@dataclass(frozen=True)
class Bar:
    """A figure and the most that it may be."""

    what: str
    figure: float
    most: float

    @property
    def holds(self) -> bool:
        """Whether the figure is within its bar."""
        return self.figure <= self.most

    def __str__(self) -> str:
        return f"{self.what}: {self.figure:.2f} (at most {self.most:g}) {'holds' if self.holds else 'TOO MUCH'}"


def exponent(sizes: Sequence[int], seconds: Sequence[float]) -> float:
    """How the time grows with the size over the larger sizes: the slope of a least-squares line of their logarithms."""
    points = [(math.log(size), math.log(took)) for size, took in zip(sizes, seconds, strict=True)][-LARGER:]
    middle_x = sum(x for x, _ in points) / len(points)
    middle_y = sum(y for _, y in points) / len(points)
    return sum((x - middle_x) * (y - middle_y) for x, y in points) / sum((x - middle_x) ** 2 for x, _ in points)
