"""What a site takes: tiles with the spares of the whole batch, and the pieces that are alike in all rooms and hands."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence

from cutmarks.buying.flow import what_to_buy
from cutmarks.buying.model import TileNeed
from cutmarks.openings.prints import shape_key
from cutmarks.plan import Plan
from cutmarks.rooms.flow import TypeInHand
from cutmarks.rooms.model import AlikeOverall, Member, RoomFits, TilesOverall

ShapeKey = tuple[object, ...]


def alike_overall(plans: Mapping[TypeInHand, Plan], rooms: Sequence[RoomFits]) -> tuple[AlikeOverall, ...]:
    """The pieces of all types and hands, those that are cut alike together; rooms that have their own are left out."""
    count = Counter((room.type_name, room.hand) for room in rooms)
    own = Counter((room.type_name, room.hand, piece) for room in rooms for piece in room.specials)
    found: dict[ShapeKey, list[Member]] = {}
    tile: dict[ShapeKey, str] = {}
    for (type_name, hand), plan in plans.items():
        for piece in plan.pieces:
            key = shape_key(piece)
            rooms_of = count[type_name, hand] - own[type_name, hand, piece.name]
            tile[key] = piece.piece.tile.name
            found.setdefault(key, []).append(Member(type_name, hand, piece.name, rooms_of))
    groups = ((tile[key], tuple(one for one in members if one.rooms)) for key, members in found.items())
    kept = [(name, members) for name, members in groups if members]
    return tuple(AlikeOverall(number, *one) for number, one in enumerate(kept, start=1))


def tiles_overall(
    plans: Mapping[TypeInHand, Plan], rooms: Sequence[RoomFits], specials: Mapping[str, int]
) -> tuple[TilesOverall, ...]:
    """Each kind of tile over all rooms; `specials` counts by tile what is cut anew, a tile each."""
    count = Counter((room.type_name, room.hand) for room in rooms)
    needs: dict[str, list[tuple[int, TileNeed, Plan]]] = {}
    for kind, plan in plans.items():
        for need in what_to_buy(plan).tiles:
            needs.setdefault(need.tile, []).append((count[kind], need, plan))
    return tuple(_tile(name, of, specials.get(name, 0)) for name, of in needs.items())


def _tile(name: str, needs: Sequence[tuple[int, TileNeed, Plan]], specials: int) -> TilesOverall:
    limits = needs[0][2].limits
    laid = (
        None
        if any(need.laid is None for _, need, _ in needs)
        else sum(rooms * (need.laid or 0) for rooms, need, _ in needs)
    )
    holed = sum(rooms * need.holed for rooms, need, _ in needs)
    cut = sum(rooms * need.cut for rooms, need, _ in needs)
    spare = math.ceil(holed / limits.holed_per_spare.value) + math.ceil(cut / limits.cut_per_spare.value)
    return TilesOverall(name, laid, specials, spare, next(_boxes(needs), None))


def _boxes(needs: Sequence[tuple[int, TileNeed, Plan]]) -> Iterator[int]:
    return (need.box for _, need, _ in needs if need.box is not None)


def specials_by_tile(plans: Mapping[TypeInHand, Plan], rooms: Sequence[RoomFits]) -> Mapping[str, int]:
    """How many tiles are cut anew, by their kind."""
    found: Counter[str] = Counter()
    for room in rooms:
        plan = plans[room.type_name, room.hand]
        tiles = {piece.name: piece.piece.tile.name for piece in plan.pieces}
        areas = {area.name: area.tile.name for surface in plan.laid for area in surface.areas}
        for name in room.specials:
            found[tiles.get(name) or _tile_of_area(name, areas)] += 1
    return found


def _tile_of_area(piece: str, areas: Mapping[str, str]) -> str:
    """The tile of the area that a piece's name begins with: the longest of those that do."""
    named = [area for area in areas if piece.casefold().startswith(f"{area.casefold()} ")]
    return areas[max(named, key=len)] if named else next(iter(areas.values()), "")
