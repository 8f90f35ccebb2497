"""What all parts of a job share: frozen values, each read from a mapping of the file and knowing where it stands.

A part is a struct of its own. What the file says reaches it as `TypedKeys`, which it may put into the form that its
fields have (`prepare`); what is wrong with it as a whole, it says itself (`check`). `job/entries.py` does the rest.
"""

from typing import ClassVar

from msgspec import Struct

from cutmarks.errors import JobPath
from cutmarks.job.tree import Entry, Items, Text
from cutmarks.job.words import Setting, spaced


def key_of(field_name: str) -> str:
    """The key in the job file for a field's name: `left_of` is "left of", `from_` is "from"."""
    return field_name.rstrip("_").replace("_", " ")


def tidy_key(key: str) -> str:
    """A key as it is known: small letters, blanks for underscores."""
    return spaced(key.replace("_", " ")).casefold()


class TypedKeys(Struct):
    """What the file says of one thing.

    keys     what stands under its keys, by the words of the fields; with what the reader adds of itself.
    unknown  the words of the keys that are said to be not known.
    strange  what is no key of it: each as it is known, and what stands under it.
    """

    path: JobPath
    keys: dict[str, object]
    unknown: set[str]
    strange: list[tuple[str, object]]


class JobModel(Struct, frozen=True, kw_only=True):
    """A part of a job; `where` is its path in the file, in the keys as typed."""

    KEYS_WANTED: ClassVar[str] = "Keys are wanted here, one a line, each with a colon and a blank behind it."

    where: JobPath = ()

    @classmethod
    def setting_in(cls, written: TypedKeys, setting: Setting) -> Setting:
        """What the phrases in it are read in, `setting` being that of what stands round it."""
        return setting

    @classmethod
    def prepare(cls, written: TypedKeys, setting: Setting) -> None:
        """Turn what was written into the fields' own words; here nothing is to do. Raises ValueError: it cannot be."""

    def check(self) -> None:
        """Whether all of it goes together; here it does. Raises ValueError: one sentence on the whole of it."""


def given(entry: object, short: str | None, **keys: object) -> object:
    """`entry` with further keys that no one typed; a plain value becomes its `short` key."""
    if isinstance(entry, Entry):
        typed, own = entry, entry.given
    elif short is not None and isinstance(entry, Text | Items):
        typed, own = Entry(path=entry.path), {short: entry}
    else:
        return entry
    return Entry(typed, typed.path, {**{key_of(key): value for key, value in keys.items()}, **own})


def path_of(node: object) -> JobPath:
    """Where a node of the tree stands."""
    return node.path if isinstance(node, Text | Items | Entry) else ()
