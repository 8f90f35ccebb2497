"""The pages of a workshop's pack: the cut list, labels for the dry face, the sheet to sign for what is cut ahead."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from cutmarks.geometry.frames import Point
from cutmarks.geometry.frames import Sheet as SheetFrame
from cutmarks.marks import sizes
from cutmarks.marks.lettering import fitting
from cutmarks.marks.model import Mark, Role, Words, line, rectangle, solid
from cutmarks.saying.shop import shop_mm
from cutmarks.saying.workshop import (
    count_words,
    hangs_on,
    hole_words,
    offcut_words,
    pieces_words,
    read_by,
    room_words,
    short_words,
    straight_words,
)
from cutmarks.sheets.flow import Block, Cell, Column, TextBlock, filling, heading, paragraph, space, table
from cutmarks.sheets.job_pages import job_pages
from cutmarks.sheets.model import PaperSheet, Series
from cutmarks.sheets.setting import TextSetting
from cutmarks.workshop.alike import Numbered, ShopPiece
from cutmarks.workshop.pack import ShopPack

LIST_TITLE, SIGN_TITLE = "CUT LIST", "SIGN-OFF"
A4 = (210.0, 297.0)
LABEL = (63.5, 38.1)
"""A label of the usual A4 sheet of three by seven, mm."""
_COLUMNS, _ROWS, _LEFT, _TOP, _ACROSS = 3, 7, 7.25, 15.15, 66.0
ROLL_LABEL = (100.0, 50.0)


def cut_list_pages(pack: ShopPack) -> Series:
    """The cut list, a row a number, in the order of tile and saw setting."""
    return job_pages(pack, LIST_TITLE, "cut_list_{}.svg", lambda width: _list_blocks(pack, width))


def sign_off_pages(pack: ShopPack) -> Series:
    """What is cut ahead, each piece with the readings that it hangs on, and room to sign."""
    return job_pages(pack, SIGN_TITLE, "sign_off_{}.svg", lambda width: _sign_blocks(pack, width))


def _list_blocks(pack: ShopPack, width: float) -> Iterator[Block]:
    several = len(pack.plans) > 1
    yield from paragraph(f"{LIST_TITLE}: {pack.job}", width, bold=True, height=5.0)
    said = "Millimetres, FACE view, finished sizes, no kerf taken off. A number is one drawing: its pieces are alike."
    yield from paragraph(said, width)
    yield space(2.0)
    columns = filling(
        (
            Column(("no.",), 10.0, "end"),
            Column(("off",), 9.0, "end"),
            Column(("pieces",), 38.0),
            Column(("tile, size over all",), 36.0),
            Column(("straight cuts", "(kept + kerf + off = tile)"), 48.0),
            Column(("holes and notches",), 52.0),
        ),
        width,
    )
    yield from table(columns, (_list_row(pack, number, several) for number in pack.numbered))
    yield space(3.0)
    yield heading("TILES", width)
    for one in pack.counts:
        yield from paragraph(count_words(one), width)
    if pack.held:
        yield heading("NOT TO BE CUT", width, "STOP, or waits for a reading")
        yield from paragraph("; ".join(f"{one.plan.job}: {one.piece.name}" for one in pack.held), width)


def _list_row(pack: ShopPack, number: Numbered, several: bool) -> Sequence[Cell]:
    one = number.first
    piece, tile = one.piece, one.piece.piece.tile
    box = piece.outline.bounds
    thick = "" if tile.thickness is None else f", {shop_mm(tile.thickness)} thick"
    return (
        (TextBlock(str(number.number), bold=True),),
        (TextBlock(str(len(number.pieces)), bold=True),),
        (TextBlock(pieces_words(number, several)),),
        (
            TextBlock(f"{tile.name} {shop_mm(tile.w)} x {shop_mm(tile.h)}{thick}"),
            TextBlock(f"{shop_mm(box.width)} x {shop_mm(box.height)}", bold=True),
            *([TextBlock(offcut)] if (offcut := offcut_words(pack, number)) else []),
        ),
        (*(TextBlock(words) for words in straight_words(one)), TextBlock(short_words(one))),
        tuple(TextBlock(hole_words(cut)) for cut in piece.cuts),
    )


def _sign_blocks(pack: ShopPack, width: float) -> Iterator[Block]:
    yield from paragraph(f"{SIGN_TITLE}: {pack.job}", width, bold=True, height=5.0)
    said = "These pieces are cut before they are measured again at the wall. Each hangs on the readings beside it."
    yield from paragraph(said, width)
    yield space(2.0)
    columns = filling(
        (
            Column(("piece",), 34.0),
            Column(("hangs on",), 84.0),
            Column(("read by, when",), 34.0),
            Column(("signed",), 34.0),
        ),
        width,
    )
    yield from table(columns, (_sign_row(one) for one in pack.ahead))
    yield space(6.0)
    yield from paragraph("Cut as listed, and not to be changed without a new list.", width, bold=True)
    yield Block(16.0, (line(0.0, -13.0, 80.0, -13.0, Role.BOX), line(100.0, -13.0, width, -13.0, Role.BOX)), keep=True)
    name: Mark[SheetFrame] = Words("name", Point(0.0, -3.0), sizes.LEAST)
    signed: Mark[SheetFrame] = Words("date, signature", Point(100.0, -3.0), sizes.LEAST)
    yield Block(6.0, (name, signed))


def _sign_row(one: ShopPiece) -> Sequence[Cell]:
    name = (TextBlock(one.piece.name, bold=True), TextBlock(f"{one.plan.job}, {one.piece.piece.surface}"))
    reads = tuple(TextBlock(words) for words in hangs_on(one)) or (TextBlock("nothing"),)
    return (
        name,
        reads,
        (TextBlock(read_by(one) or "................................"),),
        (TextBlock("...................."),),
    )


def label_sheets(pack: ShopPack) -> Iterator[PaperSheet]:
    """The labels of all pieces on A4 sheets of three by seven, in the order of fixing in each job."""
    on_sheet = _COLUMNS * _ROWS
    labels = list(_in_order(pack))
    for first in range(0, len(labels), on_sheet):
        marks: list[Mark[SheetFrame]] = []
        for place, (number, one) in enumerate(labels[first : first + on_sheet]):
            row, column = divmod(place, _COLUMNS)
            x, y = _LEFT + column * _ACROSS, A4[1] - _TOP - (row + 1) * LABEL[1]
            marks += _label(number, one, x, y, *LABEL)
        yield PaperSheet(f"labels_{first // on_sheet + 1}.svg", f"{pack.job}: labels", *A4, tuple(marks))


def roll_labels(pack: ShopPack) -> Iterator[PaperSheet]:
    """The same for a roll, a page a label."""
    for place, (number, one) in enumerate(_in_order(pack), start=1):
        marks = tuple(_label(number, one, 0.0, 0.0, *ROLL_LABEL))
        yield PaperSheet(f"roll_{place}.svg", f"{pack.job}: labels on a roll", *ROLL_LABEL, marks)


def _in_order(pack: ShopPack) -> Iterator[tuple[int, ShopPiece]]:
    numbers = {
        (one.plan.job, one.piece.name): (number.number, one) for number in pack.numbered for one in number.pieces
    }
    for plan in pack.plans:
        for piece in plan.pieces:
            if (plan.job, piece.name) in numbers:
                yield numbers[plan.job, piece.name]


def _label(number: int, one: ShopPiece, x: float, y: float, wide: float, high: float) -> Iterator[Mark[SheetFrame]]:
    """One label in its box: the name large, number, job, room, FACE, UP, its place in the order of fixing."""
    pad, plan, piece = 3.0, one.plan, one.piece
    room = wide - 2 * pad
    yield rectangle(x + 0.5, y + 0.5, wide - 1.0, high - 1.0, Role.GRID)
    name = high * 0.2
    size = fitting(piece.name, name, room - 14.0, bold=True)
    yield Words(piece.name, Point(x + pad, y + high - pad - name), size, bold=True)
    small = sizes.LEAST
    rank = plan.pieces.index(piece) + 1
    setting = TextSetting(leading=1.35, y=y + high - pad - name - small * 1.5)
    setting.line(plan.job, x + pad, small, size=fitting(plan.job, small, room))
    setting.lines(room_words(piece), x + pad, sizes.PRINT, room)
    counted = f"no. {number}, {rank} of {len(plan.pieces)} to fix, tile {piece.piece.tile.name}"
    setting.line(counted, x + pad, small, size=fitting(counted, small, room))
    turned = ", cut turned half round" if one.turned else ""
    state = f"job {plan.fingerprint}, piece {piece.fingerprint}{turned}"
    setting.line(state, x + pad, sizes.PRINT, size=fitting(state, sizes.PRINT, room))
    yield from setting.marks
    yield Words("FACE", Point(x + wide - pad, y + pad), small * 1.2, "end", bold=True)
    arrow = x + wide - pad - 4.0
    yield line(arrow, y + high - pad - 10.0, arrow, y + high - pad - 4.0, Role.ARROW)
    tip = y + high - pad
    yield solid(((arrow, tip), (arrow - 1.8, tip - 4.0), (arrow + 1.8, tip - 4.0)))
    yield Words("UP", Point(arrow - 3.0, tip - 9.0), small, "end", bold=True)
