"""Rules about a hole that is opened to an edge or into a slot: how its cover laps, and how far it may come off.

What shows is tile that was cut away: the mouth ends at the edge of the tile, and the joint beyond is filled as every
joint is. The cover sits on the pipe.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from cutmarks.checks.chance import Room, Span, box
from cutmarks.checks.notches import cover_ring
from cutmarks.geometry.distance import gap
from cutmarks.geometry.edges import Arc
from cutmarks.geometry.frames import Tile
from cutmarks.geometry.regions import Region, difference, region
from cutmarks.geometry.rings import edges
from cutmarks.openings.hidden import from_cover, reaches, spare_under
from cutmarks.openings.model import Cover, Cut, CutPiece, Opening

NEAR = 0.01
"""A lap this near to what is wanted is enough, mm: a notch that is offered may show a speck of `TOUCH` mm2 at a corner.
"""
HALVINGS = 60
"""A room's ends are looked for by halving this often: from a metre down to 1e-15 mm."""
THIRDS = 100
"""A room's widest place is looked for by leaving a third out this often: from a metre down to 1e-15 mm."""


@dataclass(frozen=True, slots=True)
class Hidden:
    """How a cover hides an opened hole, mm; infinite where nothing of a tile is cut or left.

    lap    what it laps over the tile that is left beside and behind the cut; below 0: how far the cut shows.
    spare  how far the cut may move any way until it shows; less than the lap where a mouth comes near to the rim.
    """

    lap: float
    spare: float


def hidden(opening: Opening, pieces: Sequence[CutPiece]) -> Hidden:
    """How the cover hides the opening in all the pieces that it is cut in."""
    found = [_on_piece(piece, cut) for piece, cut in _cuts_of(opening, pieces)]
    return Hidden(
        min((one.lap for one in found), default=math.inf), min((one.spare for one in found), default=math.inf)
    )


def _cuts_of(opening: Opening, pieces: Sequence[CutPiece]) -> Iterator[tuple[CutPiece, Cut]]:
    for piece in pieces:
        for cut in piece.cuts:
            if cut.opening.name == opening.name:
                yield piece, cut


def _on_piece(piece: CutPiece, cut: Cut) -> Hidden:
    cover, rim = cut.opening.cover, cover_ring(cut.opening, piece)
    assert cover is not None
    assert rim is not None
    spare = spare_under(cover, seen_from_cover(piece, cut))
    if spare < -NEAR:
        return Hidden(spare, spare)
    bare = difference(piece.piece.outline, region(rim))
    lap = min((gap(a, b) for a in cut.share.rings for b in bare.rings), default=math.inf)
    return Hidden(lap, max(0.0, spare))


def seen_from_cover(piece: CutPiece, cut: Cut) -> Region[Tile]:
    """What is cut out of a piece, about the middle of the cover and along its sides."""
    return cut.share.moved(piece.piece.tile_at).moved(from_cover(cut.opening))


def room_under(cover: Cover, cut: Region[Tile]) -> Room:
    """Where a cut may move to and stay under its cover; `cut` as `seen_from_cover` has it."""
    if cover.round:
        return under_round(cut, cover.w / 2.0)
    sides = cut.bounds
    return box(
        cover.w / 2.0 + sides.min_x,
        cover.w / 2.0 - sides.max_x,
        cover.h / 2.0 + sides.min_y,
        cover.h / 2.0 - sides.max_y,
    )


def under_round(cut: Region[Tile], radius: float) -> Room:
    """Where a cut of any outline may move to inside a circle about the origin.

    Every place p of the cut keeps it to dy between -p.y -/+ sqrt(R^2 - (p.x + dx)^2). Of an arc of radius r about m the
    tightest place is an end, or the one straight out from the circle's middle: there dy = -m.y -/+
    sqrt((R - r)^2 - (m.x + dx)^2), where the arc has it.
    """
    row = [edge for ring in cut.rings for edge in edges(ring)]
    arcs = [edge for edge in row if isinstance(edge, Arc)]

    def span(dx: float) -> Span:
        down, up = -math.inf, math.inf
        for edge in row:
            half = math.sqrt(max(0.0, radius**2 - (edge.x0 + dx) ** 2))
            down, up = max(down, -half - edge.y0), min(up, half - edge.y0)
        for arc in arcs:
            x, inner = arc.cx + dx, radius - arc.radius
            if abs(x) >= inner:
                continue
            half = math.sqrt(inner**2 - x**2)
            if reaches(arc, x, half):
                up = min(up, half - arc.cy)
            if reaches(arc, x, -half):
                down = max(down, -half - arc.cy)
        return down, up

    return _narrowed(Room(-radius - cut.bounds.min_x, radius - cut.bounds.max_x, span))


def _narrowed(room: Room) -> Room:
    """The same convex room from its first place to its last; of no width where it has none."""

    def width(dx: float) -> float:
        down, up = room.span(dx)
        return up - down

    low, high = room.low, room.high
    if low >= high:
        return room
    for _ in range(THIRDS):
        third = (high - low) / 3.0
        if width(low + third) < width(high - third):
            low += third
        else:
            high -= third
    widest = (low + high) / 2.0
    if width(widest) <= 0.0:
        return Room(widest, widest, room.span)
    ends = []
    for end in (room.low, room.high):
        inside, outside = widest, end
        if width(end) >= 0.0:
            inside = end
        for _ in range(HALVINGS):
            between = (inside + outside) / 2.0
            if width(between) > 0.0:
                inside = between
            else:
                outside = between
        ends.append(inside)
    return Room(ends[0], ends[1], room.span)
