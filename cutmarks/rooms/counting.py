"""What a site takes: tiles with the spares of the whole batch, and the pieces that are alike in all rooms and hands."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence

from cutmarks.buying.flow import what_to_buy
from cutmarks.buying.model import TileNeed
from cutmarks.plan import Plan
from cutmarks.readings import RoomHand
from cutmarks.rooms.flow import TypeInHand
from cutmarks.rooms.model import AlikeOverall, Member, RoomFits, TilesOverall
from cutmarks.workshop.alike import ShopPiece, numbered


def alike_overall(plans: Mapping[TypeInHand, Plan], rooms: Sequence[RoomFits]) -> tuple[AlikeOverall, ...]:
    """The pieces of all types and hands, those that are cut alike together, as a workshop tells them.

    Rooms that have a piece of their own are left out of its count, and a piece that no room takes out of the list.
    """
    count = Counter((room.type_name, room.hand) for room in rooms)
    own = Counter((room.type_name, room.hand, piece) for room in rooms for piece in room.replaced)
    kinds = {id(plan): kind for kind, plan in plans.items()}
    found: list[tuple[str, tuple[Member, ...]]] = []
    for group in numbered([ShopPiece(plan, piece) for plan in plans.values() for piece in plan.pieces]):
        members = [_member(one, kinds[id(one.plan)], count, own) for one in group.pieces]
        found.append((group.first.piece.piece.tile.name, tuple(one for one in members if one.rooms)))
    kept = [(name, members) for name, members in found if members]
    return tuple(AlikeOverall(number, *one) for number, one in enumerate(kept, start=1))


def _member(
    one: ShopPiece, kind: TypeInHand, count: Mapping[TypeInHand, int], own: Mapping[tuple[str, RoomHand, str], int]
) -> Member:
    name = one.piece.name
    return Member(*kind, name, count[kind] - own[(*kind, name)], one.turned)


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
    is_known = all(need.whole is not None for _, need, _ in needs)
    whole = sum(rooms * (need.whole or 0) for rooms, need, _ in needs) if is_known else None
    from_offcuts = sum(rooms * need.from_offcuts for rooms, need, _ in needs)
    whole_holed = sum(rooms * _whole_holed(plan, name) for rooms, _, plan in needs)
    holed = sum(rooms * need.holed for rooms, need, _ in needs)
    cut = sum(rooms * need.cut for rooms, need, _ in needs)
    spare = math.ceil(holed / limits.holed_per_spare.value) + math.ceil(cut / limits.cut_per_spare.value)
    return TilesOverall(name, whole, whole_holed, cut, from_offcuts, specials, spare, next(_boxes(needs), None))


def _whole_holed(plan: Plan, tile: str) -> int:
    """How many places of a kind of tile have a hole and are not trimmed."""
    pieces = (piece for piece in plan.pieces if piece.piece.tile.name == tile and piece.cuts and not piece.cut_edges)
    return len({(piece.piece.surface, piece.piece.area, piece.piece.place) for piece in pieces})


def _boxes(needs: Sequence[tuple[int, TileNeed, Plan]]) -> Iterator[int]:
    return (need.box for _, need, _ in needs if need.box is not None)


def specials_by_tile(plans: Mapping[TypeInHand, Plan], rooms: Sequence[RoomFits]) -> Mapping[str, int]:
    """How many tiles are cut anew, by their kind."""
    found: Counter[str] = Counter()
    for room in rooms:
        plan = plans[room.type_name, room.hand]
        tiles = {piece.name: piece.piece.tile.name for piece in plan.pieces}
        areas = {area.name: area.tile.name for surface in plan.laid for area in surface.areas}
        for name in (*room.specials, *room.whole):
            found[tiles.get(name) or _tile_of_area(name, areas)] += 1
    return found


def _tile_of_area(piece: str, areas: Mapping[str, str]) -> str:
    """The tile of the area that a piece's name begins with: the longest of those that do."""
    named = [area for area in areas if piece.casefold().startswith(f"{area.casefold()} ")]
    return areas[max(named, key=len)] if named else next(iter(areas.values()), "")
