"""The tiler's own tools: cores, discs, printer. They are not the job's, and stand in a file of their own."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, ClassVar, Literal

from cutmarks.job.fields import Context, Gap, Words, length, parsed, words
from cutmarks.job.model import Model
from cutmarks.job.tree import Items, Text

BIGGEST_CORE = 400.0
BIGGEST_DISC = 600.0
PAPERS = ("A4", "A3", "Letter", "Tabloid", "any")

Paper = Annotated[Literal["A4", "A3", "Letter", "Tabloid", "any"], words(*PAPERS)]
Core = Annotated[float, parsed(length(3.0, BIGGEST_CORE, "A core"))]
Disc = Annotated[float, parsed(length(50.0, BIGGEST_DISC, "A disc"))]


class Printer(Model):
    """The printer: its paper, and the margin that it leaves white, mm; None: not said."""

    paper: Paper | None = None
    margin: Gap | None = None
    note: Words = ""


class Tools(Model):
    """What the tiler owns. cores, discs: diameters, mm, ascending; empty: the usual series."""

    ALIKE: ClassVar[Mapping[str, str]] = {"core": "cores", "disc": "discs", "discs and blades": "discs"}

    cores: tuple[Core, ...] = ()
    discs: tuple[Disc, ...] = ()
    printer: Printer = Printer()
    units: Words = ""
    note: Words = ""

    @classmethod
    def prepare(cls, taken: dict[str, object], unknown: frozenset[str], context: Context) -> dict[str, object]:
        """A list on one line, "20, 28, 35", is a list."""
        for key in ("cores", "discs"):
            value = taken.get(key)
            if isinstance(value, Text):
                taken[key] = Items([Text(part, value.path) for part in value.split(", ")], value.path)
        return taken
