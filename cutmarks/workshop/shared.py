"""The one order in which a tile that gives several pieces is cut, and what of each piece is left to cut afterwards.

Holes come first, while the tile is whole, then the cuts right across it, then what each piece's own drawing still has.
A cut that makes the raking side of a piece, with nothing but waste beside it, is made aslant at once.

All in the Tile frame of the shared tile, seen on its face; a piece's own frame lies in it as `Lying` says.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from msgspec import Struct
from msgspec.structs import replace

from cutmarks.buying.guillotine import CutAcross, LiesInStock, SheetLayout
from cutmarks.cutting.operations import CoreHole, HowCut, Operation, StraightCut
from cutmarks.geometry.edges import XY, Bounds
from cutmarks.geometry.frames import Placement, Tile
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.openings.model import CutPiece
from cutmarks.sides import Side
from cutmarks.workshop.alike import SAME, ShopPiece

QUARTER = 90.0
HALF_ROUND, FULL_ROUND = 2, 4
"""Quarter turns of a piece that is cut as another one is, turned half round."""
_ON_LINE = SAME + 0.02
"""A cut that is nowhere further from a line makes it, mm: what is alike, and the hundredths of a layout."""


class Lying(Struct, frozen=True):
    """A piece as it lies in a shared tile: its rectangle there, and how its own frame lies in the tile's."""

    one: ShopPiece
    at: LiesInStock
    place: Placement[Tile, Tile]


class CoreFirst(Struct, frozen=True):
    """A hole that is drilled while the tile is whole: of which piece, and where in the shared tile."""

    piece: str
    core: CoreHole


class TileCut(Struct, frozen=True):
    """A cut across a shared tile: where the edge that it makes lies at its start and at its end, mm.

    of  the piece whose raking side it is; "" for one that is parallel to the tile's sides.
    """

    across: CutAcross
    first: float
    last: float
    of: str = ""


class SharedTile(Struct, frozen=True):
    """One tile that gives several pieces: of which job and tile, its size, what the saw takes, and its layout.

    pieces  their names, as they are numbered in the layout; those that may not be cut are not drawn.
    """

    job: str
    tile: str
    w: float
    h: float
    kerf: float
    pieces: tuple[str, ...]
    layout: SheetLayout
    lying: tuple[Lying, ...]
    cores: tuple[CoreFirst, ...] = ()
    cuts: tuple[TileCut, ...] = ()


def shared_tile(
    job: str, tile: str, size: XY, kerf: float, names: tuple[str, ...], layout: SheetLayout, own: Sequence[ShopPiece]
) -> SharedTile:
    """A tile of w x h mm with the order in which it is cut; `own` has its pieces in the order of the layout's."""
    lying = tuple(_lying(one, at) for one, at in zip(own, layout.pieces, strict=True))
    plain = SharedTile(job, tile, *size, kerf, names, layout, lying)
    return replace(plain, cores=tuple(_cores(lying)), cuts=tuple(_cut(plain, across) for across in layout.cuts))


def still_to_cut(tile: SharedTile, lying: Lying, drawn: ShopPiece) -> HowCut:
    """What is left to cut of a piece once its tile is cut, in the frame of `drawn`, the one of its number on paper."""
    turn = HALF_ROUND if lying.one.turned and drawn is not lying.one else 0
    here = _lying(drawn, replace(lying.at, turn=lying.at.turn + turn))
    how = drawn.plan.how_cut.get(drawn.piece.name, HowCut())
    first = _first(how.operations, drawn.piece)
    left: list[Operation] = []
    ends: list[int] = []
    for one in how.operations:
        made = one in first or (isinstance(one, StraightCut) and not one.cut and _is_made(tile, here, one))
        if not made:
            left.append(_on_its_own(one, here))
        ends.append(max(len(left) - 1, 0))
    strips = tuple(replace(strip, after=ends[strip.after]) for strip in how.strips) if left else ()
    return HowCut(tuple(left), strips)


def _lying(one: ShopPiece, at: LiesInStock) -> Lying:
    """The piece in its rectangle, which may be a little larger: with the maker's edges that it has at the tile's."""
    box, quarters = one.piece.outline.bounds, at.turn % FULL_ROUND
    turned: Placement[Tile, Tile] = Placement.turned(QUARTER * quarters)
    xs, ys = zip(*(turned.xy(x, y) for x in (box.min_x, box.max_x) for y in (box.min_y, box.max_y)), strict=True)
    makers = {side.turned(quarters) for side in one.piece.factory_edges}
    spare_x = at.w - (max(xs) - min(xs)) if Side.RIGHT in makers and Side.LEFT not in makers else 0.0
    spare_y = at.h - (max(ys) - min(ys)) if Side.TOP in makers and Side.BOTTOM not in makers else 0.0
    return Lying(one, at, Placement.turned(QUARTER * quarters, at.x + spare_x - min(xs), at.y + spare_y - min(ys)))


def _first(operations: Sequence[Operation], piece: CutPiece) -> list[CoreHole]:
    """The holes that are made before its first straight cut and lie in its own rectangle: no other piece is met."""
    found = []
    for one in operations:
        if isinstance(one, StraightCut) and not one.cut:
            break
        if isinstance(one, CoreHole) and _round(one).within(piece.outline.bounds, TOUCH):
            found.append(one)
    return found


def _round(core: CoreHole) -> Bounds:
    r = core.d / 2.0
    return Bounds(core.at.x - r, core.at.y - r, core.at.x + r, core.at.y + r)


def _cores(lying: Sequence[Lying]) -> Iterator[CoreFirst]:
    for here in lying:
        how = here.one.plan.how_cut.get(here.one.piece.name, HowCut())
        for core in _first(how.operations, here.one.piece):
            yield CoreFirst(here.one.piece.name, replace(core, at=here.place.apply(core.at)))


def _cut(tile: SharedTile, across: CutAcross) -> TileCut:
    """A cut of the layout; aslant where it alone makes the raking side of a piece, and no other piece is in its way."""
    for here in tile.lying:
        how = here.one.plan.how_cut.get(here.one.piece.name, HowCut())
        for one in how.operations:
            ends = _ends(here, one, across) if isinstance(one, StraightCut) and not one.cut else None
            if ends is not None and abs(ends[0] - ends[1]) > _ON_LINE and _is_clear(tile, here, across, ends):
                return TileCut(across, *ends, here.one.piece.name)
    return TileCut(across, across.at, across.at)


def _ends(here: Lying, one: StraightCut, across: CutAcross) -> tuple[float, float] | None:
    """Where the line of a straight cut lies at the two ends of a cut of its tile; None: it goes another way."""
    a, b = here.place.apply(one.start), here.place.apply(one.end)
    if across.axis == "across":
        (at_a, along_a), (at_b, along_b) = (a.x, a.y), (b.x, b.y)
    else:
        (at_a, along_a), (at_b, along_b) = (a.y, a.x), (b.y, b.x)
    if abs(along_b - along_a) <= abs(at_b - at_a):
        return None
    slope = (at_b - at_a) / (along_b - along_a)
    return at_a + slope * (across.start - along_a), at_a + slope * (across.end - along_a)


def _is_clear(tile: SharedTile, own: Lying, across: CutAcross, ends: tuple[float, float]) -> bool:
    """Whether a slanting cut keeps all of its own piece, has it beside it, and meets no other."""
    low, high = min(ends), max(ends)
    own_low, own_high, *_ = _span(own.at, across)
    keeps_low = abs(own_high - across.low) <= _ON_LINE
    keeps_high = abs(own_low - across.low - tile.kerf) <= _ON_LINE
    if keeps_low == keeps_high:
        return False
    if keeps_low and (low < own_low or high > across.low + _ON_LINE or high < across.low - _ON_LINE):
        return False
    if keeps_high and (high > own_high or abs(low - across.low - tile.kerf) > _ON_LINE):
        return False
    taken = (low, high + tile.kerf) if keeps_low else (low - tile.kerf, high)
    for other in tile.lying:
        begins, stops, first, last = _span(other.at, across)
        beside = min(last, across.end) - max(first, across.start) > TOUCH
        if other is not own and beside and stops > taken[0] - _ON_LINE and begins < taken[1] + _ON_LINE:
            return False
    whole = _span(own.at, across)
    return across.start <= whole[2] + _ON_LINE and across.end >= whole[3] - _ON_LINE


def _span(at: LiesInStock, across: CutAcross) -> tuple[float, float, float, float]:
    """From where to where a piece lies across a cut, and along it, mm."""
    if across.axis == "across":
        return at.x, at.x + at.w, at.y, at.y + at.h
    return at.y, at.y + at.h, at.x, at.x + at.w


def _is_made(tile: SharedTile, here: Lying, one: StraightCut) -> bool:
    """Whether a cut of the tile makes a straight cut of a piece: on its line, on either side of the kerf, beside it."""
    for cut in tile.cuts:
        _, _, first, last = _span(here.at, cut.across)
        ends = _ends(here, one, cut.across)
        if ends is None or min(last, cut.across.end) - max(first, cut.across.start) <= TOUCH:
            continue
        for shift in (0.0,) if cut.of else (0.0, tile.kerf, -tile.kerf):
            if all(abs(a - b - shift) <= _ON_LINE for a, b in zip(ends, (cut.first, cut.last), strict=True)):
                return True
    return False


def _on_its_own(one: Operation, here: Lying) -> Operation:
    """What is left to do as it is done on the piece cut out: little is left to snap, and a middle may lie off it."""
    box = here.one.piece.outline.bounds
    if isinstance(one, CoreHole):
        return replace(one, pilot=Bounds(one.at.x, one.at.y, one.at.x, one.at.y).within(box))
    if not isinstance(one, StraightCut):
        return one
    waste = min(one.waste, _waste(one, box))
    if waste >= here.one.plan.limits.snaps.value:
        return replace(one, waste=waste)
    return replace(one, waste=waste, way="saw", why="narrow")


def _waste(one: StraightCut, box: Bounds) -> float:
    """How wide what a cut takes off a rectangle is at its narrowest, mm."""
    dx, dy = one.end.x - one.start.x, one.end.y - one.start.y
    far = math.hypot(dx, dy)
    corners = ((x, y) for x in (box.min_x, box.max_x) for y in (box.min_y, box.max_y))
    right = ((dy * (x - one.start.x) - dx * (y - one.start.y)) / far for x, y in corners)
    return min((max(off, 0.0) for off in right if off >= -_ON_LINE), default=0.0)
