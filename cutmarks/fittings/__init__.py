"""The catalogue of pipes, boxes, plates and valves: data with a source on each row, and how they are asked for.

find("15 copper", "uk", Unit.MM).od        -> 15.0
find("1/2 copper", "us", Unit.INCH).od     -> 15.875
find("mixer valve", "uk", Unit.MM)         -> None: no size was named
"""

from cutmarks.fittings.boxes import ThingShape, is_box, is_square_box, shape_by_kind, sizes_of
from cutmarks.fittings.finding import find, pipes_near
from cutmarks.fittings.model import Fitting, FittingChoice, FittingKind, SourceMark, System
from cutmarks.fittings.own import OWN_FILE, read_own
from cutmarks.fittings.rows import FittingRow, catalogue, cores, cores_source

__all__ = [
    "OWN_FILE",
    "Fitting",
    "FittingChoice",
    "FittingKind",
    "FittingRow",
    "SourceMark",
    "System",
    "ThingShape",
    "catalogue",
    "cores",
    "cores_source",
    "find",
    "is_box",
    "is_square_box",
    "pipes_near",
    "read_own",
    "shape_by_kind",
    "sizes_of",
]
