"""A measure by tape, drawn as a tape: the tile's edge broken, an arrow from it to the line, the figure in a box."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from cutmarks.geometry.edges import Bounds
from cutmarks.geometry.frames import Point, Tile
from cutmarks.marks import sizes
from cutmarks.marks.labels import from_edge, taped
from cutmarks.marks.lettering import width
from cutmarks.marks.model import Mark, Role, Words, line, rectangle, solid
from cutmarks.marks.room import Room
from cutmarks.marks.rulers import CLEAR_OF_LINES, broken_edge
from cutmarks.marks.template import Subject, tape_at
from cutmarks.saying.found_more import MEASURE
from cutmarks.sides import Side

_PAD = 1.4
"""Round the figure in its box."""
_FROM_BORDER, _STEP = 2.6, 4.0
"""From the end of the line to the first arrow that is tried, and on to the next."""
_HEAD, _HALF_HEAD = 4.0, 1.3
_GAP = 1.4
"""From the arrow to the words."""
_SHY = 1.2
"""The room asked for the arrow ends so far before the line that it comes to, which is drawn already."""
_EDGE = 2.6
"""What the broken edge takes of the arrow's length, mm."""
_ROW = sizes.LEAST * 1.5
_ALONG = 5.0
"""How finely a place for the words is looked for along the arrow, mm."""


def tapes(subject: Subject, room: Room[Tile]) -> Iterator[Mark[Tile]]:
    """The tape of each measure that goes by one, where the drawing leaves it room: FOLD says the figure in any case."""
    for side, figure in taped(subject):
        rows = (MEASURE, figure, *_in_two(from_edge(subject, side)))
        for arrow, marks in _arrows(subject, side):
            if room.free(arrow, 0.0):
                words = next((box for box in _beside(arrow, rows, side) if room.free(box, CLEAR_OF_LINES)), None)
                if words is not None:
                    drawn = [*marks, *_words(rows, words)]
                    room.take(drawn)
                    yield from drawn
                    break


def _in_two(name: str) -> tuple[str, ...]:
    """An edge's name, and in a row of its own what it points at."""
    edge, points, way = name.partition(" (")
    return (edge, f"({way}") if points else (name,)


def _arrows(subject: Subject, side: Side) -> Iterator[tuple[Bounds, Sequence[Mark[Tile]]]]:
    """Arrows from the broken edge to the line, from its upper or right end on: what each takes, and its marks."""
    at, view = tape_at(subject.piece, subject.registration), subject.view
    across = side.axis == "across"
    start = (max if side.sign < 0 else min)(view.at(side), subject.piece.piece.tile.box.at(side))
    end = at.x if across else at.y
    low, high = (view.min_y, view.max_y) if across else (view.min_x, view.max_x)
    if abs(end - start) < 2 * _HEAD:
        return
    near, far = sorted((start - side.sign * _SHY, end + side.sign * _SHY))
    for number in range(max(int((high - low - 2 * _FROM_BORDER) / _STEP), 0)):
        level = high - _FROM_BORDER - number * _STEP
        ends = ((start, level), (end, level)) if across else ((level, start), (level, end))
        marks = [*_arrow(*ends[0], *ends[1]), *broken_edge(subject, side, level)]
        thick = 2 * _HALF_HEAD - 0.6
        box = (
            Bounds(near, level - thick, far, level + thick)
            if across
            else Bounds(level - thick, near, level + thick, far)
        )
        yield box, marks


def _beside(arrow: Bounds, rows: Sequence[str], side: Side) -> Iterator[Bounds]:
    """Places for the words along an arrow, on either side of it, from its upper or right end on."""
    long, high = _sizes(rows)
    kept = arrow.with_side(side, arrow.at(side) - side.sign * _EDGE)
    if side.axis == "across":
        middle = (arrow.min_y + arrow.max_y) / 2
        for number in range(max(int((kept.width - long) / _ALONG), 0) + 1):
            left = kept.max_x - long - number * _ALONG
            for foot in (middle - _GAP - high, middle + _GAP):
                yield Bounds(left, foot, left + long, foot + high)
        return
    middle = (arrow.min_x + arrow.max_x) / 2
    for number in range(max(int((kept.height - high) / _ALONG), 0) + 1):
        foot = kept.max_y - high - number * _ALONG
        for left in (middle - _GAP - long, middle + _GAP):
            yield Bounds(left, foot, left + long, foot + high)


def _sizes(rows: Sequence[str]) -> tuple[float, float]:
    """How wide and how high the rows of words are, with the box of the second one, mm."""
    first, figure, *last = rows
    boxed = width(figure, sizes.TAPE, bold=True) + 2 * _PAD
    wide = max(boxed, *(width(row, sizes.LEAST, bold=True) for row in (first, *last)))
    return wide, sizes.LEAST + 1.0 + sizes.TAPE + 2 * _PAD + len(last) * _ROW + 0.4


def _words(rows: Sequence[str], box: Bounds) -> Iterator[Mark[Tile]]:
    """The rows from the top down: MEASURE, the figure in a box, from which edge, which points where."""
    first, figure, *last = rows
    y = box.max_y - sizes.LEAST
    yield Words(first, Point(box.min_x, y), sizes.LEAST, bold=True)
    y -= 1.0 + 2 * _PAD + sizes.TAPE
    boxed = width(figure, sizes.TAPE, bold=True) + 2 * _PAD
    yield rectangle(box.min_x, y, boxed, sizes.TAPE + 2 * _PAD, Role.BOX)
    yield Words(figure, Point(box.min_x + _PAD, y + _PAD), sizes.TAPE, bold=True)
    for number, row in enumerate(last, start=1):
        yield Words(row, Point(box.min_x, y - number * _ROW + 0.3), sizes.LEAST, bold=True)


def _arrow(x0: float, y0: float, x1: float, y1: float) -> Iterator[Mark[Tile]]:
    """From the broken edge to the line, the head at the line."""
    long = abs(x1 - x0) + abs(y1 - y0)
    ux, uy = (x1 - x0) / long, (y1 - y0) / long
    back_x, back_y = x1 - _HEAD * ux, y1 - _HEAD * uy
    half = _HALF_HEAD
    yield line(x0, y0, back_x, back_y, Role.MEASURE)
    yield solid(((x1, y1), (back_x - half * uy, back_y + half * ux), (back_x + half * uy, back_y - half * ux)))
