"""The job sheet's list of all pieces that are not whole tiles, and the counts."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from cutmarks.geometry.frames import Page, Placement
from cutmarks.geometry.frames import Sheet as SheetFrame
from cutmarks.marks.model import moved
from cutmarks.marks.sketch import sketch, sketch_height
from cutmarks.openings.model import CutPiece
from cutmarks.plan import AreaPlan, Plan
from cutmarks.saying.dialect import wording
from cutmarks.saying.edge_work import edge_work_words
from cutmarks.saying.figures import size, trimmed_size
from cutmarks.saying.findings import held_words
from cutmarks.saying.infills import infill_lines
from cutmarks.saying.pieces import cut_words, edges_words, shape_words
from cutmarks.sheets.flow import Block, Cell, Column, TextBlock, heading, paragraph, space, table
from cutmarks.units import Style, say

SKETCH_WIDTH, SKETCH_HEIGHT = 20.0, 15.0
SMALL = 1.8


def pieces_blocks(plan: Plan, width: float, sheets: Mapping[str, str]) -> Iterator[Block]:
    """Every cut piece; those that are alike and only trimmed share one row, with all their names."""
    if not plan.pieces:
        return
    band = heading("TILES TO CUT", width, "seen on the FACE, UP at the top; what is hatched goes")
    columns = (
        Column(("",), SKETCH_WIDTH + 3.0),
        Column(("tile",), 50.0),
        Column(("size",), 36.0),
        Column(("edges",), 27.0),
        Column(("cut in it",), width - SKETCH_WIDTH - 3.0 - 50.0 - 36.0 - 27.0 - 19.0),
        Column(("template", "on sheet"), 19.0),
    )
    yield band
    note = (
        "Sizes of trimmed tiles are rounded down, so that they go in. Mark them from the factory edges. "
        "READ each opening before its tile is cut: the sizes printed are what to expect."
    )
    yield from (Block(line.height, line.marks, keep=True) for line in paragraph(note, width, height=SMALL))
    groups = _groups(plan)
    rows = (_row(group, plan, sheets) for group in groups)
    yield from table(columns, rows, (band,), (_sketch(group[0]) for group in groups))
    yield space(4.0)


def _groups(plan: Plan) -> list[list[CutPiece]]:
    """Pieces that are only trimmed, with those that are cut and read as they are; each piece with a cut by itself."""
    groups: dict[object, list[CutPiece]] = {}
    for piece in plan.pieces:
        leader = piece.name if piece.cuts or piece.same_as is None else piece.same_as
        groups.setdefault((leader, *infill_lines(plan, piece)), []).append(piece)
    return list(groups.values())


def _sketch(piece: CutPiece) -> Block:
    height = sketch_height(piece, SKETCH_WIDTH, SKETCH_HEIGHT)
    down: Placement[Page, SheetFrame] = Placement.shift(0.0, -height)
    return Block(height, tuple(moved(mark, down) for mark in sketch(piece, SKETCH_WIDTH, height)))


def _row(group: list[CutPiece], plan: Plan, sheets: Mapping[str, str]) -> list[Cell]:
    piece, style = group[0], plan.say.style
    tile = piece.piece.tile
    name = [TextBlock(piece.name, bold=True, height=2.4), TextBlock(piece.words, height=SMALL)]
    if len(group) > 1:
        others = ", ".join(one.name for one in group[1:])
        name.append(TextBlock(f"{len(group)} alike: also {others}", height=SMALL))
    elif piece.same_as is not None:
        name.append(TextBlock(f"the same as {piece.same_as}", height=SMALL))
    is_trimmed = piece.piece.trimmed or piece.part is not None
    lines = trimmed_size(piece, style, plan.limits.two_sizes.value) if is_trimmed else []
    waits = held_words(plan, piece) if is_trimmed else ""
    sizes = [TextBlock(line, bold=True) for line in ([waits] if waits else lines)]
    shape = shape_words(piece, style, plan.limits.small_step.value) if sizes and not waits else ""
    if shape:
        sizes.append(TextBlock(shape, height=SMALL))
    name += [TextBlock(f"READ {line}", height=SMALL) for line in infill_lines(plan, piece)]
    whole = f"from a tile {size(tile.w, tile.h, style)}" if sizes else f"whole tile {size(tile.w, tile.h, style)}"
    return [
        [],
        name,
        [*sizes, TextBlock(whole, height=SMALL)],
        [TextBlock(line, height=SMALL) for line in (*edges_words(piece), *edge_work_words(piece, style))],
        [
            *(TextBlock(cut_words(cut)) for cut in piece.cuts),
            *(TextBlock(note, height=SMALL) for note in _notes(group)),
        ],
        [TextBlock(sheets[piece.name])] if piece.name in sheets else [],
    ]


def _notes(group: list[CutPiece]) -> list[str]:
    """The remarks about pieces that share a row, each once."""
    return list(dict.fromkeys(f"note, {note}" for piece in group for note in piece.notes))


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
        Column(("of these", "with holes"), 18.0, "end"),
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
        [TextBlock(area.name, bold=True), TextBlock(surface, height=SMALL)],
        [TextBlock(f"{tile.name} {size(tile.w, tile.h, style)}"), *([TextBlock(said, height=SMALL)] if said else [])],
        [TextBlock(say(area.grid.joint, style))],
        [TextBlock(bond)],
        [TextBlock("?" if counts.whole is None else str(counts.whole), bold=True)],
        [TextBlock(str(counts.cut), bold=True)],
        [TextBlock(str(holed))],
    ]
