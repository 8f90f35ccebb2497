"""What every sheet carries to prove itself: two bars to measure, the corners of the safe area, the small print."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Literal

from msgspec import Struct
from msgspec.structs import replace

from cutmarks.geometry.frames import Point
from cutmarks.geometry.frames import Sheet as SheetFrame
from cutmarks.marks import sizes
from cutmarks.marks.lettering import fitting, width
from cutmarks.marks.model import Mark, Role, Words, line, rectangle, solid
from cutmarks.registering.layouts import SIZES, PageLayout
from cutmarks.registering.paper import Paper
from cutmarks.units import Style, Unit

MM_PER_INCH = 25.4
_CORNER = 5.0
_INSIDE = 0.25
"""The corner marks' lines lie wholly inside the safe area."""
_EDGE = 2.0
"""From the end of a bar across to the safe area's edge."""
_BAR_STEP_MM = 10.0
_LONG_STEP_MM = 50.0
_LETTER = 2.4
SMALL_PRINT = 2.0
_PRINT_STEP = 3.4
_BAR_Y = 12.3
_BAR_X = 1.9
_END = 1.5
"""Half the length of the stroke that ends a bar."""
_HEAD, _HALF_HEAD = 4.0, 1.0

BarSide = Literal["left", "right"]


class Bar(Struct, frozen=True):
    """One bar to measure: its length, mm, and its figure as printed; `boxed`: with room to write what was found."""

    length: float
    figure: str
    boxed: bool = True


def bars(paper: Paper, style: Style) -> tuple[Bar, Bar]:
    """The bar across and the bar along the paper: 180 and 250 on A4, 7 in and 10 in where the job is in inches."""
    across, along = paper.safe_width - 2 * _EDGE - _INSIDE, paper.safe_height - 2 * _EDGE - _INSIDE
    if style.unit is Unit.INCH:
        return _bar_in(across - 2 * _BAR_X), _bar_in(along)
    return _bar_mm(across - 2 * _BAR_X, _BAR_STEP_MM), _bar_mm(along, _LONG_STEP_MM)


def _bar_mm(room: float, step: float) -> Bar:
    length = room // step * step
    return Bar(length, f"{length:.0f}")


def _bar_in(room: float) -> Bar:
    count = int(room // MM_PER_INCH)
    return Bar(count * MM_PER_INCH, f"{count} in")


def bar_marks(paper: Paper, style: Style, side: BarSide, *, boxed: bool = True) -> Iterator[Mark[SheetFrame]]:
    """Both bars; `side` is the side of the paper that the bar along it stands on."""
    across, along = (replace(bar, boxed=boxed) for bar in bars(paper, style))
    left, right = paper.margin, paper.width - paper.margin
    start = left + _EDGE if side == "right" else right - _EDGE - across.length
    y = paper.margin + _BAR_Y
    yield from _bar(start, y, across, turned=False, toward=1.0)
    x = right - _BAR_X if side == "right" else left + _BAR_X
    foot = paper.margin + (paper.safe_height - along.length) / 2
    yield from _bar(x, foot, along, turned=True, toward=-1.0 if side == "right" else 1.0)


def _bar(x: float, y: float, bar: Bar, *, turned: bool, toward: float) -> Iterator[Mark[SheetFrame]]:
    """A bar from (x, y) on, to the right or (turned) upward; its words lie on the side `toward`."""
    ux, uy = (0.0, 1.0) if turned else (1.0, 0.0)
    yield from _bar_line(x, y, bar, turned=turned)
    yield from _bar_words(x + ux * bar.length / 2, y + uy * bar.length / 2, bar, turned, toward)


def _bar_line(x: float, y: float, bar: Bar, *, turned: bool) -> Iterator[Mark[SheetFrame]]:
    """The bar's line with its ends."""
    ux, uy = (0.0, 1.0) if turned else (1.0, 0.0)
    yield line(x, y, x + ux * bar.length, y + uy * bar.length, Role.BAR)
    for at, way in ((0.0, 1.0), (bar.length, -1.0)):
        px, py = x + ux * at, y + uy * at
        yield line(px - _END * uy, py - _END * ux, px + _END * uy, py + _END * ux, Role.BAR)
        bx, by = px + way * _HEAD * ux, py + way * _HEAD * uy
        yield solid(
            ((px, py), (bx + _HALF_HEAD * uy, by + _HALF_HEAD * ux), (bx - _HALF_HEAD * uy, by - _HALF_HEAD * ux))
        )


def _bar_words(x: float, y: float, bar: Bar, turned: bool, toward: float) -> Iterator[Mark[SheetFrame]]:
    if not bar.boxed:
        base = x - 1.1 if turned and toward < 0 else x + (1.1 + _LETTER if turned else 0.0)
        at: Point[SheetFrame] = Point(base, y) if turned else Point(x, y + 1.1)
        yield Words(f"must be {bar.figure}", at, _LETTER, "middle", bold=True, turn=90.0 if turned else 0.0)
        return
    before, behind = "I measured", f"(must be {bar.figure})"
    box_w, box_h, gap = 20.0, 5.2, 1.6
    before_w, behind_w = width(before, _LETTER), width(behind, _LETTER, bold=True)
    long = before_w + box_w + behind_w + 2 * gap
    start, off = -long / 2, 1.1
    box_at, behind_at = start + before_w + gap, start + before_w + box_w + 2 * gap
    lift = off + (box_h - _LETTER) / 2
    if not turned:
        yield Words(before, Point(x + start, y + lift), _LETTER)
        yield rectangle(x + box_at, y + off, box_w, box_h, Role.BOX)
        yield Words(behind, Point(x + behind_at, y + lift), _LETTER, bold=True)
        return
    # Turned, the words read upward; their baseline lies to the right of their heads.
    base = x - lift if toward < 0 else x + off + (box_h + _LETTER) / 2
    yield Words(before, Point(base, y + start), _LETTER, turn=90.0)
    yield rectangle(x - off - box_h if toward < 0 else x + off, y + box_at, box_h, box_w, Role.BOX)
    yield Words(behind, Point(base, y + behind_at), _LETTER, bold=True, turn=90.0)


def template_bars(paper: Paper, style: Style, layout: PageLayout) -> Iterator[Mark[SheetFrame]]:
    """Both bars of a template, in the Held frame: one along the foot, one up the right side, each with its figure.

    The boxes for what was measured stand on the front sheet, once a pack.
    """
    across, along = bars(paper, style)
    foot, side = (across, along) if layout.name == "portrait" else (along, across)
    safe = layout.safe
    x, y = safe.min_x + _EDGE, safe.min_y + _FOOT_BAR_Y
    yield from _bar_line(x, y, foot, turned=False)
    yield Words(_must_be(foot), Point(x + foot.length / 2, y + _OVER_FOOT), sizes.BODY, "middle", bold=True)
    x, y = safe.max_x - _BAR_X, (safe.min_y + safe.max_y - side.length) / 2
    yield from _bar_line(x, y, side, turned=True)
    at: Point[SheetFrame] = Point(x - _OVER_BAR, y + side.length / 2)
    yield Words(_must_be(side), at, sizes.BODY, "middle", bold=True, turn=90.0)


def _must_be(bar: Bar) -> str:
    return f"must be {bar.figure}"


_FOOT_BAR_Y = 12.0
_OVER_BAR, _OVER_FOOT = 1.1, 0.9


def corner_marks(paper: Paper) -> Iterator[Mark[SheetFrame]]:
    """A right angle at each corner of the safe area: one missing on the print means that it was clipped."""
    left, right = paper.margin + _INSIDE, paper.width - paper.margin - _INSIDE
    bottom, top = paper.margin + _INSIDE, paper.height - paper.margin - _INSIDE
    for x, way_x in ((left, 1.0), (right, -1.0)):
        for y, way_y in ((bottom, 1.0), (top, -1.0)):
            yield line(x, y, x + way_x * _CORNER, y, Role.CORNER)
            yield line(x, y, x, y + way_y * _CORNER, Role.CORNER)


def print_room(paper: Paper) -> float:
    """How long a line of small print may be, mm."""
    return paper.safe_width - 2 * _EDGE - _STRIP


def small_print(paper: Paper, rows: Sequence[str], side: BarSide) -> Iterator[Mark[SheetFrame]]:
    """Up to three lines at the foot, clear of the corner marks and of the bar along the paper."""
    left = paper.margin + (_EDGE if side == "right" else _EDGE + _STRIP)
    for number, row in enumerate(reversed(rows)):
        size = fitting(row, SMALL_PRINT, print_room(paper))
        yield Words(row, Point(left, paper.margin + 1.4 + number * _PRINT_STEP), size)


def template_print(layout: PageLayout, rows: Sequence[str], most: float) -> Iterator[Mark[SheetFrame]]:
    """Up to three lines at the foot of a template, in the Held frame, `most` high: where the sheet comes from."""
    safe = layout.safe
    for number, row in enumerate(reversed(rows)):
        size = fitting(row, most, template_print_room(layout))
        yield Words(row, Point(safe.min_x + _EDGE, safe.min_y + 1.2 + number * _TEMPLATE_PRINT_STEP), size)


def template_print_room(layout: PageLayout) -> float:
    """How long a line of small print may be on a template, mm."""
    return layout.safe.width - SIZES.strip - 2 * _EDGE


_TEMPLATE_PRINT_STEP = 3.2
_STRIP = 5.0
"""What the bar along the paper takes of the foot."""
