"""How far one long outline may be moved inside another: what lies near against a look at every pair of edges."""

from __future__ import annotations

import math
from itertools import pairwise
from random import Random

import pytest

from cutmarks.geometry.distance import edge_gap
from cutmarks.geometry.edges import Edge
from cutmarks.geometry.frames import Tile
from cutmarks.geometry.near import FEW
from cutmarks.geometry.offset import grown
from cutmarks.geometry.rings import Ring, Vertex
from cutmarks.geometry.slack import InOutline, _hits, slack
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.geometry.winding import winding


def saw(draw: Random, teeth: int, round_ones: bool) -> Ring[Tile]:
    """An outline in and out like a saw blade, some of its edges round."""
    vertices = []
    for k in range(2 * teeth):
        angle, reach = math.pi * k / teeth, (200.0, draw.uniform(190.0, 197.0))[k % 2]
        bulge = draw.choice((0.0, 0.0, 0.1)) if round_ones else 0.0
        vertices.append(Vertex(reach * math.cos(angle), reach * math.sin(angle), bulge))
    return Ring(tuple(vertices))


def every_pair(room: InOutline[Tile], dx: float, dy: float) -> bool:
    """Whether the one is inside the other when moved so, by a look at each edge of each."""
    row: list[Edge[Tile]] = [
        type(edge)(*(value + by for value, by in zip(edge, (dx, dy, dx, dy, dx, dy), strict=False)), *edge[6:])
        for edge in room.inner
    ]
    if any(edge_gap(a, b).distance <= TOUCH for a in row for b in room.outer):
        return False
    return winding(room.outer, row[0][0], row[0][1]) != 0


@pytest.mark.parametrize("round_ones", [False, True])
@pytest.mark.parametrize("seed", range(4))
def test_the_room_of_a_long_outline_is_that_of_a_look_at_every_edge(seed, round_ones):
    draw = Random(seed)
    ring = saw(draw, 20 + 4 * seed, round_ones)
    room = slack((ring,), grown(ring, draw.uniform(2.0, 4.0)))
    assert isinstance(room, InOutline)
    assert room.least == pytest.approx(min(edge_gap(a, b).distance for a in room.inner for b in room.outer))
    inside = 0
    for _ in range(12):
        far, angle = draw.uniform(0.0, 2.5 * room.least), draw.uniform(0.0, 2 * math.pi)
        dx, dy = far * math.cos(angle), far * math.sin(angle)
        inside += every_pair(room, dx, dy)
        assert room.contains(dx, dy) == every_pair(room, dx, dy)
    assert 0 < inside < 12
    # Along any way it ends where it no longer is inside.
    for angle in (draw.uniform(0.0, 2 * math.pi) for _ in range(4)):
        ux, uy = math.cos(angle), math.sin(angle)
        far = room.along(ux, uy)
        assert every_pair(room, (far - 1e-4) * ux, (far - 1e-4) * uy)
        assert not every_pair(room, (far + 1e-4) * ux, (far + 1e-4) * uy)
    # And so it does upward and downward from any place sideways.
    low, high = room.reach
    for dx in (low + 0.02 * (high - low), 0.0, high - 0.3 * (high - low)):
        down, up = room.span(dx)
        assert every_pair(room, dx, down + 1e-4)
        assert every_pair(room, dx, up - 1e-4)
        assert not every_pair(room, dx, down - 1e-4)
        assert not every_pair(room, dx, up + 1e-4)
    assert low < 0.0 < high


def test_a_stretch_that_no_edges_cross_is_never_left_out():
    ring = saw(Random(5), 30, round_ones=False)
    room = slack((ring,), grown(ring, 3.0))
    assert isinstance(room, InOutline)
    crossed = room._crossed(0.4)
    assert crossed
    for low, high in crossed:
        assert not every_pair(room, 0.4, (low + high) / 2.0)
    heights = sorted(far for edge in room.borders for far in _hits(edge, 0.4, 0.0, 0.0, 1.0))
    assert len(heights) > FEW
    free = [(a + b) / 2 for a, b in pairwise(heights) if b - a > TOUCH]
    free = [at for at in free if every_pair(room, 0.4, at)]
    assert free
    assert not any(low < at < high for at in free for low, high in crossed)
