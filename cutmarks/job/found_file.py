"""The file of what was found: it stands beside the job, and `cutmarks found` writes it.

laundry.yaml        the job, which is the tiler's
laundry.found.yaml  found: a list, each entry as under `found:` in the job file
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path as FilePath

from cutmarks.errors import Fault, Path
from cutmarks.job.model import tidy_key
from cutmarks.job.reading import MOST_BYTES, read_file, read_tree
from cutmarks.job.tree import Entry, Items, Node, Place, Places, Text

KEY = "found"
SAID = "what you say was found"
"""Stands for the file's name in the faults of an entry that is in no file yet."""
HEAD = (
    "# What was found at the wall and what was cut: written by cutmarks found, read with the job beside it.\nfound:\n"
)


def found_path(job: FilePath) -> FilePath:
    """Where the file of a job stands."""
    return job.with_name(f"{job.stem}.found.yaml")


def add_found(tree: Entry, places: Places, path: FilePath, more: Sequence[Mapping[str, str]] = ()) -> list[Fault]:
    """Put what the file at `path` holds, if it is there, and then `more`, behind what the job itself says was found.

    Returns the faults of the file.
    """
    faults: list[Fault] = []
    entries: list[tuple[object, Places, Path]] = []
    if path.is_file():
        content = read_file(path, MOST_BYTES, "file of what was found")
        if isinstance(content, Fault):
            return [content]
        own, own_places, faults, whole = read_tree(content, path.name)
        if not whole:
            return faults
        for key, value in own.items():
            if tidy_key(key) != KEY or not isinstance(value, Items):
                place = own_places.find((key,))
                line = None if place is None else place.line
                sentence = 'This file holds one list, under "found:", and nothing else: put the rest into the job file.'
                faults.append(Fault(sentence, file=path.name, line=line))
                continue
            entries += [(item, own_places, (key, number)) for number, item in enumerate(value)]
    said = Places({(): Place(SAID, None)})
    entries += [(dict(entry), said, ()) for entry in more]
    if entries:
        key = next((typed for typed in tree if tidy_key(typed) == KEY), KEY)
        held = tree.get(key)
        items = held if isinstance(held, Items) else Items(path=(*tree.path, key))
        for item, old_places, old in entries:
            items.append(_replanted(item, (*items.path, len(items)), old_places, old, places))
        tree[key] = items
    return faults


def _replanted(node: object, path: Path, old_places: Places, old: Path, places: Places) -> Node:
    """The node with its places at another path of the tree."""
    place = old_places.get(old)
    if place is not None:
        places[path] = Place(place.file, place.line)
    if isinstance(node, Mapping):
        return Entry(
            {key: _replanted(value, (*path, key), old_places, (*old, key), places) for key, value in node.items()}, path
        )
    if isinstance(node, list):
        return Items([_replanted(one, (*path, i), old_places, (*old, i), places) for i, one in enumerate(node)], path)
    return Text(str(node), path)


def with_entry(content: str, entry: Mapping[str, str]) -> str:
    """The file's text with one more entry behind the others; every value in quotes."""
    rows = [f"{key}: '{value.replace(chr(39), chr(39) * 2)}'" for key, value in entry.items()]
    body = content if content.strip() else HEAD
    if not body.endswith("\n"):
        body += "\n"
    return body + "".join(f"{'  - ' if number == 0 else '    '}{row}\n" for number, row in enumerate(rows))
