"""The set-out page, pinned on the wall: one page a surface, A4 or Letter lying down, and what to buy.

The surface drawn, under it the steps of the work in their order, in two columns. Where one page does not hold them
they go on over the next.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from msgspec.structs import replace

from cutmarks.buying.flow import what_to_buy
from cutmarks.gauging.model import Gauged
from cutmarks.geometry.frames import Page, Placement, Point
from cutmarks.geometry.frames import Sheet as SheetFrame
from cutmarks.marks.gauge_drawing import LETTER, gauge_drawing, gauge_height, gauge_scale
from cutmarks.marks.lettering import fitting, width, wrapped
from cutmarks.marks.model import Mark, Role, Words, line, moved
from cutmarks.patterns import late
from cutmarks.plan import Plan
from cutmarks.saying.buying import buy_lines
from cutmarks.saying.dialect import wording
from cutmarks.saying.gauging import Section, heading_lines, sections, told
from cutmarks.saying.offcuts import all_told
from cutmarks.sheets.flow import Block, on_page, paginate, space
from cutmarks.sheets.job_pages import page_paper
from cutmarks.sheets.model import PaperSheet, Series
from cutmarks.sheets.setting import TextSetting
from cutmarks.units import Unit

SIDE, FOOT, TOP = 9.0, 9.0, 9.0
"""Margins, mm."""
UNDER = 4.0
"""What the foot line takes above the margin, mm."""
BETWEEN = 5.0
"""Between two columns of words, mm."""
LEADING = 1.38
"""From one baseline to the next, in heights of a capital."""
LEAST_DRAWING, MOST_DRAWING = 52.0, 130.0
"""How high the drawing is, mm."""
GOOD_DRAWING = 63.0
"""A drawing so high holds the sizes of its pieces, mm, as a rule: words are left out for that."""
STEP = 1.0
"""The drawing is made lower by so much at a time, until the words have room under it, mm."""
TITLE = 4.6
INDENT, DASH, TWO_DIGITS = 4.6, 2.4, 6.4
"""Where words begin behind a number of one digit, behind a dash, and a title behind a number of two."""
BUY = "BUY"
NO_BREAK = "\u00a0"
_ONE_CUT = late(r"(?:under )?\d[^;.:]{0,24}: [^;.:]{1,40} -> [^;.:]{1,40} \.{4}|\S+ \| \S+")
"""One cut as it is told, or both edges of a joint."""


def setout_pages(plan: Plan) -> Series:
    """The pages of the surfaces that have their start, each lying down, in the Sheet frame, mm."""
    paper = page_paper(plan.say)
    size = (paper.height, paper.width)
    return Series(size, lambda: _bodies(plan, *size), lambda number, count: _around(plan, size, number, count))


def _around(plan: Plan, size: tuple[float, float], number: int, count: int) -> PaperSheet:
    """A page with its foot alone."""
    name = wording(plan.say.words).set_out
    right, foot = size[0] - SIDE, FOOT
    units = "millimetres" if plan.say.style.unit is Unit.MM else "inches"
    marks: list[Mark[SheetFrame]] = [
        line(SIDE, foot + LETTER + 1.2, right, foot + LETTER + 1.2, Role.JOINT),
        Words(f"{plan.job}   {name}   job {plan.fingerprint}   {units}", Point(SIDE, foot), LETTER),
        Words(f"page {number} of {count}", Point(right, foot), LETTER, "end"),
    ]
    title = f"{plan.job}: {name}, page {number} of {count}"
    return PaperSheet(f"set-out_{number}.svg", title, size[0], size[1], tuple(marks))


def _bodies(plan: Plan, w: float, h: float) -> Iterator[tuple[Mark[SheetFrame], ...]]:
    surfaces = told(plan)
    for one in surfaces:
        yield from _surface(one, plan, w, h, buys=len(surfaces) == 1)
    if len(surfaces) > 1:
        head = list(_head(f"{plan.job}", f"what to buy, all {len(surfaces)} surfaces", (), w - 2 * SIDE))
        yield from _pages(head, None, [_buy(plan)], w, h)


def _surface(one: Gauged, plan: Plan, w: float, h: float, *, buys: bool) -> Iterator[tuple[Mark[SheetFrame], ...]]:
    name = wording(plan.say.words).set_out
    head = list(_head(one.surface.setout.name, f"{plan.job}   {name}", heading_lines(one, plan), w - 2 * SIDE))

    def said(tight: bool, short: bool) -> list[Section]:
        return [*sections(one, plan, tight=tight), *([_buy(plan, tight=short)] if buys else [])]

    # All on one page: with less of what to buy, which `buy` has, where that makes the drawing hold its sizes; with less
    # of what each cut is only where nothing else does.
    ways = ((False, False), (False, True), (True, True))
    drawn = [(way, high) for way in ways if (high := _drawn_at(one, plan, head, said(*way), w, h)) is not None]
    in_full = [(way, high) for way, high in drawn if not way[0]] or drawn
    enough = min(GOOD_DRAWING, max((high for _, high in in_full), default=0.0))
    way = next((way for way, high in in_full if high >= enough), ways[0])
    yield from _pages(head, (one, plan), said(*way), w, h)


def _drawn_at(
    one: Gauged, plan: Plan, head: Sequence[Block], steps: Sequence[Section], w: float, h: float
) -> float | None:
    """How high the drawing is over all these words on one page, mm; None where they have no room on one."""
    room, high = w - 2 * SIDE, h - TOP - FOOT - LETTER - UNDER - sum(block.height for block in head)
    column = (room - BETWEEN) / 2
    words = list(_steps(steps, column))
    wide, drawing = _drawing_size((one, plan), words, room, high)
    return drawing if _fit(words, high, drawing, both=wide > column) else None


def _buy(plan: Plan, *, tight: bool = False) -> Section:
    lines = buy_lines(what_to_buy(plan), plan, tight=tight, paired=not all_told(plan))
    return Section(BUY, tuple(f"{text}." for text in lines))


def _head(name: str, job: str, lines: Sequence[str], room: float) -> Iterator[Block]:
    """The surface's name, biggest, the job beside it, and the tiles and lines under them."""
    aside = min(width(job, LETTER, True), room / 2)
    size = fitting(name.upper(), TITLE, room - aside - BETWEEN, True)
    marks: tuple[Mark[SheetFrame], ...] = (
        Words(name.upper(), Point(0.0, -TITLE), size, bold=True),
        Words(job, Point(room, -TITLE), fitting(job, LETTER, aside, True), "end", bold=True),
    )
    yield Block(TITLE * 1.4, marks)
    for text in lines:
        yield from _said(text, room)
    yield Block(2.0, (line(0.0, -1.0, room, -1.0, Role.CUT),))


def _said(text: str, room: float, *, bold: bool = False, label: str = "", indent: float = 0.0) -> Iterator[Block]:
    """Running words, a block a line; `label` stands in bold before the first, the words begin at `indent`."""
    for number, part in enumerate(wrapped(text, LETTER, room - indent, bold) or [""]):
        words = TextSetting(leading=LEADING)
        words.line(part, indent, LETTER, bold=bold, label="" if number else label)
        yield Block(LETTER * LEADING, tuple(words.marks))


def _steps(steps: Iterable[Section], room: float) -> Iterator[Block]:
    """The steps, numbered: a title in bold, and its lines, each with a dash before it."""
    for number, step in enumerate(steps, start=1):
        title = _said(step.title, room, bold=True, label=str(number), indent=INDENT if number < 10 else TWO_DIGITS)
        yield from (replace(one, keep=True) for one in title)
        for text in map(_unbroken, step.lines):
            yield from _moved_in(_said(text, room - INDENT, label="-", indent=DASH))
        yield space(0.7)


def _unbroken(text: str) -> str:
    """A piece, its opening, its cut and the first blank stay on one line."""
    return _ONE_CUT.sub(lambda found: found[0].replace(" ", NO_BREAK), text)


def _moved_in(blocks: Iterable[Block]) -> Iterator[Block]:
    shift: Placement[SheetFrame, SheetFrame] = Placement.shift(INDENT, 0.0)
    for one in blocks:
        yield replace(one, marks=tuple(moved(mark, shift) for mark in one.marks))


def _pages(
    head: list[Block], drawn: tuple[Gauged, Plan] | None, steps: Sequence[Section], w: float, h: float
) -> Iterator[tuple[Mark[SheetFrame], ...]]:
    """The head, the drawing as large as leaves the words their room, and the words in two columns; then more pages."""
    room, high = w - 2 * SIDE, h - TOP - FOOT - LETTER - UNDER
    column = (room - BETWEEN) / 2
    words = list(_steps(steps, column))
    begins = sum(one.height for one in head)
    top = h - TOP
    wide, drawing = (0.0, 0.0) if drawn is None else _drawing_size(drawn, words, room, high - begins)
    under = (high - begins - drawing, high - begins - (drawing if wide > column else LETTER))
    marks: list[Mark[SheetFrame]] = list(on_page(_stacked(head), SIDE, top))
    if drawn is not None:
        down: Placement[Page, SheetFrame] = Placement.shift(SIDE, top - begins - drawing)
        marks += [moved(mark, down) for mark in gauge_drawing(*drawn, wide, drawing)]
    columns = _filled(words, [*under, high])
    for page in range(0, len(columns), 2):
        for number, one in enumerate(columns[page : page + 2]):
            down_by = high - under[number] if page == 0 else 0.0
            marks += on_page(one, SIDE + number * (column + BETWEEN), top - down_by)
        yield tuple(marks)
        marks = []


def _filled(words: Sequence[Block], heights: Sequence[float]) -> list[list[tuple[Block, float]]]:
    """The words in columns of these heights, the last of them for all that follow."""
    columns: list[list[tuple[Block, float]]] = []
    left = list(words)
    while left or not columns:
        high = heights[min(len(columns), len(heights) - 1)]
        column = next(iter(paginate(left, high)))
        columns.append(column)
        left = left[len(column) :]
    return columns


def _stacked(blocks: Iterable[Block]) -> Iterator[tuple[Block, float]]:
    down = 0.0
    for one in blocks:
        yield one, down
        down += one.height


def _drawing_size(drawn: tuple[Gauged, Plan], words: Sequence[Block], room: float, high: float) -> tuple[float, float]:
    """How wide and high the drawing is: over both columns or over the left one alone, whichever shows it larger.

    As large as leaves all the words on its page; where that is under what can be read, they go on over the next.
    """
    found: list[tuple[bool, float, float, float]] = []
    for wide in (room, (room - BETWEEN) / 2):
        best = min(MOST_DRAWING, gauge_height(*drawn, wide), high)
        both = wide == room
        while not (fits := _fit(words, high, best, both=both)) and best > LEAST_DRAWING:
            best = max(LEAST_DRAWING, best - STEP)
        if best >= LEAST_DRAWING:
            found.append((fits, gauge_scale(*drawn, wide, best), wide, best))
    if not found:
        return (room - BETWEEN) / 2, min(LEAST_DRAWING, high)
    *_, wide, best = max(found)
    return wide, best


def _fit(words: Sequence[Block], high: float, drawing: float, *, both: bool) -> bool:
    """Whether all the words have room under a drawing so high, over both columns or over the left one alone."""
    return len(_filled(words, [high - drawing, high - (drawing if both else LETTER), high])) <= 2
