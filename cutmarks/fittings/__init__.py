"""The catalogue of pipes, boxes, plates and valves: data with a source on each row, and how they are asked for.

find("15 copper", "uk", Unit.MM).od        -> 15.0
find("1/2 copper", "us", Unit.INCH).od     -> 15.875
find("mixer valve", "uk", Unit.MM)         -> None: no size was named
"""

from cutmarks.fittings.finding import find
from cutmarks.fittings.model import Choice, Fitting, Kind, Mark, System
from cutmarks.fittings.rows import catalogue, cores

__all__ = ["Choice", "Fitting", "Kind", "Mark", "System", "catalogue", "cores", "find"]
