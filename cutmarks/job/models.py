"""The job as the tiler wrote it: frozen models, every length in mm, every phrase parsed.

`where` is each thing's path in the job, for faults found by later stages (`Job.fault`).
"""

from collections.abc import Mapping
from fractions import Fraction
from typing import Annotated, Any, ClassVar, Literal

from msgspec import Struct, field
from msgspec.structs import replace

from cutmarks.errors import Fault, Faults, JobPath
from cutmarks.job.declared import Key, Made
from cutmarks.job.edges import EdgeSpec, KeepOutSpec, Step, VoidSpec
from cutmarks.job.examples import in_unit_of
from cutmarks.job.fields import NameField, Note, Template, WordsField, one_of, parsed, words
from cutmarks.job.found import FoundSpec
from cutmarks.job.holes import HoleSpec
from cutmarks.job.limits import NO_LIMITS, OwnLimits
from cutmarks.job.measures import IMPERIAL
from cutmarks.job.model import JobModel, TypedKeys, given, path_of, tidy_key
from cutmarks.job.packs import parse_bag
from cutmarks.job.shop import CORNER_KEY, USUAL_SHOP, CornersField, Shop
from cutmarks.job.surfaces import LineSpec, SurfaceSpec
from cutmarks.job.tiles import AreaSpec, TileSpec
from cutmarks.job.tools import USUAL_TOOLS, PaperField, Printer, Tools
from cutmarks.job.tree import Entry, Places, Text
from cutmarks.job.words import UNKNOWN, Setting, spaced
from cutmarks.readings import BagOf, EdgeReading
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
    "SurfaceSpec",
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


class Source(Struct, frozen=True):
    """Where a job was read: the file's name, and the place of each path."""

    file: str | None = None
    places: Places = field(default_factory=Places)


class Accepted(JobModel, frozen=True, kw_only=True):
    """A finding that the tiler has seen and lives with: its rule, the piece or hole ("" for all), and why."""

    rule: Annotated[
        WordsField,
        Key(
            "the finding's rule, as it stands in brackets behind it",
            ("thin bridge",),
            write="rule: and the finding's rule",
        ),
    ]
    about: Annotated[WordsField, Key("the piece or hole that it is about; without it, all", ("splash 3-4", "hot"))] = ""
    reason: Annotated[
        WordsField,
        Key(
            "why you live with it: printed with the finding",
            ("the rose hides it",),
            write="reason: and why you live with it",
        ),
    ]


class Job(JobModel, frozen=True, kw_only=True):
    """One job: how it is said, its tiles, its surfaces, and what was taken for granted.

    units    of a number that has none; say: whose words are used on paper.
    finest   step of measures on paper, in mm for a metric job and in inches for the others.
    limits   the limits and defaults that the job sets for itself; `limits.figures()` has all of them.
    sheets   "joined": sheets that are joined, instead of one with a tape, where one does not reach.
    template  the face that all templates are laid on; "": as each hole or tile says.
    found    what was read at the wall and what was cut, in the order in which it was written down.
    bag, grout_bag  what a bag of adhesive, and one of grout, makes by its maker; None: not said.
    shop     the shop that cuts; corner_radius: what is made of inside corners for it, None: as it asks itself;
             corner_radius_of: of single pieces.
    cut      "on the day": measured again at the wall; "ahead": cut from the plan alone.
    contact  who is asked about it: a name and a telephone number; "": not said.
    assumed  one sentence for each thing that was forgotten and taken for granted.
    read     what was read, as JSON values: remarks, order of keys and quotation marks do not count in it.
    """

    KEYS_WANTED: ClassVar[str] = "A job has keys: begin with a line such as job: Quay Cottage."

    name: Annotated[
        NameField,
        Key("what the job is called", ("Quay Cottage", "Mill Loft"), meant=("title", "name", "project"), word="job"),
    ]
    units: Annotated[
        Unit,
        one_of({unit.value: unit for unit in Unit}, UNIT_WORDS),
        Key("the unit of a figure that has none", ("mm", "cm", "m", "in", "ft"), also=("unit",)),
    ] = Unit.MM
    say: Annotated[
        Literal["uk", "us"],
        words("uk", "us"),
        Key("whose words: batten or ledger, joint or grout joint", ("uk", "us"), meant=("language",)),
    ] = "uk"
    finest: Annotated[
        Fraction, one_of(FINEST), Key("the finest step of a measure on paper, mm or in", ("1", "1/2", "1/16"))
    ] = Fraction(1, 2)
    paper: Annotated[
        PaperField, Key("the paper that templates are printed on", ("A4", "A3", "Letter", "610 x 900", "roll 610"))
    ] = "A4"
    sheets: Annotated[
        Literal["single", "joined"],
        words("single", "joined"),
        Key("joined: sheets to join, instead of one with a tape, where one does not reach", ("joined", "single")),
    ] = "single"
    template: Template = ""
    cut: Annotated[
        Literal["ahead", "on the day"],
        words("on the day", "ahead"),
        Key("ahead: cut from the plan alone, and not measured again at the wall", ("ahead", "on the day")),
    ] = "on the day"
    tiles: Annotated[
        Mapping[str, TileSpec],
        Key(
            "the kinds of tile, each behind its name",
            ("{rib: {size: 297 x 97}}",),
            one="tile",
            named=True,
            write="tiles:, and under it rib: {size: 297 x 97}",
        ),
    ] = field(default_factory=dict)
    surfaces: Annotated[
        tuple[SurfaceSpec, ...],
        Key(
            "the walls and floors",
            meant=("walls", "floors", "wall", "floor", "rooms"),
            one="surface",
            write="surfaces:, and under it - name: sink wall",
        ),
    ]
    courses_run_round: Annotated[
        tuple[NameField, ...],
        Key(
            "the walls round which courses run at one height: lines of one name are one level there",
            ("[sink wall, end wall]",),
        ),
    ] = ()
    tools: Annotated[Tools, Made()] = USUAL_TOOLS
    shop: Annotated[Shop, Made()] = USUAL_SHOP
    corner_radius: Annotated[CornersField | None, CORNER_KEY] = None
    corner_radius_of: Annotated[
        Mapping[str, CornersField],
        Key(
            "the same of single pieces, by their names", ("{splash 3-4: 8}", "{splash 3-4: sharp, splash 2-2: holes 6}")
        ),
    ] = field(default_factory=dict)
    bag: Annotated[
        BagOf | None,
        parsed(parse_bag),
        Key("what a bag of adhesive makes, by its maker", ("20 kg makes 14 litres", "25 kg at 1.4 kg a litre")),
    ] = None
    grout_bag: Annotated[
        BagOf | None,
        parsed(parse_bag),
        Key("what a bag of grout makes, by its maker", ("5 kg makes 3 litres", "5 kg at 1.7 kg a litre")),
    ] = None
    limits: Annotated[OwnLimits, Key("your own figure for any limit", ("{thin bridge: 25}",), one="limit")] = NO_LIMITS
    accepted: Annotated[
        tuple[Accepted, ...],
        Key("findings that you have seen and live with", meant=("accepted",), one="accepted finding", word="accept"),
    ] = ()
    found: Annotated[
        tuple[FoundSpec, ...], Key("what was read and cut at the wall; `cutmarks found` writes it", one="found")
    ] = ()
    contact: Annotated[
        WordsField,
        Key(
            "who is asked about the job, on what goes to a shop: a name and a telephone number",
            ("Wren Hollis 01632 960120",),
            meant=("telephone", "phone", "ring"),
        ),
    ] = ""
    note: Note = ""
    assumed: Annotated[tuple[str, ...], Made()] = ()
    source: Annotated[Source, Made()] = Source()
    read: Annotated[Mapping[str, Any], Made()] = field(default_factory=dict)

    @classmethod
    def setting_in(cls, written: TypedKeys, setting: Setting) -> Setting:
        """The joints that tiles say for the areas they are laid in."""
        return replace(setting, joints=joints_in(written.keys.get("tiles")))

    @classmethod
    def prepare(cls, written: TypedKeys, setting: Setting) -> None:
        """Fill in what follows from the unit; name each tile."""
        keys = written.keys
        if setting.unit in IMPERIAL:
            keys.setdefault("finest", Fraction(1, 32))
        keys.setdefault("say", setting.say)
        if setting.say == "us":
            keys.setdefault("paper", "Letter")
        tiles = keys.get("tiles")
        if isinstance(tiles, Entry):
            keys["tiles"] = Entry(
                {spaced(name): given(tile, "size", name=Text(name, path_of(tile))) for name, tile in tiles.items()},
                tiles.path,
            )

    def check(self) -> None:
        """A surface; a step for measures that the unit has."""
        if not self.surfaces:
            raise ValueError("It has no surfaces: write one under surfaces:, with name, kind, lines and areas.")
        if self.units not in IMPERIAL and self.finest < Fraction(1, 2):
            raise ValueError(f"finest: {self.finest} is too fine for a job in {self.units}: write 1/2 or 1.")

    @property
    def setting(self) -> Setting:
        """In what its figures and words are said, whatever the surface."""
        return Setting(unit=self.units, say=self.say)

    def fault(self, where: JobPath, about: str, sentence: str) -> Fault:
        """A fault of the thing at `where`, with the file and line of it or of the nearest thing round it."""
        place, sentence = self.source.places.find(where), in_unit_of(self.units, sentence)
        if place is None:
            return Fault(sentence, about, self.source.file, path=where)
        return Fault(sentence, about, place.file, place.line, where)

    def faults(self) -> Faults:
        """What a stage tells of faults that it finds."""
        return Faults(self.fault)


def joints_in(tiles: object) -> Mapping[str, str]:
    """The joints that tiles say, by their names."""
    said = {spaced(name): _joint_of(tile) for name, tile in tiles.items()} if isinstance(tiles, Entry) else {}
    return {name: joint for name, joint in said.items() if joint is not None}


def _joint_of(tile: object) -> Text | None:
    """The joint that a tile says; None where it says none."""
    held = (
        next((held for key, held in tile.items() if tidy_key(key) == "joint"), None)
        if isinstance(tile, Entry)
        else None
    )
    return held if isinstance(held, Text) and spaced(held) not in ("", UNKNOWN) else None
