"""STOP: the drawing is crossed out, and across it stands why, and what has to be changed; there is no figure."""

from __future__ import annotations

from collections.abc import Iterator

from cutmarks.geometry.edges import Bounds
from cutmarks.geometry.frames import Placement
from cutmarks.geometry.frames import Sheet as SheetFrame
from cutmarks.marks import sizes
from cutmarks.marks.model import Mark, Role, Tone, block, line, moved
from cutmarks.marks.template import Subject
from cutmarks.saying.findings import STOP, waiting_for
from cutmarks.sheets.setting import TextSetting

NOT_TO_BE_CUT = "Do not cut this piece: change the job, or accept it there with a reason"
_PAD = 4.0
_LEADING = 1.5


def stop_marks(shown: Subject, view: Bounds) -> Iterator[Mark[SheetFrame]]:
    """The cross from corner to corner of the drawing, and over its middle the black block with the reasons."""
    yield line(view.min_x, view.min_y, view.max_x, view.max_y, Role.STOPPED)
    yield line(view.min_x, view.max_y, view.max_x, view.min_y, Role.STOPPED)
    words = _words(shown, view)
    high = -words.y + _PAD
    foot = (view.min_y + view.max_y) / 2 - high / 2
    yield block(view.min_x + 1.0, foot, view.width - 2.0, high)
    shift: Placement[SheetFrame, SheetFrame] = Placement.shift(view.min_x + 1.0, foot + high)
    yield from (moved(mark, shift) for mark in words.marks)


def _words(shown: Subject, view: Bounds) -> TextSetting:
    """STOP, the sentences, and what to do, as large as the drawing is high for them."""
    sentences = [one.text for one in waiting_for(shown.plan, shown.piece)]
    for height in (sizes.capitals(14.0), sizes.BODY, sizes.LEAST):
        words = TextSetting(leading=_LEADING, y=-_PAD)
        words.line(STOP, _PAD, sizes.STOP, bold=True, tone=Tone.WHITE)
        words.gap(-sizes.STOP * (_LEADING - 1.0) + height)
        for sentence in (*sentences, NOT_TO_BE_CUT):
            words.lines(sentence, _PAD, height, view.width - 2.0 - 2 * _PAD, bold=True, tone=Tone.WHITE)
            words.gap(0.8)
        if -words.y + _PAD <= view.height - 2.0:
            break
    return words
