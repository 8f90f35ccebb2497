"""The job sheet's counts: how many tiles of each area are whole, cut, cut round something."""

from __future__ import annotations

from collections.abc import Iterator

from cutmarks.plan import AreaPlan, Plan
from cutmarks.saying.dialect import wording
from cutmarks.saying.figures import size
from cutmarks.sheets.flow import BODY, SMALL, Block, Cell, Column, TextBlock, heading, paragraph, space, table
from cutmarks.units import Style, say


def counts_blocks(plan: Plan, width: float) -> Iterator[Block]:
    """How many tiles of each area are whole, cut, cut round something, and how many places hold none."""
    words = wording(plan.say.words)
    style = plan.say.style
    band = heading("HOW MANY", width)
    columns = (
        Column(("area",), 44.0),
        Column(("tile",), 46.0),
        Column((words.joint,), 24.0),
        Column(("laid",), width - 44.0 - 46.0 - 24.0 - 18.0 * 3),
        Column(("not", "trimmed"), 18.0, "end"),
        Column(("trimmed",), 18.0, "end"),
        Column(("of these", "with", "holes"), 18.0, "end"),
    )
    holed: dict[tuple[str, str], int] = {}
    for piece in plan.pieces:
        if piece.cuts:
            key = (piece.piece.surface, piece.piece.area)
            holed[key] = holed.get(key, 0) + 1
    yield band
    areas = [(one.setout.name, area) for one in plan.surfaces for area in one.areas]
    rows = [_count_row(surface, area, holed.get((surface, area.name), 0), style) for surface, area in areas]
    yield from table(columns, rows, (band,))
    if any(area.counts.whole is None for _, area in areas):
        yield from paragraph("An area with a side that was not measured is not counted.", width, height=SMALL)
    yield space(4.0)


def _count_row(surface: str, area: AreaPlan, holed: int, style: Style) -> list[Cell]:
    counts, tile = area.counts, area.tile
    bond = area.bond_words if not area.grid.turn else f"{area.bond_words}, turned {area.grid.turn:g} degrees"
    said = " ".join(part for part in (tile.material, f"shade {tile.shade}" if tile.shade else "") if part)
    return [
        [TextBlock(area.name, True, BODY), TextBlock(surface)],
        [TextBlock(f"{tile.name} {size(tile.w, tile.h, style)}"), *([TextBlock(said)] if said else [])],
        [TextBlock(say(area.grid.joint, style))],
        [TextBlock(bond)],
        *([TextBlock("?" if counts.whole is None else str(count), True, BODY)] for count in (counts.whole, counts.cut)),
        [TextBlock(str(holed), height=BODY)],
    ]
