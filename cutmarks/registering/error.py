"""How far off a cut may come when it is marked through the paper, mm.

Distance times the printer's scale error, 0.3 for lining up, 0.6 times the root of the joins that lie between, 0.25 for
the middle of a printed line (common practice, no published source). Paper that is not calibrated is taken to be 0.5 %
out along each axis, independently; calibrated, 0.3 %. An edge that is not the one that sits against fixed work adds
what the tile's own size may be out.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from cutmarks.openings.model import Cut, CutPiece
from cutmarks.registering.model import Registration
from cutmarks.registering.paper import joins_to
from cutmarks.registering.sides import axis_of, centre_from, mark_sides, span
from cutmarks.setout.model import Side

SCALE_ERROR = 0.005
"""Share by which a desktop printer's scale may be out on each axis, uncalibrated."""
CALIBRATED_SCALE_ERROR = 0.003
"""The same after calibration, two sigma: bars read to 0.5 mm, and paper that has moved by up to 0.2 % with damp."""
LINING_UP = 0.3
LINE = 0.25
JOIN = 0.6
"""One join, two sigma; several add up as the root of their number."""
BY_TAPE = 1.0
"""Marking one measure by tape, two sigma (common practice, no published source)."""
SIZE_SPREAD_MEASURED = 0.5
SIZE_SPREAD_NOMINAL = 1.0


@dataclass(frozen=True, slots=True)
class Error:
    """What the error along one axis is made of, mm."""

    printing: float
    lining_up: float = 0.0
    tape: float = 0.0
    joins: float = 0.0
    size: float = 0.0
    line: float = LINE

    @property
    def total(self) -> float:
        """All parts together."""
        return self.printing + self.lining_up + self.tape + self.joins + self.size + self.line


def scale_error(calibrated: bool) -> float:
    """The share by which the printer's scale may be out."""
    return CALIBRATED_SCALE_ERROR if calibrated else SCALE_ERROR


def error_at(piece: CutPiece, cut: Cut, registration: Registration, scale: float = SCALE_ERROR) -> float:
    """The worse of the two axes at the middle of a hole, or at the far side of a notch, mm."""
    return worst_error(piece, cut, registration, scale).total


def worst_error(piece: CutPiece, cut: Cut, registration: Registration, scale: float = SCALE_ERROR) -> Error:
    """The parts of the error along the worse of the two axes; across on a tie.

    `scale` is the share by which the printer's scale may be out.
    """
    errors = [axis_error(piece, cut, registration, side, scale) for side in mark_sides(cut)]
    return max(errors, key=lambda error: error.total)


def axis_error(piece: CutPiece, cut: Cut, registration: Registration, mark: Side, scale: float = SCALE_ERROR) -> Error:
    """The error along the axis of the side `mark`, which the cut is to be marked from."""
    for side in registration.edges:
        if axis_of(side) == axis_of(mark):
            return Error(
                printing=_far(piece, cut, side) * scale,
                lining_up=LINING_UP,
                joins=JOIN * math.sqrt(_joins(piece, cut, registration)),
                size=_spread(piece, side, mark),
            )
    taped = next(side for side in registration.tape if axis_of(side) == axis_of(mark))
    first = piece.cuts[registration.cuts[0]]
    off_line = abs(centre_from(cut, taped) - centre_from(first, taped))
    return Error(printing=off_line * scale, tape=BY_TAPE, size=_spread(piece, taped, mark))


def _joins(piece: CutPiece, cut: Cut, registration: Registration) -> int:
    """How many joins lie between the edges and the cut, along both axes."""
    if registration.how != "joined":
        return 0
    steps = zip(registration.edges, registration.steps, strict=True)
    return sum(joins_to(_far(piece, cut, side), step) for side, step in steps)


def _far(piece: CutPiece, cut: Cut, side: Side) -> float:
    return centre_from(cut, side) if cut.kind == "hole" else span(cut, piece, side)[1]


def _spread(piece: CutPiece, side: Side, mark: Side) -> float:
    if side == mark:
        return 0.0
    return SIZE_SPREAD_MEASURED if piece.piece.tile.measured else SIZE_SPREAD_NOMINAL
