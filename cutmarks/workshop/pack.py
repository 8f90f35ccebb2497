"""What a workshop is given of one job or several: every piece that may be cut, by its number, and what goes with it."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Container, Mapping, Sequence
from itertools import pairwise

from msgspec import Struct

from cutmarks.buying.flow import what_to_buy
from cutmarks.fingerprint import fingerprint_of
from cutmarks.openings.model import CutPiece
from cutmarks.plan import Plan
from cutmarks.plan.model import Say
from cutmarks.workshop.alike import Numbered, ShopPiece, numbered


class TileCount(Struct, frozen=True):
    """What the pieces of one kind of tile come to: how many, spares, what is cut, mm, and how many contours."""

    tile: str
    w: float
    h: float
    batch: str
    pieces: int
    spares: int
    length: float
    contours: int


class ShopPack(Struct, frozen=True):
    """A pack; job, fingerprint, say: for the pages, those of one job, or of all together.

    held     the pieces that must not be cut.
    left_of  of a piece that is cut from what another leaves of its tile, by job and name, the name of that piece.
    """

    job: str
    fingerprint: str
    say: Say
    plans: tuple[Plan, ...]
    numbered: tuple[Numbered, ...]
    counts: tuple[TileCount, ...]
    held: tuple[ShopPiece, ...]
    left_of: Mapping[tuple[str, str], str]

    @property
    def ahead(self) -> tuple[ShopPiece, ...]:
        """The pieces of jobs that are cut ahead: they go out with a sheet to sign."""
        return tuple(one for number in self.numbered for one in number.pieces if one.plan.say.cut == "ahead")


def pack_of(plans: Sequence[Plan], may_be_cut: Sequence[Sequence[CutPiece]]) -> ShopPack:
    """The pack of these plans; `may_be_cut` has of each plan the pieces that nothing holds up."""
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
    return ShopPack(
        job=f"{len(plans)} jobs" if several else first.job,
        fingerprint=fingerprint_of([plan.fingerprint for plan in plans]) if several else first.fingerprint,
        say=first.say,
        plans=tuple(plans),
        numbered=numbered(wanted),
        counts=_counts(wanted),
        held=tuple(held),
        left_of=_left_of(plans, free),
    )


def _left_of(plans: Sequence[Plan], free: Container[tuple[str, str]]) -> dict[tuple[str, str], str]:
    """What is cut from an offcut, as the tiles are bought, where both pieces may be cut."""
    found: dict[tuple[str, str], str] = {}
    for plan in plans:
        for need in what_to_buy(plan).tiles:
            for tile in need.shared:
                own = [name for name in tile.pieces if (plan.job, name) in free]
                found |= {(plan.job, name): before for before, name in pairwise(own)}
    return found


def _counts(pieces: Sequence[ShopPiece]) -> tuple[TileCount, ...]:
    """By tile and batch; spares as for what is bought: so many tiles with a hole to one, so many trimmed ones."""
    by_tile: dict[tuple[str, float, float, str], list[ShopPiece]] = defaultdict(list)
    for one in pieces:
        tile = one.piece.piece.tile
        by_tile[tile.name, tile.w, tile.h, tile.batch].append(one)
    return tuple(
        TileCount(
            *key,
            pieces=len(own),
            spares=_spares(own),
            length=sum(one.plan.cuttings[one.piece.name].length for one in own),
            contours=sum(len(one.plan.cuttings[one.piece.name].contours) for one in own),
        )
        for key, own in sorted(by_tile.items())
    )


def _spares(pieces: Sequence[ShopPiece]) -> int:
    limits = pieces[0].plan.limits
    holed = sum(bool(one.piece.cuts) for one in pieces)
    trimmed = sum(one.piece.piece.trimmed for one in pieces)
    return math.ceil(holed / limits.holed_per_spare.value) + math.ceil(trimmed / limits.cut_per_spare.value)
