"""What a distance is taken from: "right of V", "in from right there", "from the right edge of splash 3-6".

`measured` reads one or two distances and their origin, and signs them: right and up are positive from a line or a
piece, inward from an edge of the surface. Every fault is a ValueError of one sentence.
"""

from __future__ import annotations

import re
from collections.abc import Mapping

from cutmarks.job.words import FIGURE, OPPOSITE_WAY, SIDE_OF, Setting, found, line_named
from cutmarks.readings import From
from cutmarks.sides import Axis, Side
from cutmarks.units import Unit, match_range

_ACROSS = {"right of": 1, "left of": -1}
_UP = {"above": 1, "below": -1}
_INTO = {"in from": 1, "from": 1, "short of": -1, "above": 1, "below": -1}
_ALIKE = {
    "to the right of": "right of",
    "to the left of": "left of",
    "up from": "above",
    "over": "above",
    "down from": "below",
    "under": "below",
    "beyond": "from",
    "past": "from",
    "before": "short of",
}
# splash 3-7, and splash U2-R3 where a side of the area is open.
_PIECE = r"(?P<piece>\S.*? [UD]?[0-9]+-[RL]?[0-9]+[a-z]?)"
_FROM_PIECE_EDGE = re.compile(
    r"(?P<way>from|right of|left of|above|below|up from|down from) "
    r"(?:the )?(?P<side>left|right|bottom|lower|top|upper)"
    rf" edge of (?:piece |tile )?{_PIECE}$",
    re.IGNORECASE,
)
_FROM_PIECE = re.compile(rf"(?P<way>right of|left of|above|below) (?:piece |tile )?{_PIECE}$", re.IGNORECASE)
_FROM_EDGE = re.compile(
    r"(?P<way>(?:in |up |down )?from|above|below|right of|left of) "
    r"(?:the )?(?P<side>left|right|bottom|top|floor|ceiling)(?: edge)?(?: there)?$",
    re.IGNORECASE,
)
_INWARD: Mapping[Side, tuple[str, ...]] = {
    Side.LEFT: ("in from", "from", "right of"),
    Side.RIGHT: ("in from", "from", "left of"),
    Side.BOTTOM: ("in from", "from", "up from", "above"),
    Side.TOP: ("in from", "from", "down from", "below"),
}
"""The words that go into the surface from each of its edges."""
_SIGNED = re.compile(r"(?P<hand>(?:\D*?\s)?)[-\u2212\u2013+]\s*(?P<rest>[0-9].*)$")
_SIGNED_BEHIND = re.compile(r"(?P<to>\bto |[-\u2013] ?)[-\u2212\u2013+]\s*(?=[0-9])")
_TO_THE_OTHER_SIDE = re.compile(rf"(.+?),? (?:to|-|\u2013) (?=[{FIGURE}])")
_PIECE_SIDE: Mapping[str, Side] = {
    Side.LEFT: Side.LEFT,
    Side.RIGHT: Side.RIGHT,
    Side.BOTTOM: Side.BOTTOM,
    "lower": Side.BOTTOM,
    Side.TOP: Side.TOP,
    "upper": Side.TOP,
}


def measured(phrase: str, rest: str, axis: Axis, setting: Setting) -> tuple[float, float | None, From, int]:
    """Signed distances and what they are from; the last value is 1 where the distances grow with the coordinate."""
    _refuse_sign(phrase, rest, axis, setting)
    spans = distances(rest, phrase, setting.unit)
    if spans is None:
        raise ValueError(f"{found(phrase)} is no position: write it as in {example(axis, setting)}.")
    first, second, tail = spans
    if second is None and (match := _TO_THE_OTHER_SIDE.match(tail)):
        return _over_a_line(phrase, first, match[1], tail[match.end() :], axis, setting)
    if match := _FROM_EDGE.match(tail):
        side = SIDE_OF[match["side"].lower()]
        _fits_axis(phrase, side, axis)
        if match["way"].lower() not in _INWARD[side]:
            raise ValueError(f"{found(phrase)} lies outside the {side} edge: write it as in 277 in from {side} there.")
        return first, second, From("edge", side, side), 1 if side in ("left", "bottom") else -1
    if match := _FROM_PIECE_EDGE.match(tail) or _FROM_PIECE.match(tail):
        start, sign = _piece(phrase, match, axis)
    else:
        way, name = _way(phrase, tail, axis, setting)
        sign = _ways(axis, setting)[way]
        start = From("line", line_named(name, axis, setting))
    return sign * first, None if second is None else sign * second, start, sign


def _over_a_line(
    phrase: str, first: float, way: str, rest: str, axis: Axis, setting: Setting
) -> tuple[float, float, From, int]:
    """Each side with its own words: "42 below to 30 above B", "42 below B to 30 above B"."""
    spans = distances(rest, phrase, setting.unit)
    ways = _ways(axis, setting)
    if spans is None or spans[1] is not None:
        raise ValueError(f"{found(phrase)} is no position: write it as in {example(axis, setting)}.")
    two, name = _way(phrase, spans[2], axis, setting)
    words = {word.removesuffix(" of").removesuffix(" from"): word for word in ways}
    one, of = words.get(_ALIKE.get(way.lower(), way.lower()).removesuffix(" of").removesuffix(" from")), name
    if one is None:
        one, of = _way(phrase, way, axis, setting)
    line = line_named(name, axis, setting)
    if line_named(of, axis, setting) != line:
        raise ValueError(f"{found(phrase)} is from two lines, {of} and {name}: read both sides from one.")
    low, high = ways[one] * first, ways[two] * spans[0]
    if low == high:
        raise ValueError(_twice(phrase))
    return low, high, From("line", line), 1


def _ways(axis: Axis, setting: Setting) -> Mapping[str, int]:
    if axis == "across":
        return _ACROSS
    return _UP if setting.kind == "wall" else _INTO


def _way(phrase: str, tail: str, axis: Axis, setting: Setting) -> tuple[str, str]:
    """The side words at the beginning of `tail`, and the line's name behind them."""
    ways = _ways(axis, setting)
    low = tail.lower()
    for word in sorted({*ways, *_ALIKE}, key=len, reverse=True):
        if low.startswith(word + " "):
            way = word if word in ways else _ALIKE[word]
            if way in ways:
                return way, tail[len(word) :].strip()
    raise ValueError(_no_way(phrase, tail, axis, setting))


def _no_way(phrase: str, tail: str, axis: Axis, setting: Setting) -> str:
    """Why the words behind a distance are not understood."""
    into = "above or below" if setting.kind == "wall" else "from or short of"
    words = "right of or left of" if axis == "across" else into
    wanted = f"as in {example(axis, setting)}."
    if not tail:
        return f"{found(phrase)} does not say from what: write {words} and a set-out line, {wanted}"
    if any(tail.lower().startswith(word + " ") for word in (*_ACROSS, *_UP, *_INTO, *_ALIKE)):
        key = "across" if axis == "across" else ("up" if setting.kind == "wall" else "in")
        return f"{found(phrase)} does not fit {key}, which takes {words} a line: write it {wanted}"
    return f"{found(tail)} is not understood behind the distance: write {words} and a set-out line, {wanted}"


def _piece(phrase: str, match: re.Match[str], axis: Axis) -> tuple[From, int]:
    """A named piece's edge, and the sign of distances from it; "from" its edge goes away from the piece."""
    way = _ALIKE.get(match["way"].lower(), match["way"].lower())
    side_of_way: Mapping[str, Side] = {
        "right of": Side.RIGHT,
        "left of": Side.LEFT,
        "above": Side.TOP,
        "below": Side.BOTTOM,
    }
    groups = match.groupdict()
    side = _PIECE_SIDE[groups["side"].lower()] if groups.get("side") else side_of_way[way]
    _fits_axis(phrase, side, axis)
    towards = side if way == "from" else side_of_way[way]
    _fits_axis(phrase, towards, axis)
    return From("piece", match["piece"], side), 1 if towards in ("right", "top") else -1


def _fits_axis(phrase: str, side: Side, axis: Axis) -> None:
    if (side.axis == "across") != (axis == "across"):
        allowed = "left and right" if axis == "across" else "bottom and top"
        raise ValueError(f"{found(phrase)} is from a {side} edge: this axis has {allowed} edges.")


def distances(rest: str, phrase: str, unit: Unit) -> tuple[float, float | None, str] | None:
    """One or two distances, mm, as they stand, and what is behind them."""
    spans = match_range(rest, unit)
    if spans is None:
        return None
    first, second, tail = spans
    if second is not None and second.mm == first.mm:
        raise ValueError(_twice(phrase))
    return first.mm, None if second is None else second.mm, tail


def _twice(phrase: str) -> str:
    return f"{found(phrase)} gives the same distance twice: write both sides of the thing, or centre."


def example(axis: Axis, setting: Setting) -> str:
    """A position as it is written on this axis."""
    if axis == "across":
        return "67 to 83 left of V"
    return "212 to 228 above B" if setting.kind == "wall" else "1420 to 1530 from D"


def _refuse_sign(phrase: str, rest: str, axis: Axis, setting: Setting) -> None:
    match = _SIGNED.match(rest)
    if match is None:
        return
    positive = match["rest"]
    head = phrase[: len(phrase) - len(rest)]
    if rest[len(match["hand"]) : len(match["hand"]) + 1] == "+":
        raise ValueError(f'A distance takes no sign: write "{head}{positive}".')
    turned = _both_turned(positive, _ways(axis, setting))
    write = f'write "{head}{turned}".' if turned else f"say the side in words, as in {example(axis, setting)}."
    raise ValueError(f"A distance from a set-out line cannot be negative: {write}")


def _both_turned(positive: str, ways: Mapping[str, int]) -> str:
    """The same of two distances: both where both had a sign, else each with its own side."""
    bare = _SIGNED_BEHIND.sub(r"\g<to>", positive)
    first, to, second = positive.partition(" to ")
    if bare != positive or not to:
        return _turned(bare, ways)
    for way in sorted(ways, key=len, reverse=True):
        before, word, name = second.partition(f" {way} ")
        if word:
            return f"{first} {OPPOSITE_WAY[way].removesuffix(' of')} to {before} {way} {name}"
    return ""


def _turned(positive: str, ways: Mapping[str, int]) -> str:
    """The phrase with its side words turned round; empty where it has none."""
    for way in sorted(ways, key=len, reverse=True):
        before, word, name = positive.partition(f" {way} ")
        if word:
            return f"{before} {OPPOSITE_WAY[way]} {name}"
    return ""
