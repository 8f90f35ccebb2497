"""The panels of a template: framed words in a box of its own, which they never leave.

What a panel has to say is tried from the roomiest setting to the tightest: the first that fits its box is taken. No
setting is smaller than `sizes.LEAST`, and none leaves out a figure.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence

from cutmarks.geometry.edges import Bounds
from cutmarks.geometry.frames import Placement, Point
from cutmarks.geometry.frames import Sheet as SheetFrame
from cutmarks.marks import sizes
from cutmarks.marks.lettering import width, wrapped
from cutmarks.marks.model import Mark, Role, Tone, Words, block, moved, rectangle
from cutmarks.sheets.setting import TextSetting

PAD = 2.0
"""From a panel's frame to its words, mm."""
TITLE = 5.4
"""Height of the black band with a panel's title."""
LEADING, TIGHT = 1.5, 1.4
"""From one baseline to the next, in heights of a capital; the least at which no letter lies on another."""
_FRAME = 0.3
"""A panel's frame lies so far inside its box."""


class Writer(TextSetting, kw_only=True):
    """Sets lines one under the other in a panel `width` mm wide.

    fits  nothing that was written is wider than the panel.
    """

    width: float
    leading: float = LEADING
    fits: bool = True

    @property
    def room(self) -> float:
        """How long a line may be, mm."""
        return self.width - 2 * PAD

    def text(self, text: str, height: float = sizes.BODY, bold: bool = False, label: str = "") -> None:
        """Words wrapped to the panel; `label` stands in bold before them."""
        indent = width(f"{label} ", height, bold=True) if label else 0.0
        self.lines(text, PAD + indent, height, self.room - indent, bold=bold, label=label, label_x=PAD)


Filling = Callable[[Writer], None]
"""One way to write what a panel has to say."""


def panel(box: Bounds, titles: Sequence[str], ways: Iterable[Filling]) -> Iterator[Mark[SheetFrame]]:
    """The panel in its box, with the first of the titles and of the ways that fit it; the last where none does."""
    writer = Writer(width=box.width)
    for way in ways:
        writer = Writer(width=box.width, y=-TITLE - 1.4)
        way(writer)
        if writer.fits and -writer.y <= box.height - 0.4:
            break
    shift: Placement[SheetFrame, SheetFrame] = Placement.shift(box.min_x, box.max_y)
    yield from _frame(box, titles)
    yield from (moved(mark, shift) for mark in writer.marks)


def _frame(box: Bounds, titles: Sequence[str]) -> Iterator[Mark[SheetFrame]]:
    """A panel's frame, and its title white on black."""
    room = box.width - 2 * PAD
    title = next((one for one in titles if width(one, sizes.LEAST, bold=True) <= room), titles[-1])
    yield rectangle(box.min_x + _FRAME, box.min_y + _FRAME, box.width - 2 * _FRAME, box.height - 2 * _FRAME, Role.BOX)
    yield block(box.min_x + _FRAME, box.max_y - TITLE, box.width - 2 * _FRAME, TITLE - _FRAME)
    size = fit(title, sizes.BODY, sizes.LEAST, room)
    at: Point[SheetFrame] = Point(box.min_x + PAD, box.max_y - TITLE / 2 - size / 2)
    yield Words(title, at, size, bold=True, tone=Tone.WHITE)


def fit(text: str, height: float, least: float, room: float, bold: bool = True) -> float:
    """The height, from `height` down to `least`, at which the words are no longer than `room` mm."""
    long = width(text, height, bold)
    return height if long <= room else max(least, height * room / long)


def lines_of(text: str, height: float, room: float, bold: bool = False) -> int:
    """How many lines the words take."""
    return len(wrapped(text, height, room, bold))
