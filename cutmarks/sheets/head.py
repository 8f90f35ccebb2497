"""The head of a template: which tile, in words and in a small elevation, which face, and which way is up."""

from __future__ import annotations

import math
from collections.abc import Iterator

from cutmarks.geometry.frames import Page, Placement, Point
from cutmarks.geometry.frames import Sheet as SheetFrame
from cutmarks.marks.edge_words import plumb_turn
from cutmarks.marks.elevation import thumbnail
from cutmarks.marks.lettering import fitting, wrapped
from cutmarks.marks.model import Mark, Role, Words, line, moved, solid
from cutmarks.marks.template import Subject
from cutmarks.registering.paper import HEAD
from cutmarks.sheets.panel import Panel

_NAME = 8.5
_IN = 2.0
"""Clear of the corner mark of the safe area."""
_PLACE = 2.9
_FACE = 7.5
_UP = 4.6
_SMALL = 2.2
_NAME_SHARE = 0.44
"""Of the head's width for the name and the place in words."""
_PICTURE = (40.0, HEAD - 3.0)
_ARROW_COLUMN = 22.0
_TURNED = 0.05
"""Degrees: a tile that is turned less stands upright."""


def head_panel(subject: Subject, width: float) -> Panel:
    """The head, `width` by HEAD mm; its origin at its top-left corner."""
    marks: list[Mark[SheetFrame]] = [*_name(subject, width * _NAME_SHARE)]
    left = width * _NAME_SHARE + 2.0
    shift: Placement[Page, SheetFrame] = Placement(1.0, 0.0, left, -HEAD + 1.5)
    marks += [moved(mark, shift) for mark in thumbnail(subject.plan, subject.piece, *_PICTURE)]
    arrow_left = width - _ARROW_COLUMN
    face_middle = (left + _PICTURE[0] + arrow_left) / 2
    marks.append(Words("FACE", Point(face_middle, -3.0 - _FACE), _FACE, "middle", bold=True))
    turn = plumb_turn(subject.piece)
    if abs(turn) > _TURNED:
        marks += _plumb(subject, face_middle, -20.0, turn)
    else:
        marks.append(Words("the side you see", Point(face_middle, -15.5), _SMALL, "middle"))
    marks += _up(subject, arrow_left + _ARROW_COLUMN / 2)
    marks.append(line(0.0, -HEAD + 0.5, width, -HEAD + 0.5, Role.BOX))
    return Panel(width, HEAD, tuple(marks))


def _name(subject: Subject, room: float) -> Iterator[Mark[SheetFrame]]:
    name, room = subject.piece.name.upper(), room - _IN
    height = fitting(name, _NAME, room, bold=True)
    yield Words(name, Point(_IN, -2.0 - height), height, bold=True)
    rows = wrapped(subject.piece.words, _PLACE, room)
    y = -2.0 - height - 2.4
    step = min(_PLACE * 1.6, (HEAD + y - 1.5) / max(len(rows), 1))
    size = min(_PLACE, step / 1.5)
    for row in rows:
        yield Words(row, Point(_IN, y - size), size)
        y -= step


def _up(subject: Subject, x: float) -> Iterator[Mark[SheetFrame]]:
    """A fat arrow, the word under it; on a floor also what it points at."""
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
    setout = next(one for one in subject.plan.surfaces if one.setout.name == subject.piece.piece.surface).setout
    yield Words("UP", Point(x, foot - 1.4 - _UP), _UP, "middle", bold=True)
    if setout.up:
        size = fitting(setout.up, _SMALL, _ARROW_COLUMN)
        yield Words(setout.up, Point(x, -HEAD + 1.6), size, "middle")


def _plumb(subject: Subject, x: float, y: float, turn: float) -> Iterator[Mark[SheetFrame]]:
    """A second, thin arrow where the tile does not stand upright: the surface's own up."""
    reach, head = 6.5, 2.6
    angle = math.radians(90.0 + turn)
    ux, uy = math.cos(angle), math.sin(angle)
    tip_x, tip_y = x + reach * ux, y + reach * uy
    back_x, back_y = tip_x - head * ux, tip_y - head * uy
    yield line(x - reach * ux, y - reach * uy, back_x, back_y, Role.ARROW)
    half = head / 2
    yield solid(((tip_x, tip_y), (back_x - half * uy, back_y + half * ux), (back_x + half * uy, back_y - half * ux)))
    setout = next(one for one in subject.plan.surfaces if one.setout.name == subject.piece.piece.surface).setout
    said = "PLUMB" if setout.kind == "wall" else "ALONG"
    yield Words(said, Point(x + 8.0, y - 1.0), _SMALL, "start", bold=True)
