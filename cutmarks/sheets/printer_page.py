"""The test page of a printer: two bars and two diagonals to measure, from which its own scale is told.

A bank card's outline is the pocket gauge: it shows a page that was fitted to the paper before a tape is at hand.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from cutmarks.geometry.frames import Point
from cutmarks.geometry.frames import Sheet as SheetFrame
from cutmarks.geometry.rings import Vertex
from cutmarks.marks.lettering import width
from cutmarks.marks.model import Mark, Role, Stroke, Words, line, rectangle, solid
from cutmarks.registering.calibration import Bars
from cutmarks.registering.paper import SAFE_MARGIN, Paper
from cutmarks.sheets.furniture import bars, corner_marks
from cutmarks.sheets.model import PaperSheet
from cutmarks.sheets.setting import TextSetting
from cutmarks.units import Style, say

TITLE = "TEST PAGE"
CARD = (85.60, 53.98)
"""An identity or bank card, ID-1 of ISO/IEC 7810, mm."""
CARD_CORNER = 3.18
"""Radius of its corners, mm (the same standard: 2.88 to 3.48)."""
_QUARTER = math.tan(math.radians(90.0) / 4)
"""Bulge of a quarter circle."""
_CROSS = 6.0
"""Half the length of the crosses at the corners of the rectangle."""
_LEAD = 26.0
"""How far the diagonals are drawn from each corner: the tape goes on to the other one."""
_HEAD, _HALF_HEAD = 4.0, 1.0
_BIG, _FIGURE, _TEXT = 9.0, 4.2, 3.4
_BOX = (26.0, 8.0)
_GAP = 2.5
_INSET = 30.0
"""From the rectangle's sides to the words."""
_STEP = 1.8
"""From one baseline to the next, in heights of a capital."""


def page_bars(paper: Paper, style: Style) -> Bars:
    """What the two bars of the test page must measure, mm: those of every sheet."""
    across, along = bars(paper, style)
    return Bars(across.length, along.length)


def printer_page(paper: Paper, style: Style) -> PaperSheet:
    """The test page on this paper; `style` says whether its bars are whole millimetres or whole inches."""
    title = f"{TITLE} \u00b7 {paper.name}"
    marks = (*corner_marks(paper), *_rectangle(paper, style), *_words(paper, style))
    return PaperSheet("test-page.svg", title, paper.width, paper.height, marks)


def _corner(paper: Paper, size: Bars) -> tuple[float, float]:
    """The rectangle's lower left corner: it stands in the middle of the paper."""
    return (paper.width - size.across) / 2, (paper.height - size.along) / 2


def _rectangle(paper: Paper, style: Style) -> Iterator[Mark[SheetFrame]]:
    size = page_bars(paper, style)
    left, bottom = _corner(paper, size)
    right, top = left + size.across, bottom + size.along
    yield from _bar(left, bottom, right, bottom)
    yield from _bar(left, bottom, left, top)
    slope_x, slope_y = size.across / size.diagonal, size.along / size.diagonal
    for x, way_x in ((left, 1.0), (right, -1.0)):
        for y, way_y in ((bottom, 1.0), (top, -1.0)):
            yield line(x, y, x + way_x * _CROSS, y, Role.BAR)
            yield line(x, y, x, y + way_y * _CROSS, Role.BAR)
            yield line(x, y, x + way_x * _LEAD * slope_x, y + way_y * _LEAD * slope_y, Role.MEASURE)
            name = "A" if way_x == way_y else "B"
            at_x, at_y = x + way_x * (_LEAD * slope_x + 4.0), y + way_y * (_LEAD * slope_y + 4.0)
            yield Words(name, Point(at_x, at_y - _FIGURE / 2), _FIGURE, "middle", bold=True)
    yield from _box((left + right) / 2, bottom + _GAP, "across", say(size.across, style), turned=False)
    yield from _box(left + _GAP, (bottom + top) / 2, "along", say(size.along, style), turned=True)


def _bar(x0: float, y0: float, x1: float, y1: float) -> Iterator[Mark[SheetFrame]]:
    """A bar with an arrow head at each end."""
    yield line(x0, y0, x1, y1, Role.BAR)
    level = y0 == y1
    for x, y, way in ((x0, y0, 1.0), (x1, y1, -1.0)):
        foot = ((way * _HEAD, _HALF_HEAD), (way * _HEAD, -_HALF_HEAD))
        yield solid(((x, y), *((x + dx, y + dy) if level else (x + dy, y + dx) for dx, dy in foot)))


def _box(x: float, y: float, name: str, figure: str, *, turned: bool) -> Iterator[Mark[SheetFrame]]:
    """A box to write in, between "across" and "(must be 180)": above the middle (x, y) of a bar, or right of it."""
    before, behind = name, f"(must be {figure})"
    before_long = width(before, _FIGURE, bold=True)
    long = before_long + _BOX[0] + width(behind, _FIGURE) + 2 * _GAP
    start = -long / 2
    lift = (_BOX[1] - _FIGURE) / 2
    box_at, behind_at = start + before_long + _GAP, start + before_long + _BOX[0] + 2 * _GAP
    if turned:
        base = x + lift + _FIGURE
        yield Words(before, Point(base, y + start), _FIGURE, bold=True, turn=90.0)
        yield rectangle(x, y + box_at, _BOX[1], _BOX[0], Role.BOX)
        yield Words(behind, Point(base, y + behind_at), _FIGURE, turn=90.0)
        return
    yield Words(before, Point(x + start, y + lift), _FIGURE, bold=True)
    yield rectangle(x + box_at, y, _BOX[0], _BOX[1], Role.BOX)
    yield Words(behind, Point(x + behind_at, y + lift), _FIGURE)


def _words(paper: Paper, style: Style) -> Iterator[Mark[SheetFrame]]:
    size = page_bars(paper, style)
    left, bottom = _corner(paper, size)
    room = size.across - 2 * _INSET
    x = left + _INSET
    words = TextSetting(leading=_STEP, y=bottom + size.along - _INSET)
    own = "" if paper.margin == SAFE_MARGIN else f" --margin {paper.margin:g}mm"
    for text, height, bold in (
        (TITLE, _BIG, True),
        (f"{paper.name}, upright, from the tray that the sheets will come from", _FIGURE, False),
        ('1  Print it at 100 %, "actual size", one side, not borderless.', _TEXT, False),
        ("2  Is one of the four corner marks missing? Then it was clipped: stop here.", _TEXT, False),
        (
            "3  Measure both bars and both diagonals, A to A and B to B, from the middle of a line to the middle of "
            "a line, with a steel rule, as finely as it can be read.",
            _TEXT,
            False,
        ),
        ("4  Type what you measured:", _TEXT, False),
        (f"cutmarks printer NAME --paper {paper.name}{own} --across ... --along ... --diagonals A B", _TEXT, True),
    ):
        words.lines(text, x, height, room, bold=bold)
        words.gap(height)
    yield from words.marks
    for name in ("A", "B"):
        yield from _diagonal(x, words.y, name, say(size.diagonal, style))
        words.gap(_BOX[1] + _GAP)
    yield from _gauge((paper.width - CARD[0]) / 2, words.y - CARD[1])


def _gauge(x: float, y: float) -> Iterator[Mark[SheetFrame]]:
    """The outline of the card, (x, y) the bottom-left corner of its box."""
    w, h = CARD
    r = CARD_CORNER
    corners = (
        Vertex(x + r, y),
        Vertex(x + w - r, y, _QUARTER),
        Vertex(x + w, y + r),
        Vertex(x + w, y + h - r, _QUARTER),
        Vertex(x + w - r, y + h),
        Vertex(x + r, y + h, _QUARTER),
        Vertex(x, y + h - r),
        Vertex(x, y + r, _QUARTER),
    )
    yield Stroke(corners, Role.BAR, closed=True)
    middle: Point[SheetFrame] = Point(x + w / 2, y + h / 2)
    yield Words("POCKET GAUGE", middle, _TEXT, "middle", bold=True)
    for row, text in enumerate(("a bank or identity card", "lies exactly in this outline"), start=1):
        yield Words(text, Point(middle.x, middle.y - row * _TEXT * _STEP), 2.6, "middle")


def _diagonal(x: float, top: float, name: str, figure: str) -> Iterator[Mark[SheetFrame]]:
    """A box to write in, between "A to A" and "(must be 308)": its top left corner at (x, top)."""
    before = f"{name} to {name}"
    base = top - _BOX[1] + (_BOX[1] - _FIGURE) / 2
    box_x = x + width(before, _FIGURE, bold=True) + _GAP
    yield Words(before, Point(x, base), _FIGURE, bold=True)
    yield rectangle(box_x, top - _BOX[1], _BOX[0], _BOX[1], Role.BOX)
    yield Words(f"(must be {figure})", Point(box_x + _BOX[0] + _GAP, base), _FIGURE)
