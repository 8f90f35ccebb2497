"""What is wrong with the words on a finished page: over a line, over each other, painted over, off the safe area.

Words are taken as the boxes that turn with them round all of their ink, which is stricter than the letters' outlines;
lines as they are painted: with their width, dashes as if there were no gaps, less what an area covers later (the
numbers of a map stand on white, a STOP on black). Every line counts, cut or not.
"""

from __future__ import annotations

from collections.abc import Iterator

import shapely

from tests.sheets.ink import Fill, Line, Page, Word

APART = 0.02
"""Ink that is nearer than this touches, mm: chords leave a curve by up to 0.01, and a figure in a PDF by 0.00005."""
TOUCH = 1e-3
"""What rounding a coordinate to 0.0001 mm may leave outside the safe area or a black band, mm."""
BLACK, WHITE = 0.0, 1.0


def word_faults(page: Page, margin: float) -> Iterator[str]:
    """All that is wrong with a page's words, in words; `margin` is the blank that the safe area leaves, mm."""
    words = [(place, one) for place, one in enumerate(page.order) if isinstance(one, Word)]
    safe = shapely.box(margin - TOUCH, margin - TOUCH, page.width - margin + TOUCH, page.height - margin + TOUCH)
    for _, word in words:
        if not safe.contains(word.box):
            yield f"{word.text!r} is outside the safe area"
    boxes = shapely.STRtree([word.box for _, word in words])
    for one, other in zip(*boxes.query(boxes.geometries, predicate="dwithin", distance=APART), strict=True):
        if one < other:
            yield f"{words[one][1].text!r} lies on {words[other][1].text!r}"
    yield from _on_lines(page, words)
    yield from _on_fills(page, words)


def _on_lines(page: Page, words: list[tuple[int, Word]]) -> Iterator[str]:
    lines = [(place, one) for place, one in enumerate(page.order) if isinstance(one, Line)]
    middles = shapely.STRtree([line.middle for _, line in lines])
    widest = max((line.width for _, line in lines), default=0.0)
    near = middles.query([word.box for _, word in words], predicate="dwithin", distance=widest / 2 + APART)
    for number, other in zip(*near, strict=True):
        (_, word), (place, line) = words[number], lines[other]
        if shapely.distance(word.box, line.middle) >= line.width / 2 + APART:
            continue
        if shapely.distance(word.box, _seen(page, place, line)) < APART:
            yield f"{word.text!r} lies on a line of {line.width:.2f}"


def _seen(page: Page, place: int, line: Line) -> shapely.Geometry:
    """The line's ink, less what is painted over it later: a white area, or the black one that white words stand on."""
    ink = line.middle.buffer(line.width / 2, cap_style="square")
    for later in page.order[place + 1 :]:
        if isinstance(later, Fill):
            ink = ink.difference(later.ink)
    return ink


def _on_fills(page: Page, words: list[tuple[int, Word]]) -> Iterator[str]:
    """Black words keep off black, white ones stand wholly on it, and nothing is painted over words."""
    fills = [(place, one) for place, one in enumerate(page.order) if isinstance(one, Fill)]
    areas = shapely.STRtree([fill.ink for _, fill in fills])
    for at, word in words:
        near = [fills[number] for number in areas.query(word.box, predicate="dwithin", distance=APART)]
        if word.grey not in (BLACK, WHITE):
            yield f"{word.text!r} is neither black nor white"
        if any(place > at and fill.ink.intersects(word.box) for place, fill in near):
            yield f"{word.text!r} is painted over"
        under = shapely.union_all([fill.ink for place, fill in near if place < at and fill.grey == BLACK])
        if word.grey == WHITE and not under.buffer(TOUCH).contains(word.box):
            yield f"{word.text!r} is white and not on black"
        if word.grey == BLACK and shapely.distance(under, word.box) < APART and not under.is_empty:
            yield f"{word.text!r} lies on black"
