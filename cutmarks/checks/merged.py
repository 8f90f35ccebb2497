"""The same sentence about several things, said once: the first as it is, the others named behind it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable

from msgspec.structs import replace

from cutmarks.checks.model import Finding
from cutmarks.checks.pieces import listed

NAMED = "\0"
"""What stands for a name while sentences are compared."""
MOST_NAMED = 12
"""So many others are named behind a sentence, and the rest is counted."""


def said_once(found: Iterable[Finding], pieces: Collection[str]) -> list[Finding]:
    """The findings, those that differ in nothing but in what they are about as one, in the order of the first.

    `pieces` are the names of all pieces: what is said of a hole in a piece is named so.
    """
    alike: dict[tuple[object, ...], list[Finding]] = defaultdict(list)
    for one in found:
        key = one.level, one.rule, _unnamed(one), one.limit, one.source, one.holds
        alike[key].append(one)
    return [_as_one(same, pieces) for same in alike.values()]


def _unnamed(one: Finding) -> str:
    """The sentence without the names of what it is about."""
    text = one.text
    for name in sorted(set(one.about), key=len, reverse=True):
        text = _without(text, name)
    return text


def _without(text: str, name: str) -> str:
    """The text with `NAMED` wherever the name stands as a word of its own; not by a pattern, each made for one name."""
    parts, begun, at = [], 0, text.find(name)
    while at >= 0 and name:
        end = at + len(name)
        if _in_word(text[at - 1 : at]) or _in_word(text[end : end + 1]):
            at = text.find(name, at + 1)
            continue
        parts += [text[begun:at], NAMED]
        begun, at = end, text.find(name, end)
    return "".join([*parts, text[begun:]])


def _in_word(letter: str) -> bool:
    return letter.isalnum() or letter == "_"


def _as_one(same: list[Finding], pieces: Collection[str]) -> Finding:
    first = same[0]
    about = tuple(dict.fromkeys(name for one in same for name in one.about))
    others = list(dict.fromkeys(_named(one, pieces) for one in same[1:]))
    if not others or about == first.about:
        return first
    return replace(first, about=about, text=f"{first.text} The same of {listed(others, MOST_NAMED)}.")


def _named(one: Finding, pieces: Collection[str]) -> str:
    """What a finding is about, in words: "hot in splash 3-4", "hot and cold"."""
    things = [name for name in one.about if name not in pieces]
    places = [name for name in one.about if name in pieces]
    if things and places:
        return f"{' and '.join(things)} in {listed(places)}"
    return " and ".join(things or places)
