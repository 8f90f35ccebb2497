"""A leaning pipe that was read out from the wall, taken back to where it comes through the tile's face."""

from __future__ import annotations

from msgspec.structs import replace

from cutmarks.geometry.frames import Placement, Surface, Vector
from cutmarks.locating.model import Located


def at_the_face(thing: Located) -> Located:
    """The thing where it goes through the face: read `out` mm in front of it, it lies out x tan(lean) back.

    The same where nothing leans, or where it was read at the face (Surface frame, mm).
    """
    lean = thing.spec.leans
    if lean is None or lean.out == 0.0:
        return thing
    back: Vector[Surface] = Vector(-lean.out * lean.across, -lean.out * lean.up)
    step: Placement[Surface, Surface] = Placement.shift(back.x, back.y)
    return replace(thing, at=thing.at + back, ring=thing.ring.moved(step))
