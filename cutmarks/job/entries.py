"""The one walk over a job's tree that fills its values: each key is read where it stands, and what is wrong told there.

A model says what its fields are (`declared.fields_of`); from the type of each, once, comes the function that reads it.
All faults of a tree are told together: a thing that has one is not made, and what stands beside it is read on.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from functools import partial
from types import UnionType
from typing import Final, TypeVar, Union, get_args, get_origin

from cutmarks.errors import Faults
from cutmarks.job.declared import Made, ModelField, apart, fields_of, once_a_model, short_of, words_of
from cutmarks.job.fields import Parsed
from cutmarks.job.keys import missing_key, unknown_key
from cutmarks.job.model import JobModel, TypedKeys, path_of, tidy_key
from cutmarks.job.tree import Entry, Items, Text
from cutmarks.job.words import UNKNOWN, Follows, Setting, found, spaced

M = TypeVar("M", bound=JobModel)
MOST_LOOKED_UP = 1_000
"""Each fault is looked up in the tree, and a key that is none is compared with those that are."""
_LIST_WANTED = "A list is wanted here: begin each thing with - on a line of its own."
_REFUSED: Final = object()
"""Stands for a value that could not be read; why, has been told."""


class _Refused(Exception):
    """Something in it was refused, and has been told where it stands."""


class Reader:
    """Reads the things of one tree, and tells of what it cannot read; `made` has every thing that was read whole."""

    def __init__(self, faults: Faults) -> None:
        self.made: list[tuple[JobModel, Setting]] = []
        self._faults = faults
        self._refused = 0

    def read(self, model: type[M], tree: Entry, setting: Setting) -> M | None:
        """The thing that the tree says, `setting` being that round it; None where it has faults."""
        made = self.value(lambda reader, node, within: reader.thing(model, node, within), tree, setting)
        return made if isinstance(made, model) else None

    def value(self, read: Read, node: object, setting: Setting) -> object:
        """What stands at a node; `_REFUSED` where it cannot be read, which is told."""
        try:
            return read(self, node, setting)
        except _Refused:
            pass  # told where it stands
        except Follows:
            self._refused += 1
        except ValueError as error:
            self._tell(partial(str, error), node)
        return _REFUSED

    def thing(self, model: type[M], node: object, setting: Setting) -> M:
        """The thing that stands at a node. Raises ValueError: what is wrong with the whole of it."""
        written = _tidied(model, _entry(model, node), setting)
        setting = model.setting_in(written, setting)
        model.prepare(written, setting)
        values: dict[str, object] = {}
        with self._faults.about("", written.path):
            for one, read in _readers(model):
                if one.word in written.keys:
                    values[one.name] = self.value(read, written.keys[one.word], setting)
                elif one.needed:
                    values[one.name] = _REFUSED
                    self._tell(partial(missing_key, one.word, model))
            for key, value in written.strange:
                self._tell(partial(unknown_key, key, model), value)
        if written.strange or any(value is _REFUSED for value in values.values()):
            raise _Refused
        made = model(where=written.path, **values)
        made.check()
        self.made.append((made, setting))
        return made

    def _tell(self, sentence: Callable[[], str], node: object = None) -> None:
        """Tell of what stands at a node, or of the thing that is being read; beyond the most, nothing is looked up."""
        self._refused += 1
        if self._refused <= MOST_LOOKED_UP:
            self._faults.tell(sentence(), path_of(node) or None)


Read = Callable[[Reader, object, Setting], object]
"""Makes a value of what stands at a node. Raises ValueError: one sentence."""


@once_a_model
def _readers(model: type[JobModel]) -> tuple[tuple[ModelField, Read], ...]:
    """How each field of a model is read."""
    return tuple((one, _reader(one.annotation, one.beside)) for one in fields_of(model))


def _reader(annotation: object, beside: tuple[object, ...]) -> Read:
    """How a value of a type is read: parsed where that is said beside it, else by what the type is made of.

    What is worked out of other keys is kept as it was made. Raises TypeError: nothing says how the type is read.
    """
    parsed = _parsed(beside)
    if parsed is not None:
        return _text(parsed)
    kind, parts = get_origin(annotation), get_args(annotation)
    if kind in (Union, UnionType):
        one, said = apart(next(part for part in parts if part is not type(None)))
        return _reader(one, (*said, *beside))
    if any(isinstance(said, Made) for said in beside):
        return lambda reader, node, setting: node
    if kind is tuple and Ellipsis in parts:
        return _several(_reader(*apart(parts[0])))
    if kind is Mapping:
        return _by_name(_parsed(apart(parts[0])[1]), _reader(*apart(parts[1])))
    if isinstance(annotation, type) and issubclass(annotation, JobModel):
        return lambda reader, node, setting: reader.thing(annotation, node, setting)
    raise TypeError(f"{annotation} has nothing beside it that says how it is read.")


def _text(parsed: Parsed) -> Read:
    return lambda _, node, setting: parsed.read(node, setting)


def _several(read: Read) -> Read:
    """A list, each of whose items is read so."""

    def items(reader: Reader, node: object, setting: Setting) -> object:
        if not isinstance(node, list | tuple):
            raise ValueError(_LIST_WANTED)
        return tuple(_whole([reader.value(read, item, setting) for item in node]))

    return items


def _by_name(name: Parsed | None, read: Read) -> Read:
    """Values behind their names, each read so; the names too, where it is said how."""

    def named(reader: Reader, node: object, setting: Setting) -> object:
        if not isinstance(node, Mapping):
            raise ValueError(JobModel.KEYS_WANTED)
        names: list[object] = []
        made: list[object] = []
        for key, value in node.items():
            typed = Text(key, path_of(value) or path_of(node))
            names.append(key if name is None else reader.value(_text(name), typed, setting))
            made.append(reader.value(read, value, setting))
        return dict(zip(_whole(names), _whole(made), strict=True))

    return named


def _whole(values: Sequence[object]) -> Sequence[object]:
    """The values, once it is sure that none was refused."""
    if any(value is _REFUSED for value in values):
        raise _Refused
    return values


def _parsed(beside: Sequence[object]) -> Parsed | None:
    return next((said for said in beside if isinstance(said, Parsed)), None)


def _entry(model: type[JobModel], node: object) -> Entry:
    """The keys of a thing; a plain value, or a list, is what its short key says. Raises ValueError: it is none."""
    if isinstance(node, Entry):
        return node
    short = short_of(model)
    if short is None or not isinstance(node, Text | Items) or (isinstance(node, Text) and not node.strip()):
        raise ValueError(model.KEYS_WANTED)
    return Entry({}, node.path, {short: node})


def _tidied(model: type[JobModel], entry: Entry, setting: Setting) -> TypedKeys:
    """The keys that say something, in their known form. Raises ValueError: two of them are one."""
    known = words_of(model)
    written = TypedKeys(entry.path, {}, set(), [])
    for word, value in entry.given.items():
        if _says(written, word, value, must=word in known and known[word].key.must):
            written.keys[word] = value
    typed: dict[tuple[bool, str], str] = {}
    for key, value in entry.items():
        tidy = tidy_key(key)
        one = known.get(tidy)
        word = tidy if one is None or one.key.floor else one.word
        before = typed.setdefault((one is None, word), key)
        if before != key:
            raise ValueError(f"{found(before)} and {found(key)} say the same: keep one.")
        if one is None:
            written.strange.append((tidy, value))
        elif _says(written, one.word, value, one.key.must):
            # On a floor some keys have a word of their own, `in` where a wall has `up`: there, the other is no key.
            if one.key.floor and (tidy == one.word) == (setting.kind == "floor"):
                written.strange.append((tidy, value))
            else:
                written.keys[one.word] = value
    return written


def _says(written: TypedKeys, word: str, value: object, must: bool) -> bool:
    """Whether something stands under a key; what is said to be not known is put down as that."""
    if not isinstance(value, Text):
        return True
    if not must and spaced(value) == UNKNOWN:
        written.unknown.add(word)
        return False
    return bool(value.strip())
