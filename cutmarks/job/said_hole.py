"""What comes through, said in one line: "hot, 15 copper, 67 to 83 left of V, 212 to 228 above B, rose 65".

Its name stands first (`said_names`); everything else in any order. Each part is read by the readers of the job file's
own phrases, or by a row of words (`said_words`), so that what comes out are the keys of a hole, as if they had been
written.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Literal

from cutmarks.fittings.phrase import take_apart
from cutmarks.fittings.shape_words import BOX_WORDS
from cutmarks.job.catalogued import (
    called_after,
    is_called_by_size,
    is_known,
    is_of_a_shape,
    is_round,
    parts_read,
    singular,
    trade_words,
    what_in,
)
from cutmarks.job.depths import parse_depth
from cutmarks.job.edges import VoidSpec
from cutmarks.job.grammar import SAME, parse_thing
from cutmarks.job.holes import HoleSpec, named_fitting, parse_cover
from cutmarks.job.laying import is_size, parse_size
from cutmarks.job.measures import IMPERIAL, length_as_written
from cutmarks.job.onward import goes_on, parse_void_reading
from cutmarks.job.parting import (
    BETWEEN,
    HAS_FIGURE,
    Dealt,
    Keys,
    LineReader,
    PlaceReader,
    at_and,
    deal,
    fault_of,
    is_length,
    keyed,
    of_no_key,
    parts_of,
    short_value,
    takes,
)
from cutmarks.job.said_names import name_cut_off
from cutmarks.job.said_places import AXES, both_ways
from cutmarks.job.said_words import (
    CALLED,
    COVER_NAMES,
    COVERED,
    DESCRIBED,
    DUCTS,
    MEASURED,
    SAID_OF_A_HOLE,
    SQUARE_BOX,
    TO_CENTRE,
)
from cutmarks.job.tokens import plain_words, tokens
from cutmarks.job.vocabulary import HALF_A_STEP, LEANS
from cutmarks.job.worded import worded
from cutmarks.job.words import Setting, found
from cutmarks.patterns import late
from cutmarks.readings import Size
from cutmarks.units import Unit, parse_length

MOST_OVER_ITS_NAME = 13.0
"""A pipe is no wider than its size by name and this, mm: 4 in iron is 114.3."""
VOID_WORDS = ("window", "niche", "door")
_BEGINS_WITH_ITS_KEY = late(r"cover(?!s\b)", re.IGNORECASE)
_ITS_KEY = late(r"(?:across|up|in): ", re.IGNORECASE)
_AND = late(r"\s+(?:and|x|&)\s+")
_EACH = late(r"\s+(?:each|apiece|on (?:each|both))$", re.IGNORECASE)
_WHY = late(r"\s+(?=(?:so|because|cos) [^0-9]*$)", re.IGNORECASE)


def hole_said(sentence: str, setting: Setting) -> Keys:
    """The keys of one hole. Raises ValueError: one sentence.

    Where it is called nothing, but the sentence says what it is, that is its name.
    """
    try:
        name, rest = name_cut_off(sentence, setting)
        return hole_keys(name, rest, setting)
    except ValueError as error:
        try:
            keys = hole_keys("", parts_of(sentence), setting)
        except ValueError:
            if why := _of_what_stands_first(sentence, setting):
                raise ValueError(why) from None
            raise error from None
        if keys["name"]:
            return keys
        said = [keys.get("what", "?"), *keys.get("note", "").split(BETWEEN)]
        what = next((one for one in said if one != "?" and (one == said[0] or is_called_by_size(one, setting))), "")
        if not what:
            raise
        return {**keys, "name": called_after(what)}


def _of_what_stands_first(sentence: str, setting: Setting) -> str:
    """The fault of a sentence that has no name and begins with what the thing is; "" where it does not.

    "15 copper 67/83 V": not that it is no name, but on which side of V it lies is what has to be said.
    """
    first, *rest = parts_of(sentence)
    words = first.split(" ")
    for count in range(len(words) - 1, 1, -1):
        what, place = " ".join(words[:count]), " ".join(words[count:])
        if HAS_FIGURE.match(what) and is_known(what, setting):
            try:
                hole_keys("", [what, place, *rest], setting)
            except ValueError as fault:
                return str(fault)
    return ""


def void_said(kind: str, sentence: str, setting: Setting) -> Keys:
    """The keys of a window, a niche or a door: "100 to 700 right of V, 450 to 850 above B, gap 5"."""
    first, *rest = parts_of(sentence)
    places = both_ways(parse_void_reading, setting)
    named = {"name": first or kind} if not first or places.read(first) is None else {}
    if not named:
        rest = [first, *rest]

    def comes_through(part: str) -> Dealt | None:
        if is_known(part, setting):
            raise ValueError(f"{found(part)} comes through, and no {kind} does: begin with hole: {first}.")
        return None

    def why_not(part: str) -> str:
        if goes_on(part):
            return f"{found(part)} stands behind how high it begins: write it so, as in 210 above B, {part}."
        return places.why_not(part) if HAS_FIGURE.search(part) else of_no_key(part, "gap 5, or a note: before it")

    told = PlaceReader(places.read, why_not, places.up)
    return deal(at_and(_with_how_it_goes_on(rest), told), [keyed(VoidSpec), comes_through], told, named, within=())


def _with_how_it_goes_on(parts: Sequence[str]) -> list[str]:
    """The parts; that it goes on past the edge above is of how high it begins, which is said before."""
    joined: list[str] = []
    for part in parts:
        if joined and goes_on(part):
            joined[-1] = f"{joined[-1]}, {part}"
        else:
            joined.append(part)
    return joined


def hole_keys(name: str, parts: Sequence[str], setting: Setting) -> Keys:
    """The keys of the hole of that name, of the parts that say the rest. Raises ValueError: one sentence."""
    places = both_ways(parse_thing, setting)
    placed = [part for part in parts if not is_to_centre(part, setting)]
    if len(placed) < len(parts):
        parts, places = placed, _to_the_middle(places)
    return _hole_keys(name, _both_to_the_middle(name, parts, places), places, setting)


def _both_to_the_middle(name: str, parts: Sequence[str], places: PlaceReader) -> list[str]:
    """The parts; of two places of a round thing, what goes to the middle one way goes there the other way too.

    "centre 75 left of V, 220 above B": that the second does is printed as assumed. Of a box it is asked, since how
    high it sits is as often read to its underside.
    """
    if not any("centre" in plain_words(part) for part in parts):
        return list(parts)
    apart: list[str] = []
    for part in parts:
        pair = _AND.split(part)
        is_two = len(pair) == 2 and {_to_what(one, places) for one in pair} == {"centre", "lone"}
        apart += pair if is_two else [part]
    goes = [_to_what(part, places) for part in apart]
    is_box = any(
        not BOX_WORDS.isdisjoint(map(singular, plain_words(part))) for part in (name, *parts) if "plate" not in part
    )
    if goes.count("lone") != 1 or goes.count("centre") != 1 or is_box:
        return apart
    return [f"centre {part}" if how == "lone" else part for part, how in zip(apart, goes, strict=True)]


def _to_what(part: str, places: PlaceReader) -> Literal["centre", "lone", ""]:
    """Whether a place goes to the middle by its own words, or is a lone distance that does not say to what."""
    part = _ITS_KEY.sub("", part)
    if not HAS_FIGURE.search(part) and "centre" not in plain_words(part):
        return ""
    if places.read(part) is not None:
        return "centre" if "centre" in plain_words(part) else ""
    return "lone" if places.read(f"centre {part}") is not None else ""


def _to_the_middle(places: PlaceReader) -> PlaceReader:
    """The same places, where a lone distance is to the middle."""

    def read(part: str) -> Dealt | None:
        return places.read(part) or (places.read(f"centre {part}") if HAS_FIGURE.match(part) else None)

    def dealt(part: str) -> Dealt | None:
        one = read(part)
        return one if one is None or places.read(part) is not None else (one[0], f"centre {part}")

    return PlaceReader(dealt, places.why_not, places.up)


def _hole_keys(name: str, parts: Sequence[str], places: PlaceReader, setting: Setting) -> Keys:
    words = keyed(HoleSpec)
    by_size: list[str] = []
    first = next(iter(parts), "")

    def cover(part: str) -> Dealt | None:
        return None if _BEGINS_WITH_ITS_KEY.match(part) and short(part) else cover_in(part, setting)

    def short(part: str) -> Dealt | None:
        return short_value(part, words, setting)

    def whole(part: str) -> Dealt | None:
        """A part behind the word for its key and a colon, or behind one whose values are words."""
        one = words(part)
        is_said = one is not None and (":" in part or one[0] in ("depth", "note"))
        return one if is_said else short(part)

    def why_not(part: str) -> str:
        one = words(part)
        if one is not None and one[0] == "cover":
            return fault_of(lambda: parse_cover(part, setting))
        return places.why_not(part)

    def named(part: str) -> Dealt | None:
        """A name that stands behind what it is: "15 copper hot"; only where none stands first."""
        said = set(plain_words(part))
        is_name = not name and bool(said & CALLED) and said <= CALLED | trade_words()
        return ("name", part) if is_name and not HAS_FIGURE.search(part) else None

    def sized(part: str) -> Dealt | None:
        """A bare figure, where the thing's name with it is one of the catalogue: soil, 110."""
        read = parts_read(part, setting)
        bare = bool(read) and all(token.kind == "figure" for token in read) and is_length(part, setting)
        if bare and is_known(f"{name} {part}", setting):
            return "what", f"{name} {part}"
        # The size is said first, with its unit so that it is no cover: "hot, 15mm, 67 to 83 left of V".
        is_first = f"{first} ".startswith(f"{part} ")
        is_size = bare and is_first and (part[-1:].isalpha() or not DUCTS.isdisjoint(plain_words(name)))
        if not (is_size and is_round(name)):
            return None
        by_size.append(part)
        return "what", part

    # The size of a plate is none of what it hides.
    is_sized = any(
        HAS_FIGURE.search(part) and is_known(part, setting) and cover_in(part, setting) is None for part in parts
    )

    def called(part: str) -> Dealt | None:
        """What it is; in words alone beside what says its size, as a remark."""
        one = what_in(part, setting)
        return ("note", part) if one is not None and is_sized and not HAS_FIGURE.search(part) else one

    def called_by_size(part: str) -> Dealt | None:
        """A size by name that can be several pipes: it counts as long as nothing was measured."""
        size = part.removeprefix("on ")
        is_bare = set(plain_words(size)) <= {"round"}
        if (is_bare and part != first) or not is_called_by_size(size, setting):
            return None
        if is_bare and size == part and is_length(part, setting) and part[-1:].isdigit() and "/" not in part:
            return None
        size = f"{name} {size}" if is_known(f"{name} {size}", setting) else size
        by_size.append(size)
        return "what", size

    of_it: list[LineReader] = [
        named,
        sized,
        lambda part: worded(part, SAID_OF_A_HOLE, setting),
        lambda part: _depth(part, setting),
        lambda part: _measured(part, setting),
        called,
        lambda part: _flange(part, setting),
        lambda part: worded(part, DESCRIBED, setting),
        called_by_size,
    ]
    told = PlaceReader(places.read, why_not, places.up)
    keys = deal(
        at_and(_joined(parts, setting), told),
        [cover, whole, *of_it],
        told,
        {"name": name} if name else {},
        several="note",
        within=[cover, short, *of_it],
    )
    name = keys.setdefault("name", "")
    _plate_has_two_sizes(keys, setting)
    _plate_stands_as_said(keys, setting)
    if keys.get("what") in by_size:
        keys = _measured_anyway(keys, setting)
    keys = _box_measured_anyway(keys, setting)
    keys = _size_out_of_the_name(keys, setting)
    name = keys["name"]
    if "what" not in keys and name and (is_known(name, setting) or is_of_a_shape(name)):
        keys["what"] = _what_by_its_name(keys, setting)
    return keys


def _what_by_its_name(keys: Keys, setting: Setting) -> str:
    """What a thing is by its name; without a figure that numbers it, and is not how wide it was read: tail 2."""
    name = keys["name"]
    if not is_known(name, setting):
        return _without_numbers(name)
    fitting, read = named_fitting(name, setting), _read_across(keys, setting)
    is_sized = fitting is None or fitting.od is None or any(abs(wide - fitting.od) <= SAME for wide in read)
    return name if is_sized or not read or not name[-1:].isdigit() else _without_numbers(name)


def _without_numbers(name: str) -> str:
    """What a thing is by a name that numbers it: "tap 2" is a tap."""
    return " ".join(word for word in name.split(" ") if not HAS_FIGURE.search(word)) or name


def _measured_anyway(keys: Keys, setting: Setting) -> Keys:
    """The keys; a size by name that several pipes have is a remark where both sides of the thing were read.

    Where they were not, but its cover is known, it has a place: what it is is then asked of it alone (a STOP).
    """
    read = _read_across(keys, setting)
    is_measured = bool(read) and all(_may_be_called(keys["what"], wide, setting) for wide in read)
    is_held = not read and keys.get("cover", "none") != "none"
    if takes(lambda: named_fitting(keys["what"], setting)) or not (is_measured or is_held):
        return keys
    note = BETWEEN.join(filter(None, (keys.get("note", ""), keys["what"])))
    return {**{key: held for key, held in keys.items() if key != "what"}, "note": note}


def _box_measured_anyway(keys: Keys, setting: Setting) -> Keys:
    """The keys; of a box that has both its sides read both ways, what it is called of another country is a remark."""
    what = keys.get("what", "")
    is_box = not BOX_WORDS.isdisjoint(map(singular, plain_words(what)))
    if not is_box or takes(lambda: named_fitting(what, setting)) or len(_read_across(keys, setting)) < len(AXES):
        return keys
    return {**keys, "what": "box", "note": BETWEEN.join(filter(None, (keys.get("note", ""), what)))}


def _may_be_called(what: str, wide: float, setting: Setting) -> bool:
    """Whether what measures so outside, mm, may have that size by name: a pipe is as wide, or wider by its wall."""
    mm = take_apart(what, setting.unit).number
    return mm - SAME <= wide <= mm + MOST_OVER_ITS_NAME


def _size_out_of_the_name(keys: Keys, setting: Setting) -> Keys:
    """The keys; a figure that ends the name is the thing's size where that was read: "stopcock 15"."""
    name, _, size = keys["name"].rpartition(" ")
    if "what" in keys or not name or not size.isdigit() or not is_length(size, setting) or setting.unit in IMPERIAL:
        return keys
    mm = parse_length(size, setting.unit).mm
    read = _read_across(keys, setting)
    is_read = bool(read) and all(abs(wide - mm) <= SAME for wide in read)
    return {**keys, "name": name, "what": size} if is_read and takes(lambda: named_fitting(size, setting)) else keys


def _read_across(keys: Keys, setting: Setting) -> list[float]:
    """How far apart the two sides of the thing were read, each way in which they were, mm."""
    apart: list[float] = []
    for axis in AXES:
        key = "across" if axis == "across" else "up" if setting.kind == "wall" else "in"
        try:
            reading = parse_thing(keys.get(key, ""), axis, setting)
        except ValueError:
            continue
        if reading.high is not None:
            apart.append(abs(reading.high - reading.low))
    return apart


def _plate_has_two_sizes(keys: Keys, setting: Setting) -> None:
    """Raises ValueError: the plate of a box is said by one figure, which would be a round one's diameter."""
    cover = keys.get("cover", "")
    said = set(plain_words(cover))
    is_box = not BOX_WORDS.isdisjoint({*plain_words(keys["name"]), *plain_words(keys.get("what", ""))} - {"plate"})
    one = sum(token.kind == "figure" for token in tokens(cover, setting)) == 1
    if (
        is_box
        and one
        and said & {"plate", "plates", "faceplate"}
        and not said & {"round", "dia", "diameter", "od", "rd", "sq", "square"}
    ):
        figure = next(token.word for token in tokens(cover, setting) if token.kind == "figure")
        raise ValueError(
            f"{found(cover)} is one figure, and the plate of a box has two sides: write plate {figure} x {figure} "
            f"if it is square, or round plate {figure}."
        )


def _plate_stands_as_said(keys: Keys, setting: Setting) -> None:
    """Raises ValueError: a plate is said to stand upright, and its two sizes, across first, say that it lies."""
    said = set(plain_words(keys.get("note", "")))
    way = next((word for word in ("vertical", "upright", "horizontal") if word in said), "")
    cover = keys.get("cover", "")
    if (
        not way
        or not takes(lambda: parse_cover(cover, setting))
        or {"wide", "high", "w", "h"} & set(plain_words(cover))
    ):
        return
    size = parse_cover(cover, setting)
    if isinstance(size, Size) and size.first != size.second and (size.first > size.second) != (way == "horizontal"):
        one, two = (token.word for token in tokens(cover, setting) if token.kind == "figure")
        raise ValueError(
            f"{found(cover)} is {one} across and {two} up, and {way} says otherwise: write plate {two} x {one}, or "
            f"leave {way} out."
        )


def at_colon(part: str) -> list[str]:
    """What stands on both sides of a colon, where the one before is no word for a key: "15 copper: 67 right of V"."""
    one, colon, two = part.partition(": ")
    return [one, two.strip()] if colon and two.strip() and keyed(HoleSpec)(part) is None else [part]


def _joined(parts: Sequence[str], setting: Setting) -> list[str]:
    """The parts, why it is so being one of its own; a cover and its size, with a comma between, are one."""
    apart = [piece for part in parts for piece in _WHY.split(_EACH.sub("", part)) if piece]
    apart = [piece for part in apart for piece in at_colon(part)]
    joined: list[str] = []
    for part in apart:
        if joined and joined[-1].casefold() in ("round", "square") and HAS_FIGURE.match(part):
            joined[-1] = f"{part} {joined[-1]}"
            continue
        both = f"{joined[-1]} {part}" if joined else ""
        is_cover = both and not HAS_FIGURE.search(joined[-1]) and HAS_FIGURE.match(part)
        if is_cover and (dealt := cover_in(both, setting)) is not None and dealt[1] != "none":
            joined[-1] = both
        else:
            joined.append(part)
    return joined


def cover_in(part: str, setting: Setting) -> Dealt | None:
    """A cover by its name: "65 rose", "plate 147 x 86", "no cover"."""
    if (none := worded(part, COVERED, setting)) is not None:
        return none
    said = {singular(word) for word in plain_words(part)} & COVER_NAMES
    return ("cover", part) if said and HAS_FIGURE.search(part) and takes(lambda: parse_cover(part, setting)) else None


def _flange(part: str, setting: Setting) -> Dealt | None:
    """A flange as a cover, where it is none that comes through: "2 1/2 flange"."""
    is_one = "flange" in map(singular, plain_words(part)) and HAS_FIGURE.search(part) is not None
    return ("cover", part) if is_one and takes(lambda: parse_cover(part, setting)) else None


def _depth(part: str, setting: Setting) -> Dealt | None:
    return ("depth", part) if takes(lambda: parse_depth(part, setting)) else None


def is_to_centre(part: str, setting: Setting) -> bool:
    """Whether a part says of all places that they go to the middle."""
    return worded(part, TO_CENTRE, setting) is not None


def _measured(part: str, setting: Setting) -> Dealt | None:
    """What was measured of it: "mikes 1 1/16", "28 across the outside", "70 x 70"."""
    if (measured := worded(part, MEASURED, setting)) is not None:
        lean = next((word for word in plain_words(part) if word in LEANS), "")
        return measured[0], _leaning(measured[1], lean, setting)
    if setting.unit not in IMPERIAL and (box := worded(part, SQUARE_BOX, setting)) is not None:
        return box
    return ("size", part) if is_size(part) and takes(lambda: parse_size(part, setting.unit)) else None


def _leaning(size: str, lean: str, setting: Setting) -> str:
    """A size that is a shade more or less than was read: half a step of the tape."""
    if not lean:
        return size
    length = parse_length(size, setting.unit)
    step = HALF_A_STEP[length.unit in (Unit.INCH, Unit.FOOT)]
    return length_as_written(length.mm + LEANS[lean.casefold()] * step, setting)


def in_order(keys: Keys) -> Keys:
    """The keys of a thing in the order in which they are read best."""
    first = ("name", "what", "across", "up", "in", "cover", "end")
    return {key: keys[key] for key in (*first, *keys) if key in keys}
