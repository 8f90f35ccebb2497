"""What is kept of a tile that is cut, and what is cut from it later: told on each surface beside its own cuts."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence

from cutmarks.buying.flow import what_to_buy
from cutmarks.buying.guillotine import LiesInStock
from cutmarks.buying.model import Shared
from cutmarks.gauging.model import Gauged, HandedOn
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.openings.model import CutPiece
from cutmarks.plan import Plan
from cutmarks.saying.runs import named
from cutmarks.sides import Axis

MOST_KEPT = 16
"""So many offcuts of a day are told with what they are for; what is bought has the others."""


def offcut_lines(one: Gauged, plan: Plan, day: int) -> Iterator[str]:
    """Of a day's cuts on a surface what is kept, what is cut to length first for it, and what offcuts serve there."""
    handed, surface, several = one.handed, one.surface.setout.name, len(one.areas) > 1
    kept = [one for one in handed if _is_of(one.first, surface, day)]
    if kept:
        yield f"Offcuts to keep, and trim to fit: {_kept(kept, plan, several)}."
    for along, first in (
        ("across", "To length before height, or the offcut is too low"),
        ("up", "In height before length, or the offcut is too short"),
    ):
        names = [one.first.piece.name for one in kept if one.along == along]
        if names:
            yield f"{first}: {named(names, several)}."
    from_others = [one for one in handed if _is_of(one.later, surface, day) and not _is_of(one.first, surface, day)]
    if from_others:
        yield f"From offcuts kept, else whole tiles: {_from(from_others, plan, several)}."


def all_told(plan: Plan) -> bool:
    """Whether the days of a job's one surface tell all that is kept, so that what is bought needs no list of it."""
    if len(plan.laid) > 1:
        return False
    days = Counter(one.first.rank.day for one in handed_on(plan))
    return max(days.values(), default=0) <= MOST_KEPT


def _is_of(piece: CutPiece, surface: str, day: int) -> bool:
    return (piece.piece.surface, piece.rank.day) == (surface, day)


def _kept(kept: Sequence[HandedOn], plan: Plan, several: bool) -> str:
    """As in "1-1 for 2-9, 1-10 for under 1-1; for the end wall: 1-6 for 3-1"."""
    by_wall: dict[str, list[str]] = {}
    for one in kept[:MOST_KEPT]:
        said = f"{_named(one.first, several, plan, kept[0].first)} for {_named(one.later, several, plan, one.first)}"
        by_wall.setdefault(one.later.piece.surface, []).append(said)
    return _by_wall(by_wall, "for the", kept[0].first.piece.surface, len(kept))


def _from(handed: Sequence[HandedOn], plan: Plan, several: bool) -> str:
    """As in "under 1-1 of 1-10; of the scale wall: 3-1 of 1-6"."""
    by_wall: dict[str, list[str]] = {}
    for one in handed[:MOST_KEPT]:
        said = f"{_named(one.later, several, plan, one.later)} of {_named(one.first, several, plan, one.later)}"
        by_wall.setdefault(one.first.piece.surface, []).append(said)
    return _by_wall(by_wall, "of the", handed[0].later.piece.surface, len(handed))


def _named(piece: CutPiece, several: bool, plan: Plan, beside: CutPiece) -> str:
    """A piece, with its area where its surface has more than one; `beside`: one of the surface that is told of."""
    surface = piece.piece.surface
    own = surface == beside.piece.surface
    return named((piece.piece.name,), several if own else _has_several(plan, surface))


def _by_wall(by_wall: Mapping[str, Sequence[str]], to: str, own: str, count: int) -> str:
    """Those of the surface itself, then those of each other one; of too many how many there are."""
    said = [
        ", ".join(pairs) if wall == own else f"{to} {wall}: {', '.join(pairs)}"
        for wall, pairs in sorted(by_wall.items(), key=lambda item: item[0] != own)
    ]
    return "; ".join((*said, *([f"{count - MOST_KEPT} more, under BUY"] if count > MOST_KEPT else [])))


def _has_several(plan: Plan, surface: str) -> bool:
    return any(len(one.areas) > 1 for one in plan.laid if one.setout.name == surface)


def handed_on(plan: Plan) -> Iterator[HandedOn]:
    """Each piece with the one that is cut next from what it leaves, in the order of fixing."""
    by_name = {piece.piece.name: piece for piece in plan.pieces}
    for need in what_to_buy(plan).tiles:
        for shared in need.shared:
            for number, (first, later) in enumerate(zip(shared.pieces, shared.pieces[1:], strict=False)):
                yield HandedOn(by_name[first], by_name[later], _first_cut(shared, number, by_name))


def _first_cut(shared: Shared, number: int, by_name: Mapping[str, CutPiece]) -> Axis | None:
    """On which axis of its own a piece is cut first, so that a larger one still comes from what it leaves.

    None where none is larger on the other axis, or where they lie so that a drawing has to show it.
    """
    piece = by_name[shared.pieces[number]].piece
    box, tile = piece.outline.bounds, piece.tile
    if shared.layout is None or box.width > tile.w - TOUCH or box.height > tile.h - TOUCH:
        return None
    lying = {one.kind: one for one in shared.layout.pieces}
    own = lying[number]
    later = [other for kind, other in lying.items() if kind > number]
    apart = {_apart(own, other) for other in later}
    if len(apart) != 1:
        return None
    (way,) = apart
    is_larger = any((other.h > own.h + TOUCH) if way == "across" else (other.w > own.w + TOUCH) for other in later)
    if not is_larger:
        return None
    return "across" if (way == "across") != bool(own.turn % 2) else "up"


def _apart(one: LiesInStock, other: LiesInStock) -> Axis:
    """On which axis of the tile two pieces lie beside each other."""
    return "across" if other.x >= one.x + one.w - TOUCH or one.x >= other.x + other.w - TOUCH else "up"
