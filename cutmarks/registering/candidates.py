"""Every sheet that a piece's cuts could stand on, and how far off each cut may come on it.

A corner needs no tape; so tape is thought of only for cuts that no corner reaches on one sheet of either layout, and
the tape alone for those that no edge reaches. A cut that one sheet cannot show whole goes on joined sheets, as does
what would go by tape where joined sheets are asked for. Two holes that go by tape may stand on one sheet, taped once,
so that they keep their spacing.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from itertools import combinations, product

from msgspec import Struct
from msgspec.structs import replace

from cutmarks.geometry.edges import Bounds
from cutmarks.geometry.near import Near
from cutmarks.openings.model import Cut, CutPiece, SheetSpot
from cutmarks.registering.error import edge_error, error_at
from cutmarks.registering.figures import USUAL, PaperFigures
from cutmarks.registering.layouts import SIZES, SheetField, fields_of, sheets_to
from cutmarks.registering.model import How, Registration
from cutmarks.registering.paper import Paper
from cutmarks.registering.sides import mark_sides, span
from cutmarks.sides import Axis, Side

ACROSS: tuple[Side, Side] = (Side.LEFT, Side.RIGHT)
UP: tuple[Side, Side] = (Side.BOTTOM, Side.TOP)
AXES: tuple[Axis, Axis] = ("across", "up")
_LEAST_SHOWN = 15.0
"""A cut that is larger than the paper may be on it in part if so much of it is, mm."""


class Wish(Struct, frozen=True):
    """How the sheets of one face of one piece are to be made.

    field   what one sheet shows, in one of the layouts.
    back    the template is for the back.
    joined  joined sheets instead of a tape.
    figures what the error is made of, and how many sheets are joined at most.
    """

    field: SheetField
    back: bool = False
    joined: bool = False
    figures: PaperFigures = USUAL


class PaperFit(Struct, frozen=True):
    """One cut on one candidate: the error there, mm; how many of its two axes are not lined up on the fixed side.

    spaced  it keeps its spacing from the hole that the tape is held to, and is off by no more than it may be.
    """

    error: float
    off_fixed: int
    spaced: bool = False


class Candidate(Struct, frozen=True):
    """A sheet, or joined sheets, that could be printed: its `registration` lists no cuts yet.

    fits    the cuts that can stand on it, by index.
    anchor  the cut that the tape is held to, which stands on it in any case; None for corners and joined sheets.
    """

    registration: Registration
    fits: Mapping[int, PaperFit]
    anchor: int | None = None


def on_paper(
    piece: CutPiece, indices: Sequence[int], paper: Paper, back: bool, joined: bool, figures: PaperFigures
) -> list[Candidate]:
    """All candidates for the cuts of `indices`, of every layout of a paper."""
    return candidates(piece, indices, [Wish(field, back, joined, figures) for field in fields_of(paper, back)])


def candidates(piece: CutPiece, indices: Sequence[int], wishes: Sequence[Wish]) -> list[Candidate]:
    """All candidates for the cuts of `indices`, those on the fixed side first; `wishes`: one a layout."""
    reached = [{index: _reached_sides(piece.spots[index], piece, wish) for index in indices} for wish in wishes]
    for index in indices:
        if not any(across or up for across, up in (sides[index] for sides in reached)):
            # Two tapes are worse than a cut that stands close to the end of the drawing.
            for sides, wish in zip(reached, wishes, strict=True):
                sides[index] = _reached_sides(piece.spots[index], piece, wish, SIZES.clear_of_pair)
    kinds = [
        {index: _kind(piece.spots[index], piece, sides[index], wish) for index in indices}
        for sides, wish in zip(reached, wishes, strict=True)
    ]
    plainest = {index: _plainest(piece.spots[index], [kind[index] for kind in kinds], wishes) for index in indices}
    found: list[Candidate] = []
    for sides, kind, wish in zip(reached, kinds, wishes, strict=True):
        plain = {index: kind[index] for index in indices if kind[index] == plainest[index]}
        alone = {index: sides[index] for index in indices if "joined" not in (kind[index], plainest[index])}
        found += _corners(piece, alone, indices[0], wish)
        if not {"edge", "centre"}.isdisjoint(plain.values()):
            found += _by_tape(piece, indices, plain, sides, wish)
        joined = [index for index, how in plain.items() if how == "joined"]
        if joined:
            found += _joined(piece, indices, joined, wish)
    return [few for one in found if one.fits for few in _two_at_most(one)]


def _plainest(cut: SheetSpot, kinds: Sequence[How], wishes: Sequence[Wish]) -> How:
    """The plainest way among those of all layouts; a cut larger than any of them goes on joined sheets where it can."""
    if "joined" in kinds and not any(_fits(cut, wish) for wish in wishes):
        return "joined"
    return min(kinds, key=(_JOINED_ASKED if wishes[0].joined else _PLAINNESS).index)


def _two_at_most(candidate: Candidate) -> Iterator[Candidate]:
    """The candidate, with each two of its cuts where it has some more; one with a great many is parted afterwards."""
    if not MOST_CUTS < len(candidate.fits) <= _MOST_PAIRED:
        yield candidate
        return
    for pair in combinations(candidate.fits, MOST_CUTS):
        yield replace(candidate, fits={index: candidate.fits[index] for index in pair})


MOST_CUTS = 2
"""So many cuts stand on a sheet: its panels have room for the figures of two."""
_MOST_PAIRED = 6
_PLAINNESS: tuple[How, ...] = ("corner", "edge", "centre", "joined")
"""How a cut is shown, the plainest first."""
_JOINED_ASKED: tuple[How, ...] = ("corner", "joined", "edge", "centre")
"""The same where joined sheets are asked for in place of a tape."""


Reached = tuple[Sequence[Side], Sequence[Side]]
"""The sides, across and up, from which a sheet shows enough of a cut; the one that it is marked from first."""


def _reached_sides(cut: SheetSpot, piece: CutPiece, wish: Wish, clear: float = SIZES.clear) -> Reached:
    across, up = mark_sides(cut)
    return (
        [side for side in allowed(across, piece) if _reached(cut, piece, side, wish, clear)],
        [side for side in allowed(up, piece) if _reached(cut, piece, side, wish, clear)],
    )


def _kind(cut: SheetSpot, piece: CutPiece, reached: Reached, wish: Wish) -> How:
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


def _is_whole(cut: SheetSpot, piece: CutPiece, across: Sequence[Side], up: Sequence[Side], wish: Wish) -> bool:
    """Whether some corner shows all of the cut."""
    ends = [min(span(cut, piece, side)[1] - wish.field.reach(side.axis) for side in sides) for sides in (across, up)]
    return max(ends) <= 0.0


def _fits(cut: SheetSpot, wish: Wish) -> bool:
    """Whether one sheet is large enough for the cut, wherever it lies."""
    box, clear, field = cut.bounds, SIZES.clear, wish.field
    return box.width + 2 * clear <= field.view("across") and box.height + 2 * clear <= field.view("up")


def allowed(mark: Side, piece: CutPiece) -> tuple[Side, ...]:
    """The edges to line up on for a mark from `mark`: that one first; the other unless the saw alone made it."""
    other = mark.opposite
    if mark in piece.factory_edges and other not in piece.factory_edges:
        return (mark,)
    return mark, other


def _reached(cut: SheetSpot, piece: CutPiece, side: Side, wish: Wish, clear: float) -> bool:
    near, far = span(cut, piece, side)
    reach = wish.field.reach(side.axis, clear)
    return far <= reach or (far - near > reach and near + _LEAST_SHOWN <= reach)


def _corners(piece: CutPiece, reached: Mapping[int, Reached], first: int, wish: Wish) -> Iterator[Candidate]:
    """The four corners with the cuts that each shows; the side that the `first` cut is marked from comes first."""
    errors = {
        (index, side): edge_error(piece, cut, side, mark, wish.figures).total
        for index, cut in ((index, piece.spots[index]) for index in reached)
        for mark, sides in zip(mark_sides(cut), reached[index], strict=True)
        for side in sides
    }
    for across, up in product(*((mark, mark.opposite) for mark in mark_sides(piece.spots[first]))):
        fits = {}
        for index in reached:
            if (index, across) in errors and (index, up) in errors:
                marked = mark_sides(piece.spots[index])
                error = max(errors[index, across], errors[index, up])
                fits[index] = PaperFit(error, (across != marked[0]) + (up != marked[1]))
        sheet = Registration(piece.name, "corner", (across, up), (), back=wish.back, layout=wish.field.layout)
        yield Candidate(sheet, fits)


def _by_tape(
    piece: CutPiece, indices: Sequence[int], kinds: Mapping[int, How], reached: Mapping[int, Reached], wish: Wish
) -> Iterator[Candidate]:
    """For each cut that goes by tape: the sheets on which the tape is held to it, alone or with one beside it."""
    near = Near(piece.spots[index].bounds for index in indices)
    for anchor, how in kinds.items():
        marks = mark_sides(piece.spots[anchor])
        if how == "edge":
            for axis in range(len(AXES)):
                tape = allowed(marks[1 - axis], piece)[0]
                for side in reached[anchor][axis]:
                    yield from _held_to(piece, indices, near, anchor, (side,), (tape,), wish)
        elif how == "centre":
            tapes = (allowed(marks[0], piece)[0], allowed(marks[1], piece)[0])
            yield from _held_to(piece, indices, near, anchor, (), tapes, wish)


def _held_to(
    piece: CutPiece,
    indices: Sequence[int],
    near: Near,
    anchor: int,
    edges: tuple[Side, ...],
    tapes: tuple[Side, ...],
    wish: Wish,
) -> Iterator[Candidate]:
    """The sheets on which the tape is held to one cut: it alone, and it with each of those nearest to it.

    `near` has the bounds of the cuts, in the order of `indices`.
    """
    lines = tuple(_line(piece.spots[anchor], piece, tape, wish) for tape in tapes)
    how: How = "edge" if edges else "centre"
    sheet = Registration(piece.name, how, edges, (anchor,), tapes, lines, wish.back, layout=wish.field.layout)
    yield Candidate(sheet, _fits_of(piece, sheet, [anchor], wish), anchor)
    own = piece.spots[anchor].bounds
    beside = [indices[place] for place in near.within(_about(own, tapes, piece, wish))]
    beside = [index for index in beside if index != anchor and _stands_with(piece, index, anchor, sheet, wish)]
    for index in sorted(beside, key=lambda other: _apart(piece, anchor, other))[:_MOST_BESIDE]:
        yield Candidate(sheet, _fits_of(piece, sheet, [anchor, index], wish), anchor)


_MOST_BESIDE = 4
"""So many of a cut's neighbours are thought of as the second on its sheet."""


def _about(own: Bounds, tapes: Sequence[Side], piece: CutPiece, wish: Wish) -> Bounds:
    """What of the whole tile a sheet by tape may show beside a cut: all along an axis that lies on an edge, mm."""
    tile, clear = piece.piece.tile, SIZES.clear_of_pair
    taped = {side.axis for side in tapes}
    wide, high = (wish.field.view(axis) - 2 * clear if axis in taped else math.inf for axis in AXES)
    return Bounds(
        max(own.max_x - wide, 0.0),
        max(own.max_y - high, 0.0),
        min(own.min_x + wide, tile.w),
        min(own.min_y + high, tile.h),
    )


def _stands_with(piece: CutPiece, index: int, anchor: int, sheet: Registration, wish: Wish) -> bool:
    """Whether a cut is wholly on the sheet that shows another, along its edges and between both ends of its tapes."""
    cut, other = piece.spots[index], piece.spots[anchor]
    for side in sheet.tape:
        ends = [*span(cut, piece, side), *span(other, piece, side)]
        if side not in allowed(_mark(cut, side), piece):
            return False
        if max(ends) - min(ends) + 2 * SIZES.clear_of_pair > wish.field.view(side.axis):
            return False
    return all(_on(cut, piece, side, wish) for side in sheet.edges)


def _apart(piece: CutPiece, one: int, other: int) -> float:
    """How far the middles of two cuts are apart, mm."""
    a, b = piece.spots[one].centre, piece.spots[other].centre
    return math.hypot(a.x - b.x, a.y - b.y)


def _line(cut: SheetSpot, piece: CutPiece, side: Side, wish: Wish) -> float:
    """How far from a side the line that is taped to lies: through the middle, or of a larger box its near side, mm."""
    near, far = span(cut, piece, side)
    is_larger = far - near + 2 * SIZES.clear > wish.field.view(side.axis)
    return near if isinstance(cut, Cut) and cut.sides is not None and is_larger else cut.from_edges[side]


def _on(cut: SheetSpot, piece: CutPiece, side: Side, wish: Wish) -> bool:
    reach = wish.field.reach(side.axis)
    return side in allowed(_mark(cut, side), piece) and span(cut, piece, side)[1] <= reach


def _mark(cut: SheetSpot, side: Side) -> Side:
    """The side to mark the cut from along the axis of `side`."""
    return next(mark for mark in mark_sides(cut) if mark.axis == side.axis)


def _joined(piece: CutPiece, indices: Sequence[int], wanted: Sequence[int], wish: Wish) -> Iterator[Candidate]:
    """Joined sheets from each corner, as many across and up as it takes for one of the wanted cuts.

    No more than that: of sheets as wide as one cut asks for and as high as another, the last would show nothing.
    """
    steps = (wish.field.step("across"), wish.field.step("up"))
    for corner, columns, rows in sorted(set(_grids(piece, [piece.spots[index] for index in wanted], wish))):
        sheet = Registration(
            piece.name,
            "joined",
            corner,
            (),
            back=wish.back,
            columns=columns,
            rows=rows,
            steps=steps,
            layout=wish.field.layout,
        )
        on_it = [index for index in indices if _on_grid(piece.spots[index], piece, corner, columns, rows, wish)]
        yield Candidate(sheet, _fits_of(piece, sheet, on_it, wish))


PageGrid = tuple[tuple[Side, Side], int, int]
"""A corner, and how many sheets across and up."""


def _grids(piece: CutPiece, cuts: Sequence[SheetSpot], wish: Wish) -> Iterator[PageGrid]:
    """For each cut and each corner that it may be lined up on, the sheets that it takes to show it whole."""
    for cut in cuts:
        across, up = mark_sides(cut)
        for corner in product(allowed(across, piece), allowed(up, piece)):
            columns, rows = (sheets_to(span(cut, piece, side)[1], wish.field, side.axis) for side in corner)
            yield corner, columns, rows


def _on_grid(cut: SheetSpot, piece: CutPiece, corner: tuple[Side, Side], columns: int, rows: int, wish: Wish) -> bool:
    return any(of == corner and across <= columns and up <= rows for of, across, up in _grids(piece, [cut], wish))


def _fits_of(piece: CutPiece, sheet: Registration, on_it: Sequence[int], wish: Wish) -> dict[int, PaperFit]:
    fits = {}
    for index in on_it:
        cut = piece.spots[index]
        used = {side.axis: side for side in (*sheet.edges, *sheet.tape)}
        off = sum(used[mark.axis] != mark for mark in mark_sides(cut))
        error = error_at(piece, cut, sheet, wish.figures)
        fits[index] = PaperFit(error, off, spaced=bool(sheet.tape) and _keeps(piece, index, sheet.cuts[0], error))
    return fits


def _keeps(piece: CutPiece, index: int, anchor: int, error: float) -> bool:
    """Whether a hole that goes by tape keeps its spacing from another, and is off by no more than it may be."""
    cut, other = piece.spots[index], piece.spots[anchor]
    spare = cut.opening.you_may_be if isinstance(cut, Cut) else None
    return index != anchor and cut.kind == other.kind == "hole" and spare is not None and error <= spare
