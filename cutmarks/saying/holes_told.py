"""The holes of a surface on its set-out page: how large each is cut, and in which tiles."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from cutmarks.geometry.regions import intersection, region
from cutmarks.geometry.shapes import Rect
from cutmarks.openings.model import Cut, CutPiece, Opening
from cutmarks.saying.figures import size
from cutmarks.saying.runs import named
from cutmarks.units import Style, say

MOST_SIZED = 6
"""So many holes have their size; of more the tiles alone are named."""


def holes_told(pieces: Sequence[CutPiece], style: Style, *, several: bool, tight: bool = False) -> Iterator[str]:
    """The tiles that are drilled, by what comes through: "water, core 32: 2-3, 3-3 (3-3 by its hole alone)".

    several  their surface has more than one area: pieces are told with theirs.
    """
    by_hole: dict[str, list[tuple[CutPiece, Cut]]] = {}
    for piece in pieces:
        for cut in piece.cuts:
            by_hole.setdefault(cut.opening.name, []).append((piece, cut))
    if not by_hole:
        return
    if tight or len(by_hole) > MOST_SIZED:
        said = named([piece.name for piece in pieces if piece.cuts], several)
    else:
        said = "; ".join(_hole(cuts, style, several) for cuts in by_hole.values())
    yield f"Holes, sheets in pack.pdf: {said}."


def _hole(cuts: Sequence[tuple[CutPiece, Cut]], style: Style, several: bool) -> str:
    opening = cuts[0][1].opening
    missed = [piece.name for piece, _ in cuts if not _comes_through(opening, piece)]
    misses = f" ({named(missed, several)} by its hole alone)" if missed else ""
    return f"{opening.name}, {_how_large(opening, style)}: {named([piece.name for piece, _ in cuts], several)}{misses}"


def _how_large(opening: Opening, style: Style) -> str:
    """The core that it is drilled with, or how large its cut-out is, overall where it is no upright box."""
    if opening.core is not None:
        return f"core {say(opening.core, style)}"
    box = opening.ring.bounds
    upright = isinstance(opening.shape, Rect) and not opening.shape.lean
    return f"{size(box.width, box.height, style)}{'' if upright else ' overall'}"


def _comes_through(opening: Opening, piece: CutPiece) -> bool:
    """Whether the thing itself, without the room that its hole gives it, is in a piece."""
    whole = piece.piece.outline.moved(piece.piece.tile_at)
    return bool(intersection(region(opening.thing), whole).rings)
