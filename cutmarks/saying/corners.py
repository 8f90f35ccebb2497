"""What is said of the inside corners of L cuts and notches: their names, and the figures that they are marked by."""

from __future__ import annotations

import math
from collections.abc import Iterator

from cutmarks.cutting.operations import PlungeCut, ReliefHoles
from cutmarks.geometry.shapes import Circle
from cutmarks.openings.corners import InsideCorner
from cutmarks.openings.model import CutPiece
from cutmarks.saying.figures import NEARLY
from cutmarks.saying.how_cut import to_cut
from cutmarks.saying.measures import whole
from cutmarks.saying.seen import Seen
from cutmarks.sides import Side
from cutmarks.units import Style, pair_that_goes_in, say, say_steps

L_CUT, U_CUT = "L CUT", "U CUT"
_BY_HAND = "small holes, then grind"
_LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
_TOUCH = 1e-3


def corner_name(piece: CutPiece, corner: InsideCorner) -> str:
    """What a corner is called on paper: "corner A"; "" where the piece has no other."""
    if len(piece.corners) == 1:
        return ""
    return f"corner {_LETTERS[piece.corners.index(corner) % len(_LETTERS)]}"


def corner_pair(corner: InsideCorner, side: Side, piece: CutPiece, style: Style) -> tuple[str, str]:
    """How far a corner lies from a side, and what is left to the other side, as printed: together the tile as printed.

    What is left of the tile has to go in: it is rounded down, and so what goes is rounded up.
    """
    goes = side.sign * corner.goes[side.axis == "up"] > 0.0
    mm = corner.from_edges[side] - NEARLY if goes else corner.from_edges[side] + NEARLY
    own, other = pair_that_goes_in(mm, whole(piece, side), style, up=goes)
    return say_steps(own, style), say_steps(other, style)


def corner_rows(seen: Seen, corner: InsideCorner) -> list[tuple[Side, str, str]]:
    """The figures to mark a corner from, across first: the side, the figure, its words."""
    return [
        (side, corner_pair(corner, side, seen.piece, seen.style)[0], f"from the {seen.names[side]}")
        for side in corner.mark_from
    ]


def corner_checks(seen: Seen, corner: InsideCorner) -> list[str]:
    """The figures from the opposite edges, to check with."""
    return [corner_pair(corner, side, seen.piece, seen.style)[1] for side in corner.mark_from]


def against_words(seen: Seen, corner: InsideCorner) -> list[str]:
    """Where the sheet does not lie against the edge that is marked from: which it lies against, and what to check."""
    return [
        f"The sheet lies against the {seen.plainly(side.opposite)}: check {figure} from the {seen.plainly(side)}"
        for side, figure, _ in corner_rows(seen, corner)
        if side.opposite in seen.registration.edges
    ]


def stop_words(seen: Seen) -> str:
    """What is drilled first at the corners on the sheet, where it goes, and that the saw stops there.

    A hole about the corner itself would bite into what stays: it lies in what goes, and touches both lines.
    """
    several = len(seen.corners) > 1
    d = _drilled(seen)
    if d is None:
        return "stop each saw cut at its corner" if several else "stop both saw cuts at the corner"
    hole, off = say(d, seen.style), say(d / 2.0, seen.style)
    where, stop = (" at each corner", "the saw") if several else ("", "both saw cuts")
    return f"drill {hole} first{where}: its middle in what goes, {off} from both lines; stop {stop} there"


def _drilled(seen: Seen) -> float | None:
    """The small hole that is drilled at all corners on the sheet, mm; None where one of them has no room for it."""
    holes = [one for one in to_cut(seen.plan, seen.face).operations if isinstance(one, ReliefHoles) and not one.cut]
    indices = [seen.piece.corners.index(corner) for corner in seen.corners]
    at = [seen.face.corners[index].centre for index in indices]
    found = [
        min((one.d for one in holes for spot in one.at if math.dist((spot.x, spot.y), (x, y)) <= one.d), default=None)
        for x, y in ((corner.x, corner.y) for corner in at)
    ]
    return max((d for d in found if d is not None), default=None) if None not in found else None


def between_words(seen: Seen) -> Iterator[str]:
    """How the end of a notch is made, between two corners on the sheet, where no saw comes in from an edge."""
    on_sheet = [seen.face.corners[seen.piece.corners.index(corner)] for corner in seen.corners]
    for one in to_cut(seen.plan, seen.face).operations:
        if not isinstance(one, PlungeCut) or one.cut:
            continue
        ends = [
            corner_name(seen.face, corner).rpartition(" ")[2]
            for corner in on_sheet
            if any(
                math.dist((corner.centre.x, corner.centre.y), (at.x, at.y)) <= one.clear + _TOUCH
                for at in (one.start, one.end)
            )
        ]
        if len(ends) == len(("one", "other")):
            way = "plunged from the face" if one.from_face else "plunged from the BACK" if one.from_back else _BY_HAND
            yield f"{' to '.join(sorted(ends))}: {way}"


def radius_words(seen: Seen) -> str:
    """The radius that is asked for in inside corners, which a sheet draws sharp; "" where none is, or has room."""
    cutting, cuts = seen.plan.cuttings[seen.piece.name], seen.cuts
    has_corners = bool(seen.corners) or any(not isinstance(cut.opening.shape, Circle) for cut in cuts)
    if cutting.corners.way != "round" or not has_corners or cutting.outline == seen.face.outline:
        return ""
    room = ", where it has room" if cutting.sharp else ""
    return f"inside corners: radius {say(cutting.corners.mm, seen.style)}{room} (drawn sharp here)"


def other_corners(seen: Seen) -> Iterator[str]:
    """The piece's corners that are not on this sheet: on another, or too far in for one, with their figures."""
    piece = seen.piece
    elsewhere = {index for one in seen.plan.registrations if one.piece == piece.name for index in one.cuts}
    for index, corner in enumerate(piece.corners, start=len(piece.cuts)):
        if corner in seen.corners or corner.least_arm < seen.plan.limits.small_step.value:
            continue
        name = corner_name(piece, corner)
        if index in elsewhere:
            yield f"{name}: on another sheet"
        else:
            figures = " and ".join(f"{figure} {words}" for _, figure, words in corner_rows(seen, corner))
            yield f"{name}, by tape: {figures}"


def corners_cut(piece: CutPiece) -> str:
    """What is cut at a piece's inside corners, in capitals: "L CUT", "U CUT", "2 L CUTS"."""
    corners = piece.corners
    if len(corners) == 1:
        return L_CUT
    if len(corners) == len(("one", "other")) and _one_notch(*corners):
        return U_CUT
    return f"{len(corners)} L CUTS"


def _one_notch(one: InsideCorner, other: InsideCorner) -> bool:
    """Whether one saw cut leads from a corner to the other."""
    away = (other.centre.x - one.centre.x, other.centre.y - one.centre.y)
    return any(math.dist(away, arm) <= _TOUCH for arm in one.arms)
