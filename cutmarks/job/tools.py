"""The tiler's own tools: cores, discs, printer. They are not the job's, and stand in a file of their own."""

import re
from typing import Annotated

from cutmarks.job.declared import Key
from cutmarks.job.fields import Gap, Note, WordsField, length, parsed
from cutmarks.job.laying import parse_size
from cutmarks.job.model import JobModel, TypedKeys
from cutmarks.job.tree import Items, Text
from cutmarks.job.words import Setting, either, found, spaced
from cutmarks.readings import Disc
from cutmarks.units import Unit, parse_length

BIGGEST_CORE = 400.0
BIGGEST_DISC = 600.0
WIDEST_SPACER = 20.0
PAPERS = ("A4", "A3", "Letter", "Tabloid", "any", "A2", "A1", "A0")
LEAST_SHEET, LONGEST_SHEET = 210.0, 5080.0
"""A plotter's sheet or roll: the foot of a template needs 210 mm, and a page of a PDF is at most 5,080 mm long."""
LEAST_LENGTH = 279.0


def parse_paper(text: str, setting: Setting) -> str:
    """One of the usual papers by name, or a plotter's own: "610 x 900" or "roll 610", mm. Raises ValueError."""
    tidy = spaced(text)
    named = {name.casefold(): name for name in PAPERS}
    if tidy.casefold() in named:
        return named[tidy.casefold()]
    try:
        sizes = _sheet(tidy, setting.unit)
        if sizes[1] > LONGEST_SHEET and setting.unit is not Unit.MM:
            # "roll 610" in an inch job: no roll is 610 in wide, and rolls are sold in mm.
            sizes = _sheet(tidy, Unit.MM)
    except ValueError:
        raise ValueError(
            f"{found(text)} is no paper: write {either(PAPERS)}, a plotter's sheet, as in 610 x 900, or its roll, "
            "as in roll 610."
        ) from None
    if sizes[0] < LEAST_SHEET or not LEAST_LENGTH <= sizes[1] <= LONGEST_SHEET:
        raise ValueError(
            f"{found(text)} is no sheet for a template: write one from {LEAST_SHEET:g} x {LEAST_LENGTH:g} to "
            f"{LONGEST_SHEET:g} mm."
        )
    return f"roll {sizes[0]:g}" if tidy.casefold().startswith("roll ") else f"{sizes[0]:g} x {sizes[1]:g}"


def _sheet(tidy: str, unit: Unit) -> tuple[float, float]:
    """The shorter and the longer side of a plotter's sheet, mm; of a roll its width and the least length of a page."""
    if tidy.casefold().startswith("roll "):
        width = parse_length(tidy[5:], unit).mm
        return width, max(width, LEAST_LENGTH)
    size = parse_size(tidy, unit)
    return min(size.first, size.second), max(size.first, size.second)


PaperField = Annotated[str, parsed(parse_paper)]
CoreField = Annotated[float, parsed(length(3.0, BIGGEST_CORE, "A core"))]
SpacerField = Annotated[float, parsed(length(0.5, WIDEST_SPACER, "A spacer"))]
LEAST_KERF, WIDEST_KERF = 0.5, 5.0
_disc_in_range = length(50.0, BIGGEST_DISC, "A disc")
_kerf_in_range = length(LEAST_KERF, WIDEST_KERF, "What a disc takes where it cuts")
_depth_in_range = length(1.0, BIGGEST_DISC / 2.0, "How deep a disc cuts")


def parse_disc(text: str, setting: Setting) -> Disc:
    """A disc by its diameter, with what it takes, and how deep it cuts: "230", "230 x 1.6", "230 x 1.6 x 60 deep".

    Raises ValueError: a figure is none, or out of range; it would cut deeper than half of itself.
    """
    said = spaced(text)
    parts = re.split(r"\s*(?:[x\u00d7]|\bby\b|\bcuts\b)\s*", said.removesuffix(" deep"), maxsplit=2)
    across, *taken = parts
    depth = taken.pop() if taken and (len(taken) > 1 or said.endswith(" deep")) else None
    disc = Disc(
        _disc_in_range(across, setting),
        _kerf_in_range(taken[0], setting) if taken else None,
        None if depth is None else _depth_in_range(depth, setting),
    )
    if disc.depth is not None and disc.depth >= disc.d / 2.0:
        raise ValueError(
            f"{found(text)} cuts deeper than half of the disc: write what the machine's plate says, as in "
            "230 x 1.6 x 60 deep."
        )
    return disc


DiscField = Annotated[Disc, parsed(parse_disc)]
SnapField = Annotated[float, parsed(length(50.0, LONGEST_SHEET, "The longest snap"))]
StripField = Annotated[float, parsed(length(1.0, 500.0, "The narrowest strip that snaps"))]


class Printer(JobModel, frozen=True, kw_only=True):
    """The printer: the paper of jobs that name none, and the margin that it leaves white, mm; None: not said."""

    paper: Annotated[PaperField | None, Key("the paper of jobs that name none", ("A4", "A3", "roll 610"))] = None
    margin: Annotated[Gap | None, Key("what it leaves blank at the edges of the paper", ("14", "8"))] = None
    note: Note = ""


class Tools(JobModel, frozen=True, kw_only=True):
    """What the tiler owns: cores, by diameter, mm, ascending (empty: the usual series), discs as they were written.

    longest_snap, narrowest_snap  what the snap cutter takes, mm; None: not said.
    spacers  widths, mm.
    """

    cores: Annotated[
        tuple[CoreField, ...],
        Key(
            "the diameters of your cores; without them the usual series",
            ("20, 28, 35, 68", "22, 35, 51"),
            also=("core",),
        ),
    ] = ()
    discs: Annotated[
        tuple[DiscField, ...],
        Key(
            "your discs by diameter, what they take where they cut, and how deep they cut in their machine",
            ("115 x 1.2, 230 x 1.6", "125", "200 x 1.6 x 35 deep"),
            also=("disc", "discs and blades"),
        ),
    ] = ()
    longest_snap: Annotated[
        SnapField | None,
        Key("the longest cut that your snap cutter takes; a longer one is sawn", ("900", "600")),
    ] = None
    narrowest_snap: Annotated[
        StripField | None,
        Key("the narrowest strip that you snap off; a narrower one is sawn", ("15", "120")),
    ] = None
    spacers: Annotated[
        tuple[SpacerField, ...],
        Key(
            "the widths of your spacers: setout tries another joint of these where that saves a sliver",
            ("1.5, 2, 3, 5", "2, 3"),
            also=("spacer",),
        ),
    ] = ()
    printer: Annotated[Printer, Key("the printer that you use", ("{paper: A3, margin: 14}",), one="printer")] = (
        Printer()
    )
    units: Annotated[WordsField, Key("the unit of a figure that has none", ("mm", "in"))] = ""
    note: Note = ""

    @classmethod
    def prepare(cls, written: TypedKeys, setting: Setting) -> None:
        """A list on one line, "20, 28, 35", is a list."""
        listed(written, "cores", "discs", "spacers")


def listed(written: TypedKeys, *keys: str) -> None:
    """What stands under these keys on one line becomes a list."""
    for key in keys:
        value = written.keys.get(key)
        if isinstance(value, Text):
            written.keys[key] = Items([Text(part, value.path) for part in value.split(", ")], value.path)


USUAL_TOOLS = Tools()
"""Of a tiler who says nothing of them."""
