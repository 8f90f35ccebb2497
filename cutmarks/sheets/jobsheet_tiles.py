"""The job sheet's list of every tile that is cut, a row each, in the order of fixing.

In a row, one under the other: what is cut of the tile, what is READ on the bare wall before it goes up, and what is
MARKed on it, for each hole. The figures of the wall, which may hold the joint, and those of the tile never stand on
one line.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from msgspec.structs import replace

from cutmarks.geometry.frames import Page, Placement, Point
from cutmarks.geometry.frames import Sheet as SheetFrame
from cutmarks.marks.lettering import fitting, wrapped
from cutmarks.marks.lettering import width as words_width
from cutmarks.marks.model import Mark, Role, Words, line, moved
from cutmarks.marks.sketch import sketch, sketch_height
from cutmarks.openings.model import Cut, CutPiece, WallCheck
from cutmarks.plan import Plan
from cutmarks.saying.dialect import wording
from cutmarks.saying.edge_work import edge_work_words
from cutmarks.saying.edges import read_from, unread_words
from cutmarks.saying.figures import cover_words, may_be_words, size, trimmed_size
from cutmarks.saying.findings import STOP, figures_held, held_words
from cutmarks.saying.how_cut import how_in_short, to_cut
from cutmarks.saying.infills import infill_lines
from cutmarks.saying.measures import Measure, check_words, figures_of, shown, size_words
from cutmarks.saying.pieces import edges_words, runs_out_words, shape_words
from cutmarks.sheets.flow import BODY, FIGURE, LEADING, PAD, SMALL, Block, Column, heading, paragraph, space, titles
from cutmarks.sheets.setting import TextSetting
from cutmarks.sides import SIDES
from cutmarks.units import Style, Unit, say

SKETCH_WIDTH, SKETCH_HEIGHT = 18.0, 14.0
_LEFT = SKETCH_WIDTH + 3.0
"""Where the words beside the sketch begin."""
_LABEL = 12.0
"""Between READ or MARK and what stands behind it, mm."""
_FIGURE_WIDE = {Unit.MM: 20.0, Unit.INCH: 22.0}
_CUT_WIDE = 34.0
_FOUND_WIDE = 58.0
"""What the blanks to write in behind READ take, mm."""
_BEFORE_CUT = 3.0
_TO = "to "
_BETWEEN_FIGURES = 2.0
"""Clear between two figures in a row, mm."""
_UNDER_ROW = 1.0
_GAP = 0.8


def tiles_blocks(plan: Plan, width: float, sheets: Mapping[str, str]) -> Iterator[Block]:
    """Every tile that is cut; those that are alike and only trimmed share the row of the first of them."""
    unlaid = {one.opening.name for one in plan.clearances}
    missed = [one for one in plan.openings if not plan.pieces_met[one.name] and one.name not in unlaid]
    if not plan.pieces and not missed:
        return
    band = heading("IN THE ORDER OF FIXING", width, "seen on the FACE, UP at the top; what is hatched goes")
    yield band
    for note in _notes_above(plan):
        yield from (replace(one, keep=True) for one in paragraph(note, width, height=SMALL, label="-", indent=3.0))
    columns = _columns(plan, width)
    head = (band, titles(columns))
    yield head[1]
    for group in _groups(plan, sheets):
        yield from (replace(one, head=head) for one in _row(plan, group, sheets, columns))
    for opening in missed:
        yield from paragraph(f"{opening.name} ({opening.what}): meets no tile.", width)
    yield space(4.0)


def _notes_above(plan: Plan) -> Iterator[str]:
    """What is to be known of the figures, as far as the job has such."""
    cuts = [cut for piece in plan.pieces for cut in piece.cuts]
    if cuts:
        yield (
            "MARK from the edges of the whole tile, as on the templates: from the two in BOLD, which lie against what "
            "is already fixed. Check with the other two."
        )
    checks = [check for cut in cuts for check in cut.wall_checks if check.fixed]
    if checks and plan.say.cut == "on the day":
        beside = any(check.source.kind == "piece" for check in checks)
        joint = " Those from a tile hold the joint." if beside else ""
        where = _bare(plan)
        yield (
            f"READ first, on the bare {where}, from what is there when the tile is laid, to the near and far side of "
            f"the thing itself: never mark these figures on a tile.{joint} Found MORE: the hole moves AWAY from there."
        )
    if any(piece.piece.trimmed for piece in plan.pieces):
        yield (
            "Sizes of trimmed tiles are rounded down, so that they go in. Mark them from the factory edges. READ each "
            "opening before its tile is cut: the sizes printed are what to expect."
        )


def _bare(plan: Plan) -> str:
    floors = sum(one.setout.kind == "floor" for one in plan.surfaces)
    return "wall" if not floors else "floor" if floors == len(plan.surfaces) else "wall or floor"


def _columns(plan: Plan, width: float) -> tuple[Column, ...]:
    figure = _FIGURE_WIDE[plan.say.style.unit]
    rest = width - _LEFT - 4 * figure - _BEFORE_CUT - _CUT_WIDE
    return (
        Column(("",), _LEFT),
        Column(("tile, hole",), rest),
        *(Column(("from", side.upper()), figure, "end") for side in SIDES),
        Column(("",), _BEFORE_CUT),
        Column(("cut",), _CUT_WIDE),
    )


def _groups(plan: Plan, sheets: Mapping[str, str]) -> list[list[CutPiece]]:
    """Pieces that are only trimmed, with those that are cut and read as they are; each one with a sheet by itself."""
    groups: dict[object, list[CutPiece]] = {}
    for piece in plan.pieces:
        is_alone = piece.cuts or piece.name in sheets or piece.same_as is None
        leader = piece.name if is_alone else piece.same_as
        groups.setdefault((leader, *infill_lines(plan, piece)), []).append(piece)
    return list(groups.values())


class _Column(TextSetting, kw_only=True):
    """Lines beside the sketch, each a block of its own once they are set, so that a high row can be broken."""

    width: float

    def said(self, text: str, height: float = SMALL, *, bold: bool = False, label: str = "") -> None:
        """A text in lines behind a label."""
        if text:
            indent = _LABEL if label else 0.0
            self.lines(text, _LEFT + indent, height, self.width - indent, bold=bold, label=label, label_x=_LEFT)

    def beside(self, text: str, small: str) -> None:
        """A line in bold, and behind it small words where they have room; else they follow below."""
        begins = words_width(text, BODY, bold=True) + 3.0
        if begins + words_width(small, SMALL) > self.width:
            self.said(text, BODY, bold=True)
            self.said(small)
            return
        self.y -= BODY
        self.put(text, _LEFT, BODY, bold=True)
        self.put(small, _LEFT + begins, SMALL)
        self.y -= BODY * (LEADING - 1.0)


def _row(
    plan: Plan, group: Sequence[CutPiece], sheets: Mapping[str, str], columns: Sequence[Column]
) -> Iterator[Block]:
    """The row of a tile, or of several alike: a chain of blocks that stay together."""
    piece, wide = group[0], sum(column.width for column in columns)
    first = _Column(leading=LEADING, y=-PAD, width=wide - _LEFT)
    _name(first, plan, piece, sheets)
    _of_tile(first, plan, group, drawn=_is_drawn(plan, piece))
    high = sketch_height(piece, SKETCH_WIDTH, SKETCH_HEIGHT)
    down: Placement[Page, SheetFrame] = Placement.shift(0.0, -PAD - high)
    blocks = [Block(-first.y, (*(moved(mark, down) for mark in sketch(piece, SKETCH_WIDTH, high)), *first.marks))]
    for cut in piece.cuts:
        one = _Column(leading=LEADING, y=-_GAP, width=wide - _LEFT)
        _cut(one, plan, piece, cut, columns)
        blocks.append(Block(-one.y, tuple(one.marks)))
    used = sum(one.height for one in blocks[:-1])
    last = max(blocks[-1].height + _UNDER_ROW, PAD + high + _UNDER_ROW - used)
    blocks[-1] = Block(last, (*blocks[-1].marks, line(0.0, -last, wide, -last, Role.BOX)))
    yield from (replace(one, keep=one is not blocks[-1]) for one in blocks)


def _name(column: _Column, plan: Plan, piece: CutPiece, sheets: Mapping[str, str]) -> None:
    """The name, STOP or what else it waits for, its sheets; where it is, and of a whole tile its size."""
    right = _LEFT + column.width
    waits = held_words(plan, piece)
    on = f"sheet {sheets[piece.name]}" if piece.name in sheets else ""
    behind = ", ".join(words for words in (waits, on) if words)
    column.y -= FIGURE
    column.put(piece.name, _LEFT, FIGURE, bold=True)
    if behind:
        column.put(behind, right, BODY, "end", bold=True)
    begins = _LEFT + words_width(piece.name, FIGURE, bold=True) + 3.0
    room = right - begins - (words_width(behind, BODY, bold=True) + 3.0 if behind else 0.0)
    tile = piece.piece.tile
    whole = "" if _is_trimmed(piece) else f"whole tile {size(tile.w, tile.h, plan.say.style)}"
    there = f"{piece.words}; {whole}" if whole else piece.words
    if words_width(there, SMALL) <= room:
        column.put(there, begins, SMALL)
        column.y -= FIGURE * 0.6
        return
    column.y -= FIGURE * 0.6
    column.said(there)


def _is_drawn(plan: Plan, piece: CutPiece) -> bool:
    """Whether all of its inside corners stand on sheets."""
    own = {index for one in plan.registrations if one.piece == piece.name for index in one.cuts}
    return bool(piece.corners) and own.issuperset(range(len(piece.cuts), len(piece.spots)))


def _is_trimmed(piece: CutPiece) -> bool:
    return piece.piece.trimmed or piece.part is not None


def _of_tile(column: _Column, plan: Plan, group: Sequence[CutPiece], *, drawn: bool) -> None:
    """What becomes of the tile itself: its size, its edges, which others are cut like it, what is read for it."""
    piece, style = group[0], plan.say.style
    tile = piece.piece.tile
    if _is_trimmed(piece):
        made = "; ".join((f"from a tile {size(tile.w, tile.h, style)}", *edges_words(piece)))
        if held_words(plan, piece):
            column.said(made)
        else:
            sizes = ", ".join(trimmed_size(piece, style, plan.limits.two_sizes.value))
            column.beside(sizes, made)
            column.said(shape_words(piece, style, plan.limits.small_step.value, drawn=drawn))
    column.said("; ".join(edge_work_words(piece, style)))
    how = to_cut(plan, piece)
    if len(how.operations) > 1:
        column.said(how_in_short(how, piece, style))
    if len(group) > 1:
        column.said(f"{len(group)} alike: also {', '.join(one.name for one in group[1:])}")
    elif piece.same_as is not None:
        column.said(f"the same as {piece.same_as}")
    for words in infill_lines(plan, piece):
        column.said(words, label="READ")
    for note in dict.fromkeys(note for one in group for note in one.notes):
        column.said(f"note, {note}")


def _cut(column: _Column, plan: Plan, piece: CutPiece, cut: Cut, columns: Sequence[Column]) -> None:
    """One hole: what it is, what is read to it, what is marked."""
    opening, style = cut.opening, plan.say.style
    column.y -= BODY
    column.put(opening.name, _LEFT, BODY, bold=True)
    begins = _LEFT + words_width(opening.name, BODY, bold=True) + 3.0
    cover = f"{wording(plan.say.words).cover} {cover_words(opening, style)}"
    parts = (opening.what, cut.kind, cover, may_be_words(opening, style))
    what, *more = wrapped("; ".join(part for part in parts if part), SMALL, column.width + _LEFT - begins)
    column.put(what, begins, SMALL)
    column.y -= BODY * (LEADING - 1.0)
    for words in more:
        column.said(words)
    if plan.say.cut == "on the day":
        for check in cut.wall_checks:
            if check.fixed:
                _read(column, plan, piece, check)
        for unread in cut.unread:
            column.said(unread_words(plan, piece, unread), label="READ")
    _mark(column, plan, piece, cut, columns)


def _read(column: _Column, plan: Plan, piece: CutPiece, check: WallCheck) -> None:
    """What a tape reads from one source, and blanks for what it was found to be."""
    style = plan.say.style
    figures = check_words(check, style)
    right = _LEFT + column.width
    blanks = right - _FOUND_WIDE
    ends = blanks - 3.0
    room = ends - words_width(figures, BODY, bold=True) - 3.0 - _LEFT - _LABEL
    first, *more = wrapped(_from(plan, piece, check), SMALL, room)
    column.y -= BODY
    column.put("READ", _LEFT, SMALL, bold=True)
    column.put(first, _LEFT + _LABEL, SMALL)
    column.put(figures, ends, BODY, "end", bold=True)
    column.marks += _blanks(blanks, right, column.y, 1 if check.to_middle else 2)
    column.y -= BODY * 1.1
    for words in more:
        column.y += BODY * 1.1 - SMALL * 0.6
        column.y -= SMALL
        column.put(words, _LEFT + _LABEL, SMALL)
        column.y -= SMALL * 0.9


def _blanks(left: float, right: float, y: float, count: int) -> Iterator[Mark[SheetFrame]]:
    """Found ____ ____ differs ____, between two places of a line."""
    yield Words("found", Point(left, y), SMALL)
    x = left + words_width("found", SMALL) + 1.5
    wide = (right - x - words_width("differs", SMALL) - 6.0) / 3
    for number in range(count):
        yield line(x + number * (wide + 1.5), y - 0.5, x + number * (wide + 1.5) + wide, y - 0.5, Role.BOX)
    x += 2 * wide + 3.0
    yield Words("differs", Point(x, y), SMALL)
    yield line(right - wide, y - 0.5, right, y - 0.5, Role.BOX)


def _from(plan: Plan, piece: CutPiece, check: WallCheck) -> str:
    words = read_from(plan, piece, check)
    named = check.source.kind == "piece" and not check.source.across
    return f"{check.source.name}, {words}" if named else words


def _mark(column: _Column, plan: Plan, piece: CutPiece, cut: Cut, columns: Sequence[Column]) -> None:
    """The figures that the templates have, from all four edges; none of a tile that must not be cut, nor its core."""
    style = plan.say.style
    column.y -= 0.6
    if figures_held(plan, piece):
        column.y -= FIGURE
        column.put("MARK", _LEFT, SMALL, bold=True)
        column.put(f"{STOP}: nothing is marked until this is settled", _LEFT + _LABEL, BODY, bold=True)
        column.y -= BODY
        return
    measures = figures_of(cut, piece)
    zones = [TextSetting(leading=1.6, y=column.y) for _ in columns]
    lefts = [sum(one.width for one in columns[:number]) for number in range(len(columns))]
    zones[1].line(_to_what(measures.values()), _LEFT + _LABEL, FIGURE, size=SMALL, label="")
    column.marks.append(Words("MARK", Point(_LEFT, column.y - FIGURE), SMALL, bold=True))
    for number, side in enumerate(SIDES, start=2):
        for text in _from_side(measures[side], piece, style) if side in measures else ():
            _figure(zones[number], text, lefts[number], columns[number].width - PAD, side in cut.mark_from)
    zones[7].gap(FIGURE - BODY)  # on the figures' own baseline
    _size(zones[7], cut, piece, style, lefts[7], columns[7].width - PAD)
    for zone in zones:
        column.marks += zone.marks
    column.y = min(zone.y for zone in zones)
    for words in _beyond(cut, piece, style):
        column.said(words)


def _to_what(measures: Iterable[Measure]) -> str:
    """What the figures go to: the middle, both sides, or where the cut ends."""
    whats = {measure.what for measure in measures}
    return "to its middle" if whats == {"centre"} else "to its sides" if "sides" in whats else "to the cut"


def _from_side(measure: Measure, piece: CutPiece, style: Style) -> list[str]:
    """A measure as it stands in its column: one figure, or two, one under the other."""
    low, *high = (shown(value, measure.side, piece, style)[0] for value in measure.values)
    return [low, *(f"{_TO}{figure}" for figure in high)]


def _figure(zone: TextSetting, text: str, left: float, room: float, bold: bool) -> None:
    """A figure is never broken over two lines, and keeps off the one in the next column."""
    figure = text.removeprefix(_TO)
    before = 0.0 if figure == text else words_width(_TO, SMALL)
    size = fitting(figure, FIGURE, room - before - _BETWEEN_FIGURES, bold)
    zone.y -= FIGURE
    zone.put(figure, left + room, size, "end", bold)
    if before:
        zone.put(_TO.strip(), left + room - words_width(figure, size, bold) - before, SMALL)
    zone.gap(FIGURE * (zone.leading - 1.0))


def _size(zone: TextSetting, cut: Cut, piece: CutPiece, style: Style, left: float, room: float) -> None:
    """What is cut; where it is no core also why it is so large."""
    zone.lines(size_words(cut, piece, style), left, BODY, room, bold=True)
    if cut.opening.core is None:
        zone.lines(cut.opening.why, left, SMALL, room)


def _beyond(cut: Cut, piece: CutPiece, style: Style) -> list[str]:
    """Where a notch meets the tile's edges, and measures to cut edges, which must say so."""
    lines = runs_out_words(cut, piece, style) if cut.kind != "hole" else []
    lines += [f"from the cut {side} edge: {say(mm, style)}" for side, mm in cut.from_cut_edges]
    return lines
