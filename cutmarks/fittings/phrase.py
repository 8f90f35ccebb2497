"""A phrase for a fitting, taken apart: its size, the words that are left, and whose sizes it names."""

from __future__ import annotations

import re
from typing import Literal

from msgspec import Struct

from cutmarks.fittings.model import System
from cutmarks.patterns import late
from cutmarks.units import UNIT_WORDS, Length, Unit, match_length

SizeUnit = Literal["mm", "in", "DN"]

# A sign in front, with nothing before it that it could join, is taken along: it gets its own sentence.
_FIRST_FIGURE = late(r"(?:(?<!\S)[-\u2212+])?(?:\.?[0-9]|[½⅓⅔¼¾⅛⅜⅝⅞])")
_DN = late(r"\bdn\s*([0-9]+)\b", re.IGNORECASE)
_BY = late(r"\s*(?:[x×]|by\b)\s*(?=[.0-9½⅓⅔¼¾⅛⅜⅝⅞])", re.IGNORECASE)
_SYSTEMS: dict[str, System] = {
    "uk": "uk", "british": "uk", "eu": "eu", "european": "eu", "us": "us", "american": "us", "au": "au",
    "australian": "au", "italian": "it",
}  # fmt: skip
# Words that may stand in a name without changing what is meant.
_FILLERS = frozenset({"socket", "switch", "metal", "back", "wall", "the", "a", "of", "for"})
_PLAIN_ROUND = frozenset({
    "pipe", "tube", "od", "outside", "diameter", "dia", "round", "x", "plastic", "tail", "tails", "stub", "stubs",
    "capped", "blanked", "os",
})  # fmt: skip
_NUMBER = r"[.0-9½⅓⅔¼¾⅛⅜⅝⅞](?:[ 0-9./½⅓⅔¼¾⅛⅜⅝⅞]*[0-9½⅓⅔¼¾⅛⅜⅝⅞])?"
_WIDE_AND_HIGH = late(
    rf"(?P<wide>{_NUMBER})\s*(?:w|wide)\b[\s,x×]*(?P<high>{_NUMBER})\s*(?:h|high|tall)\b", re.IGNORECASE, ("h", "tall")
)
_HIGH_AND_WIDE = late(
    rf"(?P<high>{_NUMBER})\s*(?:h|high|tall)\b[\s,x×]*(?P<wide>{_NUMBER})\s*(?:w|wide)\b", re.IGNORECASE, ("h", "tall")
)
_GANGS = late(r"\b[1-4]\s*-?\s*gang\b(?=.*[0-9])", re.IGNORECASE)
MOST_SAID = 60
"""So many characters of a phrase are shown in a sentence."""


def shown(value: object) -> str:
    """What was written, as a sentence shows it: its beginning where it is long."""
    text = str(value)
    return text if len(text) <= MOST_SAID else f"{text[:MOST_SAID]}..."


class Asked(Struct, frozen=True):
    """A phrase taken apart.

    text    as written; plain: its words and figures in lower case, one blank between, fillers left out.
    size    the size as written; number: in mm whatever it was written in, of a DN the DN; unit: None where no size is
            named, "mm" for all metric; stated: whether the phrase itself says the unit.
    other_mm  what stands behind the size and an x.
    unknown   the words and figures besides size, unit and system, where no family owns them.
    """

    text: str
    plain: str
    size: str = ""
    number: float = 0.0
    unit: SizeUnit | None = None
    stated: bool = False
    other_mm: float | None = None
    system: System = ""
    unknown: tuple[str, ...] = ()

    @property
    def said(self) -> str:
        """The phrase as a sentence shows it: its beginning where it is long."""
        return shown(self.text)

    def has(self, words: str) -> bool:
        """Whether these words stand in the phrase, whole and one after the other."""
        return f" {words} " in f" {self.plain} "


def take_apart(what: str, default: Unit) -> Asked:
    """Take a phrase apart; raises ValueError where its figures are no size or are more than one."""
    plain = plain_words(what)
    words = plain.split()
    systems = [_SYSTEMS[word] for word in words if word in _SYSTEMS]
    system: System = systems[0] if systems else ""
    if dn := _DN.search(what):
        beside = _words_left(f"{what[: dn.start()]} {what[dn.end() :]}")
        return Asked(what, plain, dn[0], float(dn[1]), "DN", True, None, system, beside)
    what = _WIDE_AND_HIGH.sub(r"\g<wide> x \g<high>", _HIGH_AND_WIDE.sub(r"\g<wide> x \g<high>", what))
    # "2-gang, 4 wide 3 3/4 tall": how many gangs is no size where a size is said.
    what = _GANGS.sub(" gang ", what)
    first = _FIRST_FIGURE.search(what)
    if first is None:
        return Asked(what, plain, system=system)
    head, body = what[: first.start()], what[first.start() :]
    length, rest = _size(body, default)
    other_mm = None
    if by := _BY.match(rest):
        other, rest = _size(rest[by.end() :], length.unit if length.stated else default)
        if other.stated and not length.stated:
            length, _ = _size(body, other.unit)
        other_mm = other.mm
    unit: SizeUnit = "in" if length.unit.is_imperial else "mm"
    left = _words_left(f"{head} {rest}")
    return Asked(what, plain, length.text, length.mm, unit, length.stated, other_mm, system, left)


def _size(text: str, default: Unit) -> tuple[Length, str]:
    """The size at the beginning of the text. Trade sizes are mm or inches; a fraction alone is inches in any job."""
    trade = Unit.INCH if default.is_imperial else Unit.MM
    found = match_length(text, Unit.INCH)
    if found is None:
        raise ValueError(f'"{text}" begins with no size: write a number such as 15 or 1/2 in.')
    fraction = not found[0].text.replace(".", "").isdigit()
    if found[0].stated or fraction or trade is Unit.INCH:
        return found
    return match_length(text, trade) or found


def plain_words(text: str) -> str:
    """The words of a phrase as they are compared: lower case, figures and letters parted by a blank, no fillers."""
    words = re.findall(r"[0-9]+|[^\W\d_]+", text.lower())
    return " ".join(word for word in words if word not in _FILLERS)


def _words_left(text: str) -> tuple[str, ...]:
    known = _PLAIN_ROUND | _SYSTEMS.keys() | UNIT_WORDS.keys()
    return tuple(word for word in plain_words(text).split() if word not in known)
