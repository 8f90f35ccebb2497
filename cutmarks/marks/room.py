"""Where on a sheet there is still room: words never cover a line that is cut, nor other words."""

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
from cutmarks.marks.model import Anchor, CircleMark, Filled, Mark, Stroke, Words

F = TypeVar("F", bound=Frame)

Span = tuple[float, float, float, float]
_SAGITTA = 0.1
"""Arcs are tested as chords that leave them by at most this, mm."""


class Room(Generic[F]):
    """Keeps what has been drawn, and says whether an upright rectangle is still free of it."""

    def __init__(self, view: Bounds) -> None:
        """`view` is the part of the frame that is on the paper: nothing outside it is free."""
        self.view = view
        self._spans: list[Span] = []
        self._boxes: list[Bounds] = []

    def take(self, marks: Iterable[Mark[F]]) -> None:
        """Remembers marks: lines as lines, words and filled areas as their boxes."""
        for mark in marks:
            match mark:
                case Words():
                    box = ink_box(mark)
                    if box is not None:
                        self._boxes.append(box)
                case Filled():
                    corners = [vertex for ring in mark.rings for vertex in ring.vertices]
                    self._boxes.append(_box((vertex.x, vertex.y) for vertex in corners))
                case Stroke() | CircleMark():
                    self._spans.extend(spans(mark))

    def take_box(self, box: Bounds) -> None:
        """Remembers a rectangle."""
        self._boxes.append(box)

    def free(self, box: Bounds, clearance: float) -> bool:
        """Whether `box` is inside the view and `clearance` mm away from all that is drawn."""
        if not box.within(self.view):
            return False
        if any(box.overlaps(other, clearance) for other in self._boxes):
            return False
        return not any(crosses(span, box, clearance) for span in self._spans)

    def place(self, candidates: Iterable[Words[F]], clearance: float) -> Words[F] | None:
        """The first of the words, each at its own place, that is free; it is remembered. None where none is."""
        for words in candidates:
            box = ink_box(words)
            if box is not None and self.free(box, clearance):
                self._boxes.append(box)
                return words
        return None

    def place_group(self, candidates: Iterable[Sequence[Words[F]]], clearance: float) -> Sequence[Words[F]]:
        """The first group of words of which every one is free; it is remembered. () where there is none."""
        for group in candidates:
            boxes = [box for words in group if (box := ink_box(words)) is not None]
            if all(self.free(box, clearance) for box in boxes):
                self._boxes += boxes
                return group
        return ()


def ink_box(words: Words[F]) -> Bounds | None:
    """The upright box round the ink of words, None for blanks."""
    box = _ink_about(words.text, words.height, words.anchor, words.bold, words.turn)
    if box is None:
        return None
    x, y = words.at.x, words.at.y
    return Bounds(box.min_x + x, box.min_y + y, box.max_x + x, box.max_y + y)


@lru_cache(maxsize=256)
def _ink_about(text: str, height: float, anchor: Anchor, bold: bool, turn: float) -> Bounds | None:
    """The box about the words' own place: the same words are tried in many places."""
    nowhere: Point[Frame] = Point(0.0, 0.0)
    corners = ink(Words(text, nowhere, height, anchor, bold, turn))
    return _box(corners) if corners else None


def spans(mark: Stroke[F] | CircleMark[F]) -> Iterator[Span]:
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


def crosses(span: Span, box: Bounds, clearance: float) -> bool:
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
