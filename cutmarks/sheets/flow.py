"""Words and tables that flow over pages: blocks are measured first, then set one under the other.

A block draws in the Sheet frame with its own top-left corner at (0, 0), so its marks lie at y <= 0.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence

from msgspec import Struct
from msgspec.structs import replace

from cutmarks.geometry.frames import Placement, Point
from cutmarks.geometry.frames import Sheet as SheetFrame
from cutmarks.marks import sizes
from cutmarks.marks.lettering import fitting, wrapped
from cutmarks.marks.model import Mark, Role, Tone, Words, WordsAnchor, block, line, moved
from cutmarks.sheets.setting import TextSetting

BODY = sizes.BODY
"""Height of capitals in running words, mm."""
SMALL = sizes.LEAST
"""What stands beside them, and in the cells of tables."""
PROVENANCE = sizes.PRINT
"""Which job, which state of it, which page."""
FIGURE = 3.4
"""Height of the figures that are marked from."""
HEADING = 3.0
LEADING = 1.8
"""From one baseline to the next, in heights of a capital."""
_OVER_LINE = 0.4
"""Clear space above a line of running words, mm."""
PAD = 1.3
"""Clear space above and below the words of a table's row, and beside its columns."""


class Block(Struct, frozen=True):
    """One thing that is not broken over two pages.

    keep  it stays on the page of the block that follows.
    head  what is set again above it where it begins a page (the title and the columns of its table).
    picture  what is drawn in it, in place of marks, when it stands: in its own height, or in a lower one, no less than
        `least`, so that it need not leave half a page blank.
    """

    height: float
    marks: tuple[Mark[SheetFrame], ...] = ()
    keep: bool = False
    head: tuple[Block, ...] = ()
    picture: Callable[[float], Iterable[Mark[SheetFrame]]] | None = None
    least: float = 0.0


class Column(Struct, frozen=True):
    """One column of a table: its title (one line for each entry), its width in mm, and where its words stand in it."""

    title: tuple[str, ...]
    width: float
    anchor: WordsAnchor = "start"


class TextBlock(Struct, frozen=True):
    """Words of one height in a cell, wrapped to the column; where `fits` is set, one line made smaller instead."""

    text: str
    bold: bool = False
    height: float = SMALL
    fits: bool = False


Cell = Sequence[TextBlock]


def space(height: float) -> Block:
    """Nothing, `height` mm of it."""
    return Block(height)


def heading(text: str, width: float, note: str = "") -> Block:
    """A black band with the section's title, a note behind it in plain words; stays with what follows."""
    band = HEADING + 2 * PAD + 0.6
    marks: list[Mark[SheetFrame]] = [
        block(0.0, -band, width, band),
        Words(text, Point(PAD + 0.4, -band + PAD + 0.3), HEADING, bold=True, tone=Tone.WHITE),
    ]
    if note:
        marks.append(Words(note, Point(width - PAD - 0.4, -band + PAD + 0.5), SMALL, "end", tone=Tone.WHITE))
    return Block(band + PAD, tuple(marks), keep=True)


def title(text: str, width: float) -> list[Block]:
    """A smaller title above a list, in bold; stays with what follows."""
    return [replace(one, keep=True) for one in paragraph(text, width, bold=True)]


def paragraph(
    text: str, width: float, *, bold: bool = False, height: float = BODY, label: str = "", indent: float = 0.0
) -> list[Block]:
    """Running words, one block a line, so that even a long sentence can go on over the page.

    `label` stands in bold in front of the first line; the words then begin at `indent`.
    """
    blocks = []
    for number, text_line in enumerate(wrapped(text, height, width - indent, bold) or [""]):
        words = TextSetting(leading=LEADING, y=-_OVER_LINE)
        words.line(text_line, indent, height, bold=bold, label="" if number else label)
        blocks.append(Block(height * LEADING, tuple(words.marks), keep=number == 0))
    blocks[-1] = replace(blocks[-1], keep=False)
    return blocks


def filling(columns: Sequence[Column], width: float) -> tuple[Column, ...]:
    """The columns made to fill `width` mm together."""
    share = width / sum(column.width for column in columns)
    return tuple(Column(column.title, column.width * share, column.anchor) for column in columns)


def table(
    columns: Sequence[Column],
    rows: Iterable[Sequence[Cell]],
    head: Sequence[Block] = (),
    sketches: Iterable[Block | None] = (),
) -> Iterator[Block]:
    """A table's title row and rows; the title row, with `head` above it, stands again on each further page.

    `sketches` are drawn at the top left of each row's first column, which then holds no words.
    """
    named = titles(columns)
    again = (*head, named)
    yield named
    drawings = iter(sketches)
    for row in rows:
        made = _row(columns, row, next(drawings, None))
        yield replace(made, head=again)


def titles(columns: Sequence[Column]) -> Block:
    """The title row of a table."""
    most = max(len(column.title) for column in columns)
    height = most * SMALL * LEADING + PAD
    marks: list[Mark[SheetFrame]] = []
    for column, left in zip(columns, _lefts(columns), strict=True):
        drop = most - len(column.title)
        for number, text in enumerate(column.title):
            y = -(drop + number + 1) * SMALL * LEADING + 0.6
            marks.append(Words(text, Point(_x(column, left), y), SMALL, column.anchor, bold=True))
    width = sum(column.width for column in columns)
    marks.append(line(0.0, -height, width, -height, Role.CUT))
    return Block(height, tuple(marks), keep=True)


def _row(columns: Sequence[Column], cells: Sequence[Cell], sketch: Block | None) -> Block:
    marks: list[Mark[SheetFrame]] = []
    height = sketch.height + PAD if sketch else 0.0
    for column, left, cell in zip(columns, _lefts(columns), cells, strict=True):
        words = TextSetting(leading=LEADING, y=-PAD)
        room, x = column.width - PAD, _x(column, left)
        for text in cell:
            if text.fits:
                size = fitting(text.text, text.height, room, text.bold)
                words.line(text.text, x, text.height, column.anchor, text.bold, size=size)
            else:
                words.lines(text.text, x, text.height, room, column.anchor, text.bold)
        marks += words.marks
        height = max(height, -words.y)
    height += PAD * 0.6
    if sketch:
        marks += placed(sketch, 0.0, -PAD * 0.6)
    width = sum(column.width for column in columns)
    marks.append(line(0.0, -height, width, -height, Role.GRID))
    return Block(height, tuple(marks))


def _lefts(columns: Sequence[Column]) -> list[float]:
    lefts, x = [], 0.0
    for column in columns:
        lefts.append(x)
        x += column.width
    return lefts


def _x(column: Column, left: float) -> float:
    match column.anchor:
        case "start":
            return left
        case "middle":
            return left + (column.width - PAD) / 2
        case "end":
            return left + column.width - PAD


def placed(one: Block, x: float, y: float) -> tuple[Mark[SheetFrame], ...]:
    """The block's marks with its top-left corner at (x, y) on the paper."""
    shift: Placement[SheetFrame, SheetFrame] = Placement.shift(x, y)
    marks = one.marks if one.picture is None else one.picture(one.height)
    return tuple(moved(mark, shift) for mark in marks)


def on_page(page: Iterable[tuple[Block, float]], x: float, top: float) -> Iterator[Mark[SheetFrame]]:
    """The marks of a page of `paginate`, its top left at (x, top) on the paper."""
    for one, down in page:
        yield from placed(one, x, top - down)


def paginate(
    blocks: Iterable[Block], height: float, *, first: float | None = None, least: int = 1
) -> Iterator[list[tuple[Block, float]]]:
    """Pages of (block, its top in mm below the page's top), each at most `height` mm full; one page at least.

    A chain of blocks that keep together goes to the next page as one, unless a picture in it can be made lower; only
    a chain higher than a page is broken. The `first` page may have less room. A last page that would hold fewer than
    `least` rows of a table and nothing else is given the last rows of the page before it.
    """
    pages = _filled(blocks, height, height if first is None else first)
    before = next(pages)
    following = next(pages, None)
    while following is not None:
        page, following = following, next(pages, None)
        if following is None:
            before, page = _evened(before, page, height, least)
        yield _stacked(before)
        before = page
    yield _stacked(before)


def _evened(before: list[Block], last: list[Block], height: float, least: int) -> tuple[list[Block], list[Block]]:
    """The last two pages, where the last has too few rows alone, with as many of those before them as it wants."""
    heads = [place for place, one in enumerate(last) if one.head]
    if not heads:
        return before, last
    head, rows = last[: heads[0]], last[heads[0] :]
    while not rows[-1].head and not rows[-1].marks and rows[-1].picture is None:
        rows.pop()
    wanted = least - sum(not one.keep for one in rows)
    if any(not one.head for one in rows):
        return before, last
    kept, moved_on = list(before), list[Block]()
    while wanted > 0:
        row = _last_row(kept, rows[0].head)
        rest = kept[: len(kept) - len(row)]
        if not row or not rest or not rest[-1].head:
            return before, last
        kept, moved_on = rest, [*row, *moved_on]
        wanted -= 1
    page = [*head, *moved_on, *rows]
    return (kept, page) if sum(one.height for one in page) <= height else (before, last)


def _last_row(page: Sequence[Block], head: tuple[Block, ...]) -> list[Block]:
    """The last row of a page, where it is one of the table with that head; [] where it is not."""
    row: list[Block] = []
    for one in reversed(page):
        if one.head != head or (row and not one.keep):
            break
        row.insert(0, one)
    return row


def _filled(blocks: Iterable[Block], height: float, first: float) -> Iterator[list[Block]]:
    """The blocks of each page, the titles of tables set again where a page begins with a row."""
    page: list[Block] = []
    used, room = 0.0, first
    for chain in _chains(blocks):
        needed = sum(one.height for one in chain)
        if page and used + needed > room:
            chain = _lowered(chain, needed - (room - used))
            needed = sum(one.height for one in chain)
        if page and used + needed > room:
            yield page
            page, used, room = [], 0.0, height
            for again in chain[0].head:
                page.append(again)
                used += again.height
        for one in chain:
            if page and used + one.height > room:
                yield page
                page, used, room = [], 0.0, height
            page.append(one)
            used += one.height
    yield page


def _stacked(page: Iterable[Block]) -> list[tuple[Block, float]]:
    """The blocks one under the other: each with its top in mm below the page's top."""
    placed_at, used = [], 0.0
    for one in page:
        placed_at.append((one, used))
        used += one.height
    return placed_at


def _lowered(chain: list[Block], excess: float) -> list[Block]:
    """The chain with its picture made lower by `excess`, mm, where one of its blocks allows that."""
    return [
        replace(one, height=one.height - excess)
        if one.picture is not None and one.height - excess >= one.least
        else one
        for one in chain
    ]


def _chains(blocks: Iterable[Block]) -> Iterator[list[Block]]:
    chain: list[Block] = []
    for one in blocks:
        chain.append(one)
        if not one.keep:
            yield chain
            chain = []
    if chain:
        yield chain
