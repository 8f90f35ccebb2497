"""Where on a sheet there is still room: words never cover a line that is cut, nor other words.

`Taken` is the one index of what is drawn, by cells of the paper, so that a place is compared only with what is near it.
`Room` places words by it.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache
from itertools import pairwise
from typing import Generic, TypeVar

from cutmarks.geometry.edges import Arc, Bounds, at_angle, edge_between
from cutmarks.geometry.frames import Frame, Point
from cutmarks.geometry.rings import Vertex
from cutmarks.marks.lettering import ink
from cutmarks.marks.model import CircleMark, Filled, Mark, Stroke, Words, WordsAnchor

F = TypeVar("F", bound=Frame)

TakenSpan = tuple[float, float, float, float]
_SAGITTA = 0.1
"""Arcs are tested as chords that leave them by at most this, mm."""
_CELL = 10.0
"""Size of the cells in which what is taken is looked up, mm."""
_SURELY = 1e-6
"""A line is taken for so much higher than it is: rounding leaves none out of its cells."""


class TakenRoom:
    """The rectangles and lines that are drawn, kept by the cells that they lie in."""

    __slots__ = ("_boxes", "_spans")

    def __init__(self) -> None:
        """Nothing is taken yet."""
        self._boxes: dict[tuple[int, int], list[Bounds]] = {}
        self._spans: dict[tuple[int, int], list[TakenSpan]] = {}

    def take(self, box: Bounds) -> None:
        """Holds a rectangle from now on."""
        for cell in _cells(box, 0.0):
            self._boxes.setdefault(cell, []).append(box)

    def take_span(self, span: TakenSpan) -> None:
        """Holds a straight line from now on."""
        for cell in _cells_along(span):
            self._spans.setdefault(cell, []).append(span)

    def free(self, box: Bounds, clearance: float = 0.0) -> bool:
        """Whether `box` is `clearance` mm away from all that is taken, along x or along y."""
        for cell in _cells(box, clearance):
            for other in self._boxes.get(cell, ()):
                if box.overlaps(other, clearance):
                    return False
            for span in self._spans.get(cell, ()):
                if crosses(span, box, clearance):
                    return False
        return True


class Room(Generic[F]):
    """Keeps what has been drawn, and says whether an upright rectangle is still free of it.

    view  the part of the frame that is on the paper: nothing outside it is free.
    """

    __slots__ = ("_taken", "view")

    def __init__(self, view: Bounds) -> None:
        """An empty room."""
        self.view = view
        self._taken = TakenRoom()

    def take(self, marks: Iterable[Mark[F]]) -> None:
        """Remembers marks: lines as lines, words and filled areas as their boxes."""
        for mark in marks:
            match mark:
                case Words():
                    box = ink_box(mark)
                    if box is not None:
                        self.take_box(box)
                case Filled():
                    corners = [vertex for ring in mark.rings for vertex in ring.vertices]
                    self.take_box(_box((vertex.x, vertex.y) for vertex in corners))
                case Stroke() | CircleMark():
                    for span in spans(mark):
                        self._taken.take_span(span)

    def take_box(self, box: Bounds) -> None:
        """Remembers a rectangle, of which what is on the paper counts."""
        near = Bounds(
            *(max(low, at - _CELL) for low, at in zip(box[:2], self.view[:2], strict=True)),
            *(min(high, at + _CELL) for high, at in zip(box[2:], self.view[2:], strict=True)),
        )
        if near.min_x <= near.max_x and near.min_y <= near.max_y:
            self._taken.take(near)

    def free(self, box: Bounds, clearance: float) -> bool:
        """Whether `box` is inside the view and `clearance` mm away from all that is drawn."""
        return box.within(self.view) and self._taken.free(box, clearance)

    def place(self, candidates: Iterable[Words[F]], clearance: float) -> Words[F] | None:
        """The first of the words, each at its own place, that is free; it is remembered. None where none is."""
        found = self.place_group(((words,) for words in candidates), clearance)
        return found[0] if found else None

    def place_group(self, candidates: Iterable[Sequence[Words[F]]], clearance: float) -> Sequence[Words[F]]:
        """The first group of words of which every one is free; it is remembered. () where there is none."""
        for group in candidates:
            boxes = [box for words in group if (box := ink_box(words)) is not None]
            if boxes and all(self.free(box, clearance) for box in boxes):
                self.take(group)
                return group
        return ()


def _cells(box: Bounds, clearance: float) -> Iterator[tuple[int, int]]:
    """The cells that a rectangle grown by `clearance` lies in."""
    low, high = int((box[1] - clearance) // _CELL), int((box[3] + clearance) // _CELL)
    for column in range(int((box[0] - clearance) // _CELL), int((box[2] + clearance) // _CELL) + 1):
        for row in range(low, high + 1):
            yield column, row


def _cells_along(span: TakenSpan) -> Iterator[tuple[int, int]]:
    """The cells that a straight line runs through; of one that slants, column by column."""
    x0, y0, x1, y1 = span if span[0] <= span[2] else (span[2], span[3], span[0], span[1])
    first, last = int(x0 // _CELL), int(x1 // _CELL)
    slope = (y1 - y0) / (x1 - x0) if last > first else 0.0
    for column in range(first, last + 1):
        start = y0 if column == first else y0 + slope * (column * _CELL - x0)
        end = y1 if column == last else y0 + slope * ((column + 1) * _CELL - x0)
        low, high = min(start, end) - _SURELY, max(start, end) + _SURELY
        for row in range(int(low // _CELL), int(high // _CELL) + 1):
            yield column, row


def ink_box(words: Words[F]) -> Bounds | None:
    """The upright box round the ink of words, None for blanks."""
    box = _ink_about(words.text, words.height, words.anchor, words.bold, words.turn)
    if box is None:
        return None
    x, y = words.at.x, words.at.y
    return Bounds(box.min_x + x, box.min_y + y, box.max_x + x, box.max_y + y)


@lru_cache(maxsize=256)
def _ink_about(text: str, height: float, anchor: WordsAnchor, bold: bool, turn: float) -> Bounds | None:
    """The box about the words' own place: the same words are tried in many places."""
    nowhere: Point[Frame] = Point(0.0, 0.0)
    corners = ink(Words(text, nowhere, height, anchor, bold, turn))
    return _box(corners) if corners else None


def spans(mark: Stroke[F] | CircleMark[F]) -> Iterator[TakenSpan]:
    """A line as straight spans, arcs as chords."""
    if isinstance(mark, CircleMark):
        x, y, r = mark.centre.x, mark.centre.y, mark.radius
        path: tuple[Vertex, ...] = (Vertex(x - r, y, 1.0), Vertex(x + r, y, 1.0), Vertex(x - r, y))
    else:
        path = (*mark.path, mark.path[0]) if mark.closed else mark.path
    for start, end in pairwise(path):
        edge = edge_between(start.x, start.y, end.x, end.y, start.bulge)
        if not isinstance(edge, Arc):
            yield edge[0], edge[1], edge[2], edge[3]
            continue
        step = 2 * math.acos(max(0.0, 1 - _SAGITTA / edge.radius))
        count = max(1, math.ceil(abs(edge.sweep) / step))
        points = [at_angle(edge, abs(edge.sweep) * i / count) for i in range(count + 1)]
        for a, b in pairwise(points):
            yield *a, *b


def crosses(span: TakenSpan, box: Bounds, clearance: float) -> bool:
    """Whether a straight span comes into the box grown by `clearance` (its corners square)."""
    x0, y0, x1, y1 = span
    low, high = 0.0, 1.0
    for start, step, least, most in (
        (x0, x1 - x0, box.min_x - clearance, box.max_x + clearance),
        (y0, y1 - y0, box.min_y - clearance, box.max_y + clearance),
    ):
        if step == 0.0:
            if not least <= start <= most:
                return False
            continue
        a, b = sorted(((least - start) / step, (most - start) / step))
        low, high = max(low, a), min(high, b)
    return low <= high


def _box(points: Iterable[tuple[float, float]]) -> Bounds:
    xs, ys = zip(*points, strict=True)
    return Bounds(min(xs), min(ys), max(xs), max(ys))
