"""The words of positions, in tables: which side, which part, what stands where, and what says nothing of a place.

Words stand here as `cutmarks.job.tokens` spells them. What is in none of these tables is not understood in a position.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Literal

from cutmarks.job.references import ARTICLES
from cutmarks.sides import Axis

Row = tuple[str, ...]
"""Words one behind the other."""


def by_first(rows: Iterable[Row]) -> Mapping[str, tuple[Row, ...]]:
    """The rows by their first word, the longest of each first."""
    found: dict[str, list[Row]] = {}
    for row in sorted(rows, key=len, reverse=True):
        found.setdefault(row[0], []).append(row)
    return {first: tuple(own) for first, own in found.items()}


Hand = Literal["centre", "near", "far", "low", "high", ""]
"""Which part of a thing a distance goes to; "" where that is not said."""
Stands = Literal["", "on", "across", "flush", "against", "sits"]
"""How a thing lies with no distance between: its middle on what it is read from; over it, a side each way; a side in
line with it; its side at it; its foot on it."""

HALF_A_STEP: Mapping[bool, float] = {False: 0.5, True: 25.4 / 32}
"""What bare or full is taken as, mm: half of a tape's millimetre, or of its 16th (True: of an inch)."""
MARKS = frozenset(",;:.-\u2010\u2013\u2014()/=!")
"""Marks that part what is said and say nothing themselves; ~ and ? do."""
LEANS: Mapping[str, int] = {"bare": -1, "shy": -1, "scant": -1, "full": 1, "strong": 1, "heavy": 1}
"""Words behind a figure: a little less, a little more."""
LEANS_BEFORE = by_first([("shy", "of"), ("scant", "of")])
"""The same before it: shy of 6."""
BURNT = ("burnt", "burned", "burn", "burning")
"""The tape was held at a figure, and not at its end: that figure comes off."""

ACROSS: Mapping[tuple[str, ...], int] = {
    ("to", "the", "right", "of"): 1,
    ("right", "of"): 1,
    ("to", "the", "left", "of"): -1,
    ("left", "of"): -1,
    ("right", "side", "of"): 1,
    ("left", "side", "of"): -1,
}
UP: Mapping[tuple[str, ...], int] = {
    ("above",): 1,
    ("over",): 1,
    ("up", "from"): 1,
    ("up", "off"): 1,
    ("higher", "than"): 1,
    ("below",): -1,
    ("under",): -1,
    ("down", "from"): -1,
    ("down", "off"): -1,
    ("lower", "than"): -1,
}
INTO: Mapping[tuple[str, ...], int] = {
    **UP,
    ("in", "from"): 1,
    ("in", "off"): 1,
    ("into", "the", "room", "from"): 1,
    ("into", "room", "from"): 1,
    ("into", "the", "room", "off"): 1,
    ("into", "room", "off"): 1,
    ("from",): 1,
    ("off",): 1,
    ("beyond",): 1,
    ("past",): 1,
    ("inside",): 1,
    ("short", "of"): -1,
    ("before",): -1,
}
NEUTRAL: Mapping[tuple[str, ...], int] = dict.fromkeys(
    (
        ("back", "from"),
        ("back", "off"),
        ("in", "from"),
        ("in", "off"),
        ("away", "from"),
        ("out", "of"),
        ("from",),
        ("off", "of"),
        ("off",),
    ),
    0,
)
ONE_WAY: Mapping[Axis, Mapping[str, int]] = {
    "across": {"right": 1, "left": -1},
    "up": {"above": 1, "up": 1, "higher": 1, "below": -1, "down": -1, "lower": -1, "under": -1},
}
IN_A_ROOM: Mapping[str, int] = {"in": 1, "short": -1, **ONE_WAY["up"]}
STANDS: Mapping[tuple[str, ...], Stands] = {
    ("flush", "with"): "flush",
    ("hard", "up", "to"): "against",
    ("hard", "up", "against"): "against",
    ("hard", "against"): "against",
    ("hard", "to"): "against",
    ("tight", "to"): "against",
    ("tight", "against"): "against",
    ("up", "against"): "against",
    ("up", "to"): "against",
    ("against",): "against",
    ("touching",): "against",
    ("kissing",): "against",
    ("hard", "down", "on"): "sits",
    ("hard", "on"): "sits",
    ("sits", "on"): "sits",
    ("sits", "right", "on"): "sits",
    ("sat", "on"): "sits",
    ("sat", "hard", "down", "on"): "sits",
    ("stands", "on"): "sits",
    ("standing", "on"): "sits",
    ("dead", "on"): "on",
    ("dead", "centre", "of"): "on",
    ("dead", "centre", "on"): "on",
    ("right", "on"): "on",
    ("bang", "on"): "on",
    ("centre", "on"): "on",
    ("on",): "on",
    ("straddles",): "across",
    ("straddling",): "across",
    ("level", "with"): "on",
    ("in", "line", "with"): "on",
    ("lines", "up", "with"): "on",
    ("plumb", "with"): "on",
    ("same", "height", "as"): "on",
    ("same", "level", "as"): "on",
    ("at", "the", "same", "height", "as"): "on",
    ("as",): "on",
    ("plumb", "under"): "on",
    ("plumb", "over"): "on",
    ("straight", "under"): "on",
    ("straight", "over"): "on",
}
RUNS_THROUGH = (
    ("runs", "through"),
    ("goes", "through"),
    ("goes", "straight", "through"),
    ("runs", "straight", "through"),
)
OFF_AN_EDGE: frozenset[Row] = frozenset({("from",), ("off",), ("in", "from"), ("in", "off")})
"""On a floor these go in from its base line; from an edge they go in, wherever that is."""
OFF = frozenset({"off", "out", "back", "away"})
"""Behind these it is not said to what a lone distance goes, not even from an edge."""
SIDES = ("side", "edge", "end", "face")
HANDS: Mapping[str, Hand] = {
    "centre": "centre",
    "near": "near",
    "nearest": "near",
    "far": "far",
    "furthest": "far",
    "starts": "near",
    "begins": "near",
    "ends": "far",
    "finishes": "far",
    "underside": "low",
    "bottom": "low",
    "lower": "low",
    "left": "low",
    "top": "high",
    "upper": "high",
    "right": "high",
}
OTHER_HAND: Mapping[Hand, Hand] = {
    "near": "far", "far": "near", "low": "high", "high": "low", "centre": "centre", "": "",
}  # fmt: skip
"""The side across from one."""
ON_AXIS: Mapping[str, Axis] = {
    "underside": "up", "bottom": "up", "lower": "up", "top": "up", "upper": "up", "left": "across", "right": "across",
}  # fmt: skip
THINGS = frozenset({
    "box", "pipe", "valve", "stub", "tail", "waste", "outlet", "socket", "switch", "spout", "drain", "flange",
    "nipple", "ell", "mixer", "diverter", "supply", "toilet", "trap", "arm", "shower", "soil", "register", "head",
    "collar", "spur", "tap", "body", "single", "double", "twin", "back", "metal", "light", "cooker", "closet",
    "drop", "pot", "filler", "lav", "shut", "thing", "hole", "concealed", "it", "basin", "bath", "blanked", "tub",
    "capped", "new", "old", "riser", "duct", "vent", "elbow", "feed", "hose", "stopcock", "faucet", "jet", "spray",
})  # fmt: skip
MATERIALS = frozenset({
    "pipe", "copper", "cu", "plastic", "pl", "pex", "soil", "waste", "iron", "steel", "chrome",
})  # fmt: skip
SEVERAL = frozenset({
    "two", "three", "four", "centres", "another", "then", "gap", "apart", "stacked", "again", "each", "split",
    "clear",
})  # fmt: skip
SURELY_SEVERAL = frozenset({"centres", "another", "gap", "then", "stacked", "three"})
PLURALS = frozenset({
    "tails", "stubs", "stops", "holes", "valves", "spouts", "outlets", "sockets",
})  # fmt: skip
FILLERS = ARTICLES | {
    "is", "are", "to", "at", "of", "from", "and", "this", "be", "going", "way", "line", "sides", "side", "exactly",
    "dead", "straight", "just", "even", "also", "it", "outside", "one", "next", "along", "same", "height", "size",
    "sideways", "but", "rides",
}  # fmt: skip
HOW_IT_LIES = dict.fromkeys(
    (
        ("laid", "over"),
        ("laid", "over", "so"),
        ("stood", "up"),
        ("laid", "flat"),
        ("on", "end"),
        ("on", "its", "side"),
        ("a", "touch", "fat"),
    ),
    0,
)
FLOOR_FILLERS = frozenset({"walking", "looking", "room", "your"})
WIDE: Mapping[Axis, frozenset[str]] = {
    "across": frozenset({"wide", "across", "overall", "od"}),
    "up": frozenset({"high", "tall", "overall", "od"}),
}

ROWS_THAT_STAND = by_first(STANDS)
ROWS_THAT_LIE = by_first(HOW_IT_LIES)
ROWS_OF_ANY_WAY = by_first({**ACROSS, **UP, **INTO})
WAYS: Mapping[tuple[Axis, str], Mapping[Row, int]] = {
    ("across", "wall"): ACROSS,
    ("across", "floor"): ACROSS,
    ("up", "wall"): UP,
    ("up", "floor"): INTO,
}
"""The words for which side of a line, and the sign of each, by axis and kind of surface."""
ROWS_FROM = {key: by_first({**NEUTRAL, **ways}) for key, ways in WAYS.items()}
