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
left of V is left of V.
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
from cutmarks.job.model import JobModel, TypedKeys
from cutmarks.job.reading import MOST_BYTES, read_file, read_tree
from cutmarks.job.tree import Items, Text
from cutmarks.job.words import Setting, found
from cutmarks.readings import RoomHand

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
    """What was read of one hole, or of one edge, in a room; the phrases are read with its type, whose lines they name.

    on      the surface; "" where the type has one.
    across, up  of a hole; the one that was not read is as in the type. at: of an edge, a reading or several.
    """

    on: Annotated[WordsField, Key("the wall or floor; it may be left out where there is one", ("basin wall",))] = ""
    hole: Annotated[WordsField, Key("the hole that was read", ("hot", "drain"), meant=("name",))] = ""
    edge: Annotated[SideField | None, Key("or the edge: left, right, bottom, top", ("left", "top"))] = None
    across: Annotated[WordsField, Key("where both its sides are, across", ("70 to 86 left of V",))] = ""
    up: Annotated[WordsField, Key("where both its sides are, up", ("214 to 230 above B",), meant=("in",))] = ""
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
        if bool(self.hole) == (self.edge is not None):
            raise ValueError("It is of a hole or of an edge: write hole: hot, or edge: left, and one of them.")
        if self.hole and (self.at or not (self.across or self.up)):
            raise ValueError(f"It says where {self.hole} is with across, up or both, said as in a job file.")
        if self.edge is not None and (self.across or self.up or not self.at):
            raise ValueError("It says where the edge is with at, said as in a job file.")


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
