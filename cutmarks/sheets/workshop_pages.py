"""The pages of a workshop's pack: the cut list, labels for the dry face, the sheet to sign for what is cut ahead."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec.structs import replace

from cutmarks.geometry.frames import Placement, Point
from cutmarks.geometry.frames import Sheet as SheetFrame
from cutmarks.geometry.rings import Vertex
from cutmarks.marks import sizes
from cutmarks.marks.lettering import fitting, width
from cutmarks.marks.model import Mark, Role, Stroke, Words, WordsAnchor, line, moved, rectangle, solid
from cutmarks.marks.qr import qr_code
from cutmarks.saying.shop import (
    SIGN_FIRST,
    WAIT,
    asked_words,
    cut_round,
    cut_with_words,
    edge_works,
    mass_words,
    not_yet,
    shop_mm,
    to_look_at,
)
from cutmarks.saying.workshop import (
    UP_DOWN,
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
    shared_of,
    shared_pieces,
    straight_rows,
    tile_waits,
    tile_words,
    waits_with_tile,
)
from cutmarks.sheets.flow import Block, Cell, Column, TextBlock, filling, heading, paragraph, space, table
from cutmarks.sheets.job_pages import job_pages
from cutmarks.sheets.model import PaperSheet, Series
from cutmarks.sheets.setting import TextSetting
from cutmarks.workshop.alike import Numbered, ShopPiece
from cutmarks.workshop.pack import ShopPack
from cutmarks.workshop.shared import Lying, SharedTile

LIST_TITLE, SIGN_TITLE, SHARED_TITLE = "CUT LIST", "SIGN-OFF", "SHARED TILES"
A4 = (210.0, 297.0)
LABEL = (63.5, 38.1)
"""A label of the usual A4 sheet of three by seven, mm."""
_COLUMNS, _ROWS, _LEFT, _TOP, _ACROSS = 3, 7, 7.25, 15.15, 66.0
ROLL_LABEL = (100.0, 50.0)
REVISION = (
    "The digits behind a job are its revision: they change with any reading, and an older label, page or list is void; "
    "what was cut by it is not. A new list names finished pieces again: strike them out first, or they are cut twice. "
    'One stays good whose new label has the same digits behind "piece", out of the same tile, thickness and batch, '
    "with the same corners; of any other ask before a second is cut."
)
ON_THE_FACE = "Each label goes on the dry FACE of its piece, its arrow to the head of the drawing"
CHECK = "CHECK"
TO_SIGN_NOT = ""
_HEADS = {
    TO_SIGN_NOT: "Nothing is to be waited for, and nothing signed. Whatever changes comes in a new list.",
    SIGN_FIRST: "Cut by this list once it is signed for on sign-off.pdf; nothing else is to come.",
    WAIT: "Do not cut these yet: what is still read on the wall decides their sizes, and a new list says them; here is "
    "what to expect, for the tiles to be got ready.",
}
"""What stands over the numbers that may be cut, that are signed for first, that wait."""
_KEY = (
    (CHECK, "something to look at while it is cut or carried: it stands on the drawing, and no cut waits for it."),
    (UP_DOWN, "cut as drawn; the arrow of its label points to the foot of the drawing."),
)
"""What the words that stand in a pack mean, one for each thing."""
_SKETCH = 48.0
"""The longer side of a shared tile as it is drawn, mm."""
_NUMBERS, _UP = 4.0, 7.0
"""What the numbers of cuts take beside it, and how long the arrow of a piece is at most, mm."""
_LEAST_LABEL, _TIE, _ARROW = 24.0, 4.0, 11.5
"""A label is cut down to a piece that is narrower than it, as far as its words have room, mm; else it is tied on."""
_ON = "on the"
"""Before FACE: where a label goes."""
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
    kerfs = ", ".join(dict.fromkeys(shop_mm(tile.kerf) for tile in pack.shared))
    said = (
        "Millimetres, FACE up, each tile as it lies here. This is the one order for such a tile: first holes, while it "
        "is whole; then its cuts, each right across the part that it is in; last what is still to be cut of a piece, "
        f"by its own drawing. A figure is the edge of what is kept; the saw's kerf of {kerfs} lies beside it, in what "
        "is not. The arrow in a piece is the UP of its label. With a jet: lay each contour where its piece lies here. "
        "No tile is cut before each of its pieces may be."
    )
    yield from paragraph(said, width)
    yield space(2.0)
    columns = filling(
        (Column(("tile", "(number of each cut)"), _SKETCH + 12.0), Column(("pieces, order",), 94.0)), width
    )
    rows = (((), _shared_words(pack, number, tile)) for number, tile in enumerate(pack.shared, start=1))
    yield from table(columns, rows, sketches=map(_shared_sketch, pack.shared))


def _shared_words(pack: ShopPack, number: int, tile: SharedTile) -> Cell:
    return (
        TextBlock(f"{number}: {tile.tile} {shop_mm(tile.w)} x {shop_mm(tile.h)}, {tile.job}", bold=True),
        *(TextBlock(word, bold=True) for word in tile_waits(tile)),
        *map(TextBlock, shared_pieces(pack, tile)),
        *map(TextBlock, tile_words(pack, tile)),
        TextBlock(left_over_words(tile)),
    )


def _shared_sketch(tile: SharedTile) -> Block:
    """The tile with its pieces as they are cut out of it, the UP and name of each, and the numbers of its cuts."""
    scale = min(_SKETCH / tile.w, _SKETCH / tile.h)
    high, low = tile.h * scale, tile.h * scale + _NUMBERS
    marks: list[Mark[SheetFrame]] = [rectangle(_NUMBERS, -high, tile.w * scale, high, Role.GRID)]
    for here in tile.lying:
        for ring in here.one.piece.outline.rings:
            places = ((*here.place.xy(v.x, v.y), v.bulge) for v in ring.vertices)
            path = tuple(Vertex(_NUMBERS + x * scale, y * scale - high, bulge) for x, y, bulge in places)
            marks.append(Stroke(path, Role.CUT, closed=True))
        marks += _named_up(tile, here, scale, high)
    for number, cut in enumerate(tile.cuts, start=len(tile.cores) + 1):
        across = cut.across
        to_edge = across.start <= 1.0
        along = -_NUMBERS + 0.8 if to_edge else across.start * scale + 0.8
        kept_low = across.at <= across.low
        if across.axis == "across":
            x, y = _NUMBERS + across.at * scale + (-0.6 if kept_low else 0.6), along - high
            anchor: WordsAnchor = "end" if kept_low else "start"
        else:
            x, y = _NUMBERS + along, across.at * scale - high + (-sizes.PRINT - 0.4 if kept_low else 0.6)
            anchor = "start"
        marks.append(Words(str(number), Point(x, y), sizes.PRINT, anchor, bold=True))
    return Block(low, tuple(marks))


def _named_up(tile: SharedTile, here: Lying, scale: float, high: float) -> Iterator[Mark[SheetFrame]]:
    """A piece's name in the middle of it as it lies, and beside that an arrow to its UP."""
    at, name = here.at, tile.pieces[here.at.kind]
    w, h = at.w * scale, at.h * scale
    x, y = _NUMBERS + (at.x + at.w / 2.0) * scale, (at.y + at.h / 2.0) * scale - high
    size = fitting(name, sizes.LEAST, w - 1.0)
    arrow = min(h * 0.5 - size - 0.5, _UP)
    if size < h:
        yield Words(name, Point(x, y - size / 2.0), size, "middle")
    if arrow <= 0.0 or at.turn % 2:
        return
    sign = 1.0 if at.turn == 0 else -1.0
    foot, tip = y + sign * (size * 0.5 + 0.6), y + sign * (size * 0.5 + 0.6 + arrow)
    yield line(x, foot, x, tip - sign * arrow * 0.4, Role.ARROW)
    yield solid(((x, tip), (x - arrow * 0.25, tip - sign * arrow * 0.5), (x + arrow * 0.25, tip - sign * arrow * 0.5)))


def _list_blocks(pack: ShopPack, width: float) -> Iterator[Block]:
    several = len(pack.plans) > 1
    yield from paragraph(f"{LIST_TITLE}: {pack.job}", width, bold=True, height=5.0)
    said = (
        "Millimetres, FACE view, finished sizes, no kerf taken off. A number is one drawing: its pieces are alike. Of "
        f"the labels, on A4 or on a roll, one set is taken. {ON_THE_FACE}."
    )
    if pack.plans[0].shop.jet:
        said += " Jet or saw is the shop's choice: how a saw does it stands beside."
    yield from paragraph(said, width)
    for word, means in _KEY:
        if _stands(pack, word):
            yield from paragraph(f"{word}: {means}", width)
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
    for word, head in ((TO_SIGN_NOT, "CUT NOW"), (SIGN_FIRST, SIGN_FIRST), (WAIT, WAIT)):
        own = [number for number in pack.numbered if _held_by(number.first) == word]
        if own:
            yield space(3.0)
            yield heading(head, width)
            yield from (replace(block, keep=True) for block in paragraph(_HEADS[word], width))
            yield from table(columns, (_list_row(pack, number, several) for number in own))


def _held_by(one: ShopPiece) -> str:
    """Why a piece must not be cut yet; "" where it may be."""
    return not_yet(one.plan, one.piece, to_sign=True)


def _stands(pack: ShopPack, word: str) -> bool:
    """Whether a word of the key is said of any piece of the pack."""
    every = [one for number in pack.numbered for one in number.pieces]
    if word == CHECK:
        return any(to_look_at(one.plan, one.piece) for one in every)
    return any(one.turned for one in every)


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
            *([TextBlock(word, bold=True)] if (word := _held_by(one)) else []),
            *(
                [TextBlock(f"{WAIT} for the rest of {tiles}", bold=True)]
                if (tiles := waits_with_tile(pack, number))
                else []
            ),
            *([TextBlock("CHECK: see its drawing", bold=True)] if to_look_at(one.plan, piece) else []),
        ),
        (
            TextBlock(f"{tile.name} {shop_mm(tile.w)} x {shop_mm(tile.h)}{thick}"),
            TextBlock(f"{shop_mm(box.width)} x {shop_mm(box.height)}", bold=True),
            *([TextBlock(offcut)] if (offcut := offcut_words(pack, number)) else []),
            *([TextBlock(mass)] if (mass := mass_words(one.plan, piece)) else []),
        ),
        (
            *(TextBlock(words) for words in straight_rows(pack, number)),
            TextBlock(cut_words(pack, number)),
            *(TextBlock(words, bold=True) for words in edge_works(piece)),
        ),
        (
            *(TextBlock(hole_words(one, cut)) for cut in piece.cuts),
            *([TextBlock(f"cut to the {round_}")] if (round_ := cut_round(one.plan, piece)) else []),
            TextBlock(cut_with_words(piece, one.plan.shop)),
        ),
    )


def _sign_blocks(pack: ShopPack, width: float) -> Iterator[Block]:
    jobs = ", ".join(dict.fromkeys(one.plan.job for one in pack.ahead))
    yield from paragraph(f"{SIGN_TITLE}: {jobs}", width, bold=True, height=5.0)
    said = (
        "These pieces are cut before the tiles beside them are fixed. Each hangs on the readings beside it. The tiler "
        "fills in what he found and signs; the shop cuts what is signed for. The line at the foot signs for all."
    )
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
    room = tuple(TextBlock("................") for _ in range(_readings(one)))
    return (
        name,
        reads,
        room,
        (TextBlock(read_by(one) or "......................"),),
        (TextBlock("...................."),),
    )


def _readings(one: ShopPiece) -> int:
    """How many readings there is room for: one for each that a piece hangs on, one at least."""
    return max(len(list(hangs_on(one))), 1)


def label_sheets(pack: ShopPack) -> Iterator[PaperSheet]:
    """The labels of all pieces on A4 sheets of three by seven, in the order of fixing in each job."""
    on_sheet = _COLUMNS * _ROWS
    labels = list(_in_order(pack))
    for first in range(0, len(labels), on_sheet):
        head = f"{ON_THE_FACE}; to the foot where it says {UP_DOWN}."
        size = fitting(head, sizes.LEAST, (_COLUMNS - 1) * _ACROSS + LABEL[0])
        marks: list[Mark[SheetFrame]] = [Words(head, Point(_LEFT, A4[1] - _TOP + 3.0), size)]
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
    """One label in its place; upright on a piece that is higher than wide, and too narrow for it as it lies.

    It is cut down to a piece that is narrower, or lower, than it; where its words have no room then, or the piece is
    shorter than its words are long, it is tied on.
    """
    box = one.piece.outline.bounds
    upright = box.width < min(wide, box.height)
    room, long = (box.width, box.height) if upright else (box.height, box.width)
    tied = room < min(high, _LEAST_LABEL) or long < wide
    tall = high - _TIE if tied else min(room, high)
    if upright:
        turned: Placement[SheetFrame, SheetFrame] = Placement.turned(90.0, x + wide, y)
        for mark in _label_words(pack, number, one, 0.0, 0.0, tall, wide):
            yield moved(mark, turned)
    else:
        yield from _label_words(pack, number, one, x, y, wide, tall)
    if tall < high:
        words = "larger than its piece: tie it on" if tied else "cut this off: its piece is narrower"
        size = fitting(words, min(sizes.PRINT, (high - tall) * 0.6), wide - 6.0)
        yield Words(words, Point(x + 3.0, y + (high + tall - size) / 2.0), size)


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
    code, issue = min(wide, high) * _CODE, f", issue {pack.issue}" if pack.issue else ""
    drawn = "" if number.first == one else f", drawn as piece {number.first.piece.fingerprint}"
    low = not upright and high < LABEL[1]  # then the arrow stands beside the code, and not above it
    aside = _ARROW if low else 0.0
    beside = room if upright else room - code - aside
    first_line = y + high - pad - (13.0 + small * 0.8 if upright else name + small * 1.5)
    above = y + pad + code + small * 1.6 if upright else y + pad  # what is to be done first
    # An upright one has room below for a second line; where it has not, a long line is set smaller.
    ways = [(upright, part) for part in (1.0, 0.9, 0.8)] + [(False, part) for part in (1.0, 0.9, 0.8)]
    for in_lines, height in ((in_lines, sizes.PRINT * part) for in_lines, part in ways):
        setting = TextSetting(leading=1.35, y=first_line)
        setting.line(plan.job, x + pad, small, size=fitting(plan.job, small, beside))
        setting.lines(room_words(piece), x + pad, height, beside)
        for words in (
            f"no. {number.number}: {shop_mm(box.width)} x {shop_mm(box.height)}, tile {tile}",
            f"{rank} of {len(plan.pieces)} to fix{drawn}",
            f"job {plan.fingerprint}, piece {piece.fingerprint}{issue}",
        ):
            if in_lines:
                setting.lines(words, x + pad, height, beside)
            else:
                setting.line(words, x + pad, height, size=fitting(words, height, beside))
        if setting.y >= above + small * 1.9:
            break
    yield from setting.marks
    first = list(filter(None, [not_yet(plan, piece, to_sign=True)]))
    look = ["CHECK: see drawing"] if to_look_at(plan, piece) else []
    said = ", ".join([*first, *look, *([UP_DOWN] if one.turned else [])])
    face = width("FACE", small * 1.2, bold=True) + 1.0
    on_face = face + width(_ON, sizes.PRINT) + 1.0
    if said:
        size = fitting(said, small * 1.2, room if upright else room - on_face, bold=True)
        yield Words(said, Point(x + pad, above), size, bold=True)
    yield qr_code(f"{piece.name} {piece.fingerprint}", x + wide - pad - code - aside, y + pad + small * 1.2, code)
    yield Words("FACE", Point(x + wide - pad, y + pad), small * 1.2, "end", bold=True)
    yield Words(_ON, Point(x + wide - pad - face, y + pad), sizes.PRINT, "end")
    arrow = x + wide - pad - 4.0
    yield line(arrow, y + high - pad - 10.0, arrow, y + high - pad - 4.0, Role.ARROW)
    tip = y + high - pad
    yield solid(((arrow, tip), (arrow - 1.8, tip - 4.0), (arrow + 1.8, tip - 4.0)))
    below: Point[SheetFrame] = Point(arrow + 2.0, tip - 13.0)
    yield Words("UP", below if upright else Point(arrow - 3.0, tip - 9.0), small, "end", bold=True)
