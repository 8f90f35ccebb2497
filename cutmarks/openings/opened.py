"""An opening that was said to be opened towards a side: to the edge of its tile, or as a slot to slide along."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from cutmarks.geometry.edges import Bounds
from cutmarks.geometry.frames import F, Point, Surface, Tile
from cutmarks.geometry.offset import grown
from cutmarks.geometry.regions import Region, contains, intersection, region
from cutmarks.geometry.rings import Ring, Vertex
from cutmarks.geometry.shapes import Outline, ring_of
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.job.limits import LIMITS, Limits
from cutmarks.openings.hidden import from_cover, spare_under
from cutmarks.openings.model import Drilled, Opening
from cutmarks.openings.notches import carried_on, swept
from cutmarks.sides import Side
from cutmarks.tiling.layout import Layout
from cutmarks.tiling.model import Piece
from cutmarks.units import Style, say

if TYPE_CHECKING:
    from cutmarks.job.models import HoleSpec


def as_opened(
    opening: Opening, spec: HoleSpec, layouts: Sequence[Layout], style: Style, limits: Limits = LIMITS
) -> Opening:
    """The opening as the job wants it opened; the same where nothing is said, and for an outline or one on no tile.

    `slot: towards the right` opens it to that side of the tile that its middle lies on, into the middle of the joint
    and no further, along the tile's own sides; with a second side, over the corner between them. `slot: 12 towards the
    right` makes it a slot: before the tile is slid 12 to the right it has to go over the pipe, which then lies 12
    further right on it.

    It may be as far off as the closed hole may, and no further than its cover, fixed to the pipe, hides what is cut
    away of the tiles with its lap (`limits`) beside and behind it; what is cut away ends where a tile does.
    """
    if spec.open_towards is None or isinstance(opening.shape, Outline):
        return opening
    if spec.slide is not None:
        shape = swept(opening.ring, spec.open_towards, spec.slide)
        lapped = swept(_with_lap(opening.ring, opening, limits), spec.open_towards, spec.slide)
        said = f"slot to slide {say(spec.slide, style)} towards the {spec.open_towards}"
        dx, dy = spec.open_towards.step
        steps = ((0.0, 0.0), (dx * spec.slide, dy * spec.slide))
        slot = _reshaped(opening, shape, f"{opening.why}, {said}", (spec.open_towards,), steps)
        return replace(slot, slide=spec.slide, you_may_be=_you_may_be(slot, lapped, layouts))
    under = _under(opening.at, layouts)
    if under is None:
        return opening
    piece, joint = under
    sides = [spec.open_towards, *([spec.open_also] if spec.open_also else [])]
    on_tile: Ring[Tile] = opening.ring.moved(piece.tile_at.inverse())
    box = _with_half_joint(piece.outline.bounds, joint, sides)
    shape = carried_on(on_tile, sides, box).moved(piece.tile_at)
    lapped = carried_on(_with_lap(on_tile, opening, limits), sides, box).moved(piece.tile_at)
    said = f"open to the {' and the '.join(sides)} {'edges' if len(sides) > 1 else 'edge'}"
    notch = _reshaped(opening, shape, f"{opening.why}, {said}", tuple(sides), ((0.0, 0.0),))
    return replace(notch, you_may_be=_you_may_be(notch, lapped, layouts))


def opened_anew(opening: Opening, piece: Piece, joint: float) -> Opening:
    """An opening that was opened to an edge and has moved since: from where it is now to that same edge."""
    if not opening.opened or opening.slide is not None or opening.closed is None:
        return opening
    closed = replace(
        opening, shape=opening.closed, core=None if opening.drilled is None else opening.drilled.core, opened=()
    )
    on_tile: Ring[Tile] = ring_of(opening.closed, opening.at).moved(piece.tile_at.inverse())
    box = _with_half_joint(piece.outline.bounds, joint, opening.opened)
    shape = carried_on(on_tile, opening.opened, box).moved(piece.tile_at)
    return _reshaped(closed, shape, opening.why, opening.opened, ((0.0, 0.0),))


def _with_lap(ring: Ring[F], opening: Opening, limits: Limits) -> Ring[F]:
    """The closed outline with the lap that its cover has to have all round it."""
    lap = (limits.lap if opening.cover is not None and opening.cover.round else limits.box_lap).value
    return grown(ring, lap) if lap > 0.0 else ring


def _you_may_be(opening: Opening, lapped: Region[Surface], layouts: Sequence[Layout]) -> float | None:
    """What the closed hole may be off, or less where its cover hides less of what is opened; `lapped` with its lap."""
    if opening.you_may_be is None or opening.cover is None:
        return opening.you_may_be
    spares = [opening.you_may_be]
    for piece in _pieces_met(opening.ring, layouts):
        hides = intersection(piece.outline, lapped.moved(piece.tile_at.inverse()))
        spares.append(spare_under(opening.cover, hides.moved(piece.tile_at).moved(from_cover(opening))))
    return max(0.0, min(spares))


def _pieces_met(ring: Ring[Surface], layouts: Sequence[Layout]) -> Iterator[Piece]:
    """The pieces that an outline takes something out of."""
    for layout in layouts:
        for place in layout.places_under(ring.moved(layout.grid.to_surface.inverse()).bounds):
            piece = layout.piece(place)
            if piece is None:
                continue
            share = intersection(piece.outline, region(ring.moved(piece.tile_at.inverse())))
            if not share.is_empty and share.area > TOUCH:
                yield piece


def _under(at: Point[Surface], layouts: Sequence[Layout]) -> tuple[Piece, float] | None:
    """The piece that a place lies on, and its joint, mm; None where it lies on none."""
    for layout in layouts:
        u, v = layout.grid.to_surface.inverse().xy(at.x, at.y)
        for place in layout.places_under(Bounds(u - TOUCH, v - TOUCH, u + TOUCH, v + TOUCH)):
            piece = layout.piece(place)
            if piece is not None and contains(piece.outline, piece.tile_at.inverse().apply(at)):
                return piece, layout.grid.joint
    return None


def _with_half_joint(box: Bounds, joint: float, sides: Sequence[Side]) -> Bounds:
    """The piece's bounds with half of the joint beyond the sides that are opened: the neighbour is not touched."""
    half = joint / 2.0
    return Bounds(
        box.min_x - half * ("left" in sides),
        box.min_y - half * ("bottom" in sides),
        box.max_x + half * ("right" in sides),
        box.max_y + half * ("top" in sides),
    )


def _reshaped(
    opening: Opening,
    shape: Region[Surface],
    why: str,
    opened: tuple[Side, ...],
    steps: tuple[tuple[float, float], ...],
) -> Opening:
    """The opening with another outline about the same middle, so that its cover and its measures stay.

    `steps` say where from its middle the core stands that the closed hole would have had.
    """
    (ring,) = shape.rings
    x, y = opening.at.x, opening.at.y
    outline = Outline(tuple(Vertex(v.x - x, v.y - y, v.bulge) for v in ring.vertices))
    drilled = None if opening.core is None else Drilled(opening.core, steps)
    return replace(
        opening,
        shape=outline,
        ring=ring,
        why=why,
        core=None,
        opened=opened,
        closed=opening.shape,
        drilled=drilled,
    )
