"""The wall check: what to read on the bare wall before the tile is cut, from what is there when it goes up."""

from __future__ import annotations

import math
from collections.abc import Sequence

from msgspec import Struct
from msgspec.structs import replace

from cutmarks.fixing.beside import PAST
from cutmarks.fixing.model import FixedSides, Reference
from cutmarks.fixing.sources import Sources, Thing
from cutmarks.geometry.frames import Point, Tile
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.openings.model import Opening, Unread, WallCheck
from cutmarks.sides import ON_AXIS, Axis, Side
from cutmarks.tiling.model import Piece


class Checked(Struct, frozen=True):
    """The wall checks of one cut; the axes on which nothing can be read; and the sides to read and mark it from."""

    checks: tuple[WallCheck, ...]
    unread: tuple[Unread, ...]
    sides: FixedSides


def wall_checks(opening: Opening, centre: Point[Tile], piece: Piece, sources: Sources, fixed: FixedSides) -> Checked:
    """From each source to the near and the far side of the thing, mm along the tile's axes; and where there is none.

    Those to be read now come first, across before up, then the neighbours that go up later. A source that the thing
    itself reaches gives no check: it is then marked from that side, where its cut in the earlier piece shows it.
    """
    mark = {"across": fixed.across, "up": fixed.up}
    now: list[WallCheck] = []
    later: list[WallCheck] = []
    unread: list[Unread] = []
    for axis in ON_AXIS:
        thing = _thing(opening, centre, piece, axis)
        side = fixed.across if axis == "across" else fixed.up
        reached, read, known = "", False, len(now)
        nears: list[tuple[Side, float]] = []
        for one in (side, side.opposite):
            beside = sources.beside(piece, one, thing.at)
            if beside is None:
                continue
            reference, earlier = beside
            check = _check(reference, thing, fixed=earlier)
            if check is not None:
                (now if earlier else later).append(check)
                if earlier and not read:
                    mark[axis], read = one, True
            elif earlier:
                mark[axis], reached = one, reference.source.name
                nears.append((one, thing.from_edge(one, reference.edge)[0]))
        if read:
            now[known:] = [_staying(check, nears) for check in now[known:]]
            continue
        found = sources.without_neighbour(piece, thing)
        other = None if found is None else _check(found, thing, fixed=True)
        if other is not None:
            now.append(_staying(other, [*nears, *sources.lines_reached(piece, thing)]))
            mark[axis] = mark[axis] if reached else other.side
        else:
            unread.append(Unread(axis, reached))
    return Checked((*now, *later), tuple(unread), FixedSides(mark["across"], mark["up"]))


def _check(reference: Reference, thing: Thing, *, fixed: bool) -> WallCheck | None:
    near, far = thing.from_edge(reference.side, reference.edge)
    return None if near <= TOUCH else WallCheck(reference.source, reference.side, near, far, fixed)


def _staying(check: WallCheck, nears: Sequence[tuple[Side, float]]) -> WallCheck:
    """The check with how far it holds, `nears` being how far the thing is from what it reaches: nothing, or less."""
    if not nears:
        return check
    ways = [(near, math.inf) if side == check.side.opposite else (-math.inf, -near) for side, near in nears]
    return replace(check, stays=(max(low for low, _ in ways), min(high for _, high in ways)))


def _thing(opening: Opening, centre: Point[Tile], piece: Piece, axis: Axis) -> Thing:
    """The thing on one axis of the piece, and the level across that at which it is read: one that the piece has."""
    half_w, half_h = _half_read(opening, piece)
    box = piece.outline.bounds
    if axis == "across":
        level, middle, half = (centre.y, box.min_y, box.max_y), centre.x, half_w
    else:
        level, middle, half = (centre.x, box.min_x, box.max_x), centre.y, half_h
    at, low, high = level
    return Thing(axis, middle - half, middle + half, min(max(at, low + PAST), high - PAST))


def _half_read(opening: Opening, piece: Piece) -> tuple[float, float]:
    """Half of what a tape reads across the thing, along the tile's axes: as read, or its own outline where turned.

    Nothing of a thing whose size is not known: it is read to its middle.
    """
    if opening.read_size is None:
        return 0.0, 0.0
    if piece.turn == 0:
        return opening.read_size[0] / 2, opening.read_size[1] / 2
    box = opening.thing.moved(piece.tile_at.inverse()).bounds
    return box.width / 2, box.height / 2
