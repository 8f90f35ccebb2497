"""A key of the job file is declared once: each field says what it is, and what it says holds together."""

from __future__ import annotations

from typing import Annotated

import pytest

from cutmarks.job.declared import Key, Made, declared, fields_of, made, words_of
from cutmarks.job.keys import missing_key, things, unknown_key
from cutmarks.job.model import JobModel
from cutmarks.job.models import Job, Tools
from cutmarks.job.schema import example

MODELS = list(dict.fromkeys([Job, Tools, *(model for model, _ in things().values())]))


@pytest.mark.parametrize("model", MODELS, ids=lambda model: model.__name__)
def test_every_field_is_a_key_or_is_worked_out(model: type[JobModel]) -> None:
    assert len(fields_of(model)) > 1
    for field in fields_of(model):
        assert len([one for one in field.beside if isinstance(one, Key | Made)]) == 1, field.name


@pytest.mark.parametrize("model", MODELS, ids=lambda model: model.__name__)
def test_every_key_is_said_in_words_with_examples_that_can_be_read(model: type[JobModel]) -> None:
    for word, one in declared(model).items():
        assert one.key.about
        assert not one.key.about[0].isupper()
        assert not one.key.about.endswith("."), f"{word}: the point is put behind it where it is shown"
        assert len(list(example(one))) == len(one.key.examples)
        holds_things = bool(one.key.one)
        assert one.key.examples or holds_things, word


@pytest.mark.parametrize("model", MODELS, ids=lambda model: model.__name__)
def test_no_word_stands_for_two_keys_and_none_that_is_refused_is_taken(model: type[JobModel]) -> None:
    words = [word for one in declared(model).values() for word in one.words]
    assert len(words) == len(set(words))
    refused = [word for one in declared(model).values() for word in one.key.meant]
    assert len(refused) == len(set(refused))
    assert not set(refused) & set(words)


@pytest.mark.parametrize("model", MODELS, ids=lambda model: model.__name__)
def test_what_is_worked_out_says_of_which_keys(model: type[JobModel]) -> None:
    assert {key for keys in made(model).values() for key in keys} <= set(declared(model))
    assert not set(made(model)) & set(words_of(model))


def test_every_key_that_holds_things_says_what_one_is_called() -> None:
    assert [word for word, (_, one) in things().items() if not one] == []


class Shelf(JobModel, frozen=True, kw_only=True):
    """A model of the tests."""

    long: Annotated[float, Key("how long it is", ("300",))]


def test_a_model_whose_annotations_are_postponed_is_no_model() -> None:
    # As they are in this file: its keys would be texts, and all that is written there a key that is none.
    with pytest.raises(TypeError, match=r"Shelf\.long: its annotation is postponed"):
        declared(Shelf)


def test_sentences_come_from_the_declaration() -> None:
    hole, _ = things()["holes"]
    assert unknown_key("up", hole) == (
        'On a floor the way into the room is written in, as in "in: 1420 to 1530 from D".'
    )
    assert unknown_key("in", hole) == 'On a wall the height is written up, as in "up: 212 to 228 above B".'
    assert unknown_key("discs", hole) == (
        "The tiler's own tools stand in tools.yaml beside the job: write discs there."
    )
    assert unknown_key("tools", hole) == (
        "The tiler's own tools stand in tools.yaml beside the job: write cores, discs, longest snap, narrowest snap, "
        "spacers or printer there."
    )
    assert missing_key("job", Job) == '"job" is missing: write job: Quay Cottage.'
    assert missing_key("at", things()["steps"][0]) == '"at" is missing: write at: 1140 left of V.'
