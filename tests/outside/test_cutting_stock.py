"""Fewest tiles: the published optimum of a cutting-stock instance, and a library's maximum matching as referee.

The guillotine instances (cgcut1, gcut1) are not worked here: every piece of a tile lies in one row along a side, since
it needs the maker's edge at each joint.
"""

from __future__ import annotations

import random

import numpy as np
import pytest
from scipy.sparse import csr_array
from scipy.sparse.csgraph import maximum_bipartite_matching

from cutmarks.buying.offcuts import ToCut, WholeTile, shared_tiles
from cutmarks.sides import SIDES, Side

STOCK = 5600
STRIPS = {
    1380: 22, 1520: 25, 1560: 12, 1710: 14, 1820: 18, 1880: 18, 1930: 20, 2000: 10, 2050: 12, 2100: 14, 2140: 16,
    2150: 18, 2200: 20,
}  # fmt: skip
"""The textbook instance of 219 strips: 73 of 5600 are the optimum; first-fit decreasing needs 82."""


def strips(lengths: dict[int, int], wide: float = 100.0) -> list[ToCut]:
    """Strips that are cut at both ends, so that any number of them may lie in a row."""
    ends = frozenset({Side.BOTTOM, Side.TOP})
    return [ToCut(f"{length}-{n}", length, wide, ends) for length, many in lengths.items() for n in range(many)]


def tiles_for(pieces: list[ToCut], tile: WholeTile) -> int:
    shared, step = shared_tiles(pieces, tile)
    assert step == 0.0
    return len(pieces) - sum(len(one.pieces) - 1 for one in shared)


def test_strips_from_equal_lengths_take_the_published_optimum() -> None:
    pieces = strips(STRIPS)
    assert len(pieces) == 219
    assert tiles_for(pieces, WholeTile(STOCK, 100, kerf=0)) == 73


def test_a_kerf_is_added_to_strip_and_stock() -> None:
    # workshop practice: with a kerf of 3 added to each strip and once to the stock the same 73 come out.
    wider = {length - 3: many for length, many in STRIPS.items()}
    assert tiles_for(strips(wider), WholeTile(STOCK - 3, 100, kerf=3)) == 73


def test_first_fit_decreasing_needs_more() -> None:
    # The published 82 of first-fit decreasing: what a saw that takes the next that fits would use.
    left: list[int] = []
    for length in sorted((length for length, many in STRIPS.items() for _ in range(many)), reverse=True):
        at = next((n for n, room in enumerate(left) if room >= length), None)
        if at is None:
            left.append(STOCK - length)
        else:
            left[at] -= length
    assert len(left) == 82


@pytest.mark.parametrize("seed", range(12))
def test_offcuts_serve_as_many_pieces_as_a_maximum_matching_has(seed: int) -> None:
    # Not turned, a piece that was trimmed on the left pairs with one that was trimmed on the right: two sides of a
    # bipartite graph, which scipy's own Hopcroft-Karp matches.
    random.seed(seed)
    tile = WholeTile(400, 250, kerf=2)
    sizes = [random.uniform(20, 390) for _ in range(60)]
    lefts, rights = sizes[:30], sizes[30:]
    pieces = [_trimmed(f"l{n}", size, Side.LEFT) for n, size in enumerate(lefts)]
    pieces += [_trimmed(f"r{n}", size, Side.RIGHT) for n, size in enumerate(rights)]
    fits = np.array([[one + 2 + other <= 400 for other in rights] for one in lefts], dtype=int)
    matched = maximum_bipartite_matching(csr_array(fits), perm_type="column")
    assert len(pieces) - tiles_for(pieces, tile) == int((matched >= 0).sum()) > 5


def _trimmed(name: str, wide: float, cut: Side) -> ToCut:
    return ToCut(name, wide, 250, frozenset(SIDES) - {cut})
