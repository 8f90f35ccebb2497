"""What may not be said of any job: a refusal without a line, a figure or a word of ours, half a sentence."""

from __future__ import annotations

import re
from collections.abc import Iterator

from cutmarks.errors import Fault

_NO_FIGURE = re.compile(
    r"\b(?:nan|inf|infinity)\b|(?<![0-9a-f])[0-9.]+e[+-]?[0-9]+(?![0-9a-f])|[0-9]\.[0-9]{7,}", re.IGNORECASE
)
_CLASS = re.compile(
    r"\b(?:[A-Z]\w*(?:Error|Exception|Spec|Fault)|NoneType|Traceback|pydantic|builtins|Fraction|Decimal|Entry|None|True|"
    r"False)\b|<class|object at 0x|\{'|\['|\('|__"
)
_NO_CHOICE = re.compile(
    r"[:,]? \.(?=\s|$)|[:,]\.(?=\s|$)|\b(?:or|and|write|takes|an|the) ?\.(?=\s|$)|\(\)|,,|: [,;]|\bor or\b"
)
_PRINT = re.compile(r"fingerprint [0-9a-f]{8}")
_QUOTED = re.compile(r'"(?:[^"]|"(?=\S*"))*?"(?=[\s.,:;)]|$)')
LONGEST = 700
"""No sentence is longer."""


def faulty(fault: Fault, text: str) -> Iterator[str]:
    """What is wrong with one fault of the job in `text`."""
    if fault.file is None or fault.line is None:
        yield f"no line: {fault}"
    elif not 1 <= fault.line <= len(re.split("\r\n|[\n\r\x85\u2028\u2029]", text)):
        yield f"a line that is none: {fault}"
    if not fault.sentence.endswith((".", "?")):
        yield f"no full stop: {fault}"
    yield from (f"{what}: {fault}" for said in (fault.sentence, fault.about) for what in unsaid(said, text))


def unsaid(sentence: str, text: str) -> Iterator[str]:
    """What no sentence may have in it, where it does not stand in `text`, which the user wrote."""
    sentence = _PRINT.sub("", sentence)
    for what, words in (("no figure", _NO_FIGURE), ("a word of ours", _CLASS)):
        for found in words.finditer(sentence):
            if found[0] not in text:
                yield what
                break
    bare = _QUOTED.sub('""', sentence)
    for found in _NO_CHOICE.finditer(bare):
        # A name of the user's own may end as half a sentence does: "C:".
        before = bare[: found.end()].rstrip(".").split()
        if not before or found[0][0] not in ":," or before[-1] not in text:
            yield "an empty place"
            break
    if re.search(r"\S  +\S", bare):
        yield "two blanks"
    if not sentence.isprintable():
        yield "a character that cannot be printed"
    if len(sentence) > LONGEST:
        yield "longer than anyone reads"
