"""The file of what was found: it stands beside the job, and `cutmarks found` writes it.

laundry.yaml        the job, which is the tiler's
laundry.found.yaml  found: a list, each entry as under `found:` in the job file

A list with nothing in it, and a file with nothing but remarks, are an empty list.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path as FilePath

from msgspec import Struct

from cutmarks.errors import Fault, JobError, JobPath
from cutmarks.job.crosscheck import text
from cutmarks.job.faults import TreeFaults, fault_at
from cutmarks.job.model import tidy_key
from cutmarks.job.reading import MOST_BYTES, read_file, read_tree, stands
from cutmarks.job.tree import Entry, Items, Node, Places, SourcePlace, Text
from cutmarks.job.words import either, found, spaced
from cutmarks.readings import base_name

KEY = "found"
SAID = "what you say was found"
"""Stands for the file's name in the faults of an entry that is in no file yet."""
WHAT = "file of what was found"
BEGINS = "this file begins with the line found:, and each entry with - on a line of its own"
IN_THE_JOB = "This entry stands in the job file itself, which cutmarks found never writes: take it out there."
NAMED = 5
"""So many pieces are named where the one that was asked for has no entry."""


def found_path(job: FilePath) -> FilePath:
    """Where the file of a job stands."""
    return job.with_name(f"{job.stem}.found.yaml")


class Kept(Struct, frozen=True):
    """What a file of what was found holds.

    entries  each with where it stands in the file's tree, in the file's order.
    faults   of its typing, and of what is no entry; with `whole` not set, the rest of the file was not read.
    """

    file: str
    entries: tuple[tuple[JobPath, object], ...]
    places: Places
    faults: tuple[Fault, ...]
    whole: bool

    def line(self, number: int) -> int | None:
        """The line on which an entry begins, from 1."""
        place = self.places.find(self.entries[number][0])
        return None if place is None else place.line


def read_kept(content: str, file: str) -> Kept:
    """The entries in the text of a file of what was found, and its faults."""
    own, places, faults, whole = read_tree(content, file, begin=BEGINS)
    entries: list[tuple[JobPath, object]] = []
    for key, value in own.items() if whole else ():
        if tidy_key(key) == KEY and isinstance(value, Items):
            entries += [((key, number), item) for number, item in enumerate(value)]
        elif tidy_key(key) != KEY or not isinstance(value, Text) or value.strip():
            sentence = 'This file holds one list, under "found:", and nothing else: put the rest into the job file.'
            place = places.find((key,))
            faults.append(Fault(sentence, file=file, line=None if place is None else place.line))
    return Kept(file, tuple(entries), places, tuple(faults), whole)


def add_found(
    read: TreeFaults, path: FilePath, more: Sequence[Mapping[str, str]] = (), less: int | None = None
) -> None:
    """Put what the file at `path` holds, if it is there, and then `more`, behind what the job itself says was found.

    The file's entry number `less`, from 0, is left out. Tells of the faults of the file.
    """
    tree, places = read.tree, read.places
    entries: list[tuple[object, Places, JobPath]] = []
    if stands(path):
        content = read_file(path, MOST_BYTES, WHAT)
        if isinstance(content, Fault):
            read.add([content])
            return
        kept = read_kept(content, path.name)
        read.add(kept.faults)
        entries += [(item, kept.places, at) for number, (at, item) in enumerate(kept.entries) if number != less]
    said = Places({(): SourcePlace(SAID, None)})
    entries += [(dict(entry), said, ()) for entry in more]
    key = next((typed for typed in tree if tidy_key(typed) == KEY), KEY)
    held = tree.get(key)
    if not entries or (isinstance(held, Text) and held.strip()) or isinstance(held, Entry):
        return  # what is no list in the job has its own sentence there
    items = held if isinstance(held, Items) else Items(path=(*tree.path, key))
    for item, old_places, old in entries:
        items.append(_replanted(item, (*items.path, len(items)), old_places, old, places))
    tree[key] = items


def last_of(piece: str, hole: str, kept: Kept, job: FilePath) -> int:
    """The number, from 0, of the last entry of a piece, and of a hole in it where one is named.

    An entry that names no hole is of the only one.

    Raises:
        JobError: there is none in the file, the job file itself has it, or the piece has entries of several holes.
    """
    mine = [number for number, (_, node) in enumerate(kept.entries) if _is_of(node, piece, hole)]
    if not mine:
        raise JobError([_none_kept(piece, hole, kept, job)])
    holes = list(dict.fromkeys(spaced(text(kept.entries[number][1], "hole")).casefold() for number in mine))
    named = [name for name in holes if name]
    if not hole and len(named) > 1:
        raise JobError(
            [Fault(f"Entries of {either(named)} are kept for {found(piece)}: write which behind it.", file=kept.file)]
        )
    return mine[-1]


def said_in(entry: object) -> str:
    """What an entry says, in one line: "left: 70 to 85, cut: yes"."""
    if not isinstance(entry, Mapping):
        return spaced(str(entry))
    return ", ".join(f"{spaced(str(key))}: {spaced(str(value))}" for key, value in entry.items())


def _is_of(node: object, piece: str, hole: str) -> bool:
    if not isinstance(node, Entry) or not _same_piece(text(node, "piece"), piece):
        return False
    named = spaced(text(node, "hole")).casefold()
    return not hole or named in ("", spaced(hole).casefold())


def _same_piece(one: str, other: str) -> bool:
    """Whether two names are of one piece; "splash 3-7" is any part of that tile, "splash 3-7a" that part."""
    one, other = spaced(one).casefold(), spaced(other).casefold()
    return one == other or base_name(one) == other or base_name(other) == one


def _none_kept(piece: str, hole: str, kept: Kept, job: FilePath) -> Fault:
    """Why no entry can be taken back: the job file itself has it, or nothing has."""
    content = read_file(job, MOST_BYTES, "job file")
    if isinstance(content, str):
        tree, places, _, _ = read_tree(content, job.name)
        for key, value in tree.items():
            own = list(enumerate(value)) if tidy_key(key) == KEY and isinstance(value, Items) else []
            for number, node in reversed(own):
                if _is_of(node, piece, hole):
                    return fault_at((key, number), IN_THE_JOB, tree, places)
    about = f"{found(hole)} in {found(piece)}" if hole else found(piece)
    pieces = list(dict.fromkeys(spaced(text(node, "piece")) for _, node in kept.entries if isinstance(node, Entry)))
    if not any(pieces):
        return Fault(f"Nothing is kept of any piece: there is no entry of {about} to take back.", file=kept.file)
    named = either([found(name) for name in pieces[:NAMED]])
    more = f" (and of {len(pieces) - NAMED} more)" if len(pieces) > NAMED else ""
    return Fault(f"No entry of {about} is kept, only of {named}{more}: write one of these.", file=kept.file)


def _replanted(node: object, path: JobPath, old_places: Places, old: JobPath, places: Places) -> Node:
    """The node with its places at another path of the tree."""
    place = old_places.get(old)
    if place is not None:
        places[path] = SourcePlace(place.file, place.line)
    if isinstance(node, Mapping):
        return Entry(
            {key: _replanted(value, (*path, key), old_places, (*old, key), places) for key, value in node.items()}, path
        )
    if isinstance(node, list):
        return Items([_replanted(one, (*path, i), old_places, (*old, i), places) for i, one in enumerate(node)], path)
    return Text(str(node), path)
