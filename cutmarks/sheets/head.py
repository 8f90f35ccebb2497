"""The head of a template: which tile, in words and in a small elevation, which face, and which way is up."""

from __future__ import annotations

import math
from collections.abc import Iterator

from msgspec import Struct

from cutmarks.geometry.edges import Bounds
from cutmarks.geometry.frames import Page, Placement, Point
from cutmarks.geometry.frames import Sheet as SheetFrame
from cutmarks.marks import sizes
from cutmarks.marks.elevation import Thumbnails
from cutmarks.marks.joins import part_number
from cutmarks.marks.lettering import wrapped
from cutmarks.marks.model import Mark, Role, Words, line, moved, solid
from cutmarks.marks.template import Subject
from cutmarks.registering.layouts import PageLayout
from cutmarks.saying.edges import plumb_turn
from cutmarks.sheets.panel import fit
from cutmarks.sheets.setting import TextSetting

_IN = 2.0
"""Clear of the corner mark of the safe area."""
_LINE = 1.32
"""From one line of the name to the next, in heights of its capitals."""
_PLACE_LEADING = 1.45
_TURNED = 0.05
"""Degrees: a tile that is turned less stands upright."""
_ARROW = 17.0
"""The fat arrow's width, mm, and what stands round it."""
_SEEN = "as you face it"


class HeadPlaces(Struct, frozen=True):
    """Where the parts of a head stand in it, from its lower left corner: the name, the picture, face and arrow."""

    name: Bounds
    picture: Bounds
    face: Bounds
    arrow: Bounds


def head(subject: Subject, layout: PageLayout, thumbnails: Thumbnails) -> Iterator[Mark[SheetFrame]]:
    """The head in its box of the layout."""
    places = _places(layout)
    yield from _name(subject, places.name)
    yield from _picture(subject, places.picture, thumbnails)
    yield from _face(subject, places.face)
    yield from _up(subject, places.arrow)


def _places(layout: PageLayout) -> HeadPlaces:
    box = layout.head
    if layout.name == "portrait":
        arrow, face, picture = 20.0, 34.0, 38.0
        left = box.max_x - arrow - face - picture
        low, top = box.min_y + 1.0, box.max_y - 1.0
        return HeadPlaces(
            Bounds(box.min_x + _IN, low, left - 2.0, box.max_y - 2.0),
            Bounds(left, low, left + picture, top),
            Bounds(left + picture, low, box.max_x - arrow, box.max_y - 2.0),
            Bounds(box.max_x - arrow, low, box.max_x, top),
        )
    high, low = 19.5, box.min_y + 0.8
    return HeadPlaces(
        Bounds(box.min_x + _IN, low + high, box.max_x - 1.0, box.max_y - 2.0),
        Bounds(box.min_x + 1.0, low, box.min_x + 32.0, low + high - 1.0),
        Bounds(box.min_x + 33.0, low, box.max_x - 19.0, low + high - 1.5),
        Bounds(box.max_x - 19.0, low, box.max_x - 1.0, low + high - 0.5),
    )


def _name(subject: Subject, box: Bounds) -> Iterator[Mark[SheetFrame]]:
    """The name as large as fits, in one line or two, and under it where the tile is."""
    name = subject.piece.name.upper()
    for most, height in ((most, height) for most in _NAMES for height in (sizes.BODY, sizes.LEAST)):
        rows, size = name_rows(name, box.width, most)
        words = TextSetting(leading=_LINE, y=box.max_y)
        for row in rows:
            words.line(row, box.min_x, size, bold=True, size=fit(row, size, sizes.LEAST, box.width))
        words.leading = _PLACE_LEADING
        words.lines(subject.piece.words, box.min_x, height, box.width)
        if words.y >= box.min_y - height * (_PLACE_LEADING - 1.0):
            break
    yield from words.marks


_NAMES = tuple(map(sizes.capitals, (40.0, 37.0, 34.0, 31.0, 28.0)))
"""How large a name is tried, the largest first: the place in words has to have room under it."""


def name_rows(name: str, room: float, most: float) -> tuple[list[str], float]:
    """The name in one line or two, and the height of its capitals: `most` or what fits, not under `NAME_LEAST`.

    In two lines its last part, which tells tiles of one area apart, stands alone. A row that is longer even so is made
    smaller by itself.
    """
    one = fit(name, most, sizes.LEAST, room)
    area, _, place = name.rpartition(" ")
    if one >= 0.9 * most or not area:
        return [name], one
    two = max(min(fit(row, most, sizes.LEAST, room) for row in (area, place)), sizes.NAME_LEAST)
    return ([name], one) if one >= two else ([area, place], two)


def _picture(subject: Subject, box: Bounds, thumbnails: Thumbnails) -> Iterator[Mark[SheetFrame]]:
    """The small elevation; beside the mirrored drawing of a template for the back it says how it is seen."""
    lift = 0.0
    if subject.registration.back:
        lift = sizes.LEAST * 1.5
        yield Words(_SEEN, Point((box.min_x + box.max_x) / 2, box.min_y), sizes.LEAST, "middle")
    shift: Placement[Page, SheetFrame] = Placement.shift(box.min_x, box.min_y + lift)
    for mark in thumbnails.of(subject.face, box.width, box.height - lift):
        yield moved(mark, shift)


def _face(subject: Subject, box: Bounds) -> Iterator[Mark[SheetFrame]]:
    """FACE or BACK; of a turned tile which way plumb is, of joined sheets which of them this is."""
    back = subject.registration.back
    word, side = ("BACK", "tile face down, UP still up") if back else ("FACE", "the side you see")
    middle = (box.min_x + box.max_x) / 2
    size = fit(word, sizes.FACE, sizes.LEAST, box.width - 2.0)
    y = box.max_y - size
    yield Words(word, Point(middle, y), size, "middle", bold=True)
    turn = plumb_turn(subject.piece)
    joined = subject.registration.how == "joined"
    below = TextSetting(leading=_PLACE_LEADING, y=y - 1.4)
    if abs(turn) > _TURNED:
        yield from _plumb(subject, Bounds(box.min_x, box.min_y, box.max_x, y - 1.2), turn, narrow=joined)
    elif not joined:
        below.lines(side, middle, sizes.LEAST, box.width - 1.0, "middle", bold=back)
    if joined:
        below.lines("JOINED", middle, sizes.LEAST, box.width, "middle", bold=True)
        said = f"sheet {part_number(subject, subject.page)} of {subject.registration.pages}"
        below.lines(said, middle, sizes.LEAST, box.width, "middle", bold=True)
    yield from below.marks


def _up(subject: Subject, box: Bounds) -> Iterator[Mark[SheetFrame]]:
    """A fat arrow, the word under it; on a floor also what it points at, where the tile is not laid turned."""
    setout = subject.plan.setout(subject.piece.piece.surface)
    said = "of the tile itself" if abs(plumb_turn(subject.piece)) > _TURNED else setout.up
    words = TextSetting(leading=1.3)
    x = (box.min_x + box.max_x) / 2
    for row in wrapped(said, sizes.LEAST, box.width) if said else ():
        words.line(row, x, sizes.LEAST, "middle")
    foot = box.min_y - words.y
    shift: Placement[SheetFrame, SheetFrame] = Placement.shift(0.0, foot)
    yield from (moved(mark, shift) for mark in words.marks)
    up = sizes.READ if box.height - (foot - box.min_y) < 20.0 else sizes.CORE
    yield Words("UP", Point(x, foot + 0.6), up, "middle", bold=True)
    low, top = foot + up + 1.6, box.max_y
    half = min(_ARROW / 2, (top - low) * 0.55)
    shoulder, stem = low + (top - low) * 0.42, half * 0.44
    yield solid(
        (
            (x, top),
            (x - half, shoulder),
            (x - stem, shoulder),
            (x - stem, low),
            (x + stem, low),
            (x + stem, shoulder),
            (x + half, shoulder),
        )
    )


def _plumb(subject: Subject, box: Bounds, turn: float, *, narrow: bool) -> Iterator[Mark[SheetFrame]]:
    """A second, thin arrow where the tile is laid turned: plumb on a wall; on a floor the way that the job calls up."""
    setout = subject.plan.setout(subject.piece.piece.surface)
    said = "PLUMB" if setout.kind == "wall" else setout.up
    x = box.min_x + 6.5 if narrow else (box.min_x + box.max_x) / 2
    words = TextSetting(leading=1.3)
    for row in wrapped(said, sizes.LEAST, 13.0 if narrow else box.width):
        words.line(row, x, sizes.LEAST, "middle", bold=True)
    foot = box.min_y - words.y
    shift: Placement[SheetFrame, SheetFrame] = Placement.shift(0.0, foot)
    yield from (moved(mark, shift) for mark in words.marks)
    reach = min((box.max_y - foot) / 2 - 0.6, 5.2)
    y, tip = foot + 0.6 + reach, 2.6
    angle = math.radians(90.0 + turn)
    ux, uy = math.cos(angle), math.sin(angle)
    tip_x, tip_y = x + reach * ux, y + reach * uy
    back_x, back_y = tip_x - tip * ux, tip_y - tip * uy
    yield line(x - reach * ux, y - reach * uy, back_x, back_y, Role.ARROW)
    half = tip / 2
    yield solid(((tip_x, tip_y), (back_x - half * uy, back_y + half * ux), (back_x + half * uy, back_y - half * ux)))
