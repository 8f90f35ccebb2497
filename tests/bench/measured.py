"""Figures beside their bars: growth exponents, ratios, shares and counts, and the fault with which each bar must fail.

All times are processor time: another program on the machine does not count.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from contextlib import AbstractContextManager

from msgspec import Struct

LARGER = 3
"""The growth is of so many of the largest sizes: the smaller ones are mostly what any job costs."""


class Bar(Struct, frozen=True, dict=True):
    """A figure, and the most or the least that it may be."""

    what: str
    figure: float
    most: float = math.inf
    least: float = -math.inf

    @property
    def holds(self) -> bool:
        """Whether the figure is within its bar."""
        return self.least <= self.figure <= self.most

    def __str__(self) -> str:
        bounds = [
            f"{word} {bound:g}"
            for word, bound in (("at least", self.least), ("at most", self.most))
            if math.isfinite(bound)
        ]
        verdict = "holds" if self.holds else "TOO MUCH" if self.figure > self.most else "TOO LITTLE"
        return f"{self.what}: {self.figure:.4g} ({', '.join(bounds)}) {verdict}"


Planted = Callable[[], AbstractContextManager[object]]
"""Puts a fault into the program or into what it is given, for as long as the context lasts."""


def told(bars: Sequence[Bar]) -> bool:
    """Print each figure beside its bar; whether all hold. None at all is a failure too."""
    for bar in bars:
        print(bar)
    return bool(bars) and all(bar.holds for bar in bars)


def all_bite(measure: Callable[[], Sequence[Bar]], faults: Mapping[str, Planted]) -> bool:
    """Whether each bar holds as the program is, and fails with the fault that it is there for, planted alone."""
    held = told(measure())
    bitten = []
    for what, plant in faults.items():
        with plant():
            bar = next(bar for bar in measure() if bar.what == what)
        print(f"with its fault, {bar}")
        bitten.append(not bar.holds)
    without = {bar.what for bar in measure()} - set(faults)
    for what in sorted(without):
        print(f"no fault is planted for: {what}")
    return held and all(bitten) and not without


def exponent(sizes: Sequence[int], seconds: Sequence[float]) -> float:
    """How the time grows with the size over the larger sizes: the slope of a least-squares line of their logarithms."""
    points = [(math.log(size), math.log(took)) for size, took in zip(sizes, seconds, strict=True)][-LARGER:]
    middle_x = sum(x for x, _ in points) / len(points)
    middle_y = sum(y for _, y in points) / len(points)
    return sum((x - middle_x) * (y - middle_y) for x, y in points) / sum((x - middle_x) ** 2 for x, _ in points)
