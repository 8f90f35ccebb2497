"""What the wall page's script adds and compares: whole numbers, each in millionths of a millimetre.

The script knows no geometry. What is read on the wall comes to it in steps; what was expected, which way a figure goes,
how it is rounded and from where on it stops stand here, beside each cut. Where two readings are halved it keeps both
added up, so that nothing is ever halved: those are marked "twice".

What is as it mostly is stands nowhere; the script puts it in (`mostly`).

    pieces  f its fingerprint, n its name, z its whole tile's size across and up, c its cuts, o the openings that it
            goes into; b its print as planned, where that is another: "" where the print made anew cannot be told
    cut     h its name; k what is read: s from which side, a along which axis (0 across, 1 up), e what is expected, b
            what was before it moved (both sides added up), y how far, least and most, the thing may go away from there
            and still be read from the same (twice; null: any);
            r what it was found off already, right and up (twice), m how much of that its figures have moved (twice);
            l over how far off it stops (twice); w by how much its sides may disagree, v over what that stops;
            q how far it may move left, right, down, up (twice); d it is cut; t its rows of figures, g its checks, where
            they are not of the same; i where the middle of a core is that only bites into the tile
    row     a the axis, s which way the figure goes, n how the pair is rounded, v the figures
    opening a its axis, d what comes off at each end, e what is expected there, b which of the ends are shown, p it is
            read to the far side: the tile goes on from there, and its size is rounded up
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from math import isfinite

from cutmarks.openings.model import Cut, CutPiece, InfillEnd, WallCheck
from cutmarks.plan import Plan
from cutmarks.saying.behind import is_behind
from cutmarks.saying.by_reading import ByReading
from cutmarks.saying.cuts import MarkRow, checked, marked, middle_parts
from cutmarks.saying.infills import InfillRead, own_ends
from cutmarks.saying.measures import Measure, by_centre
from cutmarks.saying.names import job_stem
from cutmarks.saying.seen import Seen
from cutmarks.sides import SIDES, Side
from cutmarks.units import Unit, millionths, step_millionths

CountedValue = int | str | bool | None | Sequence["CountedValue"] | Mapping[str, "CountedValue"]
Counted = Mapping[str, CountedValue]
OWN, OTHER, NEARER, NEARER_OR_TIE = 0, 1, 2, 3
"""Whose rounding a pair of measures keeps: the measure's own, the other's, the nearer's (with a tie: the other's, or
its own)."""
SNAP = 1
"""What is equal within a millionth is equal."""


def of_job(plan: Plan) -> Counted:
    """What is the same for all pieces; these stand beside it, each from `of_piece`, in the order of fixing."""
    style = plan.say.style
    inches = style.unit is Unit.INCH
    return {
        "job": plan.job,
        "stem": job_stem(plan.job),
        "digits": plan.fingerprint,
        "unit": "in" if inches else "mm",
        "step": step_millionths(style),
        "parts": style.finest.denominator,
        "act": 2 * millionths(plan.limits.act_at.value) - 2 * SNAP,
    }


def of_piece(piece: CutPiece, cuts: Sequence[CountedValue], openings: Sequence[CountedValue]) -> Counted:
    """A piece with its cuts and openings."""
    tile = piece.piece.tile
    told: dict[str, CountedValue] = {
        "f": piece.fingerprint,
        "n": piece.name,
        "z": [millionths(tile.w), millionths(tile.h)],
        "c": cuts,
        "o": openings,
    }
    if piece.print_as_planned != piece.fingerprint:
        told["b"] = piece.print_as_planned or ""
    return told


def of_cut(by: ByReading, cut: Cut, views: Iterable[Seen], rows_shown: bool) -> Counted:
    """A cut with what is read for it, and its figures as each of its templates has them."""
    seen = list(views) if rows_shown else []
    rows = [_row(one, row.measure) for one in seen for row in marked(one, own_cut(one, cut))]
    checks = [_row(one, measure) for one in seen for measure in checked(one, own_cut(one, cut))]
    middles = [_row(one, measure) for one in seen[:1] for measure in _middles(one, own_cut(one, cut))]
    return {
        "h": cut.opening.name,
        "k": [_check(*told) for told in zip(by.checks, by.planned, by.kept, strict=True)],
        **({"r": by.off} if any(by.off) else {}),
        **({"m": by.moved} if any(by.moved) else {}),
        "l": None if by.too_far is None else _twice(by.too_far) + 2 * SNAP,
        "w": millionths(by.apart) + SNAP,
        "v": None if by.spare is None else _twice(by.spare) + 2 * SNAP,
        "q": None if by.room is None else [_twice(by.room[side]) for side in SIDES],
        **({"d": True} if by.is_cut else {}),
        "t": rows,
        **({"g": checks} if checks != rows else {}),
        **({"i": middles} if middles else {}),
    }


def rows_of(seen: Seen, cut: Cut) -> list[MarkRow]:
    """The rows of a cut on one of its templates, in the order of `of_cut`."""
    return marked(seen, own_cut(seen, cut))


def bites(cut: Cut) -> bool:
    """Whether it is a core's bite that is not marked by its middle, which the board that guides the core needs."""
    return cut.opening.core is not None and (cut.kind == "corner notch" or not (cut.kind == "hole" or by_centre(cut)))


def _middles(seen: Seen, cut: Cut) -> list[Measure]:
    return [measure for measure, _, _ in middle_parts(seen, cut) if measure is not None] if bites(cut) else []


def own_cut(seen: Seen, cut: Cut) -> Cut:
    """The cut as the template has it: mirrored on the back."""
    return next(one for one in seen.piece.cuts if one.opening.name == cut.opening.name)


def of_opening(read: InfillRead, ends: Sequence[InfillEnd], shown: Sequence[int]) -> Counted:
    """An opening that a trimmed piece goes into, with all its ends, and which of them are shown."""
    return {
        "a": int(read.infill.side.axis == "up"),
        "p": read.infill.past,
        # What comes off is a whole figure, most often; the difference of two that were snapped need not be.
        "d": [millionths(end.opening - end.cut) for end in ends],
        "e": [millionths(end.opening) for end in ends],
        "b": list(shown),
    }


def ends_shown(read: InfillRead, ends: Sequence[InfillEnd], two_sizes: float) -> list[int]:
    """Which ends of an opening have a figure of their own, by number."""
    own = own_ends(ends, two_sizes, past=read.infill.past)
    return [number for number, end in enumerate(ends) if any(end is one for one in own)]


def _check(check: WallCheck, planned: tuple[float, float] | None, kept: tuple[float, float]) -> Counted:
    near, far = millionths(check.near), millionths(check.far)
    before = None if planned is None else sum(map(millionths, planned))
    return {
        "s": str(check.side),
        "a": int(check.side.axis == "up"),
        "e": [near] if check.to_middle else [near, far],
        **({"b": before} if before != near + far else {}),
        **({"y": [_twice(way) if isfinite(way) else None for way in kept]} if any(map(isfinite, kept)) else {}),
    }


def _row(seen: Seen, measure: Measure) -> Counted:
    piece, side = seen.piece, measure.side
    on_face = side.mirrored if is_behind(piece) else side
    return {
        "a": int(side.axis == "up"),
        "s": -on_face.sign,
        "n": _rounding(piece, side),
        "v": [millionths(value) for value in measure.values],
    }


def _rounding(piece: CutPiece, side: Side) -> int:
    """Whose rounding is kept, as `saying.measures.shown` has it."""
    own, other = (edge in piece.factory_edges for edge in (side, side.opposite))
    if own != other:
        return OWN if own else OTHER
    on_a_tie = ("right", "bottom") if is_behind(piece) else ("left", "bottom")
    return NEARER_OR_TIE if side in on_a_tie else NEARER


def _twice(mm: float) -> int:
    return millionths(2.0 * mm)
