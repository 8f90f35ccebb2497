"""The webs of a hole in a rectangle, four subtractions, against the way that takes any cut in any piece."""

from __future__ import annotations

import math
from random import Random

import pytest

from cutmarks.geometry.frames import Point, Tile
from cutmarks.geometry.regions import Region, intersection, region
from cutmarks.geometry.rings import Ring, polygon
from cutmarks.geometry.shapes import Circle, Rect, ring_of
from cutmarks.openings import webs
from cutmarks.openings.model import Share
from cutmarks.openings.webs import web_of
from cutmarks.sides import Side
from tests.handmade import opening

LOWER = frozenset({Side.BOTTOM})


def shares(seed: int) -> list[Share]:
    draw = Random(seed)
    found = []
    for k in range(4):
        at: Point[Tile] = Point(80.0 + 90.0 * k, draw.uniform(60.0, 140.0))
        reach = [draw.uniform(20.0, 30.0) for _ in range(24)]
        ways = [k * math.pi / 12 for k in range(24)]
        many = [(at.x + far * math.cos(way), at.y + far * math.sin(way)) for far, way in zip(reach, ways, strict=True)]
        ring: Ring[Tile] = (ring_of(Circle(40.0), at), ring_of(Rect(50.0, 30.0, 20.0), at), polygon(many))[k % 3]
        found.append(Share(opening(f"h{k}", Circle(40.0), at.x, at.y), ring, region(ring), "hole", frozenset()))
    return found


@pytest.mark.parametrize("seed", range(8))
def test_both_ways_agree(seed):
    tile: Region[Tile] = region(polygon([(0.0, 0.0), (430.0, 0.0), (430.0, 200.0), (0.0, 200.0)]))
    every = shares(seed)
    for share in every:
        others = [other for other in every if other is not share]
        short, long = web_of(share, tile, others), webs._web_by_levels(share, tile, others)
        assert short.nearest == pytest.approx(long.nearest, abs=1e-9)
        for side in ("left", "right", "bottom", "top"):
            # A tip that overhangs is a point at its own level, which the long way passes over: it may only say more.
            assert getattr(short, side) <= getattr(long, side) + 1e-9, side
            if share.ring.vertices[0].bulge or len(share.ring.vertices) == 4:
                assert getattr(short, side) == pytest.approx(getattr(long, side), abs=1e-9), side
        # By hand: all corners lie between the outermost, and a circle reaches its radius of 20 each way.
        out = 20.0 if share.ring.vertices[0].bulge else 0.0
        assert short.bottom == pytest.approx(min(y for _, y, _ in share.ring.vertices) - out, abs=1e-9)


def test_a_round_notch_is_widest_level_with_its_middle():
    # By hand: a circle of 60 about (48.5, 10) over the lower edge of a tile comes nearest to the left edge at the level
    # of its middle, 48.5 - 30 = 18.5, and to the right one there too, 300 - 78.5 = 221.5. At the edge itself, and
    # halfway up, its half-chord is 28.28, and 20.2 would be said to be left.
    tile: Region[Tile] = region(polygon([(0.0, 0.0), (300.0, 0.0), (300.0, 100.0), (0.0, 100.0)]))
    at: Point[Tile] = Point(48.5, 10.0)
    ring = ring_of(Circle(60.0), at)
    share = Share(
        opening("pipe", Circle(60.0), at.x, at.y), ring, intersection(region(ring), tile), "edge notch", LOWER
    )
    web = web_of(share, tile)
    assert (web.left, web.right, web.bottom, web.top) == (
        pytest.approx(18.5), pytest.approx(221.5), None, pytest.approx(60.0)
    )  # fmt: skip
    assert web.nearest == pytest.approx(18.5)
