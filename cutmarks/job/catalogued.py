"""What a part of a sentence says that a thing is: one of the catalogue, or words of the trade."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache, lru_cache

from cutmarks.fittings import find
from cutmarks.fittings.phrase import plain_words as phrase_words
from cutmarks.fittings.phrase import take_apart
from cutmarks.fittings.rows import families
from cutmarks.fittings.shape_words import BOX_WORDS, MAYBE_BOX_WORDS, ROUND_WORDS
from cutmarks.job.fields import parse_name
from cutmarks.job.grammar import parse_thing
from cutmarks.job.parting import HAS_FIGURE, Dealt, takes
from cutmarks.job.said_places import ways_read
from cutmarks.job.said_words import CALLED, CARRIES, COVER_NAMES, DUCTS, NOT_OF_A_THING, SIZE_WORDS, THROUGH, UPWARD
from cutmarks.job.tokens import TEXTS_KEPT, Token, plain_words, tokens
from cutmarks.job.vocabulary import LEANS, MATERIALS, THINGS
from cutmarks.job.words import Setting

_OF_A_SIDE = ("wide", "high", "tall", "long", "deep")
"""Behind a figure these say that it is one side of a thing."""


def what_in(part: str, setting: Setting) -> Dealt | None:
    """What it is: one of the catalogue, or words of the trade with no place in them."""
    part = THROUGH.sub("", part)
    if part == "?" or is_known(part, setting):
        return "what", part
    if HAS_FIGURE.search(part) or ways_read(parse_thing, part, setting):
        return None
    said = set(plain_words(part))
    place = said & ({"left", "right", "with", "on"} | UPWARD)
    is_of_the_trade = any(singular(word) in trade_words() for word in said)
    return ("what", part) if is_of_the_trade and not place and NOT_OF_A_THING.isdisjoint(said) else None


@lru_cache(maxsize=TEXTS_KEPT)
def is_known(part: str, setting: Setting) -> bool:
    """Whether the catalogue knows it by more than a bare figure."""
    parts = parts_read(part, setting)
    said = {token.word for token in parts if token.kind == "word"} or set(plain_words(part))
    if any(token.kind in ("name", "piece") for token in parts):
        return False
    if not said or said & ({"left", "right", "centre", "underside", "on", "from"} | UPWARD | LEANS.keys()):
        return False
    try:
        plain = f" {phrase_words(part)} "
        own = [row for row in setting.own_fittings or () if f" {row.names[0].text} " in plain]
        odd = {singular(word) for word in take_apart(part, setting.unit).unknown if word.isalpha()}
        known = own or odd <= trade_words() | SIZE_WORDS
        return bool(known) and find(part, setting.say, setting.unit, setting.own_fittings or ()) is not None
    except ValueError:
        return False


def is_called_by_size(part: str, setting: Setting) -> bool:
    """Whether a part is one size with words for a pipe, which size that is by name being open: "3in toilet pipe"."""
    said = {singular(word) for word in plain_words(part)}
    if said & (
        {"left", "right", "centre", "underside", "from", "to", *COVER_NAMES, "flange", "gang", "way", *_OF_A_SIDE}
        | UPWARD
        | LEANS.keys()
    ):
        return False
    try:
        asked = take_apart(part, setting.unit)
    except ValueError:
        return False
    odd = {singular(word) for word in asked.unknown}
    return bool(asked.size) and asked.other_mm is None and odd <= trade_words() | SIZE_WORDS | CARRIES


def parts_read(part: str, setting: Setting) -> Sequence[Token]:
    """The parts of a phrase; none where a figure of it is at fault, as 1/2 is where lengths are mm."""
    try:
        return tokens(part, setting)
    except ValueError:
        return ()


def called_after(what: str) -> str:
    """What a thing is called that is said to be this, and nothing else."""
    if takes(lambda: parse_name(what)):
        return what
    return " ".join(word for word in what.split(" ") if not HAS_FIGURE.search(word))


def is_round(name: str) -> bool:
    """Whether what is called so is round: a pipe by what it carries, or by what it is."""
    said = {singular(word) for word in plain_words(name)}
    return bool(said & (ROUND_WORDS | CALLED | DUCTS)) and BOX_WORDS.isdisjoint(said)


def is_of_a_shape(name: str) -> bool:
    """Whether a name says what a thing is, so that it is known for a box or for round: "socket box", "basin waste"."""
    return any(singular(word) in BOX_WORDS | ROUND_WORDS for word in plain_words(name))


@cache
def trade_words() -> frozenset[str]:
    """Words for things that come through a tile, one of each."""
    named = {word for family in families() for words in family.words for word in words.split()}
    named |= {
        word
        for family in families()
        for row in family.rows
        for name in row.names
        if name.unit == "words"
        for word in name.text.split()
    }
    words = named | THINGS | MATERIALS | BOX_WORDS | ROUND_WORDS | MAYBE_BOX_WORDS
    return frozenset(singular(word) for word in words if word.isalpha()) - {
        "it",
        "thing",
        "hole",
        "back",
        "new",
        "old",
    }


def singular(word: str) -> str:
    """The word for one of several."""
    return word.removesuffix("es") if word.endswith(("boxes", "switches")) else word.removesuffix("s")
