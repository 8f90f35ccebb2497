"""The job sheet's lists of holes: what is marked on the tile, and apart from it what is read on the wall."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from cutmarks.openings.model import Cut, CutPiece, WallCheck
from cutmarks.plan import Plan
from cutmarks.saying.dialect import wording
from cutmarks.saying.edges import read_from
from cutmarks.saying.figures import cover_words, may_be_words
from cutmarks.saying.findings import STOP, figures_held
from cutmarks.saying.measures import Measure, figures_of, shown, size_words
from cutmarks.saying.pieces import runs_out_words
from cutmarks.sheets.flow import BODY, FIGURE, Block, Cell, Column, TextBlock, filling, heading, paragraph, space, table
from cutmarks.sides import SIDES
from cutmarks.units import Style, Unit, say

SMALL = 1.8
INCH_FIGURE = 2.5
SIDE_FIGURE = 2.3
WALL_FIGURE = 2.4
BLANK = "________"


def holes_blocks(plan: Plan, width: float) -> Iterator[Block]:
    """All holes, tile by tile, with their four measures; then the wall check, unless the tiles are cut ahead."""
    cuts = [(piece, cut) for piece in plan.pieces for cut in piece.cuts]
    unlaid = {one.opening.name for one in plan.clearances}
    missed = [one for one in plan.openings if not plan.pieces_met[one.name] and one.name not in unlaid]
    if not cuts and not missed:
        return
    style = plan.say.style
    yield from _on_the_tile(plan, cuts, style, width)
    for opening in missed:
        yield from paragraph(f"{opening.name} ({opening.what}): meets no tile.", width)
    if plan.say.cut == "on the day":
        yield from _on_the_wall(cuts, plan, style, width)


def _on_the_tile(plan: Plan, cuts: list[tuple[CutPiece, Cut]], style: Style, width: float) -> Iterator[Block]:
    words = wording(plan.say.words)
    band = heading("HOLES - ON THE TILE", width, "seen on the FACE, UP at the top")
    figure = 17.0 if style.unit is Unit.MM else 21.0
    columns = filling(
        (
            Column(("hole",), 29.0),
            Column(("on the tile",), 36.0),
            Column(("to its",), 13.0),
            Column(("from", "LEFT"), figure, "end"),
            Column(("from", "RIGHT"), figure, "end"),
            Column(("from", "BOTTOM"), figure, "end"),
            Column(("from", "TOP"), figure, "end"),
            Column(("",), 3.0),
            Column(("cut",), 24.0),
            Column((words.cover,), 22.0),
        ),
        width,
    )
    yield band
    note = (
        "From the edges of the whole tile, as on the templates. Mark from the two edges in BOLD: they lie against what "
        "is already fixed. Check with the other two."
    )
    yield from (_kept(line) for line in paragraph(note, width, height=SMALL))
    yield from table(columns, (_tile_row(piece, cut, style, figures_held(plan, piece)) for piece, cut in cuts), (band,))
    yield space(4.0)


def _kept(block: Block) -> Block:
    return Block(block.height, block.marks, keep=True)


def _tile_row(piece: CutPiece, cut: Cut, style: Style, stopped: bool) -> list[Cell]:
    """The figures that the templates have, from all four edges; none of a tile that must not be cut."""
    opening = cut.opening
    measures = figures_of(cut, piece)
    figures: list[Cell] = []
    for side in SIDES:
        rows = [] if stopped or side not in measures else _from_side(measures[side], piece, style)
        tall = FIGURE if style.unit is Unit.MM else INCH_FIGURE
        figures.append([_figure(row, tall if len(rows) == 1 else SIDE_FIGURE, side in cut.mark_from) for row in rows])
    beyond = [] if stopped else _beyond(cut, piece, style)
    kinds = [TextBlock(cut.kind)] + [TextBlock(line, height=SMALL) for line in beyond]
    may_be = may_be_words(opening, style)
    return [
        [TextBlock(opening.name, bold=True, height=2.4), TextBlock(opening.what, height=SMALL)],
        [TextBlock(piece.name, bold=True, height=2.4), *kinds],
        [TextBlock(STOP if stopped else _to_what(measures.values()), bold=stopped, height=FIGURE * 0.75)],
        *figures,
        [],
        [*_size(cut, piece, style), *([TextBlock(opening.why, height=SMALL)] if opening.core is None else [])],
        [TextBlock(cover_words(opening, style)), *([TextBlock(may_be, height=SMALL)] if may_be else [])],
    ]


def _from_side(measure: Measure, piece: CutPiece, style: Style) -> list[str]:
    """A measure as it stands in its column: one figure, or two, one under the other."""
    low, *high = (shown(value, measure.side, piece, style)[0] for value in measure.values)
    return [low, *(f"to {figure}" for figure in high)]


def _to_what(measures: Iterable[Measure]) -> str:
    """What the figures go to: the middle, both sides, or where the cut ends."""
    whats = {measure.what for measure in measures}
    return "middle" if whats == {"centre"} else "sides" if "sides" in whats else "the cut"


def _size(cut: Cut, piece: CutPiece, style: Style) -> list[TextBlock]:
    """What is cut: a core on one line, a cut-out with its figures below the word."""
    words = size_words(cut, piece, style)
    if cut.opening.core is not None:
        return [TextBlock(words)]
    kind, _, figures = words.partition(" ")
    return [TextBlock(kind), TextBlock(figures, fits=True)]


def _figure(text: str, height: float, bold: bool) -> TextBlock:
    """A figure is never broken over two lines; words beside it may be."""
    return (
        TextBlock(text, bold, height, fits=True)
        if text[-1:].isdigit() or text[-1:] == "½"
        else TextBlock(text, bold, BODY)
    )


def _beyond(cut: Cut, piece: CutPiece, style: Style) -> list[str]:
    """Where a notch meets the tile's edges, and measures to cut edges, which must say so."""
    lines = runs_out_words(cut, piece, style) if cut.kind != "hole" else []
    lines += [f"from the cut {side} edge: {say(mm, style)}" for side, mm in cut.from_cut_edges]
    return lines


def _on_the_wall(cuts: list[tuple[CutPiece, Cut]], plan: Plan, style: Style, width: float) -> Iterator[Block]:
    checks = [(piece, cut, check) for piece, cut in cuts for check in cut.wall_checks if check.fixed]
    if not checks:
        return
    floors = {one.setout.name for one in plan.surfaces if one.setout.kind == "floor"}
    where = "WALL" if not floors else "FLOOR" if len(floors) == len(plan.surfaces) else "WALL OR FLOOR"
    figure = 14.0 if style.unit is Unit.MM else 18.0
    band = heading(
        f"ON THE {where} - READ FIRST",
        width,
        f"on the bare {where.lower()}, from what is there when the tile is laid, to the thing itself",
    )
    columns = filling(
        (
            Column(("hole",), 29.0),
            Column(("for the tile",), 29.0),
            Column(("from",), 62.0),
            Column(("near", "side"), figure, "end"),
            Column(("far", "side"), figure, "end"),
            Column(("found", "near and far"), 29.0, "middle"),
            Column(("differs",), 14.0, "middle"),
        ),
        width,
    )
    yield band
    note = "These figures hold the joint: never mark them on a tile. Found MORE: the hole moves AWAY from that edge."
    yield from (_kept(line) for line in paragraph(note, width, height=SMALL))
    yield from table(columns, (_wall_row(plan, piece, cut, check, style) for piece, cut, check in checks), (band,))
    yield space(4.0)


def _wall_row(plan: Plan, piece: CutPiece, cut: Cut, check: WallCheck, style: Style) -> list[Cell]:
    return [
        [TextBlock(cut.opening.name, bold=True, height=2.4)],
        [TextBlock(piece.name, bold=True)],
        [TextBlock(_from(plan, piece, check))],
        [_figure(say(check.near, style) if not check.to_middle else "to its middle", WALL_FIGURE, bold=False)],
        [_figure(say(check.far, style), WALL_FIGURE, bold=False)],
        [TextBlock(BLANK if check.to_middle else f"{BLANK} {BLANK}", height=SMALL)],
        [TextBlock(BLANK, height=SMALL)],
    ]


def _from(plan: Plan, piece: CutPiece, check: WallCheck) -> str:
    words = read_from(plan, piece, check)
    named = check.source.kind == "piece" and not check.source.across
    return f"{check.source.name}, {words}" if named else words
