"""A job that is being asked for, and the commented file that it becomes.

It can be written out at any moment: what was not asked yet stands as a default, so that each answer is judged by the
very reader that will read the finished file.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from cutmarks.job.declared import such_as
from cutmarks.job.models import HoleSpec
from cutmarks.sides import SurfaceKind

SIDES = ("left", "right", "bottom", "top")
_PLAIN = re.compile(r"[A-Za-z0-9][A-Za-z0-9 ./½¼¾-]*[A-Za-z0-9½¼¾]|[A-Za-z0-9]")
"""What needs no quotes in YAML, whatever a reader thinks of numbers: everything else gets them."""


@dataclass(slots=True)
class EdgeDraft:
    """What one side meets, and its readings; without a reading it is left out of the file."""

    what: str = ""
    still_to_come: str = ""
    first: str = ""
    second: str = ""


@dataclass(slots=True)
class VoidDraft:
    """A window, niche or door by its sides."""

    name: str
    across: str
    up: str


@dataclass(slots=True)
class HoleDraft:
    """What comes through, by its readings."""

    name: str
    what: str
    across: str
    up: str
    cover: str = "?"
    end: str = ""


@dataclass(slots=True)
class JobDraft:
    """All the answers, as they were typed."""

    kind: SurfaceKind = "wall"
    name: str = "My job"
    units: str = "mm"
    plumb_words: str = "where the main line is"
    level_words: str = "top of the batten"
    up: str = "away from the door"
    tile: str = "tile"
    size: str = "300 x 600"
    lay: str = ""
    run: str = ""
    joint: str = "3"
    bond: str = "stack"
    start_across: str = ""
    start_up: str = ""
    edges: dict[str, EdgeDraft] = field(default_factory=lambda: {side: EdgeDraft() for side in SIDES})
    windows: list[VoidDraft] = field(default_factory=list)
    niches: list[VoidDraft] = field(default_factory=list)
    doors: list[VoidDraft] = field(default_factory=list)
    holes: list[HoleDraft] = field(default_factory=list)

    @property
    def level(self) -> str:
        """The name of the line that heights (on a floor: distances into the room) are read from."""
        return "B" if self.kind == "wall" else "D"


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
    return "\n".join((*_head(draft), *_surface(draft), *_voids(draft), *_holes(draft), *_area(draft))) + "\n"


def _head(draft: JobDraft) -> Iterator[str]:
    yield f"# Read it with: cutmarks check. Print it with: cutmarks make. Lengths are {draft.units} unless they say so."
    yield "# Sides are said in words, never with a minus sign. ? means not known yet."
    yield ""
    yield f"job: {scalar(draft.name)}"
    yield f"units: {draft.units}"
    yield ""
    yield "tiles:"
    yield f"  {scalar(draft.tile)}:"
    yield f"    size: {scalar(draft.size)}    # measured, not off the box; across first, then up"
    if draft.lay:
        yield f"    lay: {scalar(draft.lay)}"
    if draft.run:
        yield f"    run across: {scalar(draft.run)}    # tiles with the joints between them, measured"
    yield ""


def _surface(draft: JobDraft) -> Iterator[str]:
    yield "surfaces:"
    yield f"  - name: {draft.kind}"
    yield f"    kind: {draft.kind}"
    if draft.kind == "floor":
        yield f"    up: {scalar(draft.up)}    # what the UP arrow on a template points at"
    yield ""
    yield "    # The two lines that everything is measured from. The words are printed."
    yield "    lines:"
    kinds = ("plumb", "level") if draft.kind == "wall" else ("across", "along")
    yield f"      V: {scalar(f'{kinds[0]}, {draft.plumb_words}')}"
    yield f"      {draft.level}: {scalar(f'{kinds[1]}, {draft.level_words}')}"
    measured = [(side, edge) for side, edge in draft.edges.items() if edge.first]
    if measured:
        yield ""
        yield "    # Where the tiling ends. A second reading tells how far an edge is out of true."
        yield "    edges:"
    for side, edge in measured:
        readings = [scalar(reading) for reading in (edge.first, edge.second) if reading]
        at = readings[0] if len(readings) == 1 else f"[{', '.join(readings)}]"
        rest = flow((("what", edge.what), ("still to come", edge.still_to_come)))[1:-1]
        yield f"      {side}: {{at: {at}{', ' if rest else ''}{rest}}}"


def _voids(draft: JobDraft) -> Iterator[str]:
    for key, voids in (("windows", draft.windows), ("niches", draft.niches), ("doors", draft.doors)):
        if voids:
            yield ""
            yield f"    {key}:"
        for void in voids:
            yield f"      - name: {scalar(void.name)}"
            yield f"        across: {scalar(void.across)}"
            yield f"        {_deep(draft)}: {scalar(void.up)}"


def _holes(draft: JobDraft) -> Iterator[str]:
    if not draft.holes:
        return
    yield ""
    yield "    # What comes through: both sides of each thing."
    yield "    holes:"
    for hole in draft.holes:
        yield f"      - name: {scalar(hole.name)}"
        yield f"        what: {scalar(hole.what)}"
        yield f"        across: {scalar(hole.across)}"
        yield f"        {_deep(draft)}: {scalar(hole.up)}"
        yield f"        cover: {scalar(hole.cover)}    # what hides it: {such_as(HoleSpec, 'cover')}, or ?"
        if hole.end:
            yield f"        end: {scalar(hole.end)}    # comes off, or runs on: can the tile be pushed over it?"


def _area(draft: JobDraft) -> Iterator[str]:
    yield ""
    yield "    # Where the tiles go."
    yield "    areas:"
    yield "      - name: field" if draft.kind == "wall" else "      - name: floor"
    yield f"        tile: {scalar(draft.tile)}"
    yield f"        joint: {scalar(draft.joint)}"
    yield f"        bond: {scalar(draft.bond)}"
    if draft.start_across and draft.start_up:
        yield f"        start: {flow((('across', draft.start_across), ('up', draft.start_up)))}"
    else:
        yield "        # No start yet: cutmarks check says what a joint or a middle on the line would leave."
        yield f"        # start: {{across: joint on V, up: sits on {draft.level}}}"


def _deep(draft: JobDraft) -> str:
    """The word for the second direction: up a wall, in from a floor's base line."""
    return "up" if draft.kind == "wall" else "in"
