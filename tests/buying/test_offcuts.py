"""Which pieces one tile gives, by hand; and the fewest tiles against a search of every way to put pieces together."""

from __future__ import annotations

import random
from collections.abc import Iterator, Sequence
from itertools import permutations, product

import pytest
from msgspec.structs import replace

from cutmarks.buying.least import fewest
from cutmarks.buying.offcuts import ToCut, Turned, WholeTile, shared_tiles
from cutmarks.sides import SIDES, Side

LEFT, RIGHT, BOTTOM, TOP = Side.LEFT, Side.RIGHT, Side.BOTTOM, Side.TOP


def piece(name: str, w: float, h: float, *cut: Side) -> ToCut:
    """A piece that was trimmed on these sides: it needs the maker's edge on the others."""
    return ToCut(name, w, h, frozenset(SIDES) - frozenset(cut))


def tiles_for(pieces: Sequence[ToCut], tile: WholeTile) -> int:
    shared, step = shared_tiles(pieces, tile)
    assert step == 0.0
    return len(pieces) - sum(len(one.pieces) - 1 for one in shared)


def named(pieces: Sequence[ToCut], tile: WholeTile) -> set[frozenset[str]]:
    return {frozenset(one.pieces) for one in shared_tiles(pieces, tile)[0]}


TILE = WholeTile(397, 247, kerf=2)


def test_a_left_end_and_a_right_end_come_from_one_tile() -> None:
    # 175½ + 175½ + kerf 2 = 353 of 397.
    ends = [piece("left", 175.5, 247, LEFT), piece("right", 175.5, 247, RIGHT)]
    assert named(ends, TILE) == {frozenset({"left", "right"})}


def test_two_left_ends_both_need_the_tiles_right_edge() -> None:
    ends = [piece("one", 175.5, 247, LEFT), piece("two", 175.5, 247, LEFT)]
    assert named(ends, TILE) == set()


@pytest.mark.parametrize("turned", ["half", "any"])
def test_turned_half_round_a_right_end_is_a_left_end(turned: Turned) -> None:
    ends = [piece("one", 175.5, 247, LEFT), piece("two", 175.5, 247, LEFT)]
    assert named(ends, WholeTile(397, 247, 2, turned)) == {frozenset({"one", "two"})}


@pytest.mark.parametrize(("wide", "tiles"), [(197.5, 1), (197.6, 2)])
def test_the_saw_takes_its_kerf(wide: float, tiles: int) -> None:
    # 197½ + 2 + 197½ = 397.
    ends = [piece("left", wide, 247, LEFT), piece("right", wide, 247, RIGHT)]
    assert tiles_for(ends, TILE) == tiles


def test_without_a_kerf_two_halves_are_a_tile() -> None:
    ends = [piece("left", 198.5, 247, LEFT), piece("right", 198.5, 247, RIGHT)]
    assert tiles_for(ends, WholeTile(397, 247, 0)) == 1


def test_a_top_row_and_a_bottom_row_share_tiles_too() -> None:
    # 120 + 2 + 120 = 242 of 247.
    ends = [piece("top", 397, 120, TOP), piece("floor", 397, 120, BOTTOM)]
    assert named(ends, TILE) == {frozenset({"top", "floor"})}


def test_a_strip_across_gives_no_piece_that_is_as_wide_as_the_tile() -> None:
    ends = [piece("left", 100, 247, LEFT), piece("top", 397, 100, TOP)]
    assert named(ends, TILE) == set()


def test_a_corner_piece_keeps_the_two_edges_that_it_has() -> None:
    # Trimmed left and at the top it needs right and bottom: beside it, across, lies a piece that needs left.
    corner = piece("corner", 150, 120, LEFT, TOP)
    assert named([corner, piece("right", 200, 247, RIGHT)], TILE) == {frozenset({"corner", "right"})}
    assert named([corner, piece("left", 200, 247, LEFT)], TILE) == set()


def test_what_is_cut_on_both_sides_comes_from_between() -> None:
    # 150 + 2 + 90 + 2 + 150 = 394 of 397.
    ends = [piece("left", 150, 247, LEFT), piece("pier", 90, 247, LEFT, RIGHT), piece("right", 150, 247, RIGHT)]
    assert named(ends, TILE) == {frozenset({"left", "pier", "right"})}


def test_a_quarter_turn_needs_a_tile_without_a_pattern() -> None:
    # 240 across fits in the 247 up; its own edges left (a maker's) and right (cut) then lie along the other axis.
    strips = [piece("wide", 240, 100, RIGHT, TOP), piece("low", 240, 140, RIGHT, TOP, BOTTOM)]
    assert tiles_for(strips, WholeTile(397, 247, 2, "any")) == 1
    upright = [piece("one", 240, 180, RIGHT, TOP), piece("two", 240, 180, RIGHT, TOP)]
    assert tiles_for(upright, WholeTile(397, 247, 2, "half")) == 2
    assert tiles_for(upright, WholeTile(397, 247, 2, "any")) == 1


def test_a_whole_edge_on_both_sides_leaves_nothing_to_share() -> None:
    # What is trimmed by an L goes to both ends of its tile.
    assert named([piece("ell", 397, 247), piece("right", 20, 247, RIGHT)], TILE) == set()


def test_the_offcut_serves_the_nearest_piece() -> None:
    # Either left end would do; the one that follows is taken, not the one of tomorrow.
    ends = [
        piece("1-1", 175.5, 247, LEFT),
        piece("1-5", 175.5, 247, RIGHT),
        piece("other", 300, 247, RIGHT),
        piece("under 1-1", 170, 247, LEFT),
    ]
    assert named(ends, TILE) == {frozenset({"1-1", "1-5"})}


def test_of_ways_that_take_no_more_tiles_the_bonds_own_is_taken() -> None:
    # 62 and 68 at the right ends, 226 and 221 at the left: with a kerf of 2 each goes with each, 68 + 226 + 2 = 296.
    pieces = [
        piece("r1", 62, 197, Side.RIGHT),
        piece("l2", 226, 197, Side.LEFT),
        piece("r3", 68, 197, Side.RIGHT),
        piece("l4", 221, 197, Side.LEFT),
    ]
    tile = WholeTile(297, 197, 2)
    assert named(pieces, tile) == {frozenset({"r1", "l2"}), frozenset({"r3", "l4"})}
    after = {"l2": "r3", "l4": "r1"}
    bonded = [replace(one, after=after.get(one.name, "")) for one in pieces]
    assert named(bonded, tile) == {frozenset({"r3", "l2"}), frozenset({"r1", "l4"})}


def slantwise(name: str, *corners: tuple[float, float]) -> ToCut:
    """A piece of a turned area, of a tile of 300: the sides on which it reaches the tile's own edge are the maker's."""
    xs, ys = [x for x, _ in corners], [y for _, y in corners]
    ends = {LEFT: min(xs) == 0, RIGHT: max(xs) == 300, BOTTOM: min(ys) == 0, TOP: max(ys) == 300}
    makers = frozenset(side for side, is_makers in ends.items() if is_makers)
    return ToCut(name, max(xs) - min(xs), max(ys) - min(ys), makers, corners)


SQUARE = WholeTile(300, 300, kerf=2)


@pytest.mark.parametrize(("short", "tiles"), [(1.5, 1), (1.4, 2)])
def test_a_tile_cut_from_corner_to_corner_gives_both_its_halves(short: float, tiles: int) -> None:
    # Each half ends `short` of the diagonal along both sides: between them 2 x short / root 2 is left, 2.12 or 1.98.
    low = slantwise("low", (0, 0), (300 - short, 0), (0, 300 - short))
    high = slantwise("high", (300, 300), (short, 300), (300, short))
    assert tiles_for([low, high], SQUARE) == tiles


def test_two_halves_of_one_corner_need_the_tile_turned() -> None:
    pair = [slantwise(name, (0, 0), (290, 0), (0, 290)) for name in ("one", "two")]
    assert tiles_for(pair, SQUARE) == 2
    assert tiles_for(pair, WholeTile(300, 300, 2, "half")) == 1


def test_a_half_leaves_no_piece_that_is_more_than_the_other_half() -> None:
    half = slantwise("half", (0, 0), (298, 0), (0, 298))
    more = slantwise("more", (300, 300), (0, 300), (0, 290), (290, 0), (300, 0))
    assert tiles_for([half, more], SQUARE) == 2


def test_of_two_choices_the_cheaper_is_taken() -> None:
    # The middle one goes with either of the others: two tiles in any case.
    ways = [{0: 1, 1: 1}, {1: 1, 2: 1}]
    assert fewest(ways, [1.0, 2.0], [1, 1, 1]) == [1, 0]
    assert fewest(ways, [2.0, 1.0], [1, 1, 1]) == [0, 1]


def test_too_many_ways_are_said_and_none_is_shared() -> None:
    # Strips of 1 to 60, thirty and more to a tile: no step makes few ways of them.
    pieces = [piece(str(n), n, 247, LEFT, RIGHT) for n in range(1, 61)]
    assert shared_tiles(pieces, TILE) == ((), None)


def test_many_sizes_are_taken_up_to_whole_steps_and_still_fit() -> None:
    # A hundred courses between two edges that rake, each pair of ends 100.05 to 190.1 wide: every left end and every
    # right end of it go on one tile, 190.1 + 190.1 + 2 of 397, and no two left ones do.
    lefts = [piece(f"l{n}", 100.05 + n * 0.91, 247, LEFT) for n in range(100)]
    rights = [piece(f"r{n}", 100.05 + n * 0.91, 247, RIGHT) for n in range(100)]
    shared, step = shared_tiles([*lefts, *rights], TILE)
    assert step is not None
    assert step > 0.0
    assert len(shared) == 100
    wide = {one.name: one.w for one in (*lefts, *rights)}
    assert all(sum(wide[name] for name in one.pieces) + 2 <= 397 for one in shared)
    assert {len(tile.pieces) for tile in shared} == {2}


def test_fewest_tiles_as_a_search_of_every_way_finds() -> None:
    random.seed(12)
    seen = set()
    for case in range(50):
        turned: Turned = random.choice(["no", "half"])
        tile = WholeTile(400, 250, random.choice([0, 2, 3]), turned)
        pieces = [random_piece(str(n), tile) for n in range(random.randint(3, 6))]
        fewest = searched(pieces, tile)
        assert tiles_for(pieces, tile) == fewest, (case, pieces, tile)
        seen.add(len(pieces) - fewest)
    assert {0, 1, 2, 3} <= seen  # it was tried where one, two and three are saved


def random_piece(name: str, tile: WholeTile) -> ToCut:
    sides = random.choice([(LEFT,), (RIGHT,), (LEFT, RIGHT), (TOP,), (BOTTOM,), (LEFT, TOP), (RIGHT, BOTTOM)])
    w = random.choice([60, 90, 130, 190, 197, 210, 300]) if {LEFT, RIGHT} & set(sides) else tile.w
    h = random.choice([40, 80, 120, 160]) if {BOTTOM, TOP} & set(sides) else tile.h
    return piece(name, w, h, *sides)


def searched(pieces: Sequence[ToCut], tile: WholeTile) -> int:
    """The fewest sets into which the pieces can be parted so that each set comes from one tile: all are tried."""
    best = len(pieces)
    for parting in partings(list(pieces)):
        if len(parting) < best and all(comes_from_one(one, tile) for one in parting):
            best = len(parting)
    return best


def partings(pieces: list[ToCut]) -> Iterator[list[list[ToCut]]]:
    if not pieces:
        yield []
        return
    first, *rest = pieces
    for parting in partings(rest):
        yield [[first], *parting]
        for number in range(len(parting)):
            yield [*parting[:number], [first, *parting[number]], *parting[number + 1 :]]


def comes_from_one(pieces: list[ToCut], tile: WholeTile) -> bool:
    """Every order in a row, every way round: the first may need the row's beginning, the last its end, none between."""
    if len(pieces) == 1:
        return True
    for low, high, long, wide in ((LEFT, RIGHT, "w", "h"), (BOTTOM, TOP, "h", "w")):
        length = sum(getattr(one, long) for one in pieces) + tile.kerf * (len(pieces) - 1)
        if length > getattr(tile, long) or any(getattr(one, wide) > getattr(tile, wide) for one in pieces):
            continue
        for row in permutations(pieces):
            for turns in product((False, True) if tile.turned == "half" else (False,), repeat=len(row)):
                needs = [
                    ((high if turn else low) in one.makers, (low if turn else high) in one.makers)
                    for one, turn in zip(row, turns, strict=True)
                ]
                begins = not any(need[0] for need in needs[1:])
                if begins and not any(need[1] for need in needs[:-1]):
                    return True
    return False
