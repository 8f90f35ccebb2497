"""What is known of a key of the job file, declared once, on the field that it fills.

A field that is written carries a `Key` beside its type, one that is worked out a `Made`:

    cover: Annotated[Cover | None, Key("what hides the hole", examples=("65", "147 x 86", "none"))] = None
    cover_known: Annotated[bool, Made("cover")] = False

Reading, fault sentences, the table of keys, the questions of `cutmarks new` and the JSON Schema of the job file are
made of them. The word for a key is its field's name with blanks, where the key does not say another.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from functools import cache
from inspect import get_annotations
from typing import Annotated, TypeVar, cast, get_args, get_origin

from msgspec import NODEFAULT, Struct

from cutmarks.job.model import JobModel, key_of

T = TypeVar("T")


class Key(Struct, frozen=True):
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
    word      the word for it, where that is not the field's name with blanks.
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
    word: str = ""
    key: str = ""
    parts: tuple[str, ...] = ()
    filled: bool = False


class Made:
    """A field that nobody writes: worked out from what is written under `of`, or given by what stands round it."""

    __slots__ = ("of",)

    def __init__(self, *of: str) -> None:
        self.of = of


class ModelField(Struct, frozen=True):
    """A field of one model: its name, its type, what stands beside that, and the word that what fills it is known by.

    needed  without it there is no such thing.
    """

    name: str
    annotation: object
    beside: tuple[object, ...]
    word: str
    needed: bool


class Declared(Struct, frozen=True):
    """A key of one model: the word for it, what is known of it, and the field that it fills."""

    word: str
    key: Key
    field: ModelField

    @property
    def words(self) -> tuple[str, ...]:
        """Every word that is taken for it."""
        return (self.word, *((self.key.floor[0],) if self.key.floor else ()), *self.key.also)


def once_a_model(make: Callable[[type[JobModel]], T]) -> Callable[[type[JobModel]], T]:
    """Make it once for each model. mypy takes the type of a struct for one that cannot be hashed: so it is told."""
    return cast("Callable[[type[JobModel]], T]", cache(make))


@once_a_model
def fields_of(model: type[JobModel]) -> tuple[ModelField, ...]:
    """The fields of a model in their order, but for where it stands.

    Raises TypeError: the model's module postpones annotations (`from __future__`), so that no key can be seen.
    """
    found = []
    defaults = dict(zip(reversed(model.__struct_fields__), reversed(model.__struct_defaults__), strict=False))
    types = {name: kind for base in reversed(model.__mro__) for name, kind in get_annotations(base).items()}
    for name in model.__struct_fields__:
        if name != "where":
            if isinstance(types[name], str):
                raise TypeError(f"{model.__name__}.{name}: its annotation is postponed, and is read as it stands.")
            annotation, beside = apart(types[name])
            key = next((said for said in beside if isinstance(said, Key)), None)
            word = (key.word if key else "") or key_of(name)
            needed = defaults.get(name, NODEFAULT) is NODEFAULT
            found.append(ModelField(name, annotation, beside, word, needed))
    return tuple(found)


def apart(annotation: object) -> tuple[object, tuple[object, ...]]:
    """A type, and what is said beside it."""
    if get_origin(annotation) is Annotated:
        bare, *beside = get_args(annotation)
        return bare, tuple(beside)
    return annotation, ()


@once_a_model
def declared(model: type[JobModel]) -> Mapping[str, Declared]:
    """The keys of a model by their words, in the order of its fields."""
    keys: dict[str, Declared] = {}
    for one in fields_of(model):
        key = next((said for said in one.beside if isinstance(said, Key)), None)
        if key is not None:
            word = key.key or one.word
            keys[word] = Declared(word, key, one)
    return keys


@once_a_model
def words_of(model: type[JobModel]) -> Mapping[str, Declared]:
    """Every word that is taken for a key of a model, with the key."""
    return {word: one for one in declared(model).values() for word in one.words}


@once_a_model
def made(model: type[JobModel]) -> Mapping[str, tuple[str, ...]]:
    """The fields of a model that are worked out, by their words, each with the keys that it is made of."""
    return {one.word: said.of for one in fields_of(model) for said in one.beside if isinstance(said, Made)}


def such_as(model: type[JobModel], word: str, most: int | None = None) -> str:
    """The examples of a key, or the first of them, as one text: "65, 147 x 86, none"."""
    return ", ".join(declared(model)[word].key.examples[:most])


def short_of(model: type[JobModel]) -> str | None:
    """The key that is meant where a plain value stands in place of keys; None where nothing is."""
    return next((word for word, one in declared(model).items() if one.key.short), None)


def model_in(annotation: object) -> type[JobModel] | None:
    """The model that a field's type holds, alone, in a list or behind names; None: it holds none."""
    if isinstance(annotation, type) and issubclass(annotation, JobModel):
        return annotation
    return next((model for part in get_args(annotation) if (model := model_in(part)) is not None), None)


def below(root: type[JobModel]) -> Iterator[tuple[Declared, type[JobModel]]]:
    """Every key under `root`, however deep, that holds things with keys of their own, and their model."""
    for one in declared(root).values():
        model = model_in(one.field.annotation)
        if model is not None:
            yield one, model
            yield from below(model)
