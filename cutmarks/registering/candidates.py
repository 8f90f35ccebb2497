"""Every sheet that a piece's cuts could stand on, and how far off each cut may come on it.

A corner needs no tape; so tape is thought of only for cuts that no corner reaches on one sheet, and the tape alone for
those that no edge reaches. A cut that one sheet cannot show whole goes on joined sheets, as does what would go by tape
where joined sheets are asked for.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import product

from cutmarks.geometry.edges import Bounds
from cutmarks.geometry.near import Near
from cutmarks.openings.model import Cut, CutPiece
from cutmarks.registering.error import edge_error, error_at
from cutmarks.registering.figures import USUAL, PaperFigures
from cutmarks.registering.model import How, Registration
from cutmarks.registering.paper import CLEAR, Paper, sheets_to
from cutmarks.registering.sides import mark_sides, span
from cutmarks.sides import Side

ACROSS: tuple[Side, Side] = (Side.LEFT, Side.RIGHT)
UP: tuple[Side, Side] = (Side.BOTTOM, Side.TOP)
_LEAST_SHOWN = 15.0
"""A cut that is larger than the paper may be on it in part if so much of it is, mm."""


@dataclass(frozen=True, slots=True)
class Wish:
    """How the sheets of one face of one piece are to be made.

    back    the template is for the back.
    joined  joined sheets instead of a tape.
    figures what the error is made of, and how many sheets are joined at most.
    """

    paper: Paper
    back: bool = False
    joined: bool = False
    figures: PaperFigures = USUAL


@dataclass(frozen=True, slots=True)
class PaperFit:
    """One cut on one candidate: the error there, mm; how many of its two axes are not lined up on the fixed side."""

    error: float
    off_fixed: int


@dataclass(frozen=True, slots=True)
class Candidate:
    """A sheet, or joined sheets, that could be printed: its `registration` lists no cuts yet.

    fits    the cuts that can stand on it, by index.
    anchor  the cut that the tape is held to, which stands on it in any case; None for corners and joined sheets.
    """

    registration: Registration
    fits: Mapping[int, PaperFit]
    anchor: int | None = None


def candidates(piece: CutPiece, indices: Sequence[int], wish: Wish) -> list[Candidate]:
    """All candidates for the cuts of `indices`, those on the fixed side first."""
    reached = {index: _reached_sides(piece.cuts[index], piece, wish) for index in indices}
    kinds = {index: _kind(piece.cuts[index], piece, reached[index], wish) for index in indices}
    alone = {index: reached[index] for index in indices if kinds[index] != "joined"}
    found = [*_corners(piece, alone, indices[0], wish)]
    if not {"edge", "centre"}.isdisjoint(kinds.values()):
        found += _by_tape(piece, indices, kinds, wish)
    joined = [index for index in indices if kinds[index] == "joined"]
    if joined:
        found += _joined(piece, indices, joined, wish)
    return [one for one in found if one.fits]


Reached = tuple[Sequence[Side], Sequence[Side]]
"""The sides, across and up, from which a sheet shows enough of a cut; the one that it is marked from first."""


def _reached_sides(cut: Cut, piece: CutPiece, wish: Wish) -> Reached:
    across, up = mark_sides(cut)
    return (
        [side for side in allowed(across, piece) if _reached(cut, piece, side, wish)],
        [side for side in allowed(up, piece) if _reached(cut, piece, side, wish)],
    )


def _kind(cut: Cut, piece: CutPiece, reached: Reached, wish: Wish) -> How:
    """The plainest way to show a cut: corner before edge before tape alone."""
    across, up = reached
    if across and up and _is_whole(cut, piece, across, up, wish):
        return "corner"
    if wish.joined or not _fits(cut, wish):
        fewest = min(columns * rows for _, columns, rows in _grids(piece, [cut], wish))
        if fewest <= (wish.figures.most_asked if wish.joined else wish.figures.most_joined):
            return "joined"
    if across and up:
        return "corner"
    return "edge" if across or up else "centre"


def _is_whole(cut: Cut, piece: CutPiece, across: Sequence[Side], up: Sequence[Side], wish: Wish) -> bool:
    """Whether some corner shows all of the cut."""
    ends = [
        min(span(cut, piece, side)[1] - wish.paper.reach(side.axis, wish.back) for side in sides)
        for sides in (across, up)
    ]
    return max(ends) <= 0.0


def _fits(cut: Cut, wish: Wish) -> bool:
    """Whether one sheet is large enough for the cut, wherever it lies."""
    box = cut.share.bounds
    return box.width + 2 * CLEAR <= wish.paper.view("across", wish.back) and box.height + 2 * CLEAR <= wish.paper.view(
        "up", wish.back
    )


def allowed(mark: Side, piece: CutPiece) -> tuple[Side, ...]:
    """The edges to line up on for a mark from `mark`: that one first; the other unless the saw alone made it."""
    other = mark.opposite
    if mark in piece.factory_edges and other not in piece.factory_edges:
        return (mark,)
    return mark, other


def _reached(cut: Cut, piece: CutPiece, side: Side, wish: Wish) -> bool:
    near, far = span(cut, piece, side)
    reach = wish.paper.reach(side.axis, wish.back)
    return far <= reach or (far - near > reach and near + _LEAST_SHOWN <= reach)


def _corners(piece: CutPiece, reached: Mapping[int, Reached], first: int, wish: Wish) -> Iterator[Candidate]:
    """The four corners with the cuts that each shows; the side that the `first` cut is marked from comes first."""
    errors = {
        (index, side): edge_error(piece, cut, side, mark, wish.figures).total
        for index, cut in ((index, piece.cuts[index]) for index in reached)
        for mark, sides in zip(mark_sides(cut), reached[index], strict=True)
        for side in sides
    }
    for across, up in product(*((mark, mark.opposite) for mark in mark_sides(piece.cuts[first]))):
        fits = {}
        for index in reached:
            if (index, across) in errors and (index, up) in errors:
                marked = mark_sides(piece.cuts[index])
                error = max(errors[index, across], errors[index, up])
                fits[index] = PaperFit(error, (across != marked[0]) + (up != marked[1]))
        yield Candidate(Registration(piece.name, "corner", (across, up), (), back=wish.back), fits)


def _by_tape(piece: CutPiece, indices: Sequence[int], kinds: Mapping[int, How], wish: Wish) -> Iterator[Candidate]:
    """For each cut that goes by tape: the sheets on which the tape is held to it, with what else is near enough."""
    near = Near(piece.cuts[index].share.bounds for index in indices)
    for anchor in indices:
        marks = mark_sides(piece.cuts[anchor])
        if kinds[anchor] == "edge":
            for axis, mark in enumerate(marks):
                tape = allowed(marks[1 - axis], piece)[0]
                for side in allowed(mark, piece):
                    if _reached(piece.cuts[anchor], piece, side, wish):
                        line = _line(piece.cuts[anchor], piece, tape, wish)
                        sheet = Registration(piece.name, "edge", (side,), (anchor,), (tape,), (line,), wish.back)
                        yield _about(piece, indices, near, sheet, anchor, wish)
        elif kinds[anchor] == "centre":
            tapes = (allowed(marks[0], piece)[0], allowed(marks[1], piece)[0])
            lines = tuple(_line(piece.cuts[anchor], piece, tape, wish) for tape in tapes)
            sheet = Registration(piece.name, "centre", (), (anchor,), tapes, lines, wish.back)
            yield _about(piece, indices, near, sheet, anchor, wish)


def _line(cut: Cut, piece: CutPiece, side: Side, wish: Wish) -> float:
    """How far from a side the line that is taped to lies: through the middle, or of a larger box its near side, mm."""
    near, far = span(cut, piece, side)
    is_larger = far - near + 2 * CLEAR > wish.paper.view(side.axis, wish.back)
    return near if cut.sides is not None and is_larger else cut.from_edges[side]


def _about(
    piece: CutPiece, indices: Sequence[int], near: Near, sheet: Registration, anchor: int, wish: Wish
) -> Candidate:
    """The cuts that stand on a sheet whose middle lies on the line of each axis that goes by tape.

    `near` has the bounds of the cuts, in the order of `indices`.
    """
    on_it = [
        index
        for index in (indices[place] for place in near.within(_view(piece, sheet, wish)))
        if all(
            _near(piece.cuts[index], at, piece, side, wish) for side, at in zip(sheet.tape, sheet.lines, strict=True)
        )
        and all(_on(piece.cuts[index], piece, side, wish) for side in sheet.edges)
    ]
    return Candidate(sheet, _fits_of(piece, sheet, sorted({*on_it, anchor}), wish), anchor)


def _view(piece: CutPiece, sheet: Registration, wish: Wish) -> Bounds:
    """What of the whole tile a sheet by tape shows at most: all along an axis that is lined up on an edge, mm."""
    tile = piece.piece.tile
    seen = {"across": (0.0, tile.w), "up": (0.0, tile.h)}
    for side, line in zip(sheet.tape, sheet.lines, strict=True):
        axis = side.axis
        room = wish.paper.view(axis, wish.back) / 2
        middle = line if side in ("left", "bottom") else (tile.w if axis == "across" else tile.h) - line
        seen[axis] = (middle - room, middle + room)
    return Bounds(seen["across"][0], seen["up"][0], seen["across"][1], seen["up"][1])


def _near(cut: Cut, middle: float, piece: CutPiece, side: Side, wish: Wish) -> bool:
    near, far = span(cut, piece, side)
    room = wish.paper.view(side.axis, wish.back) / 2 - CLEAR
    return side in allowed(_mark(cut, side), piece) and middle - room <= near and far <= middle + room


def _on(cut: Cut, piece: CutPiece, side: Side, wish: Wish) -> bool:
    reach = wish.paper.reach(side.axis, wish.back)
    return side in allowed(_mark(cut, side), piece) and span(cut, piece, side)[1] <= reach


def _mark(cut: Cut, side: Side) -> Side:
    """The side to mark the cut from along the axis of `side`."""
    return next(mark for mark in mark_sides(cut) if mark.axis == side.axis)


def _joined(piece: CutPiece, indices: Sequence[int], wanted: Sequence[int], wish: Wish) -> Iterator[Candidate]:
    """Joined sheets from each corner, as many across and up as it takes for one or several of the wanted cuts."""
    steps = (wish.paper.step("across", wish.back), wish.paper.step("up", wish.back))
    grids = set(_grids(piece, [piece.cuts[index] for index in wanted], wish))
    grids |= {
        (corner, max(columns, other), max(rows, more))
        for corner, columns, rows in grids
        for same, other, more in grids
        if same == corner
    }
    for corner, columns, rows in sorted(grids):
        sheet = Registration(piece.name, "joined", corner, (), back=wish.back, columns=columns, rows=rows, steps=steps)
        on_it = [index for index in indices if _on_grid(piece.cuts[index], piece, corner, columns, rows, wish)]
        yield Candidate(sheet, _fits_of(piece, sheet, on_it, wish))


PageGrid = tuple[tuple[Side, Side], int, int]
"""A corner, and how many sheets across and up."""


def _grids(piece: CutPiece, cuts: Sequence[Cut], wish: Wish) -> Iterator[PageGrid]:
    """For each cut and each corner that it may be lined up on, the sheets that it takes to show it whole."""
    for cut in cuts:
        across, up = mark_sides(cut)
        for corner in product(allowed(across, piece), allowed(up, piece)):
            columns, rows = (sheets_to(span(cut, piece, side)[1], wish.paper, side.axis, wish.back) for side in corner)
            yield corner, columns, rows


def _on_grid(cut: Cut, piece: CutPiece, corner: tuple[Side, Side], columns: int, rows: int, wish: Wish) -> bool:
    return any(of == corner and across <= columns and up <= rows for of, across, up in _grids(piece, [cut], wish))


def _fits_of(piece: CutPiece, sheet: Registration, on_it: Sequence[int], wish: Wish) -> dict[int, PaperFit]:
    fits = {}
    for index in on_it:
        cut = piece.cuts[index]
        used = {side.axis: side for side in (*sheet.edges, *sheet.tape)}
        off = sum(used[mark.axis] != mark for mark in mark_sides(cut))
        fits[index] = PaperFit(error_at(piece, cut, sheet, wish.figures), off)
    return fits
