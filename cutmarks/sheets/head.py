"""The head of a template: which tile, in words and in a small elevation, which face, and which way is up."""

from __future__ import annotations

import math
from collections.abc import Iterator

from cutmarks.geometry.frames import Page, Placement, Point
from cutmarks.geometry.frames import Sheet as SheetFrame
from cutmarks.marks.elevation import Thumbnails
from cutmarks.marks.joins import part_number
from cutmarks.marks.lettering import fitting, wrapped
from cutmarks.marks.model import Mark, Role, Tone, Words, block, line, moved, solid
from cutmarks.marks.template import Subject
from cutmarks.registering.paper import BAND, HEAD
from cutmarks.saying.edges import plumb_turn
from cutmarks.saying.findings import DAY_TWO, STOP, held_words
from cutmarks.sheets.panel import Panel
from cutmarks.sheets.setting import TextSetting

_NAME = 8.5
_IN = 2.0
"""Clear of the corner mark of the safe area."""
_PLACE = 2.9
_FACE = 7.5
_UP = 4.6
_SMALL = 2.2
_SEEN = 2.0
_MORE = 2.6
_STOP = 8.0
_JOINED = 3.2
_BAND_WORDS = 5.0
_NAME_SHARE = 0.44
"""Of the head's width for the name and the place in words."""
_PICTURE = (40.0, HEAD - 3.0)
_ARROW_COLUMN = 22.0
_SECOND, _SECOND_JOINED = 27.0, 18.0
"""What the word of the second arrow may take; of joined sheets their numbers stand beside it."""
_TURNED = 0.05
"""Degrees: a tile that is turned less stands upright."""


def head_panel(
    subject: Subject, width: float, thumbnails: Thumbnails, *, stop: str = "", read_first: str = ""
) -> Panel:
    """The head, `width` by HEAD mm; its origin at its top-left corner.

    `stop` is what must not be done, where nothing else of the sheet has room to say it: it stands black in place of
    the elevation. `read_first` are the numbers of the sheets that have to be read before this tile is cut.
    """
    marks: list[Mark[SheetFrame]] = [*_name(subject, width * _NAME_SHARE, read_first)]
    left = width * _NAME_SHARE + 2.0
    if stop:
        day_two = held_words(subject.plan, subject.piece) == DAY_TWO
        marks += _stop_block(DAY_TWO if day_two else STOP, stop, left)
    else:
        marks += _picture(subject, left, thumbnails)
    arrow_left = width - _ARROW_COLUMN
    face_middle = (left + _PICTURE[0] + arrow_left) / 2
    face, side = ("BACK", "the side that is glued") if subject.registration.back else ("FACE", "the side you see")
    between = arrow_left - left - _PICTURE[0] - 1.0
    size = fitting(face, _FACE, between, bold=True)
    marks.append(Words(face, Point(face_middle, -3.0 - _FACE), size, "middle", bold=True))
    turn = plumb_turn(subject.piece)
    joined = subject.registration.how == "joined"
    is_turned = abs(turn) > _TURNED
    if is_turned:
        marks += _plumb(subject, face_middle - (10.0 if joined else 0.0), turn, _SECOND_JOINED if joined else _SECOND)
    else:
        marks.append(Words(side, Point(face_middle, -14.5), fitting(side, _SMALL, between), "middle"))
    if joined:
        # Beside the PLUMB arrow where there is one, above and below its word.
        x, first, second, room = (
            (face_middle + 8.0, -16.5, -25.6, 17.0) if is_turned else (face_middle, -19.6, -24.6, min(30.0, between))
        )
        said = f"sheet {part_number(subject, subject.page)} of {subject.registration.pages}"
        marks.append(Words("JOINED", Point(x, first), _JOINED, "middle", bold=True))
        marks.append(Words(said, Point(x, second), fitting(said, _JOINED, room, bold=True), "middle", bold=True))
    marks += _up(subject, arrow_left + _ARROW_COLUMN / 2)
    marks.append(line(0.0, -HEAD + 0.5, width, -HEAD + 0.5, Role.BOX))
    return Panel(width, HEAD, tuple(marks))


def _picture(subject: Subject, left: float, thumbnails: Thumbnails) -> Iterator[Mark[SheetFrame]]:
    """The small elevation; beside the mirrored drawing of a template for the back it says how it is seen."""
    (wide, high), foot = _PICTURE, -HEAD + 1.5
    lift = 0.0
    if subject.registration.back:
        lift = _SEEN * 1.5
        yield Words("as you face it", Point(left + wide / 2, foot), _SEEN, "middle")
    shift: Placement[Page, SheetFrame] = Placement.shift(left, foot + lift)
    for mark in thumbnails.of(subject.face, wide, high - lift):
        yield moved(mark, shift)


def _stop_block(word: str, stop: str, left: float) -> Iterator[Mark[SheetFrame]]:
    """STOP, or DAY TWO, and in two lines what must not be done, white on black."""
    wide, high = _PICTURE
    yield block(left, -high - 1.0, wide, high)
    middle = left + wide / 2
    size = fitting(word, _STOP, wide - 4.0, bold=True)
    yield Words(word, Point(middle, -12.5), size, "middle", bold=True, tone=Tone.WHITE)
    words = TextSetting(leading=1.6, y=-18.0 + _PLACE)
    words.lines(stop, middle, _PLACE, wide - 4.0, "middle", bold=True, tone=Tone.WHITE)
    yield from words.marks


def back_band(width: float) -> Panel:
    """The black band under the head of a template for the back, `width` by BAND mm."""
    marks: list[Mark[SheetFrame]] = [block(0.0, -BAND + 1.0, width, BAND - 1.5)]
    said = "BACK \u2013 MIRRORED: lay it on the back of the tile"
    size = fitting(said, _BAND_WORDS, width - 2 * _BAND_WORDS, bold=True)
    marks.append(
        Words(said, Point(width / 2, -(BAND + 0.5 + size) / 2 + 0.5), size, "middle", bold=True, tone=Tone.WHITE)
    )
    return Panel(width, BAND, tuple(marks))


def _name(subject: Subject, room: float, read_first: str) -> Iterator[Mark[SheetFrame]]:
    name, room = subject.piece.name.upper(), room - _IN
    foot = 1.5
    if read_first:
        high = _MORE + 2.0
        yield block(_IN, -HEAD + foot, room, high)
        said = f"READ SHEET {read_first} FIRST"
        size = fitting(said, _MORE, room - 2.0, bold=True)
        yield Words(said, Point(_IN + room / 2, -HEAD + foot + 1.0), size, "middle", bold=True, tone=Tone.WHITE)
        foot += high + 0.5
    height = fitting(name, _NAME, room, bold=True)
    yield Words(name, Point(_IN, -2.0 - height), height, bold=True)
    rows = wrapped(subject.piece.words, _PLACE, room)
    y = -2.0 - height - 2.4
    step = min(_PLACE * 1.6, (HEAD + y - foot) / max(len(rows), 1))
    size = min(_PLACE, step / 1.5)
    for row in rows:
        yield Words(row, Point(_IN, y - size), size)
        y -= step


def _up(subject: Subject, x: float) -> Iterator[Mark[SheetFrame]]:
    """A fat arrow, the word under it; on a floor also what it points at, where the tile is not laid turned."""
    top, shoulder, foot = -1.5, -10.5, -17.5
    yield solid(
        (
            (x, top),
            (x - 8.5, shoulder),
            (x - 3.6, shoulder),
            (x - 3.6, foot),
            (x + 3.6, foot),
            (x + 3.6, shoulder),
            (x + 8.5, shoulder),
        )
    )
    setout = subject.plan.setout(subject.piece.piece.surface)
    yield Words("UP", Point(x, foot - 1.4 - _UP), _UP, "middle", bold=True)
    said = "of the tile itself" if abs(plumb_turn(subject.piece)) > _TURNED else setout.up
    if said:
        yield Words(said, Point(x, -HEAD + 1.6), fitting(said, _SMALL, _ARROW_COLUMN - 2 * _IN), "middle")


def _plumb(subject: Subject, x: float, turn: float, room: float) -> Iterator[Mark[SheetFrame]]:
    """A second, thin arrow where the tile is laid turned: plumb on a wall; on a floor the way that the job calls up."""
    y, reach, head = -18.2, 5.2, 2.6
    angle = math.radians(90.0 + turn)
    ux, uy = math.cos(angle), math.sin(angle)
    tip_x, tip_y = x + reach * ux, y + reach * uy
    back_x, back_y = tip_x - head * ux, tip_y - head * uy
    yield line(x - reach * ux, y - reach * uy, back_x, back_y, Role.ARROW)
    half = head / 2
    yield solid(((tip_x, tip_y), (back_x - half * uy, back_y + half * ux), (back_x + half * uy, back_y - half * ux)))
    setout = subject.plan.setout(subject.piece.piece.surface)
    said = "PLUMB" if setout.kind == "wall" else setout.up
    yield Words(said, Point(x, -HEAD + 1.6), fitting(said, _SMALL, room, bold=True), "middle", bold=True)
