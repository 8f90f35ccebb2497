"""What one sheet gives by cuts that go right across: layouts followed cut by cut, and sheets cut up at random.

The second reckoning knows cuts alone: parts of a sheet, each cut through one of them, and what is left in the end.
"""

from __future__ import annotations

import random
from collections.abc import Iterator, Sequence

import pytest

from cutmarks.buying.guillotine import SheetLayout, StockBlank, StockSheet, possible
from cutmarks.buying.model import Shared
from cutmarks.buying.offcuts import ToCut, Turned, WholeTile, shared_tiles
from cutmarks.sides import SIDES, Side

LEFT, RIGHT, BOTTOM, TOP = Side.LEFT, Side.RIGHT, Side.BOTTOM, Side.TOP
Part = tuple[float, float, float, float]
NEAR = 0.011
"""Sizes are taken up to hundredths."""


def followed(layout: SheetLayout, sheet: StockSheet) -> list[Part]:
    """The parts that are left after all cuts; each has to go right through one part, and through none beside it."""
    parts: list[Part] = [(0.0, 0.0, sheet.w, sheet.h)]
    for cut in layout.cuts:
        along = 1 if cut.axis == "across" else 0  # the axis that the saw moves on
        met = [
            part
            for part in parts
            if abs(part[along] - cut.start) <= NEAR
            and abs(part[along + 2] - cut.end) <= NEAR
            and part[1 - along] - NEAR <= cut.at <= part[3 - along] + NEAR
        ]
        assert len(met) == 1, (cut, parts)
        (part,) = met
        parts.remove(part)
        below, above = list(part), list(part)
        below[3 - along], above[1 - along] = cut.low, cut.low + sheet.kerf
        assert cut.at in (below[3 - along], pytest.approx(above[1 - along], abs=NEAR))
        parts += [(a, b, c, d) for a, b, c, d in (below, above) if c - a > NEAR and d - b > NEAR]
    return parts


def holds(layout: SheetLayout, sheet: StockSheet, makers: Sequence[frozenset[Side]]) -> None:
    """Each piece comes out as a part of its own, of its own size, at the sides that it needs."""
    parts = followed(layout, sheet)
    for one in layout.pieces:
        own = [
            part
            for part in parts
            if all(abs(a - b) <= NEAR for a, b in zip(part, (one.x, one.y, one.x + one.w, one.y + one.h), strict=True))
        ]
        assert len(own) == 1, (one, parts)
        parts.remove(own[0])
        there = {LEFT: one.x, BOTTOM: one.y, RIGHT: sheet.w - one.x - one.w, TOP: sheet.h - one.y - one.h}
        assert all(abs(there[side]) <= NEAR for side in makers[one.kind])
    left = sorted((x1 - x0) * (y1 - y0) for x0, y0, x1, y1 in parts)
    assert left == pytest.approx(sorted(w * h for w, h in layout.left), abs=20.0)


def cut_up(sheet: Part, whole: StockSheet, pieces: int) -> Iterator[Part]:
    """A sheet cut at random, right through each time, into so many parts."""
    x0, y0, x1, y1 = sheet
    if pieces == 1:
        yield sheet
        return
    ours = random.randrange(1, pieces)
    if x1 - x0 > y1 - y0:
        at = round(random.uniform(x0 + 0.25 * (x1 - x0), x0 + 0.7 * (x1 - x0)), 1)
        yield from cut_up((x0, y0, at, y1), whole, ours)
        yield from cut_up((at + whole.kerf, y0, x1, y1), whole, pieces - ours)
    else:
        at = round(random.uniform(y0 + 0.25 * (y1 - y0), y0 + 0.7 * (y1 - y0)), 1)
        yield from cut_up((x0, y0, x1, at), whole, ours)
        yield from cut_up((x0, at + whole.kerf, x1, y1), whole, pieces - ours)


@pytest.mark.parametrize("seed", range(30))
def test_what_was_cut_out_of_a_sheet_comes_out_of_it_again(seed: int) -> None:
    random.seed(seed)
    sheet = StockSheet(1200.0, 600.0, random.choice((0.0, 2.0, 3.2)))
    parts = list(cut_up((0.0, 0.0, sheet.w, sheet.h), sheet, random.choice((2, 3, 4, 5))))
    makers = [frozenset(side for side in sides_of(part, sheet) if random.random() < 0.6) for part in parts]
    blanks = [StockBlank(kind, x1 - x0, y1 - y0, makers[kind]) for kind, (x0, y0, x1, y1) in enumerate(parts)]
    found = possible(blanks, (1,) * len(parts), sheet, 500)
    assert found is not None
    assert (1,) * len(parts) in found
    for layout in found.values():
        holds(layout, sheet, makers)


def sides_of(part: Part, sheet: StockSheet) -> Iterator[Side]:
    x0, y0, x1, y1 = part
    yield from (
        side for side, off in ((LEFT, x0), (BOTTOM, y0), (RIGHT, sheet.w - x1), (TOP, sheet.h - y1)) if off < 1e-6
    )


PANEL = WholeTile(1200, 600, kerf=3, panel=True)


def corner(name: str, *cut: Side) -> ToCut:
    return ToCut(name, 500, 280, frozenset(SIDES) - frozenset(cut))


def of(pieces: Sequence[ToCut], panel: WholeTile) -> list[Shared]:
    shared, step = shared_tiles(pieces, panel)
    assert step == 0.0
    return list(shared)


CORNERS = [corner("a", RIGHT, TOP), corner("b", LEFT, TOP), corner("c", RIGHT, BOTTOM), corner("d", LEFT, BOTTOM)]


def test_four_corners_come_out_of_one_panel() -> None:
    # 500 + 3 + 500 of 1200, 280 + 3 + 280 of 600; each has the two edges of the maker's that meet in its corner.
    (one,) = of(CORNERS, PANEL)
    assert one.pieces == ("a", "b", "c", "d")
    assert one.layout is not None
    at = {one.pieces[piece.kind]: (piece.x, piece.y) for piece in one.layout.pieces}
    assert at == {"a": (0, 0), "b": (700, 0), "c": (0, 320), "d": (700, 320)}
    holds(one.layout, StockSheet(1200, 600, 3), [piece.makers for piece in CORNERS])
    # Two cuts through all, or one and one in each half; what is between them is left over.
    assert sum(w * h for w, h in one.layout.left) < 1200 * 600 - 4 * 500 * 280


def test_a_tile_that_is_no_panel_gives_a_row() -> None:
    tile = WholeTile(1200, 600, kerf=3)
    assert [one.pieces for one in of(CORNERS, tile)] == [("a", "b"), ("c", "d")]


@pytest.mark.parametrize(("turned", "panels"), [("no", 2), ("half", 1), ("any", 1)])
def test_two_of_one_corner_need_a_half_turn(turned: Turned, panels: int) -> None:
    pieces = [corner("a", RIGHT, TOP), corner("b", RIGHT, TOP)]
    shared = of(pieces, WholeTile(1200, 600, 3, turned, panel=True))
    assert len(pieces) - sum(len(one.pieces) - 1 for one in shared) == panels


def test_a_quarter_turn_takes_its_makers_edges_along() -> None:
    # 590 x 280, of which the left edge is the maker's, two of three in 600 x 600: one above the other, or beside each
    # other upright, and the third lies in no way.
    pieces = [ToCut(name, 590, 280, frozenset({LEFT})) for name in ("a", "b", "c")]
    (one,) = of(pieces, WholeTile(600, 600, 3, "any", panel=True))
    assert one.layout is not None
    assert len(one.layout.pieces) == 2
    for piece in one.layout.pieces:
        upright = piece.turn % 2 == 1
        assert (piece.w, piece.h) == pytest.approx((280, 590) if upright else (590, 280), abs=NEAR)
        # The left edge of the piece points left, down, right, up as it is turned against the clock.
        at_its_left = {0: piece.x, 1: piece.y, 2: 600 - piece.x - piece.w, 3: 600 - piece.y - piece.h}
        assert at_its_left[piece.turn] == pytest.approx(0.0, abs=NEAR)


def test_a_row_is_drawn_too_and_turned_no_more_than_it_must_be() -> None:
    # A left and a right end of 175.5 in 397: 0 to 175.5 and 221.5 to 397. Two left ends: the one of them upside down.
    tile = WholeTile(397, 247, 2, "any")
    ends = [ToCut("a", 175.5, 247, frozenset(SIDES) - {RIGHT}), ToCut("b", 175.5, 247, frozenset(SIDES) - {LEFT})]
    (one,) = of(ends, tile)
    assert one.layout is not None
    assert sorted((piece.x, piece.turn) for piece in one.layout.pieces) == [(0.0, 0), (221.5, 0)]
    (two,) = of([ends[0], ToCut("c", 175.5, 247, ends[0].makers)], tile)
    assert two.layout is not None
    assert sorted((piece.x, piece.turn) for piece in two.layout.pieces) == [(0.0, 0), (221.5, 2)]
