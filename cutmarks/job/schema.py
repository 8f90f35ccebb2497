"""The JSON Schema of the job file, made of the declared keys: what an editor completes and checks a job by.

It knows where each key stands, what it is for, and the words where only some are taken. Phrases are read by the job's
own reader alone: here they are texts. Keys are in small letters with blanks, and `?` stands where the reader takes it.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from importlib import resources
from types import UnionType
from typing import Any, Union, get_args, get_origin

from cutmarks.job.declared import Declared, apart, declared, model_in, short_of
from cutmarks.job.edges import EdgeSpec
from cutmarks.job.fields import Choice
from cutmarks.job.model import JobModel
from cutmarks.job.models import Job
from cutmarks.job.reading import read_tree
from cutmarks.job.tree import plain
from cutmarks.job.words import SIDE_OF, UNKNOWN
from cutmarks.sides import Side

FILE = "job.schema.json"
Schema = dict[str, Any]
_TEXT: Schema = {"type": ["string", "number", "boolean", "null"]}
"""One value on its line: 3 is a number to YAML and no is a truth, to the job's reader both are texts."""
_LIST: Schema = {"type": "array", "items": {"anyOf": [_TEXT, {"type": "array", "items": _TEXT}]}}


def job_schema() -> Schema:
    """The schema of a job file."""
    things: dict[str, Schema] = {}
    root = _model(Job, things)
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "A cutmarks job",
        **root,
        "$defs": dict(sorted(things.items())),
    }


def schema_json() -> bytes:
    """The schema as it is published."""
    return (json.dumps(job_schema(), indent=1, ensure_ascii=False) + "\n").encode("utf-8")


def published_schema() -> bytes:
    """The schema that is shipped."""
    return resources.files("cutmarks.job").joinpath(FILE).read_bytes()


def example(one: Declared) -> Iterable[object]:
    """The examples of a key as values: a list or keys of its own where it is written so."""
    for text in one.key.examples:
        tree, _, faults, _ = read_tree(f"{one.word}: {text}", "example")
        assert not faults, faults
        yield plain(tree[one.word])


def _model(model: type[JobModel], things: dict[str, Schema]) -> Schema:
    """The keys of one thing; those of the things under it are added to `things`."""
    properties: Schema = {}
    for one in declared(model).values():
        value = _value(one, things)
        about = {"description": f"{one.key.about[:1].upper()}{one.key.about[1:]}."}
        shown = {"examples": list(example(one))} if one.key.examples else {}
        properties[one.word] = {**about, **value, **shown}
        if one.key.floor:
            properties[one.key.floor[0]] = {
                "description": f"On a floor, in place of {one.word}.",
                **value,
                "examples": [one.key.floor[1]],
            }
        for word in one.key.also:
            properties[word] = {"description": f"The same as {one.word}.", **value}
    required = [one.word for one in declared(model).values() if one.field.needed and not one.key.filled]
    return {
        "type": "object",
        "properties": properties,
        **({"required": required} if required else {}),
        "additionalProperties": False,
    }


def _value(one: Declared, things: dict[str, Schema]) -> Schema:
    """What may stand behind a key's colon."""
    model = model_in(one.field.annotation)
    if model is not None:
        return _things(one, model, things)
    choice = _choice(one)
    if choice is not None:
        return {"enum": list(_spellings(choice, unknown=not one.key.must))}
    parts = [bare for bare in _parts(one.field.annotation) if get_origin(bare) in (tuple, Mapping)]
    if one.key.parts:
        keys = {"type": "object", "properties": dict.fromkeys(one.key.parts, _TEXT), "additionalProperties": False}
        return {"anyOf": [_TEXT, keys]}
    kind = next(iter(parts), None)
    if kind is not None and get_origin(kind) is tuple and Ellipsis in get_args(kind):
        return {"anyOf": [_TEXT, _LIST]}
    if kind is not None and get_origin(kind) is not tuple:
        return {"anyOf": [_TEXT, _by_name(get_args(kind)[0], {"anyOf": [_TEXT, _LIST]})]}
    return dict(_TEXT)


def _things(one: Declared, model: type[JobModel], things: dict[str, Schema]) -> Schema:
    """Things with keys of their own: one, a list of them, or each behind its name."""
    name = model.__name__.removesuffix("Spec")
    if name not in things:
        things[name] = {}
        things[name].update(_model(model, things))
    thing: Schema = {"$ref": f"#/$defs/{name}"}
    short = short_of(model)
    if short is not None:
        listed = get_origin(declared(model)[short].field.annotation) is tuple
        thing = {"anyOf": [thing, _TEXT, *([_LIST] if listed else [])]}
    if one.key.named:
        return {**_by_name(Side if model is EdgeSpec else str, thing), "type": ["object", "null"]}
    if get_origin(one.field.annotation) is tuple:
        return {"type": ["array", "null"], "items": thing}
    return {"anyOf": [thing, {"type": "null"}]}


def _by_name(name: object, value: Schema) -> Schema:
    """A mapping from names to values; from the sides of a surface where it is by side."""
    if Side in _parts(name):
        return {"type": "object", "properties": dict.fromkeys(map(str, SIDE_OF), value), "additionalProperties": False}
    return {"type": "object", "additionalProperties": value}


def _parts(annotation: object) -> list[object]:
    """A type, or each of a union's, without what is said of it beside."""
    bare, _ = apart(annotation)
    if get_origin(bare) in (Union, UnionType):
        return [part for one in get_args(bare) for part in _parts(one)]
    return [bare]


def _choice(one: Declared) -> Choice | None:
    """The words that a key is one of; None where it takes others too."""
    of = one.field
    union = get_args(of.annotation) if get_origin(of.annotation) in (Union, UnionType) else ()
    beside = [*of.beside, *(said for part in union for said in apart(part)[1])]
    return next((said for said in beside if isinstance(said, Choice)), None)


def _spellings(choice: Choice, unknown: bool) -> Iterable[object]:
    """What YAML makes of the words: 1 is a number to it, and where yes is taken, true is."""
    words = [*choice.allowed, *choice.alike]
    yield from words
    yield from (int(word) for word in words if word.isdecimal())
    if "true" in words:
        yield from (True, False)
    if unknown:
        yield from (UNKNOWN, None)
