"""A hole and its cover, measured from the thing: how the cut lies under it, and how far it may be off.

A hole that is opened to an edge, or into a slot, has its pipe far from the middle of the cut: its mouth may show though
a cover over that middle would hide it.
"""

from __future__ import annotations

from cutmarks.geometry.frames import Placement, Surface, Tile
from cutmarks.geometry.regions import Region, region
from cutmarks.geometry.rings import Ring
from cutmarks.geometry.shapes import Circle, Rect, Shape, ring_of, rounded_out
from cutmarks.geometry.slack import InDisc, Slack, in_box, in_round, slack
from cutmarks.limits import Limits
from cutmarks.openings.leeway import Leeway
from cutmarks.openings.model import Cover, Opening

_HALF_TURN: Placement[Tile, Tile] = Placement.turned(180.0)


def lap_of(cover: Cover, limits: Limits) -> float:
    """How far a cover has to lap past what it hides, mm: a rose's lap, or a plate's."""
    return (limits.lap if cover.round else limits.box_lap).value


def closed_shape(opening: Opening) -> Shape:
    """The opening's shape before it was opened to an edge."""
    return opening.closed or opening.shape


def lean_of(opening: Opening) -> float:
    """The lean of an opening and of an oblong cover over it, degrees: that of its box, opened or closed."""
    shape = closed_shape(opening)
    return shape.lean if isinstance(shape, Rect) else 0.0


def cover_on_surface(opening: Opening) -> Ring[Surface] | None:
    """The outline of what hides an opening, in the Surface frame; None where nothing does."""
    return None if opening.cover is None else outline_about(opening, opening.cover)


def outline_about(opening: Opening, what: Cover) -> Ring[Surface]:
    """A round or oblong outline about an opening's middle; an oblong one leans as the box that it was opened for."""
    if what.round:
        return ring_of(Circle(what.w), opening.at)
    return ring_of(Rect(what.w, what.h, lean_of(opening)), opening.at)


def from_cover(opening: Opening) -> Placement[Surface, Tile]:
    """From the surface to a cover's own sides: its middle, which is the pipe's, at the origin, and upright."""
    own: Placement[Tile, Surface] = Placement.turned(lean_of(opening), opening.at.x, opening.at.y)
    return own.inverse()


def with_lap(opening: Opening, lap: float) -> Ring[Surface]:
    """The closed outline with `lap` mm all round it, its corners round; not of a free outline."""
    return ring_of(rounded_out(closed_shape(opening), lap), opening.at)


def under_cover(cover: Cover, cut: Region[Tile], lap: float = 0.0) -> Slack[Tile]:
    """How far a cut may move and stay under its cover with a lap; `cut` is seen from the cover, as by `from_cover`."""
    if cover.round:
        return in_round(cut.rings, cover.w / 2.0 - lap)
    return in_box(cut.rings, cover.w / 2.0 - lap, cover.h / 2.0 - lap)


def leeway_of(opening: Opening, limits: Limits, size_known: bool) -> Leeway:
    """How far a closed hole may be off; `size_known` tells whether the thing is as large as `opening.thing`."""
    thing, hole, cover = opening.thing.disc, opening.ring.disc, opening.cover
    if thing is None or hole is None or not (cover is None or cover.round):
        return _leeway_of_any(opening, limits, size_known)
    # Round all through, the short way: what is left of the radii, about where the one lies from the other.
    over = InDisc(thing[0] - hole[0], thing[1] - hole[1], hole[2] - thing[2]) if size_known else None
    if cover is None:
        return Leeway(0.0, over)
    x, y = opening.at.x - hole[0], opening.at.y - hole[1]
    lap = lap_of(cover, limits)
    under, bare = (InDisc(x, y, cover.w / 2.0 - part - hole[2]) for part in (lap, 0.0))
    return Leeway(0.0, over, (under,), (bare,))


def _leeway_of_any(opening: Opening, limits: Limits, size_known: bool) -> Leeway:
    """The long way, for any shapes."""
    own = from_cover(opening)
    over = None
    if size_known:
        # The thing that stays and the hole that moves one way are a thing that moves the other way: both half turned.
        thing, hole = (ring.moved(own).moved(_HALF_TURN) for ring in (opening.thing, opening.ring))
        over = slack((thing,), hole)
    if opening.cover is None:
        return Leeway(lean_of(opening), over)
    cut = region(opening.ring).moved(own)
    lap = lap_of(opening.cover, limits)
    under, bare = under_cover(opening.cover, cut, lap), under_cover(opening.cover, cut)
    return Leeway(lean_of(opening), over, (under,), (bare,))
