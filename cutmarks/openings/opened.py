"""An opening that was said to be opened towards a side: to the edge of its tile, or as a slot to slide along."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from msgspec.structs import replace

from cutmarks.geometry.edges import Bounds
from cutmarks.geometry.frames import Point, Surface, Tile
from cutmarks.geometry.regions import Region, contains, intersection, region
from cutmarks.geometry.rings import Ring, Vertex
from cutmarks.geometry.shapes import Outline, ring_of
from cutmarks.geometry.slack import Slack
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.limits import LIMITS, Limits
from cutmarks.openings.hidden import from_cover, lap_of, under_cover, with_lap
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
    away of each tile with its lap (`limits`) beside and behind it; what is cut away ends where a tile does.
    """
    if spec.open_towards is None or isinstance(opening.shape, Outline):
        return opening
    if spec.slide is not None:
        said = f"slot to slide {say(spec.slide, style)} towards the {spec.open_towards}"
        dx, dy = spec.open_towards.step
        steps = ((0.0, 0.0), (dx * spec.slide, dy * spec.slide))
        shape = swept(opening.ring, spec.open_towards, spec.slide)
        slot = _reshaped(opening, shape, f"{opening.why}, {said}", (spec.open_towards,), steps)
        slot = replace(slot, slide=spec.slide)
        return _with_leeway(slot, _slot_with_lap(slot, limits), list(_pieces_met(slot.ring, layouts)))
    under = _under(opening.at, layouts)
    if under is None:
        return opening
    piece, joint = under
    sides = (spec.open_towards, *((spec.open_also,) if spec.open_also else ()))
    said = f"open to the {' and the '.join(sides)} {'edges' if len(sides) > 1 else 'edge'}"
    shape = _to_edges(opening.ring, sides, piece, joint)
    notch = _reshaped(opening, shape, f"{opening.why}, {said}", sides, ((0.0, 0.0),))
    lapped = _to_edges(_ring_with_lap(opening, limits), sides, piece, joint)
    return _with_leeway(notch, lapped, list(_pieces_met(notch.ring, layouts)))


def opened_anew(opening: Opening, piece: Piece, joint: float, limits: Limits) -> Opening:
    """An opening that was opened and has moved in one piece since: from where it is now to that same edge."""
    if not opening.opened or opening.closed is None:
        return opening
    if opening.slide is not None:
        return _with_leeway(opening, _slot_with_lap(opening, limits), [piece])
    closed = replace(
        opening, shape=opening.closed, core=None if opening.drilled is None else opening.drilled.core, opened=()
    )
    shape = _to_edges(ring_of(opening.closed, opening.at), opening.opened, piece, joint)
    notch = _reshaped(closed, shape, opening.why, opening.opened, ((0.0, 0.0),))
    return _with_leeway(notch, _to_edges(_ring_with_lap(opening, limits), opening.opened, piece, joint), [piece])


def _to_edges(ring: Ring[Surface], sides: Sequence[Side], piece: Piece, joint: float) -> Region[Surface]:
    """A closed outline carried on to these sides of a piece, into the middle of the joint."""
    box = _with_half_joint(piece.outline.bounds, joint, sides)
    return carried_on(ring.moved(piece.tile_at.inverse()), sides, box).moved(piece.tile_at)


def _slot_with_lap(opening: Opening, limits: Limits) -> Region[Surface]:
    """A slot to slide with the lap that its cover has to have all round it."""
    assert opening.slide is not None
    return swept(_ring_with_lap(opening, limits), opening.opened[0], opening.slide)


def _ring_with_lap(opening: Opening, limits: Limits) -> Ring[Surface]:
    """The closed outline with the lap that its cover has to have all round it."""
    return with_lap(opening, 0.0 if opening.cover is None else lap_of(opening.cover, limits))


def _with_leeway(opening: Opening, lapped: Region[Surface], pieces: Sequence[Piece]) -> Opening:
    """The opening with the leeway of what is cut of these pieces; `lapped` is the cut with its lap."""
    if opening.cover is None:
        return opening
    own, cover = from_cover(opening), opening.cover

    def kept_under(cut: Region[Surface]) -> tuple[Slack[Tile], ...]:
        shares = (intersection(piece.outline, cut.moved(piece.tile_at.inverse())) for piece in pieces)
        seen = ((share, piece) for share, piece in zip(shares, pieces, strict=True) if not share.is_empty)
        return tuple(under_cover(cover, share.moved(piece.tile_at).moved(own)) for share, piece in seen)

    leeway = replace(opening.leeway, under=kept_under(lapped), bare=kept_under(region(opening.ring)))
    return replace(opening, leeway=leeway)


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
