"""From what the models refuse to sentences: where, what was found, what is allowed, what to write."""

from __future__ import annotations

from collections.abc import Iterator

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from cutmarks.errors import Fault, JobPath
from cutmarks.job.keys import missing_key, model_at, things, typed_as, unknown_key
from cutmarks.job.model import UNTAKEN, JobModel, tidy_key
from cutmarks.job.scanner import printable, shortened
from cutmarks.job.tree import Entry, Items, Places, Text
from cutmarks.job.words import SIDE_OF, Follows, found, spaced

MOST_LOOKED_UP = 1_000
"""Each fault is looked up in the tree, and a key that is none is compared with those that are."""
_LIST_WANTED = "A list is wanted here: begin each thing with - on a line of its own."
_KEYS_WANTED = "Keys are wanted here, one a line, each with a colon and a blank behind it."


def faults_of(error: ValidationError, tree: Entry, places: Places, root: type[JobModel]) -> list[Fault]:
    """What `root` refused of `tree`, each as a fault with its file and line; no more than are worth looking up."""
    errors = error.errors(include_url=False)[:MOST_LOOKED_UP]
    return [_fault(one, tree, places, root) for one in errors if not isinstance(_cause(one), Follows)]


def fault_at(path: JobPath, sentence: str, tree: Entry, places: Places) -> Fault:
    """A fault of what stands at `path` of the tree."""
    place = places.find(path)
    file, line = (None, None) if place is None else (place.file, place.line)
    return Fault(printable(sentence), about(path, tree), file, line)


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
            words.append(shortened(tidy_key(part.removeprefix(UNTAKEN))))
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


def _fault(error: ErrorDetails, tree: Entry, places: Places, root: type[JobModel]) -> Fault:
    loc = tuple(part for part in error["loc"] if part != "[key]")
    kind, last = error["type"], str(loc[-1]) if loc else ""
    if kind == "missing":
        path = as_typed(loc[:-1], tree)
        return fault_at(path, missing_key(last, model_at(path, root)), tree, places)
    path = as_typed(loc, tree)
    if kind == "extra_forbidden":
        holder = as_typed(loc[:-1], tree)
        return fault_at(path, unknown_key(last, model_at(holder, root)), tree, places)
    return fault_at(path, _sentence(error), tree, places)


def _cause(error: ErrorDetails) -> object:
    """What a reader of ours raised; None where the library did."""
    return error.get("ctx", {}).get("error")


def _sentence(error: ErrorDetails) -> str:
    cause = _cause(error)
    if isinstance(cause, ValueError):
        return str(cause)
    if error["type"] in ("tuple_type", "list_type"):
        return _LIST_WANTED
    if error["type"] in ("model_type", "dict_type", "mapping_type", "model_attributes_type"):
        return _KEYS_WANTED
    return f"{found(str(error['input']))} is not taken here: write it as the job file's description says."


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
        bare = part.removeprefix(UNTAKEN) if isinstance(part, str) else part
        if isinstance(bare, str) and bare.startswith("start "):
            yield "start"
            yield bare.removeprefix("start ")
        else:
            yield bare


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
