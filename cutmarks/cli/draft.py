"""A job that is being asked for, and the commented file that it becomes.

It can be written out at any moment: each answer is judged by the very reader that will read the finished file. A thing
of it is what stands under its keys, in the words of the job file, as it was typed.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Iterator, Mapping

from msgspec import Struct, field

from cutmarks.job.declared import such_as
from cutmarks.job.models import HoleSpec
from cutmarks.job.parting import BETWEEN, Keys
from cutmarks.job.rewriting import NO_START, SHOWN_START
from cutmarks.sides import SurfaceKind

SIDES = ("left", "right", "bottom", "top")
VOIDS: Mapping[str, str] = {"window": "windows", "niche": "niches", "door": "doors"}
"""What tiles stop at, and the key that each stands under."""
At = tuple[str, ...]
"""Where something stands in a draft: ("tile", "size"), ("line", "V"), ("edge", "left"), ("hole", "0", "cover")."""
_PLAIN = re.compile(r"[A-Za-z0-9][A-Za-z0-9 ./½¼¾-]*[A-Za-z0-9½¼¾]|[A-Za-z0-9]")
"""What needs no quotes in YAML, whatever a reader thinks of numbers: everything else gets them."""


class JobDraft(Struct):
    """All the answers, as they were typed.

    job, tile, area  by the keys of the job file; the start's two parts stand as "start across" and "start up".
    lines  the words of V and of the line that heights are read from; edges by side, {} where one is left out.
    holes, and voids by their kind ("window"), in the order in which they were said.
    begun     a thing that is being asked for, not all of it being said yet.
    changing  what is being changed in the last look; adding, that a thing more is being said in it; done: it is over.
    said      what was said of what is else assumed, by its key.
    """

    kind: SurfaceKind = "wall"
    job: Keys = field(default_factory=lambda: {"job": "My job", "units": "mm"})
    surface: Keys = field(default_factory=dict)
    plumb_words: str = "where the main line is"
    level_words: str = "where the level line is"
    tile_name: str = "tile"
    tile: Keys = field(default_factory=dict)
    area: Keys = field(default_factory=lambda: {"joint": "3", "bond": "stack"})
    edges: dict[str, Keys] = field(default_factory=lambda: {side: {} for side in SIDES})
    holes: list[Keys] = field(default_factory=list)
    voids: list[tuple[str, Keys]] = field(default_factory=list)
    begun: tuple[str, Keys] | None = None
    changing: At = ()
    adding: bool = False
    done: bool = False
    said: set[str] = field(default_factory=set)

    @property
    def level(self) -> str:
        """The name of the line that heights (on a floor: distances into the room) are read from."""
        return "B" if self.kind == "wall" else "D"

    @property
    def up(self) -> str:
        """The word for the second direction: up a wall, in from a floor's base line."""
        return "up" if self.kind == "wall" else "in"

    def thing(self, at: At) -> Keys:
        """The hole or void that stands there."""
        return self.holes[int(at[1])] if at[0] == "hole" else self.voids[int(at[1])][1]


class DraftLine(Struct, frozen=True):
    """One line of the file; `at` is where what it says stands in the draft, () where it cannot be changed."""

    text: str
    at: At = ()


def scalar(text: str) -> str:
    """An answer as a YAML value that is read back as it was typed.

    >>> scalar("15 copper"), scalar("pipe #1")
    ('15 copper', '"pipe #1"')
    """
    return text if _PLAIN.fullmatch(text) else json.dumps(text, ensure_ascii=False)


def flow(pairs: Iterable[tuple[str, str]]) -> str:
    """A YAML mapping on one line; pairs without a value are left out."""
    return "{" + ", ".join(f"{key}: {scalar(value)}" for key, value in pairs if value) + "}"


def written(draft: JobDraft) -> str:
    """The job file, with a comment on what each part is."""
    return "".join(f"{line.text}\n" for line in lines_of(draft))


def lines_of(draft: JobDraft) -> Iterator[DraftLine]:
    """The lines of the job file, each with where it stands in the draft."""
    yield from _head(draft)
    yield from _surface(draft)
    yield from _voids(draft)
    yield from _holes(draft)
    yield from _area(draft)


def _head(draft: JobDraft) -> Iterator[DraftLine]:
    units = draft.job["units"]
    yield DraftLine(
        f"# Read it with: cutmarks check. Print it with: cutmarks make. Lengths are {units} unless they say so."
    )
    yield DraftLine("# Sides are said in words, never with a minus sign. ? means not known yet.")
    yield DraftLine("")
    for key, value in draft.job.items():
        yield DraftLine(f"{key}: {scalar(value)}", ("job", key))
    yield DraftLine("")
    yield DraftLine("tiles:")
    yield DraftLine(f"  {scalar(draft.tile_name)}:", ("tile",))
    # A size is one off the box unless the job says otherwise: a word here that it was measured would be no use.
    open_yet = "measured" not in draft.tile and "run across" not in draft.tile
    comments = {
        "size": f"across first, then up{'; measured, not off the box? write measured: yes below' if open_yet else ''}",
        "run across": "tiles with the joints between them, measured",
    }
    for key, value in draft.tile.items():
        yield DraftLine(f"    {key}: {scalar(value)}{_comment(comments.get(key))}", ("tile", key))
    yield DraftLine("")


def _surface(draft: JobDraft) -> Iterator[DraftLine]:
    yield DraftLine("surfaces:")
    yield DraftLine(f"  - name: {draft.kind}")
    yield DraftLine(f"    kind: {draft.kind}")
    for key, value in draft.surface.items():
        yield DraftLine(f"    {key}: {scalar(value)}", ("surface", key))
    yield DraftLine("")
    yield DraftLine("    # The two lines that everything is measured from. The words are printed.")
    yield DraftLine("    lines:")
    kinds = ("plumb", "level") if draft.kind == "wall" else ("across", "along")
    yield DraftLine(f"      V: {scalar(f'{kinds[0]}, {draft.plumb_words}')}", ("line", "V"))
    yield DraftLine(f"      {draft.level}: {scalar(f'{kinds[1]}, {draft.level_words}')}", ("line", draft.level))
    measured = [(side, edge) for side, edge in draft.edges.items() if "at" in edge]
    if measured:
        yield DraftLine("")
        yield DraftLine("    # Where the tiling ends. A second reading tells how far an edge is out of true.")
        yield DraftLine("    edges:")
    for side, edge in measured:
        readings = [scalar(reading) for reading in edge["at"].split(BETWEEN)]
        at = readings[0] if len(readings) == 1 else f"[{', '.join(readings)}]"
        rest = flow((key, value) for key, value in edge.items() if key != "at")[1:-1]
        yield DraftLine(f"      {side}: {{at: {at}{', ' if rest else ''}{rest}}}", ("edge", side))


def _voids(draft: JobDraft) -> Iterator[DraftLine]:
    for kind, key in VOIDS.items():
        numbered = [(number, void) for number, (one, void) in enumerate(draft.voids) if one == kind]
        if numbered:
            yield DraftLine("")
            yield DraftLine(f"    {key}:")
        for number, void in numbered:
            yield from _thing(void, ("void", str(number)), {})


def _holes(draft: JobDraft) -> Iterator[DraftLine]:
    if not draft.holes:
        return
    yield DraftLine("")
    yield DraftLine("    # What comes through: both sides of each thing.")
    yield DraftLine("    holes:")
    comments = {
        "cover": f"what hides it: {such_as(HoleSpec, 'cover')}, or ?",
        "end": "comes off, or runs on: can the tile be pushed over it?",
    }
    for number, hole in enumerate(draft.holes):
        yield from _thing(hole, ("hole", str(number)), comments)


def _thing(thing: Keys, at: At, comments: Mapping[str, str]) -> Iterator[DraftLine]:
    yield DraftLine(f"      - name: {scalar(thing['name'])}", at)
    for key, value in thing.items():
        if key != "name":
            yield DraftLine(f"        {key}: {scalar(value)}{_comment(comments.get(key))}", (*at, key))


def _area(draft: JobDraft) -> Iterator[DraftLine]:
    yield DraftLine("")
    yield DraftLine("    # Where the tiles go.")
    yield DraftLine("    areas:")
    yield DraftLine("      - name: field" if draft.kind == "wall" else "      - name: floor")
    yield DraftLine(f"        tile: {scalar(draft.tile_name)}")
    for key, value in draft.area.items():
        if not key.startswith("start "):
            yield DraftLine(f"        {key}: {scalar(value)}", ("area", key))
    across, up = draft.area.get("start across"), draft.area.get("start up")
    if across and up:
        yield DraftLine(f"        start: {flow((('across', across), ('up', up)))}", ("area", "start"))
    else:
        yield DraftLine(f"        {NO_START}")
        yield DraftLine(f"        {SHOWN_START}{draft.level}}}", ("area", "start"))


def _comment(words: str | None) -> str:
    return f"    # {words}" if words else ""
