"""A phrase taken apart into figures, words, names and marks: the one tokeniser of all phrase grammars.

    "btm of box 4 1/2 off ctop"  -> bottom | of | box | 4 1/2 | off | worktop
    "69 to 84 right of splash 3-6" -> 69 to 84 | right | of | splash 3-6

Words come out in small letters and spelt in full, so that a grammar knows one word for one thing: RH, r/h and
right hand are "right", c/l, ctr and middle are "centre". Figures come out with their unit, two that belong together
("67 to 83", "8 1/16-8 11/16 in") as one token. Names are those of the surface: its lines, holes and points, and
pieces by area, course and number.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import lru_cache
from typing import Literal

from msgspec import Struct

from cutmarks.job.words import Setting, found, spaced
from cutmarks.patterns import late
from cutmarks.units import Length, match_range

Kind = Literal["figure", "word", "name", "piece", "mark"]

TEXTS_KEPT = 8192
LONGEST = 400
"""No phrase has more characters."""
_SPELT: Mapping[str, tuple[str, ...]] = {
    "centre": (
        "c/l", "c.l.", "cl", "ctr", "cntr", "center", "middle", "mid", "centre line", "center line", "centreline",
        "centerline", "centred", "centered", "central",
    ),
    "centres": (
        "c to c", "c-c", "c/c", "o.c.", "o.c", "oc", "o/c", "crs", "ctrs", "centers",
        "on centres", "on centers", "centre to centre", "center to center",
    ),
    "underside": ("u/s", "under side"),
    "bottom": ("btm", "bott", "bot", "bttm"),
    "left": ("lh", "lt", "l/h", "l", "left hand", "left-hand"),
    "right": ("rh", "rt", "r/h", "r", "right hand", "right-hand"),
    "worktop": (
        "w/top", "work top", "wtop", "countertop", "counter", "ctop", "counter top", "c/top", "worksurface",
        "work surface",
    ),
    "ceiling": ("clg", "ceil"),
    "finished floor": (
        "finished floor", "ffl", "aff", "affl", "f.f.l.", "fin floor", "finished floor level", "finish floor",
        "above ffl", "above aff", "above finished floor", "above finished floor level", "above the finished floor",
        "off ffl", "off finished floor",
    ),
    "with": ("w/",),
    "through": ("thro", "thru", "thro'"),
    "above": ("abv",),
    "below": ("blw",),
    "and": ("&",),
    "edge": ("edges",),
    "two": ("both", "pair", "pr", "2 off"),
    "box": ("boxes",),
    "pipe": ("pipes",),
    "round": ("rnd",),
}  # fmt: skip
_ALIKE = {typed: word for word, spelt in _SPELT.items() for typed in spelt}
_ONE_LETTER = ("l", "r")
"""Abbreviations that may also be a line's name; the name goes before."""
_ALIAS = late(
    "|".join(re.escape(typed).replace(r"\ ", r"\s+") for typed in sorted(_ALIKE, key=len, reverse=True)), re.IGNORECASE
)
_WORD = late(r"[^\W\d_]+")
_POSSESSIVE = late(r"['\u2019](?:s|re)\b", re.IGNORECASE)
_ORDINAL = late(r"[0-9]{1,2}(?:st|nd|rd|th)\b", re.IGNORECASE)
_SIGNED = late(r"[-\u2010-\u2014\u2212+](?:\.?[0-9]|[½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞])", needs=("-", "+"))
_NUMBER_BEGINS = late(r"\.?[0-9]|[½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞]")
_END_OF_WORD = late(r"\S(?=[^\w]|$)|\w(?=[^\w]|$)")
MOST_WORDS_IN_A_NAME = 12
_ID = r"[UD]?[0-9]+-[RL]?[0-9]+[a-z]?(?![\w-]|[./\u2044\u2215][0-9])"
"""Course and number; "plate 2-3/4" is a length behind a word, and no piece 2-3."""
_COURSE_AND_NUMBER = late(rf" {_ID}", re.IGNORECASE)
_PIECE = late(rf"[^\W\d_]\S*(?: (?!(?:of|the|edge)\b)\S+){{0,4}}? {_ID}", re.IGNORECASE, ("-",))
_NOT_AN_AREA = frozenset({"up", "down", "left", "right", "above", "below", "over", "under", "from", "off", "in", "at"})
"""No area is called so: "up from B 212-228" is a distance."""
_NAMES_FOLLOW = frozenset({
    "of", "from", "above", "below", "over", "under", "on", "off", "with", "to", "against", "past", "beyond", "before",
    "line", "point", "the", "tile", "piece", "than", "as", "at", "through", "straddles", "straddling", "kissing",
    "touching",
})  # fmt: skip
"""Behind these a name of the surface is looked for first, whatever else its letters mean."""


class Token(Struct, frozen=True):
    """One part of a phrase.

    word     of a word in small letters, spelt in full; of a name as the surface spells it; of a mark the mark.
    first, second  the lengths of a figure; second None where one stands alone.
    start, end  where it stands in the phrase.
    """

    kind: Kind
    word: str
    start: int
    end: int
    first: Length | None = None
    second: Length | None = None


@lru_cache(maxsize=TEXTS_KEPT)
def tokens(phrase: str, setting: Setting) -> tuple[Token, ...]:
    """The parts of a phrase, in their order. Raises ValueError: a figure is at fault, or it is no phrase but a text."""
    if len(phrase) > LONGEST:
        raise ValueError(f"{found(phrase)} is {len(phrase)} characters long: write at most {LONGEST}.")
    parts: list[Token] = []
    at = 0
    while at < len(phrase):
        if phrase[at].isspace():
            at += 1
            continue
        parts.append(_next(phrase, at, parts[-1] if parts else None, setting))
        at = parts[-1].end
    return tuple(parts)


@lru_cache(maxsize=TEXTS_KEPT)
def plain_words(text: str) -> tuple[str, ...]:
    """The words of a text spelt in full, figures and marks left out: how what a thing is called is compared."""
    plain = _POSSESSIVE.sub("", _without_figures(text[:LONGEST]))
    return tuple(token.word for token in tokens(plain, Setting(lines={})) if token.kind == "word")


def _without_figures(text: str) -> str:
    return re.sub(r"[^\s]*[0-9½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞][^\s]*", " ", text)


def _next(phrase: str, at: int, before: Token | None, setting: Setting) -> Token:
    """The token that begins at `at`, where no blank stands."""
    begins_word = at == 0 or not phrase[at - 1].isalnum()
    spelt = _ALIAS.match(phrase, at) if begins_word else None
    if spelt is not None and phrase[spelt.end() : spelt.end() + 1].isalnum():
        spelt = None
    name = _name_at(phrase, at, before, setting) if begins_word else None
    if name is not None and (spelt is None or spelt.end() <= name.end):
        return name
    follows = before is None or (before.kind == "word" and before.word in _NAMES_FOLLOW)
    if begins_word and follows and (piece := _piece_at(phrase, at, setting)):
        return Token("piece", piece, at, at + len(piece))
    if spelt is not None:
        return _spelt(spelt, at)
    if _SIGNED.match(phrase, at) and (at == 0 or phrase[at - 1].isspace()):
        match_range(phrase[at:], setting.unit)  # a length has no sign, which has its own sentence
    if begins_word and (match := _ORDINAL.match(phrase, at)):
        return Token("word", match[0].lower(), at, match.end())
    if (begins_word or not phrase[at - 1].isdigit()) and _NUMBER_BEGINS.match(phrase, at):
        spans = match_range(phrase[at:], setting.unit)
        if spans is not None:
            first, second, tail = spans
            end = len(phrase.rstrip()) - len(tail)
            return Token("figure", phrase[at:end].strip(), at, end, first, second)
    if match := _POSSESSIVE.match(phrase, at):
        return Token("word", "is", at, match.end())
    # Behind a figure letters may stand with no blank between: 22L, 15s, 4x10.
    if match := _WORD.match(phrase, at):
        glued = _ALIKE.get(match[0].lower()) if match[0].lower() in _ONE_LETTER else None
        return Token("word", glued or match[0].lower(), at, match.end())
    return Token("mark", phrase[at], at, at + 1)


def _piece_at(phrase: str, at: int, setting: Setting) -> str:
    """A piece's name, an area of this surface or a few words with course and number; "" where none stands here."""
    for area in (setting.areas or {}).values():
        if phrase[at : at + len(area)].casefold() == area.casefold():
            match = _COURSE_AND_NUMBER.match(phrase, at + len(area))
            if match is not None:
                return phrase[at : match.end()]
    match = _PIECE.match(phrase, at)
    return "" if match is None or match[0].partition(" ")[0].casefold() in _NOT_AN_AREA else match[0]


def _spelt(match: re.Match[str], at: int) -> Token:
    typed = re.sub(r"\s+", " ", match[0].lower())
    return Token("word", _ALIKE[typed], at, match.end())


def _name_at(phrase: str, at: int, before: Token | None, setting: Setting) -> Token | None:
    """A line, hole or point of the surface whose name stands here; the longest.

    A name is taken for one, in any letters, where a word such as "of" stands before it or where the phrase begins with
    it and it is a line; else only as it is spelt, and only where its letters are no word of their own.
    """
    expected = before is None or (before.kind == "word" and before.word in _NAMES_FOLLOW)
    spelt_so = (*(setting.lines or ()), *(setting.points or {}).values())
    if not expected and not any(name.startswith(phrase[at]) for name in spelt_so):
        return None
    for end in _ends_of_words(phrase, at):
        typed = phrase[at:end]
        name, is_hole = _named(typed, setting)
        # A hole's name is a word of the trade, hot or spout: it is one only where a name is looked for.
        if name and (
            (expected and not (is_hole and before is None)) or (typed == name and not is_hole and name != "a")
        ):
            return Token("name", name, at, end)
    return None


def _ends_of_words(phrase: str, at: int) -> list[int]:
    """Where a name that begins at `at` may end, the longest first."""
    ends = [match.end() + at for match in _END_OF_WORD.finditer(phrase[at:])]
    return ends[:MOST_WORDS_IN_A_NAME][::-1]


def _named(typed: str, setting: Setting) -> tuple[str, bool]:
    """The line, point or hole of that name, and whether it is a hole."""
    fold = spaced(typed).casefold()
    if (line := next((line for line in setting.lines or {} if line.casefold() == fold), "")) or not fold:
        return line, False
    if point := (setting.points or {}).get(fold, ""):
        return point, False
    return (setting.holes or {}).get(fold, ""), True
