"""A shared tile cut by its one order, in polygons of another library: every piece comes out of it whole, and no less.

The saw's kerf is a polygon beside each line that the order tells; what is left of the tile falls apart into parts. The
part that a piece lies in is the piece, where nothing is said to be left to cut, and holds all of it where something is.
"""

from __future__ import annotations

import random
from collections.abc import Iterator

import pytest
from msgspec.structs import replace
from shapely import Polygon, box
from shapely.ops import unary_union

from cutmarks.cutting.making import CutWith
from cutmarks.openings.model import CutPiece
from cutmarks.plan import Plan
from cutmarks.plan.how_cut import how_pieces_are_cut
from cutmarks.plan.model import Supplies, TileStock
from cutmarks.sides import Side
from cutmarks.tiling.model import TileKind
from cutmarks.workshop.pack import ShopPack
from cutmarks.workshop.shared import Lying, SharedTile, still_to_cut
from cutmarks.writers.workshop import shop_pack
from tests.handmade import cut_piece, plan_of

SLATE = TileKind("slate", 300.0, 200.0, True, thickness=9.0)
SLAB = TileKind("slate", 1200.0, 600.0, True, thickness=6.0, material="porcelain panel")
RUN_OUT = 0.02
"""A cut that goes right through is told in hundredths, and may end just short of the tile, mm."""
NEAR = 0.15
"""What is alike, and hundredths that a layout is taken up to, along the sides of a piece: mm."""


def pieces_of(seed: int, tile: TileKind) -> Iterator[CutPiece]:
    """Ends of courses, left and right, straight or raking, some of them lower than the tile."""
    rng = random.Random(seed)
    for number in range(rng.choice((2, 3, 4, 6))):
        low = round(rng.uniform(0.15, 0.7) * tile.w, 1)
        high = low if rng.random() < 0.5 else round(low + rng.uniform(-0.04, 0.04) * tile.w, 1)
        top = tile.h if rng.random() < 0.6 else round(rng.uniform(0.3, 0.8) * tile.h, 1)
        at_top = low + (high - low) * top / tile.h
        right = rng.random() < 0.5
        corners = ((0.0, 0.0), (low, 0.0), (at_top, top), (0.0, top))
        if right:
            corners = ((tile.w - low, 0.0), (tile.w, 0.0), (tile.w, top), (tile.w - at_top, top))
        sides = [Side.RIGHT if right else Side.LEFT, Side.BOTTOM, *([Side.TOP] if top == tile.h else [])]
        yield cut_piece(
            [],
            tile.w,
            tile.h,
            at=(0.0, 0.0),
            name=f"a 1-{number}",
            tile=tile,
            trimmed_to=corners,
            factory=sides,
            place=(number, 0),
        )


def planned(pieces: list[CutPiece], pattern: str) -> Plan:
    return replace(
        plan_of(pieces, sheets=False),
        supplies=Supplies({"slate": TileStock("slate", pattern=pattern)}),  # type: ignore[arg-type]
        how_cut=how_pieces_are_cut(pieces, CutWith(), ""),
    )


def lying(here: Lying) -> Polygon:
    """A piece as it lies in its tile."""
    (ring,) = here.one.piece.outline.rings
    return Polygon([here.place.xy(v.x, v.y) for v in ring.vertices])


def kerfs(tile: SharedTile) -> list[Polygon]:
    """What the saw takes, beside the edge that each cut makes, on the side that is not kept."""
    found = []
    for cut in tile.cuts:
        across = cut.across
        off = tile.kerf if across.at <= across.low else -tile.kerf
        low, high = across.start - RUN_OUT, across.end + RUN_OUT
        row = [(cut.first, low), (cut.last, high), (cut.last + off, high), (cut.first + off, low)]
        found.append(Polygon(row if across.axis == "across" else [(y, x) for x, y in row]))
    return found


def off_by(a: Polygon, b: Polygon) -> float:
    """How far two polygons are from being one, as a strip along their border, mm."""
    return a.symmetric_difference(b).area / b.length


def checked(made: ShopPack) -> tuple[int, int, int]:
    """How many pieces came out whole, how many need more, and how many cuts were made aslant."""
    whole = more = slants = 0
    for tile in made.shared:
        taken = kerfs(tile)
        slants += sum(bool(cut.of) for cut in tile.cuts)
        left = box(0.0, 0.0, tile.w, tile.h).difference(unary_union(taken))
        parts = list(getattr(left, "geoms", [left]))
        for here in tile.lying:
            own = lying(here)
            assert max(kerf.intersection(own).area for kerf in taken) / own.length < NEAR, here.one.piece.name
            part = max(parts, key=lambda one: one.intersection(own).area)
            if still_to_cut(tile, here, here.one).operations:
                assert own.difference(part).area / own.length < NEAR
                assert off_by(part, own) >= 0.01
                more += 1
            else:
                assert off_by(part, own) < NEAR, (here.one.piece.name, part, own)
                whole += 1
    return whole, more, slants


@pytest.mark.parametrize(
    ("tile", "pattern", "seeds"), [(SLATE, "none", 40), (SLATE, "one way", 40), (SLAB, "none", 12)]
)
def test_every_piece_comes_whole_out_of_its_shared_tile(tile: TileKind, pattern: str, seeds: int) -> None:
    whole = more = slants = 0
    for seed in range(seeds):
        found = checked(shop_pack([planned(list(pieces_of(seed, tile)), pattern)]))
        whole, more, slants = whole + found[0], more + found[1], slants + found[2]
    assert whole > seeds // 2  # so much was looked at
    assert slants > seeds // 10


def test_a_slant_the_wrong_way_round_would_be_found() -> None:
    made = next(
        pack
        for pack in (shop_pack([planned(list(pieces_of(seed, SLATE)), "none")]) for seed in range(40))
        if any(cut.of for tile in pack.shared for cut in tile.cuts)
    )
    bent = [
        replace(tile, cuts=tuple(replace(cut, first=cut.last, last=cut.first) for cut in tile.cuts))
        for tile in made.shared
    ]
    with pytest.raises(AssertionError):
        checked(replace(made, shared=tuple(bent)))
