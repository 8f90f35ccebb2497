"""How far off a cut may come when it is marked through the paper, mm.

Paper that is not calibrated is taken to be 0.5 % out along each axis, independently; lining up on an edge costs 0.3,
the middle of a printed line 0.25 (common practice, no published source). An edge that is not the one that sits
against fixed work adds what the tile's own size may be out.
"""

from __future__ import annotations

from cutmarks.openings.model import Cut, CutPiece
from cutmarks.registering.model import Registration
from cutmarks.registering.register import axis_of, centre_from, mark_sides, span
from cutmarks.setout.model import Side

SCALE_ERROR = 0.005
"""Share by which a desktop printer's scale may be out on each axis, uncalibrated."""
LINING_UP = 0.3
LINE = 0.25
BY_TAPE = 1.0
"""Marking one measure by tape, two sigma (common practice, no published source)."""
SIZE_SPREAD_MEASURED = 0.5
SIZE_SPREAD_NOMINAL = 1.0


def error_at(piece: CutPiece, cut: Cut, registration: Registration) -> float:
    """The worse of the two axes at the middle of a hole, or at the far side of a notch, mm."""
    return max(axis_error(piece, cut, registration, side) for side in mark_sides(cut))


def axis_error(piece: CutPiece, cut: Cut, registration: Registration, mark: Side) -> float:
    """The error along the axis of the side `mark`, which the cut is to be marked from, mm."""
    for side in registration.edges:
        if axis_of(side) == axis_of(mark):
            return _far(piece, cut, side) * SCALE_ERROR + LINING_UP + LINE + _spread(piece, side, mark)
    taped = next(side for side in registration.tape if axis_of(side) == axis_of(mark))
    first = piece.cuts[registration.cuts[0]]
    off_line = abs(centre_from(cut, taped) - centre_from(first, taped))
    return BY_TAPE + off_line * SCALE_ERROR + LINE + _spread(piece, taped, mark)


def _far(piece: CutPiece, cut: Cut, side: Side) -> float:
    return centre_from(cut, side) if cut.kind == "hole" else span(cut, piece, side)[1]


def _spread(piece: CutPiece, side: Side, mark: Side) -> float:
    if side == mark:
        return 0.0
    return SIZE_SPREAD_MEASURED if piece.piece.tile.measured else SIZE_SPREAD_NOMINAL
