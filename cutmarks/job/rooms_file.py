"""Rooms by the dozen: a file that says which type each room is, in which hand, and what was read in it.

    site: Harbour View
    type: wash-room.yaml                # of rooms that name none; beside this file
    rooms:
      - name: "101"
      - name: "102"
        hand: mirrored
        read:
          - {on: basin wall, hole: hot, across: 70 to 86 left of V, up: 214 to 230 above B}
          - {on: basin wall, edge: left, at: 1131 left of V}

A room's readings are read in that room, from any line or edge that its type has, and as one faces its wall: what is
left of V is left of V. A box may be read by its four corners, and a thing by several readings, as in a job. At the wall
a piece that is cut already is held up and read beside its fixed neighbours, as under `found:` of a job:

          - {piece: splash 1-3, hole: cold, left: 84 to 100}
"""

from collections.abc import Sequence
from pathlib import Path
from typing import Annotated, ClassVar

from msgspec import Struct

from cutmarks.errors import Fault, JobError
from cutmarks.job.declared import Key
from cutmarks.job.entries import Reader
from cutmarks.job.faults import TreeFaults
from cutmarks.job.fields import NameField, Note, SideField, WordsField, parsed, words
from cutmarks.job.found import SIDES, FoundSpec, parse_found, parse_openings
from cutmarks.job.holes import HoleSpec
from cutmarks.job.model import JobModel, TypedKeys
from cutmarks.job.reading import MOST_BYTES, read_file, read_tree
from cutmarks.job.surfaces import SurfaceSpec
from cutmarks.job.tree import Items, Text
from cutmarks.job.words import Setting, either, found
from cutmarks.readings import RoomHand
from cutmarks.sides import Side

AS_DRAWN: RoomHand = "as drawn"
MIRRORED: RoomHand = "mirrored"
MOST_ROOMS = 10_000

TypeField = Annotated[str, parsed(lambda text, _: type_file(text))]


def type_file(text: str) -> str:
    """The file of a type, beside the rooms' file or below it. Raises ValueError: it lies elsewhere."""
    path = Path(text)
    if path.is_absolute() or ".." in path.parts:
        raise ValueError(f"{found(text)} lies elsewhere: a type's job stands beside this file, as in wash-room.yaml.")
    return text


class RoomRead(JobModel, frozen=True, kw_only=True):
    """What was read of one hole, edge or piece in a room; the phrases are read with its type, whose lines they name.

    on      the surface; "" where the type has one.
    across, up  of a hole; the one that was not read is as in the type. at: of an edge, a reading or several.
    corners, readings  of a hole, instead of these: its four corners, or several readings that are adjusted together.
    piece   a piece, whose `hole` was read from its fixed neighbours (left, right, bottom, top), or the opening that it
            goes into, where it is trimmed.
    """

    on: Annotated[WordsField, Key("the wall or floor; it may be left out where there is one", ("basin wall",))] = ""
    hole: Annotated[WordsField, Key("the hole that was read", ("hot", "drain"), meant=("name",))] = ""
    edge: Annotated[SideField | None, Key("or the edge: left, right, bottom, top", ("left", "top"))] = None
    across: Annotated[WordsField, Key("where both its sides are, across", ("70 to 86 left of V",))] = ""
    up: Annotated[WordsField, Key("where both its sides are, up", ("214 to 230 above B",), meant=("in",))] = ""
    corners: Annotated[
        tuple[WordsField, ...],
        Key(
            "the four corners of a box that is not level",
            (
                '["140 right of V, 150 above B", "210 right of V, 152 above B", "208 right of V, 222 above B",'
                ' "138 right of V, 220 above B"]',
            ),
            one="corner",
        ),
    ] = ()
    readings: Annotated[
        tuple[WordsField, ...],
        Key(
            "several readings of the hole, adjusted together",
            ("[67 to 83 left of V, centre 220 above B]",),
            one="reading",
        ),
    ] = ()
    piece: Annotated[
        WordsField, Key("or the piece that was held up, as on its sheet", ("splash 1-3", "splash 2-1"))
    ] = ""
    left: Annotated[WordsField, Key("read from the tile on the left of the piece", ("70 to 85",))] = ""
    right: Annotated[WordsField, Key("read from the tile on the right of it", ("70 to 85",))] = ""
    bottom: Annotated[WordsField, Key("read from the course below it", ("43 to 59",), also=("below",))] = ""
    top: Annotated[WordsField, Key("read from the course above it", ("43 to 59",), also=("above",))] = ""
    opening_across: Annotated[
        WordsField, Key("the opening that a trimmed piece goes into, at its bottom and top", ("91 and 90",))
    ] = ""
    opening_up: Annotated[WordsField, Key("the same upward, at its left and right", ("115 and 114",))] = ""
    at: Annotated[
        tuple[WordsField, ...],
        Key("where the edge is; several readings, each with its place along it", ("1131 left of V",), one="reading"),
    ] = ()

    @classmethod
    def prepare(cls, written: TypedKeys, setting: Setting) -> None:
        """One reading of an edge is a list of one."""
        at = written.keys.get("at")
        if isinstance(at, Text):
            written.keys["at"] = Items([at], at.path)

    def check(self) -> None:
        """A hole with a reading, or an edge with one."""
        ways = [bool(self.across or self.up), bool(self.corners), bool(self.readings)]
        if self.piece:
            if self.edge is not None or self.at or self.on or any(ways):
                raise ValueError(f"It says what was read at {self.piece} with left, right, bottom, top or an opening.")
            return
        if any(self.at_piece):
            raise ValueError("It does not say at which piece that was read: write piece: and its name on the sheet.")
        if bool(self.hole) == (self.edge is not None):
            raise ValueError("It is of a hole or of an edge: write hole: hot, or edge: left, and one of them.")
        if self.hole and (self.at or not any(ways)):
            raise ValueError(f"It says where {self.hole} is with across, up or both, said as in a job file.")
        if sum(ways) > 1:
            raise ValueError(f"It says where {self.hole} is twice: keep across and up, or corners, or readings.")
        if self.edge is not None and (any(ways) or not self.at):
            raise ValueError("It says where the edge is with at, said as in a job file.")

    @property
    def values(self) -> list[object]:
        """What was read, as JSON values: remarks and order of keys do not count in it."""
        more = [list(one) for one in (self.corners, self.readings)]
        own = [self.on, self.hole, self.edge, self.across, self.up, list(self.at), *(more if any(more) else ())]
        return [*own, self.piece, *self.at_piece] if self.piece else own

    @property
    def at_piece(self) -> tuple[str, ...]:
        """What was read at a piece, side by side, then its openings; "" where nothing was."""
        return self.left, self.right, self.bottom, self.top, self.opening_across, self.opening_up

    def found_in(self, setting: Setting) -> FoundSpec:
        """What was read at a piece, as a job has it. Raises ValueError: a phrase is no reading, or says too much."""
        sides = {
            side: parse_found(text, setting) if text else None for side, text in zip(SIDES, self.at_piece, strict=False)
        }
        across, up = (parse_openings(text, setting) if text else None for text in self.at_piece[len(SIDES) :])
        spec = FoundSpec(
            where=self.where,
            piece=self.piece,
            hole=self.hole,
            left=sides[Side.LEFT],
            right=sides[Side.RIGHT],
            bottom=sides[Side.BOTTOM],
            top=sides[Side.TOP],
            opening_across=across,
            opening_up=up,
        )
        spec.check()
        return spec

    def surface_in(self, surfaces: Sequence[SurfaceSpec]) -> SurfaceSpec:
        """The surface that it is of. Raises ValueError: there is none of that name, or it names none of several."""
        named = (surface for surface in surfaces if surface.name.casefold() == self.on.casefold())
        one = next(named, surfaces[0] if not self.on and len(surfaces) == 1 else None)
        if one is not None:
            return one
        wrong = f"{found(self.on)} is no surface of this type" if self.on else "It does not say on which surface it is"
        raise ValueError(f"{wrong}: write on: {either([surface.name for surface in surfaces])}.")

    def hole_in(self, surface: SurfaceSpec) -> HoleSpec:
        """The hole that it is of, on its surface. Raises ValueError: there is none of that name."""
        for hole in surface.holes:
            if hole.name.casefold() == self.hole.casefold():
                return hole
        allowed = either([hole.name for hole in surface.holes])
        raise ValueError(
            f"{found(self.hole)} is no hole on {surface.name}"
            + (f": write {allowed}." if allowed else ", which has none: write on: and the surface that it is on.")
        )


class RoomSpec(JobModel, frozen=True, kw_only=True):
    """One room: of which type, in which hand, and what was read in it; type_ "": the site's."""

    name: Annotated[NameField, Key("what it is called", ("101", "flat 3"), write='name: "101"')]
    type_: Annotated[
        TypeField, Key("the job file of its type, where it is another than the site's", ("bath.yaml",))
    ] = ""
    hand: Annotated[
        RoomHand,
        words(AS_DRAWN, MIRRORED),
        Key("as drawn, or mirrored: built the other way round", (MIRRORED, AS_DRAWN)),
    ] = AS_DRAWN
    read: Annotated[tuple[RoomRead, ...], Key("what was read in this room", meant=("readings",), one="reading")] = ()
    note: Note = ""


class SiteSpec(JobModel, frozen=True, kw_only=True):
    """All rooms of a site, in their order."""

    KEYS_WANTED: ClassVar[str] = "A file of rooms has keys: begin with a line such as site: Harbour View."

    name: Annotated[NameField, Key("what the site is called", ("Harbour View",), meant=("job", "title"), word="site")]
    type_: Annotated[TypeField, Key("the job file of the rooms that name none", ("wash-room.yaml",))] = ""
    rooms: Annotated[
        tuple[RoomSpec, ...],
        Key("the rooms, each with its name, hand and readings", one="room", write='rooms:, and under it - name: "101"'),
    ]

    def check(self) -> None:
        """Each room by a name of its own, and of some type."""
        if not self.rooms:
            raise ValueError("It has no rooms: write one under rooms:, as in - name: flat 3.")
        if len(self.rooms) > MOST_ROOMS:
            raise ValueError(f"It has {len(self.rooms)} rooms: a file has at most {MOST_ROOMS:,}.")
        seen: set[str] = set()
        for room in self.rooms:
            if room.name.casefold() in seen:
                raise ValueError(f"Two rooms are called {found(room.name)}: give each a name of its own.")
            seen.add(room.name.casefold())
            if not (room.type_ or self.type_):
                raise ValueError(
                    f"It is not said of which type {found(room.name)} is: write type: wash-room.yaml, its job file, "
                    "with the room, or once for all."
                )

    def type_of(self, room: RoomSpec) -> str:
        """The file of a room's type, as written."""
        return room.type_ or self.type_


class RoomsFile(Struct, frozen=True):
    """A site as it was read, with the tree that its faults point into."""

    site: SiteSpec
    faults: TreeFaults


def load_rooms(path: Path) -> RoomsFile:
    """The rooms in a file.

    Raises:
        JobError: all its faults, in the order of their lines.
    """
    content = read_file(path, MOST_BYTES, "file of rooms")
    if isinstance(content, Fault):
        raise JobError([content])
    tree, places, typing, whole = read_tree(content, path.name)
    faults = TreeFaults(tree, places, typing)
    site = Reader(faults).read(SiteSpec, tree, Setting()) if whole else None
    if site is None or len(faults):
        raise JobError(in_order(list(faults)))
    return RoomsFile(site, faults)


def in_order(faults: Sequence[Fault]) -> list[Fault]:
    """By file and line."""
    return sorted(faults, key=lambda fault: (fault.file or "", fault.line or 0))
