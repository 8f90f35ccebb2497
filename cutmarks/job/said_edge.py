"""An edge said in one line: "LH wall 1206 top, 1211 btm from V", "ceiling 1390 left, 1382 right, above B".

It is read at one end or both; where that end is, the edge there says. Every word must be known: what an edge does on
the way ("runs out 6") can be two things, and is asked.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from msgspec import Struct, field
from msgspec.structs import replace

from cutmarks.job.edges import EdgeSpec
from cutmarks.job.grammar import WORDS_OF_A_PLACE, parse_edge
from cutmarks.job.measures import length_as_written
from cutmarks.job.onward import without
from cutmarks.job.parting import (
    BETWEEN,
    HAS_FIGURE,
    Dealt,
    Keys,
    PlaceReader,
    at_and,
    deal,
    fault_of,
    keyed,
    on_one_line,
    parts_of,
    takes,
)
from cutmarks.job.references import ARTICLES, reference
from cutmarks.job.tokens import Token, plain_words, tokens
from cutmarks.job.vocabulary import LEANS, MARKS
from cutmarks.job.words import OPPOSITE_WAY, Setting, found, in_figures
from cutmarks.patterns import late
from cutmarks.sides import Axis, Side
from cutmarks.units import match_length

_TWO_READ = late(r"(?<![0-9/.])(?P<one>[0-9]{3,4}) ?/ ?(?P<two>[0-9]{3,4})(?![0-9/.])")
"""Two figures of three digits or more with a stroke between: no fraction, and nothing says which is of which end."""
_TO_COME = late(r"(?P<much>.+?) (?:still )?to come$", re.IGNORECASE)
_FINISHED = ("finished", "nothing to come", "none to come")
_WAYS: Mapping[str, Mapping[Side, str]] = {
    "wall": {Side.LEFT: "left of", Side.RIGHT: "right of", Side.BOTTOM: "below", Side.TOP: "above"},
    "floor": {Side.LEFT: "left of", Side.RIGHT: "right of", Side.BOTTOM: "short of", Side.TOP: "from"},
}
"""On which side of a line each edge lies, unless it is said to lie on the other."""
_ENDS: Mapping[str, Side] = {
    "top": Side.TOP, "upper": Side.TOP, "bottom": Side.BOTTOM, "lower": Side.BOTTOM, "left": Side.LEFT,
    "right": Side.RIGHT, "low": Side.BOTTOM, "high": Side.TOP,
}  # fmt: skip
_ALONG = frozenset({
    "above", "below", "over", "up", "left", "right", "of", "from", "in", "the", "past", "beyond", "before", "short",
    "off",
})  # fmt: skip
"""Which way along an edge, and what joins that to a line."""
_FAR_END = frozenset({"far", "back"})
_DOOR = frozenset({"door", "doorway", "threshold"})
_AT = frozenset({"at", "on", "by", "the", "near", "in", "to", "up", "down", "of", "your"})
"""Words before an end of an edge, "up top", "down low", "by the door"."""
_OF_AN_END = frozenset({"end", "side", "corner", "edge", "hand"})
_NOTHING = ARTICLES | {
    "at", "on", "by", "is", "to", "up", "stops", "stop", "ends", "end", "dies", "into", "runs", "goes", "meets", "and",
    "of", "there", "from", "all", "along", "edge", "side", "dead", "line", "level",
}  # fmt: skip
THINGS_AT_AN_EDGE = frozenset({
    "wall", "ceiling", "floor", "worktop", "tray", "bath", "tub", "trim", "casing", "units", "unit", "panel", "frame",
    "door", "window", "reveal", "architrave", "skirting", "shelf", "upstand", "sill", "curb", "hearth", "shower",
    "screen", "jamb", "cupboard", "cabinet", "cabinets", "vanity", "plinth", "batten", "ledger", "coving", "cornice",
    "apron", "deck", "slab", "pan", "post", "lining", "corner", "base", "baseboard", "next", "end",
    "uppers", "range", "fridge", "glass", "mirror", "backsplash",
    "threshold", "step", "riser", "tall", "kitchen", "rim", "finished floor", "underside",
})  # fmt: skip
"""What a tiling ends at, in words."""
_HANGS = frozenset({"unit", "units", "cupboard", "cupboards", "cabinet", "cabinets"})
"""What hangs on a wall in a kitchen: "wall units" are no wall."""
_NO_END_OF_IT = frozenset({"tall", "open", "bare", "free", "outer"})
"""An open end is what is there; the door end is one end of an edge."""
_IN_LINE = late(r"(?:all )?(?:in line|level|flush|lined up|lines up) with (?:the )?[^\W\d_][^\d]*$", re.IGNORECASE)
"""What an edge is in line with, in words alone."""
_LIKE_A_THING = frozenset(
    {
        "of",
        "and",
        "existing",
        "new",
        "old",
        "tiled",
        "timber",
        "wooden",
        "glass",
        "bare",
        "glazed",
        "steel",
        "open",
        "free",
    }
)
"""Words that may stand beside what is there."""
_GOES_OUT = frozenset({"out", "goes", "leans", "lean", "kicks", "tapers", "taper", "bows", "belly"})
"""What an edge does, which way is not said."""
_FALLS: Mapping[str, int] = {
    "falls": -1, "fall": -1, "drops": -1, "drop": -1, "dips": -1, "rises": 1, "rise": 1, "climbs": 1, "lifts": 1,
}  # fmt: skip
_TRUE = frozenset({"plumb", "level", "true", "square"})


def edge_said(sentence: str, side: Side, setting: Setting, ends: Mapping[Side, str] | None = None) -> Keys:
    """The keys of the edge on that side; `ends` are the places of the edges at its ends, as they are written.

    Raises ValueError: one sentence.
    """
    setting, sentence = replace(setting, side=side), in_figures(sentence)
    if (two := _TWO_READ.search(sentence)) is not None:
        low, high = ("left", "right") if side.axis == "up" else ("bottom", "top")
        raise ValueError(
            f"{found(two[0])} are two readings of one edge: write at which end each was read, as in {two['one']} "
            f"{low}, {two['two']} {high}."
        )
    lead, colon, rest = sentence.partition(":")
    own, told = _remarks_apart(rest if colon and lead.strip().casefold() == side else sentence)
    own, onward = without(own)
    keys = _of_one_side(own, side, setting, ends or {})
    if onward:
        told = [*told, _going_on(keys, onward, side)]
    return keys if not told else {**keys, "note": BETWEEN.join([*filter(None, [keys.get("note")]), *told])}


def _remarks_apart(sentence: str) -> tuple[str, list[str]]:
    """The sentence, and what it says the edge is in line with: where that is, its figure says."""
    parts = parts_of(sentence)
    told = [part for part in parts if _IN_LINE.match(part)] if HAS_FIGURE.search(sentence) else []
    return (sentence, []) if not told else (", ".join(part for part in parts if part not in told), told)


def _of_one_side(own: str, side: Side, setting: Setting, ends: Mapping[Side, str]) -> Keys:
    try:
        return _by_parts(own, side, setting)
    except ValueError as error:
        first = error
    heard = _Edge(own, side, setting, ends)
    if not heard.has_a_figure or not heard.says_more:
        raise first
    return heard.keys()


def _going_on(keys: Keys, onward: str, side: Side) -> str:
    """The remark on an edge that is said to go on: a wall does, beyond where tile ends.

    Raises ValueError: it can be the tiles that go on.
    """
    what = set(plain_words(keys.get("what", "")))
    if side.axis == "across" and "wall" in what and what.isdisjoint(_HANGS):
        return f"the wall {onward}"
    raise ValueError(
        f"{found(onward)} can be said of what is there or of the tiles: leave it out where it is what is there, as "
        "tiles end at the top edge; where tiles go higher on a part of the wall give the top edge by steps (cutmarks "
        "help laying)."
    )


def _by_parts(sentence: str, side: Side, setting: Setting) -> Keys:
    """Each part between commas a reading, what is there, or a word of a key."""

    def reading(part: str) -> Dealt | None:
        return ("at", part) if takes(lambda: parse_edge(part, side, setting)) else None

    def why_not(part: str) -> str:
        return on_one_line(fault_of(lambda: parse_edge(part, side, setting)), ": write it with keys")

    places = PlaceReader(reading, why_not)
    parts = at_and(parts_of(sentence), places)
    keys = deal(parts, [keyed(EdgeSpec), _of_an_edge, _what_is_there], places, {}, several="at", within=())
    return {key: keys[key] for key in ("at", "what", *keys) if key in keys}


def _of_an_edge(part: str) -> Dealt | None:
    if part.casefold() in _FINISHED:
        return "still to come", "none"
    if part.casefold() in ("plumb", "level", "true"):
        return "true", "yes" if part.casefold() == "true" else part.casefold()
    match = _TO_COME.match(part)
    return ("still to come", match["much"]) if match else None


def _what_is_there(part: str) -> Dealt | None:
    said = set(plain_words(part)) - ARTICLES
    is_a_thing = bool(said & THINGS_AT_AN_EDGE) and said <= THINGS_AT_AN_EDGE | _LIKE_A_THING
    return ("what", part) if is_a_thing and not HAS_FIGURE.search(part) else None


class _ReadAt(Struct):
    """One figure of an edge, as typed, and the end of it, or the line across it, that it was read at."""

    text: str
    end: Side | None = None
    along: str = ""


class _Edge(Struct):
    """Goes once through the parts of a sentence about an edge."""

    sentence: str
    side: Side
    setting: Setting
    ends: Mapping[Side, str]
    parts: Sequence[Token] = ()
    at: int = 0
    reads: list[_ReadAt] = field(default_factory=list)
    waiting: Side | None = None
    line: str = ""
    across: str = ""
    ways: set[str] = field(default_factory=set)
    what: list[str] = field(default_factory=list)
    true: bool = False
    to_come: str = ""
    gap: str = ""

    def __post_init__(self) -> None:
        self.parts = tokens(self.sentence, self.setting)

    @property
    def has_a_figure(self) -> bool:
        return any(part.kind == "figure" for part in self.parts)

    @property
    def says_more(self) -> bool:
        """Whether more is said than one place, which has its own reader."""
        figures = sum(1 + (part.second is not None) for part in self.parts if part.kind == "figure")
        return figures > 1 or any(part.kind == "word" and part.word not in WORDS_OF_A_PLACE for part in self.parts)

    def keys(self) -> Keys:
        """What it says, under its keys. Raises ValueError: a word that is not known, or what can mean two things."""
        while self.at < len(self.parts):
            rules = (
                self._mark, self._same_at_both, self._falls, self._along, self._figure, self._finished, self._floor,
                self._line, self._end,                self._own_side, self._word,
            )  # fmt: skip
            if not any(rule() for rule in rules):
                if self._word_at(self.at) in _GOES_OUT:
                    raise ValueError(
                        f"{found(self.sentence)} does not say which way it goes: write what was read at each end, as "
                        f"in {self._example()}."
                    )
                rest = self.sentence[self.parts[self.at].start :].strip()
                raise ValueError(
                    f"{found(rest)} is not understood of an edge: write where it is and at which end, as in "
                    f"{self._example()}."
                )
        return self._made()

    def _word_at(self, at: int) -> str:
        part = self.parts[at] if 0 <= at < len(self.parts) else None
        return part.word if part is not None and part.kind == "word" else ""

    def _mark(self) -> bool:
        if self.parts[self.at].kind != "mark" or self.parts[self.at].word not in MARKS:
            return False
        self.at += 1
        return True

    def _figure(self) -> bool:
        part = self.parts[self.at]
        if part.kind != "figure":
            return False
        if part.second is not None:
            raise ValueError(
                f"{found(part.word)} are two readings of one edge: write at which end each was read, as in "
                f"{self._example()}."
            )
        text = part.word
        lean = self._word_at(self.at + 1)
        if lean in LEANS:
            text, self.at = f"{text} {lean}", self.at + 1
        self.reads.append(_ReadAt(text, self.waiting))
        self.waiting = None
        self.at += 1
        return True

    def _along(self) -> bool:
        """A place along the edge, at which it was read: "28 at B", "906 at 2000 above B"."""
        begins = at = self.at + (self._word_at(self.at) in ("at", "on"))
        if at == self.at or at >= len(self.parts) or not self.reads or self.reads[-1].end or self.reads[-1].along:
            return False
        far = self.parts[at].kind == "figure"
        if far:
            at += 1
            while self._word_at(at) in _ALONG:
                at += 1
        line, end = self._line_across(at, begins if far else at, is_far=far)
        if not line:
            return False
        along = self.sentence[self.parts[begins].start : self.parts[at - 1].end] if far else ""
        self.reads[-1].along = f"{along} {line}".strip()
        self.across, self.at = line, end
        return True

    def _line_across(self, at: int, begins: int, *, is_far: bool) -> tuple[str, int]:
        """The line across the edge that is named here, by its name or by what it is, and where that ends; "" for none.

        "it", and nothing at all behind a way ("at 60 up"), is the one named before, or the only one.
        """
        axis: Axis = "up" if self.side.axis == "across" else "across"
        if is_far and (self._word_at(at) == "it" or (self._word_at(at - 1) in ("up", "above") and self._ends_at(at))):
            return self.across or self._only("y" if axis == "up" else "x"), at + (self._word_at(at) == "it")
        try:
            meant = reference(self.parts, at, self.sentence, axis, self.setting, lines_only=True)
        except ValueError:
            return "", begins
        if meant is None or meant[0].start is None or meant[0].shift:
            return "", begins
        return meant[0].start.name, meant[1]

    def _ends_at(self, at: int) -> bool:
        return at >= len(self.parts) or self.parts[at].kind == "mark"

    def _same_at_both(self) -> bool:
        """The same at both ends, in so many words."""
        at = self.at
        while self._word_at(at) in ("the", "same", "at", "two", "each", "ends", "end"):
            at += 1
        words = {self._word_at(one) for one in range(self.at, at)}
        is_of_both = "same" in words or "two" in words
        if not is_of_both or words.isdisjoint({"ends", "end"}) or len(self.reads) != 1 or self.reads[0].end:
            return False
        one, two = (Side.BOTTOM, Side.TOP) if self.side.axis == "across" else (Side.LEFT, Side.RIGHT)
        self.at = at
        if one in self.ends and two in self.ends:
            self.reads = [_ReadAt(self.reads[0].text, end) for end in (one, two)]
        else:
            self.true = True
        return True

    def _falls(self) -> bool:
        """So much lower or higher at the other end: "falls off 1/8 to the right"."""
        way = _FALLS.get(self._word_at(self.at), 0)
        if not way or self.side.axis != "up":
            return False
        at = self.at + 1
        while self._word_at(at) in ("off", "away", "by", "up", "down"):
            at += 1
        part = self.parts[at] if at < len(self.parts) else None
        end_at = at + 1
        while self._word_at(end_at) in ("to", "at", "the", "over"):
            end_at += 1
        end = _ENDS.get(self._word_at(end_at))
        is_clear = len(self.reads) == 1 and end is not None and end.axis == "across"
        if part is None or part.first is None or part.second is not None or not is_clear:
            raise ValueError(
                f"{found(self.sentence)} does not say how far it falls to which end: write what was read at each end, "
                f"as in {self._example()}."
            )
        assert end is not None
        if self.reads[0].end is None:
            self.reads[0].end = end.opposite
        read = match_length(self.reads[0].text, self.setting.unit)
        if read is None or read[1] or self.reads[0].end is not end.opposite:
            raise ValueError(f"{found(self.sentence)} falls from no end that was read: write what was read at each.")
        away = 1 if _WAYS[self.setting.kind][self.side] in ("above", "from") else -1
        self.reads.append(_ReadAt(length_as_written(read[0].mm + away * way * part.first.mm, self.setting), end))
        self.at = end_at + 1
        return True

    def _floor(self) -> bool:
        """So much above finished floor, where a line says how far above it lies: 2400 FFL."""
        if self._word_at(self.at) != "finished floor" or self.side is not Side.TOP or self.line:
            return False
        self.line, self.at = "finished floor", self.at + 1
        return True

    def _finished(self) -> bool:
        word = self._word_at(self.at)
        if word in ("still", "to") and "come" in (self._word_at(self.at + 1), self._word_at(self.at + 2)):
            if not self.reads:
                return False
            self.to_come = self.reads.pop().text
            self.at += 2 if word == "to" else 3
            return True
        if word == "gap" and self.reads and self.reads[-1].end is None and len(self.reads) > 1:
            self.gap, self.at = self.reads.pop().text, self.at + 1
            return True
        if word in ("finished", "fin"):
            self.to_come, self.at = "none", self.at + 1
            return True
        if word in _TRUE and not (word == "level" and self._word_at(self.at + 1) == "line"):
            self.true, self.at = True, self.at + 1
            return True
        return False

    def _line(self) -> bool:
        """What it is read from: a line of its own axis; the line words about it are of the other."""
        at = self.at
        while self._word_at(at) in (
            "left", "right", "of", "above", "below", "over", "under", "up", "down", "from", "off", "in", "short", "the",
        ):  # fmt: skip
            at += 1
        meant = None
        if at < len(self.parts):
            try:
                meant = reference(self.parts, at, self.sentence, self.side.axis, self.setting, lines_only=True)
            except ValueError:
                meant = None
        words = {self._word_at(one) for one in range(self.at, at)}
        named = at < len(self.parts) and self.parts[at].kind == "name"
        if meant is None and self._is_called_by_its_figure(at) and words & {"off", "above", "from", "below"}:
            self.at = at + 1 + (self._word_at(at + 1) == "line")
            self.line = self.line or self._only_line()
            return True
        if meant is None and self._word_at(self.at) in ("below", "above", "over", "under"):
            self.ways.add(self._word_at(self.at))
            self.at += 1
            return True
        if meant is None or meant[0].start is None or not (words - {"the"} or named):
            return False
        said = self.sentence[self.parts[at].start : self.parts[meant[1] - 1].end]
        name = meant[0].start.name if not meant[0].shift else said
        if self.line and self.line != name:
            raise ValueError(
                f"{found(self.sentence)} is read from two lines, {self.line} and {name}: keep one of them."
            )
        self.line, self.at = name, meant[1]
        self.ways |= words & {"left", "right", "above", "below", "over", "under", "down", "short"}
        return True

    def _is_called_by_its_figure(self, at: int) -> bool:
        """Whether a figure is what a line is called by: "off the 1000", where the line is 1000 above something."""
        if at >= len(self.parts) or self.parts[at].kind != "figure" or self._word_at(at - 1) != "the":
            return False
        only = self._only_line()
        return self.setting.line_words.get(only, "").startswith(f"{self.parts[at].word} ")

    def _only_line(self) -> str:
        return self._only("x" if self.side.axis == "across" else "y")

    def _only(self, wanted: str) -> str:
        own = [name for name, fixes in (self.setting.lines or {}).items() if fixes == wanted]
        return own[0] if len(own) == 1 else ""

    def _end(self) -> bool:
        """The end of the edge that a figure is of: "top", "at L", "by the door", "left end"; both of them."""
        at = self.at
        while self._word_at(at) in _AT:
            at += 1
        word = self._word_at(at)
        end = _ENDS.get(word)
        if self.setting.kind == "floor" and word in _FAR_END and self._word_at(at + 1) != "wall":
            end = Side.TOP
        if self.setting.kind == "floor" and word in _DOOR and at > self.at and self._door_is_at_the_base():
            end = Side.BOTTOM
        if end is None or end.axis == self.side.axis:
            return False
        at += 1
        while self._word_at(at) in _OF_AN_END:
            at += 1
        if self._word_at(at) == "and":
            other = _ENDS.get(self._word_at(at + 1))
            if other is end.opposite and len(self.reads) == 1 and self.reads[0].end is None:
                self.true, self.at = True, at + 2
                return True
        if self.reads and self.reads[-1].end is None:
            self.reads[-1].end = end
        elif self.waiting is None:
            self.waiting = end
        else:
            return False
        self.at = at
        return True

    def _door_is_at_the_base(self) -> bool:
        lines = self.setting.lines or {}
        return any(
            fixes == "y" and not _DOOR.isdisjoint(plain_words(self.setting.line_words.get(name, "")))
            for name, fixes in lines.items()
        )

    def _own_side(self) -> bool:
        """Which edge it is, said again: "LH wall", "R corner", "far wall", "on the right"."""
        at = self.at
        while self._word_at(at) in ("on", "the", "at"):
            at += 1
        word = self._word_at(at)
        own = _ENDS.get(word)
        is_far = word in _FAR_END and self._word_at(at + 1) == "wall" and self.setting.kind == "floor"
        if is_far:
            own = Side.TOP
        if own is None or own.axis != self.side.axis:
            return False
        if own is not self.side:
            raise ValueError(
                f"{found(self.sentence)} says {word}, and stands at the {self.side} edge: look which it is."
            )
        at += 1
        if self._word_at(at) in ("wall", "corner") and self.setting.kind == "wall" and self.side.axis == "across":
            self.what.append("next wall")
            at += 1
        elif self._word_at(at) in _OF_AN_END:
            at += 1
        self.at = at
        return True

    def _word(self) -> bool:
        """What is there, or a word that says nothing."""
        word = self._word_at(self.at)
        if word in _NO_END_OF_IT and self._word_at(self.at + 1) == "end":
            self.what.append(f"{word} end")
            self.at += 2
            return True
        if (word, self._word_at(self.at + 1)) in (
            ("pinches", "to"),
            ("opens", "to"),
            ("narrows", "to"),
            ("widens", "to"),
        ):
            self.at += 2
            return True
        own = plain_words(self.setting.edge_words.get(self.side, ""))
        if word in THINGS_AT_AN_EDGE or (word and word in own):
            # An end that is neither up nor down, left nor right: "door end" of a wall.
            if self._word_at(self.at + 1) == "end" and self.reads and word not in _NO_END_OF_IT:
                raise ValueError(
                    f"{found(self.sentence)} does not say which end the {word} end is: write "
                    f"{self._two_ends()}, as in {self._example()}."
                )
            self.what.append(word)
        elif word != "=" and word not in _NOTHING:
            return False
        self.at += 1
        return True

    def _two_ends(self) -> str:
        return "left or right" if self.side.axis == "up" else "top or bottom"

    def _example(self) -> str:
        name = self.line or self._only_line() or "V"
        way = _WAYS[self.setting.kind][self.side]
        ends = ("left", "right") if self.side.axis == "up" else ("bottom", "top")
        one, two = [read.text for read in self.reads[:2]] if len(self.reads) > 1 else ("1140", "1133")
        return f"{one} {ends[0]}, {two} {ends[1]}, {way} {name}"

    def _made(self) -> Keys:
        line = self.line or self._only_line()
        if not line:
            raise ValueError(f"{found(self.sentence)} does not say from what: write it as in {self._example()}.")
        if not self.reads:
            raise ValueError(f"{found(self.sentence)} does not say where the edge is: write {self._example()}.")
        if len(self.reads) > 1 and any(read.end is None and not read.along for read in self.reads):
            raise ValueError(
                f"{found(self.sentence)} has {len(self.reads)} readings, and one does not say at which end it was "
                f"taken: write it as in {self._example()}."
            )
        if len({(read.end, read.along) for read in self.reads}) != len(self.reads):
            raise ValueError(f"{found(self.sentence)} has two readings at one end: keep one of them.")
        way = self._way()
        at = [self._reading(read, f"{read.text} {way} {line}") for read in self.reads]
        what = " ".join(dict.fromkeys(self.what))
        keys = {"at": BETWEEN.join(at)}
        if what:
            keys["what"] = what
        if self.true and len(self.reads) == 1:
            keys["true"] = "plumb" if self.side.axis == "across" else "level"
        if self.to_come:
            keys["still to come"] = self.to_come
        if self.gap:
            keys["gap"] = self.gap
        for one in at:
            parse_edge(one, self.side, self.setting)
        return keys

    def _way(self) -> str:
        usual = _WAYS[self.setting.kind][self.side]
        alike = {"over": "above", "under": "below", "down": "below", "left": "left of", "right": "right of"}
        said = {alike.get(word, word) for word in self.ways}
        if OPPOSITE_WAY[usual] in said and usual not in said:
            return OPPOSITE_WAY[usual]
        return usual

    def _reading(self, read: _ReadAt, where: str) -> str:
        """A reading with its place along the edge, which is where the edge at that end is."""
        if read.along:
            return f"{where} at {read.along}"
        if read.end is None or len(self.reads) == 1:
            return where
        place = self.ends.get(read.end, "")
        if not place:
            way = _WAYS[self.setting.kind][read.end]
            raise ValueError(
                f"{found(self.sentence)} is read at the {read.end}, and nothing says where that is: give the "
                f"{read.end} edge, or write {where} at 1450 {way} and a line."
            )
        return f"{where} at {place}"


def where_alone(sentence: str, side: Side, setting: Setting) -> str:
    """Where an edge is, for those that were read where they meet it; "" where that is not said."""
    setting = replace(setting, side=side)
    if takes(lambda: parse_edge(sentence, side, setting)):
        return sentence.partition(" at ")[0]
    try:
        keys = edge_said(sentence, side, setting, {one: _placeholder(one, setting) for one in Side})
    except ValueError:
        return ""
    return keys.get("at", "").partition(BETWEEN)[0].partition(" at ")[0]


def _placeholder(side: Side, setting: Setting) -> str:
    """Some place on a line of that side's axis: where it is does not count."""
    wanted = "x" if side.axis == "across" else "y"
    name = next((name for name, fixes in (setting.lines or {}).items() if fixes == wanted), "")
    return f"0 {_WAYS[setting.kind][side]} {name}"
