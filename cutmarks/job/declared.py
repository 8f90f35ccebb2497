"""What is known of a key of the job file, declared once, on the field that it fills.

A field that is written carries a `Key` beside its type, one that is worked out a `Made`:

    cover: Annotated[Cover | None, Key("what hides the hole", examples=("65", "147 x 86", "none"))] = None
    cover_known: Annotated[bool, Made("cover")] = False

pydantic leaves both alone. Reading, fault sentences, the table of keys, the questions of `cutmarks new` and the JSON
Schema of the job file are made of them. The word for a key is the field's alias, which is its name with blanks.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from typing import TypeVar, get_args

from pydantic import BaseModel

M = TypeVar("M", bound=BaseModel)


@dataclass(frozen=True, slots=True)
class Key:
    """One key, as it is written in the job file.

    about     what it says, in a few words, for the table of keys and an editor.
    examples  values as they stand behind the colon; another one means another thing.
    also      other words for the key, taken too.
    meant     words typed in its place that are refused: the sentence names this key.
    must      `?` is no answer; elsewhere it is as if the key had not been written.
    short     this key is meant where a plain value, or a list, stands in place of the thing's keys.
    one       what one of the things that stand under it is called.
    named     the things under it stand each behind its own name and a colon, not in a list.
    floor     the word for it on a floor, and how it is written there.
    write     how it is written where it is missing, if not as in the first example.
    key       the word, where `prepare` makes the field of what is written under it.
    parts     keys that may stand under it in place of one phrase.
    filled    where it is not written, something is put in for it.
    """

    about: str
    examples: tuple[str, ...] = ()
    also: tuple[str, ...] = ()
    meant: tuple[str, ...] = ()
    must: bool = False
    short: bool = False
    one: str = ""
    named: bool = False
    floor: tuple[str, str] | None = None
    write: str = ""
    key: str = ""
    parts: tuple[str, ...] = ()
    filled: bool = False


class Made:
    """A field that nobody writes: worked out from what is written under `of`, or given by what stands round it."""

    __slots__ = ("of",)

    def __init__(self, *of: str) -> None:
        self.of = of


@dataclass(frozen=True, slots=True)
class Declared:
    """A key of one model: the word for it, what is known of it, the type of its field and what stands beside that."""

    word: str
    key: Key
    field: str
    annotation: object
    beside: tuple[object, ...] = ()

    @property
    def words(self) -> tuple[str, ...]:
        """Every word that is taken for it."""
        return (self.word, *((self.key.floor[0],) if self.key.floor else ()), *self.key.also)


@cache
def declared(model: type[BaseModel]) -> Mapping[str, Declared]:
    """The keys of a model by their words, in the order of its fields."""
    keys: dict[str, Declared] = {}
    for name, field in model.model_fields.items():
        key = next((one for one in field.metadata if isinstance(one, Key)), None)
        if key is not None:
            word = key.key or field.alias or name
            keys[word] = Declared(word, key, name, field.annotation, tuple(field.metadata))
    return keys


@cache
def words_of(model: type[BaseModel]) -> Mapping[str, Declared]:
    """Every word that is taken for a key of a model, with the key."""
    return {word: one for one in declared(model).values() for word in one.words}


@cache
def made(model: type[BaseModel]) -> Mapping[str, tuple[str, ...]]:
    """The fields of a model that are worked out, by alias, each with the keys that it is made of."""
    return {
        field.alias or name: one.of
        for name, field in model.model_fields.items()
        for one in field.metadata
        if isinstance(one, Made)
    }


def such_as(model: type[BaseModel], word: str, most: int | None = None) -> str:
    """The examples of a key, or the first of them, as one text: "65, 147 x 86, none"."""
    return ", ".join(declared(model)[word].key.examples[:most])


def short_of(model: type[BaseModel]) -> str | None:
    """The key that is meant where a plain value stands in place of keys; None where nothing is."""
    return next((word for word, one in declared(model).items() if one.key.short), None)


def model_in(annotation: object, kind: type[M]) -> type[M] | None:
    """The model that a field's type holds, alone, in a list or behind names; None: it holds none."""
    if isinstance(annotation, type) and issubclass(annotation, kind):
        return annotation
    return next((model for part in get_args(annotation) if (model := model_in(part, kind)) is not None), None)


def below(root: type[M], kind: type[M]) -> Iterator[tuple[Declared, type[M]]]:
    """Every key under `root`, however deep, that holds things with keys of their own, and their model."""
    for one in declared(root).values():
        model = model_in(one.annotation, kind)
        if model is not None:
            yield one, model
            yield from below(model, kind)
