"""Several readings of one thing, and readings between two things: what is adjusted together.

    readings:                          # of one hole, one a line
      - 1202 to 1218 from P1
      - centre 940 from P2
      - 67 to 83 left of V
      - centre 240 above B, within 3
    pairs:                             # of a surface
      - {of: hot and cold, apart: 150, level: yes}

P1 and P2 stand under `points:` of the surface, each by two readings from set-out lines. A tape is read to both sides
of a thing, or to its centre.

    points:
      P1: 600 left of V, 1800 above B
      P2: 590 right of V, 1800 above B, within 1
"""

import re
from collections.abc import Mapping
from typing import Annotated

from cutmarks.job.declared import Key
from cutmarks.job.fields import Distance, Flag, GiveOrTake, Parsed, parsed, text_of
from cutmarks.job.grammar import parse_spot, parse_thing
from cutmarks.job.measures import wide_enough
from cutmarks.job.model import JobModel
from cutmarks.job.tree import Entry, Items
from cutmarks.job.words import UNKNOWN, Setting, either, found, named, spaced
from cutmarks.patterns import late
from cutmarks.readings import Lies, PointRead, Taken
from cutmarks.sides import ON_AXIS, Axis
from cutmarks.units import match_range, parse_length

MOST = 120
"""A reading has at most so many characters."""
_WITHIN = late(r",? (?:within|give or take|\+ ?[-/] ?-?|\u00b1) ?(?P<mm>[^,]+)$", re.IGNORECASE)
_TO_CENTRE = late(r"(?:to )?(?:the |its )?(?:centre|center|middle|c/l|ctr)(?: at)?,? (?=\S)", re.IGNORECASE)
_FROM_POINT = late(r"from (?:point )?(?P<point>\S.*)$", re.IGNORECASE)
_SIDEWAYS = late(r"\b(?:left|right)\b|\bplumb with\b|\bin line with\b", re.IGNORECASE)


def parse_point(value: object, setting: Setting) -> object:
    """A point: "600 left of V, 1800 above B", as one phrase or a list, "within 2" behind it; kept where it is no text.

    Raises ValueError: one sentence.
    """
    if isinstance(value, Items):
        value = ", ".join(text_of(item) for item in value)
    if not isinstance(value, str | Entry):
        return value
    rest, within = _how_good(text_of(value), setting)
    spot = parse_spot(rest, setting, "point")
    return PointRead(spot.across, spot.up, within)


def _how_good(phrase: str, setting: Setting) -> tuple[str, float | None]:
    """A phrase without the "within 2" at its end, and how good that says it is, mm."""
    match = _WITHIN.search(phrase)
    if match is None:
        return phrase, None
    within = parse_length(match["mm"], setting.unit).mm
    if within <= 0.0:
        raise ValueError(f"{found(phrase)}: no reading is without error: write how good it is, as in within 2.")
    return phrase[: match.start()], within


def parse_taken(text: str, setting: Setting) -> Taken:
    """A reading along an axis, or a tape from a named point; "within 2" behind it says how good it is.

    Raises ValueError: one sentence.
    """
    phrase = spaced(text)
    if phrase in ("", UNKNOWN):
        raise ValueError("A reading must be known: measure it, or leave it out.")
    if len(phrase) > MOST:
        raise ValueError(f"{found(phrase)} is too long for one reading: write one a line, as in 1202 to 1218 from P1.")
    rest, within = _how_good(phrase, setting)
    taped = _taped(rest, phrase, setting, within)
    if taped is not None:
        return taped
    axis = _axis_of(rest, setting)
    return Taken(phrase, axis, parse_thing(rest, axis, setting), within=within)


def _axis_of(rest: str, setting: Setting) -> Axis:
    """The axis that a reading is along: the one that its words fit, by its side words where both or neither do."""
    fits = [axis for axis in ON_AXIS if _is_reading(rest, axis, setting)]
    if len(fits) == 1:
        return fits[0]
    # "level with hot" alone is a height; "plumb with" and "in line with" are across.
    return "across" if _SIDEWAYS.search(rest) or _is_upright(rest, setting) else "up"


def _is_reading(rest: str, axis: Axis, setting: Setting) -> bool:
    try:
        parse_thing(rest, axis, setting)
    except ValueError:
        return False
    return True


def _is_upright(rest: str, setting: Setting) -> bool:
    """Whether the last word names a line that fixes x: "on V"."""
    name = rest.rpartition(" ")[2].casefold()
    return any(line.casefold() == name and fixes == "x" for line, fixes in (setting.lines or {}).items())


def _taped(rest: str, phrase: str, setting: Setting, within: float | None) -> Taken | None:
    """The reading as a tape from a point; None where it names none."""
    to_centre = _TO_CENTRE.match(rest)
    spans = match_range(rest[to_centre.end() :] if to_centre else rest, setting.unit)
    if spans is None:
        return None
    first, second, tail = spans
    match = _FROM_POINT.match(tail)
    if match is None or not _is_point(match["point"], setting):
        return None
    if not setting.points:
        raise ValueError(
            f"{found(match['point'])} is no point of this surface: write points: and under it "
            f"{match['point']}: 600 left of V, 1800 above B."
        )
    point = named(match["point"], setting.points, "point")
    if second is None:
        if first.mm <= 0.0:
            raise ValueError(f"{found(phrase)} is no distance: leave it out, or measure it.")
        return Taken(phrase, point=point, length=first.mm, within=within)
    if to_centre:
        raise ValueError(f"{found(phrase)} names the centre and gives two distances: leave one out.")
    if first.mm == second.mm:
        raise ValueError(f"{found(phrase)} gives the same distance twice: write both sides of the thing, or centre.")
    wide_enough(phrase, abs(second.mm - first.mm), setting)
    return Taken(phrase, point=point, length=(first.mm + second.mm) / 2, sides=abs(second.mm - first.mm), within=within)


def _is_point(name: str, setting: Setting) -> bool:
    """Whether a name behind "from" is a point's: a point, or neither a line of this surface nor an edge."""
    words = name.casefold()
    if words in (setting.points or {}):
        return True
    if setting.lines is None:
        return False
    is_line = any(line.casefold() == words for line in setting.lines or {})
    return not is_line and not words.endswith(" there") and " edge" not in words and words not in _EDGES


_EDGES = ("left", "right", "bottom", "top", "floor", "ceiling")


def parse_pair(text: str, setting: Setting) -> tuple[str, str]:
    """The two holes of a pair: "hot and cold". Raises ValueError."""
    names = re.split(r" and |, ", spaced(text))
    if len(names) != 2:
        raise ValueError(f"{found(text)} is no pair: write two holes, as in hot and cold.")
    first, second = (named(name, setting.holes, "hole") for name in names)
    if first == second:
        raise ValueError(f"{found(text)} names one hole twice: write two holes, as in hot and cold.")
    return first, second


PointField = Annotated[PointRead, Parsed(parse_point)]


class PairSpec(JobModel, frozen=True, kw_only=True):
    """What was read between two holes, from middle to middle.

    apart   how far apart they are, mm; level: they are at one height; plumb: one is above the other.
    within  give or take, two sigma, mm.
    """

    of: Annotated[
        tuple[str, str],
        parsed(parse_pair),
        Key(
            "the two holes",
            ("hot and cold", "hot and drain"),
            must=True,
            write="of: and the names of two holes, as in of: flow and return",
        ),
    ]
    apart: Annotated[Distance | None, Key("from middle to middle", ("150", "153"))] = None
    level: Annotated[Flag, Key("yes: they are at one height", ("yes", "no"))] = False
    plumb: Annotated[Flag, Key("yes: one is above the other", ("yes", "no"))] = False
    within: Annotated[GiveOrTake | None, Key("how good that is, give or take", ("1", "3"))] = None

    def check(self) -> None:
        """How far apart, or that they are level, or plumb."""
        if self.apart is None and not self.level and not self.plumb:
            raise ValueError("It says nothing of the two: write apart: 150, level: yes or plumb: yes.")


def lies(text: str) -> Lies:
    """Which of two places: left, right, above or below the other. Raises ValueError."""
    words: Mapping[str, Lies] = {
        "left": "left",
        "right": "right",
        "above": "above",
        "below": "below",
        "top": "above",
        "bottom": "below",
    }
    word = text.casefold().removeprefix("the ").removesuffix(" one")
    if word not in words:
        raise ValueError(f"{found(text)} is not taken here: write {either(('left', 'right', 'above', 'below'))}.")
    return words[word]
