"""What is done to a side of a piece, or hides it, because of the edge or the void at which it lies."""

from __future__ import annotations

from msgspec import Struct
from msgspec.structs import replace

from cutmarks.geometry.edges import Edge, touches
from cutmarks.geometry.frames import Surface, Tile
from cutmarks.geometry.regions import Region
from cutmarks.geometry.rings import edges
from cutmarks.openings.outlines import facing
from cutmarks.readings import USUAL_CORNER, CornerWay, OuterCorner
from cutmarks.setout.edges import position_at, runs_up
from cutmarks.setout.model import SetOut, SurfaceEdge, Void
from cutmarks.sides import Side
from cutmarks.tiling.model import Piece

__all__ = ["CornerWay", "EdgeWork", "lets_come", "lies_at", "work_of"]

HALF = 0.5
AT_THE_EDGE = 0.01
"""A side of a piece this near to where an edge lets tile come lies along it, mm."""


class EdgeWork(Struct, frozen=True):
    """One side of a piece at an edge of its surface, or at a void, that the job says more of.

    side     of the tile as it lies; at: "right edge", "window".
    finish   how its edge is finished where it is seen; "": not said.
    corner   how it meets the tile round an outer corner; None where there is none.
    short    by how much the back of a mitred edge is short of its face, mm: the thickness; None where that is not said.
    hidden_by, hidden  what covers the edge, and how much of the piece that hides, mm; None where its width is not said.
    """

    side: Side
    at: str
    finish: str = ""
    corner: OuterCorner | None = None
    short: float | None = None
    hidden_by: str = ""
    hidden: float | None = None

    @property
    def is_mitred(self) -> bool:
        """Whether the edge is cut at 45 degrees."""
        return self.finish == "mitre" or (self.corner is not None and self.corner.way == "mitre")

    @property
    def values(self) -> tuple[object, ...]:
        """What a print depends on, as plain values."""
        corner = None if self.corner is None else (self.corner.way, self.corner.wide)
        return (str(self.side), self.at, self.finish, corner, self.short, self.hidden_by, self.hidden)


def lies_at(piece: Piece, outline: Region[Tile], setout: SetOut) -> list[tuple[Side, SurfaceEdge | Void]]:
    """The edges and voids along which a side of a piece lies, each with that side, in the order of its outline.

    `outline` is what is fixed of the piece, in its Tile frame. A piece that trimming left untouched counts too, where
    its edge happens to lie there.
    """
    things: list[SurfaceEdge | Void] = [*setout.edges.values()]
    box = outline.moved(piece.tile_at).bounds
    things += [void for void in setout.voids if void.goes_under is None and void.ring.bounds.overlaps(box, AT_THE_EDGE)]
    found: list[tuple[Side, SurfaceEdge | Void]] = []
    for ring in outline.rings:
        for own, on_surface in zip(edges(ring), edges(ring.moved(piece.tile_at)), strict=True):
            for thing in things:
                one = (facing(own), thing)
                if one not in found and lies_along(on_surface, thing):
                    found.append(one)
    return found


def work_of(side: Side, thing: SurfaceEdge | Void, piece: Piece) -> EdgeWork | None:
    """What a side that lies along an edge or a void is asked for; None where the job says nothing of it."""
    corner = thing.corner or (None if thing.lining is None else USUAL_CORNER)
    if isinstance(thing, Void) and thing.sill_laps and _is_foot(side, piece):
        corner = OuterCorner("return laps")
    # What is lapped is not seen.
    work = EdgeWork(
        side, thing.called, "" if corner is not None and corner.way == "return laps" else thing.finish, corner
    )
    if isinstance(thing, SurfaceEdge):
        hidden = None if thing.hides is None else max(0.0, thing.hides - max(thing.clears))
        work = replace(work, hidden_by=thing.hidden_by, hidden=hidden)
    if not (work.finish or work.corner or work.hidden_by):
        return None
    return replace(work, short=piece.tile.thickness) if work.is_mitred else work


def _is_foot(side: Side, piece: Piece) -> bool:
    """Whether a side of a piece looks up: what lies along it is the foot of a void."""
    dx, dy = side.step
    at = piece.tile_at
    return at.sin * dx + at.cos * dy > HALF


def lies_along(edge: Edge[Surface], thing: SurfaceEdge | Void) -> bool:
    """Whether both ends and the middle of an edge lie where the surface's edge, or the void, lets tile come."""
    if edge.length <= AT_THE_EDGE:
        return False
    ends = ((edge[0], edge[1]), (edge[2], edge[3]), ((edge[0] + edge[2]) / 2, (edge[1] + edge[3]) / 2))
    if isinstance(thing, Void):
        return any(
            all(touches(one, *end, AT_THE_EDGE) for end in ends)
            for one in edges(thing.ring)
            if not of_a_horn(one, thing)
        )
    return all(lets_come(thing, *end) for end in ends)


def of_a_horn(edge: Edge[Surface], void: Void) -> bool:
    """Whether an edge of a void as it takes tile lies beside it, at a horn of its sill board: a joint, no corner."""
    if void.sill is None or not void.sill.horns:
        return False
    box, middle = void.measured.bounds, (edge[0] + edge[2]) / 2
    return not box.min_x - void.gap - AT_THE_EDGE <= middle <= box.max_x + void.gap + AT_THE_EDGE


def lets_come(edge: SurfaceEdge, x: float, y: float) -> bool:
    """Whether a place lies as far inside an edge as is kept clear there."""
    at, along = (x, y) if runs_up(edge.side) else (y, x)
    clear = (position_at(edge, along) - at) * edge.side.sign
    return any(abs(clear - own) <= AT_THE_EDGE for own in edge.clears)
