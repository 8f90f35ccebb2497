"""What a position is read from, by name or by what it is: "V", "the batten", "RH corner", "the mixer", "splash 3-6".

A thing is found by the words that a line or an edge has of its own: "above the worktop" is from B where B is "level,
worktop", and "off the door frame" is from the right edge where that is said to be a door frame. Where two could be
meant it is asked; where none is, it is no reference.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import lru_cache

from msgspec import Struct
from msgspec.structs import replace

from cutmarks.job.tokens import Token, plain_words
from cutmarks.job.words import SIDE_OF, Setting, either, found, line_named
from cutmarks.patterns import late
from cutmarks.readings import From
from cutmarks.sides import Axis, Side
from cutmarks.units import Unit, match_length

ARTICLES = frozenset({"the", "a", "an", "its", "that", "your"})
_NOTHING_SAID = ARTICLES | {"of", "line", "it", "there", "is", "point"}
_PARTS = frozenset({"top", "bottom", "underside", "centre", "left", "right", "face", "edge", "end", "front", "side"})
_PLAIN_PARTS = frozenset({"face", "edge", "end", "front", "side"})
_ENDS_OF_A_SURFACE = frozenset({"edge", "wall", "corner", "end"})
_SUPPORTS = frozenset({
    "batten", "ledger", "packers", "worktop", "tray", "pan", "tub", "bath", "floor", "slab", "hearth", "upstand",
    "sill", "screed", "deck", "rim", "base", "curb", "basin", "threshold", "doorway", "finished floor",
})  # fmt: skip
"""What is off or over one of these is above it."""
_GENERIC = frozenset({"pipe", "box", "thing", "hole"})
_ABOVE = late(r",?\s*(?:above|over|up from|off)\s+(?:the\s+)?(?P<what>.+)$", re.IGNORECASE)
_ABOVE_FLOOR = late(r",?\s*(?P<what>affl?|ffl)\b", re.IGNORECASE)
_FLOORS = (frozenset({"finished floor"}), frozenset({"floor"}), frozenset({"floor", "level"}))
_FAR_WALL = ({"far", "wall"}, {"back", "wall"})
_PIECE_SIDES: Mapping[str, Side] = {
    "left": Side.LEFT,
    "right": Side.RIGHT,
    "bottom": Side.BOTTOM,
    "lower": Side.BOTTOM,
    "top": Side.TOP,
    "upper": Side.TOP,
}


class Origin(Struct, frozen=True):
    """What distances are from.

    start    the line, edge or piece; None with `hole`, the name of a hole, whose middle they are from.
    shift    where the thing itself lies from the line, mm: a finished floor is 1000 below the line that says so.
    towards  the way that "off" it goes, 1 or -1 along the axis; 0 where that is not sure.
    is_edge_there  said as an end of the surface ("right there"): a lone distance from it goes to the centre.
    """

    start: From | None
    hole: str = ""
    shift: float = 0.0
    towards: int = 0
    is_edge_there: bool = False

    @property
    def inward(self) -> int:
        """1 or -1: the way into the surface from an edge."""
        return 1 if self.start is not None and self.start.side in (Side.LEFT, Side.BOTTOM) else -1


def reference(
    parts: Sequence[Token],
    at: int,
    phrase: str,
    axis: Axis,
    setting: Setting,
    *,
    lines_only: bool = False,
    whole: bool = False,
) -> tuple[Origin, int] | None:
    """The reference that begins at `at`, and where it ends; None where nothing there is one.

    lines_only  what lies at an edge is none; whole: a thing is one by all its words alone, not by some of them.

    Raises ValueError: it could be two things, or it is a line of the other axis.
    """
    while at < len(parts) and (parts[at].word in ("the", "a", "its", "your") or _is_before_a_name(parts, at)):
        at += 1
    if at >= len(parts):
        return None
    if (piece := _piece(parts, at, axis, phrase)) is not None:
        return piece
    if parts[at].kind == "name":
        return _named(parts[at].word, axis, setting), at + 1
    end = at
    while end < len(parts) and parts[end].kind == "word":
        end += 1
    for stop in range(end, at, -1):
        origin = _by_words([part.word for part in parts[at:stop]], phrase, axis, setting, lines_only, whole)
        if origin is not None:
            return origin, stop
    return None


def _is_before_a_name(parts: Sequence[Token], at: int) -> bool:
    """Whether this is the first word of "line V" or "tile splash 3-4"."""
    is_before = at + 1 < len(parts) and parts[at + 1].kind in ("name", "piece")
    return is_before and parts[at].word in ("line", "point", "tile", "piece")


def _named(name: str, axis: Axis, setting: Setting) -> Origin:
    if name in (setting.lines or {}):
        return Origin(From("line", line_named(name, axis, setting)))
    if name in (setting.points or {}).values():
        raise ValueError(f"{found(name)} is a point: a tape from it stands under readings, one a line.")
    return Origin(None, hole=name)


def _piece(parts: Sequence[Token], at: int, axis: Axis, phrase: str) -> tuple[Origin, int] | None:
    """A named piece, or one of its edges."""
    if parts[at].kind == "piece":
        return Origin(From("piece", parts[at].word)), at + 1
    words = [part.word for part in parts[at : at + 3]]
    side = _PIECE_SIDES.get(words[0])
    if side is None or words[1:3] != ["edge", "of"]:
        return None
    behind = at + 3
    while behind < len(parts) and parts[behind].word in ("the", "tile", "piece"):
        behind += 1
    if behind < len(parts) and parts[behind].kind == "piece":
        fits_axis(phrase, side, axis)
        return Origin(From("piece", parts[behind].word, side), towards=side.sign), behind + 1
    return None


def _by_words(
    words: Sequence[str], phrase: str, axis: Axis, setting: Setting, lines_only: bool, whole: bool
) -> Origin | None:
    """What these words name: an end of the surface, the line of a kind, or what a line, edge or hole is."""
    said = [word for word in words if word not in _NOTHING_SAID]
    if not said:
        return _the_line(axis, setting) if list(words)[-1] == "line" else None
    if not lines_only and (side := _end_of_surface(set(said), setting)) is not None:
        fits_axis(phrase, side, axis)
        is_there = said[0] in SIDE_OF and said[1:] in ([], ["edge"])
        return Origin(From("edge", side, side), towards=-side.sign, is_edge_there=is_there)
    if said in (["plumb"], ["level"]):
        return _the_line(axis, setting) if (said == ["plumb"]) == (axis == "across") else None
    parts, heads = frozenset(said) & _PARTS, frozenset(said) - _PARTS
    if not heads:
        return None
    meant = {
        called: origin
        for called, own, origin in _called(parts, heads, axis, setting, lines_only=lines_only)
        if heads == own or not whole
    }
    if len(meant) > 1:
        raise ValueError(f"{found(' '.join(words))} can be {either(sorted(meant))} here: {_which_of(meant, axis)}.")
    return next(iter(meant.values()), None)


def _which_of(meant: Mapping[str, Origin], axis: Axis) -> str:
    """What to write where words can mean several things: an edge by its side, a line or a hole by its name."""
    one, two = ("67", "83") if axis == "across" else ("212", "228")
    said = [
        f"{one} to {two} in from {origin.start.side} there"
        if origin.start is not None and origin.start.kind == "edge"
        else f"{one} to {two} {'right of' if axis == 'across' else 'above'} {name}"
        for name, origin in sorted(meant.items())
    ]
    return f"write which, as in {either(said)}"


def _the_line(axis: Axis, setting: Setting) -> Origin | None:
    """The line of this axis where there is one alone."""
    own = [name for name, fixes in (setting.lines or {}).items() if fixes == ("x" if axis == "across" else "y")]
    return Origin(From("line", own[0])) if len(own) == 1 else None


def _end_of_surface(said: set[str], setting: Setting) -> Side | None:
    """The edge that is called by its side alone: left, right edge, RH corner, back wall."""
    if said in _FAR_WALL:
        return Side.TOP if setting.kind == "floor" else None
    rest = said - _ENDS_OF_A_SURFACE
    if len(rest) != 1 or len(said) > 2:
        return None
    word = next(iter(rest))
    side = SIDE_OF.get(word)
    if side is None or word not in ("floor", "ceiling"):
        return side
    # The floor is the lower edge, unless that is said to be something else: a bath, a worktop.
    what = plain_words(setting.edge_words.get(side, ""))
    return side if not what or word in what else None


def _called(
    parts: frozenset[str], heads: frozenset[str], axis: Axis, setting: Setting, *, lines_only: bool
) -> Iterator[tuple[str, frozenset[str], Origin]]:
    """Everything on this axis that these words could be: what it is called in a sentence, and all its own words."""
    wanted = "x" if axis == "across" else "y"
    for name, words in setting.line_words.items():
        if (setting.lines or {}).get(name) != wanted:
            continue
        for above, own_parts, own_heads in _segments(words, setting.unit, frozenset(setting.lines or {})):
            if not _is_one_place(own_parts, own_heads, axis, setting) or (above and axis == "across"):
                continue
            if heads <= own_heads and _same_part(parts, own_parts):
                support = 1 if own_heads & _SUPPORTS and "underside" not in own_parts else 0
                yield name, own_heads, Origin(From("line", name), shift=0.0 - above, towards=support)
    if lines_only:
        return
    for side, what in setting.edge_words.items():
        own = frozenset(plain_words(what)) - _NOTHING_SAID
        allowed = _PLAIN_PARTS | {side.opposite.value} | ({"underside"} if side is Side.TOP else set())
        if side.axis == axis and heads <= own and parts <= allowed | (own & _PARTS):
            yield f"the {side} edge", own - _PARTS, Origin(From("edge", side, side), towards=-side.sign)
    for hole in (setting.holes or {}).values():
        own = frozenset(plain_words(hole)) - _GENERIC
        # hot is not hot 2: a hole with a figure in its name is called by all of it.
        if own and heads - _GENERIC == own and parts <= {"centre"} and not any(map(str.isdigit, hole)):
            yield hole, heads, Origin(None, hole=hole)


def _is_one_place(own_parts: frozenset[str], own_heads: frozenset[str], axis: Axis, setting: Setting) -> bool:
    """Whether a line's words say where on a thing it is: "window" may be its middle or a side, "worktop" is its top.

    So that what is said to be left of the window is never read from a line through its middle.
    """
    if axis == "across":
        return bool(own_parts)
    return bool(own_parts) or bool(own_heads & (_SUPPORTS | {"ceiling"})) or setting.kind == "floor"


def _same_part(said: frozenset[str], own: frozenset[str]) -> bool:
    """Whether a phrase and a line mean the same part of a thing: a line in the middle of a sink is not at the sink."""
    one, two = said - _PLAIN_PARTS, own - _PLAIN_PARTS
    return one == two or (not two and one == {"top"}) or (own == {"top"} and not said)


@lru_cache(maxsize=1024)
def _segments(
    words: str, unit: Unit, lines: frozenset[str]
) -> tuple[tuple[float, frozenset[str], frozenset[str]], ...]:
    """What a line is, of each part of its words between commas: how far above it lies, mm; its parts; what it is."""
    made = []
    for segment in words.split(","):
        above, what = 0.0, segment.strip()
        try:
            length = match_length(what, unit)
        except ValueError:
            continue
        if length is not None:
            match = _ABOVE.match(length[1]) or _ABOVE_FLOOR.match(length[1])
            if match is None:
                continue
            above, what = length[0].mm, match["what"]
        said = frozenset(plain_words(what)) - _NOTHING_SAID
        if what not in lines and said - _PARTS:
            made.append((above, said & _PARTS, said - _PARTS))
    return tuple(made)


def over_the_floor(words: str, unit: Unit, lines: Iterable[str]) -> float | None:
    """How high over the floor, or the finished floor, a level line's words say that it is, mm; None: they do not."""
    for above, _, heads in _segments(words, unit, frozenset(lines)):
        if above and heads in _FLOORS:
            return above
    return None


def fits_axis(phrase: str, side: Side, axis: Axis) -> None:
    """Raises ValueError: the side is one of the other axis."""
    if side.axis != axis:
        allowed = "left and right" if axis == "across" else "bottom and top"
        raise ValueError(f"{found(phrase)} is from a {side} edge: this axis has {allowed} edges: write which.")


def turned(origin: Origin, side: Side) -> Origin:
    """The same piece, from the edge on that side."""
    assert origin.start is not None
    return replace(origin, start=replace(origin.start, side=side), towards=side.sign)
