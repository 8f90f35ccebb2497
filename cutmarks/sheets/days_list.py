"""The day's list: every tile that is cut, a row each, in the order of fixing, with a box to tick.

A tile with holes has its picture, its edges to mark from drawn heavy, and the figures from them, the core, its sheets,
STOP or CHECK. Tiles that are only trimmed stand among them with what to expect; those that follow one another and
expect the same share a row, each with its own box. Where they are many, all that go into openings between the same
things do, course after course, with the least and the most that is expected: each is measured in any case.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from itertools import groupby

from msgspec import Struct
from msgspec.structs import replace

from cutmarks.checks.model import SAID
from cutmarks.fixing.model import SourceKind
from cutmarks.geometry.frames import Page, Placement, Point
from cutmarks.geometry.frames import Sheet as SheetFrame
from cutmarks.marks.lettering import width as words_width
from cutmarks.marks.lettering import wrapped
from cutmarks.marks.model import Mark, Role, Words, line, moved, rectangle
from cutmarks.marks.sketch import sketch, sketch_height
from cutmarks.openings.corners import InsideCorner
from cutmarks.openings.model import CutPiece, Infill, TakenOff
from cutmarks.plan import Plan
from cutmarks.registering.model import Registration
from cutmarks.saying.corners import corner_name, corner_rows, corners_cut, other_corners
from cutmarks.saying.cuts import mark_rows
from cutmarks.saying.figures import trimmed_size
from cutmarks.saying.findings import figures_held, held_words, to_check
from cutmarks.saying.infills import expected_lines, expected_of_several, never
from cutmarks.saying.measures import size_words
from cutmarks.saying.pieces import shape_in_short
from cutmarks.saying.seen import Seen, seen
from cutmarks.sheets.flow import (
    BODY,
    FIGURE,
    HEADING,
    LEADING,
    PAD,
    SMALL,
    Block,
    Column,
    heading,
    paragraph,
    titles,
)
from cutmarks.sheets.setting import TextSetting
from cutmarks.sides import Side

BOX = 4.2
"""A box to tick, mm."""
_AFTER_BOX = 1.4
MANY = 40
"""So many tiles of a surface that are only trimmed have their own rows; where there are more, alike ones share them."""
_ALIKE_SHARE = "Tiles cut alike share a row, which stands where the first of them goes up."
_APART = 5.0
"""Between two tiles in one row, mm."""
_UNDER_ROW = 1.6
_BETWEEN_CUTS = 0.8
_CLEAR_OF_FIGURE = 4.0
SKETCH_WIDTH, SKETCH_HEIGHT = 15.0, 11.0
IN_ORDER = "in the order of fixing"
FROM_WHAT = "the first of a kind says what it is READ from"
_AROUND_TITLE = 8.0
_MOST_WHOLE = 8
"""So many names behind the first one are whole."""
TrimmedGroup = tuple[Sequence[CutPiece], str]
"""Tiles that are only trimmed and share a row, and what is expected of them."""
ReadKind = tuple[Side, SourceKind, str, bool, tuple[TakenOff, ...]]
"""From what to what a trimmed tile is read, and what comes off."""
_SHARES = (("done", 8.0), ("", 17.0), ("tile", 41.0), ("mark", 65.0), ("cut", 35.0), ("sheet", 13.0))


class Listed(Struct, frozen=True):
    """One template with the number of its first sheet and that of its last."""

    registration: Registration
    first: int
    last: int

    @property
    def sheets(self) -> str:
        """Its sheets in words: "3", "3 to 8"."""
        return str(self.first) if self.first == self.last else f"{self.first} to {self.last}"


def sheet_numbers(listed: Iterable[Listed]) -> dict[str, str]:
    """For each piece's name the numbers of its sheets in words: "3", "9 to 10, 12"."""
    found: dict[str, list[str]] = {}
    for one in listed:
        found.setdefault(one.registration.piece, []).append(one.sheets)
    return {piece: ", ".join(sheets) for piece, sheets in found.items()}


def days_list(plan: Plan, listed: Sequence[Listed], width: float) -> Iterator[Block]:
    """The list, surface by surface; a surface of which nothing is cut has none.

    Where alike tiles share rows, so that later ones stand before their turn, a line says so.
    """
    own: dict[str, list[Listed]] = {}
    for one in listed:
        own.setdefault(one.registration.piece, []).append(one)
    for surface in plan.surfaces:
        pieces = [piece for piece in plan.pieces if piece.piece.surface == surface.setout.name]
        if pieces:
            title = f"THE DAY'S LIST: {surface.setout.name.upper()}"
            is_shared = len(_trimmed_alone(pieces, own)) > MANY
            is_told_once = not is_shared and any(piece.infills and not piece.cuts for piece in pieces)
            room = width - words_width(title, HEADING, bold=True) - _AROUND_TITLE
            notes = (f"{IN_ORDER}; {FROM_WHAT}", IN_ORDER) if is_told_once else (IN_ORDER,)
            band = heading(title, width, next((one for one in notes if words_width(one, SMALL) <= room), IN_ORDER))
            columns = _columns(width)
            head = (band, titles(columns))
            yield band
            if is_shared:
                yield from (replace(one, keep=True) for one in paragraph(_ALIKE_SHARE, width, height=SMALL))
            yield head[1]
            yield from _rows(plan, pieces, own, columns, head)


def _columns(width: float) -> tuple[Column, ...]:
    share = width / sum(wide for _, wide in _SHARES)
    return tuple(Column((title,), wide * share) for title, wide in _SHARES)


def _rows(
    plan: Plan,
    pieces: Sequence[CutPiece],
    own: Mapping[str, Sequence[Listed]],
    columns: Sequence[Column],
    head: tuple[Block, ...],
) -> Iterator[Block]:
    """In the order of fixing; those that are only trimmed, and follow one another, by what is expected of them."""
    day = pieces[0].rank.day
    ordered = sorted(pieces, key=lambda piece: piece.rank)
    trimmed = _trimmed_alone(ordered, own)
    shared = _shared(plan, trimmed) if len(trimmed) > MANY else {}
    told: set[ReadKind] = set()
    for (of_day, holed), run in groupby(ordered, lambda piece: (piece.rank.day, bool(piece.cuts) or piece.name in own)):
        some = list(run)
        if of_day != day:
            day = of_day
            yield _day_two(columns, head)
        if holed:
            yield from (replace(_holed(plan, piece, own.get(piece.name, ()), columns), head=head) for piece in some)
            continue
        groups = (
            [shared[piece.name] for piece in some if piece.name in shared] if shared else list(_alike(plan, some, told))
        )
        for row in _side_by_side(groups, columns):
            yield replace(_trimmed(row, columns), head=head)


def _trimmed_alone(pieces: Sequence[CutPiece], own: Mapping[str, Sequence[Listed]]) -> list[CutPiece]:
    """Those that are only trimmed, and have no sheet of their own."""
    return [piece for piece in pieces if not piece.cuts and piece.name not in own]


def _alike(plan: Plan, pieces: Iterable[CutPiece], told: set[ReadKind]) -> Iterator[TrimmedGroup]:
    """Those that follow one another and expect the same.

    The first of a kind, which is added to `told`, says from what it is read, and what comes off; the others go by it.
    """
    for _, alike in groupby(pieces, lambda piece: _expected(plan, piece, lambda _: True)):
        own = list(alike)
        yield own, _expected(plan, own[0], lambda infill: _kind(infill) in told)
        told.update(map(_kind, own[0].infills))


def _kind(infill: Infill) -> ReadKind:
    return infill.side, infill.source.kind, infill.to, infill.past, infill.off


def _shared(plan: Plan, trimmed: Sequence[CutPiece]) -> dict[str, TrimmedGroup]:
    """Those that go into openings between the same things, on one day, by the name of the first of them."""
    groups: dict[object, list[CutPiece]] = {}
    for piece in trimmed:
        between = tuple((one.side, one.to, one.past) for one in piece.infills)
        shape = shape_in_short(piece, plan.say.style, plan.limits.small_step.value)
        waits = held_words(plan, piece)
        own = () if between and not waits else (_expected(plan, piece),)
        key = (piece.piece.area, piece.rank.day, waits, to_check(plan, piece), shape, between, own)
        groups.setdefault(key, []).append(piece)
    return {some[0].name: (some, _expected_of(plan, some)) for some in groups.values()}


def _expected_of(plan: Plan, pieces: Sequence[CutPiece]) -> str:
    """What is expected of several alike: where their figures differ, from the least to the most."""
    first = _expected(plan, pieces[0])
    if all(_expected(plan, piece) == first for piece in pieces):
        return first
    lines = "; ".join(expected_of_several(plan, pieces))
    return "; ".join((f"READ each: {lines}", *_besides(plan, pieces[0])))


def _day_two(columns: Sequence[Column], head: tuple[Block, ...]) -> Block:
    words = TextSetting(leading=LEADING, y=-PAD)
    words.line("DAY TWO: under the base, when it is set and the batten is off", 0.0, BODY, bold=True)
    return Block(-words.y, (*words.marks, _rule(columns, words.y)), keep=True, head=head)


def _rule(columns: Sequence[Column], y: float) -> Mark[SheetFrame]:
    return line(0.0, y, sum(column.width for column in columns), y, Role.GRID)


def _lefts(columns: Sequence[Column]) -> list[float]:
    return [sum(column.width for column in columns[:number]) for number in range(len(columns))]


def _holed(plan: Plan, piece: CutPiece, own: Sequence[Listed], columns: Sequence[Column]) -> Block:
    lefts = _lefts(columns)
    setting = [TextSetting(leading=LEADING, y=-PAD) for _ in columns]
    stopped = figures_held(plan, piece)
    _, picture, tile, mark, cut, sheet = setting
    room = [column.width - PAD for column in columns]
    tile.lines(piece.name, lefts[2], FIGURE, room[2], bold=True)
    for words in _expected_lines(plan, piece, told=(lambda _: True) if own else never):
        tile.lines(words, lefts[2], SMALL, room[2])
    for words in _warned(plan, piece):
        # Right before a figure that is as bold it was read on into that.
        tile.lines(words, lefts[2], SMALL if words != words.upper() else BODY, room[2] - _CLEAR_OF_FIGURE, bold=True)
    _say_cuts(plan, piece, own, (mark, lefts[3], room[3]), (cut, lefts[4], room[4]), stopped=stopped)
    for one in own:
        sheet.lines(one.sheets, lefts[5], FIGURE if one.first == one.last else SMALL, room[5], bold=True)
        if one.registration.back:
            sheet.line("BACK", lefts[5], SMALL, bold=True)
    marks: list[Mark[SheetFrame]] = [rectangle(0.0, -PAD - BOX, BOX, BOX, Role.BOX)]
    # On a paper with wide margins the column is narrower than a picture is elsewhere: the tile's name stands beside it.
    wide = min(SKETCH_WIDTH, room[1])
    high = sketch_height(piece, wide, SKETCH_HEIGHT)
    down: Placement[Page, SheetFrame] = Placement.shift(lefts[1], -PAD - high)
    marked = piece.cuts or piece.corners
    heavy = {side for one in marked for side in one.mark_from} if not stopped else set()
    marks += [moved(mark, down) for mark in sketch(piece, wide, high, heavy)]
    picture.gap(high)
    marks += [mark for one in setting for mark in one.marks]
    low = min(one.y for one in setting) - PAD * 0.6
    return Block(-low, (*marks, _rule(columns, low)))


_Zone = tuple[TextSetting, float, float]
"""Where words are set, from which x, and how much room a line has."""


def _say_cuts(plan: Plan, piece: CutPiece, own: Sequence[Listed], mark: _Zone, size: _Zone, *, stopped: bool) -> None:
    """The figures of each cut, and beside them what is cut; of a tile that must not be cut neither."""
    said: set[int] = set()
    for one in own:
        shown = seen(plan, piece, one.registration)
        if shown.corners:
            for corner in shown.corners:
                _say_corner(shown, corner, mark, size)
            if one is own[-1]:
                _say_corners_by_tape(shown, mark)
            continue
        for index, cut in zip(one.registration.cuts, shown.cuts, strict=True):
            if index in said:
                continue
            said.add(index)
            figures, sizes = mark[0], size[0]
            figures.y = sizes.y = min(figures.y, sizes.y) - (_BETWEEN_CUTS if len(said) > 1 else 0.0)
            name = cut.opening.name
            if stopped:
                sizes.lines(name, size[1], SMALL, size[2], bold=len(piece.cuts) > 1)
                figures.lines("STOP: not to be cut. Why stands on its sheet.", mark[1], BODY, mark[2], bold=True)
                continue
            _sized(size, size_words(cut, shown.piece, shown.style), name, bold=len(piece.cuts) > 1)
            _figures(mark, mark_rows(shown, cut))


def _say_corners_by_tape(shown: Seen, mark: _Zone) -> None:
    """The corners of the same tile that no sheet shows, with their figures."""
    words, x, room = mark
    for said in other_corners(shown):
        words.lines(said, x, SMALL, room)


def _sized(zone: _Zone, size: str, name: str, *, bold: bool) -> None:
    """What is cut, and behind it the name of what comes through; above it where a line has no room for both."""
    words, x, room = zone
    indent = words_width(size, BODY, bold=True) + 2.0
    if indent + words_width(name, SMALL, bold) > room:
        words.lines(name, x, SMALL, room, bold=bold)
        words.lines(size, x, BODY, room, bold=True)
        return
    words.line(size, x, BODY, bold=True)
    words.y += BODY * (LEADING - 1.0)
    words.put(name, x + indent, SMALL, bold=bold)
    words.y -= BODY * (LEADING - 1.0)


def _say_corner(shown: Seen, corner: InsideCorner, mark: _Zone, size: _Zone) -> None:
    """The figures of an inside corner, and beside them that it is an L cut's."""
    level = min(mark[0].y, size[0].y) - (_BETWEEN_CUTS if mark[0].marks else 0.0)
    mark[0].y = size[0].y = level
    name = corner_name(shown.piece, corner)
    _sized(size, corners_cut(shown.piece), name, bold=True)
    _figures(mark, [(figure, f"to the cut, {words}") for _, figure, words in corner_rows(shown, corner)])


def _figures(zone: _Zone, rows: Iterable[tuple[str, str]]) -> None:
    """Each figure big, the edge that it is measured from behind it."""
    words, x, room = zone
    for figure, said in rows:
        words.y -= FIGURE
        words.put(figure, x, FIGURE, bold=True)
        indent = words_width(figure, FIGURE, bold=True) + 1.6
        if indent > room / 2:
            words.y -= FIGURE * 0.6
            words.lines(said, x, SMALL, room)
            continue
        first, *rest = wrapped(said, SMALL, room - indent)
        words.put(first, x + indent, SMALL)
        for more in rest:
            words.y -= SMALL * 1.6
            words.put(more, x + indent, SMALL)
        words.y -= FIGURE * 0.6


def _warned(plan: Plan, piece: CutPiece) -> Iterator[str]:
    """STOP, DAY TWO, or CHECK with what asks for it."""
    waits = held_words(plan, piece)
    if waits:
        yield waits
    rules = to_check(plan, piece)
    if rules:
        yield f"{SAID['warn']}: {', '.join(rules)}"


def _expected_lines(plan: Plan, piece: CutPiece, told: Callable[[Infill], bool] = never) -> Iterator[str]:
    lines = list(expected_lines(plan, piece, told))
    return iter([f"READ {'; '.join(lines)}"] if lines else [])


def _expected(plan: Plan, piece: CutPiece, told: Callable[[Infill], bool] = never) -> str:
    """What is expected of a piece that is only trimmed: openings and cuts, or its size, or that it waits."""
    style = plan.say.style
    waits = held_words(plan, piece)
    if waits:
        return waits
    lines = list(_expected_lines(plan, piece, told))
    if not lines:
        lines = [f"cut to {' '.join(trimmed_size(piece, style, plan.limits.two_sizes.value))}"]
    return "; ".join((*lines, *_besides(plan, piece)))


def _besides(plan: Plan, piece: CutPiece) -> Iterator[str]:
    """What else stands behind what is expected: that it is no rectangle, and what asks for a look."""
    shape = shape_in_short(piece, plan.say.style, plan.limits.small_step.value)
    if shape:
        yield shape
    rules = to_check(plan, piece)
    if rules:
        yield f"{SAID['warn']}: {', '.join(rules)}"


def _trimmed(groups: Sequence[TrimmedGroup], columns: Sequence[Column]) -> Block:
    """Boxes and names in a row, then what to expect of each of them; groups that are short stand side by side.

    Of several in one area the first alone says which that is.
    """
    room = sum(column.width for column in columns) - PAD
    x, y = 0.0, -PAD - BODY
    marks: list[Mark[SheetFrame]] = []
    for pieces, expected in groups:
        for name in _ticked(pieces):
            if x and x + _tick_width(name) > room:
                x, y = 0.0, y - BODY * LEADING - 0.8
            marks.append(rectangle(x, y - (BOX - BODY) / 2, BOX, BOX, Role.BOX))
            marks.append(Words(name, Point(x + BOX + _AFTER_BOX, y), BODY, bold=True))
            x += _tick_width(name)
        long = words_width(expected, SMALL)
        if long <= room - x:
            marks.append(Words(expected, Point(x, y), SMALL))
            x += long + _APART
            continue
        for text in wrapped(expected, SMALL, room - BOX - _AFTER_BOX):
            y -= SMALL * LEADING
            marks.append(Words(text, Point(BOX + _AFTER_BOX, y), SMALL))
    low = y - _UNDER_ROW
    return Block(-low, (*marks, _rule(columns, low)))


def _ticked(pieces: Sequence[CutPiece]) -> list[str]:
    """The names behind the boxes: of more than a few the first whole, the others without their area's."""
    first, *others = (piece.name for piece in pieces)
    few = len(others) < _MOST_WHOLE
    return [first, *(name if few else name.rpartition(" ")[2] for name in others)]


def _tick_width(name: str) -> float:
    """What a box, the name behind it and the blank behind that take, mm."""
    return BOX + _AFTER_BOX + words_width(name, BODY, bold=True) + 3.0


def _side_by_side(groups: Sequence[TrimmedGroup], columns: Sequence[Column]) -> Iterator[list[TrimmedGroup]]:
    """Groups that follow one another, as many in a row as have room on one line."""
    room = sum(column.width for column in columns) - PAD
    row: list[TrimmedGroup] = []
    used = 0.0
    for group in groups:
        pieces, expected = group
        long = sum(map(_tick_width, _ticked(pieces))) + words_width(expected, SMALL) + _APART
        if row and used + long - _APART > room:
            yield row
            row, used = [], 0.0
        row.append(group)
        used += long
    if row:
        yield row
