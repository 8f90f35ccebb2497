"""What is heard in the words of a position, in any order: figures, which part of the thing, which way, from what.

    "btm of box 4 1/2 off the worktop, top 8 1/4"
    figures 4 1/2 and 8 1/4; parts low and high; from the worktop

Every word must be one that is known here: a word that is not is never passed over, because it may turn the meaning.
What the parts make together is said by `cutmarks.job.grammar`.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from msgspec import Struct, field
from msgspec.structs import replace

from cutmarks.fittings import find
from cutmarks.job.references import ARTICLES, Origin, reference, turned
from cutmarks.job.tokens import Token, plain_words, tokens
from cutmarks.job.vocabulary import (
    BURNT,
    FILLERS,
    FLOOR_FILLERS,
    HALF_A_STEP,
    HANDS,
    IN_A_ROOM,
    LEANS,
    LEANS_BEFORE,
    MARKS,
    MATERIALS,
    OFF,
    OFF_AN_EDGE,
    ON_AXIS,
    ONE_WAY,
    OTHER_HAND,
    PLURALS,
    ROWS_FROM,
    ROWS_OF_ANY_WAY,
    ROWS_THAT_LIE,
    ROWS_THAT_STAND,
    RUNS_THROUGH,
    SEVERAL,
    SIDES,
    STANDS,
    SURELY_SEVERAL,
    THINGS,
    WAYS,
    WIDE,
    Hand,
    Row,
    Stands,
)
from cutmarks.job.words import MOST_LISTED, Setting, either, found, line_named
from cutmarks.readings import From
from cutmarks.sides import Axis, Side
from cutmarks.units import Length, Unit


class Figure(Struct):
    """One distance, or the two of "67 to 83", mm; `way` 1 or -1 where its own words say it, `hand` likewise."""

    first: float
    second: float | None
    text: str
    way: int | None = None
    hand: Hand = ""


class Heard(Struct):
    """All that a phrase says.

    size    the thing's own size along this axis, mm.
    several what says that more than one thing is meant; numbered: how often one is called the first, the second.
    burnt   what comes off each figure, mm.
    """

    figures: list[Figure] = field(default_factory=list)
    parts: list[tuple[Hand, str]] = field(default_factory=list)
    ways: list[int] = field(default_factory=list)
    origin: Origin | None = None
    stands: Stands = ""
    size: float | None = None
    several: list[str] = field(default_factory=list)
    numbered: int = 0
    things: set[str] = field(default_factory=set)
    either_side: bool = False
    between_centres: bool = False
    burnt: float = 0.0


def ways_of(axis: Axis, setting: Setting) -> Mapping[Row, int]:
    """The words for which side of a line, and the sign of each."""
    return WAYS[axis, setting.kind]


def heard(phrase: str, axis: Axis, setting: Setting, *, lines_only: bool = False) -> Heard:
    """Everything that the words of a phrase say; `lines_only`: what it is read from can be no edge by what it is.

    Raises ValueError: a word or figure that is not understood.
    """
    listener = _Listener(phrase, axis, setting, lines_only)
    while listener.at < len(listener.parts):
        listener.hear()
    return listener.said


class _Listener:
    """Goes through the parts of a phrase once, each word taken by the first rule that knows it."""

    def __init__(self, phrase: str, axis: Axis, setting: Setting, lines_only: bool) -> None:
        self.phrase, self.axis, self.setting, self.lines_only = phrase, axis, setting, lines_only
        self.parts: Sequence[Token] = tokens(phrase, setting)
        self.words = [part.word if part.kind == "word" else "" for part in self.parts]
        self.at = 0
        self.said = Heard()
        self.ways = ways_of(axis, setting)
        self.leaning = 0
        """Which way the next figure leans."""

    def hear(self) -> None:
        """Take what begins here."""
        rules = (
            self._mark, self._figure, self._either_side, self._burnt, self._which_side_it_is_on, self._stand,
            self._lean, self._runs_through, self._thing_named, self._to_the_thing, self._part, self._finished_floor,
            self._read_from, self._way, self._name, self._word,
        )  # fmt: skip
        if not any(rule() for rule in rules):
            raise ValueError(self._not_understood())

    def _words(self, count: int = 1, at: int | None = None) -> Row:
        """So many words from here on, "" in the place of what is none; fewer where the phrase ends."""
        at = self.at if at is None else at
        return tuple(self.words[at : at + count])

    def _word_at(self, at: int) -> str:
        return self.words[at] if 0 <= at < len(self.words) else ""

    def _ends_at(self, at: int) -> bool:
        """Whether what is said of one figure ends here."""
        return at >= len(self.parts) or self.parts[at].kind == "mark" or self.parts[at].word in ("then", "and", "is")

    def _longest(self, table: Mapping[str, tuple[Row, ...]]) -> Row:
        """The longest row of words of a table that begins here."""
        rows = table.get(self.parts[self.at].word, ())
        return next((row for row in rows if self._words(len(row)) == row), ())

    def _reference(self, at: int, *, whole: bool = False) -> tuple[Origin, int] | None:
        return reference(self.parts, at, self.phrase, self.axis, self.setting, lines_only=self.lines_only, whole=whole)

    def _mark(self) -> bool:
        if self.parts[self.at].kind != "mark" or self.parts[self.at].word not in MARKS:
            return False
        self.at += 1
        return True

    def _figure(self) -> bool:
        """A distance, or the thing's own size."""
        part = self.parts[self.at]
        if part.kind != "figure" or part.first is None:
            return False
        if part.second is None and self._is_size(part):
            return True
        if self.at and self.parts[self.at - 1].kind == "figure":
            raise ValueError(
                f"{found(self.phrase)} has two distances with nothing between: write it as in {self._example()}."
            )
        second = None if part.second is None else part.second.mm
        lean = self.leaning * _half_a_step(part.first)
        self.leaning = 0
        self.said.figures.append(Figure(part.first.mm + lean, second, part.word))
        self.at += 1
        return True

    def _is_size(self, part: Token) -> bool:
        """Whether a figure is the thing's own size, and if so, take it: "73 wide", "box 73", "15 copper"."""
        assert part.first is not None
        behind = self.at + 1
        word = self._word_at(behind)
        gang = behind + (behind < len(self.parts) and self.parts[behind].word == "-")
        if self._word_at(gang) == "gang":
            self.at = gang + 1
            return True
        if (word, self._word_at(behind + 1)) == ("over", "all"):
            return self._take_size(part.first, behind + 2)
        if word in WIDE[self.axis] or (word == "over" and self._ends_at(behind + 1)):
            return self._take_size(part.first, behind + 1)
        if word == "s" and self._ends_at(behind + 1):
            return self._take_size(self._outside(part.first, "pipe"), behind + 1)
        last = behind
        while self._word_at(last) in MATERIALS:
            last += 1
        if last > behind and self._ends_at(last):
            return self._take_size(self._outside(part.first, " ".join(self._words(last - behind, behind))), last)
        if word == "box" and self._ends_at(behind + 1):
            return self._take_size(part.first, behind + 1)
        before = self.at - 1
        if self._word_at(before) == "is":
            before -= 1
        if self._word_at(before) == "box" and self._ends_at(behind) and (self.said.figures or self.said.stands):
            return self._take_size(part.first, behind)
        return False

    def _take_size(self, length: Length | float, end: int) -> bool:
        mm = length if isinstance(length, float) else length.mm
        if self.said.size is not None and self.said.size != mm:
            raise ValueError(f"{found(self.phrase)} gives two sizes: one thing stands here, as in {self._example()}.")
        self.said.size = mm
        self.at = end
        return True

    def _outside(self, length: Length, kind: str) -> float:
        """What a pipe that is called so measures outside, mm."""
        spelt = {"cu": "copper", "pl": "pipe", "plastic": "pipe"}.get(kind, kind)
        named = f"{length.text} {spelt}"
        try:
            fitting = find(named, self.setting.say, self.setting.unit, self.setting.own_fittings or ())
        except ValueError:
            fitting = None
        if fitting is None or fitting.od is None:
            raise ValueError(
                f"{found(self.phrase)}: {length.text} {kind} does not say how wide it is here; write that under what, "
                f"and here its place alone, as in {self._example()}."
            )
        return fitting.od

    def _lean(self) -> bool:
        """Bare or full behind a figure: half a step of the tape less or more."""
        if row := self._longest(LEANS_BEFORE):
            behind = self.at + len(row)
            if behind >= len(self.parts) or self.parts[behind].kind != "figure":
                return False
            self.leaning, self.at = LEANS[row[0]], behind
            return True
        way = LEANS.get(self._word_at(self.at))
        if way is None or not self.said.figures or self.parts[self.at - 1].kind != "figure":
            return False
        figure, length = self.said.figures[-1], self.parts[self.at - 1].first
        assert length is not None
        step = way * _half_a_step(length)
        if figure.second is None:
            figure.first += step
        else:
            figure.second += step
        self.at += 1
        return True

    def _burnt(self) -> bool:
        """The tape was held at so much."""
        if self._word_at(self.at) not in BURNT:
            return False
        at = self.at + 1
        while self._word_at(at) in ("by", "at", "to", "the"):
            at += 1
        if at >= len(self.parts) or self.parts[at].kind != "figure" or self.parts[at].second is not None:
            raise ValueError(
                f"{found(self.phrase)} does not say at what the tape was held: write it as in 1167 to 1183 left of V, "
                "burnt 100."
            )
        length = self.parts[at].first
        assert length is not None
        self.said.burnt = length.mm
        self.at = at + 1
        return True

    def _either_side(self) -> bool:
        words = self._words(2)
        if words not in (("either", "side"), ("each", "side"), ("both", "sides"), ("two", "side"), ("two", "sides")):
            return False
        self.said.either_side = words[0] in ("either", "each")
        self.at += 2
        if self._words(2) == ("of", "it"):
            self.at += 2
        elif self._word_at(self.at) == "of" and self.said.either_side:
            self.at += 1
            self._from_what(0)
        return True

    def _stand(self) -> bool:
        """With no distance between: on V, flush with, hard up to, same height as."""
        row = self._longest(ROWS_THAT_STAND)
        if not row:
            return False
        end = self.at + len(row)
        if row == ("up", "to") and end < len(self.parts) and self.parts[end].kind == "figure":
            self.at = end  # "92 up to 107": both sides
            return True
        meant = self._reference(end)
        lone_side = meant is not None and meant[0].is_edge_there and meant[1] == end + (self._word_at(end) == "the") + 1
        if (meant is None or lone_side) and row == ("on",):
            return False
        if lone_side:
            raise ValueError(
                f"{found(self.phrase)} does not say what is there: write the left edge, the right corner, or what "
                "it is."
            )
        if meant is None:
            self.at = end
            self._from_what(0, stands=STANDS[row])
            return True
        self._take(meant, 0, STANDS[row])
        return True

    def _which_side_it_is_on(self) -> bool:
        """On which side it lies, "on your left"; or where the thing is that it is read from, "frame's on the right"."""
        at = self.at
        start = self.said.origin.start if self.said.origin is not None else None
        is_edge = start is not None and start.kind == "edge" and start.side is not None
        if start is not None and is_edge and start.side is not None:
            what = plain_words(self.setting.edge_words.get(start.side, ""))
            while self._word_at(at) in (*what, *ARTICLES, "is"):
                at += 1
        if self.axis == "up" or self._word_at(at) != "on":
            return False
        at += 1
        while self._word_at(at) in ("the", "your"):
            at += 1
        way = ONE_WAY["across"].get(self._word_at(at), 0)
        if not way or self._word_at(at + 1) in SIDES:
            return False
        if start is not None and is_edge:
            if (start.side is Side.RIGHT) != (way > 0):
                raise ValueError(f"{found(self.phrase)} says two sides: it is read from the {start.side} edge.")
        else:
            self._add_way(way)
        self.at = at + 1
        return True

    def _part(self) -> bool:
        """Which part of the thing: near side, top, c/l, LH edge of box."""
        at = self.at
        while self._word_at(at) in ("to", "on", "at", "same", *ARTICLES) and self._word_at(at + 1) not in SIDES:
            at += 1
        word, behind = self._word_at(at), self._word_at(at + 1)
        has_side = behind in SIDES
        if word in ("this", "that") and has_side:
            word = "near" if word == "this" else "far"
        if word == "first" and has_side:
            word = "near"
        if word == "other" and has_side and len(self.said.parts) == 1:
            self.said.parts.append((OTHER_HAND[self.said.parts[0][0]], f"other {behind}"))
            self.at = at + 2
            return True
        if has_side and word in ("left", "right") and self._is_side_of_a_line(at + 2):
            return False
        if word in ("left", "right", "bottom", "top") and behind == "of" and self._is_the_thing(at + 2):
            has_side, behind = True, "side"
            at -= 1  # "left of the box 340 right of V": its left side
        if word not in HANDS or (word in ("left", "right", "lower", "upper") and not has_side):
            return False
        if (word, behind) in (("left", "of"), ("right", "of")):
            return False
        called = f"{word} {behind}" if has_side else word
        if ON_AXIS.get(word, self.axis) != self.axis:
            sides = "left side or right side" if self.axis == "across" else "underside or top"
            raise ValueError(
                f"{found(self.phrase)} names the {called}, which is no side on this axis: write {sides}, or near or "
                "far."
            )
        self.said.parts.append((HANDS[word], called))
        self.at = at + (2 if has_side else 1)
        self._of_the_thing()
        return True

    def _is_side_of_a_line(self, at: int) -> bool:
        """Whether a side is the one of a line by its name, and none of the thing: "RH side of V"."""
        return self._word_at(at) == "of" and at + 1 < len(self.parts) and self.parts[at + 1].word in self._lines

    @property
    def _lines(self) -> Mapping[str, object]:
        return self.setting.lines or {}

    def _is_the_thing(self, at: int) -> bool:
        """Whether the thing itself stands here, and nothing that it could be read from: box, pipe."""
        while self._word_at(at) in ARTICLES:
            at += 1
        behind = at + 1
        goes_on = behind < len(self.parts) and self.parts[behind].kind == "figure"
        return self._word_at(at) in ("box", "pipe", "valve", "socket", "switch", "it") and goes_on

    def _of_the_thing(self) -> None:
        """Pass over "of the box" behind a part: it is the thing itself."""
        at = self.at
        if self._word_at(at) != "of":
            return
        at += 1
        while self._word_at(at) in ARTICLES:
            at += 1
        if self._word_at(at) in THINGS:
            while self._word_at(at) in THINGS:
                at += 1
            self.at = at

    def _finished_floor(self) -> bool:
        """So much above finished floor, with no more said: 1050 FFL, 46 AFF."""
        if self._word_at(self.at) != "finished floor":
            return False
        if self.axis == "across":
            raise ValueError(_does_not_fit(self.phrase, self.axis, self.setting))
        self._from_what(1)
        return True

    def _read_from(self) -> bool:
        """From what: left of V, off the batten, in from right there."""
        row = self._longest(ROWS_FROM[self.axis, self.setting.kind])
        if not row:
            other = self._longest(ROWS_OF_ANY_WAY)
            # Words of the other axis are a slip that has a sentence of its own, where a line follows them.
            if other and self.parts[self.at + len(other) :] and self.parts[self.at + len(other)].kind == "name":
                raise ValueError(_does_not_fit(self.phrase, self.axis, self.setting))
            return False
        end = self.at + len(row)
        behind = self.parts[end] if end < len(self.parts) else None
        way = self.ways.get(row, 0)
        if row in (("in", "from"), ("in", "off"), ("from",), ("off",)) and self.setting.kind == "floor":
            way = 0 if self.axis == "across" else way
        if behind is None or behind.kind in ("figure", "mark") or behind.word in ("to", "and", "then"):
            # "2 1/4 below": which way, with no line behind it; "from 67 to 83": nothing is said yet.
            if way and row[-1] not in ("from", "off"):
                return False
            self.at = end
            return True
        self.at = end
        meant = self._reference(end)
        if row in OFF_AN_EDGE and meant is not None and meant[0].start is not None and meant[0].start.kind == "edge":
            way = 0  # off a wall is into the room, whichever wall it is
        self._from_what(way)
        if self.said.origin is not None and not OFF.isdisjoint(row):
            self.said.origin = replace(self.said.origin, is_edge_there=False)
        return True

    def _from_what(self, way: int, stands: Stands = "") -> None:
        """Take the reference that begins here. Raises ValueError: there is none."""
        meant = self._reference(self.at)
        if meant is None:
            if self.setting.lines is None and self.at < len(self.parts):
                name = self.phrase[self.parts[self.at].start :].strip()
                self.at = len(self.parts)
                self._take((Origin(From("line", line_named(name, self.axis, self.setting))), self.at), way, stands)
                return
            raise ValueError(self._no_reference())
        self._take(meant, way, stands)

    def _take(self, meant: tuple[Origin, int], way: int, stands: Stands) -> None:
        origin, self.at = meant
        start = origin.start
        if start is not None and start.kind == "piece" and start.side is None:
            if not way:
                raise ValueError(
                    f"{found(self.phrase)} does not say from which edge of {start.name}: write it as in "
                    f"from the {'right' if self.axis == 'across' else 'top'} edge of {start.name}."
                )
            side = {("across", 1): Side.RIGHT, ("across", -1): Side.LEFT, ("up", 1): Side.TOP, ("up", -1): Side.BOTTOM}
            origin = turned(origin, side[self.axis, way])
        before = self.said.origin
        if before is not None and (before.start, before.hole, before.shift) != (
            origin.start,
            origin.hole,
            origin.shift,
        ):
            one, two = (_called(each) for each in (before, origin))
            if one == two:
                raise ValueError(f"{found(self.phrase)} says its place twice, from two things: keep one of them.")
            raise ValueError(f"{found(self.phrase)} is from two lines, {one} and {two}: read both sides from one.")
        self.said.origin = origin
        if stands:
            self.said.stands = self.said.stands or stands
        elif way:
            self._add_way(way)

    def _add_way(self, way: int) -> None:
        self.said.ways.append(way)

    def _way(self) -> bool:
        """Which way, with nothing behind it: left, R, up, in."""
        at = self.at
        while self._word_at(at) in ("to", "the", "going", "on", "your", "further"):
            at += 1
        word = self._word_at(at)
        table = IN_A_ROOM if self.axis == "up" and self.setting.kind == "floor" else ONE_WAY[self.axis]
        if word not in table:
            return False
        self._add_way(table[word])
        self.at = at + 1
        # "67 to 83 left V"
        if at + 1 < len(self.parts) and self.parts[at + 1].kind == "name":
            self._take_name(at + 1)
        return True

    def _take_name(self, at: int) -> None:
        meant = self._reference(at)
        assert meant is not None
        origin, self.at = meant
        self._take((origin, self.at), 0, "")

    def _runs_through(self) -> bool:
        """A line that goes through the thing: "B runs through the box"."""
        for row in RUNS_THROUGH:
            for start in range(self.at + 1, min(self.at + 3, len(self.parts))):
                if self._words(len(row), start) == row:
                    meant = self._reference(self.at)
                    if meant is not None and meant[1] == start:
                        self._take((meant[0], start + len(row)), 0, "across")
                        return True
        return False

    def _name(self) -> bool:
        """A line's name alone."""
        if self.parts[self.at].kind not in ("name", "piece"):
            return False
        self._take_name(self.at)
        return True

    def _word(self) -> bool:
        """A word for the thing itself, or one that says nothing of its place."""
        word = self._word_at(self.at)
        if row := self._longest(ROWS_THAT_LIE):
            self.at += len(row) - 1
        elif self._words(2) in (("walking", "in"), ("looking", "in")) and self.setting.kind == "floor":
            self.at += 1
        elif self._words(2) == ("same", "size"):
            # What lies so much higher than another of its size lies so much higher at its middle too.
            self.said.between_centres = True
        elif word in ("hot", "cold", "h", "c") or word in THINGS:
            self.said.things.add(word)
        elif word[:1].isdigit():
            self.said.numbered += 1
            if self._word_at(self.at + 1) == "one":
                self.at += 1 + (self._word_at(self.at + 2) in ("in", "along"))
        elif word == "centres" and self.said.origin is None and self._hole_follows():
            self.said.between_centres = True
        elif word in SEVERAL or word in PLURALS or (word.endswith(("st", "nd", "rd", "th")) and word[0].isdigit()):
            if word == "centres" and self.said.origin is not None and self.said.origin.hole:
                self.said.between_centres = True
            else:
                self.said.several.append(word)
        elif word not in FILLERS and not (self.setting.kind == "floor" and word in FLOOR_FILLERS):
            return False
        self.at += 1
        return True

    def _hole_follows(self) -> bool:
        return any(part.kind == "name" and part.word in (self.setting.holes or {}).values() for part in self.parts)

    def _thing_named(self) -> bool:
        """What it is read from, with no word such as from before it: "bath end to pipe 37"."""
        begins = self.at == 0 or self.parts[self.at - 1].kind == "mark"
        if self.said.origin is not None or self.parts[self.at].kind != "word" or not begins:
            return False
        meant = self._reference(self.at, whole=True)
        is_side = meant is not None and meant[0].is_edge_there and self._word_at(self.at) not in ("ceiling", "floor")
        if meant is None or is_side or meant[0].hole:
            return False
        self._take(meant, 0, "")
        return True

    def _to_the_thing(self) -> bool:
        """From what it is read to the thing itself: "bath end to pipe 37", which is to its near side."""
        at = self.at + 1
        while self._word_at(at) in ARTICLES:
            at += 1
        ends = at + 1
        is_one = self._word_at(self.at) == "to" and self._word_at(at) in THINGS and self._word_at(at) not in HANDS
        if not is_one or self.said.origin is None or self.said.parts or self.said.figures:
            return False
        if ends >= len(self.parts) or self.parts[ends].kind != "figure":
            return False
        self.said.parts.append(("near", f"near side of the {self._word_at(at)}"))
        self.at = ends
        return True

    def _is_of_several(self) -> bool:
        """Whether the phrase, as far as it is understood, is of more than one thing."""
        words = {part.word for part in self.parts if part.kind == "word"}
        return not SURELY_SEVERAL.isdisjoint(words) or {"hot", "cold"} <= words or {"h", "c"} <= words

    def _not_understood(self) -> str:
        if self._is_of_several():
            return of_several(self.phrase, self.setting)
        if self._word_at(self.at) in ("x", "by") and self.parts[self.at - 1].kind == "figure":
            return (
                f"{found(self.phrase)} gives two sizes: these stand apart, as in size: 70 x 70, and here its place "
                f"alone, as in {self._example()}."
            )
        rest = self.phrase[self.parts[self.at].start :].strip()
        if not self.said.figures and not self.said.stands:
            return f"{found(self.phrase)} is no position: write it as in {self._example()}."
        if rest.startswith("?") and not any(one.second is not None for one in self.parts):
            return (
                f"{found(self.phrase)} gives one figure, and ? for the other: write both, as in {self._example()}, or "
                "leave it out until both are read."
            )
        words = "right of or left of" if self.axis == "across" else way_words(self.setting)
        return (
            f"{found(rest)} is not understood behind the distance: write {words} and a set-out line, "
            f"as in {self._example()}."
        )

    def _no_reference(self) -> str:
        if self._is_of_several():
            return of_several(self.phrase, self.setting)
        end = self.at
        while end < len(self.parts) and self.parts[end].kind in ("word", "name"):
            end += 1
        if end == self.at:
            return f"{found(self.phrase)} does not say from what: write it as in {self._example()}."
        name = self.phrase[self.parts[self.at].start : self.parts[end - 1].end]
        words = {part.word for part in self.parts[self.at : end]}
        if "finished floor" in words:
            return (
                f"{found(self.phrase)}: nothing here is said to be the finished floor: write how far a level line is "
                "above "
                'it, as in "B: level, 1000 above finished floor".'
            )
        if words & {"wall", "corner"}:
            one, two = ("left", "right") if self.axis == "across" else ("bottom", "top")
            return f"{found(name)} can be either end: write in from {one} there, or in from {two} there."
        if self.said.several or "other" in words or "same" in words:
            holes = list((self.setting.holes or {}).values())[:MOST_LISTED]
            return f"{found(name)} does not say which: write its name, as in level with {either(holes) or 'hot'}."
        line_named(name, self.axis, self.setting)
        return f"{found(name)} is no set-out line of this surface."

    def _example(self) -> str:
        return example(self.axis, self.setting)


def _half_a_step(length: Length) -> float:
    return HALF_A_STEP[length.unit in (Unit.INCH, Unit.FOOT)]


def of_several(phrase: str, setting: Setting) -> str:
    """That a phrase is of more than one thing, and how these are said."""
    apart = "6" if setting.unit in (Unit.INCH, Unit.FOOT) else "150"
    return (
        f"{found(phrase)} is of more than one thing: give each a hole of its own, with its own place; how far they are "
        f"apart stands under pairs, as in {{of: hot and cold, apart: {apart}}}."
    )


def _called(origin: Origin) -> str:
    if origin.start is None:
        return origin.hole
    return f"the {origin.start.side} edge" if origin.start.kind == "edge" else origin.start.name


def way_words(setting: Setting) -> str:
    """The two ways up a wall, or in on a floor, in words."""
    return "above or below" if setting.kind == "wall" else "from or short of"


def _does_not_fit(phrase: str, axis: Axis, setting: Setting) -> str:
    words = "right of or left of" if axis == "across" else way_words(setting)
    key = "across" if axis == "across" else ("up" if setting.kind == "wall" else "in")
    return f"{found(phrase)} does not fit {key}, which takes {words} a line: write it as in {example(axis, setting)}."


def example(axis: Axis, setting: Setting) -> str:
    """A position as it is written on this axis."""
    if axis == "across":
        return "67 to 83 left of V"
    return "212 to 228 above B" if setting.kind == "wall" else "1420 to 1530 from D"
