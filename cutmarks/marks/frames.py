"""The frames that a piece is slid under: where they stand above it, in its Tile frame."""

from __future__ import annotations

from collections.abc import Iterator

from cutmarks.geometry.edges import Bounds
from cutmarks.geometry.frames import Point, Tile
from cutmarks.geometry.regions import intersection, region
from cutmarks.geometry.rings import Ring
from cutmarks.marks import sizes
from cutmarks.marks.lettering import width
from cutmarks.marks.model import Words
from cutmarks.openings.model import CutPiece
from cutmarks.plan import Plan

FRAME_ABOVE = "slides in under this frame"
_HEIGHTS = (sizes.LEAST,)
_BESIDE = 1.2
"""How far the words keep from the frame's line, mm."""
_STEP = 2.0
_OUTSIDE = 40.0
"""Where the words find no room inside the frame's line, they may stand so far outside it, mm."""


def frames_above(plan: Plan, piece: CutPiece) -> Iterator[Ring[Tile]]:
    """The outlines, as measured, of the frames that the piece lies under."""
    to_tile = piece.piece.tile_at.inverse()
    for surface in plan.surfaces:
        if surface.setout.name != piece.piece.surface:
            continue
        for void in surface.setout.voids:
            ring: Ring[Tile] = void.measured.moved(to_tile)
            if void.goes_under is not None and not intersection(piece.piece.outline, region(ring)).is_empty:
                yield ring


def frame_words(ring: Ring[Tile], view: Bounds) -> Iterator[Words[Tile]]:
    """Places for the words that say what the line is: inside it from the top, then outside, along what is on paper."""
    box = ring.bounds
    low_x, high_x = max(box.min_x, view.min_x), min(box.max_x, view.max_x)
    low_y, high_y = max(box.min_y, view.min_y), min(box.max_y, view.max_y)
    for height in _HEIGHTS:
        long = width(FRAME_ABOVE, height)
        for down in _steps(height + _BESIDE, high_y - low_y):
            base = high_y - down
            for left in _steps(low_x + _BESIDE, high_x - long):
                yield Words(FRAME_ABOVE, Point(left, base), height)
        for left in _steps(low_x + height + _BESIDE, high_x):
            for base in _steps(low_y + _BESIDE, high_y - long):
                yield Words(FRAME_ABOVE, Point(left, base), height, turn=90.0)
        for off in _steps(_BESIDE, _OUTSIDE):
            for left in _steps(low_x, high_x):
                yield Words(FRAME_ABOVE, Point(left, high_y + off), height)
                yield Words(FRAME_ABOVE, Point(left, low_y - off - height), height)
            for base in _steps(low_y, high_y):
                yield Words(FRAME_ABOVE, Point(high_x + off, base), height)
                yield Words(FRAME_ABOVE, Point(low_x - off, base), height, "end")


def _steps(low: float, high: float) -> Iterator[float]:
    """From low to high, both where they are apart, in steps."""
    return (low + _STEP * step for step in range(int((high - low) / _STEP) + 1)) if high >= low else iter(())
