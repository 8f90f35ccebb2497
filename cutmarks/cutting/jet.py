"""What a jet cannot make: no room to begin in, holes that are too small for the tile, radii under its own."""

from __future__ import annotations

from collections.abc import Iterator

from cutmarks.cutting.model import ForTheJet
from cutmarks.geometry.edges import Arc
from cutmarks.geometry.frames import Tile
from cutmarks.geometry.inscribed import largest_circle
from cutmarks.geometry.regions import Region
from cutmarks.geometry.rings import Ring, as_circle, edges
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.readings import ShopWishes


def for_the_jet(outline: Region[Tile], thickness: float | None, wishes: ShopWishes) -> Iterator[ForTheJet]:
    """What is wrong for a jet with a finished outline.

    What is cut out of the middle is begun by piercing it there; a notch is begun off the tile. A round hole that is
    smaller than it drills, or than the tile is thick, is not cut at all.
    """
    least_hole = max(wishes.least_hole, thickness or 0.0)
    for ring in outline.rings:
        if ring.area < 0.0:
            yield from _in_hole(ring, least_hole, wishes.pierce)
        for edge in edges(ring):
            inward = isinstance(edge, Arc) and edge.sweep < 0.0
            if isinstance(edge, Arc) and inward and edge.radius < wishes.least_radius - TOUCH:
                yield ForTheJet("small radius", edge.centre, edge.radius, wishes.least_radius)


def _in_hole(ring: Ring[Tile], least_hole: float, pierce: float) -> Iterator[ForTheJet]:
    circle = as_circle(ring)
    if circle is not None and 2.0 * circle[1] < least_hole - TOUCH:
        yield ForTheJet("small hole", circle[0], 2.0 * circle[1], least_hole)
        return
    at, radius = circle if circle is not None else largest_circle(Region((ring.reversed(),)))
    if radius < pierce / 2.0 - TOUCH:
        yield ForTheJet("no room to pierce", at, 2.0 * radius, pierce)
