"""What comes through the surface, as the tiler wrote it."""

import re
from collections.abc import Mapping
from typing import Annotated, Literal

from cutmarks.fittings import Fitting, find
from cutmarks.job.declared import Key, Made
from cutmarks.job.depths import parse_depth, parse_lean
from cutmarks.job.fields import (
    A_NAME,
    MEANT_ACROSS,
    MEANT_UP,
    WIDEST_GAP,
    AnOutline,
    Corner,
    Diameter,
    Flag,
    NameField,
    Note,
    Template,
    WordsField,
    check_corners,
    degrees,
    length,
    parsed,
    words,
)
from cutmarks.job.grammar import parse_thing
from cutmarks.job.laying import is_size, parse_size
from cutmarks.job.measures import IMPERIAL, LEAST_THING, WIDEST_THING, in_range, sides_in_range
from cutmarks.job.model import JobModel, TypedKeys, path_of
from cutmarks.job.taped import lies, parse_taken
from cutmarks.job.tokens import tokens
from cutmarks.job.tree import Items, Text, Told
from cutmarks.job.vocabulary import MARKS, THINGS
from cutmarks.job.words import SIDE_OF, Follows, Setting, found, spaced
from cutmarks.patterns import late
from cutmarks.readings import DepthRead, Lies, PipeLean, Reading, Size, Taken
from cutmarks.sides import Axis, Side
from cutmarks.units import match_range, parse_length

CORNERS = 4
_TO = late(r"\bto\b", re.IGNORECASE)
_STAYS_ON = late(
    r"\b(?:won['\u2019]?t|will not|does(?:n['\u2019]t| not)|can(?:no|['\u2019])t) come off\b",
    re.IGNORECASE,
    ("come off",),
)
WIDEST_PLAY = 100.0
Play = Annotated[float, parsed(length(0.0, WIDEST_PLAY, "Play"))]
Slide = Annotated[float, parsed(length(0.0, WIDEST_GAP, "How far a tile is slid"))]
Screw = Annotated[float, parsed(length(0.0, WIDEST_GAP, "A screw"))]
Stub = Annotated[float, parsed(length(0.0, WIDEST_GAP, "A stub"))]
Sweep = Annotated[float, parsed(length(LEAST_THING, WIDEST_THING, "A sweep"))]


def thing_size(text: str, setting: Setting) -> Size:
    """The two sizes of what comes through. Raises ValueError."""
    return sides_in_range(text, parse_size(text, setting.unit), LEAST_THING, WIDEST_THING, "a thing", setting)


def one_or_two(text: str, what: str, setting: Setting) -> float | Size:
    """A diameter, or two sizes. Raises ValueError: neither, or none that `what` has."""
    if is_size(text):
        return sides_in_range(text, parse_size(text, setting.unit), LEAST_THING, WIDEST_THING, what, setting)
    return in_range(text, parse_length(text, setting.unit).mm, LEAST_THING, WIDEST_THING, what, setting)


def parse_opening(text: str, setting: Setting) -> float | Size:
    """A hole's own size: a diameter, or two sizes. Raises ValueError."""
    if is_size(text) and _TO.search(text):
        raise ValueError(
            f"{found(text)} is a maker's range of two sizes, and a range here is of a diameter, as in 89 to 102: "
            "choose a size between them, as in 76 x 76."
        )
    return one_or_two(text, "a hole", setting)


def parse_clear(text: str, setting: Setting) -> float | Size:
    """What must stay free of tile round a thing: a diameter, or two sizes. Raises ValueError."""
    return one_or_two(text, "a clear space", setting)


def parse_opening_range(text: str, setting: Setting) -> tuple[float, float]:
    """The maker's least and most diameter: "89 to 102". Raises ValueError."""
    spans = match_range(text, setting.unit)
    if spans is None or spans[1] is None or spans[2] or not 0.0 < spans[0].mm < spans[1].mm:
        raise ValueError(f"{found(text)} is no range of holes: write the least and the most, as in 89 to 102.")
    least = in_range(text, spans[0].mm, LEAST_THING, WIDEST_THING, "a hole", setting)
    return least, in_range(text, spans[1].mm, LEAST_THING, WIDEST_THING, "a hole", setting)


def parse_cover(text: str, setting: Setting) -> Literal["none"] | float | Size:
    """The rose, collar or plate that will hide the hole: 65, 147 x 86, or none. Raises ValueError."""
    if text.casefold() in ("none", "no"):
        return "none"
    return one_or_two(
        size_alone(text, "a cover", COVER_WORDS | SQUARE, "65, 147 x 86, or none", setting), "a cover", setting
    )


COVER_WORDS = frozenset({
    "rose", "roses", "collar", "collars", "plate", "plates", "escutcheon", "escutcheons", "covers", "each",
    "flange", "cover", "trim", "round", "od", "dia", "diameter",
    "across", "over", "all", "split", "std", "standard", "jumbo", "lots", "of", "the", "a", "is", "two", "wide", "high",
    "tall", "w", "h", "x", "by", "esc", "faceplate", "grate", "grille", "ring", "rings", "skirt",
    "frame", "rd", "flanges", "chrome", "white", "brass", "big", "small", "blank", "blanking", "surround",
    "bezel", "dress", "grates", "frames", "trims", "black", "steel", "plastic", "it", "them",
    *THINGS,
})  # fmt: skip
"""Words that may stand beside the size of a cover and say nothing more of it."""


SQUARE = frozenset({"sq", "square"})
"""Behind one size: it is as wide as it is high."""


def size_alone(text: str, what: str, words: frozenset[str], example: str, setting: Setting) -> str:
    """The size in a phrase such as "rose 52" or "plate 120 wide 170 high", as 52 or 120 x 170.

    Raises ValueError: no size, more than one, or words that say more than that.
    """
    parts = tokens(text, setting)
    figures = [part for part in parts if part.kind == "figure"]
    said = [part.word for part in parts if part.kind == "word"]
    more = [word for word in said if word not in words]
    more += [part.word for part in parts if part.kind == "mark" and part.word not in MARKS]
    if not said:
        return text
    if not figures:
        raise ValueError(f"{found(text)} does not say how big {what} is: measure it, and write {example}.")
    is_two = len(figures) == 2 and {"x", "by", "wide", "w", "high", "tall", "h"}.isdisjoint(said)
    if more or is_two or len(figures) > 2 or any(part.second is not None for part in figures):
        raise ValueError(
            f"{found(text)} says more than the size of {what}: write that alone, as in {example}; with none, the room "
            "round the thing is play: 2; a hole's own size stands under opening, and what comes through under what."
        )
    if len(figures) == 1:
        is_square = not SQUARE.isdisjoint(said)
        if is_square and not {"round", "rd", "dia", "diameter"}.isdisjoint(said):
            raise ValueError(f"{found(text)} is square and round at once: leave one out.")
        return f"{figures[0].word} x {figures[0].word}" if is_square else figures[0].word
    ways = [word for word in said if word in ("wide", "w", "high", "tall", "h")]
    one, two = figures if ways[:1] not in (["high"], ["tall"], ["h"]) else reversed(figures)
    return f"{one.word} x {two.word}"


class HoleSpec(JobModel, frozen=True, kw_only=True):
    """One thing that comes through: what it is, where it was read, and what is known of its hole and cover.

    said      all of it as it was said, where that was in one line (`said.py`); its parts stand under the other keys.
    what      as written; `fitting` is the catalogue's answer, None where it names no size.
    across, up  where it is, unless `corners` (four, any order round) or `outline` say so.
    readings  more readings of it than across and up, or others instead; all are adjusted together.
    lies      which of two places it is where two tapes leave it open.
    size, diameter, slot  the thing's own sizes, mm; slot is length and width.
    open_towards  the side of its tile to which the hole is opened, open_also a second one; with `slide` it becomes a
              slot so much longer, mm, because the tile is slid that far towards that side.
    lean      degrees counter-clockwise of a box or slot; lean_words where it was written in words (a pipe: 2 in 71),
              and leans what they say.
    opening   cut exactly this; opening_range: the maker's least and most diameter.
    cover     "none", a diameter or two sizes; None with cover_known False where it is not known yet.
    end       "comes off" or "runs on"; "" where it was not said.
    depth     as written; depth_read what it says; depth_range the maker's least and most from there to the tile's face,
              mm.
    screw     length of the screws that hold its plate, mm.
    stub      how far the pipe stands out of the tile's face while the tile is pushed on, mm.
    keep_clear  what must stay free of tile round it (screws, lugs): a diameter or two sizes, mm.
    handed    whether its outline is mirrored with the room; else its place alone is.
    sweep     diameter over the surface that its lever needs, mm.
    service   clear diameter over the finished face about its middle that servicing it needs, mm.
    """

    name: Annotated[NameField, Key("what it is called", ("hot", "cold"), write=A_NAME, filled=True)]
    said: Annotated[
        WordsField,
        Key(
            "all of it in one line, in any order behind its name; other keys may stand beside it",
            (
                '"hot, 15 copper, 67 to 83 left of V, 212 to 228 above B, cover 65"',
                '"hot, 22 copper, 64 to 86 left of V, 209 to 231 above B, rose 70"',
            ),
            short=True,
        ),
    ] = ""
    what: Annotated[
        WordsField,
        Key(
            "what it is: one of the catalogue, size first, or your own words",
            ("15 copper", "socket box"),
            meant=("type", "kind", "pipe", "fitting"),
        ),
    ] = ""
    fitting: Annotated[Fitting | None, parsed(lambda text, setting: named_fitting(text, setting)), Made("what")] = None
    across: Annotated[
        Annotated[Reading, parsed(lambda text, setting: parse_thing(text, "across", setting))] | None,
        Key(
            "where both its sides are, across",
            ("67 to 83 left of V", "centre 75 left of V"),
            meant=MEANT_ACROSS,
            must=True,
        ),
    ] = None
    up: Annotated[
        Annotated[Reading, parsed(lambda text, setting: parse_thing(text, "up", setting))] | None,
        Key(
            "where both its sides are, up",
            ("212 to 228 above B", "in course 4, 98 up"),
            meant=MEANT_UP,
            must=True,
            floor=("in", "1420 to 1530 from D"),
        ),
    ] = None
    corners: Annotated[
        tuple[Corner, ...],
        Key(
            "the four corners of a box that is not level",
            (
                '["140 right of V, 150 above B", "210 right of V, 152 above B", "208 right of V, 222 above B",'
                ' "138 right of V, 220 above B"]',
            ),
            must=True,
        ),
    ] = ()
    outline: AnOutline = ()
    readings: Annotated[
        tuple[Annotated[Taken, parsed(parse_taken)], ...],
        Key(
            "several readings of it, one a line: they are adjusted together",
            ("[67 to 83 left of V, centre 220 above B, 1001 to 1017 from P1]",),
        ),
    ] = ()
    lies: Annotated[
        Annotated[Lies, parsed(lambda text, _: lies(text))] | None,
        Key("which of two places it is, where two tapes leave that open", ("below", "above", "left", "right")),
    ] = None
    size: Annotated[
        Annotated[Size, parsed(thing_size)] | None,
        Key("its own two sizes, where it is a box", ("70 x 70", "70 x 40"), meant=("dimensions",), must=True),
    ] = None
    diameter: Annotated[
        Diameter | None, Key("its own diameter, where it is round", ("24.2", "40"), meant=("od", "dia"))
    ] = None
    slot: Annotated[
        Annotated[Size, parsed(thing_size)] | None,
        Key(
            "its own length and width, where it is a slot; or the side that its hole is opened to",
            ("40 x 20", "towards the left", "towards the left and the bottom", "12 towards the right"),
        ),
    ] = None
    open_towards: Annotated[Annotated[Side, parsed(lambda text, _: towards(text))] | None, Made("slot")] = None
    open_also: Annotated[Annotated[Side, parsed(lambda text, _: towards(text))] | None, Made("slot")] = None
    slide: Annotated[Slide | None, Made("slot")] = None
    lean: Annotated[
        Annotated[float, parsed(degrees)] | None,
        Key(
            "how it leans: a box in degrees counter-clockwise, a pipe in words",
            ("5", "3 clockwise", "2 in 71 right"),
            meant=("rotation", "rotate", "angle"),
        ),
    ] = None
    lean_words: Annotated[WordsField, Made("lean")] = ""
    leans: Annotated[Annotated[PipeLean, parsed(parse_lean)] | None, Made("lean")] = None
    opening: Annotated[
        Annotated[float | Size, parsed(parse_opening)] | None,
        Key("cut exactly this; or the maker's least and most diameter", ("35", "76 x 76", "89 to 102"), also=("hole",)),
    ] = None
    opening_range: Annotated[Annotated[tuple[float, float], parsed(parse_opening_range)] | None, Made("opening")] = None
    play: Annotated[Play | None, Key("the room all round it", ("3", "5"), meant=("clearance",))] = None
    cover: Annotated[
        Annotated[Literal["none"] | float | Size, parsed(parse_cover)] | None,
        Key(
            "what hides the hole: rose, collar, plate",
            ("65", "147 x 86", "none"),
            meant=("plate", "rose", "collar", "escutcheon", "faceplate"),
        ),
    ] = None
    cover_known: Annotated[bool, Made("cover")] = False
    end: Annotated[
        Literal["comes off", "runs on", ""],
        words("comes off", "runs on"),
        Key("whether the tile can be pushed over its end", ("comes off", "runs on"), meant=("end of pipe",)),
    ] = ""
    depth: Annotated[
        WordsField,
        Key(
            "how far its own mark lies behind a face",
            ("62 behind the board", "74 behind the studs", "flush with the face"),
        ),
    ] = ""
    depth_read: Annotated[Annotated[DepthRead, parsed(parse_depth)] | None, Made("depth")] = None
    depth_range: Annotated[
        Annotated[tuple[float, float], parsed(lambda text, setting: parse_depth_range(text, setting))] | None,
        Key("the maker's least and most from there to the tile's face", ("47 to 73", "0 to 6")),
    ] = None
    screw: Annotated[Screw | None, Key("how long the screws of its plate are", ("35", "20"))] = None
    stub: Annotated[Stub | None, Key("how far a leaning pipe stands out while the tile is pushed on", ("60", "80"))] = (
        None
    )
    keep_clear: Annotated[
        Annotated[float | Size, parsed(parse_clear)] | None,
        Key("what must stay free of tile round it, for screws and lugs", ("74 x 74", "80")),
    ] = None
    handed: Annotated[
        Flag, Key("yes: in a mirrored room its outline is mirrored too; else only its place is", ("yes", "no"))
    ] = False
    sweep: Annotated[Sweep | None, Key("the diameter that its lever needs", ("180", "240"))] = None
    service: Annotated[
        Sweep | None,
        Key(
            "the clear diameter that a hand, a nut, a cartridge or a spanner needs about it, once all is finished",
            ("120", "160"),
            meant=("access", "service room"),
        ),
    ] = None
    template: Template = ""
    note: Note = ""

    @classmethod
    def prepare(cls, written: TypedKeys, setting: Setting) -> None:
        """Look the thing up, and tell a maker's range from a hole's own size."""
        taken = written.keys
        if isinstance(taken.get("said"), Told):
            raise Follows("what was said could not be dealt out under its keys, which is told there")
        if "what" in taken:
            taken["fitting"] = taken["what"]
            if (size := _own_size(taken, setting)) is not None:
                taken["size"] = size
        opening, lean = taken.get("opening"), taken.get("lean")
        if isinstance(opening, Text) and _is_range(opening, setting):
            taken["opening range"] = taken.pop("opening")
        if isinstance(lean, Text) and " in " in spaced(lean):
            taken["lean words"] = taken["leans"] = taken.pop("lean")
        if "depth" in taken:
            taken["depth read"] = taken["depth"]
        slot = taken.get("slot")
        if isinstance(slot, Text) and (not spaced(slot)[:1].isdigit() or "towards" in slot.casefold()):
            taken |= opened(taken.pop("slot"))
        readings = taken.get("readings")
        if isinstance(readings, Text):
            taken["readings"] = Items([Text(part, readings.path) for part in readings.split(";")], readings.path)
        taken["cover known"] = "cover" in taken

    def check(self) -> None:
        """A position, and a slot that can be cut."""
        self._has_position()
        self._opens_one_way()

    def _has_position(self) -> None:
        """A position by two readings, by corners, or by an outline; only one of them."""
        ways = [bool(self.corners), bool(self.outline), self.across is not None or self.up is not None]
        if sum(ways) > 1:
            raise ValueError("It is placed twice: keep across and up, or corners, or the outline.")
        if self.readings:
            if self.corners or self.outline:
                raise ValueError("Readings are of a thing read across and up: leave them out, or its corners.")
            return
        if self.lies is not None:
            raise ValueError("lies: tells two places apart that tapes leave open: write the tapes under readings.")
        if not any(ways):
            raise ValueError("It has no position: write across and up, or corners.")
        if ways[2] and self.across is None:
            raise ValueError('It has no position across: write it as in "across: 67 to 83 left of V".')
        if ways[2] and self.up is None:
            raise ValueError('It has one reading alone: write the other too, as in "up: 212 to 228 above B".')
        if self.corners and len(self.corners) != CORNERS:
            raise ValueError(f"It has {len(self.corners)} corners: a box has four; write other shapes as outline.")
        check_corners(self.outline)

    def _opens_one_way(self) -> None:
        """A second side meets the first at a corner, and what is slid goes one way."""
        if self.open_also is None or self.open_towards is None:
            return
        if self.slide is not None:
            raise ValueError(f"A tile is slid one way: write slot: {self.slide:g} towards the {self.open_towards}.")
        if self.open_also.axis == self.open_towards.axis:
            raise ValueError(
                f"A slot opens to one side or over a corner, not to the {self.open_towards} and the {self.open_also}: "
                "write two sides that meet, as in towards the right and the top."
            )


def _own_size(taken: Mapping[str, object], setting: Setting) -> Text | None:
    """The two sizes that stand in what a box is, "double socket box 133 x 72", where it is of a kind of several sizes.

    Only where nothing else says its size, in metric: sizes in inches are names.
    """
    what = taken["what"]
    given = {"size", "diameter", "slot", "corners", "outline", "readings"} & taken.keys()
    if not isinstance(what, Text) or given or setting.unit in IMPERIAL:
        return None
    said = _TWO_SIZES.search(what)
    if said is None or _gives_sides(taken, "across", setting) or _gives_sides(taken, "up", setting):
        return None
    try:
        fitting = find(spaced(what), setting.say, setting.unit, setting.own_fittings or ())
    except ValueError:
        return None
    # One that is sold in this very size has it already.
    is_open = fitting is not None and fitting.kind == "box" and fitting.w is None and fitting.hole is None
    return Text(said[0], what.path) if is_open else None


_TWO_SIZES = late(
    r"(?<![0-9./])[1-9][0-9]{1,2}(?:\.[0-9])? ?[x\u00d7] ?[1-9][0-9]{1,2}(?:\.[0-9])?(?:mm)?$", re.IGNORECASE
)


def _gives_sides(taken: Mapping[str, object], axis: Axis, setting: Setting) -> bool:
    """Whether both sides of a thing were read along an axis."""
    reading = taken.get(axis)
    if not isinstance(reading, Text):
        return False
    try:
        return parse_thing(spaced(reading), axis, setting).high is not None
    except ValueError:
        return True  # its own fault is told


def named_fitting(text: str, setting: Setting) -> Fitting | None:
    """The fitting that a phrase names, the user's own rows first. Raises ValueError."""
    if _STAYS_ON.search(text):
        raise ValueError(
            f"{found(text)} says what is on its end too: write end: runs on, and here what it is, as in 15 copper."
        )
    try:
        return find(text, setting.say, setting.unit, setting.own_fittings or ())
    except ValueError as error:
        if setting.own_fittings is None:
            raise Follows(str(error)) from None
        raise


def parse_depth_range(text: str, setting: Setting) -> tuple[float, float]:
    """The maker's least and most depth: "47 to 73", "0 to 6". Raises ValueError."""
    spans = match_range(text, setting.unit)
    if spans is None or spans[1] is None or spans[2] or not 0.0 <= spans[0].mm < spans[1].mm:
        raise ValueError(f"{found(text)} is no range: write the least and the most, as in 47 to 73.")
    return spans[0].mm, in_range(text, spans[1].mm, 0.0, WIDEST_THING, "a depth", setting)


def opened(slot: object) -> dict[str, object]:
    """What a slot's phrase stands for: "towards the right", "towards the right and the top", "12 towards the top"."""
    phrase, path = spaced(str(slot)), path_of(slot)
    before, word, after = phrase.partition("towards")
    first, _, second = (after if word else before).partition(" and ")
    keys: dict[str, object] = {"open towards": Text(first.strip(), path)}
    if second:
        keys["open also"] = Text(second.strip(), path)
    if word and before.strip():
        keys["slide"] = Text(before.strip(), path)
    return keys


def towards(text: str) -> Side:
    """The side in "towards the right" or "right". Raises ValueError."""
    word = text.casefold().removeprefix("towards ").removeprefix("the ").strip()
    word = {"down": "bottom", "up": "top"}.get(word, word)
    if word not in SIDE_OF:
        raise ValueError(f"{found(text)} is no slot: write its length and width, as in 40 x 20, or towards the right.")
    return SIDE_OF[word]


def _is_range(text: str, setting: Setting) -> bool:
    try:
        spans = match_range(text, setting.unit)
    except ValueError:
        return False
    return spans is not None and spans[1] is not None
