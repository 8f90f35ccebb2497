"""3 MARK: the figures to mark from, as large as their box takes; the other pair, to check with, in brackets.

Figures of the tile never stand in one list with those of the wall, which contain the joint. Beside each stands a small
picture of the tile: the edge that it is from drawn heavy, an arrow from there to a middle or to a cut; and which of
both it is in a word, since a core is started on a middle alone.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import partial
from itertools import product
from typing import Literal

from msgspec import Struct
from msgspec.structs import replace

from cutmarks.geometry.edges import Bounds
from cutmarks.geometry.frames import Placement, Point
from cutmarks.geometry.frames import Sheet as SheetFrame
from cutmarks.marks import sizes
from cutmarks.marks.lettering import width
from cutmarks.marks.model import CircleMark, Mark, Role, Words, block, line, moved, rectangle, solid
from cutmarks.marks.template import Subject
from cutmarks.openings.corners import InsideCorner
from cutmarks.openings.model import Cut
from cutmarks.saying.corners import corner_checks, corner_name, corner_rows
from cutmarks.saying.cuts import MarkRow, marked, opposite_figures
from cutmarks.saying.found_more import as_it_lies, in_doubt
from cutmarks.saying.measures import figures_shown
from cutmarks.saying.trust import tile_out
from cutmarks.sheets.panel import PAD, Filling, Writer, fit, panel
from cutmarks.sides import Side

FROM = "from the "
IN_DOUBT = "in doubt, see READ"
"""Behind a figure whose reading cannot be right."""
STOPPED_TITLE, STOPPED = "3 MARK nothing", "STOP: nothing is marked until this is settled"
_PICTURE, _SMALL_PICTURE = 10.0, 7.0
"""How wide the small picture of the tile is, and behind the figure of one of two cuts; mm."""
_PICTURE_HIGH, _LEAST_PICTURE = 7.0, 4.8
"""How high it is at most that two figures share; no side of the tile in it is shorter than the other, mm."""
_HEAVY, _BAR = 1.4, 0.7
"""How thick its edge is that is measured from, and what is cut in it."""
_TAGGED = 8.2
"""Under the picture behind a figure so high there is room for the word, mm; else it stands behind it."""
_TAG_GAP = 1.5
"""From the picture to the word, mm."""
_BESIDE, _ROW_GAP = 2.0, 1.6
"""From a figure to what is beside it, and from one figure to the next, mm."""
_APART = 3.0
"""Between two columns of figures, mm: nearer to each other they are read as one."""
_LEAST_WORDS = {sizes.BODY: 23.2, sizes.LEAST: 19.0}
"""How wide words beside a figure are at least, by their height, mm: "RIGHT edge"."""
_NARROWED = 0.5
"""A long figure, from one place to another, may be so much smaller than the other one."""
_STEPS = (1.0, 0.94, 0.88, 0.82, 0.76, 0.7, 0.64, 0.58, 0.52, 0.46, 0.4, 0.34, 0.3, 0.27)
"""Of the full size: what the figures are tried at, from the largest down."""

MarkedTo = Literal["centre", "cut", "cuts"]
"""What a figure goes to: a middle, which a core is started on, or where the tile is cut, at one place or at two."""
TO_SAID: Mapping[MarkedTo, str] = {"centre": "to centre", "cut": "to the cut", "cuts": "to the cut"}
_TAGS: Mapping[MarkedTo, str] = {"centre": "CENTRE", "cut": "CUT", "cuts": "CUT"}

Arrangement = Literal["stacked", "side by side", "beside"]
"""One under the other, each with its words under it; in columns; one under the other with the words beside them."""


class MarkedFigure(Struct, frozen=True):
    """One figure, what it goes to, the words of what it is from, and the side that it is measured from.

    to_said  what it goes to, in words; "" where the panel's title says it.
    """

    figure: str
    to: MarkedTo
    words: str
    side: Side
    to_said: str = ""


class MarkedCut(Struct, frozen=True):
    """All that is marked of one cut: its name where the tile has several, its rows, and what to check with."""

    name: str
    rows: tuple[MarkedFigure, ...]
    check: str


def mark_panel(subject: Subject, box: Bounds) -> Iterator[Mark[SheetFrame]]:
    """3 MARK in its box: each cut's figures in its turn; of a piece that is stopped, that nothing is marked."""
    several = len(subject.cuts) + len(subject.corners) > 1
    if subject.stopped:
        yield from panel(box, (STOPPED_TITLE,), [_stopped])
        return
    titles: tuple[str, ...] = ("3 MARK on the tile", "3 MARK")
    cuts = [_marked(subject, cut) for cut in _as_drawn(subject)]
    cuts += [_marked_corner(subject, corner) for corner in sorted(subject.corners, key=lambda one: one.centre.x)]
    every = [row for cut in cuts for row in cut.rows]
    if not several and {row.to for row in every} == {"centre"}:
        titles = (f"3 MARK on the tile, {TO_SAID['centre']}", f"3 MARK {TO_SAID['centre']}")
    if subject.registration.back and not several and all(row.words.startswith(FROM) for row in every):
        # "The edge on your left now" is long: it has one line.
        titles = (f"3 MARK, {FROM.strip()}:",)
        cuts = [replace(cut, rows=tuple(map(_shortened, cut.rows))) for cut in cuts]
    if several and all(row.words.startswith(FROM) for row in every) and len({row.to for row in every}) == 1:
        # Said once, in the title: the words under two columns of figures have to be short.
        titles = (f"3 MARK {TO_SAID[every[0].to]}, {FROM.strip()}:", f"3 MARK, {FROM.strip()}:")
        cuts = [replace(cut, rows=tuple(map(_shortened, cut.rows))) for cut in cuts]
    yield from panel(box, titles, _several(subject, cuts) if several else _one(subject, cuts[0]))


def _as_drawn(subject: Subject) -> list[Cut]:
    """The cuts as they stand beside each other in the drawing, from left to right; those over each other as they are.

    Two columns of figures in another order than the holes above them are taken for each other's.
    """
    return sorted(subject.cuts, key=lambda cut: round(cut.bounds[0] + cut.bounds[2]))


def _shortened(row: MarkedFigure) -> MarkedFigure:
    return replace(row, words=row.words.removeprefix(FROM), to_said="")


def _marked(subject: Subject, cut: Cut) -> MarkedCut:
    several = len(subject.piece.cuts) > 1
    doubted = {as_it_lies(subject, check).axis for check in in_doubt(subject, cut)}
    rows = tuple(
        replace(row, words=f"{row.words}: {IN_DOUBT}") if row.side.axis in doubted else row
        for row in (_marked_figure(subject, row) for row in marked(subject, cut))
    )
    opposite = opposite_figures(subject, cut)
    check = f"({' and '.join(opposite)})" if opposite else ""
    return MarkedCut(cut.opening.name if several else "", rows, check)


def _marked_figure(subject: Subject, row: MarkRow) -> MarkedFigure:
    to: MarkedTo = "centre" if row.measure.what == "centre" else "cuts" if row.measure.what == "sides" else "cut"
    words = row.words.removeprefix(f"{TO_SAID[to]}, ")
    figure = figures_shown(row.measure, subject.piece, subject.style)
    # "in from the corner that goes" and "deep" say it by themselves.
    to_said = TO_SAID[to] if words.startswith(FROM) else ""
    return MarkedFigure(figure, to, words, row.measure.side, to_said)


def _marked_corner(subject: Subject, corner: InsideCorner) -> MarkedCut:
    rows = tuple(
        MarkedFigure(figure, "cut", words, side, TO_SAID["cut"]) for side, figure, words in corner_rows(subject, corner)
    )
    return MarkedCut(corner_name(subject.piece, corner), rows, f"({' and '.join(corner_checks(subject, corner))})")


def _stopped(writer: Writer) -> None:
    """No figure."""
    writer.text(STOPPED, sizes.READ, bold=True)


def _one(subject: Subject, cut: MarkedCut) -> Iterator[Filling]:
    """The ways to write one cut's figures: the largest first, one under the other before side by side."""
    arrangements: tuple[Arrangement, ...] = ("stacked", "beside", "side by side")
    for step in _STEPS:
        size = max(sizes.MARK_ONE * step, sizes.BODY)
        for some in (arrangements[:2], arrangements[2:]):
            for words, arrangement in product((sizes.BODY, sizes.LEAST), some):
                yield partial(_write_one, subject, cut, size, words, arrangement)
    yield partial(_write_rows, [cut])


def _write_one(
    subject: Subject, cut: MarkedCut, size: float, words: float, arrangement: Arrangement, writer: Writer
) -> None:
    if cut.name:
        writer.text(cut.name, words, bold=True)
        writer.gap(0.6)
    if arrangement == "beside":
        for row in cut.rows:
            _with_words_beside(subject, writer, row, size, words)
    else:
        rows = [list(cut.rows)] if arrangement == "side by side" else [[row] for row in cut.rows]
        _grid(subject, rows, size, words, writer)
    if cut.check:
        said = f"check {cut.check} opposite"
        out = f"{said} {_checked_within(subject)}" if subject.piece.piece.tile.measured else said
        # How far it may be out costs the figures nothing: the small print has it in any case.
        writer.text(out if width(out, words) <= writer.room else said, words)


def _checked_within(subject: Subject) -> str:
    """How far a check from the far edges may be out, as single tiles are off the size that was measured."""
    return f"\u00b1{tile_out(subject.style, subject.plan.paper_figures)}"


def _grid(subject: Subject, rows: Sequence[Sequence[MarkedFigure]], size: float, words: float, writer: Writer) -> None:
    """Figures in rows and columns, each with its picture behind it and its words under it."""
    for row in rows:
        wide = writer.room / max(len(row), 1)
        top, lowest = writer.y, writer.y
        for number, one in enumerate(row):
            gap = 3.0 if len(row) > 1 else 0.0
            cell = Writer(width=wide - gap + 2 * PAD, leading=writer.leading, y=top)
            _figure(subject, cell, one, size)
            cell.text(one.words, words)
            cell.gap(0.4)
            _take(writer, cell, number * wide)
            lowest = min(lowest, cell.y)
        writer.y = lowest


def _with_words_beside(subject: Subject, writer: Writer, row: MarkedFigure, size: float, words: float) -> None:
    """A figure, its picture behind it, and its words in the room beside both."""
    top = writer.y
    long = width(row.figure, size, bold=True) + _BESIDE + _picture_wide(row, size) + _BESIDE
    room = writer.room - long
    cell = Writer(width=room + 2 * PAD, leading=1.35)
    writer.fits &= room >= _LEAST_WORDS[words]
    if writer.fits:
        cell.text(row.words, words)
    high = max(size, -cell.y, _least_high(size))
    base = top - high / 2 - size / 2
    writer.marks.append(Words(row.figure, Point(PAD, base), size, bold=True))
    writer.marks += _behind(subject, row, PAD + width(row.figure, size, bold=True) + _BESIDE, base, size)
    shift: Placement[SheetFrame, SheetFrame] = Placement.shift(long, top - (high + cell.y) / 2)
    writer.marks += [moved(mark, shift) for mark in cell.marks]
    writer.y = top - high - _ROW_GAP


def _take(writer: Writer, cell: Writer, left: float) -> None:
    """What was written in a cell, `left` mm from the panel's own side."""
    shift: Placement[SheetFrame, SheetFrame] = Placement.shift(left, 0.0)
    writer.marks += [moved(mark, shift) for mark in cell.marks]
    writer.fits &= cell.fits


def _figure(subject: Subject, writer: Writer, row: MarkedFigure, size: float) -> None:
    """A figure with the small picture of the tile behind it."""
    room = writer.room - _BESIDE
    size = fit(row.figure, size, max(size * _NARROWED, sizes.LEAST), room - _picture_wide(row, size))
    lift = (max(size, _least_high(size)) - size) / 2
    writer.y -= size + lift
    figure = width(row.figure, size, bold=True)
    writer.fits &= figure + _picture_wide(row, size) <= room
    writer.put(row.figure, PAD, size, bold=True)
    writer.marks += _behind(subject, row, PAD + figure + _BESIDE, writer.y, size)
    writer.y -= lift + 1.4


def _one_of_two(subject: Subject, writer: Writer, row: MarkedFigure, size: float, *, pictured: bool) -> None:
    """A figure of one of two cuts, in its own column, its picture behind it where both do not share one."""
    wide = _SMALL_PICTURE + _BESIDE if pictured else 0.0
    size = fit(row.figure, size, max(size * _NARROWED, sizes.LEAST), writer.room - wide)
    figure = width(row.figure, size, bold=True)
    writer.fits &= figure + wide <= writer.room
    high = max(size, _LEAST_PICTURE + _HEAVY) if pictured else size
    base = writer.y - (high + size) / 2
    writer.marks.append(Words(row.figure, Point(PAD, base), size, bold=True))
    if pictured:
        writer.marks += _picture(subject, row, PAD + figure + _BESIDE, writer.y - high, _SMALL_PICTURE, high)
    writer.y -= high + 1.4


def _say(writer: Writer, row: MarkedFigure, words: float) -> None:
    """What a figure goes to, where the title does not say it, and what it is from."""
    if row.to_said:
        writer.text(row.to_said, words, bold=True)
    writer.text(row.words, words)


def _picture_wide(row: MarkedFigure, size: float) -> float:
    """How much room the picture behind a figure takes, with its word, mm."""
    tag = width(_TAGS[row.to], sizes.LEAST, bold=True)
    return max(_PICTURE, tag) if size >= _TAGGED else _PICTURE + _TAG_GAP + tag


def _least_high(size: float) -> float:
    """How high a picture behind a figure is at least, with its heavy edge, mm; one over its word is no higher."""
    return 0.0 if size >= _TAGGED else _LEAST_PICTURE + _HEAVY


def _behind(subject: Subject, row: MarkedFigure, left: float, foot: float, size: float) -> Iterator[Mark[SheetFrame]]:
    """The picture behind a figure whose baseline is `foot`, and CENTRE or CUT under it, or behind it."""
    if size >= _TAGGED:
        wide, under = _picture_wide(row, size), sizes.LEAST + _TAG_GAP
        yield Words(_TAGS[row.to], Point(left + wide / 2, foot), sizes.LEAST, "middle", bold=True)
        yield from _picture(subject, row, left, foot + under, wide, size - under)
        return
    high = max(size, _least_high(size))
    yield from _picture(subject, row, left, foot + (size - high) / 2, _PICTURE, high)
    at: Point[SheetFrame] = Point(left + _PICTURE + _TAG_GAP, foot + (size - sizes.LEAST) / 2)
    yield Words(_TAGS[row.to], at, sizes.LEAST, bold=True)


def _picture(
    subject: Subject, row: MarkedFigure, left: float, foot: float, wide: float, high: float
) -> Iterator[Mark[SheetFrame]]:
    """The tile in a box: the edge that is measured from heavy, an arrow from it to a ring with a cross, or to a cut.

    What it goes to lies beyond the middle, wherever it is on the tile.
    """
    tile = subject.piece.piece.tile
    scale = min((wide - _HEAVY) / tile.w, (high - _HEAVY) / tile.h)
    w, h = (max(long * scale, _LEAST_PICTURE) for long in (tile.w, tile.h))
    x, y = left + (wide - w) / 2, foot + (high - h) / 2
    box = Bounds(x, y, x + w, y + h)
    yield rectangle(box.min_x, box.min_y, w, h, Role.BOX)
    x0, y0, x1, y1 = box.with_side(row.side.opposite, box.at(row.side))
    half = _HEAVY / 2
    yield block(x0 - half, y0 - half, x1 - x0 + _HEAVY, y1 - y0 + _HEAVY)
    # Along the way inward from the edge, and across it from the middle of the picture.
    deep, across = (w, h) if row.side.axis == "across" else (h, w)
    for mark in _way(row.to, deep, across):
        yield moved(mark, _inward(box, row.side))


def _inward(box: Bounds, side: Side) -> Placement[SheetFrame, SheetFrame]:
    """From a place so far in from an edge of the picture, and so far to its left hand then, to the page."""
    turn = {Side.LEFT: 0.0, Side.BOTTOM: 90.0, Side.RIGHT: 180.0, Side.TOP: -90.0}[side]
    x, y = (box.min_x + box.max_x) / 2, (box.min_y + box.max_y) / 2
    at = (box.at(side), y) if side.axis == "across" else (x, box.at(side))
    return Placement.turned(turn, *at)


def _way(to: MarkedTo, deep: float, across: float) -> Iterator[Mark[SheetFrame]]:
    """The arrow inward from (0, 0) with what it goes to, in a tile so deep and so wide across it."""
    end, start = deep * 0.64, _HEAVY / 2
    if to == "centre":
        ring = min(1.3, deep * 0.2)
        yield CircleMark(Point(end, 0.0), ring, Role.BOX)
        yield line(start, 0.0, end + ring, 0.0, Role.BOX)
        yield line(end, -ring, end, ring, Role.BOX)
        return
    half = across / 2 - 0.9
    yield block(end - _BAR / 2, -half, _BAR, 2 * half)
    if to == "cuts":
        yield block(deep * 0.86 - _BAR / 2, -half, _BAR, 2 * half)
    tip = end - _BAR / 2
    head = min(1.8, (tip - start) * 0.7)
    yield line(start, 0.0, tip - head, 0.0, Role.BOX)
    yield solid(((tip, 0.0), (tip - head, head * 0.5), (tip - head, -head * 0.5)))


def _several(subject: Subject, cuts: Sequence[MarkedCut]) -> Iterator[Filling]:
    """The ways to write two cuts' figures: side by side, the words once where both have the same."""
    alike = len({tuple((row.to, row.words) for row in cut.rows) for cut in cuts}) == 1
    for step in _STEPS:
        size = max(sizes.MARK_TWO * step, sizes.LEAST)
        for words in (sizes.BODY, sizes.LEAST):
            if alike:
                yield partial(_write_alike, subject, cuts, size, words)
            yield partial(_write_columns, subject, cuts, size, words)
    yield partial(_write_rows, cuts)


def _write_alike(subject: Subject, cuts: Sequence[MarkedCut], size: float, words: float, writer: Writer) -> None:
    wide = (writer.room - _PICTURE - _BESIDE) / len(cuts)
    _names(writer, [cut.name for cut in cuts], wide, words)
    for rows in zip(*(cut.rows for cut in cuts), strict=True):
        _say(writer, rows[0], words)
        top = writer.y
        for number, row in enumerate(rows):
            cell = Writer(width=wide - _APART + 2 * PAD, leading=writer.leading, y=top)
            _one_of_two(subject, cell, row, size, pictured=False)
            _take(writer, cell, number * wide)
            writer.y = min(writer.y, cell.y)
        high = min(max(size, _LEAST_PICTURE + _HEAVY), _PICTURE_HIGH)
        writer.marks += _picture(subject, rows[0], writer.width - PAD - _PICTURE, top - high, _PICTURE, high)
        writer.y = min(writer.y, top - high - 1.4) - 0.4
    _checks(writer, cuts, wide)


def _names(writer: Writer, names: Sequence[str], wide: float, words: float) -> None:
    lowest = top = writer.y
    for number, name in enumerate(names):
        cell = Writer(width=wide - 1.0 + 2 * PAD, leading=writer.leading, y=top)
        cell.text(name, words, bold=True)
        _take(writer, cell, number * wide)
        lowest = min(lowest, cell.y)
    writer.y = lowest - 0.4


def _checks(writer: Writer, cuts: Sequence[MarkedCut], wide: float) -> None:
    """The other pairs, in brackets, and under both what else is marked."""
    lowest = top = writer.y
    for number, cut in enumerate(cuts):
        cell = Writer(width=wide - 1.0 + 2 * PAD, leading=writer.leading, y=top)
        if cut.check:
            cell.text(cut.check, sizes.LEAST)
        _take(writer, cell, number * wide)
        lowest = min(lowest, cell.y)
    writer.y = lowest


def _write_columns(subject: Subject, cuts: Sequence[MarkedCut], size: float, words: float, writer: Writer) -> None:
    wide = writer.room / len(cuts)
    lowest = top = writer.y
    for number, cut in enumerate(cuts):
        cell = Writer(width=wide - _APART + 2 * PAD, leading=writer.leading, y=top)
        cell.text(cut.name, words, bold=True)
        for row in cut.rows:
            _one_of_two(subject, cell, row, size, pictured=True)
            _say(cell, row, words)
            cell.gap(0.6)
        if cut.check:
            cell.text(cut.check, sizes.LEAST)
        _take(writer, cell, number * wide)
        lowest = min(lowest, cell.y)
    writer.y = lowest


def _write_rows(cuts: Sequence[MarkedCut], writer: Writer) -> None:
    """The tightest: each cut in running words."""
    for cut in cuts:
        rows = ", ".join(f"{row.figure} {f'{row.to_said} ' if row.to_said else ''}{row.words}" for row in cut.rows)
        writer.text(f"{rows} {cut.check}", sizes.LEAST, label=f"{cut.name}:" if cut.name else "")
