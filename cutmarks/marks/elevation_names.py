"""Where names stand in an elevation: in the thing, else beside it, else in the margin with a leader; never on another.

Everything here is in the Page frame, mm.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from msgspec import Struct

from cutmarks.geometry.frames import Page, Point
from cutmarks.geometry.regions import Region, spans_across, spans_up
from cutmarks.geometry.rings import Bounds, Vertex
from cutmarks.marks import sizes
from cutmarks.marks.lettering import width, wrapped
from cutmarks.marks.model import Mark, Role, Stroke, Tone, Words, WordsAnchor, block
from cutmarks.marks.room import TakenRoom

HEIGHTS = (2.6, sizes.LEAST)
"""Heights of capitals that are tried, the best first."""
CALLOUT_HEIGHT = sizes.LEAST
CALLOUT_STEP = 4.4
LEADER_GAP = 0.8
CALLOUT_AIR = 5.0
"""Between a callout's words and the drawing, mm."""
AIR = 0.5
"""Clear space kept round every name."""
BREAK = "\n"
STEP = 1.45
"""From one line to the next in a thing, in heights of a capital."""
PARTS = (0.5, 0.7, 0.3, 0.6, 0.4, 0.8, 0.2, 0.9, 0.1)
"""Where across a thing its name is tried, the middle first."""
ABOVE, BELOW = 0.15, 0.3
"""How far letters reach past the capitals and under the baseline, in parts of the capitals' height."""


class PlacedName(Struct, frozen=True):
    """A name that wants a place: `texts` the best first, `room` the thing named (empty where it cannot hold a name).

    At a BREAK a text may go on in a line below; else a blank stands there.
    """

    texts: tuple[str, ...]
    at: Point[Page]
    room: Region[Page]
    bold: bool
    needed: bool
    """True: a callout in the margin where it does not fit; False: left out there (the lists carry it)."""

    @property
    def text(self) -> str:
        """The best of its texts on one line."""
        return self.texts[0].replace(BREAK, " ")


def short_name(name: str, area: str) -> str:
    """Course and number of a piece's name, without its area.

    >>> short_name("splash 3-7", "splash"), short_name("splash under 1-7", "splash")
    ('3-7', 'under 1-7')
    """
    return name.removeprefix(f"{area} ")


def words_box(words: Words[Page]) -> Bounds:
    """The rectangle that level or upright words cover, descenders and air included."""
    length = width(words.text, words.height, words.bold)
    start = {"start": 0.0, "middle": -length / 2, "end": -length}[words.anchor]
    low, high = -BELOW * words.height - AIR, (1 + ABOVE) * words.height + AIR
    x, y = words.at.x, words.at.y
    if words.turn == 0.0:
        return Bounds(x + start - AIR, y + low, x + start + length + AIR, y + high)
    return Bounds(x - high, y + start - AIR, x - low, y + start + length + AIR)


def inside(name: PlacedName, taken: TakenRoom, heights: Sequence[float] = HEIGHTS) -> tuple[Words[Page], ...]:
    """The name in the thing itself, as large as it goes: level, on one line or on several, else upright.

    () where it does not fit.
    """
    if name.room.is_empty:
        return ()
    bounds = name.room.bounds
    for way in (_level, _lines_in, _upright):
        for text in name.texts:
            for height in heights:
                for words in way(name, text, bounds, height):
                    if all(taken.free(words_box(one)) for one in words):
                        return words
    return ()


def _lines_in(name: PlacedName, text: str, bounds: Bounds, height: float) -> Iterator[tuple[Words[Page], ...]]:
    """The parts of a text that may stand one under the other so, in the thing's box."""
    lines = text.split(BREAK)
    whole = max((abs(ring.area) for ring in name.room.rings), default=0.0)
    if len(lines) == 1 or bounds.width * bounds.height - whole > AIR:
        return
    middle, step = (bounds.min_x + bounds.max_x) / 2, height * STEP
    for part in PARTS:
        top = bounds.min_y + part * bounds.height + step * len(lines) / 2
        words: tuple[Words[Page], ...] = tuple(
            Words(one, Point(middle, top - step * number - height), height, "middle", name.bold)
            for number, one in enumerate(lines)
        )
        if all(words_box(one).within(bounds) for one in words):
            yield words


def _level(name: PlacedName, text: str, bounds: Bounds, height: float) -> Iterator[tuple[Words[Page], ...]]:
    text = text.replace(BREAK, " ")
    low_by, high_by = height / 2 + BELOW * height + AIR, height / 2 + ABOVE * height + AIR
    wanted = width(text, height, name.bold) + 2 * AIR
    for part in PARTS:
        y = bounds.min_y + part * bounds.height
        if y - low_by < bounds.min_y or y + high_by > bounds.max_y:
            continue
        low, high = _common(spans_across(name.room, y - low_by), spans_across(name.room, y + high_by))
        for middle in _middles(low, high, wanted):
            yield (Words(text, Point(middle, y - height / 2), height, "middle", name.bold),)


def _upright(name: PlacedName, text: str, bounds: Bounds, height: float) -> Iterator[tuple[Words[Page], ...]]:
    text = text.replace(BREAK, " ")
    left_by, right_by = height / 2 + ABOVE * height + AIR, height / 2 + BELOW * height + AIR
    wanted = width(text, height, name.bold) + 2 * AIR
    for part in PARTS:
        x = bounds.min_x + part * bounds.width
        if x - left_by < bounds.min_x or x + right_by > bounds.max_x:
            continue
        low, high = _common(spans_up(name.room, x - left_by), spans_up(name.room, x + right_by))
        for middle in _middles(low, high, wanted):
            yield (Words(text, Point(x + height / 2, middle), height, "middle", name.bold, 90.0),)


def _middles(low: float, high: float, length: float) -> tuple[float, ...]:
    """Where the middle of something `length` long may lie between low and high: in the middle, else at either end."""
    if high - low < length:
        return ()
    return ((low + high) / 2, low + length / 2, high - length / 2)


def _common(one: Sequence[tuple[float, float]], two: Sequence[tuple[float, float]]) -> tuple[float, float]:
    """The longest stretch that lies in both; (0, 0) where there is none."""
    shared = [(max(a, c), min(b, d)) for a, b in one for c, d in two]
    return max(shared, key=lambda span: span[1] - span[0], default=(0.0, 0.0))


def beside(name: PlacedName, clear: float, limits: Bounds, taken: Sequence[TakenRoom]) -> tuple[Words[Page], ...]:
    """The name next to a small thing whose edge is `clear` from its middle; () where every side is taken."""
    x, y = name.at.x, name.at.y
    for height in HEIGHTS:
        off, half = clear + AIR + LEADER_GAP, height / 2
        spots: tuple[tuple[float, float, WordsAnchor], ...] = (
            (x + off, y - half, "start"),
            (x - off, y - half, "end"),
            (x, y + off, "middle"),
            (x, y - off - height, "middle"),
        )
        for at_x, at_y, anchor in spots:
            words: Words[Page] = Words(name.text, Point(at_x, at_y), height, anchor, name.bold)
            box = words_box(words)
            if box.within(limits) and all(one.free(box) for one in taken):
                return (words,)
    return ()


def on_white(words: Words[Page]) -> Iterator[Mark[Page]]:
    """The words with the lines behind them taken away."""
    box = words_box(words)
    trim = AIR / 2
    yield block(box.min_x + trim, box.min_y + trim, box.width - 2 * trim, box.height - 2 * trim, Tone.WHITE)
    yield words


def by_side(names: Iterable[PlacedName], drawing: Bounds) -> tuple[list[PlacedName], list[PlacedName]]:
    """The names whose callouts go to the left margin, and those to the right, each from the top down."""
    middle = (drawing.min_x + drawing.max_x) / 2
    sides: tuple[list[PlacedName], list[PlacedName]] = ([], [])
    for name in sorted(names, key=lambda name: (-name.at.y, name.at.x)):
        sides[name.at.x >= middle].append(name)
    return sides


def margin_for(names: Sequence[PlacedName], most: float) -> float:
    """The margin that callouts need, mm: none for no names; words longer than `most` mm go on below."""
    longest = max((width(name.text, CALLOUT_HEIGHT, name.bold) for name in names), default=0.0)
    return min(longest, most) + CALLOUT_AIR if names else 0.0


def callouts(
    names: Sequence[PlacedName], room: Bounds, most: float, *, right: bool
) -> tuple[list[Mark[Page]], list[Words[Page]], int]:
    """Leaders, the words at one end of the room, and how many names have them: the first ones.

    Those for which no room is left one over the other are left out. Words longer than `most` mm are broken into lines.
    """
    leaders: list[Mark[Page]] = []
    words: list[Words[Page]] = []
    lines = [wrapped(name.text, CALLOUT_HEIGHT, most, name.bold) for name in names]
    heights = [CALLOUT_STEP * len(one) for one in lines]
    while sum(heights) > room.height + CALLOUT_STEP - CALLOUT_HEIGHT:
        heights.pop()
    shown = names[: len(heights)]
    longest = margin_for(shown, most) - CALLOUT_AIR
    bend = room.max_x - longest - LEADER_GAP if right else room.min_x + longest + LEADER_GAP
    for name, own, y in zip(shown, lines, _spread([name.at.y for name in shown], heights, room), strict=False):
        length = max(width(text, CALLOUT_HEIGHT, name.bold) for text in own)
        x = room.max_x if right else room.min_x
        end = x - length - LEADER_GAP if right else x + length + LEADER_GAP
        anchor: WordsAnchor = "end" if right else "start"
        # Straight past the longest words, and only then to what is named: so it crosses no other words.
        leaders.append(Stroke((Vertex(end, y), Vertex(bend, y), Vertex(name.at.x, name.at.y)), Role.MEASURE))
        for number, text in enumerate(own):
            base = y - CALLOUT_HEIGHT / 2 - number * CALLOUT_STEP
            words.append(Words(text, Point(x, base), CALLOUT_HEIGHT, anchor, name.bold))
    return leaders, words, len(shown)


def _spread(wanted: Sequence[float], heights: Sequence[float], room: Bounds) -> list[float]:
    """Where the first line of each stands, from the top down, as near to the one wanted as the room allows."""
    placed: list[float] = []
    ceiling = room.max_y - CALLOUT_HEIGHT / 2
    for y, height in zip(wanted, heights, strict=True):
        ceiling = min(ceiling, y)
        placed.append(ceiling)
        ceiling -= height
    floor = room.min_y + CALLOUT_HEIGHT / 2
    for index in reversed(range(len(placed))):
        placed[index] = max(placed[index], floor + heights[index] - CALLOUT_STEP)
        floor = placed[index] + CALLOUT_STEP
    return placed
