"""What a reading should be, as a function of the unknown coordinates: the models that `adjust` takes."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence

from cutmarks.locating.adjust import Predicted

End = int | float
"""One coordinate of a distance's end: an unknown's index, or a known place as a float, mm."""


def coordinate(index: int) -> Predicted:
    """A reading along an axis, from a line or anything else that stands still: the unknown itself, mm."""
    return lambda values: (values[index], {index: 1.0})


def difference(first: int, second: int) -> Predicted:
    """How much further the second unknown is along the axis than the first, mm: 0 where they are level."""
    return lambda values: (values[second] - values[first], {second: 1.0, first: -1.0})


def off_edge(index: int, beside: int, edge: Callable[[float], float], step: float) -> Predicted:
    """A reading from an edge out of true, mm: unknown `index` less where the edge is at unknown `beside`.

    `step` is how far to both sides of `beside` the edge's own slope is taken, mm.
    """

    def model(values: Sequence[float]) -> tuple[float, Mapping[int, float]]:
        at = values[beside]
        slope = (edge(at + step) - edge(at - step)) / (2 * step)
        return values[index] - edge(at), {index: 1.0, beside: -slope}

    return model


def distance(first: tuple[End, End], second: tuple[End, End]) -> Predicted:
    """A tape held straight between two places, mm; at no distance at all it has no direction and says nothing."""

    def model(values: Sequence[float]) -> tuple[float, Mapping[int, float]]:
        (ax, ay), (bx, by) = (tuple(_at(end, values) for end in place) for place in (first, second))
        length = math.hypot(bx - ax, by - ay)
        if length == 0.0:
            return 0.0, {}
        ux, uy = (bx - ax) / length, (by - ay) / length
        partials: dict[int, float] = {}
        for end, partial in zip((*second, *first), (ux, uy, -ux, -uy), strict=True):
            if isinstance(end, int):
                partials[end] = partials.get(end, 0.0) + partial
        return length, partials

    return model


def _at(end: End, values: Sequence[float]) -> float:
    return values[end] if isinstance(end, int) else end
