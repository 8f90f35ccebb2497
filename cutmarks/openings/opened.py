"""An opening that was said to be opened towards a side: to the edge of its tile, or as a slot to slide along."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from cutmarks.geometry.edges import Bounds
from cutmarks.geometry.frames import Point, Surface, Tile
from cutmarks.geometry.regions import Region, contains
from cutmarks.geometry.rings import Ring, Vertex
from cutmarks.geometry.shapes import Outline
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.openings.model import Drilled, Opening
from cutmarks.openings.notches import STEPS, carried_on, swept
from cutmarks.setout.model import Side
from cutmarks.tiling.layout import Layout
from cutmarks.tiling.model import Piece
from cutmarks.units import Style, say

if TYPE_CHECKING:
    from cutmarks.job.models import HoleSpec


def as_opened(opening: Opening, spec: HoleSpec, layouts: Sequence[Layout], style: Style) -> Opening:
    """The opening as the job wants it opened; the same where nothing is said, and for an outline or one on no tile.

    `slot: towards the right` opens it to that side of the tile that its middle lies on, into the middle of the joint
    and no further, along the tile's own sides; with a second side, over the corner between them. `slot: 12 towards the
    right` makes it a slot: before the tile is slid 12 to the right it has to go over the pipe, which then lies 12
    further right on it.
    """
    if spec.open_towards is None or isinstance(opening.shape, Outline):
        return opening
    if spec.slide is not None:
        shape = swept(opening.ring, spec.open_towards, spec.slide)
        said = f"slot to slide {say(spec.slide, style)} towards the {spec.open_towards}"
        dx, dy = STEPS[spec.open_towards]
        steps = ((0.0, 0.0), (dx * spec.slide, dy * spec.slide))
        slot = _reshaped(opening, shape, f"{opening.why}, {said}", (spec.open_towards,), steps)
        return replace(slot, slide=spec.slide)
    under = _under(opening.at, layouts)
    if under is None:
        return opening
    piece, joint = under
    sides = [spec.open_towards, *([spec.open_also] if spec.open_also else [])]
    on_tile: Ring[Tile] = opening.ring.moved(piece.tile_at.inverse())
    shape = carried_on(on_tile, sides, _with_half_joint(piece.outline.bounds, joint, sides)).moved(piece.tile_at)
    said = f"open to the {' and the '.join(sides)} {'edges' if len(sides) > 1 else 'edge'}"
    return _reshaped(opening, shape, f"{opening.why}, {said}", tuple(sides), ((0.0, 0.0),))


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
    return replace(opening, shape=outline, ring=ring, why=why, core=None, opened=opened, drilled=drilled)
