"""3 MARK: the figures to mark from, as large as their box takes; the other pair, to check with, in brackets.

Figures of the tile never stand in one list with those of the wall, which contain the joint. A figure to a middle and
one to a cut are told apart by a sign behind them and by words: a core is started on the one alone.
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
from cutmarks.saying.measures import figures_shown
from cutmarks.sheets.panel import PAD, Filling, Writer, fit, panel
from cutmarks.sides import Side

FROM = "from the "
STOPPED = "STOP: nothing is marked until this is settled"
_PICTURE = 9.0
"""The longer side of the small picture of the tile, mm."""
_BESIDE, _ROW_GAP = 2.0, 2.2
"""From a figure to the words beside it, and from one figure to the next, mm."""
_LEAST_WORDS = {sizes.BODY: 20.5, sizes.LEAST: 16.0}
"""How wide words beside a figure are at least, by their height, mm."""
_NARROWED = 0.65
"""A long figure, from one place to another, may be so much smaller than the other one."""
_PICTURED = 4.0
"""Beside a smaller figure it would be no picture."""
_HEAVY = 1.4
"""How thick its edge is that is measured from."""
_SIGN, _LEAST_SIGN, _SIGN_GAP = 0.5, 2.8, 1.2
"""The sign behind a figure: its size as a share of the figure's, at least so many mm; from the figure to it, mm."""
_STEPS = (1.0, 0.94, 0.88, 0.82, 0.76, 0.7, 0.64, 0.58, 0.52, 0.46, 0.4, 0.34, 0.3, 0.27)
"""Of the full size: what the figures are tried at, from the largest down."""

MarkedTo = Literal["centre", "cut"]
"""What a figure goes to: a middle, which a core is started on, or where the tile is cut."""
TO_SAID: Mapping[MarkedTo, str] = {"centre": "to centre", "cut": "to the cut"}

Arrangement = Literal["stacked", "side by side", "beside"]
"""One under the other, each with its words under it; in columns; one under the other with the words beside them."""


class MarkedFigure(Struct, frozen=True):
    """One figure, what it goes to, the words of what it is from, and the side that it is measured from, if any.

    to_said  what it goes to, in words; "" where the panel's title says it.
    """

    figure: str
    to: MarkedTo
    words: str
    side: Side | None
    to_said: str = ""


class MarkedCut(Struct, frozen=True):
    """All that is marked of one cut: its name where the tile has several, its rows, and what to check with."""

    name: str
    rows: tuple[MarkedFigure, ...]
    check: str


def mark_panel(subject: Subject, box: Bounds) -> Iterator[Mark[SheetFrame]]:
    """3 MARK in its box: each cut's figures in its turn; of a piece that is stopped, that nothing is marked."""
    several = len(subject.cuts) + len(subject.corners) > 1
    titles = ("3 MARK on the tile", "3 MARK")
    if subject.stopped:
        yield from panel(box, titles, [_stopped])
        return
    cuts = [_marked(subject, cut) for cut in subject.cuts]
    cuts += [_marked_corner(subject, corner) for corner in subject.corners]
    every = [row for cut in cuts for row in cut.rows]
    if not several and {row.to for row in every} == {"centre"}:
        titles = (f"3 MARK on the tile, {TO_SAID['centre']}", f"3 MARK {TO_SAID['centre']}")
        cuts = [replace(cut, rows=tuple(replace(row, to_said="") for row in cut.rows)) for cut in cuts]
    if several and all(row.words.startswith(FROM) for row in every) and len({row.to for row in every}) == 1:
        # Said once, in the title: the words under two columns of figures have to be short.
        titles = (f"3 MARK {TO_SAID[every[0].to]}, {FROM.strip()}", f"3 MARK {TO_SAID[every[0].to]}")
        cuts = [replace(cut, rows=tuple(map(_shortened, cut.rows))) for cut in cuts]
    yield from panel(box, titles, _several(subject, cuts) if several else _one(subject, cuts[0]))


def _shortened(row: MarkedFigure) -> MarkedFigure:
    return replace(row, words=row.words.removeprefix(FROM), to_said="")


def _marked(subject: Subject, cut: Cut) -> MarkedCut:
    several = len(subject.piece.cuts) > 1
    rows = tuple(_marked_figure(subject, row) for row in marked(subject, cut))
    opposite = opposite_figures(subject, cut)
    check = f"({' and '.join(opposite)})" if opposite else ""
    return MarkedCut(cut.opening.name if several else "", rows, check)


def _marked_figure(subject: Subject, row: MarkRow) -> MarkedFigure:
    to: MarkedTo = "centre" if row.measure.what == "centre" else "cut"
    words = row.words.removeprefix(f"{TO_SAID[to]}, ")
    figure = figures_shown(row.measure, subject.piece, subject.style)
    # "in from the corner that goes" and "deep" say it by themselves.
    to_said = TO_SAID[to] if words.startswith(FROM) else ""
    return MarkedFigure(figure, to, words, _side_said(subject, words), to_said)


def _marked_corner(subject: Subject, corner: InsideCorner) -> MarkedCut:
    rows = tuple(
        MarkedFigure(figure, "cut", words, side, TO_SAID["cut"]) for side, figure, words in corner_rows(subject, corner)
    )
    return MarkedCut(corner_name(subject.piece, corner), rows, f"({' and '.join(corner_checks(subject, corner))})")


def _side_said(subject: Subject, words: str) -> Side | None:
    """The side whose name ends the words."""
    return next((side for side, name in subject.names.items() if words.endswith(name)), None)


def _stopped(writer: Writer) -> None:
    """No figure."""
    writer.text(STOPPED, sizes.READ, bold=True)


def _one(subject: Subject, cut: MarkedCut) -> Iterator[Filling]:
    """The ways to write one cut's figures: the largest first, one under the other before side by side.

    One under the other the small picture of the tile has room.
    """
    arrangements: tuple[Arrangement, ...] = ("stacked", "beside", "side by side")
    for step in _STEPS:
        size = max(sizes.MARK_ONE * step, sizes.BODY)
        for some in (arrangements[:2], arrangements[2:]):
            for words, arrangement in product((sizes.BODY, sizes.LEAST), some):
                yield partial(_write_one, subject, cut, size, words, arrangement)
    yield partial(_write_one, subject, cut, sizes.LEAST, sizes.LEAST, "stacked")


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
        writer.text(f"check {cut.check} opposite", words)


def _grid(subject: Subject, rows: Sequence[Sequence[MarkedFigure]], size: float, words: float, writer: Writer) -> None:
    """Figures in rows and columns, each with its picture beside it and its words under it."""
    for row in rows:
        wide = writer.room / max(len(row), 1)
        top, lowest = writer.y, writer.y
        for number, one in enumerate(row):
            gap = 3.0 if len(row) > 1 else 0.0
            cell = Writer(width=wide - gap + 2 * PAD, leading=writer.leading, y=top)
            _figure(subject, cell, one, size)
            _say(cell, one, words)
            cell.gap(1.0)
            _take(writer, cell, number * wide)
            lowest = min(lowest, cell.y)
        writer.y = lowest


def _with_words_beside(subject: Subject, writer: Writer, row: MarkedFigure, size: float, words: float) -> None:
    """A figure, its words in the room beside it, and behind them the picture of the tile where that leaves room."""
    top = writer.y
    figure = width(row.figure, size, bold=True)
    long = figure + _SIGN_GAP + _sign_wide(size)
    room = writer.room - long - _BESIDE
    is_pictured = row.side is not None and room - _PICTURE - _BESIDE >= _LEAST_WORDS[words]
    cell = Writer(width=(room - _PICTURE - _BESIDE if is_pictured else room) + 2 * PAD, leading=1.35)
    writer.fits &= room >= _LEAST_WORDS[words]
    if writer.fits:
        _say(cell, row, words)
    high = max(size, -cell.y)
    writer.marks.append(Words(row.figure, Point(PAD, top - high / 2 - size / 2), size, bold=True))
    writer.marks += _sign(row.to, PAD + figure + _SIGN_GAP, top - high / 2, size)
    shift: Placement[SheetFrame, SheetFrame] = Placement.shift(long + _BESIDE, top - (high + cell.y) / 2)
    writer.marks += [moved(mark, shift) for mark in cell.marks]
    if is_pictured and row.side is not None:
        left = writer.width - PAD - _PICTURE
        writer.marks += [*_picture(subject, row.side, left, top - high / 2 - size / 2, size)]
    writer.y = top - high - _ROW_GAP


def _take(writer: Writer, cell: Writer, left: float) -> None:
    """What was written in a cell, `left` mm from the panel's own side."""
    shift: Placement[SheetFrame, SheetFrame] = Placement.shift(left, 0.0)
    writer.marks += [moved(mark, shift) for mark in cell.marks]
    writer.fits &= cell.fits


def _figure(subject: Subject, writer: Writer, row: MarkedFigure, size: float) -> None:
    """A figure with, where there is room beside it, a small picture of the tile whose edge is heavy."""
    size = fit(row.figure, size, size * _NARROWED, writer.room - _SIGN_GAP - _sign_wide(size))
    writer.y -= size
    figure = width(row.figure, size, bold=True)
    long = figure + _SIGN_GAP + _sign_wide(size)
    writer.fits &= long <= writer.room
    writer.put(row.figure, PAD, size, bold=True)
    writer.marks += _sign(row.to, PAD + figure + _SIGN_GAP, writer.y + size / 2, size)
    if row.side is not None and size >= _PICTURED and long + _PICTURE + 3.0 <= writer.room:
        writer.marks += [*_picture(subject, row.side, PAD + long + 2.5, writer.y, size)]
    writer.y -= 1.4


def _say(cell: Writer, row: MarkedFigure, words: float) -> None:
    """What a figure goes to, and what it is from."""
    if row.to_said:
        cell.text(row.to_said, words, bold=True)
    if row.words:
        cell.text(row.words, words)


def _sign_wide(size: float) -> float:
    """How wide and how high the sign behind a figure of that height is, mm."""
    return max(size * _SIGN, _LEAST_SIGN)


def _sign(to: MarkedTo, left: float, middle: float, size: float) -> Iterator[Mark[SheetFrame]]:
    """Behind a figure what it goes to: the ring with its cross, as a middle is drawn, or an arrow to a cut."""
    wide = _sign_wide(size)
    half, right = wide / 2, left + wide
    if to == "centre":
        at: Point[SheetFrame] = Point(left + half, middle)
        yield CircleMark(at, half * 0.72, Role.BOX)
        yield line(left, middle, right, middle, Role.BOX)
        yield line(at.x, middle - half, at.x, middle + half, Role.BOX)
        return
    bar, head = right - 0.35, min(wide * 0.5, 2.6)
    yield block(bar - 0.35, middle - half, 0.7, wide)
    yield line(left, middle, bar - head, middle, Role.BOX)
    yield solid(((bar - 0.35, middle), (bar - head, middle + head * 0.5), (bar - head, middle - head * 0.5)))


def _picture(subject: Subject, side: Side, left: float, foot: float, high: float) -> Iterator[Mark[SheetFrame]]:
    """The tile's outline from `left` on beside a figure, with one of its edges drawn heavy; no higher than that."""
    tile = subject.piece.piece.tile
    scale = min(_PICTURE / tile.w, (high - _HEAVY) / tile.h)
    w, h = max(tile.w * scale, _HEAVY * 2), max(tile.h * scale, _HEAVY * 2)
    y = foot + (high - h) / 2
    yield rectangle(left, y, w, h, Role.BOX)
    x0, y0, x1, y1 = Bounds(left, y, left + w, y + h).with_side(
        side.opposite, Bounds(left, y, left + w, y + h).at(side)
    )
    half = _HEAVY / 2
    yield block(x0 - half, y0 - half, x1 - x0 + _HEAVY, y1 - y0 + _HEAVY)


def _several(subject: Subject, cuts: Sequence[MarkedCut]) -> Iterator[Filling]:
    """The ways to write two cuts' figures: side by side, the words once where both have the same."""
    alike = len({tuple((row.to, row.words) for row in cut.rows) for cut in cuts}) == 1
    for step in _STEPS:
        size = max(sizes.MARK_TWO * step, sizes.LEAST)
        for words in (sizes.BODY, sizes.LEAST):
            if alike:
                yield partial(_write_alike, subject, cuts, size, words)
            yield partial(_write_columns, subject, cuts, size, words)
    yield partial(_write_rows, subject, cuts)


def _write_alike(subject: Subject, cuts: Sequence[MarkedCut], size: float, words: float, writer: Writer) -> None:
    wide = writer.room / len(cuts)
    _names(writer, [cut.name for cut in cuts], wide, words)
    for rows in zip(*(cut.rows for cut in cuts), strict=True):
        _say(writer, rows[0], words)
        top = writer.y
        for number, row in enumerate(rows):
            cell = Writer(width=wide - 1.0 + 2 * PAD, leading=writer.leading, y=top)
            _figure(subject, cell, row, size)
            _take(writer, cell, number * wide)
            writer.y = min(writer.y, cell.y)
        writer.gap(0.4)
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
        cell = Writer(width=wide - 1.0 + 2 * PAD, leading=writer.leading, y=top)
        cell.text(cut.name, words, bold=True)
        _grid(subject, [[row] for row in cut.rows], size, words, cell)
        if cut.check:
            cell.text(cut.check, sizes.LEAST)
        _take(writer, cell, number * wide)
        lowest = min(lowest, cell.y)
    writer.y = lowest


def _write_rows(subject: Subject, cuts: Sequence[MarkedCut], writer: Writer) -> None:
    """The tightest: each cut in running words."""
    del subject
    for cut in cuts:
        rows = ", ".join(f"{row.figure} {f'{row.to_said} ' if row.to_said else ''}{row.words}" for row in cut.rows)
        writer.text(f"{rows} {cut.check}", sizes.LEAST, label=f"{cut.name}:")
