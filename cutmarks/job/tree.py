"""What a job file holds before anything is made of it: mappings, lists and texts that know where they stand.

Every scalar stays the text that was typed, so that the names 010, 3.2, no and 2024-01-05 survive, and 12 3/8 too.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from msgspec import Struct

from cutmarks.errors import JobPath


class Text(str):
    """A scalar as typed; `path` says where it stands in the job."""

    __slots__ = ("path",)
    path: JobPath

    def __new__(cls, text: str, path: JobPath = ()) -> Text:
        """`text` as it was typed, standing at `path`."""
        made = super().__new__(cls, text)
        made.path = path
        return made


class Told(Text):
    """A scalar of which it has been told that it cannot be read: nothing more is said of it."""

    __slots__ = ()


class Items(list[object]):
    """A list of nodes; `path` says where it stands in the job."""

    __slots__ = ("path",)

    def __init__(self, items: Sequence[object] = (), path: JobPath = ()) -> None:
        super().__init__(items)
        self.path = path


class Entry(dict[str, object]):
    """A mapping from keys as typed to nodes; `path` says where it stands in the job.

    given  what the reader adds of itself, such as the name that stands before the colon, by the words for it.
    """

    __slots__ = ("given", "path")

    def __init__(
        self,
        entries: Mapping[str, object] | None = None,
        path: JobPath = (),
        given: Mapping[str, object] | None = None,
    ) -> None:
        super().__init__(entries or {})
        self.path = path
        self.given = given or {}


Node = Text | Items | Entry


class SourcePlace(Struct, frozen=True):
    """A line of a file; lines count from 1, None where the whole file is meant."""

    file: str
    line: int | None


class Places(dict[JobPath, SourcePlace]):
    """Where each path of a job was read."""

    def find(self, path: JobPath) -> SourcePlace | None:
        """The place of `path`, or of the nearest thing round it that has one; None where nothing has."""
        for end in range(len(path), -1, -1):
            place = self.get(path[:end])
            if place is not None:
                return place
        return None


def plain(node: object) -> object:
    """The node as JSON values, runs of blanks as one: what counts of what was read."""
    if isinstance(node, Mapping):
        return {" ".join(str(key).split()): plain(value) for key, value in node.items()}
    if isinstance(node, list | tuple):
        return [plain(item) for item in node]
    return " ".join(str(node).split())


def planted(data: object, path: JobPath = ()) -> Node:
    """A tree from a caller's own mappings, lists, texts and numbers; `path` is where it will stand.

    True and False become yes and no, None becomes an empty text, as if nothing had been written there.
    """
    if isinstance(data, Mapping):
        return Entry({str(key): planted(value, (*path, str(key))) for key, value in data.items()}, path)
    if isinstance(data, list | tuple):
        return Items([planted(item, (*path, number)) for number, item in enumerate(data)], path)
    if isinstance(data, bool):
        return Text("yes" if data else "no", path)
    return Text("" if data is None else str(data), path)
