"""Which pieces one tile gives: cut from it side by side, each with the maker's edges that it needs.

A large panel is cut in any way that a saw can (`guillotine`); a tile in a row, which a tiler needs no drawing for.

A piece needs the maker's edge wherever it has it, since a joint is there; where it was trimmed it may be cut. So of
the pieces that are cut from one tile in a row, one has its end at the tile's one edge, one at the other, and those
between are cut on both sides. The saw takes its kerf between two of them. What is left of one serves one piece that
goes up later, and what that leaves the next. A piece is taken by the rectangle round it: what comes out of an L serves
nothing, nor do raking ends lie into each other. In an area that lies turned, two pieces may also come from one tile as
they lie in it, each at its own corner, where one straight cut parts them.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from functools import lru_cache
from typing import Literal

from msgspec import Struct
from msgspec.structs import replace

from cutmarks.buying.guillotine import SheetLayout, StockBlank, StockSheet, possible
from cutmarks.buying.least import fewest
from cutmarks.buying.model import Shared
from cutmarks.geometry.edges import XY
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.sides import ON_AXIS, Axis, Side

Turned = Literal["no", "half", "any"]
MOST_WAYS = 4_000
"""So many ways to cut a tile into pieces are looked at; where there are more, sizes are taken up to whole steps."""
MOST_LAYOUTS = 1_500
"""So many choices of pieces of a panel."""
STEPS = (0.0, 0.5, 1.0, 2.0, 5.0)
"""The steps, mm, from none on: a row of pieces along an edge that rakes has hardly two that are alike."""


class ToCut(Struct, frozen=True):
    """A piece to be cut: the rectangle round it, mm, and the sides on which it needs the maker's edge.

    corners  of a piece that lies slantwise in its tile, in the Tile frame; () for one that is taken by its rectangle.
    after    the piece whose offcut its bond begins this one with; "": none. Of what takes no more tiles that is taken.
    """

    name: str
    w: float
    h: float
    makers: frozenset[Side]
    corners: tuple[XY, ...] = ()
    after: str = ""


class WholeTile(Struct, frozen=True):
    """A tile that is cut: its sizes and the saw's kerf, mm, how what is left may be turned; panel: a large one."""

    w: float
    h: float
    kerf: float
    turned: Turned = "no"
    panel: bool = False

    def side(self, axis: Axis) -> float:
        """Its size on an axis, mm."""
        return self.w if axis == "across" else self.h


class _Lane(Struct, frozen=True):
    """One way in which a kind of piece lies in the row: how long it is there, and whether it needs the row's ends."""

    kind: int
    length: float
    low: bool
    high: bool


CutWay = tuple[tuple[int, int], ...]
"""What one tile gives: (kind of piece, how many)."""


def shared_tiles(wanted: Sequence[ToCut], tile: WholeTile) -> tuple[tuple[Shared, ...], float | None]:
    """The tiles that give more than one piece, so that fewest tiles are cut; the pieces stand in the order of fixing.

    With it how exact that is: 0, no way takes fewer; a step, mm, to whole ones of which sizes were taken up, since
    there were too many of them; None: there were too many even so, and none is shared.
    """
    return _worked_out(tuple(wanted), tile)


@lru_cache(maxsize=64)
def _worked_out(wanted: tuple[ToCut, ...], tile: WholeTile) -> tuple[tuple[Shared, ...], float | None]:
    """The same, kept: each surface's page and plan.json ask it of one plan, of each kind of tile."""
    for step in STEPS:
        members, ways, layouts = _ways_with(wanted, tile, step or TOUCH)
        if len(ways) > MOST_WAYS:
            continue
        if not ways:
            return (), step
        middles = [sum(numbers) / len(numbers) for numbers in members]
        bonded = _bonded(members, wanted)
        apart = [
            -(float(len(wanted)) ** 2)  # before all that lies near each other
            if frozenset(kind for kind, _ in way) in bonded
            else max(middles[kind] for kind, _ in way) - min(middles[kind] for kind, _ in way)
            for way in ways
        ]
        taken = fewest([dict(way) for way in ways], apart, [len(numbers) for numbers in members])
        if taken is not None:
            return tuple(_shared(ways, taken, members, wanted, layouts, tile)), step
    return (), None


def _bonded(members: Sequence[Sequence[int]], wanted: Sequence[ToCut]) -> frozenset[frozenset[int]]:
    """The kinds of which one is begun with what comes off the other, by their bond."""
    kind_of = {wanted[number].name: kind for kind, numbers in enumerate(members) for number in numbers}
    return frozenset(
        frozenset((kind_of[piece.name], kind_of[piece.after])) for piece in wanted if piece.after in kind_of
    )


def _ways_with(
    wanted: Sequence[ToCut], tile: WholeTile, step: float
) -> tuple[list[list[int]], list[CutWay], Mapping[CutWay, SheetLayout]]:
    """The pieces by kind, their sizes taken up to whole steps, and every way to cut two or more from a tile.

    One way more than are looked at where there are so many. Of a panel each has its layout; where there are too many of
    these, its pieces lie in a row as those of any tile.
    """
    kinds: dict[tuple[float, float, frozenset[Side], tuple[XY, ...]], list[int]] = defaultdict(list)
    for number, piece in enumerate(wanted):
        w, h = (min(_taken_up(piece.w, step), tile.w), min(_taken_up(piece.h, step), tile.h))
        corners = tuple((round(x / step) * step, round(y / step) * step) for x, y in piece.corners)
        kinds[w, h, piece.makers, corners].append(number)
    samples = [ToCut("", *kind) for kind in kinds]
    counts = [len(numbers) for numbers in kinds.values()]
    layouts = _layouts(samples, counts, tile) if tile.panel else {}
    found: dict[CutWay, None] = dict.fromkeys(layouts)
    for axis in () if layouts else ("across", "up"):
        for way in _ways(samples, counts, tile, axis):
            found[way] = None
            if len(found) > MOST_WAYS:
                break
    for way in _corner_to_corner(samples, counts, tile, tile.kerf + 2.0 * step):
        if len(found) > MOST_WAYS:
            break
        found[way] = None
    return list(kinds.values()), list(found), layouts


def _layouts(samples: Sequence[ToCut], counts: Sequence[int], tile: WholeTile) -> Mapping[CutWay, SheetLayout]:
    """Every way to cut two or more pieces from a panel, right across each time; none where there are too many."""
    blanks = [blank for kind, piece in enumerate(samples) for blank in _blanks(kind, piece, tile)]
    found = possible(blanks, tuple(counts), StockSheet(tile.w, tile.h, tile.kerf), MOST_LAYOUTS)
    ways = {} if found is None else found
    return {
        tuple((kind, many) for kind, many in enumerate(choice) if many): layout
        for choice, layout in ways.items()
        if sum(choice) > 1
    }


def _blanks(kind: int, piece: ToCut, tile: WholeTile) -> Iterator[StockBlank]:
    """How a piece may lie in a panel: as it is laid, half round, or any way round."""
    turns = {"no": (0,), "half": (0, 2), "any": (0, 1, 2, 3)}[tile.turned]
    seen: set[tuple[float, float, frozenset[Side]]] = set()
    for turn in turns:
        w, h = (piece.h, piece.w) if turn % 2 else (piece.w, piece.h)
        makers = frozenset(side.turned(turn) for side in piece.makers)
        if (w, h, makers) not in seen:
            seen.add((w, h, makers))
            yield StockBlank(kind, w, h, makers, turn)


def _taken_up(mm: float, step: float) -> float:
    return math.ceil((mm - TOUCH) / step) * step


def _shared(
    ways: Sequence[CutWay],
    taken: Sequence[int],
    members: Sequence[Sequence[int]],
    wanted: Sequence[ToCut],
    layouts: Mapping[CutWay, SheetLayout],
    tile: WholeTile,
) -> Iterator[Shared]:
    """The ways with the pieces' own names, the first of each kind first."""
    left = [list(numbers) for numbers in members]
    made: list[tuple[list[int], SheetLayout | None]] = []
    for way, count in zip(ways, taken, strict=True):
        for _ in range(count):
            # A way may hold one piece more than there are left: what is not wanted is not cut.
            own = {kind: [left[kind].pop(0) for _ in range(min(many, len(left[kind])))] for kind, many in way}
            numbers = sorted(number for held in own.values() for number in held)
            if len(numbers) > 1:
                layout = layouts.get(way)
                row = None if layout else _row([wanted[number] for number in numbers], tile)
                made.append((numbers, _numbered(layout, own, numbers) if layout else row))
    made.sort(key=lambda one: one[0])
    return (Shared(tuple(wanted[number].name for number in numbers), layout) for numbers, layout in made)


def _row(pieces: Sequence[ToCut], tile: WholeTile) -> SheetLayout | None:
    """Where pieces lie that one tile is known to give, turned no more than they have to be; None: slantwise."""
    for turned in ("no", "half", "any"):
        one_way = replace(tile, turned=turned)
        blanks = [blank for kind, piece in enumerate(pieces) for blank in _blanks(kind, piece, one_way)]
        found = possible(blanks, (1,) * len(pieces), StockSheet(tile.w, tile.h, tile.kerf), MOST_LAYOUTS)
        layout = (found or {}).get((1,) * len(pieces))
        if layout is not None:
            return layout
        if turned == tile.turned:
            return None
    return None


def _numbered(layout: SheetLayout, own: Mapping[int, Sequence[int]], numbers: Sequence[int]) -> SheetLayout:
    """A layout of kinds as one of these pieces, each by its place among them; what is not wanted is left out."""
    waiting = {kind: iter(held) for kind, held in own.items()}
    lying = ((next(waiting[one.kind], None), one) for one in layout.pieces)
    pieces = tuple(replace(one, kind=numbers.index(number)) for number, one in lying if number is not None)
    return replace(layout, pieces=pieces)


def _lanes(samples: Sequence[ToCut], tile: WholeTile, axis: Axis) -> Iterator[_Lane]:
    """Every way in which each kind of piece may lie in a row along an axis."""
    for kind, piece in enumerate(samples):
        lanes = {_lane(kind, piece, tile, axis, axis)}
        if tile.turned == "any":
            lanes.add(_lane(kind, piece, tile, axis, "up" if axis == "across" else "across"))
        for lane in sorted((one for one in lanes if one is not None), key=lambda one: (one.length, one.low, one.high)):
            yield lane
            if tile.turned != "no" and lane.low != lane.high:
                yield _Lane(kind, lane.length, lane.high, lane.low)


def _lane(kind: int, piece: ToCut, tile: WholeTile, row: Axis, own: Axis) -> _Lane | None:
    """A piece whose own axis lies along the row; None where it does not fit, or needs an edge that it cannot have."""
    length, wide = (piece.w, piece.h) if own == "across" else (piece.h, piece.w)
    beside = tile.side("up" if row == "across" else "across")
    ends = [side in piece.makers for side in ON_AXIS[own]]
    sides = [side in piece.makers for side in ON_AXIS["up" if own == "across" else "across"]]
    if length > tile.side(row) + TOUCH or wide > beside + TOUCH or (all(sides) and wide < beside - TOUCH):
        return None
    return None if all(ends) else _Lane(kind, length, ends[0], ends[1])


def _ways(samples: Sequence[ToCut], counts: Sequence[int], tile: WholeTile, axis: Axis) -> Iterator[CutWay]:
    """Every way to cut two pieces or more from a tile in a row along an axis."""
    lanes = list(_lanes(samples, tile, axis))
    lows: list[_Lane | None] = [None, *(lane for lane in lanes if lane.low)]
    highs: list[_Lane | None] = [None, *(lane for lane in lanes if lane.high)]
    between = [lane for lane in lanes if not lane.low and not lane.high]
    shortest = min((lane.length for lane in lanes), default=0.0)
    for low in lows:
        for high in highs:
            ends = [lane for lane in (low, high) if lane is not None]
            room = tile.side(axis) + tile.kerf - sum(lane.length + tile.kerf for lane in ends)
            if room >= -TOUCH and (len(ends) == 2 or room + TOUCH >= shortest + tile.kerf):
                yield from _filled(ends, room, between, 0, counts, tile.kerf)


def _corner_to_corner(
    samples: Sequence[ToCut], counts: Sequence[int], tile: WholeTile, apart: float
) -> Iterator[CutWay]:
    """The pairs of pieces that lie slantwise in one tile, each where it is, with room for the saw between them."""
    slantwise = [(kind, piece.corners) for kind, piece in enumerate(samples) if piece.corners]
    for number, (kind, corners) in enumerate(slantwise):
        for other, others in slantwise[number:]:
            if kind == other and counts[kind] < 2:
                continue
            turned = tuple((tile.w - x, tile.h - y) for x, y in others)
            if any(_apart(corners, one) >= apart for one in ((others,) if tile.turned == "no" else (others, turned))):
                yield ((kind, 2),) if kind == other else ((kind, 1), (other, 1))


def _apart(one: tuple[XY, ...], other: tuple[XY, ...]) -> float:
    """How wide a straight strip along a side of either lies free between two outlines, mm; less than nothing: none."""
    widest = -math.inf
    for corners in (one, other):
        for (x0, y0), (x1, y1) in zip(corners, (*corners[1:], corners[0]), strict=True):
            length = math.hypot(x1 - x0, y1 - y0)
            if length > TOUCH:
                u, v = (y1 - y0) / length, (x0 - x1) / length
                first = [x * u + y * v for x, y in one]
                second = [x * u + y * v for x, y in other]
                widest = max(widest, min(second) - max(first), min(first) - max(second))
    return widest


def _filled(
    held: list[_Lane], room: float, between: Sequence[_Lane], first: int, counts: Sequence[int], kerf: float
) -> Iterator[CutWay]:
    """The ways that begin with what is held, and go on with pieces that are cut on both sides, kind by kind."""
    many: dict[int, int] = defaultdict(int)
    for lane in held:
        many[lane.kind] += 1
    if any(number > counts[kind] for kind, number in many.items()):
        return
    if len(held) > 1:
        yield tuple(sorted(many.items()))
    for number in range(first, len(between)):
        lane = between[number]
        if lane.length + kerf <= room + TOUCH:
            yield from _filled([*held, lane], room - lane.length - kerf, between, number, counts, kerf)
