"""Patterns that are compiled late find what they would find at once, and each of the house's can be compiled."""

import importlib
import pkgutil
import re

import pytest

import cutmarks
from cutmarks.patterns import METHODS, Late, late


def every_late_pattern():
    """Each one that stands at the head of a module, by its name there."""
    for module in pkgutil.walk_packages(cutmarks.__path__, "cutmarks."):
        if not module.name.endswith("__main__"):
            for name, value in vars(importlib.import_module(module.name)).items():
                if isinstance(value, Late):
                    yield f"{module.name}.{name}", value


def test_every_late_pattern_of_the_house_can_be_compiled():
    found = list(every_late_pattern())
    assert len({id(value) for _, value in found}) > 50  # there were 79 when this was written
    for _, value in found:
        value.search("")


def test_a_late_pattern_finds_what_one_compiled_at_once_finds():
    text, own, other = (
        "Two 15 mm, 22 MM",
        late(r"(?P<much>\d+) ?mm", re.IGNORECASE),
        re.compile(r"(?P<much>\d+) ?mm", re.I),
    )
    assert own.pattern == other.pattern
    first = own.search(text)
    assert first is not None
    assert first["much"] == "15"
    assert own.findall(text) == ["15", "22"]
    assert own.sub("-", text) == "Two -, -"
    assert own.match(text) is None is own.fullmatch(text)
    assert own.split(text) == other.split(text)


def test_a_pattern_that_is_none_is_told_when_it_is_looked_for_and_a_word_that_is_no_method_is_refused():
    with pytest.raises(re.error):
        late("(").search("")
    with pytest.raises(AttributeError):
        getattr(late("a"), "serch")  # noqa: B009
    assert "search" in METHODS
