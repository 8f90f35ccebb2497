"""Readings of a thing's two sides, turned into coordinates of the surface."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, cast

from cutmarks.setout.edges import position_at
from cutmarks.setout.model import Line, SurfaceEdge
from cutmarks.sides import Side

if TYPE_CHECKING:
    from cutmarks.readings import Reading

Stretch = tuple[float, float]
ROUNDS = 60
"""Two edges out of true that depend on each other settle by a factor of their rake each round: far more than enough."""


def on_axis(reading: Reading, lines: Mapping[str, Line], edges: Mapping[Side, SurfaceEdge], beside: float) -> Stretch:
    """Both ends of a reading on its own axis, mm in the Surface frame, low first; a single reading gives one twice.

    `beside` is the coordinate on the other axis, which counts only where the reading is from an edge out of true.
    """
    assert reading.start is not None
    low, high = reading.low, reading.low if reading.high is None else reading.high
    if reading.start.kind == "edge":
        side = cast("Side", reading.start.name)
        at = position_at(edges[side], beside)
        return (at + low, at + high) if side in ("left", "bottom") else (at - high, at - low)
    at = lines[reading.start.name].at
    return at + low, at + high


def span_on_surface(
    across: Reading,
    up: Reading,
    lines: Mapping[str, Line],
    edges: Mapping[Side, SurfaceEdge],
    past: float = 0.0,
) -> tuple[Stretch, Stretch]:
    """Both sides on both axes, of readings of two sides from a line or from an edge that was read.

    One that goes on upward ends `past` mm beyond the edge above.
    """
    x, y = (0.0, 0.0), (0.0, 0.0)
    for _ in range(ROUNDS):
        before = x, y
        x = on_axis(across, lines, edges, (y[0] + y[1]) / 2)
        y = on_axis(up, lines, edges, (x[0] + x[1]) / 2)
        if up.how == "onward":
            y = y[0], max(y[0], *(point.y for point in edges[Side.TOP].measured)) + past
        if (x, y) == before:
            break
    return x, y
