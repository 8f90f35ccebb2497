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
from collections.abc import Sequence
from typing import Literal

from cutmarks.job.heard import Figure, Heard, example, heard, of_several, way_words, ways_of
from cutmarks.job.measures import IMPERIAL, wide_enough
from cutmarks.job.references import Origin, reference
from cutmarks.job.tokens import plain_words, tokens
from cutmarks.job.vocabulary import OTHER_HAND, Hand
from cutmarks.job.words import OPPOSITE_WAY, UNKNOWN, Setting, found, in_figures, line_named, named, spaced
from cutmarks.patterns import late
from cutmarks.readings import EdgeReading, From, Reading, Spot
from cutmarks.sides import Axis, Side
from cutmarks.units import Unit, match_range

_COURSE = late(
    r"in (?:course )?(?P<under>under )?(?(under)|(?<=course ))(?P<course>[0-9]{1,6})(?: of (?P<area>[^,]+?))?,? "
    r"(?:(?:centre|center|middle) )?(?P<rest>[^,]+)$",
    re.IGNORECASE,
)
_LEVEL_WITH = late(r"(?:level|in line|plumb) with (?P<name>\S.*)$", re.IGNORECASE)
_SIGNED = late(r"(?P<hand>(?:\D*?\s)?)(?P<sign>[-\u2212\u2013+])(?P<rest>[0-9].*)$", needs=("-", "+"))
_SIGNED_FIRST = late(r"(?P<hand>)(?P<sign>[-\u2212\u2013+])\s*(?P<rest>[0-9].*)$", needs=("-", "+"))
_SIGNED_BEHIND = late(r"(?P<to>\bto |[-\u2013] ?)[-\u2212\u2013+]\s*(?=[0-9])")
_ON = late(r"^(?:(?:centre|center|middle|centred|centered) )?on (?:the line )?(?=\S)", re.IGNORECASE)
_UPRIGHT = late(r"\b(?:underside|u/s|top|bottom|btm|bott|upper|lower)\b", re.IGNORECASE)


def parse_reading(text: str, axis: Axis, setting: Setting) -> Reading:
    """Where a thing is along one axis.

    Single distances must say to what, except in from an edge and up in a course, where the centre is taken.
    """
    phrase = _phrase(text, "A position must be known: measure it, or leave the hole out until it is.")
    if match := _COURSE.match(phrase):
        return _in_course(match, phrase, axis, setting)
    if (match := _LEVEL_WITH.match(phrase)) and _is_a_hole(phrase, axis, setting):
        return Reading("level with", 0.0, None, None, phrase, other=named(match["name"], setting.holes, "hole"))
    _refuse_sign(phrase, axis, setting)
    return _made(heard(phrase, axis, setting), phrase, axis, setting)


def _is_a_hole(phrase: str, axis: Axis, setting: Setting) -> bool:
    """Whether "level with hot" can name nothing but a hole, one that is there or not."""
    if setting.holes is None:
        return True
    at = 3 if phrase.lower().startswith("in ") else 2
    return "," not in phrase and reference(tokens(phrase, setting), at, phrase, axis, setting) is None


def parse_thing(text: str, axis: Axis, setting: Setting) -> Reading:
    """Where something that comes through a tile is along one axis: its two sides are no further apart than any has."""
    reading = parse_reading(text, axis, setting)
    if reading.high is not None:
        wide_enough(reading.text, reading.high - reading.low, setting, "wide" if axis == "across" else "high")
    return reading


def _made(said: Heard, phrase: str, axis: Axis, setting: Setting) -> Reading:
    """The reading that all of it makes. Raises ValueError: it says too little, too much, or two things."""
    _one_thing(said, phrase, axis, setting)
    origin = said.origin
    if not said.figures and not said.stands:
        raise ValueError(f"{found(phrase)} is no position: write it as in {example(axis, setting)}.")
    if origin is None:
        raise ValueError(_line_or_edge(said, phrase, axis, setting) or _no_way(phrase, axis, setting))
    if not said.figures:
        return _with_no_distance(said, origin, phrase, axis)
    figures = _sorted_out(said, phrase)
    for figure in figures:
        _take_off(figure, said.burnt, phrase)
        figure.way = _way_of(figure, said, origin, phrase, axis, setting)
    if origin.hole:
        return _from_a_hole(figures, said, origin, phrase)
    if len(figures) == 1 and figures[0].second is None:
        return _one_distance(figures[0], said, origin, phrase)
    if len(figures) == 1:
        assert figures[0].second is not None
        if figures[0].second == figures[0].first:
            raise ValueError(_twice(phrase))
        ends = [(figures[0].first, figures[0]), (figures[0].second, figures[0])]
    else:
        ends = [(figure.first, figure) for figure in figures]
        _hands_agree(figures, phrase)
    if said.size is not None and abs(abs(_along(*ends[0]) - _along(*ends[1])) - said.size) > SAME:
        raise ValueError(
            f"{found(phrase)} gives two sides and a size that is not the distance between them: leave one out."
        )
    one, two = (_along(mm, figure) for mm, figure in ends)
    if one == two:
        raise ValueError(_twice(phrase))
    if said.stands == "across" and not min(one, two) < 0.0 < max(one, two):
        raise ValueError(
            f"{found(phrase)} goes over the line and has both its sides on one side: write which is which."
        )
    if origin.start is not None and origin.start.kind == "edge":
        return _sides(abs(one), abs(two), origin.start, phrase)
    return _sides(one + origin.shift, two + origin.shift, origin.start, phrase)


SAME = 2.0
"""A size and two sides that differ by no more, mm, are one: a pipe's name is not its outside to the last tenth."""


def _one_thing(said: Heard, phrase: str, axis: Axis, setting: Setting) -> None:
    """Raises ValueError: the phrase is of two things, or may be."""
    figures = len(said.figures)
    if said.either_side and (said.stands not in ("on", "across") or said.parts):
        lone = said.figures[0].text if figures == 1 else "75"
        name = said.origin.start.name if said.origin is not None and said.origin.start is not None else "V"
        less, more = ("left", "right") if axis == "across" else ("below", "above")
        of = " of" if axis == "across" else ""
        raise ValueError(
            f"{found(phrase)} can be one thing or two: write {lone} {less} to {lone} {more}{of} {name} if these are "
            f"the sides of one; two are two holes, centre {lone} {less}{of} {name} and centre {lone} {more}{of} {name}."
        )
    counted = {word for word in said.several if word not in ("two", "tails", "stubs", "stops")}
    pair = {"hot", "cold"} <= said.things or {"h", "c"} <= said.things
    several = (pair or bool(said.several)) and (axis == "across" or figures > 1)
    numbered = said.numbered > 1 or (said.numbered and figures > 1)
    if counted or several or numbered or figures > 2:
        raise ValueError(of_several(phrase, setting))


def _with_no_distance(said: Heard, origin: Origin, phrase: str, axis: Axis) -> Reading:
    """On V; its right edge flush with V; hard up to the door frame."""
    hand: Hand = said.parts[0][0] if said.parts else ""
    if len(said.parts) > 1 or said.either_side or (said.ways and said.size is None):
        raise ValueError(
            f"{found(phrase)} does not say how far: write the distance, or which part of the thing is on it."
        )
    if origin.hole:
        if hand not in ("", "centre") or said.stands != "on":
            raise ValueError(_to_its_middle(phrase, origin))
        return Reading("level with", 0.0, None, None, phrase, other=origin.hole)
    start = origin.start
    assert start is not None
    if start.kind == "piece":
        raise ValueError(f"{found(phrase)} does not say how far from {start.name}: write the distance.")
    way = origin.inward if start.kind == "edge" else origin.towards
    if said.stands == "across" and hand != "centre":
        raise ValueError(f"{found(phrase)} does not say how far it goes on each side: write both its sides.")
    if not hand:
        if said.stands == "on" and start.kind == "line":
            hand = "centre"
        elif said.stands in ("on", "flush") or not way:
            raise ValueError(_which_part(phrase))
        else:
            hand = "near"
    if hand in ("near", "far") and not way:
        raise ValueError(_which_part(phrase))
    how = _how(hand, way)
    if start.kind == "edge" and (how == "centre" or (how == "low") != (way > 0)):
        raise ValueError(f"{found(phrase)} would lie past that edge, or half in it: write which of its sides is there.")
    low = origin.shift
    if said.size is None:
        return Reading(how, low, None, start, phrase)
    if any(side != (1 if how == "low" else -1) for side in said.ways):
        raise ValueError(f"{found(phrase)} says two sides: write which of its sides is there, and how wide it is.")
    if how == "centre":
        return _sides(low - said.size / 2, low + said.size / 2, start, phrase)
    if start.kind == "edge":
        return _sides(0.0, said.size, start, phrase)
    return _sides(low, low + said.size if how == "low" else low - said.size, start, phrase)


def _one_distance(figure: Figure, said: Heard, origin: Origin, phrase: str) -> Reading:
    """One distance, to a part of the thing; with the thing's size both its sides."""
    start, hand = origin.start, figure.hand
    assert start is not None
    assert figure.way is not None
    if said.either_side:
        return _sides(origin.shift - figure.first, origin.shift + figure.first, start, phrase)
    if not hand and said.stands in ("against", "flush", "sits"):
        raise ValueError(
            f"{found(phrase)} says that it is at {start.name}, and a distance: if {figure.text} is its size, write "
            f'"{figure.text} over all".'
        )
    if not hand:
        if not origin.is_edge_there or said.size is not None:
            raise ValueError(_to_what(phrase))
        hand = "centre"
    how = _how(hand, figure.way)
    is_edge = start.kind == "edge"
    low = figure.first if is_edge else figure.way * figure.first + origin.shift
    if said.size is None:
        return Reading(how, low, None, start, phrase)
    if how == "centre":
        if is_edge and low < said.size / 2:
            raise ValueError(f"{found(phrase)} would lie past that edge: write both its sides.")
        return _sides(low - said.size / 2, low + said.size / 2, start, phrase)
    outward = how == "low" if not is_edge else (how == "low") == (figure.way > 0)
    return _sides(low, low + said.size if outward else low - said.size, start, phrase)


def _from_a_hole(figures: list[Figure], said: Heard, origin: Origin, phrase: str) -> Reading:
    """So far from the middle of another hole, middle to middle."""
    figure = figures[0]
    to_centre = figure.hand == "centre" or said.between_centres or (said.stands == "on" and not figure.hand)
    if len(figures) > 1 or figure.second is not None or said.size is not None or not to_centre:
        raise ValueError(_to_its_middle(phrase, origin))
    assert figure.way is not None
    return Reading("level with", figure.way * figure.first, None, None, phrase, other=origin.hole)


def _to_its_middle(phrase: str, origin: Origin) -> str:
    return (
        f"{found(phrase)}: from {origin.hole} a thing is read middle to middle, as in level with {origin.hole}, or "
        f"centre 150 left of {origin.hole}; read its sides from a line."
    )


def _sorted_out(said: Heard, phrase: str) -> list[Figure]:
    """The figures, each with the part of the thing and the way that are its own, in the order in which they stand."""
    figures, parts, ways = said.figures, [hand for hand, _ in said.parts], said.ways
    if len(figures) == 1:
        if len(parts) > 1 and len(set(parts)) > 1:
            raise ValueError(
                f"{found(phrase)} names two parts of the thing and gives one distance: write one for each."
            )
        if parts and figures[0].second is not None:
            raise ValueError(f"{found(phrase)} names one side of the thing and gives two distances: leave one out.")
        figures[0].hand = parts[0] if parts else ""
    elif len(parts) == len(figures):
        for figure, hand in zip(figures, parts, strict=True):
            figure.hand = hand
    elif parts:
        raise ValueError(
            f"{found(phrase)} names one side of the thing and gives two distances: leave one out; if "
            f"{figures[-1].text} is "
            f'its size, write "{figures[-1].text} over all".'
        )
    if any(figure.second is not None for figure in figures) and len(figures) > 1:
        raise ValueError(f"{found(phrase)} gives three distances, and a thing has two sides: leave one out.")
    if len(ways) == len(figures) and len(figures) > 1:
        for figure, way in zip(figures, ways, strict=True):
            figure.way = way
    elif len(set(ways)) > 1:
        raise ValueError(f"{found(phrase)} says two ways: write which way each of its distances goes.")
    return figures


def _way_of(figure: Figure, said: Heard, origin: Origin, phrase: str, axis: Axis, setting: Setting) -> int:
    """The way that a distance goes, 1 or -1 along the axis."""
    way = figure.way if figure.way is not None else (said.ways[0] if said.ways else 0)
    start = origin.start
    if start is not None and start.kind == "edge":
        if way and way != origin.inward:
            raise ValueError(
                f"{found(phrase)} lies outside the {start.side} edge: write it as in 277 in from {start.side} there."
            )
        return origin.inward
    if not way and said.stands in ("on", "across") and not said.either_side:
        raise ValueError(_no_side(phrase, origin, axis, setting))
    way = way or origin.towards
    if said.either_side:
        return 1
    if not way:
        raise ValueError(_no_side(phrase, origin, axis, setting))
    return way


def _no_side(phrase: str, origin: Origin, axis: Axis, setting: Setting) -> str:
    """That it is not said on which side of a line it lies."""
    name = origin.hole or (origin.start.name if origin.start is not None else "")
    one, two = ("right of", "left of") if axis == "across" else ("above", "below")
    if axis == "up" and setting.kind == "floor":
        one, two = "in from", "short of"
    return (
        f"{found(phrase)} does not say which side: write {one} {name} or {two} {name}, as in {example(axis, setting)}."
    )


def _take_off(figure: Figure, burnt: float, phrase: str) -> None:
    """What the tape was held at comes off."""
    if not burnt:
        return
    figure.first -= burnt
    figure.second = None if figure.second is None else figure.second - burnt
    if figure.first < 0.0 or (figure.second or 0.0) < 0.0:
        raise ValueError(
            f"{found(phrase)} is less than what the tape was held at: write what it read, or leave burnt out."
        )


def _along(mm: float, figure: Figure) -> float:
    assert figure.way is not None
    return figure.way * mm


def _hands_agree(figures: list[Figure], phrase: str) -> None:
    """Make sure that the two parts named are the two sides, and lie as they are called. Raises ValueError."""
    one, two = figures
    if not one.hand and not two.hand:
        return
    if one.hand == two.hand or OTHER_HAND[one.hand] != two.hand:
        raise ValueError(f"{found(phrase)} does not name both sides: write one distance, or one for each side.")
    first, second = _along(one.first, one), _along(two.first, two)
    if one.hand in ("near", "far"):
        is_turned = (one.first < two.first) != (one.hand == "near") or one.way != two.way
    else:
        is_turned = (first < second) != (one.hand == "low")
    if is_turned:
        raise ValueError(f"{found(phrase)} has its sides the wrong way round: look which figure goes to which.")


def parse_place(text: str, axis: Axis, setting: Setting) -> Reading:
    """Where a point, an edge or a level is: "1140 left of V", "600 above the batten", or a line alone."""
    phrase = _phrase(text, "This place must be known: measure it, or leave it out until it is.")
    _refuse_sign(phrase, axis, setting)
    if not any(part.kind == "figure" for part in tokens(phrase, setting)):
        start, shift = _line_alone(phrase, axis, setting)
        return Reading("centre", shift, None, start, phrase)
    said = heard(phrase, axis, setting, lines_only=True)
    figures, origin = said.figures, said.origin
    if len(figures) > 1 or (figures and figures[0].second is not None):
        raise ValueError(
            f"{found(phrase)} has two distances, and one place has one: write it as in {example(axis, setting)}."
        )
    if origin is None:
        raise ValueError(_no_way(phrase, axis, setting))
    if origin.start is None or origin.start.kind != "line":
        raise ValueError(
            f"{found(phrase)} is not from a set-out line, and this is: write it as in {example(axis, setting)}."
        )
    sides = [called for hand, called in said.parts if hand != "centre"]
    if not figures or sides or said.size is not None or said.several or said.either_side:
        raise ValueError(f"{found(phrase)} is no place of one point: write it as in {example(axis, setting)}.")
    _take_off(figures[0], said.burnt, phrase)
    figures[0].way = _way_of(_sorted_out(said, phrase)[0], said, origin, phrase, axis, setting)
    return Reading("centre", _along(figures[0].first, figures[0]) + origin.shift, None, origin.start, phrase)


def is_a_line(phrase: str, axis: Axis, setting: Setting) -> bool:
    """Whether the words name a line of this axis by what it is: "middle of the sink"."""
    parts = tokens(phrase, setting)
    meant = reference(parts, 0, phrase, axis, setting, lines_only=True)
    return meant is not None and meant[1] == len(parts)


def _line_alone(phrase: str, axis: Axis, setting: Setting) -> tuple[From, float]:
    """The line that is named with no distance, "V", "on V", "top of the batten"; and how far off it, mm."""
    rest = _ON.sub("", phrase)
    parts = tokens(rest, setting)
    meant = reference(parts, 0, phrase, axis, setting, lines_only=True)
    if meant is not None and meant[1] == len(parts) and meant[0].start is not None and meant[0].start.kind == "line":
        return meant[0].start, meant[0].shift
    return From("line", line_named(rest, axis, setting)), 0.0


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


_AT_A_FIGURE = late(r"^at (?=[0-9])", re.IGNORECASE)
_AT_A_LINE = late(r"^(?:at|level with|flush with) (?=[^\W0-9])", re.IGNORECASE)
"""Who fills in where an edge is writes "at B" for "on B"."""


def parse_edge(text: str, side: Side, setting: Setting) -> EdgeReading:
    """Where an edge is, and where along it it was read: "1065 right of V at B", "1058 right of V at 1450 above B"."""
    phrase = _phrase(text, "An edge must be known, or left out: then nothing is said about trimming there.")
    phrase = _AT_A_LINE.sub("on ", _AT_A_FIGURE.sub("", phrase))
    at, _, along = phrase.partition(" at ")
    _one_place_of_an_edge(phrase, at, along, side, setting)
    axis, other = ("across", "up") if side.axis == "across" else ("up", "across")
    return EdgeReading(
        parse_place(at, _axis(axis), setting), parse_place(along, _axis(other), setting) if along else None
    )


def _one_place_of_an_edge(phrase: str, at: str, along: str, side: Side, setting: Setting) -> None:
    """Raises ValueError: the phrase says where the edge is twice, or what it is as well."""
    parts = tokens(at, setting)
    figures = sum(1 + (part.second is not None) for part in parts if part.kind == "figure")
    own = frozenset(plain_words(" ".join(setting.line_words.values()))) | WORDS_OF_A_PLACE
    more = any(part.kind == "word" and part.word not in own for part in parts)
    has_figure = figures or any(part.kind == "figure" for part in tokens(along, setting))
    if figures > 1 or (figures and more) or (along and more and has_figure) or " at " in along:
        where, other, read_at = _edge_examples(side, setting)
        true = "plumb" if side.axis == "across" else "level"
        raise ValueError(
            f"{found(phrase)} says more than one place of the edge: write it with keys, as in {{at: {where}, what: end "
            f"panel, true: {true}}}; read at two places, at: [{where} at {read_at[0]}, {other} at {read_at[1]}]."
        )


def _edge_examples(side: Side, setting: Setting) -> tuple[str, str, tuple[str, str]]:
    """Where an edge is, a second reading of it, and where along it both were read, as they are written in this job."""
    one, two, three = ("45", "44 3/4", "57") if setting.unit in IMPERIAL else ("1140", "1133", "1450")
    if setting.kind == "floor":
        ways = {Side.LEFT: "left of C", Side.RIGHT: "right of C", Side.BOTTOM: "short of D", Side.TOP: "from D"}
        along = ("D", f"{three} from D") if side.axis == "across" else ("C", f"{three} left of C")
    else:
        ways = {Side.LEFT: "left of V", Side.RIGHT: "right of V", Side.BOTTOM: "below B", Side.TOP: "above B"}
        along = ("B", f"{three} above B") if side.axis == "across" else ("V", f"{three} left of V")
    return f"{one} {ways[side]}", f"{two} {ways[side]}", along


WORDS_OF_A_PLACE = frozenset({
    "left", "right", "of", "above", "below", "over", "under", "up", "down", "from", "off", "in", "short", "beyond",
    "past", "before", "to", "the", "line", "on", "bare", "full", "shy", "strong", "burnt", "burned", "room", "into",
    "centre", "finished floor", "plumb", "level", "back", "out", "away", "inside",
})  # fmt: skip


def parse_bare(text: str, unit: Unit) -> Reading:
    """Both sides of a thing, or one side or its centre, from a neighbour's edge: "69 to 84", "centre 76.5".

    Positive away from the neighbour, whichever side it is on.
    """
    phrase = _phrase(text, "A reading must be known: measure it.")
    setting = Setting(unit=unit, lines={})
    axis: Axis = "up" if _UPRIGHT.search(phrase) else "across"
    no_reading = f"{found(phrase)} is no reading: write both sides of the thing, as in 69 to 84."
    tokens(phrase, setting)  # a figure at fault has its own sentence
    try:
        said = heard(phrase, axis, setting)
    except ValueError:
        raise ValueError(no_reading) from None
    if not said.figures or said.ways or said.origin is not None:
        raise ValueError(no_reading)
    figures = _sorted_out(said, phrase)
    for figure in figures:
        _take_off(figure, said.burnt, phrase)
    if len(figures) > 2 or said.size is not None or said.several or said.either_side:
        raise ValueError(no_reading)
    low, high = figures[0].first, figures[0].second
    if len(figures) > 1:
        figures[0].way = figures[1].way = 1
        _hands_agree(figures, phrase)
        high = figures[1].first
    if high is not None:
        if low == high:
            raise ValueError(_twice(phrase))
        return _sides(low, high, None, phrase)
    if not figures[0].hand:
        raise ValueError(_to_what(phrase))
    return Reading(_how(figures[0].hand, 1), low, None, None, phrase)


def _phrase(text: str, unknown: str) -> str:
    phrase = in_figures(spaced(text))
    if phrase == UNKNOWN:
        raise ValueError(unknown)
    if not phrase:
        raise ValueError("Nothing is written here: write a position, as in 67 to 83 left of V.")
    return phrase


def _axis(word: str) -> Axis:
    return "across" if word == "across" else "up"


def _in_course(match: re.Match[str], phrase: str, axis: Axis, setting: Setting) -> Reading:
    if axis == "across":
        raise ValueError(f"{found(phrase)} is a height: write across as in {example(axis, setting)}.")
    spans = match_range(match["rest"], setting.unit)
    if spans is None or spans[2].lower() not in ("up", "in"):
        raise ValueError(f"{found(phrase)} is no height in a course: write it as in course 4, 98 up.")
    low, high = spans[0].mm, None if spans[1] is None else spans[1].mm
    if low == high:
        raise ValueError(_twice(phrase))
    course, area = int(match["course"]), match["area"]
    if course < 1:
        raise ValueError(
            f"{found(phrase)} counts from nothing: course 1 stands on the area's base, and what lies under "
            "that is under 1, under 2 downward."
        )
    if match["under"]:
        course = -course
    area = None if area is None else named(area, setting.areas, "area")
    if high is None:
        return Reading("course", low, None, None, phrase, course=course, area=area)
    return Reading("course", min(low, high), max(low, high), None, phrase, course=course, area=area)


def _sides(one: float, two: float, start: From | None, phrase: str) -> Reading:
    return Reading("sides", min(one, two), max(one, two), start, phrase)


def _how(hand: Hand, way: int) -> Literal["centre", "low", "high"]:
    """Which side of the thing is meant; near is the one towards what it is read from."""
    if hand in ("centre", "low", "high"):
        return hand
    return "low" if (hand == "near") == (way > 0) else "high"


def _to_what(phrase: str) -> str:
    return (
        f'{found(phrase)} does not say to what: write "centre {phrase}", '
        f'"near {phrase}" or "far {phrase}", or both sides{_both_sides(phrase)}.'
    )


def _which_part(phrase: str) -> str:
    return (
        f"{found(phrase)} does not say which part of the thing is there: write its centre or a side, as in "
        '"right side flush with V", "centre on V".'
    )


def _both_sides(phrase: str) -> str:
    """An example of both sides about a whole distance: ", as in "67 to 83 right of V"" for 75."""
    match = re.match(r"([0-9]+)( .*|$)", phrase)
    half = 8
    if match is None or int(match[1]) <= half:
        return ""
    middle = int(match[1])
    return f', as in "{middle - half} to {middle + half}{match[2]}"'


def _twice(phrase: str) -> str:
    return f"{found(phrase)} gives the same distance twice: write both sides of the thing, or centre."


def _line_or_edge(said: Heard, phrase: str, axis: Axis, setting: Setting) -> str:
    """That a way with no line can be from the only one or from an edge, and both as they are written; "" if not so."""
    own = [name for name, fixes in (setting.lines or {}).items() if fixes == ("x" if axis == "across" else "y")]
    ways = {Side.RIGHT: 1, Side.LEFT: -1} if axis == "across" else {Side.BOTTOM: 1, Side.TOP: -1}
    edge = next((side for side, way in ways.items() if said.ways == [way] and side in setting.edge_words), None)
    if len(own) != 1 or edge is None or len(said.figures) != 1 or said.figures[0].second is None:
        return ""
    words = [" ".join(row) for row, way in ways_of(axis, setting).items() if [way] == said.ways]
    way = next((one for one in words if one in OPPOSITE_WAY), words[0])
    figures = said.figures[0].text
    return (
        f'{found(phrase)} does not say from what: write "{figures} {way} {own[0]}", or "{figures} in from {edge} '
        f'there" if it is from the {edge} edge.'
    )


def _no_way(phrase: str, axis: Axis, setting: Setting) -> str:
    words = "right of or left of" if axis == "across" else way_words(setting)
    return f"{found(phrase)} does not say from what: write {words} and a set-out line, as in {example(axis, setting)}."


def _refuse_sign(phrase: str, axis: Axis, setting: Setting) -> None:
    match = _SIGNED_FIRST.match(phrase) or _SIGNED.match(phrase)
    if match is None:
        return
    positive, head = match["rest"], match["hand"]
    if match["sign"] == "+":
        raise ValueError(f'A distance takes no sign: write "{head}{positive}".')
    turned = _both_turned(positive, _ways(axis, setting))
    write = f'write "{head}{turned}".' if turned else f"say the side in words, as in {example(axis, setting)}."
    raise ValueError(f"A distance from a set-out line cannot be negative: {write}")


def _ways(axis: Axis, setting: Setting) -> list[str]:
    return [" ".join(row) for row in ways_of(axis, setting) if " ".join(row) in OPPOSITE_WAY]


def _both_turned(positive: str, ways: Sequence[str]) -> str:
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


def _turned(positive: str, ways: Sequence[str]) -> str:
    """The phrase with its side words turned round; empty where it has none."""
    for way in sorted(ways, key=len, reverse=True):
        before, word, name = positive.partition(f" {way} ")
        if word:
            return f"{before} {OPPOSITE_WAY[way]} {name}"
    return ""
