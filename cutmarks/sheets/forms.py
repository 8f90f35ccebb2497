"""Forms to write in by hand: lines behind keys, and ruled tables with small words in their cells."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec import Struct

from cutmarks.geometry.frames import Point
from cutmarks.geometry.frames import Sheet as SheetFrame
from cutmarks.marks.lettering import width as words_width
from cutmarks.marks.model import Mark, Role, Words, line, rectangle
from cutmarks.sheets.flow import SMALL, Block

ROW = 9.0
"""Height of a row to write in by hand, mm."""
HINT = SMALL
"""Height of capitals of the small words in a cell."""
LABEL = SMALL


class Field(Struct, frozen=True):
    """One column to write in: its title, its share of the width, and small words in each cell.

    hint  at the right of the cell, each on its own line; `before` at its left, in front of what is written.
    """

    title: str
    share: float
    hint: tuple[str, ...] = ()
    before: str = ""


def label(text: str, note: str) -> Block:
    """A key of the job file in bold above what belongs to it, a hint behind it."""
    height = SMALL + 3.6
    marks: list[Mark[SheetFrame]] = [Words(text, Point(0.0, -height + 1.2), LABEL, bold=True)]
    if note:
        marks.append(Words(note, Point(words_width(text, LABEL, True) + 3.0, -height + 1.2), HINT))
    return Block(height, tuple(marks))


def line_of(fields: Sequence[tuple[str, float, str]], room: float) -> Block:
    """Keys in one row, each with a line to write on; a hint stands at the beginning of the line."""
    height = ROW * 0.95
    base = -height + 1.6
    marks: list[Mark[SheetFrame]] = []
    x = 0.0
    for key, share, hint in fields:
        end = x + share * room
        marks.append(Words(key, Point(x, base), LABEL, bold=True))
        start = x + words_width(key, LABEL, True) + 2.0
        if hint:
            marks.append(Words(hint, Point(start, base), LABEL))
            start += words_width(hint, LABEL) + 2.0
        if "/" not in hint:
            marks.append(line(start, base - 0.6, end - 3.0, base - 0.6, Role.BOX))
        x = end
    return Block(height, tuple(marks))


def table(fields: Sequence[Field], rows: int, room: float) -> Block:
    """A ruled table to write in, every row the same."""
    return ruled(fields, [[field.hint for field in fields]] * rows, room, ROW)


def ruled(
    fields: Sequence[Field],
    hints: Sequence[Sequence[tuple[str, ...]]],
    room: float,
    row_height: float,
    firsts: Sequence[str] = (),
) -> Block:
    """A ruled table with its own small words in each cell; `firsts` stand in bold in the first column."""
    unit = room / sum(field.share for field in fields)
    head = HINT + 2.2
    height = head + row_height * len(hints)
    marks: list[Mark[SheetFrame]] = [rectangle(0.0, -height, room, height, Role.BOX)]
    x = 0.0
    for number, field in enumerate(fields):
        if number:
            marks.append(line(x, 0.0, x, -height, Role.GRID))
        marks.append(Words(field.title, Point(x + 1.0, -head + 1.0), HINT, bold=True))
        right = x + field.share * unit
        for row, cells in enumerate(hints):
            bottom = -head - row_height * (row + 1)
            marks += _cell(field, cells[number], x, right, bottom, row_height)
        x = right
    for row, first in enumerate(firsts):
        marks.append(Words(first, Point(1.0, -head - row_height * (row + 0.5) - LABEL / 2), LABEL, bold=True))
    marks += [
        line(0.0, -head - row_height * row, room, -head - row_height * row, Role.BOX) for row in range(len(hints))
    ]
    return Block(height + 0.6, tuple(marks))


def _cell(
    field: Field, hint: Sequence[str], left: float, right: float, bottom: float, row_height: float
) -> Iterator[Mark[SheetFrame]]:
    if field.before:
        yield Words(field.before, Point(left + 1.0, bottom + 1.1), HINT)
    if tuple(hint) == ("x",):
        yield Words("x", Point((left + right) / 2, bottom + row_height / 2 - HINT / 2), HINT, "middle")
        return
    step = row_height / 2 if row_height > ROW else HINT * 1.6
    for index, text in enumerate(reversed(hint)):
        y = bottom + 1.1 + index * step
        yield Words(text, Point(right - 1.0, y), HINT, "end")
        if field.title in ("across", "up", "in"):
            room = right - left - words_width(text, HINT)
            yield Words("to", Point(left + room * 0.46, y), HINT, "middle")
        elif len(hint) > 1 and row_height > ROW and index == 0:
            yield Words("at", Point(left + 1.0, y), HINT)
