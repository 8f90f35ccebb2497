"""What makes a template for the back impossible to miss: a black band over the drawing, a hatched frame round it.

In the frame, at both sides, stands what lies there now: seen from behind left and right have changed hands.
"""

from __future__ import annotations

from collections.abc import Iterator

from cutmarks.geometry.edges import Bounds
from cutmarks.geometry.frames import Page, Point
from cutmarks.geometry.frames import Sheet as SheetFrame
from cutmarks.geometry.regions import Region
from cutmarks.geometry.rings import Ring, polygon
from cutmarks.marks import sizes
from cutmarks.marks.hatching import hatched
from cutmarks.marks.lettering import fitting, width
from cutmarks.marks.model import Mark, Role, Stroke, Tone, Words, block
from cutmarks.marks.template import Subject
from cutmarks.registering.layouts import SIZES, PageLayout
from cutmarks.sides import Side

SAID = "BACK \u2013 MIRRORED: lay it on the back of the tile"
_HATCH = 3.0
"""Between two lines of the frame's pattern, mm."""
_AIR = 2.0
"""Left white before and behind the words in the frame."""


def back_frame(shown: Subject, layout: PageLayout) -> Iterator[Mark[SheetFrame]]:
    """The band and the frame, with what lies at the drawing's left and right now."""
    yield from _band(layout.black())
    field = layout.field
    outer = field._replace(max_y=field.max_y - SIZES.black)
    inner = layout.view(back=True)
    gaps = [_gap(said, side, outer, inner) for side, said in _sides(shown)]
    yield from _hatch(outer, inner, gaps)
    for side, said in _sides(shown):
        yield from _word(said, side, outer, inner)


def _band(box: Bounds) -> Iterator[Mark[SheetFrame]]:
    yield block(box.min_x, box.min_y, box.width, box.height)
    size = fitting(SAID, sizes.BLACK, box.width - 8.0, bold=True)
    middle: Point[SheetFrame] = Point((box.min_x + box.max_x) / 2, (box.min_y + box.max_y) / 2 - size / 2)
    yield Words(SAID, middle, size, "middle", bold=True, tone=Tone.WHITE)


def _sides(shown: Subject) -> Iterator[tuple[Side, str]]:
    """What lies at each side of the drawing; no word of an edge, or the frame would be taken for the tile."""
    for side in (Side.LEFT, Side.RIGHT):
        yield side, shown.names[side].removeprefix("edge ")


def _gap(said: str, side: Side, outer: Bounds, inner: Bounds) -> Bounds:
    """What the words take of the frame, the middle of one of its sides."""
    half = min(width(said, sizes.LEAST, bold=True) / 2 + _AIR, inner.height / 2)
    middle = (inner.min_y + inner.max_y) / 2
    low, high = (outer.min_x, inner.min_x) if side is Side.LEFT else (inner.max_x, outer.max_x)
    return Bounds(low, middle - half, high, middle + half)


def _hatch(outer: Bounds, inner: Bounds, gaps: list[Bounds]) -> Iterator[Mark[SheetFrame]]:
    """The frame's lines at 45 degrees, in stretches that leave the words' gaps white.

    It has no line along it, which would be taken for an edge of the tile.
    """
    (left, right) = gaps
    stretches = (
        Bounds(outer.min_x, inner.max_y, outer.max_x, outer.max_y),
        Bounds(outer.min_x, outer.min_y, outer.max_x, inner.min_y),
        Bounds(outer.min_x, inner.min_y, inner.min_x, left.min_y),
        Bounds(outer.min_x, left.max_y, inner.min_x, inner.max_y),
        Bounds(inner.max_x, inner.min_y, outer.max_x, right.min_y),
        Bounds(inner.max_x, right.max_y, outer.max_x, inner.max_y),
    )
    for box in stretches:
        if box.height > _HATCH:
            region: Region[Page] = Region((_ring(box),))
            for mark in hatched(region, _HATCH, rising=True):
                if isinstance(mark, Stroke):
                    yield Stroke(mark.path, Role.FRAME)


def _ring(box: Bounds) -> Ring[Page]:
    return polygon(((box.min_x, box.min_y), (box.max_x, box.min_y), (box.max_x, box.max_y), (box.min_x, box.max_y)))


def _word(said: str, side: Side, outer: Bounds, inner: Bounds) -> Iterator[Mark[SheetFrame]]:
    box = _gap(said, side, outer, inner)
    size = fitting(said, sizes.LEAST, inner.height - 2.0, bold=True)
    base = (box.min_x + box.max_x) / 2 + size / 2
    yield Words(said, Point(base, (box.min_y + box.max_y) / 2), size, "middle", bold=True, turn=90.0)
