"""How far what stands about a place is from it: what turns or works there needs room up to a circle about it."""

from __future__ import annotations

from cutmarks.geometry.distance import apart
from cutmarks.geometry.edges import Bounds, distance_to
from cutmarks.geometry.frames import Point, Surface
from cutmarks.geometry.regions import Region, contains, region
from cutmarks.geometry.rings import Ring, edges


def as_far(at: Point[Surface], ring: Ring[Surface], reach: float) -> float:
    """How far what an outline encloses is from a place, mm; 0 where it lies over it.

    Where it is out of `reach` mm it may be said to be nearer than it is, and not within it.
    """
    beyond = apart(ring.bounds, Bounds(at.x, at.y, at.x, at.y))
    if beyond >= reach:
        return beyond  # never more than the true distance, and out of reach
    return 0.0 if contains(region(ring), at) else to_outline(at, ring)


def to_the_edge(at: Point[Surface], ground: Region[Surface]) -> float:
    """How far a place is from the edge of what it lies in, mm; 0 where it lies outside."""
    return min(to_outline(at, ring) for ring in ground.rings) if contains(ground, at) else 0.0


def to_outline(at: Point[Surface], ring: Ring[Surface]) -> float:
    """How far a place is from an outline itself, inside it or out, mm."""
    return min(distance_to(edge, at.x, at.y) for edge in edges(ring))
