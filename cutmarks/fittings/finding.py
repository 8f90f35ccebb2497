"""From what a tiler says ("15 copper", "1/2 PEX", "2 gang plate") to a fitting of the catalogue.

A phrase is taken apart into a size and words (`cutmarks.fittings.phrase`); the words name the family, and the size its
row. The same name can stand for several pipes: the job's own system (uk, us) decides first, then words such as
"push-fit"; what is still open comes back as `choices`, never as a guess. Every fault is a ValueError of one sentence.
"""

from __future__ import annotations

import difflib
from collections.abc import Sequence
from functools import lru_cache
from typing import Literal

from msgspec.structs import replace

from cutmarks.fittings.model import Fitting, FittingChoice, System
from cutmarks.fittings.phrase import Asked, plain_words, take_apart
from cutmarks.fittings.rows import Family, FittingName, FittingRow, families
from cutmarks.fittings.shape_words import BOX_WORDS
from cutmarks.units import MM_PER, Unit, parse_length

SAME_OD = 0.5
"""A size alone is taken as the diameter where every pipe of that name measures so within this, mm."""
BIGGEST_INCH_PIPE = 12 * 25.4
"""A whole number above 12 in, with a kind but no unit, is a size in mm."""
THICKEST_WALL = 10.0
"""In "16 x 2" the second figure is the pipe's wall; above this, mm, it is the other side of a box."""
CLOSE_ENOUGH = 0.7
"""Likeness from which a known name is offered for an unknown one; common practice, no published source."""
MOST_OFFERED = 3
PHRASES_KEPT = 4096

Dialect = Literal["uk", "us"]

# Whose sizes a name means, first answer first; a foreign one only where the phrase itself leaves no doubt.
_OWN: dict[Dialect, tuple[frozenset[System], ...]] = {
    "uk": (frozenset({"uk", "eu", "iso"}),),
    "us": (frozenset({"us"}), frozenset({"iso"})),
}
_IN_WORDS = {"mm": "mm", "in": "inches", "DN": "DN"}
_PEOPLE: dict[System, str] = {"uk": "British", "eu": "European", "us": "US", "au": "Australian", "it": "Italian"}


@lru_cache(maxsize=PHRASES_KEPT)
def find(what: str, say: Dialect, default: Unit, own: tuple[FittingRow, ...] = ()) -> Fitting | None:
    """The fitting that a phrase names; `default` is the job's unit, `say` whose words and sizes the job uses.

    The user's `own` rows go before the catalogue: the longest name that stands in the phrase.

    None where the phrase names no size ("mixer valve"): it has to come from readings. A size alone that is no trade
    name is the outside diameter ("20.955"), and two with an x are a box. Where a name stands for several sizes,
    `choices` has them and `od` is None. "15 copper" is mm in an inch job too: no pipe of 15 in comes through a tile.
    Raises ValueError with one sentence: an unknown kind or size, or a size that could be several pipes ("1/2").
    """
    words = f" {plain_words(what)} "
    mine = [row for row in own if f" {row.names[0].text} " in words]
    if mine:
        return max(mine, key=lambda row: len(row.names[0].text)).fitting
    asked = take_apart(what, default)
    found = _families_named(asked)
    if found and _too_big_for_inches(asked):
        asked = take_apart(what, Unit.MM)
    named = _named_rows(asked)
    if named:
        return _choose(named, asked, say, by_size=False)
    if asked.unit is None:
        return None
    if len(found) > 1:
        kinds = " and ".join(family.name for family in found)
        raise ValueError(f'"{what}" names {kinds}: write one kind, as in "{asked.size} {found[0].name}".')
    if any(word.isdigit() for word in asked.unknown):
        raise ValueError(
            f'"{what}" has more than one size: write one, as in "15 copper"; what was measured stands under diameter '
            "or size, "
            "and two things are two holes."
        )
    if asked.other_mm is not None and (not found or asked.other_mm > THICKEST_WALL):
        return _own(asked, w=asked.number, h=asked.other_mm)
    if found:
        return _sized(found[0], asked, say)
    if asked.unknown and not _says_it_is_round(asked):
        raise ValueError(_unknown(asked))
    if asked.unit == "DN":
        return _sized(next(family for family in families() if _has_dn(family)), asked, say)
    return _size_alone(asked, default)


def pipes_near(diameter: float, say: Dialect, within: float) -> tuple[Fitting, ...]:
    """Pipes of the job's own system whose outside diameter is nearest to `diameter`, all within `within` mm of it.

    Those nearest, and those that measure the same to SAME_OD; none where none is so near.
    """
    systems = frozenset().union(*_OWN[say])
    near = [
        (abs(row.fitting.od - diameter), row.fitting)
        for family in families()
        for row in family.rows
        if row.fitting.od is not None and row.fitting.kind in ("pipe", "waste") and row.fitting.system in systems
    ]
    least = min((off for off, _ in near), default=within + 1.0)
    return tuple(one for off, one in near if off <= min(within, least + SAME_OD))


def _named_rows(asked: Asked) -> list[FittingRow]:
    """The rows whose name in words stands in the phrase; the longest name wins."""
    hits = [
        (name, row)
        for family in families()
        if family.may_name(asked.plain)
        for row in family.rows
        for name in row.names
        if name.unit == "words" and asked.has(name.text)
    ]
    longest = max((len(name.text) for name, _ in hits), default=0)
    return [row for name, row in hits if len(name.text) == longest]


def _families_named(asked: Asked) -> list[Family]:
    """The families whose words stand in the phrase; a word inside a longer one that stands there does not count."""
    hits = [(word, family) for family in families() for word in family.words if asked.has(word)]
    kept = [
        family for word, family in hits if not any(word != other and f" {word} " in f" {other} " for other, _ in hits)
    ]
    return list(dict.fromkeys(kept))


def _says_it_is_round(asked: Asked) -> bool:
    """Whether the size is said to be the outside of something round: "closet flange 7 OD"."""
    is_across = any(asked.has(word) for word in ("od", "outside", "across"))
    return is_across and not any(word in asked.plain for word in BOX_WORDS)


def _too_big_for_inches(asked: Asked) -> bool:
    return asked.unit == "in" and not asked.stated and asked.number > BIGGEST_INCH_PIPE


def _has_dn(family: Family) -> bool:
    return any(name.unit == "DN" for row in family.rows for name in row.names)


def _sized(family: Family, asked: Asked, say: Dialect) -> Fitting:
    if asked.unit == "DN" and family.rows[0].fitting.kind == "waste":
        asked = replace(asked, unit="mm")  # waste pipe is sold by DN/OD: there the DN is the size in mm
    rows = _called(family, asked)
    if not rows and not asked.stated and not any(name.unit == "mm" for row in family.rows for name in row.names):
        in_inches = take_apart(asked.text, Unit.INCH)  # "1 BSP": a family of inch sizes alone leaves no doubt
        if rows := _called(family, in_inches):
            asked = in_inches
    if not rows:
        raise ValueError(_no_such_size(family, asked))
    return _choose(rows, asked, say, by_size=True)


def _called(family: Family, asked: Asked) -> list[FittingRow]:
    return [row for row in family.rows if any(_is(name, asked) for name in row.names)]


def _is(name: FittingName, asked: Asked) -> bool:
    return name.unit == asked.unit and name.number == asked.number


def _choose(rows: Sequence[FittingRow], asked: Asked, say: Dialect, *, by_size: bool) -> Fitting:
    """Of the rows of one name: the variant that was said, then the job's own system; several sizes stay open."""
    rows = [row for row in rows if any(asked.has(word) for word in row.variant_words)] or rows
    groups = (frozenset({asked.system}),) if asked.system else _OWN[say]
    chosen = next((own for group in groups if (own := [row for row in rows if row.fitting.system in group])), None)
    if chosen is None:
        no_doubt = not asked.system and by_size and (asked.stated or asked.unit == "mm")
        measured_anyway = rows[0].fitting.choices and rows[0].fitting.kind != "box"
        if not no_doubt and not measured_anyway:
            raise ValueError(_foreign(rows[0].fitting, asked))
        chosen = list(rows)
    fittings = [row.fitting for row in chosen]
    sizes = {(fitting.od, fitting.w, fitting.h) for fitting in fittings}
    return fittings[0] if len(sizes) == 1 else _open(fittings)


def _open(fittings: Sequence[Fitting]) -> Fitting:
    """One fitting for a name that stands for several: its sizes are choices, and it has to be measured."""
    first = fittings[0]
    choices = {
        (one.od, one.w, one.h): FittingChoice(one.variant or one.source, one.od, one.w, one.h)
        for one in reversed(fittings)
    }
    return Fitting(
        family=first.family,
        label=first.label,
        kind=first.kind,
        source="; ".join(dict.fromkeys(fitting.source for fitting in fittings)),
        mark="C",
        system=first.system,
        choices=tuple(reversed(choices.values())),
        note="measure yours",
    )


def _size_alone(asked: Asked, default: Unit) -> Fitting:
    """A size with no kind: the diameter itself, unless it is the trade name of pipes that measure otherwise."""
    bearers = [(family, row.fitting) for family in families() if family.asked for row in _called(family, asked)]
    diameters = [od for _, one in bearers for od in (one.od, *(choice.od for choice in one.choices)) if od is not None]
    is_diameter = asked.has("od") or asked.has("outside") or asked.has("across")
    if not is_diameter and any(abs(od - asked.number) > SAME_OD for od in diameters):
        kinds = list(dict.fromkeys(family.name for family, _ in bearers))
        raise ValueError(
            f'"{asked.said}" alone can be several pipes: {_either(kinds)}? Write size and kind, '
            f'as in "{asked.size} {kinds[0]}", or the true diameter with "outside" behind it.'
        )
    if _too_big_for_inches(asked):
        raise ValueError(f'"{asked.said}" is read in inches here: write "{asked.size} mm" or "{asked.size} in".')
    if not asked.stated and not default.is_imperial and asked.unit == "in":
        parse_length(asked.size, default)  # a fraction in a metric job is refused in its own words
    return _own(asked, od=asked.number)


def _own(asked: Asked, *, od: float | None = None, w: float | None = None, h: float | None = None) -> Fitting:
    """What the tiler wrote as a size, taken as it is."""
    if 0 in (od, w, h):
        raise ValueError(f'"{asked.said}" has a size of 0: write the size of what comes through.')
    kind: Literal["pipe", "box"] = "box" if od is None else "pipe"
    return Fitting("", asked.size, kind, "as written in the job", "own", od=od, w=w, h=h)


def _foreign(fitting: Fitting, asked: Asked) -> str:
    if asked.system:
        people = _PEOPLE[asked.system]
        return f'"{asked.said}" is no {people} size that is known: leave that word out, or write the size itself.'
    people = _PEOPLE[fitting.system]
    outside = "" if fitting.od is None else f", {fitting.od:g} mm outside"
    return (
        f'"{asked.said}" is known as {people} alone{outside}: write "{people} {asked.said}" if it is that, '
        "else the size itself."
    )


def _no_such_size(family: Family, asked: Asked) -> str:
    names = [name for row in family.rows for name in row.names if name.unit != "words"]
    other = next((name for name in names if name.unit != asked.unit and _figure(name) == asked.size), None)
    if other is not None:
        return (
            f'"{asked.said}" is read in {_IN_WORDS[asked.unit or "mm"]} here, and {family.name} comes in {other.text}: '
            f'write "{other.text} {family.name}".'
        )
    outside = _by_outside(family, asked)
    if outside:
        return (
            f'"{asked.said}" is no size of {family.name} by name, but {outside} measures so outside: write '
            f'"{outside}", or the diameter alone.'
        )
    same = sorted({name.number: name for name in names if name.unit == asked.unit}.values(), key=lambda n: n.number)
    below = [name for name in same if name.number < asked.number][-1:]
    above = [name for name in same if name.number > asked.number][:1]
    near = [name.text for name in below + above]
    if not near:
        known = ", ".join(name.text for name in names[:MOST_OFFERED])
        return (
            f'"{asked.said}" is in {_IN_WORDS[asked.unit or "mm"]}, and no {family.name} that is known is: '
            f"its sizes are {known} and so on."
        )
    nearest = f"the nearest sizes are {near[0]} and {near[1]}" if len(near) > 1 else f"the nearest size is {near[0]}"
    return f'"{asked.said}" is no size of {family.name} that is known: {nearest}; else write the diameter alone.'


def _by_outside(family: Family, asked: Asked) -> str:
    """What a row of the family is called that measures outside what was asked; "" where none does."""
    mm = asked.number * (MM_PER[Unit.INCH] if asked.unit == "in" else 1)
    for row in family.rows:
        if row.fitting.od is not None and abs(row.fitting.od - float(mm)) <= SAME_OD:
            called = next((name.text for name in row.names if name.unit in _IN_WORDS), row.fitting.label)
            return " ".join(filter(None, (called, row.fitting.variant, family.name)))
    return ""


def _unknown(asked: Asked) -> str:
    """An unknown kind: near names are offered, else the kinds that are known."""
    words = {word: family.name for family in families() for word in family.words}
    phrases = [name.text for family in families() for row in family.rows for name in row.names if name.unit == "words"]
    near = difflib.get_close_matches(" ".join(asked.unknown), list(words), MOST_OFFERED, CLOSE_ENOUGH)
    offers = [f"{asked.size} {words[word]}" for word in near]
    offers += difflib.get_close_matches(asked.plain, phrases, MOST_OFFERED, CLOSE_ENOUGH)
    offers = list(dict.fromkeys(offers))[:MOST_OFFERED]
    if offers:
        return (
            f'"{asked.said}" is not known: did you mean {_either([f"{chr(34)}{offer}{chr(34)}" for offer in offers])}?'
        )
    kinds = [family.name for family in families() if family.asked and family.words]
    return (
        f'"{asked.said}" has a size but no kind that is known: write {_either(kinds)}, '
        "or the diameter alone, or leave the size out."
    )


def _figure(name: FittingName) -> str:
    return name.text.rpartition(" ")[0]


def _either(words: Sequence[str]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} or {words[-1]}"
