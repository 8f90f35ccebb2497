"""Patterns that are compiled late find what they would find at once, and each of the house's can be compiled."""

import importlib
import pkgutil
import re
from typing import Any

import pytest

import cutmarks
from cutmarks.patterns import METHODS, Late, late

# What a pattern is made of, as the library itself takes it apart; the types of that are not published.
parse: Any = importlib.import_module("re._parser").parse
LITERAL: Any = importlib.import_module("re._constants").LITERAL


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


def must_have(parsed, needs) -> bool:
    """Whether each text that a parsed pattern matches has one of `needs`, told by what the pattern is made of."""
    run = ""
    for kind, what in parsed:
        match str(kind):
            case "LITERAL":
                run += chr(what).lower()
                if any(need in run for need in needs):
                    return True
                continue
            case "SUBPATTERN":
                if must_have(what[-1], needs):
                    return True
            case "BRANCH":
                # What stands before alternatives goes on into each of them.
                before = [(LITERAL, ord(sign)) for sign in run]
                if all(must_have([*before, *one], needs) for one in what[1]):
                    return True
            case "MAX_REPEAT" | "MIN_REPEAT":
                if what[0] > 0 and must_have(what[2], needs):
                    return True
            case "IN":
                signs = [chr(one) for how, one in what if str(how) == "LITERAL"]
                others = [range(one[0], one[1] + 1) for how, one in what if str(how) == "RANGE"]
                signs += [chr(code) for span in others for code in span]
                kinds = {str(how) for how, _ in what}
                # Signs beyond ASCII are looked at by the pattern itself.
                if kinds <= {"LITERAL", "RANGE"} and all(one in needs for one in signs if one.isascii()):
                    return True
        run = ""
    return False


def test_what_a_pattern_needs_is_in_all_that_it_matches():
    needing = [(name, value) for name, value in every_late_pattern() if value.needs]
    assert len({id(value) for _, value in needing}) > 15  # there were 18 when this was written
    for name, value in needing:
        assert must_have(parse(value.pattern, value.flags), value.needs), name


@pytest.mark.parametrize(
    ("pattern", "needs", "has"),
    [
        ("a(b|cd)e", ("b", "cd"), True),
        ("a(b|cd)e", ("b",), False),
        ("a(?:b)?", ("b",), False),
        ("[-+]1", ("-", "+"), True),
        ("[-+]1", ("-",), False),
        ("[^a]b+", ("b",), True),
    ],
)
def test_the_look_at_what_a_pattern_is_made_of_can_say_no(pattern, needs, has):
    assert must_have(parse(pattern), needs) is has


def test_where_a_text_lacks_what_is_needed_nothing_is_compiled_and_nothing_found(monkeypatch):
    compiled: list[object] = []
    whole = re.compile

    def noted(pattern: str, flags: int = 0) -> re.Pattern[str]:
        compiled.append(pattern)
        return whole(pattern, flags)

    monkeypatch.setattr(re, "compile", noted)
    own = late(r"(?P<much>\d+) ?joints?", re.IGNORECASE, ("joint",))
    assert own.match("3") is own.search("15 copper") is own.fullmatch("") is None
    assert own.sub("-", "3 mm") == "3 mm"
    assert compiled == []
    found = own.match("3 JOINT")
    assert found is not None
    assert found["much"] == "3"
    # A long s is an s to a pattern that looks away from capitals, and to lower() it is not.
    assert late("spacers", re.IGNORECASE, ("spacers",)).search("2 \u017fpacer\u017f") is not None
    assert len(compiled) == 2


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
