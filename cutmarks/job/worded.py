"""Rows of words with figures in them: how a part of a sentence that places nothing is told by what it says.

    ("play", "#", "cut|leave|allow? # clear? all round")      "leave 3 all round" -> play: 3

A row's words stand as `cutmarks.job.tokens` spells them, marks left out: `|` between words that mean the same, `_` in
one of several words, `?` behind what may be left out, `#` for one figure, `##` for one or two with x between, `...` for
any words with no figure. A row holds for a whole part, so that no word of it is passed over.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

from msgspec import Struct

from cutmarks.job.parting import Dealt
from cutmarks.job.tokens import tokens
from cutmarks.job.vocabulary import MARKS
from cutmarks.job.words import Setting
from cutmarks.patterns import late

_QUOTES = frozenset("'\u2019\u2018`")
_FIGURES = {"#": r"# ", "##": r"# (?:(?:x|by) # )?", "...": r"(?:[^\W\d_]+ )+?"}


class Worded(Struct, frozen=True):
    """A row: the key that it says, its value ("#" a figure, "##" one or two, "" the part as typed), its words."""

    key: str
    value: str
    words: re.Pattern[str]


def rows_of(*rows: tuple[str, str, str]) -> tuple[Worded, ...]:
    """Rows as they stand in a table, ready to be looked through in their order."""
    return tuple(Worded(key, value, late(_pattern(words))) for key, value, words in rows)


def _pattern(words: str) -> str:
    return "".join(_element(element) for element in words.split()) + "$"


def _element(element: str) -> str:
    may_lack = element.endswith("?")
    own = element.removesuffix("?")
    if own in _FIGURES:
        one = f"(?:{_FIGURES[own]})"
    else:
        one = f"(?:{'|'.join(re.escape(word).replace('_', ' ') for word in own.split('|'))}) "
    return f"(?:{one})?" if may_lack else one


def in_words(part: str, setting: Setting) -> tuple[str, tuple[str, ...]]:
    """A part with # in place of each figure, and the figures as typed; "" where a figure of it is at fault."""
    try:
        parts = tokens(part, setting)
    except ValueError:
        return "", ()
    words: list[str] = []
    figures: list[str] = []
    for token in parts:
        if token.kind == "figure":
            words.append("#" if token.second is None else "#-#")
            figures.append(token.word)
        elif token.kind != "mark" or token.word not in MARKS | _QUOTES:
            words.append("@" if token.kind in ("name", "piece") else token.word)
    return "".join(f"{word} " for word in words), tuple(figures)


def worded(part: str, rows: Iterable[Worded], setting: Setting) -> Dealt | None:
    """The key and the value of the first row that a part is one of; None where it is none."""
    words, figures = in_words(part, setting)
    if not words:
        return None
    for row in rows:
        if row.words.match(words):
            value = row.value.replace("##", " x ".join(figures))
            return row.key, (value.replace("#", figures[0]) if figures else value) or part
    return None
