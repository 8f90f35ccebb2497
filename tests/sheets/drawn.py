"""Reading back what is drawn on a page: the words, the boxes of their ink, and the extent of everything else."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from cutmarks.geometry.edges import Bounds
from cutmarks.geometry.regions import Region
from cutmarks.geometry.rings import Ring
from cutmarks.marks.lettering import ink
from cutmarks.marks.model import CircleMark, Filled, Mark, Stroke, Words

TOUCHING = 0.05
"""Two boxes of ink that share less than this, mm, are side by side."""


def words_of(marks: Iterable[Mark[Any]]) -> list[Words[Any]]:
    return [mark for mark in marks if isinstance(mark, Words)]


def texts(marks: Iterable[Mark[Any]], *, bold: bool | None = None) -> list[str]:
    """The words in reading order: from the top down, then from the left."""
    found = [one for one in words_of(marks) if bold is None or one.bold is bold]
    return [one.text for one in sorted(found, key=lambda one: (-round(one.at.y, 1), one.at.x))]


def ink_box(words: Words[Any]) -> Bounds | None:
    corners = ink(words)
    if not corners:
        return None
    xs, ys = [x for x, _ in corners], [y for _, y in corners]
    return Bounds(min(xs), min(ys), max(xs), max(ys))


def extents(marks: Iterable[Mark[Any]]) -> Iterator[Bounds]:
    """The box of each mark."""
    for mark in marks:
        match mark:
            case Words():
                box = ink_box(mark)
                if box is not None:
                    yield box
            case Stroke():
                yield Ring(mark.path).bounds if mark.closed else _open_box(mark)
            case CircleMark():
                x, y, r = mark.centre.x, mark.centre.y, mark.radius
                yield Bounds(x - r, y - r, x + r, y + r)
            case Filled():
                yield Region(mark.rings).bounds


def _open_box(stroke: Stroke[Any]) -> Bounds:
    xs, ys = [v.x for v in stroke.path], [v.y for v in stroke.path]
    return Bounds(min(xs), min(ys), max(xs), max(ys))


def overlapping(marks: Iterable[Mark[Any]]) -> list[tuple[str, str]]:
    """Pairs of words whose ink overlaps."""
    boxes = [(one.text, box) for one in words_of(marks) if (box := ink_box(one)) is not None]
    return [
        (text, other)
        for number, (text, box) in enumerate(boxes)
        for other, second in boxes[number + 1 :]
        if min(box.max_x, second.max_x) - max(box.min_x, second.min_x) > TOUCHING
        and min(box.max_y, second.max_y) - max(box.min_y, second.min_y) > TOUCHING
    ]
