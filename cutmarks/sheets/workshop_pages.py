"""The pages of a workshop's pack: the cut list, labels for the dry face, the sheet to sign for what is cut ahead."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec.structs import replace

from cutmarks.geometry.frames import Placement, Point
from cutmarks.geometry.frames import Sheet as SheetFrame
from cutmarks.marks import sizes
from cutmarks.marks.lettering import fitting
from cutmarks.marks.model import Mark, Role, Words, line, moved, rectangle, solid
from cutmarks.marks.qr import qr_code
from cutmarks.saying.shop import (
    asked_words,
    cut_with_words,
    edge_works,
    mass_words,
    measured_later,
    shop_mm,
    to_look_at,
)
from cutmarks.saying.workshop import (
    count_words,
    cut_words,
    hangs_on,
    hole_words,
    job_words,
    left_over_words,
    offcut_words,
    pieces_words,
    read_by,
    room_words,
    shared_cuts,
    shared_of,
    shared_pieces,
    signed_words,
    straight_words,
)
from cutmarks.sheets.flow import Block, Cell, Column, TextBlock, filling, heading, paragraph, space, table
from cutmarks.sheets.job_pages import job_pages
from cutmarks.sheets.model import PaperSheet, Series
from cutmarks.sheets.setting import TextSetting
from cutmarks.workshop.alike import Numbered, ShopPiece
from cutmarks.workshop.pack import SharedTile, ShopPack

LIST_TITLE, SIGN_TITLE, SHARED_TITLE = "CUT LIST", "SIGN-OFF", "SHARED TILES"
A4 = (210.0, 297.0)
LABEL = (63.5, 38.1)
"""A label of the usual A4 sheet of three by seven, mm."""
_COLUMNS, _ROWS, _LEFT, _TOP, _ACROSS = 3, 7, 7.25, 15.15, 66.0
ROLL_LABEL = (100.0, 50.0)
REVISION = (
    "The digits behind a job are its revision: they change with any reading. Where a label, a page or a new list has "
    "others, the older is void."
)
_SKETCH = 48.0
"""The longer side of a shared tile as it is drawn, mm."""
_CODE = 0.47
"""The QR code with its white margin, as a part of a label's height."""


def cut_list_pages(pack: ShopPack) -> Series:
    """The cut list, a row a number, in the order of tile and saw setting."""
    return job_pages(pack, LIST_TITLE, "cut_list_{}.svg", lambda width: _list_blocks(pack, width))


def sign_off_pages(pack: ShopPack) -> Series:
    """What is cut ahead, each piece with the readings that it hangs on, and room to sign."""
    return job_pages(pack, SIGN_TITLE, "sign_off_{}.svg", lambda width: _sign_blocks(pack, width))


def shared_pages(pack: ShopPack) -> Series:
    """The tiles that give several pieces: where these lie, and the cuts in their order."""
    return job_pages(pack, SHARED_TITLE, "shared_tiles_{}.svg", lambda width: _shared_blocks(pack, width))


def _shared_blocks(pack: ShopPack, width: float) -> Iterator[Block]:
    yield from paragraph(f"{SHARED_TITLE}: {pack.job}", width, bold=True, height=5.0)
    said = (
        "Millimetres, FACE view, as the tile lies. Each cut goes right through what holds together there; a piece's "
        "own shape is cut from its rectangle by its drawing, tapers too. Each figure is an edge of what is "
        "kept, and the kerf lies beside it in what is not. UP is that of the piece's own label. No tile is cut before "
        "each of its pieces may be."
    )
    yield from paragraph(said, width)
    yield space(2.0)
    columns = filling((Column(("tile",), _SKETCH + 6.0), Column(("pieces, cuts in order",), 100.0)), width)
    rows = (((), _shared_words(pack, number, tile)) for number, tile in enumerate(pack.shared, start=1))
    yield from table(columns, rows, sketches=map(_shared_sketch, pack.shared))


def _shared_words(pack: ShopPack, number: int, tile: SharedTile) -> Cell:
    return (
        TextBlock(f"{number}: {tile.tile} {shop_mm(tile.w)} x {shop_mm(tile.h)}, {tile.job}", bold=True),
        *map(TextBlock, shared_pieces(pack, tile)),
        *map(TextBlock, shared_cuts(pack, tile)),
        TextBlock(left_over_words(tile)),
    )


def _shared_sketch(tile: SharedTile) -> Block:
    """The tile with its pieces in it, their names where they have room."""
    scale = min(_SKETCH / tile.w, _SKETCH / tile.h)
    high = tile.h * scale
    marks: list[Mark[SheetFrame]] = [rectangle(0.0, -high, tile.w * scale, high, Role.GRID)]
    for one in tile.layout.pieces:
        x, y, w, h = (mm * scale for mm in (one.x, one.y, one.w, one.h))
        marks.append(rectangle(x, y - high, w, h, Role.CUT))
        name = tile.pieces[one.kind]
        size = fitting(name, sizes.LEAST, w - 1.0)
        if size < h:
            marks.append(Words(name, Point(x + w / 2.0, y - high + h / 2.0 - size / 2.0), size, "middle"))
    return Block(high, tuple(marks))


def _list_blocks(pack: ShopPack, width: float) -> Iterator[Block]:
    several = len(pack.plans) > 1
    yield from paragraph(f"{LIST_TITLE}: {pack.job}", width, bold=True, height=5.0)
    said = "Millimetres, FACE view, finished sizes, no kerf taken off. A number is one drawing: its pieces are alike."
    yield from paragraph(said, width)
    yield space(2.0)
    yield from _what_it_comes_to(pack, width)
    yield space(2.0)
    columns = filling(
        (
            Column(("no.",), 10.0, "end"),
            Column(("off",), 9.0, "end"),
            Column(("pieces",), 38.0),
            Column(("tile, size over all",), 36.0),
            Column(("straight cuts, edges", "(kept + kerf + off", "= whole tile)"), 52.0),
            Column(("holes and notches,", "what it is cut with"), 48.0),
        ),
        width,
    )
    now = [number for number in pack.numbered if not number.first.waits]
    later = pack.numbered[len(now) :]
    if now:
        yield from table(columns, (_list_row(pack, number, several) for number in now))
    if later:
        yield space(3.0)
        yield heading("WAIT", width)
        said = measured_later(later[0].first.plan, later[0].first.piece)
        yield from (replace(block, keep=True) for block in paragraph(f"Each of these: {said}.", width))
        yield from table(columns, (_list_row(pack, number, several) for number in later))


def _what_it_comes_to(pack: ShopPack, width: float) -> Iterator[Block]:
    yield heading("JOBS", width)
    for words in job_words(pack):
        yield from paragraph(words, width)
    yield from paragraph(REVISION, width)
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
        (
            TextBlock(pieces_words(number, several)),
            *([TextBlock("WAIT", bold=True)] if one.waits else []),
            *([TextBlock("CHECK: see its drawing", bold=True)] if to_look_at(one.plan, piece) else []),
            *([TextBlock(f"SIGN FIRST: {signed}", bold=True)] if (signed := signed_words(number)) else []),
        ),
        (
            TextBlock(f"{tile.name} {shop_mm(tile.w)} x {shop_mm(tile.h)}{thick}"),
            TextBlock(f"{shop_mm(box.width)} x {shop_mm(box.height)}", bold=True),
            *([TextBlock(offcut)] if (offcut := offcut_words(pack, number)) else []),
            *([TextBlock(mass)] if (mass := mass_words(one.plan, piece)) else []),
        ),
        (
            *(TextBlock(words) for words in straight_words(one)),
            TextBlock(cut_words(pack, number)),
            *(TextBlock(words, bold=True) for words in edge_works(piece)),
        ),
        (*(TextBlock(hole_words(one, cut)) for cut in piece.cuts), TextBlock(cut_with_words(piece, one.plan.shop))),
    )


def _sign_blocks(pack: ShopPack, width: float) -> Iterator[Block]:
    yield from paragraph(f"{SIGN_TITLE}: {pack.job}", width, bold=True, height=5.0)
    said = "These pieces are cut before they are measured again at the wall. Each hangs on the readings beside it."
    yield from paragraph(said, width)
    for words in dict.fromkeys(
        f"{one.plan.job}: job {one.plan.fingerprint}; ask {asked_words(one.plan)}" for one in pack.ahead
    ):
        yield from paragraph(words, width)
    yield space(2.0)
    columns = filling(
        (
            Column(("piece",), 34.0),
            Column(("hangs on",), 70.0),
            Column(("found",), 24.0),
            Column(("read by, when",), 30.0),
            Column(("signed",), 28.0),
        ),
        width,
    )
    ahead = ((number, one) for number, one in _in_order(pack) if one.plan.say.cut == "ahead")
    yield from table(columns, (_sign_row(number.number, one) for number, one in ahead))
    yield space(6.0)
    yield from paragraph("Cut as listed, and not to be changed without a new list.", width, bold=True)
    yield Block(16.0, (line(0.0, -13.0, 80.0, -13.0, Role.BOX), line(100.0, -13.0, width, -13.0, Role.BOX)), keep=True)
    name: Mark[SheetFrame] = Words("name", Point(0.0, -3.0), sizes.LEAST)
    signed: Mark[SheetFrame] = Words("date, signature", Point(100.0, -3.0), sizes.LEAST)
    yield Block(6.0, (name, signed))


def _sign_row(number: int, one: ShopPiece) -> Sequence[Cell]:
    name = (
        TextBlock(f"{one.piece.name}, no. {number}", bold=True),
        TextBlock(f"{one.plan.job}, {one.piece.piece.surface}"),
        TextBlock(f"job {one.plan.fingerprint}"),
        TextBlock(f"piece {one.piece.fingerprint}"),
    )
    reads = tuple(TextBlock(words) for words in hangs_on(one)) or (TextBlock("nothing"),)
    return (
        name,
        reads,
        (TextBlock("................"),),
        (TextBlock(read_by(one) or "......................"),),
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
            marks += _label(pack, number, one, x, y, *LABEL)
        yield PaperSheet(f"labels_{first // on_sheet + 1}.svg", f"{pack.job}: labels", *A4, tuple(marks))


def roll_labels(pack: ShopPack) -> Iterator[PaperSheet]:
    """The same for a roll, a page a label."""
    for place, (number, one) in enumerate(_in_order(pack), start=1):
        marks = tuple(_label(pack, number, one, 0.0, 0.0, *ROLL_LABEL))
        yield PaperSheet(f"roll_{place}.svg", f"{pack.job}: labels on a roll", *ROLL_LABEL, marks)


def _in_order(pack: ShopPack) -> Iterator[tuple[Numbered, ShopPiece]]:
    numbers = {(one.plan.job, one.piece.name): (number, one) for number in pack.numbered for one in number.pieces}
    for plan in pack.plans:
        for piece in plan.pieces:
            if (plan.job, piece.name) in numbers:
                yield numbers[plan.job, piece.name]


def _label(
    pack: ShopPack, number: Numbered, one: ShopPiece, x: float, y: float, wide: float, high: float
) -> Iterator[Mark[SheetFrame]]:
    """One label in its place; upright on a piece that is higher than wide, and too narrow for it as it lies."""
    box = one.piece.outline.bounds
    if box.width >= min(wide, box.height):
        yield from _label_words(pack, number, one, x, y, wide, high)
        return
    turned: Placement[SheetFrame, SheetFrame] = Placement.turned(90.0, x + wide, y)
    for mark in _label_words(pack, number, one, 0.0, 0.0, high, wide):
        yield moved(mark, turned)


def _label_words(
    pack: ShopPack, number: Numbered, one: ShopPiece, x: float, y: float, wide: float, high: float
) -> Iterator[Mark[SheetFrame]]:
    """A label in its box: the name large, number, size, job, room, FACE, UP, its place in the order of fixing.

    Of a piece that waits, is signed for first, or has something to be checked, that too. A QR code beside the words,
    below them on an upright label, has its name and its digits.
    """
    pad, plan, piece, box = 3.0, one.plan, one.piece, one.piece.outline.bounds
    room, upright = wide - 2 * pad, high > wide
    yield rectangle(x + 0.5, y + 0.5, wide - 1.0, high - 1.0, Role.GRID)
    name = min(wide, high) * 0.2
    size = fitting(piece.name, name, room - (9.0 if upright else 14.0), bold=True)
    yield Words(piece.name, Point(x + pad, y + high - pad - name), size, bold=True)
    small = sizes.LEAST
    shared = shared_of(pack, one)
    tile = piece.piece.tile.name if shared is None else f"{piece.piece.tile.name}, shared {shared}"
    rank = plan.pieces.index(piece) + 1
    code = min(wide, high) * _CODE
    beside = room if upright else room - code
    first_line = y + high - pad - (13.0 + small * 0.8 if upright else name + small * 1.5)
    above = y + pad + code + small * 1.6 if upright else y + pad  # what is to be done first
    for height in (sizes.PRINT, sizes.PRINT * 0.9, sizes.PRINT * 0.8):
        setting = TextSetting(leading=1.35, y=first_line)
        setting.line(plan.job, x + pad, small, size=fitting(plan.job, small, beside))
        setting.lines(room_words(piece), x + pad, height, beside)
        for words in (
            f"no. {number.number}: {shop_mm(box.width)} x {shop_mm(box.height)}, tile {tile}",
            f"{rank} of {len(plan.pieces)} to fix, drawing {number.first.piece.fingerprint}",
            f"job {plan.fingerprint}, piece {piece.fingerprint}",
        ):
            setting.line(words, x + pad, height, size=fitting(words, height, beside))
        if setting.y >= above + small * 1.9:
            break
    yield from setting.marks
    first = [*(["WAIT: read first"] if one.waits else []), *(["SIGN FIRST"] if plan.say.cut == "ahead" else [])]
    look = ["CHECK: see drawing"] if to_look_at(plan, piece) else []
    said = ", ".join([*first, *look, *(["UP is down on its drawing"] if one.turned else [])])
    if said:
        size = fitting(said, small * 1.2, room if upright else room - 14.0, bold=True)
        yield Words(said, Point(x + pad, above), size, bold=True)
    yield qr_code(f"{piece.name} {piece.fingerprint}", x + wide - pad - code, y + pad + small * 1.2, code)
    yield Words("FACE", Point(x + wide - pad, y + pad), small * 1.2, "end", bold=True)
    arrow = x + wide - pad - 4.0
    yield line(arrow, y + high - pad - 10.0, arrow, y + high - pad - 4.0, Role.ARROW)
    tip = y + high - pad
    yield solid(((arrow, tip), (arrow - 1.8, tip - 4.0), (arrow + 1.8, tip - 4.0)))
    below: Point[SheetFrame] = Point(arrow + 2.0, tip - 13.0)
    yield Words("UP", below if upright else Point(arrow - 3.0, tip - 9.0), small, "end", bold=True)
