"""Two things and more said in one line: "hot and cold, 15 copper, 150 centres, split on V, 240 above B to centre".

So many at centres, split on a line or counted from one of them; the same so far either side of a line; or each behind
its own name. Each becomes a hole of its own; what is said of no one of them is said of all. Where it is open which is
which, or where they lie, it is asked.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence

from msgspec import Struct
from msgspec.structs import replace

from cutmarks.job.catalogued import is_of_a_shape, what_in
from cutmarks.job.grammar import parse_thing
from cutmarks.job.measures import length_as_written
from cutmarks.job.parting import HAS_FIGURE, Keys, parts_of, takes
from cutmarks.job.references import reference
from cutmarks.job.said_hole import at_colon, hole_keys, hole_said, is_to_centre
from cutmarks.job.said_names import MOST_WORDS_NAMED
from cutmarks.job.said_places import AXES, both_ways
from cutmarks.job.said_words import NOT_OF_A_THING, OF_A_PLACE
from cutmarks.job.tokens import plain_words, tokens
from cutmarks.job.vocabulary import MATERIALS
from cutmarks.job.words import FIGURE, Setting, found, in_figures
from cutmarks.patterns import late
from cutmarks.sides import Axis
from cutmarks.units import UNIT_WORDS, parse_length

_LENGTH = rf"\.?[{FIGURE}](?:[{FIGURE}./]|\s(?=[0-9]+/)|\s(?=[½¼¾]))*(?:\s?(?:mm|cm|in|\"))?"
_CENTRES = (
    r"(?:on )?(?:centres?|centers?|crs|ctrs?|c/c|c-c|c to c|o\.?\s?c\.?|o/c|centre to centre|center to center)"
    r"|apart(?: to (?:the )?(?:centres?|centers?))?|between (?:centres|centers|ctrs)|s(?= centres|$)"
)
_SPACING = late(rf"(?P<who>.*?)\s*\b(?:at |set at |on )?(?P<apart>{_LENGTH})\s?(?:{_CENTRES})(?P<rest>(?!\w).*)$", re.I)
_SPLIT = late(
    r"(?:set |one )?(?:either|each) side of (?:the )?(?P<sides>[^0-9]\S*)$|(?:split|equal(?:ly)?|evenly|"
    r"half and half|half each side|spread|centred|centered|central)"
    r"(?: evenly| equally)?(?: either side of| each side of| on| over| about| across| by)?\s+(?:the )?(?P<line>\S.*)$"
    r"|(?P<between>\S.*?) (?:(?:bang|dead|right|smack|slap) )?"
    r"(?:half ?way|midway|in the middle|down the middle|dead centre|dead between|between)"
    r"(?: between)?"
    r"(?: them| the two| the pair)?$",
    re.IGNORECASE,
)
_EITHER_SIDE = late(
    rf"(?P<who>.*?)\s*\b(?P<much>{_LENGTH}) (?:either|each) side of (?P<line>\S.*?)(?:,? (?:and )?to (?:the |their )?"
    r"(?P<centre>c/l|ctrs?|centres?|centers?|middles?))?$",
    re.IGNORECASE,
)
_PAIRS: Sequence[tuple[str, str, str]] = (
    (r"hot\s*(?:and|&|\+|/)\s*cold|h\s*(?:and|&|\+|/)\s*c", "hot", "cold"),
    (r"cold\s*(?:and|&|\+|/)\s*hot|c\s*(?:and|&|\+|/)\s*h", "cold", "hot"),
    (r"flow\s*(?:and|&|\+|/)\s*return|f\s*(?:and|&|\+|/)\s*r", "flow", "return"),
    (r"return\s*(?:and|&|\+|/)\s*flow", "return", "flow"),
)
"""What two are called that belong together, and the name of each; in this order from the left, or from below."""
_OVER = late(
    r"(?P<upper>hot|cold|flow|return) (?:over|above|on top of) (?:the )?(?P<lower>hot|cold|flow|return)\b",
    re.IGNORECASE,
)
_ONE = late(
    r"(?:the )?(?P<one>(?:left|right|lh|rh|l/h|r/h|left[- ]hand|right[- ]hand|lower|upper|bottom|top|middle|"
    r"centre|center)"
    r"(?= one\b| pipe\b| tail\b| stub\b| stop\b| box\b| hole\b)|hot|cold|flow|return)(?: (?:one|pipe|tail|stub|"
    r"stop|box|hole))?"
    r"(?: is| at)? (?P<where>\S.*)$",
    re.IGNORECASE,
)
_SIDE_OF_ONE: Mapping[str, int] = {
    "left": 0, "lh": 0, "l/h": 0, "left hand": 0, "left-hand": 0, "lower": 0, "bottom": 0,
    "right": 1, "rh": 1, "r/h": 1, "right hand": 1, "right-hand": 1, "upper": 1, "top": 1,
}  # fmt: skip
_HOW_MANY = {"two": 2, "pair": 2, "pr": 2, "2": 2, "both": 2, "three": 3, "3": 3, "four": 4, "4": 4}
_COUNT = late(
    r"(?:(?:a )?(?P<count>two|three|four|pair|pr|2|3|4)(?: off| ?no\.?| x)?(?: of)?) (?P<who>[\w½¼¾][^,]*)$|"
    rf"(?P<plural>[^\W\d_][^,]*?s)(?:,? (?:a )?(?:pair|pr))?$|"
    rf"(?P<plain>[^\W\d_][^,{FIGURE}]*s) (?P<size>[{FIGURE}].*)$|"
    rf"{_LENGTH} (?P<sized>[^\W\d_]+s)$",
    re.IGNORECASE,
)
_OF_SEVERAL = late(r"^(?:tails?|stubs?|pipes?|supplies|stops|feeds|taps?)\b[\s,]*", re.IGNORECASE)
_A_PAIR = late(r"(?:a )?(?:pair|pr)(?: of)?$", re.IGNORECASE)
_TWO_OFF = late(r"^(?:2|two) (?:off|no\.?|x) ", re.IGNORECASE)
_COVERS_OF_ALL = late(r"\b(?:roses|collars|plates|escutcheons|covers)\b|\b(?:each|apiece)$", re.IGNORECASE)
_BOTH = late(r"^(?:both|each|all)(?: of them| are| at)*\s+", re.IGNORECASE)
_STACKED = late(r"\b(?:stacked|one above the other|one over the other|vertical(?:ly)?)\b", re.IGNORECASE)
_CLEAR = late(
    rf"(?P<gap>{_LENGTH}) (?:clear|gap)(?: between(?: them)?)?$|(?:gap|clear) (?:of )?(?P<behind>{_LENGTH})$", re.I
)
_AND_THE_OTHER = late(r"(?<=[^\W\d_]|\d)\s+and\s+(?=(?:hot|cold|flow|return)\s+[^\s]*\d)", re.IGNORECASE)
"""Where the second of two begins: "hot 15 copper 67 to 83 left of V and cold 15 copper ..."."""
_SEVERAL = late(
    rf"{_CENTRES.partition('|s(?=')[0]}|\b(?:either|each) side\b|\bpair\b|\bstacked\b|\bclear between\b|"
    rf"\bhot\b.*\bcold\b|"
    r"\b(?:left|lh|l/h)(?:[- ]hand)? (?:pipe|tail|stub|tap)\b|\d\D*\b(?:and|&) (?:\S+ )*?\S*\d|"
    r"\bcold\b.*\bhot\b|\bh ?[&+/] ?c\b|\bflow\b.*\breturn\b|\bf ?[&+/] ?r\b|\bthree\b|\btwo\b|\bfour\b|\b2 off\b",
    re.IGNORECASE,
)
_SIDE_BY_SIDE = late(r"[\s,]+side by side\b", re.IGNORECASE)
_FOR_WHAT = late(r"\s+for (?:the |a |an )?[^0-9]+$", re.IGNORECASE)
_NUMBER_OF = late(r"\b([234]) ?no\.? (?=[^\W\d_])", re.IGNORECASE)
_TO_THEIR_CENTRES = late(r"(?:to )?(?:the |their )?(?:c/l|ctrs?|centres?|centers?|middles?)$", re.IGNORECASE)
_TO_CENTRES_BEHIND = late(r" (?:all )?to (?:the |their )?(?:c/ls|ctrs|centres|centers|middles)$", re.IGNORECASE)
_AND = late(r" (?:and|&) ")
_WAY_FROM_WHAT = late(
    r"\b(?:(?:left|right|lh|rh|l|r|up|down) (?:of|from|off)|above|below|over|past|beyond)\s+\S.*$", re.IGNORECASE
)
_FROM_WHAT = late(r"\b(?:of|from|off|above|below|over|past|beyond)\s+\S.*$", re.IGNORECASE)
_KNOWN_NAMES = ("hot", "cold", "flow", "return")
SAME = 1.0
"""A gap that was said agrees with the two places that it lies between, mm."""


NOT_IN_A_NAME = NOT_OF_A_THING | OF_A_PLACE | {"both", "and", "the", "its", "centre", "each", "all"}


def in_one_unit(sentence: str, setting: Setting) -> str:
    """A sentence that says of all its figures what unit they are in, "..., all cm", with that behind each."""
    match = _ALL_IN.search(sentence)
    if match is None:
        return sentence
    rest, unit = _ALL_IN.sub("", sentence), match["unit"].lower()
    try:
        parts = tokens(rest, replace(setting, unit=UNIT_WORDS[unit]))
    except ValueError:
        return sentence
    made, at = "", 0
    for part, behind in zip(parts, [*parts[1:], None], strict=True):
        last = part.second or part.first
        if last is None or last.stated or (behind is not None and behind.word in MATERIALS | _COUNTED):
            continue
        end = part.start + len(part.word)
        made, at = f"{made}{rest[at:end]} {unit}", end
    return f"{made}{rest[at:]}"


_ALL_IN = late(
    r"[,;(]?\s*\b(?:(?:all|everything)(?: (?:the )?(?:dims|sizes|figures))?|dims|sizes|figures)(?: (?:is|are))?"
    r"(?: in)? (?P<unit>cm|mm|inch|inches|in)\b\)?",
    re.IGNORECASE,
)
_COUNTED = frozenset({"gang", "off", "no", "x"})


def things_said(sentence: str, setting: Setting) -> list[Keys]:
    """The keys of each hole that a sentence says: one, or several. Raises ValueError: one sentence."""
    sentence = in_one_unit(_NUMBER_OF.sub(r"\1 off ", in_figures(sentence)), setting)
    if not _SEVERAL.search(sentence):
        return [hole_said(sentence, setting)]
    several = _Several(sentence, setting)
    for read in (several.each_by_name, several.at_centres, several.either_side, several.two_places):
        if holes := read():
            return holes
    several.not_in_one_place()
    return [hole_said(sentence, setting)]


class _Named(Struct, frozen=True):
    """What several are called, the left or lower one first."""

    names: tuple[str, ...]


class _Several:
    """One sentence, looked at for each way of saying several things."""

    def __init__(self, sentence: str, setting: Setting) -> None:
        self.sentence, self.setting = sentence, setting
        parts = [piece for part in parts_of(sentence) for piece in at_colon(part)]
        self.parts = [piece for part in parts for piece in _at_the_other(part)]
        self.up = "up" if setting.kind == "wall" else "in"

    def at_centres(self) -> list[Keys]:
        """So many at centres: split on a line, or one of them read and the others so far from it."""
        at, match = self._first(_SPACING, is_of_a_hole=True)
        if match is None:
            return []
        apart = match["apart"]
        rest = [match["rest"].strip(" ,")] if match["rest"].strip(" ,.") else []
        who = [match["who"].strip()] if match["who"].strip() else []
        named, kept = self._names([*self.parts[:at], *who, *rest, *self.parts[at + 1 :]])
        split, one, others = "", None, list[str]()
        axis: Axis = "up" if _STACKED.search(self.sentence) or _OVER.search(self.sentence) else "across"
        for part in kept:
            line = self._split_on(part) or self._half_each_side(part, apart)
            own = _ONE.match(part)
            if line and not split:
                split, axis = line
            elif own is not None and one is None and (HAS_FIGURE.search(own["where"]) or own["where"][:3] == "on "):
                one = (own["one"].lower(), own["where"])
            elif not _STACKED.fullmatch(part) and part:
                others.append(_of_one(part))
        if not split and one is None:
            raise ValueError(self._where(apart))
        if split:
            return self._spread(named, apart, split, axis, others)
        assert one is not None
        return self._from_one(named, apart, one, axis, others)

    def _first(self, pattern: re.Pattern[str], *, is_of_a_hole: bool = False) -> tuple[int, re.Match[str] | None]:
        for number, part in enumerate(self.parts):
            match = pattern.match(part)
            # "150 centres right of hot" is where one thing is, from another that is there.
            if match is not None and is_of_a_hole and self._is_a_place(part):
                continue
            if match is not None:
                return number, match
        return 0, None

    def _is_a_place(self, part: str) -> bool:
        return both_ways(parse_thing, self.setting).read(part) is not None

    def _names(self, parts: Sequence[str]) -> tuple[_Named, list[str]]:
        """What they are called, and the parts without that."""
        for number, part in enumerate(parts):
            rest_of = [*parts[:number], "", *parts[number + 1 :]]
            for words, first, second in _PAIRS:
                match = re.match(rf"(?P<of>(?:[^\W\d_]+ ){{0,2}}?)(?:{words})\b\s*(?P<rest>.*)$", part, re.IGNORECASE)
                if match is not None:
                    rest_of[number] = _OF_SEVERAL.sub("", match["rest"]).strip(" ,")
                    of = "" if _OF_SEVERAL.sub("", match["of"]) == "" else match["of"]
                    return _Named((f"{of}{first}", f"{of}{second}")), _without_count(rest_of)
            if (over := _OVER.match(part)) is not None:
                rest_of[number] = part[over.end() :].strip(" ,")
                return _Named((over["lower"].lower(), over["upper"].lower())), _without_count(rest_of)
        for number, part in enumerate(parts[:2]):
            match = _COUNT.match(part)
            if match is None:
                continue
            rest_of = [*parts[:number], "", *parts[number + 1 :]]
            who, count = (match["who"] or match["plural"] or match["plain"] or match["sized"]).strip(), 2
            if match["plain"]:
                rest_of[number] = match["size"]
            elif match["count"]:
                count = _HOW_MANY[match["count"].lower()]
            elif match["sized"]:
                rest_of[number] = _singular(part)
            who = _SIDE_BY_SIDE.sub("", who)
            for_what = _FOR_WHAT.search(who)
            if for_what is not None:
                who, rest_of = who[: for_what.start()], [*rest_of, for_what[0].strip()]
            figure = HAS_FIGURE.search(who)
            if figure is not None and not figure.start():
                # "two 15 copper pipes": they are called by what they are.
                rest_of[number], who = who, who.split(" ")[-1]
            elif figure is not None:
                rest_of[number], who = who[figure.start() :], who[: figure.start()].strip()
            if not who:
                continue
            called = _singular(who)
            if number and what_in(parts[0], self.setting) is not None and not HAS_FIGURE.search(parts[0]):
                called, rest_of[0] = f"{parts[0]} {called}", ""  # "mixer, two 15 copper tails"
            ends = ("lower", "upper") if _STACKED.search(self.sentence) else ("left", "right")
            names = ends if count == len(ends) else range(1, count + 1)
            return _Named(tuple(f"{called} {name}" for name in names)), _without_count(rest_of)
        raise ValueError(
            f"{found(self.sentence)} is of more than one thing, and does not say what they are called: begin with "
            f"that, "
            "as in hot and cold, 15 copper, 150 centres, split on V, 240 above B to centre."
        )

    def _split_on(self, part: str) -> tuple[str, Axis] | None:
        """The line that several are split on, as it is named, and its axis; None where the part says no such thing."""
        match = _SPLIT.match(part)
        if match is None:
            return None
        named = (match["line"] or match["between"] or match["sides"]).strip()
        for axis in AXES:
            said = self._line(named, axis)
            if said:
                return said, axis
        if named.casefold() in ("line", "the line", "it"):
            return None
        return None

    def _half_each_side(self, part: str, apart: str) -> tuple[str, Axis] | None:
        """The line that half of what they are apart lies either side of: "100 either side of V" of two 200 apart."""
        match = _EITHER_SIDE.match(part)
        if match is None or match["who"].strip():
            return None
        unit = self.setting.unit
        if abs(2 * parse_length(match["much"], unit).mm - parse_length(apart, unit).mm) > SAME:
            return None
        return next(((line, axis) for axis in AXES if (line := self._line(match["line"], axis))), None)

    def _line(self, named: str, axis: Axis) -> str:
        """The line of this axis that words name, by its name; "" where they name none."""
        try:
            parts = tokens(named, self.setting)
            meant = reference(parts, 0, named, axis, self.setting, lines_only=True)
        except ValueError:
            return ""
        if meant is None or meant[0].start is None or meant[1] != len(parts) or meant[0].shift:
            return "" if named.casefold() not in ("line", "it") or axis == "up" else self._only("x")
        return meant[0].start.name

    def _only(self, fixes: str) -> str:
        own = [name for name, way in (self.setting.lines or {}).items() if way == fixes]
        return own[0] if len(own) == 1 else ""

    def _spread(self, named: _Named, apart: str, line: str, axis: Axis, others: Sequence[str]) -> list[Keys]:
        unit = self.setting.unit
        each = parse_length(apart, unit).mm
        self._left_one_is_sure(named, axis, length_as_written(each / 2, self.setting), line)
        count = len(named.names)
        holes = []
        less, more = self._ways(axis)
        for number, name in enumerate(named.names):
            off = each * (number - (count - 1) / 2)
            place = (
                f"centre on {line}"
                if not off
                else f"centre {length_as_written(abs(off), self.setting)} {more if off > 0 else less} {line}"
            )
            holes.append(self._hole(name, axis, place, others))
        return holes

    def _left_one_is_sure(self, named: _Named, axis: Axis, half: str, line: str) -> None:
        """Raises ValueError: cold and hot, which hang the other way round more often than they are said so."""
        one, *others = named.names
        if axis == "across" and one.split()[-1] in ("cold", "return"):
            raise ValueError(
                f"{found(self.sentence)} does not say whether {one} is on the left: write {one} left, {others[0]} "
                f"right, as in {one} centre {half} left of {line}, {others[0]} so far right of it."
            )

    def _from_one(
        self, named: _Named, apart: str, one: tuple[str, str], axis: Axis, others: Sequence[str]
    ) -> list[Keys]:
        """One of them is read, and the others are so far from it, middle to middle."""
        who, where = one
        names = named.names
        if who in ("middle", "centre", "center"):
            if len(names) != 3:
                raise ValueError(f"{found(self.sentence)} has no middle one: it says {len(names)} things.")
            place = self._axis_of(where)
            return self._spread(named, apart, self._on_line(where, place), place, others)
        index = _SIDE_OF_ONE.get(who)
        if index is None:
            index = names.index(who) if who in names else None
        if index is None or len(names) != 2:
            raise ValueError(self._where(apart))
        axis = self._axis_of(where)
        if who in _KNOWN_NAMES and axis == "across":
            other = names[1 - index]
            raise ValueError(
                f"{found(self.sentence)} does not say on which side of {who} {other} is: write {other} "
                f"{apart} centres right of {who}, or left of it."
            )
        less, more = self._ways(axis)
        first = self._hole(names[index], axis, where, others)
        from_it = f"centre {apart} {more if index == 0 else less} {names[index]}"
        second = self._hole(names[1 - index], axis, from_it, others, known=names[index])
        return [first, second] if index == 0 else [second, first]

    def _on_line(self, where: str, axis: Axis) -> str:
        line = self._line(re.sub(r"^(?:is )?(?:dead )?on (?:the )?", "", where.strip(), flags=re.IGNORECASE), axis)
        if not line:
            raise ValueError(f"{found(where)} is no line that the middle one lies on: write middle one on V.")
        return line

    def _axis_of(self, where: str) -> Axis:
        read = both_ways(parse_thing, self.setting).read(where)
        if read is None:
            for one in AXES:
                if self._line(re.sub(r"^(?:dead )?on (?:the )?", "", where.strip()), one):
                    return one
            raise ValueError(both_ways(parse_thing, self.setting).why_not(where))
        return "up" if read[0] in ("up", "in") else "across"

    def either_side(self) -> list[Keys]:
        """The same so far either side of a line, to their middles: "stops 100 either side of V, to ctr"."""
        text = self.sentence
        at, match = self._first(_EITHER_SIDE)
        if match is None:
            return []
        who = match["who"].strip()
        is_of_centres = _TO_THEIR_CENTRES.match(who) is not None
        centre = match["centre"] or is_of_centres or any(is_to_centre(part, self.setting) for part in self.parts)
        shared = [
            part for number, part in enumerate(self.parts) if number != at and not is_to_centre(part, self.setting)
        ]
        if who and not is_of_centres:
            shared.insert(at, who)
        try:
            named, others = self._names(shared)
        except ValueError:
            return []
        if not centre or len(named.names) != 2:
            return []
        for axis in AXES:
            line = self._line(match["line"], axis)
            if line:
                less, more = self._ways(axis)
                self._left_one_is_sure(named, axis, match["much"], line)
                return [
                    self._hole(name, axis, f"centre {match['much']} {way} {line}", [_of_one(one) for one in others])
                    for name, way in zip(named.names, (less, more), strict=True)
                ]
        raise ValueError(f"{found(text)} does not say of which line: write either side of V.")

    def two_places(self) -> list[Keys]:
        """Two with a place each in one part: "c/l 75 left and 75 right of V", "spout 75 left and mixer 75 right of V".

        Raises ValueError: what the two are called is not said.
        """
        for number, part in enumerate(self.parts):
            for one, first, two, second in self._halves(part):
                rest = [*self.parts[:number], *([one] if one and not two else []), *self.parts[number + 1 :]]
                named, others = (_Named((one, two)), rest) if two else self._names(rest)
                names = named.names
                if len(names) != 2:
                    return []
                is_turned = not two and self._low(first) > self._low(second)
                if is_turned or (not two and names[0].split()[-1] in ("cold", "return")):
                    self._said_which(names, first, second)
                    names = names[::-1]
                return [
                    hole_keys(name, [*map(_of_one, others), place], self.setting)
                    for name, place in zip(names, (first, second), strict=True)
                ]
        return []

    def _halves(self, part: str) -> Iterator[tuple[str, str, str, str]]:
        """The way in which a part is two places: the name before each, "" for none, and the place itself."""
        joint = _AND.search(part)
        if joint is None:
            return
        one, two = part[: joint.start()], part[joint.end() :]
        places = both_ways(parse_thing, self.setting)
        if not HAS_FIGURE.search(one) or not HAS_FIGURE.search(two) or _AND.search(two):
            return
        for before, first in _behind_words(one):
            if not _is_a_name_of_one(before):
                continue
            if places.read(f"{first}{joint[0]}{two}") is not None:
                return  # both sides of one thing
            for called, second in _behind_words(two):
                both = _each_in_full(first, second)
                if places.read(both[0]) is None:
                    both = _each_in_full(first, second, way=True)
                read = [places.read(place) for place in both]
                is_two = None not in read and read[0][:1] == read[1][:1]  # type: ignore[index]
                if is_two and (before or not called) and _is_a_name_of_one(called):
                    yield before, both[0], called, both[1]
                    return

    def _said_which(self, names: Sequence[str], first: str, second: str) -> None:
        """Raises ValueError: two with names of their own, and which has which place may be by their order, or not."""
        one, two = names[0], names[-1]
        if names[0].split()[-1] in _KNOWN_NAMES:
            raise ValueError(
                f"{found(self.sentence)} does not say which is which: write {one} {first}, {two} {second}, or the "
                "other way round."
            )

    def _low(self, place: str) -> float:
        """Where a place begins along its axis, mm."""
        return parse_thing(place, self._axis_of(place), self.setting).low

    def not_in_one_place(self) -> None:
        """Raises ValueError: two or more are named, and one place is said."""
        pairs = any(re.match(rf"(?:[^\W\d_]+ ){{0,2}}?(?:{words})\b", self.parts[0], re.I) for words, _, _ in _PAIRS)
        counted = _COUNT.match(self.parts[0])
        if pairs or (counted is not None and counted["count"]):
            raise ValueError(
                f"{found(self.sentence)} is of more than one thing, and does not say where each is: write how far they "
                "are apart and on what they are split, as in 150 centres, split on V; or each with its own place, as "
                "in hot 67 to 83 left of V, cold 67 to 83 right of V."
            )

    def each_by_name(self) -> list[Keys]:
        """Each behind its own name: "hot 58 to 73 left of V, cold 34 to 49 right, 240 above B, 15 copper"."""
        clauses = list(self._clauses())
        if len(clauses) != 2 or clauses[0][0] == clauses[1][0]:
            return []
        (one, first), (two, second) = clauses
        before = self._before_clauses()
        is_name = bool(before) and not HAS_FIGURE.search(before[0])
        if is_name and (what_in(before[0], self.setting) is not None or _is_a_name_of_one(before[0])):
            one, two, before = f"{_singular(before[0])} {one}", f"{_singular(before[0])} {two}", before[1:]
        first, second = ([_of_all(part) for part in parts] for parts in (first, second))
        gap = next((match for part in self.parts if (match := _CLEAR.fullmatch(part))), None)
        of_both = [*before, *(_BOTH.sub("", part) for part in (*first, *second) if _BOTH.match(part))]
        first, second = (
            [part for part in parts if not _BOTH.match(part) and not _CLEAR.fullmatch(part)]
            for parts in (first, second)
        )
        within = replace(self.setting, holes={**(self.setting.holes or {}), one: one})
        second = [self._inherited(part, one, two, first, within) for part in second]
        common = _said_alone(hole_keys(one, of_both, self.setting)) if of_both else {}
        own = _said_alone(hole_keys(one, first, self.setting))
        others = _said_alone(hole_keys(two, second, within))
        for key in [key for key in others if key not in own and key not in common]:
            if key in ("across", self.up) or own.keys() <= {"name", "across", self.up}:
                own[key] = others[key]
            else:
                raise ValueError(
                    f"{found(others[key])} can be of {two} alone or of both: write both {others[key]}, or give each a "
                    "line of its own."
                )
        for key in ("across", self.up):
            if key in own and key not in others and key not in common:
                raise ValueError(
                    f"{found(self.sentence)} does not say where {two} is {key}: write both {own[key]}, or where it is."
                )
        for key in [key for key in common if key != "name" and (key in own or key in others)]:
            raise ValueError(f"{found(self.sentence)} says {key} of both and of one: leave one out.")
        shared = {key: held for key, held in common.items() if key != "name"}
        if gap is not None:
            self._gap_agrees(gap["gap"] or gap["behind"], own, others)
        return [_called_so({**own, **shared}), _called_so({**others, **shared})]

    def _clauses(self) -> Iterator[tuple[str, list[str]]]:
        """Each thing that is named, and the parts that are said behind its name."""
        name, said, of = "", list[str](), ""
        for part in self.parts:
            match = _clause(part)
            if match is not None:
                if name:
                    yield name, said
                of = match["of"].lower() or of
                name, said = f"{of}{match['name'].lower()}", [match["rest"]] if match["rest"] else []
            elif name:
                said = [*said, part]
        if name:
            yield name, said

    def _before_clauses(self) -> list[str]:
        before = []
        for part in self.parts:
            if _clause(part) is not None:
                break
            before.append(_BOTH.sub("", part))
        return before

    def _inherited(self, part: str, one: str, two: str, first: Sequence[str], within: Setting) -> str:
        """A place with what the first thing is read from, or with that thing, where it names none of its own.

        "34 to 49 R" behind "58 to 73 L of V"; "200 centres right of that".
        """
        if takes(lambda: hole_keys(two, [part], within)) or not HAS_FIGURE.search(part):
            return part
        of_that = re.sub(r"\b(?:of|from) (?:that|it|the other)(?: one)?$", f"of {one}", part, flags=re.IGNORECASE)
        lines = [match["line"] for text in first if (match := re.search(r"\bof (?P<line>\S+)", text))]
        for longer in (of_that, *(f"{part} of {line}" for line in lines)):
            if longer != part and takes(lambda longer=longer: hole_keys(two, [longer], within)):  # type: ignore[misc]
                return longer
        return part

    def _gap_agrees(self, gap: str, one: Keys, two: Keys) -> None:
        """Raises ValueError: the gap that was said is not between the two."""
        wanted = parse_length(gap, self.setting.unit).mm
        try:
            first, second = (parse_thing(keys["across"], "across", self.setting) for keys in (one, two))
        except (KeyError, ValueError):
            return
        if None in (first.high, second.high) or first.start != second.start:
            return
        left, right = sorted((first, second), key=lambda reading: reading.low)
        assert left.high is not None
        if abs(right.low - left.high - wanted) > SAME:
            raise ValueError(
                f"{found(self.sentence)} says {gap} between the two, and their places leave "
                f"{length_as_written(right.low - left.high, self.setting)}: look which figure is right."
            )

    def _hole(self, name: str, axis: Axis, place: str, others: Sequence[str], known: str = "") -> Keys:
        """One of them: where it is on their axis, and all that is said of them all."""
        holes = {**(self.setting.holes or {}), **({known.casefold(): known} if known else {})}
        key = "across" if axis == "across" else self.up
        return hole_keys(name, [*others, f"{key}: {place}"], replace(self.setting, holes=holes))

    def _ways(self, axis: Axis) -> tuple[str, str]:
        if axis == "across":
            return "left of", "right of"
        return ("below", "above") if self.setting.kind == "wall" else ("short of", "from")

    def _where(self, apart: str) -> str:
        lines = [name for name, fixes in (self.setting.lines or {}).items() if fixes == "x"] or ["V"]
        return (
            f"{found(self.sentence)} is of things {apart} apart, and does not say where: write split on {lines[0]}, or "
            f"where one of them is, as in left one centre 75 left of {lines[0]}."
        )


def _behind_words(text: str) -> Iterator[tuple[str, str]]:
    """Ways of cutting words with no figure off the beginning of a text, most of them first."""
    words = text.split(" ")
    figure = next((count for count, word in enumerate(words) if HAS_FIGURE.search(word)), 0)
    for count in range(figure, -1, -1):
        yield " ".join(words[:count]), " ".join(words[count:])


def _each_in_full(first: str, second: str, *, way: bool = False) -> tuple[str, str]:
    """Two places, each with what the other says for both: from what, and to their centres; `way`: and which way."""
    second = _TO_CENTRES_BEHIND.sub(" to centre", second)
    from_what = [(_WAY_FROM_WHAT if way else _FROM_WHAT).search(place) for place in (first, second)]
    if from_what[1] is not None and from_what[0] is None:
        first = f"{first} {from_what[1][0]}"
    figure = HAS_FIGURE.search(first)
    lead = first[: figure.start()].strip() if figure is not None else ""
    if HAS_FIGURE.match(second) and lead:
        second = f"{lead} {second}"
    return first, second


def _is_a_name_of_one(words: str) -> bool:
    """Whether words can be what is called so, or are none at all."""
    said = plain_words(words)
    return len(said) <= MOST_WORDS_NAMED and NOT_IN_A_NAME.isdisjoint(said)


_CLAUSE = late(
    r"(?P<of>(?:[^\W\d_]+ ){0,2}?)(?P<name>hot|cold|flow|return|"
    r"(?:left|right|lh|rh|l/h|r/h|upper|lower|top|bottom)(?:[- ]hand)? (?:pipe|tail|stub|tap))\b"
    r"(?:[\s:]+(?P<rest>(?!and\b|&|over\b).*))?$",
    re.IGNORECASE,
)


def _clause(part: str) -> re.Match[str] | None:
    """One thing by its name, perhaps with what it is of, "lav hot", and what is said behind it; None: none begins."""
    match = _CLAUSE.match(part)
    if match is None or not NOT_IN_A_NAME.isdisjoint(match["of"].lower().split()):
        return None
    return match


def _said_alone(keys: Keys) -> Keys:
    """The keys without what follows from the name alone: what a thing is that is called tail."""
    return {key: held for key, held in keys.items() if key != "what" or held != keys["name"]}


def _called_so(keys: Keys) -> Keys:
    """The keys, with what the thing is by its name where nothing else says it."""
    return keys if "what" in keys or not is_of_a_shape(keys["name"]) else {**keys, "what": keys["name"]}


def _at_the_other(part: str) -> list[str]:
    """A part in two where the second thing begins in it, behind a figure of the first."""
    match = _AND_THE_OTHER.search(part)
    if match is None or not HAS_FIGURE.search(part[: match.start()]):
        return [part]
    return [part[: match.start()], part[match.end() :]]


def _of_all(part: str) -> str:
    """A part that is of more than one by its own word, "roses 52", as one that says so: "both roses 52"."""
    return f"both {part}" if _COVERS_OF_ALL.search(part) and not _BOTH.match(part) else part


def _of_one(part: str) -> str:
    """What is said of all, as it is said of one."""
    lone = re.sub(r"^(centre|center)s\b", r"\1", _BOTH.sub("", part), flags=re.IGNORECASE)
    return re.sub(r"\bto (?:the |their )?(centre|center)s$", r"to \1", lone, flags=re.IGNORECASE)


def _without_count(parts: Sequence[str]) -> list[str]:
    """The parts without what says that they are two."""
    return [_TWO_OFF.sub("", part) for part in parts if part and not _A_PAIR.match(part)]


def _singular(word: str) -> str:
    return re.sub(r"(?<=[a-z])(?:es(?<=[sx]es)|s)$", "", word.strip())
