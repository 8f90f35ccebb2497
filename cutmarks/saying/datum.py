"""Which two edges of a piece all is measured from, in a shop's drawing and in all that is said beside it."""

from __future__ import annotations

from msgspec import Struct
from msgspec.structs import replace

from cutmarks.cutting.operations import SetOutFrom
from cutmarks.openings.model import CutPiece
from cutmarks.sides import ON_AXIS, Axis, Side


class Datum(Struct, frozen=True):
    """What a drawing is measured from: a side across and a side up; trimmed: that side is a cut edge."""

    across: Side
    up: Side
    trimmed: tuple[Side, ...]

    def on(self, axis: Axis) -> Side:
        """Its side on an axis."""
        return self.across if axis == "across" else self.up


def datum_of(piece: CutPiece) -> Datum:
    """The maker's edges that all is measured from: left and bottom, else right and top, else the trimmed edge."""
    found: dict[Axis, Side] = {}
    for axis, sides in ON_AXIS.items():
        found[axis] = next((side for side in sides if side in piece.factory_edges), sides[0])
    trimmed = tuple(side for side in found.values() if side not in piece.factory_edges)
    return Datum(found["across"], found["up"], trimmed)


def from_datum(measure: SetOutFrom, piece: CutPiece) -> SetOutFrom:
    """The same cut measured from the datum; as it is where that edge is cut too, and is not there to measure from."""
    datum = datum_of(piece)
    side = datum.on(measure.side.axis)
    if side is measure.side or side in datum.trimmed:
        return measure
    tile = piece.piece.tile
    whole = tile.w if side.axis == "across" else tile.h
    return replace(measure, side=side, first=whole - measure.first, last=whole - measure.last, keeps=not measure.keeps)
