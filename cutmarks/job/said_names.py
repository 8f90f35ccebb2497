"""What a thing is called that a sentence begins with: "hot 15 copper, ...", "tap 2", "22 cu towel rail flow"."""

from __future__ import annotations

import re
from collections.abc import Sequence

from cutmarks.job.catalogued import called_after, is_called_by_size, is_known, singular
from cutmarks.job.grammar import parse_thing
from cutmarks.job.holes import HoleSpec
from cutmarks.job.parting import HAS_FIGURE, is_in_a_number, is_length, keyed, parts_of
from cutmarks.job.said_places import both_ways, says_where, ways_read
from cutmarks.job.said_words import (
    CARRIES,
    COVER_NAMES,
    HOW_IT_STANDS,
    NAMES_SPELT,
    NOT_OF_A_THING,
    OF_A_PLACE,
    PAIRED,
    SAID_OF_A_HOLE,
    UPWARD,
)
from cutmarks.job.tokens import plain_words
from cutmarks.job.vocabulary import SIDES
from cutmarks.job.worded import worded
from cutmarks.job.words import Setting, found, spaced
from cutmarks.patterns import late

MOST_WORDS_NAMED = 4
"""A name that no comma ends has no more words."""
MOST_DIGITS_NAMED = 2
"""A figure that numbers things has no more digits."""
_NUMBERED = late(r"[^\W\d_]{0,3}-?[0-9]{1,2}[a-z]?$", re.IGNORECASE)
_ORDINAL = late(r"[0-9]{1,2}(?:st|nd|rd|th)$", re.IGNORECASE)
_SPELT = late(
    rf"(?<!\w)(?:{'|'.join(re.escape(word) for word in sorted(NAMES_SPELT, key=len, reverse=True))})(?!\w)",
    re.IGNORECASE,
)
_STROKE = late(r"(?<![\w/])(?:[^\W\d_]{1,2}/[^\W\d_]+|[^\W\d_]+/[^\W\d_]{1,2})(?![\w/])")
_POSSESSIVE = late(r"['\u2019]s$")


def named_first(parts: Sequence[str], setting: Setting) -> tuple[str, list[str]]:
    """The name that a sentence begins with, and its other parts.

    What is no name but a thing of the catalogue stands for both. Raises ValueError: it begins with none.
    """
    first, *rest = parts
    given = keyed(HoleSpec)(first)
    if given is not None and given[0] == "name":
        return given[1], rest
    if first in ("", "?"):
        raise ValueError(
            f"{found(first)} is no name: begin with what it is called; where there is no more, Enter alone."
        )
    if given is not None:
        raise ValueError(f"{found(first)} stands where the name should: begin with what it is called and a comma.")
    may_place = HAS_FIGURE.search(first) or not (OF_A_PLACE | HOW_IT_STANDS).isdisjoint(plain_words(first))
    if may_place and (says_where(first, setting) or ways_read(parse_thing, first, setting)):
        raise ValueError(
            f"{found(first)} stands where the name should, and says where it is: begin with what it is called and a "
            "comma, as in hot, 67 to 83 left of V."
        )
    return first, rest


def name_cut_off(sentence: str, setting: Setting) -> tuple[str, list[str]]:
    """The name that a sentence begins with where no comma ends it: "hot 15 copper, 67 to 83 left of V"."""
    name, parts = _cut_off(sentence, setting)
    return without_strokes(name), parts


def without_strokes(name: str) -> str:
    """A name with what is shortened by a stroke in it spelt in full, or with a hyphen: "w/mach hot"."""
    spelt = _SPELT.sub(lambda match: NAMES_SPELT[match[0].lower()], name)
    return _STROKE.sub(lambda match: match[0] if match[0].lower() in PAIRED else match[0].replace("/", "-"), spelt)


def _cut_off(sentence: str, setting: Setting) -> tuple[str, list[str]]:
    parts = parts_of(sentence)
    first = parts[0]
    name, colon, more = first.partition(":")
    before = name.split()
    is_numbered = len(before) > 1 and _is_numbered(before, len(before) - 1)
    is_sized = "/" in name and HAS_FIGURE.search(name) is not None
    if (
        colon
        and not is_sized
        and keyed(HoleSpec)(first) is None
        and before
        and _is_a_name(before[: len(before) - is_numbered])
    ):
        return name.strip(), [spaced(more), *parts[1:]] if more.strip() else parts[1:]
    if colon and more.strip() and is_sized and keyed(HoleSpec)(first) is None:
        # A part of an inch is of its size, and no name: "drain 1-1/2 pvc: 4 3/4 to 6 5/8 right of V".
        first = name.strip()
        parts = [first, spaced(more), *parts[1:]]
    words = first.split(" ")
    words[0] = _POSSESSIVE.sub("", words[0])
    count = 0
    while count < min(len(words), MOST_WORDS_NAMED) and not HAS_FIGURE.search(words[count]):
        count += 1
    while count and not _is_a_name(words[:count]):
        count -= 1
    if count and (_is_of_a_hand(words[count:], setting) or _is_its_number(words[count:], setting)):
        count += 1
    behind = " ".join(words[count:])
    goes_on = HAS_FIGURE.search(first) or both_ways(parse_thing, setting).read(behind) is not None
    if count and behind and goes_on and not _is_numbered_name(words, setting):
        return " ".join(words[:count]), [behind, *parts[1:]]
    if is_known(first, setting) and not count:
        return called_after(first), parts
    if (sized := _behind_its_size(words, setting)) is not None:
        return sized[0], [sized[1], *parts[1:]]
    if HAS_FIGURE.search(first) and not _is_numbered_name(words, setting) and not first.casefold().startswith("name"):
        raise ValueError(
            f"{found(first)} stands where the name should: begin with what it is called and a comma, as in hot, 67 to "
            "83 left of V."
        )
    return named_first(parts, setting)


def _is_its_number(words: Sequence[str], setting: Setting) -> bool:
    """Whether a number ends the name, and what the thing is follows: "tap 2 22 cu"."""
    is_number = len(words) > 1 and words[0].isdigit() and len(words[0]) <= MOST_DIGITS_NAMED
    behind = " ".join(words[1:]).removeprefix("on ")
    return (
        is_number
        and not is_in_a_number(words, 1)
        and HAS_FIGURE.match(behind) is not None
        and is_called_by_size(behind, setting)
    )


def _is_of_a_hand(words: Sequence[str], setting: Setting) -> bool:
    """Whether a hand ends the name, and what the thing is follows: "rad tail L/H 15 cu"."""
    if not words or plain_words(words[0]) not in (("left",), ("right",)):
        return False
    behind = " ".join(words[1:]).removeprefix("on ")
    return is_known(behind, setting) or (HAS_FIGURE.match(behind) is not None and is_called_by_size(behind, setting))


def _behind_its_size(words: Sequence[str], setting: Setting) -> tuple[str, str] | None:
    """The name that stands behind what it is, and that: "22 cu towel rail flow"; None where it does not.

    The size has its kind or its unit with it; the longest such is what it is.
    """
    for end in range(len(words) - 1, 0, -1):
        size, called = " ".join(words[:end]), _without_to(words[end:])
        if any(HAS_FIGURE.search(word) for word in called) or not HAS_FIGURE.match(size):
            continue
        is_what = is_known(size, setting) or (size[-1:].isalpha() and is_length(size, setting))
        if is_what and len(called) <= MOST_WORDS_NAMED and _names_a_thing(called):
            return " ".join(called), size
    return None


def _without_to(words: Sequence[str]) -> Sequence[str]:
    """What a pipe goes to, without the words that say so: "to the bidet"."""
    if words and words[0].casefold() in ("to", "for"):
        words = words[1:]
        if words and words[0].casefold() in ("the", "a", "an"):
            words = words[1:]
    return words


def _is_a_name(words: Sequence[str]) -> bool:
    """Whether words with no figure can be what a thing is called: not where it is, or which part of it."""
    said = plain_words(" ".join(words))
    if len(said) > 1 and said[-1] == "line" and said[-2] in CARRIES:
        return True  # a gas line is a pipe
    return (
        bool(said)
        and said[-1] not in OF_A_PLACE | HOW_IT_STANDS
        and NOT_OF_A_THING.isdisjoint(said)
        and said[0] not in (*SIDES, "centre")
    )


def _names_a_thing(words: Sequence[str]) -> bool:
    """Whether words behind a size are what a thing is called, and say nothing of where it lies or what hides it."""
    said = plain_words(" ".join(words))
    covers = {singular(word) for word in said} & (COVER_NAMES | {"flange"})
    return _is_a_name(words) and not covers and (OF_A_PLACE | HOW_IT_STANDS | UPWARD).isdisjoint(said)


def _is_numbered_name(words: Sequence[str], setting: Setting) -> bool:
    """Whether a part that a comma ends is a name with a number in it: "tap 2", "P12", "pipe 3b"."""
    plain = [word for word in words if not HAS_FIGURE.search(word)]
    numbers = [word for word in words if HAS_FIGURE.search(word)]
    is_one = len(numbers) == 1 and _NUMBERED.match(numbers[0]) is not None and len(words) <= MOST_WORDS_NAMED
    if is_one and is_called_by_size(" ".join(words[words.index(numbers[0]) :]), setting) and words[-1] != numbers[0]:
        return False  # "stopcock 22 mm pipe": it ends with what it is
    if is_one and worded(" ".join(words[words.index(numbers[0]) :]), SAID_OF_A_HOLE, setting) is not None:
        return False  # "trap 90 hole"
    said = set(plain_words(" ".join(plain)))
    begins_with_letters = words[0][:1].isalpha() or _ORDINAL.match(words[0]) is not None
    return is_one and begins_with_letters and not said & OF_A_PLACE and NOT_OF_A_THING.isdisjoint(said)


def _is_numbered(words: Sequence[str], count: int) -> bool:
    """Whether the figure behind the words is the last thing said, and so belongs to the name: "tap 2"."""
    return 0 < count == len(words) - 1 and words[count].isdigit() and len(words[count]) <= MOST_DIGITS_NAMED
