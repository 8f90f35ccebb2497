"""What all parts of a job share: how a mapping of the file becomes a frozen model that knows where it stands."""

from __future__ import annotations

from typing import ClassVar

from pydantic import BaseModel, ConfigDict, ValidationInfo, model_validator

from cutmarks.errors import JobPath
from cutmarks.job.declared import declared, short_of, words_of
from cutmarks.job.fields import ReadIn
from cutmarks.job.tree import Entry, Items, Text
from cutmarks.job.words import UNKNOWN, Setting, found, spaced

UNTAKEN = "\0"
"""Put before a key that is none, which may be spelt like a field of our own: no file can hold this character."""


def key_of(field_name: str) -> str:
    """The key in the job file for a field's name: `left_of` is "left of", `from_` is "from"."""
    return field_name.rstrip("_").replace("_", " ")


def tidy_key(key: str) -> str:
    """A key as it is known: small letters, blanks for underscores."""
    return spaced(key.replace("_", " ")).casefold()


class JobModel(BaseModel):
    """A part of a job: frozen, no key but its own, and knowing where it stands."""

    model_config = ConfigDict(
        extra="forbid",
        frozen=True,
        arbitrary_types_allowed=True,
        alias_generator=key_of,
        populate_by_name=True,
        defer_build=True,  # a job builds only the models that it uses: a start is quicker for it
    )
    KEYS_WANTED: ClassVar[str] = "Keys are wanted here, one a line, each with a colon and a blank behind it."

    where: JobPath = ()

    @model_validator(mode="before")
    @classmethod
    def read_entry(cls, data: object, info: ValidationInfo) -> object:
        """Put keys in the form in which they are known, leave out what is not known, say where this stands."""
        if isinstance(data, Text | Items):
            short = short_of(cls)
            if short is None or (isinstance(data, Text) and not data.strip()):
                raise ValueError(cls.KEYS_WANTED)
            data = Entry({GIVEN + short: data}, data.path)
        if not isinstance(data, Entry):
            return data
        taken, unknown = cls.tidied(data)
        context = info.context if isinstance(info.context, ReadIn) else ReadIn()
        taken = _by_kind(cls, taken, context.setting)
        return {**cls.prepare(taken, unknown, context), "where": data.path}

    @classmethod
    def tidied(cls, data: Entry) -> tuple[dict[str, object], frozenset[str]]:
        """The keys that say something, in their known form; and those that are said to be not known."""
        taken: dict[str, object] = {}
        typed: dict[str, str] = {}
        unknown: set[str] = set()
        known = words_of(cls)
        for key, value in data.items():
            ours = key.startswith(GIVEN)
            tidy = key.removeprefix(GIVEN) if ours else tidy_key(key)
            one = known.get(tidy)
            if one is None:
                tidy = tidy if ours else UNTAKEN + tidy
            elif not one.key.floor:
                tidy = one.word
            if tidy in typed:
                raise ValueError(f"{found(typed[tidy])} and {found(key)} say the same: keep one.")
            typed[tidy] = key
            if isinstance(value, Text) and (ours or one is not None):
                if not value.strip():
                    continue
                if spaced(value) == UNKNOWN and not (one is not None and one.key.must):
                    unknown.add(tidy)
                    continue
            taken[tidy] = value
        return taken, frozenset(unknown)

    @classmethod
    def prepare(cls, taken: dict[str, object], unknown: frozenset[str], context: ReadIn) -> dict[str, object]:
        """Turn what was taken from the file into the model's own fields; here nothing is to do."""
        return taken


GIVEN = "\0\0"
"""Put before a key that the reader adds of itself, such as the name that stands before the colon."""


def given(entry: object, short: str | None, **keys: object) -> object:
    """`entry` with further keys that no one typed; a plain value becomes its `short` key."""
    if isinstance(entry, Entry):
        own: dict[str, object] = dict(entry)
    elif short is not None and isinstance(entry, Text | Items):
        own = {GIVEN + short: entry}
    else:
        return entry
    return Entry({**{GIVEN + key_of(key): value for key, value in keys.items()}, **own}, entry.path)


def _by_kind(model: type[JobModel], taken: dict[str, object], setting: Setting) -> dict[str, object]:
    """On a floor some keys have a word of their own, `in` where a wall has `up`: there, the other word is no key."""
    if setting.kind == "floor":
        for word, one in declared(model).items():
            if one.key.floor:
                if word in taken:
                    taken[UNTAKEN + word] = taken.pop(word)
                if one.key.floor[0] in taken:
                    taken[word] = taken.pop(one.key.floor[0])
    return taken


def path_of(node: object) -> JobPath:
    """Where a node of the tree stands."""
    return node.path if isinstance(node, Text | Items | Entry) else ()
