"""Positions in a tiler's words, parsed: "67 to 83 left of V", "277 in from right there", "in course 4, 98 up".

    parse_reading  where a thing is: both its sides, its centre, its near or far side
    parse_thing    the same of what comes through a tile, which is only so big
    parse_place    where a point, an edge or a level is: one distance
    parse_spot     two places, across and up
    parse_edge     where an edge was read, and at what height
    parse_bare     both sides or the centre, from a neighbour that need not be named

Every fault is a ValueError of one sentence: what was found, what is allowed, what to write.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Literal

from cutmarks.job.measures import wide_enough
from cutmarks.job.origins import distances, example, measured
from cutmarks.job.words import FIGURE, UNKNOWN, Setting, found, line_named, named, spaced
from cutmarks.readings import EdgeReading, From, Reading, Spot
from cutmarks.sides import Axis, Side
from cutmarks.units import Unit

Hand = Literal["centre", "near", "far", "low", "high", ""]
"""Which part of a thing a single distance goes to; "" where that is not said."""

_HANDS: Mapping[str, Hand] = {
    "centre": "centre",
    "center": "centre",
    "middle": "centre",
    "near": "near",
    "far": "far",
    "underside": "low",
    "left side": "low",
    "bottom side": "low",
    "top": "high",
    "right side": "high",
    "top side": "high",
}
_HAND_AXIS: Mapping[str, Axis] = {
    "underside": "up",
    "bottom side": "up",
    "top": "up",
    "top side": "up",
    "left side": "across",
    "right side": "across",
}
_HAND = re.compile(
    r"(?:to )?(?:the |its )?(centre|center|middle|near|far|underside|(?:left|right|bottom|top) side|top)"
    r"(?: side)?(?: at)?,? (?=\S)",
    re.IGNORECASE,
)

_ON = re.compile(r"(?:(?:centre|center|middle|centred|centered) )?on (?:the line )?(?P<name>\S.*)$", re.IGNORECASE)
_LEVEL_WITH = re.compile(r"(?:level|in line|plumb) with (?P<name>\S.*)$", re.IGNORECASE)
_COURSE = re.compile(
    r"in course (?P<course>[0-9]{1,6})(?: of (?P<area>[^,]+?))?,? (?:(?:centre|center|middle) )?(?P<rest>[^,]+)$",
    re.IGNORECASE,
)
_BEGINS_WITH_FIGURE = re.compile(rf"(?:(?:centre|center) )?[-\u2212\u2013+]? *[.{FIGURE}]", re.IGNORECASE)


def parse_reading(text: str, axis: Axis, setting: Setting) -> Reading:
    """Where a thing is along one axis.

    Single distances must say to what, except in from an edge and up in a course, where the centre is taken.
    """
    phrase = _phrase(text, "A position must be known: measure it, or leave the hole out until it is.")
    if match := _ON.match(phrase):
        return Reading("centre", 0.0, None, From("line", line_named(match["name"], axis, setting)), phrase)
    if match := _LEVEL_WITH.match(phrase):
        other = named(match["name"], setting.holes, "hole")
        return Reading("level with", 0.0, None, None, phrase, other=other)
    if match := _COURSE.match(phrase):
        return _in_course(match, phrase, axis, setting)
    hand, rest = _split_hand(phrase, axis)
    low, high, start, inward = measured(phrase, rest, axis, setting)
    if high is not None:
        if hand:
            raise ValueError(f"{found(phrase)} names one side of the thing and gives two distances: leave one out.")
        return _sides(low, high, start, phrase)
    if not hand and start.kind != "edge":
        raise ValueError(_to_what(phrase))
    return Reading(_how(hand or "centre", low, start, inward), low, None, start, phrase)


def parse_thing(text: str, axis: Axis, setting: Setting) -> Reading:
    """Where something that comes through a tile is along one axis: its two sides are no further apart than any has."""
    reading = parse_reading(text, axis, setting)
    if reading.high is not None:
        wide_enough(reading.text, reading.high - reading.low, setting, "wide" if axis == "across" else "high")
    return reading


def parse_place(text: str, axis: Axis, setting: Setting) -> Reading:
    """Where a point, an edge or a level is: "1140 left of V", "600 above B", or a line's name alone."""
    phrase = _phrase(text, "This place must be known: measure it, or leave it out until it is.")
    on_it = _ON.match(phrase)
    name = on_it["name"] if on_it else phrase
    if on_it or _is_line(phrase, setting) or not _BEGINS_WITH_FIGURE.match(phrase):
        return Reading("centre", 0.0, None, From("line", line_named(name, axis, setting)), phrase)
    rest = re.sub(r"^(?:centre|center) ", "", phrase, flags=re.IGNORECASE)
    low, high, start, _ = measured(phrase, rest, axis, setting)
    if high is not None:
        raise ValueError(
            f"{found(phrase)} has two distances, and one place has one: write it as in {example(axis, setting)}."
        )
    if start.kind != "line":
        raise ValueError(
            f"{found(phrase)} is not from a set-out line, and this is: write it as in {example(axis, setting)}."
        )
    return Reading("centre", low, None, start, phrase)


def parse_spot(text: str, setting: Setting, what: str = "corner") -> Spot:
    """A place by two readings, in either order: "100 right of V, 350 above B"; `what` it is called in a fault."""
    phrase = _phrase(text, f"A {what} must be known: measure it.")
    parts = re.split(r",\s+| and ", phrase)
    wanted = f"100 right of V, 350 {'above B' if setting.kind == 'wall' else 'from D'}"
    if len(parts) != 2:
        raise ValueError(
            f"{found(phrase)} is no {what}: write both its readings in quotes or on a line of their own, "
            f'as in "{wanted}".'
        )
    if re.search(r"\b(?:right|left) of\b", parts[1], re.IGNORECASE):
        parts.reverse()
    return Spot(parse_place(parts[0], "across", setting), parse_place(parts[1], "up", setting))


def parse_edge(text: str, side: Side, setting: Setting) -> EdgeReading:
    """Where an edge is, and where along it it was read: "1065 right of V at B", "1058 right of V at 1450 above B"."""
    phrase = _phrase(text, "An edge must be known, or left out: then nothing is said about trimming there.")
    at, _, along = phrase.partition(" at ")
    axis, other = ("across", "up") if side.axis == "across" else ("up", "across")
    return EdgeReading(
        parse_place(at, _axis(axis), setting), parse_place(along, _axis(other), setting) if along else None
    )


def parse_bare(text: str, unit: Unit) -> Reading:
    """Both sides of a thing, or one side or its centre, from a neighbour's edge: "69 to 84", "centre 76.5".

    Positive away from the neighbour, whichever side it is on.
    """
    phrase = _phrase(text, "A reading must be known: measure it.")
    hand, rest = _split_hand(phrase, None)
    spans = distances(rest, phrase, unit)
    if spans is None or spans[2]:
        raise ValueError(f"{found(phrase)} is no reading: write both sides of the thing, as in 69 to 84.")
    low, high, _ = spans
    if high is not None:
        if hand:
            raise ValueError(f"{found(phrase)} names one side of the thing and gives two distances: leave one out.")
        return _sides(low, high, None, phrase)
    if not hand:
        raise ValueError(_to_what(phrase))
    return Reading(_how(hand, low, None, 1), low, None, None, phrase)


def _phrase(text: str, unknown: str) -> str:
    phrase = spaced(text)
    if phrase == UNKNOWN:
        raise ValueError(unknown)
    if not phrase:
        raise ValueError("Nothing is written here: write a position, as in 67 to 83 left of V.")
    return phrase


def _axis(word: str) -> Axis:
    return "across" if word == "across" else "up"


def _is_line(phrase: str, setting: Setting) -> bool:
    return setting.lines is not None and phrase.casefold() in {name.casefold() for name in setting.lines}


def _split_hand(phrase: str, axis: Axis | None) -> tuple[Hand, str]:
    """The word for which part of the thing is meant, and the rest of the phrase."""
    match = _HAND.match(phrase)
    if match is None:
        return "", phrase
    word = match[1].lower()
    if axis is not None and _HAND_AXIS.get(word, axis) != axis:
        sides = "left side or right side" if axis == "across" else "underside or top"
        raise ValueError(
            f"{found(phrase)} names the {word}, which is no side on this axis: write {sides}, or near or far."
        )
    return _HANDS[word], phrase[match.end() :]


def _in_course(match: re.Match[str], phrase: str, axis: Axis, setting: Setting) -> Reading:
    if axis == "across":
        raise ValueError(f"{found(phrase)} is a height: write across as in {example(axis, setting)}.")
    spans = distances(match["rest"], phrase, setting.unit)
    if spans is None or spans[2].lower() not in ("up", "in"):
        raise ValueError(f"{found(phrase)} is no height in a course: write it as in course 4, 98 up.")
    low, high, _ = spans
    course, area = int(match["course"]), match["area"]
    if course < 1:
        raise ValueError(f"{found(phrase)} counts from nothing: the lowest course is course 1.")
    area = None if area is None else named(area, setting.areas, "area")
    if high is None:
        return Reading("course", low, None, None, phrase, course=course, area=area)
    return Reading("course", min(low, high), max(low, high), None, phrase, course=course, area=area)


def _sides(one: float, two: float, start: From | None, phrase: str) -> Reading:
    return Reading("sides", min(one, two), max(one, two), start, phrase)


def _how(hand: Hand, distance: float, start: From | None, way: int) -> Literal["centre", "low", "high"]:
    """Which side of the thing is meant; near is the one towards what it is read from."""
    if hand in ("centre", "low", "high"):
        return hand
    return "low" if (hand == "near") == (way > 0) else "high"


def _to_what(phrase: str) -> str:
    return (
        f'{found(phrase)} does not say to what: write "centre {phrase}", '
        f'"near {phrase}" or "far {phrase}", or both sides{_both_sides(phrase)}.'
    )


def _both_sides(phrase: str) -> str:
    """An example of both sides about a whole distance: ", as in "67 to 83 right of V"" for 75."""
    match = re.match(r"([0-9]+)( .*|$)", phrase)
    half = 8
    if match is None or int(match[1]) <= half:
        return ""
    middle = int(match[1])
    return f', as in "{middle - half} to {middle + half}{match[2]}"'
