"""The keys of a whole job file: what stands under which, and the sentences for one that is missing or is none."""

from __future__ import annotations

import difflib
from collections.abc import Mapping
from functools import cache

from cutmarks.job.declared import Declared, below, declared, made, words_of
from cutmarks.job.fields import A_NAME
from cutmarks.job.limits import OwnLimits
from cutmarks.job.model import JobModel, tidy_key
from cutmarks.job.models import Job
from cutmarks.job.shop import Shop
from cutmarks.job.tools import Tools
from cutmarks.job.words import either, found

START = "start "
_UNDER: Mapping[str, str] = {"found": "an entry under found", "limit": "the list under limits"}
"""What is no thing of its own name."""


@cache
def things() -> Mapping[str, tuple[type[JobModel], str]]:
    """What stands under each key that holds things, and what one of them is called."""
    return {one.word: (model, one.key.one) for root in (Job, Tools, Shop) for one, model in below(root)}


@cache
def typed_as() -> Mapping[str, frozenset[str]]:
    """What each field, by the word for it, may be typed as in the file, where that is not this word itself."""
    models: set[type[JobModel]] = {Job, Tools, Shop, *(model for model, _ in things().values())}
    typed: dict[str, set[str]] = {}
    for model in models:
        for one in declared(model).values():
            typed.setdefault(one.word, set()).update(one.words)
        for word, keys in made(model).items():
            typed.setdefault(word, set()).update(*(declared(model)[key].words for key in keys))
    return {word: frozenset(words) for word, words in typed.items()}


def keys_of(model: type[JobModel]) -> list[str]:
    """The keys that can be written in a thing, on a wall and on a floor."""
    keys = declared(model)
    return [*keys, *(one.key.floor[0] for one in keys.values() if one.key.floor)]


def missing_key(word: str, model: type[JobModel]) -> str:
    """The sentence for a key that has to be there."""
    one = declared(model).get(word)
    write = A_NAME if one is None else one.key.write or f"{word}: {one.key.examples[0]}"
    return f"{found(word)} is missing: write {write}."


def unknown_key(key: str, model: type[JobModel]) -> str:
    """The sentence for a key that is none, with the key that was meant where that can be told."""
    typed = tidy_key(key)
    known = keys_of(model)
    if typed.startswith(START):
        return (
            f"{found(typed.removeprefix(START))} is no part of a start: "
            "write across and up, as in start: {across: joint on V, up: sits on B}."
        )
    elsewhere = _of_the_tools(typed)
    if elsewhere and typed not in known:
        return f"The tiler's own tools stand in tools.yaml beside the job: write {elsewhere} there."
    for one in declared(model).values():
        if one.key.floor and typed in (one.word, one.key.floor[0]):
            return _of_the_other_kind(typed, one)
    meant = next((one.word for one in declared(model).values() if typed in one.key.meant), None)
    if meant is not None:
        return f"{found(typed)} is no key here: write {meant}."
    homes = sorted({word for thing, word in things().values() if typed in keys_of(thing)})
    if homes:
        there = either(_UNDER.get(home, f"{_a(home)} {home}") for home in homes)
        return f"{found(typed)} is no key here, it belongs to {there}: move it there."
    near = difflib.get_close_matches(typed, known, n=1)
    if near:
        return f"{found(typed)} is no key here: did you mean {near[0]}?"
    if model is OwnLimits:
        return f"{found(typed)} is no limit: write one that cutmarks check --why prints."
    return f"{found(typed)} is no key here: write {either(known)}."


def _of_the_tools(typed: str) -> str:
    """Which of the keys of the tools' own file a key is, and none of the job's; "" where it is none."""
    own = [word for word in declared(Tools) if word not in declared(Job)]
    return either(own) if typed == "tools" else typed if typed in own else ""


def _of_the_other_kind(typed: str, one: Declared) -> str:
    """The word for a reading on the other kind of surface."""
    word, example = one.key.floor or ("", "")
    if typed == word:
        return f'On a wall the height is written {one.word}, as in "{one.word}: {one.key.examples[0]}".'
    return f'On a floor the way into the room is written {word}, as in "{word}: {example}".'


def knows(heading: str, model: type[JobModel]) -> bool:
    """Whether a word is taken for a key of a thing."""
    return heading in words_of(model)


def _a(word: str) -> str:
    return "an" if word[0] in "aeiou" else "a"
