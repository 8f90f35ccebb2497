"""An answer of several parts on one line, dealt out under the keys of the job file.

    hot, 15 copper, 67 to 83 left of V, 212 to 228 above B, cover 65
        -> name: hot | what: 15 copper | across: 67 to 83 left of V | up: 212 to 228 above B | cover: 65

What a part is, the job's own readers of phrases say: one that is read as a position up is one. Behind its key, with a
colon or a blank, any value may stand (`depth 62 behind the board`). A part that no reader takes is never passed over:
it has the sentence of the reader that it comes nearest to. Every fault is a ValueError of one sentence.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from cutmarks.cli.draft import BETWEEN, VOIDS, JobDraft, Keys, in_order
from cutmarks.fittings import find
from cutmarks.job.declared import declared, words_of
from cutmarks.job.grammar import parse_edge, parse_reading, parse_thing
from cutmarks.job.holes import COVER_WORDS, parse_cover
from cutmarks.job.laying import is_size, parse_bond, parse_run, parse_size, parse_start, split_start
from cutmarks.job.measures import IMPERIAL
from cutmarks.job.model import JobModel
from cutmarks.job.models import AreaSpec, EdgeSpec, HoleSpec, TileSpec, VoidSpec
from cutmarks.job.tokens import plain_words, tokens
from cutmarks.job.vocabulary import INTO, UP
from cutmarks.job.words import FIGURE, Setting, found, spaced
from cutmarks.sides import Axis, Side
from cutmarks.units import UNIT_WORDS, Unit

Dealt = tuple[str, str]
"""A key, and what stands under it."""
LineReader = Callable[[str], Dealt | None]
LONGEST_RUN = 4
"""So many parts may be one phrase: "near edge 67, far edge 83, left of V"."""
_PARTING = re.compile(r";|(?<![0-9]),|,(?![0-9])")
"""What parts an answer: a comma between two figures is one of a number."""
_NAMES_ASK_FOR_A_COLON = frozenset({"name", "what", "across", "up", "in", "end", "at"})
"""These are words of a phrase too: "up" begins "up from B"."""
_TO_COME = re.compile(r"(?P<much>.+?) (?:still )?to come$", re.IGNORECASE)
_JOINT = re.compile(r"(?P<much>\S+(?: (?:mm|cm|in))?) joints?$", re.IGNORECASE)
_SQUARE = re.compile(r"\bsq(?:uare)?\b", re.IGNORECASE)
_LAY = re.compile(r"(?:long side |lay )?(?:long side )?(?P<way>across|up)$", re.IGNORECASE)
_HAS_FIGURE = re.compile(rf"[{FIGURE}]")
_FINISHED = ("finished", "nothing to come", "none to come")
_NO_COVER = ("no cover", "no rose", "no plate", "none")
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


def unit_of(draft: JobDraft) -> Unit:
    """The unit of a figure that has none; mm where the draft's cannot be read, which its reader tells."""
    word = draft.job["units"].casefold()
    return UNIT_WORDS.get(word) or next((unit for unit in Unit if unit.value == word), Unit.MM)


def setting_of(draft: JobDraft, side: str = "") -> Setting:
    """What phrases are read in, at this point of the questions."""
    unit = unit_of(draft)
    return Setting(
        unit=unit,
        say="us" if unit in IMPERIAL else "uk",
        kind=draft.kind,
        lines={"V": "x", draft.level: "y"},
        holes={hole["name"].casefold(): hole["name"] for hole in draft.holes},
        line_words={"V": draft.plumb_words, draft.level: draft.level_words},
        edge_words={Side(one): edge.get("what", "") for one, edge in draft.edges.items() if edge},
        side=Side(side) if side else None,
    )


def thing_dealt(answer: str, draft: JobDraft) -> tuple[str, Keys]:
    """What comes through, or what tiles stop at ("window, 100 to 700 right of V, ..."): its kind and its keys."""
    first, *rest = _parts(answer)
    word, _, name = first.partition(":") if ":" in first else first.partition(" ")
    kind = word.casefold() if word.casefold() in (*VOIDS, "hole") else "hole"
    setting = setting_of(draft)
    if kind != "hole":
        name = name.strip() or kind
        places = _read_both_ways(parse_reading, draft, setting)

        def comes_through(part: str) -> Dealt | None:
            if _is_known(part, setting):
                raise ValueError(f"{found(part)} comes through, and no {kind} does: begin with hole: {first}.")
            return None

        keys = _dealt(_at_and(rest, places), [_keyed(VoidSpec), comes_through], places, {"name": name})
        return kind, in_order(keys)
    name = name.strip() if word.casefold() == "hole" and name.strip() else first
    given = _keyed(HoleSpec)(name)
    name = given[1] if given is not None and given[0] == "name" else name
    if name in ("", "?"):
        raise ValueError(
            f"{found(name)} is no name: begin with what it is called; where there is no more, Enter alone."
        )
    if given is None and (_says_where(name, setting) or _places(parse_thing, name, setting)):
        raise ValueError(
            f"{found(name)} stands where the name should, and says where it is: begin with what it is called and a "
            "comma, as in hot, 67 to 83 left of V."
        )
    if given is not None and given[0] != "name":
        raise ValueError(f"{found(name)} stands where the name should: begin with what it is called and a comma.")
    readers = [_keyed(HoleSpec), _end, lambda part: _cover(part, setting), lambda part: _what(part, setting)]
    places = _read_both_ways(parse_thing, draft, setting)
    keys = _dealt(_at_and(rest, places), readers, places, {"name": name})
    if "what" not in keys and _is_known(name, setting):
        keys["what"] = name
    return kind, in_order(keys)


def edge_dealt(answer: str, side: str, draft: JobDraft) -> Keys:
    """One edge: where it was read, what is there, and what is still to come."""
    setting = setting_of(draft, side)
    lead, colon, rest = answer.partition(":")
    parts = _parts(rest if colon and lead.strip().casefold() == side else answer)

    def reading(part: str) -> Dealt | None:
        return ("at", part) if _takes(lambda: parse_edge(part, Side(side), setting)) else None

    def why_not(part: str) -> str:
        return _on_one_line(_fault(lambda: parse_edge(part, Side(side), setting)), ": write it with keys")

    words = _keyed(EdgeSpec)
    places = _Places(reading, why_not)
    keys = _dealt(_at_and(parts, places), [words, _of_an_edge, _what_is_there], places, {}, several="at")
    return {key: keys[key] for key in ("at", "what", *keys) if key in keys}


def tile_dealt(answer: str, draft: JobDraft) -> tuple[str, Keys, Keys]:
    """A tile: its name, its own keys, and the area's (its joint)."""
    unit = unit_of(draft)
    parts = _parts(answer)
    named = re.match(rf"(?P<name>[^{FIGURE}]+?):? (?P<size>[{FIGURE}].*)$", parts[0])
    if named is not None and is_size(named["size"]) and _takes(lambda: parse_size(named["size"], unit)):
        parts[:1] = [named["name"], named["size"]]

    def of_a_tile(part: str) -> Dealt | None:
        if _takes(lambda: parse_run(part, unit)):
            return "run across", part
        if (is_size(part) or _SQUARE.search(part)) and _takes(lambda: parse_size(part, unit)):
            return "size", part
        if part.casefold() in declared(TileSpec)["material"].key.examples:
            return "material", part
        if joint := _JOINT.match(part):
            return "joint", joint["much"]
        if lay := _LAY.match(part):
            return "lay", f"long side {lay['way'].lower()}"
        return None

    def name(part: str) -> Dealt | None:
        return None if _HAS_FIGURE.search(part) else ("name", part)

    def why_not(part: str) -> str:
        if re.match(r"[0-9]+ (?:in|to) ", part):
            return _fault(lambda: parse_run(part, unit))
        if not is_size(part):
            return _of_no_key(part, "joint 3")
        return _on_one_line(_fault(lambda: parse_size(part, unit)), ": write size:")

    joint = words_of(AreaSpec)["joint"]
    readers = [of_a_tile, _keyed(TileSpec), _behind({word: "joint" for word in (*joint.words, *joint.key.meant)}), name]
    keys = _dealt(parts, readers, _Places(lambda _: None, why_not), {})
    area = {key: keys.pop(key) for key in ("joint",) if key in keys}
    return keys.pop("name", ""), keys, area


def start_dealt(answer: str, draft: JobDraft) -> Keys:
    """How the tiles sit: the bond, and the two parts of the start."""
    setting = setting_of(draft)

    def one_way(part: str) -> Dealt | None:
        for axis in _AXES:
            if _takes(lambda axis=axis: parse_start(part, axis, setting)):  # type: ignore[misc]
                return f"start {axis}", part
        return ("bond", part) if _takes(lambda: parse_bond(part, setting.unit)) else None

    def why_not(part: str) -> str:
        is_a_start = re.search(rf"\bon\b|\b(?:V|{draft.level})\b", part)
        return _fault(lambda: parse_start(part, "across", setting) if is_a_start else parse_bond(part, setting.unit))

    parts: list[str] = []
    for part in _parts(answer):
        parts += _both_ways(part, setting) if one_way(part) is None else [part]
    return _dealt(parts, [one_way, _keyed(AreaSpec)], _Places(lambda _: None, why_not), {})


_AXES: tuple[Axis, Axis] = ("across", "up")


@dataclass(frozen=True, slots=True)
class _Places:
    """What reads one phrase, perhaps of several parts, and says what is wrong with one that it does not read.

    up  the key for the second way.
    """

    read: LineReader
    why_not: Callable[[str], str]
    up: str = "up"


def _parts(answer: str) -> list[str]:
    parts = [spaced(part) for part in _PARTING.split(answer)]
    return [part for part in parts if part] or [""]


def _at_and(parts: Sequence[str], places: _Places) -> list[str]:
    """The parts; one of two places with "and" between them is two."""
    apart: list[str] = []
    for part in parts:
        one, _, two = part.partition(" and ")
        is_two = two and places.read(part) is None and places.read(one) is not None and places.read(two) is not None
        apart += [one, two] if is_two else [part]
    return apart


def _dealt(parts: Sequence[str], readers: Sequence[LineReader], places: _Places, keys: Keys, several: str = "") -> Keys:
    """The parts under their keys, beside those that stand there; `several` is a key that may be said more than once."""

    def alone(part: str) -> Dealt | None:
        return next((one for read in readers if (one := read(part)) is not None), None)

    keys, at = dict(keys), 0
    while at < len(parts):
        count, one = _longest(parts[at : at + LONGEST_RUN], alone, places)
        if one is None:
            raise ValueError(places.why_not(parts[at]))
        key, value = one
        if key == _EITHER:
            key = _the_way_left(value, parts[at + count :], keys, places)
        if key in keys and key == several:
            value = keys[key] + BETWEEN + value
        elif key in keys:
            raise ValueError(f"{found(keys[key])} and {found(value)} both say {key}: leave one out.")
        keys[key] = value
        at += count
    return keys


def _longest(run: Sequence[str], alone: LineReader, places: _Places) -> tuple[int, Dealt | None]:
    """What the run of parts begins with, and of how many parts that is: a phrase goes on as far as it can be read."""
    first = alone(run[0])
    if first is not None:
        return 1, first
    reach = next((end for end in range(1, len(run)) if alone(run[end]) or places.read(run[end])), len(run))
    for end in range(reach, 0, -1):
        phrase = ", ".join(run[:end])
        if (one := places.read(phrase)) is not None:
            return end, one
    # A part that is a place by itself may be the end of one: "left of V, 67 to 83" is, "in course 4, 98 up" is not.
    for end in range(2, len(run) + 1):
        if alone(run[end - 1]) is None and (one := places.read(", ".join(run[:end]))) is not None:
            return end, one
    return 1, None


_EITHER = "across or up"


def _the_way_left(phrase: str, rest: Sequence[str], keys: Keys, places: _Places) -> str:
    """The way of a phrase that can be read both ways ("level with hot"): the one that nothing else says."""
    said = {*keys, *(one[0] for part in rest if (one := places.read(part)) is not None)}
    if ("across" in said) == (places.up in said):
        raise ValueError(f'{found(phrase)} can be across or {places.up}: write which, as in "across: {phrase}".')
    return places.up if "across" in said else "across"


def _read_both_ways(parse: Callable[[str, Axis, Setting], object], draft: JobDraft, setting: Setting) -> _Places:
    """Positions across and up; the key of the second way is that of this kind of surface."""
    words: dict[Axis, str] = {"across": "across", "up": draft.up}

    def read(part: str) -> Dealt | None:
        ways = _places(parse, part, setting)
        return None if not ways else (words[ways[0]] if len(ways) == 1 else _EITHER, part)

    def why_not(part: str) -> str:
        said = set(plain_words(part))
        if said & {"left", "right"}:
            return _fault(lambda: parse(part, "across", setting))
        names = {token.word for token in tokens(part, setting) if token.kind == "name"}
        is_up = draft.level in names or bool(said & _UPWARD)
        if "V" in names or (not is_up and _is_range(part, setting)):
            return _fault(lambda: parse(part, "across", setting))
        if is_up and _HAS_FIGURE.search(part):
            return _fault(lambda: parse(part, "up", setting))
        return _of_no_key(part, f"cover 65; if it is what comes through: what: {part}")

    return _Places(read, why_not, draft.up)


def _says_where(name: str, setting: Setting) -> bool:
    """Whether a name has figures and words of a place in it."""
    words = {"left", "right", "near", "far", "above", "below"} & set(plain_words(name))
    return _is_range(name, setting) or (bool(_HAS_FIGURE.search(name)) and bool(words))


def _is_range(part: str, setting: Setting) -> bool:
    """Whether two figures stand in it that belong together: 67 to 83."""
    return any(token.second is not None for token in tokens(part, setting))


def _places(parse: Callable[[str, Axis, Setting], object], part: str, setting: Setting) -> list[Axis]:
    return [axis for axis in _AXES if _takes(lambda axis=axis: parse(part, axis, setting))]  # type: ignore[misc]


def _keyed(model: type[JobModel]) -> LineReader:
    """A part behind a word for its key: `depth 62 behind the board`, `what: mixer valve`, `rose 52`."""
    words: dict[str, str] = {}
    for word, one in words_of(model).items():
        words[word] = word if one.key.floor else one.word
        words |= {meant: one.word for meant in one.key.meant if word == one.word}
    return _behind(words)


def _behind(words: dict[str, str]) -> LineReader:
    longest_first = sorted(words, key=len, reverse=True)
    pattern = re.compile(rf"(?P<word>{'|'.join(map(re.escape, longest_first))})(?P<colon>:)? +(?P<value>\S.*)$", re.I)

    def keyed(part: str) -> Dealt | None:
        match = pattern.match(part)
        if match is None:
            return None
        word = match["word"].lower()
        is_short = match["colon"] is None
        if is_short and (words[word] in _NAMES_ASK_FOR_A_COLON or not _is_a_value(words[word], match["value"])):
            return None
        return words[word], match["value"]

    return keyed


def _is_a_value(key: str, value: str) -> bool:
    """Whether what stands behind a key and no colon can be its value: a figure, or one of few words."""
    return (
        bool(_HAS_FIGURE.match(value))
        or value.casefold() in ("none", "no", "yes", "?")
        or key in ("depth", "note", "work")
    )


def _end(part: str) -> Dealt | None:
    ends = declared(HoleSpec)["end"].key.examples
    return ("end", part.casefold()) if part.casefold() in ends else None


def _cover(part: str, setting: Setting) -> Dealt | None:
    """A cover by its name: "65 rose", "plate 147 x 86", "no cover"."""
    if part.casefold() in _NO_COVER:
        return "cover", "none"
    said = set(plain_words(part)) & (COVER_WORDS - {"of", "the", "a", "is", "two", "x", "by", "w", "h"})
    return ("cover", part) if said and _HAS_FIGURE.search(part) and _takes(lambda: parse_cover(part, setting)) else None


def _what(part: str, setting: Setting) -> Dealt | None:
    """What it is: one of the catalogue, or words with no place in them."""
    if part == "?" or _is_known(part, setting):
        return "what", part
    has_figure = bool(_HAS_FIGURE.search(part))
    place = set(plain_words(part)) & ({"left", "right", "with", "on"} | _UPWARD)
    return None if has_figure or place or _places(parse_thing, part, setting) else ("what", part)


def _is_known(part: str, setting: Setting) -> bool:
    """Whether the catalogue knows it by more than a bare figure."""
    try:
        if not any(token.kind == "word" for token in tokens(part, setting)):
            return False
        return find(part, setting.say, setting.unit) is not None
    except ValueError:
        return False


def _of_an_edge(part: str) -> Dealt | None:
    if part.casefold() in _FINISHED:
        return "still to come", "none"
    if part.casefold() in ("plumb", "level", "true"):
        return "true", "yes" if part.casefold() == "true" else part.casefold()
    match = _TO_COME.match(part)
    return ("still to come", match["much"]) if match else None


def _what_is_there(part: str) -> Dealt | None:
    away = {"left", "right", "above", "below", "from", "of", "on"} & set(plain_words(part))
    return None if _HAS_FIGURE.search(part) or away or part in ("?", "") else ("what", part)


def _both_ways(part: str, setting: Setting) -> list[str]:
    """A start on both axes in one phrase, as two; else the part itself."""
    try:
        across, up = split_start(part, setting)
    except ValueError:
        return [part]
    takes = _takes(lambda: (parse_start(across, "across", setting), parse_start(up, "up", setting)))
    return [across, up] if takes else [part]


def _takes(read: Callable[[], object]) -> bool:
    try:
        read()
    except ValueError:
        return False
    return True


def _fault(read: Callable[[], object]) -> str:
    """The sentence of a reader that does not take it."""
    try:
        read()
    except ValueError as error:
        return str(error)
    raise AssertionError("it is taken after all")


def _on_one_line(sentence: str, for_a_file: str) -> str:
    """A reader's sentence, with what helps on a line of several parts where it says how keys are written in a file."""
    found_out, _, is_for_a_file = sentence.partition(for_a_file)
    return f"{found_out}: put a comma between what are two." if is_for_a_file else sentence


def _of_no_key(part: str, example: str) -> str:
    return f"{found(part)} does not say what it is of: write the word for it before it, as in {example}."
