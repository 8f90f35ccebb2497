"""What CUT has to say and its panel has no room for: a box in the drawing, which gives way.

A sentence that asks for a look before the tile is cut never goes to another page.
"""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from cutmarks.geometry.edges import Bounds
from cutmarks.geometry.frames import F
from cutmarks.geometry.frames import Sheet as SheetFrame
from cutmarks.marks import sizes
from cutmarks.marks.model import Mark
from cutmarks.marks.room import Room
from cutmarks.sheets.panel import TITLE, Writer, panel

TITLES = ("4 CUT, more to check", "4 CUT, more")
_WIDTHS = (64.0, 82.0, 104.0, 130.0, 50.0, 160.0, 40.0)
_CLEAR = 2.4
"""Its frame keeps so far off every line and word, mm."""
_STEP = 4.0


class MoreToCheck(Struct, frozen=True):
    """The sentences that need a box in the drawing; () where the panel holds all."""

    sentences: tuple[str, ...]

    def place(self, room: Room[F]) -> Bounds | None:
        """A place for the box that nothing drawn comes near, from the top of the drawing down; it is taken."""
        for wide in _WIDTHS:
            high = self._height(wide)
            for box in _places(room.view, wide, high):
                if room.free(box, _CLEAR):
                    room.take_box(box)
                    return box
        return None

    def marks(self, box: Bounds) -> Iterator[Mark[SheetFrame]]:
        """The box with its sentences."""
        return panel(box, TITLES, [self._write])

    def _height(self, wide: float) -> float:
        writer = Writer(width=wide)
        self._write(writer)
        return TITLE + 1.4 - writer.y + 0.6

    def _write(self, writer: Writer) -> None:
        for sentence in self.sentences:
            writer.text(sentence, sizes.LEAST)


def _places(view: Bounds, wide: float, high: float) -> Iterator[Bounds]:
    """From the top down, in each row the two ends first."""
    across = view.width - wide
    if across < 0.0 or high > view.height:
        return
    lefts = sorted((_STEP * step for step in range(int(across / _STEP) + 1)), key=lambda off: min(off, across - off))
    for row in range(int((view.height - high) / _STEP) + 1):
        top = view.max_y - row * _STEP
        for left in (*lefts, across):
            yield Bounds(view.min_x + left, top - high, view.min_x + left + wide, top)
