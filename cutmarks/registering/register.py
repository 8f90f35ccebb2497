"""Which of a tile's edges are on the paper with each of its cuts.

The corner on the fixed side comes first: it needs no tape, and the tile's own size does not come into it. Then
another corner of the maker's edges, then one edge with one tape measure, then the tape alone.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Literal

from cutmarks.openings.model import Cut, CutPiece
from cutmarks.registering.model import Registration
from cutmarks.registering.paper import CLEAR, PAPERS, Paper
from cutmarks.setout.model import OPPOSITE, Side

Axis = Literal["across", "up"]
_ACROSS: tuple[Side, Side] = ("left", "right")
_UP: tuple[Side, Side] = ("bottom", "top")
_FAR_START = 0.5
"""A cut that is larger than the paper may be on it in part if it begins within this share of the reach."""

Choice = tuple[Literal["corner", "edge", "centre"], tuple[Side, ...], tuple[Side, ...]]


def register(pieces: Iterable[CutPiece], paper: str) -> tuple[Registration, ...]:
    """The sheets of all pieces that are cut round something, in the order of `pieces`.

    `paper` names one of `PAPERS`; raises KeyError for another name. Every cut is on exactly one sheet.
    """
    return tuple(sheet for piece in pieces if piece.cuts for sheet in _sheets(piece, PAPERS[paper]))


def axis_of(side: Side) -> Axis:
    """The axis that a measure from this side runs along."""
    return "across" if side in _ACROSS else "up"


def opposite(side: Side) -> Side:
    """The other side of the same axis."""
    return OPPOSITE[side]


def mark_sides(cut: Cut) -> tuple[Side, Side]:
    """The two sides to mark a cut from, across first."""
    first, second = cut.mark_from
    return (first, second) if axis_of(first) == "across" else (second, first)


def span(cut: Cut, piece: CutPiece, side: Side) -> tuple[float, float]:
    """Where the cut begins and ends, measured from `side` of the whole tile, mm."""
    box = cut.share.bounds
    tile = piece.piece.tile
    match side:
        case "left":
            return box.min_x, box.max_x
        case "right":
            return tile.w - box.max_x, tile.w - box.min_x
        case "bottom":
            return box.min_y, box.max_y
        case "top":
            return tile.h - box.max_y, tile.h - box.min_y


def centre_from(cut: Cut, side: Side) -> float:
    """The centre of the opening, measured from `side` of the whole tile, mm; negative where it lies off the tile."""
    match side:
        case "left":
            return cut.from_left
        case "right":
            return cut.from_right
        case "bottom":
            return cut.from_bottom
        case "top":
            return cut.from_top


def _sheets(piece: CutPiece, paper: Paper) -> list[Registration]:
    choices = [(_choice(cut, piece, paper), index) for index, cut in enumerate(piece.cuts)]
    order: dict[Choice, list[int]] = {}
    for choice, index in choices:
        order.setdefault(choice, []).append(index)
    sheets = []
    for (how, edges, tape), indices in order.items():
        for group in _on_one_sheet(how, edges, indices, piece, paper):
            sheets.append(Registration(piece.name, how, edges, tuple(group), tape))
    return sheets


def _choice(cut: Cut, piece: CutPiece, paper: Paper) -> Choice:
    across, up = (_in_order(side, piece) for side in mark_sides(cut))
    near_across = [side for side in across if _reached(cut, piece, side, paper)]
    near_up = [side for side in up if _reached(cut, piece, side, paper)]
    if near_across and near_up:
        return "corner", (near_across[0], near_up[0]), ()
    if near_up:
        return "edge", (near_up[0],), (across[0],)
    if near_across:
        return "edge", (near_across[0],), (up[0],)
    return "centre", (), (across[0], up[0])


def _in_order(mark: Side, piece: CutPiece) -> tuple[Side, ...]:
    """The mark side first; the other where the maker's edge is left on it, or where it is not on either."""
    other = opposite(mark)
    if mark in piece.factory_edges and other not in piece.factory_edges:
        return (mark,)
    return mark, other


def _reached(cut: Cut, piece: CutPiece, side: Side, paper: Paper) -> bool:
    near, far = span(cut, piece, side)
    reach = _reach(side, paper)
    return far <= reach or (far - near > reach and near <= _FAR_START * reach)


def _reach(side: Side, paper: Paper) -> float:
    return paper.reach_across if axis_of(side) == "across" else paper.reach_up


def _on_one_sheet(
    how: str, edges: Sequence[Side], indices: Sequence[int], piece: CutPiece, paper: Paper
) -> list[list[int]]:
    """The cuts of one choice, parted into sheets: beside one edge only as many as the paper is wide (or high) for."""
    if how == "corner":
        return [list(indices)]
    if how == "centre":
        return [[index] for index in indices]
    along: Side = "bottom" if axis_of(edges[0]) == "across" else "left"
    room = (paper.view_height if along == "bottom" else paper.view_width) / 2 - CLEAR
    groups: list[list[int]] = []
    for index in sorted(indices, key=lambda i: centre_from(piece.cuts[i], along)):
        cut = piece.cuts[index]
        first = groups[-1][0] if groups else None
        if first is not None and span(cut, piece, along)[1] - centre_from(piece.cuts[first], along) <= room:
            groups[-1].append(index)
        else:
            groups.append([index])
    return groups
