"""A piece as it is seen from behind: everything mirrored, words and figures the same.

The template for the back is drawn by the same code as that for the face: it is given the piece in its Back frame, in
which x runs from the edge that is the right one on the face, and left and right have changed hands.
"""

from __future__ import annotations

from msgspec.structs import replace

from cutmarks.geometry.frames import Placement, Tile
from cutmarks.openings.model import Cut, CutPiece
from cutmarks.registering.model import Registration
from cutmarks.sides import FourSides


def from_behind(piece: CutPiece) -> CutPiece:
    """The piece in its Back frame. What is read on the wall (`wall_checks`) stays as it is seen on the face."""
    turn: Placement[Tile, Tile] = Placement.mirror(piece.piece.tile.w)
    return replace(
        piece,
        piece=replace(piece.piece, tile_at=turn.then(piece.piece.tile_at), outline=piece.piece.outline.moved(turn)),
        outline=piece.outline.moved(turn),
        cuts=tuple(_cut(cut, piece.piece.tile.w, turn) for cut in piece.cuts),
        corners=tuple(corner.mirrored for corner in piece.corners),
        factory_edges=tuple(side.mirrored for side in piece.factory_edges),
        cut_edges=tuple(side.mirrored for side in piece.cut_edges),
        fixed=replace(piece.fixed, across=piece.fixed.across.mirrored),
        edge_work=tuple(replace(work, side=work.side.mirrored) for work in piece.edge_work),
    )


def registered_behind(registration: Registration) -> Registration:
    """The registration with its sides as they are called in the Back frame."""
    return replace(
        registration,
        edges=tuple(side.mirrored for side in registration.edges),
        tape=tuple(side.mirrored for side in registration.tape),
    )


def is_behind(piece: CutPiece) -> bool:
    """Whether the piece is given in its Back frame."""
    return piece.piece.tile_at.mirrored


def _cut(cut: Cut, w: float, turn: Placement[Tile, Tile]) -> Cut:
    first, second = cut.mark_from
    sides = cut.sides
    return replace(
        cut,
        ring=cut.ring.moved(turn),
        runs_out=frozenset(side.mirrored for side in cut.runs_out),
        from_edges=cut.from_edges.mirrored,
        sides=None if sides is None else FourSides(w - sides.right, w - sides.left, sides.bottom, sides.top),
        share=cut.share.moved(turn),
        web=replace(cut.web, left=cut.web.right, right=cut.web.left),
        mark_from=(first.mirrored, second.mirrored),
        from_cut_edges=tuple((side.mirrored, value) for side, value in cut.from_cut_edges),
        drill_at=tuple(map(turn.apply, cut.drill_at)),
    )
