"""The job as the tiler wrote it: frozen models, every length in mm, every phrase parsed.

`where` is each thing's path in the job, for faults found by later stages (`Job.fault`).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Annotated, Any, ClassVar, Literal, Self

from pydantic import model_validator

from cutmarks.errors import Fault, Path
from cutmarks.job.edges import EdgeSpec, KeepOutSpec, Step, VoidSpec
from cutmarks.job.fields import Context, Name, Words, one_of, words
from cutmarks.job.found import FoundSpec
from cutmarks.job.holes import HoleSpec
from cutmarks.job.limits import OwnLimits
from cutmarks.job.measures import IMPERIAL
from cutmarks.job.model import Model, given, path_of
from cutmarks.job.phrases import EdgeReading
from cutmarks.job.surfaces import LineSpec, Surface
from cutmarks.job.tiles import AreaSpec, TileSpec
from cutmarks.job.tools import Paper, Printer, Tools
from cutmarks.job.tree import Entry, Places, Text
from cutmarks.job.words import spaced
from cutmarks.units import UNIT_WORDS, Unit

__all__ = [
    "IMPERIAL",
    "Accepted",
    "AreaSpec",
    "EdgeReading",
    "EdgeSpec",
    "FoundSpec",
    "HoleSpec",
    "Job",
    "KeepOutSpec",
    "LineSpec",
    "Printer",
    "Source",
    "Step",
    "Surface",
    "TileSpec",
    "Tools",
    "VoidSpec",
]

FINEST: Mapping[str, Fraction] = {
    "1": Fraction(1),
    "1/2": Fraction(1, 2),
    "½": Fraction(1, 2),
    "1/4": Fraction(1, 4),
    "1/8": Fraction(1, 8),
    "1/16": Fraction(1, 16),
    "1/32": Fraction(1, 32),
    "1/64": Fraction(1, 64),
}


@dataclass(frozen=True, slots=True)
class Source:
    """Where a job was read: the file's name, and the place of each path."""

    file: str | None = None
    places: Places = field(default_factory=Places)


class Accepted(Model):
    """A finding that the tiler has seen and lives with: its rule, the piece or hole ("" for all), and why."""

    rule: Words
    about: Words = ""
    reason: Words


class Job(Model):
    """One job: how it is said, its tiles, its surfaces, and what was taken for granted.

    units    of a number that has none; say: whose words are used on paper.
    finest   step of measures on paper, in mm for a metric job and in inches for the others.
    limits   the limits and defaults that the job sets for itself; `limits.figures()` has all of them.
    sheets   "joined": sheets that are joined, instead of one with a tape, where one does not reach.
    template  the face that all templates are laid on; "": as each hole or tile says.
    found    what was read at the wall and what was cut, in the order in which it was written down.
    cut      "on the day": measured again at the wall; "ahead": cut from the plan alone.
    assumed  one sentence for each thing that was forgotten and taken for granted.
    read     what was read, as JSON values: remarks, order of keys and quotation marks do not count in it.
    """

    OWN: ClassVar[frozenset[str]] = frozenset({"name", "accepted", "assumed", "source", "read", "tools"})
    EXTRA: ClassVar[tuple[str, ...]] = ("job", "accept")
    ALIKE: ClassVar[Mapping[str, str]] = {"unit": "units"}
    KEYS_WANTED: ClassVar[str] = "A job has keys: begin with a line such as job: Quay Cottage."

    name: Name
    units: Annotated[Unit, one_of({unit.value: unit for unit in Unit}, UNIT_WORDS)] = Unit.MM
    say: Annotated[Literal["uk", "us"], words("uk", "us")] = "uk"
    finest: Annotated[Fraction, one_of(FINEST)] = Fraction(1, 2)
    paper: Paper = "A4"
    sheets: Annotated[Literal["single", "joined"], words("single", "joined")] = "single"
    template: Annotated[Literal["face", "back", "both", ""], words("face", "back", "both")] = ""
    cut: Annotated[Literal["ahead", "on the day"], words("on the day", "ahead")] = "on the day"
    tiles: Mapping[str, TileSpec]
    surfaces: tuple[Surface, ...]
    # Not built by pydantic: a model with nothing in it needs no reader of its own, and a start is quicker for it.
    tools: Tools = Tools.model_construct()
    limits: OwnLimits = OwnLimits.model_construct()
    accepted: tuple[Accepted, ...] = ()
    found: tuple[FoundSpec, ...] = ()
    note: Words = ""
    assumed: tuple[str, ...] = ()
    source: Source = Source()
    read: Mapping[str, Any] = {}

    @classmethod
    def prepare(cls, taken: dict[str, object], unknown: frozenset[str], context: Context) -> dict[str, object]:
        """Fill in what follows from the unit; name each tile."""
        for key, name in (("job", "name"), ("accept", "accepted")):
            if key in taken:
                taken[name] = taken.pop(key)
        if context.setting.unit in IMPERIAL:
            taken.setdefault("finest", Fraction(1, 32))
        taken.setdefault("say", context.setting.say)
        if context.setting.say == "us":
            taken.setdefault("paper", "Letter")
        tiles = taken.get("tiles")
        if isinstance(tiles, Entry):
            taken["tiles"] = Entry(
                {spaced(name): given(tile, "size", name=Text(name, path_of(tile))) for name, tile in tiles.items()},
                tiles.path,
            )
        return taken

    @model_validator(mode="after")
    def has_something(self) -> Self:
        """A tile and a surface; a step for measures that the unit has."""
        if not self.tiles:
            raise ValueError("It has no tiles: write them under tiles:, as in rib: {size: 297 x 97}.")
        if not self.surfaces:
            raise ValueError("It has no surfaces: write one under surfaces:, with name, kind, lines and areas.")
        if self.units not in IMPERIAL and self.finest < Fraction(1, 2):
            raise ValueError(f"finest: {self.finest} is too fine for a job in {self.units}: write 1/2 or 1.")
        return self

    def fault(self, where: Path, about: str, sentence: str) -> Fault:
        """A fault of the thing at `where`, with the file and line of it or of the nearest thing round it."""
        place = self.source.places.find(where)
        if place is None:
            return Fault(sentence, about, self.source.file)
        return Fault(sentence, about, place.file, place.line)
