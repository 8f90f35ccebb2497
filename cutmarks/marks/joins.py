"""Where joined sheets meet: the line, the same cross on both, whose sheet it is, and a vernier.

The sheet further from the corner is cut along the line and laid on the nearer one, cross on cross. Along the line the
nearer sheet has ticks of 1 mm, the further one ticks of 0.9 mm: where the sheets lie true the two longest ticks meet,
and where the n-th ticks meet instead the further sheet lies n tenths of a millimetre out.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec import Struct

from cutmarks.geometry.edges import Bounds
from cutmarks.geometry.frames import Point, Tile
from cutmarks.marks import sizes
from cutmarks.marks.lettering import width
from cutmarks.marks.model import CircleMark, Mark, Role, Stroke, Words, line
from cutmarks.marks.room import Room
from cutmarks.marks.template import TOO_NEAR, Subject
from cutmarks.registering.layouts import join_at
from cutmarks.sides import ON_AXIS, Side

MAIN, VERNIER = 1.0, 0.9
"""From tick to tick on the nearer and on the further sheet, mm."""
COUNT = 10
_ARM, _RING = 6.0, 2.5
_TICK, _LONG_TICK, _NOUGHT = 1.6, 2.6, 4.4
_LETTER = sizes.LEAST
_OFF = (1.6, 5.2, 7.6, 10.0, 13.0, 16.0)
"""How far from the line its words are tried, mm."""
_CLEAR = 0.8
_KEEP_OFF = 4.0
"""Crosses and verniers keep so far off cuts and covers where they can, mm."""
_CROSS_AT = ((0.2, 0.14, 0.27, 0.34, 0.08, 0.4, 0.46), (0.8, 0.86, 0.73, 0.66, 0.92, 0.6, 0.54))
_VERNIER_AT = (0.5, 0.44, 0.56, 0.38, 0.62, 0.3, 0.7, 0.24, 0.76)


class Join(Struct, frozen=True):
    """One join of this sheet: along the axis of `side` at `at` (Tile frame, mm), running from `low` to `high`.

    outward  +1 or -1: the way along the axis on which the further sheet lies.
    further  whether this sheet is the further one, which is cut along the line.
    other    the number of the sheet on the far side of the line, as `part_number` counts.
    """

    side: Side
    at: float
    low: float
    high: float
    outward: float
    further: bool
    other: int


def part_number(subject: Subject, page: tuple[int, int]) -> int:
    """Joined sheets are counted from the corner across, then the next row."""
    return page[1] * subject.registration.columns + page[0] + 1


def joins(subject: Subject) -> Iterator[Join]:
    """The joins of this sheet with those beside it; none where it stands alone."""
    sheet = subject.registration
    if sheet.how != "joined":
        return
    tile, view = subject.piece.piece.tile, subject.view
    for axis, (side, count) in enumerate(zip(sheet.edges, (sheet.columns, sheet.rows), strict=True)):
        across = side.axis == "across"
        size = tile.w if across else tile.h
        low, high = (view.min_y, view.max_y) if across else (view.min_x, view.max_x)
        outward = -side.sign
        for further, number in ((True, subject.page[axis] - 1), (False, subject.page[axis])):
            if not 0 <= number < count - 1:
                continue
            far = join_at(number, sheet.steps[axis])
            other = (number if further else number + 1, subject.page[1 - axis])
            page = other if axis == 0 else (other[1], other[0])
            at = far if outward > 0 else size - far
            yield Join(side, at, low, high, outward, further, part_number(subject, page))


def join_lines(subject: Subject) -> Iterator[Mark[Tile]]:
    """The lines, crosses and verniers of all joins of this sheet."""
    for join in joins(subject):
        yield _line(join, join.low, join.high, 0.0, 0.0)
        crosses = [_spot(subject, join, tries, _ARM) for tries in _CROSS_AT]
        for along in crosses:
            yield _line(join, along, along, -_ARM, _ARM)
            yield CircleMark(_point(join, along, 0.0), _RING, Role.MEASURE)
        yield from _vernier(join, _spot(subject, join, _VERNIER_AT, COUNT * MAIN, crosses))


def runs_into_join(subject: Subject, mark: Mark[Tile]) -> bool:
    """Whether an edge of the tile that no sheet is lined up on lies so near a join that one is taken for the other."""
    if not isinstance(mark, Stroke) or mark.role is not Role.TILE:
        return False
    (x0, y0, _), (x1, y1, _) = mark.path[0], mark.path[-1]
    for join in joins(subject):
        ends = (x0, x1) if join.side.axis == "across" else (y0, y1)
        if all(abs(end - join.at) < TOO_NEAR for end in ends):
            return True
    return False


def join_words(subject: Subject, room: Room[Tile]) -> Iterator[Mark[Tile]]:
    """Beside each join: what to do there, with the piece's fingerprint, so that no two jobs' sheets are joined."""
    for join in joins(subject):
        said = f"CUT HERE, lay it on sheet {join.other}" if join.further else f"sheet {join.other} lies on this line"
        mark = subject.piece.fingerprint
        for rows in ((f"{said}, cross on cross \u00b7 {mark}",), (f"{said} \u00b7 {mark}",), (said, mark)):
            words = room.place_group(_places(join, rows), _CLEAR)
            if words:
                yield from words
                break


def _spot(subject: Subject, join: Join, tries: tuple[float, ...], reach: float, crosses: Sequence[float] = ()) -> float:
    """Where along the join: the first share of it that is clear of edges, cuts and covers, the same on both sheets.

    In any case clear of `crosses`.
    """
    spots = [join.low + share * (join.high - join.low) for share in tries]
    spots = [spot for spot in spots if all(abs(spot - cross) > reach + _ARM for cross in crosses)]
    return next((spot for spot in spots if _clear(subject, join, spot, reach)), spots[0])


def _clear(subject: Subject, join: Join, along: float, reach: float) -> bool:
    ends = ON_AXIS["up" if join.side.axis == "across" else "across"]
    if any(abs(along - subject.piece.piece.tile.box.at(end)) < reach + TOO_NEAR for end in ends):
        return False  # an arm would run along the tile's own edge
    a, b = _point(join, along - reach, -_ARM), _point(join, along + reach, _ARM)
    box = Bounds(min(a.x, b.x), min(a.y, b.y), max(a.x, b.x), max(a.y, b.y))
    for cut in subject.piece.cuts:
        cover = cut.opening.cover
        half_w, half_h = (cover.w / 2, cover.h / 2) if cover is not None else (0.0, 0.0)
        x, y = cut.centre.x, cut.centre.y
        covered = Bounds(x - half_w, y - half_h, x + half_w, y + half_h)
        if box.overlaps(cut.share.bounds, _KEEP_OFF) or box.overlaps(covered, _KEEP_OFF):
            return False
    return True


def _vernier(join: Join, middle: float) -> Iterator[Mark[Tile]]:
    """This sheet's half: 1 mm on the nearer, 0.9 mm on the further, from -10 to +10 about the nought."""
    pitch = VERNIER if join.further else MAIN
    way = 1.0 if join.further else -1.0
    for count in range(-COUNT, COUNT + 1):
        long = _NOUGHT if count == 0 else _LONG_TICK if count % 5 == 0 else _TICK
        yield _line(join, middle + count * pitch, middle + count * pitch, 0.0, way * long)


def _places(join: Join, rows: Sequence[str]) -> Iterator[Sequence[Words[Tile]]]:
    """On this sheet's own side of the line, from its middle outward; then on the other."""
    long = max(width(text, _LETTER, bold=True) for text in rows)
    own = 1.0 if join.further else -1.0
    for way in (own, -own):
        for off in _OFF:
            for step in range(41):
                share = (step + 1) // 2 * (1 if step % 2 else -1) / 40
                middle = (join.low + join.high) / 2 + share * (join.high - join.low - long)
                places = enumerate(_from_top(rows, join, way))
                yield [_beside(join, middle, way * (off + row * _LETTER * 1.5), text, _LETTER) for row, text in places]


def _from_top(rows: Sequence[str], join: Join, way: float) -> Sequence[str]:
    """The rows from the one nearest to the line on, so that the first stands on top: to the left where it is turned."""
    grows = way * join.outward
    top_last = grows < 0 if join.side.axis == "across" else grows > 0
    return tuple(reversed(rows)) if top_last else rows


def _beside(join: Join, along: float, off: float, text: str, height: float) -> Words[Tile]:
    """Words along the join, their nearer side `off` mm from it (to the further sheet's side where positive)."""
    away = off * join.outward
    if join.side.axis == "across":
        base = join.at + away + (height if away > 0 else 0.0)
        return Words(text, Point(base, along), height, "middle", bold=True, turn=90.0)
    return Words(text, Point(along, join.at + away - (height if away < 0 else 0.0)), height, "middle", bold=True)


def _point(join: Join, along: float, off: float) -> Point[Tile]:
    """A place `along` the join, `off` mm from it to the further sheet's side."""
    out = join.at + join.outward * off
    return Point(out, along) if join.side.axis == "across" else Point(along, out)


def _line(join: Join, from_along: float, to_along: float, from_off: float, to_off: float) -> Mark[Tile]:
    a, b = _point(join, from_along, from_off), _point(join, to_along, to_off)
    return line(a.x, a.y, b.x, b.y, Role.MEASURE)
