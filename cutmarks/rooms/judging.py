"""What was read in a room against what was cut for its type: the hole stays where it is, rigid with its tile.

A hole is judged by its own leeway: the thing still goes through it, and the cover, fixed to the thing, still hides it.
A trimmed piece is judged by the joint that it leaves at the edge. Nothing here moves anything.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence

from msgspec.structs import replace

from cutmarks.geometry.tolerance import TOUCH
from cutmarks.limits import Limits
from cutmarks.openings.model import CutPiece, Infill, Opening
from cutmarks.plan import Plan
from cutmarks.rooms.model import Fit, RoomVerdict, Why
from cutmarks.sides import Side

HALF = 0.5
"""Over so much of what it may be off, a fit is a close one."""
OTHER_WIDTH = 2.0
"""A thing that is so much wider or narrower than its type's is another thing, mm."""

PieceKey = tuple[str, str, tuple[int, int], str]


def judged(as_cut: Plan, as_read: Plan, read: Sequence[tuple[str, str | Side]]) -> Iterator[RoomVerdict]:
    """Each hole and edge that was read in a room, by its surface and its name or side, in the order of the readings.

    `as_cut` is the type's plan in the room's hand, `as_read` the same with the room's readings.
    """
    for surface, what in dict.fromkeys(read):
        if isinstance(what, Side):
            yield from _edge(surface, what, as_cut, as_read)
        else:
            yield _hole(surface, what, as_cut, as_read)


def _hole(surface: str, name: str, as_cut: Plan, as_read: Plan) -> RoomVerdict:
    cut, there = _opening(as_cut, surface, name), _opening(as_read, surface, name)
    right, up = there.at.x - cut.at.x, there.at.y - cut.at.y
    says, may, why = _of_hole(cut, there, right, up)
    return RoomVerdict(
        surface,
        as_cut.pieces_met.get(cut.name, ()),
        name,
        says,
        right,
        up,
        may,
        why,
        floor=as_cut.setout(surface).kind == "floor",
    )


def _opening(plan: Plan, surface: str, name: str) -> Opening:
    return next(one for one in plan.openings if one.surface == surface and one.name == name)


def _of_hole(cut: Opening, there: Opening, right: float, up: float) -> tuple[Fit, float, Why]:
    """What is said of a hole whose thing is so far right and up: the hole is as far off it the other way."""
    leeway = cut.leeway
    off = math.hypot(right, up)
    if leeway.over is None:
        return "unjudged", 0.0, "no size"
    if cut.read_size is not None and there.read_size is not None:
        wider = max(abs(one - other) for one, other in zip(cut.read_size, there.read_size, strict=True))
        if wider > OTHER_WIDTH + TOUCH:
            return "unjudged", 0.0, "width"
    may = leeway.along(-right, -up) if off > 0.0 else leeway.least
    if leeway.contains(-right, -up):
        return ("close" if off > HALF * may + TOUCH else "fits"), may, ""
    x, y = leeway.turned(-right, -up)
    return "anew", may, "cover" if leeway.over.contains(x, y) else "thing"


def _edge(surface: str, side: Side, as_cut: Plan, as_read: Plan) -> Iterator[RoomVerdict]:
    """The pieces that end at an edge, by the joint that they would leave there as they are cut; alike ones together."""
    together: dict[RoomVerdict, list[str]] = {}
    for one in _pieces_at(surface, side, as_cut, as_read):
        together.setdefault(replace(one, pieces=()), []).extend(one.pieces)
    for one, pieces in together.items():
        yield replace(one, pieces=tuple(pieces))


def _pieces_at(surface: str, side: Side, as_cut: Plan, as_read: Plan) -> Iterator[RoomVerdict]:
    """A verdict for each piece whose opening at the edge is not its type's."""
    before, after = _at_edge(as_cut, surface, side), _at_edge(as_read, surface, side)
    for key, (piece, infills) in before.items():
        if key not in after:
            yield RoomVerdict(surface, (piece.name,), f"{side} edge", "anew", why="one less", side=side)
            continue
        wider = _worst(infills, after[key][1])
        if wider is None:
            yield RoomVerdict(surface, (piece.name,), f"{side} edge", "unjudged", why="no size", side=side)
        elif abs(wider) > TOUCH:
            yield _piece(surface, side, piece, wider, infills, as_cut.limits)
    for key, (piece, _) in after.items():
        if key not in before:
            yield RoomVerdict(surface, (piece.name,), f"{side} edge", "anew", why="one more", side=side)


def _piece(
    surface: str, side: Side, piece: CutPiece, wider: float, infills: Sequence[Infill], limits: Limits
) -> RoomVerdict:
    """A trimmed piece where its opening is so much wider: what stays free at the edge takes it up, or does not."""
    joint = sum(off.mm for infill in infills for off in infill.off if off.what == "gap") / max(1, len(infills))
    least, most = limits.least_edge_joint.value, max(limits.most_edge_joint.value, joint)
    may = most - joint if wider > 0.0 else joint - min(least, joint)
    says: Fit = "anew" if abs(wider) > may + TOUCH else ("close" if abs(wider) > HALF * may + TOUCH else "fits")
    right, up = (wider, 0.0) if side.axis == "across" else (0.0, wider)
    why: Why = "" if says != "anew" else ("wide" if wider > 0.0 else "tight")
    return RoomVerdict(surface, (piece.name,), f"{side} edge", says, right, up, may, why, side)


def _at_edge(plan: Plan, surface: str, side: Side) -> Mapping[PieceKey, tuple[CutPiece, tuple[Infill, ...]]]:
    """The pieces of a surface that are trimmed at one of its edges, by their place, with their readings to it."""
    what = plan.setout(surface).edges[side]
    found: dict[PieceKey, tuple[CutPiece, tuple[Infill, ...]]] = {}
    for piece in plan.pieces:
        if piece.piece.surface != surface or side not in piece.cut_edges:
            continue
        infills = tuple(one for one in piece.infills if one.side == side and one.to == (what.what or one.to))
        found[(surface, piece.piece.area, piece.piece.place, piece.part or "")] = piece, infills
    return found


def _worst(before: Sequence[Infill], after: Sequence[Infill]) -> float | None:
    """By how much the openings differ, at the end where that is most; None where they are not read alike."""
    ends = [[end for one in infills for end in one.ends] for infills in (before, after)]
    if not ends[0] or [end.at for end in ends[0]] != [end.at for end in ends[1]]:
        return None
    differs: list[float] = [round(now.cut - cut.cut, 6) for cut, now in zip(*ends, strict=True)]
    return max(differs, key=abs)
