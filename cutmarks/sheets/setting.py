"""Running words set line under line: the one place where a text becomes marks on a sheet.

The lists that flow over pages, panels, bands and the test page are all set by it; each has its own height, room and
leading, and none breaks a line by itself.
"""

from __future__ import annotations

from msgspec import Struct, field

from cutmarks.geometry.frames import Point
from cutmarks.geometry.frames import Sheet as SheetFrame
from cutmarks.marks.lettering import wrapped
from cutmarks.marks.model import Mark, Tone, Words, WordsAnchor


class TextSetting(Struct, kw_only=True):
    """Lines one under the other, from the top down.

    leading  from one baseline to the next, in heights of a capital.
    y        how far down the last line reaches, leading included, mm.
    """

    leading: float
    y: float = 0.0
    marks: list[Mark[SheetFrame]] = field(default_factory=list)

    def gap(self, height: float) -> None:
        """Leaves `height` mm blank."""
        self.y -= height

    def put(
        self,
        text: str,
        x: float,
        height: float,
        anchor: WordsAnchor = "start",
        bold: bool = False,
        tone: Tone = Tone.BLACK,
    ) -> None:
        """Words on the line that is being written, without going on to the next."""
        self.marks.append(Words(text, Point(x, self.y), height, anchor, bold, tone=tone))

    def line(
        self,
        text: str,
        x: float,
        height: float,
        anchor: WordsAnchor = "start",
        bold: bool = False,
        tone: Tone = Tone.BLACK,
        *,
        size: float | None = None,
        label: str = "",
        label_x: float = 0.0,
    ) -> None:
        """One line, `height` mm high; its capitals are `size` where that is less. `label` stands in bold before it."""
        self.y -= height
        if label:
            self.put(label, label_x, height, bold=True)
        self.put(text, x, height if size is None else size, anchor, bold, tone)
        self.y -= height * (self.leading - 1.0)

    def lines(
        self,
        text: str,
        x: float,
        height: float,
        room: float,
        anchor: WordsAnchor = "start",
        bold: bool = False,
        tone: Tone = Tone.BLACK,
        *,
        label: str = "",
        label_x: float = 0.0,
    ) -> None:
        """A text in lines no longer than `room` mm; `label` stands in bold before the first."""
        for number, one in enumerate(wrapped(text, height, room, bold)):
            self.line(one, x, height, anchor, bold, tone, label="" if number else label, label_x=label_x)
