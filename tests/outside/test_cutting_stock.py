"""Fewest tiles: the published optima of cutting instances, and a library's maximum matching as referee.

Of the guillotine instances the gap to the published optimum is nought: cgcut1 (N. Christofides and C. Whitlock 1977)
244, and gcut1 (J. E. Beasley 1985, OR-Library) 56460, with pieces turned 58136 (G. F. Cintra and Y. Wakabayashi). Where
a piece may be taken any number of times a second method is at hand, the recursion of P. C. Gilmore and R. E. Gomory
over all whole places of a cut, which is written here; with it cgcut1 has 249.
"""

from __future__ import annotations

import random
from collections.abc import Sequence

import numpy as np
import pytest
from scipy.sparse import csr_array
from scipy.sparse.csgraph import maximum_bipartite_matching

from cutmarks.buying.guillotine import StockBlank, StockSheet, possible
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


CGCUT1 = ((8, 4, 2, 66), (3, 7, 1, 35), (8, 2, 3, 24), (3, 4, 5, 17), (3, 3, 2, 11), (3, 2, 2, 8), (2, 1, 1, 2))
"""In a sheet of 15 x 10: length, width, at most so many, what each is worth."""
GCUT1 = (
    *((167, 184), (114, 118), (167, 152), (83, 140), (70, 86), (143, 166), (120, 160), (66, 148), (87, 141)),
    (69, 165),
)
"""In a sheet of 250 x 250, any number of each, worth their area."""
LIMIT = 20_000


def worth_of(rows: tuple[tuple[int, int, int, int], ...], sheet: tuple[int, int], *, turned: bool) -> float:
    blanks = [
        StockBlank(kind, *size)
        for kind, (w, h, _, _) in enumerate(rows)
        for size in ({(w, h), (h, w)} if turned else {(w, h)})
    ]
    return best_of(blanks, rows, StockSheet(*sheet))


def best_of(blanks: Sequence[StockBlank], rows: tuple[tuple[int, int, int, int], ...], sheet: StockSheet) -> int:
    """The most that the pieces of one sheet are worth, of all that it can give."""
    choices = possible(blanks, tuple(row[2] for row in rows), sheet, LIMIT)
    assert choices is not None
    return max(sum(many * row[3] for many, row in zip(choice, rows, strict=True)) for choice in choices)


def any_number(rows: tuple[tuple[int, int, int], ...], wide: int, high: int, *, turned: bool) -> int:
    """Gilmore and Gomory: the best of a w x h is a piece, or the best of its two parts at any whole place."""
    best = np.zeros((wide + 1, high + 1), dtype=int)
    for w, h, worth in (*rows, *((h, w, worth) for w, h, worth in rows if turned)):
        best[w:, h:] = np.maximum(best[w:, h:], worth)
    for w in range(1, wide + 1):
        for h in range(1, high + 1):
            across = (best[1 : w // 2 + 1, h] + best[w - 1 : w - w // 2 - 1 : -1, h]).max(initial=0)
            up = (best[w, 1 : h // 2 + 1] + best[w, h - 1 : h - h // 2 - 1 : -1]).max(initial=0)
            best[w, h] = max(best[w, h], across, up)
    return int(best[wide, high])


def test_so_many_of_each_out_of_one_sheet_take_the_published_optimum() -> None:
    assert worth_of(CGCUT1, (15, 10), turned=False) == 244
    assert any_number(tuple((w, h, worth) for w, h, _, worth in CGCUT1), 15, 10, turned=False) == 249


@pytest.mark.parametrize(("turned", "published"), [(False, 56460), (True, 58136)])
def test_any_number_of_each_takes_the_published_optimum(turned: bool, published: int) -> None:
    rows = tuple((w, h, 250 * 250 // (w * h), w * h) for w, h in GCUT1)
    assert worth_of(rows, (250, 250), turned=turned) == published
    assert any_number(tuple((w, h, w * h) for w, h in GCUT1), 250, 250, turned=turned) == published


@pytest.mark.parametrize("seed", range(6))
def test_a_kerf_is_the_same_as_larger_pieces_of_a_larger_sheet(seed: int) -> None:
    random.seed(seed)
    sizes = [(random.randrange(5, 13), random.randrange(5, 13)) for _ in range(4)]
    rows = tuple((w, h, 20, w * h) for w, h in sizes)
    larger = any_number(tuple((w + 2, h + 2, worth) for w, h, _, worth in rows), 32, 27, turned=False)
    blanks = [StockBlank(kind, w, h) for kind, (w, h, _, _) in enumerate(rows)]
    assert best_of(blanks, rows, StockSheet(30, 25, 2)) == larger
