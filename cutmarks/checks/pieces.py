"""Rules about pieces: how narrow trimming leaves them, and rows that lose too little."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Container, Iterator, Mapping, Sequence

from cutmarks.checks.advice import Advice
from cutmarks.checks.model import Finding
from cutmarks.geometry.tolerance import COINCIDE, TOUCH
from cutmarks.limits import Limits
from cutmarks.openings.model import CutPiece
from cutmarks.sides import SIDES, Side
from cutmarks.tiling.layout import Layout
from cutmarks.units import Style, say, say_down


def narrow_pieces(
    pieces: Sequence[CutPiece], kinds: Mapping[str, str], limits: Limits, style: Style, advice: Advice
) -> Iterator[Finding]:
    """Trimmed pieces under a part of the tile and under a width, where the tile is not small; one line an edge.

    `kinds` says of each surface whether it is a wall or a floor.
    """
    found: dict[tuple[str, str, float, float], list[CutPiece]] = defaultdict(list)
    for piece in pieces:
        if piece.sizes is None or piece.part not in (None, "a"):
            continue
        for axis, whole, sizes in (
            ("wide", piece.piece.tile.w, (piece.sizes.bottom, piece.sizes.top)),
            ("high", piece.piece.tile.h, (piece.sizes.left, piece.sizes.right)),
        ):
            box = piece.piece.outline.bounds
            over_all = box.width if axis == "wide" else box.height
            # An end that is a point has no size: the piece is as narrow as its other end, or as it is over all.
            least = min((size for size in sizes if size > TOUCH), default=over_all)
            hidden = hidden_of(piece, axis)
            # What is covered is not seen to be narrow, and what is seen of the rest is.
            least, over_all = least - hidden, over_all - hidden
            under_ceiling = axis == "high" and "top" in piece.cut_edges and kinds[piece.piece.surface] == "wall"
            if (
                whole >= limits.narrow_from.value
                and least < limits.narrow_part.value * whole
                # A strip under the ceiling is seen against it, and looks narrow by its share of the tile alone.
                and (under_ceiling or least < limits.narrow.value)
                # The whole piece is that narrow, and not only one leg of it.
                and over_all <= least + limits.narrow_spread.value
            ):
                found[piece.piece.area, axis, round(least, 3), round(hidden, 3)].append(piece)
    part = part_said(limits.narrow_part.value)
    for (_, axis, least, hidden), narrow in found.items():
        tile_size = narrow[0].piece.tile.w if axis == "wide" else narrow[0].piece.tile.h
        names = [piece.name for piece in narrow]
        remedy = advice.even_ends(narrow[0], upright=axis == "high")
        yield Finding(
            "warn",
            "narrow piece",
            tuple(names),
            f"{listed(names)} only {_seen(least, hidden, axis, narrow[0], style)}: under {part} of the tile.{remedy}",
            least,
            limits.narrow.value if least < limits.narrow.value else limits.narrow_part.value * tile_size,
            limits.narrow_part.source,
        )


def hidden_of(piece: CutPiece, axis: str) -> float:
    """How much of a piece is covered at its sides on an axis, "wide" or "high", mm."""
    sides = ("left", "right") if axis == "wide" else ("bottom", "top")
    return sum(work.hidden or 0.0 for work in piece.edge_work if work.side in sides)


def _seen(least: float, hidden: float, axis: str, piece: CutPiece, style: Style) -> str:
    """How wide or high a narrow piece is; of one that is partly covered also what is seen of it.

    Rounded down, as everywhere where its size stands.
    """
    if not hidden:
        return f"{say_down(least + COINCIDE, style)} {axis}"
    by = " and ".join(dict.fromkeys(work.hidden_by for work in piece.edge_work if work.hidden))
    whole = f"{say_down(least + hidden + COINCIDE, style)} {axis}"
    if least <= TOUCH:
        return f"{whole}, and {by} hides all of it"
    return f"{whole}, of which {by} leaves {say_down(least + COINCIDE, style)} to be seen"


def joint_problems(
    pieces: Sequence[CutPiece],
    layouts: Mapping[str, Layout],
    scribed: Container[tuple[str, Side]],
    unsaid: Mapping[tuple[str, Side], float],
    limits: Limits,
    style: Style,
) -> Iterator[Finding]:
    """Very little off a row is a joint problem, not a cut; `scribed` edges are cut to fit all the same.

    unsaid  the gaps that were taken where none was said, mm: where no more than that comes off, the gap is named.
    """
    rows: dict[tuple[str, Side, int | None], list[tuple[str, float]]] = defaultdict(list)
    for piece in pieces:
        if piece.sizes is None:
            continue
        box, tile = piece.piece.outline.bounds, piece.piece.tile
        for side in SIDES:
            taken = side.sign * (tile.box.at(side) - box.at(side))
            if side in piece.cut_edges and taken > TOUCH and (piece.piece.surface, side) not in scribed:
                row = piece.piece.place[1] if side.axis == "up" else None
                rows[piece.piece.area, side, row].append((piece.name, taken))
    for (area, side, row), found in rows.items():
        most = max(taken for _, taken in found)
        if most < limits.joint_problem.value - TOUCH:
            names = tuple(name for name, _ in found)
            gap = unsaid.get((layouts[area].surface, side), 0.0)
            off = "the whole row" if len(names) > 1 and len(names) >= _in_row(layouts[area], row) else listed(names)
            yield Finding(
                "warn",
                "joint, not a cut",
                names,
                f"{area}, {side}: only {say(most, style)} comes off {off}: wet saw, it will not snap. "
                f"{_saved(most, gap, side, 'cuts' if len(names) > 1 else 'cut', style)}",
                most,
                limits.joint_problem.value,
                limits.joint_problem.source,
            )


def _saved(most: float, gap: float, side: Side, cuts: str, style: Style) -> str:
    """What saves a cut of so little: a gap that nobody asked for, or the joints."""
    if most > gap + TOUCH:
        return f"A little on the joints saves the {cuts}."
    return (
        f"That is the gap of {say(gap, style)} that was assumed at the {side} edge: write gap: 0 there if the tiles "
        f"stand on it or meet it; else a little on the joints saves the {cuts}."
    )


def will_not_snap(pieces: Sequence[CutPiece], limits: Limits, style: Style) -> Iterator[Finding]:
    """Straight cuts beside which so narrow a strip stays, or comes off, that a snap cutter does not take it.

    A little off, which is a joint problem, has a finding of its own; what goes round a corner is sawn in any case.
    """
    found: dict[tuple[str, str, float, bool], list[str]] = defaultdict(list)
    for piece in pieces:
        rings = piece.piece.outline.rings
        if piece.sizes is None or len(rings) != 1 or len(rings[0].vertices) != len(SIDES):
            continue
        tile, sizes = piece.piece.tile, piece.sizes
        for axis, whole, ends in (
            ("wide", tile.w, (sizes.bottom, sizes.top)),
            ("high", tile.h, (sizes.left, sizes.right)),
        ):
            cut = [side for side in piece.cut_edges if (side.axis == "across") == (axis == "wide")]
            kept, off = min(ends), whole - max(ends)
            if not cut or whole < limits.narrow.value or kept <= TOUCH:
                continue
            if kept < limits.snaps.value - TOUCH:
                found[piece.piece.area, axis, round(kept, 3), True].append(piece.name)
            elif len(cut) == 1 and limits.joint_problem.value - TOUCH <= off < limits.snaps.value - TOUCH:
                found[piece.piece.area, axis, round(off, 3), False].append(piece.name)
    for (_, axis, strip, stays), names in found.items():
        is_, limit = say(strip, style), say(limits.snaps.value, style)
        what = f"{listed(names)} only {is_} {axis}" if stays else f"only {is_} comes off {listed(names)}"
        yield Finding(
            "note",
            "will not snap",
            tuple(names),
            f"{what}: a snap cutter does not take a strip under {limit}; wet saw, grinder or nippers.",
            strip,
            limits.snaps.value,
            limits.snaps.source,
        )


def _in_row(layout: Layout, row: int | None) -> int:
    """How many pieces lie in a row of an area; None: in the column at one of its ends, one in each row."""
    if row is None:
        return sum(layout.columns_held(one) is not None for one in layout.rows())
    course = layout.course(row)
    cut = sum(layout.shape((column, row)) is not None for column in course.touched_columns())
    return cut + sum(map(len, course.whole))


def listed(names: Sequence[str], most: int = 6) -> str:
    """Names in a row, the rest counted."""
    shown = ", ".join(names[:most])
    return shown if len(names) <= most else f"{shown} and {len(names) - most} more"


def part_said(part: float) -> str:
    """A part of something in words where it is a plain one, else in percent.

    >>> part_said(0.2), part_said(0.18)
    ('a fifth', '18 %')
    """
    words = {0.5: "half", 1 / 3: "a third", 0.25: "a quarter", 0.2: "a fifth"}
    return next((said for plain, said in words.items() if math.isclose(part, plain)), f"{part * 100.0:.3g} %")
