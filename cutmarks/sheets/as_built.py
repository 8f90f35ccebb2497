"""The job sheet's record of what was found and cut: for whoever has to find the pipe behind the tile."""

from __future__ import annotations

from collections.abc import Iterator

from cutmarks.openings.found import AsFound
from cutmarks.openings.model import Cut, CutPiece
from cutmarks.plan import Plan
from cutmarks.saying.figures import four_measures
from cutmarks.saying.findings import STOP, figures_held
from cutmarks.saying.measures import size_words
from cutmarks.sheets.flow import Block, Cell, Column, TextBlock, heading, paragraph, space, table
from cutmarks.sides import Side
from cutmarks.units import Style, say

_COLUMNS = (
    (("date",), 22.0),
    (("hole",), 26.0),
    (("in the tile",), 26.0),
    (("cut",), 22.0),
    (("its middle from", "the lines, tiles", "as planned"), 42.0),
    (("found",), 34.0),
    (("done",), 14.0),
)


def as_built_blocks(plan: Plan, width: float) -> Iterator[Block]:
    """One row for each hole of which something came back; nothing where nothing did."""
    if not plan.found:
        return
    style = plan.say.style
    factor = width / sum(wide for _, wide in _COLUMNS)
    columns = [Column(title, wide * factor) for title, wide in _COLUMNS]
    band = heading("AS BUILT", width, "what was found at the wall and what was cut: keep it")
    yield band
    yield from table(columns, (_row(plan, one, style) for one in plan.found), (band,))
    for one in plan.found:
        if one.note:
            yield from paragraph(f"{one.hole} in {one.piece}: {one.note}", width)
    yield space(4.0)


def cut_of(plan: Plan, one: AsFound) -> tuple[CutPiece, Cut]:
    """The piece as it was found, and the hole's cut in it. The hole may lie in one part of a piece that is parted."""
    for exact in (True, False):
        for piece in plan.pieces:
            if piece.name == one.piece if exact else piece.name.startswith(one.piece):
                for cut in piece.cuts:
                    if cut.opening.name == one.hole:
                        return piece, cut
    raise LookupError(f"{one.hole} is in no piece called {one.piece}")


def _row(plan: Plan, one: AsFound, style: Style) -> list[Cell]:
    piece, cut = cut_of(plan, one)
    at = cut.opening.at
    measures = four_measures(cut, piece, style)
    left, bottom = measures[Side.LEFT], measures[Side.BOTTOM]
    where = STOP if figures_held(plan, piece) and not one.cut else f"{left} from left, {bottom} from bottom"
    across = f"{say(abs(at.x), style)} {'right' if at.x >= 0 else 'left'}"
    kind = plan.setout(cut.opening.surface).kind
    ways = ("up", "down") if kind == "wall" else ("in", "short")
    up = f"{say(abs(at.y), style)} {ways[0] if at.y >= 0 else ways[1]}"
    found = [
        TextBlock(f"{say(read.found[0], style)} and {say(read.found[1], style)} from the {read.side}")
        for read in one.reads
    ]
    if one.tile is not None:
        found.append(TextBlock(f"tile {say(one.tile[0], style)} x {say(one.tile[1], style)}"))
    return [
        [TextBlock(one.date or "no day")],
        [TextBlock(one.hole, bold=True), TextBlock(cut.opening.what)],
        [TextBlock(piece.name), TextBlock(where)],
        [TextBlock(size_words(cut, piece, style))],
        [TextBlock(f"{across}, {up}"), TextBlock(cut.opening.surface)],
        found or [TextBlock("not read")],
        [TextBlock("CUT" if one.cut else "not yet", bold=one.cut)],
    ]
