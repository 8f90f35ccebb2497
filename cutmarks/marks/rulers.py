"""Rulers of a template: the figures that each cut is marked by, each along its own axis, as the panel has them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from cutmarks.geometry.edges import Bounds
from cutmarks.geometry.frames import Point, Tile
from cutmarks.marks.clip import clipped
from cutmarks.marks.model import Mark, Role, Stroke, Words, WordsAnchor, line, solid
from cutmarks.marks.room import Room
from cutmarks.marks.template import Subject
from cutmarks.openings.model import Cut
from cutmarks.saying.measures import Measure, shown, to_mark
from cutmarks.sides import ON_AXIS, Side

FIGURE = 4.0
CLEAR_OF_LINES = 0.8
"""Between words and any line."""
BESIDE = 1.4
"""Between a line and the words that belong to it."""
STATIONS = (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.12, 0.88)
"""Where along a line its words are tried, as shares of its length."""
_HEAD, _HALF_HEAD = 3.0, 0.8
"""An arrow head's length and half its width."""
_PLAIN_FIGURE = 14
"""A figure further past its arrow than this also names the edge, mm."""
_LEAST_STEP, _MOST_STEP = 6.0, 8.0
"""Between the two rulers of a cut's two sides."""
_BESIDE_EDGE, _CLEAR_OF_TICKS = 3.0, 9.0
"""How far inside an edge a ruler runs along it."""


@dataclass(frozen=True, slots=True)
class Ruler:
    """One measure as it is drawn: from `side`, `value` long, at `level` on the other axis, mm.

    witness  where the cut's own box begins on the other axis, where the ruler runs beside it; else None.
    """

    side: Side
    value: float
    level: float
    text: str
    witness: float | None


def ruler_lines(subject: Subject) -> Iterator[Mark[Tile]]:
    """The measures that each cut is marked by, from the edge that they are taken from, with arrows at both ends.

    Where the sheet lies against the opposite edge the line runs out of the drawing, towards the edge that it is from;
    along an axis that goes by tape there is none.
    """
    for ruler in _rulers(subject):
        yield from _lines(subject, ruler)


def ruler_figures(subject: Subject, room: Room[Tile]) -> Iterator[Mark[Tile]]:
    """The figure of each ruler, on it where there is room."""
    for ruler in _rulers(subject):
        words = room.place(_figure_places(subject, ruler), CLEAR_OF_LINES)
        if words is not None:
            yield words


def _rulers(subject: Subject) -> Iterator[Ruler]:
    if subject.stopped:
        return
    on_paper = {side.axis for side in subject.registration.edges}
    for cut in subject.cuts:
        for measure in to_mark(cut, subject.piece):
            if measure.side.axis in on_paper:
                yield from _places(subject, cut, measure)


def _places(subject: Subject, cut: Cut, measure: Measure) -> Iterator[Ruler]:
    """One ruler for each value of a measure: on the cut's own axis, the second beside the first."""
    across = measure.side.axis == "across"
    box = cut.share.bounds
    low, high = (box.min_y, box.max_y) if across else (box.min_x, box.max_x)
    level = cut.centre.y if across else cut.centre.x
    if not low < level < high:
        level = (low + high) / 2
    if cut.kind == "corner notch":
        level = _beside_open_edge(subject, cut, across)
    if measure.what != "centre":
        level = _clear_of_edges(subject, level, across)
    step = min(max((high - low) / 4, _LEAST_STEP), _MOST_STEP)
    if _clear_of_edges(subject, level - step, across) != level - step:
        step = -step
    for index, value in enumerate(measure.values):
        text, _ = shown(value, measure.side, subject.piece, subject.style)
        at = level - index * step
        witness = low if at < low else high if at > high else None
        yield Ruler(measure.side, value, at, text, witness)


def _clear_of_edges(subject: Subject, level: float, across: bool) -> float:
    """The level, or the nearest that keeps off the ticks of an edge on the paper that runs the same way."""
    size = subject.piece.piece.tile.h if across else subject.piece.piece.tile.w
    near, far = ON_AXIS["up" if across else "across"]
    if near in subject.registration.edges:
        level = max(level, _CLEAR_OF_TICKS)
    if far in subject.registration.edges:
        level = min(level, size - _CLEAR_OF_TICKS)
    return level


def _beside_open_edge(subject: Subject, cut: Cut, across: bool) -> float:
    """The level of a corner notch's ruler: just inside the tile, along the edge that the notch crosses."""
    tile = subject.piece.piece.tile
    is_open = cut.runs_out
    pair = ON_AXIS["up" if across else "across"]
    side = pair[0] if pair[0] in is_open else pair[1]
    inside = _CLEAR_OF_TICKS if side in subject.registration.edges else _BESIDE_EDGE
    size = tile.h if across else tile.w
    return inside if side == pair[0] else size - inside


def _lines(subject: Subject, ruler: Ruler) -> Iterator[Mark[Tile]]:
    (x0, y0), (x1, y1) = _ends(subject, ruler.side, ruler.value, ruler.level)
    long = abs(x1 - x0) + abs(y1 - y0)
    if long == 0.0:
        return
    whole: Stroke[Tile] = line(x0, y0, x1, y1, Role.MEASURE)
    yield from clipped(whole, subject.view)
    ux, uy = (x1 - x0) / long, (y1 - y0) / long
    head = min(_HEAD, long / 3)
    for x, y, way in ((x0, y0, 1.0), (x1, y1, -1.0)):
        if not Bounds(x, y, x, y).within(subject.view):
            continue  # that end is on another of the joined sheets, or the cut is larger than the paper
        back_x, back_y = x + way * head * ux, y + way * head * uy
        half = _HALF_HEAD * head / _HEAD
        yield solid(((x, y), (back_x - half * uy, back_y + half * ux), (back_x + half * uy, back_y - half * ux)))
    if ruler.witness is not None:
        end = (x1, ruler.witness) if ruler.side.axis == "across" else (ruler.witness, y1)
        witness: Stroke[Tile] = line(x1, y1, *end, Role.MEASURE)
        yield from clipped(witness, subject.view)


def _ends(subject: Subject, side: Side, value: float, level: float) -> tuple[tuple[float, float], tuple[float, float]]:
    edge = subject.piece.piece.tile.box.at(side)
    end = edge - side.sign * value
    return ((edge, level), (end, level)) if side.axis == "across" else ((level, edge), (level, end))


def _figure_places(subject: Subject, ruler: Ruler) -> Iterator[Words[Tile]]:
    (x0, y0), (x1, y1) = _ends(subject, ruler.side, ruler.value, ruler.level)
    side, text = ruler.side, ruler.text
    seen = subject.view
    x0, x1 = (min(max(x, seen.min_x), seen.max_x) for x in (x0, x1))
    y0, y1 = (min(max(y, seen.min_y), seen.max_y) for y in (y0, y1))
    named = f"{text} from the {subject.names[side]}"
    runs_out = side not in subject.registration.edges
    for words in (named, text) if runs_out else (text,):
        for height in (FIGURE, FIGURE * 0.75):
            for part in STATIONS:
                x, y = x0 + part * (x1 - x0), y0 + part * (y1 - y0)
                yield from _beside(x, y, side.axis == "across", words, height)
    far = 1.0 if x1 + y1 > x0 + y0 else -1.0
    size = FIGURE * 0.75
    for gap in range(4, 60, 2):
        # Next to its arrow the figure alone is plain; further off it needs to say what it is.
        words = text if gap <= _PLAIN_FIGURE else named
        if side.axis == "across":
            anchor: WordsAnchor = "start" if far > 0 else "end"
            yield Words(words, Point(x1 + far * gap, y1 + BESIDE), size, anchor, bold=True)
            yield Words(words, Point(x1 + far * gap, y1 - BESIDE - size), size, anchor, bold=True)
        else:
            base = y1 + far * gap - (0.0 if far > 0 else size)
            yield Words(words, Point(x1 + BESIDE, base), size, "start", bold=True)
            yield Words(words, Point(x1 - BESIDE, base), size, "end", bold=True)


def _beside(x: float, y: float, level: bool, text: str, height: float) -> Iterator[Words[Tile]]:
    if level:
        yield Words(text, Point(x, y + BESIDE), height, "middle", bold=True)
        yield Words(text, Point(x, y - BESIDE - height), height, "middle", bold=True)
    else:
        yield Words(text, Point(x - BESIDE, y), height, "middle", bold=True, turn=90.0)
        yield Words(text, Point(x + BESIDE + height, y), height, "middle", bold=True, turn=90.0)
