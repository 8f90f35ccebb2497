"""Tiles and areas, as the tiler wrote them."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Annotated, ClassVar, Literal, Self

from pydantic import model_validator

from cutmarks.job.fields import (
    BondField,
    Context,
    Corner,
    Flag,
    Joint,
    Lay,
    Level,
    Name,
    Plumb,
    RunField,
    Thickness,
    Turn,
    Words,
    check_corners,
    parse_name,
    parsed,
    text_of,
    words,
)
from cutmarks.job.laying import parse_size, parse_start, split_start
from cutmarks.job.measures import LONGEST_SIDE, sides_in_range
from cutmarks.job.model import UNTAKEN, Model, tidy_key
from cutmarks.job.phrases import Bond, Size, Start
from cutmarks.job.tree import Entry, Text
from cutmarks.job.words import UNKNOWN, Setting, found, spaced

SHORTEST_SIDE = 5.0
"""No tile has a shorter side, mm."""
LIKE_A_PIECE = re.compile(r" [UD]?[0-9]+-[RL]?[0-9]+[a-z]?$", re.IGNORECASE)


def tile_size(text: str, setting: Setting) -> Size:
    """The two sizes of a tile. Raises ValueError: no two sizes, or none that a tile has."""
    return sides_in_range(text, parse_size(text, setting.unit), SHORTEST_SIDE, LONGEST_SIDE, "a tile", setting)


def area_name(text: str, setting: Setting) -> str:
    """The name of an area. Raises ValueError: it is no name, or ends as a piece's name does."""
    tidy = parse_name(text)
    if LIKE_A_PIECE.search(tidy):
        raise ValueError(f"{found(tidy)} ends as the name of a piece does (course and number): leave the figures out.")
    return tidy


class TileSpec(Model):
    """A kind of tile: its two sizes as written, and how it lies.

    measured  a run was given, or `measured: yes`; else the size is off the box.
    template  the face that its templates are laid on; without it the back where the face is textured.
    bed       thickness of the adhesive under it, mm; notch: of the trowel, mm, which makes the bed where `bed` is not
              said; thickness of the tile, mm; None: not said.
    """

    MUST_BE_KNOWN: ClassVar[frozenset[str]] = frozenset({"size"})
    OWN: ClassVar[frozenset[str]] = frozenset({"name"})
    SHORT: ClassVar[str | None] = "size"
    ALIKE: ClassVar[Mapping[str, str]] = {"caliber": "calibre", "bevelled edges": "bevelled", "beveled": "bevelled"}

    name: Name
    size: Annotated[Size, parsed(tile_size)]
    lay: Lay | None = None
    run_across: RunField | None = None
    run_up: RunField | None = None
    measured: Flag = False
    thickness: Thickness | None = None
    bed: Thickness | None = None
    notch: Thickness | None = None
    material: Words = ""
    face: Annotated[Literal["plain", "textured"], words("plain", "textured")] = "plain"
    bevelled: Flag = False
    shade: Words = ""
    calibre: Words = ""
    batch: Words = ""
    template: Annotated[Literal["face", "back", "both", ""], words("face", "back", "both")] = ""
    note: Words = ""

    def sides_as_laid(self, lay: Lay | None) -> tuple[float, float]:
        """Its size as written, across and up as it lies in an area that says `lay`: without, the first lies across."""
        across, up = self.size.first, self.size.second
        lay = lay or self.lay
        return (across, up) if lay is None or (across >= up) == (lay == "long side across") else (up, across)

    @classmethod
    def prepare(cls, taken: dict[str, object], unknown: frozenset[str], context: Context) -> dict[str, object]:
        """A run means that the tile was measured."""
        if {"run across", "run up"} & taken.keys():
            taken.setdefault("measured", True)
        return taken


StartAcross = Annotated[Start, parsed(lambda text, setting: parse_start(text, "across", setting))]
StartUp = Annotated[Start, parsed(lambda text, setting: parse_start(text, "up", setting))]


class AreaSpec(Model):
    """A part of a surface laid with one tile, joint and bond.

    from_, to          levels (on a floor: distances into the room) between which it lies.
    right_of, left_of  limits across: `left of: 300 right of V` means that it lies left of that.
    nothing_below      nothing of the area lies below this.
    start_across, start_up  None: not decided yet.
    """

    MUST_BE_KNOWN: ClassVar[frozenset[str]] = frozenset(
        {"from", "to", "left of", "right of", "nothing below", "outline"}
    )
    OWN: ClassVar[frozenset[str]] = frozenset({"start across", "start up"})
    EXTRA: ClassVar[tuple[str, ...]] = ("start",)
    ALIKE: ClassVar[Mapping[str, str]] = {"nothing short of": "nothing below"}

    name: Annotated[str, parsed(area_name)]
    tile: Name
    joint: Joint
    bond: BondField = Bond()
    lay: Lay | None = None
    turn: Turn = 0.0
    from_: Level | None = None
    to: Level | None = None
    right_of: Plumb | None = None
    left_of: Plumb | None = None
    outline: tuple[Corner, ...] = ()
    nothing_below: Level | None = None
    start_across: StartAcross | None = None
    start_up: StartUp | None = None
    work: Annotated[
        Literal["left to right", "right to left", "away from the start", ""],
        words("left to right", "right to left", "away from the start"),
    ] = ""
    note: Words = ""

    @model_validator(mode="after")
    def has_enough_corners(self) -> Self:
        """An outline encloses something."""
        check_corners(self.outline)
        return self

    @classmethod
    def prepare(cls, taken: dict[str, object], unknown: frozenset[str], context: Context) -> dict[str, object]:
        """A start is one phrase for both axes, or a key for each."""
        start = taken.pop("start", None)
        if isinstance(start, Entry):
            for key, value in start.items():
                tidy = {"in": "up"}.get(tidy_key(key), tidy_key(key))
                if spaced(str(value)) not in ("", UNKNOWN):
                    taken[f"start {tidy}" if tidy in ("across", "up") else f"{UNTAKEN}start {tidy}"] = value
        elif start is not None:
            across, up = split_start(text_of(start))
            taken |= {"start across": Text(across), "start up": Text(up)}
        return taken
