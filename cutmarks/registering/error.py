"""How far off a cut may come when it is marked through the paper, mm.

Distance times the printer's scale error, lining up, one join's error times the root of the joins that lie between, and
the middle of a printed line; the figures are the job's. An edge that is not the one that sits against fixed work adds
what the tile's own size may be out.
"""

from __future__ import annotations

import math

from msgspec import Struct

from cutmarks.geometry.tolerance import TOUCH
from cutmarks.openings.model import CutPiece, SheetSpot
from cutmarks.registering.figures import USUAL, PaperFigures
from cutmarks.registering.layouts import joins_to
from cutmarks.registering.model import Registration
from cutmarks.registering.sides import mark_sides, span
from cutmarks.sides import Side


class Error(Struct, frozen=True):
    """What the error along one axis is made of, mm."""

    printing: float
    lining_up: float = 0.0
    tape: float = 0.0
    joins: float = 0.0
    size: float = 0.0
    line: float = 0.0

    @property
    def total(self) -> float:
        """All parts together."""
        return self.printing + self.lining_up + self.tape + self.joins + self.size + self.line


def error_at(piece: CutPiece, cut: SheetSpot, registration: Registration, figures: PaperFigures = USUAL) -> float:
    """The worse of the two axes at the middle of a hole, at an inside corner, or at the far side of a notch, mm."""
    return worst_error(piece, cut, registration, figures).total


def worst_error(piece: CutPiece, cut: SheetSpot, registration: Registration, figures: PaperFigures = USUAL) -> Error:
    """The parts of the error along the worse of the two axes; across on a tie."""
    errors = [axis_error(piece, cut, registration, side, figures) for side in mark_sides(cut)]
    return max(errors, key=lambda error: error.total)


def axis_error(
    piece: CutPiece, cut: SheetSpot, registration: Registration, mark: Side, figures: PaperFigures = USUAL
) -> Error:
    """The error along the axis of the side `mark`, which the cut is to be marked from."""
    for side in registration.edges:
        if side.axis == mark.axis:
            return edge_error(piece, cut, side, mark, figures, _joins(piece, cut, registration))
    taped, line = next(
        (side, at) for side, at in zip(registration.tape, registration.lines, strict=True) if side.axis == mark.axis
    )
    # Of a box that is larger than the paper the line is the near side; what the sheet does not show goes by tape alone.
    is_side = cut is piece.spots[registration.cuts[0]] and abs(line - span(cut, piece, taped)[0]) <= TOUCH
    off_line = 0.0 if is_side else abs(cut.from_edges[taped] - line)
    return Error(
        printing=off_line * figures.scale,
        tape=figures.tape,
        size=_spread(piece, taped, mark, figures),
        line=figures.line,
    )


def edge_error(
    piece: CutPiece, cut: SheetSpot, side: Side, mark: Side, figures: PaperFigures = USUAL, joins: int = 0
) -> Error:
    """The error of a cut that is to be marked from `mark`, on paper lined up on `side` with so many joins between."""
    return Error(
        printing=_far(piece, cut, side) * figures.scale,
        lining_up=figures.lining_up,
        joins=figures.join * math.sqrt(joins),
        size=_spread(piece, side, mark, figures),
        line=figures.line,
    )


def _joins(piece: CutPiece, cut: SheetSpot, registration: Registration) -> int:
    """How many joins lie between the edges and the cut, along both axes."""
    if registration.how != "joined":
        return 0
    steps = zip(registration.edges, registration.steps, strict=True)
    return sum(joins_to(_far(piece, cut, side), step) for side, step in steps)


def _far(piece: CutPiece, cut: SheetSpot, side: Side) -> float:
    return cut.from_edges[side] if cut.kind in ("hole", "corner") else span(cut, piece, side)[1]


def _spread(piece: CutPiece, side: Side, mark: Side, figures: PaperFigures) -> float:
    if side == mark:
        return 0.0
    return figures.size_measured if piece.piece.tile.measured else figures.size_nominal
