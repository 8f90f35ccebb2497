"""The front sheet: how to print, how to use a sheet, a map of all sheets, and every hole with its measures."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from cutmarks.geometry.frames import Page, Placement, Point
from cutmarks.geometry.frames import Sheet as SheetFrame
from cutmarks.geometry.rings import Vertex
from cutmarks.marks.model import Mark, Role, Stroke, Words, line, moved
from cutmarks.marks.sheet_map import sheet_map
from cutmarks.openings.model import CutPiece
from cutmarks.plan import Plan, SurfacePlan, paper_of
from cutmarks.registering.model import Registration
from cutmarks.registering.paper import FOOT, Paper
from cutmarks.saying.cuts import mark_rows
from cutmarks.saying.measures import size_words
from cutmarks.saying.seen import seen
from cutmarks.saying.trust import paper_words, printed_how
from cutmarks.sheets.flow import (
    BODY,
    Block,
    Cell,
    Column,
    TextBlock,
    heading,
    on_page,
    paginate,
    paragraph,
    placed,
    space,
    table,
)
from cutmarks.sheets.furniture import bar_marks, bars, corner_marks, small_print
from cutmarks.sheets.model import PaperSheet, Series
from cutmarks.units import Unit

CARD = (85.60, 53.98)
"""An identity or bank card, ID-1 of ISO/IEC 7810, mm."""
CARD_CORNER = 3.18
"""Radius of its corners, mm (the same standard: 2.88 to 3.48)."""
BARE_WALL = (
    "All READ is done on the bare wall or floor, before adhesive is combed over the line. The sheets are in the order "
    "of fixing: what a sheet reads from is there when its tile goes up."
)
_MAP_HEIGHT = 87.0
_LEAST_MAP = 55.0
_IN = 2.0
_QUARTER = math.tan(math.radians(90.0) / 4)
"""Bulge of a quarter circle."""
_BESIDE_CARD = 5.0


@dataclass(frozen=True, slots=True)
class Listed:
    """One template with the number of its first sheet and that of its last."""

    registration: Registration
    first: int
    last: int

    @property
    def sheets(self) -> str:
        """Its sheets in words: "3", "3 to 8"."""
        return str(self.first) if self.first == self.last else f"{self.first} to {self.last}"


def front_sheets(plan: Plan, listed: Sequence[Listed]) -> Series:
    """The front sheet, going on over as many pages as its lists take; none where the job has no template."""
    paper = paper_of(plan.say)
    return Series(
        (paper.width, paper.height),
        lambda: _bodies(plan, listed, paper),
        lambda number, count: _around(plan, listed, paper, number, count),
    )


def _bodies(plan: Plan, listed: Sequence[Listed], paper: Paper) -> Iterator[tuple[Mark[SheetFrame], ...]]:
    if not listed:
        return
    top = paper.height - paper.margin - _IN
    blocks = _blocks(plan, listed, paper, paper.view_width - _IN)
    for page in paginate(blocks, paper.safe_height - FOOT - 2 * _IN):
        yield tuple(on_page(page, paper.margin + _IN, top))


def _around(plan: Plan, listed: Sequence[Listed], paper: Paper, number: int, count: int) -> PaperSheet:
    total = listed[-1].last
    of = f"FRONT SHEET, page {number} of {count}, for {total} {'sheet' if total == 1 else 'sheets'}"
    small = (f"{plan.job} \u00b7 {of} \u00b7 {paper.name} \u00b7 job {plan.fingerprint}", printed_how(plan))
    marks = (
        *corner_marks(paper),
        *bar_marks(paper, plan.say.style, "right"),
        *small_print(paper, small, "right"),
    )
    return PaperSheet(f"front_{number}.svg", f"{plan.job}: {of}", paper.width, paper.height, marks)


def _blocks(plan: Plan, listed: Sequence[Listed], paper: Paper, width: float) -> Iterator[Block]:
    for one in paragraph(plan.job, width - 55.0, bold=True, height=5.0):
        yield replace(one, keep=True)
    yield Block(0.0, (Words("FRONT SHEET", Point(width, 6.4), 3.6, "end", bold=True),), keep=True)
    yield space(1.0)
    yield heading("HOW TO PRINT", width)
    yield _with_card(_how_to_print(plan, paper), width)
    yield space(2.0)
    yield heading("HOW TO USE A SHEET", width)
    for sentence in _how_to_use(listed):
        yield from paragraph(sentence, width, label="-", indent=3.0)
    yield space(2.0)
    numbers = _numbers(listed)
    for surface in plan.surfaces:
        if any(piece.piece.surface == surface.setout.name and piece.name in numbers for piece in plan.pieces):
            yield heading(f"SHEETS: {surface.setout.name.upper()}", width, "the numbers are those of the sheets")
            yield _map(plan, surface, numbers, width)
            yield space(2.0)
    yield from _holes(plan, listed, width)


def _how_to_print(plan: Plan, paper: Paper) -> tuple[str, ...]:
    style = plan.say.style
    across, along = bars(paper, style)
    close = "1/32 in" if style.unit is Unit.INCH else "\u00bd"
    return (
        f"Print pack.pdf on {paper.name} at 100 %, actual size. Fit to page, shrink and borderless off; one side only.",
        "Measure both bars before the first cut and write down what you found. "
        f"More than {close} off {across.figure} or {along.figure}: print again; still off: have the printer measured.",
        "All four corner marks are there? One missing means that the sheet was clipped.",
        "A bank or identity card lies exactly in this outline.",
        "The SVG files are for plotters and CAD: do not print them from a browser.",
    )


def _how_to_use(listed: Sequence[Listed]) -> Iterator[str]:
    yield (
        "The lines marked LINE UP are the tile's own edges, not the paper's: fold the sheet back along them, lay the "
        "folds on the tile's edges, and tape it on."
    )
    yield BARE_WALL
    yield (
        "READ FIRST: both sides differ alike where the tiles have crept. Fold at a + tick for more, at a \u2212 tick "
        "for less. If the two sides differ by something else, or by more than the ticks go: measure again."
    )
    yield "Mark through the paper, then take it off, or put clear tape over it: ink runs under a wet core."
    yield "UP is up in place. FACE is the side you see. The figures win over the paper: check them with the tape."
    if any(one.registration.back for one in listed):
        yield (
            "BACK - MIRRORED in a black band: that sheet lies on the back of the tile, UP still up. "
            "Never lay it on the face."
        )
    if any(one.registration.tape for one in listed):
        yield "TAPE: mark that measure on the tile by tape, and lay the sheet's chain line on the mark."
    if any(one.registration.how == "joined" for one in listed):
        yield (
            "JOINED: cut the sheet that says so along its line and lay it on the other's line, cross on cross; the "
            "figures at the joins must be alike. Lay both edges on the tile first. The longest ticks of the two scales "
            "meet; where the third ticks meet instead, the sheet is 0.3 mm out along the join."
        )
    yield "STOP in a black band: do not cut until the job is changed, or the finding accepted with a reason."


def _with_card(sentences: Sequence[str], width: float) -> Block:
    """The card's outline at the right, the sentences beside it."""
    card_w, card_h = CARD
    room = width - card_w - _BESIDE_CARD
    marks: list[Mark[SheetFrame]] = []
    y = 0.0
    for sentence in sentences:
        for one in paragraph(sentence, room, label="-", indent=3.0):
            marks += placed(one, 0.0, y)
            y -= one.height
        y -= 1.0
    left = width - card_w
    marks += [_card(left, -card_h - 1.0)]
    middle: Point[SheetFrame] = Point(left + card_w / 2, -card_h / 2)
    marks.append(Words("POCKET GAUGE", middle, 3.0, "middle", bold=True))
    marks.append(Words("a bank or identity card, 85.60 x 53.98", Point(middle.x, middle.y - 5.0), BODY, "middle"))
    return Block(max(-y, card_h + 2.0), tuple(marks))


def _card(x: float, y: float) -> Stroke[SheetFrame]:
    """The outline of the card, (x, y) the bottom-left corner of its box."""
    w, h = CARD
    r = CARD_CORNER
    corners = (
        Vertex(x + r, y),
        Vertex(x + w - r, y, _QUARTER),
        Vertex(x + w, y + r),
        Vertex(x + w, y + h - r, _QUARTER),
        Vertex(x + w - r, y + h),
        Vertex(x + r, y + h, _QUARTER),
        Vertex(x, y + h - r),
        Vertex(x, y + r, _QUARTER),
    )
    return Stroke(corners, Role.BAR, closed=True)


def _numbers(listed: Sequence[Listed]) -> dict[str, str]:
    """For each piece's name its sheets in words."""
    found: dict[str, list[str]] = {}
    for one in listed:
        found.setdefault(one.registration.piece, []).append(one.sheets)
    return {piece: ", ".join(sheets) for piece, sheets in found.items()}


def _map(plan: Plan, surface: SurfacePlan, numbers: Mapping[str, str], width: float) -> Block:
    def drawn(height: float) -> Iterator[Mark[SheetFrame]]:
        down: Placement[Page, SheetFrame] = Placement.shift(0.0, -height)
        return (moved(mark, down) for mark in sheet_map(plan, surface, numbers, width, height))

    return Block(_MAP_HEIGHT, picture=drawn, least=_LEAST_MAP)


def _holes(plan: Plan, listed: Sequence[Listed], width: float) -> Iterator[Block]:
    band = heading("HOLES", width, "marked from the two edges that lie against fixed work")
    shares = (("sheet", 13.0), ("tile", 33.0), ("face", 12.0), ("hole", 28.0), ("mark", 58.0), ("cut", 38.0))
    scale = width / sum(share for _, share in shares)
    columns = [Column((title,), share * scale) for title, share in shares]
    pieces = {piece.name: piece for piece in plan.pieces}
    yield band
    yield from table(columns, _hole_rows(plan, listed, pieces), (band,))
    yield Block(1.0, (line(0.0, -0.5, width, -0.5, Role.BOX),))


def _hole_rows(plan: Plan, listed: Sequence[Listed], pieces: Mapping[str, CutPiece]) -> Iterator[list[Cell]]:
    for one in listed:
        sheet = one.registration
        shown = seen(plan, pieces[sheet.piece], sheet)
        for cut in shown.cuts:
            marked = [TextBlock(f"{figure} {words}") for figure, words in mark_rows(shown, cut)]
            if shown.stopped:
                marked = [TextBlock("STOP: not to be cut", bold=True)]
            yield [
                [TextBlock(one.sheets, bold=True)],
                [TextBlock(sheet.piece, bold=True)],
                [TextBlock("BACK" if sheet.back else "FACE", bold=sheet.back)],
                [TextBlock(cut.opening.name)],
                marked,
                [TextBlock(size_words(cut, shown.piece, shown.style)), TextBlock(paper_words(shown, cut), height=1.8)],
            ]
