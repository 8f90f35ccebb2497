"""The faults of a job, each with where it stands: the file and line, and the thing there in the tiler's words."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from cutmarks.errors import Fault, Faults, JobPath
from cutmarks.job.keys import things, typed_as
from cutmarks.job.model import tidy_key
from cutmarks.job.scanner import printable, shortened
from cutmarks.job.tree import Entry, Items, Places, Text
from cutmarks.job.words import SIDE_OF, found, spaced


class TreeFaults(Faults):
    """The faults of one tree: what stands at a path in it is named by the keys on the way there."""

    def __init__(self, tree: Entry, places: Places, told: Iterable[Fault] = ()) -> None:
        super().__init__(lambda path, _, sentence: fault_at(path, sentence, tree, places), told)
        self.tree = tree
        self.places = places

    def fault(self, where: JobPath, _: str, sentence: str) -> Fault:
        """A fault of what stands at a path of the tree, for a later stage's own faults."""
        return fault_at(where, sentence, self.tree, self.places)


def fault_at(path: JobPath, sentence: str, tree: Entry, places: Places) -> Fault:
    """A fault of what stands at `path` of the tree."""
    place = places.find(path)
    file, line = (None, None) if place is None else (place.file, place.line)
    return Fault(printable(sentence), about(path, tree), file, line, path)


def about(path: JobPath, tree: Entry) -> str:
    """The thing at `path` in the tiler's words: `hole "hot", across`."""
    words: list[str] = []
    node: object = tree
    parts = list(path)
    for index, part in enumerate(parts):
        holder = parts[index - 1] if index else None
        node = _child(node, part)
        if isinstance(holder, str) and tidy_key(holder) in things():
            words = [*(words if tidy_key(holder) in ("edges", "steps") else []), _called(tidy_key(holder), part, node)]
        elif isinstance(part, str) and tidy_key(part) not in things():
            words.append(shortened(tidy_key(part)))
        elif isinstance(part, str) and index == len(parts) - 1:
            words.append(tidy_key(part))
    if words[1:2] and words[-1] == "at" and words[-2].endswith(" edge"):
        words.pop()
    return ", ".join(words)


def _called(holder: str, part: str | int, node: object) -> str:
    """What one thing is called: its name, or its number in the list."""
    word = things()[holder][1]
    if holder == "edges":
        return f"{SIDE_OF.get(tidy_key(str(part)), shortened(str(part)))} edge".lstrip()
    if isinstance(part, str):
        return f"{word} {found(part)}"
    if isinstance(node, Entry):
        named = (value for key, value in node.items() if tidy_key(key) == "name" and isinstance(value, Text))
        name = spaced(next(named, ""))
        if name:
            return f"{word} {found(name)}"
    return f"{word} {part + 1}"


def _child(node: object, part: str | int) -> object:
    if isinstance(node, Entry) and isinstance(part, str):
        return node.get(part)
    if isinstance(node, Items) and isinstance(part, int) and part < len(node):
        return node[part]
    return None


def as_typed(loc: JobPath, tree: Entry) -> JobPath:
    """The path in the tree, in the keys as typed, of what a model calls `loc`; as far as the tree goes."""
    path: JobPath = ()
    node: object = tree
    for part in _steps(loc):
        if isinstance(node, Entry):
            key = _typed_key(part, node)
            if key is None:
                break
            path, node = (*path, key), node[key]
        elif isinstance(node, Items) and isinstance(part, int) and part < len(node):
            path, node = (*path, part), node[part]
        elif not (isinstance(node, Items) and part == "at"):
            # A list in place of an edge's keys is the list of its readings; else nothing that was typed lies deeper.
            break
    return path


def _steps(loc: JobPath) -> Iterator[str | int]:
    """The steps of a location; a start's axis stands in the file under `start`."""
    for part in loc:
        if isinstance(part, str) and part.startswith("start "):
            yield "start"
            yield part.removeprefix("start ")
        else:
            yield part


def _typed_key(part: str | int, entry: Entry) -> str | None:
    keys = list(entry)
    if isinstance(part, int):
        return keys[part] if part < len(keys) else None
    if part in entry:
        return part
    for key in keys:
        tidy = tidy_key(key)
        if tidy == part or spaced(key) == part or tidy in typed_as().get(part, ()) or SIDE_OF.get(tidy) == part:
            return key
    return None
