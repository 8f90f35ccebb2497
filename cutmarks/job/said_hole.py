"""What comes through, said in one line: "hot, 15 copper, 67 to 83 left of V, 212 to 228 above B, rose 65".

Its name stands first; everything else in any order. Each part is read by the readers of the job file's own phrases, so
that what comes out are the keys of a hole, as if they had been written.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from functools import cache

from cutmarks.fittings import find
from cutmarks.fittings.phrase import plain_words as phrase_words
from cutmarks.fittings.phrase import take_apart
from cutmarks.fittings.rows import families
from cutmarks.fittings.shape_words import BOX_WORDS, MAYBE_BOX_WORDS, ROUND_WORDS
from cutmarks.job.depths import parse_depth
from cutmarks.job.edges import VoidSpec
from cutmarks.job.fields import parse_name
from cutmarks.job.grammar import parse_reading, parse_thing
from cutmarks.job.holes import HoleSpec, parse_cover
from cutmarks.job.laying import is_size, parse_size
from cutmarks.job.measures import IMPERIAL, length_as_written
from cutmarks.job.parting import (
    EITHER,
    HAS_FIGURE,
    Dealt,
    Keys,
    LineReader,
    PlaceReader,
    at_and,
    deal,
    fault_of,
    keyed,
    of_no_key,
    parts_of,
    short_value,
    takes,
)
from cutmarks.job.tokens import Token, plain_words, tokens
from cutmarks.job.vocabulary import HALF_A_STEP, HANDS, INTO, LEANS, MATERIALS, ONE_WAY, SIDES, STANDS, THINGS, UP
from cutmarks.job.words import FIGURE, Setting, found, spaced
from cutmarks.sides import Axis
from cutmarks.units import Unit, parse_length

AXES: tuple[Axis, Axis] = ("across", "up")
VOID_WORDS = ("window", "niche", "door")
MOST_WORDS_NAMED = 4
"""A name that no comma ends has no more words."""
MOST_DIGITS_NAMED = 2
"""A figure that numbers things has no more digits."""
_NO_COVER = re.compile(
    r"(?:none|(?:there(?:'|\u2019)?s )?no (?:cover|rose|plate|collar|escutcheon|flange|trim)(?: on (?:this|it|"
    r"that))?)$",
    re.IGNORECASE,
)
_BEGINS_WITH_ITS_KEY = re.compile(r"cover(?!s\b)", re.IGNORECASE)
_STAYS_ON = re.compile(
    r"(?:end |it )?(?:runs on|stays on|(?:won['\u2019]?t|will not|does(?:n['\u2019]t| not)|can(?:no|"
    r"['\u2019])t) come off)"
    r"$",
    re.IGNORECASE,
)
_COMES_OFF = re.compile(r"(?:end |it )?(?:comes off|will come off|can come off)$", re.IGNORECASE)
_SQUARE_BOX = re.compile(
    rf"(?P<side>[{FIGURE}][^a-z]*?(?: ?(?:mm|cm))?) (?:sq(?:uare)? )?box$"
    rf"|box (?P<behind>[{FIGURE}][^a-z]*)(?: ?mm)?$",
    re.IGNORECASE,
)
"""A box of one figure is as wide as it is high, where boxes are metric."""
_NUMBERED = re.compile(r"[^\W\d_]{0,3}-?[0-9]{1,2}[a-z]?$", re.IGNORECASE)
_ORDINAL = re.compile(r"[0-9]{1,2}(?:st|nd|rd|th)$", re.IGNORECASE)
_POSSESSIVE = re.compile(r"['\u2019]s$")
_THROUGH = re.compile(r"\s+(?:coming )?(?:up |out )?(?:through|thro'?|thru) (?:the )?(?:floor|wall)$", re.IGNORECASE)
"""Where everything comes through: that is known."""
_AND = re.compile(r"\s+(?:and|x|&)\s+")
_EACH = re.compile(r"\s+(?:each|apiece|on (?:each|both))$", re.IGNORECASE)
_WHY = re.compile(r"\s+(?=(?:so|because|cos) [^0-9]*$)", re.IGNORECASE)
_REMARKS = re.compile(
    r"(?:so|because|cos|as) (?P<why>[^\W\d][^0-9]*)$|(?P<shows>(?:stub|pipe|it|tail) shows|on show|exposed)$",
    re.IGNORECASE,
)
"""What is said of a thing and places nothing: it is kept, as a remark that is printed."""
TO_CENTRE = re.compile(
    r"(?:both |all |all dims |dims |all measured |measured |both measured )?(?:to |at )?(?:the |its |their )?"
    r"(?:c/l|ctrs?|centres?|centers?|middles?)(?: lines?)?(?: of (?:it|them|the \w+))?$",
    re.IGNORECASE,
)
"""A part that says of all places that they go to the middle."""
_ALL_ROUND = re.compile(
    r"(?:cut |leave |allow )?(?P<much>\S+(?: [0-9]+/[0-9]+)?(?: (?:mm|cm|in))?) (?:clear )?(?:all round|"
    r"all around|all rnd)"
    r"(?: (?:it|and silicone|for silicone|and caulk|for caulk))?$",
    re.IGNORECASE,
)
_A_HOLE = re.compile(
    rf"(?:cut |core |drill |one |a )*(?:round )?(?:(?:hole|core|cut|opening)(?: of)? (?P<behind>[{FIGURE}].*)"
    rf"|(?P<before>[{FIGURE}].*?) (?:round )?(?:hole|core|opening))$",
    re.IGNORECASE,
)
_MEASURED = re.compile(
    rf"(?:(?:it )?(?:mics|mikes|miked|tapes|measures)|real size|actual)(?: (?:at|up))? (?P<behind>[{FIGURE}][^a-z]*?)"
    rf"(?P<leans> bare| full| strong| shy)?(?: over| od| across| outside)?$"
    rf"|(?P<over>[{FIGURE}][^a-z]*?) (?:across|over) (?:the outside|the body|all)$|(?P<before>[{FIGURE}][^a-z]*?)"
    rf"(?P<lean> bare| full| strong| shy)? on the tape$",
    re.IGNORECASE,
)
CALLED = frozenset({"hot", "cold", "flow", "return", "h", "c", "mains", "filtered", "fill"})
"""What pipes are called, whatever they are."""
_DUCTS = frozenset({"duct", "vent", "flue"})
_COVERS = frozenset({
    "rose", "collar", "plate", "escutcheon", "cover", "trim", "faceplate", "esc", "grate", "grille", "ring",
    "skirt", "frame",
})  # fmt: skip
"""What hides a hole."""
_NOT_OF_A_THING = frozenset({
    "not", "no", "never", "mind", "check", "ask", "yet", "still", "before", "after", "if", "when", "may", "might",
    "about", "maybe", "roughly", "same", "again", "except", "unless", "then", "but", "cannot", "t", "other", "next",
    "each", "between", "gap", "centres", "two", "three",
})  # fmt: skip
"""Words that no name and no word for a thing has: they say something else."""
_UPWARD = {word for row in (*UP, *INTO) for word in row} - {
    "to",
    "the",
    "in",
    "up",
    "off",
    "of",
    "room",
    "than",
    "from",
}
_SIZE_WORDS = frozenset({
    "wide", "high", "tall", "by", "dia", "diameter", "overall", "and", "long", "square", "sq", "black", "white",
    "chrome",
    "chromed", "brass", "plain", "thick", "wall", "galv", "push", "fit", "solvent", "weld", "mm", "single", "double",
    "twin", "gang", "sunk", "deep", "flush", "surface", "mount", "conc", "concealed", "for", "i",
})  # fmt: skip
_OF_A_PLACE = {
    *HANDS,
    *SIDES,
    *ONE_WAY["across"],
    *ONE_WAY["up"],
    "on",
    "from",
    "to",
    "in",
    "at",
    "off",
    "with",
    "line",
}
_HOW_IT_STANDS = {word for row in STANDS for word in row}
"""Words that say how a thing lies to a line, and end no name."""


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
            raise error from None
        if keys["name"]:
            return keys
        if keys.get("what", "?") == "?":
            raise
        return {**keys, "name": _called_after(keys["what"])}


def _called_after(what: str) -> str:
    """What a thing is called that is said to be this, and nothing else."""
    if takes(lambda: parse_name(what)):
        return what
    return " ".join(word for word in what.split(" ") if not HAS_FIGURE.search(word))


def void_said(kind: str, sentence: str, setting: Setting) -> Keys:
    """The keys of a window, a niche or a door: "100 to 700 right of V, 450 to 850 above B, gap 5"."""
    first, *rest = parts_of(sentence)
    places = both_ways(parse_reading, setting)
    named = {"name": first or kind} if not first or places.read(first) is None else {}
    if not named:
        rest = [first, *rest]

    def comes_through(part: str) -> Dealt | None:
        if is_known(part, setting):
            raise ValueError(f"{found(part)} comes through, and no {kind} does: begin with hole: {first}.")
        return None

    told = PlaceReader(
        places.read,
        lambda part: (
            places.why_not(part) if HAS_FIGURE.search(part) else of_no_key(part, "gap 5, or a note: before it")
        ),
        places.up,
    )
    return deal(at_and(rest, told), [keyed(VoidSpec), comes_through], told, named, within=())


def named_first(parts: Sequence[str], setting: Setting) -> tuple[str, list[str]]:
    """The name that a sentence begins with, and its other parts.

    What is no name but a thing of the catalogue stands for both. Raises ValueError: it begins with none.
    """
    first, *rest = parts
    given = keyed(HoleSpec)(first)
    if given is not None and given[0] == "name":
        return given[1], rest
    if first in ("", "?"):
        raise ValueError(
            f"{found(first)} is no name: begin with what it is called; where there is no more, Enter alone."
        )
    if given is not None:
        raise ValueError(f"{found(first)} stands where the name should: begin with what it is called and a comma.")
    may_place = HAS_FIGURE.search(first) or not (_OF_A_PLACE | _HOW_IT_STANDS).isdisjoint(plain_words(first))
    if may_place and (_says_where(first, setting) or _ways_read(parse_thing, first, setting)):
        raise ValueError(
            f"{found(first)} stands where the name should, and says where it is: begin with what it is called and a "
            "comma, as in hot, 67 to 83 left of V."
        )
    return first, rest


def name_cut_off(sentence: str, setting: Setting) -> tuple[str, list[str]]:
    """The name that a sentence begins with where no comma ends it: "hot 15 copper, 67 to 83 left of V"."""
    parts = parts_of(sentence)
    first = parts[0]
    name, colon, more = first.partition(":")
    before = name.split()
    is_numbered = len(before) > 1 and _is_numbered(before, len(before) - 1)
    is_sized = "/" in name and HAS_FIGURE.search(name) is not None
    if (
        colon
        and not is_sized
        and keyed(HoleSpec)(first) is None
        and before
        and _is_a_name(before[: len(before) - is_numbered])
    ):
        return name.strip(), [spaced(more), *parts[1:]] if more.strip() else parts[1:]
    if colon and more.strip() and is_sized and keyed(HoleSpec)(first) is None:
        # A part of an inch is of its size, and no name: "drain 1-1/2 pvc: 4 3/4 to 6 5/8 right of V".
        first = name.strip()
        parts = [first, spaced(more), *parts[1:]]
    words = first.split(" ")
    words[0] = _POSSESSIVE.sub("", words[0])
    count = 0
    while count < min(len(words), MOST_WORDS_NAMED) and not HAS_FIGURE.search(words[count]):
        count += 1
    while count and not _is_a_name(words[:count]):
        count -= 1
    behind = " ".join(words[count:])
    goes_on = HAS_FIGURE.search(first) or both_ways(parse_thing, setting).read(behind) is not None
    if count and behind and goes_on and not _is_numbered_name(words):
        return " ".join(words[:count]), [behind, *parts[1:]]
    if is_known(first, setting) and not count:
        return _called_after(first), parts
    if (sized := _behind_its_size(words, setting)) is not None:
        return sized[0], [sized[1], *parts[1:]]
    if HAS_FIGURE.search(first) and not _is_numbered_name(words) and not first.casefold().startswith("name"):
        raise ValueError(
            f"{found(first)} stands where the name should: begin with what it is called and a comma, as in hot, 67 to "
            "83 left of V."
        )
    return named_first(parts, setting)


def _behind_its_size(words: Sequence[str], setting: Setting) -> tuple[str, str] | None:
    """The name that stands behind what it is, and that: "22 cu towel rail flow"; None where it does not.

    The size has its kind or its unit with it; the longest such is what it is.
    """
    for end in range(len(words) - 1, 0, -1):
        size, called = " ".join(words[:end]), words[end:]
        if any(HAS_FIGURE.search(word) for word in called) or not HAS_FIGURE.match(size):
            continue
        is_what = is_known(size, setting) or (size[-1:].isalpha() and is_length(size, setting))
        if is_what and len(called) <= MOST_WORDS_NAMED and _names_a_thing(called):
            return " ".join(called), size
    return None


def _is_a_name(words: Sequence[str]) -> bool:
    """Whether words with no figure can be what a thing is called: not where it is, or which part of it."""
    said = plain_words(" ".join(words))
    return (
        bool(said)
        and said[-1] not in _OF_A_PLACE | _HOW_IT_STANDS
        and _NOT_OF_A_THING.isdisjoint(said)
        and said[0] not in (*SIDES, "centre")
    )


def _names_a_thing(words: Sequence[str]) -> bool:
    """Whether words behind a size are what a thing is called, and say nothing of where it lies or what hides it."""
    said = plain_words(" ".join(words))
    covers = {_singular(word) for word in said} & (_COVERS | {"flange"})
    return _is_a_name(words) and not covers and (_OF_A_PLACE | _HOW_IT_STANDS | _UPWARD).isdisjoint(said)


def _is_numbered_name(words: Sequence[str]) -> bool:
    """Whether a part that a comma ends is a name with a number in it: "tap 2", "P12", "pipe 3b"."""
    plain = [word for word in words if not HAS_FIGURE.search(word)]
    numbers = [word for word in words if HAS_FIGURE.search(word)]
    is_one = len(numbers) == 1 and _NUMBERED.match(numbers[0]) is not None and len(words) <= MOST_WORDS_NAMED
    said = set(plain_words(" ".join(plain)))
    begins_with_letters = words[0][:1].isalpha() or _ORDINAL.match(words[0]) is not None
    return is_one and begins_with_letters and not said & _OF_A_PLACE and _NOT_OF_A_THING.isdisjoint(said)


def _is_numbered(words: Sequence[str], count: int) -> bool:
    """Whether the figure behind the words is the last thing said, and so belongs to the name: "tap 2"."""
    return 0 < count == len(words) - 1 and words[count].isdigit() and len(words[count]) <= MOST_DIGITS_NAMED


def hole_keys(name: str, parts: Sequence[str], setting: Setting) -> Keys:
    """The keys of the hole of that name, of the parts that say the rest. Raises ValueError: one sentence."""
    places = both_ways(parse_thing, setting)
    to_centre = [part for part in parts if TO_CENTRE.match(part)]
    if to_centre:
        parts, places = [part for part in parts if not TO_CENTRE.match(part)], _to_the_middle(places)
    return _hole_keys(name, _both_to_the_middle(parts, places), places, setting)


def _both_to_the_middle(parts: Sequence[str], places: PlaceReader) -> list[str]:
    """The parts; of two places with "and" between them, what goes to the middle one way goes there the other way too.

    "centre 75 left of V and 220 above B". Behind a comma a lone distance is asked what it goes to.
    """
    apart: list[str] = []
    for part in parts:
        pair = _AND.split(part)
        if len(pair) != 2:
            apart.append(part)
            continue
        lone = [one for one in pair if places.read(one) is None and places.read(f"centre {one}") is not None]
        others = [one for one in pair if one not in lone and places.read(one) is not None]
        is_scoped = len(lone) == len(others) == 1 and "centre" in plain_words(others[0])
        apart += [f"centre {one}" if one in lone else one for one in pair] if is_scoped else [part]
    return apart


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
    first = next(iter(parts), "")

    def cover(part: str) -> Dealt | None:
        return None if _BEGINS_WITH_ITS_KEY.match(part) else cover_in(part, setting)

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
        is_name = not name and bool(said & CALLED) and said <= CALLED | _trade_words()
        return ("name", part) if is_name and not HAS_FIGURE.search(part) else None

    def sized(part: str) -> Dealt | None:
        """A bare figure, where the thing's name with it is one of the catalogue: soil, 110."""
        read = parts_read(part, setting)
        bare = bool(read) and all(token.kind == "figure" for token in read) and is_length(part, setting)
        if bare and is_known(f"{name} {part}", setting):
            return "what", f"{name} {part}"
        # The size is said first, with its unit so that it is no cover: "hot, 15mm, 67 to 83 left of V".
        is_size = bare and part == first and (part[-1:].isalpha() or not _DUCTS.isdisjoint(plain_words(name)))
        return ("what", part) if is_size and _is_round(name) else None

    of_it: list[LineReader] = [
        named,
        sized,
        _end,
        _remark,
        lambda part: _opening(part, setting),
        lambda part: _depth(part, setting),
        lambda part: _measured(part, setting),
        lambda part: what_in(part, setting),
        lambda part: _flange(part, setting),
    ]
    told = PlaceReader(places.read, why_not, places.up)
    keys = deal(
        at_and(_joined(parts, setting), told),
        [cover, whole, *of_it],
        told,
        {"name": name} if name else {},
        within=[cover, short, *of_it],
    )
    name = keys.setdefault("name", "")
    _plate_has_two_sizes(keys, setting)
    if "what" not in keys and name and (is_known(name, setting) or _is_of_a_shape(name)):
        keys["what"] = name
    return keys


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


def is_length(part: str, setting: Setting) -> bool:
    """Whether a part is one length."""
    return takes(lambda: parse_length(part, setting.unit))


def _is_round(name: str) -> bool:
    """Whether what is called so is round: a pipe by what it carries, or by what it is."""
    said = {_singular(word) for word in plain_words(name)}
    return bool(said & (ROUND_WORDS | CALLED | _DUCTS)) and BOX_WORDS.isdisjoint(said)


def _is_of_a_shape(name: str) -> bool:
    """Whether a name says what a thing is, so that it is known for a box or for round: "socket box", "basin waste"."""
    return any(_singular(word) in BOX_WORDS | ROUND_WORDS for word in plain_words(name))


def both_ways(parse: Callable[[str, Axis, Setting], object], setting: Setting) -> PlaceReader:
    """Positions across and up; the key of the second way is that of this kind of surface."""
    up = "up" if setting.kind == "wall" else "in"
    words: dict[Axis, str] = {"across": "across", "up": up}

    @cache
    def read(part: str) -> Dealt | None:
        ways = _ways_read(parse, part, setting)
        return None if not ways else (words[ways[0]] if len(ways) == 1 else EITHER, part)

    def why_not(part: str) -> str:
        said = set(plain_words(part))
        if said & {"left", "right"}:
            return fault_of(lambda: parse(part, "across", setting))
        names = {token.word for token in tokens(part, setting) if token.kind == "name"}
        fixes = {(setting.lines or {}).get(name) for name in names}
        is_up = "y" in fixes or bool(said & _UPWARD)
        if "x" in fixes or (not is_up and _is_range(part, setting)):
            return fault_of(lambda: parse(part, "across", setting))
        if (is_up or said & {"up", "off", "from", "down", "high"}) and HAS_FIGURE.search(part):
            return fault_of(lambda: parse(part, "up", setting))
        return of_no_key(part, f"cover 65; if it is what comes through: what: {part}")

    return PlaceReader(read, why_not, up)


def _ways_read(parse: Callable[[str, Axis, Setting], object], part: str, setting: Setting) -> list[Axis]:
    return [axis for axis in AXES if takes(lambda axis=axis: parse(part, axis, setting))]  # type: ignore[misc]


def _says_where(name: str, setting: Setting) -> bool:
    """Whether a name has figures and words of a place in it."""
    words = {"left", "right", "near", "far", "above", "below"} & set(plain_words(name))
    return _is_range(name, setting) or (bool(HAS_FIGURE.search(name)) and bool(words))


def _is_range(part: str, setting: Setting) -> bool:
    """Whether two figures stand in it that belong together: 67 to 83."""
    return any(token.second is not None for token in tokens(part, setting))


def _end(part: str) -> Dealt | None:
    if _STAYS_ON.match(part):
        return "end", "runs on"
    return ("end", "comes off") if _COMES_OFF.match(part) else None


def cover_in(part: str, setting: Setting) -> Dealt | None:
    """A cover by its name: "65 rose", "plate 147 x 86", "no cover"."""
    if _NO_COVER.match(part):
        return "cover", "none"
    said = {_singular(word) for word in plain_words(part)} & _COVERS
    return ("cover", part) if said and HAS_FIGURE.search(part) and takes(lambda: parse_cover(part, setting)) else None


def _flange(part: str, setting: Setting) -> Dealt | None:
    """A flange as a cover, where it is none that comes through: "2 1/2 flange"."""
    is_one = "flange" in plain_words(part) and HAS_FIGURE.search(part) is not None
    return ("cover", part) if is_one and takes(lambda: parse_cover(part, setting)) else None


def _opening(part: str, setting: Setting) -> Dealt | None:
    """A hole's own size, and the room all round: "one round hole 62", "40 hole", "cut 2 all round"."""
    around = _ALL_ROUND.match(part)
    much = "" if around is None else around["much"]
    if much and takes(lambda: parse_length(much, setting.unit)):
        return "play", much
    match = _A_HOLE.match(part)
    size = (match["behind"] or match["before"]) if match is not None else ""
    plain = bool(size) and short_value(f"opening {size}", keyed(HoleSpec), setting) is not None
    return ("opening", size) if plain else None


def _depth(part: str, setting: Setting) -> Dealt | None:
    return ("depth", part) if takes(lambda: parse_depth(part, setting)) else None


def _measured(part: str, setting: Setting) -> Dealt | None:
    """What was measured of it: "mikes 1 1/16", "24.2 od", "70 x 70"."""
    match = _MEASURED.match(part)
    if match is not None:
        size = (match["behind"] or match["over"] or match["before"]).strip()
        if takes(lambda: parse_length(size, setting.unit)):
            return "diameter", _leaning(size, (match["lean"] or match["leans"] or "").strip(), setting)
    box = None if setting.unit in IMPERIAL else _SQUARE_BOX.match(part)
    side = "" if box is None else (box["side"] or box["behind"]).strip()
    if side and takes(lambda: parse_length(side, setting.unit)):
        return "size", f"{side} x {side}"
    return ("size", part) if is_size(part) and takes(lambda: parse_size(part, setting.unit)) else None


def _leaning(size: str, lean: str, setting: Setting) -> str:
    """A size that is a shade more or less than was read: half a step of the tape."""
    if not lean:
        return size
    length = parse_length(size, setting.unit)
    step = HALF_A_STEP[length.unit in (Unit.INCH, Unit.FOOT)]
    return length_as_written(length.mm + LEANS[lean.casefold()] * step, setting)


def _remark(part: str) -> Dealt | None:
    match = _REMARKS.match(part)
    return None if match is None else ("note", part)


def what_in(part: str, setting: Setting) -> Dealt | None:
    """What it is: one of the catalogue, or words of the trade with no place in them."""
    part = _THROUGH.sub("", part)
    if part == "?" or is_known(part, setting):
        return "what", part
    if HAS_FIGURE.search(part) or _ways_read(parse_thing, part, setting):
        return None
    said = set(plain_words(part))
    place = said & ({"left", "right", "with", "on"} | _UPWARD)
    is_of_the_trade = any(_singular(word) in _trade_words() for word in said)
    return ("what", part) if is_of_the_trade and not place and _NOT_OF_A_THING.isdisjoint(said) else None


def is_known(part: str, setting: Setting) -> bool:
    """Whether the catalogue knows it by more than a bare figure."""
    parts = parts_read(part, setting)
    said = {token.word for token in parts if token.kind == "word"} or set(plain_words(part))
    if any(token.kind in ("name", "piece") for token in parts):
        return False
    if not said or said & ({"left", "right", "centre", "underside", "on", "from"} | _UPWARD | LEANS.keys()):
        return False
    try:
        plain = f" {phrase_words(part)} "
        own = [row for row in setting.own_fittings or () if f" {row.names[0].text} " in plain]
        odd = {_singular(word) for word in take_apart(part, setting.unit).unknown if word.isalpha()}
        known = own or odd <= _trade_words() | _SIZE_WORDS
        return bool(known) and find(part, setting.say, setting.unit, setting.own_fittings or ()) is not None
    except ValueError:
        return False


def parts_read(part: str, setting: Setting) -> Sequence[Token]:
    """The parts of a phrase; none where a figure of it is at fault, as 1/2 is where lengths are mm."""
    try:
        return tokens(part, setting)
    except ValueError:
        return ()


@cache
def _trade_words() -> frozenset[str]:
    """Words for things that come through a tile, one of each."""
    named = {word for family in families() for words in family.words for word in words.split()}
    named |= {
        word
        for family in families()
        for row in family.rows
        for name in row.names
        if name.unit == "words"
        for word in name.text.split()
    }
    words = named | THINGS | MATERIALS | BOX_WORDS | ROUND_WORDS | MAYBE_BOX_WORDS
    return frozenset(_singular(word) for word in words if word.isalpha()) - {
        "it",
        "thing",
        "hole",
        "back",
        "new",
        "old",
    }


def _singular(word: str) -> str:
    return word.removesuffix("es") if word.endswith(("boxes", "switches")) else word.removesuffix("s")


def in_order(keys: Keys) -> Keys:
    """The keys of a thing in the order in which they are read best."""
    first = ("name", "what", "across", "up", "in", "cover", "end")
    return {key: keys[key] for key in (*first, *keys) if key in keys}
