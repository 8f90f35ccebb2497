"""The drawing that goes to a shop with each DXF: one page that leaves nothing to be asked.

The piece with its measures stands on top, under it what to make, what to check, how it is cut. NOT TO SCALE: the DXF
beside it has the contours.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec import Struct

from cutmarks.cutting.model import Cutting
from cutmarks.geometry.frames import Page, Placement, Point
from cutmarks.geometry.frames import Sheet as SheetFrame
from cutmarks.marks import sizes
from cutmarks.marks.lettering import fitting, width
from cutmarks.marks.model import Mark, Role, Words, line, moved, rectangle, solid
from cutmarks.marks.piece_drawing import corner_checks, numbered_corners, pattern_arrow, piece_drawing
from cutmarks.openings.model import CutPiece
from cutmarks.plan import Plan
from cutmarks.saying.datum import datum_of
from cutmarks.saying.how_cut import how_lines, to_cut
from cutmarks.saying.shop import (
    TENTHS,
    WHOLE_TILE,
    asked_words,
    check_rows,
    edge_rows,
    is_worked,
    look_rows,
    make_rows,
    shop_mm,
    stock_of,
)
from cutmarks.sheets.flow import PROVENANCE, SMALL
from cutmarks.sheets.job_pages import page_paper
from cutmarks.sheets.model import PaperSheet
from cutmarks.sheets.setting import TextSetting

SIDE, FOOT, TOP = 13.0, 12.0, 12.0
_SETTINGS = (
    (122.0, sizes.BODY),
    (122.0, sizes.LEAST),
    (100.0, sizes.LEAST),
    (84.0, sizes.LEAST),
    (84.0, sizes.PRINT),
    (74.0, sizes.PRINT * 0.8),
    (74.0, sizes.PRINT * 0.6),
)
"""How high the drawing is at least and how large the words, mm, from the roomiest on."""
_LEADING = 1.55
_CAPTION, _HEADLINE = 8.5, 3.0
"""What the words at the foot of the drawing take, and FACE at its top beside the measures, mm."""


class OnPage(Struct, frozen=True):
    """What a page is about: so many pieces that are cut alike, and their names; the first of them is drawn.

    dxf      the file that it belongs to.
    number   of them in a workshop's list; None: in none. out_of: the tiles that they come out of.
    signed   which must not be cut before they are signed for.
    waits_with  the shared tiles of which another piece must not be cut yet; "" for none.
    issue    a date or a number that the pack goes by; "": none.
    ways     how its pieces are cut, each way with what stands over it; (): all out of whole tiles.
    """

    count: int
    names: str
    dxf: str
    number: int | None = None
    out_of: str = WHOLE_TILE
    signed: str = ""
    ways: tuple[tuple[str, tuple[str, ...]], ...] = ()
    issue: str = ""
    waits_with: str = ""


def piece_page(plan: Plan, piece: CutPiece, cutting: Cutting, file: str, about: OnPage) -> PaperSheet:
    """The page of a piece, called `file`."""
    paper = page_paper(plan.say)
    marks = tuple(_marks(plan, piece, about, cutting, paper.width, paper.height))
    return PaperSheet(file, f"{plan.job}: {piece.name} for the shop", paper.width, paper.height, marks)


def _marks(
    plan: Plan, piece: CutPiece, about: OnPage, cutting: Cutting, wide: float, high: float
) -> Iterator[Mark[SheetFrame]]:
    room, top = wide - 2 * SIDE, high - TOP
    yield from _head(plan, piece, about, top, room)
    drawing, words = _fitted(plan, piece, about, cutting, top - 20.0, room)
    low = top - 20.0 - drawing
    to_paper: Placement[Page, SheetFrame] = Placement.shift(SIDE, low + _CAPTION)
    yield rectangle(SIDE, low, room, drawing, Role.BOX)
    for mark in piece_drawing(piece, cutting, room, drawing - _CAPTION - _HEADLINE):
        yield moved(mark, to_paper)
    yield from _ways(plan, piece, low, room, drawing)
    yield from words
    yield line(SIDE, FOOT + 4.0, wide - SIDE, FOOT + 4.0, Role.BOX)
    foot = f"job {plan.fingerprint}, piece {piece.fingerprint}; contours: {about.dxf}"
    foot += f"; issue {about.issue}" if about.issue else ""
    yield Words(foot, Point(SIDE, FOOT), fitting(foot, PROVENANCE, room))


def _head(plan: Plan, piece: CutPiece, about: OnPage, top: float, room: float) -> Iterator[Mark[SheetFrame]]:
    name = sizes.capitals(26.0)
    shop = f"for {plan.shop.name}" if plan.shop.name else "for the shop"
    said = piece.name if about.number is None else f"no. {about.number}   {piece.name}"
    yield Words(said, Point(SIDE, top - name), fitting(said, name, room * 0.7, bold=True), bold=True)
    right = SIDE + room
    yield Words("millimetres, NOT TO SCALE", Point(right, top - SMALL), SMALL, "end", bold=True)
    yield Words(shop, Point(right, top - SMALL * 2.8), SMALL, "end")
    where = f"{plan.job}: {piece.piece.surface}, {piece.words}"
    yield Words(where, Point(SIDE, top - name - SMALL * 2.4), fitting(where, SMALL, room))


def _ways(plan: Plan, piece: CutPiece, low: float, room: float, high: float) -> Iterator[Mark[SheetFrame]]:
    """FACE, UP and the arrow of the pattern, in the corners of the drawing; what it is measured from."""
    top = low + high
    face = sizes.capitals(20.0)
    yield Words("FACE", Point(SIDE + 2.0, top - face - 2.0), face, bold=True)
    yield Words("the side you see", Point(SIDE + 2.0, top - face - 2.0 - SMALL * 1.6), SMALL)
    x = SIDE + room - 8.0
    yield line(x, top - 16.0, x, top - 6.0, Role.ARROW)
    yield solid(((x, top - 2.0), (x - 2.4, top - 7.0), (x + 2.4, top - 7.0)))
    yield Words("UP", Point(x, top - 21.0), SMALL * 1.4, "middle", bold=True)
    along = stock_of(plan, piece).along
    if along is not None:
        level = (piece.piece.tile.w >= piece.piece.tile.h) == (along == "long")
        arrow: Placement[Page, SheetFrame] = Placement.shift(0.0, 0.0)
        for mark in pattern_arrow(SIDE + room - 14.0, low + 11.0, 16.0, level=level):
            yield moved(mark, arrow)
        yield Words("PATTERN", Point(SIDE + room - 4.0, low + 2.0), SMALL, "end", bold=True)
    datum = datum_of(piece)
    edges = [f"the {one} edge{' (trimmed)' if one in datum.trimmed else ''}" for one in (datum.across, datum.up)]
    legend = "thick: cut; thick chain: maker's edge; thin chain: the whole tile"
    yield Words(legend, Point(SIDE + 2.0, low + 2.0 + SMALL * 1.7), SMALL)
    yield Words(f"measured from {' and '.join(edges)}", Point(SIDE + 2.0, low + 2.0), SMALL, bold=True)


def measured_words(piece: CutPiece, cutting: Cutting, outline: float) -> Iterator[str]:
    """What is measured between the numbered corners: "corners 1 to 2: 360.6 ±0.5"; `outline` is its tolerance, mm.

    Of a tile that is cut at neither corner it is the tile's own, as its maker made it.
    """
    checks = corner_checks(piece, cutting)
    numbers = numbered_corners(checks)
    for one in checks:
        before = ", as before it is notched" if one.before else ""
        out = one.may_be_out(piece, outline)
        own = f" \u00b1{shop_mm(out)}" if out else ", the tile's own"
        yield f"corners {numbers[one.first]} to {numbers[one.second]}: {shop_mm(one.mm)}{own}{before}"


def _fitted(
    plan: Plan, piece: CutPiece, about: OnPage, cutting: Cutting, top: float, room: float
) -> tuple[float, Sequence[Mark[SheetFrame]]]:
    """How high the drawing is, and the words under it: in the first way in which all of them have room.

    What the words leave of the page the drawing has as well, up to the highest.
    """
    for drawing, height in _SETTINGS:
        setting = _words(plan, piece, about, cutting, top - drawing - 4.0, room, height)
        if setting.y >= FOOT + 6.0:
            break
    highest, _ = _SETTINGS[0]
    more = min(max(setting.y - FOOT - 6.0, 0.0), highest - drawing)
    lower: Placement[SheetFrame, SheetFrame] = Placement.shift(0.0, -more)
    return drawing + more, [moved(mark, lower) for mark in setting.marks]


def _words(
    plan: Plan, piece: CutPiece, about: OnPage, cutting: Cutting, top: float, room: float, height: float
) -> TextSetting:
    rows = [
        *make_rows(plan, piece, f"{about.count} off: {about.names}", about.out_of, about.signed, about.waits_with),
        *edge_rows(plan, piece),
        *check_rows(plan, piece, cutting, list(measured_words(piece, cutting, plan.shop.outline))),
        ("ask", asked_words(plan)),
        *look_rows(plan, piece, signed=bool(about.signed)),
        *(("note", note) for note in piece.notes),
    ]
    setting = TextSetting(leading=_LEADING, y=top)
    label = max(width(name, height, bold=True) for name, _ in rows) + 3.0
    for name, words in rows:
        setting.lines(words, SIDE + label, height, room - label, label=name, label_x=SIDE)
    ways = about.ways or (("", tuple(how_lines(to_cut(plan, piece), piece, TENTHS))),)
    if any(where or how for where, how in ways):
        setting.gap(height)
        setting.line(
            "IF IT IS CUT WITH A SAW (as the shop likes)" if plan.shop.jet else "HOW IT IS CUT WITH A SAW",
            SIDE,
            height,
            bold=True,
        )
        for words in (words for where, how in ways for words in (*filter(None, [where]), *how)):
            setting.lines(words, SIDE, height, room)
        if is_worked(piece) and plan.shop.edge_work is not False:
            setting.lines("Last the edges, as said above.", SIDE, height, room)
    return setting
