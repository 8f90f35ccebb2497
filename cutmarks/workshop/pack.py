"""What a workshop is given of one job or several: every piece that may be cut, by its number, and what goes with it."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise

from msgspec import Struct
from msgspec.structs import replace

from cutmarks.buying.flow import what_to_buy
from cutmarks.fingerprint import fingerprint_of
from cutmarks.openings.model import CutPiece
from cutmarks.plan import Plan
from cutmarks.plan.model import Say
from cutmarks.workshop.alike import Numbered, ShopPiece, numbered
from cutmarks.workshop.shared import SharedTile, shared_tile

MOST_NAMED = 4
"""The digits of more jobs do not stand at the foot of a page."""


class TileCount(Struct, frozen=True):
    """What the pieces of one kind of tile come to, and the tiles that they take.

    whole    tiles that are cut, spares left out: a piece from an offcut takes none.
    length   of all cuts, mm; paths: in so many of them, each begun anew.
    """

    tile: str
    w: float
    h: float
    batch: str
    pieces: int
    whole: int
    spares: int
    length: float
    paths: int


class ShopPack(Struct, frozen=True):
    """A pack; job, fingerprint, say: for the pages, those of one job, or of all together.

    Of a few jobs the digits are those of each, as they stand on its labels; of more they are of all together. The
    issue stands behind them, where there is one.

    held     the pieces that must not be cut.
    left_of  of a piece that is cut from what another leaves of its tile, by job and name, the name of that piece: it
             stands before it in the list, or under the same number.
    shared   the tiles that give several pieces, each with its layout.
    """

    job: str
    fingerprint: str
    say: Say
    plans: tuple[Plan, ...]
    numbered: tuple[Numbered, ...]
    counts: tuple[TileCount, ...]
    held: tuple[ShopPiece, ...]
    left_of: Mapping[tuple[str, str], str]
    shared: tuple[SharedTile, ...]
    issue: str = ""

    @property
    def ahead(self) -> tuple[ShopPiece, ...]:
        """The pieces of jobs that are cut ahead: they go out with a sheet to sign."""
        return tuple(one for number in self.numbered for one in number.pieces if one.plan.say.cut == "ahead")


def pack_of(plans: Sequence[Plan], may_be_cut: Sequence[Sequence[CutPiece]], issue: str = "") -> ShopPack:
    """The pack of these plans; `may_be_cut` has of each plan the pieces that nothing holds up.

    issue  what tells this pack from an older one, a date or a number, as whoever makes it writes it.
    """
    wanted = [ShopPiece(plan, piece) for plan, pieces in zip(plans, may_be_cut, strict=True) for piece in pieces]
    free = {(one.plan.job, one.piece.name) for one in wanted}
    held = [
        ShopPiece(plan, piece)
        for plan in plans
        for piece in plan.pieces
        if (plan.job, piece.name) not in free and not piece.outline.is_empty
    ]
    first = plans[0]
    several = len(plans) > 1
    groups, digits = numbered(wanted), [plan.fingerprint for plan in plans]
    left_of = _left_of(plans, groups)
    stands_for = ", ".join(digits) if len(plans) <= MOST_NAMED else fingerprint_of(digits)
    return ShopPack(
        job=f"{len(plans)} jobs" if several else first.job,
        fingerprint=f"{stands_for}; issue {issue}" if issue else stands_for,
        say=first.say,
        plans=tuple(plans),
        numbered=groups,
        counts=_counts(wanted, left_of),
        held=tuple(held),
        left_of=left_of,
        shared=tuple(_shared(plans, groups)),
        issue=issue,
    )


def _shared(plans: Sequence[Plan], groups: Sequence[Numbered]) -> Iterator[SharedTile]:
    """Those that give two pieces or more that may be cut; of others there is nothing to be said."""
    free = {(one.plan.job, one.piece.piece.name): one for group in groups for one in group.pieces}
    for plan in plans:
        for need in what_to_buy(plan).tiles:
            for one in need.shared:
                own = [number for number, name in enumerate(one.pieces) if (plan.job, name) in free]
                if one.layout is not None and len(own) > 1:
                    lying = tuple(piece for piece in one.layout.pieces if piece.kind in own)
                    layout = replace(one.layout, pieces=lying)
                    pieces = [free[plan.job, one.pieces[piece.kind]] for piece in lying]
                    tile = pieces[0].piece.piece.tile
                    yield shared_tile(
                        plan.job, need.tile, (tile.w, tile.h), plan.supplies.kerf, one.pieces, layout, pieces
                    )


def _left_of(plans: Sequence[Plan], groups: Sequence[Numbered]) -> dict[tuple[str, str], str]:
    """What is cut from an offcut: of each tile that is shared, as the tiles are bought, the next in the list's order.

    Pieces of one tile lie side by side in it, so that any of them may be cut first.
    """
    order = {
        (one.plan.job, one.piece.piece.name): place
        for place, one in enumerate(one for group in groups for one in group.pieces)
    }
    found: dict[tuple[str, str], str] = {}
    for plan in plans:
        for need in what_to_buy(plan).tiles:
            for tile in need.shared:
                own = [name for name in tile.pieces if (plan.job, name) in order]
                own.sort(key=lambda name: order[plan.job, name])
                found |= {(plan.job, name): before for before, name in pairwise(own)}
    return found


def _counts(pieces: Sequence[ShopPiece], left_of: Mapping[tuple[str, str], str]) -> tuple[TileCount, ...]:
    """By tile and batch; spares as for what is bought: so many tiles with a hole to one, so many trimmed ones."""
    by_tile: dict[tuple[str, float, float, str], list[ShopPiece]] = defaultdict(list)
    for one in pieces:
        tile = one.piece.piece.tile
        by_tile[tile.name, tile.w, tile.h, tile.batch].append(one)
    return tuple(
        TileCount(
            *key,
            pieces=len(own),
            whole=len({(one.plan.job, one.piece.piece.name) for one in own} - set(left_of)),
            spares=_spares(own),
            length=sum(one.plan.cuttings[one.piece.name].length for one in own),
            paths=sum(one.plan.cuttings[one.piece.name].paths for one in own),
        )
        for key, own in sorted(by_tile.items())
    )


def _spares(pieces: Sequence[ShopPiece]) -> int:
    limits = pieces[0].plan.limits
    holed = sum(bool(one.piece.cuts) for one in pieces)
    trimmed = sum(one.piece.piece.trimmed for one in pieces)
    return math.ceil(holed / limits.holed_per_spare.value) + math.ceil(trimmed / limits.cut_per_spare.value)
