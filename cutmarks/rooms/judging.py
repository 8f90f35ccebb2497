"""What was read in a room against what was cut for its type: the hole stays where it is, rigid with its tile.

A hole is judged by its own leeway: the thing still goes through it, and the cover, fixed to the thing, still hides it.
A trimmed piece is judged by the joint that it leaves at the edge. Nothing here moves anything.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence

from msgspec import Struct
from msgspec.structs import replace

from cutmarks.geometry.frames import Placement, Surface, cos_sin
from cutmarks.geometry.shapes import Rect
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.limits import Limits
from cutmarks.openings.hidden import leeway_of
from cutmarks.openings.model import CutPiece, Infill, Opening
from cutmarks.plan import Plan
from cutmarks.rooms.model import Fit, RoomVerdict, Why
from cutmarks.sides import Side

HALF = 0.5
"""Over so much of what it may be off, a fit is a close one."""
OTHER_WIDTH = 2.0
"""A thing that is so much wider or narrower than its type's is another thing, mm."""

OTHER_THING: tuple[Fit, float, Why] = ("unjudged", 0.0, "width")
"""What is said of it."""

PieceKey = tuple[str, str, tuple[int, int], str]


class Looked(Struct, frozen=True):
    """What was read in a room: a hole by its name, or the edge on a side; shape_too: by corners, and so its lean."""

    surface: str
    what: str | Side
    shape_too: bool = False


def judged(as_cut: Plan, as_read: Plan, read: Sequence[Looked]) -> Iterator[RoomVerdict]:
    """Each hole and edge that was read in a room, once, in the order of the readings.

    `as_cut` is the type's plan in the room's hand, `as_read` the same with the room's readings.
    """
    cornered = {(one.surface, one.what) for one in read if one.shape_too}
    for surface, what in dict.fromkeys((one.surface, one.what) for one in read):
        if as_cut.is_unlaid(surface):
            continue  # nothing is cut there yet: the clearance round says what is wrong with it where it is
        if isinstance(what, Side):
            yield from _edge(surface, what, as_cut, as_read)
        else:
            yield _hole(surface, what, as_cut, as_read, shape_too=(surface, what) in cornered)


def judged_at_pieces(as_cut: Plan, as_read: Plan) -> Iterator[RoomVerdict]:
    """Each hole and each opening that was read at a piece, held up beside its fixed neighbours.

    What was read says how far the thing is from where the piece expects it; as cut for the type the piece may have
    expected it elsewhere than the room's own readings do.
    """
    pieces = {piece.name: piece for piece in as_read.pieces}
    for one in as_read.found:
        piece = pieces[one.piece]
        surface = piece.piece.surface
        cut, there = (_opening(plan, surface, one.hole) for plan in (as_cut, as_read))
        c, s = cos_sin(piece.piece.turn)
        right = there.at.x - cut.at.x + c * one.differs[0] - s * one.differs[1]
        up = there.at.y - cut.at.y + s * one.differs[0] + c * one.differs[1]
        is_other = any(
            _wide(read.found) and abs(_wide(read.found) - _wide(read.expected)) > OTHER_WIDTH + TOUCH
            for read in one.reads
        )
        says, may, why = OTHER_THING if is_other else _of_hole(cut, right, up)
        is_floor = as_cut.setout(surface).kind == "floor"
        anew = (one.piece,) if says == "anew" else ()
        yield RoomVerdict(surface, (one.piece,), one.hole, says, right, up, may, why, floor=is_floor, anew=anew)
    by_name = {piece.name: piece for piece in as_cut.pieces}
    for opening in as_read.infills_found:
        side, surface = opening.expected.side, pieces[opening.piece].piece.surface
        made = by_name.get(opening.piece)
        infills = (
            ()
            if made is None
            else tuple(one for one in made.infills if (one.side, one.to) == (side, opening.expected.to))
        )
        wider = _worst(infills, (replace(opening.expected, ends=opening.ends),))
        if made is None or wider is None:
            yield RoomVerdict(surface, (opening.piece,), f"{side} edge", "unjudged", why="no size", side=side)
        else:
            yield _piece(surface, side, made, wider, infills, as_cut.limits, opening.piece)


def _wide(ends: tuple[float, float]) -> float:
    """Between the two sides of a thing as read, mm; 0 where one distance was read to it."""
    return abs(ends[1] - ends[0])


def _hole(surface: str, name: str, as_cut: Plan, as_read: Plan, *, shape_too: bool) -> RoomVerdict:
    cut, there = _opening(as_cut, surface, name), _opening(as_read, surface, name)
    right, up = there.at.x - cut.at.x, there.at.y - cut.at.y
    stands = _as_it_stands(cut, there, right, up, as_cut.limits) if shape_too else cut
    sizes = [_by_corners(one) if shape_too else one.read_size for one in (cut, there)]
    is_other = sizes[0] is not None and sizes[1] is not None and _differ(sizes[0], sizes[1])
    says, may, why = OTHER_THING if is_other else _of_hole(stands, right, up)
    pieces = as_cut.pieces_met.get(name, ())
    whole, anew = _in_their_place(name, as_cut, as_read) if says == "anew" else ((), ())
    is_floor = as_cut.setout(surface).kind == "floor"
    return RoomVerdict(surface, pieces, name, says, right, up, may, why, floor=is_floor, whole=whole, anew=anew)


def _in_their_place(hole: str, as_cut: Plan, as_read: Plan) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Of the pieces that a hole is cut in: those in whose place a whole tile goes, and all that is cut anew.

    What the thing went on to is cut too; a piece that it left is whole there, or trimmed alone.
    """
    here = {_key(piece): piece.name for piece in as_read.pieces}
    met = [_key(piece) for piece in as_cut.pieces if any(cut.opening.name == hole for cut in piece.cuts)]
    names = {_key(piece): piece.name for piece in as_cut.pieces}
    whole = tuple(names[key] for key in met if key not in here)
    anew = [here[key] for key in met if key in here]
    return whole, tuple(dict.fromkeys((*anew, *as_read.pieces_met.get(hole, ()))))


def _key(piece: CutPiece) -> PieceKey:
    """A piece by its place, which has the same in every room of a type, whatever it is called there."""
    return piece.piece.surface, piece.piece.area, piece.piece.place, piece.part or ""


def _opening(plan: Plan, surface: str, name: str) -> Opening:
    return next(one for one in plan.openings if one.surface == surface and one.name == name)


def _as_it_stands(cut: Opening, there: Opening, right: float, up: float, limits: Limits) -> Opening:
    """The hole that is cut, with the thing and its cover as they lean in the room, brought to where the type has it."""
    back: Placement[Surface, Surface] = Placement.shift(-right, -up)
    closed = there.closed or there.shape
    stands = replace(cut, thing=there.thing.moved(back), closed=closed if isinstance(closed, Rect) else cut.closed)
    return replace(stands, leeway=leeway_of(stands, limits, size_known=True))


def _differ(one: tuple[float, float], other: tuple[float, float]) -> bool:
    """Whether two sizes, across and up, are of two things, mm."""
    return max(abs(a - b) for a, b in zip(one, other, strict=True)) > OTHER_WIDTH + TOUCH


def _by_corners(opening: Opening) -> tuple[float, float] | None:
    """How wide and high a box is along its own sides, however it leans, their means; else as it was read."""
    corners = opening.thing.vertices
    if len(corners) != 4 or any(corner.bulge for corner in corners):
        return opening.read_size
    sides = [math.dist(a[:2], b[:2]) for a, b in zip(corners, (*corners[1:], corners[0]), strict=True)]
    one, other = (sides[0] + sides[2]) / 2, (sides[1] + sides[3]) / 2
    return (one, other) if abs(corners[1].x - corners[0].x) > abs(corners[1].y - corners[0].y) else (other, one)


def _of_hole(cut: Opening, right: float, up: float) -> tuple[Fit, float, Why]:
    """What is said of a hole whose thing is so far right and up: the hole is as far off it the other way."""
    leeway = cut.leeway
    off = math.hypot(right, up)
    if leeway.over is None:
        return "unjudged", 0.0, "no size"
    may = leeway.along(-right, -up) if off > 0.0 else leeway.least
    if leeway.contains(-right, -up):
        return ("close" if off > HALF * may + TOUCH else "fits"), may, ""
    x, y = leeway.turned(-right, -up)
    return "anew", may, "cover" if leeway.over.contains(x, y) else "thing"


def _edge(surface: str, side: Side, as_cut: Plan, as_read: Plan) -> Iterator[RoomVerdict]:
    """The pieces that end at an edge, by the joint that they would leave there as they are cut; alike ones together."""
    together: dict[RoomVerdict, list[RoomVerdict]] = {}
    for one in _pieces_at(surface, side, as_cut, as_read):
        together.setdefault(replace(one, pieces=(), anew=()), []).append(one)
    for one, alike in together.items():
        pieces = tuple(name for each in alike for name in each.pieces)
        yield replace(one, pieces=pieces, anew=tuple(name for each in alike for name in each.anew))


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
            yield _piece(surface, side, piece, wider, infills, as_cut.limits, after[key][0].name)
    for key, (piece, _) in after.items():
        if key not in before:
            was = next((one.name for one in as_cut.pieces if _key(one) == key), "")
            why: Why = "trimmed" if was or _is_laid(key, as_cut) else "one more"
            what = f"{side} edge"
            yield RoomVerdict(surface, (was,) if was else (), what, "anew", why=why, side=side, anew=(piece.name,))


def _is_laid(key: PieceKey, plan: Plan) -> bool:
    """Whether a tile lies in a place, whole or not."""
    surface, name, (column, row), _ = key
    laid = next(one for one in plan.surfaces if one.setout.name == surface)
    rows = next(area.places for area in laid.areas if area.name == name)
    return any(row == one and first <= column <= last for one, first, last in rows)


def _piece(
    surface: str, side: Side, piece: CutPiece, wider: float, infills: Sequence[Infill], limits: Limits, here: str
) -> RoomVerdict:
    """A trimmed piece where its opening is so much wider: what stays free at the edge takes it up, or does not.

    `here` is what the piece in its place is called in the room.
    """
    joint = sum(off.mm for infill in infills for off in infill.off if off.what == "gap") / max(1, len(infills))
    least, most = limits.least_edge_joint.value, max(limits.most_edge_joint.value, joint)
    may = most - joint if wider > 0.0 else joint - min(least, joint)
    says: Fit = "anew" if abs(wider) > may + TOUCH else ("close" if abs(wider) > HALF * may + TOUCH else "fits")
    right, up = (wider, 0.0) if side.axis == "across" else (0.0, wider)
    why: Why = "" if says != "anew" else ("wide" if wider > 0.0 else "tight")
    anew = (here,) if says == "anew" else ()
    return RoomVerdict(surface, (piece.name,), f"{side} edge", says, right, up, may, why, side, anew=anew)


def _at_edge(plan: Plan, surface: str, side: Side) -> Mapping[PieceKey, tuple[CutPiece, tuple[Infill, ...]]]:
    """The pieces of a surface that are trimmed at one of its edges, by their place, with their readings to it."""
    what = plan.setout(surface).edges[side]
    found: dict[PieceKey, tuple[CutPiece, tuple[Infill, ...]]] = {}
    for piece in plan.pieces:
        if piece.piece.surface != surface or side not in piece.cut_edges:
            continue
        infills = tuple(one for one in piece.infills if one.side == side and one.to == (what.what or one.to))
        found[_key(piece)] = piece, infills
    return found


def _worst(before: Sequence[Infill], after: Sequence[Infill]) -> float | None:
    """By how much the openings differ, at the end where that is most; None where they are not read alike."""
    ends = [[end for one in infills for end in one.ends] for infills in (before, after)]
    if not ends[0] or [end.at for end in ends[0]] != [end.at for end in ends[1]]:
        return None
    differs: list[float] = [round(now.cut - cut.cut, 6) for cut, now in zip(*ends, strict=True)]
    return max(differs, key=abs)
