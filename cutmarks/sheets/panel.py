"""Panels: framed words of a given width, measured before they are put on a sheet."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import TypeVar

from cutmarks.geometry.frames import Placement, Point
from cutmarks.geometry.frames import Sheet as SheetFrame
from cutmarks.marks.lettering import fitting, width, wrapped
from cutmarks.marks.model import Mark, Role, Tone, Words, block, moved, rectangle
from cutmarks.sheets.setting import TextSetting

T = TypeVar("T")
Which = Sequence[int] | None
"""Which of a panel's items stand in it, counted from 0; None for all."""

PAD = 2.6
TITLE = 2.6
FIGURE = 7.0
"""The figures to mark from, mm high: read at arm's length."""
LEAST_FIGURE = 5.0
WORDS = 2.9
SMALL = 2.3
LEAST_COLUMN = 70.0
"""A column of a panel is at least this wide, mm."""
LEADING = 1.65
"""From one baseline to the next, in heights of a capital."""


@dataclass(frozen=True, slots=True)
class Panel:
    """A rectangle of words; its marks have their origin at its top-left corner, so that they lie at y <= 0."""

    width: float
    height: float
    marks: tuple[Mark[SheetFrame], ...]
    framed: bool = False

    def at(self, left: float, top: float, height: float = 0.0) -> Iterator[Mark[SheetFrame]]:
        """Its marks with the top-left corner at (left, top) on the sheet, its frame at least `height` mm high."""
        shift: Placement[SheetFrame, SheetFrame] = Placement.shift(left, top)
        yield from (moved(mark, shift) for mark in self.marks)
        if self.framed:
            high = max(self.height, height)
            yield rectangle(left, top - high, self.width, high, Role.BOX)


@dataclass(slots=True, kw_only=True)
class Writer(TextSetting):
    """Sets lines one under the other in a panel `width` mm wide."""

    width: float
    leading: float = LEADING

    @property
    def room(self) -> float:
        """How long a line may be, mm."""
        return self.width - 2 * PAD

    def text(self, text: str, height: float = WORDS, bold: bool = False, indent: float = 0.0, label: str = "") -> None:
        """Words wrapped to the panel; `label` stands in bold before the first line, `indent` wide."""
        self.lines(text, PAD + indent, height, self.room - indent, bold=bold, label=label, label_x=PAD)

    def columns(self, items: Sequence[T], write: Callable[[Writer, T], None]) -> None:
        """Each item written in its turn: two side by side where the panel is wide enough, else one under the other."""
        abreast = 2 if len(items) > 1 and self.width >= 2 * LEAST_COLUMN else 1
        for first in range(0, len(items), abreast):
            if first:
                self.gap(1.5)
            row = [Writer(width=self.width / abreast, y=self.y) for _ in range(abreast)]
            for number, (column, item) in enumerate(zip(row, items[first : first + abreast], strict=False)):
                write(column, item)
                shift: Placement[SheetFrame, SheetFrame] = Placement.shift(number * column.width, 0.0)
                self.marks += [moved(mark, shift) for mark in column.marks]
            self.y = min(column.y for column in row)

    def title(self, text: str) -> None:
        """The panel's title: white on a black band."""
        high = TITLE + 2.4
        self.marks.append(block(0.0, self.y - high, self.width, high))
        size = fitting(text, TITLE, self.room, bold=True)
        self.marks.append(Words(text, Point(PAD, self.y - high + 1.3), size, bold=True, tone=Tone.WHITE))
        self.y -= high + 1.8

    def figure(self, figure: str, words: str, column: float, height: float) -> None:
        """A big figure with its words behind it, or under it where there is no room for both.

        `column` is the width of the widest figure: figures end in one line.
        """
        self.y -= height
        room = self.room - column - 3.0
        behind = wrapped(words, WORDS, room) if room > 0 else []
        if not behind or len(behind) > 2:
            size = fitting(figure, height, self.room, bold=True)
            self.marks.append(Words(figure, Point(PAD, self.y), size, bold=True))
            self.y -= 1.6
            self.text(words)
            self.y -= 0.8
            return
        self.put(figure, PAD + column, height, "end", bold=True)
        lift = (height - (len(behind) - 1) * WORDS * LEADING - WORDS) / 2
        for number, one in enumerate(behind):
            y = self.y + lift + (len(behind) - 1 - number) * WORDS * LEADING
            self.marks.append(Words(one, Point(PAD + column + 3.0, y), WORDS))
        self.y -= 2.6

    def panel(self) -> Panel:
        """The finished panel with its frame."""
        return Panel(self.width, -self.y + PAD * 0.6, tuple(self.marks), framed=True)


def widest(figures: list[str], height: float) -> float:
    """The width of the widest of some figures, mm."""
    return max((width(figure, height, bold=True) for figure in figures), default=0.0)


def chosen(items: Sequence[T], which: Which) -> Sequence[T]:
    """The items that stand in a panel."""
    return items if which is None else [items[index] for index in which]
