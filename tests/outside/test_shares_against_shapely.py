"""What an opening takes out of each piece, by area, against shapely (GEOS) on random jobs.

As a referee shapely works in the tile's own frame, on one opening at a time, with arcs as polygons of 1024 chords a
turn. These lose r^2 / 2 (a - sin a) a chord (circle segment), (2 pi / 1024)^2 / 6 or 6.3e-6 of a disc in all.
"""

from __future__ import annotations

import math
from random import Random

import pytest

from cutmarks.geometry.regions import region
from cutmarks.openings.cuts import to_tile
from tests.properties.accounts import plan_of
from tests.properties.referee import polygon_of
from tests.properties.strategies import ALL, random_scene

LOST = (2 * math.pi / 1024) ** 2 / 6
"""What a polygon of 1024 chords lacks of its disc."""
ROUNDING = 0.002
"""Coordinates come rounded to 1e-6 mm, over outlines of a metre or two, mm2."""


@pytest.mark.parametrize("seed", range(0, 60, 10))
def test_shares_are_the_referee_s(seed: int) -> None:
    looked_at = 0
    for one in range(seed, seed + 10):
        plan = plan_of(random_scene(Random(one), ALL))
        for piece in () if plan is None else plan.pieces:
            if piece.part is not None:
                continue
            left, lost = polygon_of(piece.piece.outline), 0.0
            for cut in piece.cuts:
                ring, _ = to_tile(cut.opening, piece.piece)
                opening = polygon_of(region(ring))
                share = polygon_of(piece.piece.outline).intersection(opening)
                lost += LOST * ring.area
                assert abs(cut.share.area - share.area) < LOST * ring.area + ROUNDING, (
                    one,
                    piece.name,
                    cut.opening.name,
                )
                left = left.difference(opening)
                looked_at += 1
            assert abs(piece.outline.area - left.area) < lost + ROUNDING, (one, piece.name)
    assert looked_at > 10
