"""A sentence of several parts, cut into what each part is: the way of dealing shared by all that is said in one line.

    hot, 15 copper, 67 to 83 left of V, 212 to 228 above B, cover 65
        -> name: hot | what: 15 copper | across: 67 to 83 left of V | up: 212 to 228 above B | cover: 65

What a part is, the job's own readers of phrases say: one that is read as a position up is one. Commas, semicolons,
dashes and full stops part what is said; what has none between is cut between its words, and only where all ways of
cutting it so say the same. A part that no reader takes is never passed over: it has the sentence of the reader that it
comes nearest to. Every fault is a ValueError of one sentence.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence

from msgspec import Struct

from cutmarks.job.declared import once_a_model, words_of
from cutmarks.job.model import JobModel
from cutmarks.job.tokens import tokens
from cutmarks.job.words import FIGURE, Follows, Setting, found, spaced
from cutmarks.patterns import late
from cutmarks.units import parse_length

Dealt = tuple[str, str]
"""A key, and what stands under it."""
Keys = dict[str, str]
"""What stands under the keys of one thing, in the words of the job file."""
LineReader = Callable[[str], Dealt | None]
BETWEEN = "; "
"""Stands between several values of one key."""
LONGEST_RUN = 4
"""So many parts may be one phrase: "near edge 67, far edge 83, left of V"."""
MOST_WORDS_CUT = 30
"""Nobody says more in one breath, without a comma."""
MOST_WORDS_PLACED, MOST_WORDS_VALUED = 12, 7
"""So many words of these may be one place, or one other value."""
EITHER = "across or up"
"""In place of a key: the phrase can be read both ways."""
_A_FIGURE = late(rf"[{FIGURE}][{FIGURE}\s./]*(?:mm|cm|in|\")?$", re.IGNORECASE)
"""One figure and no word."""
HAS_FIGURE = late(rf"[{FIGURE}]")
_PARTING = late(
    r"""[;()\n]|(?<![0-9]),|,(?![0-9])
    |(?<![0-9½⅓⅔¼¾⅛⅜⅝⅞"])\s[-\u2013\u2014]\s|\s[-\u2013\u2014]\s(?![0-9½⅓⅔¼¾⅛⅜⅝⅞.])
    |(?<=[^\s.]{3})\.\s+(?=\w)""",
    re.VERBOSE,
)
"""What parts a sentence: a comma between two figures is one of a number, a dash between them makes a range."""
_JOINED = late(
    r"^(?:(?:and|with|w/|plus|&|it(?:'|\u2019)?s|is|has|has got|on|so|coming out|comes out|rough(?:ed)?[- ]in|"
    r"coming through|sitting|showing)\s+)+(?:an? (?=\S))?",
    re.IGNORECASE,
)
"""What joins a part to the one before it, and says nothing."""
_NAMES_ASK_FOR_A_COLON = frozenset({"name", "what", "across", "up", "in", "end", "at", "said"})
"""These are words of a phrase too: "up" begins "up from B"."""
_WORDS_ALONE = frozenset({"depth", "note", "work"})
"""Keys whose values are words."""


class PlaceReader(Struct, frozen=True):
    """What reads one phrase, perhaps of several parts, and says what is wrong with one that it does not read.

    up  the key for the second way.
    """

    read: LineReader
    why_not: Callable[[str], str]
    up: str = "up"


def parts_of(sentence: str) -> list[str]:
    """The parts of a sentence, as far as a mark parts them; at least one."""
    parts = [spaced(part).rstrip(".") for part in _PARTING.split(sentence)]
    return [part for part in parts if part] or [""]


def at_and(parts: Sequence[str], places: PlaceReader) -> list[str]:
    """The parts; one of two places with "and" between them is two."""
    apart: list[str] = []
    for part in parts:
        one, _, two = part.partition(" and ")
        is_two = two and places.read(part) is None and places.read(one) is not None and places.read(two) is not None
        apart += [one, two] if is_two else [part]
    return apart


def deal(
    parts: Sequence[str],
    readers: Sequence[LineReader],
    places: PlaceReader,
    keys: Mapping[str, str],
    several: str = "",
    within: Sequence[LineReader] | None = None,
) -> Keys:
    """The parts under their keys, beside those that stand there; `several` is a key that may be said more than once.

    within  the readers of what is cut out of a part between its words; () where nothing is.

    Raises ValueError: a part that none of them reads, or that can be read two ways, or a key said twice.
    """
    within = readers if within is None else within

    def alone(part: str) -> Dealt | None:
        return next((one for read in readers if (one := read(part)) is not None), None)

    made, rest = dict(keys), list(parts)
    while rest:
        count, one = _longest(rest[:LONGEST_RUN], alone, places)
        if one is None:
            bare = _JOINED.sub("", rest[0])
            cut = _cut(bare, within, places) if within else None
            if cut is None and bare != rest[0] and bare:
                cut = [bare]
            if cut is None or cut == rest[:1]:
                raise ValueError(understood(made, places.why_not(rest[0])))
            rest[:1] = cut
            continue
        key, value = one
        if key == EITHER:
            key = _the_way_left(value, rest[count:], made, places)
        if key in made and key == several:
            value = made[key] + BETWEEN + value
        elif key in made and places.read(both := f"{made[key]}, {value}") == (key, both):
            value = both  # "left side 83 left of V, right side 67 left of V": one place, a side each
        elif key in made:
            raise ValueError(f"{found(made[key])} and {found(value)} both say {key}: leave one out.")
        made[key] = value
        rest = rest[count:]
    return made


def understood(keys: Mapping[str, str], sentence: str) -> str:
    """A sentence about a part, with what was understood before it, where that is more than one thing."""
    if len(keys) < 2:
        return sentence
    so_far = "; ".join(f"{key}: {value}" for key, value in keys.items())
    return f"{sentence} Understood so far: {so_far}."


def _longest(run: Sequence[str], alone: LineReader, places: PlaceReader) -> tuple[int, Dealt | None]:
    """What the run of parts begins with, and of how many parts that is: a phrase goes on as far as it can be read."""
    first = alone(run[0])
    if first is not None:
        return 1, first
    if _A_FIGURE.match(run[0]):
        # "40, 150 above B": a size and a place, or both sides of one thing.
        return 1, places.read(run[0])
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


def _the_way_left(phrase: str, rest: Sequence[str], keys: Mapping[str, str], places: PlaceReader) -> str:
    """The way of a phrase that can be read both ways ("level with hot"): the one that nothing else says."""
    said = {*keys, *(one[0] for part in rest if (one := places.read(part)) is not None)}
    if ("across" in said) == (places.up in said):
        raise ValueError(f'{found(phrase)} can be across or {places.up}: write which, as in "across: {phrase}".')
    return places.up if "across" in said else "across"


class _Cutting(Struct, frozen=True):
    """One way of cutting a part between its words: what it costs, its pieces, and what these say."""

    cost: float
    pieces: tuple[str, ...]
    says: tuple[Dealt, ...]


def _cut(part: str, readers: Sequence[LineReader], places: PlaceReader) -> list[str] | None:
    """A part cut between its words into pieces that are each read; None where there is no such way, or none is needed.

    Of several ways the one counts whose places have the fewest words, so that a pipe's size is what it is and no part
    of where it lies; then the one of fewest pieces. Raises ValueError: two of these say different things.
    """
    words = part.split(" ")
    if not 1 < len(words) <= MOST_WORDS_CUT:
        return None
    best: list[list[_Cutting]] = [[] for _ in range(len(words) + 1)]
    best[-1] = [_Cutting(0.0, (), ())]
    for begin in range(len(words) - 1, -1, -1):
        ways: list[_Cutting] = []
        for end in range(begin + 1, len(words) + 1):
            if not best[end] or words[end - 1].casefold() in _GOES_ON or is_in_a_number(words, end):
                continue
            piece = " ".join(words[begin:end])
            read = _piece_read(piece, readers, places)
            if read is None and (bare := _JOINED.sub("", piece)) != piece:
                piece, read = bare, _piece_read(bare, readers, places)
            if read is None:
                continue
            says, cost = read
            ways += [
                _Cutting(cost + rest.cost, (piece, *rest.pieces), (says, *rest.says))
                for rest in best[end]
                if says[0] == EITHER or says[0] not in {key for key, _ in rest.says}
            ]
        least = min((way.cost for way in ways), default=0.0)
        best[begin] = [way for way in ways if way.cost <= least + _ALIKE][:_MOST_WAYS]
    if not best[0] or len(best[0][0].pieces) < 2:
        return None
    one, *others = best[0]
    for other in others:
        if sorted(other.says) != sorted(one.says):
            raise ValueError(
                f"{found(part)} can be read two ways, {_shown(one)} or {_shown(other)}: put a comma between what are "
                "two."
            )
    return list(one.pieces)


def is_in_a_number(words: Sequence[str], end: int) -> bool:
    """Whether a whole number and its fraction would be cut apart: 4 | 1/2."""
    behind = words[end] if end < len(words) else ""
    return words[end - 1].isdigit() and re.match(r"[0-9]+/[0-9]|[½⅓⅔¼¾⅛⅜⅝⅞]", behind) is not None


_GOES_ON = frozenset({"of", "the", "a", "to", "from", "above", "below", "and", "with", "x", "by", "&", "w/"})
"""Behind one of these a piece is not over."""
_ALIKE = 1e-6
_MOST_WAYS = 4
_A_PIECE = 0.1
"""What one more piece costs, beside a word of a place."""


def _piece_read(piece: str, readers: Sequence[LineReader], places: PlaceReader) -> tuple[Dealt, float] | None:
    count = piece.count(" ") + 1
    if not piece or count > MOST_WORDS_PLACED:
        return None
    for read in readers if count <= MOST_WORDS_VALUED else ():
        if (one := read(piece)) is not None:
            # Words with no figure are as well part of a place, "box 73 left of V", unless that cannot be read so.
            of_words = one[0] == "what" and not HAS_FIGURE.search(piece)
            return one, _A_PIECE + (1.5 * count if of_words else 0.0)
    at = places.read(piece)
    return None if at is None else (at, _A_PIECE + count)


def _shown(way: _Cutting) -> str:
    return found(", ".join(way.pieces))


@once_a_model
def keyed(model: type[JobModel]) -> LineReader:
    """A part behind a word for its key: `depth 62 behind the board`, `what: mixer valve`, `rose 52`."""
    words: dict[str, str] = {}
    for word, one in words_of(model).items():
        words[word] = word if one.key.floor else one.word
        words |= {meant: one.word for meant in one.key.meant if word == one.word}
    return behind(words)


def behind(words: Mapping[str, str]) -> LineReader:
    """A part behind one of these words, each for a key."""
    longest_first = sorted(words, key=len, reverse=True)
    pattern = re.compile(rf"(?P<word>{'|'.join(map(re.escape, longest_first))})(?P<colon>:)? +(?P<value>\S.*)$", re.I)

    def read(part: str) -> Dealt | None:
        match = pattern.match(part)
        if match is None:
            return None
        word = match["word"].lower()
        is_short = match["colon"] is None
        if is_short and (words[word] in _NAMES_ASK_FOR_A_COLON or not _is_a_value(words[word], match["value"])):
            return None
        return words[word], match["value"]

    return read


def short_value(part: str, read: LineReader, setting: Setting) -> Dealt | None:
    """What a reader of words for keys makes of a part, where no more than one size stands behind the word."""
    one = read(part)
    if one is None:
        return None
    if one[1].casefold() in ("none", "no", "yes", "?"):
        return one
    try:
        parts = tokens(one[1], setting)
    except ValueError:
        return None  # a figure at fault has its own sentence, under its key
    figures = sum(part.kind == "figure" for part in parts)
    by = sum(part.word in ("x", "by") for part in parts)
    return one if figures - by == 1 and figures + by == len(parts) else None


def _is_a_value(key: str, value: str) -> bool:
    """Whether what stands behind a key and no colon can be its value: a figure, or one of few words."""
    return bool(HAS_FIGURE.match(value)) or value.casefold() in ("none", "no", "yes", "?") or key in _WORDS_ALONE


def takes(read: Callable[[], object]) -> bool:
    """Whether a reader takes it."""
    try:
        read()
    except ValueError:
        return False
    return True


def is_length(part: str, setting: Setting) -> bool:
    """Whether a part is one length."""
    return takes(lambda: parse_length(part, setting.unit))


def fault_of(read: Callable[[], object]) -> str:
    """The sentence of a reader that does not take it.

    Raises Follows: that only follows from another fault.
    """
    try:
        read()
    except Follows:
        raise
    except ValueError as error:
        return str(error)
    raise AssertionError("it is taken after all")


def on_one_line(sentence: str, for_a_file: str) -> str:
    """A reader's sentence, with what helps on a line of several parts where it says how keys are written in a file."""
    found_out, _, is_for_a_file = sentence.partition(for_a_file)
    return f"{found_out}: put a comma between what are two." if is_for_a_file else sentence


def of_no_key(part: str, example: str) -> str:
    """That a part does not say what it is of."""
    return f"{found(part)} does not say what it is of: write the word for it before it, as in {example}."
