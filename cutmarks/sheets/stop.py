"""STOP: the drawing is crossed out, and across it stands why, and what has to be changed; there is no figure.

The reasons stand on white: a page that is half black takes ink, and is pale in a bad copy.
"""

from __future__ import annotations

from collections.abc import Iterator

from cutmarks.geometry.edges import Bounds
from cutmarks.geometry.frames import Placement, Point
from cutmarks.geometry.frames import Sheet as SheetFrame
from cutmarks.marks import sizes
from cutmarks.marks.model import Mark, Role, Tone, Words, block, line, moved
from cutmarks.marks.template import Subject
from cutmarks.saying.findings import STOP, waiting_for
from cutmarks.sheets.more_to_check import MoreToCheck
from cutmarks.sheets.setting import TextSetting

NOT_TO_BE_CUT = "Do not cut this piece. Change the job file, or write into it why this is accepted; then print anew."
_PAD = 4.0
_LEADING = 1.5
_BAND = sizes.STOP + 6.0
"""Height of the black band with STOP in it, mm."""
_FRAME = 1.4
"""Thickness of the frame round the reasons, mm."""


def stop_marks(shown: Subject, view: Bounds, more: MoreToCheck) -> Iterator[Mark[SheetFrame]]:
    """The cross from corner to corner of the drawing; over its middle STOP white on black, and the reasons under it."""
    yield line(view.min_x, view.min_y, view.max_x, view.max_y, Role.STOPPED)
    yield line(view.min_x, view.max_y, view.max_x, view.min_y, Role.STOPPED)
    words = _words(shown, view, more)
    high, wide = _BAND - words.y + _PAD, view.width - 2.0
    left, foot = view.min_x + 1.0, (view.min_y + view.max_y) / 2 - high / 2
    yield block(left, foot, wide, high, Tone.WHITE)
    yield block(left, foot + high - _BAND, wide, _BAND)
    right = left + wide - _FRAME
    for x, y, w, h in (
        (left, foot, _FRAME, high - _BAND),
        (right, foot, _FRAME, high - _BAND),
        (left + _FRAME, foot, wide - 2 * _FRAME, _FRAME),
    ):
        yield block(x, y, w, h)
    yield Words(
        STOP, Point(left + _PAD, foot + high - _BAND / 2 - sizes.STOP / 2), sizes.STOP, bold=True, tone=Tone.WHITE
    )
    shift: Placement[SheetFrame, SheetFrame] = Placement.shift(left, foot + high - _BAND)
    yield from (moved(mark, shift) for mark in words.marks)


def _words(shown: Subject, view: Bounds, more: MoreToCheck) -> TextSetting:
    """The sentences, and what to do, as large as the drawing is high for them."""
    sentences = [one.text for one in waiting_for(shown.plan, shown.piece)]
    for height in (sizes.capitals(14.0), sizes.BODY, sizes.LEAST):
        words = TextSetting(leading=_LEADING, y=-_PAD)
        for sentence in (*sentences, NOT_TO_BE_CUT, *more.sentences):
            words.lines(sentence, _PAD, height, view.width - 2.0 - 2 * _PAD, bold=True)
            words.gap(0.8)
        if _BAND - words.y + _PAD <= view.height - 2.0:
            break
    return words
