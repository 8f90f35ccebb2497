"""Lines of different meaning that run beside each other so closely that one is taken for the other.

No two straight lines, nor two circles about one middle, within 2 mm for more than 10, unless one of them is what is cut
or an edge to line up on. What a line means is read off its width and its dashes, as a reader of the page sees it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import combinations

from tests.sheets.ink import Line, Page

NEAR, FOR = 2.0, 10.0
SAME_MIDDLE = 0.1
"""mm."""
CUT, EDGE = 0.7, 0.5
PARALLEL = math.sin(math.radians(2.0))


def beside_faults(page: Page, view: tuple[float, float, float, float]) -> Iterator[str]:
    """Each two lines in the drawing that lie too near each other, in words."""
    left, bottom, right, top = view
    lines = [
        line
        for line in page.lines
        if abs(line.width - CUT) > 0.01
        and abs(line.width - EDGE) > 0.01
        and left - 0.1 <= line.middle.bounds[0]
        and line.middle.bounds[2] <= right + 0.1
        and bottom - 0.1 <= line.middle.bounds[1]
        and line.middle.bounds[3] <= top + 0.1
    ]
    straight = [(line, ends) for line in lines for ends in _spans(line)]
    for (one, (a, b)), (other, (c, d)) in combinations(straight, 2):
        if _means(one) != _means(other) and _beside(a, b, c, d) > FOR:
            yield f"lines of {_means(one)} and {_means(other)} run beside each other at {a[0]:.0f}, {a[1]:.0f}"
    circles = [(line, round_it) for line in lines if (round_it := _circle(line)) is not None]
    for (one, (x, y, r)), (other, (u, v, s)) in combinations(circles, 2):
        if _means(one) != _means(other) and math.dist((x, y), (u, v)) < SAME_MIDDLE and abs(r - s) < NEAR:
            yield f"circles of {_means(one)} and {_means(other)} run beside each other about {x:.0f}, {y:.0f}"


def _circle(line: Line) -> tuple[float, float, float] | None:
    """The middle and the radius of a whole circle that is long enough to matter; None for any other line."""
    first, *curves = [step for step, _ in line.steps if step != "h"]
    if first != "m" or set(curves) != {"c"} or len(line.steps) == len(curves) + 1:
        return None  # a half-moon is not closed
    left, bottom, right, top = line.middle.bounds
    if abs((right - left) - (top - bottom)) > SAME_MIDDLE or math.pi * (right - left) <= FOR:
        return None
    return (left + right) / 2, (bottom + top) / 2, (right - left) / 2


def _means(line: Line) -> tuple[float, int]:
    return round(line.width, 2), len(line.dashes)


Place = tuple[float, float]


def _spans(line: Line) -> Iterator[tuple[Place, Place]]:
    """The straight stretches of a line that are long enough to matter."""
    at: Place | None = None
    first: Place | None = None
    for step, points in line.steps:
        if step == "m":
            at = first = points[0]
        elif step == "c":
            at = points[-1]
        else:
            end = first if step == "h" else points[0]
            if at is not None and end is not None and math.dist(at, end) > FOR:
                yield at, end
            at = end


def _beside(a: Place, b: Place, c: Place, d: Place) -> float:
    """How long two stretches run beside each other within `NEAR`, mm; 0 where they are not parallel."""
    long, other = math.dist(a, b), math.dist(c, d)
    ux, uy = (b[0] - a[0]) / long, (b[1] - a[1]) / long
    vx, vy = (d[0] - c[0]) / other, (d[1] - c[1]) / other
    if abs(ux * vy - uy * vx) > PARALLEL:
        return 0.0
    along = [(p[0] - a[0]) * ux + (p[1] - a[1]) * uy for p in (c, d)]
    off = [abs((p[1] - a[1]) * ux - (p[0] - a[0]) * uy) for p in (c, d)]
    if min(off) >= NEAR:
        return 0.0
    return max(0.0, min(long, max(along)) - max(0.0, min(along)))
