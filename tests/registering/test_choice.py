"""The fewest sheets whose worst error is within 0.1 mm of the best possible: against a search through everything.

The second method shares no line with the program: holes as bare numbers on a tile with four factory edges, fixed on
the left and below, A4 in both of its layouts; the error's parts are those of the printed rule (0.5 % of the distance,
0.3 lining up, 0.25 line, 1.0 by tape, 0.5 for another edge of a measured tile), and sheets are told apart by trying
every way to part the holes into groups of two at most.
"""

from __future__ import annotations

import math
import random
from collections.abc import Iterator, Mapping, Sequence
from itertools import product

import pytest

from cutmarks.geometry.shapes import Circle
from cutmarks.registering import PAPERS, error_at, register
from cutmarks.registering.candidates import on_paper
from cutmarks.registering.choice import _searched, choose
from cutmarks.registering.figures import USUAL
from cutmarks.registering.sides import mark_sides
from tests.handmade import cut_piece, opening

VIEWS = (
    {"x": 190.0 - 7.0, "y": 277.0 - 16.5 - 34.0 - 58.0},
    {"x": 277.0 - 84.0 - 7.0, "y": 190.0 - 16.5},
)
"""A4 less 10 mm margins, foot 16.5 and strip 7: head and panels on top, 34 and 58, or at the left of the page, 84."""
AT_EDGES, CLEAR, OF_PAIR, OVERLAP = 8.5, 3.0, 0.5, 16.0
"""The inset of the edge, what is clear at the far end, round two by tape, and what joined sheets both show."""

View = Mapping[str, float]
Hole = tuple[float, float, float]
"""x and y of the middle, radius."""


def parted(items: Sequence[int]) -> Iterator[list[list[int]]]:
    """Every way to part the items into groups of two at most."""
    if not items:
        yield []
        return
    first, rest = items[0], items[1:]
    for groups in parted(rest):
        yield [[first], *groups]
        for number, group in enumerate(groups):
            if len(group) == 1:
                yield [*groups[:number], [first, *group], *groups[number + 1 :]]


class Tile:
    """A tile with holes, and what any sheet costs on it."""

    def __init__(self, w: float, h: float, holes: Sequence[Hole]) -> None:
        self.size = {"x": w, "y": h}
        self.holes = [{"x": x, "y": y, "r": r} for x, y, r in holes]

    def far(self, hole: int, axis: str, near_side: bool) -> float:
        at = self.holes[hole][axis]
        return at if near_side else self.size[axis] - at

    def reached(self, hole: int, axis: str, near_side: bool, view: View) -> bool:
        return self.over(hole, axis, near_side, view) <= -(OF_PAIR if self.far_from_all(hole) else CLEAR)

    def over(self, hole: int, axis: str, near_side: bool, view: View) -> float:
        return self.far(hole, axis, near_side) + self.holes[hole]["r"] - (view[axis] - AT_EDGES)

    def far_from_all(self, hole: int) -> bool:
        """Whether it would be taped both ways, had it to stay clear of the drawing's end as any other."""
        ways = product("xy", (True, False), VIEWS)
        return all(self.over(hole, axis, near_side, view) > -CLEAR for axis, near_side, view in ways)

    def kind_in(self, hole: int, view: View) -> int:
        """How many of its axes need a tape in one layout."""
        return sum(not any(self.reached(hole, axis, near, view) for near in (True, False)) for axis in "xy")

    def kind(self, hole: int) -> int:
        """How many of its axes need a tape, in the layout where the fewest do."""
        return min(self.kind_in(hole, view) for view in VIEWS)

    def on_edge(self, hole: int, axis: str, near_side: bool) -> float:
        return 0.005 * self.far(hole, axis, near_side) + 0.3 + 0.25 + (0.0 if near_side else 0.5)

    def by_tape(self, hole: int, anchor: int, axis: str) -> float:
        return 1.0 + 0.25 + 0.005 * abs(self.holes[hole][axis] - self.holes[anchor][axis])

    def together(self, group: Sequence[int], axis: str, view: View) -> bool:
        """Whether all of the group is within one sheet along an axis that goes by tape."""
        ends = [self.holes[h][axis] + way * self.holes[h]["r"] for h in group for way in (1.0, -1.0)]
        return len(group) == 1 or max(ends) - min(ends) <= view[axis] - 2 * OF_PAIR

    def worst_on_each_sheet(self, group: Sequence[int]) -> Iterator[float]:
        """For every sheet that can carry the group: the worst error on it."""
        for view in VIEWS:
            for near_x, near_y in product((True, False), repeat=2):
                if all(self.reached(h, "x", near_x, view) and self.reached(h, "y", near_y, view) for h in group):
                    yield max(max(self.on_edge(hole, "x", near_x), self.on_edge(hole, "y", near_y)) for hole in group)
            for anchor in group:
                if self.kind(anchor) == self.kind_in(anchor, view):
                    yield from self.by_tapes(group, anchor, view)

    def by_tapes(self, group: Sequence[int], anchor: int, view: View) -> Iterator[float]:
        if self.kind(anchor) == 1:
            for edge, tape in (("x", "y"), ("y", "x")):
                for near_side in (True, False):
                    on_it = all(self.reached(h, edge, near_side, view) for h in group)
                    if on_it and self.together(group, tape, view):
                        yield max(max(self.on_edge(h, edge, near_side), self.by_tape(h, anchor, tape)) for h in group)
        if self.kind(anchor) == 2 and all(self.together(group, axis, view) for axis in "xy"):
            yield max(max(self.by_tape(h, anchor, axis) for axis in "xy") for h in group)

    def choices(self) -> Iterator[tuple[int, float]]:
        """For every way to part the holes: the number of sheets, and the worst error on them."""
        for groups in parted(range(len(self.holes))):
            yield len(groups), max(min(self.worst_on_each_sheet(group), default=99.0) for group in groups)

    def best(self) -> float:
        return min(worst for _, worst in self.choices())

    def fewest(self) -> int:
        limit = self.best() + 0.1 + 1e-9
        return min(sheets for sheets, worst in self.choices() if worst <= limit)


class JoinedTile(Tile):
    """The same with joined sheets in place of the tape: what each group costs in pages, and the worst error."""

    def sheets_to(self, hole: int, axis: str, near_side: bool, view: View) -> int:
        over = self.far(hole, axis, near_side) + self.holes[hole]["r"] - (view[axis] - AT_EDGES - CLEAR)
        return 1 + max(0, math.ceil(over / (view[axis] - OVERLAP)))

    def joins_to(self, hole: int, axis: str, near_side: bool, view: View) -> int:
        """Joins lie in the middle of what two sheets share: the first 8 before the first sheet's end, less 8.5."""
        step = view[axis] - OVERLAP
        first = view[axis] - AT_EDGES - OVERLAP / 2
        far = self.far(hole, axis, near_side)
        return 0 if far <= first else math.ceil((far - first) / step)

    def ways(self, group: Sequence[int]) -> Iterator[tuple[int, float]]:
        for view, near_x, near_y in product(VIEWS, (True, False), (True, False)):
            if all(self.reached(hole, "x", near_x, view) and self.reached(hole, "y", near_y, view) for hole in group):
                yield 1, max(max(self.on_edge(h, "x", near_x), self.on_edge(h, "y", near_y)) for h in group)
            if any(self.kind(hole) for hole in group):
                pages = max(self.sheets_to(h, "x", near_x, view) for h in group) * max(
                    self.sheets_to(h, "y", near_y, view) for h in group
                )
                worst = 0.0
                for h in group:
                    joins = self.joins_to(h, "x", near_x, view) + self.joins_to(h, "y", near_y, view)
                    ends = max(self.on_edge(h, "x", near_x), self.on_edge(h, "y", near_y))
                    worst = max(worst, ends + 0.6 * math.sqrt(joins))
                yield pages, worst

    def fewest(self) -> int:
        partings = [[list(self.ways(group)) for group in groups] for groups in parted(range(len(self.holes)))]
        best = min(max(min((worst for _, worst in ways), default=99.0) for ways in groups) for groups in partings)
        limit = best + 0.1 + 1e-9
        return min(
            sum(min(pages for pages, worst in ways if worst <= limit) for ways in groups)
            for groups in partings
            if all(any(worst <= limit for _, worst in ways) for ways in groups)
        )


def random_tile(seed: int) -> Tile:
    draw = random.Random(seed)
    w, h = draw.choice(((298.0, 598.0), (598.0, 298.0), (448.0, 448.0), (1198.0, 598.0), (1200.0, 1200.0)))
    spread = draw.choice((15.0, 60.0, 2000.0))
    x, y = draw.uniform(20.0, w - 20.0), draw.uniform(20.0, h - 20.0)
    holes = []
    for _ in range(draw.randint(1, 5)):
        r = draw.choice((7.0, 10.0, 17.5))
        at_x = min(max(x + draw.uniform(-spread, spread), r), w - r)
        at_y = min(max(y + draw.uniform(-spread, spread), r), h - r)
        holes.append((at_x, at_y, r))
    return Tile(w, h, holes)


def piece_of(tile: Tile):
    holes = [opening(f"h{n}", Circle(2 * h["r"]), h["x"], h["y"]) for n, h in enumerate(tile.holes)]
    return cut_piece(holes, tile.size["x"], tile.size["y"], at=(0.0, 0.0))


@pytest.mark.parametrize("seed", range(150))
def test_no_fewer_sheets_would_do_and_none_is_worse_than_it_may_be(seed):
    tile = random_tile(seed)
    piece = piece_of(tile)
    sheets = register([piece], "A4")
    assert sorted(index for sheet in sheets for index in sheet.cuts) == list(range(len(tile.holes)))
    worst = max(error_at(piece, piece.cuts[index], sheet) for sheet in sheets for index in sheet.cuts)
    assert worst <= tile.best() + 0.1 + 1e-6
    assert len(sheets) == tile.fewest()


@pytest.mark.parametrize("seed", range(60))
def test_no_fewer_joined_sheets_would_do(seed):
    drawn = random_tile(seed)
    tile = JoinedTile(drawn.size["x"], drawn.size["y"], [(h["x"], h["y"], h["r"]) for h in drawn.holes[:4]])
    sheets = register([piece_of(tile)], "A4", joined=True)
    assert not any(sheet.tape for sheet in sheets)
    assert sum(sheet.pages for sheet in sheets) == tile.fewest()


def test_no_joined_sheet_shows_nothing():
    # Far across and far up: 317.5 is two sheets across (171.5 and 167 upright, 174.5 and 170 turned), two up (turned,
    # 162 and 157.5). As wide as the one and as high as the other they would be four, the last beside neither hole.
    tile = Tile(900.0, 900.0, [(300.0, 60.0, 17.5), (60.0, 300.0, 17.5)])
    sheets = register([piece_of(tile)], "A4", joined=True)
    assert sorted((sheet.cuts, sheet.columns, sheet.rows) for sheet in sheets) == [((0,), 2, 1), ((1,), 1, 2)]


@pytest.mark.parametrize(("middle", "taped"), [(157.0, 1), (159.5, 1), (160.0, 2)])
def test_a_hole_stands_near_the_end_of_the_drawing_rather_than_be_taped_twice(middle, taped):
    # Turned, 186 are across: 177.5 from the edge, 3 of them clear. 157 and 17.5 are 174.5: as any hole. 159.5 and 17.5
    # are 177, half a millimetre from the end; 177.5 is none. 400 is too far from below and above.
    tile = Tile(900.0, 900.0, [(middle, 400.0, 17.5)])
    (sheet,) = register([piece_of(tile)], "A4")
    assert len(sheet.tape) == taped


def test_some_of_these_tiles_share_sheets_and_some_need_the_tape():
    tiles = [random_tile(seed) for seed in range(150)]
    assert sum(tile.fewest() < len(tile.holes) for tile in tiles) > 30
    assert sum(any(tile.kind(hole) for hole in range(len(tile.holes))) for tile in tiles) > 30


def test_a_tile_full_of_holes_is_done_in_a_moment_and_every_hole_is_there():
    spots = [(40.0 + 120.0 * i, 40.0 + 120.0 * j) for i in range(10) for j in range(10)]
    piece = cut_piece([opening(f"{x} {y}", Circle(20.0), x, y) for x, y in spots], 1200.0, 1200.0, at=(0.0, 0.0))
    sheets = register([piece], "A4")
    assert sorted(index for sheet in sheets for index in sheet.cuts) == list(range(len(spots)))


@pytest.mark.parametrize("seed", range(150))
def test_a_cut_alone_gets_the_sheet_that_the_search_finds(seed):
    drawn = random_tile(seed)
    for number, hole in enumerate(drawn.holes):
        piece = piece_of(Tile(drawn.size["x"], drawn.size["y"], [(hole["x"], hole["y"], hole["r"])]))
        for joined in (False, True):
            found = on_paper(piece, [0], PAPERS["A4"], number % 2 == 1, joined, USUAL)
            for slack in (0.0, 0.1, 2.0):
                assert choose(found, [0], slack) == _searched(found, [0], slack)


@pytest.mark.parametrize("seed", range(40))
def test_the_error_at_a_corner_is_that_of_the_cut_on_its_sheet(seed):
    piece = piece_of(random_tile(seed))
    indices = range(len(piece.cuts))
    for one in on_paper(piece, indices, PAPERS["A4"], False, False, USUAL):
        for index, fit in one.fits.items():
            assert fit.error == error_at(piece, piece.cuts[index], one.registration)
            lined_up = dict.fromkeys((*one.registration.edges, *one.registration.tape))
            assert fit.off_fixed == sum(side not in lined_up for side in mark_sides(piece.cuts[index]))
