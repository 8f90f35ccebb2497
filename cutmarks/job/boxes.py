"""Four corners that should make a box: whether they do, and where one lies that does not.

A box that was set by hand is seldom square to the millimetre. What is looked for here is a slip: one corner that lies
somewhere else than the other three put it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from cutmarks.job.measures import WIDEST_THING

XY = tuple[float, float]
OUT_OF_TRUE = 12.0
"""So far, mm, the fourth corner of a box may lie from where the other three put it."""
OUT_OF_TRUE_PART = 0.05
"""Or so far as a part of the box's diagonal, if that is more."""
SQUARE_WITHIN = 0.25
"""Three corners are those of a box where the cosine of the angle between them is no more: 75 to 105 degrees."""


def is_box(corners: Sequence[XY]) -> bool:
    """Whether four corners, in any order, are about those of a box."""
    return any(
        math.dist(place, corner) <= max(OUT_OF_TRUE, OUT_OF_TRUE_PART * diagonal)
        for corner, others in _each(corners)
        for place, diagonal in _completed(others)
    )


def slipped(corners: Sequence[XY]) -> list[tuple[int, XY]]:
    """Which corner may be at fault, from 0, and where the other three put it, mm; the smallest box first."""
    found = [
        (diagonal, number, place)
        for number, (_, others) in enumerate(_each(corners))
        for place, diagonal in list(_completed(others))[:1]
        if diagonal <= math.hypot(WIDEST_THING, WIDEST_THING)
    ]
    return [(number, place) for _, number, place in sorted(found)]


def _each(corners: Sequence[XY]) -> Iterator[tuple[XY, list[XY]]]:
    """Each corner, and the others."""
    for number, corner in enumerate(corners):
        yield corner, [*corners[:number], *corners[number + 1 :]]


def _completed(three: Sequence[XY]) -> list[tuple[XY, float]]:
    """Where the fourth corner lies if three are those of a box, and its diagonal; the squarest first, none if none is.

    Of a thin three several angles may be about square.
    """
    found: list[tuple[float, XY, float]] = []
    for (x, y), ((ax, ay), (bx, by)) in _each(three):
        first, second = (ax - x, ay - y), (bx - x, by - y)
        long = math.hypot(*first) * math.hypot(*second)
        cosine = abs(first[0] * second[0] + first[1] * second[1]) / long if long else math.inf
        if cosine <= SQUARE_WITHIN:
            found.append((cosine, (ax + bx - x, ay + by - y), math.dist((ax, ay), (bx, by))))
    return [(place, diagonal) for _, place, diagonal in sorted(found)]
